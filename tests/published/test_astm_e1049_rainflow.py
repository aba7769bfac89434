"""Rainflow counting: the library against the standard's own worked example, and our count against its rules.

Source: ASTM E1049-85 (2017), section 5.4.4, figure 6, as a series of peaks and valleys; the counts from
memory. Its rules, too, are written out here from memory and held against our count on random series, since
that count is the library's. A second way, the four-point method (Amzallag et al., International Journal of
Fatigue 16 (1994) 287, from memory) with its residue counted in half cycles, must find the same where no two
ranges are alike.
Tolerance: exact.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import pairwise
from random import Random

import pytest

from logbook.model.wear.cycles import count_cycles

SERIES = [-2, 1, -3, 5, -1, 3, -4, 4, -2]
COUNTS = {3: 0.5, 4: 1.5, 6: 0.5, 8: 1.0, 9: 0.5}
# figure 6: (from, to) of each counted range, half cycles but for the full one from −1 to 3
CYCLES = {(-2, 1): 0.5, (1, -3): 0.5, (-1, 3): 1.0, (-3, 5): 0.5, (5, -4): 0.5, (-4, 4): 0.5, (4, -2): 0.5}


def test_the_worked_example_gives_the_printed_counts() -> None:
    import rainflow

    assert dict(rainflow.count_cycles(SERIES)) == COUNTS


@pytest.mark.parametrize("size", COUNTS)
def test_each_range_is_counted_as_printed(size: int) -> None:
    import rainflow

    found = sum(count for cycle, _, count, _, _ in rainflow.extract_cycles(SERIES) if cycle == size)
    assert found == COUNTS[size]


def test_the_pairs_of_peaks_and_valleys_are_those_of_the_figure() -> None:
    import rainflow

    found = {
        (SERIES[start], SERIES[end]): count for _, _, count, start, end in rainflow.extract_cycles(SERIES)
    }
    assert found == CYCLES


def test_points_between_peaks_and_valleys_change_nothing() -> None:
    import rainflow

    halves = [value for a, b in pairwise(SERIES) for value in (a, (a + b) / 2)]
    assert dict(rainflow.count_cycles([*halves, SERIES[-1]])) == COUNTS


# --------------------------------------------------------------- our count against the rules themselves


def turns(series: Sequence[float]) -> list[float]:
    """The peaks and valleys of a series, with both its ends."""
    steps = [value for n, value in enumerate(series) if n == 0 or value != series[n - 1]]
    inner = (b for a, b, c in zip(steps, steps[1:], steps[2:], strict=False) if (b - a) * (c - b) < 0)
    return [*steps[:1], *inner, *steps[-1:]] if len(steps) > 1 else steps


def by_the_standards_rules(series: Sequence[float]) -> Iterator[tuple[float, float, float]]:
    """From, to and count of every range: section 5.4.4, rules 1 to 6."""
    read: list[float] = []  # read and not discarded; the first of them is the starting point S
    for point in turns(series):  # 1: read the next peak or valley
        read.append(point)
        while len(read) >= 3:  # 2: form X, and Y before it
            x, y = abs(read[-1] - read[-2]), abs(read[-2] - read[-3])
            if x < y:  # 3
                break
            if len(read) == 3:  # 5: Y holds S; half a cycle, and S moves on
                yield read[0], read[1], 0.5
                del read[0]
            else:  # 4: one cycle, and both of its points go
                yield read[-3], read[-2], 1.0
                del read[-3:-1]
    for a, b in pairwise(read):  # 6: what is left counts half
        yield a, b, 0.5


def by_four_points(series: Sequence[float]) -> Iterator[tuple[float, float, float]]:
    """From, to and count of every range: an inner range no larger than both beside it is a cycle."""
    read: list[float] = []
    for point in turns(series):
        read.append(point)
        while len(read) >= 4:
            before, inner, after = (abs(b - a) for a, b in pairwise(read[-4:]))
            if inner > before or inner > after:
                break
            yield read[-3], read[-2], 1.0
            del read[-3:-1]
    for a, b in pairwise(read):
        yield a, b, 0.5


def merged(ranges: Iterator[tuple[float, float, float]]) -> dict[tuple[float, float], float]:
    """(range, mean) -> count."""
    found: Counter[tuple[float, float]] = Counter()
    for a, b, count in ranges:
        found[abs(b - a), (a + b) / 2] += count
    return dict(found)


def ours(series: Sequence[float]) -> dict[tuple[float, float], float]:
    return {(c.range, c.mean): c.count for c in count_cycles(series)}


def test_the_rules_as_written_here_give_the_figures_cycles() -> None:
    assert {(a, b): count for a, b, count in by_the_standards_rules(SERIES)} == CYCLES


def test_our_count_is_that_of_the_rules_on_two_thousand_random_series() -> None:
    dice = Random(20261125)
    for n in range(2_000):
        length = dice.randint(0, 80)
        # Whole numbers make ties, flat stretches and points on the way; the others make none.
        series = [float(dice.randint(-9, 9)) if n % 2 else dice.gauss(0, 10) for _ in range(length)]
        assert ours(series) == merged(by_the_standards_rules(series)), series


def test_our_count_is_that_of_four_points_on_two_thousand_random_series() -> None:
    dice = Random(5)
    for _ in range(2_000):
        series = [dice.gauss(0, 10) for _ in range(dice.randint(0, 80))]
        assert ours(series) == merged(by_four_points(series)), series
