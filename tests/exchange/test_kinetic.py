"""Blurred fronts: against the US EPA's kinetic columns, against diffusion by shells, and what must always hold."""

from __future__ import annotations

from itertools import pairwise
from math import nan

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model.errors import BadInput
from model.water.exchange.columns import (
    Column,
    Transfer,
    dimensionless,
    equilibrium,
    equilibrium_passage,
    kinetic_curve,
    kinetic_passage,
    quick_passage,
)
from model.water.exchange.film import film_coefficient_cm_s, film_coefficient_laminar_cm_s
from model.water.exchange.fronts import quick_curve
from model.water.exchange.kinetic import far_weight
from tests.exchange.diffusion_columns import KEPT, Kept, crossing, epa
from tests.exchange.referees import Kinetics, diffusion_column

CASES = msgspec.json.decode(KEPT.read_bytes(), type=list[Kept])
NITRATE, SULFATE = 2, 3


def column_of(case: Kinetics) -> Column:
    """A referee's case as the program's column: Cl, HCO3, NO3, SO4."""
    return Column(
        feed_meq_l=tuple(case.feed),
        resin_fractions=(1.0, 0.0, 0.0, 0.0),
        factors=(1.0, case.bicarbonate, case.nitrate, case.coefficient),
        valences=(1, 1, 1, 2),
        capacity_meq_l=case.capacity,
        porosity=case.porosity,
    )


def rates_of(case: Kinetics) -> Transfer:
    return Transfer(
        film_cm_s=case.film,
        bead_radius_cm=case.radius,
        surface_diffusion_cm2_s=case.diffusion,
        contact_s=case.contact,
    )


# US EPA, Water_Treatment_Models, ion-exchange example (open repository): inputs published there, run for this project.
# Resin, flow, nitrate at 10 % and at 50 % of feed [BV], its peak over feed.
EPA = (
    (0, "5 gpm", 202.0, 277.0, 1.14),
    (0, "1 gpm", 275.0, 293.0, 1.50),
    (1, "5 gpm", 426.0, 564.0, 1.00),
    (1, "1 gpm", 530.0, 560.0, 1.00),
)


@pytest.mark.parametrize(("resin", "flow", "tenth", "half", "peak"), EPA)
def test_the_epa_columns(resin: int, flow: str, tenth: float, half: float, peak: float) -> None:
    case = epa(resin, flow)
    seen = kinetic_passage(column_of(case), rates_of(case), NITRATE)
    assert seen.tenth_of_feed_bv == pytest.approx(tenth, rel=0.02)
    assert seen.half_of_feed_bv == pytest.approx(half, rel=0.01)
    assert seen.peak_over_feed == pytest.approx(peak, rel=0.02)
    quick = quick_passage(column_of(case), rates_of(case), NITRATE)
    assert quick.tenth_of_feed_bv == pytest.approx(tenth, rel=0.05)
    assert quick.half_of_feed_bv == pytest.approx(half, rel=0.02)
    assert quick.peak_over_feed == pytest.approx(peak, rel=0.06)


def test_equilibrium_of_the_epa_column() -> None:
    """Equilibrium theory, run for this project beside the US EPA's column: 298 BV, peak 1.54, sulfate 392 BV."""
    asked = column_of(epa(0, "5 gpm"))
    seen = equilibrium_passage(asked, NITRATE)
    assert seen.half_of_feed_bv == pytest.approx(298.0, rel=0.01)
    assert seen.peak_over_feed == pytest.approx(1.54, rel=0.01)
    assert equilibrium_passage(asked, SULFATE).half_of_feed_bv == pytest.approx(392.0, rel=0.01)


@pytest.mark.parametrize("kept", CASES[4::3], ids=lambda kept: f"{kept.case.nitrate:g}-{kept.tenth_bv:g}")
def test_the_numerical_column_agrees_with_shells(kept: Kept) -> None:
    seen = kinetic_passage(column_of(kept.case), rates_of(kept.case), NITRATE)
    assert seen.tenth_of_feed_bv == pytest.approx(kept.tenth_bv, rel=0.03)
    assert seen.half_of_feed_bv == pytest.approx(kept.half_bv, rel=0.02)
    assert seen.peak_over_feed == pytest.approx(max(1.0, kept.peak_over_feed), rel=0.03)


def ratio_and_overlap(kept: Kept) -> tuple[float, bool]:
    asked, rates = column_of(kept.case), rates_of(kept.case)
    seen = quick_passage(asked, rates, NITRATE)
    assert seen.tenth_of_feed_bv is not None
    overlap = quick_curve(equilibrium(asked), dimensionless(asked, rates), NITRATE)[1]
    return seen.tenth_of_feed_bv / kept.tenth_bv, overlap


def test_the_quick_answer_over_the_spread() -> None:
    """Within 5 % where the fronts stand apart; where they overlap it errs early, never late."""
    found = [ratio_and_overlap(kept) for kept in CASES]
    apart = [ratio for ratio, overlap in found if not overlap]
    assert len(apart) >= 12
    assert min(apart) > 0.95
    assert max(ratio for ratio, _ in found) < 1.05


