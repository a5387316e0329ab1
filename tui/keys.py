"""Keys that the owner chose for commands of the table, checked before any screen uses them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from textual.keys import Keys, _character_to_key

from tui.command import Area, Command
from tui.commands import AREAS, COMMANDS

_LAID_ON_WATER = ("valve", "salt_out", "mix", "trends")
_NEVER_AT_ONCE = {"setup.leave", "setup.previous"}
"""Leaving is for the first page, going back for the others."""
_FIXED = {"tab": "goes to the next part", "shift+tab": "goes to the part before", "ctrl+c": "copies what is marked"}
_MODIFIERS = {"ctrl", "shift", "alt", "super", "hyper", "meta"}
_NAMED = {key.value for key in Keys}


def checked_keys(wanted: Mapping[str, str]) -> tuple[dict[str, str], list[str]]:
    """The changes that can be made, as command id and key, and one line for each that cannot.

    A change is refused if no command has that id, no such key exists, or another command works at the same time by
    the same key. Of changes that are refused the command keeps its usual key, which may refuse another in turn.
    """
    known = {one.id: one for one in COMMANDS}
    keys: dict[str, str] = {}
    problems: list[str] = []
    for name, text in wanted.items():
        try:
            if name not in known:
                raise ValueError("no command has this name; `wellward settings --write` lists them")
            keys[name] = ",".join(_key(part) for part in text.split(" "))
            if known[name].priority and any("+" not in key for key in keys[name].split(",")):
                del keys[name]
                raise ValueError("works while typing too, so its key needs ctrl+ or alt+")
        except ValueError as problem:
            problems.append(f"[keys] {name!r}: {problem}.")
    while clash := _first_clash(keys):
        name, told = clash
        del keys[name]
        problems.append(told)
    return keys, problems


def _key(text: str) -> str:
    """The name of one key.

    Raises:
        ValueError: no key is called that, or it has a fixed meaning.
    """
    *modifiers, last = text.split("+") if len(text) > 1 else [text]
    plain = _character_to_key(last) if len(last) == 1 else last
    # A terminal sends the capital, never shift and the letter.
    name = (
        last.upper() if modifiers == ["shift"] and last.isalpha() and len(last) == 1 else "+".join([*modifiers, plain])
    )
    if name in _FIXED:
        raise ValueError(f"{text} {_FIXED[name]} and cannot be given away")
    if len(last) != 1 and plain not in _NAMED and name not in _usual():
        raise ValueError(f"no key is called {text!r}; write a, A, f5, ctrl+a, space, left")
    if not set(modifiers) <= _MODIFIERS or (len(last) == 1 and not last.isprintable()):
        raise ValueError(f"no key is called {text!r}; write a, A, f5, ctrl+a, space, left")
    return name


def _usual() -> set[str]:
    return {key for one in COMMANDS for key in one.key.split(",")}


def _first_clash(keys: Mapping[str, str]) -> tuple[str, str] | None:
    """The first changed command that shares a key with another that works at the same time, and what to say."""
    by_id = {one.id: one for one in COMMANDS}
    for name in reversed(tuple(keys)):
        for other in _beside(by_id[name]):
            shared = set(keys[name].split(",")) & set(keys.get(other.id, other.key).split(","))
            if shared:
                mine = by_id[name]
                key = min(shared)
                return (
                    name,
                    f"[keys] {key} is asked for {_called(mine)} but is the key of {_called(other)}; not changed.",
                )
    return None


def _called(one: Command) -> str:
    return f"{one.id} ({one.label})"


def _beside(one: Command) -> Iterator[Command]:
    """The other commands whose keys work on a screen where this one's does."""
    for other in COMMANDS:
        if other.id != one.id and (not one.area or not other.area or _together(one, other)):
            yield other


def _together(one: Command, other: Command) -> bool:
    if {one.id, other.id} == _NEVER_AT_ONCE:
        return False
    if one.area == other.area:
        return True
    return _lies_on(one, other.area) or _lies_on(other, one.area)


def _lies_on(one: Command, area: Area) -> bool:
    """Views on Water open each other by the keys of Water."""
    return one.area == "water" and "open_view" in one.action and area in _LAID_ON_WATER


def command_lines() -> list[str]:
    """Every command with its usual key, as lines of a settings file that change nothing."""
    places = {area: title for area, title, _ in AREAS}
    lines: list[str] = []
    for one in sorted(COMMANDS, key=lambda one: one.area):
        title = f"# -- {places.get(one.area, one.area.replace('_', ' ').capitalize() or 'Everywhere')}"
        lines += [] if title in lines else [title]
        lines.append(f'# "{one.id}" = "{one.key.replace(",", " ")}"  # {one.tells}')
    return lines
