"""Spoilt files: whatever is in the home's place, one clear message, and not a byte of it changed.

Each file is loaded, checked and added to. What can be read all the same is shown by a command too, which has to answer
in words. Tracebacks, files written over, slow answers and memory that grows are counted.
"""

from __future__ import annotations

import io
import random
import resource
import sys
import tempfile
import time
import traceback
from collections import Counter
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path

from model.errors import StoreError, UnreadableFile
from model.home import Home
from model.records.events import Correction, Incident
from model.redate import redated
from model.store.kept import folder_of
from model.store.repository import Repository
from sample_data import SAMPLE
from tests.benchmarks.mangling import WAYS
from tests.benchmarks.planning import TODAY
from tui.cli import main

MANY = 100_000
SLOW_SECONDS = 5.0
"""Of processor time, for loading, checking, adding and one command."""
_WORDS = (
    "due",
    "due --json",
    "log",
    "log --json",
    "costs",
    "water",
    "check",
    "round",
    "visit",
    "what-if",
    "guide water",
)
_COMMANDS = tuple(words.split() for words in _WORDS)


def mangled(words: list[str]) -> None:
    """Print what became of so many spoilt files. Exits 1 where any was not answered as it should."""
    many = int(words[0]) if words else MANY
    before = _memory_mb()
    found = spoil(many, seed=int(words[1]) if words[1:] else many)
    print(
        " ".join(f"{name}={count}" for name, count in sorted(found.items())), f"memory_grew_mb={_memory_mb() - before}"
    )
    sys.exit(1 if found["bad"] else 0)


def spoil(many: int, seed: int) -> Counter[str]:
    """Spoil a small home in so many ways; counts what came of it, and under "bad" what should not be."""
    chance, found = random.Random(seed), Counter[str](bad=0)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "home.json"
        good = _a_text(path)
        for number in range(many):
            way = chance.choice(WAYS)
            text = way(good, chance)
            path.write_bytes(text)
            start = time.process_time()
            try:
                found[_tried(path, text, chance=chance)] += 1
                if time.process_time() - start > SLOW_SECONDS:
                    raise AssertionError("slow")
            except Exception:
                found["bad"] += 1
                _keep(path, text, way.__name__, number)
    return found


def _a_text(path: Path) -> bytes:
    """The sample home with some events of each kind."""
    home = redated(Repository(SAMPLE).load(), TODAY)
    seen = Counter[type]()
    events = [one for one in reversed(home.events) if seen.update([type(one)]) or seen[type(one)] <= 4]
    events = [one for one in events if not isinstance(one, Correction)]
    Repository(path).create(home.house, sorted(events, key=lambda one: one.id))
    return path.read_bytes()


def _tried(path: Path, text: bytes, chance: random.Random) -> str:
    store = Repository(path)
    try:
        home: Home | None = store.load()
    except UnreadableFile as problem:
        _clear(str(problem), path)
        home = None
    problems = store.problems()
    assert all("\n" not in str(one) and len(str(one)) < 2_000 for one in problems), problems
    if home is None:
        assert problems
    _add(store, text, readable=home is not None)
    if home is not None and chance.random() < 0.15:
        path.write_bytes(text)
        _command(path, chance.choice(_COMMANDS))
    return "unreadable" if home is None else "odd" if problems else "read"


def _clear(said: str, path: Path) -> None:
    assert str(path) in said
    assert "\n" not in said
    assert len(said) < 2_000


def _add(store: Repository, text: bytes, *, readable: bool) -> None:
    """An event is added to what can be read, whose text before is kept; the rest is left as it is."""
    path = store.path
    try:
        store.append(Incident(on=TODAY, what="frost"))
    except StoreError:
        assert path.read_bytes() == text
        return
    assert readable
    kept = [*path.parent.glob("*.kept-*"), *folder_of(path).glob("*.json")]
    assert any(one.read_bytes() == text for one in kept)
    for one in kept:
        one.unlink()
    Repository(path).load()


def _command(path: Path, words: list[str]) -> None:
    said = io.StringIO()
    with redirect_stdout(said), redirect_stderr(said):
        code = main([*words, "--file", str(path), "--today", str(TODAY)])
    assert code in (0, 1, 3), said.getvalue()


def _keep(path: Path, text: bytes, way: str, number: int) -> None:
    kept = Path(tempfile.gettempdir()) / f"wellward-mangled-{number}.json"
    kept.write_bytes(text)
    print(f"{way}, kept as {kept}:\n{traceback.format_exc(limit=-4)}", file=sys.stderr)


def _memory_mb() -> int:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
