"""Between the file's text and typed records. What does not fit comes back as problems, never as an exception."""

from __future__ import annotations

import gc
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from datetime import date
from functools import cache
from json import JSONEncoder
from operator import eq
from typing import Any, TypeVar

import msgspec

from model.errors import StoreError
from model.home import Home, House
from model.records.events import AnyEvent
from model.store import migrations
from model.store.migrations import Meta, Tables, migrated, schema_of
from model.store.problem import Problem

T = TypeVar("T")

ONLY = "1"
"""The id of the one document in the tables "meta" and "house"."""
TABLES = ("meta", "house", "events")
"""In the order of the file: the log is last, so that a new event goes at the end."""

_STRICT = JSONEncoder(ensure_ascii=False, allow_nan=False, separators=(",", ":"))
_BROKEN = (msgspec.MsgspecError, UnicodeDecodeError, RecursionError)


class Contents(msgspec.Struct, frozen=True):
    """What a file holds. `as_written`: the file has the present form, with its tables in order."""

    home: Home
    as_written: bool


def contents(text: bytes) -> Contents | tuple[Problem, ...]:
    """The home in a file's text, or all that keeps it from being read."""
    return _at_once(text) or _one_by_one(text)


def read_json(text: bytes) -> Tables | Problem:
    """The tables in a file's text as plain dicts. NaN and infinities are refused: they are not JSON."""
    if not text.strip():
        return Problem("the whole file", "it is empty.")
    try:
        found = msgspec.json.decode(text)
    except _BROKEN as error:
        return json_problem(text, error)
    if isinstance(found, dict) and all(isinstance(table, dict) for table in found.values()):
        return found
    return Problem("the whole file", "this is not a wellward file.", "Name the home's file with --file.")


def present_form(tables: Tables) -> Tables | Problem:
    """The tables in the form this program writes, or why they are not a home's."""
    schema = schema_of(tables)
    return schema if isinstance(schema, Problem) else migrated(tables, schema)


def house_from(document: object) -> House | Problem:
    """The house in a document."""
    return _tried(lambda: msgspec.convert(document, House), "house")


def event_from(key: str, document: object) -> AnyEvent | Problem:
    """The event in a document whose id in the table is `key`."""
    event: AnyEvent | Problem = _tried(lambda: msgspec.convert(document, AnyEvent), f"event {key}")
    if isinstance(event, Problem) or (str(event.id) == key and event.id > 0):
        return event
    return Problem(f"event {key}", f"it calls itself event {event.id}.")


def tables_of(home: Home) -> Tables:
    """The file's tables for a home. Raises StoreError for what no file can hold."""
    return {
        "meta": {ONLY: msgspec.to_builtins(Meta(schema=migrations.SCHEMA))},
        "house": {ONLY: _plain(home.house)},
        "events": {str(event.id): _plain(event) for event in home.events},
    }


def to_text(tables: Mapping[str, Mapping[Any, Any]]) -> bytes:
    """The file's text: JSON with one document on a line.

    Raises:
        StoreError: something JSON cannot hold, such as NaN or an infinity.
    """
    bodies = []
    for name, table in tables.items():
        lines = (f"\n{_json(str(key))}:{_json(document)}" for key, document in table.items())
        bodies.append(f"{_json(name)}:{{{','.join(lines)}}}")
    return _utf8("{" + ",\n".join(bodies) + "}\n")


def with_events(text: bytes, events: Mapping[int, bytes]) -> bytes:
    """A file's text with more events at its end. The text must be `as_written`.

    Args:
        text: the file, whole and found readable.
        events: the new events by their id, as `event_text` gives them.
    """
    end = _closing(text, _closing(text, len(text)))
    empty = text[end - 1 : end] == b"{"
    lines = b",".join(b'\n"%d":%s' % event for event in events.items())
    return b"".join((memoryview(text)[:end], b"" if empty else b",", lines, b"}}\n"))


def event_text(event: AnyEvent) -> tuple[AnyEvent, bytes]:
    """The event as it will be read again, and its text.

    Raises:
        StoreError: it cannot be written, or not be read again.
    """
    text = _utf8(_json(_plain(event)))
    try:
        return _events().decode(text), text
    except _BROKEN as error:
        raise StoreError(f"This cannot be recorded: {error}.", "Nothing was written.") from error


def json_problem(text: bytes, error: Exception) -> Problem:
    """Where and why a text is not JSON."""
    what, _, tail = str(error).removeprefix("JSON is malformed: ").partition(" (byte ")
    if isinstance(error, UnicodeDecodeError):
        return Problem("the whole file", "it is not UTF-8 text.")
    if isinstance(error, RecursionError):
        return Problem("the whole file", "it is nested too deeply.")
    if "truncated" in what:
        return Problem(f"line {_line(text, len(text))}", "it ends in the middle.")
    at = int(tail.rstrip(")")) if tail else 0
    where = f"line {_line(text, at)} (byte {at})" if tail else "the whole file"
    return Problem(where, f"this is not JSON: {what.partition(' - at')[0].lower()}.")


