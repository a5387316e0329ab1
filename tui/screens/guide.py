"""Guide: what owners ask, answered from the home's own numbers."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Container, VerticalScroll
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from model.guide.book import answer, matching, questions
from tui.commands import bindings
from tui.screens.listed import FilterLine, ListScreen
from tui.widgets.guide_answer import answer_words, question_line

if TYPE_CHECKING:
    from model.guide.shape import Answer, Question
    from tui.view import View

_NONE = "No question has all of these words. Escape shows all of them again."


class QuestionList(OptionList):
    """The questions by topic."""

    # The list has Enter for itself; here it is the screen's, so that it is shown among the keys.
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("guide")]

    def show_questions(self, found: list[Question], *, keep: bool = True) -> None:
        """Show these, the highlighted one kept where it is to be and is among them, else the first."""
        kept = self.question_id if keep else ""
        self.clear_options()
        self.add_options(list(self._options_of(found)))
        self.turn_to(kept)

    def turn_to(self, question: str) -> None:
        """Highlight a question, the first where it is not listed."""
        places = {one.id: place for place, one in enumerate(self.options) if one.id}
        self.highlighted = places.get(question, min(places.values(), default=None))

    def _options_of(self, found: list[Question]) -> Iterator[Option]:
        width, topic = self.scrollable_content_region.width, ""
        for one in found:
            if one.topic != topic:
                topic = one.topic
                yield Option(Content.styled(topic, "bold $primary"), disabled=True)
            yield Option(question_line(one, width), id=one.id)

    @property
    def question_id(self) -> str:
        """The highlighted question, "" where there is none."""
        place = self.highlighted
        chosen = None if place is None or place >= self.option_count else self.get_option_at_index(place)
        return (chosen.id or "") if chosen is not None else ""


class GuideScreen(ListScreen):
    """The questions, and beside or below them the answer to the highlighted one. It lies on any screen."""

    AREA = "guide"
    CSS_PATH = "guide.tcss"
    AUTO_FOCUS = LIST = "#questions"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("guide")]
    HELP_TEXT = (
        "Each answer stands on what you wrote down, and says what is missing with the command that records it: put "
        "what you read in the place of VALUE, or press {reading}. What holds in every house comes after it, with "
        "its source. {guide.filter} filters by any word, {guide.more} scrolls the answer, {guide.open} goes to the "
        "screen or checklist it names. On health the laboratory, your doctor and the health authority have the "
        "last word."
    )

    def __init__(self, question: str = "") -> None:
        """`question`: the one to begin with, "" for the first."""
        super().__init__()
        self._begin = question

    def compose(self) -> ComposeResult:
        """Filter, list, answer."""
        yield FilterLine("salt, nitrate, lamp, cost")
        with Container(id="guide"):
            yield QuestionList(id="questions", compact=True)
            with VerticalScroll(id="answer"):
                yield Static(id="answer_words")

    def show_view(self, view: View) -> None:
        """Answer anew."""
        self._show_list()
        if self._begin:
            self.query_one(QuestionList).turn_to(self._begin)
            self._begin = ""
        self._show_answer()

    def turn_to(self, question: str) -> None:
        """Show the answer to a question, whatever was looked for before."""
        self.clear_filter()
        self._show_list()
        self.query_one(QuestionList).turn_to(question)

    def on_resize(self, event: events.Resize) -> None:
        """Fill the lines to the new width."""
        self.call_after_refresh(self._show_list)

    def _show_list(self, *, keep: bool = True) -> None:
        found = matching(self.words)
        self.query_one(QuestionList).show_questions(found, keep=keep)

    @property
    def answered(self) -> Answer | None:
        """The highlighted question with its answer, None where no question is shown."""
        chosen = self.query_one(QuestionList).question_id
        one = next((one for one in questions() if one.id == chosen), None)
        return answer(one, self.app.session.view.own) if one is not None else None

    @on(OptionList.OptionHighlighted, "#questions")
    def _show_answer(self) -> None:
        one, house = self.answered, self.app.session.view.house
        self.query_one("#answer_words", Static).update(answer_words(one, house) if one else Content(_NONE))
        self.query_one("#answer", VerticalScroll).scroll_home(animate=False)

    def refill(self) -> None:
        """List the questions with the words typed, those that ask about them first."""
        self._show_list(keep=not self.words)
        self._show_answer()

    def action_read_on(self) -> None:
        """Scroll the answer down a page, from its end to its top."""
        shown = self.query_one("#answer", VerticalScroll)
        if shown.scroll_offset.y >= shown.max_scroll_y:
            shown.scroll_home(animate=False)
        else:
            shown.scroll_page_down(animate=False)

    def action_close(self) -> None:
        """Show all questions again; where they are, leave."""
        if not self.clear_filter() and self.app.screen is self:
            self.app.pop_screen()

    @on(OptionList.OptionSelected, "#questions")
    def action_go_there(self) -> None:
        """Leave for what the answer names."""
        one = self.answered
        if one is not None and self.app.screen is self:
            self.app.go_from_guide(one.to)
