"""Refusals that the exchange calculations share."""

from __future__ import annotations

from collections.abc import Iterable

from model.errors import BadInput


def all_within(what: str, values: Iterable[float], least: float, most: float) -> None:
    """Raise BadInput unless every value is a number from `least` to `most`, in the unit that `what` names."""
    for value in values:
        if not least <= value <= most:
            raise BadInput(f"{what} must be from {least:g} to {most:g}, not {value:g}.")
