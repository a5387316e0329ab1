"""Still pictures: no animation, no blinking cursor, no terminal settings from outside; style sheets are read once."""

from __future__ import annotations

import pytest
from textual.css.model import RuleSet
from textual.css.stylesheet import Stylesheet
from textual.css.types import CSSLocation
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


@pytest.fixture(autouse=True)
def _still(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("textual.constants.TEXTUAL_ANIMATIONS", "none", raising=False)
    monkeypatch.setattr(Stylesheet, "_parse_rules", _parsed_once)
    monkeypatch.setattr(Input, "cursor_blink", False)
    monkeypatch.delenv("NO_COLOR", raising=False)
