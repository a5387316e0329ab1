"""What each area looks like, as text, on the sample home on one day: narrow, wide and without colour.

After a wanted change: pytest tests/tui/test_snapshots.py --snapshot-update, and read the difference.
"""

from __future__ import annotations

import html
import re
from collections.abc import AsyncIterator
from datetime import date

import pytest
from rich.color_triplet import ColorTriplet
from syrupy.assertion import SnapshotAssertion
from textual.pilot import Pilot

from model.redate import redated
from model.store.repository import Repository
from sample_data import SAMPLE
from tests.tui.helpers import TODAY, MemoryStore, an_app, see
from tests.tui.water_homes import SOME, opened, the_valve
from tui.app import WellwardApp

CELL_WIDTH = 12.2
"""Width of one character in the exported picture."""

_TEXT = re.compile(r'<text class="[^"]*-r\d+" x="([^"]*)" y="([^"]*)"[^>]*>([^<]*)</text>')

AREAS = {
    "week": ("1", "Overdue"),
    "service": ("2", "Drilled well"),
    "water": ("3", "Calcite"),
    "shelf": ("4", "Order"),
    "costs": ("5", "twelve months"),
    "log": ("6", "Particulars"),
    "house": ("7", "Name of this home"),
}


def picture(app: WellwardApp) -> str:
    """The screen as lines of text, each piece in its column."""
    rows: dict[float, list[tuple[int, str]]] = {}
    for x, y, text in _TEXT.findall(app.export_screenshot()):
        piece = html.unescape(text).replace("\xa0", " ")
        rows.setdefault(float(y), []).append((round(float(x) / CELL_WIDTH), piece))
    return "\n".join(_line(sorted(rows[y])) for y in sorted(rows))


def _line(pieces: list[tuple[int, str]]) -> str:
    line = ""
    for column, piece in pieces:
        line = line.ljust(column) + piece
    return line.rstrip()


@pytest.fixture(scope="module")
def store() -> MemoryStore:
    assert date(2026, 11, 25) == TODAY
    return MemoryStore(redated(Repository(SAMPLE).load(), TODAY))


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)], ids=["60x20", "80x24", "120x40"])
async def test_areas(store: MemoryStore, snapshot: SnapshotAssertion, size: tuple[int, int]) -> None:
    app = an_app(store)
    async with app.run_test(size=size) as pilot:
        async for area in _through_all(pilot, app):
            assert picture(app) == snapshot(name=_name(area, size))


async def test_areas_without_colour(
    store: MemoryStore, snapshot: SnapshotAssertion, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The same signs at the same places, and nothing but greys."""
    monkeypatch.setenv("NO_COLOR", "1")
    app = an_app(store)
    async with app.run_test(size=(80, 24)) as pilot:
        async for area in _through_all(pilot, app):
            assert picture(app) == snapshot(name=f"bare {_name(area, (80, 24))}")
            assert all(len(set(one)) == 1 for one in _colours(app)), area


async def _through_all(pilot: Pilot[None], app: WellwardApp) -> AsyncIterator[str]:
    await see(pilot, app, "Overdue")
    for area, (key, mark) in AREAS.items():
        await pilot.press(key)
        await see(pilot, app, mark)
        await pilot.pause()
        yield area


def _name(area: str, size: tuple[int, int]) -> str:
    return f"{area} {size[0]}x{size[1]}"


def _colours(app: WellwardApp) -> set[ColorTriplet]:
    """Red, green and blue of all that a terminal would be told."""
    styles = [part.style for strip in app.screen._compositor.render_strips() for part in strip if part.style]
    every = (colour for one in styles for colour in (one.color, one.bgcolor))
    return {colour.triplet for colour in every if colour is not None and colour.triplet is not None}


@pytest.mark.parametrize("size", [(80, 24), (120, 40)], ids=["80x24", "120x40"])
async def test_job_page(store: MemoryStore, snapshot: SnapshotAssertion, size: tuple[int, int]) -> None:
    app = an_app(store)
    async with app.run_test(size=size) as pilot:
        await see(pilot, app, "Overdue")
        app.open_job("softener.refill_salt")
        await see(pilot, app, "CAUTIONS")
        await pilot.pause()
        assert picture(app) == snapshot


@pytest.mark.parametrize(
    ("key", "mark"),
    [("v", "pH"), ("o", "If the salt runs out"), ("m", "A mix of waters"), ("t", "Water use of the house")],
    ids=["valve", "salt_out", "mix", "trends"],
)
async def test_view_of_water(
    store: MemoryStore, snapshot: SnapshotAssertion, key: str, mark: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("tui.screens.valve.order", lambda: SOME)
    app = an_app(store)
    async with app.run_test(size=(80, 24)) as pilot:
        if key == "v":
            await the_valve(pilot, app)
        else:
            await opened(pilot, app, key)
        await see(pilot, app, mark)
        await pilot.pause()
        assert picture(app) == snapshot
