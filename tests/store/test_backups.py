"""Backups: made at every save, thinned out, listed, brought back."""

from __future__ import annotations

import os
import stat
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from model import clock
from model.errors import StoreError
from model.home import House
from model.store.backups import Backup, list_backups, newest_good, restore
from model.store.kept import folder_of
from model.store.repository import Repository
from tests.store.kinds import meter


def test_every_save_keeps_the_state_before(repository: Repository) -> None:
    assert list_backups(repository.path) == ()
    assert newest_good(repository.path) is None
    for number in range(3):
        repository.append(meter(float(number)))
    found = list_backups(repository.path)
    assert [one.events for one in found] == [2, 1, 0]
    assert [one.last_day for one in found] == [date(2027, 1, 11), date(2027, 1, 11), None]
    assert all(one.readable for one in found)
    assert newest_good(repository.path) == found[0]


def test_backups_of_one_day_are_the_last_ten(repository: Repository) -> None:
    for number in range(25):
        repository.append(meter(float(number)))
    assert [one.events for one in list_backups(repository.path)] == list(range(24, 14, -1))


def test_days_keep_their_newest_backup(repository: Repository) -> None:
    """Three saves a day for twenty days: ten last saves, the newest of each of fourteen days, and the first month's."""
    for day in range(1, 21):
        for hour in (6, 12, 18):
            repository.append(meter(float(hour)))
            moment = datetime(2027, 3, day, hour, tzinfo=UTC).timestamp()
            os.utime(repository.path, (moment, moment))
    repository.append(meter(0.0))
    found = list_backups(repository.path)
    last_ten = [(day, hour) for day in (20, 19, 18) for hour in (18, 12, 6)] + [(17, 18)]
    assert [(one.when.day, one.when.hour) for one in found[:-1]] == last_ten + [(day, 18) for day in range(16, 6, -1)]
    assert (found[-1].events, found[-1].when.year) == (0, clock.today().year)
    assert [one.when for one in found] == sorted((one.when for one in found), reverse=True)


def _one_a_week(repository: Repository, weeks: int) -> list[datetime]:
    moments = [datetime(2028, 1, 3, 9, tzinfo=UTC) + timedelta(weeks=week) for week in range(weeks)]
    for number, moment in enumerate(moments):
        repository.append(meter(float(number), "as every week"))
        os.utime(repository.path, (moment.timestamp(), moment.timestamp()))
    repository.append(meter(0.0))
    return moments


def test_months_keep_their_newest_backup(repository: Repository) -> None:
    """A save a week for a year and a half: fourteen days with a save, and before them the last of each month."""
    moments = _one_a_week(repository, 78)
    last_of_month = list({(one.year, one.month): one for one in moments}.values())[-12:]
    wanted = sorted({*moments[-14:], *last_of_month})
    assert [one.when for one in reversed(list_backups(repository.path))] == wanted


def test_old_backups_take_little_space_and_are_brought_back_like_others(repository: Repository) -> None:
    _one_a_week(repository, 40)
    found = list_backups(repository.path)
    packed = [one for one in found if one.path.suffix == ".gz"]
    assert packed == list(found[10:])
    assert all(one.readable for one in found)
    assert all(stat.S_IMODE(one.path.stat().st_mode) == 0o600 for one in packed)
    old, home = packed[0], repository.load()
    assert restore(repository.path, old) is not None
    assert repository.load().events == home.events[: old.events]
    assert old.path.stat().st_size * 3 < repository.path.stat().st_size


@pytest.mark.parametrize("text", [b"", b"damaged", "cut"])
def test_a_packed_backup_that_is_damaged_is_passed_over(repository: Repository, text: bytes | str) -> None:
    _one_a_week(repository, 20)
    bad = list_backups(repository.path)[-1].path
    bad.write_bytes(text if isinstance(text, bytes) else bad.read_bytes()[:-40])
    *good, last = list_backups(repository.path)
    assert not last.readable
    assert all(one.readable for one in good)
    with pytest.raises(StoreError, match="cannot be brought back"):
        restore(repository.path, last)


