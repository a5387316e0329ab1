"""The form in which the owner says why the meter counted much more or less than expected."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model.forecast.explained import explained
from model.records.log import CAUSES
from model.units import show
from tui.dialogs.form import Entry, Form
from tui.dialogs.pick import Pick
from tui.words import day_words

if TYPE_CHECKING:
    from model.plan_types import Question
    from model.records.events import Explained
    from tui.view import View

_USUAL, _OVER, _GOES_ON = "", "over", "goes_on"
_ENDED = ((_USUAL, "not said: a leak and a new household go on"), (_OVER, "it is over"), (_GOES_ON, "it goes on"))


def question_list(view: View) -> Pick:
    """A list that answers with the place of the question to be answered, where there are several."""
    choices = tuple((str(place), _stretch(one, view)) for place, one in enumerate(view.plan.questions))
    return Pick(
        "Which stretch?", choices, about="The meter counted otherwise than expected. The newest may matter most."
    )


def explain_form(question: Question, view: View) -> Form[Explained]:
    """A form that answers with the owner's explanation of one stretch."""
    causes = tuple((cause, words[0].upper() + words[1:]) for cause, words in CAUSES.items())
    entries = (
        Entry(id="cause", label="It was", value=causes[0][0], choices=causes),
        Entry(id="over", label="Has it ended?", value=_USUAL, choices=_ENDED),
        Entry(id="note", label="Note"),
    )

    def take(typed: dict[str, str]) -> Explained:
        over = None if typed["over"] == _USUAL else typed["over"] == _OVER
        cause = next(one for one in CAUSES if one == typed["cause"])
        return explained(question.start, question.end, cause, over, view.today, typed["note"].strip())

    about = f"{question.text} {_stretch(question, view)}. What is over does not count for the days to come."
    return Form("Why was the meter odd?", entries, take, about=about)


def _stretch(question: Question, view: View) -> str:
    """ "Mon 2 Nov to Mon 9 Nov: 1,200 gal, expected 800 gal"."""
    first, last = (day_words(day, view.today) for day in (question.start, question.end))
    counted, expected = (show(one, "volume", view.house.units) for one in (question.litres, question.expected_litres))
    return f"{first} to {last}: {counted}, expected {expected}"
