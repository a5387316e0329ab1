"""A file that is not a home: one clear message, and not a byte of it changed."""

from __future__ import annotations

import json
import os
from collections.abc import Callable
from pathlib import Path

import msgspec
import pytest

from model.errors import StoreError, UnreadableFile
from model.home import House
from model.records.events import Correction, FindingAnswered, HandleMoved, LocalRule, Service
from model.store.files import MOST_BYTES
from model.store.migrations import SCHEMA
from model.store.repository import Repository
from tests.benchmarks.mangled import spoil
from tests.store.kinds import meter


def _edited(**tables: object) -> Callable[[bytes], bytes]:
    return lambda text: json.dumps({**json.loads(text), **tables}).encode()


def _event(**fields: object) -> Callable[[bytes], bytes]:
    def edit(text: bytes) -> bytes:
        tables = json.loads(text)
        tables["events"]["1"].update(fields)
        return json.dumps(tables).encode()

    return edit


DAMAGE: dict[str, tuple[Callable[[bytes], bytes], str]] = {
    "cut short": (lambda text: text[: len(text) // 2], "ends in the middle"),
    "cut by one bracket": (lambda text: text.rstrip()[:-1], "line 6: it ends in the middle"),
    "empty": (lambda text: b"", "it is empty"),
    "blank": (lambda text: b" \n", "it is empty"),
    "zeros": (lambda text: bytes(len(text)), r"line 1 \(byte 0\): this is not JSON"),
    "not text": (lambda text: b'{"meta": "\xff"}', "not UTF-8"),
    "two files in one": (lambda text: text + text, "this is not JSON: trailing characters"),
    "NaN": (lambda text: text.replace(b"1.5", b"NaN"), r"line 6 \(byte \d+\): this is not JSON: invalid character"),
    "infinity": (lambda text: text.replace(b"1.5", b"1e999"), "number out of range"),
    "nested too deeply": (lambda text: b"[" * 100_000, "nested too deeply"),
    "foreign list": (lambda text: b"[1, 2]", "not a wellward file"),
    "foreign object": (lambda text: b'{"name": "left-pad", "version": "1.0.0"}', "not a wellward file"),
    "foreign tables": (lambda text: b'{"_default": {"1": {"a": 1}}}', "not a wellward file"),
    "newer form": (_edited(meta={"1": {"schema": SCHEMA + 1, "program": "wellward"}}), "Update wellward"),
    "form zero": (_edited(meta={"1": {"schema": 0, "program": "wellward"}}), "not a wellward file"),
    "another program": (_edited(meta={"1": {"schema": 1, "program": "other"}}), "not a wellward file"),
    "unknown table": (_edited(extra={}), "table extra: there is no such table"),
    "no house": (_edited(house={}), "table house: it must hold one document"),
    "two houses": (lambda text: text.replace(b'"house":{', b'"house":{"2":{},'), "table house"),
    "unknown field": (_event(colour="green"), "event 1: Object contains unknown field colour"),
    "wrong value": (_event(taken={"quantity": "meter", "value": "x", "point": "a"}), "event 1, taken.value"),
    "another id": (_event(id=2), "event 1: it calls itself event 2"),
}


@pytest.fixture(params=DAMAGE)
def damaged(request: pytest.FixtureRequest, repository: Repository) -> tuple[Repository, str]:
    """A damaged file, and what must be said about it."""
    damage, said = DAMAGE[request.param]
    repository.append(meter(1.5))
    repository.path.write_bytes(damage(repository.path.read_bytes()))
    return repository, said


def test_one_clear_message_and_not_a_byte_changed(damaged: tuple[Repository, str], house: House) -> None:
    repository, said = damaged
    before = repository.path.read_bytes()
    for use in (repository.load, Repository(repository.path).load, lambda: repository.append(meter(2.0))):
        with pytest.raises(UnreadableFile, match=said) as caught:
            use()
        assert str(repository.path) in caught.value.what
        assert caught.value.now
        assert "\n" not in str(caught.value)
    with pytest.raises(StoreError):
        repository.create(house)
    assert repository.path.read_bytes() == before
    assert not list(repository.path.parent.glob(".*.tmp"))


def test_the_check_lists_the_damage(damaged: tuple[Repository, str]) -> None:
    problems = damaged[0].problems()
    assert problems
    assert all(problem.where and problem.what and problem.now for problem in problems)


def test_the_message_names_the_newest_good_backup(repository: Repository) -> None:
    repository.append(meter(1.0))
    repository.append(meter(2.0))
    repository.path.write_bytes(b"{")
    with pytest.raises(UnreadableFile, match=r"newest good backup \(.* 1 events\).*000002-.*wellward restore"):
        repository.load()


def test_a_newer_form_is_not_answered_with_an_old_backup(repository: Repository) -> None:
    repository.append(meter(1.0))
    newer = repository.path.read_bytes().replace(b'"schema":%d' % SCHEMA, b'"schema":%d' % (SCHEMA + 1))
    repository.path.write_bytes(newer)
    with pytest.raises(UnreadableFile) as caught:
        repository.load()
    assert "restore" not in str(caught.value)


def test_tinydb_does_not_write_over_what_it_cannot_read(repository: Repository) -> None:
    repository.path.write_bytes(b'{"meta": ')
    with pytest.raises(UnreadableFile):
        repository.tables().storage.write({"meta": {}})
    assert repository.path.read_bytes() == b'{"meta": '


@pytest.mark.parametrize("make", [Path.mkdir, os.mkfifo], ids=["folder", "pipe"])
def test_something_else_in_the_files_place(tmp_path: Path, house: House, make: Callable[[Path], None]) -> None:
    make(tmp_path / "home.json")
    repository = Repository(tmp_path / "home.json")
    for use in (repository.load, lambda: repository.append(meter(1.0))):
        with pytest.raises(UnreadableFile, match="not a file"):
            use()
    with pytest.raises(StoreError, match="already"):
        repository.create(house)
    assert repository.problems()[0].what


def test_a_file_far_too_large_is_not_read_into_memory(tmp_path: Path) -> None:
    with (tmp_path / "home.json").open("wb") as opened:
        opened.truncate(MOST_BYTES + 1)
    with pytest.raises(UnreadableFile, match="too large to be a home"):
        Repository(tmp_path / "home.json").load()
    assert Repository(tmp_path / "home.json").problems()


def test_what_is_quoted_from_a_file_is_short_and_on_one_line(repository: Repository) -> None:
    repository.append(meter(1.5))
    text = repository.path.read_bytes().replace(b'"reading"', b'"two\\nlines' + b"x" * 100_000 + b'"')
    repository.path.write_bytes(text)
    with pytest.raises(UnreadableFile, match="event 1, kind: Invalid value 'two") as caught:
        repository.load()
    assert len(str(caught.value)) < 1_000
    assert "\n" not in str(caught.value)


def test_spoilt_files_of_every_way_are_answered_in_words() -> None:
    """A few of what `python -m tests.benchmarks mangled` tries by the hundred thousand."""
    found = spoil(80, seed=7)
    assert found["bad"] == 0
    assert found["unreadable"] > 20
    assert found["read"] + found["odd"] > 10


def test_links_in_a_circle(tmp_path: Path) -> None:
    (tmp_path / "a").symlink_to(tmp_path / "b")
    (tmp_path / "b").symlink_to(tmp_path / "a")
    with pytest.raises(StoreError, match="could not be found"):
        Repository(tmp_path / "a")


@pytest.mark.parametrize("name", ["home\0.json", "x" * 300])
def test_a_name_no_file_can_have(tmp_path: Path, house: House, name: str) -> None:
    with pytest.raises(StoreError):
        Repository(tmp_path / name).create(house)


def test_a_file_in_the_place_of_a_folder(tmp_path: Path, house: House) -> None:
    (tmp_path / "file").write_text("mine")
    with pytest.raises(StoreError):
        Repository(tmp_path / "file" / "home.json").create(house)
    with pytest.raises(StoreError):
        Repository(tmp_path / "file" / "home.json").load()


def test_the_check_lists_all_that_is_wrong(repository: Repository) -> None:
    for number in range(3):
        repository.append(meter(float(number)))
    tables = json.loads(repository.path.read_bytes())
    tables["events"]["1"]["colour"] = "green"
    tables["events"]["3"]["on"] = "yesterday"
    tables["house"]["1"]["people"] = None
    repository.path.write_text(json.dumps(tables), encoding="utf-8")
    assert [problem.where for problem in repository.problems()] == ["house, people", "event 1", "event 3, on"]
    with pytest.raises(UnreadableFile, match="2 more: `wellward check` lists them"):
        repository.load()


def test_the_check_lists_what_is_odd_but_readable(repository: Repository) -> None:
    day = meter(1.0).on
    repository.append(
        Correction(on=day, voids=7), Service(on=day, task="salt"), Service(on=day, task="softener.salt_check")
    )
    said = [(problem.where, problem.what) for problem in repository.problems()]
    assert [where for where, _ in said] == ["event 1", "event 2"]
    assert "takes back event 7" in said[0][1]
    assert "'salt' is not a task" in said[1][1]


def test_the_check_sees_answers_to_findings_that_hide_nothing(repository: Repository) -> None:
    day, named = meter(1.0).on, "salt_bridge.softener"
    repository.append(
        FindingAnswered(on=day, finding=named, answer="dismissed", reason=" "),
        FindingAnswered(on=day, finding=named, answer="snoozed", until=day),
        FindingAnswered(on=day, finding=named, answer="dismissed", reason="probed: loose"),
    )
    said = [(problem.where, problem.what) for problem in repository.problems()]
    assert [where for where, _ in said] == ["event 1", "event 2"]
    assert "without a reason" in said[0][1]
    assert "not to a later day" in said[1][1]


def test_the_check_sees_a_position_that_is_none_and_a_rule_asked_about_later(repository: Repository) -> None:
    day = meter(1.0).on
    rule = LocalRule(on=day, topic="brine", text="no", said_by="x", checked_on=day)
    repository.append(
        HandleMoved(on=day, handle="softener.bypass", position="half"),
        msgspec.structs.replace(rule, checked_on=day.replace(year=day.year + 1)),
        rule,
    )
    said = [(problem.where, problem.what) for problem in repository.problems()]
    assert [where for where, _ in said] == ["event 1", "event 2"]
    assert "'half' is no position" in said[0][1]


def test_the_check_sees_an_id_written_twice(repository: Repository) -> None:
    repository.append(meter(1.0))
    line = repository.path.read_bytes().splitlines()[-1].removesuffix(b"}}")
    repository.path.write_bytes(repository.path.read_bytes().replace(line, line + b",\n" + line))
    assert [problem.where for problem in repository.problems()] == ["event 1"]
    assert "more than once" in repository.problems()[0].what


def test_the_check_sees_two_stages_with_one_id(path: Path, house: House) -> None:
    repository = Repository(path)
    repository.create(House(name="Twins", started=house.started, stages=house.stages * 2))
    assert [problem.where for problem in repository.problems()] == ["house, stages"]
