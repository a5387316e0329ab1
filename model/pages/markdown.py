"""A page as Markdown. No mark that somebody wrote means anything in it."""

from __future__ import annotations

import re
from collections.abc import Iterator

from model.pages.page import Blanks, Block, Items, Page, Picture, Table, Text, one_line
from model.visible import visible

_MARKS = re.compile(r"([\\`*\[\]<>|~&$])")
_UNDERLINE = re.compile(r"(?<![^\W_])_|_(?![^\W_])")
_FIRST = re.compile(r"^([-+#=:]|\d+(?=[.)]))")
_LINKS = re.compile(r"(?i)(://|\bwww\.|@)")
_BLANK = "_" * 30


def markdown(page: Page) -> str:
    """The page as Markdown (CommonMark, with tables as most programs read them)."""
    lines = [f"# {escape(page.title)}", "", escape(page.under)]
    for section in (*page.sections, *page.more):
        lines += ["", f"## {escape(section.title)}"]
        for block in section.blocks:
            lines += ["", *_block(block)]
    return "\n".join([*lines, "", "---", "", escape(page.foot), ""])


def escape(text: str) -> str:
    """Words that are only words in Markdown, on one line."""
    found = _MARKS.sub(r"\\\1", visible(one_line(text)))
    found = _UNDERLINE.sub(r"\\_", found)
    found = _LINKS.sub(lambda link: re.sub(r"([:.@])", r"\\\1", link[0], count=1), found)
    return _FIRST.sub(lambda first: f"\\{first[0]}" if not first[0][0].isdigit() else _number(first[0]), found)


def _number(digits: str) -> str:
    """Digits that begin a line and would begin a list: the first as its code."""
    return f"&#{ord(digits[0])};{digits[1:]}"


def _block(block: Block) -> Iterator[str]:
    if isinstance(block, Text):
        yield escape(block.text)
    elif isinstance(block, Items):
        yield from (
            f"{f'{n}.' if block.numbered else '-'} {escape(line)}" for n, line in enumerate(block.lines, start=1)
        )
    elif isinstance(block, Table):
        yield from _table(block)
    elif isinstance(block, Blanks):
        yield from (f"- {escape(label)}: {_BLANK}" for label in block.labels)
    elif isinstance(block, Picture):
        # The lines begin with a mark of their own, so that none can end the fence.
        yield from ("~~~~", *(f"| {visible(one_line_kept(line))}" for line in block.plain), "~~~~")


def one_line_kept(line: str) -> str:
    """A line of a drawing with its spaces, and no line end in it."""
    return re.sub(r"[\r\n]+", " ", line)


def _table(table: Table) -> Iterator[str]:
    yield _row(table.heads)
    yield "|" + "|".join("---:" if n >= table.numbers else "---" for n in range(len(table.heads))) + "|"
    yield from (_row(row) for row in table.rows)


def _row(cells: tuple[str, ...]) -> str:
    return "|" + "|".join(f" {escape(cell)} " for cell in cells) + "|"
