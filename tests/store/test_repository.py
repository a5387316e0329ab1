"""Loading, creating and appending, alone and beside others."""

from __future__ import annotations

import json
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from datetime import date
from pathlib import Path

import msgspec
import pytest
from freezegun import freeze_time

from model.errors import StoreError
from model.home import Home, House
from model.records.events import Correction, Guests, Incident, Reading
from model.store import lock, migrations
from model.store.migrations import Tables
from model.store.repository import Repository, default_path
from tests.store.kinds import meter

ROOT = Path(__file__).parents[2]


def test_a_new_home_holds_its_house(repository: Repository, house: House) -> None:
    assert repository.exists()
    assert Repository(repository.path).load() == Home(house)
    assert not repository.problems()


def test_the_file_says_what_it_is(repository: Repository) -> None:
    assert repository.tables().table("meta").all() == [{"schema": migrations.SCHEMA, "program": "wellward"}]


def test_nothing_is_made_over_what_is_there(repository: Repository, house: House) -> None:
    before = repository.path.read_bytes()
    with pytest.raises(StoreError, match="already"):
        repository.create(house)
    assert repository.path.read_bytes() == before


def test_no_home_there_yet(path: Path) -> None:
    repository = Repository(path)
    assert not repository.exists()
    for use in (repository.load, repository.problems, lambda: repository.append(meter(1.0))):
        with pytest.raises(StoreError, match="no home at"):
            use()
    assert not path.parent.exists()


@freeze_time("2027-01-11 08:00:07")
def test_events_are_numbered_stamped_and_signed(repository: Repository) -> None:
    repository.append(meter(1.0), Incident(on=date(2027, 1, 10), what="frost", by="Bo", id=99, at="never"))
    home = repository.append(Correction(on=date(2027, 1, 11), voids=2))
    assert [(one.id, one.at, one.by) for one in home.events] == [
        (1, "2027-01-11T08:00:07Z", "Ann"),
        (2, "2027-01-11T08:00:07Z", "Bo"),
        (3, "2027-01-11T08:00:07Z", "Ann"),
    ]
    assert Repository(repository.path).load() == home
    assert not repository.problems()


def test_first_events_keep_the_ids_they_have(path: Path, house: House) -> None:
    frost = Incident(on=date(2027, 1, 10), what="frost", id=4, at="2027-01-10T12:00:00Z", by="Bo")
    home = Repository(path, by="Ann").create(
        house, [meter(1.0), frost, Correction(on=date(2027, 1, 11), voids=4, id=5)]
    )
    assert [(one.id, one.by) for one in home.events] == [(4, "Bo"), (5, ""), (6, "Ann")]
    assert home.events[0] == frost
    assert Repository(path).load() == home


def test_first_events_with_one_id_are_refused(path: Path, house: House) -> None:
    twice = [msgspec.structs.replace(meter(1.0), id=4), msgspec.structs.replace(meter(2.0), id=4)]
    with pytest.raises(StoreError, match="more than once"):
        Repository(path).create(house, twice)
    assert not path.exists()


def test_a_gap_in_the_ids_is_not_filled(path: Path, house: House) -> None:
    repository = Repository(path)
    repository.create(house, [msgspec.structs.replace(meter(1.0), id=41)])
    assert repository.append(meter(2.0)).events[-1].id == 42


def test_two_repositories_in_turn_lose_nothing(repository: Repository) -> None:
    other = Repository(repository.path, by="Bo")
    for number in range(6):
        home = (repository, other)[number % 2].append(meter(float(number)))
    assert [one.id for one in home.events] == [1, 2, 3, 4, 5, 6]
    assert [one.taken.value for one in home.events if isinstance(one, Reading)] == list(range(6))
    assert repository.load() == other.load() == home


def test_threads_with_repositories_of_their_own_lose_nothing(repository: Repository) -> None:
    def record(writer: int) -> None:
        mine = Repository(repository.path, by=f"writer {writer}")
        for number in range(10):
            mine.append(meter(float(number)))

    with ThreadPoolExecutor(4) as pool:
        list(pool.map(record, range(4)))
    events = repository.load().events
    assert [one.id for one in events] == list(range(1, 41))
    assert sorted(one.by for one in events) == sorted(f"writer {writer}" for writer in range(4) for _ in range(10))


def test_threads_with_one_repository_lose_nothing(repository: Repository) -> None:
    with ThreadPoolExecutor(4) as pool:
        homes = list(pool.map(lambda number: repository.append(meter(float(number))), range(24)))
    assert sorted(len(home.events) for home in homes) == list(range(1, 25))
    assert len(repository.load().events) == 24


def test_a_change_by_another_program_is_noticed(repository: Repository) -> None:
    other = Repository(repository.path)
    assert other.changed_outside()
    other.load()
    assert not other.changed_outside()
    repository.append(meter(1.0))
    assert not repository.changed_outside()
    assert other.changed_outside()
    other.load()
    assert not other.changed_outside()
    repository.path.unlink()
    assert other.changed_outside()


