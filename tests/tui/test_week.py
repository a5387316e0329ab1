"""Week: what is due, in groups, with its reasons."""

from __future__ import annotations

from datetime import date
from io import StringIO

import msgspec
import pytest
from rich.console import Console

from model.home import Home, House
from model.plan_types import Amount
from model.records.events import Service
from model.setup.build import start
from model.setup.question import UNKNOWN
from model.setup.questions import questions
from tests.tui.helpers import SALT, TODAY, MemoryStore, a_store, an_app, press, see, until
from tui.widgets.due_list import DueList, left_words
from tui.widgets.reasons import reasons
from tui.words import amount_words, day_words, from_now, gauge, span_words


async def test_due_jobs_stand_in_groups_with_the_plan_s_dates() -> None:
    app = an_app()
    async with app.run_test(size=(140, 50)) as pilot:
        text = await see(pilot, app, "Later (")
        plan = app.session.view.plan
        overdue = [due for due in plan.due if due.state == "overdue"]
        assert f"! Overdue ({len(overdue)})" in text
        first = overdue[0]
        rows = [row for row in text.splitlines() if first.title[:20] in row]
        line = next(row for row in rows if "Overdue (" not in row)
        assert day_words(first.act_on, TODAY) in line


async def test_the_reasons_follow_the_highlighted_line() -> None:
    app = an_app()
    async with app.run_test(size=(160, 50)) as pilot:
        await see(pilot, app, "Why this date")
        due = {one.task: one for one in app.session.view.plan.due}
        seen = []
        for _ in range(3):
            task = app.screen.query_one(DueList).task_id
            assert task is not None
            seen.append(task)
            await see(pilot, app, due[task].why[0].split(";")[0][:20])
            await press(pilot, "down")
        assert len(set(seen)) == 3


async def test_enter_opens_the_checklist_and_escape_comes_back_to_the_same_line() -> None:
    app = an_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await see(pilot, app, "Overdue")
        await press(pilot, "down")
        task = app.screen.query_one(DueList).task_id
        await press(pilot, "enter")
        await see(pilot, app, "CAUTIONS")
        await press(pilot, "escape")
        await until(pilot, lambda: app.current_mode == "week")
        assert app.screen.query_one(DueList).task_id == task


async def test_80_by_24_shows_list_and_reasons() -> None:
    app = an_app()
    async with app.run_test(size=(80, 24)) as pilot:
        text = await see(pilot, app, "Act on")
        assert "Overdue" in text
        assert all(len(row) <= 80 for row in text.splitlines())


async def test_a_blank_home_says_what_to_do() -> None:
    app = an_app(a_store(house=House(name="New [b]home", started=date(2026, 11, 25))))
    async with app.run_test(size=(100, 30)) as pilot:
        text = await see(pilot, app, "Press 7 for House")
        assert "New [b]home" in text
        await press(pilot, "2")
        await see(pilot, app, "Press 7 for House")


async def test_the_water_lines_can_be_read_in_full() -> None:
    app = an_app()
    async with app.run_test(size=(100, 40)) as pilot:
        await see(pilot, app, "Overdue")
        await press(pilot, "w")
        text = " ".join((await see(pilot, app, "The water today")).split())
        assert app.session.view.plan.exposure[0][:30] in text


@pytest.mark.parametrize(
    ("days", "words", "short"),
    [
        (-3, "3 days late", "3 d late"),
        (-1, "1 day late", "1 d late"),
        (0, "today", "today"),
        (1, "tomorrow", "tomorrow"),
        (12, "in 12 days", "in 12 d"),
        (35, "in 5 weeks", "in 5 wk"),
        (120, "in 4 months", "in 4 mo"),
        (800, "in 2 years", "in 2 yr"),
    ],
)
def test_distances_in_words(days: int, words: str, short: str) -> None:
    day = date.fromordinal(TODAY.toordinal() + days)
    assert from_now(day, TODAY) == words
    assert from_now(day, TODAY, short=True) == short


def test_days_windows_gauges_and_amounts_in_words() -> None:
    assert day_words(date(2026, 11, 26), TODAY) == "Thu 26 Nov"
    assert day_words(date(2027, 11, 26), TODAY) == "26 Nov 2027"
    assert span_words(date(2026, 11, 28), date(2026, 12, 9), TODAY) == "28 Nov to 9 Dec"
    assert span_words(None, None, TODAY) == ""
    assert (gauge(0.5), gauge(None), gauge(2.0, 4)) == ("[####----]", "", "[####]")
    assert amount_words(Amount(45.359237, "kg"), "us") == "100 lb"
    assert amount_words(Amount(2.0, "each"), "metric") == "2 each"
    assert amount_words(None, "us") == ""


async def test_recording_a_service_changes_the_list_at_once() -> None:
    app = an_app()
    async with app.run_test(size=(140, 50)) as pilot:
        await see(pilot, app, "Overdue")
        first = next(due for due in app.session.view.plan.due if due.state == "overdue")
        assert app.record(Service(on=TODAY, task=first.task))
        again = next(due for due in app.session.view.plan.due if due.task == first.task)
        assert again.state != "overdue"
        assert f"Overdue ({sum(one.state == 'overdue' for one in app.session.view.plan.due)})" in await see(
            pilot, app, "Overdue"
        )


def test_what_is_left_of_salt_is_said_to_be_above_its_line() -> None:
    view = an_app(a_store()).session.view
    salt = next(one for one in view.plan.due if one.task == SALT)
    assert left_words(salt, view).endswith(" lb to line")
    assert "[" not in left_words(salt, view, 58)
    told = StringIO()
    Console(file=told, width=100).print(reasons(salt, view))
    assert "lb above the line at which to act" in told.getvalue()


def test_a_lamp_of_which_nothing_is_known_has_a_gauge_that_says_so() -> None:
    asked = {"stages": "well ultraviolet", "ultraviolet.sensor": "yes"}
    while open_ones := [one for one in questions(asked) if one.id not in asked]:
        asked[open_ones[0].id] = UNKNOWN
    house, events = start(asked, TODAY)
    view = an_app(MemoryStore(Home(house, events))).session.view
    lamp = next(one for one in view.plan.due if one.task == "ultraviolet.replace_lamp")
    assert lamp.act_on == TODAY
    assert left_words(lamp, view) == "[??????]"
    new = msgspec.structs.replace(house.stages[-1], installed_on=TODAY)
    known = msgspec.structs.replace(house, stages=(*house.stages[:-1], new))
    lamp = next(one for one in an_app(MemoryStore(Home(known, events))).session.view.plan.due if one.task == lamp.task)
    assert left_words(lamp, view) == "[######] 9,000 h"
