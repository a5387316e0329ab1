"""The commands for valve handles and local rules: each records where it is given something, and lists otherwise."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from model.errors import BadInput
from model.forecast.handle_list import handle_rows, means, moved
from model.forecast.situation import Situation
from model.records.history import History
from model.records.intake import check_date, parse_date
from model.records.rules import TOPICS, current_rules, local_rule, rule_in_words
from tui.cli.home_file import print_json, repository
from tui.cli.recording import record_event

if TYPE_CHECKING:
    from model.forecast.handle_list import HandleRow
    from tui.cli.parser import Asked


def handle(asked: Asked) -> int:
    """Record where a handle stands now, or list all handles."""
    store = repository(asked)
    now = Situation(store.load(), asked.today)
    if asked.handle is None:
        return _list_handles(handle_rows(now), asked)
    if asked.position is None:
        raise BadInput(f"Where does {asked.handle} stand?", "Write wellward handle HANDLE service, bypass or closed.")
    event = moved(now, asked.handle, asked.position, _day(asked), asked.note)
    return record_event(asked, store, event, said=means(now, event))


def _list_handles(rows: tuple[HandleRow, ...], asked: Asked) -> int:
    if asked.json:
        print_json({"handles": [_as_json(row) for row in rows]})
        return 0
    wide = max((len(row.id) for row in rows), default=0)
    print("\n".join(f"{row.id:<{wide}}  {row.title}: {row.in_words(asked.today)}" for row in rows) or "No handles yet.")
    return 0


def _as_json(row: HandleRow) -> dict[str, object]:
    found: dict[str, object] = {"handle": row.id, "title": row.title, "position": row.position}
    if row.since:
        found["since"] = row.since.isoformat()
    return found | ({"note": row.words} if row.words else {})


def rule(asked: Asked) -> int:
    """Record what a local rule says, or list the rules."""
    store = repository(asked)
    if asked.topic is None:
        return _list_rules(History(store.load().events, asked.today), asked)
    event = local_rule(asked.topic, asked.text or "", asked.said_by or "", _day(asked), asked.today)
    return record_event(asked, store, event)


def _list_rules(history: History, asked: Asked) -> int:
    known = current_rules(history)
    if asked.json:
        rows = [
            {"topic": one.topic, "text": one.text, "said_by": one.said_by, "checked_on": one.checked_on.isoformat()}
            for one in known.values()
        ]
        print_json({"rules": rows})
        return 0
    for topic in (*TOPICS, *(one for one in known if one not in TOPICS)):
        print(f"{topic}: {rule_in_words(known[topic]) if topic in known else f'not written down ({TOPICS[topic]}?)'}")
    return 0


def _day(asked: Asked) -> date:
    on = asked.today if asked.on is None else parse_date(asked.on, asked.today)
    check_date(on, asked.today)
    return on
