"""Refusal of numbers that a relation cannot be asked."""

from __future__ import annotations

from math import isfinite

from model.errors import BadInput


def positive(what: str, value: float) -> None:
    """Refuse a value that is not finite and above 0. Raises BadInput."""
    if not (isfinite(value) and value > 0):
        raise BadInput(f"The {what} must be above 0, not {value:g}.")


def at_least(what: str, value: float, least: float) -> None:
    """Refuse a value that is not finite or lies under `least`. Raises BadInput."""
    if not (isfinite(value) and value >= least):
        raise BadInput(f"The {what} must be at least {least:g}, not {value:g}.")


def share(what: str, value: float) -> None:
    """Refuse a share outside 0 to 1. Raises BadInput."""
    if not 0.0 <= value <= 1.0:
        raise BadInput(f"The {what} must be from 0 to 1, not {value:g}.")
