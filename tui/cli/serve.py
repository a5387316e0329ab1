"""`wellward serve`: the full screen in a browser, for this machine alone unless told otherwise."""

from __future__ import annotations

import ipaddress
import shlex
import sys
from typing import TYPE_CHECKING
from urllib.parse import urlsplit

from model.errors import WellwardError
from tui.cli.home_file import path_of, warn

if TYPE_CHECKING:
    from tui.cli.parser import Asked

_OPEN = "Anyone on that network can read and change the record, and there is no password."
_ENTRY = "from tui.cli import main; raise SystemExit(main())"


def serve(asked: Asked) -> int:
    """Serve until ctrl+c.

    Raises:
        WellwardError: the extra is not installed, or the address or port cannot be had.
    """
    try:
        from tui.web import serve_screens
    except ModuleNotFoundError as missing:
        if (missing.name or "").partition(".")[0] not in ("textual_serve", "aiohttp", "aiohttp_jinja2", "jinja2"):
            raise
        raise WellwardError("The browser needs an extra.", "Install it: pip install 'wellward[web]'.") from None
    if not is_loopback(asked.host):
        warn(_OPEN)
    try:
        serve_screens(command_of(asked), asked.host, asked.port)
    except OSError as problem:
        why = problem.strerror or str(problem)
        raise WellwardError(
            f"Cannot listen at {asked.host}, port {asked.port}: {why}.", "Try another --port or --host."
        ) from None
    return 0


def command_of(asked: Asked) -> str:
    """The shell command that each browser tab runs: the full screen on the same home and day."""
    words = [sys.executable, "-c", _ENTRY, "--file", str(path_of(asked).absolute())]
    return shlex.join([*words, "--today", asked.today.isoformat()] if asked.on_day is not None else words)


def is_loopback(host: str) -> bool:
    """Whether only this machine can reach an address."""
    try:
        return ipaddress.ip_address(host.strip("[]")).is_loopback
    except ValueError:
        return host == "localhost"


def trusted(host: str, asked_for: str, origin: str | None) -> bool:
    """Whether a request may be answered. `asked_for` is its Host header, `origin` the site whose page sent it.

    Without this any web page open in the same browser could reach the record: by a request of its own to this
    machine (another origin), or under a name of its own that points here (another Host).
    """
    if origin is not None and urlsplit(origin).netloc != asked_for:
        return False
    return not is_loopback(host) or is_loopback(urlsplit(f"//{asked_for}").hostname or "")
