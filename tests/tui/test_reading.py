"""Readings: recorded, refused with the reason, or recorded after a question."""

from __future__ import annotations

import pytest
from textual.pilot import Pilot
from textual.widgets import Input, Select

from model.equipment.registry import KINDS
from model.records.events import Reading
from model.records.quantities import QUANTITIES
from tests.tui.helpers import HOUSE, TODAY, a_store, an_app, events, press, see, until
from tui.app import WellwardApp
from tui.dialogs.ask import Ask
from tui.dialogs.reading import ReadingForm, place_choices, quantity_choices, unit_choices


async def _form(pilot: Pilot[None], app: WellwardApp) -> ReadingForm:
    await see(pilot, app, "1 Week")
    await press(pilot, "r")
    await until(pilot, lambda: isinstance(app.screen, ReadingForm))
    assert isinstance(app.screen, ReadingForm)
    return app.screen


async def test_a_meter_reading_by_keys_alone() -> None:
    app = an_app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await _form(pilot, app)
        await press(pilot, "tab", "tab", *"33000", "enter")
        await until(pilot, lambda: isinstance(events(app)[-1], Reading))
        reading = events(app)[-1]
        assert isinstance(reading, Reading)
        taken = reading.taken
        assert (taken.quantity, taken.point) == ("meter", "house")
        assert taken.value == pytest.approx(33000 * 3.785411784)
        assert reading.on == TODAY
        await see(pilot, app, "Recorded: Water meter 33,000 gal")


async def test_places_and_units_follow_the_quantity() -> None:
    app = an_app()
    async with app.run_test(size=(100, 30)) as pilot:
        form = await _form(pilot, app)
        quantity: Select[str] = form.query_one("#entry_quantity", Select)
        unit: Select[str] = form.query_one("#entry_unit", Select)
        point: Select[str] = form.query_one("#entry_point", Select)
        quantity.value = "salt_depth"
        await until(pilot, lambda: unit.value == "in")
        assert point.value == "softener"
        quantity.value = "nitrate"
        await until(pilot, lambda: unit.value == "")
        assert point.value == "source", "the source comes first while nothing is known of it"
        point.focus()
        await press(pilot, "enter", "end", "up", "enter")
        assert point.value == "after_softener" or point.value == "tap"


async def test_a_nitrate_without_its_basis_is_refused_in_the_form() -> None:
    app = an_app()
    async with app.run_test(size=(100, 30)) as pilot:
        form = await _form(pilot, app)
        before = events(app)
        form.query_one("#entry_quantity", Select).value = "nitrate"
        await pilot.pause()
        form.query_one("#entry_value", Input).value = "6"
        await press(pilot, "ctrl+s")
        await see(pilot, app, "mg/L as N or mg/L as NO3")
        assert app.screen is form
        assert events(app) == before


REFUSED = (
    ("pH", "15", "cannot be"),
    ("pH", "nan", "not a number"),
    ("meter", "1000", "less than"),
    ("salt_depth", "90", "brine tank"),
    ("meter", "", "not a number"),
)


async def test_what_cannot_be_is_refused_and_the_form_stays() -> None:
    app = an_app()
    async with app.run_test(size=(100, 30)) as pilot:
        form = await _form(pilot, app)
        before = events(app)
        for quantity, value, reason in REFUSED:
            form.query_one("#entry_quantity", Select).value = quantity
            await pilot.pause()
            form.query_one("#entry_value", Input).value = value
            await press(pilot, "ctrl+s")
            await see(pilot, app, reason)
            assert app.screen is form
        await press(pilot, "escape")
        assert events(app) == before


async def test_a_day_in_the_future_is_refused() -> None:
    app = an_app()
    async with app.run_test(size=(100, 30)) as pilot:
        form = await _form(pilot, app)
        form.query_one("#entry_value", Input).value = "33000"
        form.query_one("#entry_on", Input).value = "2027-01-01"
        await press(pilot, "ctrl+s")
        await see(pilot, app, "future")


async def test_what_is_only_unlikely_is_asked_about_then_recorded() -> None:
    app = an_app()
    async with app.run_test(size=(100, 30)) as pilot:
        form = await _form(pilot, app)
        form.query_one("#entry_quantity", Select).value = "pH"
        await pilot.pause()
        form.query_one("#entry_value", Input).value = "3.1"
        await press(pilot, "ctrl+s")
        await until(pilot, lambda: isinstance(app.screen, Ask))
        await see(pilot, app, "unusually low")
        await press(pilot, "n")
        await until(pilot, lambda: isinstance(app.screen, ReadingForm))
        assert app.screen.query_one("#entry_value", Input).value == "3.1"
        assert app.screen.query_one("#entry_quantity", Select).value == "pH"
        await press(pilot, "ctrl+s", "y")
        await until(pilot, lambda: isinstance(events(app)[-1], Reading))
        reading = events(app)[-1]
        assert isinstance(reading, Reading)
        assert reading.taken.value == 3.1


async def test_escape_records_nothing() -> None:
    app = an_app()
    async with app.run_test(size=(80, 24)) as pilot:
        before = events(app)
        await _form(pilot, app)
        await press(pilot, "escape")
        await until(pilot, lambda: not isinstance(app.screen, ReadingForm))
        assert events(app) == before


def test_only_what_this_house_has_is_offered() -> None:
    offered = {value for value, _ in quantity_choices(HOUSE)}
    assert "salt_depth" in offered
    assert "lamp_hours" not in offered
    assert place_choices(HOUSE, QUANTITIES["salt_depth"]) == (("softener", KINDS["softener"].title),)
    assert place_choices(HOUSE, QUANTITIES["pH"])[0][0] == "source"
    assert unit_choices(QUANTITIES["nitrate"])[0] == ("", "choose the unit")
    assert a_store().home.house is HOUSE
