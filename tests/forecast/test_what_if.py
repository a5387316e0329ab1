"""What if: two homes side by side, by hand; and the home itself is never touched."""

from __future__ import annotations

from datetime import date

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model.equipment.neutralizer import Neutralizer
from model.equipment.softener import Softener
from model.errors import BadInput
from model.forecast.what_if import Comparison, Row, compare
from model.forecast.what_if_home import Change
from model.home import Home, Supply
from model.records.events import Purchase, Setting, UseAdded
from tests.forecast.homes import TODAY, home, meter, raw_water, reading

TIMED = Softener(id="softener", control="timed", regenerate_every_days=7.0, salt_dose_kg=4.0, supplies={"salt": "salt"})
SALT = (Supply(id="salt", title="Salt", unit="kg", pack=20.0, price=9.0),)
WHOLE = home(*meter(500.0), raw_water(), reading(TODAY, "pH", 7.4, "after_neutralizer"))


def timed_home() -> Home:
    return home(raw_water(), stages=(TIMED,), supplies=SALT)


def row(found: Comparison, name: str) -> Row:
    (one,) = [one for one in found.rows if one.id == name]
    return one


def moved(found: Comparison, name: str) -> float:
    difference = row(found, name).difference
    assert difference is not None
    return difference


def test_two_kilos_more_a_week_by_timer() -> None:
    found = compare(timed_home(), TODAY, (Change("stages.softener.salt_dose_kg", 6.0),))
    assert row(found, "softener.salt").today == pytest.approx(365.0 / 7.0 * 4.0)
    assert moved(found, "softener.salt") == pytest.approx(365.0 / 7.0 * 2.0)
    assert moved(found, "waste_salt") == pytest.approx(2.0)
    assert found.events == (Setting(on=TODAY, path="stages.softener.salt_dose_kg", value=6.0, was=4.0),)


def test_double_the_people_use_more_of_everything() -> None:
    found = compare(WHOLE, TODAY, (Change("people", 6.0),))
    more = ("cost", "long_run", "use", "softener.salt", "neutralizer.media", "waste_water", "waste_salt")
    assert all(moved(found, name) > 0.0 for name in more)
    assert moved(found, "softener.days") < 0.0
    assert moved(found, "sediment_filter.replace_cartridge") <= 0.0
    assert moved(found, "sodium") == 0.0


def test_more_water_is_a_named_use() -> None:
    found = compare(WHOLE, TODAY, (Change("uses.More water", 700.0),))
    assert moved(found, "use") == pytest.approx(100.0, abs=1e-6)
    (added,) = found.events
    assert isinstance(added, UseAdded)
    assert added.use["litres_per_week"] == 700.0


def test_more_bypass_gives_less_pH_sodium_and_media_and_longer_runs() -> None:
    found = compare(WHOLE, TODAY, (Change("stages.neutralizer.bypass_share", 0.4),))
    assert row(found, "neutralizer.pH").today == pytest.approx(7.4, abs=0.01)
    assert all(moved(found, name) < 0.0 for name in ("neutralizer.pH", "neutralizer.media", "sodium"))
    assert all(moved(found, name) > 0.0 for name in ("softener.hardness_run", "softener.nitrate_run"))
    assert "pH 7.4 read on" in found.notes[0]


def test_a_target_pH_is_reached_by_the_valve() -> None:
    found = compare(WHOLE, TODAY, (Change("stages.neutralizer.target_pH", 7.1),))
    assert row(found, "neutralizer.pH").then == pytest.approx(7.1, abs=0.005)
    (kept,) = found.events
    assert isinstance(kept, Setting)
    assert (kept.path, kept.was) == ("stages.neutralizer.bypass_share", 0.0)


def test_without_a_known_water_no_pH_is_promised() -> None:
    with pytest.raises(BadInput, match="water before the neutralizer"):
        compare(home(stages=(Neutralizer(id="neutralizer"),)), TODAY, (Change("stages.neutralizer.target_pH", 7.0),))


def test_a_price_is_tried_over_a_receipt_but_kept_only_by_the_next_receipt() -> None:
    bought = Purchase(on=date(2026, 5, 1), supply="salt", quantity=20.0, price=9.0)
    for events in ((raw_water(),), (raw_water(), bought)):
        found = compare(home(*events, stages=(TIMED,), supplies=SALT), TODAY, (Change("supplies.salt.price", 18.0),))
        assert moved(found, "long_run") == pytest.approx(365.25 / 7.0 * 4.0 * (18.0 - 9.0) / 20.0)
        assert (bool(found.events), bool(found.not_kept)) == (len(events) == 1, len(events) == 2)


def test_what_is_due_today_stays_due_whatever_is_set() -> None:
    found = compare(timed_home(), TODAY, (Change("stages.softener.salt_dose_kg", 1.0),))
    due = row(found, "softener.refill_salt")
    assert (due.today, due.then, due.difference) == (TODAY, TODAY, 0.0)


def test_leaving_out_the_anion_resin_takes_the_nitrate_run_away() -> None:
    changes = (Change("stages.softener.anion_resin_l", 0.0), Change("stages.softener.anion_type", "none"))
    assert row(compare(WHOLE, TODAY, changes), "softener.nitrate_run").then is None


def test_what_does_not_fit_is_refused() -> None:
    for change in (Change("people", -3.0), Change("stages.gone.salt_dose_kg", 3.0), Change("uses.Pool", -1.0)):
        with pytest.raises(BadInput):
            compare(WHOLE, TODAY, (change,))


CHANGES = st.lists(
    st.one_of(
        st.builds(Change, st.just("people"), st.floats(0.5, 12.0)),
        st.builds(Change, st.just("stages.softener.salt_dose_kg"), st.floats(1.0, 10.0)),
        st.builds(Change, st.just("supplies.salt.price"), st.floats(0.0, 99.0)),
        st.builds(Change, st.just("uses.More water"), st.floats(0.0, 2000.0)),
    ),
    max_size=3,
)


@settings(max_examples=5, deadline=None)
@given(CHANGES)
def test_the_home_is_not_touched_and_what_is_undone_makes_no_difference(changes: list[Change]) -> None:
    before = msgspec.json.encode(WHOLE)
    compare(WHOLE, TODAY, tuple(changes))
    assert msgspec.json.encode(WHOLE) == before
    same = compare(WHOLE, TODAY, tuple(Change(one.path, _today(one.path)) for one in changes))
    assert {one.difference for one in same.rows} <= {0.0, None}
    assert not same.events


def _today(path: str) -> float:
    now = {"people": 3.0, "stages.softener.salt_dose_kg": 4.0, "supplies.salt.price": 9.0, "uses.More water": 0.0}
    return now[path]
