"""The commands that make a page for somebody else: the house-sitter, the next owner."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

from model.forecast.situation import Situation
from model.plan import plan_of
from tui.cli.home_file import repository
from tui.cli.to_file import give

if TYPE_CHECKING:
    from model.pages.page import Page
    from tui.cli.parser import Asked


def sheet(asked: Asked) -> int:
    """The page for the one it is for, as Markdown or HTML."""
    now = Situation(repository(asked).load(), asked.today)
    plan = plan_of(now, with_shelf=asked.reader == "owner")
    make = getattr(import_module(f"model.pages.{asked.reader}"), f"{asked.reader}_page")
    page: Page = make(now, plan)
    text = _html(page) if asked.html else _markdown(page)
    document: dict[str, object] = {"today": now.today.isoformat(), "sheet": asked.reader, "text": text}
    return give(asked, text.encode(), page.title, document)


def _html(page: Page) -> str:
    from model.pages.html_page import html

    return html(page)


def _markdown(page: Page) -> str:
    from model.pages.markdown import markdown

    return markdown(page)
