"""The guide on the screen: opened from anywhere, filtered, read, and left for what an answer names."""

from __future__ import annotations

import msgspec
import pytest
from rich.cells import cell_len
from textual.pilot import Pilot
from textual.widgets import Input, OptionList, Static

from tests.tui.helpers import HOUSE, STAGES, a_store, an_app, press, see, shown, to_first_step, until
from tests.tui.water_homes import sample_home
from tui.app import WellwardApp
from tui.screens.guide import GuideScreen
from tui.screens.job import JobScreen
from tui.screens.mix import MixScreen
from tui.screens.week import WeekScreen


async def _opened(pilot: Pilot[None], app: WellwardApp) -> None:
    await see(pilot, app, "Overdue")
    await press(pilot, "i")
    await see(pilot, app, "Why does the pump run every few seconds?")


async def _find(pilot: Pilot[None], app: WellwardApp, words: str, first: str) -> None:
    """Filter by words and go to the list, where the first question is highlighted."""
    await press(pilot, "slash")
    app.screen.query_one("#filter", Input).value = words
    await press(pilot, "enter")
    screen = app.screen
    assert isinstance(screen, GuideScreen)
    await until(pilot, lambda: screen.answered is not None and screen.answered.question.id == first)


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (60, 20)])
async def test_every_question_is_reached_and_fits(size: tuple[int, int]) -> None:
    app = an_app(sample_home())
    async with app.run_test(size=size) as pilot:
        await _opened(pilot, app)
        assert all(cell_len(line) <= size[0] for line in shown(app).splitlines())
        listed = app.screen.query_one("#questions", OptionList)
        assert sum(one.id is not None for one in listed.options) == 54
        await press(pilot, "end")
        await see(pilot, app, "What has the previous owner skipped?")
        await until(pilot, lambda: "jobs have no day" in str(app.screen.query_one("#answer_words", Static).content))
        await press(pilot, "space", "escape")
        await until(pilot, lambda: isinstance(app.screen, WeekScreen))


async def test_the_answer_stands_beside_the_list_or_below_it() -> None:
    app = an_app(sample_home())
    async with app.run_test(size=(120, 40)) as pilot:
        await _opened(pilot, app)
        await _find(pilot, app, "sodium", "sodium")
        beside = await see(pilot, app, "Your softener adds 54 mg/L of sodium: 14 mg a glass")
        assert "Connecticut DPH publication 29" in beside
        assert app.screen.query_one("#answer").region.x > 50
        await pilot.resize_terminal(80, 24)
        await until(pilot, lambda: app.screen.query_one("#answer").region.y > 5)
        await see(pilot, app, "Your softener adds 54 mg/L")


async def test_enter_goes_to_a_checklist_a_view_and_an_area() -> None:
    app = an_app(sample_home())
    async with app.run_test(size=(80, 24)) as pilot:
        await _opened(pilot, app)
        await _find(pilot, app, "salt bridge", "bridge")
        await press(pilot, "enter")
        await until(pilot, lambda: isinstance(app.screen, JobScreen))
        assert app.screen.row.task == "softener.break_bridge"  # type: ignore[attr-defined]
        await press(pilot, "escape")
        await until(pilot, lambda: isinstance(app.screen, WeekScreen))
        await press(pilot, "i")
        await until(pilot, lambda: isinstance(app.screen, GuideScreen))
        await _find(pilot, app, "6 dgh", "mix_6_dh")
        await press(pilot, "enter")
        await until(pilot, lambda: isinstance(app.screen, MixScreen))
        await press(pilot, "i")
        await until(pilot, lambda: isinstance(app.screen, GuideScreen))
        await _find(pilot, app, "ten years", "cost")
        await press(pilot, "enter")
        await until(pilot, lambda: app.area == "costs" and len(app.screen_stack) == 1)


async def test_escape_first_shows_all_again_and_nothing_found_says_so() -> None:
    app = an_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await _opened(pilot, app)
        await press(pilot, "slash", *"zebra")
        await see(pilot, app, "No question has all of these words")
        await press(pilot, "enter", "enter")
        assert isinstance(app.screen, GuideScreen)
        await press(pilot, "escape")
        await see(pilot, app, "Why does the pump run every few seconds?")
        assert isinstance(app.screen, GuideScreen)
        await press(pilot, "escape")
        await until(pilot, lambda: isinstance(app.screen, WeekScreen))


async def test_the_help_and_the_palette_know_the_guide() -> None:
    app = an_app()
    async with app.run_test(size=(100, 70)) as pilot:
        await see(pilot, app, "Overdue")
        await press(pilot, "question_mark")
        await see(pilot, app, "Guide: what owners ask")
        await press(pilot, "escape", "ctrl+p", *"guide")
        await see(pilot, app, "what owners ask, answered from your own numbers")
        await press(pilot, "enter")
        await until(pilot, lambda: isinstance(app.screen, GuideScreen))


async def test_what_the_owner_typed_is_no_markup() -> None:
    odd = "[b]Grit[/b] [nope"
    stages = tuple(msgspec.structs.replace(one, title=odd) if one.id == "sediment_filter" else one for one in STAGES)
    app = an_app(a_store(house=msgspec.structs.replace(HOUSE, stages=stages)))
    async with app.run_test(size=(120, 40)) as pilot:
        await _opened(pilot, app)
        await _find(pilot, app, "weak evenings", "weak_evenings")
        await see(pilot, app, f"at {odd}")


async def test_a_job_left_for_the_guide_is_kept() -> None:
    app = an_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await see(pilot, app, "Overdue")
        app.open_job("softener.refill_salt")
        await until(pilot, lambda: isinstance(app.screen, JobScreen))
        await to_first_step(pilot, app)
        await press(pilot, "i")
        await until(pilot, lambda: isinstance(app.screen, GuideScreen))
        await press(pilot, "escape")
        await until(pilot, lambda: isinstance(app.screen, JobScreen))
