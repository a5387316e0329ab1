"""The h-transform against PHREEQC, against mixed cells, and what must always hold."""

from __future__ import annotations

from itertools import pairwise
from math import inf, nan

import msgspec
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from model.errors import BadInput
from model.water.exchange.curve import Passage, first_plateau, passage
from model.water.exchange.resins import effective_factor_divalent
from model.water.exchange.roots import fractions_of, h_roots, reciprocal_factors
from model.water.exchange.waves import elution, sharp_curve
from tests.exchange.phreeqc_columns import ANIONS, KEPT, RESINS, Answer, column, first_above
from tests.exchange.referees import mixed_cells

KEPT_ANSWERS = msgspec.json.decode(KEPT.read_bytes(), type=list[Answer])
NITRATE = ANIONS.index("NO3")
CHLORIDE_FORM = (0.0, 1.0, 0.0, 0.0)


def passes(feed: list[float], factors: list[float], capacity: float = 1000.0, ion: int = NITRATE) -> Passage:
    found = elution(feed, factors, capacity, 0.4, CHLORIDE_FORM)
    plateau = first_plateau([state[ion] for state in found.states()])
    return passage(sharp_curve(found), ion, feed[ion] / sum(feed), plateau)


def of(answer: Answer) -> tuple[list[float], list[float]]:
    return [answer.feed_meq_l[ion] for ion in ANIONS], [RESINS[answer.resin][ion] for ion in ANIONS]


def followed_closely(answer: Answer) -> bool:
    """Sulfate follows so close on nitrate that twenty cells never show the plateau between them."""
    feed, factors = of(answer)
    waves = elution(feed, factors, 1000.0, 0.4, CHLORIDE_FORM).waves
    return answer.resin == "standard" and waves[-1].last_bv < 1.15 * waves[-2].last_bv


def test_enough_waters_are_kept() -> None:
    assert sum(not followed_closely(answer) for answer in KEPT_ANSWERS if answer.resin == "standard") >= 12
    assert sum(answer.resin == "selective" for answer in KEPT_ANSWERS) >= 12


@pytest.mark.parametrize("answer", KEPT_ANSWERS, ids=lambda a: f"{a.resin}-{'-'.join(map(str, a.feed_meq_l.values()))}")
def test_the_theory_agrees_with_phreeqc(answer: Answer) -> None:
    seen = passes(*of(answer))
    assert seen.half_plateau_bv == pytest.approx(answer.half_plateau_bv, rel=0.03)
    if followed_closely(answer):
        assert seen.peak_over_feed > answer.peak_over_feed
    else:
        assert seen.plateau_over_feed == pytest.approx(answer.plateau_over_feed, rel=0.03)
        assert seen.peak_over_feed == pytest.approx(answer.peak_over_feed, rel=0.03)


def test_a_live_phreeqc_column() -> None:
    feed = dict(zip(ANIONS, (4.0, 0.6, 1.43, 0.6), strict=True))
    curve = column(feed, RESINS["standard"], 31.0, capacity_eq_l=0.05)
    seen = passes(list(feed.values()), list(RESINS["standard"].values()), capacity=50.0)
    top = max(value for _, value in curve)
    assert seen.half_plateau_bv == pytest.approx(first_above(curve, top / 2.0), rel=0.03)
    assert seen.peak_over_feed == pytest.approx(top / feed["NO3"], rel=0.03)


@pytest.mark.parametrize("resin", RESINS)
@pytest.mark.parametrize("feed", [(4.0, 0.6, 1.43, 0.6), (0.6, 2.5, 1.2, 0.8)])
def test_mixed_cells_balance_and_agree(resin: str, feed: tuple[float, ...]) -> None:
    factors = [RESINS[resin][ion] for ion in ANIONS]
    end = 1.3 * elution(feed, factors, 40.0, 0.4, CHLORIDE_FORM).waves[-1].last_bv
    cells = mixed_cells(feed, factors, 40.0, 0.4, CHLORIDE_FORM, 20, end)
    passed = 0.4 / 20
    for ion, amount in enumerate(feed):
        out = sum(row[ion] for row in cells.effluent) * passed
        kept = cells.held[ion] - cells.held_at_start[ion]
        assert kept + out == pytest.approx(amount * passed * len(cells.effluent), abs=1e-9 * 40.0)
    curve = list(zip(cells.bed_volumes, (row[NITRATE] for row in cells.effluent), strict=True))
    seen, top = passes(list(feed), factors, capacity=40.0), max(value for _, value in curve)
    assert seen.half_plateau_bv == pytest.approx(first_above(curve, top / 2.0), rel=0.03)
    assert seen.peak_over_feed == pytest.approx(top / feed[NITRATE], rel=0.03)


