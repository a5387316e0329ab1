"""What the valve does: the blend valve of the neutralizer moved on the screen. Nothing moves in the house."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, ClassVar

import msgspec
from textual import on, work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.message import Message
from textual.widgets import Static
from textual.worker import get_current_worker

from model.equipment.neutralizer import Neutralizer
from model.equipment.registry import title_of
from model.errors import BadInput
from model.forecast.situation import Situation
from model.forecast.valve import Effect, Valve, effect, valve_of
from model.records.typed import parse_number
from model.units import show
from model.water.neutralizing import bypass_for_ph, standing
from tui.commands import bindings
from tui.dialogs.ask import Ask
from tui.dialogs.form import Entry, Form
from tui.key_words import key, keyed
from tui.screens.water_view import WaterView
from tui.widgets.sections import heading, indented, lines
from tui.widgets.valve_board import ValveBoard
from tui.widgets.valve_words import MOST_PERCENT, Curve, share_rows

if TYPE_CHECKING:
    from model.units import System
    from tui.view import View

_NO_NEUTRALIZER = (
    "This house has no neutralizer, so there is no blend valve to look at.",
    "If one stands here, put it into the train: press {go.house} for House, then {house.add}.",
)
_EACH = 8
"""Points worked out between two looks at the screen."""


def order() -> tuple[int, ...]:
    """Every percent once: each fifth first, so that the shape is there early."""
    coarse = [*range(0, MOST_PERCENT, 5), MOST_PERCENT]
    return (*coarse, *(percent for percent in range(MOST_PERCENT + 1) if percent not in coarse))


class ValveScreen(WaterView):
    """pH, hardness, sodium, salt and media against the share of water that goes round the bed."""

    CSS_PATH = "valve.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("valve")]
    HELP_TEXT = (
        "{valve.less} and {valve.more} move the valve by 1 %, {valve.less_5} and {valve.more_5} by 5 %; a click or "
        "a drag on a chart does too. {valve.wanted} finds the setting for a wanted pH. Nothing is written down "
        "until you press {valve.keep} and say yes, and the program moves no valve. The left numbers are those of "
        "the setting of now. A pH here is reckoned for flowing water: read it after every change. {water.valve}, "
        "{water.salt_out}, {water.mix} and {water.trends} go from view to view; Escape goes back, also while the "
        "curve is being worked out."
    )

    class Worked(Message):
        """More of the curve, or why there is none."""

        def __init__(self, view: View, valve: Valve | None, curve: Curve, problem: str = "") -> None:
            super().__init__()
            self.view, self.valve, self.curve, self.problem = view, valve, curve, problem

    def __init__(self) -> None:
        super().__init__()
        self.valve: Valve | None = None
        self.curve = Curve()

    def compose(self) -> ComposeResult:
        """A heading with the progress, the board, the words."""
        with VerticalScroll(id="valve", can_focus=False):
            yield Static(id="valve_head")
            yield ValveBoard()
            yield Static(id="valve_notes")
            yield Static(id="valve_table")

    @property
    def board(self) -> ValveBoard:
        """The board."""
        return self.query_one(ValveBoard)

    # The curve

    def show_view(self, view: View) -> None:
        """Work out the curve for the home as it is."""
        stage = next((one for one in view.house.stages if isinstance(one, Neutralizer)), None)
        self.valve, self.curve = None, Curve()
        self._head("")
        if stage is None:
            self._say(tuple(map(keyed, _NO_NEUTRALIZER)))
            return
        self.board.percent = min(round(stage.bypass_share * 100), MOST_PERCENT)
        self.board.focus(scroll_visible=False)
        self._work_out(view, view.situation, stage)

    @work(thread=True, exclusive=True, group="curve")
    def _work_out(self, view: View, now: Situation, stage: Neutralizer) -> None:
        """Every point once, in a thread; moving the valve then only looks them up."""
        worker = get_current_worker()
        try:
            valve = valve_of(now, stage)
            shown = Curve()
            for curve in curves(valve):
                if worker.is_cancelled:
                    return
                if curve is not shown:
                    shown = curve
                    self.post_message(self.Worked(view, valve, curve))
        except BadInput as problem:
            self.post_message(self.Worked(view, None, Curve(), str(problem)))

    @on(Worked)
    def _show_curve(self, event: Worked) -> None:
        if event.view is not self._shown:
            return
        self.valve, self.curve = event.valve, event.curve
        if event.problem:
            self._head("")
            self._say((event.problem,))
            return
        done, every = len(self.curve.by_percent), len(order())
        self._head("" if done == every else f"working out the curve: {done} of {every}, Escape stops")
        self.board.show_curve(self.curve, event.view.house.units, self._floor)
        self._show_table(event.view.house.units)
        self._notes()

    def _show_table(self, system: System) -> None:
        """The numbers of the charts, as every plot has them."""
        head, *rows = share_rows(self.curve, system)
        self.query_one("#valve_table", Static).update(lines(["", heading(head), *rows]))

    @property
    def _floor(self) -> float:
        return self.valve.stage.floor_pH if self.valve else 0.0

    # Words

    def _head(self, progress: str) -> None:
        title = f", {title_of(self.valve.stage)}" if self.valve else ""
        told = f"   {progress}" if progress else ""
        self.query_one("#valve_head", Static).update(
            Content.assemble(heading("What the valve does"), title, (told, "$foreground-muted"))
        )

    def _say(self, words: tuple[str, ...]) -> None:
        self.board.display = False
        self.query_one("#valve_table", Static).update("")
        self.query_one("#valve_notes", Static).update(lines([indented(one, self.app.size.width - 4) for one in words]))

    def _notes(self) -> None:
        """What the numbers rest on, and where they are in doubt at this share."""
        self.board.display = True
        told = self._told()
        if told != self._last_told:
            self._last_told = told
            width = self.app.size.width - 4
            parts = [_note(one, width) for one in told]
            self.query_one("#valve_notes", Static).update(lines(parts))

    _last_told: tuple[str, ...] = ()

    def _told(self) -> tuple[str, ...]:
        if self.valve is None:
            return ()
        here, stood = self.curve.by_percent.get(self.board.percent), self.curve.stood(self.board.percent)
        doubts = here.doubts if here else ()
        night = (f"! After a night: {stood.text}",) if stood and stood.high_pH - stood.low_pH > 0.05 else ()
        floor = self._floor
        return (
            *night,
            *(f"! In doubt: {one}" for one in doubts),
            *(("At this share nitrate, not hardness, ends the softener's run.",) if _by_nitrate(here) else ()),
            f"Rests on {self.valve.basis}; a usual draw of {self._draw()}.",
            "No floor for the pH is set; it is a setting of the neutralizer, under House." if floor <= 0.0 else "",
            f"Nothing is moved or written down here, except with {key('valve.keep')}.",
        )

    def _draw(self) -> str:
        assert self.valve is not None
        return show(self.valve.stage.flow_l_min, "flow", self.app.session.view.house.units)

    # Keys and mouse

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Without a neutralizer there is no valve to move, to find or to set."""
        if action in ("move_valve", "wanted_ph", "keep"):
            return any(isinstance(one, Neutralizer) for one in self.app.session.view.house.stages)
        return super().check_action(action, parameters)

    def action_move_valve(self, step: int) -> None:
        """Open or close the bypass by so many percent."""
        self._move_to(self.board.percent + step)

    @on(ValveBoard.Moved)
    def _moved(self, event: ValveBoard.Moved) -> None:
        self._move_to(event.percent)

    def _move_to(self, percent: int) -> None:
        if self.valve is not None:
            self.board.move_to(percent)
            self._notes()

    @work(exclusive=True, group="dialog")
    async def action_wanted_ph(self) -> None:
        """Ask for a pH and go to the share that gives it."""
        valve = self.valve
        if valve is None:
            return

        def take(typed: dict[str, str]) -> float:
            return bypass_for_ph(valve.raw, valve.bed, parse_number(typed["pH"]))

        entry = Entry(id="pH", label="Wanted pH", hint="of the house water while it flows")
        about = "The whole percent nearest to the answer is shown. Nothing is written down."
        share = await self.app.push_screen_wait(Form("Wanted pH", (entry,), take, about=about, save="Find"))
        if share is not None:
            self._move_to(round(share * 100))
            self.notify(f"{share:.1%} round the bed gives that pH, as reckoned.", markup=False)

    @work(exclusive=True, group="dialog")
    async def action_keep(self) -> None:
        """Ask, then write down the share as the new setting of the valve."""
        from tui.dialogs.edit_setting import changes
        from tui.widgets.settings import stage_fields

        valve, view, percent = self.valve, self.app.session.view, self.board.percent
        if valve is None:
            return
        field = next(one for one in stage_fields(valve.stage) if one.name == "bypass_share")
        try:
            events = changes(field, percent / 100.0, view.today, view)
        except BadInput as problem:
            self.notify(str(problem), severity="warning", markup=False)
            return
        before = valve.stage.bypass_share * 100.0
        words = (
            f"It is written down as the setting from today on; before it was {before:.3g} %. The "
            "handle you move yourself: “Set the blend valve” in Service has the cautions and the steps. Then read "
            "the pH after the tank, flowing and after a night; until then other screens keep the pH last read."
        )
        if await self.app.push_screen_wait(Ask(f"Does the valve now stand at {percent} %?", words)):
            self.app.record(*events, said=f"Written down: {percent} % goes round the bed.")


def _by_nitrate(here: Effect | None) -> bool:
    """Whether nitrate ends the softener's run before hardness does."""
    return bool(here and here.nitrate_run_l and here.hardness_run_l and here.nitrate_run_l < here.hardness_run_l)


def _note(text: str, width: int) -> Content:
    """A note, with a mark and a colour of its own where it warns."""
    return indented(text, width, 0).stylize("$text-warning" if text.startswith("!") else "$foreground-muted")


def curves(valve: Valve) -> Iterator[Curve]:
    """The curve as it grows, asked for after each point so that it can be stopped; the same while nothing new shows."""
    percents = order()
    curve = Curve(today=effect(valve, valve.stage.bypass_share))
    yield curve
    found, stood = {}, {}
    for place, percent in enumerate(percents, start=1):
        found[percent] = effect(valve, percent / 100.0)
        if percent % 5 == 0 or percent == MOST_PERCENT:
            bed = msgspec.structs.replace(valve.bed, bypass_share=percent / 100.0)
            stood[percent] = standing(valve.raw, bed)
        if place % _EACH == 0 or place == len(percents):
            curve = msgspec.structs.replace(curve, by_percent=dict(found), standing=dict(stood))
        yield curve
