"""The README's picture is of the screen as it is now."""

from __future__ import annotations

from tests.make_picture import TARGET, draw, words_in


async def test_the_picture_of_the_readme_shows_the_present_screen() -> None:
    assert words_in(TARGET.read_text(encoding="utf-8")) == words_in(await draw()), "python -m tests.make_picture"
