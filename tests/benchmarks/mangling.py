"""Ways in which a home's file can be spoilt: by disks, by editors, by other programs."""

from __future__ import annotations

import gzip
import json
import random
from collections.abc import Callable
from typing import Any

Chance = random.Random

RAW = "RAW-"
"""A text in a JSON document that is put there as it is, without its quotes."""
_VALUES: tuple[object, ...] = (
    None,
    True,
    0,
    -1,
    3.5,
    -1e308,
    1e-308,
    1e308,
    2**63,
    10**40,
    "",
    "x",
    "0",
    "2026-02-30",
    "0001-01-01",
    "9999-12-31",
    "2026-11-25T10:00:00Z",
    "\ud800",
    "\x00\x1b[31m",
    "x" * 100_000,
    [],
    {},
    [[]],
    [None],
    {"kind": "reading"},
    {"id": 1},
    f"{RAW}NaN",
    f"{RAW}Infinity",
    f"{RAW}1e999",
    f"{RAW}{'9' * 5000}",
    f"{RAW}{'[' * 2000}{']' * 2000}",
    f'{RAW}{{"a":' + '{"a":' * 300 + "1" + "}" * 301,
)
_ABSURD: tuple[object, ...] = (
    *(-1e308, -1e9, -1.0, -0.0, 0.0, 5e-324, 1e-9, 1e9, 1e15, 1e308),
    *(-(2**63), -1, 0, 1, 10**9, 2**63),
    *("0001-01-01", "1969-12-31", "2028-02-29", "2026-11-25", "2199-12-31", "9999-12-31"),
    *("", " ", "x", "-", ".", "softener", "softener.", "a.b.c", "../../etc/passwd", "[b]x[/b]", "é" * 300, "\x1b[2J"),
    *(True, False),
    *([], {}),
)
_OTHERS = (
    b"[]",
    b"{}",
    b"null",
    b"0",
    b'"text"',
    b'{"name": "left-pad", "dependencies": {}}',
    b'{"type": "FeatureCollection", "features": []}',
    b'{"_default": {"1": {"a": 1}}}',
    b'{"meta": {}, "house": {}, "events": {}}',
    b'{"meta": {"1": {"schema": 2, "program": "wellward"}}, "house": {"1": []}, "events": []}',
    b'{"meta": {"1": {"schema": 99, "program": "wellward"}}, "house": {}, "events": {}}',
    b"day;litres\n2026-11-25;100\n",
    b"[" * 100_000,
    b'{"a":' * 100_000,
    b"\xff\xfe{\x00}\x00",
)


def cut(text: bytes, chance: Chance) -> bytes:
    """The end is missing."""
    return text[: chance.randrange(len(text))]


def bits(text: bytes, chance: Chance) -> bytes:
    """Some bits are the other way round."""
    spoilt = bytearray(text)
    for _ in range(chance.choice((1, 1, 2, 8, 64))):
        spoilt[chance.randrange(len(spoilt))] ^= 1 << chance.randrange(8)
    return bytes(spoilt)


def block(text: bytes, chance: Chance) -> bytes:
    """A block is missing, zero, there twice, or elsewhere."""
    start = chance.randrange(len(text))
    end = min(len(text), start + chance.choice((1, 7, 64, 512)))
    piece = chance.choice((b"", bytes(end - start), text[start:end] * 2, text[: end - start]))
    return text[:start] + piece + text[end:]


def value(text: bytes, chance: Chance) -> bytes:
    """Something in the document is of another kind, far too large, or not JSON."""
    document = json.loads(text)
    holder, key = _somewhere(document, chance)
    holder[key] = chance.choice(_VALUES)
    return _written(document)


def absurd(text: bytes, chance: Chance) -> bytes:
    """A number, a day or a word is of the right kind and makes no sense; some such files can be read."""
    document = json.loads(text)
    for _ in range(chance.choice((1, 1, 3, 10))):
        holder, key = _somewhere(document, chance)
        old = holder[key]
        alike = [one for one in _ABSURD if type(one) is type(old) and _is_day(one) == _is_day(old)]
        holder[key] = chance.choice(alike) if alike else old
    return _written(document)


def gone(text: bytes, chance: Chance) -> bytes:
    """Something in the document is missing."""
    document = json.loads(text)
    holder, key = _somewhere(document, chance)
    del holder[key]
    return _written(document)


def extra(text: bytes, chance: Chance) -> bytes:
    """Something in the document is there under another name, or under one more."""
    document = json.loads(text)
    holder, key = _somewhere(document, chance)
    if isinstance(holder, list):
        holder.append(holder[key])
    else:
        holder[chance.choice(("zz", "1", "id", "on", "kind", "", "2"))] = holder[key]
    return _written(document)


def twice(text: bytes, chance: Chance) -> bytes:
    """Two events with one id, or a line there twice."""
    lines = text.split(b"\n")
    place = chance.randrange(2, len(lines) - 1)
    return b"\n".join([*lines[:place], lines[chance.randrange(2, len(lines) - 1)], *lines[place:]])


def other(text: bytes, chance: Chance) -> bytes:
    """Another file altogether, or this one as another program would write it."""
    encoded = (b"\xef\xbb\xbf" + text, text.decode().encode("utf-16"), gzip.compress(text, 1), text + text)
    return chance.choice((*_OTHERS, *encoded))


WAYS: tuple[Callable[[bytes, Chance], bytes], ...] = (
    cut,
    bits,
    block,
    value,
    value,
    absurd,
    absurd,
    absurd,
    gone,
    extra,
    twice,
    other,
)
"""Each as likely as the others; wrong values are there more than once, for there are many kinds of them."""


def _somewhere(document: object, chance: Chance) -> tuple[Any, Any]:
    """A place in a document, deep ones as likely as others: what holds it, and its key."""
    places: list[tuple[Any, Any]] = []
    left = [document]
    while left:
        holder = left.pop()
        if isinstance(holder, dict | list):
            keys = list(holder) if isinstance(holder, dict) else list(range(len(holder)))
            places += [(holder, key) for key in keys]
            left += [holder[key] for key in keys]
    return chance.choice(places)


def _is_day(value: object) -> bool:
    return isinstance(value, str) and len(value) == 10 and value[4:5] == value[7:8] == "-"


def _written(document: object) -> bytes:
    pieces = json.dumps(document).split(f'"{RAW}')
    raw = [_raw(piece) for piece in pieces[1:]]
    return "".join([pieces[0], *("".join(one) for one in raw)]).encode()


def _raw(piece: str) -> list[str]:
    end = piece.replace('\\"', "  ").index('"')
    return [piece[:end].replace('\\"', '"'), piece[end + 1 :]]
