"""The monthly round: every reading of the menu exists, the walk is in order, what is typed is what is read."""

from __future__ import annotations

from datetime import date, timedelta

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model.equipment.sediment_filter import SedimentFilter
from model.equipment.softener import Softener
from model.equipment.well import Well
from model.errors import BadInput
from model.home import House
from model.records import intake
from model.records.events import AnyEvent, LabReport, Reading, Taken
from model.records.history import History
from model.records.quantities import QUANTITIES
from model.units import UNITS, from_si
from model.upkeep.covered import covered
from model.upkeep.monthly_round import RoundStop, round_stops, take_row, taken_in
from model.upkeep.round_sheet import rows_of, sheet
from tests.records.houses import TRAIN, house

TODAY = date(2027, 3, 1)
US = house()


def history(*events: AnyEvent) -> History:
    numbered = tuple(msgspec.structs.replace(one, id=place) for place, one in enumerate(events, start=1))
    return History(numbered, TODAY)


def walk(home: House = US, *events: AnyEvent) -> tuple[RoundStop, ...]:
    return round_stops(home, history(*events))


def read(quantity: str, point: str, days: int, entered: str = "", value: float = 1.0) -> Reading:
    taken = Taken(quantity=quantity, value=value, point=point, entered=entered)
    return Reading(on=TODAY - timedelta(days=days), taken=taken)


# What the trade reads (common practice, no source): the reading -> its quantities.
MENU = {
    "meter": ("meter", "night_flow"),
    "salt depth, level of water": ("salt_depth", "brine_level"),
    "regeneration counter, days and water since": (
        "regenerations",
        "days_since_regeneration",
        "water_since_regeneration",
    ),
    "gauges in and out": ("pressure_in", "pressure_out"),
    "pump cycle": ("cut_in", "cut_out", "run_time", "drawdown"),
    "precharge": ("precharge",),
    "pH": ("pH",),
    "hardness": ("hardness",),
    "nitrate": ("nitrate",),
    "iron": ("iron",),
    "RO": ("ro_feed_tds", "ro_product_tds", "temperature", "feed_pressure", "ro_flow"),
    "UV": ("lamp_hours", "uv_intensity"),
    "freeboard": ("freeboard", "bed_depth"),
    "copper and lead": ("copper", "lead"),
    "well": ("temperature", "static_level", "pumping_level", "well_yield", "pump_current", "pump_voltage"),
    "regeneration watched": ("brine_draw", "drain_runs"),
}


@pytest.mark.parametrize("quantities", MENU.values(), ids=list(MENU))
def test_every_reading_of_the_menu_can_be_recorded(quantities: tuple[str, ...]) -> None:
    for name in quantities:
        known = QUANTITIES[name]
        low, high = known.unlikely_below or 0.0, known.unlikely_above or 100.0
        middle = float(round((low + high) / 2.0))
        for unit in UNITS[known.dimension]:
            typed = repr(from_si(middle, unit.name, known.dimension))
            assert take(name, typed, unit.name) == pytest.approx(middle, rel=1e-6)


def take(quantity: str, value: str, unit: str) -> float:
    point = {"pressure_in": "sediment_filter", "pressure_out": "sediment_filter"}.get(quantity)
    return intake.take(US, quantity, value, unit, point).value


def test_the_walk_goes_from_the_well_to_the_tap() -> None:
    titles = [stop.title for stop in walk()]
    assert titles == [
        "First thing in the morning",
        "Water meter",
        "Well",
        "Pressure tank",
        "Sediment filter",
        "Acid neutralizer",
        "Softener",
        "Ultraviolet",
        "Kitchen tap, cold",
        "Reverse osmosis",
    ]


def test_what_is_not_there_is_not_asked() -> None:
    small = house(stages=(Well(id="well"), Softener(id="softener")))
    asked = {row.quantity for row in rows_of(walk(small))}
    assert not {"lamp_hours", "ro_flow", "cut_in", "pressure_in", "uv_intensity"} & asked
    assert [row.id for row in rows_of(walk(house(stages=())))] == ["meter-house-"]
    assert len({row.id for row in rows_of(walk(small))}) == len(list(rows_of(walk(small))))


def test_what_is_read_every_few_months_waits_and_a_sensor_must_have_been_read_once() -> None:
    assert "uv_intensity" not in {row.quantity for row in rows_of(walk())}
    assert "uv_intensity" in {row.quantity for row in rows_of(walk(US, read("uv_intensity", "ultraviolet", 30)))}
    lately, long_ago = (walk(US, read("run_time", "pressure_tank", days)) for days in (30, 85))
    assert "run_time" not in {row.quantity for row in rows_of(lately)}
    assert "run_time" in {row.quantity for row in rows_of(long_ago)}
    begun = round_stops(US, history(read("run_time", "pressure_tank", 30)), ["run_time-pressure_tank-"])
    assert "run_time" in {row.quantity for row in rows_of(begun)}