def test_more_cells_come_nearer_to_a_peak_that_sulfate_follows_closely() -> None:
    feed, factors = [4.5, 2.0, 0.5, 3.5], [RESINS["standard"][ion] for ion in ANIONS]
    few, more = (
        max(row[NITRATE] for row in mixed_cells(feed, factors, 40.0, 0.4, CHLORIDE_FORM, count, 12.0).effluent)
        for count in (20, 45)
    )
    kept = next(answer for answer in KEPT_ANSWERS if list(answer.feed_meq_l.values()) == feed)
    theory = passes(feed, factors).peak_over_feed
    assert few / 0.5 == pytest.approx(kept.peak_over_feed, rel=0.03)
    assert few / 0.5 < more / 0.5 < theory
    assert theory - more / 0.5 < 0.5 * (theory - few / 0.5)


def test_a_binary_step_and_a_binary_spread() -> None:
    """Two ions in closed form: a step at the load, or a front from load over factor to load x factor; factor 4."""
    step = elution([2.0, 0.0], [4.0, 1.0], 200.0, 0.4, [0.0, 1.0])
    assert [wave.first_bv for wave in step.waves] == pytest.approx([0.4 + 100.0])
    spread = elution([0.0, 2.0], [4.0, 1.0], 200.0, 0.4, [1.0, 0.0])
    assert [end for wave in spread.waves for end in (wave.first_bv, wave.last_bv)] == pytest.approx([25.4, 400.4])
    # Half-way up y = 4x/(1+3x), dy/dx = 4/(1+3x)^2 at x = 1/2: 0.64 of the load.
    assert spread.effluent_meq_l(0.4 + 64.0)[0] == pytest.approx(1.0)


def test_sulfate_of_the_published_column_counts_about_eight() -> None:
    """US EPA, Water_Treatment_Models, example: 586 meq per L of bed, porosity 0.38, 7.00 meq/L, coefficient 0.10."""
    linear = (1.51 + 0.6 * 4.23 + 5.0 * 0.74) / 7.0
    assert effective_factor_divalent(0.10, 0.586 / 0.62, 7.0e-3, linear, 0.52 / 7.0) == pytest.approx(8.0, abs=0.1)


def test_strong_brine_takes_sulfate_off() -> None:
    found = [effective_factor_divalent(0.10, 1.0, normality, 1.0, 0.1) for normality in (0.005, 0.05, 0.5, 2.0)]
    assert all(weak > strong for weak, strong in pairwise(found))
    assert found[-1] < 1.0


amounts = st.one_of(st.just(0.0), st.floats(1e-3, 20.0))
factor = st.floats(0.02, 50.0)


@st.composite
def any_column(draw: st.DrawFn) -> tuple[list[float], list[float], list[float]]:
    count = draw(st.integers(1, 6))
    lists = [draw(st.lists(kind, min_size=count, max_size=count)) for kind in (amounts, factor, amounts)]
    assume(sum(lists[0]) > 0 and sum(lists[2]) > 0)
    if count > 2 and draw(st.booleans()):
        lists[1][1] = lists[1][0]
    return lists[0], lists[1], lists[2]


@given(any_column())
@settings(max_examples=20, deadline=None)
def test_what_goes_in_stays_or_comes_out(made: tuple[list[float], list[float], list[float]]) -> None:
    feed, factors, resin = made
    total, capacity = sum(feed), 800.0
    found = elution(feed, factors, capacity, 0.4, resin)
    curve = sharp_curve(found, points=400)
    weighed = sum(f * c for f, c in zip(factors, feed, strict=True))
    for ion, amount in enumerate(feed):
        water = [row[ion] * total for row in curve.rows]
        assert min(water) >= 0.0
        out = sum(
            (b - a) * (u + v) / 2 for (a, b), (u, v) in zip(pairwise(curve.bed_volumes), pairwise(water), strict=True)
        )
        gained = capacity * (factors[ion] * amount / weighed - resin[ion] / sum(resin)) + 0.4 * (amount - water[0])
        end = curve.bed_volumes[-1]
        assert amount * end - out == pytest.approx(gained, abs=2e-4 * (capacity + total * end))
    assert all(sum(row) == pytest.approx(1.0, abs=1e-6) for row in curve.rows)


