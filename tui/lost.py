"""The terminal goes away (a window closed, a line dropped) or the system asks to end: a last word before leaving."""

from __future__ import annotations

import asyncio
import os
import signal
import sys
import threading
from collections.abc import Callable

_ASKED_TO_END = ("SIGHUP", "SIGTERM")
_PATIENCE_S = 5.0


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
