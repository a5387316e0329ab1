"""What the plan says of lamp, membrane, tank, softener and taps."""

from __future__ import annotations

from datetime import date

import msgspec
import pytest

from model.equipment.neutralizer import Neutralizer
from model.equipment.registry import AnyStage
from model.plan import plan
from model.plan_types import Plan
from model.records.events import AnyEvent, LabReport, Service
from tests.forecast.homes import STAGES, TODAY, home, meter, raw_water, reading, taken

LAMP = Service(on=date(2026, 11, 1), task="ultraviolet.replace_lamp")
CLEANED = Service(on=date(2026, 11, 1), task="ultraviolet.clean_sleeve")
FRESH: list[AnyEvent] = [raw_water(), *meter(500.0), LAMP, CLEANED]


def stages(stage: str, **changed: object) -> tuple[AnyStage, ...]:
    """The stages with other settings for one of them."""
    return tuple(msgspec.structs.replace(one, **changed) if one.id == stage else one for one in STAGES)


def shown(*events: AnyEvent, **more: object) -> Plan:
    """The plan of a fresh home with more events."""
    return plan(home(*FRESH, *events, **more), TODAY)


def lamp_of(made: Plan) -> dict[str, object]:
    return made.reports["ultraviolet"]


def texts(made: Plan, stage: str) -> str:
    return " ".join(f"{fact.text} {fact.basis}" for fact in made.facts if fact.stage == stage)


def alert_texts(made: Plan) -> str:
    return " ".join(alert.text for alert in made.alerts)


def test_a_class_a_unit_within_its_rating_has_logs() -> None:
    numbers = lamp_of(shown(stages=stages("ultraviolet", unit_class="A")))
    dose = numbers["dose_mj_cm2"]
    assert isinstance(dose, float)
    assert 35.0 < dose <= 40.0
    assert numbers["log_inactivation"] == {"cryptosporidium": 4.0, "giardia": 4.0, "virus": 0.0 if dose < 39 else 0.5}
    assert "outside_rating" not in numbers


@pytest.mark.parametrize("unit_class", ["B", "unknown"])
def test_no_logs_without_class_a(unit_class: str) -> None:
    made = shown(stages=stages("ultraviolet", unit_class=unit_class))
    assert "log_inactivation" not in lamp_of(made)
    assert "no log figures" in texts(made, "ultraviolet")


@pytest.mark.parametrize(
    ("events", "settings", "words"),
    [
        ([], {"peak_l_per_min": 60.0}, "over the rated"),
        ([reading(TODAY, "uv_transmittance", 60.0, "tap")], {}, "transmittance 60 % under the rated 75 %"),
    ],
    ids=["flow", "transmittance"],
)
def test_outside_its_rating_is_said_before_any_number(
    events: list[AnyEvent], settings: dict[str, object], words: str
) -> None:
    made = shown(*events, stages=stages("ultraviolet", unit_class="A"), **settings)
    numbers = lamp_of(made)
    assert next(iter(numbers)) == "outside_rating"
    assert "log_inactivation" not in numbers
    (dose,) = [fact.text for fact in made.facts if fact.stage == "ultraviolet" and fact.label == "Dose"]
    assert dose.startswith("outside its rating")
    assert words in dose
    assert "outside its rating" in alert_texts(made)


def test_a_slow_house_earns_nothing_over_the_rating() -> None:
    assert lamp_of(shown(peak_l_per_min=1.0))["dose_mj_cm2"] == pytest.approx(40.0)


def test_an_old_lamp_is_outside_its_rating() -> None:
    old = Service(on=date(2025, 6, 1), task="ultraviolet.replace_lamp")
    made = plan(home(raw_water(), old), TODAY)
    assert any("past its life" in reason for reason in lamp_of(made)["outside_rating"])  # type: ignore[attr-defined]


