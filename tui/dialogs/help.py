"""What can be done here: the area's words and the keys of the command table."""

from __future__ import annotations

from importlib import import_module

from textual.content import Content
from textual.screen import Screen

from tui.commands import AREAS, COMMANDS
from tui.dialogs.page import Page

_SAFETY = (
    "wellward reckons and reminds. Local code, the equipment's manual, a certified laboratory, the health authority "
    "and licensed trades come before anything said here."
)
_KEYS = {"tab": "Tab", "enter": "Enter", "escape": "Esc", "space": "Space", "down": "Down", "up": "Up"}


def help_page(below: Screen[object]) -> Page:
    """Help for the screen that is shown."""
    area = getattr(below, "AREA", "")
    title = next((title for name, title, _ in AREAS if name == area), "wellward")
    here, everywhere = _keys(below)
    parts = [
        Content(getattr(below, "HELP_TEXT", "")),
        _table("Here", here),
        _table("Everywhere", everywhere),
        Content("Tab and Shift+Tab go from part to part; the mouse works too."),
        Content(_SAFETY),
    ]
    return Page(f"Help: {title}", Content("\n\n").join([part for part in parts if part.plain]))


def told_of(area: str) -> str:
    """The words about an area."""
    found: str = getattr(import_module(f"tui.screens.{area}"), f"{area.capitalize()}Screen").HELP_TEXT
    return found


def area_help(area: str) -> Page:
    """Help for an area that need not be shown: its words and all its keys."""
    title = next((title for name, title, _ in AREAS if name == area), area)
    keys = [(one.shown_key or _KEYS.get(one.key, one.key), one.tells) for one in COMMANDS if one.area == area]
    parts = [Content(told_of(area)), _table(f"On {title}", keys), Content(_SAFETY)]
    return Page(f"Help: {title}", Content("\n\n").join(parts))


def _keys(below: Screen[object]) -> tuple[list[tuple[str, str]], list[tuple[str, str]]]:
    """Keys that work below, with what they do: of the screen and of the program."""
    wide = {one.id for one in COMMANDS if not one.area}
    here: dict[str, tuple[str, str]] = {}
    everywhere: dict[str, tuple[str, str]] = {}
    for active in below.active_bindings.values():
        binding = active.binding
        if binding.id and binding.tooltip and active.enabled:
            key = _KEYS.get(binding.key, below.app.get_key_display(binding))
            (everywhere if binding.id in wide else here).setdefault(binding.id, (key, binding.tooltip))
    return list(here.values()), list(everywhere.values())


def _table(title: str, rows: list[tuple[str, str]]) -> Content:
    if not rows:
        return Content("")
    lines = [Content.assemble((f"  {key:<8}", "bold $text-accent"), tells) for key, tells in rows]
    return Content("\n").join([Content.styled(title, "bold $text-primary"), *lines])
