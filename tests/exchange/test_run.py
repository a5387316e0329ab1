"""A softener's anion bed from one regeneration to the next."""

from __future__ import annotations

from math import inf, nan
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model.errors import BadInput
from model.water.exchange.resins import NITRATE_SELECTIVE, RESINS, STANDARD, STANDARD_TEXTBOOK, ResinData
from model.water.exchange.run import Run, nitrate_run

WELL = {"HCO3": 4.0, "Cl": 0.6, "NO3": 1.43, "SO4": 0.6}
RAW_MG_L_N = 1.43 * 14.007


def test_a_standard_resin_dumps_and_a_selective_does_not() -> None:
    standard, selective = (nitrate_run(WELL, resin, 28.0, 8.0, 5.0) for resin in (STANDARD, NITRATE_SELECTIVE))
    assert standard.dumps
    assert standard.peak_mg_l_n > RAW_MG_L_N * 1.1
    assert standard.peak_ends_l is not None
    assert standard.half_l is not None
    assert standard.peak_ends_l > standard.half_l
    assert not selective.dumps
    assert selective.peak_mg_l_n == pytest.approx(RAW_MG_L_N, rel=1e-6)
    assert selective.peak_ends_l is None


@pytest.mark.parametrize("resin", RESINS.values(), ids=RESINS)
def test_the_early_edge_comes_before_the_middle_and_sooner_at_a_higher_flow(resin: ResinData) -> None:
    slow, fast = (nitrate_run(WELL, resin, 28.0, flow, 5.0) for flow in (4.0, 25.0))
    assert slow.early_l is not None
    assert slow.half_l is not None
    assert fast.early_l is not None
    assert fast.early_l < slow.early_l < slow.half_l


@pytest.mark.parametrize("resin", RESINS.values(), ids=RESINS)
def test_quick_and_kinetic_agree(resin: ResinData) -> None:
    quick, kinetic = (nitrate_run(WELL, resin, 28.0, 12.0, 5.0, method=one) for one in ("quick", "kinetic"))
    assert quick.early_l == pytest.approx(kinetic.early_l, rel=0.05)
    assert quick.half_l == pytest.approx(kinetic.half_l, rel=0.03)
    assert quick.peak_mg_l_n == pytest.approx(kinetic.peak_mg_l_n, rel=0.05)


def test_auto_is_kinetic_only_where_fronts_overlap() -> None:
    """Of the two only the gypsum water's sulfate follows close on nitrate."""
    gypsum = {"HCO3": 3.0, "Cl": 2.0, "NO3": 0.7, "SO4": 2.5}
    apart, close = (nitrate_run(water, STANDARD, 28.0, 3.0, 3.0, method="auto") for water in (WELL, gypsum))
    assert (apart.method, apart.overlap) == ("quick", False)
    assert (close.method, close.overlap) == ("kinetic", True)
    quick = nitrate_run(gypsum, STANDARD, 28.0, 3.0, 3.0)
    assert quick.early_l is not None
    assert close.early_l is not None
    assert quick.early_l < 1.05 * close.early_l


def test_capacity_by_hand() -> None:
    """Factors of the textbook set: sum a c = 0.27x4 + 0.6 + 3.2x1.43 + 9.1x0.6 = 11.716 meq/L. Sulfate, held tightest,
    ends the peak at porosity + 0.4 x 1300 x 9.1/11.716 = 404.3 bed volumes."""
    run = nitrate_run(WELL, STANDARD_TEXTBOOK, 10.0, 0.02, 5.0)
    assert run.peak_ends_l == pytest.approx(4043.0, rel=0.02)


def test_twice_the_usable_share_lasts_nearly_twice_as_long() -> None:
    some, more = (nitrate_run(WELL, STANDARD_TEXTBOOK, 28.0, 2.0, 5.0, share).half_l for share in (0.4, 0.8))
    assert some is not None
    assert more == pytest.approx(2.0 * some, rel=0.02)


@pytest.mark.parametrize("water", [{"HCO3": 3.0, "Cl": 1.0, "SO4": 1.0}, {"Cl": 2.0}, {"SO4": 1.0}])
def test_no_nitrate_gives_no_litres(water: dict[str, float]) -> None:
    run = nitrate_run(water, STANDARD, 28.0, 8.0, 5.0)
    assert run == Run(
        early_l=None, half_l=None, plateau_mg_l_n=0.0, peak_mg_l_n=0.0, dumps=False, peak_ends_l=None, method="quick"
    )


