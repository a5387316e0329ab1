"""The mix: waters of several taps poured together, for plants, brewing or fish."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual import events, on, work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.message import Message
from textual.widgets import Static

from model.errors import BadInput
from model.plan_types import PointWater
from model.records.typed import parse_number
from model.water.mixes import HARDNESS_UNITS, Blend, blend, blend_for_hardness
from model.water.sample import Sample
from tui.commands import bindings
from tui.dialogs.form import Entry, Form
from tui.key_words import keyed
from tui.screens.water_view import WaterView
from tui.widgets import mix_words as words
from tui.widgets.sections import heading, indented, lines

if TYPE_CHECKING:
    from model.units import System
    from tui.view import View

_NO_WATER = (
    "Nothing is known of this water yet, so there is nothing to mix.",
    "Press {reading} to write down a reading, or {lab_result} to type in what a laboratory found.",
)
_FIT = "Nitrate and sodium do not speak against drinking this mix; bacteria and metals are not judged here."
_ABOUT = (
    "Fresh: as it comes from the taps. After standing: in the air of a room for a day, nothing precipitating. "
    "*: assumed, no laboratory or reading gave it."
)
_SOLVED_PARTS = 10.0


class Waters(Static, can_focus=True):
    """The waters with their parts; one of them is chosen."""

    BINDINGS: ClassVar[list[BindingType]] = [*bindings("mix")]

    class Picked(Message):
        """The mouse chooses a row."""

        def __init__(self, row: int) -> None:
            super().__init__()
            self.row = row

    def on_click(self, event: events.Click) -> None:
        """Choose the row under the mouse."""
        self.post_message(self.Picked(event.y - 1))


class MixScreen(WaterView):
    """Any shares of any taps: composition, pH fresh and after standing, and whether it is fit to drink."""

    CSS_PATH = "mix.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("mix")]
    HELP_TEXT = (
        "{mix.up} and {mix.down} choose a water, {mix.less} and {mix.more} take or add a part of it, {mix.less_5} "
        "and {mix.more_5} five. {mix.hardness} finds the parts of two waters for a wanted hardness in mg/L as "
        "CaCO3, gpg or degrees. For growers, brewers and keepers of fish; let the mix stand for a day before fish "
        "meet it, and test it. {water.valve}, {water.salt_out}, {water.mix} and {water.trends} go from view to "
        "view; Escape goes back."
    )

    def __init__(self) -> None:
        super().__init__()
        self.waters: dict[str, PointWater] = {}
        self.parts: dict[str, float] = {}
        self.chosen = ""
        self.mixed: Blend | None = None

    def compose(self) -> ComposeResult:
        """The waters, the mix, the words."""
        with VerticalScroll(id="mix", can_focus=False):
            yield Static(heading("A mix of waters"), id="mix_head")
            yield Waters(id="mix_waters")
            yield Static(id="mix_facts")
            yield Static(id="mix_words")

    def show_view(self, view: View) -> None:
        """Take the waters of the home as it is; the parts stay where the water is still there."""
        self.waters = words.waters_of(view.plan.points)
        kept = {name: self.parts.get(name, 0.0) for name in self.waters}
        self.parts = kept if any(kept.values()) else words.default_parts(self.waters)
        self.chosen = self.chosen if self.chosen in self.waters else next(iter(self.waters), "")
        self.query_one(Waters).focus(scroll_visible=False)
        self._mix()

    def on_resize(self, event: events.Resize) -> None:
        """Draw for the new width."""
        if self._shown is not None:
            self._mix()

    # The mix

    @property
    def _samples(self) -> dict[str, Sample]:
        return {name: point.sample for name, point in self.waters.items() if point.sample is not None}

    def _mix(self) -> None:
        view = self.app.session.view
        if not self.waters:
            self.query_one(Waters).display = False
            self._say([indented(one, self.text_width, 0) for one in map(keyed, _NO_WATER)])
            return
        self.query_one(Waters).display = True
        head, *rows = words.water_lines(
            self.waters, self.parts, self.chosen, min(self.text_width, 76), view.house.units
        )
        shown = [Content.styled(row, "bold $primary" if row.startswith(">") else "") for row in rows]
        self.query_one(Waters).update(lines([Content.styled(head, "$foreground-muted"), *shown]))
        self._show_mixed(view)

    def _show_mixed(self, view: View) -> None:
        facts = self.query_one("#mix_facts", Static)
        try:
            self.mixed = blend(self._samples, self.parts)
        except BadInput as problem:
            self.mixed = None
            facts.update("")
            self._say([indented(str(problem), self.text_width, 0)])
            return
        facts.update(lines(words.fact_lines(words.facts_of(self.mixed), self.text_width)))
        unfit = [indented(f"! {one}", self.text_width, 0).stylize("$text-warning") for one in self.mixed.unfit]
        about = [
            indented(one, self.text_width, 0).stylize("$foreground-muted")
            for one in (_ABOUT, words.not_here(view.house))
        ]
        self._say([*(unfit or [indented(_FIT, self.text_width, 0)]), *(one for one in about if one.plain.strip())])

    def _say(self, parts: list[Content]) -> None:
        self.query_one("#mix_words", Static).update(lines(parts))

    # Keys and mouse

    def action_choose(self, step: int) -> None:
        """Choose the next or the last water."""
        self._choose(list(self.waters).index(self.chosen) + step if self.waters else 0)

    @on(Waters.Picked)
    def _picked(self, event: Waters.Picked) -> None:
        self._choose(event.row)

    def _choose(self, place: int) -> None:
        names = list(self.waters)
        if 0 <= place < len(names):
            self.chosen = names[place]
            self._mix()

    def action_pour(self, step: int) -> None:
        """Add or take parts of the chosen water."""
        if self.chosen:
            part = self.parts[self.chosen] + step
            self.parts[self.chosen] = min(max(part, 0.0), words.MOST_PARTS)
            self._mix()

    @work(exclusive=True, group="dialog")
    async def action_wanted_hardness(self) -> None:
        """Ask for a hardness and two waters, and find their parts."""
        if len(self.waters) < 2:
            self.notify("It takes two different waters to mix.", markup=False)
            return
        found = await self.app.push_screen_wait(
            hardness_form(self.waters, self._samples, self.app.session.view.house.units)
        )
        if found is not None:
            self.parts = {name: _SOLVED_PARTS * found.shares.get(name, 0.0) for name in self.waters}
            self._mix()


def hardness_form(waters: dict[str, PointWater], samples: dict[str, Sample], system: System) -> Form[Blend]:
    """A form that answers with the mix of two waters that has the wanted hardness."""
    by_hardness = sorted(waters, key=lambda name: waters[name].hardness_mg_l_caco3 or 0.0)
    choices = tuple((name, words.title_or_dash(waters, name)) for name in waters)
    units = (("mg/L", "mg/L as CaCO3"), ("gpg", "grains a gallon"), ("dH", "German degrees, dH"))
    entries = (
        Entry(id="wanted", label="Wanted hardness"),
        Entry(id="unit", label="in", value="gpg" if system == "us" else "mg/L", choices=units),
        Entry(id="hard", label="Hard water", value=by_hardness[-1], choices=choices),
        Entry(id="soft", label="Soft water", value=by_hardness[0], choices=choices),
    )

    def take(typed: dict[str, str]) -> Blend:
        hard, soft, unit = typed["hard"], typed["soft"], typed["unit"]
        if unit not in HARDNESS_UNITS or hard not in samples or soft not in samples:
            raise BadInput("Choose a unit and two waters.")
        if hard == soft:
            raise BadInput("These are the same water.", "Choose two different ones.")
        pair = {hard: samples[hard], soft: samples[soft]}
        return blend_for_hardness(pair, parse_number(typed["wanted"]), unit)

    return Form("Mix to a hardness", entries, take, about="The parts of all other waters become 0.", save="Find")
