"""Slow parts over ten years: lives, ages, windows and money, held against sums written here."""

from __future__ import annotations

from datetime import date, timedelta
from math import log
from statistics import NormalDist

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.equipment.pressure_tank import PressureTank
from model.equipment.registry import KINDS, AnyStage
from model.equipment.reverse_osmosis import ReverseOsmosis
from model.equipment.ultraviolet import Ultraviolet
from model.equipment.well import Well
from model.forecast.costs import cost_forecast
from model.forecast.lives import Life, done_by, replacements
from model.forecast.situation import Situation
from model.forecast.slow_parts import ten_years
from model.home import Home, House, Supply
from model.plan_types import SlowPart, TenYears
from model.records.events import AnyEvent, Service
from tests.forecast.homes import TODAY, numbered, reading

TANK = Supply(id="tank", title="Tank", price=500.0)
SLEEVE = Supply(id="sleeve", title="Sleeve", price=60.0)
RINGS = Supply(id="rings", title="Rings", price=9.0)


def a_home(stages: tuple[AnyStage, ...], *events: AnyEvent, supplies: tuple[Supply, ...] = ()) -> Home:
    made = House(name="Slow", started=date(2024, 11, 25), stages=stages, supplies=supplies)
    return Home(made, numbered(*events))


def years_of(made: Home) -> TenYears:
    return ten_years(Situation(made, TODAY))


def part_of(made: Home, task: str) -> SlowPart:
    return next(part for part in years_of(made).parts if part.task == task)


def tank_home(installed: date | None, supply: Supply = TANK) -> Home:
    stage = PressureTank(id="pressure_tank", installed_on=installed, supplies={"pressure_tank": "tank"})
    return a_home((stage,), supplies=(supply,))


def years_from(day: date, years: float) -> date:
    return day + timedelta(days=round(365.25 * years))


def test_a_new_tank_has_the_window_of_its_life() -> None:
    """8 to 15 years for 8 in 10: the middle of a log-normal is their geometric mean, 10.95 years."""
    part = part_of(tank_home(TODAY), "pressure_tank.replace_tank")
    for found, years in ((part.earliest, 8.0), (part.middle, (8.0 * 15.0) ** 0.5), (part.latest, 15.0)):
        assert abs((found - years_from(TODAY, years)).days) <= 2
    below_ten = NormalDist(log(120.0) / 2, log(15.0 / 8.0) / (2 * 1.2816)).cdf(log(10.0))
    assert part.chance == pytest.approx(below_ten, abs=0.01)
    assert part.cash is not None
    assert part.cash.expected == pytest.approx(500.0 * below_ten, rel=0.02)
    assert (part.cash.low, part.cash.high) == (0.0, 500.0)


def test_a_tank_that_has_lasted_is_given_what_is_left_of_the_life() -> None:
    """Twelve years old: the dates are those of the log-normal beyond twelve years."""
    part = part_of(tank_home(years_from(TODAY, -12.0)), "pressure_tank.replace_tank")
    law = NormalDist(log(120.0) / 2, log(15.0 / 8.0) / (2 * 1.2816))
    reached = law.cdf(log(12.0))
    for found, chance in ((part.earliest, 0.1), (part.middle, 0.5), (part.latest, 0.9)):
        age = 2.718281828459045 ** law.inv_cdf(reached + chance * (1.0 - reached))
        assert abs((found - years_from(TODAY, age - 12.0)).days) <= 3
    assert part.earliest > TODAY


def test_an_age_that_nobody_knows_counts_from_the_record_and_says_so() -> None:
    part = part_of(tank_home(None), "pressure_tank.replace_tank")
    assert not part.age_known
    assert part.age_years == pytest.approx(2.0, abs=0.01)
    assert "age not known" in part.basis
    assert part_of(tank_home(date(2020, 1, 1)), "pressure_tank.replace_tank").age_known


def test_the_shelf_serves_the_first_replacement() -> None:
    stocked = msgspec.structs.replace(TANK, on_shelf=1.0)
    bare, helped = (part_of(tank_home(date(2016, 1, 1), one), "pressure_tank.replace_tank") for one in (TANK, stocked))
    assert bare.cash is not None
    assert helped.cash is not None
    assert helped.cash.expected == pytest.approx(bare.cash.expected - 500.0 * bare.chance, abs=0.01)


def test_without_a_price_there_is_no_sum_but_a_note() -> None:
    years = years_of(a_home((Well(id="well", installed_on=date(2015, 6, 1)),)))
    (pump,) = years.parts
    assert pump.cash is None
    assert years.total.expected == 0.0
    assert any("Replace the pump: no price known" in note for note in years.notes)


def uv_home(*events: AnyEvent) -> Home:
    stage = Ultraviolet(
        id="ultraviolet", installed_on=date(2025, 11, 25), supplies={"sleeve": "sleeve", "o_rings": "rings"}
    )
    return a_home((stage,), *events, supplies=(SLEEVE, RINGS))


