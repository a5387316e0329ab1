"""The settings file: keys, palette, glyphs; what is wrong in it is told in one line each."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.tui.helpers import TODAY, a_store, an_app, press, see, until
from tui.app import WellwardApp, settings_at_start
from tui.commands import COMMANDS
from tui.dialogs.form import Form
from tui.keys import checked_keys
from tui.settings import Settings, read_settings, remember_theme, remembered_theme, write_settings
from tui.themes import ANSI, LIGHT
from tui.view import Session
from tui.widgets.cells import plain_terminal


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "wellward" / "settings.toml"


def test_the_file_written_changes_nothing_and_names_every_command(path: Path) -> None:
    write_settings(path)
    assert read_settings(path) == Settings()
    text = path.read_text(encoding="utf-8")
    assert all(f'# "{one.id}" = ' in text for one in COMMANDS)


def test_every_usual_key_may_be_written_out(path: Path) -> None:
    write_settings(path)
    lines = path.read_text(encoding="utf-8").splitlines()
    path.write_text("\n".join(line.removeprefix("# ") if line.startswith('# "') else line for line in lines))
    found = read_settings(path)
    assert found.problems == ()
    assert found.keys == {one.id: one.key for one in COMMANDS}


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("theme = 'pink'", "theme must be one of dark, light, ansi, not pink."),
        ("ascii = 'yes'", "ascii must be true or false, not yes."),
        ("colour = 1", "colour is not a setting."),
        ("keys = 3", "keys must be a table"),
        ("[keys]\nweek.away = 'A'", "a name with a dot is written in quotes"),
        ("[keys]\n'week.holiday' = 'A'", "no command has this name"),
        ("[keys]\n'week.away' = 'banana'", "no key is called 'banana'"),
        ("[keys]\n'week.away' = ''", "no key is called ''"),
        ("[keys]\n'week.away' = 'tab'", "cannot be given away"),
        ("[keys]\n'week.away' = 'g'", "week.away (Away) but is the key of week.guests (Guests)"),
        ("[keys]\n'week.away' = 'r'", "week.away (Away) but is the key of reading (Reading)"),
        ("[keys]\n'reading' = 'a'", "reading (Reading) but is the key of week.away (Away)"),
        ("[keys]\n'valve.keep' = 'm'", "valve.keep (Set) but is the key of water.mix (Mix)"),
        ("[keys]\nquit = 'z'", "works while typing too"),
        ("theme = ", "not TOML"),
        ("\udcff", "not TOML"),
    ],
)
def test_what_cannot_be_used_is_told_in_one_line_and_left_out(path: Path, text: str, problem: str) -> None:
    path.parent.mkdir()
    path.write_bytes(text.encode("utf-8", "surrogateescape"))
    found = read_settings(path)
    assert len(found.problems) == 1
    assert problem in found.problems[0]
    assert "\n" not in found.problems[0]
    assert (found.theme, found.ascii_only, found.keys) == ("", None, {})


def test_two_commands_may_change_places_and_areas_may_share_a_key() -> None:
    assert checked_keys({"week.away": "g", "week.guests": "a", "log.more": "b"})[1] == []


async def test_footer_help_and_key_follow_a_change() -> None:
    keys, _ = checked_keys({"week.away": "A", "help": "f2", "costs.ten_years": "y"})
    app = WellwardApp(Session(a_store(), lambda: TODAY), Settings(keys=keys))
    async with app.run_test(size=(120, 50)) as pilot:
        bar = (await see(pilot, app, "A Away")).splitlines()[-1].replace("\u00a0", " ")
        assert "w Today  p Events  A Away  g Guests" in bar
        await press(pilot, "a")
        await pilot.pause()
        assert not isinstance(app.screen, Form)
        await press(pilot, "f2")
        assert "A " in next(line for line in (await see(pilot, app, "Help: Week")).splitlines() if "nobody is" in line)
        await press(pilot, "escape", "A")
        await until(pilot, lambda: isinstance(app.screen, Form))
        await press(pilot, "escape", "5")
        assert "y Ten years" in await see(pilot, app, "Ten years")


def test_shift_and_a_letter_is_the_capital() -> None:
    assert checked_keys({"week.away": "shift+a ctrl+f ?"}) == (
        {},
        ["[keys] question_mark is asked for week.away (Away) but is the key of help (Help); not changed."],
    )
    assert checked_keys({"week.away": "shift+a ctrl+f !"}) == ({"week.away": "A,ctrl+f,exclamation_mark"}, [])


async def test_another_key_to_leave_works_where_nothing_else_does() -> None:
    keys, problems = checked_keys({"quit": "ctrl+x"})
    assert problems == []
    app = WellwardApp(Session(a_store(), lambda: TODAY), Settings(keys=keys))
    async with app.run_test(size=(30, 8)) as pilot:
        await press(pilot, "ctrl+q")
        assert app.is_running
        await press(pilot, "ctrl+x")
        await until(pilot, lambda: app._exit)


async def test_problems_are_told_at_start() -> None:
    told = ("one [b]", "two", "three", "four")
    app = WellwardApp(Session(a_store(), lambda: TODAY), Settings(problems=told))
    async with app.run_test(size=(100, 30), notifications=True) as pilot:
        text = await see(pilot, app, "Settings left out")
        assert "one [b]" in text
        assert "1 more" in text
        assert "four" not in text


async def test_the_terminals_own_colours_show_every_area_and_stay_palette_colours() -> None:
    app = WellwardApp(Session(a_store(), lambda: TODAY), Settings(theme="ansi"))
    async with app.run_test(size=(100, 30)) as pilot:
        assert app.theme == ANSI
        for key in "1234567":
            await press(pilot, key)
            await pilot.pause()
            styles = [part.style for strip in app.screen._compositor.render_strips() for part in strip]
            colours = {c for one in styles if one for c in (one.color, one.bgcolor) if c is not None}
            assert not [one for one in colours if one.triplet is not None and one.number is None], key


async def test_cautions_are_no_red_on_red_in_the_terminals_own_colours() -> None:
    app = WellwardApp(Session(a_store(), lambda: TODAY), Settings(theme="ansi"))
    async with app.run_test(size=(100, 30)) as pilot:
        await see(pilot, app, "1 Week")
        await press(pilot, "2", "enter")
        await see(pilot, app, "CAUTIONS")
        (part,) = [one for strip in app.screen._compositor.render_strips() for one in strip if "CAUTIONS" in one.text]
        assert part.style is not None
        assert part.style.color is not None
        assert part.style.bgcolor is None or part.style.bgcolor.is_default


async def test_a_palette_chosen_on_screen_is_kept(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr("tui.settings.user_state_path", lambda *_, **__: tmp_path / "state")
    assert remembered_theme() == ""
    app = WellwardApp(Session(a_store(), lambda: TODAY), remember=remember_theme)
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "ctrl+t")
        assert app.theme == LIGHT
    assert remembered_theme() == "light"
    (tmp_path / "state" / "theme").write_bytes(b"\xff../..")
    assert remembered_theme() == ""


@pytest.mark.parametrize(("line", "plain"), [("ascii = true", True), ("ascii = false", False)])
def test_plain_marks_are_as_set_and_the_file_wins_over_the_last_palette(
    path: Path, monkeypatch: pytest.MonkeyPatch, line: str, plain: bool
) -> None:
    path.parent.mkdir()
    path.write_text(f"theme = 'ansi'\n{line}\n")
    monkeypatch.setattr("tui.app.settings_path", lambda: path)
    monkeypatch.setattr("tui.app.remembered_theme", lambda: "light")
    monkeypatch.setattr("os.environ", {"TERM": "xterm" if plain else "linux"})
    assert plain_terminal() is not plain
    assert settings_at_start().theme == "ansi"
    assert plain_terminal() is plain
    path.write_text(line)
    assert settings_at_start().theme == "light"


def test_other_tests_have_no_settings_of_the_machine() -> None:
    assert an_app().theme == "wellward-dark"