def test_a_disk_that_takes_no_packed_backup_keeps_the_plain_one(
    repository: Repository, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("model.store.kept.replace_file", refuse)
    _one_a_week(repository, 12)
    assert [one.path.suffix for one in list_backups(repository.path)] == [".json"] * 13


def test_a_clock_set_back_keeps_the_order_of_the_saves(repository: Repository) -> None:
    for number, year in enumerate((2030, 2020, 2025)):
        moment = datetime(year, 1, 1, tzinfo=UTC).timestamp()
        os.utime(repository.path, (moment, moment))
        repository.append(meter(float(number)))
    assert [(one.when.year, one.events) for one in list_backups(repository.path)] == [(2025, 2), (2020, 1), (2030, 0)]


def test_a_damaged_backup_is_passed_over(repository: Repository) -> None:
    for number in range(3):
        repository.append(meter(float(number)))
    newest = list_backups(repository.path)[0]
    newest.path.unlink()
    newest.path.write_bytes(b'{"meta": ')
    found = list_backups(repository.path)
    assert [one.readable for one in found] == [False, True, True]
    assert "ends in the middle" in found[0].problem
    good = newest_good(repository.path)
    assert good is not None
    assert good.events == 1


def test_other_files_among_the_backups_are_left_alone(repository: Repository) -> None:
    repository.append(meter(1.0))
    stray = [
        folder_of(repository.path) / name for name in ("notes.txt", "000009-notes.json", "x-20270101T000000Z.json")
    ]
    for one in stray:
        one.write_text("mine")
    for number in range(15):
        repository.append(meter(float(number)))
    assert all(one.read_text() == "mine" for one in stray)
    assert len(list_backups(repository.path)) == 10


def test_a_backup_brought_back(repository: Repository) -> None:
    good = repository.append(meter(1.0))
    repository.append(meter(2.0))
    repository.path.write_bytes(b"damaged")
    backup = newest_good(repository.path)
    assert backup is not None
    kept = restore(repository.path, backup)
    assert kept is not None
    assert (kept.parent, kept.read_bytes()) == (repository.path.parent, b"damaged")
    assert kept.name.startswith("home.json.kept-")
    assert repository.load() == good
    assert repository.path.read_bytes() == backup.path.read_bytes()
    assert stat.S_IMODE(repository.path.stat().st_mode) == 0o600
    assert [one.id for one in repository.append(meter(3.0)).events] == [1, 2]


def test_a_backup_is_not_changed_through_the_file_brought_back(repository: Repository) -> None:
    repository.append(meter(1.0))
    backup = list_backups(repository.path)[0]
    before = backup.path.read_bytes()
    restore(repository.path, backup)
    with repository.path.open("ab") as opened:
        opened.write(b"written by an editor in place")
    assert backup.path.read_bytes() == before


def test_two_restores_keep_two_files(repository: Repository) -> None:
    repository.append(meter(1.0))
    backup = list_backups(repository.path)[0]
    repository.path.write_bytes(b"first damage")
    first = restore(repository.path, backup)
    repository.path.write_bytes(b"second damage")
    second = restore(repository.path, backup.path)
    assert first is not None
    assert second is not None
    assert (first.read_bytes(), second.read_bytes()) == (b"first damage", b"second damage")


def test_a_deleted_file_brought_back(repository: Repository) -> None:
    repository.append(meter(1.0))
    repository.path.unlink()
    assert restore(repository.path, list_backups(repository.path)[0]) is None
    assert repository.load().events == ()


@pytest.mark.parametrize("text", [b"", b"damaged", None])
def test_what_is_no_good_backup_is_not_brought_back(repository: Repository, tmp_path: Path, text: bytes | None) -> None:
    bad = tmp_path / "bad.json"
    if text is not None:
        bad.write_bytes(text)
    before = repository.path.read_bytes()
    with pytest.raises(StoreError, match="cannot be brought back"):
        restore(repository.path, Backup(bad, datetime(2027, 1, 1, tzinfo=UTC)))
    assert repository.path.read_bytes() == before


@pytest.mark.parametrize("deleted", [False, True])
@pytest.mark.parametrize(("function", "failing"), [("replace", 1), ("fsync", 1), ("fsync", 2)])
def test_a_restore_that_fails_changes_nothing(
    repository: Repository, monkeypatch: pytest.MonkeyPatch, function: str, failing: int, deleted: bool
) -> None:
    repository.append(meter(1.0))
    if deleted:
        repository.path.unlink()
    before = _all_files(repository.path.parent)
    real, calls = getattr(os, function), iter(range(1, 100))

    def refuse(*given: object) -> object:
        if next(calls) == failing:
            raise PermissionError(13, "Permission denied")
        return real(*given)

    with monkeypatch.context() as patch:
        patch.setattr(os, function, refuse)
        with pytest.raises(StoreError, match="permission was denied"):
            restore(repository.path, list_backups(repository.path)[0])
    assert _all_files(repository.path.parent) == before


def _all_files(folder: Path) -> dict[str, bytes]:
    return {one.name: one.read_bytes() for one in folder.rglob("*") if one.is_file()}


def test_a_disk_without_second_names_gets_copies(repository: Repository, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object) -> None:
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(os, "link", refuse)
    state = repository.path.read_bytes()
    repository.append(meter(1.0))
    (backup,) = list_backups(repository.path)
    assert backup.path.read_bytes() == state
    assert stat.S_IMODE(backup.path.stat().st_mode) == 0o600


def test_the_folder_lies_beside_what_a_link_leads_to(tmp_path: Path, repository: Repository, house: House) -> None:
    link = tmp_path / "link.json"
    link.symlink_to(repository.path)
    repository.append(meter(1.0))
    assert list_backups(link) == list_backups(repository.path)
