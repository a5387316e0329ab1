"""Findings in short sentences: what comes next, what the owner said, and how many were put away."""

from __future__ import annotations

from collections.abc import Iterable

from model.equipment.registry import job_title
from model.plan_types import Finding, Rests
from model.records.quantities import QUANTITIES

_PUT_AWAY = (("dismissed", "dismissed"), ("snoozed", "snoozed"), ("done", "done"))


def next_words(found: Finding) -> str:
    """What the owner said to a finding, or where accepting it leads."""
    if found.answer == "dismissed":
        return f"Dismissed on {found.answered_on}: {found.reason}. A new reading that shows it brings it back."
    if found.answer == "snoozed":
        return f"Snoozed until {found.until}{f': {found.reason}' if found.reason else ''}."
    if found.answer == "done":
        return "Its task is done. A new reading that shows it brings it back."
    return (
        f"Task since {found.answered_on}: {aim(found)}."
        if found.answer == "accepted"
        else f"Accepting leads to: {aim(found)}."
    )


def aim(found: Finding) -> str:
    """What an accepted finding asks for."""
    if found.task:
        return f"{job_title(found.task) or found.task} [{found.task}]"
    if found.read in QUANTITIES:
        return f"read {QUANTITIES[found.read].name} again at {found.at.replace('_', ' ')}"
    return "see to its likeliest cause, then mark it done"


def hidden_words(findings: Iterable[Finding]) -> str:
    """How many findings were put away, and how: "2 findings put away (1 dismissed, 1 snoozed)"; "" for none."""
    hidden = [one.answer for one in findings if one.hidden]
    if not hidden:
        return ""
    each = ", ".join(f"{hidden.count(answer)} {word}" for answer, word in _PUT_AWAY if answer in hidden)
    return f"{len(hidden)} finding{'' if len(hidden) == 1 else 's'} put away ({each})"


def place_of(found: Finding, seen: Rests, points: dict[str, str]) -> str:
    """Where a reading was taken, in words. `points`: the titles of the train's points by id."""
    return points.get(seen.where) or (found.stage_title if seen.where == found.stage else seen.where.replace("_", " "))
