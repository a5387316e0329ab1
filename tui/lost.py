"""The terminal goes away (a window closed, a line dropped) or the system asks to end: a last word before leaving."""

from __future__ import annotations

import asyncio
import os
import select
import signal
import sys
import threading
import time
from collections.abc import Callable
from contextlib import suppress
from queue import Queue

_ASKED_TO_END = ("SIGHUP", "SIGTERM")
_PATIENCE_S = 5.0
_LOOK_S = 0.1


def keep_when_lost(leave: Callable[[], None]) -> None:
    """Call `leave` in the running loop when the terminal is lost. Where there are no such signals, nothing is done."""
    if threading.current_thread() is not threading.main_thread():
        return
    loop = asyncio.get_running_loop()
    for name in _ASKED_TO_END:
        number = getattr(signal, name, None)
        try:
            if number is not None:
                loop.add_signal_handler(number, leave)
        except (NotImplementedError, RuntimeError):
            return


def watch_the_line(lost: Callable[[], object], waiting: Callable[[], Queue[str | None] | None]) -> None:
    """Call `lost` in the running loop when nothing is at the other end of the terminal any more, signal or not.

    `waiting` gives what still waits to be written where nobody takes it any more: the loop hangs until that is taken.
    """
    with suppress(OSError, ValueError, AttributeError):
        number, loop = sys.__stdin__.fileno(), asyncio.get_running_loop()  # type: ignore[union-attr]
        line = select.poll()
        line.register(number, 0)
        threading.Thread(target=_watch, args=(line, loop, lost, waiting), daemon=True, name="line").start()


def _watch(
    line: select.poll,
    loop: asyncio.AbstractEventLoop,
    lost: Callable[[], object],
    waiting: Callable[[], Queue[str | None] | None],
) -> None:
    # Not everywhere can a terminal be asked: there the signals have to do.
    if not any(found & (select.POLLHUP | select.POLLERR) for _, found in line.poll()):
        return
    write_nowhere()
    with suppress(RuntimeError):
        loop.call_soon_threadsafe(lost)
    while True:
        left = waiting()
        time.sleep(_LOOK_S) if left is None else left.get()


def write_nowhere() -> None:
    """Put the null device in the place of a terminal that is gone, so that nothing waits for it or fails by it.

    Leaving that still hangs, because a write had failed before, is cut short.
    """
    nothing = os.open(os.devnull, os.O_RDWR)
    for stream in (sys.__stdin__, sys.__stdout__, sys.__stderr__):
        if stream is not None and not _lives(stream.fileno()):
            os.dup2(nothing, stream.fileno())
    last = threading.Timer(_PATIENCE_S, os._exit, (1,))
    last.daemon = True
    last.start()


def _lives(number: int) -> bool:
    try:
        os.tcgetpgrp(number)
    except OSError:
        return False
    return True
