"""Keys that the owner chose for commands of the table, checked before any screen uses them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from textual.binding import Binding
from textual.keys import Keys, _character_to_key
from textual.widgets import Input

from tui.command import DIALOGS, Area, Command
from tui.commands import AREAS, COMMANDS

_LAID_ON_WATER = ("valve", "salt_out", "mix", "trends")
_NEVER_AT_ONCE = {"setup.leave", "setup.previous"}
"""Leaving is for the first page, going back for the others."""
_FIXED = {"tab": "goes to the next part", "shift+tab": "goes to the part before", "ctrl+c": "copies what is marked"}
_BACK = "escape"
"""Goes back wherever there is a way back, whatever other key does too."""
_IN_DIALOGS = ("help", "quit")
"""What works everywhere and in dialogs as well."""
_MODIFIERS = {"ctrl", "shift", "alt", "super", "hyper", "meta"}
_NAMED = {key.value for key in Keys}
_FUNCTION_KEY = re.compile(r"f\d{1,2}")


def checked_keys(wanted: Mapping[str, str]) -> tuple[dict[str, str], list[str]]:
    """The changes that can be made, as command id and key, and one line for each that cannot.

    A change is refused if no command has that id, no such key exists, or another command works at the same time by
    the same key. Of changes that are refused the command keeps its usual key, which may refuse another in turn.
    Where Escape goes back it goes on to do so, beside the key asked for.
    """
    known = {one.id: one for one in COMMANDS}
    keys: dict[str, str] = {}
    problems: list[str] = []
    for name, text in wanted.items():
        try:
            if name not in known:
                raise ValueError("no command has this name; `wellward settings --write` lists them")
            keys[name] = ",".join(_keys_for(known[name], text))
        except ValueError as problem:
            problems.append(f"[keys] {name!r}: {problem}.")
    while clash := _first_clash(keys):
        name, told = clash
        del keys[name]
        problems.append(told)
    return keys, problems


def _keys_for(one: Command, text: str) -> list[str]:
    """The keys asked for a command, and Escape where that is how it goes back.

    Raises:
        ValueError: one of them cannot be a key of this command.
    """
    keys = [_key(part) for part in text.split(" ")]
    goes_back = _BACK in one.key.split(",")
    if _BACK in keys and not goes_back:
        raise ValueError("escape goes back and cannot be given away")
    if one.typing:
        _check_typing([key for key in keys if key != _BACK], first=one.priority)
    return [*keys, _BACK] if goes_back and _BACK not in keys else keys


def _check_typing(keys: list[str], *, first: bool) -> None:
    """Refuse keys that a field would take for itself; `first`: the key is asked before the field."""
    taken = set() if first else {key for one in Binding.make_bindings(Input.BINDINGS) for key in one.key.split(",")}
    for key in keys:
        if not ("+" in key or _FUNCTION_KEY.fullmatch(key)):
            raise ValueError("works while typing too, so its key needs ctrl+ or alt+, or is one like f5")
        if key in taken:
            raise ValueError(f"works while typing too, where {key} moves in the field or changes it")


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
        if other.id != one.id and _meet(one, other):
            yield other


def _meet(one: Command, other: Command) -> bool:
    """Whether there is a screen on which both work."""
    if not one.area or not other.area:
        wide, narrow = (one, other) if not one.area else (other, one)
        return narrow.area not in DIALOGS or wide.id in _IN_DIALOGS
    return _together(one, other)


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
