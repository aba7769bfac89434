"""The profiles of the demo are dives that a person could have made."""

from __future__ import annotations

import itertools
from datetime import date
from random import Random

import pytest

from logbook.demo.blocks import Block
from logbook.demo.profiles import profile_from, shape_of
from logbook.errors import BadInput


def test_a_good_part_of_the_dives_has_a_profile_and_nothing_else_has(built):
    with_profile = [e for e in built.exposures if e.profile]
    assert len(with_profile) >= 60
    assert {e.activity for e in with_profile} == {"dive", "mixed-gas"}


def test_a_profile_runs_from_surface_to_surface_through_the_depth_of_its_dive(built):
    for e in (e for e in built.exposures if e.profile):
        points = e.profile
        assert (points[0].time_s, points[0].depth_m, points[-1].depth_m) == (0, 0, 0)
        assert points[-1].time_s == e.duration_s
        assert max(p.depth_m for p in points) == e.depth_m
        assert len(points) >= 20
        assert all(p.depth_m > 0 for p in points[1:-1])


def test_nobody_sinks_or_rises_faster_than_a_diver_does(built):
    # 30 m/min down and 18 m/min up: limits of recreational training; common practice, no source.
    for e in (e for e in built.exposures if e.profile):
        for a, b in itertools.pairwise(e.profile):
            rate_m_min = (b.depth_m - a.depth_m) / ((b.time_s - a.time_s) / 60)
            assert -18 <= rate_m_min <= 30, (e.starts_on, a, b)


def test_water_is_coldest_at_the_greatest_depth_and_warmest_at_the_surface(built):
    for e in (e for e in built.exposures if e.profile):
        deepest = max(e.profile, key=lambda p: p.depth_m)
        assert deepest.water_c == min(p.water_c for p in e.profile)
        assert deepest.water_c == pytest.approx(e.water_c, abs=0.05)
        assert e.profile[0].water_c == max(p.water_c for p in e.profile)
        assert e.profile[0].water_c > deepest.water_c


def test_the_deepest_point_is_the_depth_that_was_asked_for_in_spite_of_wavering():
    block = Block({"points": [[0, 0], [50, 100], [100, 0]], "waver_m": 2.0}, "profile 'x'", date(2026, 1, 1))
    points = profile_from(shape_of(block), 20.0, 1800, 12.0, Random(1))
    assert max(p.depth_m for p in points) == 20.0
    assert points[15].depth_m == 20.0


def test_without_wavering_depths_lie_on_straight_lines_between_the_points():
    block = Block({"points": [[0, 0], [25, 100], [100, 0]], "every_s": 100}, "profile 'x'", date(2026, 1, 1))
    points = profile_from(shape_of(block), 30.0, 400, 12.0, Random(1))
    assert [p.depth_m for p in points] == [0.0, 30.0, 20.0, 10.0, 0.0]


@pytest.mark.parametrize(
    ("points", "says"),
    [
        ([[0, 0], [50, 100], [90, 0]], "from 0 to 100"),
        ([[0, 0], [50, 100], [50, 20], [100, 0]], "from 0 to 100"),
        ([[0, 0], [50, 80], [100, 0]], "100 % of the depth"),
        ([[0, 0]], "a list of"),
        ([[0, 0], [50, 120], [100, 0]], "a list of"),
    ],
)
def test_a_shape_that_is_no_dive_is_refused_by_name(points, says):
    block = Block({"points": points}, "profile 'wall'", date(2026, 1, 1))
    with pytest.raises(BadInput, match=r"profile 'wall', points: .*") as caught:
        shape_of(block)
    assert says in caught.value.message
