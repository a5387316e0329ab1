"""A form that asks for a few values and gives back one answer, or none."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, ClassVar, TypeVar, cast

import msgspec
from rich.cells import cell_len
from rich.text import Text
from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.events import DescendantFocus, Key
from textual.widgets import Button, Input, Select, Static

from model.errors import BadInput
from tui.commands import bindings
from tui.dialogs.dialog import HELP, Dialog
from tui.dialogs.dialog_help import dialog_help, field_words
from tui.key_words import keyed

if TYPE_CHECKING:
    from tui.app import WellwardApp
    from tui.drafts import Drafts

T = TypeVar("T")


_NAMED = 12
"""Choices that help names."""
_AS_LEFT = "As you left it. {form.afresh} empties it and starts afresh."


class Entry(msgspec.Struct, frozen=True, kw_only=True):
    """One line of a form: typed, or chosen from `choices` (value, words). `help`: more than the hint has room for."""

    id: str
    label: str
    value: str = ""
    hint: str = ""
    choices: tuple[tuple[str, str], ...] = ()
    help: str = ""


class Typed(Input):
    """A field whose text is selected when it is reached, so that it can be typed over; but a space never wipes it."""

    def on_key(self, event: Key) -> None:
        """Where all is selected, a space only ends the selection."""
        if event.key == "space" and self.value and self.selected_text == self.value:
            self.action_end()
            event.prevent_default()
            event.stop()


class Form(Dialog[T | None]):
    """The entries of a form below a few words; `take` turns what was typed into the answer or refuses it.

    `take` raises BadInput with the reason, which is shown in the form. `typed` stands in the fields instead of their
    own values. What is left unsaved is kept under `key` (usually the title and the words) for the next opening.
    """

    CSS_PATH = "form.tcss"
    AUTO_FOCUS = "#form_entries *"
    HORIZONTAL_BREAKPOINTS = [(0, "-tiny"), (60, "-slim"), (78, "-narrow"), (110, "-wide"), (150, "-roomy")]  # noqa: RUF012
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("form"), HELP]

    def __init__(
        self,
        title: str,
        entries: tuple[Entry, ...],
        take: Callable[[dict[str, str]], T],
        *,
        about: str = "",
        save: str = "Save",
        typed: dict[str, str] | None = None,
        key: str = "",
    ) -> None:
        super().__init__()
        self._title = title
        self._entries = entries
        self._take = take
        self._about = about
        self._save = save
        self._typed = typed or {}
        self._key = key or f"{title}\n{about}"

    @property
    def _drafts(self) -> Drafts:
        return cast("WellwardApp", self.app).session.drafts

    def compose(self) -> ComposeResult:
        """Title, words, one line an entry, what is wrong, and the two ways out."""
        start, left = self.fresh() | self._typed, self._drafts.of(self._key)
        with Vertical(id="form"):
            yield Static(Content.styled(self._title, "bold"), id="form_title")
            if left and not self._typed:
                start |= left
                yield Button(Content(keyed(_AS_LEFT)), id="form_afresh", compact=True)
            if self._about:
                yield Static(Content(self._about), id="form_about")
            with VerticalScroll(id="form_entries", can_focus=False):
                for entry in self._entries:
                    yield from _line(msgspec.structs.replace(entry, value=_offered(entry, start[entry.id])))
            yield Static("", id="form_hint")
            yield Static("", id="form_problem")
            with Horizontal(id="form_buttons"):
                yield Button(Content(self._save), id="form_save", variant="primary", compact=True)
                yield Button("Back", id="form_back", compact=True)
                yield Static("Enter saves, Tab next", id="form_keys")

    def values(self) -> dict[str, str]:
        """What stands in the form now."""
        found: dict[str, str] = {}
        for entry in self._entries:
            widget = self.query_one(f"#entry_{entry.id}")
            if isinstance(widget, Input):
                found[entry.id] = widget.value
            elif isinstance(widget, Select):
                found[entry.id] = str(widget.value)
        return found

    def fresh(self) -> dict[str, str]:
        """What stands in the form where nothing was typed."""
        return {entry.id: entry.value for entry in self._entries}

    def left(self) -> dict[str, str]:
        """What to keep of what stands here now: the fields that are otherwise than fresh."""
        fresh = self.fresh()
        return {name: value for name, value in self.values().items() if value != fresh[name]}

    @on(Button.Pressed, "#form_afresh")
    def action_afresh(self) -> None:
        """Let the form stand as it opens where nothing was typed."""
        self.put(self.fresh())
        self._drafts.keep(self._key, {})
        for told in self.query("#form_afresh"):
            told.display = False
        self.query_one("#form_problem", Static).update("")

    def action_help(self) -> None:
        """Say what the field in focus means, then the others, then the keys."""
        shown = [one for one in self._entries if self._line_shown(one.id)]
        shown.sort(key=lambda one: not self.query_one(f"#entry_{one.id}").has_focus)
        fields = [
            field_words(one.label, self.field_help(one), [words for _, words in one.choices][:_NAMED]) for one in shown
        ]
        self.app.push_screen(dialog_help(self, self._title, [*fields[:1], Content(self._about), *fields[1:]]))

    def field_help(self, entry: Entry) -> str:
        """What a field means."""
        told = entry.help or entry.hint
        return f"{told[0].upper()}{told[1:].rstrip('.')}." if told else ""

    def _line_shown(self, name: str) -> bool:
        line = self.query_one(f"#entry_{name}").parent
        return isinstance(line, Horizontal) and line.display

    def put(self, values: dict[str, str]) -> None:
        """Let these values stand in the form."""
        for name, value in values.items():
            widget = self.query_one(f"#entry_{name}")
            if isinstance(widget, Input | Select):
                widget.value = value

    def on_descendant_focus(self, event: DescendantFocus) -> None:
        """Say below the fields in full what the field says beside it, where there is no room."""
        shown = self.query_one("#form_hint", Static)
        shown.update("")
        for entry in self._entries:
            if event.widget.id == f"entry_{entry.id}" and isinstance(event.widget.parent, Horizontal):
                room = event.widget.parent.query_one(".form_hint").content_size.width
                shown.update(Content(f"{entry.label}: {entry.hint}" if cell_len(entry.hint) > room else ""))

    @on(Input.Submitted)
    @on(Button.Pressed, "#form_save")
    def action_save(self) -> None:
        """Give the answer, or say what is wrong with it."""
        try:
            answer = self._take(self.values())
        except BadInput as problem:
            self.query_one("#form_problem", Static).update(Content(f"Not saved. {problem}"))
            return
        self._drafts.send(self._key, self.left())
        self.settle(answer)

    def settle(self, answer: T) -> None:
        """Close with the answer; a form that does with it what is to be done closes without one."""
        self.dismiss(answer)

    @on(Button.Pressed, "#form_back")
    def action_back(self) -> None:
        """Leave without an answer; what was typed is kept for the next time."""
        left = self.left()
        self._drafts.keep(self._key, left)
        if left:
            self.app.notify("What was typed is kept and stands here again next time.", markup=False)
        self.dismiss(None)


def _offered(entry: Entry, value: str) -> str:
    """The value, or the entry's own where it is not among the choices any more."""
    return value if not entry.choices or value in dict(entry.choices) else entry.value


def _line(entry: Entry) -> ComposeResult:
    with Horizontal(classes="form_line"):
        yield Static(Content(entry.label), classes="form_label")
        if entry.choices:
            # Text and not Content: only this is searched by what is typed in the open list.
            options = [(Text(words), value) for value, words in entry.choices]
            yield Select(options, value=entry.value, allow_blank=False, compact=True, id=f"entry_{entry.id}")
        else:
            yield Typed(entry.value, compact=True, id=f"entry_{entry.id}")
        yield Static(Content(entry.hint), classes="form_hint")
