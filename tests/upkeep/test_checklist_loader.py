"""A checklist file that is missing, malformed or incomplete is refused by name, with the field at fault."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.errors import WellwardError
from model.upkeep import checklist as module
from model.upkeep.checklist import all_checklist_ids, checklist_path, load_checklist, parse_checklist

GOOD = """
why = "Because."
minutes = 5
visit = "look"
chemistry = "none"
moves_handles = false
cautions = ["Mind the step."]
tools = "not applicable"
parts = "not applicable"
before = ["Read this."]
off = "not applicable"
before_readings = "not applicable"
steps = [{ text = "Look.", wait_minutes = 2 }, { text = "Look again." }]
after_readings = [{ quantity = "pH", point = "tap", sane = [6, 9.5], ask = "pH at the tap" }]
pass_criteria = ["Seen."]
follow_ups = [{ text = "Look again.", days = 7, task = "" }]
sources = [{ text = "Habit", tag = "common practice, no source" }]
"""


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr(module, "FOLDER", tmp_path)
    (tmp_path / "well").mkdir()
    return tmp_path


def write(folder: Path, text: str) -> None:
    (folder / "well" / "walk.toml").write_text(text)


def test_a_good_file_is_read_field_by_field(folder: Path) -> None:
    write(folder, GOOD)
    read = load_checklist("well", "walk")
    assert (read.why, read.minutes, read.visit, read.chemistry, read.moves_handles) == (
        "Because.",
        5,
        "look",
        "none",
        False,
    )
    assert [(step.text, step.wait_minutes) for step in read.steps] == [("Look.", 2), ("Look again.", 0)]
    ask = read.after_readings[0]
    assert (ask.quantity, ask.point, ask.sane, ask.ask) == ("pH", "tap", (6.0, 9.5), "pH at the tap")
    assert (read.follow_ups[0].days, read.follow_ups[0].task) == (7, "")
    assert read.sources[0].tag == "common practice, no source"


def test_a_list_marked_not_applicable_is_empty_and_known_to_be_so(folder: Path) -> None:
    write(folder, GOOD)
    read = load_checklist("well", "walk")
    assert read.not_applicable == ("tools", "parts", "off", "before_readings")
    assert (read.tools, read.parts, read.off, read.before_readings) == ((), (), (), ())


BROKEN = {
    "no why": ('why = "Because."\n', "", "why"),
    "empty why": ('why = "Because."', 'why = ""', "why"),
    "no steps": ('steps = [{ text = "Look.", wait_minutes = 2 }, { text = "Look again." }]\n', "", "steps"),
    "steps not applicable": (
        'steps = [{ text = "Look.", wait_minutes = 2 }, { text = "Look again." }]',
        'steps = "not applicable"',
        "steps",
    ),
    "no sources": ('sources = [{ text = "Habit", tag = "common practice, no source" }]', "sources = []", "sources"),
    "no off": ('off = "not applicable"\n', "", "off"),
    "unknown field": ("minutes = 5", "minutes = 5\nhours = 1", "hours"),
    "marker set by hand": ("minutes = 5", 'minutes = 5\nnot_applicable = ["tools"]', "not_applicable"),
    "empty list": ('tools = "not applicable"', "tools = []", "tools"),
    "other word": ('tools = "not applicable"', 'tools = "none"', "tools"),
    "empty text in a list": ('before = ["Read this."]', 'before = ["Read this.", ""]', "before[1]"),
    "minutes as words": ("minutes = 5", 'minutes = "5"', "minutes"),
    "no time at all": ("minutes = 5", "minutes = 0", "minutes"),
    "too long": ("minutes = 5", "minutes = 601", "minutes"),
    "unknown visit": ('visit = "look"', 'visit = "night"', "visit"),
    "unknown chemistry": ('chemistry = "none"', 'chemistry = "both"', "chemistry"),
    "handles as words": ("moves_handles = false", 'moves_handles = "no"', "moves_handles"),
    "unknown quantity": ('quantity = "pH"', 'quantity = "ph"', "after_readings[0].quantity"),
    "unknown point": ('point = "tap"', 'point = "roof"', "after_readings[0].point"),
    "unknown state": ('ask = "pH at the tap"', 'ask = "pH at the tap", state = "warm"', "after_readings[0].state"),
    "no part of a run": ('ask = "pH at the tap"', 'ask = "pH", run_percent = 0', "after_readings[0].run_percent"),
    "more than a run": ('ask = "pH at the tap"', 'ask = "pH", run_percent = 101', "after_readings[0].run_percent"),
    "range upside down": ("sane = [6, 9.5]", "sane = [9.5, 6]", "after_readings[0]"),
    "range of one value": ("sane = [6, 9.5]", "sane = [6, 6]", "sane"),
    "range without end": ("sane = [6, 9.5]", "sane = [6, inf]", "sane"),
    "range not a number": ("sane = [6, 9.5]", "sane = [nan, 9.5]", "sane"),
    "half a range": ("sane = [6, 9.5]", "sane = [6]", "after_readings[0].sane"),
    "unknown part of a step": ("wait_minutes = 2", "wait = 2", "wait"),
    "step of wrong type": ('{ text = "Look again." }', '"Look again."', "steps[1]"),
    "wait of days": ("wait_minutes = 2", "wait_minutes = 1441", "steps[0].wait_minutes"),
    "unknown tag": ('tag = "common practice, no source"', 'tag = "hearsay"', "sources[0].tag"),
    "follow-up in the past": ("days = 7", "days = -1", "follow_ups[0].days"),
    "follow-up that counts too late": ("days = 7,", "days = 7, counts_from = 8,", "counts_from"),
    "follow-up without task": (', task = ""', "", "task"),
}


@pytest.mark.parametrize(("was", "now", "field"), BROKEN.values(), ids=BROKEN.keys())
def test_a_broken_file_names_itself_and_the_field(folder: Path, was: str, now: str, field: str) -> None:
    assert GOOD.count(was) == 1
    write(folder, GOOD.replace(was, now))
    with pytest.raises(WellwardError) as caught:
        load_checklist("well", "walk")
    assert "well/walk.toml" in caught.value.what
    assert field in caught.value.what
    assert caught.value.now


@pytest.mark.parametrize("text", ["why = ", "[", "why = 'a'\nwhy = 'b'", "\x00"], ids=["cut", "open", "twice", "nul"])
def test_what_is_not_toml_names_the_file_and_the_line(folder: Path, text: str) -> None:
    write(folder, text)
    with pytest.raises(WellwardError, match=r"well/walk\.toml.*(line|end of document)"):
        load_checklist("well", "walk")


def test_a_file_in_another_encoding_is_refused(folder: Path) -> None:
    (folder / "well" / "walk.toml").write_bytes(b'why = "\xff"')
    with pytest.raises(WellwardError, match=r"well/walk\.toml"):
        load_checklist("well", "walk")


@pytest.mark.parametrize(("kind", "job"), [("well", "no_such_job"), ("no_such_kind", "walk")])
def test_a_missing_file_is_named(kind: str, job: str) -> None:
    with pytest.raises(WellwardError, match=f"{kind}/{job}\\.toml: cannot be read"):
        load_checklist(kind, job)


@pytest.mark.parametrize(
    ("kind", "job"), [("..", "walk"), ("well", "../well/wellhead_walk"), ("", ""), ("well", "a b")]
)
def test_no_path_is_taken_for_a_name(kind: str, job: str) -> None:
    with pytest.raises(WellwardError, match="not a job's name"):
        load_checklist(kind, job)


@given(st.binary(max_size=60))
def test_bytes_that_are_no_checklist_give_a_value_error(data: bytes) -> None:
    with pytest.raises(ValueError):  # noqa: PT011 - any ValueError becomes the named problem
        parse_checklist(data)


def test_the_ids_are_the_files_that_lie_there(folder: Path) -> None:
    write(folder, GOOD)
    (folder / "softener").mkdir()
    (folder / "softener" / "salt.toml").write_text("")
    (folder / "softener" / "notes.txt").write_text("")
    assert all_checklist_ids() == (("softener", "salt"), ("well", "walk"))
    assert checklist_path("well", "walk") == folder / "well" / "walk.toml"


def test_importing_the_loader_leaves_the_toml_reader_out() -> None:
    code = "import sys, model.upkeep.checklist; sys.exit('tomllib' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], cwd=Path(__file__).parents[2], check=False).returncode == 0
