"""Water: the picture of the train, the numbers in the owner's units, and the screen."""

from __future__ import annotations

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from model.home import House
from model.plan_types import PointWater
from model.records.events import LabReport, Taken
from model.water.sample import Sample
from tests.tui.helpers import HOUSE, STAGES, TODAY, a_store, an_app, press, see, until
from tui.screens.water import WaterScreen
from tui.widgets.cells import fit, wrap
from tui.widgets.sections import labelled
from tui.widgets.train import Box, draw_train
from tui.widgets.water_rows import boxes_of, distinct, grouped_bases, limit_lines, table_rows

NAMES = (("pH", ""), ("hardness", "gpg"))
RAW = Sample(
    pH=6.3,
    alkalinity_mg_l_caco3=42.0,
    calcium_mg_l=17.0,
    magnesium_mg_l=5.0,
    sodium_mg_l=30.0,
    nitrate_mg_l_n=12.5,
    assumed=("sodium_mg_l",),
)

titles = st.text(max_size=40)
boxes = st.builds(
    Box,
    titles,
    st.tuples(st.text(max_size=9), st.text(max_size=9)),
    st.lists(st.builds(Box, titles, st.tuples(st.just("7.0"), st.just("1"))), max_size=2).map(tuple),
)


def point(
    name: str, hardness: float | None, sample: Sample | None = RAW, stage: str = "", basis: str = ""
) -> PointWater:
    return PointWater(
        point=name,
        title=f"At {name}",
        stage=stage,
        flow_l_per_day=600.0,
        sample=sample,
        hardness_mg_l_caco3=hardness,
        co2_mg_l=None,
        tds_mg_l=None,
        calcite_saturation_index=None,
        aerated_pH=None,
        nitrate_planned_mg_l_n=None,
        basis=basis,
    )


@given(st.lists(boxes, max_size=9), st.integers(-3, 160), st.booleans())
def test_the_picture_is_never_wider_than_asked(train: list[Box], width: int, ascii_only: bool) -> None:
    lines = draw_train(train, NAMES, width, ascii_only=ascii_only)
    assert all(cell_len(line) <= max(width, 0) for line in lines)
    assert all("\n" not in line and "\r" not in line for line in lines)


@given(
    st.lists(st.builds(Box, st.text(st.characters(codec="ascii")), st.just(("7.0 ^", "1"))), min_size=1, max_size=8),
    st.integers(1, 140),
)
def test_the_plain_picture_is_plain_ascii(train: list[Box], width: int) -> None:
    assert all(line.isascii() for line in draw_train(train, NAMES, width, ascii_only=True))


@given(st.text(max_size=60), st.integers(0, 50), st.sampled_from(["left", "right", "center"]))
def test_a_fitted_text_has_exactly_the_width(text: str, width: int, align: str) -> None:
    assert cell_len(fit(text, width, align)) == width


@given(st.text(max_size=60), st.integers(1, 20), st.integers(1, 3))
def test_wrapped_words_keep_to_lines_and_width(text: str, width: int, lines: int) -> None:
    rows = wrap(text, width, lines)
    assert len(rows) <= lines
    assert all(cell_len(row) <= width for row in rows)


@given(st.text(max_size=40), st.text(max_size=120), st.text(max_size=60), st.integers(40, 130))
def test_a_fact_keeps_to_its_width(label: str, text: str, basis: str, width: int) -> None:
    words = labelled(label, text, basis, width).plain
    assert all(cell_len(line) <= width for line in words.split("\n"))


def test_a_long_fact_hangs_below_its_text() -> None:
    told = labelled("Draw-down", "16.8 gal a cycle", "Boyle's law at this elevation", 60).plain.split("\n")
    assert told == [f"  {'Draw-down':22} 16.8 gal a cycle", " " * 25 + "(Boyle's law at this elevation)"]


