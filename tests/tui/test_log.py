"""Log: newest first, filter, paging, taking back, text that looks like markup."""

from __future__ import annotations

from datetime import timedelta

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from textual.widgets import DataTable, Input

from model.records.events import Correction, Incident
from tests.tui.helpers import TODAY, a_store, an_app, events, press, see, shown, until
from tui.screens.log import PAGE


async def test_newest_first_with_titles_and_particulars() -> None:
    app = an_app(a_store(Incident(on=TODAY, what="storm", note="roof [/b] wet")))
    async with app.run_test(size=(120, 30)) as pilot:
        await press(pilot, "6")
        text = await see(pilot, app, "storm; roof [/b] wet")
        assert text.index("storm") < text.index("Service: Refill the salt")
        assert "6 events." in text


async def test_filter_narrows_and_escape_shows_all() -> None:
    app = an_app(a_store(Incident(on=TODAY, what="storm")))
    async with app.run_test(size=(120, 30)) as pilot:
        await press(pilot, "6")
        await see(pilot, app, "6 events.")
        await press(pilot, "slash", *"storm", "enter")
        text = await see(pilot, app, "1 of 6 events.")
        assert "Refill the salt" not in text
        await press(pilot, "escape")
        await see(pilot, app, "6 events.")


async def test_x_asks_and_takes_back_the_highlighted_event() -> None:
    app = an_app(a_store(Incident(on=TODAY, what="first"), Incident(on=TODAY, what="second")))
    async with app.run_test(size=(120, 30)) as pilot:
        await press(pilot, "6")
        await see(pilot, app, "second")
        await press(pilot, "down", "x")
        await see(pilot, app, "Take this back?")
        await press(pilot, "y")
        await until(pilot, lambda: isinstance(events(app)[-1], Correction))
        first = next(one for one in events(app) if isinstance(one, Incident) and one.what == "first")
        assert events(app)[-1].voids == first.id  # type: ignore[union-attr]
        text = await see(pilot, app, "(taken back) Happened")
        assert "(taken back)" in next(row for row in text.splitlines() if " first" in row and "event" not in row)


async def test_taking_back_a_correction_brings_the_event_back() -> None:
    app = an_app(a_store(Incident(on=TODAY, what="storm"), Correction(on=TODAY, voids=6)))
    async with app.run_test(size=(120, 30)) as pilot:
        await press(pilot, "6")
        await see(pilot, app, "(taken back) Happened")
        await press(pilot, "x", "y")
        await until(pilot, lambda: len(events(app)) == 8)
        await until(pilot, lambda: "(taken back) Happened" not in shown(app))


async def test_x_on_what_was_taken_back_brings_it_back_and_the_log_says_who_and_when() -> None:
    app = an_app(
        a_store(Incident(on=TODAY, what="storm"), Correction(on=TODAY, voids=6), Incident(on=TODAY, what="dry"))
    )
    async with app.run_test(size=(120, 30)) as pilot:
        await press(pilot, "6")
        await see(pilot, app, "(taken back) Happened")
        await press(pilot, "down", "down", "x")
        await see(pilot, app, "Bring this back?")
        await press(pilot, "y")
        await until(pilot, lambda: len(events(app)) == 9)
        await until(pilot, lambda: "(taken back) Happened" not in shown(app))
        assert events(app)[-1].voids == 7  # type: ignore[union-attr]
        await see(pilot, app, "Recorded 2026-11-25 12:00 UTC by somebody")


async def test_long_logs_are_shown_by_pages() -> None:
    many = [Incident(on=TODAY - timedelta(days=n % 300), what=f"number {n}") for n in range(PAGE + 100)]
    app = an_app(a_store(*many))
    async with app.run_test(size=(120, 30)) as pilot:
        await press(pilot, "6")
        await see(pilot, app, f"{PAGE} of {PAGE + 105} events; m shows")
        assert app.screen.query_one(DataTable).row_count == PAGE
        await press(pilot, "m")
        await until(pilot, lambda: app.screen.query_one(DataTable).row_count == PAGE + 105)


async def test_the_cursor_stays_on_its_event_when_something_is_recorded() -> None:
    app = an_app()
    async with app.run_test(size=(120, 30)) as pilot:
        await press(pilot, "6", "down", "down")
        await until(pilot, lambda: app.screen.query(DataTable) and app.screen.query_one(DataTable).cursor_row == 2)
        kept = app.screen.event_id  # type: ignore[attr-defined]
        app.record(Incident(on=TODAY, what="storm"))
        await pilot.pause()
        assert app.screen.query_one(DataTable).cursor_row == 3
        assert app.screen.event_id == kept  # type: ignore[attr-defined]


@settings(max_examples=3, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.text(min_size=1, max_size=40))
async def test_any_text_is_shown_and_never_read_as_markup(text: str) -> None:
    app = an_app(a_store(Incident(on=TODAY, what=text, note="[/b] [x=1]")))
    async with app.run_test(size=(100, 30), notifications=True) as pilot:
        await press(pilot, "6", "u")
        await see(pilot, app, "Take back the last")
        await press(pilot, "y")
        await until(pilot, lambda: isinstance(events(app)[-1], Correction))


async def test_any_filter_can_be_typed() -> None:
    app = an_app()
    async with app.run_test(size=(120, 30)) as pilot:
        await press(pilot, "6", "slash")
        for typed, count in (("[/b]", 0), ("2026-10-01", 2), ("meter", 2)):
            app.screen.query_one("#filter", Input).value = typed
            await see(pilot, app, f"{count} of 5 events")
