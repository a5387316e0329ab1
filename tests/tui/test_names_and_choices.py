"""Titles instead of ids, sensible choices, whole undos, readings where they belong, prices that are not known yet."""

from __future__ import annotations

import msgspec
import pytest
from textual.command import CommandPalette
from textual.pilot import Pilot
from textual.widgets import Input, OptionList, Select

from model.equipment.reverse_osmosis import ReverseOsmosis
from model.equipment.sediment_filter import SedimentFilter
from model.home import House, Supply
from model.records.events import (
    Correction,
    Incident,
    PausedService,
    Reading,
    Service,
    Setting,
    StageAdded,
    SupplyAdded,
    Taken,
)
from tests.tui.helpers import HOUSE, SALT, STAGES, TODAY, a_store, an_app, events, press, see, shown, until
from tui.app import WellwardApp
from tui.dialogs.add_stage import kind_list, stage_form
from tui.dialogs.edit_setting import changes
from tui.dialogs.form import Form
from tui.dialogs.reading import ReadingForm, default_point, quantity_choices
from tui.palette import rank
from tui.widgets.house_parts import parts_of

WITH_RO = msgspec.structs.replace(
    HOUSE,
    stages=(*STAGES, ReverseOsmosis(id="reverse_osmosis", title="Kitchen RO")),
    supplies=(*HOUSE.supplies, Supply(id="lamp", title="Lamp")),
)


async def _form(pilot: Pilot[None], app: WellwardApp) -> None:
    await press(pilot, "r")
    await until(pilot, lambda: isinstance(app.screen, Form))


# Names


async def test_alerts_and_log_say_titles_and_never_ids() -> None:
    house = msgspec.structs.replace(
        WITH_RO, stages=(*WITH_RO.stages, SedimentFilter(id="sediment_filter_2", title="Cellar filter"))
    )
    read = (
        Reading(on=TODAY, taken=Taken(quantity="nitrate", value=14.0, point="ro", entered="14 mg/L as N")),
        Reading(on=TODAY, taken=Taken(quantity="pressure_in", value=3.0, point="sediment_filter_2", entered="43 psi")),
        Setting(on=TODAY, path="stages.softener.salt_dose_kg", value=7.0, was=5.0),
    )
    app = an_app(a_store(*read, house=house))
    async with app.run_test(size=(140, 40)) as pilot:
        await see(pilot, app, "Overdue")
        await press(pilot, "w")
        text = await see(pilot, app, "Kitchen RO tap")
        assert ", ro:" not in text
        await press(pilot, "escape", "6")
        log = await see(pilot, app, "Cellar filter")
        assert "Kitchen RO tap" in log
        assert "sediment filter 2" not in log
        assert "from 5.0" not in log
        assert "salt_dose_kg" not in log
        assert "15.4 lb" in log, "7 kg in the units of the house"


def test_a_second_stage_of_a_kind_has_its_number_in_its_title() -> None:
    house = msgspec.structs.replace(HOUSE, stages=(*STAGES, SedimentFilter(id="sediment_filter_2")))
    assert {"Sediment filter", "Sediment filter 2"} <= {part.title for part in parts_of(house)}
    form = stage_form("softener", an_app(a_store(house=house)).session.view)
    assert next(one.value for one in form._entries if one.id == "set_title") == "Softener 2"


async def test_monthly_jobs_are_not_every_1_months() -> None:
    app = an_app()
    async with app.run_test(size=(140, 40)) as pilot:
        await see(pilot, app, "Overdue")
        whys = [why for due in app.session.view.plan.due for why in due.why]
        assert any("every month (" in why for why in whys)
        assert not any("every 1 month" in why for why in whys)


# House


def test_a_second_well_is_not_offered_and_only_sensible_places_are() -> None:
    view = an_app(a_store(house=WITH_RO)).session.view
    assert "well" not in [kind for kind, _ in kind_list(view.house)._choices]
    assert "well" in [kind for kind, _ in kind_list(House(name="New", started=TODAY))._choices]

    def places(kind: str) -> tuple[str, ...]:
        place = next(one for one in stage_form(kind, view)._entries if one.id == "after")
        return tuple(value for value, _ in place.choices)

    assert places("pressure_tank") == ("well", "sediment_filter")
    assert places("ultraviolet") == ("well", "sediment_filter", "softener")
    assert places("reverse_osmosis") == places("part") == ("",)


async def test_undo_of_an_added_stage_takes_its_supplies_back_too_and_the_log_brings_all_back() -> None:
    app = an_app()
    async with app.run_test(size=(120, 40)) as pilot:
        await see(pilot, app, "Overdue")
        before = app.session.view.house
        supply = SupplyAdded(on=TODAY, supply={"id": "lamp", "title": "Lamp"})
        stage = StageAdded(on=TODAY, stage={"kind": "ultraviolet", "id": "ultraviolet", "supplies": {"lamp": "lamp"}})
        app.record(supply, stage)
        after = app.session.view.house
        assert len(after.supplies) == len(before.supplies) + 1
        await press(pilot, "u")
        text = await see(pilot, app, "Stage added")
        assert "Supply added" in text
        await press(pilot, "y")
        await until(pilot, lambda: isinstance(events(app)[-1], Correction))
        assert app.session.view.house == before
        await press(pilot, "6")
        await see(pilot, app, "Taken back")
        await press(pilot, "x")
        await see(pilot, app, "Take this back?")
        await press(pilot, "y")
        await until(pilot, lambda: app.session.view.house == after)


