"""F1 in a dialog says what the field in focus means, its unit and range, and the keys; ? where nothing is typed."""

from __future__ import annotations

import pytest
from textual.widgets import Select

from model.records.quantities import QUANTITIES
from tests.tui.helpers import HOUSE, TODAY, a_store, an_app, press, see, shown, until
from tui.app import WellwardApp
from tui.dialogs.ask import Ask
from tui.dialogs.dialog_help import quantity_words
from tui.dialogs.form import Form
from tui.dialogs.page import Page
from tui.dialogs.pick import Pick
from tui.settings import Settings
from tui.view import Session


async def test_the_value_of_a_reading_is_explained_with_its_range() -> None:
    app = an_app()
    async with app.run_test(size=(100, 50)) as pilot:
        await see(pilot, app, "1 Week")
        await press(pilot, "r")
        await until(pilot, lambda: isinstance(app.screen, Form))
        app.screen.query_one("#entry_quantity", Select).value = "salt_depth"
        await press(pilot, "tab", "tab", "f1")
        await until(pilot, lambda: isinstance(app.screen, Page))
        text = await see(pilot, app, "from the tank floor to the salt")
        assert "0 in to 98.4 in" in text
        assert text.index("Value:") < text.index("What was read:")
        assert "what was typed is kept" in text
        await press(pilot, "escape")
        await until(pilot, lambda: isinstance(app.screen, Form))


async def test_a_question_mark_is_typed_in_a_field_and_helps_on_a_list() -> None:
    app = an_app()
    async with app.run_test(size=(100, 30)) as pilot:
        await see(pilot, app, "1 Week")
        await press(pilot, "r")
        await until(pilot, lambda: isinstance(app.screen, Form))
        await press(pilot, "tab", "tab", "question_mark")
        assert not isinstance(app.screen, Page)
        await press(pilot, "shift+tab", "question_mark")
        await until(pilot, lambda: isinstance(app.screen, Page))
        await see(pilot, app, "Help: Write down a reading")


async def test_a_setting_says_its_meaning_and_what_is_allowed() -> None:
    app = an_app()
    async with app.run_test(size=(100, 40)) as pilot:
        await see(pilot, app, "1 Week")
        await press(pilot, "7", "enter", "down", "enter")
        await until(pilot, lambda: isinstance(app.screen, Form))
        await press(pilot, "f1")
        await see(pilot, app, "llowed:")
        assert "Keys" in shown(app)


@pytest.mark.parametrize(("keys", "kind"), [(("u",), Ask), (("l",), Pick)])
async def test_questions_and_lists_have_help_too(keys: tuple[str, ...], kind: type) -> None:
    app = an_app()
    async with app.run_test(size=(100, 30)) as pilot:
        await see(pilot, app, "1 Week")
        await press(pilot, *keys)
        await until(pilot, lambda: isinstance(app.screen, kind))
        await press(pilot, "question_mark")
        await until(pilot, lambda: isinstance(app.screen, Page))
        await press(pilot, "escape")
        await until(pilot, lambda: isinstance(app.screen, kind))


async def test_an_owners_key_for_help_works_in_a_dialog() -> None:
    app = WellwardApp(Session(a_store(), lambda: TODAY), Settings(keys={"help": "f2"}))
    async with app.run_test(size=(100, 30)) as pilot:
        await see(pilot, app, "1 Week")
        await press(pilot, "r")
        await until(pilot, lambda: isinstance(app.screen, Form))
        await press(pilot, "f2")
        await until(pilot, lambda: isinstance(app.screen, Page))


@pytest.mark.parametrize("quantity", QUANTITIES)
def test_every_quantity_can_be_explained(quantity: str) -> None:
    known = QUANTITIES[quantity]
    words = quantity_words(known, HOUSE)
    assert known.help in words
    assert ("Usual" in words) is (known.unlikely_below is not None or known.unlikely_above is not None)
