"""Text that others wrote, made harmless for a terminal: nothing in it can move the cursor or turn the line around."""

from __future__ import annotations

import re

_TURNING = "\u202a-\u202e\u2066-\u2069"
_HARMFUL = re.compile(f"[\x00-\x1f\x7f-\x9f\u2028\u2029{_TURNING}\ud800-\udfff]")
_HARMFUL_BUT_NEW_LINE = re.compile(f"[\x00-\x09\x0b-\x1f\x7f-\x9f\u2028\u2029{_TURNING}\ud800-\udfff]")
_DELETE, _PICTURES, _PICTURE_OF_DELETE, _UNKNOWN = "\x7f", 0x2400, "\u2421", "\ufffd"


def visible(text: str) -> str:
    """The text with every control mark but the new line shown as a sign: the escape as "␛", what has none as "�"."""
    return text if text.isprintable() else _HARMFUL_BUT_NEW_LINE.sub(_sign, text)


def without_controls(text: str) -> str:
    """The text without control marks, which take no room on a screen; a half of a pair takes one cell and is "�"."""
    return text if text.isprintable() else _HARMFUL.sub(_in_no_room, text)


def escaped(json_text: str) -> str:
    """JSON with the control marks that JSON itself lets through written as "\\u009b"."""
    return _HARMFUL_BUT_NEW_LINE.sub(lambda found: f"\\u{ord(found[0]):04x}", json_text)


def _sign(found: re.Match[str]) -> str:
    mark = found[0]
    if mark == _DELETE:
        return _PICTURE_OF_DELETE
    return chr(_PICTURES + ord(mark)) if mark < " " else _UNKNOWN


def _in_no_room(found: re.Match[str]) -> str:
    return _UNKNOWN if "\ud800" <= found[0] <= "\udfff" else ""
