"""Counting cycles: what is merged, half, refused. The standard's own example is in tests/published."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.model.wear.cycles import Cycle, count_cycles

values = st.lists(st.integers(-50, 50).map(float), max_size=60)


@pytest.mark.parametrize("series", [[], [3.0], [2.0, 2.0, 2.0]])
def test_a_series_that_never_turns_has_no_cycles(series: list[float]) -> None:
    assert count_cycles(series) == []


def test_one_rise_is_half_a_cycle() -> None:
    assert count_cycles([0.0, 4.0]) == [Cycle(4.0, 2.0, 0.5)]


def test_points_on_the_way_add_nothing() -> None:
    assert count_cycles([0.0, 1.0, 3.0, 4.0]) == count_cycles([0.0, 4.0])


def test_a_dive_down_and_up_is_one_cycle_of_two_halves() -> None:
    assert count_cycles([0.0, 2.0, 0.0]) == [Cycle(2.0, 1.0, 1.0)]


def test_cycles_of_one_range_and_mean_are_merged() -> None:
    found = count_cycles([0.0, 10.0, 4.0, 6.0, 4.0, 6.0, 0.0])
    assert Cycle(2.0, 5.0, 2.0) in found
    assert Cycle(10.0, 5.0, 1.0) in found
    assert len(found) == 2


def test_cycles_of_one_range_and_another_mean_stay_apart() -> None:
    found = count_cycles([0.0, 10.0, 8.0, 9.0, 2.0, 3.0, 0.0])
    assert [(c.range, c.mean) for c in found if c.range == 1.0] == [(1.0, 2.5), (1.0, 8.5)]


@given(series=values)
def test_cycles_come_smallest_range_first(series: list[float]) -> None:
    found = count_cycles(series)
    assert found == sorted(found, key=lambda c: (c.range, c.mean))
    assert len({(c.range, c.mean) for c in found}) == len(found)


@given(series=values)
def test_the_ranges_add_up_to_the_whole_way(series: list[float]) -> None:
    """Each half cycle is one way from a valley to a peak or back: together they are all of the way."""
    way = sum(abs(b - a) for a, b in pairwise(series))
    assert sum(2 * c.count * c.range for c in count_cycles(series)) == pytest.approx(way)


@given(series=values, lift=st.integers(-20, 20))
def test_lifting_a_series_moves_the_means_and_nothing_else(series: list[float], lift: int) -> None:
    moved = [Cycle(c.range, c.mean + lift, c.count) for c in count_cycles(series)]
    assert count_cycles([v + lift for v in series]) == moved


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
def test_a_value_that_is_no_number_is_refused(bad: float) -> None:
    with pytest.raises(ValueError, match="finite number"):
        count_cycles([0.0, bad, 1.0])