@given(any_column())
@settings(max_examples=20, deadline=None)
def test_the_roots_lead_back_to_the_water(made: tuple[list[float], list[float], list[float]]) -> None:
    feed, factors, _ = made
    b, x = reciprocal_factors(factors), [amount / sum(feed) for amount in feed]
    assert fractions_of(h_roots(x, b), b) == pytest.approx(x, abs=1e-6)


waters = st.tuples(st.floats(0.1, 8.0), st.floats(0.05, 8.0), st.floats(0.05, 4.0), st.floats(0.02, 6.0))


@given(waters, st.floats(0.1, 0.9), st.floats(1.5, 8.0), st.floats(1.1, 6.0))
@settings(max_examples=20, deadline=None)
def test_with_sulfate_preferred_nitrate_leaves_first_and_peaks(
    water: tuple[float, ...], bicarbonate: float, nitrate: float, more: float
) -> None:
    factors = [bicarbonate, 1.0, nitrate, nitrate * more]
    seen, sulfate = passes(list(water), factors), passes(list(water), factors, ion=3)
    assert seen.half_plateau_bv is not None
    assert sulfate.half_plateau_bv is not None
    assert seen.half_plateau_bv <= sulfate.half_plateau_bv
    assert seen.peak_over_feed > 1.0


@given(waters, st.floats(0.1, 0.9), st.floats(2.0, 20.0), st.floats(0.05, 0.95))
@settings(max_examples=20, deadline=None)
def test_a_selective_resin_never_passes_more_than_the_feed(
    water: tuple[float, ...], bicarbonate: float, nitrate: float, less: float
) -> None:
    factors = [bicarbonate, 1.0, nitrate, nitrate * less]
    seen, sulfate = passes(list(water), factors), passes(list(water), factors, ion=3)
    assert seen.peak_over_feed <= 1.0 + 1e-9
    assert not seen.dumps
    assert (sulfate.half_plateau_bv or 0.0) <= (seen.half_plateau_bv or 0.0)


@given(waters, st.sampled_from(sorted(RESINS)), st.floats(1.05, 3.0))
@settings(max_examples=20, deadline=None)
def test_more_capacity_lasts_longer_and_more_nitrate_less_long(
    water: tuple[float, ...], resin: str, more: float
) -> None:
    factors = [RESINS[resin][ion] for ion in ANIONS]
    seen = passes(list(water), factors).half_plateau_bv or 0.0
    assert (passes(list(water), factors, 1000.0 * more).half_plateau_bv or 0.0) > seen
    richer = [*water[:2], water[2] * more, water[3]]
    assert (passes(richer, factors).half_plateau_bv or 0.0) < seen


@pytest.mark.parametrize(
    ("feed", "factors", "capacity", "porosity", "resin"),
    [
        ([-1.0, 1.0], [1.0, 2.0], 1000.0, 0.4, [1.0, 0.0]),
        ([nan, 1.0], [1.0, 2.0], 1000.0, 0.4, [1.0, 0.0]),
        ([inf, 1.0], [1.0, 2.0], 1000.0, 0.4, [1.0, 0.0]),
        ([0.0, 0.0], [1.0, 2.0], 1000.0, 0.4, [1.0, 0.0]),
        ([1.0, 1.0], [0.0, 2.0], 1000.0, 0.4, [1.0, 0.0]),
        ([1.0, 1.0], [1.0, 2.0], 0.0, 0.4, [1.0, 0.0]),
        ([1.0, 1.0], [1.0, 2.0], 1000.0, 1.0, [1.0, 0.0]),
        ([1.0, 1.0], [1.0, 2.0], 1000.0, 0.4, [0.0, 0.0]),
        ([1.0, 1.0], [1.0, 2.0], 1000.0, 0.4, [1.0]),
        ([], [], 1000.0, 0.4, []),
    ],
)
def test_what_cannot_be_is_refused(
    feed: list[float], factors: list[float], capacity: float, porosity: float, resin: list[float]
) -> None:
    with pytest.raises(BadInput):
        elution(feed, factors, capacity, porosity, resin)


def test_pure_chloride_on_a_chloride_bed_has_no_waves() -> None:
    found = elution([0.0, 3.0, 0.0, 0.0], [0.3, 1.0, 3.2, 9.1], 1000.0, 0.4, CHLORIDE_FORM)
    assert found.waves == ()
    assert found.effluent_meq_l(500.0) == pytest.approx((0.0, 3.0, 0.0, 0.0))
