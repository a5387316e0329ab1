"""What screens with a list share: `/` opens a line in which words are typed, and only what has them all is listed."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.widgets import Input

from tui.screens.area import AreaScreen


class FilterLine(Input):
    """The words to look for; out of sight until it is asked for."""

    DEFAULT_CSS = """
    FilterLine { height: 1; margin: 0 1; background: $panel; }
    """

    def __init__(self, like: str) -> None:
        """`like`: what can be looked for, as an example."""
        super().__init__(placeholder=f"filter: {like}", id="filter", compact=True)
        self.display = False


class ListScreen(AreaScreen):
    """A screen with a `FilterLine` and a list. A subclass names the list and fills it anew in `refill`."""

    LIST: ClassVar[str] = ""
    """The selector of the list."""

    @property
    def words(self) -> str:
        """The words typed, "" for none."""
        return self.query_one(FilterLine).value

    def holds(self, *texts: str) -> bool:
        """Whether every word typed occurs in what is said of a line."""
        said = " ".join(texts).casefold()
        return all(word in said for word in self.words.casefold().split())

    def refill(self) -> None:
        """Fill the list anew after other words were typed."""

    def anything(self) -> bool:
        """Whether there is anything to look through."""
        return True

    @on(Input.Changed, "#filter")
    def _other_words(self) -> None:
        self.refill()
        self.refresh_bindings()

    @on(Input.Submitted, "#filter")
    def _to_list(self) -> None:
        self.query_one(self.LIST).focus()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Nothing is looked for in nothing, a / that is typed is no key, and all is shown again only where it is not.
        Also asked before the line is there."""
        if action == "filter":
            return self.anything() and not any(line.has_focus for line in self.query(FilterLine))
        return action != "show_all" or any(line.display for line in self.query(FilterLine))

    def action_filter(self) -> None:
        """Type words to look for."""
        self.query_one(FilterLine).display = True
        self.query_one(FilterLine).focus()

    def action_show_all(self) -> None:
        """List everything again."""
        self.clear_filter()

    def clear_filter(self) -> bool:
        """List everything again; False where everything is listed."""
        line = self.query_one(FilterLine)
        if not line.display:
            return False
        line.value, line.display = "", False
        self.query_one(self.LIST).focus()
        self.refresh_bindings()
        return True
