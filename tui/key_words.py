"""What keys are called in sentences: as the owner has them now, so that no sentence names a key that does nothing."""

from __future__ import annotations

import re

from textual._context import active_app
from textual.keys import format_key

from tui.commands import COMMANDS

_USUAL = {one.id: one.key for one in COMMANDS}
_BY_NAME = {"escape", "enter", "space", "tab", "up", "down", "left", "right", "home", "end", "backspace", "delete"}
_FUNCTION_KEY = re.compile(r"f\d{1,2}")
_MARK = re.compile(r"\{([a-z_0-9]+(?:\.[a-z_0-9]+)?)\}")


def key(command: str) -> str:
    """The keys of a command as a sentence names them: "r", "Ctrl+S", "Space or Enter"."""
    changed: dict[str, str] = getattr(active_app.get(None), "changed_keys", {})
    return " or ".join(name_of(one) for one in changed.get(command, _USUAL[command]).split(","))


def first_key(command: str) -> str:
    """The same, where there is room for one key only."""
    return key(command).partition(" or ")[0]


def keyed(text: str) -> str:
    """The program's own words, never the owner's, with each "{command id}" replaced by the keys of that command."""
    return _MARK.sub(lambda mark: key(mark[1]) if mark[1] in _USUAL else mark[0], text)


def name_of(pressed: str) -> str:
    """What one key is called: "ctrl+s" is "Ctrl+S", "question_mark" is "?"."""
    *modifiers, last = pressed.split("+")
    if last in _BY_NAME:
        last = last.capitalize()
    elif _FUNCTION_KEY.fullmatch(last) or (modifiers and len(last) == 1):
        last = last.upper()
    else:
        last = format_key(last)
    return "+".join([*(one.capitalize() for one in modifiers), last])
