"""The cautions that each job must carry, and the mixtures that no checklist may ask for."""

from __future__ import annotations

from model.upkeep.checklist import Checklist
from tests.upkeep.every import ALL, each, for_each

ACID_WORDS = ("vinegar", "citric", "lime remover", "resin cleaner")
CHLORINE_WORDS = ("bleach", "chlorinat")


def cautions(task: str) -> str:
    return " ".join(ALL[task].cautions).casefold()


def asked_for(sheet: Checklist) -> list[str]:
    """What the owner is told to do or fetch, without the cautions."""
    lines = [*(step.text for step in sheet.steps), *sheet.tools, *sheet.parts]
    return [line.casefold() for line in lines]


def has(words: tuple[str, ...], lines: list[str]) -> bool:
    return any(word in line for word in words for line in lines)


@each
def test_acid_and_chlorine_are_only_where_the_checklist_says_so(task: str) -> None:
    sheet = ALL[task]
    assert has(ACID_WORDS, asked_for(sheet)) == (sheet.chemistry == "acid")
    assert has(CHLORINE_WORDS, asked_for(sheet)) == (sheet.chemistry == "bleach")


@each
def test_both_are_named_together_only_to_forbid_it(task: str) -> None:
    sheet = ALL[task]
    for line in (*asked_for(sheet), *(one.text.casefold() for one in sheet.follow_ups)):
        assert not (has(ACID_WORDS, [line]) and has(CHLORINE_WORDS, [line]))
    for caution in sheet.cautions:
        if has(ACID_WORDS, [caution.casefold()]) and has(CHLORINE_WORDS, [caution.casefold()]):
            assert "never" in caution.casefold()


@for_each(sorted(task for task in ALL if ALL[task].chemistry == "acid"))
def test_acid_work_warns_of_chlorine_on_the_same_day(task: str) -> None:
    assert "never" in cautions(task)
    assert "bleach" in cautions(task)
    assert "not on the same day" in cautions(task)
    assert "gloves" in cautions(task)


def test_the_acid_and_the_chlorine_jobs_are_these() -> None:
    found = {word: {task for task in ALL if ALL[task].chemistry == word} for word in ("acid", "bleach")}
    assert found == {
        "acid": {"ultraviolet.clean_sleeve", "softener.resin_cleaner"},
        "bleach": {"well.shock_chlorination", "ultraviolet.sanitize_pipes", "reverse_osmosis.sanitize"},
    }


@for_each(sorted(task for task in ALL if ALL[task].chemistry == "bleach"))
def test_chlorine_work_is_plain_bleach_apart_and_proved_gone(task: str) -> None:
    said = cautions(task)
    assert "plain unscented household bleach only" in said
    assert "never with vinegar or any other acid" in said
    assert "no acid work" in said
    assert "goggles" in said
    assert "membrane" in said
    assert any("0" in one and "Chlorine" in one for one in ALL[task].pass_criteria)


def test_chlorine_keeps_off_media_resin_carbon_and_membrane() -> None:
    for what in ("neutralizer", "resin", "carbon", "membrane"):
        assert what in cautions("well.shock_chlorination")
        assert what in cautions("ultraviolet.sanitize_pipes")
    assert "sediment housing" in cautions("ultraviolet.sanitize_pipes")


MAINS = (
    "pressure_tank.precharge",
    "pressure_tank.switch_look",
    "pressure_tank.replace_switch",
    "pressure_tank.replace_tank",
    "pressure_tank.gauge_relief",
    "well.shock_chlorination",
    "well.replace_pump",
    "part.replace",
)


@for_each(MAINS)
def test_mains_voltage_means_locked_and_tested_dead(task: str) -> None:
    assert "breaker off, locked" in cautions(task)
    assert "tested dead" in cautions(task)


OPENS_PRESSURE = (
    "pressure_tank.precharge",
    "pressure_tank.replace_switch",
    "pressure_tank.replace_tank",
    "sediment_filter.replace_cartridge",
    "sediment_filter.replace_o_ring",
    "neutralizer.bed_check",
    "neutralizer.top_up",
    "neutralizer.rebed",
    "softener.clean_injector",
    "softener.valve_seals",
    "softener.replace_resin",
    "softener.replace_anion_resin",
    "ultraviolet.clean_sleeve",
    "ultraviolet.replace_lamp",
    "ultraviolet.replace_sleeve",
    "ultraviolet.sanitize_pipes",
    "reverse_osmosis.replace_prefilters",
    "reverse_osmosis.replace_postfilter",
    "reverse_osmosis.replace_membrane",
    "reverse_osmosis.sanitize",
    "reverse_osmosis.replace_tubing",
    "pressure_tank.gauge_relief",
    "ultraviolet.replace_sensor",
    "part.replace",
)


