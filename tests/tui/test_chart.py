"""The chart of readings and forecasts: never beyond its bounds, whatever numbers it is given."""

from __future__ import annotations

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from model.forecast.trends.shape import Band, Path, Point, Trend
from tui.widgets.chart import LEAST_HEIGHT, LEAST_WIDTH, draw_chart
from tui.widgets.drawing import FINE, PLAIN, Drawing
from tui.widgets.trend_words import legend_of

anything = st.floats(allow_nan=False, allow_infinity=False)
pairs = st.tuples(anything, anything)
ways = st.lists(pairs, max_size=12).map(lambda found: sorted(found, key=lambda p: p[0]))
bands = st.lists(st.tuples(anything, anything, anything), max_size=12).map(lambda f: sorted(f, key=lambda p: p[0]))
drawings = st.builds(
    Drawing,
    ends=pairs | st.tuples(st.floats(-100, 0), st.floats(1, 100)),
    points=st.lists(st.tuples(anything, anything, st.sampled_from("o<")), max_size=12),
    lines=st.lists(st.tuples(ways, st.booleans()), max_size=3),
    band=bands,
    levels=st.lists(st.tuples(anything, st.text("ab c", max_size=9)), max_size=3),
    uprights=st.lists(st.tuples(anything, st.booleans()), max_size=3),
    spans=st.lists(pairs.map(lambda p: (min(p), max(p))), max_size=3),
    ticks=st.lists(st.tuples(anything, st.sampled_from(("Jan", "2027"))), max_size=5),
    from_zero=st.booleans(),
)


def drawn(drawing: Drawing, width: int, height: int, *, ascii_only: bool = True) -> list[str]:
    return ["".join(text for text, _ in row) for row in draw_chart(drawing, width, height, ascii_only=ascii_only).rows]


@given(drawings, st.integers(0, 140), st.integers(0, 40), st.booleans())
def test_a_chart_has_exactly_the_room_it_was_given(drawing: Drawing, width: int, height: int, plain: bool) -> None:
    lines = drawn(drawing, width, height, ascii_only=plain)
    low, high = drawing.ends
    told_apart = low >= -1e12 and high <= 1e12 and high - low >= 1e-3
    room = width >= LEAST_WIDTH and height >= LEAST_HEIGHT and told_apart
    assert len(lines) == (height if room else 0)
    assert all(cell_len(line) == width for line in lines)
    assert all(line.isascii() for line in lines) or not plain


def test_what_lies_on_what() -> None:
    """A reading above the line, the line above an upright, an upright above the level, the level above the band."""
    drawing = Drawing(
        ends=(0.0, 100.0),
        points=[(0.0, 5.0, "O")],
        lines=[([(0.0, 5.0), (50.0, 5.0)], True)],
        band=[(0.0, 0.0, 10.0), (100.0, 0.0, 10.0)],
        levels=[(5.0, "half")],
        uprights=[(20.0, False), (80.0, True)],
        from_zero=True,
    )
    lines = drawn(drawing, 60, 13)
    middle = lines[5]
    assert middle[3:].startswith("O**")
    assert middle.count("|") == 2  # the side and the upright of now; the other one lies behind the line
    assert " half " in middle
    assert lines[4].count(":") == 1
    assert lines[4].count(".") > 45


@pytest.mark.parametrize(("uprights", "kept"), [((30.0, 75.0), 2), ((10.0, 35.0, 60.0, 85.0), 3)])
def test_the_name_of_a_level_stands_beside_its_uprights_or_else_over_one(
    uprights: tuple[float, ...], kept: int
) -> None:
    """Every fourth of 56 cells leaves no room for 18; the name then covers one upright, never a line or a reading."""
    drawing = Drawing(ends=(0.0, 100.0), levels=[(5.0, "sixteen cells ab")], uprights=[(x, False) for x in uprights])
    middle = next(line for line in drawn(drawing, 60, 9) if "sixteen cells ab" in line)
    assert middle.count(":") == kept


@pytest.mark.parametrize(("x", "shown"), [(-1.0, 0), (0.0, 1), (100.0, 1), (101.0, 0)])
def test_what_lies_beyond_the_ends_is_left_out(x: float, shown: int) -> None:
    lines = drawn(Drawing(ends=(0.0, 100.0), points=[(x, 1.0, "O")]), 40, 8)
    assert sum(line.count("O") for line in lines) == shown


def test_days_that_belong_together_lie_on_the_axis_and_labels_under_their_ticks() -> None:
    drawing = Drawing(ends=(0.0, 100.0), spans=[(50.0, 60.0)], ticks=[(0.0, "a"), (25.0, "mid"), (25.5, "lost")])
    *_, axis, below = drawn(drawing, 54, 8)
    assert axis.count("=") in (5, 6)
    assert below.index("mid") + 1 == axis.index("+", axis.index("+", axis.index("+") + 1) + 1)
    assert "lost" not in below


def test_numbers_beside_the_chart_are_round() -> None:
    lines = drawn(Drawing(ends=(0.0, 1.0), points=[(0.5, 237.0, "O")], from_zero=True), 40, 14)
    assert [line.partition("|")[0].strip() for line in lines[:12] if line.partition("|")[0].strip()] == [
        "200",
        "100",
        "0",
    ]


