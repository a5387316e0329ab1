"""The command that makes a calendar of the plan."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from model import clock
from model.forecast.situation import Situation
from model.pages.calendar import calendar_file, entries, sequence_of
from model.plan import plan_of
from tui.cli.home_file import repository
from tui.cli.to_file import give

if TYPE_CHECKING:
    from tui.cli.parser import Asked


def calendar(asked: Asked) -> int:
    """The days to act as an iCalendar file."""
    home = repository(asked).load()
    now = Situation(home, asked.today)
    rows = entries(now, plan_of(now, with_numbers=False, with_shelf=False))
    stamp = datetime.fromisoformat(clock.stamp())
    text = calendar_file(home, now.house.name, rows, stamp, sequence_of(home, now.today))
    listed = [{"uid": row.uid, "on": row.on.isoformat(), "task": row.task, "summary": row.summary} for row in rows]
    document: dict[str, object] = {"today": now.today.isoformat(), "events": listed}
    return give(asked, text, f"{len(rows)} events", document)
