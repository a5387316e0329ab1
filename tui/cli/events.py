"""The command that begins a playbook, lists what is open of those begun, and answers their steps."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from model.errors import BadInput
from model.forecast.playbook_events import answer, begin, beside, known_playbook
from model.forecast.playbooks import Running, applicable, running
from model.forecast.situation import Situation
from model.records.intake import parse_date
from model.upkeep.playbook import Playbook, all_playbook_ids, load_playbook
from tui.cli import as_json
from tui.cli.home_file import print_json, repository, warn
from tui.cli.recording import record_event
from tui.cli.showing import step_line

if TYPE_CHECKING:
    from collections.abc import Iterator
    from datetime import date

    from tui.cli.parser import Asked


def event(asked: Asked) -> int:
    """List the playbooks and what is open; begin one; or say of a step that it was done or is left out."""
    if asked.what in ("done", "skip"):
        return _answer(asked)
    if asked.step or asked.because:
        raise BadInput(
            "A step and --because go with done or skip.", "Write wellward event skip 12.flush --because TEXT."
        )
    return _list(asked) if asked.what is None else _begin(asked)


def _day(asked: Asked) -> date:
    return asked.today if asked.on is None else parse_date(asked.on, asked.today)


def _begin(asked: Asked) -> int:
    store = repository(asked)
    now = Situation(store.load(), asked.today)
    playbook = known_playbook(asked.what)
    if asked.show:
        print("\n".join(_page(now, playbook)))
        return 0
    started = begin(now, asked.what, _day(asked), asked.note)
    if note := beside(now, started):
        warn(note)
    cautions = [f"! {one}" for one in playbook.cautions]
    done = record_event(asked, store, started, said="\n".join(cautions))
    if not asked.json:
        begun = max(running(Situation(store.load(), asked.today)), key=lambda one: one.event)
        print("\n".join(_open_lines(begun)))
    return done


def _page(now: Situation, playbook: Playbook) -> Iterator[str]:
    yield f"{playbook.title}: {playbook.why}"
    yield from (f"! {one}" for one in playbook.cautions)
    for step, stage in applicable(now, playbook):
        days = ", ".join(f"{day:+d}" if day else "0" for day in step.days)
        how = f" [{stage.id}.{step.task.partition('.')[2]}]" if stage else ""
        yield f"  day {days}: {step.text}{how}"
    yield from (f"Source: {one.text} ({one.tag})" for one in playbook.sources)


def _answer(asked: Asked) -> int:
    if not asked.step:
        raise BadInput("Which step?", f"Write wellward event {asked.what} 12.flush, as `wellward event` lists them.")
    store = repository(asked)
    now = Situation(store.load(), asked.today)
    outcome: Literal["done", "skipped"] = "done" if asked.what == "done" else "skipped"
    return record_event(asked, store, answer(now, asked.step, outcome, _day(asked), asked.because, asked.note))


def _list(asked: Asked) -> int:
    now = Situation(repository(asked).load(), asked.today)
    begun = running(now)
    if asked.json:
        print_json(as_json.playbooks([load_playbook(name) for name in all_playbook_ids()], begun))
        return 0
    lines = [line for one in begun if one.open for line in _open_lines(one)]
    lines += ["Playbooks, to begin with `wellward event NAME` (--show only shows one):"]
    print("\n".join([*lines, *(f"  {name:<20} {load_playbook(name).title}" for name in all_playbook_ids())]))
    return 0


def _open_lines(one: Running) -> list[str]:
    shut = len(one.steps) - len(one.open)
    head = f"Event {one.event}: {one.title}, from {one.on}; {shut} of {len(one.steps)} steps closed"
    return [head, *(step_line(step) for step in one.open)]
