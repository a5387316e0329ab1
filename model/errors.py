"""The one family of errors that reach the user: what is wrong, and what to do now."""

from __future__ import annotations


class WellwardError(Exception):
    """A problem the user can act on.

    `what` says what is wrong and where; `now` what to do about it (may be empty).
    """

    def __init__(self, what: str, now: str = "") -> None:
        super().__init__(what)
        self.what = what
        self.now = now

    def __str__(self) -> str:
        return f"{self.what} {self.now}".strip()


class BadInput(WellwardError):
    """A value, unit, date or text from the user that cannot be taken."""


class UnknownName(BadInput):
    """A task, stage, point, quantity, supply or event that this home does not have."""


class StoreError(WellwardError):
    """The home's file cannot be read or written."""


class UnreadableFile(StoreError):
    """The home's file is there but is not a home that this program can read."""
