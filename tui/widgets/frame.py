"""The frame around every area: the bar of areas above, the keys below, and the notice for a tiny terminal."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, TypeVar, cast

from rich.cells import cell_len
from textual.content import Content
from textual.widgets import Static

from tui.commands import AREAS, COMMANDS, Area
from tui.key_words import first_key, key
from tui.widgets.cells import fit, plain_terminal
from tui.widgets.plain import in_ascii
from tui.words import day_words

if TYPE_CHECKING:
    from textual.binding import ActiveBinding, Binding
    from textual.dom import DOMNode
    from textual.events import Click, Resize
    from textual.screen import Screen

    from tui.app import WellwardApp
    from tui.view import View

T = TypeVar("T")

SMALLEST = (60, 20)
NAME = "wellward"


Piece = tuple[Content, str, "DOMNode"]
"""Words of a strip, the action they stand for, and whose action that is."""

_ALWAYS = ("reading", "undo", "command_palette", "help", "quit")
_RECORDS = ("finish", "save_round", "reading")
_ALWAYS_NARROW = ("command_palette", "help", "quit")
"""Where there is little room: the first of those that record that works here, two ways to all else, the way out."""
_NARROW_BELOW = 80
_GAP = 2
_HARD_SPACE = "\u00a0"  # a plain space at the start of a line would be dropped


class Strip(Static):
    """One line of pieces, each of which does something when clicked."""

    def __init__(self, strip_id: str) -> None:
        super().__init__(id=strip_id)
        self._zones: list[tuple[int, str, DOMNode]] = []

    def show_pieces(
        self, pieces: list[Piece], tail: str = "", last: Sequence[Piece] = (), below: Content | None = None
    ) -> None:
        """Show pieces as far as there is room, those that must be there `last`; the tail at the right end.

        `below`: a second line.
        """
        room, self._zones = self.size.width, []
        kept = sum(content.cell_length for content, _, _ in last)
        shown: list[Content | str | tuple[str, str]] = []
        for place, (content, action, node) in enumerate([*pieces, *last]):
            needed = content.cell_length + (kept if place < len(pieces) else 0)
            if needed <= room:
                room -= content.cell_length
                shown.append(content)
                self._zones.append((self.size.width - room, action, node))
        if room > cell_len(tail):
            shown.append((fit(tail, room - 1, "right"), "$foreground-muted"))
        if below is not None:
            shown.extend(("\n", below))
        made, before = Content.assemble(*shown), self.content
        # Drawing what is there already would cost a layout of the whole screen at every switch.
        if not (isinstance(before, Content) and before.plain == made.plain and before.spans == made.spans):
            self.update(made)

    async def on_click(self, event: Click) -> None:
        """Do what the clicked piece stands for."""
        for end, action, node in self._zones:
            if event.x < end and event.y == 0 and action:
                await self.app.run_action(action, node)
                return


class AreaBar(Strip):
    """One line: the seven areas with the present one marked, the home's name and the day as far as there is room.

    While events are in memory only, a second line says so.
    """

    def __init__(self, area: Area) -> None:
        super().__init__("area_bar")
        self._area = area
        self._tails: tuple[str, ...] = ()
        self._unsaved = 0

    def show_view(self, view: View, *, throwaway: bool) -> None:
        """Put the name of the home and the day to the right."""
        name = f"{view.house.name} (a copy to try)" if throwaway else view.house.name
        day = day_words(view.today, view.today)
        self._unsaved = len(view.unsaved)
        self.set_class(self._unsaved > 0, "-unsaved")
        self._tails = (f"{name[:40]}  {day}", f"a copy  {day}" if throwaway else day, day)
        self.draw()

    def on_resize(self, event: Resize) -> None:
        """Make room, or give up what does not fit."""
        self.draw()

    def draw(self) -> None:
        """Show the areas anew, closer together where the name and the day need the room."""
        rows = [[self._tab(wide, *area) for area in AREAS] for wide in (True, False)]
        choices = [(row, tail) for tail in self._tails for row in rows]
        fits = (one for one in choices if _width(one[0]) + cell_len(one[1]) + _GAP < self.size.width)
        words = fit(f"{_HARD_SPACE}{unsaved_words(self._unsaved)}", self.size.width)
        below = Content.styled(words, "bold $background on $error") if self._unsaved else None
        self.show_pieces(*next(fits, (rows[1], "")), below=below)

    def _tab(self, wide: bool, area: Area, title: str, _: str) -> Piece:
        here = area == self._area
        style = "bold $background on $primary" if here else "$foreground"
        before, after = ("[", "]") if here and self.app.no_color else (_HARD_SPACE, _HARD_SPACE)
        after = after if wide or here else ""
        return Content.styled(f"{before}{first_key(f'go.{area}')} {title}{after}", style), f"go('{area}')", self.app


def unsaved_words(count: int) -> str:
    """What the line says while events are in memory only."""
    return f"! {count} recorded in memory only, NOT ON DISK. {key('save_copy')} saves a copy."


def _width(pieces: list[Piece]) -> int:
    return sum(content.cell_length for content, _, _ in pieces)


class KeyBar(Strip):
    """One line: the keys that work here, or what was just said. One widget, whatever their number."""

    def __init__(self) -> None:
        super().__init__("key_bar")
        self._of_dialog = False

    def on_mount(self) -> None:
        """Follow the screen's keys, and those of dialogs that come and go."""
        self.screen.bindings_updated_signal.subscribe(self, self.draw)
        self.app.screen_change_signal.subscribe(self, self._other_screen)

    def _other_screen(self, shown: Screen[object]) -> None:
        if (shown.is_modal or self._of_dialog) and self.screen in self.app.screen_stack:
            self._of_dialog = shown.is_modal
            self.draw(self.screen)

    def on_resize(self, event: Resize) -> None:
        """Show as many keys as fit."""
        self.draw(self.screen)

    def draw(self, screen: Screen[object]) -> None:
        """Show what was just said, else the keys that are active on a screen, those of its own area first, or those of
        a dialog that lies on it without a bar of its own. The way back is shown however little room there is."""
        shown = self.app.screen
        if shown.is_modal and screen in self.app.screen_stack and not shown.query(KeyBar):
            screen = shown
        if said := cast("WellwardApp", self.app).said:
            words = fit(f"{_HARD_SPACE}{said}", self.size.width)
            self.show_pieces([(Content.styled(words, "bold $background on $success"), "", self)])
            return
        pieces: dict[str, Piece] = {}
        back = ""
        for active in _in_order(screen):
            if active.binding.show and active.enabled and works(screen, active.binding.action):
                key = f"{_HARD_SPACE}{self._key_words(active.binding)}"
                label = Content.assemble((key, "bold $footer-key-foreground"), f" {active.binding.description} ")
                pieces.setdefault(active.binding.action, (label, active.binding.action, active.node))
                back = active.binding.action if active.binding.key == "escape" else back
        records = next((action for action in _RECORDS if action in pieces), "")
        kept = _ALWAYS if self.size.width >= _NARROW_BELOW else (records, *_ALWAYS_NARROW)
        always = [pieces.pop(action) for action in (back, *kept) if action in pieces]
        self.show_pieces(list(pieces.values()), last=always)

    def _key_words(self, binding: Binding) -> str:
        """What the key is called in few cells: where only the second key of help works, that one."""
        function_key = binding.key[:1] == "f" and binding.key[1:].isdigit()
        shown = binding.key.upper() if function_key else self.app.get_key_display(binding)
        return in_ascii(shown) if plain_terminal() else shown


def _in_order(screen: Screen[object]) -> list[ActiveBinding]:
    """The active keys as they stand in the table: Textual puts those with an owner's key last."""
    found = list(screen.active_bindings.values())
    if not (changed := cast("WellwardApp", screen.app).changed_keys):
        return found
    places = {one.id: place for place, one in enumerate(COMMANDS)}
    own = [one for one in found if one.node is not screen.app]
    wide = [one for one in found if one.node is screen.app]
    for part in (own, wide):
        if any(one.binding.id in changed for one in part):
            part.sort(key=lambda one: places.get(one.binding.id or "", -1))
    return own + wide


def works(screen: Screen[T], action: str) -> bool:
    """Whether a screen lets an action of its own be done now.

    Textual asks the topmost screen, which is another one while a dialog is open.
    """
    whose, _, name = action.partition("(")[0].rpartition(".")
    return whose != "screen" or screen.check_action(name, ()) is True


class TooSmall(Static):
    """Shown instead of everything where nothing would be readable."""

    def __init__(self) -> None:
        wide, high = SMALLEST
        text = (
            f"{NAME} needs at least {wide} columns and {high} lines.\nMake the window larger, or use\n“wellward due”."
        )
        super().__init__(Content(text), id="too_small")
