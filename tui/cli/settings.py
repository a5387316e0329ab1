"""`wellward settings`: where the settings are and what stands in them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tui.cli.home_file import print_json
from tui.settings import Settings, read_settings, settings_path, write_settings

if TYPE_CHECKING:
    from tui.cli.parser import Asked


def settings(asked: Asked) -> int:
    """Print the settings, or write a file to fill in. 1 if something in them cannot be used."""
    path = settings_path()
    if asked.write:
        write_settings(path)
    found = read_settings(path)
    if asked.json:
        there = path.exists()
        print_json({"file": str(path), "there": there, **_plain(found), "problems": list(found.problems)})
    else:
        print("\n".join([_where(str(path), there=path.exists()), *_lines(found)]))
    return 1 if found.problems else 0


def _plain(found: Settings) -> dict[str, object]:
    return {"theme": found.theme or None, "ascii": found.ascii_only, "keys": found.keys}


def _where(path: str, *, there: bool) -> str:
    return f"Settings: {path}" if there else f"No settings at {path}. `wellward settings --write` makes them."


def _lines(found: Settings) -> list[str]:
    said = {None: "where the terminal needs it", True: "yes", False: "no"}
    return [
        f"  theme  {found.theme or 'the one last chosen with ctrl+t'}",
        f"  ascii  {said[found.ascii_only]}",
        *[f"  key    {name}: {key.replace(',', ' ')}" for name, key in found.keys.items()],
        *[f"! {problem}" for problem in found.problems],
    ]
