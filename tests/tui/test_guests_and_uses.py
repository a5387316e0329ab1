"""Guests, named uses, settings for a later day, and the plan's questions, by keys."""

from __future__ import annotations

from datetime import date

import msgspec
from textual.pilot import Pilot
from textual.widgets import Input, Select

from model.plan_types import Question
from model.records.events import AnyEvent, Explained, Guests, Setting, UseAdded, UseEnded
from tests.tui.helpers import HOUSE, TODAY, a_store, an_app, events, press, see, shown, until
from tui.app import WellwardApp
from tui.dialogs.edit_setting import changes
from tui.dialogs.form import Form
from tui.palette import WellwardCommands
from tui.widgets.coming import coming
from tui.widgets.house_parts import parts_of
from tui.widgets.later_values import later_values
from tui.widgets.settings import house_fields
from tui.widgets.stay_words import guests_words

JUNE = date(2027, 6, 1)
ASKED = Question(
    start=date(2026, 10, 1),
    end=date(2026, 11, 1),
    litres=37_854.11784,
    expected_litres=18_927.05892,
    text="The meter counted twice as much as expected [b].",
)


async def fill(pilot: Pilot[None], app: WellwardApp, **typed: str) -> None:
    """Type into the open form and save it."""
    await until(pilot, lambda: isinstance(app.screen, Form))
    for name, text in typed.items():
        app.screen.query_one(f"#entry_{name}", Input).value = text
    await press(pilot, "ctrl+s")


def last(app: WellwardApp) -> AnyEvent:
    return events(app)[-1]


async def test_guests_are_written_down_and_shown_on_week() -> None:
    app = an_app()
    async with app.run_test(size=(100, 30)) as pilot:
        await see(pilot, app, "Overdue")
        await press(pilot, "g")
        await fill(pilot, app, people="60", first="2026-12-24", last="2026-12-27")
        await see(pilot, app, "no number of guests")
        await fill(pilot, app, people="3")
        await until(pilot, lambda: isinstance(last(app), Guests))
        assert last(app) == msgspec.structs.replace(
            last(app), on=date(2026, 12, 24), until=date(2026, 12, 27), people=3.0
        )
        await see(pilot, app, "3 guests from Thu 24 Dec to Sun 27 Dec, in 4 weeks.")


async def test_a_use_begins_later_and_is_ended_again() -> None:
    app = an_app()
    async with app.run_test(size=(120, 40)) as pilot:
        await press(pilot, "7")
        await see(pilot, app, "People in the house")
        await press(pilot, "n")
        await fill(pilot, app, title="Pool [b]", amount="100 gal", months="6-8", on="2027-06-01")
        await until(pilot, lambda: isinstance(last(app), UseAdded))
        text = await see(pilot, app, "Counts from")
        assert "2027-06-01" in text
        assert "Jun-Aug" in text
        assert "100 gal" in text
        await press(pilot, "d")
        await see(pilot, app, "End: Pool [b]?")
        await fill(pilot, app, on="2026-12-01")
        await see(pilot, app, "in force then")
        await fill(pilot, app, on="2027-08-01")
        await until(pilot, lambda: isinstance(last(app), UseEnded))
        assert (last(app).on, app.session.view.house.uses) == (date(2027, 8, 1), ())


async def test_the_plan_s_question_is_asked_on_week_and_answered() -> None:
    app = an_app()
    async with app.run_test(size=(100, 30)) as pilot:
        await see(pilot, app, "Overdue")
        assert "e Explain" not in shown(app)
        assert not [hit async for hit in WellwardCommands(app.screen).search("explain")]
        await press(pilot, "e")
        assert not isinstance(app.screen, Form)
        view = app.session.view
        app.session.view.__dict__["plan"] = msgspec.structs.replace(view.plan, questions=(ASKED,))
        app.screen.show_view(view)  # type: ignore[attr-defined]
        await see(pilot, app, "? Asked: The meter counted twice as much as expected [b]. (e)")
        await see(pilot, app, "e Explain")
        found = [hit async for hit in WellwardCommands(app.screen).search("explain")]
        assert [hit.text for hit in found] == ["Explain"]
        await press(pilot, "g")
        await until(pilot, lambda: isinstance(app.screen, Form))
        await press(pilot, "escape", "e")
        await see(pilot, app, "Why was the meter odd?")
        assert "Thu 1 Oct to Sun 1 Nov: 10,000 gal, expected 5,000 gal" in str(
            app.screen.query_one("#form_about").render()
        )
        app.screen.query_one("#entry_cause", Select).value = "guests"
        await press(pilot, "ctrl+s")
        await until(pilot, lambda: isinstance(last(app), Explained))
        answer = last(app)
        assert isinstance(answer, Explained)
        assert (answer.start, answer.end, answer.cause, answer.over) == (ASKED.start, ASKED.end, "guests", True)
        await until(pilot, lambda: "e Explain" not in shown(app))


def test_a_setting_may_hold_later_and_change_back_after_that() -> None:
    app = an_app(a_store(Setting(on=JUNE, path="people", value=6.0, was=2.0)))
    view = app.session.view
    field = next(one for one in house_fields(view.house) if one.name == "people")
    assert later_values(field, view) == ["From Tue 1 Jun: 6."]
    assert coming(view) == ["From Tue 1 Jun: People in the house from 2.0 to 6.0"]
    (back,) = changes(field, 2.0, date(2027, 9, 1), view)
    assert (back.value, back.was) == (2.0, 6.0)


def test_uses_to_come_and_to_end_stand_in_the_list() -> None:
    pool = {"title": "Pool", "litres_per_week": 70.0}
    app = an_app(a_store(UseAdded(on=TODAY, use=pool), UseEnded(on=JUNE, title="Pool")))
    view = app.session.view
    found = next(part for part in parts_of(view.house, view.scheduled) if part.id == "use.pool")
    assert found.shown[-1] == ("Ends on", "2027-06-01")
    assert all(part.use is None for part in parts_of(HOUSE))


def test_visits_in_words() -> None:
    assert guests_words(Guests(on=TODAY, until=TODAY, people=1.0), TODAY) == "1 guest on Wed 25 Nov, now"
