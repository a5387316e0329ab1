"""House: settings in the owner's units, and changing, adding and removing what stands there."""

from __future__ import annotations

from datetime import date, timedelta

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st
from textual.widgets import DataTable, Input, Select

from model.equipment.labels import BELOW, STAGE_LABELS
from model.equipment.registry import KINDS, AnyStage
from model.equipment.softener import Softener
from model.errors import BadInput
from model.home import Home, House
from model.records.events import HandleMoved, Setting, StageAdded, StageRemoved, SupplyAdded
from tests.tui.helpers import CARTRIDGE, HOUSE, TODAY, a_store, an_app, events, press, see, until
from tui.app import WellwardApp
from tui.dialogs.add_stage import blank, new_stage_id, part_roles
from tui.dialogs.add_supply import new_id
from tui.dialogs.edit_setting import changes
from tui.view import View
from tui.widgets.setting_text import allowed, read_value, show_value, typed_value
from tui.widgets.settings import Field, house_fields, stage_fields, supply_fields

ALL = [field for kind in KINDS for field in stage_fields(blank(kind, kind))] + house_fields(HOUSE)


def field(name: str, stage: AnyStage | None = None) -> Field:
    there = (
        stage_fields(stage or Softener(id="softener")) + house_fields(HOUSE) + supply_fields(HOUSE.supplies[0], "USD")
    )
    return next(one for one in there if one.name == name)


@pytest.mark.parametrize("kind", list(KINDS))
def test_every_field_of_every_kind_has_a_label_that_allows_its_default(kind: str) -> None:
    for one in stage_fields(blank(kind, kind)):
        assert one.name in STAGE_LABELS
        for system in ("us", "metric"):
            assert read_value(one, typed_value(one, system), system) == one.value if one.value is not None else True
            assert show_value(one, system)


def test_pairs_are_fields_of_some_kind() -> None:
    names = {one.name for one in ALL}
    assert all(low in names and high in names for low, high in BELOW)


TYPED = st.text(max_size=30) | st.floats().map(str) | st.floats(-10, 1e5).map("{:.3f} L".format)


@given(st.sampled_from(ALL), TYPED, st.sampled_from(["us", "metric"]))
def test_nothing_that_is_typed_gets_past_the_range(one: Field, typed: str, system: str) -> None:
    try:
        value = read_value(one, typed, system)  # type: ignore[arg-type]
    except BadInput:
        return
    if one.kind in ("number", "whole") and value is not None:
        assert isinstance(value, (int, float))
        assert one.label.low - 1e-6 <= value <= one.label.high + 1e-3


# 10 lb = 4.5359237 kg, 1 ft3 = 28.316846592 L (NIST SP 811, appendix B.8); 1,000 ft = 304.8 m.
@pytest.mark.parametrize(
    ("name", "typed", "system", "kept"),
    [
        ("salt_dose_kg", "10", "us", 4.5359237),
        ("salt_dose_kg", "10 kg", "us", 10.0),
        ("salt_dose_kg", "10", "metric", 10.0),
        ("cation_resin_l", "1", "us", 28.316846592),
        ("elevation_m", "1,000", "us", 304.8),
        ("elevation_m", "304.8", "metric", 304.8),
        ("reserve_share", "25 %", "us", 0.25),
        ("people", "4", "us", 4.0),
        ("pack", "40", "us", 18.1436948),
        ("lead_days", "10", "us", 10),
    ],
)
def test_what_is_typed_in_the_owner_s_units_is_kept_in_si(name: str, typed: str, system: str, kept: float) -> None:
    assert read_value(field(name), typed, system) == pytest.approx(kept, rel=1e-12)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("name", "typed"),
    [
        ("salt_dose_kg", "0"),
        ("salt_dose_kg", "-1"),
        ("salt_dose_kg", "nan"),
        ("salt_dose_kg", "1e999"),
        ("salt_dose_kg", "5 psi"),
        ("salt_dose_kg", ""),
        ("reserve_share", "120"),
        ("people", "40"),
        ("people", "3 kg"),
        ("lead_days", "1.5"),
        ("installed_on", "2026-02-30"),
        ("name", " "),
    ],
)
def test_what_cannot_be_is_refused_in_words(name: str, typed: str) -> None:
    with pytest.raises(BadInput) as refused:
        read_value(field(name), typed, "us")
    assert str(refused.value)


def test_an_optional_number_may_be_emptied() -> None:
    assert read_value(field("regenerate_every_l"), "", "us") is None
    assert "or empty" in allowed(field("regenerate_every_l"), "us")


def test_a_new_price_is_no_longer_a_default() -> None:
    supplies = (msgspec.structs.replace(HOUSE.supplies[0], price=8.0, price_is_default=True),)
    view = View(Home(msgspec.structs.replace(HOUSE, supplies=supplies)), TODAY)
    made = changes(next(one for one in supply_fields(supplies[0], "USD") if one.name == "price"), 9.5, TODAY, view)
    assert [(one.path, one.value, one.was) for one in made] == [
        ("supplies.salt.price_is_default", False, True),
        ("supplies.salt.price", 9.5, 8.0),
    ]


