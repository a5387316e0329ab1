"""The monthly round: what to read in this home, in walking order from the well to the tap."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from datetime import date, timedelta

import msgspec

from model.equipment.neutralizer import Neutralizer
from model.equipment.registry import AnyStage, kind_of, title_of
from model.equipment.softener import Softener
from model.home import House
from model.records.events import State, Taken
from model.records.history import Dated, History
from model.records.how import AFTER_RESIN, STATE_WORDS, how, split_how, with_how
from model.records.intake import take
from model.records.points import canonical_point, passed_softener, ro_point
from model.records.quantities import QUANTITIES, show_taken
from model.records.typed import split_unit
from model.units import find_unit, known_names, plain
from model.upkeep.round_table import AT_REST, BY_KIND, HOUSE, MORNING, RAW, TAP, Ask, Walk


class RoundRow(msgspec.Struct, frozen=True, kw_only=True):
    """One value to read.

    `id` names it for good: quantity, point and state. `unit` is the one a bare number is taken in, that of the last
    reading or of the house; "" where it has to be said. `last` is the last reading as shown, without its unit.
    """

    id: str
    quantity: str
    point: str
    state: State
    unit: str
    why: str
    last: str = ""
    last_on: date | None = None

    @property
    def label(self) -> str:
        """What is read, with the state of the water where it matters: "pH, at rest"."""
        title = QUANTITIES[self.quantity].title
        return f"{title}, {STATE_WORDS[self.state]}" if self.state else title

    @property
    def unit_words(self) -> str:
        """The unit beside a blank: "gpg"; for nitrate without one "as N or NO3?"."""
        return self.unit if self.unit or not QUANTITIES[self.quantity].needs_unit else "as N or NO3?"


class RoundStop(msgspec.Struct, frozen=True):
    """One place on the walk: what to have in hand, why it is read, the values."""

    title: str
    takes: str
    why: str
    rows: tuple[RoundRow, ...]


def round_stops(house: House, history: History, begun: Collection[str] = ()) -> tuple[RoundStop, ...]:
    """The walk through this home: each stage that stands there, in order, with what can be read at it.

    A value read every few months is left out where it was read lately; one that needs a gauge or a sensor that not
    every unit has, where it was never read. A row in `begun`, by its id, stays: something was typed in it. `history`
    gives today and the last readings.
    """
    found: list[RoundStop] = []
    seen: set[str] = set()
    for title, walk, stage in _walks(house):
        rows = tuple(_rows(house, history, (walk, stage), seen, begun))
        if rows:
            found.append(RoundStop(title, walk.takes, walk.why, rows))
    return tuple(found)


def _walks(house: House) -> Iterator[tuple[str, Walk, AnyStage | None]]:
    treats = any(isinstance(one, Neutralizer | Softener) for one in house.stages)
    if any(isinstance(one, Neutralizer) for one in house.stages):
        yield MORNING.title, MORNING, None
    yield HOUSE.title, HOUSE, None
    well = next((one for one in house.stages if kind_of(one) == "well"), None)
    if well is not None or treats:
        yield title_of(well) if well else RAW.title, RAW, None
    branches = [one for one in house.stages if kind_of(one) == "reverse_osmosis"]
    for stage in house.stages:
        if kind_of(stage) in BY_KIND and stage not in branches:
            yield title_of(stage), BY_KIND[kind_of(stage)], stage
    if house.stages:
        yield TAP.title, TAP, None
    for stage in branches:
        yield title_of(stage), BY_KIND["reverse_osmosis"], stage


def _rows(
    house: House, history: History, at: tuple[Walk, AnyStage | None], seen: set[str], begun: Collection[str]
) -> Iterator[RoundRow]:
    walk, stage = at
    for ask in walk.asks:
        point = _point(house, ask, stage)
        name = f"{ask.quantity}-{point}-{ask.state}"
        read = _read(history, ask, point)
        if name in seen or not (name in begun or _wanted(house, history.today, ask, read)):
            continue
        seen.add(name)
        yield _row(house, ask, point, name, read)


def _read(history: History, ask: Ask, point: str) -> list[Dated]:
    """Earlier readings of the same thing, oldest first."""
    return history.standing(ask.quantity, point) if ask.state == AT_REST else history.taken(ask.quantity, point)


def _point(house: House, ask: Ask, stage: AnyStage | None) -> str:
    if ask.at == "ro" and stage is not None and kind_of(stage) == "reverse_osmosis":
        return ro_point(stage)  # type: ignore[arg-type]
    if stage is None or ask.at not in ("stage", "after"):
        return ask.at
    return stage.id if ask.at == "stage" else canonical_point(house, f"after_{stage.id}")


def _wanted(house: House, today: date, ask: Ask, read: list[Dated]) -> bool:
    """Whether a value belongs to the round of today."""
    if ask.if_ever and not read:
        return False
    if ask.needs == "softener" and not any(isinstance(one, Softener) for one in house.stages):
        return False
    if ask.needs == "no softener" and any(isinstance(one, Softener) for one in house.stages):
        return False
    lately = timedelta(days=30 * ask.every_months - 10)
    return ask.every_months == 1 or not read or today - read[-1].on >= lately


def _row(house: House, ask: Ask, point: str, name: str, read: list[Dated]) -> RoundRow:
    unit = _unit(house, ask.quantity, next((one for one in reversed(read) if not one.from_lab), None))
    return RoundRow(
        id=name,
        quantity=ask.quantity,
        point=point,
        state=ask.state,
        unit=unit,
        why=ask.why,
        last=_shown(house, read[-1].taken, unit) if read else "",
        last_on=read[-1].on if read else None,
    )


def _unit(house: House, quantity: str, own: Dated | None) -> str:
    """The unit of the last reading at home where it says one, else the house's; none where it must be said."""
    known = QUANTITIES[quantity]
    _, written = split_unit(own.taken.entered) if own else ("", "")
    if written and plain(written) in known_names(known.dimension):
        return find_unit(written, known.dimension).name
    if known.needs_unit:
        return ""
    return known.us_unit if house.units == "us" else known.metric_unit


