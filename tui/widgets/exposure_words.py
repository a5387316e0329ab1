"""The lines on what the house is exposed to, as Week shows them in three rows."""

from __future__ import annotations

from collections.abc import Sequence

from textual.content import Content

from model.forecast.exposed.line import lead_of
from tui.key_words import key

_ROWS = 3
WIDE_FROM = 80


def exposure_words(told: Sequence[str], width: int, away: Sequence[str] = (), besides: int = 0) -> Content:
    """The first sentence of the worst lines, one a row, and how many more there are; then also what is `away`, the
    handles that are out of service, so that none of them is ever out of sight.

    Where the terminal is narrower than 80 columns, the first only, which may then wrap. `besides`: so many other lines
    are not shown.
    """
    if not told:
        return Content("")
    room = (_ROWS if len(told) <= _ROWS else _ROWS - 1) if width >= WIDE_FROM else 1
    left = max(len(told) - room, 0) + besides
    shown = [lead_of(line) for line in told[:room]]
    also = f"; out of service: {', '.join(away)}" if away else ""
    more = [f"and {left} more: press {key('week.water')}{also}"] if left else []
    first, *others = [*shown, *more]
    return Content("\n").join([Content.styled(first, "bold"), *(Content(line) for line in others)])
