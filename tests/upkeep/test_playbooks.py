"""Every playbook is whole, safe to follow and tied to the checklists; a broken file is refused by name and field."""

from __future__ import annotations

from pathlib import Path

import pytest

from model.equipment.registry import KINDS
from model.errors import WellwardError
from model.upkeep import playbook as module
from model.upkeep.checklist import load_checklist
from model.upkeep.playbook import Playbook, all_playbook_ids, find_playbook, load_playbook, parse_playbook
from tests.upkeep.test_checklists import AGENCIES

ALL = {name: load_playbook(name) for name in all_playbook_ids()}
JOBS = {f"{kind}.{job.id}" for kind, row in KINDS.items() for job in row.all_jobs}
ACID = ("vinegar", "citric", "lime remover", "resin cleaner")
CHLORINE = ("bleach", "chlorin")

each = pytest.mark.parametrize("name", ALL)

GOOD = """
title = "Leak"
why = "Because."
cautions = ["Mind the step."]
steps = [
  { id = "look", text = "Look.", days = [0] },
  { id = "read", text = "Read.", days = [1, 8], task = "well.wellhead_walk", needs = ["well"], health = true },
]
sources = [{ text = "Habit", tag = "common practice, no source" }]
"""


def said(book: Playbook) -> str:
    return " ".join(book.cautions).casefold()


def chemistry(task: str) -> str:
    return load_checklist(*task.split(".")).chemistry if task else "none"


def test_there_is_one_for_everything_that_happens_to_a_house() -> None:
    wanted = "power_cut flood absence_short absence_long return pipe_opened neutralizer_refilled guests infant"
    assert set(ALL) == {*wanted.split(), "field_spraying", "coliform_found", "uv_alarm", "freeze", "moving_out"}


@each
def test_steps_point_to_checklists_that_exist_and_are_one_sentence(name: str) -> None:
    for step in ALL[name].steps:
        assert step.task in ("", *JOBS)
        assert step.text[0].isupper()
        assert step.text.endswith(".")
        assert ". " not in step.text


@each
def test_published_sources_name_who_published_them(name: str) -> None:
    more = ("Virginia Department", "Wellington-Dufferin-Guelph", "Wisconsin")
    for source in ALL[name].sources:
        assert source.tag != "published" or any(one in source.text for one in (*AGENCIES, *more))


@each
def test_acid_and_bleach_never_fall_on_one_day(name: str) -> None:
    days = {
        kind: {day for step in ALL[name].steps if chemistry(step.task) == kind for day in step.days}
        for kind in ("acid", "bleach")
    }
    assert not days["acid"] & days["bleach"]
    for step in ALL[name].steps:
        assert not any(one in step.text.casefold() for one in ACID)
        assert "bleach" not in step.text.casefold(), "bleach work is only where a checklist says how"


@pytest.mark.parametrize("name", ["coliform_found", "uv_alarm"])
def test_the_sleeve_is_cleaned_before_the_pipes_are_sanitized_and_then_a_laboratory_proves_it(name: str) -> None:
    first = {step.task: step.days[0] for step in ALL[name].steps if step.task}
    last = {step.task: step.days[-1] for step in ALL[name].steps if step.task}
    assert first["ultraviolet.clean_sleeve"] < first["ultraviolet.sanitize_pipes"]
    assert last["well.coliform_test"] >= first["ultraviolet.sanitize_pipes"] + 7
    assert "boil" in said(ALL[name])
    assert "makes nitrate stronger" in said(ALL[name])


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("flood", ("do not switch the pump on", "do not drink", "well pit")),
        ("power_cut", ("the tank still delivers", "tested bottled water only")),
        ("return", ("light the uv", "cold first, then hot", "not for drinking")),
        ("infant", ("no bottle is mixed from any tap", "boiling does not help", "10 mg/l nitrate as n")),
        ("guests", ("no bottle is mixed from any tap",)),
        ("field_spraying", ("boiling makes nitrate stronger", "ro alone is no safeguard", "tested bottled water")),
        ("absence_long", ("burst hose", "boils dry")),
        ("uv_alarm", ("stop drinking", "wait 10 to 15 minutes", "last safe")),
        ("freeze", ("never thaw a pipe with a flame",)),
        ("pipe_opened", ("on bypass or closed while chlorine", "coliform sample taken afterwards is clean")),
        ("neutralizer_refilled", ("acid and bleach never go into this tank",)),
    ],
)
def test_the_cautions_that_each_must_carry(name: str, words: tuple[str, ...]) -> None:
    for one in words:
        assert one in said(ALL[name])


def test_ph_on_day_1_7_and_30_after_a_refill_and_nitrate_weekly_for_six_weeks_of_spraying() -> None:
    (ph,) = [step for step in ALL["neutralizer_refilled"].steps if step.task == "neutralizer.ph_check"]
    assert ph.days == (1, 7, 30)
    for step in ALL["field_spraying"].steps:
        if step.id.startswith("strip") and step.id != "strip_ro":
            assert [later - sooner for sooner, later in zip(step.days, step.days[1:], strict=False)] == [7] * 5


def test_a_good_file_is_read_field_by_field() -> None:
    read = parse_playbook(GOOD.encode())
    assert (read.title, read.cautions, [step.id for step in read.steps]) == (
        "Leak",
        ("Mind the step.",),
        ["look", "read"],
    )
    assert (read.steps[1].task, read.steps[1].needs, read.steps[1].health) == ("well.wellhead_walk", ("well",), True)
    assert [*read.steps[0].dated(), *read.steps[1].dated()] == [("look", 0), ("read-1", 1), ("read-2", 8)]


BROKEN = {
    "no cautions": ('cautions = ["Mind the step."]', "cautions = []", "cautions"),
    "no title": ('title = "Leak"\n', "", "title"),
    "unknown field": ('title = "Leak"', 'title = "Leak"\nhours = 1', "hours"),
    "id in the file": ('title = "Leak"', 'title = "Leak"\nid = "leak"', "id"),
    "unknown condition": ('needs = ["well"]', 'needs = ["pond"]', "needs"),
    "days fall": ("[1, 8]", "[8, 1]", "days"),
    "day twice": ("[1, 8]", "[8, 8]", "days"),
    "no day": ("days = [0]", "days = []", "days"),
    "too far": ("[1, 8]", "[1, 401]", "days"),
    "step id with a digit": ('id = "read"', 'id = "read_2"', "read_2"),
    "step twice": ('id = "read"', 'id = "look"', "look"),
    "out of order": ("days = [0]", "days = [3]", "order"),
    "no sources": ('sources = [{ text = "Habit", tag = "common practice, no source" }]', "sources = []", "sources"),
    "cut": ("sources = [", "sources = ", "line"),
}


@pytest.mark.parametrize(("was", "now", "field"), BROKEN.values(), ids=BROKEN.keys())
def test_a_broken_file_names_itself_and_the_field(
    was: str, now: str, field: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert GOOD.count(was) == 1
    (tmp_path / "leak.toml").write_text(GOOD.replace(was, now))
    monkeypatch.setattr(module, "FOLDER", tmp_path)
    load_playbook.cache_clear()
    with pytest.raises(WellwardError, match=r"playbook leak\.toml") as caught:
        load_playbook("leak")
    load_playbook.cache_clear()
    assert field in caught.value.what


@pytest.mark.parametrize("name", ["no_such", "../x", "", "a b"])
def test_what_is_no_playbook_is_none(name: str) -> None:
    assert find_playbook(name) is None
