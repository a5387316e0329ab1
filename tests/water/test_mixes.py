"""What always holds of waters mixed by parts."""

from __future__ import annotations

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from model.errors import BadInput
from model.water.balance import anions_meq_l, cations_meq_l, hardness_mg_l_caco3
from model.water.carbonate import aerated_ph, mix, speciate
from model.water.mixes import HARDNESS_UNITS, blend, blend_for_hardness, share_for_hardness, unfit_for_drinking
from model.water.sample import Sample
from tests.water.waters import water, waters

IONS = [name for name in Sample.__struct_fields__ if name not in ("pH", "assumed")]
FEW = settings(max_examples=50)
taps = st.dictionaries(
    st.sampled_from(["well", "house", "ro", "rain"]), st.tuples(waters, st.floats(0.0, 50.0)), min_size=1
)


@given(taps)
@FEW
def test_a_blend_keeps_ions_carbon_and_charge(drawn: dict[str, tuple[Sample, float]]) -> None:
    total = sum(part for _, part in drawn.values())
    assume(total > 1e-3)
    made = blend({name: one for name, (one, _) in drawn.items()}, {name: part for name, (_, part) in drawn.items()})

    for name in IONS:
        by_hand = sum(part * getattr(one, name) for one, part in drawn.values()) / total
        assert getattr(made.sample, name) == pytest.approx(by_hand, rel=1e-9, abs=1e-9), name
    carbon = sum(part * speciate(one).total_carbon_mmol_l for one, part in drawn.values()) / total
    assert speciate(made.sample).total_carbon_mmol_l == pytest.approx(carbon, rel=1e-6, abs=1e-8)
    charge = sum(part * (cations_meq_l(one) - anions_meq_l(one)) for one, part in drawn.values()) / total
    assert cations_meq_l(made.sample) - anions_meq_l(made.sample) == pytest.approx(charge, abs=1e-9)
    assert sum(made.shares.values()) == pytest.approx(1.0)
    assert made.standing_pH == aerated_ph(made.sample)


@given(waters, waters, st.floats(0.01, 0.99))
@FEW
def test_two_taps_in_either_order_are_their_mix(a: Sample, b: Sample, share: float) -> None:
    one = blend({"a": a, "b": b}, {"a": 1.0 - share, "b": share}).sample
    two = blend({"b": b, "a": a}, {"b": 3.0 * share, "a": 3.0 * (1.0 - share)}).sample

    assert one.pH == pytest.approx(mix(a, b, share).pH, abs=1e-6)
    assert two.pH == pytest.approx(one.pH, abs=1e-6)


@given(waters, waters, st.floats(0.0, 1.0), st.sampled_from(sorted(HARDNESS_UNITS)))
@FEW
def test_the_hardness_asked_for_comes_out(a: Sample, b: Sample, at: float, unit: str) -> None:
    hard, soft = hardness_mg_l_caco3(a), hardness_mg_l_caco3(b)
    assume(abs(hard - soft) > 1.0)
    wanted = (soft + at * (hard - soft)) / HARDNESS_UNITS[unit]
    assume(min(hard, soft) <= wanted * HARDNESS_UNITS[unit] <= max(hard, soft))

    made = blend_for_hardness({"a": a, "b": b}, wanted, unit)
    assert made.hardness_mg_l_caco3 == pytest.approx(wanted * HARDNESS_UNITS[unit], rel=1e-9, abs=1e-9)
    assert share_for_hardness(a, b, wanted, unit) == pytest.approx(at, abs=1e-9)


@pytest.mark.parametrize("wanted", [0.0, 500.0])
def test_a_hardness_that_is_not_between_is_refused(wanted: float) -> None:
    with pytest.raises(BadInput, match="mix to no hardness"):
        share_for_hardness(water(), water(calcium_mg_l=40.0), wanted)


def test_two_waters_alike_solve_for_nothing() -> None:
    with pytest.raises(BadInput, match="mix to no hardness"):
        share_for_hardness(water(), water(), hardness_mg_l_caco3(water()))


@pytest.mark.parametrize(("wanted", "unit"), [(5.0, "fH"), (-1.0, "dH"), (float("nan"), "dH")])
def test_a_hardness_that_cannot_be_read_is_refused(wanted: float, unit: str) -> None:
    with pytest.raises(BadInput):
        share_for_hardness(water(), water(calcium_mg_l=40.0), wanted, unit)


@pytest.mark.parametrize(
    "parts", [{}, {"well": 0.0}, {"well": -1.0}, {"well": float("nan")}, {"sea": 1.0}, {"well": float("inf")}]
)
def test_parts_that_make_no_water_are_refused(parts: dict[str, float]) -> None:
    with pytest.raises(BadInput):
        blend({"well": water()}, parts)


def test_a_hardness_takes_two_waters() -> None:
    with pytest.raises(BadInput, match="solved for two"):
        blend_for_hardness({"well": water()}, 30.0)


def test_a_tap_without_a_part_is_left_out() -> None:
    made = blend({"well": water(), "ro": water(calcium_mg_l=0.0)}, {"well": 2.0, "ro": 0.0})

    assert made.shares == {"well": 1.0}
    assert made.sample == water()


@pytest.mark.parametrize(
    ("nitrate", "sodium", "words"),
    [
        (9.99, 20.0, ()),
        (10.0, 20.0, ("infants under 6 months",)),
        (9.0, 21.0, ("500 mg of sodium a day",)),
        (12.0, 80.0, ("limit of 10", "restricted diet")),
    ],
)
def test_what_makes_a_mix_unfit(nitrate: float, sodium: float, words: tuple[str, ...]) -> None:
    found = unfit_for_drinking(water(nitrate_mg_l_n=nitrate, sodium_mg_l=sodium))

    assert len(found) == len(words)
    assert all(word in text for word, text in zip(words, found, strict=True))
