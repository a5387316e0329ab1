"""The list in focus in a form is told from the others: by its block in colour, by its words' style always."""

from __future__ import annotations

import pytest
from textual.color import Color
from textual.widgets import Select

from tests.tui.helpers import an_app, press, see, until
from tui.app import WellwardApp
from tui.dialogs.form import Form
from tui.themes import ANSI, DARK, LIGHT


def _ratio(one: Color, other: Color) -> float:
    high, low = sorted((_light(one), _light(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def _light(color: Color) -> float:
    parts = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in color.normalized]
    return sum(share * part for share, part in zip((0.2126, 0.7152, 0.0722), parts, strict=True))


@pytest.mark.parametrize("bare", [False, True], ids=["colour", "no_colour"])
async def test_the_list_in_focus_is_told_from_the_others(bare: bool, monkeypatch: pytest.MonkeyPatch) -> None:
    if bare:
        monkeypatch.setenv("NO_COLOR", "1")
    app = an_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await see(pilot, app, "1 Week")
        await press(pilot, "r")
        await until(pilot, lambda: isinstance(app.screen, Form))
        await until(pilot, lambda: app.screen.query_one("#entry_quantity").has_focus)
        for theme in (DARK, LIGHT, ANSI):
            app.theme = theme
            await pilot.pause()
            _told_apart(app, theme)


def _told_apart(app: WellwardApp, theme: str) -> None:
    there, other = (app.screen.query_one(f"#entry_{name}", Select) for name in ("quantity", "point"))
    styles = [one.query_one("#label").rich_style for one in (there, other)]
    assert [bool(one.underline) for one in styles] == [True, False]
    if theme != ANSI:
        label, background = there.query_one("#label"), other.query_one("SelectCurrent").background_colors[1]
        assert _ratio(there.query_one("SelectCurrent").background_colors[1], background) >= 3.0
        assert _ratio(label.styles.color, label.background_colors[1]) >= 4.5
