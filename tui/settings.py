"""What the owner set for the program itself: keys, palette, glyphs. Read once at start, never written by it."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import msgspec
from platformdirs import user_config_path, user_state_path

from model.errors import WellwardError

NAMES = ("dark", "light", "ansi")
"""The palettes, as the owner calls them."""
_LARGEST_BYTES = 100_000
_HEAD = """# Settings of wellward. A line that begins with # changes nothing: take the # away.
# `wellward settings` says what is wrong here, if anything.

# The palette: "dark", "light", or "ansi" for the terminal's own colours.
# Without this line the one last chosen with ctrl+t is used.
# theme = "dark"

# Draw with plain ASCII marks? Without this line: only where the terminal cannot do more.
# ascii = true

# The key of a command, by its name. Several keys: "a f5". Two commands that work on one screen cannot share a key.
[keys]
"""


class Settings(msgspec.Struct, frozen=True, kw_only=True):
    """What stands in the file. Empty or None: not set. `problems` has one line for each thing that was left out."""

    theme: str = ""
    ascii_only: bool | None = None
    keys: dict[str, str] = {}
    problems: tuple[str, ...] = ()


def settings_path() -> Path:
    """Where the settings file is, or would be."""
    return user_config_path("wellward", appauthor=False) / "settings.toml"


def read_settings(path: Path) -> Settings:
    """The settings in a file. No file: nothing set. Whatever cannot be used is left out and told."""
    try:
        with path.open("rb") as file:
            raw = file.read(_LARGEST_BYTES + 1)
    except (FileNotFoundError, NotADirectoryError):
        return Settings()
    except OSError as problem:
        return Settings(problems=(f"The settings could not be read: {problem.strerror}.",))
    if len(raw) > _LARGEST_BYTES:
        return Settings(problems=("The settings file is larger than 100 kB and was left out.",))
    import tomllib

    try:
        return _settings(tomllib.loads(raw.decode("utf-8")))
    except (ValueError, RecursionError) as problem:
        return Settings(problems=(f"The settings file is not TOML and was left out: {_one_line(problem)}.",))


def _settings(found: Mapping[str, object]) -> Settings:
    problems = [f"{_one_line(name)} is not a setting." for name in found if name not in ("theme", "ascii", "keys")]
    theme, plain, wanted = found.get("theme", ""), found.get("ascii"), found.get("keys", {})
    if not isinstance(theme, str) or theme not in ("", *NAMES):
        problems.append(f"theme must be one of {', '.join(NAMES)}, not {_one_line(theme)}.")
        theme = ""
    if plain is not None and not isinstance(plain, bool):
        problems.append(f"ascii must be true or false, not {_one_line(plain)}.")
        plain = None
    keys, refused = _keys(wanted)
    return Settings(theme=theme, ascii_only=plain, keys=keys, problems=(*problems, *refused))


def _keys(wanted: object) -> tuple[dict[str, str], list[str]]:
    if not isinstance(wanted, dict):
        return {}, ["keys must be a table: [keys]."]
    texts = {name: text for name, text in wanted.items() if isinstance(text, str)}
    problems = [
        f'[keys] {_one_line(name)} must be a text; a name with a dot is written in quotes: "week.away" = "A".'
        for name in wanted
        if name not in texts
    ]
    if not texts:
        return {}, problems
    # The table of commands is loaded only where there are keys to check.
    from tui.keys import checked_keys

    keys, refused = checked_keys(texts)
    return keys, problems + refused


def _one_line(what: object) -> str:
    return " ".join(str(what).split())[:120]


def write_settings(path: Path) -> None:
    """Write a settings file in which nothing is changed yet and every line says what it does.

    Raises:
        WellwardError: there is a file already, or it cannot be written.
    """
    from model.store.files import PRIVATE_FILE, make_folder
    from tui.keys import command_lines

    try:
        make_folder(path.parent)
        path.touch(PRIVATE_FILE, exist_ok=False)
        with path.open("w", encoding="utf-8") as file:
            file.write(_HEAD + "\n".join(command_lines()) + "\n")
    except FileExistsError:
        raise WellwardError(f"There are settings already at {path}.", "Change them there.") from None
    except OSError as problem:
        raise WellwardError(f"The settings could not be written to {path}: {problem.strerror}.") from None


def _theme_path() -> Path:
    return user_state_path("wellward", appauthor=False) / "theme"


def remembered_theme() -> str:
    """The palette last chosen on screen, "" if none was."""
    try:
        name = _theme_path().read_bytes()[:20].decode("ascii", "replace").strip()
    except OSError:
        return ""
    return name if name in NAMES else ""


def remember_theme(name: str) -> None:
    """Keep the palette chosen for the next start. What cannot be kept is only a colour: nothing is said."""
    from model.store.files import PRIVATE_FILE, make_folder

    path = _theme_path()
    try:
        make_folder(path.parent)
        path.touch(PRIVATE_FILE)
        path.write_text(f"{name}\n", encoding="ascii")
    except OSError:
        return
