"""What a setting will be later, by changes written down for days to come."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

import msgspec

from tui.dialogs.trial import value_at
from tui.widgets.setting_text import show_value
from tui.words import day_words

if TYPE_CHECKING:
    from tui.view import View
    from tui.widgets.settings import Field


def later_values(field: Field, view: View) -> list[str]:
    """What a setting will be later: "From Tue 1 Dec: 6"."""
    found, now = [], field.value
    for on, house in view.scheduled:
        then = value_at(house, field.path)
        value = then.isoformat() if isinstance(then, date) else then
        if value != now:
            now = value  # type: ignore[assignment]
            said = show_value(msgspec.structs.replace(field, value=now), view.house.units)
            found.append(f"From {day_words(on, view.today)}: {said}.")
    return found
