"""Still pictures: no animation, no blinking cursor, no terminal settings from outside."""

from __future__ import annotations

import pytest
from textual.widgets import Input


@pytest.fixture(autouse=True)
def _still(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("textual.constants.TEXTUAL_ANIMATIONS", "none", raising=False)
    monkeypatch.setattr(Input, "cursor_blink", False)
    monkeypatch.delenv("NO_COLOR", raising=False)
