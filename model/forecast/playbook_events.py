"""The events that begin a playbook and that answer its steps, or why they cannot be made."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Literal

from model.errors import BadInput, UnknownName
from model.forecast.playbooks import Running, running
from model.forecast.situation import Situation
from model.plan_types import EventStep
from model.records.events import Absence, PlaybookStarted, PlaybookStep
from model.records.typed import check_date
from model.units import echo
from model.upkeep.playbook import Playbook, all_playbook_ids, load_playbook

FURTHEST_DAYS = 366
"""A playbook begins at most so long before or after today. Owner's default."""
LONG_ABSENCE_DAYS = 7
"""From so many days on an absence asks for the longer list. Common practice, no source."""


def begin(now: Situation, name: str, on: date, note: str = "") -> PlaybookStarted:
    """The event that begins a playbook on a day, which may be to come.

    Raises:
        UnknownName: there is no such playbook.
        BadInput: a day too far away, or one on which it was begun already.
    """
    known_playbook(name)
    if abs((on - now.today).days) > FURTHEST_DAYS:
        raise BadInput(f"{on} is too far from today ({now.today}).", "Check the year.")
    for one in now.history.of(PlaybookStarted):
        if (one.playbook, one.on) == (name, on):
            raise BadInput(f"It was begun for {on} already, as event {one.id}.", "Nothing was recorded.")
    return PlaybookStarted(on=on, playbook=name, note=note.strip())


def known_playbook(name: str) -> Playbook:
    """The playbook of that name. Raises UnknownName, with those there are."""
    known = all_playbook_ids()
    if name not in known:
        raise UnknownName(f"There is no playbook {echo(name)}.", f"Playbooks: {', '.join(known)}.")
    return load_playbook(name)


def beside(now: Situation, event: PlaybookStarted) -> str:
    """A note where the same playbook is still running; "" where it is not."""
    same = [one for one in running(now) if one.playbook == event.playbook and one.open]
    if not same:
        return ""
    return f"Event {same[-1].event} of {same[-1].on} is the same and still has open steps; both lists count."


def find_step(now: Situation, key: str) -> EventStep:
    """The step of that key, as `wellward due` shows it: "12.flush".

    Raises:
        UnknownName: no such step of a playbook begun.
    """
    begun = running(now)
    found = next((step for one in begun for step in one.steps if step.key == key.strip()), None)
    if found is None:
        raise UnknownName(f"There is no step {echo(key)}.", f"Open steps: {_keys(begun)}.")
    return found


def _keys(begun: tuple[Running, ...]) -> str:
    return ", ".join(step.key for one in begun for step in one.open) or "none"


def answer(
    now: Situation, key: str, outcome: Literal["done", "skipped"], on: date, reason: str = "", note: str = ""
) -> PlaybookStep:
    """The event that says that a step was done, or that it is left out and why.

    Raises:
        UnknownName: no such step.
        BadInput: it is not open; left out without a reason; done, though its checklist has to be recorded; a day to
            come, or long before the playbook.
    """
    step, reason = find_step(now, key), reason.strip()
    check_date(on, now.today)
    if step.outcome != "open":
        said = "done" if step.outcome == "done" else "left out"
        raise BadInput(f"{step.key} was {said} on {step.closed_on}.", "Nothing was recorded.")
    if outcome == "done" and step.task:
        raise BadInput(
            f"{step.key} is done by its checklist.",
            f"Record the service: `wellward done {step.task}`, from {step.opens} on.",
        )
    if outcome == "skipped" and not reason:
        raise BadInput(f"{step.key} cannot be left out without a reason.", "Say why.")
    if on < step.started_on - timedelta(days=FURTHEST_DAYS):
        raise BadInput(f"{on} is long before the playbook began ({step.started_on}).", "Check the year.")
    return PlaybookStep(on=on, started=step.event, step=step.step, outcome=outcome, reason=reason, note=note.strip())


def offered_for(absence: Absence, today: date) -> tuple[str, date]:
    """The playbook that goes with an absence, and its day: for what is over, the return."""
    if absence.until < today:
        return "return", absence.until + timedelta(days=1)
    days = (absence.until - absence.on).days + 1
    return ("absence_long" if days >= LONG_ABSENCE_DAYS else "absence_short"), absence.on
