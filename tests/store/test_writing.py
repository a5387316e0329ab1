"""Writing: whole or not at all, whatever fails, and private."""

from __future__ import annotations

import errno
import os
import signal
import stat
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from model.errors import StoreError
from model.home import House
from model.records.events import Correction
from model.store.backups import Keeper
from model.store.files import sync_folder
from model.store.repository import Repository
from model.store.unsaved import FIRST_ID, Unsaved
from tests.store.kinds import meter

ROOT = Path(__file__).parents[2]


def _failing(at: int, code: int, real: Callable[..., object]) -> Callable[..., object]:
    """`real`, but its call number `at` fails."""
    calls = iter(range(1, 1000))

    def call(*given: object, **named: object) -> object:
        if next(calls) == at:
            raise OSError(code, os.strerror(code))
        return real(*given, **named)

    return call


FAILURES = [
    pytest.param("open", 1, errno.ENOSPC, "disk is full", id="open"),
    pytest.param("write", 1, errno.ENOSPC, "disk is full", id="write"),
    pytest.param("fsync", 1, errno.EIO, "error", id="fsync of the file"),
    pytest.param("fsync", 2, errno.EIO, "error", id="fsync of the folder"),
    pytest.param("replace", 1, errno.EROFS, "read-only", id="replace"),
]


@pytest.mark.parametrize(("function", "at", "code", "said"), FAILURES)
def test_a_write_that_fails_leaves_the_old_file(
    repository: Repository, monkeypatch: pytest.MonkeyPatch, function: str, at: int, code: int, said: str
) -> None:
    repository.append(meter(1.0))
    before, backups = repository.path.read_bytes(), _backups(repository)
    with monkeypatch.context() as patch:
        opened = function == "open"
        # The lock file is opened first.
        patch.setattr(os, function, _failing(at + opened, code, getattr(os, function)))
        with pytest.raises(StoreError, match=said) as caught:
            repository.append(meter(2.0))
    assert caught.value.now
    assert repository.path.read_bytes() == before
    assert _backups(repository) == backups
    assert not list(repository.path.parent.glob(".*.tmp"))
    assert [one.id for one in repository.append(meter(3.0)).events] == [1, 2]


@pytest.mark.parametrize(("function", "at", "code", "said"), FAILURES[2:])
def test_a_first_write_that_fails_leaves_no_file(
    path: Path, house: House, monkeypatch: pytest.MonkeyPatch, function: str, at: int, code: int, said: str
) -> None:
    with monkeypatch.context() as patch:
        patch.setattr(os, function, _failing(at, code, getattr(os, function)))
        with pytest.raises(StoreError, match=said):
            Repository(path).create(house)
    assert not path.exists()
    Repository(path).create(house)


