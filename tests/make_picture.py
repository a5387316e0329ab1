"""Writes .github/week.svg, the README's picture: the Week screen of the sample home.

Run: python -m tests.make_picture
"""

from __future__ import annotations

import asyncio
from datetime import date
from pathlib import Path

from model.redate import redated
from model.store.repository import Repository
from sample_data import SAMPLE
from tests.tui.helpers import MemoryStore
from tui.app import WellwardApp
from tui.view import Session

TODAY = date(2026, 11, 25)
TARGET = Path(__file__).parent.parent / ".github" / "week.svg"


async def draw() -> None:
    app = WellwardApp(Session(MemoryStore(redated(Repository(SAMPLE).load(), TODAY)), lambda: TODAY))
    async with app.run_test(size=(120, 34)) as pilot:
        await pilot.pause(0.5)
        await pilot.press(*["down"] * 13)
        await pilot.pause(0.3)
        TARGET.write_text(app.export_screenshot(title="wellward"), encoding="utf-8")


if __name__ == "__main__":
    asyncio.run(draw())
