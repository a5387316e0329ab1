"""A row of the diagnosis tables, and what a rule gives when it sees that row's signs."""

from __future__ import annotations

from typing import NamedTuple

import msgspec

from model.plan_types import Cause, Level, Rests


class Diagnosis(msgspec.Struct, frozen=True, kw_only=True):
    """One row: `id`, `title`, and `causes` with the likeliest first.

    `tasks`: where accepting leads; the first of them that the house has counts. A task here, and in a cause, is a job
    of the finding's own stage ("salt_check") or of the first stage of a kind ("softener.salt_check").
    """

    id: str
    title: str
    causes: tuple[Cause, ...]
    tasks: tuple[str, ...] = ()


class Raised(NamedTuple):
    """What a rule saw: how grave, in one or two sentences, on which readings.

    `first`: ids of causes that this evidence makes the likeliest, in order. `place`: what the finding's id ends with
    where that is not its stage. `read`, `at`: the quantity to read next and where, for a finding without a task.
    """

    level: Level
    text: str
    rests_on: tuple[Rests, ...]
    first: tuple[str, ...] = ()
    place: str = ""
    read: str = ""
    at: str = ""


def cause(id_: str, text: str, do: str, task: str = "") -> Cause:
    """One cause of a row: what it is, what to do or measure, and the task that does it."""
    return Cause(id=id_, text=text, do=do, task=task)
