"""A copy of the home in which some settings are others from today on. Only in memory: nothing is ever written."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

import msgspec

from model.equipment.neutralizer import Neutralizer
from model.errors import BadInput
from model.forecast.numbers.common import outlet_of
from model.forecast.present import Change as Recorded
from model.forecast.present import changed
from model.forecast.shelf import price_of
from model.forecast.situation import Situation
from model.forecast.valve import effect, valve_of
from model.home import Home, House, Use
from model.records.events import AnyEvent, Purchase, Reading, Setting, Taken, UseAdded, UseEnded
from model.records.uses import find_use
from model.water.neutralizing import bypass_for_ph

TARGET_PH = "target_pH"
"""The last word of a path that asks for a pH after the neutralizer: the blend valve is set for it."""

MORE_WATER = "More water"
"""The named use in which more or less water at the taps is tried."""

Value = float | int | str | bool | None


class Change(msgspec.Struct, frozen=True):
    """One thing that would be otherwise, in the unit used inside.

    `path`: a setting as in `Setting`, "stages.<id>.target_pH", or "uses.<title>" in litres a week.
    """

    path: str
    value: Value


class Trial(msgspec.Struct, frozen=True, kw_only=True):
    """The home as it would be, what keeping it records, what cannot be kept so, and what its figures rest on."""

    home: Home
    events: tuple[Recorded, ...]
    not_kept: tuple[str, ...]
    notes: tuple[str, ...]


def trial(now: Situation, changes: Iterable[Change]) -> Trial:
    """The home of `now` with the changes made on its day.

    Raises:
        BadInput: a change does not fit the house, or nothing is known of the water that a target pH is for.
    """
    house, events, notes = now.house, list[Recorded](), list[str]()
    for change in changes:
        for event in _recorded(now, house, change):
            house = changed(house, event)
            events.append(event)
    readings = _reckoned_readings(now, house, notes)
    prices = [one for one in events if isinstance(one, Setting) and _is_price(one) and _by_receipt(now, one)]
    home = _with_events(_without_prices(now.home, prices), (*events, *readings))
    return Trial(
        home=home,
        events=tuple(one for one in events if one not in prices),
        not_kept=tuple(f"{_supply_id(one)}: what a receipt says counts, so enter the next receipt." for one in prices),
        notes=tuple(notes),
    )


def _recorded(now: Situation, house: House, change: Change) -> tuple[Recorded, ...]:
    """What is written down for one change; nothing where it is so already."""
    if change.path.startswith("uses."):
        return _use_events(now.today, house, change)
    way, _, field = change.path.rpartition(".")
    if field == TARGET_PH:
        change = Change(f"{way}.bypass_share", _bypass(now, way.rpartition(".")[2], change.value))
    was = _value_at(house, change.path)
    supply = next((one for one in house.supplies if change.path == f"supplies.{one.id}.price"), None)
    counts = price_of(now, supply)[0] if supply else was
    if counts == change.value and type(was) is not bool:
        return ()
    made = Setting(on=now.today, path=change.path, value=change.value, was=was)
    if field == "price" and _value_at(house, f"{way}.price_is_default"):
        return (Setting(on=now.today, path=f"{way}.price_is_default", value=False, was=True), made)
    return (made,)


def _use_events(today: date, house: House, change: Change) -> tuple[Recorded, ...]:
    """A use ended, or ended and begun anew with as many litres a week."""
    title, litres = change.path.partition(".")[2], change.value
    if isinstance(litres, bool) or not isinstance(litres, int | float) or litres < 0.0:
        raise BadInput("A use is an amount of water a week, 0 or more.")
    there = find_use(house.uses, title)
    if there is not None and there.litres_per_week == litres:
        return ()
    ended = (UseEnded(on=today, title=there.title),) if there else ()
    if litres == 0.0:
        return ended
    use = Use(title=title, litres_per_week=litres) if there is None else there
    begun = msgspec.structs.replace(use, litres_per_week=float(litres))
    return (*ended, UseAdded(on=today, use=msgspec.to_builtins(begun)))


def _bypass(now: Situation, stage_id: str, wanted: Value) -> float:
    """The share of bypass for a wanted pH, 0-1."""
    stage = now.house.stage(stage_id)
    if not isinstance(stage, Neutralizer) or isinstance(wanted, bool) or not isinstance(wanted, int | float):
        raise BadInput("A target pH is a number, for a neutralizer that stands here.")
    valve = valve_of(now, stage)
    return round(bypass_for_ph(valve.raw, valve.bed, wanted), 4)


def _value_at(house: House, path: str) -> Value:
    plain: object = house
    *way, field = path.split(".")
    if way:
        rows = getattr(house, way[0], ()) if way[0] in ("stages", "supplies") else ()
        plain = next((one for one in rows if one.id == ".".join(way[1:])), None)
    value = getattr(plain, field, None)
    return value.isoformat() if isinstance(value, date) else value


def _reckoned_readings(now: Situation, house: House, notes: list[str]) -> tuple[Reading, ...]:
    """The pH that the moved blend valve is reckoned to give, as if it had been read today."""
    found = []
    for stage in house.stages:
        before = now.house.stage(stage.id)
        if not isinstance(stage, Neutralizer) or not isinstance(before, Neutralizer):
            continue
        if stage.bypass_share == before.bypass_share:
            continue
        try:
            valve = valve_of(now, before)
        except BadInput:
            continue
        point = effect(valve, stage.bypass_share)
        taken = Taken(quantity="pH", value=point.pH, point=outlet_of(now, stage))
        found.append(Reading(on=now.today, taken=taken))
        notes += [f"The pH then is reckoned from {valve.basis}.", *(f"In doubt: {one}" for one in point.doubts)]
    return tuple(found)


def _is_price(event: Setting) -> bool:
    return event.path.startswith("supplies.") and event.path.endswith(".price")


def _supply_id(event: Setting) -> str:
    return event.path.split(".")[1]


def _by_receipt(now: Situation, event: Setting) -> bool:
    supply = next((one for one in now.house.supplies if one.id == _supply_id(event)), None)
    return supply is not None and price_of(now, supply)[1].startswith("receipt")


def _without_prices(home: Home, prices: list[Setting]) -> Home:
    """The home in which the receipts of these supplies say no price, so that the price tried counts."""
    named = {_supply_id(one) for one in prices}

    def less(event: AnyEvent) -> AnyEvent:
        hides = isinstance(event, Purchase) and event.supply in named
        return msgspec.structs.replace(event, price=None) if hides else event

    return Home(home.house, tuple(less(event) for event in home.events)) if named else home


def _with_events(home: Home, events: tuple[AnyEvent, ...]) -> Home:
    last = max((event.id for event in home.events), default=0)
    numbered = (msgspec.structs.replace(one, id=last + place) for place, one in enumerate(events, start=1))
    return Home(home.house, (*home.events, *numbered))