def _line(text: bytes, at: int) -> int:
    return text.count(b"\n", 0, at) + 1


def _at_once(text: bytes) -> Contents | None:
    """The usual way: everything in two passes, without dicts in between. None where anything is odd."""
    try:
        with _no_collecting():
            raw = _raw().decode(text)
            if tuple(raw) != TABLES:
                return None
            meta, house = _metas().decode(raw["meta"]), _houses().decode(raw["house"])
            events = _logs().decode(raw["events"])
            ids = [event.id for event in events.values()]
            numbered = min(ids, default=1) > 0 and all(map(eq, events, map(str, ids)))
    except _BROKEN:
        return None
    if [*meta] != [ONLY] or meta[ONLY].program != migrations.PROGRAM or [*house] != [ONLY] or not numbered:
        return None
    schema = meta[ONLY].schema
    if not migrations.READ_AS_IT_IS <= schema <= migrations.SCHEMA:
        return None
    return Contents(Home(house[ONLY], tuple(events.values())), as_written=schema == migrations.SCHEMA)


def _one_by_one(text: bytes) -> Contents | tuple[Problem, ...]:
    """The slow way: an older form, tables in another order, or a file with something wrong in it."""
    tables = read_json(text)
    if not isinstance(tables, Problem):
        tables = present_form(tables)
    return (tables,) if isinstance(tables, Problem) else _typed(tables)


def _typed(tables: Tables) -> Contents | tuple[Problem, ...]:
    problems = [Problem(f"table {name}", "it is missing.") for name in TABLES if name not in tables]
    problems += [Problem(f"table {name}", "there is no such table.") for name in tables if name not in TABLES]
    for name in ("meta", "house"):
        if [*tables.get(name, {ONLY: 0})] != [ONLY]:
            problems.append(Problem(f"table {name}", "it must hold one document with the id 1, and no other."))
    return tuple(problems) or _filled_in(tables)


def _filled_in(tables: Tables) -> Contents | tuple[Problem, ...]:
    house = house_from(tables["house"][ONLY])
    events = [event_from(key, document) for key, document in tables["events"].items()]
    good = tuple(event for event in events if not isinstance(event, Problem))
    problems = tuple(found for found in (house, *events) if isinstance(found, Problem))
    if problems or isinstance(house, Problem):
        return problems
    return Contents(Home(house, good), as_written=False)


def _tried(convert: Callable[[], T], where: str) -> T | Problem:
    try:
        return convert()
    except (msgspec.ValidationError, RecursionError) as error:
        what, _, path = str(error).partition(" - at `$")
        field = path.rstrip("`").lstrip(".")
        return Problem(f"{where}, {field}" if field else where, f"{what.replace('`', '')}.")


def _plain(record: msgspec.Struct) -> dict[str, Any]:
    try:
        plain: dict[str, Any] = msgspec.to_builtins(record, enc_hook=_plain_date)
    except (TypeError, ValueError, RecursionError) as error:
        raise StoreError(f"This cannot be written: {error}.", "Nothing was written.") from error
    return plain


def _plain_date(value: object) -> str:
    # Clock libraries have dates of their own kind.
    if isinstance(value, date):
        return value.isoformat()
    raise TypeError(f"nothing of the kind {type(value).__name__} can be kept")


def _json(value: object) -> str:
    try:
        return _STRICT.encode(value)
    except (ValueError, TypeError, RecursionError) as error:
        raise StoreError(f"This cannot be written: {error}.", "Nothing was written.") from error


def _utf8(text: str) -> bytes:
    try:
        return text.encode()
    except UnicodeEncodeError as error:
        raise StoreError("This text holds half a character, which no file can keep.", "Type it again.") from error


def _closing(text: bytes, end: int) -> int:
    """Where the text before `end` stops, without the bracket that closes it."""
    end = _filled(text, end)
    return _filled(text, end - 1)


def _filled(text: bytes, end: int) -> int:
    while text[end - 1] in b" \t\r\n":
        end -= 1
    return end


@contextmanager
def _no_collecting() -> Iterator[None]:
    # Records made by the thousand are no garbage; looking for some among them takes a third of the time.
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


@cache
def _raw() -> msgspec.json.Decoder[dict[str, msgspec.Raw]]:
    return msgspec.json.Decoder(dict[str, msgspec.Raw])


@cache
def _metas() -> msgspec.json.Decoder[dict[str, Meta]]:
    return msgspec.json.Decoder(dict[str, Meta])


@cache
def _houses() -> msgspec.json.Decoder[dict[str, House]]:
    return msgspec.json.Decoder(dict[str, House])


@cache
def _logs() -> msgspec.json.Decoder[dict[str, AnyEvent]]:
    return msgspec.json.Decoder(dict[str, AnyEvent])


@cache
def _events() -> msgspec.json.Decoder[AnyEvent]:
    return msgspec.json.Decoder(AnyEvent)