def test_the_unit_is_that_of_the_last_reading_at_home_and_never_guessed_for_nitrate() -> None:
    lab = LabReport(
        on=TODAY - timedelta(days=9),
        point="source",
        taken=(Taken(quantity="nitrate", value=9.0, point="source", entered="9 mg/L as N"),),
    )
    fresh = next(row for row in rows_of(walk(US, lab)) if row.id == "nitrate-source-")
    assert (fresh.unit, fresh.last) == ("", "9 mg/L as N")
    with pytest.raises(BadInput, match="as N or mg/L as NO3"):
        take_row(US, fresh, "40", TODAY)
    assert take_row(US, fresh, "44.27 mg/L as NO3", TODAY).value == pytest.approx(10.0, rel=1e-3)
    own = walk(US, lab, read("nitrate", "source", 5, "40 mg/L as NO3", 9.04))
    row = next(row for row in rows_of(own) if row.id == "nitrate-source-")
    assert (row.unit, row.last) == ("mg/L as NO3", "40")
    assert take_row(US, row, "44.27", TODAY).value == pytest.approx(10.0, rel=1e-3)


def test_how_it_was_read_stands_behind_the_value() -> None:
    row = next(row for row in rows_of(walk()) if row.id == "nitrate-after_softener-")
    taken = take_row(US, row, "<2 mg/L as N strip lot A12 exp 2027-02", TODAY)
    assert (taken.qualifier, taken.method, taken.kit, taken.kit_expires) == ("<", "strip", "A12", date(2027, 2, 28))
    morning = next(iter(rows_of(walk())))
    assert take_row(US, morning, "8.9", TODAY).state == "at_rest"


def test_water_since_the_regeneration_goes_with_what_is_read_behind_the_softener() -> None:
    typed = {
        "water_since_regeneration-softener-": "100 gal",
        "hardness-after_softener-flowing": "1",
        "hardness-source-flowing": "7",
    }
    found = taken_in(US, rows_of(walk()), typed, TODAY)
    assert found["hardness-after_softener-flowing"].since_regeneration_l == pytest.approx(378.5, abs=0.1)
    assert found["hardness-source-flowing"].since_regeneration_l is None


ROWS = tuple(rows_of(walk()))


@given(st.data())
@settings(max_examples=60)
def test_any_rows_filled_in_any_unit_are_read_exactly(data: st.DataObject) -> None:
    chosen = data.draw(st.sets(st.sampled_from([row.id for row in ROWS])))
    wanted, typed = {}, {row.id: "" for row in ROWS}
    for row in ROWS:
        if row.id in chosen:
            known = QUANTITIES[row.quantity]
            high = min(known.unlikely_above or 9.0, 80.0)
            value = data.draw(st.floats(known.unlikely_below or 0.01, high))
            value = float(round(value)) if known.dimension == "count" else value
            unit = data.draw(st.sampled_from([unit.name for unit in UNITS[known.dimension]]))
            number = from_si(value, unit, known.dimension)
            wanted[row.id] = (row.quantity, row.point, row.state, value)
            typed[row.id] = f"{number!r} {unit}".strip()
    found = taken_in(US, ROWS, typed, TODAY)
    assert {name: (one.quantity, one.point, one.state) for name, one in found.items()} == {
        name: one[:3] for name, one in wanted.items()
    }
    assert all(found[name].value == pytest.approx(one[3], rel=1e-9, abs=1e-9) for name, one in wanted.items())


BIG = house(stages=(*TRAIN, SedimentFilter(id="sediment_filter_2"), Softener(id="softener_2")))


@pytest.mark.parametrize("home", [US, house("metric"), BIG], ids=["us", "metric", "two softeners"])
def test_the_page_fits_and_leaves_no_value_out(home: House) -> None:
    stops = walk(home)
    lines = sheet(home.name, TODAY, stops)
    assert len(lines) <= 60
    assert max(map(len, lines)) <= 80
    assert sum("__________ " in f"{line} " and line.startswith("  ") for line in lines) == len(list(rows_of(stops)))


ANION = Softener(id="softener", brine_tank_height_cm=84.0, anion_resin_l=10.0, anion_type="nitrate_selective")
WITH_ANION = house(stages=tuple(ANION if one.id == "softener" else one for one in TRAIN))


def filled(typed: dict[str, str]) -> tuple[Taken, ...]:
    return tuple(taken_in(WITH_ANION, ROWS, typed, TODAY).values())


NITRATE = {"regenerations-softener-": "400", "nitrate-source-": "12 mg/L as N"}
AFTER = "nitrate-after_softener-"


