"""One question of the set-up on the screen: its words, its drawing, and where the answer goes."""

from __future__ import annotations

from collections.abc import Iterable
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.message import Message
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from model.records.quantities import find_quantity
from model.records.typed import split_unit
from model.setup.drawings import DRAWINGS
from model.setup.question import UNKNOWN, Question
from model.setup.questions import ASSUMED_STAGES
from model.setup.reading import taken_instead, unit_of
from model.units import System
from tui.commands import bindings
from tui.dialogs.form import Typed
from tui.key_words import key, keyed

_NOT_KNOWN = "not_known"


class Ticks(OptionList):
    """A list to tick in, in letters and not in colour alone; Enter goes on, as on every page."""

    BINDINGS: ClassVar[list[BindingType]] = [*bindings("setup")]

    def __init__(self, choices: tuple[tuple[str, str], ...], ticked: Iterable[str]) -> None:
        self._ticked = set(ticked)
        self._words = dict(choices)
        super().__init__(*(Option(self._line(one), id=one) for one in self._words), id="setup_list", markup=False)
        self.highlighted = 0

    def _line(self, choice: str) -> Content:
        return Content(f"[{'x' if choice in self._ticked else ' '}] {self._words[choice]}")

    @property
    def ticked(self) -> list[str]:
        """What is ticked, in the order of the list."""
        return [one for one in self._words if one in self._ticked]

    def turn(self) -> None:
        """Tick the highlighted line, or take its tick away."""
        option = self.highlighted_option
        if option is not None and option.id:
            self._ticked ^= {option.id}
            self.replace_option_prompt(option.id, self._line(option.id))


class SetupPage(Vertical):
    """A question. It answers with `Answered`, by Enter or a click, or says with `Missing` that a unit is missing."""

    class Missing(Message):
        """What has still to be chosen, in words."""

        def __init__(self, words: str) -> None:
            super().__init__()
            self.words = words

    class Answered(Message):
        """The answer as typed or chosen, `UNKNOWN` where it is empty."""

        def __init__(self, question: Question, text: str) -> None:
            super().__init__()
            self.question = question
            self.text = text

    def __init__(self, question: Question, answer: str, system: System) -> None:
        super().__init__(classes="setup_question")
        self.question = question
        self._answer = answer
        self._system = system

    def compose(self) -> ComposeResult:
        """The question, where to look, the drawing, the answer, and what happens without one."""
        asked = self.question
        yield Static(Content.styled(asked.title, "bold"), classes="setup_title")
        if asked.about:
            yield Static(Content(asked.about), classes="setup_about")
        if asked.drawing:
            yield Static(Content(DRAWINGS[asked.drawing]), classes="setup_drawing")
        yield from self._ways_to_answer()
        yield Static(Content(self._without()), classes="setup_without")

    def _ways_to_answer(self) -> ComposeResult:
        asked = self.question
        if asked.kind == "ticks":
            how = keyed("{setup.tick} ticks what stands there, {setup.next} goes on.")
            yield Static(Content(how), classes="setup_about")
            ticked = self._answer.split() or ASSUMED_STAGES
            yield Ticks(asked.choices, ticked)
        elif asked.kind == "choice":
            usual = f"I don't know (taken: {taken_instead(asked, self._system)})"
            choices = (*asked.choices, (_NOT_KNOWN, usual))
            yield _options(choices, self._answer or _NOT_KNOWN)
        else:
            number, unit = self._split()
            yield Typed(number, placeholder=self._hint(), compact=True, id="setup_typed")
            if asked.units:
                yield Static(
                    Content(keyed("Unit: Tab goes to the list, {setup.next} takes one.")), classes="setup_about"
                )
                yield _options(tuple((one, one) for one in asked.units), unit or self._usual_unit())

    def _split(self) -> tuple[str, str]:
        """What was typed before, apart from a unit that stands in the list."""
        number, unit = split_unit(self._answer)
        return (number, unit) if unit in self.question.units else (self._answer, "")

    def _usual_unit(self) -> str:
        """The owner's unit; none where a bare number would not say of what."""
        quantity = find_quantity(self.question.field)
        usual = quantity.us_unit if self._system == "us" else quantity.metric_unit
        units = self.question.units
        return "" if quantity.needs_basis else usual if usual in units else units[0]

    def _hint(self) -> str:
        label = self.question.label
        unit = unit_of(label, self._system) if label else ""
        return f"unit: {unit}" if unit else ""

    def _without(self) -> str:
        if self.question.kind == "choice":
            return ""
        taken = taken_instead(self.question, self._system)
        return f"You don't know? Leave it empty: {taken}{'' if self.question.instead else ' is taken and marked'}."

    @property
    def typed(self) -> str:
        """What stands in the field now, with the unit chosen."""
        for field in self.query(Input):
            return self._with_unit(field.value)
        for ticks in self.query(Ticks):
            return " ".join(ticks.ticked)
        return self._answer

    def _with_unit(self, text: str) -> str:
        """The text with the highlighted unit where it has none."""
        unit = self._chosen()
        return f"{text.strip()} {unit}" if text.strip() and unit and not split_unit(text)[1] else text.strip()

    def _chosen(self) -> str:
        for listed in self.query(OptionList):
            option = listed.highlighted_option
            return (option.id or "") if option and self.question.units else ""
        return ""

    def answer(self) -> None:
        """Send the answer; where a unit has still to be said, go to the list of them first."""
        text = self.typed
        if self.question.kind == "choice":
            option = self.query_one(OptionList).highlighted_option
            text = _NOT_KNOWN if option is None else option.id or ""
        units = self.question.units
        if text and len(units) > 1 and not split_unit(text)[1]:
            self.query_one(OptionList).focus()
            self.post_message(
                self.Missing(f"{text} of what? Down and Up highlight a unit, {key('setup.next')} takes it.")
            )
            return
        self.post_message(self.Answered(self.question, UNKNOWN if text == _NOT_KNOWN else text))

    @on(Input.Submitted)
    @on(OptionList.OptionSelected)
    def _entered(self, event: Message) -> None:
        event.stop()
        if self.question.kind == "ticks":
            self.query_one(Ticks).turn()  # by a click; Enter goes on
        else:
            self.answer()


def _options(choices: tuple[tuple[str, str], ...], chosen: str) -> OptionList:
    """The choices, the one chosen before highlighted."""
    listed = OptionList(*(Option(Content(words), id=value) for value, words in choices), id="setup_list", markup=False)
    ids = [value for value, _ in choices]
    listed.highlighted = ids.index(chosen) if chosen in ids else None
    return listed