def test_side_by_side_from_110_columns_and_one_under_the_other_at_80() -> None:
    train = [
        Box("Well", ("6.3", "3.7"), (Box("Hose", ("6.3", "3.7")),)),
        Box("Softener", ("6.3", "0 ↓")),
        Box("Tap", ("6.3", "0")),
    ]
    assert draw_train(train, NAMES, 110)[:9] == [
        "         ┌──────────────────┐ ┌──────────────────┐ ┌──────────────────┐",
        "         │ Well             │►│ Softener         │►│ Tap              │",
        "pH       │ 6.3              │ │ 6.3              │ │ 6.3              │",
        "hardness │ 3.7              │ │ 0 ↓              │ │ 0                │",
        "         └─────────┬────────┘ └──────────────────┘ └──────────────────┘",
        "         ┌─────────▼────────┐",
        "         │ Hose             │",
        "pH       │ 6.3              │",
        "hardness │ 3.7              │",
    ]
    assert draw_train(train, NAMES, 78) == [
        "                pH   hardness",
        "                     gpg",
        "┌────────────┐",
        "│ Well       │  6.3  3.7",
        "│  └► Hose   │  6.3  3.7",
        "├──────▼─────┤",
        "│ Softener   │  6.3  0 ↓",
        "├──────▼─────┤",
        "│ Tap        │  6.3  0",
        "└────────────┘",
    ]


# 64 mg/L as CaCO3 / 17.118 = 3.7 gpg; a hose branches off the well, an arrow marks where a number moved.
def test_boxes_carry_the_owner_s_units_and_mark_what_changed() -> None:
    soft = msgspec.structs.replace(RAW, sodium_mg_l=92.0)
    points = [
        point("source", 64.0),
        point("after_sediment_filter", 64.0),
        point("tap", 1.0, soft, "softener"),
        point("hose", 64.0),
    ]
    well, filter_, softener, tap = boxes_of(HOUSE, points)
    assert well.numbers == ("6.3", "3.7", "12.5", "30")
    assert [one.title for one in well.branches] == ["Hose"]
    assert filter_.numbers == well.numbers
    assert softener.numbers == ("6.3", "0.06 ↓", "12.5", "92 ↑")
    assert (tap.title, tap.numbers) == ("Tap", ("6.3", "0.06", "12.5", "92"))
    assert boxes_of(HOUSE, points, ascii_only=True)[2].numbers[1] == "0.06 v"


def test_what_is_not_known_is_a_dash() -> None:
    unknown = [point("source", None, None), point("tap", None, None)]
    assert all(box.numbers == ("–", "–", "–", "–") for box in boxes_of(HOUSE, unknown))


def test_the_table_stars_what_was_assumed_and_keeps_the_basis_in_the_name() -> None:
    rows = dict(table_rows([point("source", 64.0)], "metric"))
    assert rows["Potassium, mg/L"] == ("0 ",)
    assert rows["Sodium, mg/L"] == ("!30*",)
    assert rows["Nitrate, mg/L as N"] == ("!12.5 ",)
    assert rows["Hardness, mg/L as CaCO3"] == ("64 ",)
    assert "Hardness, gpg" in dict(table_rows([], "us"))


# 40 CFR 141 and 143.3: nitrate 10 mg/L as N, pH 6.5-8.5, iron 0.3, manganese 0.05, sulfate and chloride 250, TDS 500;
# EPA 822-R-03-006: sodium 20 mg/L on a restricted diet.
LIMITED = (
    ("nitrate_mg_l_n", 9.99, 10.0, "over", "Nitrate at or over 10 mg/L as N"),
    ("pH", 6.5, 6.49, "low", "pH under 6.5"),
    ("pH", 8.5, 8.51, "over", "pH over 8.5"),
    ("iron_mg_l", 0.3, 0.301, "over", "Iron over 0.3 mg/L"),
    ("manganese_mg_l", 0.05, 0.051, "over", "Manganese over 0.05 mg/L"),
    ("sulfate_mg_l", 250.0, 250.1, "over", "Sulfate over 250 mg/L"),
    ("chloride_mg_l", 250.0, 250.1, "over", "Chloride over 250 mg/L"),
    ("sodium_mg_l", 20.0, 20.1, "note", "Sodium over 20 mg/L"),
)
CLEAN = msgspec.structs.replace(RAW, pH=7.0, nitrate_mg_l_n=1.0, sodium_mg_l=10.0, assumed=())


