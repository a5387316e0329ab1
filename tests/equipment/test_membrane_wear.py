"""Cartridges and membranes: what pressure drops and pairs of solids teach, by hand."""

from __future__ import annotations

from datetime import date, timedelta
from math import exp, log

import pytest

from model.equipment.membrane_wear import NEW_SD, PAIR_SD, Worn, fit
from model.equipment.relations.sediment_filter import drop_after_bar
from model.equipment.sediment_filter import SedimentFilter
from model.plan_types import Due
from model.records.events import AnyEvent, Service
from tests.forecast.homes import TODAY, due_on, meter, raw_water, reading

PRIOR = Worn(log(0.07), log(0.001), NEW_SD**2, 0.36**2)


def test_without_readings_what_was_taken_stands() -> None:
    assert fit(PRIOR, []) == PRIOR


def test_many_pairs_find_passage_and_growth() -> None:
    """8 % when new, 0.2 % a day: 40 pairs without error leave hardly a trace of the prior."""
    found = fit(PRIOR, [(15 * k, 0.08 * exp(0.002 * 15 * k)) for k in range(40)])
    assert exp(found.new) == pytest.approx(0.08, rel=0.02)
    assert exp(found.growth) == pytest.approx(0.002, rel=0.03)
    assert found.growth_var < 0.1 * PRIOR.growth_var


def test_one_pair_of_a_new_membrane_by_hand() -> None:
    """On day 0 growth says nothing: ln(new) weighs prior and pair by their variances."""
    found = fit(PRIOR, [(0, 0.10)])
    share = NEW_SD**2 / (NEW_SD**2 + PAIR_SD**2)
    assert found.new == pytest.approx((1.0 - share) * log(0.07) + share * log(0.10), abs=1e-9)
    assert found.new_var == pytest.approx(NEW_SD**2 * PAIR_SD**2 / (NEW_SD**2 + PAIR_SD**2))
    assert found.growth == pytest.approx(PRIOR.growth)
    assert found.growth_var == pytest.approx(PRIOR.growth_var)


RO = "reverse_osmosis"


def pair(on: date, passage: float, celsius: float | None = None) -> list[AnyEvent]:
    read: list[AnyEvent] = [reading(on, "ro_feed_tds", 300.0, RO), reading(on, "ro_product_tds", 300.0 * passage, RO)]
    return [*read, reading(on, "temperature", celsius, RO)] if celsius is not None else read


def test_cold_water_is_not_taken_for_a_good_membrane() -> None:
    """Passage 8 % in warm water in summer and 6 % in cold in autumn, 6 % a degree: 10 degrees make 0.56, so it rose."""
    summer, autumn = TODAY - timedelta(days=120), TODAY
    told = [*pair(summer, 0.08, 20.0), *pair(autumn, 0.06, 10.0)]
    untold = [*pair(summer, 0.08), *pair(autumn, 0.06)]
    with_cold, without = (due_on([raw_water(), *one], "reverse_osmosis.replace_membrane") for one in (told, untold))
    assert with_cold.middle is not None
    assert without.middle is not None
    assert with_cold.middle < without.middle


CARTRIDGE = "sediment_filter.replace_cartridge"
STAGE = SedimentFilter(id="sediment_filter", rated_l=100_000.0)


def drop(on: date, litres: float, life_l: float) -> list[AnyEvent]:
    """Both gauges, as a cartridge of that life would show them after so many litres."""
    bar = drop_after_bar(litres / life_l, STAGE.clean_drop_bar, STAGE.change_drop_bar, STAGE.drop_exponent)
    return [
        reading(on, "pressure_in", 3.5, "sediment_filter"),
        reading(on, "pressure_out", 3.5 - bar, "sediment_filter"),
    ]


def cartridge(*more: AnyEvent) -> Due:
    return due_on([raw_water(), *meter(500.0, weeks=44), *more], CARTRIDGE)


def test_water_that_loads_twice_as_fast_is_learned_for_the_next_cartridge() -> None:
    """500 L a day; good for 50,000 L instead of 100,000: three cartridges read near their end say so for the fourth."""
    fitted = [TODAY - timedelta(days=90 * k + 1) for k in (3, 2, 1, 0)]
    events: list[AnyEvent] = []
    for on in fitted:
        events.append(Service(on=on, task=CARTRIDGE, used={"cartridge": 1.0}))
        if on != fitted[-1]:
            events += drop(on + timedelta(days=80), 40_000.0, 50_000.0)
    learned, unknown = cartridge(*events), cartridge(events[-1])
    assert learned.middle is not None
    assert unknown.middle is not None
    days = (learned.middle - fitted[-1]).days
    assert 85 <= days <= 130  # 100 by hand: 50,000 L at 500 L a day
    assert (unknown.middle - fitted[-1]).days > 180
    assert learned.latest is not None
    assert unknown.latest is not None
    assert (learned.latest - fitted[-1]) < (unknown.latest - fitted[-1])


def test_a_drop_far_below_what_the_litres_say_is_told_and_postpones_nothing() -> None:
    """95,000 L through a cartridge good for 20,000, and hardly any drop: torn, bypassed, or a gauge."""
    small = (SedimentFilter(id="sediment_filter", rated_l=20_000.0),)
    events = [*meter(500.0, weeks=44), Service(on=TODAY - timedelta(days=190), task=CARTRIDGE)]
    before = due_on(events, CARTRIDGE, stages=small)
    odd = due_on([*events, *drop(TODAY, 1_000.0, 100_000.0)], CARTRIDGE, stages=small)
    assert (odd.act_on, odd.middle) == (before.act_on, before.middle)
    assert "torn or bypassed" in odd.why[0]
