"""Reports merged by date, nitrate by season, and what the analyses say of themselves in the plan."""

from __future__ import annotations

from datetime import date, timedelta

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model.forecast.samples import charge_words
from model.forecast.situation import Situation
from model.forecast.source import merged, planned_nitrate_mg_l_n, source_basis, source_water
from model.home import Home
from model.plan import plan
from model.plan_types import Alert
from model.records.events import AnyEvent, LabReport, Reading, Setting, Taken
from model.records.history import History
from tests.forecast.homes import TODAY, home, meter, numbered, raw_water, reading, taken


def history(*events: AnyEvent) -> History:
    return History(numbered(*events), TODAY)


def alerts(*events: AnyEvent) -> list[Alert]:
    return list(plan(home(*events), TODAY).alerts)


def said(word: str, *events: AnyEvent) -> list[Alert]:
    return [alert for alert in alerts(*events) if word in alert.text]


def lab(on: date, **values: float) -> LabReport:
    return LabReport(on=on, point="source", taken=tuple(taken(name, value, "source") for name, value in values.items()))


def nitrate(on: date, value: float, **more: object) -> Reading:
    one = Taken(quantity="nitrate", value=value, point="source")
    return Reading(on=on, taken=msgspec.structs.replace(one, **more))


SPRING, AUTUMN = date(2026, 4, 10), date(2026, 10, 10)


def test_the_newest_of_each_quantity_counts_whatever_the_order_of_entry() -> None:
    water = source_water(history(lab(AUTUMN, sodium=9.0, iron=0.3), raw_water(SPRING)))
    assert water is not None
    assert (water.sodium_mg_l, water.iron_mg_l, water.chloride_mg_l) == (9.0, 0.3, 20.0)


def test_what_is_over_a_year_older_is_said_and_still_reckoned_with() -> None:
    old, new = raw_water(date(2024, 5, 1)), lab(date(2026, 5, 3), pH=6.4, alkalinity=44.0, nitrate=9.0)
    water = merged(history(old, new), "source")
    assert {"sodium", "chloride", "hardness"} <= set(water.older)
    assert not {"pH", "alkalinity", "nitrate"} & set(water.older)
    (alert,) = said("12 months older", old, new)
    assert alert.level == "note"
    assert "sodium (2024-05-01)" in alert.text
    sample = source_water(history(old, new))
    assert sample is not None
    assert (sample.sodium_mg_l, sample.pH) == (18.0, 6.4)
    assert "2024-05-01 to 2026-05-03" in source_basis(history(old, new))


def test_within_a_year_nothing_is_old() -> None:
    assert merged(history(raw_water(SPRING), lab(AUTUMN, pH=6.4)), "source").older == ()
    assert not said("12 months older", raw_water(SPRING), lab(AUTUMN, pH=6.4))


def test_old_metals_follow_a_new_hardness_in_their_proportion() -> None:
    old = lab(date(2024, 5, 1), pH=6.2, alkalinity=40.0, calcium=20.039, magnesium=12.1525)
    water = source_water(history(old, reading(AUTUMN, "hardness", 200.18, "source")))
    assert water is not None
    assert water.calcium_mg_l == pytest.approx(40.078, rel=1e-3)
    assert water.magnesium_mg_l == pytest.approx(24.305, rel=1e-3)


def test_less_than_and_pads_count_half_and_middle_in_the_composition() -> None:
    low = Reading(on=AUTUMN, taken=Taken(quantity="iron", value=0.1, point="source", qualifier="<"))
    water = source_water(history(raw_water(SPRING), low, nitrate(AUTUMN, 5.0, high=10.0)))
    assert water is not None
    assert (water.iron_mg_l, water.nitrate_mg_l_n) == (0.05, 7.5)


def test_nitrate_is_planned_on_the_worst_of_two_years() -> None:
    events = [nitrate(date(2024, 11, 1), 30.0), nitrate(date(2025, 4, 1), 14.0), nitrate(AUTUMN, 6.0)]
    assert planned_nitrate_mg_l_n(history(*events)) == 14.0
    assert planned_nitrate_mg_l_n(history(*events), "newest") == 6.0


@pytest.mark.parametrize(
    ("more", "planned"), [({"high": 10.0}, 10.0), ({"qualifier": "<"}, 5.0), ({"qualifier": ">"}, 5.0)]
)
def test_health_is_planned_on_the_upper_end_and_the_limit(more: dict[str, object], planned: float) -> None:
    assert planned_nitrate_mg_l_n(history(nitrate(AUTUMN, 5.0, **more))) == planned


