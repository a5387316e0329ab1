"""The `wellward` command. Nothing here imports Textual until a screen is opened."""

from tui.cli.main import main

__all__ = ["main"]