def test_the_ageing_of_a_lamp_counts_once() -> None:
    """Half of its life gone: 20 % of the light if rated new, none if rated at its end (60 % left there)."""
    lit = Service(on=date(2026, 5, 21), task="ultraviolet.replace_lamp")  # 188 days, 4,512 h
    made = [
        plan(
            home(raw_water(), lit, CLEANED, stages=stages("ultraviolet", rating_lamp=rating), peak_l_per_min=45.0),
            TODAY,
        )
        for rating in ("new", "end_of_life")
    ]
    new, end = (lamp_of(one)["dose_mj_cm2"] for one in made)
    assert isinstance(new, float)
    assert isinstance(end, float)
    assert new / end == pytest.approx(1.0 - 0.4 * 4512 / 9000, abs=0.002)


def test_transmittance_not_measured_is_said() -> None:
    assert "estimated from iron and nitrate" in texts(shown(), "ultraviolet")
    measured = shown(reading(date(2026, 11, 20), "uv_transmittance", 88.0, "tap"))
    assert "transmittance 88 %, measured 20 Nov" in texts(measured, "ultraviolet")


@pytest.mark.parametrize(
    ("quantity", "value"), [("hardness", 150.0), ("iron", 0.5), ("manganese", 0.08), ("turbidity", 1.5)]
)
def test_water_no_lamp_should_be_fed_is_told_at_its_own_inlet(quantity: str, value: float) -> None:
    made = shown(reading(TODAY, quantity, value, "after_softener"))
    (alert,) = [one for one in made.alerts if "Water to the ultraviolet unit" in one.text]
    assert alert.point == "after_softener"
    assert alert.level == "warning"


def test_raw_hardness_does_not_count_after_a_softener() -> None:
    hard = plan(home(raw_water(hardness=250.0), LAMP, CLEANED), TODAY)
    assert "Water to the ultraviolet unit" not in alert_texts(hard)


def ro(made: Plan) -> dict[str, float]:
    return made.reports["reverse_osmosis"]  # type: ignore[return-value]


def test_a_membrane_makes_less_in_the_cold() -> None:
    """190 L a day at 25 degC and 4.1 bar: 0.62 at 10 degC, common practice; 3.45 bar of feed, some osmotic pressure."""
    numbers = ro(shown())
    assert numbers["permeate_l_per_day"] == pytest.approx(190.0 * 0.62 * (3.45 - 0.14) / 4.1, rel=0.03)
    assert "normalized_flow_ratio" not in numbers


def test_the_flow_is_normalized_once_it_was_read() -> None:
    read = [
        reading(date(2026, 11, 10), "feed_pressure", 3.8, "reverse_osmosis"),
        reading(date(2026, 11, 10), "temperature", 10.0, "source"),
        reading(date(2026, 11, 10), "ro_flow", 100.0, "reverse_osmosis"),
    ]
    ratio = ro(shown(*read))["normalized_flow_ratio"]
    assert ratio == pytest.approx(100.0 / (190.0 * 0.62 * (3.8 - 0.14) / 4.1), rel=0.03)


def test_a_fall_of_a_tenth_is_told_and_a_cold_day_is_not() -> None:
    def seen(on: date, litres: float, celsius: float) -> list[AnyEvent]:
        return [
            reading(on, "feed_pressure", 3.8, "reverse_osmosis"),
            reading(on, "temperature", celsius, "ro"),
            reading(on, "ro_flow", litres, "reverse_osmosis"),
        ]

    summer = seen(date(2026, 7, 1), 150.0, 18.0)
    cold = shown(*summer, *seen(date(2026, 11, 20), 150.0 * 0.62 / 0.804, 10.0))
    worn = shown(*summer, *seen(date(2026, 11, 20), 150.0 * 0.85 * 0.62 / 0.804, 10.0))
    assert "the membrane makes" not in alert_texts(cold)
    assert "the membrane makes 15% less" in alert_texts(worn)


def test_a_reservoir_fills_slower_in_winter() -> None:
    warm = ro(shown())["reservoir_fill_h_in_winter"]
    cold = ro(shown(reading(date(2026, 2, 1), "temperature", 5.0, "source")))["reservoir_fill_h_in_winter"]
    assert cold > 1.1 * warm


