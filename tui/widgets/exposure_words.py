"""The lines on what the house is exposed to, as Week shows them in three rows."""

from __future__ import annotations

from collections.abc import Sequence

from textual.content import Content

from model.forecast.exposed.line import lead_of
from tui.key_words import key

_ROWS = 3
_WIDE_FROM = 80


def exposure_words(told: Sequence[str], width: int, away: Sequence[str] = ()) -> Content:
    """The first sentence of the worst lines, one a row, and how many more there are; then also what is `away`, the
    handles that are out of service, so that none of them is ever out of sight.

    Where the terminal is narrower than 80 columns, the first only, which may then wrap.
    """
    if not told:
        return Content("")
    room = (_ROWS if len(told) <= _ROWS else _ROWS - 1) if width >= _WIDE_FROM else 1
    shown = [lead_of(line) for line in told[:room]]
    also = f"; out of service: {', '.join(away)}" if away else ""
    more = [f"and {len(told) - room} more: press {key('week.water')}{also}"] if len(told) > room else []
    first, *others = [*shown, *more]
    return Content("\n").join([Content.styled(first, "bold"), *(Content(line) for line in others)])
