"""The form for a local rule: what it says, who said so, and when the owner asked."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model.records.events import LocalRule
from model.records.rules import TOPICS, current_rules, local_rule, rule_in_words
from model.records.typed import check_date, parse_date
from tui.dialogs.edit_setting import date_entry
from tui.dialogs.form import Entry, Form

if TYPE_CHECKING:
    from tui.view import View


def rule_form(view: View, topic: str = "") -> Form[LocalRule]:
    """A form that answers with one rule; `topic` stands in it to begin with."""
    known = current_rules(view.history).get(topic)
    entries = (
        Entry(id="topic", label="About", value=topic, hint=TOPICS.get(topic, f"{', '.join(TOPICS)} or another")),
        Entry(id="text", label="The rule", value=known.text if known else ""),
        Entry(id="said_by", label="Said by", value=known.said_by if known else "", hint="an office, a code, a trade"),
        date_entry(view.today, "Asked on"),
    )

    def take(typed: dict[str, str]) -> LocalRule:
        on = parse_date(typed["on"], view.today)
        check_date(on, view.today)
        return local_rule(typed["topic"], typed["text"], typed["said_by"], on, view.today)

    now = f"Now: {rule_in_words(known)}. " if known else ""
    return Form("Local rule", entries, take, about=f"{now}Local code comes first. It is asked about again in a year.")
