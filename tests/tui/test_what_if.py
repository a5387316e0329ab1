"""What if: tried, put back, dropped, kept in one group, at two sizes and without colour."""

from __future__ import annotations

from datetime import date

import pytest

from model.forecast.present import present
from model.forecast.what_if import Row
from model.records.events import Setting
from tests.tui.helpers import TODAY, MemoryStore, a_store, an_app, events, press, see, shown, until
from tui.app import WellwardApp
from tui.screens.what_if import WhatIfScreen
from tui.widgets.what_if_words import figure_words


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
