"""All that stands in the log, for the next owner: a table for each year, what was done with every day of it."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from msgspec.structs import replace

from model.forecast.situation import Situation
from model.forecast.words import day_in_words
from model.pages.page import Section, Table
from model.records.events import AnyEvent, Correction, LabReport, Reading, Service, Taken
from model.records.log import LogLine, describe, log_lines, taken_in_words
from model.records.names import Names
from model.records.quantities import QUANTITIES


def history_sections(now: Situation, names: Names) -> Iterator[Section]:
    """Every year, the newest first; what was taken back is left out."""
    standing = [
        (one, line) for one, line in zip(now.home.events, log_lines(now.home), strict=True) if _stands(one, line)
    ]
    standing.sort(key=lambda pair: (pair[1].on, pair[1].id))
    years = [(year, [one for one, _ in pairs]) for year, pairs in groupby(standing, key=lambda pair: pair[1].on.year)]
    for year, events in reversed(years):
        yield Section(f"What happened in {year}", (Table(("what", "on, with particulars"), _rows(events, now, names)),))


def _stands(event: AnyEvent, line: LogLine) -> bool:
    return not (line.voided or line.obsolete or isinstance(event, Correction))


def _rows(events: list[AnyEvent], now: Situation, names: Names) -> tuple[tuple[str, str], ...]:
    """A row for each thing that was done or happened: jobs in the order of the train, then the rest by its kind."""
    stages = [stage.id for stage in now.house.stages]
    found: dict[tuple[int, str], dict[str, list[str]]] = {}
    for event in events:
        what, detail = _words(event, names)
        days = found.setdefault((_rank(event, stages), what), {})
        days.setdefault(day_in_words(event.on, event.on), []).append(detail)
    return tuple((what, _days(found[rank, what])) for rank, what in sorted(found))


def _rank(event: AnyEvent, stages: list[str]) -> int:
    if isinstance(event, Service):
        stage = event.task.partition(".")[0]
        return stages.index(stage) if stage in stages else len(stages)
    return len(stages) + (1 if isinstance(event, LabReport) else 2 if isinstance(event, Reading) else 3)


def _words(event: AnyEvent, names: Names) -> tuple[str, str]:
    """What it was, the same for all of its kind, and what is to be said of this one alone."""
    if isinstance(event, Service):
        title = names.task(event.task).removeprefix(": ").removesuffix(f" [{event.task}]").strip()
        return title, _service(event, names)
    if isinstance(event, Reading):
        known = QUANTITIES.get(event.taken.quantity)
        name = known.name if known else event.taken.quantity.replace("_", " ")
        said = _without_place(event.taken, event.taken.point, names).removeprefix(f"{name} ")
        return f"Reading: {name}{names.place(event.taken.point)}", f"{said}; {event.note}" if event.note else said
    return describe(event, names)


def _service(event: Service, names: Names) -> str:
    """What was used, read and noted; the stage stands in the name of the job already."""
    other = describe(replace(event, taken=(), note=""), names)[1]
    read = [_without_place(one, event.task.partition(".")[0], names) for one in event.taken]
    said = ", ".join(part for part in (other, *read) if part)
    return "; ".join(part for part in (said, event.note) if part)


def _without_place(taken: Taken, point: str, names: Names) -> str:
    """A reading in words, its place left out where it is the one that is known."""
    measured = names.measured(taken)
    rest = taken_in_words(taken, names).removeprefix(measured)
    return measured + (rest.removeprefix(names.place(taken.point)) if taken.point == point else rest)


def _days(days: dict[str, list[str]]) -> str:
    """ "5 Jan: 120 lb Softener salt; 6 Apr; 12 Apr"."""
    told = ((day, ", ".join(filter(None, said))) for day, said in days.items())
    return "; ".join(f"{day}: {said}" if said else day for day, said in told)
