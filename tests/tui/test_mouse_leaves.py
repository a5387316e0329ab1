"""Every question, form and page can be left with the mouse alone, and the keys of dialogs are the owner's too."""

from __future__ import annotations

from importlib import import_module
from pathlib import Path
from pkgutil import iter_modules
from typing import Any

import pytest
from textual.content import Content
from textual.screen import ModalScreen, Screen

import tui.dialogs
from model.store.first import FirstRun
from model.store.repository import Repository
from tests.tui.helpers import TODAY, a_store, an_app, see, until
from tui.app import WellwardApp
from tui.dialogs.ask import Ask
from tui.dialogs.form import Entry, Form
from tui.dialogs.page import HelpPage, Page
from tui.dialogs.pick import Pick
from tui.dialogs.reading import ReadingForm
from tui.dialogs.unsaved import Leaving
from tui.keys import checked_keys
from tui.screens.setup import SetupScreen
from tui.settings import Settings
from tui.view import Session
from tui.widgets.frame import KeyBar

ANSWERS = (Entry(id="name", label="Name"),)


def _dialogs(app: WellwardApp) -> list[Screen[Any]]:
    """One of each kind of dialog that the program has."""
    choices = (("a", "A"), ("b", "B"))
    form: Form[dict[str, str]] = Form("A form", ANSWERS, dict)
    words = Content("\n".join(["Words"] * 60))
    made = (Page("A page", words), HelpPage("Help", words), Pick("A list", choices), form, Ask("Sure?", "Words"))
    return [*made, ReadingForm(app.session.view), Leaving("Leave?", "Words")]


def _all_below(kind: type[object]) -> set[type[object]]:
    found: set[type[object]] = set()
    for one in kind.__subclasses__():
        found |= _all_below(one) | ({one} if one.__module__.startswith("tui.") else set())
    return found


def _column(bar: KeyBar, words: str) -> int:
    return str(bar.content).replace("\xa0", " ").index(words)


async def test_a_click_below_leaves_every_dialog_in_the_smallest_terminal() -> None:
    for module in iter_modules(tui.dialogs.__path__):
        import_module(f"tui.dialogs.{module.name}")
    app = an_app()
    async with app.run_test(size=(60, 20)) as pilot:
        await see(pilot, app, "1 Week")
        dialogs = _dialogs(app)
        abstract = {one for one in _all_below(ModalScreen) if one.__name__ == "Dialog"}
        assert {type(one) for one in dialogs} | abstract | {SetupScreen} == _all_below(ModalScreen)
        for dialog in dialogs:
            await app.push_screen(dialog)
            await pilot.pause()
            bar = dialog.query_one(KeyBar)
            back = next(word for word in ("esc Back", "n No") if word in str(bar.content).replace("\xa0", " "))
            await pilot.click(bar, offset=(_column(bar, back), 0))
            await until(pilot, lambda: app.screen is not dialog)  # noqa: B023


async def test_the_set_up_is_left_by_a_click(tmp_path: Path) -> None:
    first = FirstRun(Repository(tmp_path / "home.json"), TODAY)
    app = WellwardApp(Session(first, lambda: TODAY, first=first))
    async with app.run_test(size=(60, 20)) as pilot:
        await see(pilot, app, "1 of 9")
        await pilot.click("#setup_leave")
        await until(pilot, lambda: app._exit)


async def test_a_form_is_saved_by_the_owners_key_and_escape_still_goes_back() -> None:
    keys, problems = checked_keys({"form.save": "f5", "form.back": "ctrl+b", "ask.yes": "j", "page.back": "x"})
    assert problems == []
    app = WellwardApp(Session(a_store(), lambda: TODAY), Settings(keys=keys))
    async with app.run_test(size=(80, 24)) as pilot:
        await see(pilot, app, "1 Week")
        for pressed, answer in (("ctrl+s", ""), ("f5", {"name": ""}), ("ctrl+b", None), ("escape", None)):
            given: list[object] = []
            form: Form[dict[str, str]] = Form("A form", ANSWERS, dict)
            app.push_screen(form, given.append)
            await until(pilot, lambda: app.screen is form)  # noqa: B023
            await pilot.press(pressed)
            if answer == "":
                assert app.screen is form
                await pilot.press("escape")
                continue
            await until(pilot, lambda: given)  # noqa: B023
            assert given == [answer]
        app.push_screen(Ask("Sure?", "Words"))
        await see(pilot, app, "Yes (j)")


@pytest.mark.parametrize(
    ("wanted", "problem"),
    [
        ({"form.save": "s"}, "works while typing too"),
        ({"form.save": "ctrl+a"}, "works while typing too, where ctrl+a moves"),
        ({"form.save": "ctrl+r"}, "form.save (Save) but is the key of form.afresh (Afresh)"),
        ({"ask.yes": "n"}, "ask.yes (Yes) but is the key of ask.no (No)"),
        ({"ask.yes": "?"}, "ask.yes (Yes) but is the key of help (Help)"),
        ({"week.away": "escape"}, "escape goes back and cannot be given away"),
        ({"job.finish_typing": "f"}, "works while typing too"),
    ],
)
def test_keys_of_dialogs_are_checked_as_the_others_are(wanted: dict[str, str], problem: str) -> None:
    keys, problems = checked_keys(wanted)
    assert keys == {}
    assert len(problems) == 1
    assert problem in problems[0]


def test_a_key_of_a_dialog_may_be_one_of_a_screen_below_it_and_escape_stays() -> None:
    assert checked_keys({"ask.yes": "r", "guide.back": "b", "form.back": "escape"}) == (
        {"ask.yes": "r", "guide.back": "b,escape", "form.back": "escape"},
        [],
    )
