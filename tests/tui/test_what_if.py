"""What if: tried, put back, dropped, kept in one group, at two sizes and without colour."""

from __future__ import annotations

from datetime import date

import pytest
from rich.cells import cell_len

from model.forecast.present import present
from model.forecast.what_if import Comparison, Row
from model.records.events import Setting
from tests.tui.helpers import TODAY, MemoryStore, a_store, an_app, events, press, see, shown, until
from tui.app import WellwardApp
from tui.screens.what_if import WhatIfScreen
from tui.widgets.what_if_plots import cash_plot, pair_bars
from tui.widgets.what_if_words import figure_words, month_rows


async def test_a_value_is_tried_and_dropped() -> None:
    store = a_store()
    app = an_app(store)
    before = store.home
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "5", "w")
        await see(pilot, app, "People in the house")
        assert "Nothing is changed" not in shown(app)
        await press(pilot, "enter", *"-3", "enter")
        await see(pilot, app, "cannot be that")
        await press(pilot, "ctrl+a", "ctrl+k", *"8", "enter")
        await see(pilot, app, "* People in the house")
        assert "Differs" in shown(app)
        assert "+" in shown(app)
        await press(pilot, "x")
        await until(pilot, lambda: "* People" not in shown(app))
        await press(pilot, "enter", *"8", "enter")
        await see(pilot, app, "* People in the house")
        await press(pilot, "escape")
        await until(pilot, lambda: not isinstance(app.screen, WhatIfScreen))
        assert app.current_mode == "costs"
        await press(pilot, "1", "5", "w")
        await see(pilot, app, "* People in the house")
        await press(pilot, "d")
        await see(pilot, app, "Drop all that is tried?")
        await press(pilot, "n")
        assert "* People in the house" in shown(app)
        await press(pilot, "d", "y")
        await until(pilot, lambda: "* People" not in shown(app))
    assert store.home is before


