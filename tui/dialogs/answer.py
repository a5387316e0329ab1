"""The forms that put a finding away: for good with a reason, or until a day."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING

from model.findings.answers import answer_to
from model.records.typed import parse_date
from tui.dialogs.form import Entry, Form
from tui.key_words import key

if TYPE_CHECKING:
    from model.plan_types import Finding
    from model.records.events import FindingAnswered
    from tui.view import View

SNOOZE_DAYS = 14


def dismiss_form(found: Finding, view: View) -> Form[FindingAnswered]:
    """A form that answers with the reason for which a finding is dismissed."""
    about = (
        f"{found.title}. It stays away until a new reading shows it, and is counted until then. {key('undo')} takes "
        "this back."
    )
    entries = (Entry(id="reason", label="Why?", hint="like: probed it, the salt is loose"),)
    return Form(
        "Dismiss this finding?",
        entries,
        lambda typed: answer_to(found, "dismissed", view.today, typed["reason"]),
        about=about,
        save="Dismiss",
    )


def snooze_form(found: Finding, view: View) -> Form[FindingAnswered]:
    """A form that answers with the day until which a finding is put off."""
    until = view.today + timedelta(days=SNOOZE_DAYS)
    entries = (
        Entry(id="until", label="Until", value=until.isoformat(), hint="YYYY-MM-DD: told again from that day"),
        Entry(id="reason", label="Why?", hint="if you like"),
    )

    def take(typed: dict[str, str]) -> FindingAnswered:
        return answer_to(found, "snoozed", view.today, typed["reason"], parse_date(typed["until"], view.today))

    about = (
        f"{found.title}. It is counted meanwhile. A danger comes back with the next reading. {key('undo')} takes "
        "this back."
    )
    return Form("Put this finding off?", entries, take, about=about, save="Put off")
