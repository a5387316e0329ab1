"""What Week says of the water from the day a playbook was begun until the steps that end it are closed."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Literal

import pytest

from model.forecast.exposed.line import lead_of
from model.plan import plan
from model.records.events import AnyEvent, Correction, PlaybookStarted, PlaybookStep, Reading, Service
from model.upkeep.playbook import all_playbook_ids, load_playbook
from tests.forecast.homes import STAGES, TODAY, home, meter, raw_water, reading, taken

LIVED: list[AnyEvent] = [raw_water(), *meter(400.0), reading(TODAY, "salt_depth", 50.0, "softener")]
DAY = timedelta(days=1)
START = TODAY - 30 * DAY
STARTED = len(LIVED) + 1

ENDS: dict[str, tuple[str, str, bool]] = {
    "flood": ("Flood at the well on 26 Oct: drink bottled water only.", "well.coliform_test", True),
    "pipe_opened": ("Well or pipe opened on 26 Oct: drink bottled water.", "well.coliform_test", True),
    "coliform_found": ("Coliform found, 26 Oct: drink bottled water.", "well.coliform_test", True),
    "field_spraying": (
        "Spraying or manure near on 26 Oct: take nitrate for over the limit.",
        "softener.nitrate_check",
        False,
    ),
    "neutralizer_refilled": (
        "Neutralizer refilled on 26 Oct: read pH, standing water may be alkaline.",
        "neutralizer.ph_check",
        False,
    ),
}
"""Playbook -> what is said first, the job that ends it, and whether only a clean result does."""


def told(*events: AnyEvent, today: date = TODAY) -> tuple[str, ...]:
    return plan(home(*LIVED, *events), today).exposure


def leads(*events: AnyEvent) -> list[str]:
    return [lead_of(line) for line in told(*events)]


def begun(name: str, on: date = START) -> PlaybookStarted:
    return PlaybookStarted(on=on, playbook=name)


def answered(step: str, outcome: Literal["done", "skipped"] = "done") -> PlaybookStep:
    return PlaybookStep(on=TODAY, started=STARTED, step=step, outcome=outcome, reason="as agreed")


def coliform(value: float, point: str = "tap", on: date = TODAY) -> Reading:
    return Reading(on=on, taken=taken("total_coliform", value, point))


@pytest.mark.parametrize("name", ENDS)
def test_it_is_told_from_the_day_it_is_begun_and_gone_when_that_is_taken_back(name: str) -> None:
    lead = ENDS[name][0]
    assert lead in leads(begun(name))
    assert lead not in leads(begun(name), Correction(on=TODAY, voids=STARTED))
    assert lead not in leads()


@pytest.mark.parametrize("name", ENDS)
def test_the_job_ends_it_where_it_needs_no_laboratory_and_a_clean_result_where_it_does(name: str) -> None:
    lead, task, by_laboratory = ENDS[name]
    done = Service(on=TODAY, task=task)
    assert (lead in leads(begun(name), done)) is by_laboratory
    assert lead not in leads(begun(name), done, coliform(0.0))


@pytest.mark.parametrize(
    "found", [coliform(1.0), coliform(0.0, "source"), coliform(0.0, on=START)], ids=["found", "raw water", "before"]
)
def test_no_other_result_ends_a_flood(found: Reading) -> None:
    assert ENDS["flood"][0] in leads(begun("flood"), Service(on=TODAY, task="well.coliform_test"), found)


def test_a_clean_result_alone_ends_no_flood_whose_sample_step_is_open() -> None:
    early = coliform(0.0, on=START + DAY)
    assert ENDS["flood"][0] in leads(begun("flood"), early)


def test_a_step_left_out_with_a_reason_ends_it() -> None:
    assert ENDS["flood"][0] not in leads(begun("flood"), answered("coliform-1", "skipped"))


def test_back_from_an_absence_it_holds_until_lamp_and_taps_were_seen_to() -> None:
    lead = "Back on 26 Oct, taps not flushed: the first water is not for drinking."
    flushed, glanced = answered("flush"), Service(on=TODAY, task="ultraviolet.glance")
    assert lead in leads(begun("return"))
    assert lead in leads(begun("return"), flushed)
    assert lead in leads(begun("return"), glanced)
    assert lead not in leads(begun("return"), flushed, glanced)


def test_one_that_begins_later_is_not_told_yet() -> None:
    assert told(begun("flood", TODAY + DAY)) == told()


def test_where_raw_nitrate_is_low_boiling_is_an_answer_to_an_opened_pipe() -> None:
    low = plan(home(raw_water(nitrate=1.0), begun("pipe_opened"), stages=STAGES), TODAY).exposure
    assert any(lead_of(line) == "Well or pipe opened on 26 Oct: boil what is drunk." for line in low)


def test_what_no_playbook_tells_is_told_elsewhere_or_harms_nobody() -> None:
    silent = {name for name in all_playbook_ids() if load_playbook(name).exposed is None}
    by_the_lamp, by_the_infant = {"power_cut", "uv_alarm"}, {"infant"}
    harmless = {"absence_long", "absence_short", "freeze", "guests", "moving_out"}
    assert silent == by_the_lamp | by_the_infant | harmless


@pytest.mark.parametrize("name", all_playbook_ids())
def test_the_first_sentence_fits_a_row_of_80_columns(name: str) -> None:
    last_year = date(2025, 9, 30)
    for line in told(begun(name, last_year)):
        assert len(lead_of(line)) <= 78
