"""The plots' numbers, against logs made by hand; and that an empty plot says what to type."""

from __future__ import annotations

import shlex
from datetime import date, timedelta
from math import pi

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.equipment.base import Stock
from model.equipment.reverse_osmosis import ReverseOsmosis
from model.equipment.sediment_filter import SedimentFilter
from model.equipment.softener import Softener
from model.forecast.bands import left_band, use_band
from model.forecast.chance import chance_out
from model.forecast.situation import Situation
from model.forecast.trends import trend_of, trends
from model.forecast.trends.shape import Trend, at
from model.records.events import Absence, AnyEvent, MeterReplaced, Service, Taken
from model.records.intake import take
from tests.forecast.homes import TODAY, home, meter, raw_water, reading, taken


def plots(*events: AnyEvent, **more: object) -> dict[str, Trend]:
    return {one.id: one for one in trends(Situation(home(*events, **more), TODAY))}


def day(month: int, of_month: int, year: int = 2026) -> date:
    return date(year, month, of_month)


def service(on: date, task: str, *read: Taken, **used: float) -> Service:
    return Service(on=on, task=task, used=used, taken=read)


# House use


def test_use_is_litres_over_days_interval_by_interval_and_breaks_where_the_meter_is_not_known() -> None:
    """900 L in 9 days, 500 L in 10; then a new meter, and 30 L a day of it for 20 days."""
    use = plots(
        reading(day(9, 1), "meter", 1000.0, "house"),
        reading(day(9, 10), "meter", 1900.0, "house"),
        reading(day(9, 20), "meter", 2400.0, "house"),
        reading(day(10, 1), "meter", 100.0, "house"),
        reading(day(10, 21), "meter", 700.0, "house"),
    )["use"]
    seen = [way.points for way in use.paths if way.seen]
    assert seen == [
        ((at(day(9, 1)), 100.0), (at(day(9, 10)), 100.0), (at(day(9, 10)), 50.0), (at(day(9, 20)), 50.0)),
        ((at(day(10, 1)), 30.0), (at(day(10, 21)), 30.0)),
    ]
    assert not use.empty


def test_a_replaced_meter_joins_on() -> None:
    """100 L on the old meter, 100 on the new, in 10 days."""
    use = plots(
        reading(day(9, 1), "meter", 500.0, "house"),
        MeterReplaced(on=day(9, 5), old_reading_l=600.0, new_reading_l=0.0),
        reading(day(9, 11), "meter", 100.0, "house"),
    )["use"]
    assert [y for way in use.paths if way.seen for _, y in way.points] == pytest.approx([25.0, 25.0, 100 / 6, 100 / 6])


def test_days_away_are_shown_behind_and_ahead_and_counted_in_the_table() -> None:
    events = (
        *meter(700.0, weeks=4),
        Absence(on=day(11, 12), until=day(11, 14)),
        Absence(on=day(12, 24), until=day(12, 27)),
    )
    use = plots(*events)["use"]
    assert [(one.low, one.high) for one in use.spans] == [
        (at(day(11, 12)), at(day(11, 14))),
        (at(day(12, 24)), at(day(12, 27))),
    ]
    assert any("3 of them away" in row.what for row in use.rows)
    assert use_band(Situation(home(*events), TODAY), [day(12, 25)])[0] == (0.0, 0.0, 0.0)


@given(st.integers(0, 400))
def test_the_band_of_use_holds_its_middle(days: int) -> None:
    (three,) = use_band(_LIVED, [TODAY + timedelta(days=days)])
    assert 0.0 < three[0] < three[1] < three[2]


_LIVED = Situation(home(*meter(600.0), raw_water()), TODAY)


# Salt


def salt_events(*more: AnyEvent) -> tuple[AnyEvent, ...]:
    refill = service(
        day(9, 1),
        "softener.refill_salt",
        taken("salt_depth", 25.0, "softener", moment="before"),
        taken("salt_depth", 45.0, "softener", moment="after"),
        salt=20.0,
    )
    return (*meter(150.0), raw_water(), reading(day(8, 1), "salt_depth", 40.0, "softener"), refill, *more)


def test_a_depth_becomes_salt_and_a_measured_refill_a_step() -> None:
    """Tank of 45.7 cm: 1.64 L each cm, 1.1 kg a litre: above the water a cm is 1.80 kg."""
    salt = plots(*salt_events(reading(day(10, 1), "salt_depth", 35.0, "softener")))["salt.softener"]
    (step,) = [way.points for way in salt.paths if way.seen]
    assert [x for x, _ in step] == [at(day(8, 1)), at(day(9, 1)), at(day(9, 1)), at(day(10, 1))]
    per_cm = pi * 22.85**2 / 1000.0 * 1.1
    assert step[2][1] - step[1][1] == pytest.approx(20.0 * per_cm)
    assert step[0][1] - step[3][1] == pytest.approx(5.0 * per_cm)
    assert [one.x for one in salt.uprights] == [at(day(9, 1)), at(TODAY)]


