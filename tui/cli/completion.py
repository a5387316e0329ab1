"""The command that prints what a shell needs to complete commands and options."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tui.cli.parser import Asked


def completion(asked: Asked) -> int:
    """Print the script for one shell."""
    from shtab import complete

    from tui.cli.parser import build_parser

    print(complete(build_parser(["--help"]), asked.shell))
    return 0
