"""Which jobs of the plan a set of readings covers: all that their checklists ask for, within what they accept."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

import msgspec

from model.equipment.registry import KINDS, AnyStage, kind_of, title_of
from model.equipment.softener import Softener
from model.errors import WellwardError
from model.home import House
from model.records.bounds import top
from model.records.events import Taken
from model.records.history import BOUND_IS_NO_NUMBER, CHANGED_AT_REST, History
from model.records.points import canonical_point
from model.records.quantities import QUANTITIES
from model.upkeep.asked import point_asked
from model.upkeep.checklist import Checklist, ReadingAsk, load_checklist

_OFTEN_MONTHS = 3
_IF_THERE_IS_ONE = frozenset({"uv_intensity", "feed_pressure", "brine_level"})
"""Not every unit shows these: where one was never read, a job does not wait for it."""


class Covered(msgspec.Struct, frozen=True, kw_only=True):
    """A job whose readings are all there. `criteria`: what its checklist calls done, for a person to say.

    `not_met`: which of these the numbers themselves refuse; "" where none does.
    """

    task: str
    title: str
    stage_title: str
    criteria: tuple[str, ...]
    not_met: str


def covered(house: House, history: History, taken: Sequence[Taken]) -> tuple[Covered, ...]:
    """The regular checks of a home that these readings cover, in train order. None is thereby done.

    Only jobs that are read and looked at: no part is used, no handle moved, no water turned off.
    """
    return tuple(found for stage in house.stages for found in _of_stage(house, history, stage, taken))


def _of_stage(house: House, history: History, stage: AnyStage, taken: Sequence[Taken]) -> Iterator[Covered]:
    for job in KINDS[kind_of(stage)].jobs(stage, None):
        often = not job.on_event and (0 < job.months <= _OFTEN_MONTHS or 0 < job.days <= 31 * _OFTEN_MONTHS)
        if not often or job.parts:
            continue
        try:
            checklist = load_checklist(kind_of(stage), job.id)
        except WellwardError:
            continue
        if checklist.moves_handles or checklist.visit == "water_off":
            continue
        if _all_there(house, history, stage, checklist, taken):
            yield Covered(
                task=f"{stage.id}.{job.id}",
                title=job.title,
                stage_title=title_of(stage),
                criteria=checklist.pass_criteria,
                not_met=_not_met(house, stage, job.id, taken),
            )


def _all_there(house: House, history: History, stage: AnyStage, checklist: Checklist, taken: Sequence[Taken]) -> bool:
    """Whether each reading asked for is among those taken, one for each time it is asked, within what is expected."""
    left = list(taken)
    asks = [*checklist.before_readings, *checklist.after_readings]
    for ask in asks:
        place = _place(house, stage, ask)
        found = next(
            (one for one in left if (one.quantity, one.point) == (ask.quantity, place) and _as(ask, one)), None
        )
        if found is not None and ask.sane[0] <= found.value and top(found) <= ask.sane[1]:
            left.remove(found)
        elif found is not None or not _may_be_missing(history, ask, place):
            return False
    return bool(asks)


def _as(ask: ReadingAsk, one: Taken) -> bool:
    """Whether it is a value to judge by, and the water stood where that is asked for and ran where it matters."""
    if one.qualifier != "=" and one.quantity in BOUND_IS_NO_NUMBER:
        return False
    stood = one.state == "at_rest"
    return stood if ask.state == "at_rest" else not (stood and one.quantity in CHANGED_AT_REST)


def _may_be_missing(history: History, ask: ReadingAsk, place: str) -> bool:
    return ask.quantity in _IF_THERE_IS_ONE and not history.taken(ask.quantity, place)


def _place(house: House, stage: AnyStage, ask: ReadingAsk) -> str:
    point = point_asked(house, stage, ask)
    return canonical_point(house, point or QUANTITIES[ask.quantity].default_point)


Values = Callable[[str, str], float | None]
"""Quantity and point -> the value to judge by, in its unit inside; None where it was not read."""


def _not_met(house: House, stage: AnyStage, job: str, taken: Sequence[Taken]) -> str:
    judge = _JUDGES.get((kind_of(stage), job))
    flowing = {(one.quantity, one.point): top(one) for one in taken if one.state != "at_rest"}
    stood = {(one.quantity, f"{one.point} at rest"): top(one) for one in taken if one.state == "at_rest"}
    every = flowing | stood
    return judge(house, stage, lambda quantity, point: every.get((quantity, point))) if judge else ""


def _after(house: House, stage: AnyStage) -> str:
    return canonical_point(house, f"after_{stage.id}")


def _nitrate_behind(values: Values, after: str, before: str, what: str) -> str:
    treated, raw = values("nitrate", after), values("nitrate", before)
    if treated is not None and treated >= _ACT_MG_L_N:
        return f"nitrate {what} is not below {_ACT_MG_L_N:g} mg/L as N"
    return f"nitrate {what} is not lower than before it" if None not in (treated, raw) and treated >= raw else ""  # type: ignore[operator]


def _softener_nitrate(house: House, stage: AnyStage, values: Values) -> str:
    return _nitrate_behind(values, _after(house, stage), "source", "after the resin")


def _ro_nitrate(house: House, stage: AnyStage, values: Values) -> str:
    point = "ro" if stage.id == "reverse_osmosis" else stage.id
    return _nitrate_behind(values, point, "tap", "at the RO tap")


def _ph(house: House, stage: AnyStage, values: Values) -> str:
    after, stood = values("pH", _after(house, stage)), values("pH", "tap at rest")
    if after is not None and not _PH_LOW <= after <= _PH_HIGH:
        return f"pH after the tank is not between {_PH_LOW} and {_PH_HIGH}"
    return f"pH of the water that stood is not below {_PH_STOOD}" if stood is not None and stood >= _PH_STOOD else ""


def _membrane(house: House, stage: AnyStage, values: Values) -> str:
    feed, product = values("ro_feed_tds", stage.id), values("ro_product_tds", stage.id)
    passes = feed is not None and product is not None and product >= _PASSES * feed
    return f"{_PASSES:.0%} or more of the solids pass" if passes else ""


def _salt(house: House, stage: AnyStage, values: Values) -> str:
    depth, water = values("salt_depth", stage.id), values("brine_level", stage.id)
    if depth is None or not isinstance(stage, Softener):
        return ""
    if depth <= stage.brine_tank_height_cm / 3.0:
        return "the salt is down to a third of the tank"
    return "water stands as high as the salt" if water is not None and water >= depth else ""


def _cycle(house: House, stage: AnyStage, values: Values) -> str:
    ran = values("run_time", stage.id)
    return f"the pump runs for less than {_RUN_S:g} seconds" if ran is not None and ran < _RUN_S else ""


def _lamp(house: House, stage: AnyStage, values: Values) -> str:
    hours, sensor = values("lamp_hours", stage.id), values("uv_intensity", stage.id)
    if hours is not None and hours >= _LAMP_H:
        return f"the lamp has {_LAMP_H:,.0f} hours or more"
    return f"the sensor is not above {_SENSOR:g} %" if sensor is not None and sensor <= _SENSOR else ""


# The marks that the checklists themselves give; their sources stand there.
_ACT_MG_L_N = 5.0
_PH_LOW, _PH_HIGH, _PH_STOOD = 6.8, 8.2, 8.5
_PASSES = 0.1
_RUN_S = 60.0
_LAMP_H = 9000.0
_SENSOR = 80.0

_JUDGES: dict[tuple[str, str], Callable[[House, AnyStage, Values], str]] = {
    ("softener", "nitrate_check"): _softener_nitrate,
    ("softener", "salt_check"): _salt,
    ("reverse_osmosis", "nitrate_check"): _ro_nitrate,
    ("reverse_osmosis", "performance_check"): _membrane,
    ("neutralizer", "ph_check"): _ph,
    ("pressure_tank", "cycle_check"): _cycle,
    ("ultraviolet", "glance"): _lamp,
}
"""What the numbers alone can refuse. What they cannot say, a person says."""
