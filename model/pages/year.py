"""The record of a year, for the folder: what the house was exposed to, what was done, read, tested, bought and used."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from model.equipment.registry import title_of
from model.equipment.softener import Softener
from model.errors import BadInput
from model.forecast.situation import Situation
from model.home import Home
from model.pages.calendar_text import LAST_WORD
from model.pages.page import Block, Items, Page, Section, Table, Text
from model.pages.results import result_rows
from model.pages.year_exposed import exposed
from model.pages.year_numbers import began
from model.pages.year_plots import plot_sections
from model.records.events import Correction, LabReport, Purchase, Reading, Service
from model.records.history import History
from model.records.log import LogLine, log_lines
from model.records.names import names_of
from model.records.quantities import QUANTITIES, show_quantity

_APART = (Service, Reading, LabReport, Correction)


def year_page(home: Home, year: int, today: date) -> Page:
    """The year as it stands on record, up to today.

    Raises:
        BadInput: a year that the record does not reach.
    """
    years = sorted({home.house.started.year, *(one.on.year for one in home.events if one.on <= today)})
    if not years[0] <= year <= today.year:
        raise BadInput(f"Nothing is on record for {year}.", f"The record has {years[0]} to {today.year}.")
    until = min(today, date(year, 12, 31))
    now = Situation(home, until)
    return Page(
        title=f"{now.house.name}: the water in {year}",
        under=f"Written {today}, by what is on record{'' if until.month == 12 and until.day == 31 else ' so far'}.",
        sections=(
            Section("What the house was exposed to", _exposed(home, now, year), "danger"),
            Section("In short", (Items(tuple(_in_short(now, year))),)),
            Section("Run out or under its line", _ran_out(now, year)),
            *plot_sections(home, now, year),
            Section("Laboratory tests", _tests(now, year)),
            *_logged(home, year, today),
            Section("Readings", (_readings(now, year),)),
        ),
        foot=LAST_WORD,
    )


def _exposed(home: Home, now: Situation, year: int) -> tuple[Block, ...]:
    """Every line that stood, whole: none means all without its end."""
    told = (
        "Every day of the year on record, by what is on record now. It is no proof that the water was safe: only a "
        "laboratory tells. Boiling never removes nitrate, it makes it stronger."
    )
    found = exposed(home, max(date(year, 1, 1), min(began(home), now.today)), now.today)
    rows = tuple((str(one.first), str(one.last), one.line) for one in found)
    return Text(told), Table(("from", "to", "what"), rows)


def _in_short(now: Situation, year: int) -> Iterator[str]:
    history = now.history
    counts = [(kind, sum(one.on.year == year for one in history.of(kind))) for kind in (Service, Reading, LabReport)]
    names = {Service: "jobs done", Reading: "readings beside them", LabReport: "laboratory reports"}
    yield ", ".join(f"{count} {names[kind]}" for kind, count in counts) + "."
    unpriced = sum(one.on.year == year and not one.price for one in history.of(Purchase))
    if unpriced:
        yield f"Purchases without a price, counted as nothing in the costs: {unpriced}."


def _ran_out(now: Situation, year: int) -> tuple[Block, ...]:
    rows: list[tuple[str, str, str]] = []
    for stage in now.house.stages:
        for stock in now.stocks[stage.id]:
            short = (on for on in stock.short_on if on.year == year)
            rows += [(str(on), title_of(stage), "reckoned to have run out before it was filled up") for on in short]
        if isinstance(stage, Softener):
            low = [one for one in now.history.taken("salt_depth", stage.id) if one.taken.value < stage.salt_low_cm]
            rows += [
                (
                    str(one.on),
                    title_of(stage),
                    f"salt read at {now.known.show(one.taken.value, 'length')}, under its line",
                )
                for one in low
                if one.on.year == year
            ]
    if not rows:
        return (Text("Nothing was read or reckoned to have run out."),)
    return (Table(("day", "stage", "what"), tuple(sorted(set(rows)))),)


def _tests(now: Situation, year: int) -> tuple[Block, ...]:
    rows = result_rows(now, names_of(now.home), year)
    if not rows:
        return (Text("No laboratory report in this year. Coliform and nitrate are tested every year at least."),)
    return (Table(("day", "where", "what", "result"), rows),)


def _logged(home: Home, year: int, today: date) -> Iterator[Section]:
    """The jobs done, then all else that is neither a reading nor a test."""
    kinds = {event.id: type(event) for event in home.events}
    lines = [one for one in log_lines(home) if one.on.year == year and one.on <= today]
    lines = sorted((one for one in lines if not (one.voided or one.obsolete)), key=lambda one: (one.on, one.id))
    done = [one for one in lines if kinds[one.id] is Service]
    other = [one for one in lines if kinds[one.id] not in _APART]
    yield Section("Jobs done", (_table(done, "Service: "),))
    yield Section("Bought, changed and happened", (_table(other),))


def _table(lines: list[LogLine], lead: str = "") -> Block:
    rows = tuple((str(one.on), one.what.removeprefix(lead), one.detail) for one in lines)
    return Table(("day", "what", "particulars"), rows) if rows else Text("Nothing on record.")


def _readings(now: Situation, year: int) -> Block:
    """Each quantity at each place: how often it was read, the first, the last, the lowest and the highest."""
    names, found = names_of(now.home), _by_place(now.history, year)
    rows: list[tuple[str, ...]] = []
    for (quantity, point), values in sorted(found.items()):
        first, last, low, high = (
            show_quantity(quantity, one, now.house.units) for one in (values[0], values[-1], min(values), max(values))
        )
        name = QUANTITIES[quantity].name if quantity in QUANTITIES else quantity
        rows.append((f"{name}{names.place(point)}", str(len(values)), first, last, low, high))
    if not rows:
        return Text("Nothing was read.")
    return Table(("what", "times", "first", "last", "lowest", "highest"), tuple(rows), numbers=1)


def _by_place(history: History, year: int) -> dict[tuple[str, str], list[float]]:
    found: dict[tuple[str, str], list[float]] = {}
    for on, taken in sorted(history.every_taken(), key=lambda pair: pair[0]):
        if on.year == year:
            found.setdefault((taken.quantity, taken.point), []).append(taken.value)
    return found