def test_reject_over_the_septic_advice_is_told() -> None:
    greedy = shown(stages=stages("reverse_osmosis", recovery=0.05))
    assert "DPH publication 21" in alert_texts(greedy)


def test_a_tank_that_gives_too_little_is_told() -> None:
    """300 L at 2.62/2.76/4.14 bar: 25.8 % by Boyle's law, 77 L. 60 L are 22 % short, 70 L are 9 %."""
    short = shown(reading(date(2026, 11, 1), "drawdown", 60.0, "pressure_tank"))
    sound = shown(reading(date(2026, 11, 1), "drawdown", 70.0, "pressure_tank"))
    assert "22% short" in alert_texts(short)
    assert "Draw-down measured" not in alert_texts(sound)


def test_a_draw_down_from_before_the_air_was_set_no_longer_counts() -> None:
    made = shown(
        reading(date(2026, 10, 1), "drawdown", 40.0, "pressure_tank"),
        Service(on=date(2026, 11, 1), task="pressure_tank.precharge"),
    )
    assert "Draw-down measured" not in alert_texts(made)
    assert "measured_drawdown_l" not in made.reports["pressure_tank"]


def test_the_shortest_run_of_the_pump() -> None:
    """77.4 L at 100 L/min are 46 s: by hand."""
    made = shown(stages=stages("well", pump_l_per_min=100.0))
    assert made.reports["pressure_tank"]["shortest_run_s"] == pytest.approx(46.4, abs=0.5)
    assert "as briefly as 46 s" in alert_texts(made)


def test_a_tank_set_wrong_way_round_cannot_be_described() -> None:
    with pytest.raises(ValueError, match="cut_in_bar"):
        stages("pressure_tank", cut_in_bar=5.0)


def test_potassium_chloride_adds_potassium_and_its_caution() -> None:
    """0.7813 mg of potassium for each mg of hardness: atomic weights."""
    made = shown(stages=stages("softener", regenerant="potassium_chloride"))
    points = {point.point: point for point in made.points}
    before, after = points["after_neutralizer"], points["after_softener"]
    assert before.sample is not None
    assert after.sample is not None
    removed = (before.hardness_mg_l_caco3 or 0.0) - (after.hardness_mg_l_caco3 or 0.0)
    assert (after.sample.potassium_mg_l - before.sample.potassium_mg_l) / removed == pytest.approx(0.7813, abs=0.001)
    assert after.sample.sodium_mg_l == before.sample.sodium_mg_l
    assert made.reports["softener"]["sodium_added_mg_l"] == 0.0
    assert "kidney disease" in alert_texts(made)
    assert "ask a doctor" in alert_texts(made)


def test_cold_fill_water_that_cannot_hold_the_dose_is_told() -> None:
    """10 L at 10 degC hold 3.58 kg of sodium chloride (26.36 %) and 3.09 kg of potassium chloride: by hand."""
    enough = shown(stages=stages("softener", brine_fill_l=12.0))
    short = shown(stages=stages("softener", brine_fill_l=10.0, regenerant="potassium_chloride"))
    assert "regenerated short" not in alert_texts(enough)
    assert "regenerated short" in alert_texts(short)


def test_old_resin_shortens_the_run() -> None:
    """5 % a year, compounded: ten years leave 60 %. UFC 3-240-13FN, by hand."""
    plain = stages("softener", regenerate_every_l=None, anion_type="none", installed_on=date(2016, 11, 25))
    young = stages("softener", regenerate_every_l=None, anion_type="none", installed_on=TODAY)
    old, new = (
        made.reports["softener"]["days_between_regenerations"] for made in (shown(stages=plain), shown(stages=young))
    )
    assert isinstance(old, float)
    assert isinstance(new, float)
    assert old / new == pytest.approx(0.95**10, abs=0.001)


