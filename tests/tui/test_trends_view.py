"""The view of plots: every plot of the sample home at two sizes, by keys and mouse, and the way in from a job."""

from __future__ import annotations

from functools import partial

import pytest
from rich.cells import cell_len
from textual.widgets import Static

from model.home import House
from tests.tui.helpers import SALT, TODAY, MemoryStore, a_store, an_app, press, see, shown, until
from tests.tui.water_homes import opened, sample_home, shows, unknown
from tui.screens.trends import PlotNames, TrendsScreen
from tui.screens.water import WaterScreen
from tui.widgets.due_list import DueList
from tui.widgets.empty_words import in_keys


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
@pytest.mark.parametrize("plain", [False, True])
async def test_every_plot_of_the_sample_home(
    size: tuple[int, int], plain: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    if plain:
        monkeypatch.setenv("TERM", "linux")
        monkeypatch.setenv("NO_COLOR", "1")
    app = an_app(sample_home())
    async with app.run_test(size=size) as pilot:
        await opened(pilot, app, "t")
        for one in app.session.view.trends:
            text = await see(pilot, app, one.title)
            assert all(cell_len(line) <= size[0] for line in text.splitlines())
            words = "".join((in_keys(one.empty) or one.words[0]).split())
            assert words in "".join(text.translate({ord("▁"): "", **dict.fromkeys(range(0x2581, 0x2589), "")}).split())
            if plain:
                assert f"[{one.name}]" in text
                assert str(app.screen.query_one("#trend_chart", Static).content).isascii()
            await press(pilot, "right")
        await see(pilot, app, app.session.view.trends[0].title)
        await press(pilot, "left")
        await see(pilot, app, "Nitrate by season")
        await press(pilot, "escape")
        await until(pilot, partial(shows, app, WaterScreen))


@pytest.mark.painted
async def test_the_mouse_chooses_a_plot_and_any_size_is_survived() -> None:
    app = an_app(sample_home())
    async with app.run_test(size=(60, 20)) as pilot:
        await opened(pilot, app, "t")
        await see(pilot, app, "Water use of the house")
        await pilot.click(PlotNames, offset=(14, 0))
        await see(pilot, app, "Pressure drop at full flow")
        for other in ((1, 1), (200, 60), (60, 20)):
            await pilot.resize_terminal(*other)
        await see(pilot, app, "Pressure drop at full flow")


@pytest.mark.parametrize(("key", "area"), [("1", "week"), ("2", "service")])
async def test_a_job_opens_its_plot(key: str, area: str) -> None:
    app = an_app(sample_home())
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, key)
        await until(pilot, lambda: app.area == area)
        listed = app.screen.query_one("#due" if area == "week" else "#jobs", DueList if area == "week" else None)  # type: ignore[arg-type]
        listed.highlighted = listed.get_option_index(SALT)
        await press(pilot, "t")
        await see(pilot, app, "Salt left")
        assert isinstance(app.screen, TrendsScreen)
        await press(pilot, "escape")
        await until(pilot, partial(shows, app, WaterScreen))


async def test_a_job_without_a_plot_says_so() -> None:
    app = an_app(sample_home())
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await see(pilot, app, "Overdue")
        await press(pilot, "t")
        await see(pilot, app, "No plot belongs to this job")


@pytest.mark.parametrize("store", [unknown(), a_store(house=House(name="New", started=TODAY))])
async def test_a_home_without_readings_is_told_what_to_read(store: MemoryStore) -> None:
    app = an_app(store)
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(pilot, app, "t")
        await see(pilot, app, "Not metered yet: read the meter twice")
        await press(pilot, "left")
        await see(pilot, app, "No nitrate yet: press r for a reading, l for a laboratory result")
        assert "Nitrate by season" in shown(app)