def test_a_tank_that_would_start_above_its_stop_is_refused() -> None:
    house = msgspec.structs.replace(HOUSE, stages=(blank("pressure_tank", "pressure_tank"),))
    with pytest.raises(BadInput, match="has to be below"):
        changes(field("cut_in_bar", house.stages[0]), 5.0, TODAY, View(Home(house), TODAY))


def test_a_change_that_a_later_one_covers_is_refused_with_the_reason() -> None:
    later = Setting(on=TODAY, path="people", value=4.0, was=2.0, id=1)
    view = View(Home(HOUSE, (later,)), TODAY)
    people = next(one for one in house_fields(view.house) if one.name == "people")
    with pytest.raises(BadInput, match="no effect"):
        changes(people, 3.0, TODAY - timedelta(days=5), view)
    assert changes(people, 3.0, TODAY, view)[0].was == 4.0
    ahead = changes(people, 3.0, TODAY + timedelta(days=5), view)
    assert ahead[0].on > TODAY


def test_a_currency_is_three_letters_and_a_name_is_one_line() -> None:
    assert read_value(field("currency"), "eur", "us") == "EUR"
    with pytest.raises(BadInput, match="three letters"):
        read_value(field("currency"), "euro", "us")
    house_name = next(one for one in house_fields(HOUSE) if one.name == "name")
    assert read_value(house_name, "  Hill\n\tHouse ", "us") == "Hill House"
    assert len(str(read_value(house_name, "x" * 500, "us"))) == 80


def test_a_day_put_in_has_come() -> None:
    assert read_value(field("installed_on"), "today", "us", TODAY) == TODAY.isoformat()
    with pytest.raises(BadInput):
        read_value(field("installed_on"), "2026-11-26", "us", TODAY)


def test_ids_are_numbered_and_plain() -> None:
    assert new_stage_id("softener", HOUSE) == "softener_2"
    assert new_stage_id("ultraviolet", HOUSE) == "ultraviolet"
    assert new_id("Salt", HOUSE) == "salt_2"
    assert new_id("É [b]", HOUSE) == "b"
    assert new_id("盐", HOUSE) == "supply"


async def to_stage(pilot: object, app: WellwardApp, title: str) -> None:
    """Highlight a stage by keys, from the top of the list."""
    await press(pilot, "7")  # type: ignore[arg-type]
    await see(pilot, app, "People in the house")  # type: ignore[arg-type]
    for _ in range(12):
        if str(app.screen.query_one("#part_title").render()).startswith(title):
            return
        await press(pilot, "down")  # type: ignore[arg-type]
    raise AssertionError(f"no stage {title}")


async def test_changing_the_salt_dose_by_keys() -> None:
    app = an_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await to_stage(pilot, app, "Softener")
        await press(pilot, "enter")
        names = [one.name for one in stage_fields(app.session.view.house.stages[-1])]
        app.screen.query_one("#settings", DataTable).move_cursor(row=names.index("salt_dose_kg") - 1)
        await press(pilot, "down", "enter")
        text = await see(pilot, app, "Salt per regeneration")
        assert "Now: 7.94 lb" in text
        await press(pilot, "1", "0", "enter")
        await until(pilot, lambda: isinstance(events(app)[-1], Setting))
        change = events(app)[-1]
        assert isinstance(change, Setting)
        assert (change.path, change.was, change.on) == ("stages.softener.salt_dose_kg", 3.6, TODAY)
        assert change.value == pytest.approx(4.5359237)
        softener = app.session.view.house.stages[-1]
        assert isinstance(softener, Softener)
        assert softener.salt_dose_kg == pytest.approx(4.5359237)
        await see(pilot, app, "10 lb")


async def test_people_from_an_earlier_day_and_a_refusal_on_the_way() -> None:
    app = an_app()
    async with app.run_test(size=(120, 40)) as pilot:
        await press(pilot, "7")
        await see(pilot, app, "People in the house")
        await press(pilot, "enter", "down", "e")
        await see(pilot, app, "Holds from")
        await press(pilot, "9", "9", "enter")
        await see(pilot, app, "Not saved.")
        app.screen.query_one("#entry_value", Input).value = "5"
        app.screen.query_one("#entry_on", Input).value = "2026-11-01"
        await press(pilot, "enter")
        await until(pilot, lambda: isinstance(events(app)[-1], Setting))
        assert events(app)[-1].on == date(2026, 11, 1)
        assert app.session.view.house.people == 5.0


async def test_units_are_chosen_from_a_list_and_all_screens_follow() -> None:
    app = an_app()
    async with app.run_test(size=(120, 40)) as pilot:
        await press(pilot, "7")
        await see(pilot, app, "People in the house")
        await press(pilot, "enter", "down", "down", "enter")
        await see(pilot, app, "New value")
        await press(pilot, "enter", "down", "enter", "ctrl+s")
        await until(pilot, lambda: app.session.view.house.units == "metric")
        await see(pilot, app, "metric: L, cm, mg/L")