def _shown(house: House, taken: Taken, unit: str) -> str:
    """The last reading for people, without the unit where that stands beside it."""
    number, written = split_unit(taken.entered)
    dimension = QUANTITIES[taken.quantity].dimension
    if unit and plain(written) in known_names(dimension) and find_unit(written, dimension).name == unit:
        return number
    said = show_taken(taken, house.units)
    return said.removesuffix(f" {unit}") if unit else said


def take_row(house: House, row: RoundRow, typed: str, today: date) -> Taken:
    """What was typed in a row as a reading: a value, and if need be its unit and how it was read.

    Raises:
        BadInput: not a value of that quantity, impossible, or without the basis that it needs.
    """
    text, said = split_how(typed)
    own_unit = split_unit(text)[1]
    taken = take(house, row.quantity, text, None if own_unit or not row.unit else row.unit, row.point)
    return with_how(taken, how(today=today, system=house.units, state=row.state, **said))


def taken_in(house: House, rows: Iterable[RoundRow], typed: Mapping[str, str], today: date) -> dict[str, Taken]:
    """The readings of the rows that are filled in, by row; an empty row is not read.

    What ran since the regeneration, where it was read, goes with each value of the water behind the softener.

    Raises:
        BadInput: as for `take_row`, for the first row that cannot be taken.
    """
    found = {one.id: take_row(house, one, typed[one.id], today) for one in rows if typed.get(one.id, "").strip()}
    run = next((one.value for one in found.values() if one.quantity == "water_since_regeneration"), None)
    if run is None:
        return found
    return {name: _with_run(house, one, run) for name, one in found.items()}


def _with_run(house: House, taken: Taken, run_l: float) -> Taken:
    if taken.quantity not in AFTER_RESIN or taken.state == AT_REST or not passed_softener(house, taken.point):
        return taken
    return msgspec.structs.replace(taken, since_regeneration_l=run_l)
