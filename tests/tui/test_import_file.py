"""A file taken in on screen: named, looked at, then all of it or nothing."""

from __future__ import annotations

from pathlib import Path

from textual.widgets import Input

from model.records.events import LabReport
from tests.tui.helpers import a_store, an_app, events, press, see, shown, until
from tui.app import WellwardApp
from tui.dialogs.form import Form

LAB = """\
date;point;analyte;value;unit
2026-11-20;source;chloride;13,5;mg/L
2026-11-20;source;iron;<0,05;mg/L
2026-11-20;source;Radon [b];900;pCi/L
2026-11-21;tap;total coliform;absent;
"""


async def named(pilot: object, app: WellwardApp, path: Path) -> None:
    """Open the form from Lab and name a file."""
    from textual.pilot import Pilot

    assert isinstance(pilot, Pilot)
    await see(pilot, app, "1 Week")
    await press(pilot, "l", "end", "enter")
    await until(pilot, lambda: isinstance(app.screen, Form))
    app.screen.query_one("#entry_path", Input).value = str(path)
    await press(pilot, "ctrl+s")


async def test_what_it_would_add_is_shown_and_recorded_only_then(tmp_path: Path) -> None:
    (tmp_path / "lab.csv").write_text(LAB)
    app = an_app(a_store())
    before = len(events(app))
    async with app.run_test(size=(100, 40)) as pilot:
        await named(pilot, app, tmp_path / "lab.csv")
        text = await see(pilot, app, "Take in 3 from")
        assert "chloride 13.5 mg/L" in text
        assert "Radon [b]" in text
        assert "line 4" in text
        assert len(events(app)) == before
        await press(pilot, "y")
        await until(pilot, lambda: len(events(app)) == before + 2)
        assert [one.point for one in events(app)[-2:] if isinstance(one, LabReport)] == ["source", "tap"]
        await see(pilot, app, "3 taken in from lab.csv")
        await named(pilot, app, tmp_path / "lab.csv")
        await see(pilot, app, "holds nothing new")
        assert len(events(app)) == before + 2


async def test_a_file_with_anything_wrong_is_refused_whole_with_each_line(tmp_path: Path) -> None:
    (tmp_path / "lab.csv").write_text(LAB + "2026-13-01;tap;chloride;1;mg/L\n2026-11-20;nowhere;chloride;1;mg/L\n")
    app = an_app(a_store())
    before = len(events(app))
    async with app.run_test(size=(80, 24)) as pilot:
        await named(pilot, app, tmp_path / "lab.csv")
        await see(pilot, app, "line 6")
        assert "line 7" in shown(app)
        app.screen.query_one("#entry_path", Input).value = str(tmp_path / "nothing.csv")
        await press(pilot, "ctrl+s")
        await see(pilot, app, "cannot be read")
        await press(pilot, "escape")
        await see(pilot, app, "Overdue")
        assert len(events(app)) == before
