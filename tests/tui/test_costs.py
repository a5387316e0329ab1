"""Costs: bars, tables, and the year read by keys alone."""

from __future__ import annotations

from datetime import date

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from model.clock import add_months
from model.home import House
from model.plan_types import CostItem, CostMonth, Costs, Range, SlowPart
from tests.tui.helpers import TODAY, a_store, an_app, press, see, shown
from tui.screens.costs import item_rows, month_bars, total_words
from tui.screens.ten_years import part_row
from tui.widgets.bars import Bar, draw_bars

amounts = st.floats(0, 1e6, allow_nan=False)
bars = st.lists(st.builds(Bar, st.text(max_size=12), amounts, amounts, amounts, st.text(max_size=20)), max_size=13)


def hand_made() -> Costs:
    months = tuple(
        CostMonth(month=f"{day:%Y-%m}", starts=day, cash=Range(10.0 * k, 5.0 * k, 20.0 * k))
        for k, day in enumerate(add_months(TODAY, k) for k in range(12))
    )
    salt = CostItem(
        supply="salt",
        title="Salt [/b]",
        stage="softener",
        quantity=90.718474,
        unit="kg",
        cash=Range(500.0, 400.0, 600.0),
        long_run_per_year=480.0,
    )
    lamp = CostItem(
        supply="lamp",
        title="Lamp",
        stage="ultraviolet",
        quantity=1.0,
        unit="each",
        cash=Range(160.0, 160.0, 160.0),
        long_run_per_year=1234.5,
    )
    return Costs(
        start=TODAY,
        end=date(2027, 11, 25),
        currency="USD",
        total=Range(660.0, 560.0, 760.0),
        items=(lamp, salt),
        months=months,
        long_run_per_year=1714.5,
        notes=("Lamp: no price yet, counted as nothing.",),
    )


@given(bars, st.integers(-2, 130), st.booleans())
def test_the_chart_is_never_wider_than_asked(rows: list[Bar], width: int, ascii_only: bool) -> None:
    lines = draw_bars(rows, width, ascii_only=ascii_only)
    assert len(lines) == (len(rows) if width > 0 else 0)
    assert all(cell_len(line) <= width for line in lines)


@given(st.lists(amounts, min_size=2, max_size=12))
def test_longer_bars_stand_for_more(values: list[float]) -> None:
    lines = draw_bars([Bar("m", value, 0.0, value) for value in values], 80, ascii_only=True)
    lengths = [line.count("=") for line in lines]
    assert all(lengths[a] <= lengths[b] for a, x in enumerate(values) for b, y in enumerate(values) if x <= y)


# 40 cells less name, gaps and words leave 30: the top of 60 is 30 cells, so 10 is 5, 15 is 7 1/2 and 45 is 22 1/2.
def test_the_low_bound_eighths_of_a_cell_and_the_whisker() -> None:
    rows = [Bar("Jan", 15.0, 10.0, 30.0, "15 $"), Bar("Feb", 45.0, 45.0, 60.0, "45 $")]
    assert draw_bars(rows, 40) == [
        "Jan " + "█" * 5 + "▒" * 3 + "─" * 6 + "┤" + " " * 17 + "15 $",
        "Feb " + "█" * 22 + "▌" + "─" * 6 + "┤" + "  " + "45 $",
    ]
    assert draw_bars(rows, 40, ascii_only=True)[0] == "Jan " + "#" * 5 + "=" * 3 + "-" * 6 + "|" + " " * 17 + "15 $"


def test_no_costs_give_no_bars() -> None:
    assert draw_bars([Bar("Jan", 0.0, 0.0, 0.0, "0")], 40) == ["Jan" + " " * 36 + "0"]


def test_the_table_puts_the_dearest_first_and_ends_with_the_sum() -> None:
    rows = item_rows(hand_made(), "us")
    assert [row.cells for row in rows] == [
        ("Salt [/b]", "200 lb", "500.00", "400.00", "600.00", "480.00"),
        ("Lamp", "1", "160.00", "160.00", "160.00", "1,234.50"),
        ("In all", "", "660.00", "560.00", "760.00", "1,714.50"),
    ]


def test_the_year_in_words() -> None:
    words = total_words(hand_made()).plain
    assert "$660.00 in cash; 8 times in 10 from $560.00 to $760.00" in words
    assert "$1,714.50 a year" in words
    assert "Nov 2026 to Oct 2027" in words


def test_every_month_has_its_numbers() -> None:
    lines = month_bars(hand_made(), 76).plain.splitlines()
    assert len(lines) == 13
    assert lines[-1].startswith("Oct 2027")
    assert lines[-1].endswith("110.00  55.00 to 220.00")


@pytest.mark.parametrize(("width", "height"), [(80, 24), (120, 40)])
async def test_the_year_is_read_by_keys_alone(width: int, height: int) -> None:
    app = an_app()
    app.session.view.__dict__["costs"] = hand_made()
    async with app.run_test(size=(width, height)) as pilot:
        await press(pilot, "5")
        assert "$660.00" in await see(pilot, app, "The next twelve months")
        await press(pilot, "end")
        text = await see(pilot, app, "no price yet")
        total = next(line for line in text.splitlines() if "In all" in line)
        assert total.split()[-4:] == ["660.00", "560.00", "760.00", "1,714.50"]


@pytest.mark.parametrize(("width", "height"), [(80, 24), (120, 40)])
async def test_the_slow_parts_are_a_key_away(width: int, height: int) -> None:
    app = an_app()
    async with app.run_test(size=(width, height)) as pilot:
        await press(pilot, "5", "t")
        text = await see(pilot, app, "Slow parts:")
        assert "Low" in text
        await press(pilot, "end")
        await see(pilot, app, "counted as nothing")
        await press(pilot, "escape")
        await see(pilot, app, "No price is known yet")
        await press(pilot, "t", "5")
        await see(pilot, app, "No price is known yet")


async def test_a_home_without_slow_parts_says_so() -> None:
    app = an_app(a_store(house=House(name="New", started=TODAY)))
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "5", "t")
        await see(pilot, app, "has a slow part")


def test_a_slow_part_in_a_row() -> None:
    part = SlowPart(
        task="well.replace_pump",
        title="Replace the pump",
        stage="well",
        stage_title="Well [/b]",
        age_years=7.26,
        age_known=False,
        earliest=date(2029, 5, 1),
        middle=date(2031, 11, 2),
        latest=date(2035, 1, 3),
        chance=0.874,
        replacements=0.9,
        cash=Range(1250.4, 0.0, 1400.0),
        basis="from memory",
    )
    assert part_row(part, wide=False).cells == ("Pump", "7?", "2029", "11/2031", "2035", "87%", "1,250", "0-1,400")
    assert part_row(part, wide=True).cells[1:5] == ("7.3?", "May 2029", "Nov 2031", "Jan 2035")
    unpriced = msgspec.structs.replace(part, cash=None, age_known=True)
    assert part_row(unpriced, wide=False).cells[-2:] == ("?", "")


async def test_no_colour_still_tells_everything(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    app = an_app()
    app.session.view.__dict__["costs"] = hand_made()
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "5")
        await see(pilot, app, "Dec 2026")
        assert "10.00" in shown(app)


async def test_a_blank_home_says_what_to_do() -> None:
    app = an_app(a_store(house=House(name="New", started=TODAY)))
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "5")
        await see(pilot, app, "Press 7 for House")
