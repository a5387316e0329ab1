"""The command that tries other settings beside today's. It writes nothing."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from model.errors import BadInput
from model.forecast.situation import Situation
from model.forecast.what_if import Comparison
from model.forecast.what_if_figures import pictured
from model.forecast.what_if_home import Change
from model.units import echo
from tui.cli.home_file import print_json, repository
from tui.widgets.setting_text import allowed, read_value, show_value
from tui.widgets.what_if_changes import tried, with_change
from tui.widgets.what_if_fields import every_field, fields_of
from tui.widgets.what_if_words import month_rows, table_rows

if TYPE_CHECKING:
    from tui.cli.parser import Asked
    from tui.widgets.settings import Field

_WIDTH = 64


def what_if(asked: Asked) -> int:
    """Print the house today and then, or what can be changed."""
    now = Situation(repository(asked).load(), asked.today)
    if not asked.changes:
        return _list(now, asked)
    changes: tuple[Change, ...] = ()
    fields = {one.path: one for one in every_field(now)}
    for text in asked.changes:
        path, equals, typed = text.rpartition("=")
        if not equals or path not in fields:
            raise BadInput(f"{echo(path or text)} is nothing that can be changed.", "wellward what-if lists what can.")
        changes = with_change(changes, fields[path], _value(fields[path], typed, now))
    found = tried(now, pictured(now), changes)
    if asked.json:
        print_json(_as_json(found, changes))
        return 0
    lines = [*(f"! {one}" for one in found.cautions), *(row for row, _ in table_rows(found, _WIDTH, now.house.units))]
    print("\n".join([*lines, "", *month_rows(found, _WIDTH), *found.notes, "Nothing was written down."]))
    return 0


def _value(field: Field, typed: str, now: Situation) -> float | int | str | bool | None:
    """The value typed. Raises BadInput as the forms of House do."""
    if field.kind == "yes_no":
        if typed not in ("yes", "no"):
            raise BadInput(f"{field.label.label} is yes or no.")
        return typed == "yes"
    if field.kind == "choice" and typed not in field.choices:
        raise BadInput(f"{field.label.label} cannot be that.", f"Allowed: {', '.join(field.choices)}.")
    return read_value(field, typed, now.house.units, now.today)


def _list(now: Situation, asked: Asked) -> int:
    fields, units = fields_of(now), now.house.units
    if asked.json:
        print_json({"changeable": [{"path": one.path, "label": one.label.label, "value": one.value} for one in fields]})
        return 0
    wide = max((len(one.path) for one in fields), default=0)
    for one in fields:
        may = ", ".join(one.choices) if one.kind == "choice" else allowed(one, units)
        print(f"{one.path:<{wide}}  {one.label.label}: {show_value(one, units)} ({may})")
    return 0


def _as_json(found: Comparison, changes: tuple[Change, ...]) -> dict[str, object]:
    return {
        "changes": [{"path": one.path, "value": one.value} for one in changes],
        "currency": found.currency,
        "figures": [
            {
                "id": row.id,
                "dimension": row.dimension,
                "today": _plain(row.today),
                "then": _plain(row.then),
                "difference": row.difference,
            }
            for row in found.rows
        ],
        "months": [{"starts": day.isoformat(), "today": old, "then": new} for day, old, new in found.months],
        "cautions": list(found.cautions),
        "notes": list(found.notes),
    }


def _plain(value: float | date | None) -> float | str | None:
    return value.isoformat() if isinstance(value, date) else value
