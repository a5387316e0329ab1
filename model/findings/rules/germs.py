"""Coliform bacteria where they should not be: after the UV unit, and at the RO tap."""

from __future__ import annotations

from datetime import date

from model.equipment.reverse_osmosis import ReverseOsmosis
from model.equipment.ultraviolet import Ultraviolet
from model.findings.readings import after, near, newest, newest_first, rests, said
from model.findings.shape import Raised
from model.forecast.exposed.sensor import LOW_PERCENT
from model.forecast.retests import GERMS
from model.forecast.situation import Situation
from model.records.history import Dated
from model.records.points import ro_point
from model.records.quantities import QUANTITIES

NOT_DRUNK = (
    "Do not drink it; until it tests clean use bottled water, since boiling kills germs but concentrates nitrate. A "
    "certified laboratory and your health authority decide."
)


def germs_after_uv(now: Situation, stage: Ultraviolet) -> Raised | None:
    """A newest result at some point after the lamp that found coliform or E. coli."""
    found = _found(now, after(now, stage))
    if found is None:
        return None
    raw, sensor = _nearest(now, ("source",), found.on), newest(now, "uv_intensity", stage.id)
    weak = sensor is not None and sensor.taken.value < LOW_PERCENT
    first = ("bypass",) if stage.id in now.bypassed else ("sleeve",) if weak else ()
    told = f", raw water {said(now, raw)}" if raw else ""
    text = f"{_name(found)} {said(now, found)} after the UV{told}. {NOT_DRUNK}"
    return Raised("danger", text, rests(now, found, raw, sensor), first)


def germs_at_ro(now: Situation, stage: ReverseOsmosis) -> Raised | None:
    """A newest result at the RO tap that found coliform or E. coli; in its feed too, the feed comes first."""
    found = _found(now, (ro_point(stage),))
    if found is None:
        return None
    fed = _nearest(now, ("tap",), found.on)
    too = fed is not None and fed.taken.value > 0.0
    told = f", the tap before it {said(now, fed)}" if fed else ""
    text = f"{_name(found)} {said(now, found)} at the RO tap{told}. {NOT_DRUNK}"
    return Raised("danger", text, rests(now, found, fed), ("fed",) if too else ())


def _found(now: Situation, points: tuple[str, ...]) -> Dated | None:
    """The newest result that found them; a later clean one of the same organism at the same point clears it."""
    bad: list[Dated] = []
    for organism in GERMS:
        seen: set[str] = set()
        for one in newest_first(now, organism, points):
            if one.taken.point not in seen:
                seen.add(one.taken.point)
                bad += [one] if one.taken.value > 0.0 and one.taken.qualifier != "<" else []
    return max(bad, key=lambda one: (one.on, one.event), default=None)


def _nearest(now: Situation, points: tuple[str, ...], on: date) -> Dated | None:
    """The result of those days at these points, one that found something before one that did not."""
    of_days = [one for organism in GERMS if (one := near(now, organism, points, on)) is not None]
    return max(of_days, key=lambda one: one.taken.value > 0.0, default=None)


def _name(one: Dated) -> str:
    return QUANTITIES[one.taken.quantity].title
