"""Playbooks: what to do, in order and by the day, when something happens to the house. One data file each."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Annotated, Literal

import msgspec

from model.errors import WellwardError
from model.upkeep.checklist import Lines, Source, Words, from_file

FOLDER = Path(__file__).parent / "playbooks"

Condition = Literal[
    "well",
    "pressure_tank",
    "sediment_filter",
    "neutralizer",
    "softener",
    "ultraviolet",
    "reverse_osmosis",
    "nitrate_resin",
    "magnesia",
    "infant",
]
"""What a home has: a kind of stage, resin that holds nitrate, magnesia in the bed, or an infant in the house."""

Days = Annotated[int, msgspec.Meta(ge=-30, le=400)]


class PlaybookTask(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """One step of a playbook, on one day or on several.

    `days`: when, counted from the start, below 0 for what is done before it. `task`: the checklist that says how
    ("kind.job"), "" where the text says all. `needs` and `unless`: what the home must have, and must not. `health`: it
    protects health.
    """

    id: str
    text: Words
    days: Annotated[tuple[Days, ...], msgspec.Meta(min_length=1)]
    task: str = ""
    needs: tuple[Condition, ...] = ()
    unless: tuple[Condition, ...] = ()
    health: bool = False

    def __post_init__(self) -> None:
        if not self.id.isidentifier() or not self.id.isascii() or any(letter.isdigit() for letter in self.id):
            raise ValueError(f"`id` {self.id!r} must be letters and underscores")
        if list(self.days) != sorted(set(self.days)):
            raise ValueError(f"`days` of {self.id!r} must rise")

    def dated(self) -> tuple[tuple[str, int], ...]:
        """What each of its days is called, with the day: the id, and with several days its place from 1."""
        if len(self.days) == 1:
            return ((self.id, self.days[0]),)
        return tuple((f"{self.id}-{place}", day) for place, day in enumerate(self.days, 1))


class Exposed(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What the water may carry from the day the playbook is begun until its `until` steps are closed.

    `lead` is short, with `{day}` and, where germs may be in it, `{instead}` for what to drink; `more` says the rest.
    `proof`: a quantity that must have been read at one of the points `at` since the first of the steps was closed,
    with the newest value at most `most` [the quantity's unit]; then no step ends it by being left out.
    """

    lead: Words
    more: Words
    about: Literal["germs", "nitrate", "alkaline"]
    until: Annotated[tuple[str, ...], msgspec.Meta(min_length=1)]
    proof: str = ""
    at: tuple[str, ...] = ("tap",)
    most: float = 0.0


class Playbook(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What to do when something happens: cautions first, the steps in order; `exposed`: what it means for the water."""

    id: str = ""
    title: Words
    why: Words
    cautions: Annotated[Lines, msgspec.Meta(min_length=1)]
    steps: Annotated[tuple[PlaybookTask, ...], msgspec.Meta(min_length=1)]
    sources: Annotated[tuple[Source, ...], msgspec.Meta(min_length=1)]
    exposed: Exposed | None = None

    def __post_init__(self) -> None:
        keys = {key for step in self.steps for key, _ in step.dated()}
        if self.exposed is not None and not keys.issuperset(self.exposed.until):
            raise ValueError("`until` names a step that is not there")
        ids = [step.id for step in self.steps]
        twice = sorted({one for one in ids if ids.count(one) > 1})
        if twice:
            raise ValueError(f"the step {twice[0]!r} is there more than once")
        first = [step.days[0] for step in self.steps]
        if first != sorted(first):
            raise ValueError("`steps` must stand in the order of their days")


def all_playbook_ids() -> tuple[str, ...]:
    """Every playbook there is, in order of name."""
    return tuple(sorted(path.stem for path in FOLDER.glob("*.toml")))


@cache
def load_playbook(name: str) -> Playbook:
    """The playbook of that name.

    Raises:
        WellwardError: no such file, not TOML, or a field missing, unknown or of the wrong type; names file and field.
    """
    if not name.isidentifier():
        raise _problem(name, "is not a playbook's name")
    found = from_file(FOLDER / f"{name}.toml", parse_playbook, lambda what: _problem(name, what))
    return msgspec.structs.replace(found, id=name)


def find_playbook(name: str) -> Playbook | None:
    """The playbook of that name, or None where this program has none such."""
    try:
        return load_playbook(name)
    except WellwardError:
        return None


def parse_playbook(data: bytes) -> Playbook:
    """A playbook from the bytes of its file.

    Raises:
        ValueError: not TOML, or a field missing, unknown, empty or of the wrong type; names the field.
    """
    import tomllib  # takes longer to import than this whole module, and only this function needs it

    raw = tomllib.loads(data.decode())
    if "id" in raw:
        raise ValueError("Object contains unknown field `id`")
    return msgspec.convert(raw, Playbook)


def _problem(name: str, what: str) -> WellwardError:
    return WellwardError(f"The playbook {name[:40]}.toml: {what}.", "Reinstall wellward, or correct the file.")
