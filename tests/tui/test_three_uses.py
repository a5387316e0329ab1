"""The three things the program is for, by keys alone, on a file on disk."""

from __future__ import annotations

from pathlib import Path

import pytest

from model.plan import plan
from model.records.events import Service
from model.store.repository import Repository
from tests.tui.helpers import TODAY, see, shown, until
from tui.app import WellwardApp
from tui.cli.screen import copy_sample
from tui.view import Session


@pytest.fixture
def path(tmp_path: Path) -> Path:
    copy_sample(tmp_path / "home.json", TODAY)
    return tmp_path / "home.json"


def opened(path: Path) -> WellwardApp:
    return WellwardApp(Session(Repository(path), lambda: TODAY))


GLANCE = "ultraviolet.glance"


async def test_see_what_is_due_this_week(path: Path) -> None:
    app = opened(path)
    async with app.run_test(size=(80, 24)) as pilot:
        text = await see(pilot, app, "Overdue")
        assert "Raw nitrate" in text
        assert "Act on" in text
        await pilot.press("down")
        await see(pilot, app, app.session.view.plan.due[1].why[0][:20])


async def test_do_and_record_a_service_and_take_it_back(path: Path) -> None:
    app = opened(path)
    before = plan(Repository(path).load(), TODAY)
    count = len(Repository(path).load().events)
    place = [item.task for item in before.due].index(GLANCE)
    async with app.run_test(size=(80, 24)) as pilot:
        await see(pilot, app, "Overdue")
        await pilot.press(*["down"] * place, "enter")
        await see(pilot, app, "CAUTIONS")
        await pilot.press("space", "f")
        await see(pilot, app, "Done on")
        await pilot.press("enter")
        await until(pilot, lambda: len(Repository(path).load().events) > count)
        event = Repository(path).load().events[-1]
        assert isinstance(event, Service)
        assert (event.task, event.on) == (GLANCE, TODAY)
        await see(pilot, app, "Next 30 days")
        assert app.session.view.plan.due != before.due
        await pilot.press("u")
        await see(pilot, app, "Take back")
        await pilot.press("y")
        await until(pilot, lambda: app.session.view.plan.due == before.due)
    assert plan(Repository(path).load(), TODAY) == before


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
async def test_read_what_the_year_will_cost(path: Path, size: tuple[int, int]) -> None:
    app = opened(path)
    async with app.run_test(size=size) as pilot:
        await see(pilot, app, "Overdue")
        await pilot.press("5")
        text = await see(pilot, app, "twelve months")
        assert f"{app.session.view.costs.total.expected:,.2f}" in text
        for _ in range(4):
            if "Softener salt" in shown(app):
                break
            await pilot.press("pagedown")
        await see(pilot, app, "Softener salt")