def test_nitrate_raises_the_hardness_to_set() -> None:
    both = shown(stages=stages("softener", anion_type="standard", anion_usable_share=0.1))
    alone = shown(stages=stages("softener", anion_type="none"))
    settings = [made.reports["softener"]["hardness_setting_gpg"] for made in (both, alone)]
    assert settings[0] > settings[1]  # type: ignore[operator]


def test_doses_are_compared() -> None:
    doses = shown().reports["softener"]["doses"]
    assert isinstance(doses, list)
    assert [row["salt_lb_per_ft3"] for row in doses] == [6.0, 8.0, 10.0, 15.0]
    assert all(row["cost_per_year"] == pytest.approx(row["salt_kg_per_year"] * 9.0 / 20.0) for row in doses)


def test_the_drain_takes_regenerations_and_reject() -> None:
    """500 L a day over 4,000 L a run: 0.875 a week of 250 L and 4 kg; 7.5 L a day at 22 % reject 186 L a week."""
    drain = shown().reports["drain"]
    assert drain["salt_kg_per_week"] == pytest.approx(3.5, rel=0.03)
    assert drain["water_l_per_week"] == pytest.approx(0.875 * 250.0 + 7 * 7.5 * (1 / 0.22 - 1), rel=0.03)


def lab(point: str, **values: float) -> LabReport:
    return LabReport(on=date(2026, 11, 1), point=point, taken=tuple(taken(k, v, point) for k, v in values.items()))


def test_coliform_is_the_first_alert_even_beside_nitrate() -> None:
    made = shown(lab("tap", nitrate=14.0, lead=0.03), lab("ro", total_coliform=1.0))
    assert made.alerts[0].point == "ro"
    assert made.alerts[0].text.startswith("Coliform")
    assert [alert.level for alert in made.alerts[:3]] == ["danger"] * 3


def test_nitrate_read_at_the_ro_tap_counts_over_what_is_reckoned() -> None:
    made = shown(reading(TODAY, "nitrate", 11.0, "ro"))
    assert any(one.point == "ro" and one.level == "danger" and "11.0 mg/L as N" in one.text for one in made.alerts)


def test_a_metal_in_raw_water_is_told_until_the_tap_is_tested() -> None:
    raw = shown(lab("source", arsenic=0.02))
    both = shown(lab("source", arsenic=0.02), lab("tap", arsenic=0.002))
    assert "Arsenic" in alert_texts(raw)
    assert "Arsenic" not in alert_texts(both)


def test_less_than_is_not_found() -> None:
    less = LabReport(on=TODAY, point="tap", taken=(taken("lead", 0.02, "tap", qualifier="<"),))
    assert "Lead" not in alert_texts(shown(less))


def test_taps_are_told_of_even_where_the_source_is_unknown() -> None:
    made = plan(home(lab("tap", lead=0.05), stages=(Neutralizer(id="neutralizer"),)), TODAY)
    assert "Lead 50" in alert_texts(made)


def test_a_sleeve_in_fouling_water_is_cleaned_sooner() -> None:
    """3 months instead of 6 where iron is over 0.3 mg/L: common practice, no source."""
    plain = [one for one in plan(home(*FRESH), TODAY).due if one.task == "ultraviolet.clean_sleeve"]
    rusty = [one for one in plan(home(raw_water(iron=0.6), LAMP, CLEANED), TODAY).due if one.task == plain[0].task]
    assert plain[0].act_on == date(2027, 5, 1)
    assert rusty[0].act_on == date(2027, 2, 1)


def test_more_drawn_than_a_cold_membrane_makes_is_told() -> None:
    assert "in the coldest water" in alert_texts(shown(stages=stages("reverse_osmosis", rated_l_per_day=12.0)))


def test_settings_that_make_no_sense_are_told_and_not_a_crash() -> None:
    made = shown(stages=stages("ultraviolet", rated_l_per_min=0.0))
    assert "ultraviolet" not in made.reports
    assert "rated flow must be above 0" in texts(made, "ultraviolet")
