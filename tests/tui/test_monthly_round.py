"""The monthly round on screen: filled in, left and resumed, asked about, recorded and taken back in one go."""

from __future__ import annotations

import pytest
from textual.pilot import Pilot

from model.errors import StoreError
from model.home import Home
from model.records.events import ROUND, AnyEvent, PausedService, Reading, Service
from tests.tui.helpers import TODAY, MemoryStore, a_store, an_app, events, press, see, shown, until
from tui.app import WellwardApp
from tui.dialogs.ask import Ask
from tui.dialogs.form import Form
from tui.screens.monthly_round import RoundScreen

BEFORE, AFTER = (f"pressure_{side}-sediment_filter-flowing" for side in ("in", "out"))
METER = "meter-house-"


async def _open(pilot: Pilot[None], app: WellwardApp) -> RoundScreen:
    await see(pilot, app, "1 Week")
    await press(pilot, "m")
    await until(pilot, lambda: isinstance(app.screen, RoundScreen))
    await see(pilot, app, "Read on")
    assert isinstance(app.screen, RoundScreen)
    return app.screen


async def _type(pilot: Pilot[None], page: RoundScreen, field: str, text: str) -> None:
    page.line(field).input.focus()
    await pilot.pause()
    await press(pilot, *text)


def _readings(app: WellwardApp) -> list[Reading]:
    """What stands of the readings recorded today."""
    taken = app.session.view.history.of(Reading)
    return [one for one in taken if one.on == TODAY]


@pytest.mark.parametrize("size", [(80, 24), (60, 20)], ids=["80x24", "60x20"])
async def test_each_row_shows_its_unit_and_last_value(size: tuple[int, int]) -> None:
    app = an_app()
    async with app.run_test(size=size) as pilot:
        await _open(pilot, app)
        text = await see(pilot, app, "Water meter")
        assert "gal; was 31,331" in text
        assert "every digit, no water running" in text
        assert "^s Save" in text


async def test_left_by_escape_and_resumed_nothing_is_lost() -> None:
    store = a_store()
    app = an_app(store)
    async with app.run_test(size=(80, 24)) as pilot:
        page = await _open(pilot, app)
        assert page.focused is page.line(METER).input, "the first empty row"
        await press(pilot, *"33000", "down", *"6.9", "escape")
        text = await see(pilot, app, "Monthly round begun")
        assert "2 filled in (m goes on)" in text
        assert not _readings(app)
    again = an_app(store)
    async with again.run_test(size=(80, 24)) as pilot:
        page = await _open(pilot, again)
        assert page.typed()[METER] == "33000"
        assert page.typed()["pH-source-flowing"] == "6.9"
        assert page.focused is page.line("hardness-source-flowing").input
        await see(pilot, again, "Begun earlier")


async def test_all_is_one_group_and_one_undo_brings_the_filled_round_back() -> None:
    app = an_app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        page = await _open(pilot, app)
        await press(pilot, *"33000", "down", *"7.1", "ctrl+s")
        await see(pilot, app, "Recorded: monthly round, 2 readings")
        await until(pilot, lambda: app.screen is not page)
        done = events(app)[-3:]
        assert [type(one) for one in done] == [Reading, Reading, Service]
        assert len({one.group for one in done}) == 1
        assert done[0].group
        assert app.session.view.history.last_done(ROUND) == TODAY
        assert "begun" not in shown(app)
        await press(pilot, "u")
        await until(pilot, lambda: isinstance(app.screen, Ask))
        await press(pilot, "y")
        await until(pilot, lambda: not _readings(app))
        assert app.session.view.history.last_done(ROUND) is None
        page = await _open(pilot, app)
        assert (page.typed()[METER], page.typed()["pH-source-flowing"]) == ("33000", "7.1")


async def test_what_cannot_be_is_refused_with_the_row_in_focus() -> None:
    app = an_app()
    async with app.run_test(size=(80, 24)) as pilot:
        page = await _open(pilot, app)
        await press(pilot, "ctrl+s")
        assert app.screen is page, "nothing is filled in"
        await _type(pilot, page, METER, "33000")
        await _type(pilot, page, "nitrate-source-", "40")
        await press(pilot, "ctrl+s")
        await see(pilot, app, "mg/L as N or mg/L as NO3")
        assert page.focused is page.line("nitrate-source-").input
        assert not _readings(app)


async def test_what_is_odd_is_asked_about_before_anything_is_recorded() -> None:
    app = an_app()
    async with app.run_test(size=(80, 24)) as pilot:
        page = await _open(pilot, app)
        await _type(pilot, page, "pH-source-flowing", "9.9")
        await press(pilot, "down")
        await see(pilot, app, "unusually high")
        await press(pilot, "ctrl+s")
        await until(pilot, lambda: isinstance(app.screen, Ask))
        await press(pilot, "n")
        await until(pilot, lambda: app.screen is page)
        assert not _readings(app)
        await press(pilot, "ctrl+s")
        await until(pilot, lambda: isinstance(app.screen, Ask))
        await press(pilot, "y")
        await until(pilot, lambda: [one.taken.value for one in _readings(app)] == [9.9])


@pytest.mark.parametrize("confirmed", [True, False])
async def test_a_check_that_is_covered_is_offered_and_never_done_in_silence(confirmed: bool) -> None:
    app = an_app()
    async with app.run_test(size=(80, 24)) as pilot:
        page = await _open(pilot, app)
        await _type(pilot, page, BEFORE, "55")
        await _type(pilot, page, AFTER, "52")
        await press(pilot, "ctrl+s")
        await until(pilot, lambda: isinstance(app.screen, Form))
        text = await see(pilot, app, "Record these as done?")
        assert "Read the pressure drop at full flow" in text
        await see(pilot, app, "the clean drop, our early mark")
        if confirmed:
            await press(pilot, "enter", "down", "enter")
        await press(pilot, "ctrl+s")
        await until(pilot, lambda: not isinstance(app.screen, Form | RoundScreen))
        assert len(_readings(app)) == 2
        done = app.session.view.history.last_done("sediment_filter.read_drop")
        assert done == (TODAY if confirmed else None)


async def test_emptying_asks_first() -> None:
    app = an_app()
    async with app.run_test(size=(80, 24)) as pilot:
        page = await _open(pilot, app)
        await press(pilot, *"33000", "down", "ctrl+r")
        await until(pilot, lambda: isinstance(app.screen, Ask))
        await press(pilot, "y")
        await until(pilot, lambda: page.typed()[METER] == "")
        await press(pilot, "escape")
        await until(pilot, lambda: app.screen is not page)
        assert app.session.view.history.paused(ROUND) is None


class Failing(MemoryStore):
    """Takes pauses only."""

    def append(self, event: AnyEvent, *more: AnyEvent) -> Home:
        """Refuse all but pauses."""
        if not isinstance(event, PausedService):
            raise StoreError("The disk is full.", "Nothing was written.")
        return super().append(event, *more)


async def test_readings_that_the_disk_does_not_take_are_kept_in_memory() -> None:
    app = an_app(Failing(a_store().home))
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await _open(pilot, app)
        await press(pilot, *"33000", "ctrl+s")
        text = await see(pilot, app, "The disk is full")
        assert "Recorded" not in text
        assert any(isinstance(one, Reading) and one.taken.quantity == "meter" for one in app.session.unsaved)
