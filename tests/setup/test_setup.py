"""The set-up without a screen: what is asked, what is taken, and that any answers give a home that plans."""

from __future__ import annotations

import stat
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model.equipment.neutralizer import Neutralizer
from model.equipment.pressure_tank import PressureTank
from model.equipment.registry import KINDS as REGISTERED
from model.equipment.softener import Softener
from model.errors import BadInput, StoreError
from model.home import Home, House
from model.plan import plan
from model.records.events import LabReport, Reading, Service, Setting
from model.setup.assumed import assumed_paths
from model.setup.build import accept, default_of, start
from model.setup.catalogue import OF_STAGE
from model.setup.drawings import DRAWINGS
from model.setup.question import UNKNOWN, Answers, Draft, Question
from model.setup.questions import questions
from model.store import codec
from model.store.first import FirstRun
from model.store.numbering import numbered_once
from model.store.repository import Repository

TODAY = date(2026, 11, 25)
SOFTENER = {"stages": "well softener"}


def the(question_id: str, answers: Answers) -> Question:
    return next(one for one in questions(answers) if one.id == question_id)


def say(answers: Answers, question_id: str, text: str) -> Answers:
    return accept(answers, the(question_id, answers), text, TODAY)


def test_only_what_stands_there_is_asked_about() -> None:
    few = [one.id for one in questions({"stages": "well"})]
    assert few == ["units", "people", "stages", "well.farmed_land", "lab", "house.meter"]
    timed = {one.id for one in questions({**SOFTENER, "softener.control": "timed"})}
    assert "softener.regenerate_every_days" in timed
    assert "softener.regenerate_every_l" not in timed


def test_something_is_asked_of_every_kind_and_every_drawing_is_there() -> None:
    assert set(OF_STAGE) == set(REGISTERED) - {"part"}
    every = questions({"stages": " ".join(KINDS), "lab": "yes"})
    assert {one.drawing for one in every} - {""} == set(DRAWINGS)


def test_a_home_nobody_knows_has_defaults_and_says_which() -> None:
    made = start(SOFTENER, TODAY)
    tank = made.house.stages[1]
    assert isinstance(tank, Softener)
    assert tank.salt_low_cm == 18.0
    assert tank.brine_tank_height_cm == 84.0
    home = Home(made.house, tuple(numbered_once(made.events, "me")))
    assumed = assumed_paths(home.events)
    assert {"people", "stages.softener.salt_low_cm", "stages.well.farmed_land"} <= assumed
    assert "stages.softener.regenerate_every_l" not in assumed  # empty: worked out
    changed = Setting(on=TODAY, path="people", value=4.0, was=2.0, id=99)
    assert "people" not in assumed_paths((*home.events, changed))


def test_the_pressure_defaults_are_those_of_house() -> None:
    tank = start({}, TODAY).house.stages[1]
    assert isinstance(tank, PressureTank)
    assert [tank.cut_in_bar, tank.cut_out_bar, tank.precharge_bar] == [2.76, 4.14, 2.62]


def test_what_is_known_is_kept_with_its_unit_and_moves_the_default_of_the_rest() -> None:
    answers = say(SOFTENER, "softener.salt_full_cm", "10 in")
    assert answers["softener.salt_full_cm"] == "10 in"
    assert default_of(the("softener.salt_low_cm", answers), answers, TODAY).default == pytest.approx(0.33 * 25.4)
    tank = start(answers, TODAY).house.stages[1]
    assert isinstance(tank, Softener)
    assert tank.salt_full_cm == pytest.approx(25.4)


def test_a_bare_number_keeps_its_meaning_when_the_units_change() -> None:
    answers = say(SOFTENER, "softener.salt_full_cm", "20")
    tank = start(say(answers, "units", "metric"), TODAY).house.stages[1]
    assert isinstance(tank, Softener)
    assert tank.salt_full_cm == pytest.approx(50.8)


@pytest.mark.parametrize(
    ("question", "text"),
    [
        ("people", "nan"),
        ("people", "31"),
        ("people", "2 ft"),
        ("softener.salt_full_cm", "-3 in"),
        ("softener.salt_full_cm", "5 lb"),
        ("softener.salt_low_cm", "90 in"),  # above the full depth given
        ("neutralizer.minimum_bed_cm", "300 cm"),  # no full bed is deeper
        ("softener.salt_depth", "3 m"),  # higher than the tank
        ("softener.control", "perhaps"),
        ("lab.on", "2027-01-01"),
        ("ultraviolet.replace_lamp", "2027-01-01"),
        ("lab.nitrate", "5"),  # no basis
        ("lab.pH", "15"),
        ("house.meter", "-1 gal"),
    ],
)
def test_what_cannot_be_is_refused(question: str, text: str) -> None:
    answers = {
        "stages": "well neutralizer softener ultraviolet",
        "softener.salt_full_cm": "20 in",
        "lab": "yes",
    }
    with pytest.raises(BadInput):
        say(answers, question, text)


def test_the_laboratory_and_the_meter_become_events() -> None:
    answers = {"lab": "yes", "lab.on": "2026-03-31", "lab.nitrate": "44.3 mg/L as NO3", "house.meter": "1000 gal"}
    report, meter = start(answers, TODAY).events[-2:]
    assert isinstance(report, LabReport)
    assert report.on == date(2026, 3, 31)
    assert report.point == "source"
    assert report.taken[0].value == pytest.approx(10.0, abs=0.01)  # 62.004 g of NO3 hold 14.007 g of N
    assert isinstance(meter, Reading)
    assert meter.taken.value == pytest.approx(3785.41, abs=0.01)