@pytest.mark.parametrize(("field", "within", "outside", "word", "said"), LIMITED)
def test_what_is_beyond_a_limit_has_a_mark_a_word_and_the_limit(
    field: str, within: float, outside: float, word: str, said: str
) -> None:
    good, bad = (point("tap", 64.0, msgspec.structs.replace(CLEAN, **{field: one})) for one in (within, outside))
    assert limit_lines([good]) == []
    assert [(told, text.split(" (")[0]) for told, text in limit_lines([good, bad])] == [(word, said)]
    assert limit_lines([bad])[0][1].endswith(": At tap")
    plain, worded = (table_rows([good, bad], "metric", in_words=one) for one in (False, True))
    assert [cells[1][0] == "!" for _, cells in plain].count(True) == 1
    assert [cells[1].startswith(f"{word} ") for _, cells in worded].count(True) == 1
    assert not any(cells[0].startswith(("!", "over", "low", "note")) for _, cells in (*plain, *worded))


def test_dissolved_solids_and_planned_nitrate_are_marked_too() -> None:
    """40 CFR 143.3: 500 mg/L; what is planned on counts like what was found."""
    one = msgspec.structs.replace(point("source", 64.0, CLEAN), tds_mg_l=501.0, nitrate_planned_mg_l_n=10.0)
    assert [text.split(" (")[0] for _, text in limit_lines([one])] == [
        "Nitrate planned at or over 10 mg/L as N",
        "Dissolved solids over 500 mg/L",
    ]


@pytest.mark.parametrize(("width", "marked"), [(80, "!"), (120, "over ")])
async def test_the_table_marks_in_words_where_there_is_room_and_names_the_limit_below(width: int, marked: str) -> None:
    high = LabReport(on=TODAY, point="source", taken=(Taken(quantity="nitrate", value=12.5, point="source"),))
    app = an_app(a_store(high))
    async with app.run_test(size=(width, 60)) as pilot:
        await press(pilot, "3")
        await see(pilot, app, "Softener")
        text = await see(pilot, app, f"{marked}12.5")
        assert "! over: Nitrate at or over 10 mg/L as N (drinking limit, 40 CFR 141" in text


def test_points_with_the_same_water_are_told_once() -> None:
    points = [point("source", 64.0), point("after_a", 64.0), point("tap", 64.0), point("hose", 64.0)]
    kept, same = distinct(points)
    assert [one.point for one in kept] == ["source", "tap", "hose"]
    assert same == ["At after_a"]


def test_bases_are_grouped() -> None:
    points = [
        point("source", 1.0, basis="laboratory"),
        point("a", 1.0, basis="computed"),
        point("b", 1.0, basis="computed"),
    ]
    assert grouped_bases(points) == [("At source", "laboratory"), ("At a, At b", "computed")]


@pytest.mark.parametrize(("width", "height"), [(80, 24), (120, 40), (60, 20)])
async def test_the_train_is_on_the_screen(width: int, height: int) -> None:
    app = an_app()
    async with app.run_test(size=(width, height)) as pilot:
        await press(pilot, "3")
        text = await see(pilot, app, "Softener")
        assert "Tap" in text
        assert all(cell_len(line) <= width for line in text.splitlines())


async def test_keys_reach_the_table_and_escape_comes_back_to_the_picture() -> None:
    app = an_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "3")
        await until(pilot, lambda: isinstance(app.screen, WaterScreen) and app.screen.focused is not None)
        top = app.screen.query_one("#water")
        known = any(one.sample for one in app.session.view.plan.points)
        assert app.screen.query_one("#quantities").display is known
        await press(pilot, "end")
        await until(pilot, lambda: top.scroll_offset.y > 0)
        await press(pilot, "escape")
        await until(pilot, lambda: top.scroll_offset.y == 0)


async def test_titles_are_never_taken_for_markup() -> None:
    stages = (*STAGES[:2], msgspec.structs.replace(STAGES[2], title="Soft [/b] [red]tank"))
    app = an_app(a_store(house=msgspec.structs.replace(HOUSE, stages=stages)))
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "3")
        await see(pilot, app, "Soft [/b] [red]tank")


async def test_a_blank_home_says_what_to_do() -> None:
    app = an_app(a_store(house=House(name="New", started=TODAY)))
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "3")
        await see(pilot, app, "Press 7 for House")
