"""Writes .github/week.svg, the README's picture: the Week screen of the sample home, at a job with its reasons.

Run: python -m tests.make_picture
"""

from __future__ import annotations

import asyncio
import re
from datetime import date
from html import unescape
from pathlib import Path

from model.redate import redated
from model.store.repository import Repository
from sample_data import SAMPLE
from tests.tui.helpers import MemoryStore, see
from tui.app import WellwardApp
from tui.view import Session

TODAY = date(2026, 11, 25)
TARGET = Path(__file__).parent.parent / ".github" / "week.svg"
_DOWN = 4


async def draw() -> str:
    """The picture, drawn anew."""
    app = WellwardApp(Session(MemoryStore(redated(Repository(SAMPLE).load(), TODAY)), lambda: TODAY))
    async with app.run_test(size=(120, 34)) as pilot:
        await see(pilot, app, "Overdue")
        await pilot.press(*["down"] * _DOWN)
        await see(pilot, app, "Refill at 7.1 in of depth")
        await pilot.pause()
        return app.export_screenshot(title="wellward")


def words_in(svg: str) -> str:
    """All words of a picture, in order."""
    return " ".join(unescape(" ".join(re.findall(r"<text[^>]*>([^<]*)</text>", svg))).split())


if __name__ == "__main__":
    TARGET.write_text(asyncio.run(draw()), encoding="utf-8")
