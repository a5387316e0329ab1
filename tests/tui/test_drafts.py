"""Escape from a form keeps what was typed for the next opening in this sitting; a form left as it opened keeps none."""

from __future__ import annotations

import pytest
from textual.pilot import Pilot
from textual.widgets import Input, Select

from model.errors import StoreError
from model.home import Home
from model.records.events import AnyEvent, Incident
from tests.tui.helpers import MemoryStore, a_store, an_app, events, press, see, shown, until
from tui.app import WellwardApp
from tui.dialogs.form import Form
from tui.dialogs.lab_result import lab_form
from tui.drafts import Drafts

AGAIN = "As you left it"


async def _open(pilot: Pilot[None], app: WellwardApp, *keys: str) -> Form[object]:
    await press(pilot, *keys)
    await until(pilot, lambda: isinstance(app.screen, Form) and app.screen.is_mounted)
    assert isinstance(app.screen, Form)
    return app.screen


async def _leave(pilot: Pilot[None], app: WellwardApp) -> None:
    form = app.screen
    await press(pilot, "escape")
    await until(pilot, lambda: app.screen is not form)


def _value(app: WellwardApp, field: str) -> str:
    widget = app.screen.query_one(f"#entry_{field}")
    assert isinstance(widget, Input | Select)
    return str(widget.value)


async def test_a_half_typed_reading_stands_there_again_and_can_be_begun_afresh() -> None:
    app = an_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await see(pilot, app, "1 Week")
        form = await _open(pilot, app, "r")
        form.query_one("#entry_quantity", Select).value = "nitrate"
        await until(pilot, lambda: _value(app, "unit") == "")
        form.query_one("#entry_unit", Select).value = "mg/L as NO3"
        form.query_one("#entry_value", Input).value = "12 [/b]"
        await _leave(pilot, app)
        await see(pilot, app, "kept")
        await _open(pilot, app, "r")
        await see(pilot, app, AGAIN)
        kept = {name: _value(app, name) for name in ("quantity", "unit", "value", "point")}
        assert kept == {"quantity": "nitrate", "unit": "mg/L as NO3", "value": "12 [/b]", "point": "source"}
        await press(pilot, "ctrl+r")
        await until(pilot, lambda: AGAIN not in shown(app))
        assert [_value(app, name) for name in ("quantity", "unit", "value", "point")] == ["meter", "gal", "", "house"]
        await _leave(pilot, app)
        await _open(pilot, app, "r")
        assert AGAIN not in shown(app)
        assert _value(app, "quantity") == "meter"


async def test_what_is_recorded_is_not_offered_again() -> None:
    app = an_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await see(pilot, app, "1 Week")
        await _open(pilot, app, "r")
        await press(pilot, "tab", "tab", *"33000")
        await _leave(pilot, app)
        before = len(events(app))
        await _open(pilot, app, "r")
        await see(pilot, app, AGAIN)
        await press(pilot, "ctrl+s")
        await until(pilot, lambda: len(events(app)) == before + 1)
        await _open(pilot, app, "r")
        assert _value(app, "value") == ""


async def test_a_laboratory_result_is_kept_by_its_kind_and_a_click_begins_afresh() -> None:
    app = an_app()
    async with app.run_test(size=(60, 20)) as pilot:
        await see(pilot, app, "1 Week")
        await press(pilot, "l")
        await see(pilot, app, "What did the laboratory test?")
        form = await _open(pilot, app, "down", "enter")
        form.query_one("#entry_nitrate__source", Input).value = "44.3"
        await _leave(pilot, app)
        await press(pilot, "l")
        await see(pilot, app, "What did the laboratory test?")
        await _open(pilot, app, "enter")
        assert AGAIN not in shown(app)
        await _leave(pilot, app)
        await press(pilot, "l")
        await see(pilot, app, "What did the laboratory test?")
        await _open(pilot, app, "down", "enter")
        await see(pilot, app, AGAIN)
        assert _value(app, "nitrate__source") == "44.3"
        await pilot.click("#form_afresh")
        await until(pilot, lambda: _value(app, "nitrate__source") == "")


async def test_a_form_left_as_it_opened_says_nothing_and_keeps_nothing() -> None:
    app = an_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await see(pilot, app, "1 Week")
        await _open(pilot, app, "a")
        await _leave(pilot, app)
        assert "kept" not in shown(app)
        await _open(pilot, app, "a")
        assert AGAIN not in shown(app)


async def test_what_the_disk_does_not_take_is_kept_in_memory_and_the_form_starts_afresh() -> None:
    class Full(MemoryStore):
        def append(self, event: AnyEvent, *more: AnyEvent) -> Home:
            raise StoreError("The disk is full.", "Make room.")

    app = an_app(Full(a_store().home))
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await see(pilot, app, "1 Week")
        form = await _open(pilot, app, "n")
        await press(pilot, *"frost", "enter")
        await until(pilot, lambda: app.screen is not form)
        assert any(isinstance(one, Incident) for one in events(app))
        await see(pilot, app, "NOT ON DISK")
        await _open(pilot, app, "n")
        assert _value(app, "what") == ""


async def test_a_choice_that_is_gone_is_not_put_back_and_the_first_field_has_the_focus() -> None:
    app = an_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await see(pilot, app, "1 Week")
        left = {"e_coli__tap": "no such choice", "note": "lab 7"}
        app.session.drafts.keep(lab_form(app.session.view, "germs")._key, left)
        await press(pilot, "l")
        await see(pilot, app, "What did the laboratory test?")
        await _open(pilot, app, "enter")
        await see(pilot, app, AGAIN)
        assert (_value(app, "e_coli__tap"), _value(app, "note")) == ("", "lab 7")
        await until(pilot, lambda: app.focused is app.screen.query_one("#entry_on"))


@pytest.mark.parametrize("done", [True, False])
def test_what_was_sent_is_forgotten_once_it_is_recorded(done: bool) -> None:
    drafts = Drafts()
    drafts.send("note", {"what": "frost"})
    drafts.recorded(done=done)
    drafts.recorded(done=False)
    assert drafts.of("note") == ({} if done else {"what": "frost"})
