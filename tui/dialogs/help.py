"""What can be done here: the area's words and the keys of the command table."""

from __future__ import annotations

from importlib import import_module

from textual.content import Content
from textual.screen import Screen

from tui.commands import AREAS, COMMANDS
from tui.dialogs.dialog_help import key_table
from tui.dialogs.page import HelpPage, Page
from tui.focus_words import focus_words
from tui.key_words import key, keyed, name_of

_SAFETY = (
    "wellward reckons and reminds. Local code, the equipment's manual, a certified laboratory, the health authority "
    "and licensed trades come before anything said here."
)


def help_page(below: Screen[object]) -> Page:
    """Help for the screen that is shown: first for what has the focus there."""
    area = getattr(below, "AREA", "")
    title = next((title for name, title, _ in AREAS if name == area), "wellward")
    here, everywhere = _keys(below)
    parts = [
        focus_words(below),
        Content(keyed(getattr(below, "HELP_TEXT", ""))),
        key_table("Here", here),
        key_table("Everywhere", everywhere),
        Content("Tab and Shift+Tab go from part to part; the mouse works too."),
        Content(_SAFETY),
    ]
    return HelpPage(f"Help: {title}", Content("\n\n").join([part for part in parts if part.plain]))


def told_of(area: str) -> str:
    """The words about an area."""
    found: str = getattr(import_module(f"tui.screens.{area}"), f"{area.capitalize()}Screen").HELP_TEXT
    return keyed(found)


def area_help(area: str) -> Page:
    """Help for an area that need not be shown: its words and all its keys."""
    title = next((title for name, title, _ in AREAS if name == area), area)
    keys = [(key(one.id), one.tells) for one in COMMANDS if one.area == area]
    parts = [Content(told_of(area)), key_table(f"On {title}", keys), Content(_SAFETY)]
    return HelpPage(f"Help: {title}", Content("\n\n").join(parts))


def _keys(below: Screen[object]) -> tuple[list[tuple[str, str]], list[tuple[str, str]]]:
    """Keys that work below, with what they do: of the screen and of the program."""
    wide = {one.id for one in COMMANDS if not one.area}
    here: dict[str, tuple[str, str]] = {}
    everywhere: dict[str, tuple[str, str]] = {}
    for active in below.active_bindings.values():
        binding = active.binding
        if binding.id and binding.tooltip and active.enabled:
            (everywhere if binding.id in wide else here).setdefault(binding.id, (name_of(binding.key), binding.tooltip))
    return list(here.values()), list(everywhere.values())
