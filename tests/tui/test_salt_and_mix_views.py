"""The views of what comes without salt and of mixes; and what all views of the Water screen have in common."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from functools import partial

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len
from textual.widgets import Input, Select

from model.equipment.neutralizer import Neutralizer
from model.equipment.softener import Softener
from model.home import House
from tests.tui.helpers import HOUSE, TODAY, MemoryStore, a_store, an_app, press, see, shown, until
from tests.tui.water_homes import SIZES, SOME, opened, sample_home, shows, the_valve, unknown, with_, without
from tui.screens.mix import MixScreen
from tui.screens.salt_out import SaltOutScreen
from tui.screens.trends import TrendsScreen
from tui.screens.valve import ValveScreen
from tui.screens.water import WaterScreen
from tui.widgets import salt_out_words
from tui.widgets.mix_words import fact_lines


@pytest.fixture(autouse=True)
def _coarse(monkeypatch: pytest.MonkeyPatch) -> None:
    """Only some points of the curve, to be quick."""
    monkeypatch.setattr("tui.screens.valve.order", lambda: SOME)


TOLD = {
    "salt_out": "2026-12-10",
    "hardness_shows": "2026-12-20",
    "hardness_then_mg_l_caco3": 140.0,
    "nitrate_shows": "2026-12-16",
    "nitrate_then_mg_l_n": 14.0,
    "nitrate_peak_mg_l_n": 17.0,
}


def salt_out(anion_type: str = "standard", **fields: object) -> salt_out_words.SaltOut:
    softener = Softener(id="softener", anion_resin_l=28.0, anion_type=anion_type)  # type: ignore[arg-type]
    found = salt_out_words.salt_out_of(softener, {"if_salt_runs_out": TOLD, "days_between_regenerations": 7.0}, {})
    return msgspec.structs.replace(found, raw_nitrate_mg_l_n=12.5, hardness_now_mg_l_caco3=5.0, **fields)


def test_the_timeline_is_in_order_of_day_and_carries_the_water_on() -> None:
    stops = salt_out_words.timeline(salt_out(nitrate_now_mg_l_n=2.0), TODAY)
    assert [(stop.on.day, stop.hardness_mg_l_caco3, stop.nitrate_mg_l_n) for stop in stops] == [
        (25, 5.0, 2.0),
        (10, 5.0, 2.0),
        (16, 5.0, 14.0),
        (20, 140.0, 14.0),
    ]
    assert salt_out_words.series(stops, TODAY, "nitrate_mg_l_n", 30.0) == [
        (0.0, 2.0),
        (15.0, 2.0),
        (15.0, 2.0),
        (21.0, 2.0),
        (21.0, 14.0),
        (25.0, 14.0),
        (25.0, 14.0),
        (30.0, 14.0),
    ]


def test_standard_resin_is_warned_of_above_the_well_and_the_selective_is_not() -> None:
    standard, selective = (
        " ".join(salt_out_words.warnings(salt_out(kind), TODAY, "us")) for kind in ("standard", "nitrate_selective")
    )
    assert "more nitrate than the well water holds: up to 17 against 12.5 mg/L as N" in standard
    assert "more nitrate than the well" not in selective
    for words in (standard, selective):
        assert "over the limit of 10 mg/L as N (40 CFR 141): up to 17" in words
        assert "bottled water that was tested" in words
        assert "Boiling concentrates nitrate" in words


def test_salt_that_is_out_already_says_to_look_today() -> None:
    late = salt_out(salt_out=TODAY)
    assert "already" in salt_out_words.warnings(late, TODAY, "us")[0]
    assert "already" not in salt_out_words.warnings(salt_out(), TODAY, "us")[0]


def test_a_report_with_odd_values_counts_as_missing() -> None:
    odd = {"salt_out": "soon", "hardness_shows": 3, "nitrate_then_mg_l_n": None, "nitrate_shows": date(2026, 12, 1)}
    found = salt_out_words.salt_out_of(Softener(id="softener"), {"if_salt_runs_out": odd}, {})
    assert (found.salt_out, found.hardness_shows, found.nitrate_then_mg_l_n) == (None, None, None)
    assert found.nitrate_shows == date(2026, 12, 1)
    lacking = " ".join(salt_out_words.missing(found, {}))
    assert "how often the valve regenerates" in lacking
    assert "measure its depth" in lacking
    assert "Nitrate of the well is not known" in lacking


@given(
    st.lists(st.dates(date(2026, 11, 25), date(2030, 1, 1)) | st.none(), min_size=3, max_size=3),
    st.lists(st.floats(0, 500) | st.none(), min_size=4, max_size=4),
    st.integers(60, 130),
)
def test_timeline_and_charts_keep_to_their_width(
    days: list[date | None], levels: list[float | None], width: int
) -> None:
    out = salt_out(
        salt_out=days[0],
        hardness_shows=days[1],
        nitrate_shows=days[2],
        nitrate_now_mg_l_n=levels[0],
        nitrate_then_mg_l_n=levels[1],
        hardness_then_mg_l_caco3=levels[2],
    )
    stops = salt_out_words.timeline(out, TODAY)
    assert [stop.on for stop in stops] == sorted(stop.on for stop in stops)
    assert all(cell_len(line) <= width for line in salt_out_words.timeline_lines(stops, TODAY, width, "us"))
    for chart in salt_out_words.charts(out, stops, TODAY, width // 2, 8, "us", ascii_only=True):
        assert all(cell_len(line.plain) == width // 2 for line in chart.coloured())


async def test_the_salt_view_tells_the_sample_home_what_comes_when() -> None:
    app = an_app(sample_home())
    async with app.run_test(size=(120, 40)) as pilot:
        await opened(pilot, app, "o")
        text = await see(pilot, app, "If the salt runs out, Softener")
        for words in ("nitrate comes through", "hardness comes through", " over", "bottled water", "limit 10", "gpg"):
            assert words in text
        await press(pilot, "escape")
        await until(pilot, lambda: isinstance(app.screen, WaterScreen))


@pytest.mark.parametrize(
    ("store", "words"),
    [
        (lambda: without("softener"), "This house has no softener"),
        (unknown, "Nothing is known of the water before the softener"),
        (lambda: with_(Softener, anion_type="none", anion_resin_l=0.0), "This tank has no nitrate resin"),
        (a_store, "Nitrate of the well is not known"),
    ],
)
async def test_the_salt_view_says_what_is_missing(store: Callable[[], MemoryStore], words: str) -> None:
    app = an_app(store())
    async with app.run_test(size=(120, 40)) as pilot:
        await opened(pilot, app, "o")
        await see(pilot, app, words)


# The mix


async def test_keys_pour_parts_and_the_mix_follows() -> None:
    app = an_app(sample_home())
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(pilot, app, "m")
        await until(pilot, lambda: isinstance(app.screen, MixScreen) and app.screen.mixed is not None)
        screen = app.screen
        assert isinstance(screen, MixScreen)
        assert screen.mixed is not None
        assert set(screen.mixed.shares) == {"tap", "ro"}
        await press(pilot, "right", "right")
        text = await see(pilot, app, "> Well")
        assert screen.parts["source"] == 2.0
        assert "50 %" in text
        raw = screen.waters["source"].sample
        assert raw is not None
        nitrate = sum(
            share * point.sample.nitrate_mg_l_n
            for name, share in screen.mixed.shares.items()
            if (point := screen.waters[name]).sample is not None
        )
        assert screen.mixed.sample.nitrate_mg_l_n == pytest.approx(nitrate)
        await press(pilot, "shift+left", "down", "up")
        assert screen.parts["source"] == 0.0
        assert screen.chosen == "source"


async def test_a_mix_over_the_nitrate_limit_is_said_to_be_unfit() -> None:
    app = an_app(sample_home())
    async with app.run_test(size=(120, 40)) as pilot:
        await opened(pilot, app, "m")
        await see(pilot, app, "A mix of waters")
        await press(pilot, *["shift+right"] * 6)
        await see(pilot, app, "Not for drinking: nitrate")


async def test_no_parts_at_all_is_said() -> None:
    app = an_app(sample_home())
    async with app.run_test(size=(120, 40)) as pilot:
        await opened(pilot, app, "m")
        await see(pilot, app, "> Well")
        for _ in range(5):
            await press(pilot, "shift+left", "down")
        await see(pilot, app, "Nothing to mix: all parts are 0")


@pytest.mark.parametrize(("wanted", "unit", "mg_l"), [("100", "mg/L", 100.0), ("4", "gpg", 68.47), ("5", "dH", 89.24)])
async def test_a_wanted_hardness_is_solved(wanted: str, unit: str, mg_l: float) -> None:
    """1 gpg is 17.118 and 1 dH 17.848 mg/L as CaCO3."""
    app = an_app(sample_home())
    async with app.run_test(size=(80, 40)) as pilot:
        await opened(pilot, app, "m")
        await until(pilot, lambda: isinstance(app.screen, MixScreen) and app.screen.mixed is not None)
        screen = app.screen
        assert isinstance(screen, MixScreen)
        await press(pilot, "h")
        await see(pilot, app, "Mix to a hardness")
        app.screen.query_one("#entry_wanted", Input).value = wanted
        app.screen.query_one("#entry_unit", Select).value = unit
        await press(pilot, "ctrl+s")
        await until(pilot, lambda: app.screen is screen)
        assert screen.mixed is not None
        assert screen.mixed.hardness_mg_l_caco3 == pytest.approx(mg_l, rel=2e-3)


async def test_a_hardness_out_of_reach_is_refused_in_words() -> None:
    app = an_app(sample_home())
    async with app.run_test(size=(80, 40)) as pilot:
        await opened(pilot, app, "m")
        await see(pilot, app, "A mix of waters")
        await press(pilot, "h")
        await see(pilot, app, "Mix to a hardness")
        await press(pilot, *"90", "enter")
        await see(pilot, app, "These two waters mix to no hardness")


async def test_the_mouse_chooses_a_water() -> None:
    app = an_app(sample_home())
    async with app.run_test(size=(80, 40)) as pilot:
        await opened(pilot, app, "m")
        await see(pilot, app, "> Well")
        await pilot.click("#mix_waters", offset=(5, 2))
        await see(pilot, app, "> After Calcite tank")


@pytest.mark.parametrize(
    ("store", "words"),
    [
        (unknown, "Nothing is known of this water yet"),
        (
            lambda: without("reverse_osmosis", "neutralizer"),
            "Not in this house, so not in the list: neutralizer, RO tap.",
        ),
        (lambda: a_store(house=House(name="New", started=TODAY)), "Nothing is known of this water yet"),
    ],
)
async def test_the_mix_says_what_is_missing(store: Callable[[], MemoryStore], words: str) -> None:
    app = an_app(store())
    async with app.run_test(size=(120, 40)) as pilot:
        await opened(pilot, app, "m")
        await see(pilot, app, words)
        await press(pilot, "right", "down", "h")
        await pilot.pause()


@given(st.lists(st.tuples(st.text(max_size=30), st.text(max_size=8)), max_size=20), st.integers(20, 130))
def test_facts_keep_to_their_width_and_lose_nothing(rows: list[tuple[str, str]], width: int) -> None:
    lines = fact_lines(rows, width)
    assert all(cell_len(line) <= width for line in lines)
    assert len(lines) <= len(rows)


# All four


async def test_each_view_opens_the_others_and_there_is_never_more_than_one() -> None:
    app = an_app(sample_home())
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(pilot, app, "v")
        for key, kind in (
            ("o", SaltOutScreen),
            ("t", TrendsScreen),
            ("m", MixScreen),
            ("m", MixScreen),
            ("v", ValveScreen),
        ):
            await press(pilot, key)
            await until(pilot, partial(shows, app, kind))
            assert len(app.screen_stack) == 2
        await press(pilot, "3")
        await until(pilot, lambda: isinstance(app.screen, WaterScreen))


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.painted
async def test_each_view_fits_and_survives_any_size(size: tuple[int, int]) -> None:
    app = an_app(sample_home())
    async with app.run_test(size=size) as pilot:
        await opened(pilot, app, "v")
        for key, kind in (("v", ValveScreen), ("o", SaltOutScreen), ("m", MixScreen), ("t", TrendsScreen)):
            await press(pilot, key)
            await until(pilot, partial(shows, app, kind))
            assert all(cell_len(line) <= size[0] for line in shown(app).splitlines())
            for other in ((1, 1), size):
                await pilot.resize_terminal(*other)


async def test_titles_are_never_taken_for_markup() -> None:
    home = sample_home(lambda stage: msgspec.structs.replace(stage, title=f"[/b][red]{stage.id}"))
    app = an_app(home)
    async with app.run_test(size=(120, 40)) as pilot:
        await opened(pilot, app, "m")
        await see(pilot, app, "After [/b][red]neutralizer")
        await press(pilot, "o")
        await see(pilot, app, "[/b][red]softener")
        await press(pilot, "v")
        await see(pilot, app, "[/b][red]neutralizer")
        await press(pilot, "t", "right", "right")
        await see(pilot, app, "Depth of the media bed, [/b][red]neutralizer")


async def test_a_plain_terminal_gets_plain_marks(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TERM", "linux")
    monkeypatch.setenv("NO_COLOR", "1")
    app = an_app(with_(Neutralizer, floor_pH=6.8))
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await the_valve(pilot, app)
        chart = [text for chart in screen.board._charts for row in chart.rows for text, _ in row]
        assert all(text.isascii() for text in chart)
        text = await see(pilot, app, "| here   : now")
        assert "---| floor 6.8 *" in text


def test_the_small_home_of_the_tests_has_no_neutralizer() -> None:
    assert not any(isinstance(stage, Neutralizer) for stage in HOUSE.stages)
