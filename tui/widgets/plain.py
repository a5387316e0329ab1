"""Marks of the program and of Textual in plain ASCII, for terminals that can draw no others."""

from __future__ import annotations

from rich.segment import Segment
from textual.color import Color
from textual.filter import LineFilter

_KEYS = {"←": "Left", "→": "Right", "↑": "Up", "↓": "Down", "⏎": "Enter", "⌫": "Backspace", "⇥": "Tab"}
_MARKS = str.maketrans("…←→↑↓▼▲⏎“”‘’–—", "~<>^vv^<\"\"''--")
_MARKS |= str.maketrans("─━│┃█▉▊▋▌▍▎▏▐▔▁▂▃▄▅▆▇▀", "--|||||||||||-_       ")
"""Lines of frames, edges of dialogs, and the ends of scroll bars, which the Linux console lacks."""


def in_ascii(key: str) -> str:
    """What a key is called, without arrows."""
    for mark, name in _KEYS.items():
        key = key.replace(mark, name)
    return key


class Plain(LineFilter):
    """Puts marks of one cell in ASCII in their place, whoever draws them."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        """The segments, made anew only where there is something to put otherwise."""
        if all(segment.text.isascii() for segment in segments):
            return segments
        return [Segment(text.translate(_MARKS), style, control) for text, style, control in segments]