async def test_undo_of_a_price_takes_it_back_fully() -> None:
    supplies = (msgspec.structs.replace(HOUSE.supplies[0], price=9.0, price_is_default=True), *HOUSE.supplies[1:])
    app = an_app(a_store(house=msgspec.structs.replace(HOUSE, supplies=supplies)))
    async with app.run_test(size=(120, 40)) as pilot:
        await see(pilot, app, "Overdue")
        view = app.session.view
        fields = next(part for part in parts_of(view.house) if part.id == "supply.salt").fields
        price = next(field for field in fields if field.name == "price")
        app.record(*changes(price, 12.5, TODAY, view))
        assert (app.session.view.house.supplies[0].price, app.session.view.house.supplies[0].price_is_default) == (
            12.5,
            False,
        )
        await press(pilot, "u", "y")
        await until(pilot, lambda: isinstance(events(app)[-1], Correction))
        assert app.session.view.house.supplies == supplies


async def test_redo_by_taking_a_correction_back() -> None:
    app = an_app(a_store(Incident(on=TODAY, what="storm")))
    async with app.run_test(size=(120, 30)) as pilot:
        await see(pilot, app, "Overdue")
        await press(pilot, "u", "y")
        await until(pilot, lambda: isinstance(events(app)[-1], Correction))
        await press(pilot, "6")
        await see(pilot, app, "(taken back) Happened")
        await press(pilot, "x", "y")
        await until(pilot, lambda: "(taken back) Happened" not in shown(app))


# Readings, prices, finding


def test_quantities_are_offered_from_the_well_to_the_tap_and_ro_only_where_there_is_one() -> None:
    without, with_ro = ([name for name, _ in quantity_choices(house)] for house in (HOUSE, WITH_RO))
    assert without[0] == "meter"
    assert without.index("pressure_in") < without.index("salt_depth") < without.index("pH")
    assert not any(name.startswith("ro_") for name in without)
    assert with_ro.index("salt_depth") < with_ro.index("ro_flow") < with_ro.index("pH")


def test_what_the_raw_water_is_made_of_is_asked_at_the_source_until_it_is_known() -> None:
    from model.records.quantities import QUANTITIES

    view = an_app().session.view
    assert default_point(view, QUANTITIES["nitrate"]) == "source"
    assert default_point(view, QUANTITIES["pH"]) == "tap", "the report has it for the source"
    assert default_point(view, QUANTITIES["lead"]) == "tap"


async def test_the_point_chosen_last_is_kept_for_the_next_quantity_and_the_next_reading() -> None:
    app = an_app()
    async with app.run_test(size=(100, 30), notifications=True) as pilot:
        await see(pilot, app, "Overdue")
        await _form(pilot, app)
        app.screen.query_one("#entry_quantity", Select).value = "pH"
        await until(pilot, lambda: app.screen.query_one("#entry_point", Select).value == "tap")
        app.screen.query_one("#entry_point").focus()
        await press(pilot, "enter", "home", "down", "enter")
        await until(pilot, lambda: app.screen.query_one("#entry_point", Select).value == "after_sediment_filter")
        app.screen.query_one("#entry_quantity", Select).value = "hardness"
        await pilot.pause()
        assert app.screen.query_one("#entry_point", Select).value == "after_sediment_filter"
        app.screen.query_one("#entry_value", Input).value = "8"
        await press(pilot, "ctrl+s")
        await until(pilot, lambda: isinstance(events(app)[-1], Reading))
        await _form(pilot, app)
        app.screen.query_one("#entry_quantity", Select).value = "iron"
        await pilot.pause()
        assert isinstance(app.screen, ReadingForm)
        assert app.screen.query_one("#entry_point", Select).value == "after_sediment_filter"


async def test_a_supply_without_a_price_is_not_free() -> None:
    salt, cartridge = HOUSE.supplies
    priced = msgspec.structs.replace(HOUSE, supplies=(msgspec.structs.replace(salt, price=9.0), cartridge))
    app = an_app(a_store(house=priced))
    async with app.run_test(size=(80, 40)) as pilot:
        await press(pilot, "5")
        text = " ".join((await see(pilot, app, "no price yet")).split())
        assert "without 1 supply that has no price yet" in text
        await press(pilot, "4")
        assert "0.00" not in await see(pilot, app, "no price yet")


@pytest.mark.parametrize(("query", "first"), [("salt", "the salt"), ("nitrate", "Laboratory test: nitrate")])
async def test_find_has_words_of_titles_first(query: str, first: str) -> None:
    app = an_app()
    async with app.run_test(size=(100, 30)) as pilot:
        await press(pilot, "ctrl+p")
        await until(pilot, lambda: isinstance(app.screen, CommandPalette))
        await press(pilot, *query)
        await until(pilot, lambda: app.screen.query_one(OptionList).option_count > 0)
        await pilot.pause(0.3)
        found = app.screen.query_one(OptionList)
        assert first in str(found.get_option_at_index(0).prompt)


def test_rank_orders_title_words_before_parts_before_what_is_said_about_it() -> None:
    found = (("Refill the salt", ""), ("Unsalted", ""), ("Move", "salt"), ("s a lt", ""))
    ranks = [rank("salt", *one) for one in found]
    assert ranks == sorted(ranks, reverse=True)
    assert len(set(ranks)) == 4


def test_the_service_ends_a_pause_only_while_it_stands() -> None:
    store = a_store(PausedService(on=TODAY, task=SALT, ticked=(0,)), Service(on=TODAY, task=SALT))
    store.append(Correction(on=TODAY, voids=store.home.events[-1].id))
    view = an_app(store).session.view
    assert next(due for due in view.plan.due if due.task == SALT).paused


async def test_letters_typed_in_an_open_list_find_what_was_read() -> None:
    app = an_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await see(pilot, app, "Overdue")
        await _form(pilot, app)
        await press(pilot, "enter", *"nitrate", "enter")
        await until(pilot, lambda: app.screen.query_one("#entry_quantity", Select).value == "nitrate")
