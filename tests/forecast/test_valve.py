"""What the blend valve does to the house: mass and charge balance, and agreement with the plan of the day."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import pairwise

import msgspec
import pytest

from model.equipment.neutralizer import Neutralizer
from model.equipment.softener import Softener
from model.errors import BadInput
from model.forecast.situation import Situation
from model.forecast.valve import Valve, effect, valve_of
from model.home import Home
from model.plan import plan
from model.records.events import Reading, Setting, Taken
from model.redate import redated
from model.store.repository import Repository
from sample_data import SAMPLE

TODAY = date(2026, 11, 25)


def sample(*, without: type | None = None, **fields: object) -> Home:
    home = redated(Repository(SAMPLE).load(), TODAY)
    stages = tuple(
        msgspec.structs.replace(one, **fields) if isinstance(one, Neutralizer) else one
        for one in home.house.stages
        if without is None or not isinstance(one, without)
    )
    return Home(msgspec.structs.replace(home.house, stages=stages), home.events)


def valve(home: Home) -> Valve:
    now = Situation(home, TODAY)
    return valve_of(now, next(one for one in now.house.stages if isinstance(one, Neutralizer)))


def test_today_agrees_with_the_plan() -> None:
    home = sample()
    shown, found = plan(home, TODAY), valve(home)
    today = effect(found, found.stage.bypass_share)
    after = next(one for one in shown.points if one.point == "after_neutralizer")
    soft = next(one for one in shown.points if one.point == "after_softener")
    assert after.sample is not None
    assert soft.sample is not None
    assert today.pH == pytest.approx(after.sample.pH, abs=1e-6)
    assert today.hardness_mg_l_caco3 == pytest.approx(after.hardness_mg_l_caco3, rel=1e-4)
    assert today.sodium_mg_l == pytest.approx(soft.sample.sodium_mg_l, rel=1e-4)
    assert today.salt_kg == pytest.approx(shown.reports["softener"]["salt_kg_per_year"])


@pytest.mark.parametrize("share", [0.0, 0.25, 0.6, 0.99])
def test_media_of_a_year_are_the_hardness_gained(share: float) -> None:
    """Calcite is CaCO3, so its grams per litre are the hardness gained; MgO 40.304 for each CaCO3 100.087 (IUPAC)."""
    found = valve(sample(magnesia_share=0.2))
    now = effect(found, share)
    gained = (now.calcite_kg + now.magnesia_kg * 100.087 / 40.304) / (1.0 + found.stage.backwash_loss_share)
    raw = 100.087 * (found.raw.calcium_mg_l / 40.078 + found.raw.magnesium_mg_l / 24.305)
    assert gained == pytest.approx((now.hardness_mg_l_caco3 - raw) * found.litres_per_year / 1e6, rel=1e-3)


def test_more_bypass_is_less_of_everything() -> None:
    found = valve(sample())
    rows = [effect(found, share / 100.0) for share in range(0, 100, 9)]
    for before, after in pairwise(rows):
        assert after.pH < before.pH
        assert after.hardness_mg_l_caco3 < before.hardness_mg_l_caco3
        assert after.sodium_mg_l is not None
        assert before.sodium_mg_l is not None
        assert after.sodium_mg_l < before.sodium_mg_l
        assert after.calcite_kg < before.calcite_kg


def test_two_sodium_for_each_calcium_or_magnesium() -> None:
    """2 x 22.990 g of sodium for 100.087 g of hardness as CaCO3 (IUPAC)."""
    found = valve(sample())
    one, other = effect(found, 0.1), effect(found, 0.7)
    assert one.sodium_mg_l is not None
    assert other.sodium_mg_l is not None
    per_mg = (one.sodium_mg_l - other.sodium_mg_l) / (one.hardness_mg_l_caco3 - other.hardness_mg_l_caco3)
    assert per_mg == pytest.approx(2 * 22.990 / 100.087, rel=1e-3)


def test_a_pH_read_before_the_valve_was_moved_counts_for_the_share_of_then() -> None:
    home = sample()
    moved = Setting(id=90_000, at="", on=TODAY, path="stages.neutralizer.bypass_share", value=0.5, was=0.1)
    later = Home(home.house, (*home.events, moved))
    found = valve(later)
    assert found.bed.bypass_share == 0.5
    assert effect(found, 0.1).pH == pytest.approx(effect(valve(home), 0.1).pH, abs=1e-3)
    assert effect(found, 0.5).pH < effect(found, 0.1).pH - 0.1


def test_a_pH_read_after_the_valve_was_moved_counts_for_the_share_of_now() -> None:
    home = sample()
    moved = Setting(
        id=90_000, at="", on=TODAY - timedelta(days=2), path="stages.neutralizer.bypass_share", value=0.5, was=0.1
    )
    read = Reading(id=90_001, at="", on=TODAY, taken=Taken(quantity="pH", value=6.8, point="after_neutralizer"))
    assert effect(valve(Home(home.house, (*home.events, moved, read))), 0.5).pH == pytest.approx(6.8, abs=1e-6)


def test_without_a_softener_there_is_neither_salt_nor_sodium() -> None:
    now = effect(valve(sample(without=Softener)), 0.2)
    assert (now.sodium_mg_l, now.salt_kg, now.salt_by_load_kg, now.hardness_run_l) == (None, None, None, None)


def test_an_unknown_source_is_said() -> None:
    home = sample()
    with pytest.raises(BadInput, match="Nothing is known of the water before the neutralizer"):
        valve(Home(home.house, ()))


def test_a_pH_that_no_rate_explains_leaves_the_published_rates_and_says_so() -> None:
    home = sample()
    read = Reading(id=90_001, at="", on=TODAY, taken=Taken(quantity="pH", value=9.4, point="after_neutralizer"))
    found = valve(Home(home.house, (*home.events, read)))
    assert found.bed.rate_factor == 1.0
    assert "no rate of them explains" in found.basis