async def test_adding_a_stage_with_its_parts_and_removing_it_again() -> None:
    app = an_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "7")
        await see(pilot, app, "People in the house")
        await press(pilot, "a")
        await see(pilot, app, "Add a stage")
        place = [kind for kind in KINDS if kind != "well"].index("ultraviolet")
        await press(pilot, "home", *["down"] * place, "enter")
        text = await see(pilot, app, "Add: Ultraviolet")
        assert "after Softener" in text
        assert "default" in text
        await press(pilot, "ctrl+s")
        await until(pilot, lambda: isinstance(events(app)[-1], StageAdded))
        added = app.session.view.house.stages[-1]
        assert added.id == "ultraviolet"
        assert added.installed_on == TODAY
        assert set(added.supplies) == set(part_roles(added))
        assert {one.id for one in app.session.view.house.supplies} >= set(added.supplies.values())
        assert sum(isinstance(one, SupplyAdded) for one in events(app)) == len(part_roles(added))
        assert any(due.stage == "ultraviolet" for due in app.session.view.plan.due)

        await until(pilot, lambda: str(app.screen.query_one("#part_title").render()).startswith("Ultraviolet"))
        await press(pilot, "d")
        await see(pilot, app, "Take out: Ultraviolet?")
        await press(pilot, "enter")
        await until(pilot, lambda: isinstance(events(app)[-1], StageRemoved))
        assert [one.id for one in app.session.view.house.stages] == ["well", "sediment_filter", "softener"]


async def test_removing_asks_and_escape_keeps_the_stage() -> None:
    app = an_app()
    before = len(events(app))
    async with app.run_test(size=(80, 24)) as pilot:
        await to_stage(pilot, app, "Sediment filter")
        await press(pilot, "d")
        await see(pilot, app, "Take out:")
        await press(pilot, "escape")
        await until(pilot, lambda: len(app.screen_stack) == 1)
        assert len(events(app)) == before


async def test_a_moved_stage_keeps_its_history_and_its_handle() -> None:
    app = an_app(a_store(HandleMoved(on=TODAY, handle="sediment_filter.bypass", position="bypass", note="leaks")))
    async with app.run_test(size=(80, 24)) as pilot:
        await to_stage(pilot, app, "Sediment filter")
        await press(pilot, "o")
        await see(pilot, app, "Move: Sediment filter")
        await press(pilot, "ctrl+s")
        await see(pilot, app, "where it stands already")
        app.screen.query_one("#entry_after", Select).value = "softener"
        await press(pilot, "ctrl+s")
        ids = ["well", "softener", "sediment_filter"]
        await until(pilot, lambda: [one.id for one in app.session.view.house.stages] == ids)
        assert app.session.view.situation.bypassed["sediment_filter"].words == "leaks"
        row = next(one for one in app.session.view.plan.due if one.task == CARTRIDGE)
        assert "1 Sep" in " ".join(row.why)


async def test_a_replaced_stage_stands_in_its_place_under_a_new_id() -> None:
    app = an_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await to_stage(pilot, app, "Sediment filter")
        await press(pilot, "c")
        text = await see(pilot, app, "In place of: Sediment filter")
        assert "Where" not in text
        await press(pilot, "ctrl+s")
        ids = ["well", "sediment_filter_2", "softener"]
        await until(pilot, lambda: [one.id for one in app.session.view.house.stages] == ids)
        await press(pilot, "u", "y")
        await until(pilot, lambda: app.session.view.house.stages[1].id == "sediment_filter")


async def test_a_well_is_not_moved() -> None:
    app = an_app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await to_stage(pilot, app, "Well")
        await press(pilot, "o")
        await see(pilot, app, "no other place to stand")


async def test_a_stage_is_not_put_in_tomorrow() -> None:
    app = an_app()
    async with app.run_test(size=(120, 40)) as pilot:
        await press(pilot, "7", "a")
        await see(pilot, app, "Add a stage")
        await press(pilot, "enter")
        await see(pilot, app, "Put in on")
        app.screen.query_one("#entry_on", Input).value = (TODAY + timedelta(days=1)).isoformat()
        await press(pilot, "ctrl+s")
        await see(pilot, app, "Not saved. That day has not come yet")


async def test_a_blank_home_gets_its_first_stage() -> None:
    app = an_app(a_store(house=House(name="New", started=TODAY)))
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "7")
        await see(pilot, app, "Press a to add the first")
        await press(pilot, "a")
        await see(pilot, app, "Add a stage")
        await press(pilot, "enter")
        await see(pilot, app, "Add: Well")
        await press(pilot, "ctrl+s")
        await until(pilot, lambda: [one.id for one in app.session.view.house.stages] == ["well"])


async def test_markup_in_names_is_shown_as_typed() -> None:
    stages = (msgspec.structs.replace(HOUSE.stages[0], title="Well [/b] [x=y]"), *HOUSE.stages[1:])
    app = an_app(a_store(house=msgspec.structs.replace(HOUSE, stages=stages)))
    async with app.run_test(size=(80, 24)) as pilot:
        await to_stage(pilot, app, "Well [/b]")
        await press(pilot, "d")
        await see(pilot, app, "Take out: Well [/b] [x=y]?")