def test_what_protects_health_is_not_left_beyond_its_calendar_day() -> None:
    """A sleeve is changed after 36 months at the latest, though it might last five years."""
    part = part_of(uv_home(), "ultraviolet.replace_sleeve")
    assert part.latest == date(2028, 11, 25)
    assert part.earliest < part.latest


def test_nothing_is_counted_twice() -> None:
    """Rings go with the lamp, each year, and with the sleeve: the slow part takes its own, the rest is the lamp's.

    Ten changes of the lamp at 9 each, on 25 November or before by its hours: 9,000 h are 375 days.
    """
    years = years_of(uv_home())
    sleeve = next(part for part in years.parts if part.task == "ultraviolet.replace_sleeve")
    assert sleeve.cash is not None
    assert sleeve.cash.expected == pytest.approx(69.0 * sleeve.replacements, rel=1e-6)
    assert years.consumables.expected == pytest.approx(10 * 9.0, abs=9.0)
    assert years.total.expected == pytest.approx(years.consumables.expected + years.slow.expected)
    # The list of months has the sleeve on its calendar days, and so is another sum: 2028, 2031 and 2034.
    listed = {item.supply: item for item in cost_forecast(uv_home(), TODAY, 120).items}
    assert listed["sleeve"].cash.expected == 3 * 60.0


def test_a_service_makes_the_part_young_again() -> None:
    done = Service(on=TODAY, task="ultraviolet.replace_sleeve", used={})
    before, after = (part_of(one, "ultraviolet.replace_sleeve") for one in (uv_home(), uv_home(done)))
    assert after.age_years == 0.0
    assert after.earliest > before.earliest


def test_a_membrane_that_is_seen_to_wear_goes_by_its_readings() -> None:
    """Salt passing grows from 5 to 11 % over 364 days, to be changed at 15 %: ln(15/11) / ln(11/5) x 364 = 143 days.

    Up to two months later: the readings do not lie on one curve, and membranes last longer as a rule.
    """
    events: list[AnyEvent] = []
    for quarter in range(5):
        on = TODAY - timedelta(days=91 * (4 - quarter))
        events.append(reading(on, "ro_feed_tds", 200.0, "reverse_osmosis"))
        events.append(reading(on, "ro_product_tds", 10.0 + 3.0 * quarter, "reverse_osmosis"))
    stage = ReverseOsmosis(id="reverse_osmosis", installed_on=TODAY - timedelta(days=370))
    read = part_of(a_home((stage,), *events), "reverse_osmosis.replace_membrane")
    assert 0 <= (read.middle - (TODAY + timedelta(days=143))).days <= 60
    assert "by its readings" in read.basis
    unread = part_of(a_home((stage,)), "reverse_osmosis.replace_membrane")
    assert "for 8 in 10" in unread.basis
    assert unread.middle > read.middle


def test_replacements_of_a_part_that_lasts_exactly_three_years() -> None:
    life = Life(3.0 - 1e-6, 3.0 + 1e-6)
    assert replacements(done_by(life, 1.0, None), done_by(life, 0.0, None), 120) == pytest.approx({3.0: 1.0}, abs=1e-6)


@given(st.floats(1.0, 10.0), st.floats(1.1, 4.0), st.floats(0.0, 30.0))
def test_chances_of_replacements_add_up_and_an_older_part_is_not_likelier_to_last(
    low: float, times: float, age: float
) -> None:
    life = Life(low, low * times)
    found = replacements(done_by(life, age, None), done_by(life, 0.0, None), 60)
    assert sum(found.values()) == pytest.approx(1.0)
    assert all(chance > 0.0 for chance in found.values())
    assert life.age_at(0.1, age) <= life.age_at(0.5, age) <= life.age_at(0.9, age)
    assert life.age_at(0.5, age) >= age


def test_every_slow_part_has_a_life_and_a_source() -> None:
    slow = {f"{kind}.{job.id}": job for kind, row in KINDS.items() for job in row.all_jobs if job.life_years}
    assert {
        "reverse_osmosis.replace_membrane",
        "reverse_osmosis.replace_reservoir",
        "softener.replace_anion_resin",
        "softener.replace_resin",
        "softener.valve_seals",
        "pressure_tank.replace_tank",
        "ultraviolet.replace_sleeve",
        "ultraviolet.replace_ballast",
        "well.replace_pump",
    } <= set(slow)
    for job in slow.values():
        low, high = job.life_years or (0.0, 0.0)
        assert 0.0 < low < high
        assert job.parts
        assert job.life_basis


def test_a_part_replaced_each_month_from_this_one_on_is_counted_in_full() -> None:
    assert replacements(lambda month: 1.0, lambda month: float(month >= 1.0), 12) == {13.0: 1.0}