def test_an_unmeasured_refill_breaks_the_line() -> None:
    unmeasured = service(day(9, 20), "softener.refill_salt", salt=20.0)
    salt = plots(*salt_events(unmeasured, reading(day(10, 1), "salt_depth", 50.0, "softener")))["salt.softener"]
    assert [len(way.points) for way in salt.paths if way.seen] == [3]


def test_the_reckoned_salt_begins_at_the_last_reading_and_ends_at_the_refill_line() -> None:
    """Within the 2 cm of the stick: the reading and what was reckoned before it are weighed."""
    filled = service(day(9, 1), "softener.refill_salt", taken("salt_depth", 45.0, "softener", moment="after"))
    measured = reading(day(11, 20), "salt_depth", 40.0, "softener")
    salt = plots(*meter(150.0), raw_water(), filled, measured)["salt.softener"]
    (ahead,) = [way.points for way in salt.paths if not way.seen]
    assert ahead[0][0] == salt.points[-1].x
    assert ahead[0][1] == pytest.approx(salt.points[-1].y, abs=2 * 1.8)
    assert ahead[-1][1] == pytest.approx(salt.levels[0].y)
    assert [y for _, y in ahead] == sorted((y for _, y in ahead), reverse=True)
    (window,) = salt.spans
    assert window.low < ahead[-1][0] < window.high


STOCK = Stock(
    job="refill_salt",
    driver="regenerations",
    unit="kg",
    since=TODAY - timedelta(days=20),
    left=40.0,
    left_sd=3.0,
    full=60.0,
    per_litre=0.001,
    per_day=0.05,
)


@pytest.mark.parametrize("place", [0, 1, 2])
def test_each_line_of_the_band_ends_on_the_day_of_its_chance(place: int) -> None:
    """10 % of having run out where the low line ends, then 50, then 90."""
    days = [TODAY + timedelta(days=k) for k in range(200)]
    out = next(on for on, three in zip(days, left_band(_LIVED, STOCK, days), strict=True) if three[place] <= 0.0)
    wanted = (0.1, 0.5, 0.9)[place]
    before, on_day = (chance_out(STOCK, _LIVED.demand, one) for one in (out - timedelta(days=1), out))
    assert before < wanted + 1e-4
    assert on_day > wanted - 1e-4


def test_the_band_begins_with_the_error_of_the_reading_and_is_nought_where_nothing_is_left() -> None:
    """A level of 40 kg read within 3: 1.28 standard deviations to either side, in logs."""
    (start,) = left_band(_LIVED, STOCK, [STOCK.since])
    assert start == pytest.approx((36.33, 40.0, 44.04), abs=0.01)
    assert left_band(_LIVED, msgspec.structs.replace(STOCK, left=-1.0), [TODAY]) == [(0.0, 0.0, 0.0)]


# Pressure drop


def gauges(on: date, before: float, after: float) -> list[AnyEvent]:
    return [
        reading(on, "pressure_in", before, "sediment_filter"),
        reading(on, "pressure_out", after, "sediment_filter"),
    ]


def test_a_drop_takes_both_gauges_of_one_day_and_a_change_parts_the_cartridges() -> None:
    changed = service(
        day(8, 1),
        "sediment_filter.replace_cartridge",
        taken("pressure_in", 3.5, "sediment_filter", moment="before"),
        taken("pressure_out", 2.8, "sediment_filter", moment="before"),
        taken("pressure_in", 3.5, "sediment_filter", moment="after"),
        taken("pressure_out", 3.3, "sediment_filter", moment="after"),
    )
    events = [
        *gauges(day(7, 1), 3.5, 3.0),
        reading(day(7, 9), "pressure_in", 3.5, "sediment_filter"),
        changed,
        *gauges(day(9, 1), 3.5, 3.1),
    ]
    drop = plots(*events)["drop.sediment_filter"]
    assert [one.x for one in drop.points] == [at(day(7, 1)), at(day(8, 1)), at(day(8, 1)), at(day(9, 1))]
    assert [one.y for one in drop.points] == pytest.approx([0.5, 0.7, 0.2, 0.4])
    assert [[round(y, 9) for _, y in way.points] for way in drop.paths] == [[0.5, 0.7], [0.2, 0.4]]
    assert [one.y for one in drop.levels] == [0.15, 0.85]
    assert [one.name for one in drop.uprights] == ["cartridge changed", "today"]


# RO