def test_no_sulfate_no_peak() -> None:
    run = nitrate_run({"HCO3": 3.0, "Cl": 1.0, "NO3": 1.0}, STANDARD, 28.0, 8.0, 5.0)
    assert not run.dumps
    assert run.peak_mg_l_n == pytest.approx(14.007)


def test_a_weak_water_never_reaches_the_level() -> None:
    run = nitrate_run({"HCO3": 3.0, "Cl": 1.0, "NO3": 0.2}, NITRATE_SELECTIVE, 28.0, 8.0, 5.0)
    assert run.early_l is None
    assert run.half_l is not None


def test_nitrate_left_on_the_resin_leaks_from_the_first_litre() -> None:
    fresh = nitrate_run(WELL, STANDARD, 28.0, 8.0, 5.0)
    left = nitrate_run(WELL, STANDARD, 28.0, 8.0, 5.0, resin_fractions={"Cl": 0.4, "NO3": 0.6})
    assert left.early_l == 0.0
    assert fresh.early_l is not None
    assert fresh.early_l > 1000.0


waters = st.fixed_dictionaries({ion: st.one_of(st.just(0.0), st.floats(0.0, 30.0)) for ion in WELL})


@given(
    waters,
    st.sampled_from(sorted(RESINS)),
    st.floats(0.5, 200.0),
    st.floats(0.05, 100.0),
    st.floats(0.5, 50.0),
    st.floats(0.01, 1.0),
)
@settings(max_examples=100, deadline=None)
def test_any_water_has_an_answer_or_a_reason(
    water: dict[str, float], resin: str, bed_l: float, flow: float, level: float, share: float
) -> None:
    if sum(water.values()) < 1e-6:
        with pytest.raises(BadInput):
            nitrate_run(water, RESINS[resin], bed_l, flow, level, share)
        return
    try:
        run = nitrate_run(water, RESINS[resin], bed_l, flow, level, share)
    except BadInput:
        # Next to no ions: the factor of sulfate, which moves with them, leaves its range.
        assert sum(water.values()) < 1e-3
        return
    raw = water["NO3"] * 14.007
    assert run.peak_mg_l_n >= raw * (1.0 - 1e-6) - 1e-3
    assert run.plateau_mg_l_n <= run.peak_mg_l_n * (1.0 + 1e-9)
    if run.early_l is not None:
        assert 0.0 <= run.early_l < inf
        assert run.peak_mg_l_n >= level * (1.0 - 1e-9)


rich = st.fixed_dictionaries({ion: st.floats(0.3, 6.0) for ion in WELL})


@given(rich, st.sampled_from(sorted(RESINS)), st.floats(0.5, 40.0), st.floats(0.2, 0.7))
@settings(max_examples=40, deadline=None)
def test_more_resin_passes_later_and_more_nitrate_sooner(
    water: dict[str, float], resin: str, flow: float, share: float
) -> None:
    """Where fronts overlap the quick edge wavers by a few percent."""

    def early(feed: dict[str, float], usable: float) -> float:
        return nitrate_run(feed, RESINS[resin], 28.0, flow, 2.0, usable).early_l or 0.0

    now = early(water, share)
    assert early(water, share * 1.4) >= 0.97 * now - 1.0
    assert early({**water, "NO3": water["NO3"] * 1.4}, share) <= 1.03 * now + 1.0


@pytest.mark.parametrize(
    "change",
    [
        {"bed_l": 0.0},
        {"bed_l": nan},
        {"flow_l_per_min": 0.0},
        {"flow_l_per_min": -3.0},
        {"action_mg_l_n": 0.0},
        {"usable_share": 0.0},
        {"usable_share": 1.5},
        {"feed_meq_l": {}},
        {"feed_meq_l": {"NO3": -1.0}},
        {"feed_meq_l": {"NO3": inf}},
        {"feed_meq_l": {"nitrate": 1.0}},
        {"resin_fractions": {"Cl": 0.0}},
    ],
)
def test_what_cannot_be_is_refused(change: dict[str, Any]) -> None:
    asked: dict[str, Any] = {
        "feed_meq_l": WELL,
        "resin": STANDARD,
        "bed_l": 28.0,
        "flow_l_per_min": 8.0,
        "action_mg_l_n": 5.0,
    }
    with pytest.raises(BadInput):
        nitrate_run(**(asked | change))