async def test_two_values_are_kept_in_one_go_and_undone_in_one_go(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    store = a_store()
    app, had = an_app(store), len(store.home.events)
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await press(pilot, "5", "w")
        await see(pilot, app, "People in the house")
        assert not {"x Put back", "k Keep", "d Drop"} & set(_keys(shown(app)))
        await press(pilot, "k", "x", "d", "enter", *"8", "enter")
        await see(pilot, app, "k Keep")
        assert {"x Put back", "d Drop"} <= set(_keys(shown(app)))
        await press(pilot, "down")
        await until(pilot, lambda: "x Put back" not in _keys(shown(app)))
        await _to(pilot_app=app, path="stages.softener.salt_dose_kg")
        await press(pilot, "enter", *"9 lb", "enter")
        await see(pilot, app, "* Salt per regen")
        await press(pilot, "k")
        await see(pilot, app, "Write these down")
        await press(pilot, "n")
        assert len(events(app)) == had
        await press(pilot, "k")
        await see(pilot, app, "Write these down")
        await press(pilot, "y")
        await until(pilot, lambda: len(events(app)) == had + 2)
        await until(pilot, lambda: "* People" not in shown(app))
        kept = events(app)[had:]
        assert [(one.path, one.on) for one in kept if isinstance(one, Setting)] == [
            ("people", TODAY),
            ("stages.softener.salt_dose_kg", TODAY),
        ]
        assert kept[0].group == kept[1].group != 0
        assert present(app.session.view.home, TODAY).people == 8.0
        await press(pilot, "u", "y")
        await until(pilot, lambda: present(app.session.view.home, TODAY).people == 2.0)


def _keys(text: str) -> list[str]:
    return [one.strip() for one in text.splitlines()[-1].replace("\xa0", "  ").split("  ")]


async def _to(pilot_app: WellwardApp, path: str) -> None:
    from textual.widgets import DataTable

    table = pilot_app.screen.query_one("#tried", DataTable)
    table.move_cursor(row=table.get_row_index(path))


async def test_an_empty_house_and_the_smallest_terminal_do_no_harm() -> None:
    import msgspec

    from tests.tui.helpers import HOUSE

    app = an_app(MemoryStore(a_store(house=msgspec.structs.replace(HOUSE, stages=(), supplies=())).home))
    async with app.run_test(size=(40, 12)) as pilot:
        app.action_what_if()
        await until(pilot, lambda: isinstance(app.screen, WhatIfScreen))
        await pilot.resize_terminal(200, 60)
        await see(pilot, app, "People in the house")


@pytest.mark.parametrize(
    ("today", "then", "dimension", "said"),
    [
        (100.0, 150.0, "mass", ("100 kg", "150 kg", "+50 kg")),
        (720.0, 675.5, "money", ("$720.00", "$675.50", "-$44.50")),
        (date(2026, 12, 14), date(2026, 12, 10), "day", ("14 Dec 26", "10 Dec 26", "-4 days")),
        (7.1, 7.1, "pH", ("7.10", "7.10", "=")),
        (None, 3.0, "", ("not known", "3", "?")),
    ],
)
def test_a_row_in_words(today: float, then: float, dimension: str, said: tuple[str, str, str]) -> None:
    row = Row(id="x", label="x", dimension=dimension, today=today, then=then)
    assert figure_words(row, "USD", "metric") == said


def _found(today: list[float], then: list[float], rows: tuple[Row, ...] = ()) -> Comparison:
    months = tuple(
        (date(2026, place, 1), old, new) for place, (old, new) in enumerate(zip(today, then, strict=True), 1)
    )
    return Comparison(currency="USD", rows=rows, months=months, cautions=(), notes=(), events=(), not_kept=())


@pytest.mark.parametrize("plain", [True, False])
def test_today_and_then_lie_in_one_plot_with_two_marks(plain: bool) -> None:
    lines = [str(one) for one in cash_plot(_found([10.0] * 12, [30.0] * 12), 60, ascii_only=plain)]
    legend = next(line for line in lines if "today" in line)
    today, then = (part.strip() for part in legend.replace("then", "today").split("today")[:2])
    assert today != then
    body = lines[1:9]
    assert lines[1].rstrip()[-1] not in "|│", "the dearer one ends at the top right"
    assert all(len(line) == 60 for line in body)
    if plain:
        assert "*" in "".join(body)
        assert "x" in "".join(body)
        assert all(line.isascii() for line in lines)


def test_salt_run_and_sodium_are_bars_only_where_the_change_moves_them() -> None:
    rows = (
        Row(id="softener.salt", label="Salt a year", dimension="mass", today=100.0, then=200.0),
        Row(id="softener.nitrate_run", label="Nitrate run", dimension="volume", today=5000.0, then=5000.0),
        Row(id="sodium", label="Sodium at tap, mg/L", dimension="", today=80.0, then=None),
    )
    found = _found([1.0, 1.0], [1.0, 1.0], rows)
    told = [str(one) for one in pair_bars(found, 50, "metric", ascii_only=True)]
    assert told[0] == "Salt a year"
    today, then = told[1].splitlines()
    assert (today.count("#") * 2, today.split()[0], then.split()[0]) == (then.count("#"), "today", "then")
    assert today.endswith("100 kg")
    assert len(told) == 3, "what does not move, or is not known then, is only in the table"


def test_where_nothing_is_paid_there_is_no_plot() -> None:
    assert cash_plot(_found([0.0, 0.0], [0.0, 0.0]), 60, ascii_only=True) == []


def test_the_months_have_the_numbers_of_the_plot_where_there_is_room() -> None:
    wide, narrow = (month_rows(_found([10.0] * 12, [30.0] * 12), width) for width in (67, 66))
    assert [row.split()[2:] for row in wide[1:3]] == [
        ["10.00", "30.00", "+20.00", "10.00", "30.00"],
        ["10.00", "30.00", "+20.00", "20.00", "60.00"],
    ]
    assert wide[-1].split()[-2:] == ["120.00", "360.00"]
    assert [row.split()[2:] for row in narrow[1:]] == [["10.00", "30.00", "+20.00"]] * 12
    assert all(cell_len(row) <= 67 for row in wide)
