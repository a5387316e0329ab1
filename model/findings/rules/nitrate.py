"""Nitrate after resin and membrane, against the water before them."""

from __future__ import annotations

from datetime import timedelta

from model.equipment.reverse_osmosis import ReverseOsmosis, rejections
from model.equipment.softener import Softener, has_anion_resin
from model.findings.readings import after, near, newest, rests, said
from model.findings.rules.softener import HARD_MG_L_CACO3
from model.findings.shape import Raised
from model.forecast.situation import Situation
from model.plan_types import Level
from model.records.bounds import top
from model.records.history import Dated
from model.records.points import points_of, ro_point
from model.unit_tables import AS_NO3
from model.water.limits import NITRATE_LIMIT_MG_L_N

SOFT_DAYS = 30
"""A hardness read this near to a nitrate belongs to it. From memory; owner's default."""

TEST_SHARE, TEST_MG_L_N = 0.10, 0.5
"""How far two tests of one water lie apart: a share, and what is added to it [mg/L as N]. From memory; owner's
default."""

BASIS_SHARE = 0.15
"""This near to 4.43 times, a basis was likely mixed up. From memory; owner's default."""

SHOWS_MG_L_N = 1.0
"""Under this a membrane's nitrate says little: tests do not tell it from none. From memory; owner's default."""

PASSES_TIMES = 1.5
"""A membrane that passes this many times the nitrate of its rating begins to fail. From memory; owner's default."""

SOLIDS_DAYS = 60
"""Solids read this near to a nitrate belong to it. From memory; owner's default."""

UNBOILED = "Do not boil it: boiling concentrates nitrate."

BOTTLED = "Infants get tested bottled water only; a laboratory and your health authority decide."


def nitrate_with_soft_water(now: Situation, stage: Softener) -> Raised | None:
    """Nitrate over the owner's action level after a resin that still softens."""
    read = _over_action(now, stage)
    if read is None:
        return None
    soft = near(now, "hardness", after(now, stage), read.on, SOFT_DAYS)
    if soft is None or top(soft.taken) > HARD_MG_L_CACO3:
        return None
    raw = near(now, "nitrate", ("source",), read.on)
    text = f"Nitrate {said(now, read)} after the resin, hardness {said(now, soft)}: soft, but not held. {BOTTLED}"
    return Raised(_level(read), text, rests(now, read, soft, raw), ("bypass",) if _alike(read, raw) else ())


def nitrate_not_held(now: Situation, stage: Softener) -> Raised | None:
    """Nitrate over the owner's action level after a resin that does not soften either, or of which nobody knows."""
    read = _over_action(now, stage)
    if read is None:
        return None
    hard = near(now, "hardness", after(now, stage), read.on, SOFT_DAYS)
    if hard is not None and top(hard.taken) <= HARD_MG_L_CACO3:
        return None
    raw = near(now, "nitrate", ("source",), read.on)
    told = f", as in the raw water with {said(now, raw)}" if raw is not None and _alike(read, raw) else ""
    why = "the resin is not renewed, or water goes round it"
    resin = f"hardness {said(now, hard)}: {why}" if hard else "hardness was not read near that day"
    drunk = "Do not drink it. " if _level(read) == "danger" else ""
    text = f"Nitrate {said(now, read)} after the resin{told}; {resin}. {drunk}{UNBOILED} {BOTTLED}"
    spent = raw is not None and not _alike(read, raw)
    return Raised(_level(read), text, rests(now, read, hard, raw), ("salt", "spent") if spent else ())


def _over_action(now: Situation, stage: Softener) -> Dated | None:
    """The newest nitrate after an anion resin where it reaches the owner's action level."""
    read = newest(now, "nitrate", *after(now, stage)) if has_anion_resin(stage) else None
    return read if read is not None and _reaches(read, stage.nitrate_action_mg_l_n) else None


def _alike(read: Dated, raw: Dated | None) -> bool:
    """Whether both sides show the same, as far as tests can tell."""
    return raw is not None and abs(read.taken.value - raw.taken.value) <= TEST_SHARE * raw.taken.value


def _reaches(one: Dated, mg_l_n: float) -> bool:
    return one.taken.qualifier != "<" and top(one.taken) >= mg_l_n


def _level(one: Dated) -> Level:
    return "danger" if _reaches(one, NITRATE_LIMIT_MG_L_N) else "warning"


def nitrate_over_raw(now: Situation) -> Raised | None:
    """Treated water with more nitrate than the raw water of the same days, beyond what tests differ."""
    points = tuple(point for point, _ in points_of(now.house) if point not in ("source", "hose"))
    read = newest(now, "nitrate", *points)
    raw = near(now, "nitrate", ("source",), read.on) if read else None
    if read is None or raw is None or raw.taken.qualifier == ">" or read.taken.qualifier == "<":
        return None
    low, high = read.taken.value, top(raw.taken)
    if low <= (1.0 + TEST_SHARE) * high + TEST_MG_L_N:
        return None
    times = low / high if high > 0.0 else 0.0
    told = f"Nitrate {said(now, read)} after treatment, {said(now, raw)} before it"
    text = f"{told}. Do not drink it until tested. {BOTTLED}"
    return Raised(_level(read), text, rests(now, read, raw), ("basis",) if near_times(times, AS_NO3) else ())


def near_times(times: float, factor: float) -> bool:
    """Whether a ratio is a unit's factor, within what tests differ."""
    return abs(times / factor - 1.0) <= BASIS_SHARE


def membrane_nitrate(now: Situation, stage: ReverseOsmosis) -> Raised | None:
    """More nitrate in the product than this membrane should pass, while its solids do not show it."""
    read = newest(now, "nitrate", ro_point(stage))
    if read is None or not _reaches(read, SHOWS_MG_L_N):
        return None
    fed = near(now, "nitrate", ("tap",), read.on, SOLIDS_DAYS)
    feed = top(fed.taken) if fed else _planned_feed(now, stage)
    passes = PASSES_TIMES * (1.0 - stage.nitrate_rejection) * feed if feed else now.nitrate_action_mg_l_n()
    if top(read.taken) < min(passes, now.nitrate_action_mg_l_n()) or _solids_bad(now, stage, read):
        return None
    told = f", {said(now, fed)} before it" if fed else ""
    text = f"Nitrate {said(now, read)} at the RO tap{told}; a sound membrane passes less. {BOTTLED}"
    solids = newest(now, "ro_product_tds", stage.id)
    return Raised(_level(read), text, rests(now, read, fed, solids))


def _planned_feed(now: Situation, stage: ReverseOsmosis) -> float | None:
    fed = now.carried.fed[stage.id]
    return fed.nitrate_mg_l_n if fed is not None else None


def _solids_bad(now: Situation, stage: ReverseOsmosis, read: Dated) -> bool:
    """Whether the solids of those days say themselves that the membrane is done."""
    kept = [share for on, share in rejections(stage, now.history) if abs(on - read.on) <= timedelta(days=SOLIDS_DAYS)]
    return bool(kept) and kept[-1] < stage.replace_below_rejection
