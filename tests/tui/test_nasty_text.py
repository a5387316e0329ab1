"""Any text shows as typed: no markup, no control marks, no length that hides what is needed, at any size."""

from __future__ import annotations

from itertools import cycle

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st
from msgspec import structs
from rich.cells import cell_len
from rich.segment import Segment
from textual.color import Color
from textual.pilot import Pilot
from textual.widgets import Button, DataTable

from model.records.events import Incident
from model.visible import visible, without_controls
from tests.tui.helpers import CARTRIDGE, HOUSE, TODAY, a_store, an_app, press, see, shown, until
from tests.tui.nasty import LONG, NASTY, a_nasty_store
from tui.app import WellwardApp
from tui.dialogs.form import Form
from tui.screens.job import JobScreen
from tui.widgets.cells import fit, tidy, wrap
from tui.widgets.frame import SMALLEST
from tui.widgets.harmless import Harmless

SIZES = ((1, 1), (60, 20), (59, 24), (80, 19), (80, 24), (300, 100))
KEYS = {
    "week": ("", "w", "g", "m", "e", "f", "p", "v", "r", "l", "i", "ctrl+p"),
    "service": ("", "enter"),
    "water": ("", "v", "o", "m", "t", "h"),
    "shelf": ("", "b", "c", "n"),
    "costs": ("t",),
    "log": ("", "x", "slash"),
    "house": ("", "n", "b", "down down d", "tab enter"),
}
"""Area -> what opens its views and dialogs, keys one after another."""
_HARM = {chr(mark) for mark in (*range(32), *range(127, 160), *range(0x202A, 0x202F), 0x2028)} - {"\n"}


async def _back(pilot: Pilot[None], app: WellwardApp) -> None:
    for _ in range(3):
        if len(app.screen_stack) > 1:
            await press(pilot, "escape")
            await pilot.pause()
    assert len(app.screen_stack) == 1, f"no way back from {app.screen}"


ANYTHING = st.text(st.one_of(st.sampled_from([*"[]{}/\\=b \n", *NASTY]), st.characters()), max_size=60)


@pytest.mark.parametrize("areas", [("week",), ("service", "water"), ("shelf", "costs", "log", "house")])
@given(more=ANYTHING.filter(lambda text: len(text) > 3))
@settings(max_examples=1, phases=[Phase.generate])
async def test_everything_opens_at_every_size_shows_text_as_typed_and_is_left_by_escape(
    areas: tuple[str, ...], more: str
) -> None:
    """With the harm that is known and anything after it, another text each time: hence no short one, tried first."""
    app, sizes = an_app(a_nasty_store(NASTY + more)), cycle(SIZES)
    seen: dict[str, str] = {}
    async with app.run_test(size=(100, 40)) as pilot:
        for area in areas:
            for keys in KEYS[area]:
                await app.action_go(area)
                await press(pilot, *keys.split())
                await pilot.pause()
                seen[area] = seen.get(area, "") + shown(app)
                size = next(sizes)
                await pilot.resize_terminal(*size)
                seen[area] += shown(app)
                if size[0] < SMALLEST[0] or size[1] < SMALLEST[1]:
                    await pilot.resize_terminal(80, 24)
                await _back(pilot, app)
    for area, text in seen.items():
        assert "[b]x[/b] [/] [red {x}" in text, area
        assert not _HARM & set(text), area


async def test_ten_thousand_letters_hide_neither_fields_nor_lists_nor_the_way_back() -> None:
    app = an_app(a_nasty_store(LONG))
    async with app.run_test(size=(60, 20)) as pilot:
        await press(pilot, "4")
        await see(pilot, app, "Buy")
        assert app.screen.query_one(DataTable).size.height >= 3
        await press(pilot, "b")
        await until(pilot, lambda: isinstance(app.screen, Form))
        await pilot.pause()
        assert app.screen.region.contains_region(app.screen.query_one("#form_back", Button).region)
        assert app.screen.region.contains_region(app.screen.query_one("#entry_quantity").region)
        await press(pilot, "escape")
        app.open_job(CARTRIDGE)
        await until(pilot, lambda: isinstance(app.screen, JobScreen))
        assert "CAUTIONS" in await see(pilot, app, "esc Leave")


@given(ANYTHING)
@settings(max_examples=60)
def test_no_control_mark_gets_through_and_the_rest_stays(text: str) -> None:
    left = "".join(mark for mark in text if mark not in _HARM and not "\ud800" <= mark <= "\udfff")
    for made in (visible(text), without_controls(text), fit(text, 30), *wrap(text, 20, 99)):
        assert not _HARM & set(made)
        made.encode()
    if "\n" not in text and text.isprintable():
        assert visible(text) == without_controls(text) == text == left
    drawn = Harmless().apply([Segment(text), Segment(" ")], Color(0, 0, 0))
    assert sum(cell_len(part.text) for part in drawn) == cell_len(text) + 1
    assert cell_len(fit(text, 30)) == 30


@given(ANYTHING, st.integers(4, 30))
@settings(max_examples=40)
def test_wrapped_words_are_all_there_in_rows_that_fit(text: str, width: int) -> None:
    rows = wrap(text, width, 99)
    assert all(cell_len(row) <= width for row in rows)
    if all(cell_len(word) <= width for word in tidy(text).split()):
        assert "".join("".join(rows).split()) == "".join(tidy(text).split())


def test_words_beyond_the_last_line_are_cut_where_that_is_seen() -> None:
    assert wrap("one two three four five", 9, 2) == ["one two", "three fo…"]
    assert wrap("one two", 7, 1) == ["one two"]


FAMILY = "👩\u200d👩\u200d👧"


@pytest.mark.parametrize("text", [FAMILY, f"a {FAMILY} b", "one\u200btwo", "\u0645\u06cc\u200c\u062e", "a\u2060b"])
@pytest.mark.parametrize("align", ["left", "right", "center"])
def test_what_joins_signs_is_kept_where_it_fits(text: str, align: str) -> None:
    assert fit(text, 20, align).strip() == text
    assert cell_len(fit(text, 20, align)) == 20
    assert tidy(text) == text
    assert wrap(text, 20, 2) == [text]


@pytest.mark.parametrize("width", range(1, 12))
def test_a_family_that_does_not_fit_is_cut_to_the_cell(width: int) -> None:
    assert cell_len(fit(f"ab{FAMILY}cd{FAMILY}", width)) == width


@pytest.mark.parametrize("text", ["\u200b", " \u200d\u2060 ", "\ufeff", "\n\t"])
def test_a_name_of_which_nothing_can_be_seen_is_none(text: str) -> None:
    assert tidy(text) == ""


async def test_a_family_stays_one_on_the_shelf_and_in_the_log() -> None:
    house = structs.replace(HOUSE, supplies=(structs.replace(HOUSE.supplies[0], title=f"Salt {FAMILY}"),))
    app = an_app(a_store(Incident(on=TODAY, what=f"visit {FAMILY}"), house=house))
    async with app.run_test(size=(120, 30)) as pilot:
        await press(pilot, "4")
        await see(pilot, app, f"Salt {FAMILY}")
        await press(pilot, "6")
        await see(pilot, app, f"visit {FAMILY}")
