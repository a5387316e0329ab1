"""The anion resin of a softener: how a plan is made of theory, dose and the owner's own profile."""

from __future__ import annotations

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model.equipment.anion_bed import planned_l, run_of_bed, usable_share
from model.equipment.softener import Softener, anion_run, run_length
from model.plan import plan
from model.water.sample import Sample
from tests.forecast.homes import STAGES, TODAY, home, meter, raw_water, salt_filled

WATER = Sample(
    pH=7.2,
    alkalinity_mg_l_caco3=120.0,
    calcium_mg_l=40.0,
    magnesium_mg_l=5.0,
    sodium_mg_l=15.0,
    chloride_mg_l=21.0,
    sulfate_mg_l=17.0,
    nitrate_mg_l_n=12.0,
)
TANK = Softener(id="softener", anion_resin_l=28.3, anion_type="nitrate_selective", salt_dose_kg=5.0)


def test_a_cubic_foot_of_selective_resin_by_hand() -> None:
    """0.9 eq/L of 28.3 L at 40 %: 10.2 eq. 12 mg/L N is 0.857 meq/L: 11,900 L if nothing else were held, which
    other ions, blur and the action level cut, but not to less than half. Arithmetic, regression only."""
    run = run_length(TANK, WATER)
    assert run.by_nitrate_l is not None
    assert 0.5 * 11_900 < run.by_nitrate_l < 11_900


@pytest.mark.parametrize(("dose", "share"), [(5.0, 0.4), (28.3 * 0.16, 0.4), (28.3 * 0.08, 0.2), (0.0, 0.0)])
def test_the_usable_share_follows_the_dose(dose: float, share: float) -> None:
    """40 % at 10 lb/ft3 (0.16 kg/L) and more, in proportion below: common practice, no source."""
    assert usable_share(dose, 28.3, 0.4) == pytest.approx(share)


def test_the_owners_profile_replaces_what_is_reckoned() -> None:
    """60 to 70 % of the litres at which nitrate first passed: common practice, no source."""
    assert planned_l(5000.0, 8000.0) == pytest.approx(5200.0)
    assert planned_l(5000.0, None) == pytest.approx(4500.0)
    assert planned_l(None, None) is None
    profiled = run_length(msgspec.structs.replace(TANK, profile_l=8000.0), WATER)
    assert profiled.by_nitrate_l == pytest.approx(5200.0)


@given(st.floats(5.5, 40.0), st.floats(1.05, 2.0))
@settings(max_examples=30, deadline=None)
def test_more_nitrate_never_lengthens_a_run(nitrate: float, times: float) -> None:
    def litres(value: float) -> float:
        found = run_length(TANK, msgspec.structs.replace(WATER, nitrate_mg_l_n=value)).by_nitrate_l
        return 1e9 if found is None else found

    assert litres(nitrate * times) <= litres(nitrate) * 1.02


@given(st.floats(2.0, 20.0), st.floats(1.1, 4.0))
@settings(max_examples=30, deadline=None)
def test_a_faster_draw_never_shows_nitrate_later(flow: float, times: float) -> None:
    slow, fast = (run_of_bed(WATER, "nitrate_selective", 28.3, one, 5.0, 0.4) for one in (flow, flow * times))
    assert slow is not None
    assert fast is not None
    assert slow.early_l is not None
    assert fast.early_l is not None
    assert fast.early_l <= slow.early_l * 1.001


def test_only_the_standard_resin_gives_off_more_than_the_raw_water_holds() -> None:
    """Order of preference sulfate before nitrate on standard resin: Clifford and Weber 1978, EPA 600/2-78-052."""
    selective = anion_run(TANK, WATER)
    standard = anion_run(msgspec.structs.replace(TANK, anion_type="standard"), WATER)
    assert selective is not None
    assert standard is not None
    assert selective.peak_mg_l_n == pytest.approx(12.0, rel=0.001)
    assert standard.peak_mg_l_n > 12.5


def test_without_nitrate_or_resin_there_is_no_run() -> None:
    assert anion_run(TANK, msgspec.structs.replace(WATER, nitrate_mg_l_n=0.0)) is None
    assert anion_run(msgspec.structs.replace(TANK, anion_resin_l=0.0), WATER) is None


@pytest.mark.parametrize("resin", ["standard", "nitrate_selective"])
def test_if_the_salt_runs_out(resin: str) -> None:
    """First the salt, then what each resin holds at 500 L a day; nitrate at least back at the raw water's."""
    stages = tuple(msgspec.structs.replace(s, anion_type=resin) if isinstance(s, Softener) else s for s in STAGES)
    shown = plan(home(raw_water(), *meter(500.0), salt_filled(TODAY, 40.0), stages=stages), TODAY)
    found = shown.reports["softener"]["if_salt_runs_out"]
    assert isinstance(found, dict)
    assert found["salt_out"] < found["hardness_shows"]
    assert found["salt_out"] < found["nitrate_shows"]
    assert found["nitrate_peak_mg_l_n"] >= found["nitrate_then_mg_l_n"] - 1e-9
    assert found["nitrate_peak_mg_l_n"] >= 12.0 - 1e-6
    other = found["with_other_resin"]
    assert isinstance(other, dict)
    assert other["anion_type"] != resin
    standard, selective = (found, other) if resin == "standard" else (other, found)
    assert standard["nitrate_peak_mg_l_n"] > selective["nitrate_peak_mg_l_n"] - 1e-6


def test_a_timer_that_lets_too_much_by_is_warned_of() -> None:
    slow = {"control": "timed", "regenerate_every_l": None, "regenerate_every_days": 40.0}
    stages = tuple(msgspec.structs.replace(s, **slow) if isinstance(s, Softener) else s for s in STAGES)
    shown = plan(home(raw_water(), *meter(500.0), stages=stages), TODAY)
    assert any("nitrate may pass" in alert.text for alert in shown.alerts)
