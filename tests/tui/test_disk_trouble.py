"""A disk that does not take what is recorded: the session goes on in memory, says so, and loses nothing."""

from __future__ import annotations

import errno
import os
import resource
import shutil
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager, suppress
from pathlib import Path

import pytest

from model.errors import StoreError
from model.records.events import AnyEvent, Correction, Incident
from model.store.repository import Repository
from tests.tui.helpers import HOUSE, TODAY, a_store, events, press, see, shown, until
from tui.app import WellwardApp
from tui.dialogs.form import Form
from tui.view import Session

Fault = Callable[[Path], AbstractContextManager[None]]


@pytest.fixture
def path(tmp_path: Path) -> Path:
    made = tmp_path / "home" / "home.json"
    Repository(made).create(HOUSE, a_store().home.events)
    Repository(made).append(Incident(on=TODAY, what="before"))
    return made


def _session(path: Path) -> Session:
    return Session(Repository(path), lambda: TODAY)


def frost(what: str = "frost") -> Incident:
    return Incident(on=TODAY, what=what)


def _told(happened: tuple[AnyEvent, ...]) -> list[str]:
    return [one.what for one in happened if isinstance(one, Incident)]


@contextmanager
def disk_full(path: Path) -> Iterator[None]:
    """No file may grow beyond 100 bytes."""
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (100, before[1]))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)


def failing(name: str, code: int) -> Fault:
    """One call of the operating system fails for everything in the home's folder."""

    @contextmanager
    def fault(path: Path) -> Iterator[None]:
        def refuse(*given: object, **named: object) -> object:
            concerned = given and (isinstance(given[0], int) or str(given[0]).startswith(str(path.parent)))
            if concerned:
                raise OSError(code, os.strerror(code))
            return real(*given, **named)

        real = getattr(os, name)
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(os, name, refuse)
            yield

    return fault


@contextmanager
def folder_removed(path: Path) -> Iterator[None]:
    away = path.parent.with_name("away")
    path.parent.rename(away)
    yield
    shutil.rmtree(path.parent, ignore_errors=True)
    away.rename(path.parent)


@contextmanager
def backups_cannot_be_made(path: Path) -> Iterator[None]:
    """A file lies where the folder of the backups was."""
    folder = path.parent / f".{path.name}.backups"
    folder.rename(folder.with_name("kept"))
    folder.write_text("mine")
    yield
    folder.unlink()
    folder.with_name("kept").rename(folder)


@contextmanager
def damaged(path: Path) -> Iterator[None]:
    good = path.read_bytes()
    path.write_bytes(good[:-9])
    yield
    path.write_bytes(good)


FAULTS = {
    "disk full": disk_full,
    "read-only": failing("open", errno.EROFS),
    "permission lost": failing("open", errno.EACCES),
    "fsync": failing("fsync", errno.EIO),
    "replace": failing("replace", errno.EROFS),
    "folder removed": folder_removed,
    "no backup": backups_cannot_be_made,
    "damaged": damaged,
}


@pytest.fixture(params=FAULTS)
def fault(request: pytest.FixtureRequest) -> Fault:
    found: Fault = FAULTS[request.param]
    return found


def test_the_session_goes_on_in_memory_and_writes_once_it_can(path: Path, fault: Fault) -> None:
    session, ids = _session(path), [one.id for one in Repository(path).load().events]
    with fault(path):
        here = path.read_bytes() if path.exists() else None
        session.record(frost())
        session.record(frost("thaw"), frost("flood"))
        assert session.trouble is not None
        assert str(path) in str(session.trouble)
        assert _told(session.view.home.events) == ["before", "frost", "thaw", "flood"]
        assert len(session.view.unsaved) == 3
        assert (path.read_bytes() if path.exists() else None) == here
    assert _told(Repository(path).load().events) == ["before"]
    session.refresh()
    assert session.trouble is None
    assert not session.unsaved
    stood = Repository(path).load().events
    assert _told(stood) == ["before", "frost", "thaw", "flood"]
    assert [one.id for one in stood] == [*ids, *(ids[-1] + more for more in (1, 2, 3))]
    assert session.view.home == Repository(path).load()


def test_what_another_program_wrote_comes_before_what_waited(path: Path) -> None:
    session = _session(path)
    with failing("replace", errno.EIO)(path):
        session.record(frost())
        session.record(Correction(on=TODAY, voids=session.view.home.events[-1].id))
    Repository(path).append(frost("by a command"))
    session.record(frost("after"))
    assert _told(session.view.home.events) == ["before", "by a command", "frost", "after"]
    correction = session.view.home.events[-2]
    assert isinstance(correction, Correction)
    assert correction.voids == correction.id - 1