def test_a_lamp_changed_in_summer_is_not_due_today_and_its_hours_are_counted_from_then() -> None:
    answers = {"stages": "well sediment_filter ultraviolet reverse_osmosis"}
    for task in ("ultraviolet.replace_lamp", "sediment_filter.replace_cartridge", "reverse_osmosis.replace_membrane"):
        answers = say(answers, task, "2026-06-01")
    made = start(answers, TODAY)
    home = Home(made.house, tuple(numbered_once(made.events, "me")))
    assert {one.task for one in home.events if isinstance(one, Service)} == {
        "ultraviolet.replace_lamp",
        "sediment_filter.replace_cartridge",
        "reverse_osmosis.replace_membrane",
    }
    due = {one.task: one for one in plan(home, TODAY).due}
    lamp = due["ultraviolet.replace_lamp"]
    assert lamp.act_on > date(2027, 1, 1)
    assert lamp.share_left == pytest.approx(1.0 - 177 * 24.0 / 9000.0, abs=0.01)  # 177 days of 24 h
    unknown = Home(start({"stages": "well ultraviolet"}, TODAY).house, ())
    assert {one.task: one for one in plan(unknown, TODAY).due}["ultraviolet.replace_lamp"].act_on == TODAY


def test_magnesia_and_bypass_are_asked_in_percent() -> None:
    answers = say({"stages": "well neutralizer"}, "neutralizer.bypass_share", "25")
    bed = start(answers, TODAY).house.stages[1]
    assert isinstance(bed, Neutralizer)
    assert bed.bypass_share == pytest.approx(0.25)


def test_drawings_are_plain_and_fit() -> None:
    for drawing in DRAWINGS.values():
        assert drawing.isascii()
        assert len(drawing.splitlines()) <= 5
        assert max(map(len, drawing.splitlines())) <= 54


KINDS = ("well", "pressure_tank", "sediment_filter", "neutralizer", "softener", "ultraviolet", "reverse_osmosis")


@settings(max_examples=25)
@given(st.data())
def test_any_answers_that_pass_give_a_home_that_is_kept_and_plans(data: st.DataObject) -> None:
    answers: Answers = {}
    for place in range(60):
        asked = questions(answers)
        if place >= len(asked):
            break
        one = asked[place]
        try:
            answers = accept(answers, one, data.draw(_text(one)), TODAY)
        except BadInput:
            answers = accept(answers, one, UNKNOWN, TODAY)
    made = start(answers, TODAY)
    text = codec.to_text(codec.tables_of(Home(made.house, tuple(numbered_once(made.events, "me")))))
    found = codec.contents(text)
    assert isinstance(found, codec.Contents)
    due = plan(found.home, TODAY).due
    assert {one.stage for one in due} <= {stage.id for stage in found.home.house.stages}
    assert due


def _text(one: Question) -> st.SearchStrategy[str]:
    if one.kind == "ticks":
        return st.sets(st.sampled_from(KINDS)).map(" ".join)
    if one.kind == "choice":
        return st.sampled_from([UNKNOWN, *(value for value, _ in one.choices)])
    if one.kind == "day":
        return st.dates(date(1960, 1, 1), date(2030, 1, 1)).map(date.isoformat)
    number = st.sampled_from([0.01, 0.5, 1, 3, 8, 12, 30, 55, 100, 250, 1000, 30000]).map(str)
    units = st.sampled_from(["", *one.units]) if one.units else st.just("")
    return st.one_of(st.just(UNKNOWN), st.builds(lambda value, unit: f"{value} {unit}".strip(), number, units))


def test_the_draft_is_private_comes_back_and_goes_at_the_end(tmp_path: Path) -> None:
    path = tmp_path / "new" / "home.json"
    first = FirstRun(Repository(path), TODAY)
    assert first.draft() == Draft()
    assert not path.parent.exists()
    kept = Draft({"people": "3"}, "stages", "")
    first.keep(kept)
    beside = path.with_name(".home.json.setup")
    assert stat.S_IMODE(beside.stat().st_mode) == 0o600
    assert FirstRun(Repository(path), TODAY).draft() == kept
    assert not path.exists()
    first.begin(*start(kept.answers, TODAY))
    assert not beside.exists()
    assert Repository(path).load().house.people == 3.0
    first.keep(kept)
    assert not beside.exists(), "a home that is written needs no draft"


def test_a_damaged_draft_is_a_new_start(tmp_path: Path) -> None:
    (tmp_path / ".home.json.setup").write_bytes(b"\xff{not a draft")
    assert FirstRun(Repository(tmp_path / "home.json"), TODAY).draft() == Draft()


def test_a_file_that_appeared_meanwhile_is_never_touched(tmp_path: Path) -> None:
    path = tmp_path / "home.json"
    first = FirstRun(Repository(path), TODAY)
    first.keep(Draft({"people": "3"}))
    Repository(path).create(House(name="Other", started=TODAY))
    before = path.read_bytes()
    with pytest.raises(StoreError):
        first.begin(*start({"people": "3"}, TODAY))
    assert path.read_bytes() == before
    assert (tmp_path / ".home.json.setup").exists()
    first.keep(Draft({"people": "4"}))
    assert first.draft() == Draft({"people": "4"}), "what was answered is not lost"
