"""Events: the playbooks begun with their steps, and those that can be begun."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, ClassVar

from textual import on, work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from model.errors import WellwardError
from model.forecast.playbook_events import answer
from model.upkeep.playbook import all_playbook_ids, load_playbook
from tui.commands import bindings
from tui.key_words import key
from tui.screens.area import AreaScreen
from tui.widgets.cells import fit
from tui.widgets.event_lines import BOOK, STEP, playbook_words, step_option, step_reasons, step_rows
from tui.words import day_words

if TYPE_CHECKING:
    from textual.events import Resize

    from model.forecast.playbooks import Running
    from model.plan_types import EventStep
    from tui.view import View


class EventList(OptionList):
    """Steps and playbooks. The list has Enter for itself; here it is the screen's."""

    BINDINGS: ClassVar[list[BindingType]] = [*bindings("events")]


class EventsScreen(AreaScreen):
    """What happened to the house and what is to be done about it. It lies on Week; Escape goes back."""

    AREA = "week"
    CSS_PATH = "events.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("events")]
    HELP_TEXT = (
        "A playbook is a list of things to do, by the day, when something happens: power cut, flood, frost, "
        "guests. {events.do} on a playbook begins it, after asking for the day. {events.do} on a step ticks it; "
        "where a checklist belongs to it, {events.do} opens that, and recording the service closes the step. "
        "{events.skip} leaves a step out and asks why. {undo} takes back the last answer, and {log.take_back} in "
        "the log a playbook that was begun by mistake."
    )

    def __init__(self, first: str = "") -> None:
        super().__init__()
        self._first = first
        self._opened = ""  # the step whose checklist was opened from here

    def compose(self) -> ComposeResult:
        """The list, and beside or below it what the highlighted line is about."""
        with Horizontal(id="events"):
            yield EventList(id="event_list", compact=True)
            with VerticalScroll(id="event_tells", can_focus=True):
                yield Static(id="event_words")

    def show_view(self, view: View) -> None:
        """Fill the list, keeping the highlighted line."""
        shown = self.query_one(EventList)
        kept = self._line or self._first
        width = max(shown.scrollable_content_region.width, 20)
        shown.clear_options()
        shown.add_options(list(_options(view, width)))
        places = {one.id: place for place, one in enumerate(shown.options) if one.id}
        shown.highlighted = places.get(kept, min(places.values()))
        shown.focus(scroll_visible=False)
        found = self._step
        if found is not None and found[1].key == self._opened and found[1].outcome != "open":
            self._go_on(found[1])
        self._tell()

    def on_resize(self, event: Resize) -> None:
        """Cut the lines anew."""
        if self._shown is not None:
            self.call_after_refresh(self.show_view, self._shown)

    @property
    def _line(self) -> str:
        shown = self.query_one(EventList)
        place = shown.highlighted
        return "" if place is None or place >= shown.option_count else shown.get_option_at_index(place).id or ""

    @property
    def _step(self) -> tuple[Running, EventStep] | None:
        """The step on the highlighted line, with its playbook."""
        key = self._line.removeprefix(STEP)
        rows = ((one, step) for one in self.app.session.view.begun for step in one.steps)
        return next((row for row in rows if row[1].key == key), None)

    @on(OptionList.OptionHighlighted)
    def _tell(self) -> None:
        view, found = self.app.session.view, self._step
        words = self.query_one("#event_words", Static)
        if found is not None:
            words.update(step_reasons(found[1], found[0], view, compact=self.has_class("-narrow")))
        elif self._line.startswith(BOOK):
            playbook = load_playbook(self._line.removeprefix(BOOK))
            words.update(playbook_words(playbook, step_rows(view, playbook)))
        self.query_one("#event_tells").scroll_home(animate=False)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """What Week can do besides is not offered here."""
        return hasattr(self, f"action_{action}")

    @on(OptionList.OptionSelected)
    def action_do_row(self) -> None:
        """Tick the step, open its checklist, or begin the playbook."""
        found = self._step
        if found is None:
            self._begin(self._line.removeprefix(BOOK))
        elif found[1].outcome != "open":
            self.notify(f"This step is closed. {key('undo')} takes back the last answer.", markup=False)
        elif found[1].task:
            self._opened = found[1].key
            self.app.open_job(found[1].task)
        else:
            self._tick(found[1])

    def _tick(self, step: EventStep) -> None:
        view = self.app.session.view
        try:
            said = answer(view.situation, step.key, "done", view.today)
        except WellwardError as problem:
            self.notify(str(problem), severity="warning", markup=False)
            return
        if self.app.record(said, said="Step done."):
            self._go_on(step)

    @work(exclusive=True, group="dialog")
    async def _begin(self, name: str) -> None:
        from tui.dialogs.playbook import begin_form

        playbook = load_playbook(name)
        started = await self.app.push_screen_wait(begin_form(playbook, self.app.session.view))
        if started and self.app.record(started, said=""):
            begun = max(self.app.session.view.begun, key=lambda one: one.event)
            self._go_to(begun.open[:1])
            self.notify(
                f"Begun: {begun.title}, {len(begun.open)} steps. ! {begun.cautions[0]}", markup=False, timeout=12
            )

    def _go_on(self, step: EventStep) -> None:
        """Go to the next open step below, or to the first one."""
        begun = next(one for one in self.app.session.view.begun if one.event == step.event)
        place = [one.key for one in begun.steps].index(step.key)
        below = [one for one in begun.steps[place:] if one.outcome == "open"]
        self._go_to([*below, *begun.open])

    def _go_to(self, steps: Sequence[EventStep]) -> None:
        if steps:
            shown = self.query_one(EventList)
            shown.highlighted = shown.get_option_index(f"{STEP}{steps[0].key}")

    @work(exclusive=True, group="dialog")
    async def action_skip(self) -> None:
        """Leave a step out, for a reason."""
        from tui.dialogs.playbook import skip_form

        found = self._step
        if found is None or found[1].outcome != "open":
            self.notify("Only an open step can be left out.", markup=False)
            return
        said = await self.app.push_screen_wait(skip_form(found[1], self.app.session.view))
        if said and self.app.record(said, said="Step left out."):
            self._go_on(found[1])

    def action_close(self) -> None:
        """Go back to Week."""
        if self.app.screen is self:
            self.app.pop_screen()


def _options(view: View, width: int) -> Iterator[Option]:
    for one in view.begun:
        if one.open:
            words = f"{one.title}, from {day_words(one.on, view.today)}: {len(one.open)} of {len(one.steps)} open"
            yield Option(Content.styled(fit(words, width), "bold $text-accent"), disabled=True)
            yield from (step_option(step, view, width) for step in one.steps)
    yield Option(Content.styled(fit("To begin when it happens", width), "bold $text-primary"), disabled=True)
    for name in all_playbook_ids():
        yield Option(Content(fit(f"  {load_playbook(name).title}", width)), id=f"{BOOK}{name}")
