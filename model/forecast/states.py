"""How near a day to act is."""

from __future__ import annotations

from datetime import date

from model.plan_types import State


def state_of(act_on: date, today: date) -> State:
    """Overdue before today; this week to six days on; soon to thirty; else later."""
    days = (act_on - today).days
    if days < 0:
        return "overdue"
    return "this_week" if days <= 6 else "soon" if days <= 30 else "later"
