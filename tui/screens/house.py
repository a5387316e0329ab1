"""House: what stands here, and its settings."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual import on, work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.events import Resize
from textual.widgets import DataTable, OptionList, Static
from textual.widgets.option_list import Option

from model.errors import BadInput
from model.forecast.handle_list import handle_rows
from model.records.uses import folded
from model.setup.assumed import ASSUMED, assumed_paths
from tui.commands import bindings
from tui.key_words import key, keyed
from tui.screens.listed import FilterLine, ListScreen
from tui.widgets.cells import fit, tidy
from tui.widgets.house_parts import Part, parts_of, with_words
from tui.widgets.kept_parts import CONTACTS, HANDLES, RULES, kept_parts, roles, topics
from tui.widgets.later_values import later_values
from tui.widgets.sections import heading, lines, quiet
from tui.widgets.tables import Column, Table, fill, key_at_cursor

if TYPE_CHECKING:
    from model.equipment.registry import AnyStage
    from model.home import Use
    from tui.view import View
    from tui.widgets.settings import Field

_WIDTHS = ((150, 48, 36), (112, 36, 30), (76, 27, 25), (0, 19, 18))
"""From so many columns on: cells of the list at the left, cells of the names of settings."""
_EMPTY = (
    "Nothing stands here yet. Press {house.add} to add the first stage: usually the well, then what the water passes."
)

_OF_PART = ("edit_setting", "take_out", "move_stage", "replace_stage")
_KEPT = (HANDLES, RULES, CONTACTS)
_NO_STAGE = "Highlight a stage first: up and down in the list at the left."


class HouseScreen(ListScreen):
    """The house, its train, its supplies and named uses, a part at a time."""

    AREA = "house"
    CSS_PATH = "house.tcss"
    AUTO_FOCUS = LIST = "#parts"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("house")]
    HELP_TEXT = (
        "Left what stands here, in the order the water meets it; right its settings. Enter goes to the settings, "
        "Enter or {house.edit} changes one; it asks from which day the change holds, so the past keeps its old "
        "value. {house.add} adds a stage, {house.move} moves it, {house.replace} replaces it, {house.use} names a "
        "use of water; {house.remove} takes the highlighted stage out or ends the highlighted use. A day to come "
        "may be given for a setting and a use. A ? marks what nobody knew at set-up. Valve handles, local rules and "
        "whom to call are at the end of the list; {house.edit} on one of their lines writes it down, {house.rule} any "
        "local rule, {house.contact} any contact. {house.filter} shows only what has a word. All can be undone with "
        "{undo}."
    )

    def compose(self) -> ComposeResult:
        """The parts at the left, the settings of one at the right."""
        yield FilterLine("salt, lamp, iron, days")
        with Horizontal(id="house"):
            yield OptionList(id="parts", markup=False)
            with Vertical(id="part"):
                yield Static(id="part_title")
                yield DataTable(id="settings", cursor_type="row", zebra_stripes=True)
                yield Static(id="setting_tells")

    def show_view(self, view: View) -> None:
        """Fill the list, and the settings of the part that is highlighted."""
        listed = self.query_one("#parts", OptionList)
        listed.styles.width = self._widths[0]
        place = listed.highlighted
        before = self._part_id()
        self._assumed = assumed_paths(view.home.events)
        self._parts = with_words([*parts_of(view.house, view.scheduled), *kept_parts(view)], self.holds)
        listed.clear_options()
        listed.add_options([_option(part, self._widths[0] - 3) for part in self._parts])
        ids = [part.id for part in self._parts]
        listed.highlighted = ids.index(before) if before and before in ids else _nearest(ids, place or 0)
        self._show_part()

    def on_resize(self, event: Resize) -> None:
        """Use the room."""
        if self._shown is not None:
            self.show_view(self._shown)

    def refill(self) -> None:
        """List the parts with the words typed, and go to the first setting that has them."""
        if self._shown is not None:
            self.show_view(self._shown)
            part = self._part()
            fields = part.fields if part and self.words else ()
            self._table.move_cursor(row=next((at for at, one in enumerate(fields) if self.holds(*one.said)), 0))

    @property
    def _widths(self) -> tuple[int, int]:
        return next((left, name) for least, left, name in _WIDTHS if self.app.size.width >= least)

    def _part_id(self) -> str:
        listed = self.query_one("#parts", OptionList)
        option = listed.highlighted_option
        return (option.id or "") if option else ""

    def _part(self) -> Part | None:
        wanted = self._part_id()
        return next((part for part in self._parts if part.id == wanted), None) if wanted else None

    @on(OptionList.OptionHighlighted, "#parts")
    def _show_part(self) -> None:
        part = self._part()
        self.query_one("#part").display = part is not None
        if part is None:
            return
        view = self.app.session.view
        self.query_one("#part_title", Static).update(
            lines([heading(part.title), *([Content(part.about)] if part.about else [])])
        )
        left, name = self._widths
        room = self.app.size.width - left - 8
        fill(
            self._table,
            [Column("Setting", name), Column("Now", room - name)],
            part.rows(view.house.units, self._assumed),
        )
        self._show_setting()

    @property
    def _table(self) -> Table:
        table: Table = self.query_one("#settings", DataTable)
        return table

    @on(DataTable.RowHighlighted, "#settings")
    def _show_setting(self) -> None:
        field = self._field()
        words = field.label.tells if field else self._only_shown() if self._table.row_count else ""
        view = self.app.session.view
        empty = [] if view.house.stages else [Content(keyed(_EMPTY))]
        later = [Content(one) for one in later_values(field, view)] if field else []
        usual = [Content(f"{ASSUMED} {key('house.edit')} changes it.")] if field and field.path in self._assumed else []
        self.query_one("#setting_tells", Static).update(lines([*empty, *usual, *later, quiet(words)]))
        self.refresh_bindings()

    def _only_shown(self) -> str:
        part = self._part()
        if part is not None and part.use is not None:
            return keyed(
                "To change a use, end it with {house.remove} and add it anew with {house.use} from the same day."
            )
        if part is not None and part.id in _KEPT and part.shown:
            return ": ".join(part.shown[self._table.cursor_row])
        return "Shown only; it follows from the rest."

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Only stages are moved and replaced, only stages and uses end, and only what can be otherwise is changed."""
        if action == "to_parts":
            return self._shown is not None and (self._table.has_focus or self.query_one(FilterLine).display)
        if action not in _OF_PART or self._shown is None:
            return super().check_action(action, parameters)
        part = self._part()
        if part is None:
            return False
        if action == "edit_setting":
            return self._field() is not None or part.id in _KEPT
        return part.stage is not None or (action == "take_out" and part.use is not None)

    def _field(self) -> Field | None:
        part = self._part()
        key = key_at_cursor(self._table)
        return next((field for field in part.fields if field.path == key), None) if part else None

    @on(OptionList.OptionSelected, "#parts")
    def _to_settings(self) -> None:
        self._table.focus()

    def action_to_parts(self) -> None:
        """Show all parts again; where they are, go back to the list at the left."""
        self.clear_filter()
        self.query_one("#parts", OptionList).focus()

    @on(DataTable.RowSelected, "#settings")
    def action_edit_setting(self) -> None:
        """Change the highlighted setting, move the highlighted handle, or write down the rule or contact."""
        part, place = self._part(), self._table.cursor_row
        view = self.app.session.view
        if part is not None and part.id == HANDLES:
            self.app.action_handles(handle_rows(view.situation)[place].id)
        elif part is not None and part.id == RULES:
            self.app.action_local_rule(topics(view)[place])
        elif part is not None and part.id == CONTACTS:
            self.app.action_contact(roles(view)[place])
        else:
            self._edit()

    @work(exclusive=True, group="dialog")
    async def _edit(self) -> None:
        from tui.dialogs.edit_setting import edit_form

        field, part = self._field(), self._part()
        if field is None or part is None:
            self.notify("This line cannot be changed here.", markup=False)
            return
        view = self.app.session.view
        changes = await self.app.push_screen_wait(edit_form(field, view, of=part.title))
        if changes:
            later = f" It holds from {changes[0].on}." if changes[0].on > view.today else ""
            self.app.record(*changes, said=f"{field.label.label} changed.{later}")

    @work(exclusive=True, group="dialog")
    async def action_add_stage(self) -> None:
        """Put a stage into the train."""
        from tui.dialogs.add_stage import kind_list, stage_form

        view = self.app.session.view
        kind = await self.app.push_screen_wait(kind_list(view.house))
        if not kind:
            return
        added = await self.app.push_screen_wait(stage_form(kind, view))
        if added is None:
            return
        supplies, stage = added
        if self.app.record(*supplies, stage, said="The stage is in the train."):
            self._highlight(f"stage.{stage.stage['id']}")

    def _highlight(self, part: str) -> None:
        ids = [one.id for one in self._parts]
        if part in ids:
            self.query_one("#parts", OptionList).highlighted = ids.index(part)

    @work(exclusive=True, group="dialog")
    async def action_add_use(self) -> None:
        """Name a use of water that begins."""
        from tui.dialogs.uses import add_use_form

        view = self.app.session.view
        added = await self.app.push_screen_wait(add_use_form(view))
        if added:
            title = str(added.use["title"])
            later = f" from {added.on}" if added.on > view.today else ""
            if self.app.record(added, said=f"{title} counts{later}."):
                self._highlight(f"use.{folded(title)}")

    @work(exclusive=True, group="dialog")
    async def action_take_out(self) -> None:
        """Take the highlighted stage out of the train, or end the highlighted use, after asking."""
        part = self._part()
        if part is not None and part.use is not None:
            await self._end_use(part.use)
        elif part is not None and part.stage is not None:
            await self._remove_stage(part, part.stage)
        else:
            self.notify("Highlight a stage or a use of water first: up and down in the list at the left.", markup=False)

    @work(exclusive=True, group="dialog")
    async def action_move_stage(self) -> None:
        """Put the highlighted stage elsewhere in the train."""
        from tui.dialogs.move_stage import move_form

        part = self._part()
        if part is None or part.stage is None:
            self.notify(_NO_STAGE, markup=False)
            return
        try:
            form = move_form(part.stage, self.app.session.view)
        except BadInput as problem:
            self.notify(str(problem), markup=False)
            return
        moved = await self.app.push_screen_wait(form)
        if moved and self.app.record(*moved, said=f"{part.title} stands elsewhere now."):
            self._highlight(part.id)

    @work(exclusive=True, group="dialog")
    async def action_replace_stage(self) -> None:
        """Put a new stage in the place of the highlighted one."""
        from tui.dialogs.move_stage import replace_form

        part = self._part()
        if part is None or part.stage is None:
            self.notify(_NO_STAGE, markup=False)
            return
        changes = await self.app.push_screen_wait(replace_form(part.stage, self.app.session.view))
        if changes:
            self.app.record(*changes, said=f"{part.title} has been replaced.")

    async def _end_use(self, use: Use) -> None:
        from tui.dialogs.uses import end_use_form

        ended = await self.app.push_screen_wait(end_use_form(use, self.app.session.view))
        if ended:
            self.app.record(ended, said=f"{ended.title} no longer counts from {ended.on}.")

    async def _remove_stage(self, part: Part, stage: AnyStage) -> None:
        from tui.dialogs.add_stage import remove_form

        removed = await self.app.push_screen_wait(remove_form(stage, self.app.session.view))
        if removed:
            self.app.record(removed, said=f"{part.title} is no longer in the train.")


def _option(part: Part, width: int) -> Option:
    return Option(Content(fit(f"{part.indent}{tidy(part.title)}", width)), id=part.id or None, disabled=not part.id)


def _nearest(ids: list[str], place: int) -> int | None:
    """The place itself, or the last entry before it that is not a heading; else the first that is none."""
    there = [at for at, name in enumerate(ids) if name]
    return max((at for at in there if at <= place), default=min(there, default=None))
