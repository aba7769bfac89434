"""A line reduced to columns and drawn in dots: no extreme is lost, for all series and widths."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from logbook.tui.pictures import curve

Series = list[tuple[float, float]]


@st.composite
def series(draw: st.DrawFn) -> Series:
    """Points in time, some at one instant."""
    steps = draw(st.lists(st.sampled_from((0.0, 0.001, 0.5, 1.0, 7.3)), min_size=2, max_size=60))
    at, found = 0.0, []
    for step in steps:
        at += step
        found.append((at, draw(st.floats(-50, 400, allow_nan=False))))
    return found


COLUMNS = st.integers(1, 300)


@given(series(), COLUMNS, st.floats(0, 20))
@example([(0.0, 1.0), (0.0, 2.0)], 7, 0.0)
@example([(0.0, 127.0), (0.001, -1.6496928118072418), (0.001, 0.0), (0.002, 0.0), (0.003, 0.0)], 165, 0.0)
def test_every_column_spans_what_the_points_in_it_reach_and_none_leaves_the_series(
    points: Series, columns: int, more: float
) -> None:
    end = points[-1][0] + more
    spans = curve.reduced(points, end, columns)
    assert len(spans) == columns
    for at, value in points:
        span = spans[curve.column_of(at, end, columns)]
        assert span is not None
        assert span[0] <= value <= span[1]
    values = [value for _, value in points]
    met = [value for span in spans if span is not None for value in span]
    assert min(met) == min(values)
    assert max(met) == max(values)


@given(series(), COLUMNS)
def test_the_line_has_no_gap(points: Series, columns: int) -> None:
    spans = curve.reduced(points, points[-1][0], columns)
    first, last = (curve.column_of(at, points[-1][0], columns) for at in (points[0][0], points[-1][0]))
    met = spans[first : last + 1]
    assert None not in met
    for one, other in pairwise(met):
        assert one is not None
        assert other is not None
        assert max(one[0], other[0]) <= min(one[1], other[1])  # they touch


@given(series(), st.integers(1, 120), st.integers(1, 12))
def test_the_greatest_value_lies_on_the_last_row_of_its_cell_s_column(
    points: Series, cells: int, height: int
) -> None:
    end, columns = points[-1][0], cells * curve.DOTS_ACROSS
    at, bottom = max(points, key=lambda point: point[1])
    top = min(value for _, value in points)
    picture = curve.drawn(curve.reduced(points, end, columns), top, bottom, height)
    cell = curve.column_of(at, end, columns) // curve.DOTS_ACROSS
    row = height - 1 if top < bottom else 0
    assert ord(picture[row][cell]) > 0x2800
    assert [len(cells_of_row) for cells_of_row in picture] == [cells] * height


def test_fifty_thousand_points_keep_the_one_that_sticks_out() -> None:
    points = [(n / 100, 99.0 if n == 31_234 else 10.0 + n % 3) for n in range(50_000)]
    spans = curve.reduced(points, points[-1][0], 120)
    reached = [n for n, span in enumerate(spans) if span is not None and span[1] == 99.0]
    assert reached == [31_234 * 120 // 49_999]


def test_straight_lines_run_between_the_points() -> None:
    assert curve.reduced([(0, 0.0), (4, 8.0)], 4, 4) == [(0, 2), (2, 4), (4, 6), (6, 8)]
    assert curve.reduced([(1, 5.0), (2, 5.0)], 4, 4) == [None, (5, 5), (5, 5), None]


def test_dots_stand_for_what_the_standard_says() -> None:
    # The Unicode Standard 15.0, ch. 21.1 "Braille Patterns": dots 1 2 3 7 are the left column from the top
    # (bits 0 1 2 6), dots 4 5 6 8 the right one (bits 3 4 5 7), in the block that begins at U+2800.
    # Python's unicodedata names each pattern by its dots.
    import unicodedata

    falling = curve.drawn([(0.0, 0.0), (3.0, 3.0)], 0.0, 3.0, 1)
    assert unicodedata.name(falling[0][0]) == "BRAILLE PATTERN DOTS-18"
    upright = curve.drawn([(0.0, 3.0), None], 0.0, 3.0, 1)
    assert unicodedata.name(upright[0][0]) == "BRAILLE PATTERN DOTS-1237"


def test_what_lies_above_the_line_is_filled() -> None:
    flat = curve.drawn([(8.0, 8.0)] * 4, 0.0, 8.0, 3, below="░")
    assert ["".join(row) for row in flat] == ["░░", "░░", "⣀⣀"]
    gap = curve.drawn([None, None, (8.0, 8.0), (8.0, 8.0)], 0.0, 8.0, 2, below="░")
    assert ["".join(row) for row in gap] == [" ░", " ⣀"]


@pytest.mark.parametrize(
    ("span", "most", "step"),
    [(38, 4, 10), (60, 6, 10), (61, 6, 20), (21.4, 3, 10), (1.5, 3, 0.5), (2880, 9, 500), (0.03, 3, 0.01)],
)
def test_steps_are_round_and_as_many_as_asked(span: float, most: int, step: float) -> None:
    assert curve.round_step(span, most) == step
