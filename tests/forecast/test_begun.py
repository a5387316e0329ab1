"""What Week says of the water from the day a playbook was begun until the steps that end it are closed."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Literal, NamedTuple

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


class Case(NamedTuple):
    """What is said first, the jobs that close the steps in question, a reading that proves it over, and one that does
    not."""

    lead: str
    jobs: tuple[Service, ...]
    proof: Reading
    no_proof: Reading


def done(task: str, *days: int) -> tuple[Service, ...]:
    return tuple(Service(on=START + day * DAY, task=task) for day in days)


def found(quantity: str, value: float, point: str = "tap", on: date = TODAY) -> Reading:
    return Reading(on=on, taken=taken(quantity, value, point))


CLEAN, GERMS = found("total_coliform", 0.0), found("total_coliform", 1.0)
SAMPLED = done("well.coliform_test", 20)
ENDS: dict[str, Case] = {
    "flood": Case("Flood at the well on 26 Oct: drink bottled water only.", SAMPLED, CLEAN, GERMS),
    "pipe_opened": Case("Well or pipe opened on 26 Oct: drink bottled water.", SAMPLED, CLEAN, GERMS),
    "coliform_found": Case("Coliform found, 26 Oct: drink bottled water.", SAMPLED, CLEAN, GERMS),
    "field_spraying": Case(
        "Spraying or manure near on 26 Oct: take nitrate for over the limit.",
        done("softener.nitrate_check", 1, 8, 15, 22, 29),
        found("nitrate", 6.0),
        found("nitrate", 10.0),
    ),
    "neutralizer_refilled": Case(
        "Neutralizer refilled on 26 Oct: read pH, standing water may be alkaline.",
        done("neutralizer.ph_check", 2),
        found("pH", 7.4),
        found("pH", 9.6),
    ),
}


def told(*events: AnyEvent, today: date = TODAY) -> tuple[str, ...]:
    return plan(home(*LIVED, *events), today).exposure


def leads(*events: AnyEvent) -> list[str]:
    return [lead_of(line) for line in told(*events)]


def begun(name: str, on: date = START) -> PlaybookStarted:
    return PlaybookStarted(on=on, playbook=name)


def answered(step: str, outcome: Literal["done", "skipped"] = "done") -> PlaybookStep:
    return PlaybookStep(on=TODAY, started=STARTED, step=step, outcome=outcome, reason="as agreed")


@pytest.mark.parametrize("name", ENDS)
def test_it_is_told_from_the_day_it_is_begun_and_gone_when_that_is_taken_back(name: str) -> None:
    lead = ENDS[name].lead
    assert lead in leads(begun(name))
    assert lead not in leads(begun(name), Correction(on=TODAY, voids=STARTED))
    assert lead not in leads()


@pytest.mark.parametrize("name", ENDS)
def test_neither_the_jobs_alone_nor_the_reading_alone_ends_it(name: str) -> None:
    case = ENDS[name]
    assert case.lead in leads(begun(name), *case.jobs)
    assert case.lead in leads(begun(name), *case.jobs, case.no_proof)
    assert case.lead in leads(begun(name), case.proof)
    assert case.lead not in leads(begun(name), *case.jobs, case.proof)


@pytest.mark.parametrize(
    "read",
    [found("total_coliform", 0.0, "source"), found("total_coliform", 0.0, on=START + DAY)],
    ids=["raw water", "before the sample"],
)
def test_no_other_clean_result_ends_a_flood(read: Reading) -> None:
    assert ENDS["flood"].lead in leads(begun("flood"), *SAMPLED, read)


def test_a_sample_left_out_does_not_end_a_flood_and_a_clean_result_after_it_does() -> None:
    left_out = answered("coliform-1", "skipped")
    assert ENDS["flood"].lead in leads(begun("flood"), left_out)
    assert ENDS["flood"].lead not in leads(begun("flood"), left_out, CLEAN)


def test_a_week_of_spraying_that_is_not_read_brings_it_back() -> None:
    weeks = done("softener.nitrate_check", 1, 8, 15)
    assert ENDS["field_spraying"].lead in leads(begun("field_spraying"), *weeks, found("nitrate", 6.0))


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
