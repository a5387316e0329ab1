"""What is written is what is read."""

from __future__ import annotations

from datetime import date
from typing import get_args

import msgspec
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tinydb import TinyDB
from tinydb.table import Document

from model.errors import StoreError
from model.home import Home, House
from model.records.events import AnyEvent, Purchase, Setting, StageAdded
from model.store import codec
from model.store.codec import Contents
from model.store.problem import Problem
from model.store.repository import Repository
from tests.store.kinds import KINDS, meter

QUICK = settings(
    max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow]
)


def test_every_kind_of_event_is_tried() -> None:
    assert set(get_args(AnyEvent)) == set(KINDS)


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__name__)
def test_an_event_survives_its_text(kind: type[AnyEvent]) -> None:
    @QUICK
    @given(KINDS[kind])
    def check(event: AnyEvent) -> None:
        numbered = msgspec.structs.replace(event, id=7)
        read_again, text = codec.event_text(numbered)
        assert read_again == numbered
        assert codec.event_from("7", msgspec.json.decode(text)) == numbered
        assert text.count(b"\n") == 0

    check()


@QUICK
@given(st.lists(st.one_of(*KINDS.values()), max_size=5), st.lists(st.one_of(*KINDS.values()), min_size=1, max_size=3))
def test_a_text_grown_at_its_end_is_the_text_written_anew(before: list[AnyEvent], after: list[AnyEvent]) -> None:
    numbered = [msgspec.structs.replace(event, id=number) for number, event in enumerate([*before, *after], 1)]
    house = House(name="Hillside", started=date(2027, 1, 1))
    whole = codec.to_text(codec.tables_of(Home(house, tuple(numbered))))
    first = codec.to_text(codec.tables_of(Home(house, tuple(numbered[: len(before)]))))
    added = {event.id: codec.event_text(event)[1] for event in numbered[len(before) :]}
    assert codec.with_events(first, added) == whole
    assert codec.contents(whole) == Contents(Home(house, tuple(numbered)), as_written=True)


def test_tables_filled_through_tinydb_are_a_home(db: TinyDB, house: House) -> None:
    event = msgspec.structs.replace(meter(1.5, 'no comma, "quotes", ümlaut, }}'), id=3)
    wanted = codec.tables_of(Home(house, (event,)))
    for name, table in wanted.items():
        db.table(name).insert_multiple([Document(document, int(key)) for key, document in table.items()])
    tables = db.storage.read()
    assert tables is not None
    assert codec.contents(codec.to_text(tables)) == Contents(Home(house, (event,)), as_written=True)
    assert db.table("events").get(doc_id=3) == wanted["events"]["3"]


@pytest.mark.parametrize("number", [float("nan"), float("inf"), float("-inf")])
def test_tinydb_cannot_write_what_is_no_number(tmp_path_factory: pytest.TempPathFactory, number: float) -> None:
    repository = Repository(tmp_path_factory.mktemp("nan") / "home.json")
    repository.create(House(name="Hillside", started=date(2027, 1, 1)))
    before = repository.path.read_bytes()
    with pytest.raises(StoreError, match="Nothing was written"):
        repository.tables().table("events").insert({"value": number})
    assert repository.path.read_bytes() == before


@pytest.mark.parametrize(
    "event",
    [
        meter(float("nan")),
        meter(float("inf")),
        Purchase(on=date(2027, 1, 11), supply="salt", quantity=1.0, price=float("nan")),
        Setting(on=date(2027, 1, 11), path="people", value=float("-inf")),
        Setting(on=date(2027, 1, 11), path="people", value=["no", "list"]),  # type: ignore[arg-type]
        meter("many"),  # type: ignore[arg-type]
        meter(1.0, "\ud800"),
        StageAdded(on=date(2027, 1, 11), stage={"id": {1, 2}, "tank": object()}),
    ],
    ids=[
        "nan",
        "infinity",
        "nan where none may be",
        "infinity in a setting",
        "list",
        "text for a number",
        "surrogate",
        "object",
    ],
)
def test_an_event_that_could_not_be_read_again_is_refused(repository: Repository, event: AnyEvent) -> None:
    before = repository.path.read_bytes()
    with pytest.raises(StoreError):
        repository.append(meter(1.0), event)
    assert repository.path.read_bytes() == before
    assert repository.load().events == ()


def test_a_house_that_could_not_be_read_again_is_refused(tmp_path_factory: pytest.TempPathFactory) -> None:
    repository = Repository(tmp_path_factory.mktemp("house") / "home.json")
    with pytest.raises(StoreError, match=r"people"):
        repository.create(House(name="Hillside", started=date(2027, 1, 1), people="two"))  # type: ignore[arg-type]
    with pytest.raises(StoreError, match="Nothing was written"):
        repository.create(House(name="Hillside", started=date(2027, 1, 1), people=float("nan")))
    assert not repository.exists()


@pytest.mark.parametrize(
    ("document", "where", "what"),
    [
        ({"kind": "dream", "on": "2027-01-11"}, "event 4, kind", "Invalid value 'dream'."),
        ({"kind": "incident", "on": "2027-13-11", "what": "frost"}, "event 4, on", "Invalid RFC3339 encoded date."),
        ({"kind": "incident", "on": "2027-01-11", "id": 4}, "event 4", "Object missing required field what."),
        ({"kind": "incident", "on": "2027-01-11", "id": 5, "what": "frost"}, "event 4", "it calls itself event 5."),
        ("frost", "event 4", "Expected object, got str."),
    ],
)
def test_what_is_wrong_in_an_event_comes_back_as_a_value(document: object, where: str, what: str) -> None:
    assert codec.event_from("4", document) == Problem(where, what)


def test_what_is_wrong_in_a_house_comes_back_as_a_value() -> None:
    found = codec.house_from({"name": "Hillside", "started": "2027-01-01", "uses": [{"title": "Goats"}]})
    assert found == Problem("house, uses[0]", "Object missing required field litres_per_week.")
