"""What goes to the terminal last: no control mark of a text that somebody wrote gets through, whoever draws it."""

from __future__ import annotations

from rich.segment import Segment
from textual.color import Color
from textual.filter import LineFilter

from model.visible import without_controls


class Harmless(LineFilter):
    """Takes control marks out of every line drawn. They take no cells, so nothing moves."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        """The segments, made anew only where there is something to take out."""
        if all(segment.text.isprintable() for segment in segments):
            return segments
        return [Segment(without_controls(text), style, control) for text, style, control in segments]