@given(drawings, st.floats(-150, 150), st.integers(24, 140), st.integers(5, 40))
def test_a_mark_keeps_to_the_field_and_comes_back_to_its_x(drawing: Drawing, x: float, width: int, height: int) -> None:
    chart = draw_chart(msgspec.structs.replace(drawing, ends=(0.0, 99.0)), width, height)
    at = chart.column(x)
    assert chart.left <= at < chart.left + chart.across == width
    cell = 99.0 / (chart.across - 1)
    # The ends lie in the outermost of the two dots of a cell; its first and last cell give the ends all the same.
    assert abs(chart.x_at(at) - min(max(x, 0.0), 99.0)) <= 0.75 * cell + 1e-9
    assert chart.column(chart.x_at(at)) == at
    before, after = (["".join(text for text, _ in row) for row in one.rows] for one in (chart, chart.crossed(x, "#")))
    assert [line[at] for line in after[: chart.body]] == ["#"] * chart.body
    assert [line[:at] + "#" + line[at + 1 :] for line in before[: chart.body]] == after[: chart.body]
    assert after[chart.body :] == before[chart.body :]


def test_what_is_not_finite_is_left_out() -> None:
    nan, inf = float("nan"), float("inf")
    kept = Drawing(ends=(0.0, 99.0), lines=[([(0.0, 1.0), (99.0, 2.0)], True)], band=[(0.0, 1.0, 2.0), (9.0, 1.0, 2.0)])
    whole = msgspec.structs.replace(
        kept,
        points=[(5.0, nan, "O")],
        lines=[([(0.0, 1.0), (40.0, nan), (50.0, inf), (99.0, 2.0)], True)],
        band=[(0.0, 1.0, 2.0), (5.0, 1.0, inf), (9.0, 1.0, 2.0)],
    )
    assert drawn(whole, 40, 8) == drawn(kept, 40, 8)


@pytest.mark.parametrize("plain", [True, False])
def test_a_step_is_drawn_without_a_hole_and_a_falling_line_falls(plain: bool) -> None:
    step = [(0.0, 0.0), (50.0, 0.0), (50.0, 10.0), (99.0, 10.0)]
    lines = drawn(Drawing(ends=(0.0, 99.0), lines=[(step, True)]), 40, 10, ascii_only=plain)[:8]
    column = len(lines[4].rstrip()) - 1
    assert all(line[column] == "*" if plain else line[column] != " " for line in lines)
    falling = drawn(Drawing(ends=(0.0, 99.0), lines=[([(0.0, 8.0), (99.0, 6.0)], True)]), 40, 8, ascii_only=plain)[:6]
    first = [len(line) - len(line.partition("|" if plain else "│")[2].lstrip()) for line in falling]
    assert first == sorted(first)
    assert falling[0][4] != " " != falling[-1][-1]


def test_a_line_that_comes_from_outside_is_cut_where_it_enters() -> None:
    """From 0 at -100 to 20 at 100: it enters at 10, so that the chart begins there."""
    lines = drawn(Drawing(ends=(0.0, 100.0), lines=[([(-100.0, 0.0), (100.0, 20.0)], True)]), 60, 13)
    body = [line.partition("|")[2] for line in lines[:11]]
    assert body[-1].startswith("*")
    assert body[0].endswith("*")
    assert lines[10].startswith("10|")


@pytest.mark.parametrize("plain", [True, False])
def test_a_band_is_filled_from_edge_to_edge(plain: bool) -> None:
    mark = (PLAIN if plain else FINE).band
    band = [(0.0, 0.0, 10.0), (50.0, 0.0, 10.0), (100.0, 5.0, 5.0)]
    lines = drawn(Drawing(ends=(0.0, 100.0), band=band), 60, 13, ascii_only=plain)[:11]
    columns = list(zip(*(line[3:] for line in lines), strict=True))
    filled = [[row for row, cell in enumerate(column) if cell == mark] for column in columns]
    assert all(rows == list(range(rows[0], rows[-1] + 1)) for rows in filled)
    heights = [len(rows) for rows in filled]
    assert heights[:28] == [11] * 28
    assert heights[-1] == 1
    assert heights == sorted(heights, reverse=True)


@pytest.mark.parametrize("plain", [True, False])
def test_what_was_read_and_what_is_reckoned_differ_in_shape(plain: bool) -> None:
    lines = [([(0.0, 9.0), (60.0, 9.0)], True), ([(0.0, 1.0), (60.0, 1.0)], False)]
    body = drawn(Drawing(ends=(0.0, 60.0), lines=lines, from_zero=True), 64, 12, ascii_only=plain)[:10]
    solid, dashed = (line[3:] for line in body if line[4:].strip())
    assert " " not in solid.strip()
    assert dashed.strip().count(" ") > 15
    assert not plain or (set(solid.strip()), set(dashed.strip())) == ({"*"}, {"x", " "})


@pytest.mark.parametrize("plain", [True, False])
def test_no_two_pieces_of_a_legend_share_a_mark(plain: bool) -> None:
    trend = Trend(
        id="use",
        name="Use",
        title="Use",
        dimension="volume",
        start=0.0,
        end=9.0,
        series=("measured",),
        points=(Point(x=1.0, y=1.0),),
        seen="metered",
        reckoned="expected",
        paths=(Path(((0.0, 1.0), (4.0, 1.0)), seen=True), Path(((4.0, 1.0), (9.0, 1.0)))),
        band=Band("10 to 90 %", ((4.0, 0.0, 2.0), (9.0, 0.0, 2.0))),
    )
    (line,) = legend_of(trend, 200, ascii_only=plain)
    names, pieces = ("measured", "metered", "expected", "10 to 90 %"), line.split("   ")
    marks = [piece.removesuffix(name) for piece, name in zip(pieces, names, strict=True)]
    assert len(set(marks)) == 4
    assert all(mark.strip() for mark in marks)
