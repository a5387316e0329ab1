"""A laboratory's result typed in on screen: raw and treated in one go, refused or asked about like a reading."""

from __future__ import annotations

import pytest
from textual.widgets import Input, Select

from model.records.events import LabReport
from tests.tui.helpers import TODAY, a_store, an_app, events, press, see, until
from tui.dialogs.form import Form


async def test_nitrate_of_raw_and_treated_is_one_entry_of_two_reports() -> None:
    app = an_app(a_store())
    before = len(events(app))
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await see(pilot, app, "1 Week")
        await press(pilot, "l")
        await see(pilot, app, "What did the laboratory test?")
        await press(pilot, "down", "enter")
        await until(pilot, lambda: isinstance(app.screen, Form))
        await press(pilot, "ctrl+s")
        await see(pilot, app, "No result stands here")
        app.screen.query_one("#entry_nitrate__source", Input).value = "44.3"
        app.screen.query_one("#entry_nitrate__tap", Input).value = "<2"
        await press(pilot, "ctrl+s")
        await see(pilot, app, "Not saved")
        app.screen.query_one("#entry_unit", Select).value = "mg/L as NO3"
        await press(pilot, "ctrl+s")
        await until(pilot, lambda: len(events(app)) == before + 2)
        raw, tap = events(app)[-2:]
        assert isinstance(raw, LabReport)
        assert isinstance(tap, LabReport)
        assert (raw.point, tap.point, raw.on, tap.on) == ("source", "tap", TODAY, TODAY)
        assert raw.taken[0].value == pytest.approx(10.0, abs=0.01)  # 44.3 as NO3 is 10 as N: atomic weights
        assert tap.taken[0].qualifier == "<"
        assert raw.group == tap.group != 0
        await see(pilot, app, "Laboratory result of")


async def test_germs_typed_in_put_the_disinfection_on_the_list() -> None:
    app = an_app(a_store())
    async with app.run_test(size=(100, 30)) as pilot:
        await see(pilot, app, "1 Week")
        await press(pilot, "l", "enter")
        await until(pilot, lambda: isinstance(app.screen, Form))
        app.screen.query_one("#entry_total_coliform__source", Select).value = "present"
        app.screen.query_one("#entry_total_coliform__tap", Select).value = "absent"
        await press(pilot, "ctrl+s")
        await until(pilot, lambda: isinstance(events(app)[-1], LabReport))
        due = {one.task for one in app.session.view.plan.due}
        assert "well.shock_chlorination" in due


async def test_less_than_so_many_germs_is_not_taken_for_none() -> None:
    app = an_app(a_store())
    before = len(events(app))
    async with app.run_test(size=(100, 30)) as pilot:
        await see(pilot, app, "1 Week")
        await press(pilot, "l", "down", "down", "down", "enter")
        await until(pilot, lambda: isinstance(app.screen, Form))
        app.screen.query_one("#entry_quantity", Select).value = "e_coli"
        app.screen.query_one("#entry_point", Select).value = "tap"
        app.screen.query_one("#entry_value", Input).value = "<200"
        await press(pilot, "ctrl+s")
        await see(pilot, app, "absent or present")
        assert len(events(app)) == before
        app.screen.query_one("#entry_value", Input).value = "<1"
        await press(pilot, "ctrl+s")
        await until(pilot, lambda: len(events(app)) == before + 1)
        (report,) = events(app)[-1:]
        assert isinstance(report, LabReport)
        assert [(one.quantity, one.value, one.qualifier) for one in report.taken] == [("e_coli", 0.0, "=")]
