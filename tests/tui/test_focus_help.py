"""Help says first what has the focus: what it is, at which line, and only the keys that act on it now."""

from __future__ import annotations

from textual.widgets import Input

from tests.tui.helpers import SALT, a_store, an_app, press, see, until
from tui.app import WellwardApp
from tui.commands import AREAS
from tui.dialogs.help import help_page
from tui.focus_words import focus_of, focus_words
from tui.jobs import find_job
from tui.screens.events import EventsScreen
from tui.screens.findings import FindingsScreen
from tui.screens.guide import GuideScreen
from tui.screens.job import JobScreen
from tui.screens.mix import MixScreen
from tui.screens.monthly_round import RoundScreen
from tui.screens.salt_out import SaltOutScreen
from tui.screens.ten_years import TenYearsScreen
from tui.screens.trends import TrendsScreen
from tui.screens.visit import VisitScreen
from tui.screens.what_if import WhatIfScreen


def _unexplained(app: WellwardApp) -> list[str]:
    """What can have the focus on the screen and is not explained."""
    return [f"{type(app.screen).__name__}: {one}" for one in app.screen.focus_chain if focus_of(one) is None]


async def test_every_part_of_every_screen_is_explained() -> None:
    app = an_app()
    async with app.run_test(size=(60, 20)) as pilot:
        await see(pilot, app, "1 Week")
        found: list[str] = []
        for area, _, _ in AREAS:
            await app.switch_mode(area)
            found += _unexplained(app)
        view = app.session.view
        row = find_job(view, SALT)
        assert row is not None
        laid = (EventsScreen, FindingsScreen, VisitScreen, GuideScreen, MixScreen, SaltOutScreen, TrendsScreen)
        made = [kind() for kind in (*laid, TenYearsScreen, WhatIfScreen)]
        for screen in (*made, JobScreen(view, row, "week"), RoundScreen(view)):
            await app.push_screen(screen)
            assert screen.focus_chain
            found += _unexplained(app)
            await app.pop_screen()
        assert found == []


async def test_help_begins_with_the_line_one_is_at_and_the_keys_that_work_there() -> None:
    app = an_app(a_store())
    async with app.run_test(size=(100, 30)) as pilot:
        await see(pilot, app, "1 Week")
        await press(pilot, "down", "question_mark")
        words = str(help_page(app.screen_stack[0]).words)
        first = words.split("\n\n")[0]
        assert first.startswith("In focus: The list of what is due")
        assert "Enter: open the checklist of the highlighted job" in first
        await see(pilot, app, "In focus: The list of what is due")
        await press(pilot, "escape", "7")
        await until(pilot, lambda: app.current_mode == "house")
        assert "take this stage" not in str(focus_words(app.screen))
        await press(pilot, "down", "down")
        await until(pilot, lambda: "d: take this stage out" in str(focus_words(app.screen)))


async def test_a_field_and_a_button_are_explained_by_name() -> None:
    app = an_app(a_store())
    async with app.run_test(size=(100, 30)) as pilot:
        await see(pilot, app, "1 Week")
        await press(pilot, "m")
        await until(pilot, lambda: isinstance(app.focused, Input))
        assert "Ctrl+S: record all that is filled in" in str(focus_words(app.screen))
        await press(pilot, "escape", "u")
        await see(pilot, app, "Take back the last")
        await press(pilot, "question_mark")
        await see(pilot, app, "In focus: A button; Enter or a click presses it. Now at: Take back (y)")
