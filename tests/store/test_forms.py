"""Files as each released form of the program wrote them: read, added to, and nothing of them lost.

A new form adds a file here; none is ever changed.
"""

from __future__ import annotations

import json
import shutil
from datetime import date
from pathlib import Path

import pytest

from model.plan import plan
from model.records.events import Incident
from model.store import migrations
from model.store.repository import Repository

FORMS = sorted((Path(__file__).parent / "forms").glob("*.json"))


def test_there_is_a_file_of_every_form() -> None:
    assert [int(one.stem) for one in FORMS] == list(range(1, migrations.SCHEMA + 1))


@pytest.mark.parametrize("stored", FORMS, ids=lambda one: f"form {one.stem}")
def test_a_file_of_an_older_form_is_read_and_grows_without_a_loss(stored: Path, tmp_path: Path) -> None:
    path = tmp_path / "home.json"
    shutil.copy(stored, path)
    before = json.loads(stored.read_bytes())
    store = Repository(path)
    assert not store.problems()
    home = store.load()
    assert [str(one.id) for one in home.events] == list(before["events"])
    assert plan(home, date(2026, 11, 25)).due
    assert path.read_bytes() == stored.read_bytes()
    store.append(Incident(on=date(2026, 11, 25), what="frost"))
    after = json.loads(path.read_bytes())
    assert after["meta"]["1"]["schema"] == migrations.SCHEMA
    new = after["events"].popitem()[1]
    assert new["what"] == "frost"
    assert _said(after["events"]) == _said(before["events"])
    assert _said(after["house"]).items() >= _said(before["house"]).items()
    kept = [one.read_bytes() for one in tmp_path.glob("home.json.kept-*")]
    assert kept == ([stored.read_bytes()] if int(stored.stem) < migrations.SCHEMA else [])


def _said(document: object, path: str = "") -> dict[str, object]:
    """Every value of a document by its path, without what says nothing (null, "", 0, an empty list)."""
    if isinstance(document, dict):
        parts = list(document.items())
    elif isinstance(document, list):
        parts = list(enumerate(document))
    else:
        return {path: document} if document else {}
    return {where: value for key, part in parts for where, value in _said(part, f"{path}/{key}").items()}
