"""Every job has its checklist, and every checklist is whole, safe to follow and tied to the rest of the model."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

from model.equipment.registry import KINDS
from model.records.quantities import QUANTITIES
from model.upkeep.checklist import MARKABLE, Checklist, ReadingAsk, checklist_path
from model.upkeep.later_table import LATER
from tests.make_follow_ups import rows
from tests.upkeep.every import ALL, each, for_each

JOBS = {f"{kind}.{job.id}": (kind, job.id) for kind, row in KINDS.items() for job in row.all_jobs}


def instructions(sheet: Checklist) -> list[str]:
    """What the owner is told to do or fetch."""
    return [*(step.text for step in sheet.steps), *sheet.tools, *sheet.parts]


def asks(sheet: Checklist) -> tuple[ReadingAsk, ...]:
    return sheet.before_readings + sheet.after_readings


def texts(sheet: Checklist) -> Iterator[str]:
    """All that the owner reads, sources left out."""
    yield sheet.why
    yield from (*sheet.cautions, *sheet.tools, *sheet.parts, *sheet.before, *sheet.off, *sheet.pass_criteria)
    yield from (step.text for step in sheet.steps)
    yield from (ask.ask for ask in asks(sheet))
    yield from (later.text for later in sheet.follow_ups)


@for_each(sorted(JOBS))
def test_every_job_has_a_checklist(task: str) -> None:
    assert checklist_path(*JOBS[task]).is_file()


def test_no_checklist_is_orphaned() -> None:
    assert set(ALL) == set(JOBS)


@each
def test_every_list_is_filled_or_marked(task: str) -> None:
    sheet = ALL[task]
    assert [name for name in MARKABLE if not getattr(sheet, name)] == list(sheet.not_applicable)


@each
def test_cautions_and_what_counts_as_done_are_never_left_out(task: str) -> None:
    assert ALL[task].cautions
    assert ALL[task].pass_criteria


@each
def test_steps_are_few_and_each_is_one_sentence_to_do(task: str) -> None:
    steps = [step.text for step in ALL[task].steps]
    assert 4 <= len(steps) <= 14
    assert len(set(steps)) == len(steps)
    assert all(step[0].isupper() and step.endswith(".") and ". " not in step for step in steps)


@each
def test_waits_are_shorter_than_a_day(task: str) -> None:
    assert all(step.wait_minutes <= 24 * 60 for step in ALL[task].steps)


@each
def test_ranges_lie_within_what_is_possible(task: str) -> None:
    for ask in asks(ALL[task]):
        known = QUANTITIES[ask.quantity]
        low, high = ask.sane
        assert low < high
        assert known.impossible_below is None or low >= known.impossible_below
        assert known.impossible_above is None or high <= known.impossible_above


@each
def test_readings_are_asked_where_they_can_be_taken(task: str) -> None:
    kind = JOBS[task][0]
    for ask in asks(ALL[task]):
        known = QUANTITIES[ask.quantity]
        on_water = known.points == "water"
        assert on_water == (ask.point != "stage")
        assert not known.kinds or kind in known.kinds


@each
def test_no_reading_is_asked_twice_in_one_go(task: str) -> None:
    for group in (ALL[task].before_readings, ALL[task].after_readings):
        where = [(ask.quantity, ask.point, ask.state, ask.run_percent) for ask in group]
        assert len(set(where)) == len(where)


@each
def test_nitrate_and_hardness_are_asked_with_their_basis(task: str) -> None:
    for ask in asks(ALL[task]):
        if ask.quantity == "nitrate":
            assert "as N or as NO3" in ask.ask or "As N or as NO3" in ask.ask
        if ask.quantity in {"hardness", "alkalinity"}:
            assert "as CaCO3" in ask.ask


@each
def test_follow_ups_are_jobs_that_exist(task: str) -> None:
    assert {later.task for later in ALL[task].follow_ups} <= {"", *JOBS}


CONDITIONS = ("If ", "At 5", "In spring")


@each
def test_only_what_hangs_on_a_finding_is_left_without_a_date(task: str) -> None:
    for later in ALL[task].follow_ups:
        if later.task:
            assert later.only_if == later.text.startswith(CONDITIONS)


def test_the_table_of_the_plan_holds_the_follow_ups_of_the_files() -> None:
    assert rows() == {task: tuple(tuple(one) for one in every) for task, every in LATER.items()}


AGENCIES = (
    "US CDC",
    "US EPA",
    "Department of Health",
    "Department of Agriculture",
    "Department of Defense",
    "DPH",
    "DEP",
    "DNR",
    "DRMS",
    "Extension",
    "NebGuide",
    "Heartland Health Region",
    "National Ground Water Association",
    "American Ground Water Trust",
    "National Driller",
    "Pressure Tanks, guide",
    "Government of Yukon",
    "Ottawa County",
    "county public health",
    "Drinking Water Inspectorate",
    "NIOSH",
    "Journal of Exposure Science",
    "Water Quality Association",
    "Water Conditioning and Purification",
    "40 CFR",
)


@each
def test_published_sources_name_who_published_them(task: str) -> None:
    for source in ALL[task].sources:
        named = any(agency in source.text for agency in AGENCIES)
        assert named or source.tag != "published"


PSI_BAR, GAL_L, IN_CM, LB_KG, FT_M = 0.0689476, 3.78541, 2.54, 0.453592, 0.3048
PAIRS = {"psi": ("bar", PSI_BAR), "gal": ("L", GAL_L), "in": ("cm", IN_CM), "lb": ("kg", LB_KG), "ft": ("m", FT_M)}


def amounts(text: str, unit: str) -> list[str]:
    """The numbers standing before a unit, as written."""
    words = text.replace("(", "( ").replace(")", " )").replace(",", "").replace(":", "").replace(";", "").split()
    found = [words[at - 1] for at, word in enumerate(words) if word.rstrip(".") == unit and at]
    return [number for number in found if number.replace(".", "").isdigit()]


@each
def test_numbers_stand_in_both_systems_and_agree(task: str) -> None:
    for (unit, (metric, factor)), text in product(PAIRS.items(), tuple(texts(ALL[task]))):
        ours, theirs = amounts(text, unit), amounts(text, metric)
        assert len(theirs) >= len(ours)
        for number in ours:
            assert any(abs(float(other) / float(number) / factor - 1) < 0.22 for other in theirs), text
