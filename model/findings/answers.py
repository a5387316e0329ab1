"""What the owner said to findings, and how long it counts."""

from __future__ import annotations

from datetime import date

from msgspec.structs import replace

from model.errors import BadInput
from model.plan_types import Finding
from model.records.events import Answer, FindingAnswered
from model.records.history import History

LONGEST_SNOOZE_DAYS, LONGEST_DANGER_DAYS = 366, 30
"""For how long a finding, and one that is a danger, can be put off [days]. Owner's default."""


def latest(history: History) -> dict[str, FindingAnswered]:
    """The last answer to each finding, by the finding's id."""
    return {one.finding: one for one in sorted(history.of(FindingAnswered), key=lambda one: one.id)}


def answered(history: History, said: FindingAnswered | None, found: Finding) -> Finding:
    """A finding with what the owner said to it, as far as that still counts.

    Dismissed or done it stays away until a newer reading shows it again; snoozed until its day, a danger only until the
    next reading. Accepted it stays a task until the job it leads to is done or the owner says so.
    """
    if said is None:
        return found
    newest = max((one.event for one in found.rests_on), default=0)
    if said.answer == "accepted":
        done = _done_by(history, said, found)
        if done is None:
            return _with(found, "accepted", said)
        return found if newest >= done else _with(found, "done", said)
    if said.answer == "snoozed":
        waits = said.until is not None and history.today < said.until
        again = found.level == "danger" and newest > said.id
        return _with(found, "snoozed", said) if waits and not again else found
    kept = said.answer == "done" or said.reason.strip()
    return _with(found, said.answer, said) if kept and newest <= said.id else found


def _with(found: Finding, answer: Answer, said: FindingAnswered) -> Finding:
    return replace(found, answer=answer, reason=said.reason, until=said.until, answered_on=said.on)


def _done_by(history: History, said: FindingAnswered, found: Finding) -> int | None:
    """The event that did what accepting the finding asked for, None before that."""
    if found.task:
        return next((one.id for one in history.services(found.task) if one.id > said.id), None)
    read = (one for one in history.taken(found.read, found.at) if one.event > said.id) if found.read else iter(())
    return next((one.event for one in read), None)


def answer_to(
    found: Finding, answer: Answer, today: date, reason: str = "", until: date | None = None
) -> FindingAnswered:
    """The event that answers a finding.

    Raises:
        BadInput: dismissed without a reason, snoozed without a later day or for too long, done without being a task,
            or a day given where none is meant.
    """
    reason = reason.strip()
    if answer == "dismissed" and not reason:
        raise BadInput("Why is it dismissed?", "Give the reason: it is kept with the finding.")
    if answer == "done" and found.answer != "accepted":
        raise BadInput("That finding is no task yet.", "Accept it first, or dismiss it with a reason.")
    if answer == "accepted" and found.answer == "accepted":
        raise BadInput("That finding is a task already.", "Do its job, or mark it done.")
    if answer == "snoozed":
        _check_until(found, today, until)
    elif until is not None:
        raise BadInput("A day is given only to snooze.", "Leave it out.")
    return FindingAnswered(on=today, finding=found.id, answer=answer, reason=reason, until=until)


def _check_until(found: Finding, today: date, until: date | None) -> None:
    most = LONGEST_DANGER_DAYS if found.level == "danger" else LONGEST_SNOOZE_DAYS
    if until is None:
        raise BadInput("Until when?", "Give the day on which it is to be told again.")
    if until <= today:
        raise BadInput(f"{until} is not after today, {today}.", "Give a later day.")
    if (until - today).days > most:
        raise BadInput(f"It cannot be put off beyond {most} days.", "Give an earlier day, or dismiss it with a reason.")
