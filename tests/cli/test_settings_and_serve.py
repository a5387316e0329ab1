"""`wellward settings` and `wellward serve`, up to where a browser would come in."""

from __future__ import annotations

import stat
import sys
from pathlib import Path
from types import ModuleType

import pytest

from tests.cli.conftest import Shell
from tui.cli.serve import is_loopback, trusted


@pytest.fixture
def at(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr("tui.settings.user_config_path", lambda *_, **__: tmp_path / "config")
    return tmp_path / "config" / "settings.toml"


def test_settings_are_made_once_and_only_when_asked(shell: Shell, at: Path) -> None:
    assert f"No settings at {at}" in shell("settings").out
    assert not at.exists()
    assert f"Settings: {at}" in shell("settings", "--write").out
    again = shell("settings", "--write")
    assert again.code == 1
    assert again.err.count("\n") == 1
    assert [stat.S_IMODE(one.stat().st_mode) for one in (at, at.parent)] == [0o600, 0o700]


def test_settings_print_what_is_set_and_what_is_wrong(shell: Shell, at: Path) -> None:
    at.parent.mkdir()
    at.write_text("theme = 'ansi'\nascii = true\n[keys]\n'week.away' = 'A'\n'log.more' = 'x'\n")
    ran = shell("settings")
    assert ran.code == 1
    assert "theme  ansi" in ran.out
    assert "week.away: A" in ran.out
    assert "! [keys] x is asked for log.more (More) but is the key of log.take_back (Take back)" in ran.out
    assert shell("settings", "--json").document["keys"] == {"week.away": "A"}


def test_without_the_extra_one_line_says_how_to_install_it(shell: Shell, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "aiohttp", None)
    monkeypatch.delitem(sys.modules, "tui.web", raising=False)
    ran = shell("serve")
    assert (ran.code, ran.err) == (
        1,
        "wellward: The browser needs an extra. Install it: pip install 'wellward[web]'.\n",
    )


@pytest.mark.parametrize(
    ("words", "listens", "warned"),
    [([], ("127.0.0.1", 8000), False), (["--host", "0.0.0.0", "--port", "81"], ("0.0.0.0", 81), True)],
)
def test_other_machines_are_let_in_only_when_told_and_with_a_warning(
    shell: Shell, monkeypatch: pytest.MonkeyPatch, words: list[str], listens: tuple[str, int], warned: bool
) -> None:
    asked: list[tuple[str, str, int]] = []
    fake = ModuleType("tui.web")
    fake.serve_screens = lambda *given: asked.append(given)  # type: ignore[attr-defined]
    monkeypatch.setitem(sys.modules, "tui.web", fake)
    ran = shell("serve", *words)
    assert ran.code == 0
    ((command, *where),) = asked
    assert tuple(where) == listens
    assert str(shell.path) in command
    assert ("no password" in ran.err) is warned


def test_a_port_that_is_taken_is_said_in_one_line(shell: Shell, monkeypatch: pytest.MonkeyPatch) -> None:
    def taken(*_: object) -> None:
        raise OSError(98, "Address already in use")

    fake = ModuleType("tui.web")
    fake.serve_screens = taken  # type: ignore[attr-defined]
    monkeypatch.setitem(sys.modules, "tui.web", fake)
    ran = shell("serve")
    assert ran.code == 1
    assert "Cannot listen at 127.0.0.1, port 8000" in ran.err


@pytest.mark.parametrize(
    ("host", "asked_for", "origin", "answer"),
    [
        ("127.0.0.1", "127.0.0.1:8000", None, True),
        ("127.0.0.1", "localhost:8000", "http://localhost:8000", True),
        ("127.0.0.1", "127.0.0.1:8000", "http://page.example", False),
        ("127.0.0.1", "page.example:8000", "http://page.example:8000", False),
        ("127.0.0.1", "127.0.0.1:8000", "null", False),
        ("0.0.0.0", "192.168.1.5:8000", "http://192.168.1.5:8000", True),
        ("0.0.0.0", "192.168.1.5:8000", "http://page.example", False),
    ],
)
def test_pages_of_other_sites_are_refused(host: str, asked_for: str, origin: str | None, answer: bool) -> None:
    assert trusted(host, asked_for, origin) is answer


@pytest.mark.parametrize(("host", "alone"), [("::1", True), ("127.0.0.2", True), ("0.0.0.0", False), ("nas", False)])
def test_loopback(host: str, alone: bool) -> None:
    assert is_loopback(host) is alone


async def test_the_real_server_refuses_a_strange_page() -> None:
    pytest.importorskip("textual_serve")
    from aiohttp.test_utils import TestClient, TestServer

    from tui.web import PAGE, WellwardServer

    app = await WellwardServer("true", host="127.0.0.1", port=8000, templates_path=PAGE)._make_app()
    async with TestClient(TestServer(app)) as client:
        page = await client.get("/")
        assert page.status == 200
        assert "font-src 'self'" in page.headers["Content-Security-Policy"]
        text = await page.text()
        assert "wellward is opening" in text
        # Of all that the page names, only its own addresses: no font, script or picture of another site.
        assert {
            part.split("/")[2].split(":")[0] for part in text.split('"') if part.startswith(("http:", "https:"))
        } <= {page.host}
        assert (await client.get("/", headers={"Origin": "http://page.example"})).status == 403
