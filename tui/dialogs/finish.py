"""Finishing a job: what was found, the last questions, and one event that records it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec

from model.errors import BadInput
from model.forecast.acid_and_bleach import apart
from model.records.events import Service, Taken
from model.records.handles import handles_of_task
from model.records.meter_check import REPLACE_METER
from model.records.typed import check_date, parse_date
from tui import jobs, used_parts
from tui.dialogs.ask import Ask
from tui.dialogs.form import Entry, Form
from tui.widgets.steps import AskLine, StepLine
from tui.words import day_words, from_now

if TYPE_CHECKING:
    from tui.screens.job import JobScreen
    from tui.view import View

Answer = tuple[Service, dict[str, str]]
"""The event, and what was typed in the form, to begin again from."""

_OTHER = "other"


async def finish(screen: JobScreen) -> bool:
    """Ask what is left to ask and record the job. False where it was not recorded."""
    app = screen.app
    taken = _readings(screen)
    if taken is None or not await _sure(screen, _odd_readings(screen, taken)):
        return False
    typed: dict[str, str] = {}
    while True:
        answer = await app.push_screen_wait(_form(screen, taken, typed))
        if answer is None:
            return False
        service, typed = answer
        view = app.session.view
        told = apart(view.situation, service.task, service.on)
        odd = [*([told] if told else []), *jobs.doubts_about_parts(view, screen.suggested, service.used)]
        if await _sure(screen, odd):
            break
    if not app.record(service, said=""):
        return False
    app.acknowledge(_said(screen, service), title="Recorded")
    return True


async def _sure(screen: JobScreen, odd: list[str]) -> bool:
    """Whether what is odd shall be recorded all the same; nothing is asked where nothing is odd."""
    if not odd:
        return True
    return await screen.app.push_screen_wait(
        Ask("Record this all the same?", "\n".join(odd), yes="Record", no="Look again")
    )


def _odd_readings(screen: JobScreen, taken: tuple[Taken, ...]) -> list[str]:
    view = screen.app.session.view
    return [
        sentence
        for place, reading in enumerate(taken)
        for sentence in jobs.doubts_about(view, reading, view.today, taken[:place])
    ]


def _form(screen: JobScreen, taken: tuple[Taken, ...], typed: dict[str, str]) -> Form[Answer]:
    return Form(
        f"Finish: {screen.row.title}",
        _asked(screen),
        lambda values: (_service(screen, taken, values), values),
        about=_about(screen, taken),
        save="Record",
        typed=typed,
        key=f"finish {screen.row.task}",
    )


def _readings(screen: JobScreen) -> tuple[Taken, ...] | None:
    """The readings typed, or None with the first field that cannot be taken in focus."""
    view = screen.app.session.view
    found: list[Taken] = []
    for field, ask in screen.asks():
        line = screen.line(field)
        if line.typed.strip():
            try:
                taken = jobs.take_asked(view, screen.row.stage, ask, line.typed)
            except BadInput as problem:
                _refuse(screen, line, problem)
                return None
            moment = "before" if field.startswith("before") else "after"
            found.append(msgspec.structs.replace(taken, moment=moment))
    return tuple(found)


def _refuse(screen: JobScreen, line: AskLine, problem: BadInput) -> None:
    line.input.focus()
    line.say(str(problem))
    screen.app.notify(str(problem), title="Not recorded yet", severity="warning", markup=False)


def _about(screen: JobScreen, taken: tuple[Taken, ...]) -> str:
    steps = list(screen.query(StepLine))
    left = sum(not step.ticked for step in steps)
    empty = sum(1 for _ in screen.asks()) - len(taken)
    said = [
        f"{left} of {len(steps)} steps {'is' if left == 1 else 'are'} not ticked." if left else "",
        f"{empty} reading{' is' if empty == 1 else 's are'} empty." if empty else "",
    ]
    return " ".join(part for part in said if part)


def _asked(screen: JobScreen) -> tuple[Entry, ...]:
    """The last questions."""
    view = screen.app.session.view
    supplies = {one.id: one.title for one in view.house.supplies}
    entries = [Entry(id="on", label="Done on", value=view.today.isoformat(), hint="or today, yesterday")]
    for place, supply in enumerate(screen.suggested):
        typed = used_parts.with_unit(view, supply, screen.line(f"used-{supply}").typed)
        label = f"Used: {supplies.get(supply, supply)}"
        entries.append(Entry(id=f"used_{place}", label=label, value=typed, hint=used_parts.used_unit(view, supply)))
    if screen.checklist is not None and screen.checklist.moves_handles:
        entries.append(Entry(id="handles", label="Valve handles", choices=_handle_choices(screen)))
        entries.append(Entry(id="accepted", label="If a handle stays moved", hint="why, and until when"))
    entries.append(Entry(id="note", label="Note"))
    entries.append(Entry(id="photo", label="Photo (file name)", hint="kept as typed"))
    return tuple(entries)


def _handle_choices(screen: JobScreen) -> tuple[tuple[str, str], ...]:
    """Back in service, or the handle of the job that stays moved; any where the stage has none that is known."""
    there = handles_of_task(screen.app.session.view.house, screen.row.task)
    moved = tuple((one.id, f"stays moved: {one.title}") for one in there) or ((_OTHER, "one stays moved"),)
    return (("", "choose"), ("service", "back in service"), *moved)


def _service(screen: JobScreen, taken: tuple[Taken, ...], typed: dict[str, str]) -> Service:
    """The event, or BadInput saying what is missing."""
    view = screen.app.session.view
    on = parse_date(typed["on"], view.today)
    check_date(on, view.today)
    for one in taken:
        jobs.check_count(view, one, on, new_meter=one.moment == "after" and screen.row.task == REPLACE_METER)
    used = {
        supply: amount
        for place, (supply, usual) in enumerate(screen.suggested.items())
        if (amount := used_parts.parse_used(view, supply, typed[f"used_{place}"], usual)) > 0
    }
    handles, accepted = typed.get("handles", ""), typed.get("accepted", "").strip()
    _check_handles(handles, accepted, asked="handles" in typed)
    return Service(
        on=on,
        task=screen.row.task,
        used=used,
        taken=taken,
        handles="" if handles == _OTHER else handles,
        accepted="" if handles == "service" else accepted,
        note=typed["note"].strip(),
        photo=typed["photo"].strip(),
    )


def _check_handles(handles: str, accepted: str, *, asked: bool) -> None:
    if asked and not handles:
        raise BadInput("This job moves a valve handle.", "Choose whether the handles are back in service.")
    if asked and handles != "service" and not accepted:
        raise BadInput("The handles are not back in service.", "Say why it stays moved, and until when.")


def _said(screen: JobScreen, service: Service) -> str:
    view: View = screen.app.session.view
    found = jobs.find_job(view, service.task)
    due = found.due if found else None
    following = f" Next: {day_words(due.act_on, view.today)}, {from_now(due.act_on, view.today)}." if due else ""
    readings = f" with {len(service.taken)} reading{'s' if len(service.taken) != 1 else ''}" if service.taken else ""
    return f"{screen.row.title}, {day_words(service.on, view.today)}{readings}.{following}"
