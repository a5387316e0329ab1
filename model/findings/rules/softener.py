"""Salt, brine and soft water."""

from __future__ import annotations

from datetime import date, timedelta

from model.equipment.salt import seen_sd_kg
from model.equipment.softener import Softener, has_anion_resin, salt_kg
from model.findings.context import Run, run_of
from model.findings.readings import after, last, newest, newest_first, rests, said
from model.findings.rules.stocks import odd_reading, unlike
from model.findings.shape import Raised
from model.forecast.situation import Situation
from model.plan_types import Level
from model.records.bounds import top
from model.records.history import Dated
from model.water.limits import NITRATE_LIMIT_MG_L_N

HARD_MG_L_CACO3 = 51.0
"""From here on "soft" water is hard: 3 gpg. Common practice, no source."""

SOFT_MG_L_CACO3 = 17.1
"""Under this water is soft: 1 gpg. Common practice, no source."""

SALT_OUT_CM, SALT_OUT_DAYS = 2.0, 30
"""A tank this empty for so long cannot have kept water soft. From memory; owner's default."""

STILL_SHARE = 0.25
"""Less than this share of what regenerations counted should have taken: no brine is drawn. Owner's default."""

_DEPTHS, _NIGHTS = 2, 2.0


def salt_stays(now: Situation, stage: Softener) -> Raised | None:
    """Salt that does not fall as reckoned, or not at all while the valve's counter rises."""
    odd = unlike(now, stage, "refill_salt", "salt_depth", ("high", "stuck"), _level(now, stage), _meaning(now, stage))
    if odd is None:
        return _counted(now, stage)
    read = odd_reading(now, stage, "refill_salt", "salt_depth")
    before = _depth_before(now, stage, read)
    risen = read is not None and before is not None and read.taken.value > before.taken.value + SALT_OUT_CM
    return odd._replace(rests_on=(*odd.rests_on, *rests(now, before)), first=("filled",) if risen else ())


def _counted(now: Situation, stage: Softener) -> Raised | None:
    """The counter rose by two or more between two depths, and the salt hardly fell."""
    depths = last(now, "salt_depth", (stage.id,), _DEPTHS)
    if len(depths) < _DEPTHS or _refilled(now, stage, depths[1].on):
        return None
    new, old = depths
    counts = _counts(now, stage, old, new)
    times = counts[1].taken.value - counts[0].taken.value if counts else 0.0
    should = times * stage.salt_dose_kg
    fell = salt_kg(stage, old.taken.value) - salt_kg(stage, new.taken.value)
    if counts is None or times < _NIGHTS or should < 2.0 * seen_sd_kg(stage) or fell >= STILL_SHARE * should:
        return None
    text = (
        f"The valve regenerated {times:.0f} times from {now.known.day(old.on)} to {now.known.day(new.on)}, which "
        f"should have taken {now.known.show(should, 'mass')}; the salt hardly fell: {_meaning(now, stage)}."
    )
    return Raised(_level(now, stage), text, rests(now, new, old, counts[1], counts[0]))


def not_regenerating(now: Situation, stage: Softener) -> Raised | None:
    """The counter rose by less than half of what the settings say for the water used."""
    counts = last(now, "regenerations", (stage.id,), _DEPTHS)
    first = next((one for one in now.house.stages if isinstance(one, Softener)), None)
    if len(counts) < _DEPTHS or first is None or first.id != stage.id:
        return None
    new, old = counts
    should, times = sum(now.known.pace.split(now.known, old.on, new.on)), new.taken.value - old.taken.value
    if times < 0.0 or should < _NIGHTS or times >= 0.5 * should:
        return None
    text = (
        f"The valve regenerated {times:.0f} times from {now.known.day(old.on)} to {now.known.day(new.on)}; by its "
        f"settings and the water used it should have {should:.0f} times: {_meaning(now, stage)}."
    )
    return Raised(_level(now, stage), text, rests(now, new, old))


