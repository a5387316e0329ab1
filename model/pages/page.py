"""What a page is made of, before it is Markdown or HTML. All words in it may be anybody's: the writers escape them."""

from __future__ import annotations

from typing import Literal

import msgspec


class Text(msgspec.Struct, frozen=True):
    """A paragraph."""

    text: str


class Items(msgspec.Struct, frozen=True):
    """A list; `numbered` where the order counts."""

    lines: tuple[str, ...]
    numbered: bool = False


class Table(msgspec.Struct, frozen=True):
    """Rows under heads. `numbers`: the first column with numbers, which stand to the right from there on."""

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    numbers: int = 99


class Blanks(msgspec.Struct, frozen=True):
    """Lines to fill in by hand, each with its label."""

    labels: tuple[str, ...]


class Picture(msgspec.Struct, frozen=True):
    """A drawing: as markup made by this program with all words escaped, and as plain lines where that cannot be."""

    svg: str
    plain: tuple[str, ...]


Block = Text | Items | Table | Blanks | Picture


class Section(msgspec.Struct, frozen=True):
    """A part of a page under its heading. `kind`: "danger" in a thick frame, "wide" and "last" across both
    columns, before and after them; "half" beside another one, where that stands first on the sheets that follow."""

    title: str
    blocks: tuple[Block, ...]
    kind: Literal["", "danger", "wide", "last", "half"] = ""


class Page(msgspec.Struct, frozen=True, kw_only=True):
    """A page. `under`: what stands under its title; `dense`: set small in two columns, for one sheet of paper; `more`:
    what follows on sheets after that one, set small."""

    title: str
    under: str
    sections: tuple[Section, ...]
    foot: str
    dense: bool = False
    more: tuple[Section, ...] = ()


def one_line(text: str) -> str:
    """Words on one line, with single spaces."""
    return " ".join(text.split())
