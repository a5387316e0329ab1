"""Every finding with a series that raises it and one near it that does not; limits worked out by hand beside each."""

from __future__ import annotations

from datetime import date

from model.records.events import Service
from tests.findings.series import (
    FILLED,
    NOV_1,
    NOV_20,
    OCT_1,
    Case,
    at,
    cleaned,
    end,
    gauges,
    glass,
    hardness_check,
    last_meter,
    monthly,
    nights,
    ro,
    solids,
    stood,
    thrice,
    with_lamp,
)
from tests.forecast.homes import TODAY

# Boyle, 300 L: 300 (3.633 / 3.773 - 3.633 / 5.153) = 77.4 L; less 15 % is 65.8 L.
# Salt: 500 L a day at 4 kg each 4,000 L is about 0.5 kg a day, 25 kg in 50 days, 14 cm at 1.8 kg a cm.
CASES: tuple[Case, ...] = (
    # 40 ft down to 120 ft.
    Case(
        "falling_level.well",
        at(OCT_1, well__static_level=12.2) + at(NOV_20, well__static_level=36.6),
        at(OCT_1, well__static_level=12.2) + at(NOV_20, well__static_level=14.5),
        "dry",
    ),
    Case(
        "falling_level.well",
        at(OCT_1, well__well_yield=20.0) + at(NOV_20, well__well_yield=12.0),
        at(OCT_1, well__well_yield=20.0) + at(NOV_20, well__well_yield=16.0),
        "dry",
    ),
    Case(
        "long_run.pressure_tank",
        at(NOV_20, pressure_tank__run_time=1200.0),
        at(NOV_20, pressure_tank__run_time=300.0),
        "leak",
    ),
    # Cut-in 2.76 bar, less 5 psi is 2.42.
    Case(
        "low_supply.pressure_tank",
        at(NOV_20, sediment_filter__pressure_in=2.3),
        at(NOV_20, sediment_filter__pressure_in=2.5),
        "switch",
    ),
    Case(
        "short_cycling.pressure_tank",
        at(NOV_20, pressure_tank__run_time=12.0),
        at(NOV_20, pressure_tank__run_time=75.0),
        "air",
    ),
    Case(
        "drawdown_loss.pressure_tank",
        [*at(OCT_1, pressure_tank__drawdown=78.0), *at(NOV_20, pressure_tank__drawdown=64.0)],
        [*at(OCT_1, pressure_tank__drawdown=78.0), *at(NOV_20, pressure_tank__drawdown=70.0)],
        "air",
    ),
    Case(
        "drawdown_loss.pressure_tank",
        at(NOV_20, pressure_tank__drawdown=62.0),
        at(NOV_20, pressure_tank__drawdown=70.0),
        "air",
    ),
    Case(
        "precharge_over_cut_in.pressure_tank",
        at(NOV_20, pressure_tank__cut_in=2.7, pressure_tank__precharge=2.8),
        at(NOV_20, pressure_tank__cut_in=2.7, pressure_tank__precharge=2.6),
        "set",
    ),
    Case(
        "loaded_filter.sediment_filter",
        at(NOV_20, sediment_filter__pressure_in=3.9, sediment_filter__pressure_out=3.0),
        at(NOV_20, sediment_filter__pressure_in=3.9, sediment_filter__pressure_out=3.2),
        "full",
    ),
    Case(
        "still_acid.neutralizer", at(NOV_20, after_neutralizer__pH=6.3), at(NOV_20, after_neutralizer__pH=7.0), "spent"
    ),
    Case(
        "still_acid.neutralizer",
        at(NOV_20, neutralizer__bed_depth=80.0, after_neutralizer__pH=6.3),
        at(NOV_20, neutralizer__bed_depth=80.0, after_neutralizer__pH=7.0),
        "channel",
    ),
    # A strip's end under 6.5 says it; over 6.0 or under 7.0 says nothing; an exact one since counts.
    Case("still_acid.neutralizer", [end("<", 6.5)], [end(">", 6.0)], "spent"),
    Case("still_acid.neutralizer", [end("<", 6.0)], [end("<", 7.0)], "spent"),
    Case(
        "still_acid.neutralizer",
        [*at(NOV_1, after_neutralizer__pH=7.2), end("<", 6.2)],
        [end("<", 6.2, NOV_1), *at(NOV_20, after_neutralizer__pH=7.2)],
        "spent",
    ),
    Case("over_corrected.neutralizer", [end(">", 9.0)], [end(">", 8.4)], "meter"),
    Case("over_corrected.neutralizer", [end(">", 9.0)], [end("<", 9.5)], "meter"),
    Case(
        "over_corrected_standing.neutralizer",
        [end(">", 9.0, state="at_rest")],
        [end(">", 8.4, state="at_rest")],
        "meter",
    ),
    Case("over_corrected_standing.neutralizer", [stood(9.6)], [stood(8.7)], "meter"),
    Case(
        "over_corrected_standing.neutralizer",
        at(NOV_20, after_neutralizer__pH=9.5) + at(NOV_20, after_neutralizer__pH=7.6),
        at(NOV_20, after_neutralizer__pH=8.6) + at(NOV_20, after_neutralizer__pH=7.6),
        "meter",
    ),
    Case(
        "over_corrected.neutralizer",
        at(NOV_20, after_neutralizer__pH=9.4),
        at(NOV_20, after_neutralizer__pH=8.6),
        "meter",
    ),
    # To bring pH 6.2 to 7.2 takes some 45 g of calcite a m3: 4 kg in 92 m3, 6 cm of a bed with 0.73 kg in each.
    Case(
        "bed_stays.neutralizer",
        at(date(2026, 3, 2), after_neutralizer__pH=7.2, neutralizer__bed_depth=80.0)
        + at(date(2026, 9, 2), neutralizer__bed_depth=80.0),
        at(date(2026, 3, 2), after_neutralizer__pH=7.2, neutralizer__bed_depth=80.0)
        + at(date(2026, 9, 2), neutralizer__bed_depth=74.0),
        "channel",
    ),
    Case(
        "bed_lost.neutralizer",
        at(date(2026, 3, 2), after_neutralizer__pH=7.2, neutralizer__bed_depth=80.0)
        + at(date(2026, 9, 2), neutralizer__bed_depth=60.0),
        at(date(2026, 3, 2), after_neutralizer__pH=7.2, neutralizer__bed_depth=80.0)
        + at(date(2026, 9, 2), neutralizer__bed_depth=74.0),
        "backwash",
    ),
    # The first two mean 7.55; the last two lie 0.45 and 0.55 under that.
    Case(
        "falling_pH.neutralizer",
        monthly("after_neutralizer", "pH", 7.6, 7.5, 7.3, 7.1, 7.0),
        monthly("after_neutralizer", "pH", 7.6, 7.5, 7.4, 7.4, 7.3),
        "spent",
    ),
    # Media put in and running in: 8.9 counts as 8.0.
    Case(
        "falling_pH.neutralizer",
        [*at(NOV_1, neutralizer__bed_depth=80.0), *monthly("after_neutralizer", "pH", 7.6, 7.6, 7.6, 7.1, 7.0)],
        [*at(NOV_1, neutralizer__bed_depth=80.0), *monthly("after_neutralizer", "pH", 8.9, 8.7, 8.2, 7.8, 7.7)],
        "channel",
    ),
    # 15 psi is 1.03 bar; 5 psi is 0.345 bar more than the 0.2 that it usually takes.
    Case("bed_drop.neutralizer", gauges("neutralizer", 1.03), gauges("neutralizer", 0.6), "fines"),
    Case(
        "bed_drop.neutralizer",
        gauges("neutralizer", 0.2, 0.2, 0.3, 0.56),
        gauges("neutralizer", 0.2, 0.2, 0.3, 0.53),
        "fines",
    ),
    Case(
        "little_freeboard.neutralizer",
        at(NOV_20, neutralizer__freeboard=20.0),
        at(NOV_20, neutralizer__freeboard=34.0),
        "overfilled",
    ),
    Case(
        "little_freeboard.neutralizer",
        at(NOV_20, neutralizer__bed_depth=92.0),
        at(NOV_20, neutralizer__bed_depth=88.0),
        "overfilled",
    ),
    # 15 gpg is 257 mg/L; 60 in the raw water and 6 gpg more would be 163.
    Case(
        "hardness_rise.neutralizer",
        at(NOV_20, after_neutralizer__hardness=257.0),
        at(NOV_20, after_neutralizer__hardness=160.0),
        "acid",
    ),
    Case(
        "cloudy_after_top_up.neutralizer",
        [Service(on=NOV_1, task="neutralizer.top_up"), *at(NOV_20, tap__turbidity=12.0)],
        [Service(on=OCT_1, task="neutralizer.top_up"), *at(NOV_20, tap__turbidity=12.0)],
        "fines",
    ),
    Case(
        "pH_rises_standing.neutralizer",
        [*at(NOV_20, tap__pH=6.8), glass(7.6)],
        [*at(NOV_20, tap__pH=6.8), glass(7.0)],
        "gas",
    ),
    Case(
        "salt_bridge.softener",
        [FILLED, *at(NOV_20, softener__salt_depth=50.0)],
        [FILLED, *at(NOV_20, softener__salt_depth=36.0)],
        "bridge",
    ),
    # 500 L a day for 50 days, each 4,000 L: six times.
    Case(
        "not_regenerating.softener",
        at(OCT_1, softener__regenerations=40.0) + at(NOV_20, softener__regenerations=41.0),
        at(OCT_1, softener__regenerations=40.0) + at(NOV_20, softener__regenerations=45.0),
        "clock",
    ),
    # Six regenerations at 4 kg take 24 kg, 13 cm.
    Case(
        "salt_bridge.softener",
        at(OCT_1, softener__regenerations=40.0, softener__salt_depth=50.0)
        + at(NOV_20, softener__regenerations=46.0, softener__salt_depth=50.0),
        at(OCT_1, softener__regenerations=40.0, softener__salt_depth=50.0)
        + at(NOV_20, softener__regenerations=46.0, softener__salt_depth=37.0),
        "bridge",
    ),
    Case(
        "salt_too_fast.softener",
        [FILLED, *at(NOV_20, softener__salt_depth=20.0)],
        [FILLED, *at(NOV_20, softener__salt_depth=36.0)],
        "hardness",
    ),
    # 30 in are 76 cm.
    Case(
        "brine_over_full.softener",
        at(NOV_20, softener__brine_level=76.0),
        at(NOV_20, softener__brine_level=40.0),
        "fill",
    ),
    # 50 minutes before, 110 now; 70 are less than half as much again.
    Case(
        "slow_brine_draw.softener",
        at(OCT_1, softener__brine_draw=3000.0) + at(NOV_20, softener__brine_draw=6600.0),
        at(OCT_1, softener__brine_draw=3000.0) + at(NOV_20, softener__brine_draw=4200.0),
        "injector",
    ),
    Case("resin_drop.softener", gauges("softener", 0.3, 0.7), gauges("softener", 0.3, 0.5), "fines"),
    Case("iron_on_resin.softener", at(NOV_20, source__iron=3.0), at(NOV_20, source__iron=0.2), "raw"),
    Case(
        "iron_on_resin.softener",
        at(NOV_20, after_softener__iron=0.5),
        at(NOV_20, after_softener__iron=0.1),
        "resin",
    ),
    # 18 mg/L in the raw water, and 23/50 of the hardness taken out: under 100 from a bed that adds up to 100.
    Case(
        "salty_water.softener",
        at(NOV_20, after_softener__sodium=300.0),
        at(NOV_20, after_softener__sodium=75.0),
        "hardness",
    ),
    # 20 mg/L in the raw water, and 35.45/14.01 of some 10 mg/L as N taken out: about 46.
    Case(
        "salty_water.softener",
        at(NOV_20, after_softener__chloride=200.0),
        at(NOV_20, after_softener__chloride=60.0),
        "hardness",
    ),
    Case("hard_before_regeneration.softener", [hardness_check(90.0, 8.0)], [hardness_check(40.0, 8.0)], "setting"),
    Case("hard_after_regeneration.softener", [hardness_check(90.0, 80.0)], [hardness_check(90.0, 8.0)], "salt"),
    Case(
        "hard_water.softener",
        at(NOV_20, after_softener__hardness=90.0),
        at(NOV_20, after_softener__hardness=40.0),
        "salt",
    ),
    Case(
        "soft_without_salt.softener",
        at(date(2026, 9, 1), softener__salt_depth=0.0) + at(NOV_20, after_softener__hardness=5.0),
        at(date(2026, 9, 1), softener__salt_depth=0.0) + at(date(2026, 9, 20), after_softener__hardness=5.0),
        "filled",
    ),
    Case(
        "nitrate_with_soft_water.softener",
        at(NOV_20, after_softener__hardness=5.0, after_softener__nitrate=6.0),
        at(NOV_20, after_softener__hardness=5.0, after_softener__nitrate=4.0),
        "spent",
    ),
    Case(
        "nitrate_not_held.softener",
        at(NOV_20, source__nitrate=12.0, after_softener__hardness=90.0, after_softener__nitrate=11.5),
        at(NOV_20, source__nitrate=12.0, after_softener__hardness=90.0, after_softener__nitrate=4.0),
        "salt",
    ),
    # Soft water: the resin still works on hardness, which is another finding.
    Case(
        "nitrate_not_held.softener",
        at(NOV_20, after_softener__nitrate=6.0),
        at(NOV_20, after_softener__hardness=5.0, after_softener__nitrate=6.0),
        "salt",
    ),
    Case(
        "nitrate_over_raw.house",
        at(NOV_20, source__nitrate=8.0, after_softener__nitrate=13.0),
        at(NOV_20, source__nitrate=8.0, after_softener__nitrate=9.0),
        "dumping",
    ),
    # 3 mg/L as N is 13.3 mg/L as NO3.
    Case(
        "nitrate_over_raw.house",
        at(NOV_20, source__nitrate=3.0, after_softener__nitrate=13.3),
        at(NOV_20, source__nitrate=3.0, after_softener__nitrate=3.5),
        "basis",
    ),
    Case(
        "lamp_silent.ultraviolet",
        at(NOV_20, ultraviolet__lamp_hours=900.0),
        at(NOV_20, ultraviolet__lamp_hours=7750.0),
        "reset",
        with_lamp(7000.0),
    ),
    # 1 October to 20 November: 50 days, 1,200 h.
    Case(
        "counter_behind.ultraviolet",
        at(OCT_1, ultraviolet__lamp_hours=5000.0) + at(NOV_20, ultraviolet__lamp_hours=5400.0),
        at(OCT_1, ultraviolet__lamp_hours=5000.0) + at(NOV_20, ultraviolet__lamp_hours=6150.0),
        "off",
    ),
    Case(
        "counter_behind.ultraviolet",
        at(OCT_1, ultraviolet__lamp_hours=5000.0) + at(NOV_20, ultraviolet__lamp_hours=700.0),
        at(OCT_1, ultraviolet__lamp_hours=5000.0),
        "reset",
    ),
    Case(
        "warm_uv_water.ultraviolet",
        at(NOV_20, source__temperature=10.0, tap__temperature=24.0),
        at(NOV_20, source__temperature=10.0, tap__temperature=16.0),
        "still",
    ),
    Case(
        "low_light.ultraviolet",
        at(NOV_20, ultraviolet__uv_intensity=60.0),
        at(NOV_20, ultraviolet__uv_intensity=80.0),
        "sleeve",
    ),
    Case("low_light.ultraviolet", cleaned(60.0), cleaned(90.0), "lamp"),
    Case(
        "germs_after_uv.ultraviolet",
        at(NOV_20, source__total_coliform=1.0, tap__total_coliform=1.0),
        at(NOV_20, source__total_coliform=1.0, tap__total_coliform=0.0),
        "pipes",
    ),
    Case(
        "germs_after_uv.ultraviolet",
        at(NOV_20, ultraviolet__uv_intensity=60.0, tap__e_coli=3.0),
        at(NOV_20, ultraviolet__uv_intensity=60.0, source__e_coli=3.0),
        "sleeve",
    ),
    Case(
        "germs_at_ro.reverse_osmosis",
        at(NOV_20, tap__total_coliform=0.0, ro__total_coliform=1.0),
        at(NOV_20, tap__total_coliform=1.0, ro__total_coliform=0.0),
        "growth",
    ),
    Case(
        "germs_at_ro.reverse_osmosis",
        at(NOV_20, tap__total_coliform=1.0, ro__total_coliform=1.0),
        at(NOV_20, ro__total_coliform=1.0) + at(TODAY, ro__total_coliform=0.0),
        "fed",
    ),
    Case(
        "metal_at_tap.lead.tap",
        at(NOV_20, tap__pH=6.3, tap__lead=0.016),
        at(NOV_20, tap__pH=6.3, tap__lead=0.009),
        "acid",
    ),
    Case(
        "metal_at_tap.copper.tap",
        at(NOV_20, tap__pH=7.4, tap__copper=1.5),
        at(NOV_20, tap__pH=7.4, tap__copper=0.9),
        "stood",
    ),
    # By 3 % a degree, 120 L a day at 20 degrees are 84 at 8 degrees (0.97 ^ 12 = 0.69).
    Case(
        "cold_water.reverse_osmosis",
        [*ro(date(2026, 7, 1), 120.0, 20.0), *ro(NOV_20, 84.0, 8.0)],
        [*ro(date(2026, 7, 1), 120.0, 20.0), *ro(NOV_20, 55.0, 8.0)],
        "cold",
    ),
    Case(
        "worn_membrane.reverse_osmosis",
        [*ro(date(2026, 7, 1), 120.0, 20.0), *ro(NOV_20, 55.0, 8.0)],
        [*ro(date(2026, 7, 1), 120.0, 20.0), *ro(NOV_20, 84.0, 8.0)],
        "prefilter",
    ),
    Case("worn_membrane.reverse_osmosis", solids(300.0, 60.0), solids(300.0, 30.0), "fouled"),
    # Its rating passes 15 % of 6 mg/L: 0.9, and half as much again is 1.35.
    Case(
        "membrane_nitrate.reverse_osmosis",
        [*solids(300.0, 20.0), *at(NOV_20, tap__nitrate=6.0, ro__nitrate=4.0)],
        [*solids(300.0, 20.0), *at(NOV_20, tap__nitrate=6.0, ro__nitrate=1.0)],
        "failing",
    ),
    Case("solids_reversed.reverse_osmosis", solids(300.0, 310.0), solids(300.0, 20.0), "swapped"),
    Case("night_leak.house", nights(8.0, 9.0, 8.5, 8.0, 8.0), nights(8.0, 9.0, 0.5, 8.0, 8.0), "toilet"),
    # 500 L a day: 3,500 in the last week.
    Case("meter_still.house", last_meter(0.0), last_meter(3000.0), "turbine"),
    Case("odd_pH.source", at(NOV_20, source__pH=12.0), at(NOV_20, source__pH=6.1), "meter"),
    Case(
        "unit_mixup.nitrate.source",
        thrice("source", "nitrate", 11.0, 12.0, 53.0),
        thrice("source", "nitrate", 11.0, 12.0, 18.0),
        "unit",
    ),
    Case(
        "unit_mixup.hardness.source",
        thrice("source", "hardness", 60.0, 62.0, 3.6),
        thrice("source", "hardness", 60.0, 62.0, 45.0),
        "unit",
    ),
    Case(
        "unit_mixup.drawdown.pressure_tank",
        thrice("pressure_tank", "drawdown", 77.0, 78.0, 20.5),
        thrice("pressure_tank", "drawdown", 77.0, 78.0, 50.0),
        "unit",
    ),
    Case(
        "unit_mixup.freeboard.neutralizer",
        thrice("neutralizer", "freeboard", 33.0, 34.0, 13.5),
        thrice("neutralizer", "freeboard", 33.0, 34.0, 40.0),
        "unit",
    ),
    Case(
        "unit_mixup.pressure_in.sediment_filter",
        thrice("sediment_filter", "pressure_in", 3.5, 3.4, 0.24),
        thrice("sediment_filter", "pressure_in", 3.5, 3.4, 2.4),
        "unit",
    ),
    Case(
        "unit_mixup.salt_depth.softener",
        [FILLED, *at(NOV_20, softener__salt_depth=14.2)],
        [FILLED, *at(NOV_20, softener__salt_depth=36.0)],
        "unit",
    ),
)
