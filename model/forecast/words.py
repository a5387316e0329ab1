"""Days and spans in plain words."""

from __future__ import annotations

from datetime import date

from model.units import System, show

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def day_in_words(on: date, today: date) -> str:
    """A day as "3 Nov", with the year where it is not within nine months of today."""
    words = f"{on.day} {MONTHS[on.month - 1]}"
    return words if abs((on - today).days) < 270 else f"{words} {on.year}"


def ago(on: date, today: date) -> str:
    """How long ago a day was, as "today", "9 days ago" or "in 5 days"."""
    days = (today - on).days
    if days == 0:
        return "today"
    count = f"{abs(days)} day{'s' if abs(days) != 1 else ''}"
    return f"{count} ago" if days > 0 else f"in {count}"


def amount_in_words(value: float, unit: str, system: System) -> str:
    """What is left of a stock, in the owner's units where it is weighed or measured out: "31 lb", "4,100 gal"."""
    dimension = {"kg": "mass", "L": "volume"}.get(unit)
    return show(value, dimension, system) if dimension else f"{value:,.0f} {unit}"
