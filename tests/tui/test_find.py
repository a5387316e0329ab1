"""The palette finds supplies, readings, questions, views and help by any word, from any screen, and goes there."""

from __future__ import annotations

import msgspec
import pytest
from textual.command import CommandPalette
from textual.pilot import Pilot
from textual.widgets import DataTable, Input, OptionList, Select

from model.equipment.neutralizer import Neutralizer
from tests.tui.helpers import HOUSE, a_store, an_app, press, see, shown, until
from tui.app import WellwardApp
from tui.dialogs.form import Form
from tui.palette import WellwardCommands, rank
from tui.palette_things import plots
from tui.screens.guide import GuideScreen, QuestionList
from tui.widgets.tables import key_at_cursor

WITH_VALVE = msgspec.structs.replace(
    HOUSE, stages=(*HOUSE.stages[:2], Neutralizer(id="neutralizer"), *HOUSE.stages[2:])
)


async def _find(pilot: Pilot[None], app: WellwardApp, words: str, line: str) -> None:
    """Open the palette, give it words, and take the line that begins so, which has to stand among the first twelve."""
    await press(pilot, "ctrl+p")
    await until(pilot, lambda: isinstance(app.screen, CommandPalette))
    await press(pilot, words[0])
    app.screen.query_one(Input).value = words

    def lines() -> list[str]:
        listed = app.screen.query_one(OptionList)
        return [str(listed.get_option_at_index(at).prompt) for at in range(listed.option_count)][:12]

    await until(pilot, lambda: any(one.startswith(line) for one in lines()))
    await pilot.pause(0.2)
    place = next(at for at, one in enumerate(lines()) if one.startswith(line))
    app.screen.query_one(OptionList).highlighted = place
    await press(pilot, "enter")


@pytest.mark.parametrize("start", ["3"])
async def test_salt_finds_its_line_on_the_shelf_and_its_purchase(start: str) -> None:
    app = an_app()
    async with app.run_test(size=(100, 30)) as pilot:
        await see(pilot, app, "1 Week")
        await press(pilot, start)
        await _find(pilot, app, "salt", "Salt [b]pellets   its line")
        await until(pilot, lambda: app.current_mode == "shelf" and bool(app.screen.query("#shelf")))
        await until(pilot, lambda: key_at_cursor(app.screen.query_one("#shelf", DataTable)) == "salt")
        await press(pilot, start)
        await _find(pilot, app, "buy salt", "Buy: Salt [b]pellets")
        await until(pilot, lambda: isinstance(app.screen, Form))
        await see(pilot, app, "Buy: Salt [b]pellets")


async def test_nitrate_finds_the_form_with_nitrate_chosen_and_leaves_what_was_typed_of_another() -> None:
    app = an_app()
    async with app.run_test(size=(100, 30)) as pilot:
        await see(pilot, app, "1 Week")
        await press(pilot, "r", "tab", "tab", *"33000")
        await press(pilot, "escape")
        await _find(pilot, app, "nitrate", "Reading: Nitrate")
        await until(pilot, lambda: isinstance(app.screen, Form) and bool(app.screen.query("#entry_quantity")))
        assert app.screen.query_one("#entry_quantity", Select).value == "nitrate"
        await press(pilot, "escape")
        assert "kept" not in shown(app)
        await press(pilot, "r")
        await see(pilot, app, "33000")


VIEWS = [
    ("trends", "Trends", "Water use of the house"),
    ("mix", "Mix", "A mix of waters"),
    ("valve", "Valve   ", "What the valve does"),
    ("salt out", "Salt out", "If the salt runs out"),
    ("handles", "Handles", "Which handle was moved?"),
    ("add stage", "Add stage", "What was put in?"),
    ("new supply", "New supply", "Packs on the shelf"),
    ("ten years", "Ten years", "Ten years to"),
    ("pressure drop", "Plot: Pressure drop", "Pressure drop at full flow"),
    ("hardness valve", "Plot: Hardness after the tank, by the valve", "What the valve does"),
    ("nitrate without", "Plot: Nitrate without salt", "If the salt runs out"),
    ("cash then", "Plot: Cash added up, today and then", "What if"),
    ("branches", "Help: Water", "Branches hang"),
    ("local rule", "Local rule", "The rule"),
]
"""Words, the line that they find, what is seen then."""


async def test_views_and_help_are_found_from_any_screen() -> None:
    app = an_app(a_store(house=WITH_VALVE))
    async with app.run_test(size=(100, 30)) as pilot:
        await see(pilot, app, "1 Week")
        for words, line, seen in VIEWS:
            await press(pilot, "6")
            await _find(pilot, app, words, line)
            await see(pilot, app, seen)
            while len(app.screen_stack) > 1:
                await press(pilot, "escape")


def test_every_plot_of_the_home_is_among_what_is_found() -> None:
    app = an_app(a_store(house=WITH_VALVE))
    found = {one.text for one in plots(app)}
    assert {f"Plot: {one.title}" for one in app.session.view.trends} < found
    assert not [one for one in plots(an_app()) if "valve" in one.about]


async def test_a_question_of_the_guide_is_found_and_turned_to_also_from_the_guide() -> None:
    app = an_app()
    async with app.run_test(size=(100, 30)) as pilot:
        await see(pilot, app, "1 Week")
        for words in ("bridge", "infant"):
            hits = [hit async for hit in WellwardCommands(app.screen).search(words)]
            found = [hit.text or "" for hit in hits if "Guide" in str(hit.prompt)]
            await _find(pilot, app, words, found[0])
            await until(pilot, lambda: isinstance(app.screen, GuideScreen))
            question = app.screen.query_one(QuestionList)
            await until(pilot, lambda: found[0] in shown(app) and bool(question.question_id))  # noqa: B023
            assert isinstance(app.screen, GuideScreen)
            answered = app.screen.answered
            assert answered is not None
            assert answered.question.asks == found[0]


async def test_what_needs_another_screen_is_offered_only_once_words_are_typed() -> None:
    app = an_app()
    async with app.run_test(size=(100, 30)) as pilot:
        await see(pilot, app, "1 Week")
        offered = [hit.text async for hit in WellwardCommands(app.screen).discover()]
        assert "Add stage" not in offered
        assert "Findings" not in [hit.text async for hit in WellwardCommands(app.screen).search("findings")]


async def test_a_line_never_reads_what_a_user_wrote_as_markup() -> None:
    app = an_app(a_store())
    async with app.run_test(size=(100, 30)) as pilot:
        await see(pilot, app, "1 Week")
        hits = [hit async for hit in WellwardCommands(app.screen).search("[b]pellets")]
        assert {hit.text for hit in hits} >= {"Salt [b]pellets", "Buy: Salt [b]pellets"}


@pytest.mark.parametrize(
    ("query", "better", "worse"),
    [
        ("salt", ("Salt pellets", "x", ""), ("Basalt", "x", "")),
        ("salt", ("Basalt", "x", ""), ("Shelf", "the salt", "")),
        ("salt", ("Shelf", "the salt", ""), ("Shelf", "stock", "salt and more")),
        ("salt", ("Shelf", "stock", "salt and more"), ("Shelf", "stock", "")),
    ],
)
def test_words_of_the_title_come_first(query: str, better: tuple[str, str, str], worse: tuple[str, str, str]) -> None:
    assert rank(query, *better) > rank(query, *worse)