@pytest.mark.parametrize(
    ("typed", "task", "refused"),
    [
        pytest.param(NITRATE | {AFTER: "2 mg/L as N"}, "softener.nitrate_check", "", id="nitrate held"),
        pytest.param(NITRATE | {AFTER: "<2 mg/L as N"}, "softener.nitrate_check", "", id="a bound"),
        pytest.param(NITRATE | {AFTER: "2-5 mg/L as N"}, "softener.nitrate_check", "not below 5", id="a pad up to 5"),
        pytest.param(NITRATE | {AFTER: "6 mg/L as N"}, "softener.nitrate_check", "not below 5", id="nitrate over"),
        pytest.param(
            {"salt_depth-softener-": "20 in", "regenerations-softener-": "400"}, "softener.salt_check", "", id="salt"
        ),
        pytest.param(
            {"salt_depth-softener-": "5 in", "regenerations-softener-": "400"}, "softener.salt_check", "third", id="low"
        ),
        pytest.param({"lamp_hours-ultraviolet-": "5000"}, "ultraviolet.glance", "", id="lamp, no sensor"),
        pytest.param({"lamp_hours-ultraviolet-": "9100"}, "ultraviolet.glance", "9,000", id="old lamp"),
    ],
)
def test_a_check_is_covered_by_all_its_readings_and_refused_by_its_own_marks(
    typed: dict[str, str], task: str, refused: str
) -> None:
    (found,) = (one for one in covered(WITH_ANION, history(), filled(typed)) if one.task == task)
    assert found.criteria
    assert refused in found.not_met if refused else not found.not_met


@pytest.mark.parametrize(
    "typed",
    [
        pytest.param(NITRATE, id="nitrate not read after the resin"),
        pytest.param({"salt_depth-softener-": "20 in"}, id="no counter"),
        pytest.param(
            {
                "regenerations-softener-": "400",
                "hardness-source-flowing": "7",
                "hardness-after_neutralizer-flowing": "9",
                "hardness-after_softener-flowing": "1",
            },
            id="hardness before and after the regeneration is two readings",
        ),
        pytest.param({"pH-tap-at_rest": "7.5", "pH-source-flowing": "6"}, id="water that stood is not water that runs"),
    ],
)
def test_a_check_that_lacks_a_reading_is_not_covered(typed: dict[str, str]) -> None:
    assert covered(WITH_ANION, history(), filled(typed)) == ()


PH_CHECK = {
    "pH-source-flowing": "6",
    "pH-after_neutralizer-flowing": "7.4",
    "pH-tap-flowing": "7.3",
    "hardness-source-flowing": "5",
    "hardness-after_neutralizer-flowing": "8",
}


@pytest.mark.parametrize(("stood", "tasks"), [("", []), ("7.9", ["neutralizer.ph_check"])])
def test_a_pH_check_asks_for_the_first_water_of_the_morning_too(stood: str, tasks: list[str]) -> None:
    typed = PH_CHECK | ({"pH-tap-at_rest": stood} if stood else {})
    assert [one.task for one in covered(WITH_ANION, history(), filled(typed))] == tasks


@pytest.mark.parametrize("end", ["<8.2", ">6.8"])
def test_the_end_of_a_strip_covers_no_pH_check(end: str) -> None:
    typed = PH_CHECK | {"pH-tap-at_rest": "7.9"}
    assert covered(WITH_ANION, history(), filled(typed))
    assert not covered(WITH_ANION, history(), filled(typed | {"pH-after_neutralizer-flowing": end}))


def test_the_end_of_a_strip_is_kept_and_moves_nothing_that_is_reckoned() -> None:
    """Half of a pH, as "less than" counts elsewhere, means nothing."""
    exact = Reading(on=TODAY, taken=Taken(quantity="pH", value=6.3, point="source"))
    low = Reading(on=TODAY, taken=Taken(quantity="pH", value=6.0, point="source", qualifier="<"))
    past = history(exact, low)
    assert [one.taken.value for one in past.taken("pH", "source")] == [6.3]
    assert [one.taken.value for one in past.ends("pH", "source")] == [6.0]
    assert (TODAY, low.taken) in past.every_taken()
    iron = Reading(on=TODAY, taken=Taken(quantity="iron", value=0.05, point="source", qualifier="<"))
    assert len(history(iron).taken("iron", "source")) == 1


def test_standing_water_moves_nothing_that_is_reckoned_from_running_water() -> None:
    stood = Reading(on=TODAY, taken=Taken(quantity="pH", value=9.6, point="tap", state="at_rest"))
    lead = Reading(on=TODAY, taken=Taken(quantity="lead", value=0.02, point="tap", state="at_rest"))
    past = history(stood, lead)
    assert past.taken("pH", "tap") == []
    assert [one.taken.value for one in past.standing("pH", "tap")] == [9.6]
    assert [one.taken.value for one in past.taken("lead", "tap")] == [0.02]
