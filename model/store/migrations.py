"""The form of the file, and how an older form becomes the present one."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import msgspec

from model.store.problem import Problem

SCHEMA = 3
"""The form of the file that this program writes."""
READ_AS_IT_IS = 1
"""From this form on the records are those of the present form: newer forms only have more kinds of event."""
PROGRAM = "wellward"

Tables = dict[str, Any]
"""The whole file as TinyDB sees it: table -> document id -> document."""


def _unchanged(tables: Tables) -> Tables:
    """To a form in which more may follow, unknown to older programs. Form 2: guests, named uses, explanations, answers
    to findings. Form 3: contacts, and a token in each event."""
    return tables


MIGRATIONS: dict[int, Callable[[Tables], Tables]] = {1: _unchanged, 2: _unchanged}
"""Form -> the function that turns a file of that form into the next one. It may change what it is given."""


class Meta(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The one document of table "meta"."""

    schema: int
    program: str = PROGRAM


def schema_of(tables: Tables) -> int | Problem:
    """The form a file says it has, or why it is not one of ours."""
    try:
        meta = msgspec.convert(tables["meta"]["1"], Meta)
    except (KeyError, TypeError, msgspec.ValidationError):
        return Problem("table meta", "this is not a wellward file.", "Name the home's file with --file.")
    if meta.program != PROGRAM or meta.schema < 1:
        return Problem("table meta", "this is not a wellward file.", "Name the home's file with --file.")
    if meta.schema > SCHEMA:
        what = f"the file has form {meta.schema}, this program knows forms up to {SCHEMA}."
        return Problem("table meta", what, "Update wellward, then open it again.")
    return meta.schema


def migrated(tables: Tables, schema: int) -> Tables | Problem:
    """The tables in the present form, with every step from `schema` on taken in order.

    The caller keeps a copy of the file before the result is written.
    """
    for step in range(schema, SCHEMA):
        try:
            tables = MIGRATIONS[step](tables)
            tables["meta"] = {"1": {"schema": step + 1, "program": PROGRAM}}
        except (KeyError, TypeError, ValueError, AttributeError, IndexError) as error:
            return Problem(f"form {step}", f"the file cannot be brought to form {step + 1} ({error!r}).")
    return tables