def test_a_copy_elsewhere_holds_all_and_replaces_nothing(path: Path, tmp_path: Path, fault: Fault) -> None:
    session, copy = _session(path), tmp_path / "elsewhere" / "copy.json"
    with fault(path):
        session.record(frost())
        with suppress(StoreError):  # a full or failing disk may be that of the copy too
            session.save_copy(copy)
    if session.copy is None:
        session.save_copy(copy)
    assert _told(Repository(copy).load().events) == ["before", "frost"]
    assert session.copy == copy
    with pytest.raises(StoreError, match="already"):
        session.save_copy(copy)
    session.record(frost("later"))
    assert _told(Repository(path).load().events) == ["before", "frost", "later"]
    assert session.copy is None


def test_a_home_whose_folder_is_gone_is_written_anew_at_its_own_place(path: Path) -> None:
    session = _session(path)
    shutil.rmtree(path.parent)
    session.record(frost())
    assert session.unsaved
    session.save_copy(path)
    assert not session.unsaved
    session.record(frost("later"))
    assert _told(Repository(path).load().events) == ["before", "frost", "later"]


def test_what_no_file_could_hold_is_refused_and_does_not_wait(path: Path) -> None:
    session = _session(path)
    with pytest.raises(StoreError):
        session.record(Incident(on=TODAY, what="\ud800"))
    assert not session.unsaved


async def test_the_screen_says_so_all_the_time_and_when_it_is_over(path: Path) -> None:
    app = WellwardApp(_session(path))
    async with app.run_test(size=(100, 30), notifications=True) as pilot:
        await see(pilot, app, "1 Week")
        with failing("replace", errno.ENOSPC)(path):
            assert app.record(frost(), said="Written down.")
            text = await see(pilot, app, "Not on disk yet")
            assert "Free some space" in text
            assert "Written down." not in text
            for key in ("1", "2", "3", "4", "5", "6", "7", "r"):
                await press(pilot, key)
                await see(pilot, app, "! 1 recorded in memory only, NOT ON DISK. F9 saves a copy.")
            await press(pilot, "escape", "6")
            await see(pilot, app, "(not on disk) Happened")
            app.look_again()
            await see(pilot, app, "NOT ON DISK")
        app.look_again()
        await see(pilot, app, "All on disk again: 1 written.")
        await until(pilot, lambda: "NOT ON DISK" not in shown(app))
        assert "(not on disk)" not in shown(app)
    assert _told(Repository(path).load().events) == ["before", "frost"]


async def test_f9_saves_a_copy_and_a_file_there_is_never_replaced(path: Path, tmp_path: Path) -> None:
    app = WellwardApp(_session(path))
    (tmp_path / "mine.json").write_text("mine")
    async with app.run_test(size=(100, 30), notifications=True) as pilot:
        await see(pilot, app, "1 Week")
        with failing("replace", errno.ENOSPC)(path):
            app.record(frost())
            await press(pilot, "f9")
            await until(pilot, lambda: isinstance(app.screen, Form))
            field = app.screen.query_one("#entry_path")
            field.value = str(tmp_path / "mine.json")  # type: ignore[attr-defined]
            await press(pilot, "enter")
            await see(pilot, app, "already")
            field.value = str(tmp_path / "copy.json")  # type: ignore[attr-defined]
            await press(pilot, "enter")
            await see(pilot, app, "Saved as")
            await press(pilot, "ctrl+q")
            await see(pilot, app, "All of it is in")
            await press(pilot, "y")
            await until(pilot, lambda: not app.is_running)
    assert (tmp_path / "mine.json").read_text() == "mine"
    assert _told(Repository(tmp_path / "copy.json").load().events) == ["before", "frost"]


async def test_leaving_asks_and_enter_and_escape_stay(path: Path) -> None:
    app = WellwardApp(_session(path))
    async with app.run_test(size=(100, 30)) as pilot:
        await see(pilot, app, "1 Week")
        with failing("replace", errno.ENOSPC)(path):
            app.record(frost())
            for key in ("enter", "escape", "n"):
                await press(pilot, "ctrl+q")
                await see(pilot, app, "Leave with 1 not on disk?")
                await press(pilot, "ctrl+q", key)
                await until(pilot, lambda: "Leave with" not in shown(app))
                assert app.is_running
        await press(pilot, "ctrl+q")
        await until(pilot, lambda: not app.is_running)
    assert _told(Repository(path).load().events) == ["before", "frost"]
    assert _told(events(app)) == ["before", "frost"]


@pytest.mark.parametrize("size", [(100, 30), (40, 10)], ids=["terminal lost", "too small to ask"])
async def test_where_nobody_can_be_asked_a_copy_is_left(
    path: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, size: tuple[int, int]
) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    app = WellwardApp(_session(path))
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        with failing("replace", errno.ENOSPC)(path):
            app.record(frost())
            if size[0] > 60:
                app.terminal_lost()
            else:
                await press(pilot, "ctrl+q")
            await until(pilot, lambda: not app.is_running)
    (copy,) = (tmp_path / "data" / "wellward").glob("wellward-unsaved-*.json")
    assert _told(Repository(copy).load().events) == ["before", "frost"]
    assert app.session.copy == copy
