"""The lines of a job that are ticked or filled in."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar

from rich.text import Text
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.events import Click, Key
from textual.message import Message
from textual.widget import Widget
from textual.widgets import Input, Static

from tui.widgets.hanging import hanging
from tui.widgets.step_wait import StepWait


class JobPage(VerticalScroll, inherit_bindings=False):
    """The page of a job: up and down are left to its lines."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("home", "scroll_home", "Top", show=False),
        Binding("end", "scroll_end", "End", show=False),
        Binding("pageup", "page_up", "Page up", show=False),
        Binding("pagedown", "page_down", "Page down", show=False),
    ]

    def show(self, line: Widget) -> None:
        """Scroll just as far as a line needs."""
        top, bottom = self._span(line)
        y = min(max(self.scroll_y, bottom - self.size.height), top)
        self.scroll_to(y=y, animate=False, immediate=True)

    def read_on(self, line: Widget) -> bool:
        """Scroll towards a line that is not on screen, a page at most; False where it is on screen."""
        top, bottom = self._span(line)
        height, y = self.size.height, self.scroll_y
        if top < y + height and bottom > y:
            return False
        page = max(height - 2, 1)
        self.scroll_to(y=min(y + page, bottom - height) if top > y else top, animate=False, immediate=True)
        return True

    def _span(self, line: Widget) -> tuple[int, int]:
        """Where a line begins and ends on the page."""
        row = line.parent if isinstance(line.parent, AskLine) else line
        return row.virtual_region.y, row.virtual_region.bottom


class StepLine(Static, can_focus=True):
    """One step with its tick box and what is left of its wait. Space, Enter or a click ticks it and begins the wait."""

    class Toggled(Message):
        """A step was ticked or unticked."""

        def __init__(self, step: StepLine) -> None:
            super().__init__()
            self.step = step

    def __init__(self, place: int, text: str, waiting: StepWait, moment: Callable[[], float], *, ticked: bool) -> None:
        super().__init__(id=f"step_{place}", classes="step")
        self.place = place
        self.ticked = ticked
        self.text = text
        self.waiting = waiting
        self._moment = moment

    def on_mount(self) -> None:
        """Draw for the first time."""
        self.draw()

    def draw(self) -> None:
        """Show box, number, words and wait."""
        box = f"{'[x]' if self.ticked else '[ ]'} {self.place + 1:>2}."
        self.update(hanging(((box, self._words()),), 7, "bold"))
        self.set_class(self.ticked, "-ticked")

    def _words(self) -> Text:
        """The step, its wait, and how that stands."""
        words = Text(self.text)
        if self.waiting.minutes:
            now = self._moment()
            tail = self.waiting.tail(now)
            words.append(f" >> Wait {wait_words(self.waiting.minutes)}{': ' if tail else '.'}")
            words.append(tail, "bold reverse" if self.waiting.is_over(now) else "bold")
        return words

    def toggle(self) -> None:
        """Tick or untick."""
        self.ticked = not self.ticked
        if self.ticked:
            self.waiting.begin(self._moment())
        else:
            self.waiting.drop()
        self.draw()
        self.post_message(self.Toggled(self))

    def untick(self) -> None:
        """Untick without telling anybody."""
        self.ticked = False
        self.waiting.drop()
        self.draw()

    def on_click(self, event: Click) -> None:
        """A click ticks."""
        self.toggle()


class ReadingField(Input):
    """A field that leaves a space at its beginning to the page: it is no part of a value, but reads on."""

    class Spaced(Message):
        """Space was pressed where nothing is typed."""

    def on_key(self, event: Key) -> None:
        """Type no space into an empty field."""
        if event.key == "space" and not self.value:
            event.prevent_default()
            event.stop()
            self.post_message(self.Spaced())


class AskLine(Horizontal):
    """One value to fill in: what is asked, the field, and beside it what to expect or what is wrong.

    `offered` stands in the field until something else is typed.
    """

    def __init__(self, field: str, ask: str, expect: str, value: str, offered: str = "") -> None:
        super().__init__(classes="ask")
        self.field = field
        self.ask = ask
        self._expect = expect
        self._offered = offered
        # Nothing is selected when the field is reached: the next key must not wipe what stands there.
        self.input = ReadingField(value, compact=True, select_on_focus=False)
        self._beside = Static(Content(expect), classes="beside")

    def compose(self) -> ComposeResult:
        """Words, field, words."""
        yield Static(Content(self.ask), classes="asked")
        yield self.input
        yield self._beside

    @property
    def typed(self) -> str:
        """What stands in the field."""
        return self.input.value

    @property
    def changed(self) -> bool:
        """Whether something else stands there than was offered."""
        return self.typed.strip() != self._offered

    def empty(self) -> None:
        """Put back what was offered."""
        self.input.value = self._offered
        self.say("")

    def say(self, problem: str) -> None:
        """Show what is wrong or odd, or what to expect where nothing is."""
        self._beside.set_class(bool(problem), "-problem")
        self._beside.update(Content(f"! {problem}" if problem else self._expect))


def wait_words(minutes: int) -> str:
    """A wait in plain words: "20 minutes", "2 hours", "1 hour 30 minutes"."""
    hours, rest = divmod(minutes, 60)
    parts = [
        f"{count} {unit}{'' if count == 1 else 's'}" for count, unit in ((hours, "hour"), (rest, "minute")) if count
    ]
    return " ".join(parts)
