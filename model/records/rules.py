"""Local rules as the owner was told them: brine to a septic field, backflow, discharge, and any other topic."""

from __future__ import annotations

from datetime import date

from model.errors import BadInput
from model.records.events import LocalRule
from model.records.history import History

TOPICS: dict[str, str] = {
    "brine": "may softener brine go to a septic field",
    "backflow": "which protection against backflow is asked for",
    "discharge": "where backwash and reject water may go",
}
"""The topics to ask about, each with its question. More may be written down."""

ASK_AGAIN = "local_rules"
"""The yearly job of the well that asks again."""

_LONGEST_TOPIC, _LONGEST_TEXT = 40, 600


def local_rule(topic: str, text: str, said_by: str, checked_on: date, today: date) -> LocalRule:
    """The event of one rule, written down today.

    Raises:
        BadInput: topic, text or who said so is missing or too long.
    """
    kept, said, who = (" ".join(one.split()) for one in (topic, text, said_by))
    if not kept or len(kept) > _LONGEST_TOPIC:
        raise BadInput("What is the rule about?", f"Say one of {', '.join(TOPICS)}, or a few words.")
    if not said or len(said) > _LONGEST_TEXT:
        raise BadInput("What does the rule say?", f"Write it in words, {_LONGEST_TEXT} letters at most.")
    if not who or len(who) > _LONGEST_TEXT:
        raise BadInput("Who said so?", "Name the office, the code or the trade: --by county health office.")
    return LocalRule(on=today, topic=kept.casefold(), text=said, said_by=who, checked_on=checked_on)


def current_rules(history: History) -> dict[str, LocalRule]:
    """The rule of each topic that was asked about last, the known topics first."""
    found: dict[str, LocalRule] = {}
    for one in sorted(history.of(LocalRule), key=lambda one: (one.checked_on, one.id)):
        found[one.topic] = one
    return {topic: found[topic] for topic in (*TOPICS, *sorted(found)) if topic in found}


def last_asked(history: History, done: date | None) -> date | None:
    """The day from which a year counts until the rules are asked about again: that of the one asked longest ago.

    `done`: the day on which all were last gone through, if ever; until then every topic has to be written down.
    """
    known = current_rules(history)
    if done is None and any(topic not in known for topic in TOPICS):
        return None
    days = [max(one.checked_on, done or one.checked_on) for one in known.values()]
    return min(days, default=done)


def rule_in_words(rule: LocalRule) -> str:
    """ "not into the field (county health office, asked 2026-03-01)"."""
    return f"{rule.text} ({rule.said_by}, asked {rule.checked_on})"