@for_each(OPENS_PRESSURE)
def test_pressure_is_relieved_before_opening(task: str) -> None:
    assert "reliev" in cautions(task) or "pressure down to zero" in cautions(task)
    assert ALL[task].visit == "water_off"


LAMP_OUT = tuple(f"ultraviolet.{job}" for job in ("clean_sleeve", "replace_lamp", "replace_sleeve", "replace_ballast"))


@for_each(LAMP_OUT)
def test_lamp_work_is_unplugged_and_ends_with_clean_pipes_and_a_test(task: str) -> None:
    said = cautions(task)
    for words in ("wait 10 to 15 minutes", "uv-c burns eyes and skin", "mercury", "no vacuum"):
        assert words in said
    assert "nplug" in ALL[task].steps[0].text
    later = {one.task: one.days for one in ALL[task].follow_ups}
    assert later["ultraviolet.sanitize_pipes"] <= 1
    assert later["well.coliform_test"] == 14


def test_nobody_looks_at_a_lit_lamp() -> None:
    assert "never look at a lit bare lamp" in cautions("ultraviolet.glance")


@for_each(["neutralizer.top_up", "neutralizer.rebed", "neutralizer.bed_check"])
def test_media_dust_means_mask_and_eye_protection(task: str) -> None:
    assert "dust" in cautions(task)
    assert "n95 mask" in cautions(task)
    assert "eye protection" in cautions(task)


@for_each(["neutralizer.top_up", "softener.refill_salt", "softener.recover_from_run_out"])
def test_bags_are_lifted_with_care(task: str) -> None:
    assert "bags weigh" in cautions(task)


def test_a_flood_leaves_the_pump_off_and_nobody_drinks() -> None:
    said = cautions("well.after_flood")
    assert said.startswith("do not switch the pump on")
    assert "do not drink" in said
    later = sorted(one.days for one in ALL["well.after_flood"].follow_ups if one.task == "well.coliform_test")
    assert later == [10, 30, 90]


def test_a_power_cut_or_an_absence_starts_with_the_lamp_and_boiling() -> None:
    for task in ("well.after_power_cut", "well.after_absence"):
        assert "boil" in cautions(task)
        assert "uv" in cautions(task)


def test_a_broken_lamp_is_aired_and_never_vacuumed() -> None:
    assert "no vacuum" in cautions("ultraviolet.broken_lamp")
    assert "open for 10 minutes" in cautions("ultraviolet.broken_lamp")


NITRATE = (
    "well.nitrate_watch",
    "well.after_flood",
    "well.nitrate_test",
    "softener.refill_salt",
    "softener.nitrate_check",
    "softener.breakthrough_profile",
    "softener.recover_from_run_out",
    "softener.break_bridge",
    "softener.clean_injector",
    "softener.wash_brine_tank",
    "softener.valve_seals",
    "softener.replace_resin",
    "softener.replace_anion_resin",
    "reverse_osmosis.nitrate_check",
    "well.shut_off_drill",
)


@for_each(NITRATE)
def test_nitrate_means_no_infants_and_no_boiling(task: str) -> None:
    assert "infant" in cautions(task)
    assert "boiling makes nitrate stronger" in cautions(task)


@for_each(["well.nitrate_test", "softener.nitrate_check", "reverse_osmosis.nitrate_check"])
def test_infants_get_tested_bottled_water_and_never_rely_on_ro(task: str) -> None:
    said = cautions(task)
    assert "tested bottled water" in said
    assert "health department" in said
    assert "never rely on this train" in said or "ro alone is no safeguard" in said


@each
def test_moved_handles_go_back_to_service_and_are_logged(task: str) -> None:
    sheet = ALL[task]
    steps = " ".join(step.text for step in sheet.steps).casefold()
    assert ("to bypass" in steps) <= sheet.moves_handles
    if sheet.moves_handles:
        assert "service" in steps
        assert "log" in steps


REFILLED = {1, 7, 30}


@for_each(["neutralizer.top_up", "neutralizer.rebed"])
def test_ph_is_read_on_day_1_7_and_30_after_a_refill(task: str) -> None:
    assert {one.days for one in ALL[task].follow_ups if one.task == "neutralizer.ph_check"} == REFILLED


def test_refilling_salt_says_how() -> None:
    sheet = ALL["softener.refill_salt"]
    asked = [(one.quantity, one.point) for group in (sheet.before_readings, sheet.after_readings) for one in group]
    assert asked.count(("salt_depth", "stage")) == 2
    steps = " ".join(step.text for step in sheet.steps)
    assert "broom handle" in steps
    assert "two thirds" in steps
    assert "pellets" in " ".join(sheet.parts)
    potassium = next(one for one in sheet.cautions if "Potassium chloride" in one)
    assert "setting" in potassium
    assert "kidney disease" in potassium
    assert "doctor" in potassium
