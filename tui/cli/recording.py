"""The commands that record: done, read, buy, away, note. They never ask; what is unlikely is recorded with a note."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import TYPE_CHECKING

import msgspec

from model.equipment.registry import kind_of_id
from model.equipment.ultraviolet import Ultraviolet
from model.errors import BadInput, UnknownName
from model.forecast.acid_and_bleach import apart
from model.forecast.parts import find_task, suggested_parts
from model.forecast.present import present
from model.forecast.situation import Situation
from model.home import Home, House, Supply
from model.records.events import Absence, AnyEvent, Incident, Purchase, Reading, Service, Taken
from model.records.handles import left_moved
from model.records.history import History
from model.records.how import How, how, with_how
from model.records.incidents import incident
from model.records.intake import check_date, doubts, parse_date, parse_price, take
from model.records.log import describe
from model.records.meter_check import REPLACE_METER, check_meter
from model.records.names import names_of
from model.records.points import points_of
from model.records.quantities import QUANTITIES
from model.records.stays import check_stay, span_in_words
from tui.cli.amounts import doubts_of_bought, doubts_of_used, parse_supply_amount, understood
from tui.cli.home_file import by_command, print_json, repository, warn

if TYPE_CHECKING:
    from model.store.repository import Repository
    from tui.cli.parser import Asked


def done(asked: Asked) -> int:
    """Record a service."""
    store = repository(asked)
    home, on = store.load(), _day(asked)
    now = Situation(home, asked.today)
    house = now.house
    find_task(house, asked.task)
    left = _handle_left(asked, house)
    taken = [_taken_with(text, asked.task, house) for text in asked.read]
    event = Service(
        on=on,
        task=asked.task,
        used=_used(asked, now),
        taken=tuple(_before_and_after(taken, asked.task, home, house, on, asked.today)),
        handles=asked.handles or left,
        accepted=asked.accept,
        note=asked.note,
    )
    if told := apart(now, asked.task, on):
        warn(told)
    return record_event(asked, store, event)


def _handle_left(asked: Asked, house: House) -> str:
    """The handle that stays moved, empty where none does.

    A job that moves a valve handle is not done until someone says where the handles are.
    """
    from model.upkeep.checklist import load_checklist

    stage, _, job = asked.task.partition(".")
    moves = load_checklist(kind_of_id(stage), job).moves_handles
    if moves and not asked.handles and not asked.accept:
        raise BadInput(
            f"{asked.task} moves a valve handle.",
            "Say --handles service if all are back in service, or --accept TEXT with what stays moved.",
        )
    if asked.handles and asked.accept:
        raise BadInput("--handles service and --accept exclude each other.", "Say which of the two holds.")
    return left_moved(house, asked.task, asked.accept) if asked.accept else ""


def _used(asked: Asked, now: Situation) -> dict[str, float]:
    usual = suggested_parts(now, asked.task)
    if asked.used is None:
        return usual
    found: dict[str, float] = {}
    for text in asked.used:
        name, _, amount = text.partition("=")
        supply = _supply(now.house, name)
        found[supply.id] = parse_supply_amount(amount, supply, zero_ok=True)
    for doubt in doubts_of_used(now, found, usual):
        warn(doubt)
    return found


def _supply(house: House, name: str) -> Supply:
    for supply in house.supplies:
        if supply.id == name.strip():
            return supply
    known = ", ".join(supply.id for supply in house.supplies) or "none yet"
    raise UnknownName(f"There is no supply {name!r}.", f"Supplies: {known}.")


def _taken_with(text: str, task: str, house: House) -> Taken:
    """A reading taken with a service: where it says no point, after the stage (before the train for the well)."""
    name, equals, value = text.partition("=")
    if not equals:
        raise BadInput(f"--read {text!r} has no value.", 'Write --read "salt_depth=20 in".')
    stage = task.partition(".")[0]
    quantity = QUANTITIES.get(name.strip())
    points = dict(points_of(house))
    point = None
    if quantity is not None and quantity.points == "water":
        point = next(
            (one for one in (f"after_{stage}", "ro" if stage == "reverse_osmosis" else "") if one in points), None
        )
    elif quantity is not None and quantity.points.startswith("stage"):
        point = stage if quantity.points.endswith(f":{stage.rstrip('_0123456789')}") else None
    return take(house, name.strip(), value, None, point)


def _before_and_after(
    taken: list[Taken], task: str, home: Home, house: House, on: date, today: date
) -> Iterator[Taken]:
    """The readings of a service: one given twice was read before the work and after it, one given once after it."""
    for place, one in enumerate(taken):
        same = (one.quantity, one.point)
        first = any((other.quantity, other.point) == same for other in taken[place + 1 :])
        if first or task != REPLACE_METER:
            _question(home, house, one, on, today)
        yield msgspec.structs.replace(one, moment="before" if first else "after")


def read(asked: Asked) -> int:
    """Record a reading."""
    store = repository(asked)
    home, on = store.load(), _day(asked)
    house = present(home, asked.today)
    taken = with_how(take(house, asked.quantity, asked.value, asked.unit, asked.point), _how(asked, house))
    _question(home, house, taken, on, asked.today)
    home = store.append(by_command(Reading(on=on, taken=taken)))
    _tell_recorded(asked, home)
    _tell_danger(home, asked.today)
    return 0


def _tell_danger(home: Home, today: date) -> None:
    """Say at once if what was just recorded shows a danger."""
    from model.findings.find import findings

    newest = home.events[-1].id
    for one in findings(Situation(home, today)):
        if one.level == "danger" and one.stands and any(read.event == newest for read in one.rests_on):
            warn(f"{one.title}: {one.text}")


def _how(asked: Asked, house: House) -> How:
    return how(
        today=asked.today,
        system=house.units,
        method=asked.method,
        state=asked.state,
        kit=asked.kit,
        kit_expires=asked.kit_expires,
        since_regeneration=asked.since_regeneration,
    )


def _question(home: Home, house: House, taken: Taken, on: date, today: date) -> None:
    """Refuse what cannot be beside the other readings; note what is only unlikely."""
    history = History(home.events, today)
    check_meter(house, history, taken, on)
    for doubt in doubts(house, taken, history.every_taken(), on):
        warn(doubt)


def buy(asked: Asked) -> int:
    """Record a purchase."""
    store = repository(asked)
    now = Situation(store.load(), asked.today)
    check_date(_day(asked), asked.today, now.house.started)
    supply = _supply(now.house, asked.supply)
    price = None if asked.price is None else parse_price(asked.price, now.house.currency)
    typed = f"{asked.quantity} {asked.unit or ''}".strip()
    quantity = parse_supply_amount(typed, supply)
    for doubt in doubts_of_bought(now, supply, quantity, typed):
        warn(doubt)
    bought = Purchase(on=_day(asked), supply=supply.id, quantity=quantity, price=price)
    return record_event(asked, store, bought, said=understood(supply, quantity, now.house.units))


def away(asked: Asked) -> int:
    """Record an absence, past or to come."""
    first, last = parse_date(asked.first, asked.today), parse_date(asked.last, asked.today)
    check_stay("absence", first, last, asked.today)
    store = repository(asked)
    _compare(History(store.load().events, asked.today).of(Absence), first, last)
    absence = Absence(on=first, until=last)
    return record_event(asked, store, absence, said=f"{span_in_words(first, last)}.\n{_offer(absence, asked.today)}")


def note(asked: Asked) -> int:
    """Record what happened, as it was typed."""
    event = incident(" ".join(asked.text), _day(asked))
    store = repository(asked)
    return record_event(asked, store, event, said=_counts_as(event, present(store.load(), asked.today)))


def _counts_as(event: Incident, house: House) -> str:
    """What a power cut or an alarm of the lamp means for the water, where there is a lamp."""
    from model.forecast.exposed.dark import playbook_of

    playbook = playbook_of(event.what)
    if not playbook or not any(isinstance(one, Ultraviolet) for one in house.stages):
        return ""
    return (
        "It counts as untreated water past a dark lamp: see `wellward due`. "
        f"`wellward event {playbook}` has the steps; `wellward undo` takes it back."
    )


def _offer(absence: Absence, today: date) -> str:
    """The playbook that goes with an absence; it is never begun by itself."""
    from model.forecast.playbook_events import offered_for

    playbook, on = offered_for(absence, today)
    return f"What to do for it: `wellward event {playbook} --on {on}` (--show reads it first)."


def _compare(absences: list[Absence], first: date, last: date) -> None:
    """Refuse an absence that is recorded already; note those it overlaps."""
    for one in absences:
        if (one.on, one.until) == (first, last):
            raise BadInput(f"That absence is recorded already, as event {one.id}.", "Nothing was recorded.")
    for one in absences:
        if one.on <= last and first <= one.until:
            warn(f"That overlaps the absence from {one.on} to {one.until} (event {one.id}); each day counts once.")


def _day(asked: Asked) -> date:
    on = asked.today if asked.on is None else parse_date(asked.on, asked.today)
    check_date(on, asked.today)
    return on


def record_event(asked: Asked, store: Repository, event: AnyEvent, said: str = "") -> int:
    """Record one event and say so, with what was understood of it."""
    _tell_recorded(asked, store.append(by_command(event)), said)
    return 0


def _tell_recorded(asked: Asked, home: Home, said: str = "") -> None:
    """Say what was recorded last."""
    recorded = home.events[-1]
    if asked.json:
        print_json({"event": msgspec.to_builtins(recorded)})
        return
    what = ": ".join(part for part in describe(recorded, names_of(home)) if part)
    print(f"Recorded as {recorded.id}: {what}")
    if said:
        print(said)
