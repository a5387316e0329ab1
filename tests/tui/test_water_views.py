"""The view of what the valve does: by keys and mouse, its warnings, and its words where something is missing."""

from __future__ import annotations

from collections.abc import Callable

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len
from textual.widgets import Input

from model.equipment.neutralizer import Neutralizer
from model.forecast.valve import Effect, effect
from model.records.events import Setting
from model.water.neutralizing import Standing
from tests.tui.helpers import TODAY, MemoryStore, an_app, events, press, see, until
from tests.tui.water_homes import SOME, opened, sample_home, the_valve, unknown, with_, without
from tui.screens.valve import order
from tui.screens.water import WaterScreen
from tui.widgets import valve_words
from tui.widgets.valve_board import ValveBoard
from tui.widgets.valve_words import MOST_PERCENT, Curve


@pytest.fixture(autouse=True)
def _coarse(monkeypatch: pytest.MonkeyPatch) -> None:
    """Only some points of the curve, to be quick."""
    monkeypatch.setattr("tui.screens.valve.order", lambda: SOME)


# The valve


async def test_the_numbers_of_the_charts_stand_below_in_a_table() -> None:
    app = an_app(sample_home())
    async with app.run_test(size=(80, 60)) as pilot:
        screen = await the_valve(pilot, app)
        text = await see(pilot, app, "Round the bed")
        there = [percent for percent in SOME if percent % 10 == 0 or percent == MOST_PERCENT]
        assert there, "some of the few points of these tests are in the table"
        for percent in there:
            one = screen.curve.by_percent[percent]
            assert any(row.split()[:3] == [str(percent), "%", f"{one.pH:.2f}"] for row in text.splitlines())


async def test_keys_move_the_valve_by_one_and_by_five_and_stop_at_the_ends() -> None:
    app = an_app(sample_home())
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await the_valve(pilot, app)
        assert screen.board.percent == 10
        await press(pilot, "right", "right", "shift+right", "left")
        assert screen.board.percent == 16
        text = await see(pilot, app, "Goes round the bed: 16 %")
        assert f"{screen.curve.by_percent[16].pH:.2f}" in text
        screen.action_move_valve(-12)
        await press(pilot, "shift+left")
        await see(pilot, app, "Goes round the bed:  0 %")
        screen.action_move_valve(97)
        await press(pilot, "shift+right")
        await see(pilot, app, f"Goes round the bed: {MOST_PERCENT} %")


async def test_nothing_is_recorded_by_looking() -> None:
    app = an_app(sample_home())
    async with app.run_test(size=(80, 24)) as pilot:
        before = events(app)
        await the_valve(pilot, app)
        await press(pilot, "right", "escape")
        await until(pilot, lambda: isinstance(app.screen, WaterScreen))
        assert events(app) == before


async def test_the_mouse_moves_the_valve_on_chart_and_gauge() -> None:
    app = an_app(sample_home())
    async with app.run_test(size=(80, 40)) as pilot:
        screen = await the_valve(pilot, app)
        board, plot = screen.board, screen.board._charts[0]
        await pilot.click(ValveBoard, offset=(plot.column(60.0), board._charts_at + 2))
        await until(pilot, lambda: abs(board.percent - 60) <= 2)
        await pilot.click(ValveBoard, offset=(28, 0))
        await until(pilot, lambda: board.percent == 0)
        await pilot.mouse_down(ValveBoard, offset=(plot.column(30.0), board._charts_at + 1))
        await pilot.hover(ValveBoard, offset=(plot.column(90.0), board._charts_at + 1))
        await until(pilot, lambda: abs(board.percent - 90) <= 2)
        await pilot.mouse_up(ValveBoard, offset=(plot.column(90.0), board._charts_at + 1))
        await pilot.hover(ValveBoard, offset=(plot.column(20.0), board._charts_at + 1))
        await pilot.pause()
        assert abs(board.percent - 90) <= 2


async def test_a_wanted_pH_goes_to_its_share_and_says_when_there_is_none() -> None:
    app = an_app(sample_home())
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await the_valve(pilot, app)
        await press(pilot, "w")
        await see(pilot, app, "Wanted pH")
        await press(pilot, *"8.4", "enter")
        await see(pilot, app, "No setting of the valve gives pH 8.4")
        app.screen.query_one(Input).value = "6.8"
        await press(pilot, "enter")
        await until(pilot, lambda: app.screen is screen and screen.board.percent != 10)
        assert screen.valve is not None
        assert effect(screen.valve, screen.board.percent / 100.0).pH == pytest.approx(6.8, abs=0.02)


async def test_s_asks_and_then_records_the_setting() -> None:
    app = an_app(sample_home())
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await the_valve(pilot, app)
        await press(pilot, "shift+right", "s")
        await see(pilot, app, "Does the valve now stand at 15 %?")
        await press(pilot, "n")
        assert not isinstance(events(app)[-1], Setting)
        await press(pilot, "s", "y")
        await until(pilot, lambda: isinstance(events(app)[-1], Setting))
        made = events(app)[-1]
        assert isinstance(made, Setting)
        assert (made.on, made.path, made.value, made.was) == (TODAY, "stages.neutralizer.bypass_share", 0.15, 0.1)
        await until(pilot, lambda: screen.valve is not None and screen.valve.stage.bypass_share == 0.15)


async def test_s_where_nothing_was_moved_says_so() -> None:
    app = an_app(sample_home())
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await the_valve(pilot, app)
        await press(pilot, "s")
        await see(pilot, app, "what stands there already")


