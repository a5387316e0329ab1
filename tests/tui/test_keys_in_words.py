"""Where words name a key they name the one that the owner has now."""

from __future__ import annotations

import pkgutil
import re
from collections.abc import Iterator
from importlib import import_module

import msgspec
import pytest
from textual.screen import Screen
from textual.widgets import OptionList, Static

import tui.screens
from model.home import Home
from tests.tui.helpers import HOUSE, TODAY, MemoryStore, see
from tests.tui.water_homes import SOME, sample_home
from tui.app import WellwardApp
from tui.commands import AREAS, COMMANDS
from tui.dialogs.add_stage import kind_list
from tui.dialogs.ask import Ask
from tui.dialogs.away import away_form
from tui.dialogs.guests import guests_form
from tui.dialogs.help import area_help, help_page
from tui.dialogs.uses import add_use_form
from tui.jobs import job_rows
from tui.key_words import keyed, name_of
from tui.keys import checked_keys
from tui.screens.area import AreaScreen
from tui.screens.events import EventsScreen
from tui.screens.job import JobScreen
from tui.screens.mix import MixScreen
from tui.screens.salt_out import SaltOutScreen
from tui.screens.setup import SetupScreen
from tui.screens.trends import TrendsScreen
from tui.screens.valve import ValveScreen
from tui.screens.what_if import WhatIfScreen
from tui.settings import Settings
from tui.view import Session, View

HOUSE_WITHOUT = msgspec.structs.replace(HOUSE, stages=(), supplies=())
_INSTEAD = {
    "slash": ";",
    "question_mark,f1": "f12",
    "f9": "f8",
    "ctrl+s": "ctrl+o",
    "ctrl+r": "ctrl+l",
    "ctrl+p": "ctrl+b",
    "ctrl+t": "ctrl+y",
    "ctrl+n": "f7",
}
OLD = re.compile(
    r"(?<![\w\[{.,/°'’(+^-])(?<!\d )\(?([b-z])(?![\w'’\]}./°+…-])"  # a letter by itself is a key: no word is one but a
    r"|(?<!\S)(/ [a-z]+)"
    r"|\b(F9|F1|Ctrl\+[SRPTN])\b"
    r"|(\^[srptn])\b"
    r"|(?<![\w+])([1-7],? (?:for )?(?:Week|Service|Water|Shelf|Costs|Log|House))\b"
    r"|([Pp]ress \d)\b"
)


def _other(keys: str) -> str:
    if keys in _INSTEAD:
        return _INSTEAD[keys]
    each = keys.split(",")
    return " ".join(one.upper() if len(one) == 1 and one.isalpha() else f"alt+{one}" for one in each if len(one) == 1)


OWN = {one.id: other for one in COMMANDS if (other := _other(one.key))}


def _words(app: WellwardApp) -> Iterator[str]:
    """All that the screen says, what has to be scrolled to as well."""
    yield from (str(one.content) for one in app.screen.query(Static) if one.id != "too_small")
    for listed in app.screen.query(OptionList):
        yield from (str(one.prompt) for one in listed.options)


def _old_keys(text: str) -> list[str]:
    plain = text.replace("\xa0", " ")
    near = [plain[max(one.start() - 30, 0) : one.end() + 30] for one in OLD.finditer(plain)]
    return [one for one in near if len(one.strip()) > 1]  # a letter that is all of a text is a unit


def test_the_table_takes_other_keys_for_everything_that_has_one() -> None:
    assert checked_keys(OWN)[1] == []
    assert {"reading", "form.save", "ask.yes", "page.back", "week.open", "go.house"} <= {one.id for one in COMMANDS}


@pytest.mark.parametrize("store", [MemoryStore(Home(HOUSE_WITHOUT)), sample_home()], ids=["empty", "sample"])
async def test_no_words_name_a_key_that_does_nothing_any_more(
    store: MemoryStore, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("tui.screens.valve.order", lambda: SOME)
    app = WellwardApp(Session(store, lambda: TODAY), Settings(keys=checked_keys(OWN)[0]))
    async with app.run_test(size=(80, 24)) as pilot:
        await see(pilot, app, "Week")
        found: list[str] = []

        async def look(where: str) -> None:
            await pilot.pause()
            texts = [*_words(app), *([] if app.screen.is_modal else [str(help_page(app.screen).words)])]
            found.extend(f"{where}: {one}" for text in texts for one in _old_keys(text))

        for area, _, _ in AREAS:
            await app.switch_mode(area)
            await look(area)
            found.extend(f"help on {area}: {one}" for one in _old_keys(str(area_help(area).words)))
        for screen in _laid(app.session.view):
            await app.push_screen(screen)
            await look(type(screen).__name__)
            await app.pop_screen()
        assert found == [], "\n".join(found)


def _laid(view: View) -> list[Screen[None]]:
    """What lies on the areas where it has words of its own, and dialogs whose words name keys."""
    if not view.house.stages:
        return [MixScreen(), SaltOutScreen(), TrendsScreen(), ValveScreen()]
    job = JobScreen(view, next(iter(job_rows(view))), "week")
    forms = [away_form(view), guests_form(view), add_use_form(view), kind_list(view.house), Ask("?", ".")]
    return [EventsScreen(), WhatIfScreen(), job, *forms]  # type: ignore[list-item]


def test_the_words_of_help_name_commands_and_no_keys() -> None:
    for module in pkgutil.iter_modules(tui.screens.__path__):
        import_module(f"tui.screens.{module.name}")
    helps = {one.__name__: one.HELP_TEXT for one in _all_below(AreaScreen)} | {"SetupScreen": SetupScreen.HELP_TEXT}
    assert len(helps) > 18
    assert {name: _old_keys(text) for name, text in helps.items() if _old_keys(text)} == {}
    named = set(re.findall(r"\{([a-z_0-9.]+)\}", " ".join(helps.values())))
    assert named <= {one.id for one in COMMANDS}


def _all_below(kind: type[AreaScreen]) -> Iterator[type[AreaScreen]]:
    for one in kind.__subclasses__():
        yield one
        yield from _all_below(one)


def test_keys_are_called_by_names_that_can_be_read() -> None:
    assert [name_of(one) for one in ("r", "A", "ctrl+s", "shift+left", "f9", "slash", "escape", "question_mark")] == [
        "r",
        "A",
        "Ctrl+S",
        "Shift+Left",
        "F9",
        "/",
        "Escape",
        "?",
    ]
    assert keyed("{job.tick} ticks; {not_there} stays") == "Space or Enter ticks; {not_there} stays"