def _counts(now: Situation, stage: Softener, old: Dated | None, new: Dated | None) -> tuple[Dated, Dated] | None:
    """What the valve's counter showed by the days of two depths, where it was read for both."""
    if old is None or new is None:
        return None
    first, second = _count_by(now, stage, old.on), _count_by(now, stage, new.on)
    return None if first is None or second is None or second is first else (first, second)


def _count_by(now: Situation, stage: Softener, on: date) -> Dated | None:
    return next((one for one in newest_first(now, "regenerations", (stage.id,)) if one.on <= on), None)


def _depth_before(now: Situation, stage: Softener, read: Dated | None) -> Dated | None:
    every = newest_first(now, "salt_depth", (stage.id,))
    return next((one for one in every if read is not None and one.on < read.on), None)


def _refilled(now: Situation, stage: Softener, since: date) -> bool:
    done = now.known.last_done(stage, "refill_salt")
    return done is not None and done >= since


def _protects(now: Situation, stage: Softener) -> bool:
    return has_anion_resin(stage) and (now.planned_nitrate_mg_l_n or 0.0) >= NITRATE_LIMIT_MG_L_N


def _level(now: Situation, stage: Softener) -> Level:
    return "danger" if _protects(now, stage) else "warning"


def _meaning(now: Situation, stage: Softener) -> str:
    plain = "the resin may not be renewed"
    if not _protects(now, stage):
        return plain
    return f"{plain}. Until that is settled treat the water as untreated for nitrate; infants get tested bottled water"


def salt_too_fast(now: Situation, stage: Softener) -> Raised | None:
    """Salt that stands lower than settings and water explain."""
    what = "more goes than the valve's settings and the water used explain"
    return unlike(now, stage, "refill_salt", "salt_depth", ("low",), "note", what)


def hard_before(now: Situation, stage: Softener) -> Raised | None:
    """Hard at the end of a run."""
    read = _hardness(now, stage, "before")
    if read is None or top(read.taken) <= HARD_MG_L_CACO3:
        return None
    text = f"Hardness {said(now, read)}, just before a regeneration: the run is too long for the resin."
    return Raised("note", text, rests(now, read, _hardness(now, stage, "after")))


def hard_after(now: Situation, stage: Softener) -> Raised | None:
    """Hard though the resin has just been renewed."""
    read = _hardness(now, stage, "after")
    if read is None or top(read.taken) <= HARD_MG_L_CACO3:
        return None
    text = f"Hardness {said(now, read)}, soon after a regeneration: the brine did not renew the resin."
    return Raised("warning", text, rests(now, read, _hardness(now, stage, "before")))


def hard_water(now: Situation, stage: Softener) -> Raised | None:
    """Hard, and nobody said whether before or after a regeneration."""
    read = newest(now, "hardness", *after(now, stage))
    if read is None or top(read.taken) <= HARD_MG_L_CACO3 or read.taken.qualifier == "<" or run_of(now, stage, read):
        return None
    text = f"Hardness {said(now, read)} after the softener; whether before or after a regeneration is not written down."
    return Raised("warning", text, rests(now, read, newest(now, "salt_depth", stage.id)))


def _hardness(now: Situation, stage: Softener, run: Run) -> Dated | None:
    every = [one for one in newest_first(now, "hardness", after(now, stage)) if one.taken.qualifier != "<"]
    # Whether a reading was before or after is only looked for where some water was hard.
    if all(top(one.taken) <= HARD_MG_L_CACO3 for one in every):
        return None
    return next((one for one in every if run_of(now, stage, one) == run), None)


def soft_without_salt(now: Situation, stage: Softener) -> Raised | None:
    """Soft long after the salt was seen to be out, with no refill since: one of the two is not so."""
    depth, soft = newest(now, "salt_depth", stage.id), newest(now, "hardness", *after(now, stage))
    if depth is None or soft is None or depth.taken.value > SALT_OUT_CM or top(soft.taken) > SOFT_MG_L_CACO3:
        return None
    if soft.on < depth.on + timedelta(days=SALT_OUT_DAYS) or _refilled(now, stage, depth.on):
        return None
    text = f"Hardness {said(now, soft)}, but the salt stood at {said(now, depth)} and no refill is written down since."
    return Raised("note", text, rests(now, soft, depth))