def test_rejection_goes_on_over_a_new_membrane() -> None:
    """20 of 200 mg/L pass: 90 %; then 10 of 200 through a new membrane: 95 %."""
    pairs: list[AnyEvent] = [
        *(reading(day(5, 1), q, v, "reverse_osmosis") for q, v in (("ro_feed_tds", 200.0), ("ro_product_tds", 20.0))),
        Service(on=day(6, 1), task="reverse_osmosis.replace_membrane"),
        *(reading(day(7, 1), q, v, "reverse_osmosis") for q, v in (("ro_feed_tds", 200.0), ("ro_product_tds", 10.0))),
    ]
    ro = plots(*pairs)["rejection.reverse_osmosis"]
    assert [one.y for one in ro.points] == pytest.approx([90.0, 95.0])
    assert ro.paths == ()
    assert [one.name for one in ro.uprights] == ["membrane changed", "today"]
    assert [one.y for one in ro.levels] == [85.0]


def test_flow_is_over_the_first_of_the_same_membrane() -> None:
    """The same cold and pressure: 80 of 100 L a day is 80 %; a new membrane begins at 100 % again."""
    with_: list[AnyEvent] = [
        one
        for on in (day(5, 1), day(6, 1), day(8, 1))
        for one in (
            reading(on, "temperature", 12.0, "source"),
            reading(on, "feed_pressure", 3.5, "reverse_osmosis"),
        )
    ]
    flow = plots(
        *with_,
        reading(day(5, 1), "ro_flow", 100.0, "reverse_osmosis"),
        reading(day(6, 1), "ro_flow", 80.0, "reverse_osmosis"),
        Service(on=day(7, 1), task="reverse_osmosis.replace_membrane"),
        reading(day(8, 1), "ro_flow", 120.0, "reverse_osmosis"),
    )["flow.reverse_osmosis"]
    assert [one.y for one in flow.points] == pytest.approx([100.0, 80.0, 100.0])


# Nitrate


def test_nitrate_lies_on_its_day_of_the_year_with_its_place_its_bound_and_its_upper_end() -> None:
    strip = Taken(quantity="nitrate", value=5.0, high=10.0, point="after_softener")
    found = plots(
        reading(day(2, 1, 2025), "nitrate", 12.0, "source"),
        service(day(3, 1), "softener.nitrate_check", strip),
        service(day(4, 10), "reverse_osmosis.nitrate_check", taken("nitrate", 1.0, "ro", qualifier="<")),
        reading(day(5, 1), "nitrate", 8.0, "after_neutralizer"),
    )["nitrate"]
    assert [(one.x, one.y, one.series, one.old, one.qualifier) for one in found.points] == [
        (32.0, 12.0, 0, True, "="),
        (60.0, 10.0, 1, False, "="),
        (100.0, 1.0, 2, False, "<"),
    ]
    assert any("upper end" in one for one in found.words)
    assert [row.value for row in found.rows] == ["<1 mg/L as N", "5-10 mg/L as N", "12 mg/L as N"]
    assert "Source: highest 12 mg/L as N (1 Feb 2025), 1 of 1 at or over the limit." in found.words


# All


@pytest.mark.parametrize("units", ["us", "metric"])
def test_an_empty_plot_says_what_to_type_and_that_can_be_read(units: str) -> None:
    for one in plots(units=units).values():
        assert one.empty, one.id
        command = one.empty.partition("wellward read ")[2].partition(", ")[0]
        quantity, *words = shlex.split(command)
        point = words[words.index("--at") + 1] if "--at" in words else None
        value = " ".join(words[: words.index("--at")] if "--at" in words else words)
        assert take(home(units=units).house, quantity, value, point=point).quantity == quantity


def test_a_job_finds_its_plot() -> None:
    found = trends(Situation(home(), TODAY))
    wanted = {
        "softener.refill_salt": "salt.softener",
        "sediment_filter.read_drop": "drop.sediment_filter",
        "reverse_osmosis.replace_membrane": "rejection.reverse_osmosis",
        "well.nitrate_test": "nitrate",
        "softener.nitrate_check": "nitrate",
    }
    shown = {task: plot.id for task in wanted if (plot := trend_of(found, task)) is not None}
    assert shown == wanted
    assert trend_of(found, "ultraviolet.replace_lamp") is None


def test_two_filters_get_two_plots_with_names_of_their_own() -> None:
    two = (SedimentFilter(id="sediment_filter"), SedimentFilter(id="sediment_filter_2"), ReverseOsmosis(id="ro_2"))
    names = [one.name for one in plots(stages=(*two, Softener(id="softener"))).values()]
    assert names == ["House use", "Drop 1", "Drop 2", "RO rejection", "RO flow", "Salt", "Nitrate"]
