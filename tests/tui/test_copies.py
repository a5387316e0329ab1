"""A copy with what the disk did not take: told at the next start and by the check, and taken in by events."""

from __future__ import annotations

import json
import stat
from pathlib import Path

import pytest

from model.records.events import AnyEvent, Correction, Incident
from model.store.repository import Repository
from tests.tui.helpers import HOUSE, TODAY, press, see, until
from tests.tui.test_disk_trouble import disk_full, frost
from tui.app import WellwardApp
from tui.cli import main
from tui.dialogs.unsaved import left_words
from tui.view import Session


@pytest.fixture(autouse=True)
def state(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    return tmp_path / "state" / "wellward" / "copies.json"


@pytest.fixture
def path(tmp_path: Path) -> Path:
    made = tmp_path / "home" / "home.json"
    Repository(made).create(HOUSE, [Incident(on=TODAY, what="before")])
    return made


def _session(path: Path) -> Session:
    return Session(Repository(path), lambda: TODAY)


@pytest.fixture
def copy(path: Path, tmp_path: Path) -> Path:
    """Of a sitting that recorded a frost, took it back, and recorded a thaw; another program has written since."""
    session = _session(path)
    with disk_full(path):
        session.record(frost())
        session.record(Correction(on=TODAY, voids=session.view.home.events[-1].id), frost("thaw"))
    session.save_copy(tmp_path / "stick" / "copy.json")
    assert "next start asks" in left_words(session)
    Repository(path).append(frost("by a command"))
    return tmp_path / "stick" / "copy.json"


def _told(path: Path) -> list[str | int]:
    def said(one: AnyEvent) -> str | int:
        return one.voids if isinstance(one, Correction) else one.what if isinstance(one, Incident) else ""

    return [said(one) for one in Repository(path).load().events]


def test_what_a_copy_holds_is_taken_in_once_with_what_it_says_of_other_events(path: Path, copy: Path) -> None:
    copied, before = copy.read_bytes(), path.read_bytes()
    session = _session(path)
    assert [(one.path, one.count) for one in session.copies()] == [(copy, 3)]
    assert [session.take_in(copy), session.take_in(copy)] == [3, 0]
    assert _told(path) == ["before", "by a command", "frost", 3, "thaw"]
    assert [one.group for one in session.view.home.events] == [0, 0, 0, 4, 4]
    assert [one.read_bytes() for one in path.parent.glob("home.json.kept-*")] == [before]
    assert copy.read_bytes() == copied
    assert session.copies() == _session(path).copies() == ()


def test_what_was_written_after_all_is_asked_about_by_nobody(path: Path, state: Path, tmp_path: Path) -> None:
    """The disk takes it later under another id, as another program wrote first."""
    session = _session(path)
    with disk_full(path):
        session.record(frost())
    session.save_copy(tmp_path / "copy.json")
    Repository(path).append(frost("by a command"))
    assert stat.S_IMODE(state.stat().st_mode) == 0o600
    session.write()
    assert _told(path) == ["before", "by a command", "frost"]
    assert _session(path).copies() == ()
    assert json.loads(state.read_bytes()) == []


async def test_the_next_start_asks_and_takes_it_in(path: Path, copy: Path) -> None:
    for key in ("escape", "y"):
        app = WellwardApp(_session(path))
        async with app.run_test(size=(100, 30), notifications=True) as pilot:
            text = await see(pilot, app, "Take in 3 events from a copy?")
            assert "thaw" in text
            assert _told(path) == ["before", "by a command"]
            await press(pilot, key)
            if key == "y":
                await see(pilot, app, "3 taken in from the copy.")
    assert _told(path) == ["before", "by a command", "frost", 3, "thaw"]
    assert copy.exists()
    assert _session(path).copies() == ()


async def test_where_the_home_is_gone_the_copy_begins_it(path: Path, copy: Path) -> None:
    from model.store.first import FirstRun

    path.unlink()
    first = FirstRun(Repository(path), TODAY)
    app = WellwardApp(Session(first, lambda: TODAY, first=first))
    async with app.run_test(size=(100, 30)) as pilot:
        await see(pilot, app, "Begin with a copy of 4 events?")
        await press(pilot, "y")
        await until(pilot, path.exists)
        await see(pilot, app, "1 Week")
    assert _told(path) == ["before", "frost", 2, "thaw"]


async def test_a_copy_on_a_stick_that_is_not_there_is_not_forgotten_unasked(path: Path, copy: Path) -> None:
    copy.parent.rename(copy.parent.with_name("pulled out"))
    for key in ("escape", "y"):
        app = WellwardApp(_session(path))
        async with app.run_test(size=(100, 30)) as pilot:
            await see(pilot, app, "It holds 3 events that")
            await press(pilot, key)
            await until(pilot, lambda app=app: len(app.screen_stack) == 1)  # type: ignore[misc]
    assert _session(path).copies() == ()


def test_the_check_tells_of_it_and_import_takes_it_in(
    path: Path, copy: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    home = ["--file", str(path), "--today", str(TODAY)]
    assert main(["check", *home]) == 1
    assert f"this copy holds 3 events that {path} does not. `wellward import {copy}`" in capsys.readouterr().out
    assert main(["check", "--json", *home]) == 1
    told = json.loads(capsys.readouterr().out)
    assert told == {"problems": [], "copies": [{"path": str(copy), "events": 3, "problem": ""}]}
    assert main(["import", str(copy), *home]) == 0
    assert "3 taken in from the copy." in capsys.readouterr().out
    assert main(["check", *home]) == 0
    other = path.with_name("other.json")
    Repository(other).create(HOUSE.__class__(name="Another", started=TODAY))
    assert main(["import", str(other), *home]) == 1
    assert "another home" in capsys.readouterr().err
    assert _told(path) == ["before", "by a command", "frost", 3, "thaw"]


def test_leaving_tells_what_is_where_and_if_nobody_will_ask(
    path: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_STATE_HOME", "/dev/null/nowhere")
    session = _session(path)
    with disk_full(path):
        session.record(frost())
        assert "is lost:\n  Wed 25 Nov: Happened: frost" in left_words(session)
    copy = session.save_copy(tmp_path / "copy.json")
    words = left_words(session)
    assert "Happened: frost" in words
    assert f"All of it is in {copy}. NOTE THIS, the next start will not ask" in words
