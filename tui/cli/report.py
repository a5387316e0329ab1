"""The command that makes the record of a year."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

from model.pages.html_page import html
from model.pages.year import year_page
from tui.cli.home_file import repository
from tui.cli.to_file import give

if TYPE_CHECKING:
    from tui.cli.parser import Asked


def report(asked: Asked) -> int:
    """A year as one HTML file: the one asked, or this one so far."""
    today = asked.today
    year = today.year if asked.year is None else asked.year
    if sys.stderr.isatty():
        print(f"Looking at every day of {year}: this takes some seconds.", file=sys.stderr)
    page = year_page(repository(asked).load(), year, today)
    text = html(page)
    document: dict[str, object] = {"today": today.isoformat(), "year": year, "text": text}
    return give(asked, text.encode(), page.title, document)
