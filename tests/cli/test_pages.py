"""The commands that make files to take away: calendar, sheets, the year's record."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from tests.cli.conftest import Shell

SHEETS = [("sheet", reader, *html) for reader in ("sitter", "owner") for html in ((), ("--html",))]
PAGES = [("calendar",), *SHEETS, ("report",)]


@pytest.fixture(autouse=True)
def _no_day_is_looked_at(monkeypatch: pytest.MonkeyPatch) -> None:
    """What the house was exposed to on each day takes long and has tests of its own."""
    monkeypatch.setattr("model.pages.year.exposed", lambda *_: [])


def test_a_calendar_is_printed_with_the_line_ends_of_its_format(shell: Shell) -> None:
    text = in_a_new_python(f"main(['calendar', '--file', {str(shell.path)!r}])")
    assert text.startswith(b"BEGIN:VCALENDAR\r\n")
    assert text.endswith(b"END:VCALENDAR\r\n")


def test_a_calendar_as_json_lists_its_events(shell: Shell) -> None:
    document = shell("calendar", "--json").document
    assert list(document) == ["file", "today", "events"]
    assert document["file"] is None
    assert len(document["events"]) == len(shell("due", "--days", "9999", "--json").document["due"])
    assert list(document["events"][0]) == ["uid", "on", "task", "summary"]
    assert len({event["uid"] for event in document["events"]}) == len(document["events"])


@pytest.mark.parametrize("words", SHEETS)
def test_a_sheet_is_printed_as_markdown_or_html(shell: Shell, words: tuple[str, ...]) -> None:
    ran = shell(*words)
    assert ran.code == 0
    assert ran.out.startswith("<!DOCTYPE html>" if "--html" in words else "# ")
    document = shell(*words, "--json").document
    assert list(document) == ["file", "today", "sheet", "text"]
    assert document["text"] == ran.out


def test_a_report_is_of_this_year_or_of_the_one_asked(shell: Shell) -> None:
    assert "the water in 2026</title>" in shell("report").out
    document = shell("report", "--year", "2025", "--json").document
    assert list(document) == ["file", "today", "year", "text"]
    assert document["year"] == 2025
    assert "the water in 2025</title>" in document["text"]
    ran = shell("report", "--year", "1999")
    assert (ran.code, ran.out, ran.err.count("\n")) == (1, "", 1)


def test_a_sheet_is_for_somebody(shell: Shell) -> None:
    assert shell("sheet").code == 2
    assert shell("sheet", "neighbour").code == 2


@pytest.mark.parametrize("words", PAGES)
def test_a_page_is_written_for_its_owner_alone(shell: Shell, words: tuple[str, ...], tmp_path: Path) -> None:
    to = tmp_path / "page"
    to.write_text("an older one")
    ran = shell(*words, str(to))
    assert (ran.code, ran.err) == (0, "")
    assert str(to) in ran.out
    assert len(to.read_text()) > 1000
    assert to.stat().st_mode & 0o777 == 0o600
    assert [one.name for one in tmp_path.iterdir() if "page" in one.name] == ["page"]


@pytest.mark.parametrize("words", PAGES[:1])
def test_where_it_cannot_be_written_one_line_says_so(shell: Shell, words: tuple[str, ...], tmp_path: Path) -> None:
    (tmp_path / "folder").mkdir()
    before = shell.path.read_bytes()
    link = tmp_path / "link"
    link.hardlink_to(shell.path)
    for to in (tmp_path / "folder", tmp_path / "none" / "page", shell.path, link, Path("/dev/null/page"), "a\0b"):
        ran = shell(*words, str(to))
        assert ran.code == 1
        assert ran.out == ""
        assert ran.err.startswith("wellward: ")
        assert ran.err.count("\n") == 1
        assert "Name another file" in ran.err
    assert shell.path.read_bytes() == before


def test_the_other_commands_do_not_wait_for_the_pages(shell: Shell) -> None:
    text = in_a_new_python(f"main(['due', '--file', {str(shell.path)!r}]); import sys; print(*sys.modules)")
    loaded = set(text.decode().splitlines()[-1].split())
    assert "model.plan" in loaded
    assert not {"icalendar", "model.pages", "html", "xml"} & loaded


def in_a_new_python(run: str) -> bytes:
    code = f"from tui.cli.main import main; {run}"
    return subprocess.run([sys.executable, "-c", code], capture_output=True, check=True).stdout
