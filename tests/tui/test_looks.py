"""Small looks: keys that the owner chose, plain marks, the narrow timeline, the owner's units, titles on Week."""

from __future__ import annotations

from datetime import date

import msgspec
import pytest
from rich.cells import cell_len
from rich.segment import Segment
from textual.color import Color
from textual.widgets import Static

from model.forecast.situation import Situation
from model.home import Home
from tests.tui.helpers import HOUSE, TODAY, a_store, an_app, press, see, shown, until
from tests.tui.water_homes import sample_home
from tui.app import WellwardApp
from tui.settings import Settings
from tui.view import Session
from tui.widgets.due_list import DueList
from tui.widgets.frame import KeyBar
from tui.widgets.plain import Plain, in_ascii


async def test_an_area_bears_the_key_that_the_owner_chose() -> None:
    app = WellwardApp(Session(a_store(), lambda: TODAY), Settings(keys={"go.house": "f7"}))
    async with app.run_test(size=(100, 30)) as pilot:
        text = (await see(pilot, app, "F7 House")).splitlines()[0]
        assert "6 Log" in text
        await press(pilot, "f7")
        await until(pilot, lambda: app.current_mode == "house")


async def test_plain_marks_leave_no_arrow_in_the_bar_of_keys(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("WELLWARD_ASCII", "1")
    app = an_app()
    async with app.run_test(size=(100, 30)) as pilot:
        await see(pilot, app, "Enter Open")
        await press(pilot, "3", "t")
        text = await see(pilot, app, "Left Previous  Right Next".replace("  ", " \xa0"))
        assert str(app.screen.query_one(KeyBar).content).replace("\xa0", " ").isascii()
        assert "Water use" in text
        assert any(isinstance(one, Plain) for one in app.get_line_filters())


@pytest.mark.parametrize(("plain", "there"), [("1", True), ("0", False)])
def test_marks_are_put_in_ascii_only_where_asked_for(plain: str, there: bool, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("WELLWARD_ASCII", plain)
    assert any(isinstance(one, Plain) for one in an_app().get_line_filters()) is there


def test_plain_marks_take_the_cells_of_those_they_replace() -> None:
    text = "cut… ← → ↑ ↓ ▼ ▲ “so” ‘it’ – — █ ▇ ▁ ─ │ ▔"
    (made,) = Plain().apply([Segment(text)], Color(0, 0, 0))
    assert made.text.isascii()
    assert cell_len(made.text) == cell_len(text)
    assert in_ascii("shift+←") == "shift+Left"


@pytest.mark.parametrize("width", [60, 66, 80, 100])
async def test_the_timeline_of_the_salt_wraps_no_cell(width: int) -> None:
    app = an_app(sample_home())
    async with app.run_test(size=(width, 30)) as pilot:
        await see(pilot, app, "1 Week")
        await press(pilot, "3", "o")
        await see(pilot, app, "If the salt runs out")
        told = app.screen.query_one("#salt_line", Static)
        rows = str(told.content).splitlines()
        assert max(cell_len(row) for row in rows) <= told.content_size.width
        assert told.size.height == len(rows)
        assert any("comes through" in row for row in rows)


@pytest.mark.parametrize(("units", "said"), [("us", "gal a day each"), ("metric", "230 L a day each")])
def test_the_usual_use_is_said_in_the_owners_units(units: str, said: str) -> None:
    house = msgspec.structs.replace(HOUSE, units=units)
    basis = Situation(Home(house), date(2026, 11, 25)).demand.basis()
    assert said in basis
    assert (" L " in basis) is (units == "metric")


async def test_titles_on_week_are_never_shorter_in_a_wider_terminal() -> None:
    rooms: list[int] = []
    app = an_app(sample_home())
    async with app.run_test(size=(100, 40)) as pilot:
        for width in (100, 109, 110, 120, 149):
            await pilot.resize_terminal(width, 40)
            await pilot.pause(0.1)
            rooms.append(app.screen.query_one(DueList).scrollable_content_region.width)
            assert " late" in shown(app)
        assert rooms == sorted(rooms)
        await pilot.resize_terminal(150, 40)
        await pilot.pause(0.1)
        assert " late" in shown(app)