@pytest.fixture
def neither_confirmed_nor_undone(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """The disk does not confirm the folder, and then the old file cannot be brought back: the new one stands there."""
    with monkeypatch.context() as patch:
        patch.setattr("model.store.storage.sync_folder", _failing(1, errno.EIO, sync_folder))
        patch.setattr(Keeper, "bring_back", _failing(1, errno.EIO, Keeper.bring_back))
        yield


def test_a_second_try_after_a_write_that_could_not_be_undone_records_it_once(
    repository: Repository, neither_confirmed_nor_undone: None
) -> None:
    waiting = Unsaved().adding([meter(1.0)]).adding([meter(2.0), Correction(on=meter(2.0).on, voids=FIRST_ID)])
    with pytest.raises(StoreError, match="did not confirm") as caught:
        repository.append(*waiting.first())
    assert "wellward log" in str(caught.value.now)
    left = Repository(repository.path).load()
    assert [one.id for one in left.events] == [1]
    assert len(_backups(repository)) == 1
    assert [one.id for one in waiting.shown_on(left).events] == [1, FIRST_ID + 1, FIRST_ID + 2]
    Repository(repository.path).append(meter(9.0))
    for _ in (1, 2):
        waiting = waiting.written(repository.append(*waiting.first()))
    events = Repository(repository.path).load().events
    assert [getattr(getattr(one, "taken", None), "value", None) for one in events] == [1.0, 9.0, 2.0, None]
    assert isinstance(events[-1], Correction)
    assert events[-1].voids == 1


def test_a_second_try_is_confirmed_by_the_disk_before_it_counts(
    repository: Repository, neither_confirmed_nor_undone: None, monkeypatch: pytest.MonkeyPatch
) -> None:
    waiting = Unsaved().adding([meter(1.0)])
    with pytest.raises(StoreError):
        repository.append(*waiting.first())
    with monkeypatch.context() as patch:
        patch.setattr("model.store.storage.sync_folder", _failing(1, errno.EIO, sync_folder))
        with pytest.raises(StoreError):
            repository.append(*waiting.first())
    assert len(repository.append(*waiting.first()).events) == 1


def test_an_interrupted_write_leaves_the_old_file(repository: Repository, monkeypatch: pytest.MonkeyPatch) -> None:
    before = repository.path.read_bytes()

    def interrupt(*_: object) -> None:
        raise KeyboardInterrupt

    with monkeypatch.context() as patch:
        patch.setattr(os, "replace", interrupt)
        with pytest.raises(KeyboardInterrupt):
            repository.append(meter(1.0))
    assert repository.path.read_bytes() == before
    assert not list(repository.path.parent.glob(".*.tmp"))


def test_a_write_in_small_pieces_is_whole(repository: Repository, monkeypatch: pytest.MonkeyPatch) -> None:
    real = os.write
    monkeypatch.setattr(os, "write", lambda opened, text: real(opened, bytes(text[:7])))
    home = repository.append(meter(1.0))
    assert Repository(repository.path).load() == home


def _backups(repository: Repository) -> list[str]:
    folder = repository.path.parent / ".home.json.backups"
    return sorted(one.name for one in folder.iterdir()) if folder.exists() else []


def test_what_a_killed_writer_left_is_cleared_away(repository: Repository) -> None:
    left = repository.path.with_name(".home.json.tmp")
    left.write_bytes(b"half a ho")
    home = repository.append(meter(1.0))
    assert not left.exists()
    assert Repository(repository.path).load() == home


def test_files_and_folders_are_private(repository: Repository) -> None:
    repository.append(meter(1.0))
    folder = repository.path.parent
    modes = {one.name: stat.S_IMODE(one.stat().st_mode) for one in (folder, *folder.rglob("*"))}
    backup = modes.pop(next(name for name in modes if name.startswith("000001-")))
    assert modes == {"wellward": 0o700, "home.json": 0o600, ".home.json.lock": 0o600, ".home.json.backups": 0o700}
    assert backup == 0o600


def test_all_new_folders_are_private_and_old_ones_left(tmp_path: Path, house: House) -> None:
    tmp_path.chmod(0o755)
    path = tmp_path / "one" / "two" / "home.json"
    Repository(path).create(house)
    modes = [stat.S_IMODE(folder.stat().st_mode) for folder in path.parents[:3]]
    assert modes == [0o700, 0o700, 0o755]


def test_a_link_stays_and_what_it_leads_to_is_replaced(repository: Repository, tmp_path: Path) -> None:
    link = tmp_path / "link.json"
    link.symlink_to(repository.path)
    home = Repository(link).append(meter(1.0))
    assert link.is_symlink()
    assert Repository(repository.path).load() == home
    assert _backups(repository)
    assert [one.name for one in tmp_path.iterdir() if one.is_file()] == ["link.json"]


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write anywhere")
def test_a_folder_that_may_not_be_written(repository: Repository) -> None:
    folder = repository.path.parent
    folder.chmod(0o500)
    try:
        with pytest.raises(StoreError, match="permission was denied"):
            repository.append(meter(1.0))
        assert repository.load().events == ()
    finally:
        folder.chmod(0o700)


WRITER = """
import sys
from tests.store.kinds import meter
from model.store.repository import Repository
repository = Repository(sys.argv[1], by=sys.argv[2])
while True:
    print(repository.append(meter(1.0, "x" * 2000)).events[-1].id, flush=True)
"""


def test_killed_writers_lose_nothing_they_reported(repository: Repository) -> None:
    reported: list[int] = []
    for round_ in range(5):
        pair = [_writer(repository.path, f"{round_} {name}") for name in "ab"]
        for number, writer in enumerate(pair):
            assert writer.stdout is not None
            reported += [int(writer.stdout.readline()) for _ in range(2 + round_ + 3 * number)]
            writer.send_signal(signal.SIGKILL)
            reported += [int(line) for line in writer.stdout.read().splitlines(keepends=True) if line.endswith("\n")]
            writer.wait()
            writer.stdout.close()
        ids = [one.id for one in Repository(repository.path).load().events]
        assert ids == list(range(1, len(ids) + 1))
        assert set(reported) <= set(ids)
    assert len(set(reported)) == len(reported) >= 10
    repository.append(meter(2.0))
    assert not repository.problems()


def _writer(path: Path, by: str) -> subprocess.Popen[str]:
    command = [sys.executable, "-c", WRITER, str(path), by]
    return subprocess.Popen(command, stdout=subprocess.PIPE, text=True, cwd=ROOT)
