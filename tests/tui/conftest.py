"""Still pictures: no animation, no blinking cursor, no terminal settings from outside; style sheets are read once.

Nothing is painted for the terminal that is not there: what a test looks at is drawn when it looks. Tests of drawing
itself are marked `painted`, and are drawn at each change as for a person.
"""

from __future__ import annotations

import pytest
from rich.console import RenderableType
from textual._compositor import Compositor
from textual._context import visible_screen_stack
from textual.css.model import RuleSet
from textual.css.stylesheet import Stylesheet
from textual.css.types import CSSLocation
from textual.screen import Screen
from textual.widgets import Input

_parse = Stylesheet._parse_rules
_PARSED: dict[object, list[RuleSet]] = {}


def _parsed_once(
    sheet: Stylesheet,
    css: str,
    read_from: CSSLocation,
    is_default_rules: bool = False,
    tie_breaker: int = 0,
    scope: str = "",
) -> list[RuleSet]:
    """As Textual keeps them for one program, kept for the programs of all tests: rules are only read."""
    key = (tuple(sheet._variables.items()), css, read_from, is_default_rules, tie_breaker, scope)
    if key not in _PARSED:
        _PARSED[key] = _parse(sheet, css, read_from, is_default_rules, tie_breaker, scope)
    return _PARSED[key]


_paint = Compositor.render_update


def _painted_if_whole(
    drawn: Compositor, full: bool = False, screen_stack: list[Screen[object]] | None = None, simplify: bool = False
) -> RenderableType | None:
    """A whole picture, which only a screenshot asks for; of a change nothing."""
    if full:
        return _paint(drawn, full, screen_stack, simplify)
    visible_screen_stack.set(screen_stack or [])
    drawn._dirty_regions.clear()
    return None


@pytest.fixture(autouse=True)
def _still(monkeypatch: pytest.MonkeyPatch, request: pytest.FixtureRequest) -> None:
    if request.node.get_closest_marker("painted") is None:
        monkeypatch.setattr(Compositor, "render_update", _painted_if_whole)
    monkeypatch.setattr("textual.constants.TEXTUAL_ANIMATIONS", "none", raising=False)
    monkeypatch.setattr(Stylesheet, "_parse_rules", _parsed_once)
    monkeypatch.setattr(Input, "cursor_blink", False)
    monkeypatch.setattr("tui.app._MUCH_GARBAGE", 10**9)
    monkeypatch.delenv("NO_COLOR", raising=False)
