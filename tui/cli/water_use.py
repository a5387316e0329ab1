"""The commands that record known changes of the water used: guests, named uses, and why the meter was odd."""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec

from model.errors import BadInput
from model.forecast.explained import explained
from model.forecast.intervals import intervals
from model.forecast.present import check_fits, present
from model.home import Home
from model.records.events import Explained, Guests, UseAdded, UseEnded
from model.records.history import History
from model.records.intake import parse_date
from model.records.stays import check_stay, guests_in_words, parse_guests, span_in_words
from model.records.typed import EARLIEST
from model.records.uses import find_use, make_use
from model.units import show
from tui.cli.home_file import repository, warn
from tui.cli.recording import record_event

if TYPE_CHECKING:
    from datetime import date

    from model.home import Use
    from tui.cli.parser import Asked


def guests(asked: Asked) -> int:
    """Record guests, past or to come."""
    people = parse_guests(asked.people)
    first, last = parse_date(asked.first, asked.today), parse_date(asked.last, asked.today)
    check_stay("visit", first, last, asked.today)
    store = repository(asked)
    home = store.load()
    _compare(History(home.events, asked.today).of(Guests), Guests(on=first, until=last, people=people))
    lives = f"{present(home, asked.today).people:g}"
    said = f"{span_in_words(first, last)}; {guests_in_words(people)} besides the {lives} who live here."
    return record_event(asked, store, Guests(on=first, until=last, people=people), said=said)


def _compare(known: list[Guests], new: Guests) -> None:
    """Refuse a visit that is recorded already; note those it overlaps."""
    for one in known:
        if (one.on, one.until, one.people) == (new.on, new.until, new.people):
            raise BadInput(f"That visit is recorded already, as event {one.id}.", "Nothing was recorded.")
    for one in known:
        if one.on <= new.until and new.on <= one.until:
            who = guests_in_words(one.people)
            warn(f"That overlaps {who} from {one.on} to {one.until} (event {one.id}): they add up.")


def use(asked: Asked) -> int:
    """Record a named use of water that begins, or ends."""
    return _end_use(asked) if asked.end else _begin_use(asked)


def _begin_use(asked: Asked) -> int:
    if asked.amount is None:
        raise BadInput("How much water does it take a week?", "Write wellward use TITLE AMOUNT [UNIT], or --end.")
    if asked.on is not None:
        raise BadInput("--on goes with --end.", "Say --from for the day on which the use begins.")
    store, begins = repository(asked), _day(asked.begins, asked.today)
    home = store.load()
    house = present(home, begins)
    made = make_use(house, asked.title, asked.amount, asked.unit, asked.point, asked.months)
    added = UseAdded(on=begins, use=msgspec.to_builtins(made))
    check_fits(home, asked.today, added)
    return record_event(asked, store, added, said=f"Understood as {_litres(made)} a week, from {begins}.")


def _litres(made: Use) -> str:
    kept, gallons = (show(made.litres_per_week, "volume", system) for system in ("metric", "us"))
    return f"{kept} ({gallons})"


def _end_use(asked: Asked) -> int:
    if asked.amount is not None or asked.begins is not None:
        raise BadInput("With --end only the name and --on are taken.", "Write wellward use TITLE --end [--on DATE].")
    store, on = repository(asked), _day(asked.on, asked.today)
    home = store.load()
    found = find_use(present(home, on).uses, asked.title)
    ended = UseEnded(on=on, title=found.title if found else asked.title)
    check_fits(home, asked.today, ended)
    return record_event(asked, store, ended, said=f"From {on} it no longer counts.")


def _day(text: str | None, today: date) -> date:
    on = today if text is None else parse_date(text, today)
    if on < EARLIEST:
        raise BadInput(f"{on} is too long ago.", f"The earliest day taken is {EARLIEST}.")
    return on


def explain(asked: Asked) -> int:
    """Record why the meter counted much more or less than expected."""
    start, end = parse_date(asked.start, asked.today), parse_date(asked.end, asked.today)
    answer = explained(start, end, asked.cause, asked.over, asked.today, asked.note)
    store = repository(asked)
    _check_stretch(store.load(), answer, asked.today)
    return record_event(asked, store, answer)


def _check_stretch(home: Home, answer: Explained, today: date) -> None:
    """Note where the days are not those of two meter readings that follow each other: then nothing is explained."""
    metered, _ = intervals(present(home, today), History(home.events, today))
    if any((one.start, one.end) == (answer.start, answer.end) for one in metered):
        return
    near = [one for one in metered if one.start < answer.end and answer.start < one.end]
    hint = f" Stretches then: {', '.join(f'{one.start} to {one.end}' for one in near[:3])}." if near else ""
    warn(f"The meter was not read on {answer.start} and next on {answer.end}: this explains nothing yet.{hint}")
