"""Findings by keys: told on Week, listed with causes, answered, counted when put away."""

from __future__ import annotations

from datetime import date

import pytest
from textual.widgets import Input

from model.records.events import FindingAnswered, Reading, Taken
from tests.tui.helpers import TODAY, a_store, an_app, events, press, see, shown, until
from tui.app import WellwardApp
from tui.dialogs.form import Form
from tui.palette import WellwardCommands
from tui.screens.findings import FindingsScreen

HARD = "hard_water.softener"


def hard_app() -> WellwardApp:
    """A home whose softened water is hard, as somebody wrote with brackets in the method."""
    taken = Taken(quantity="hardness", value=120.0, point="tap", entered="120 [b]mg/L", method="[b]drops")
    return an_app(a_store(Reading(on=date(2026, 11, 20), taken=taken)))


def last(app: WellwardApp) -> FindingAnswered:
    answer = events(app)[-1]
    assert isinstance(answer, FindingAnswered)
    return answer


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
async def test_a_finding_is_told_on_week_listed_and_accepted(size: tuple[int, int]) -> None:
    app = hard_app()
    async with app.run_test(size=size) as pilot:
        await see(pilot, app, "! Finding (f), Softener: Hard water after the softener")
        await press(pilot, "f")
        text = await see(pilot, app, "Likely causes")
        assert "Hardness 7 gpg on 20 Nov" in " ".join(text.split())
        assert "a Accept" in text
        assert "m Mark done" not in text
        assert "[softener.salt_check]" in text
        await press(pilot, "a")
        await until(pilot, lambda: isinstance(events(app)[-1], FindingAnswered))
        assert (last(app).finding, last(app).answer, last(app).on) == (HARD, "accepted", TODAY)
        await press(pilot, "down")
        await see(pilot, app, "m Mark done")
        await press(pilot, "escape")
        await see(pilot, app, "Findings (f): (1 taken on)")
        item = next(one for one in app.session.view.plan.due if one.task == "softener.hardness_check")
        assert item.why[0] == "You accepted the finding: Hard water after the softener."
        await press(pilot, "f", "m")
        await until(pilot, lambda: last(app).answer == "done")


async def test_dismissed_with_a_reason_it_is_counted_and_taken_back() -> None:
    app = hard_app()
    async with app.run_test(size=(100, 30)) as pilot:
        await see(pilot, app, "(f)")
        await press(pilot, "f")
        await see(pilot, app, "Likely causes")
        await press(pilot, "d")
        await until(pilot, lambda: isinstance(app.screen, Form))
        await press(pilot, "enter")
        await see(pilot, app, "Why is it dismissed?")
        app.screen.query_one(Input).value = "hot tap [b]"
        await press(pilot, "enter")
        await until(pilot, lambda: isinstance(app.screen, FindingsScreen))
        assert "(put away)" in shown(app)
        assert "hot tap [b]" in await see(pilot, app, "Dismissed on 2026-11-25")
        await press(pilot, "escape")
        await see(pilot, app, "1 finding put away (1 dismissed)")
        await press(pilot, "u", "y")
        await see(pilot, app, "! Finding (f), Softener")


async def test_put_off_until_a_day_and_enter_opens_the_checklist() -> None:
    app = hard_app()
    async with app.run_test(size=(100, 30)) as pilot:
        await see(pilot, app, "(f)")
        await press(pilot, "f")
        await see(pilot, app, "Likely causes")
        await press(pilot, "s")
        await until(pilot, lambda: isinstance(app.screen, Form))
        await press(pilot, "ctrl+s")
        await until(pilot, lambda: isinstance(app.screen, FindingsScreen))
        assert (last(app).answer, last(app).until) == ("snoozed", date(2026, 12, 9))
        await press(pilot, "enter")
        await see(pilot, app, "CAUTIONS")


async def test_findings_are_offered_only_where_there_are_any() -> None:
    app = an_app()
    async with app.run_test(size=(100, 30)) as pilot:
        await see(pilot, app, "Overdue")
        assert "(f)" not in shown(app)
        await press(pilot, "f")
        assert not isinstance(app.screen, FindingsScreen)
        assert "Findings" not in [hit.text async for hit in WellwardCommands(app.screen).search("findings")]
    app = hard_app()
    async with app.run_test(size=(100, 30)) as pilot:
        await see(pilot, app, "(f)")
        assert "Findings" in [hit.text async for hit in WellwardCommands(app.screen).search("findings")]
        await press(pilot, "f")
        await see(pilot, app, "Likely causes")
        offered = {hit.text async for hit in WellwardCommands(app.screen).search("finding")}
        assert {"Accept", "Dismiss", "Put off"} <= offered