def test_shells_reckoned_anew() -> None:
    case = msgspec.structs.replace(epa(1, "5 gpm"), capacity=150.0)
    at, seen = diffusion_column(case, 160.0, places=40, shells=6)
    ours = kinetic_passage(column_of(case), rates_of(case), NITRATE)
    assert ours.tenth_of_feed_bv == pytest.approx(crossing(at, seen, 0.1), rel=0.03)
    assert ours.half_of_feed_bv == pytest.approx(crossing(at, seen, 0.5), rel=0.02)


def test_fast_exchange_comes_to_equilibrium() -> None:
    case = msgspec.structs.replace(epa(1, "1 gpm"), film=0.5, diffusion=1e-5)
    seen = kinetic_passage(column_of(case), rates_of(case), NITRATE)
    even = equilibrium_passage(column_of(case), NITRATE)
    assert seen.half_of_feed_bv == pytest.approx(even.half_of_feed_bv, rel=0.01)
    assert seen.tenth_of_feed_bv == pytest.approx(even.tenth_of_feed_bv, rel=0.05)


def test_slower_flow_sharpens_the_front() -> None:
    early = [
        kinetic_passage(column_of(case), rates_of(case), NITRATE).tenth_of_feed_bv or 0.0
        for hours in (0.5, 1.0, 2.0, 4.0, 8.0)
        if (case := msgspec.structs.replace(epa(0, "5 gpm"), contact=144.0 * hours))
    ]
    assert all(fast < slow for fast, slow in pairwise(early))


kinetics = st.builds(
    Kinetics,
    feed=st.tuples(st.floats(0.0, 10.0), st.floats(0.0, 10.0), st.floats(0.05, 5.0), st.floats(0.0, 5.0)).map(list),
    bicarbonate=st.floats(0.1, 0.9),
    nitrate=st.floats(1.5, 30.0),
    coefficient=st.floats(1e-3, 1.0),
    capacity=st.floats(50.0, 2000.0),
    porosity=st.floats(0.2, 0.6),
    radius=st.floats(0.01, 0.1),
    film=st.floats(1e-5, 1e-1),
    diffusion=st.floats(1e-11, 1e-5),
    contact=st.floats(1.0, 1e5),
)


@given(kinetics)
@settings(max_examples=3, deadline=None)
def test_water_that_leaves_is_water(case: Kinetics) -> None:
    curve = kinetic_curve(column_of(case), rates_of(case), 300.0)
    assert all(sum(row) == pytest.approx(1.0, abs=1e-6) for row in curve.rows)
    assert min(min(row) for row in curve.rows) > -0.005


@given(kinetics)
@settings(max_examples=3, deadline=None)
def test_the_quick_answer_is_always_there(case: Kinetics) -> None:
    seen = quick_passage(column_of(case), rates_of(case), NITRATE)
    even = equilibrium_passage(column_of(case), NITRATE)
    assert seen.tenth_of_feed_bv is not None
    assert seen.half_of_feed_bv is not None
    assert seen.half_of_feed_bv >= seen.tenth_of_feed_bv
    # Fronts that overlap add up in the quick answer: its peak was seen up to 69 % too high, on the safe side.
    assert seen.peak_over_feed <= 1.75 * even.peak_over_feed


def test_what_is_held_is_what_did_not_leave() -> None:
    """After a long run the nitrate on the resin is that in equilibrium with the feed."""
    case = epa(1, "5 gpm")
    bed = dimensionless(column_of(case), rates_of(case))
    curve = kinetic_curve(column_of(case), rates_of(case), 3000.0)
    values = [row[NITRATE] for row in curve.rows]
    out = sum(
        (b - a) * (u + v) / 2 for (a, b), (u, v) in zip(pairwise(curve.bed_volumes), pairwise(values), strict=True)
    )
    kept = bed.feed[NITRATE] * (curve.bed_volumes[-1] - curve.bed_volumes[0]) - out
    mono = bed.feed[0] + case.bicarbonate * bed.feed[1] + case.nitrate * bed.feed[2]
    preference = 0.5 * (mono + (mono**2 + 4.0 * bed.factors[3] * bed.feed[3]) ** 0.5)
    assert kept == pytest.approx(bed.load_bv * case.nitrate * bed.feed[2] / preference, rel=0.003)


def test_far_weight_makes_decay_exact() -> None:
    """(1 - (1-w) n) / (1 + w n) = exp(-n)."""
    for units in (1e-4, 0.3, 2.0, 30.0):
        w = far_weight(units)
        assert (1.0 - (1.0 - w) * units) / (1.0 + w * units) == pytest.approx(2.718281828459045**-units, abs=1e-9)


def test_two_film_correlations_agree_at_household_flows() -> None:
    """0.6 cm/s is 5 gpm over a tank of 10 in; the two are known to scatter by some tens of percent."""
    for velocity in (0.12, 0.3, 0.6):
        first, second = (f(velocity, 0.0345, 0.38) for f in (film_coefficient_cm_s, film_coefficient_laminar_cm_s))
        assert first == pytest.approx(second, rel=0.35)
        assert first > 2.2e-3


@pytest.mark.parametrize(
    "change",
    [
        {"film_cm_s": 0.0},
        {"bead_radius_cm": -1.0},
        {"surface_diffusion_cm2_s": nan},
        {"contact_s": 0.0},
    ],
)
def test_rates_that_cannot_be_are_refused(change: dict[str, float]) -> None:
    case = epa(0, "5 gpm")
    with pytest.raises(BadInput):
        quick_passage(column_of(case), msgspec.structs.replace(rates_of(case), **change), NITRATE)