def test_an_old_nitrate_is_better_than_none() -> None:
    assert planned_nitrate_mg_l_n(history(nitrate(date(2020, 1, 1), 8.0))) == 8.0
    assert planned_nitrate_mg_l_n(history()) is None


def test_the_owner_may_plan_on_the_newest_and_is_warned() -> None:
    events = (raw_water(SPRING, nitrate=14.0), nitrate(AUTUMN, 6.0), *meter(500.0))
    setting = Setting(on=AUTUMN, path="plan_nitrate", value="newest", was="worst")
    before, after = plan(home(*events), TODAY), plan(home(*events, setting), TODAY)
    assert (before.points[0].nitrate_planned_mg_l_n, after.points[0].nitrate_planned_mg_l_n) == (14.0, 6.0)
    (alert,) = said("newest raw nitrate", *events, setting)
    assert alert.level == "warning"
    assert "14.0" in alert.text
    assert not said("newest raw nitrate", *events)


def test_nitrate_known_from_a_strip_asks_for_a_laboratory() -> None:
    strip = nitrate(AUTUMN, 5.0, high=10.0)
    (alert,) = said("102 homes", raw_water(SPRING), strip)
    assert "5-10 mg/L as N" in alert.text
    assert not said("102 homes", raw_water(SPRING), strip, lab(date(2026, 10, 20), nitrate=7.0))


@pytest.mark.parametrize(
    ("changed", "says"),
    [({"pH": 2.0}, "pH 2.0 cannot"), ({"sodium": 400.0}, "over 30 %"), ({"chloride": 900.0}, "over 30 %")],
)
def test_a_composition_that_cannot_be_is_an_alert(changed: dict[str, float], says: str) -> None:
    (alert,) = said(says, raw_water(SPRING, **changed), *meter(500.0))
    assert (alert.level, alert.point) == ("warning", "source")


def test_the_last_pH_that_can_be_stands_in_for_one_that_cannot() -> None:
    log = history(raw_water(SPRING), reading(AUTUMN, "pH", 2.0, "source"))
    water = source_water(log)
    assert water is not None
    assert water.pH == 6.2
    assert source_water(history(raw_water(SPRING, pH=2.0))) is None


def test_values_below_nought_are_left_out_and_named() -> None:
    (alert,) = said("cannot be", raw_water(SPRING, nitrate=-4.0, iron=0.1), *meter(500.0))
    assert "nitrate of -4" in alert.text
    sample = source_water(history(raw_water(SPRING, nitrate=-4.0)))
    assert sample is not None
    assert sample.nitrate_mg_l_n == 0.0
    assert "nitrate_mg_l_n" in sample.assumed


def test_the_balance_is_told_with_its_criterion() -> None:
    words = charge_words(Situation(home(raw_water(SPRING)), TODAY), "source")
    assert words.startswith("charge balance")
    assert charge_words(Situation(home(), TODAY), "tap") == ""


POSSIBLE = {"pH": 14.0, "temperature": 100.0, **dict.fromkeys(("alkalinity", "hardness", "nitrate"), 50_000.0)}
POSSIBLE |= dict.fromkeys(("calcium", "magnesium", "sodium", "chloride", "sulfate", "iron", "manganese"), 50_000.0)
WATERS = st.fixed_dictionaries(
    {}, optional={name: st.floats(-10.0, high) | st.just(0.0) for name, high in POSSIBLE.items()}
)


@given(st.lists(st.tuples(st.integers(0, 1500), WATERS), max_size=3), st.sampled_from(["source", "tap", "ro"]))
@settings(max_examples=40)
def test_no_composition_makes_the_plan_fail(reports: list[tuple[int, dict[str, float]]], point: str) -> None:
    events = [
        LabReport(
            on=TODAY - timedelta(days=ago),
            point=point,
            taken=tuple(taken(name, value, point) for name, value in values.items()),
        )
        for ago, values in reports
    ]
    shown = plan(Home(home().house, numbered(raw_water(SPRING), *events)), TODAY)
    assert all(alert.text for alert in shown.alerts)


@given(st.lists(st.tuples(st.integers(0, 1500), st.floats(0.0, 40.0)), min_size=1, max_size=6))
def test_the_worst_is_never_below_the_newest(values: list[tuple[int, float]]) -> None:
    log = history(*(nitrate(TODAY - timedelta(days=ago), value) for ago, value in values))
    worst, newest = planned_nitrate_mg_l_n(log), planned_nitrate_mg_l_n(log, "newest")
    assert worst is not None
    assert newest is not None
    assert worst >= newest
