"""A page as one HTML file: its style inside, no script, nothing fetched, readable in black and white."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from html import escape as escape_html

from model.pages.page import Blanks, Block, Items, Page, Picture, Section, Table, Text, one_line
from model.visible import visible

_DENSE, _SHEETS = ' class="dense"', ' class="dense sheets"'
_MARGIN, _DENSE_MARGIN = "@page { margin: 13mm; }", "@page { margin: 10mm; }"
_STYLE = """
html { color: #000; background: #fff; }
body { font: 10.5pt/1.4 "Noto Sans", "DejaVu Sans", Arial, sans-serif; max-width: 190mm; margin: 0 auto; padding: 4mm; }
h1 { font-size: 1.5em; margin: 0; } h2 { font-size: 1.1em; margin: 0.9em 0 0.25em; border-bottom: 1px solid #000; }
h2 { break-after: avoid; } p, ul, ol { margin: 0.25em 0; } ul, ol { padding-left: 1.3em; } li { margin: 0.12em 0; }
p, li, td { overflow-wrap: anywhere; }
table { border-collapse: collapse; width: 100%; margin: 0.4em 0; font-size: 0.86em; line-height: 1.3; }
thead { display: table-header-group; } tr { break-inside: avoid; }
th, td { border: 1px solid #777; padding: 0.12em 0.4em; text-align: left; vertical-align: top; }
td:first-child { min-width: 6.5em; } th { background: #e8e8e8; } .d { white-space: nowrap; overflow-wrap: normal; }
.n { text-align: right; white-space: nowrap; overflow-wrap: normal; }
section.danger { border: 2.5pt solid #000; padding: 0.3em 0.7em 0.5em; margin: 0.7em 0; }
section.danger h2 { border: 0; margin: 0; } .under { margin: 0.1em 0 0.4em; } .foot { border-top: 1px solid #000; }
.blank { display: flex; gap: 0.5em; margin: 0.5em 0; } .blank i { flex: 1; border-bottom: 1px solid #000; }
svg { width: 100%; height: auto; display: block; margin: 0.3em 0; break-inside: avoid; }
svg text { font-family: "Noto Sans", "DejaVu Sans", Arial, sans-serif; }
.dense { font-size: 8.5pt; line-height: 1.2; } .sheets { font-size: 8.2pt; }
.dense .columns { columns: 2; column-gap: 6mm; }
.dense li, .dense .blank, .dense .columns section { break-inside: avoid; } .dense h2 { margin: 0.4em 0 0.1em; }
.dense section.danger { margin: 0.3em 0; padding-bottom: 0.2em; } .dense .blank { margin: 0.35em 0; }
.columns section:first-child h2 { margin-top: 0; } .dense svg { width: 92%; margin: 0.2em 0 0; }
.dense table { margin: 0.25em 0; line-height: 1.2; }
.dense th, .dense td { padding: 0.04em 0.4em; } .dense li { margin: 0.08em 0; } .last table { font-size: 0.82em; }
.more { break-before: page; } .more table { font-size: 0.85em; } .more th, .more td { border-color: #999; }
.more th.n { white-space: normal; } .more > section td:first-child:not(.d) { min-width: 22em; }
@media print { body { padding: 0; max-width: none; } }
"""


_DAY = re.compile(r"\d{4}-\d\d(-\d\d)?")


def html(page: Page) -> str:
    """The page as a whole HTML document."""
    name, kind = escape(page.title), (_SHEETS if page.more else _DENSE) if page.dense else ""
    body = "".join(_body(page))
    return (
        '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8">'
        "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">"
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<title>{name}</title><style>{_DENSE_MARGIN if page.dense else _MARGIN}{_STYLE}</style></head>\n"
        f'<body{kind}>{body}\n<p class="foot">{escape(page.foot)}</p></body></html>\n'
    )


def escape(text: str) -> str:
    """Words that are only words in HTML, between marks or within quotes."""
    return escape_html(visible(one_line(text)), quote=True)


def _body(page: Page) -> Iterator[str]:
    yield f'<h1>{escape(page.title)}</h1><p class="under">{escape(page.under)}</p>'
    if not page.dense:
        yield from (_section(one) for one in page.sections)
        return
    yield from (_section(one) for one in page.sections if one.kind in ("danger", "wide"))
    columns = "".join(_section(one) for one in page.sections if not one.kind)
    yield f'<div class="columns">{columns}</div>'
    yield from (_section(one) for one in page.sections if one.kind == "last")
    if page.more:
        halves = "".join(_section(one) for one in page.more if one.kind == "half")
        rest = "".join(_section(one) for one in page.more if one.kind != "half")
        yield f'<div class="more"><div class="columns">{halves}</div>{rest}</div>'


def _section(section: Section) -> str:
    blocks = "\n".join(_block(block) for block in section.blocks)
    kind = f' class="{section.kind}"' if section.kind else ""
    return f"\n<section{kind}><h2>{escape(section.title)}</h2>\n{blocks}</section>"


def _block(block: Block) -> str:
    if isinstance(block, Text):
        return f"<p>{escape(block.text)}</p>"
    if isinstance(block, Items):
        mark = "ol" if block.numbered else "ul"
        return f"<{mark}>{_each('li', block.lines)}</{mark}>"
    if isinstance(block, Table):
        return _table(block)
    if isinstance(block, Blanks):
        return "".join(f'<div class="blank"><span>{escape(one)}:</span><i></i></div>' for one in block.labels)
    if isinstance(block, Picture):
        return block.svg
    raise TypeError(block)


def _each(mark: str, lines: Iterable[str]) -> str:
    return "".join(f"<{mark}>{escape(line)}</{mark}>" for line in lines)


def _table(table: Table) -> str:
    rows = "".join(f"<tr>{_cells('td', row, table.numbers)}</tr>\n" for row in table.rows)
    return f"<table><thead><tr>{_cells('th', table.heads, table.numbers)}</tr></thead><tbody>\n{rows}</tbody></table>"


def _cells(mark: str, cells: tuple[str, ...], numbers: int) -> str:
    return "".join(f"<{mark}{_kind(cell, place, numbers)}>{escape(cell)}</{mark}>" for place, cell in enumerate(cells))


def _kind(cell: str, place: int, numbers: int) -> str:
    if place >= numbers:
        return ' class="n"'
    return ' class="d"' if _DAY.fullmatch(cell) else ""