async def test_the_floor_and_the_published_limit_are_words() -> None:
    app = an_app(with_(Neutralizer, floor_pH=6.9))
    async with app.run_test(size=(80, 40)) as pilot:
        screen = await the_valve(pilot, app)
        text = await see(pilot, app, "╌ floor 6.9 ╌")
        assert "under your floor" not in text
        screen.action_move_valve(80)
        await press(pilot, "shift+right")
        text = await see(pilot, app, "is under your floor of 6.9.")
        assert "is low: under 6.5 (40 CFR 143.3)" in text


async def test_magnesia_warns_of_the_night_and_of_its_doubt() -> None:
    app = an_app(with_(Neutralizer, magnesia_share=0.1))
    async with app.run_test(size=(120, 40)) as pilot:
        await the_valve(pilot, app)
        text = await see(pilot, app, "! After a night, pH (in doubt)")
        assert "Magnesia a year" in text
        assert "wide doubt: measure it" in text
        assert "How fast magnesia dissolves is in doubt" in text


async def test_a_draw_outside_the_range_of_the_sources_is_said() -> None:
    app = an_app(with_(Neutralizer, grain_mm=20.0, flow_l_min=190.0, tank_diameter_cm=5.0))
    async with app.run_test(size=(120, 40)) as pilot:
        await the_valve(pilot, app)
        await see(pilot, app, "outside what transport from grains was measured at")


async def test_escape_stops_the_curve(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("tui.screens.valve.order", lambda: tuple(range(MOST_PERCENT + 1)) * 20)
    app = an_app(with_(Neutralizer, magnesia_share=0.1))
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(pilot, app, "v")
        await see(pilot, app, "working out the curve")
        await press(pilot, "escape")
        await until(pilot, lambda: isinstance(app.screen, WaterScreen))
        await until(pilot, lambda: all(one.is_finished for one in app.workers))


@pytest.mark.parametrize(
    ("store", "words"),
    [
        (lambda: without("neutralizer"), "This house has no neutralizer"),
        (unknown, "Nothing is known of the water before the neutralizer"),
    ],
)
async def test_the_valve_says_what_is_missing(store: Callable[[], MemoryStore], words: str) -> None:
    app = an_app(store())
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(pilot, app, "v")
        await see(pilot, app, words)
        await press(pilot, "right", "w", "s", "escape")
        await until(pilot, lambda: isinstance(app.screen, WaterScreen))


async def test_without_a_softener_the_valve_shows_neither_salt_nor_sodium() -> None:
    app = an_app(without("softener"))
    async with app.run_test(size=(80, 24)) as pilot:
        await the_valve(pilot, app)
        text = await see(pilot, app, "Calcite a year")
        assert "Salt a year" not in text
        assert "Sodium" not in text


def test_every_share_is_worked_out_once() -> None:
    assert sorted(order()) == list(range(MOST_PERCENT + 1))
    assert order()[:3] == (0, 5, 10)


effects = st.builds(
    Effect,
    bypass_share=st.floats(0, 0.99),
    pH=st.floats(4, 11),
    hardness_mg_l_caco3=st.floats(0, 2000),
    sodium_mg_l=st.none() | st.floats(0, 2000),
    potassium_mg_l=st.none() | st.floats(0, 2000),
    salt_kg=st.none() | st.floats(0, 5000),
    salt_by_load_kg=st.none() | st.floats(0, 5000),
    hardness_run_l=st.none() | st.floats(1, 1e6),
    nitrate_run_l=st.none() | st.floats(1, 1e6),
    set_run_l=st.none() | st.floats(1, 1e6),
    calcite_kg=st.floats(0, 500),
    magnesia_kg=st.floats(0, 500),
    doubts=st.just(()),
)
stood = st.builds(
    Standing, low_pH=st.floats(6, 8), likely_pH=st.floats(8, 9), high_pH=st.floats(9, 11), text=st.just("")
)


@given(
    effects,
    st.dictionaries(st.integers(0, MOST_PERCENT), effects),
    st.dictionaries(st.integers(0, MOST_PERCENT), stood),
    st.integers(0, MOST_PERCENT),
    st.integers(46, 130),
    st.sampled_from(["us", "metric"]),
)
def test_the_rows_of_the_valve_keep_to_their_width_and_number(
    today: Effect, every: dict[int, Effect], night: dict[int, Standing], percent: int, width: int, system: str
) -> None:
    curve = Curve(today=today, by_percent=every, standing=night)
    lines = valve_words.draw_rows(curve, percent, width, system, "10 %")  # type: ignore[arg-type]
    assert all(cell_len(line) == width for line in lines)
    assert len(lines) - 1 - len(valve_words.rows_of(today)) in (0, 1)
    assert cell_len(valve_words.gauge(percent, width)) == width


def test_the_change_is_signed_and_nothing_is_the_same() -> None:
    """60 mg/L as CaCO3 is 3.5 gpg at 17.118 to the grain."""
    base = Effect(
        bypass_share=0.1,
        pH=7.1,
        hardness_mg_l_caco3=120.0,
        sodium_mg_l=None,
        potassium_mg_l=None,
        salt_kg=None,
        salt_by_load_kg=None,
        hardness_run_l=None,
        nitrate_run_l=None,
        set_run_l=None,
        calcite_kg=1.0,
        magnesia_kg=0.0,
        doubts=(),
    )
    less = msgspec.structs.replace(base, hardness_mg_l_caco3=60.0)
    pH, hard, calcite = valve_words.rows_of(base)
    assert valve_words.cells_of(hard, base, less, "us") == ("7.0", "3.5", "-3.5")
    assert valve_words.cells_of(hard, less, base, "us") == ("3.5", "7.0", "+3.5")
    assert valve_words.cells_of(pH, base, less, "us") == ("7.10", "7.10", "same")
    assert valve_words.cells_of(calcite, base, None, "us")[1:] == ("–", "")


# The salt run out
