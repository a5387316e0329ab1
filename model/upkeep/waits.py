"""The waits of a job's steps: what is left of one at a moment. A moment is in seconds since 1970."""

from __future__ import annotations

from math import ceil

import msgspec

from model.records.events import Wait


def begun(step: int, minutes: int, now: float) -> Wait:
    """A wait of so many minutes that begins now."""
    return Wait(step=step, left_s=60.0 * minutes, since=now)


def left_s(wait: Wait, now: float) -> float:
    """What is left of a wait [s], 0 where it is over; never more than was left when it last began to run."""
    gone = 0.0 if wait.since is None else max(now - wait.since, 0.0)
    return max(wait.left_s - gone, 0.0)


def is_running(wait: Wait, now: float) -> bool:
    """Whether it runs and is not over."""
    return wait.since is not None and left_s(wait, now) > 0.0


def is_heard(wait: Wait) -> bool:
    """Whether it is over and somebody has taken note."""
    return wait.since is None and wait.left_s <= 0.0


def stopped(wait: Wait, now: float) -> Wait:
    """The wait with the rest kept as it is now; of one that is over, that it was heard."""
    return msgspec.structs.replace(wait, left_s=left_s(wait, now), since=None)


def resumed(wait: Wait, now: float) -> Wait:
    """The wait running on from now."""
    return msgspec.structs.replace(wait, left_s=left_s(wait, now), since=now)


def settled(wait: Wait, now: float) -> Wait:
    """The wait as it is, unless the clock was set back before its beginning: then it runs on from now.

    So a clock set back makes a wait longer by at most what had gone of it, and never holds it up.
    """
    return wait if wait.since is None or now >= wait.since else resumed(wait, now)


def clock_words(seconds: float) -> str:
    """ "4:32", or "1:04:32" from an hour on; a second begun counts whole."""
    minutes, rest = divmod(ceil(max(seconds, 0.0)), 60)
    hours, minutes = divmod(minutes, 60)
    return f"{hours}:{minutes:02}:{rest:02}" if hours else f"{minutes}:{rest:02}"
