"""Rainflow counting: the library against the standard's own worked example.

Source: ASTM E1049-85 (2017), section 5.4.4, figure 6, as a series of peaks and valleys; the counts from
memory. Tolerance: exact.
"""

from __future__ import annotations

from itertools import pairwise

import pytest

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
