"""A line through points as dots of characters: eight dots a cell, no extreme lost however many points."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

Spans = list[tuple[float, float] | None]  # least and greatest value in each column; None: nothing there

DOTS_ACROSS, DOTS_DOWN = 2, 4  # of one cell
_BLANK = 0x2800  # of the braille patterns: Unicode, block 2800–28FF
_DOT = ((0x01, 0x02, 0x04, 0x40), (0x08, 0x10, 0x20, 0x80))


def column_of(at: float, end: float, columns: int) -> int:
    """The column that a place between 0 and `end` falls into."""
    return min(columns - 1, max(0, int(at * columns / end))) if end > 0 else 0


def reduced(points: Sequence[tuple[float, float]], end: float, columns: int) -> Spans:
    """Least and greatest value of the line through `points`, in their order, in equal parts of 0 to `end`."""
    spans: Spans = [None] * columns

    def meet(column: int, value: float) -> None:
        span = spans[column]
        spans[column] = (value, value) if span is None else (min(span[0], value), max(span[1], value))

    for at, value in points:
        meet(column_of(at, end, columns), value)
    for (begin, first), (finish, last) in pairwise(points):
        left, right = column_of(begin, end, columns), column_of(finish, end, columns)
        for edge in range(left + 1, right + 1):
            part = min(1.0, max(0.0, (edge * end / columns - begin) / (finish - begin)))
            value = first + part * (last - first)
            value = min(max(value, min(first, last)), max(first, last))  # rounding leaves neither end
            meet(edge - 1, value)
            meet(edge, value)
    return spans


def dot_of(value: float, top: float, bottom: float, dots: int) -> int:
    """The row of dots, from the top one 0, on which a value lies."""
    if top == bottom:
        return 0
    return min(dots - 1, max(0, round((value - top) / (bottom - top) * (dots - 1))))


def drawn(spans: Spans, top: float, bottom: float, height: int, *, below: str = " ") -> list[list[str]]:
    """Rows of cells with the line in them, `top` on the first row of dots and `bottom` on the last.

    There are two columns of `spans` a cell. What lies between the top and the line is filled with `below`.
    """
    dots = height * DOTS_DOWN
    cells = len(spans) // DOTS_ACROSS
    bits = [[0] * cells for _ in range(height)]
    lowest = [-1] * cells  # row of dots down to which a cell's two columns reach, so that it can be filled
    for n, span in enumerate(spans):
        if span is None:
            continue
        cell, side = divmod(n, DOTS_ACROSS)
        upper, lower = sorted(dot_of(value, top, bottom, dots) for value in span)
        for dot in range(upper, lower + 1):
            bits[dot // DOTS_DOWN][cell] |= _DOT[side][dot % DOTS_DOWN]
        lowest[cell] = max(lowest[cell], lower)
    return [
        [
            chr(_BLANK + found) if found else below if row * DOTS_DOWN <= lowest[cell] else " "
            for cell, found in enumerate(of_row)
        ]
        for row, of_row in enumerate(bits)
    ]


def round_step(span: float, most: int) -> float:
    """The least of 1, 2 and 5 times a power of ten that cuts a span into at most so many parts."""
    step = 10.0**-2
    while span / step > max(1, most):
        step *= 2.5 if f"{step:e}".startswith("2") else 2
    return float(f"{step:g}")