def test_a_change_in_an_editor_is_kept(repository: Repository) -> None:
    repository.append(meter(1.0, "tpyo"))
    tables = json.loads(repository.path.read_bytes())
    tables["events"]["1"]["note"] = "typo"
    repository.path.write_text(json.dumps(tables, indent=4) + "\n\n", encoding="utf-8")
    home = repository.append(meter(2.0))
    assert [one.note for one in home.events] == ["typo", ""]
    assert Repository(repository.path).load() == home


def test_tables_in_another_order_are_put_right(repository: Repository) -> None:
    repository.append(meter(1.0))
    tables = json.loads(repository.path.read_bytes())
    moved = json.dumps(dict(reversed(tables.items())))
    repository.path.write_text(moved, encoding="utf-8")
    home = repository.append(meter(2.0))
    assert [one.id for one in home.events] == [1, 2]
    assert Repository(repository.path).load() == home
    kept = [one for one in repository.path.parent.iterdir() if ".kept-" in one.name]
    assert [one.read_text(encoding="utf-8") for one in kept] == [moved]


def _renamed(tables: Tables) -> Tables:
    tables["events"] = tables.pop("log")
    return tables


def test_an_older_form_is_brought_up_and_kept(repository: Repository, monkeypatch: pytest.MonkeyPatch) -> None:
    first = repository.append(meter(1.0))
    old = repository.path.read_bytes().replace(b'"events":', b'"log":')
    repository.path.write_bytes(old)
    present = migrations.SCHEMA
    monkeypatch.setattr(migrations, "SCHEMA", present + 1)
    monkeypatch.setitem(migrations.MIGRATIONS, present, _renamed)
    assert Repository(repository.path).load() == first
    assert repository.path.read_bytes() == old
    home = repository.append(meter(2.0))
    assert [one.id for one in home.events] == [1, 2]
    assert repository.tables().table("meta").all() == [{"schema": present + 1, "program": "wellward"}]
    kept = [one for one in repository.path.parent.iterdir() if ".kept-" in one.name]
    assert [one.read_bytes() for one in kept] == [old]


def test_a_home_of_the_first_form_is_read_as_it_is_and_brought_up_when_added_to(repository: Repository) -> None:
    first = repository.append(meter(1.0))
    old = repository.path.read_bytes().replace(b'"schema":%d' % migrations.SCHEMA, b'"schema":1')
    repository.path.write_bytes(old)
    assert Repository(repository.path).load() == first
    assert not repository.problems()
    assert repository.path.read_bytes() == old
    guests = Guests(on=date(2027, 1, 11), until=date(2027, 1, 12), people=2.0)
    assert repository.append(guests).events[-1].id == 2
    assert repository.tables().table("meta").all() == [{"schema": migrations.SCHEMA, "program": "wellward"}]
    kept = [one for one in repository.path.parent.iterdir() if ".kept-" in one.name]
    assert [one.read_bytes() for one in kept] == [old]


def test_there_is_a_way_from_every_older_form() -> None:
    assert sorted(migrations.MIGRATIONS) == list(range(1, migrations.SCHEMA))


def test_another_writer_is_waited_for_but_not_for_ever(repository: Repository, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(lock, "LOCK_SECONDS", 0.05)
    before = repository.path.read_bytes()
    with lock.locked(repository.path):
        with pytest.raises(StoreError, match=r"Another program is writing .* try again"):
            repository.append(meter(1.0))
        assert repository.load().events == ()
    assert repository.path.read_bytes() == before
    assert len(repository.append(meter(1.0)).events) == 1


def test_reading_needs_neither_lock_nor_clock(repository: Repository) -> None:
    code = (
        "import sys; from model.store.repository import Repository; "
        f"Repository({str(repository.path)!r}).load(); "
        "print({'filelock', 'platformdirs', 'pendulum'} & set(sys.modules))"
    )
    shown = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=ROOT)
    assert shown.stdout.strip() == "set()"


def test_the_usual_place_is_the_users_own(monkeypatch: pytest.MonkeyPatch) -> None:
    assert default_path().name == "home.json"
    assert "wellward" in default_path().parts


def test_a_log_of_5000_events_loads_no_slower_than_twice_plain_json(path: Path, house: House) -> None:
    repository = Repository(path)
    repository.create(house, [meter(float(number), "as every week") for number in range(5000)])

    def best(run: object) -> float:
        times = []
        for _ in range(5):
            start = time.perf_counter()
            run()  # type: ignore[operator]
            times.append(time.perf_counter() - start)
        return min(times)

    assert best(lambda: Repository(path).load()) <= 2 * best(lambda: json.loads(path.read_bytes()))
