"""Every question is there and is answered, whatever the home; what is missing is named with a command that works."""

from __future__ import annotations

import re
import shlex
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model.equipment.registry import KINDS
from model.forecast.parts import find_task
from model.guide.book import ANSWERS, answer, matching, questions
from model.guide.own import Own
from model.guide.shape import Answer
from model.home import Home, Use
from model.records.intake import take
from model.records.quantities import QUANTITIES
from tests.forecast.homes import STAGES, START, SUPPLIES, TODAY, home, house, raw_water, reading
from tests.guide.homes import ask, changed_stage, own_of, sample
from tui.cli.parser import Asked, build_parser
from tui.guide_words import place_words
from tui.widgets.guide_answer import answer_words

NEED_NOTHING = {
    "contractor",
    "sand",
    "cloudy",
    "broken_lamp",
    "chlorine",
    "which_salt",
    "how_much_salt",
    "clean_sleeve",
}
"""Answers that stand on settings and dates alone, or whose readings the home without readings has no need of."""

HOMES = {
    "sample": sample(),
    "empty": Home(house(stages=())),
    "all kinds, nothing read": home(supplies=()),
    **{f"{one.id} alone": home(stages=(one,), units="us") for one in STAGES},
}


@cache
def answers(name: str) -> list[Answer]:
    own = own_of(HOMES[name])
    return [answer(one, own) for one in questions()]


def test_all_54_are_there_with_one_answer_each() -> None:
    assert [one.number for one in questions()] == list(range(1, 55))
    assert {one.id for one in questions()} == set(ANSWERS)
    assert len({one.asks for one in questions()}) == 54


@pytest.mark.parametrize("name", HOMES)
def test_every_home_gets_an_answer_to_every_question(name: str) -> None:
    for one in answers(name):
        assert one.said.endswith("."), one
        assert one.said.isprintable()
        assert len(one.said) <= 330, one.question.id
        assert "None" not in one.said
        assert "nan" not in one.said.split()
        assert place_words(one.to, HOMES[name].house)


def test_a_home_without_readings_is_told_what_is_missing() -> None:
    for asked in ("empty", "all kinds, nothing read"):
        silent = {one.question.id for one in answers(asked) if not one.missing}
        assert silent <= NEED_NOTHING, asked


@pytest.mark.parametrize("name", HOMES)
def test_every_command_can_be_typed(name: str) -> None:
    asked = HOMES[name].house
    typed = [one.command for found in answers(name) for one in found.missing if one.command]
    for line in typed:
        words = shlex.split(line)
        assert words[0] == "wellward"
        said = build_parser(words[1:]).parse_args(words[1:], namespace=Asked())
        if words[1] == "read" and asked.stages:
            dimension = QUANTITIES[said.quantity].dimension
            value = {"pH": "7", "organisms": "absent", "temperature": "50"}.get(dimension, "9")
            taken = take(asked, said.quantity, value, said.unit, said.point)
            assert taken.quantity == said.quantity
        if words[1] == "done":
            find_task(asked, said.task)
    assert typed or name == "part alone"


def test_recording_what_was_missing_takes_it_off_the_list() -> None:
    before = ask("air_charge", home())
    assert [one.command for one in before.missing] == [
        "wellward read precharge VALUE bar --at pressure_tank",
        "wellward read cut_in VALUE bar --at pressure_tank",
    ]
    read = [reading(TODAY, name, 2.6, "pressure_tank") for name in ("precharge", "cut_in")]
    assert not ask("air_charge", home(*read)).missing


def test_health_answers_leave_the_last_word_to_those_who_have_it() -> None:
    health = [one for one in questions() if one.health]
    assert {"sodium", "baby", "takes_nitrate", "power_was_off", "found_after", "ran_out"} <= {one.id for one in health}
    for one in health:
        assert re.search(r"laborator|doctor|health authority", one.then), one.id


@pytest.mark.parametrize("name", HOMES)
def test_no_answer_calls_any_water_safe(name: str) -> None:
    for one in answers(name):
        text = f"{one.said} {one.question.why} {one.question.then}"
        assert not re.search(r"\bsafe(ly)?\b", text, re.IGNORECASE), one.question.id


@pytest.mark.parametrize("nitrate", [None, 4.0, 12.0])
def test_boiling_is_advised_only_where_nitrate_is_known_to_be_low(nitrate: float | None) -> None:
    events = [] if nitrate is None else [raw_water(nitrate=nitrate)]
    said = ask("power_was_off", home(*events)).said
    assert ("boil drinking water" in said) == (nitrate == 4.0)
    assert "bottled" in said


def test_nobody_is_told_to_put_bleach_to_acid() -> None:
    for one in questions():
        text = f"{one.why} {one.then}".casefold()
        if re.search(r"\bacid\b", text) and "bleach" in text:
            assert "never" in text, one.id


def test_where_to_go_is_there() -> None:
    own = own_of(HOMES["all kinds, nothing read"])
    for one in questions():
        to = answer(one, own).to
        assert (to != "house") or one.to == "house", one.id
        if "." in to:
            assert find_task(own.house, to)
        else:
            assert to in {"week", "water", "shelf", "costs", "water:mix", "water:trends", "water:valve"}, one.id


@pytest.mark.parametrize(
    ("words", "first"),
    [("salt bridge", "bridge"), ("SODIUM", "sodium"), ("baby", "baby"), ("54", "skipped"), ("6 dgh", "mix_6_dh")],
)
def test_words_find_questions(words: str, first: str) -> None:
    assert matching(words)[0].id == first


def test_no_words_find_all_and_nonsense_none() -> None:
    assert matching("  ") == list(questions())
    assert matching("salt zebra") == []


TEXT = st.text(max_size=30)
POSSIBLE = [one for one in QUANTITIES.values() if one.impossible_above is not None]


@settings(max_examples=12, deadline=None)
@given(title=TEXT, use=TEXT, supply=TEXT, data=st.data())
def test_no_text_and_no_possible_reading_breaks_an_answer(
    title: str, use: str, supply: str, data: st.DataObject
) -> None:
    stages = tuple(changed_stage(one, title=title) for one in STAGES)
    supplies = (*SUPPLIES, SUPPLIES[0].__class__(id="odd", title=supply))
    events = []
    for quantity in data.draw(st.lists(st.sampled_from(POSSIBLE), max_size=8)):
        low, high = quantity.impossible_below or 0.0, quantity.impossible_above or 0.0
        point = quantity.kinds[0] if quantity.kinds else data.draw(st.sampled_from(["source", "tap", "ro"]))
        events.append(reading(START, quantity.id, data.draw(st.floats(low, high)), point))
    asked = home(*events, stages=stages, supplies=supplies, uses=(Use(title=use, litres_per_week=5.0, point="hose"),))
    own: Own = own_of(asked)
    for one in questions():
        if one.id == "cost":  # the longest to work out, and it says nothing that was typed
            continue
        found = answer(one, own)
        assert found.said
        assert found.said.isprintable()
        shown = answer_words(found, own.house).plain
        assert found.said in shown
        assert all(row.what in shown for row in found.missing)


def test_every_kind_of_stage_is_asked_about() -> None:
    asked = {one.to.partition(".")[0] for one in questions() if "." in one.to}
    assert asked == set(KINDS) - {"part"}
