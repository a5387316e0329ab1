"""The line chart in text: never beyond its bounds, its marks where they belong, plain where the terminal is."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from tui.widgets.plot import BRAILLE, LEVEL, LEVEL_PLAIN, draw_plot

numbers = st.floats(-1e6, 1e6, allow_nan=False)
curves = st.lists(st.tuples(st.floats(0, 99), numbers), max_size=40).map(
    lambda found: sorted(found, key=lambda p: p[0])
)
ENDS = (0.0, 99.0)


@given(curves, st.integers(-2, 140), st.integers(-2, 40), st.none() | numbers, st.booleans(), st.booleans())
def test_a_chart_has_exactly_the_room_it_was_given(
    points: list[tuple[float, float]], width: int, height: int, level: float | None, zero: bool, plain: bool
) -> None:
    plot = draw_plot(points, width, height, ENDS, level=level, from_zero=zero, ascii_only=plain)
    assert len(plot.lines) in (0, height)
    assert all(cell_len(line) == width for line in plot.lines)
    assert all(line.isascii() for line in plot.lines) or not plain


@given(curves, st.floats(-50, 150), st.integers(12, 140), st.integers(4, 40))
def test_a_mark_keeps_to_the_field_and_comes_back_to_its_x(
    points: list[tuple[float, float]], x: float, width: int, height: int
) -> None:
    plot = draw_plot(points, width, height, ENDS)
    at = plot.column(x)
    assert plot.left <= at < plot.left + plot.across == width
    cell = (plot.high - plot.low) / max(plot.across - 1, 1)
    assert abs(plot.x_at(at) - min(max(x, 0.0), 99.0)) <= 0.5 * cell + 1e-9
    lines = plot.marked({x: "#"})
    assert [line[at] for line in lines[: plot.body]] == ["#"] * plot.body
    assert lines[plot.body :] == list(plot.lines[plot.body :])


def test_values_that_are_not_finite_are_left_out() -> None:
    kept, whole = [(0.0, 1.0), (99.0, 2.0)], [(0.0, 1.0), (40.0, float("nan")), (50.0, float("inf")), (99.0, 2.0)]
    assert draw_plot(whole, 40, 8, ENDS) == draw_plot(kept, 40, 8, ENDS)


def test_a_falling_line_falls() -> None:
    lines = draw_plot([(0.0, 8.0), (99.0, 6.0)], 30, 8, ENDS, ascii_only=True).lines
    first = [line.index("*") for line in lines[:6]]
    assert first == sorted(first)
    assert lines[0].startswith("8.0|*")
    assert lines[5].startswith("6.0|")
    assert lines[5].endswith("*")


def test_a_step_is_drawn_without_a_hole() -> None:
    step = [(0.0, 0.0), (50.0, 0.0), (50.0, 10.0), (99.0, 10.0)]
    lines = draw_plot(step, 40, 10, ENDS, ascii_only=True).lines[:8]
    column = lines[4].index("*")
    assert all(line[column] == "*" for line in lines[1:-1])


@pytest.mark.parametrize(("plain", "mark"), [(True, LEVEL_PLAIN), (False, LEVEL)])
def test_the_level_is_labelled_and_lies_behind_the_line(plain: bool, mark: str) -> None:
    line = [(0.0, 6.0), (99.0, 8.0)]
    shown = draw_plot(line, 40, 8, ENDS, level=7.0, decimals=1, ascii_only=plain).lines
    row = next(one for one in shown[:6] if one.lstrip().startswith("7.0"))
    assert mark * 5 in row
    assert any(cell == "*" or ord(cell) in BRAILLE for cell in row)


def test_the_words_below_stand_at_the_ends_and_in_the_middle() -> None:
    below = draw_plot([], 40, 8, ENDS, names=("0 %", "here", "99 %")).lines[-1]
    assert below.strip().startswith("0 %")
    assert below.endswith("99 %")
    assert "here" in below
