"""One question of the set-up, and what was answered so far."""

from __future__ import annotations

from typing import Literal

import msgspec

from model.equipment.labels import Label

Kind = Literal["number", "choice", "ticks", "reading", "day"]

UNKNOWN = ""
"""The answer "I don't know": the default is taken and marked."""

Answers = dict[str, str]
"""Id of a question -> what was answered, with its unit; `UNKNOWN` where the owner does not know."""


class Question(msgspec.Struct, frozen=True, kw_only=True):
    """One page. `id` is the path of the setting ("softener.salt_full_cm") or names the reading ("lab.pH").

    `label`: name, unit and range of a setting. `choices`: value and words. `units`: how a reading may be written,
    of which one must be said. `drawing`: a key of `DRAWINGS`. `default`: the value kept where the owner does not know,
    None where it is worked out or left out. `instead`: that in words.
    """

    id: str
    kind: Kind
    title: str
    about: str = ""
    label: Label | None = None
    choices: tuple[tuple[str, str], ...] = ()
    units: tuple[str, ...] = ()
    drawing: str = ""
    default: float | str | bool | None = None
    instead: str = ""

    @property
    def stage(self) -> str:
        """The stage it is about, "" for the house and the laboratory."""
        return self.id.partition(".")[0] if "." in self.id and not self.id.startswith("lab.") else ""

    @property
    def field(self) -> str:
        """The field of the stage or of the house, or the quantity read."""
        return self.id.rpartition(".")[2]


class Draft(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A set-up left half-way: the answers, what is typed on the page, and the id of the page."""

    answers: Answers = {}
    at: str = ""
    typed: str = ""
