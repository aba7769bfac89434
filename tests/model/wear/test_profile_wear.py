"""What a profile adds up to: however it is sampled, and beside the same exposure without one."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import replace
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.model.values import ProfilePoint
from logbook.model.wear import wear
from logbook.model.wear.cycles import Cycle, count_cycles
from tests.model.builders import PRACTICE, exposure, practice_with, record
from tests.model.shapes import POSITIONS, cost, dive, points, square

# --------------------------------------------------------------- sampling


@settings(deadline=None)
@given(
    knots=st.lists(
        st.tuples(st.integers(1, 20), st.floats(0, 40), st.floats(0, 30)), min_size=2, max_size=12
    ),
    between=st.lists(st.floats(0.01, 0.99), min_size=1, max_size=20),
)
def test_more_points_on_the_straight_lines_change_nothing(
    knots: list[tuple[int, float, float]], between: list[float]
) -> None:
    at, shape = 0.0, []
    for minutes, depth, celsius in knots:
        shape.append(ProfilePoint(at * 60, depth, celsius))
        at += minutes
    finer = list(shape)
    for n, share in enumerate(between):
        a, b = shape[n % (len(shape) - 1)], shape[n % (len(shape) - 1) + 1]
        mixed = [x + (y - x) * share for x, y in zip(_numbers(a), _numbers(b), strict=True)]
        finer.append(ProfilePoint(*mixed))
    finer.sort(key=lambda p: p.time_s)
    of = exposure(depth_m=max(p.depth_m for p in shape), duration_s=math.ceil(shape[-1].time_s))
    coarse, fine = (cost(replace(of, profile=tuple(p))) for p in (shape, finer))
    assert fine.as_tuple() == pytest.approx(coarse.as_tuple(), rel=1e-9, abs=1e-12)


def _numbers(point: ProfilePoint) -> tuple[float, float, float]:
    assert point.water_c is not None
    return point.time_s, point.depth_m, point.water_c


def test_a_gap_is_bridged_by_a_straight_line() -> None:
    full = dive((0, 0.0, 20.0), (10, 10.0, 18.0), (20, 20.0, 16.0), (40, 0.0, 20.0))
    gap = replace(full, profile=(full.profile[0], *full.profile[2:]))
    assert cost(gap).as_tuple() == pytest.approx(cost(full).as_tuple(), rel=1e-9)


# --------------------------------------------------------------- with and without


@pytest.mark.parametrize("water", ["sea", "pool"])
@pytest.mark.parametrize("minutes", [35, 45, 60, 120])
@pytest.mark.parametrize("water_c", [2.0, 6.0, 12.0, 18.0, 24.0, 27.0, 31.5, 39.0])
@pytest.mark.parametrize("depth_m", [1.5, 5.0, 18.0, 40.0, 100.0])
def test_a_square_dive_of_35_minutes_costs_the_same_with_and_without_its_profile(
    water: str, minutes: int, water_c: float, depth_m: float
) -> None:
    plain = exposure(water=water, depth_m=depth_m, water_c=water_c, duration_s=minutes * 60)
    for position in POSITIONS:
        for way_min in (0.01, 1.0):
            with_one = replace(plain, profile=square(depth_m, minutes, way_min))
            assert cost(with_one, position).total == pytest.approx(cost(plain, position).total, rel=0.01)


@pytest.mark.parametrize("minutes", [35, 45, 60, 120])
@pytest.mark.parametrize("water_c", [2.0, 6.0, 12.0, 18.0, 24.0])
@pytest.mark.parametrize("depth_m", [10.0, 18.0, 40.0, 100.0])
def test_so_does_one_in_a_lake_where_salt_adds_nothing(minutes: int, water_c: float, depth_m: float) -> None:
    plain = exposure(water="fresh", salinity=0.0, depth_m=depth_m, water_c=water_c, duration_s=minutes * 60)
    for position in POSITIONS:
        with_one = replace(plain, profile=square(depth_m, minutes))
        assert cost(with_one, position).total == pytest.approx(cost(plain, position).total, rel=0.01)


@pytest.mark.parametrize("minutes", [35, 60, 180])
@pytest.mark.parametrize("water_c", [27.0, 30.0, 31.5, 39.0])
@pytest.mark.parametrize("depth_m", [1.5, 5.0, 18.0])
def test_in_warm_fresh_water_hardly_anything_is_charged_and_the_difference_is_a_thousandth_of_a_point(
    minutes: int, water_c: float, depth_m: float
) -> None:
    """Ageing in the water and on the wrist nearly cancel, so that a share of the rest is no measure."""
    plain = exposure(water="fresh", salinity=0.0, depth_m=depth_m, water_c=water_c, duration_s=minutes * 60)
    with_one = replace(plain, profile=square(depth_m, minutes))
    for position in POSITIONS:
        assert cost(with_one, position).total == pytest.approx(
            cost(plain, position).total, rel=0.01, abs=1e-5
        )


def test_one_point_is_no_shape_and_is_charged_as_none() -> None:
    plain = exposure(dips=3)
    assert cost(replace(plain, profile=points((5, 9.0, 4.0)))) == cost(plain)


def test_check_rules_read_the_full_swing_whatever_a_profile_says() -> None:
    of = exposure(duration_s=120, profile=square(18.0, 2.0, 0.5))
    assert wear.swing_k(of, PRACTICE) == wear.swing_k(replace(of, profile=()), PRACTICE) == 12.0
    assert wear.case_c(of, PRACTICE) == 20.0


def test_salt_soap_and_uses_are_charged_as_without_a_profile() -> None:
    plain = exposure(crown_wet=2, rinsed=False)
    with_one, without = cost(replace(plain, profile=square(18.0, 45.0))), cost(plain)
    assert (with_one.salt, with_one.chemicals, with_one.handling) == (
        without.salt, without.chemicals, without.handling,
    )  # fmt: skip


# --------------------------------------------------------------- the count itself


def test_our_count_is_the_librarys_on_twelve_hundred_random_series() -> None:
    """Oracle: rainflow.extract_cycles of the rainflow library, which follows ASTM E1049-85."""
    import rainflow

    dice = Random(20260101)
    for n in range(1_200):
        whole = n % 2 == 0
        series = [
            float(dice.randint(-20, 20)) if whole else dice.gauss(0, 10) for _ in range(dice.randint(3, 120))
        ]
        oracle: Counter[tuple[float, float]] = Counter()
        for size, mean, count, _, _ in rainflow.extract_cycles(series):
            if size:
                oracle[size, mean] += count
        ours = {(c.range, c.mean): c.count for c in count_cycles(series)}
        assert ours == dict(oracle), series


@given(dice=st.randoms(use_true_random=False), size=st.floats(0.5, 40))
def test_the_order_of_the_cycles_makes_no_difference_to_the_wear(dice: Random, size: float) -> None:
    cycles = [Cycle(dice.uniform(0, size) * 1e5, 0.0, dice.choice([0.5, 1.0, 3.0])) for _ in range(12)]
    mixed = list(cycles)
    dice.shuffle(mixed)
    one, other = (
        wear.water_shares(exposure(), "crown", record().watch, PRACTICE, wear.Course(tuple(c), (), 1.0))
        for c in (cycles, mixed)
    )
    assert one == other


@given(depths=st.lists(st.integers(0, 400).map(lambda d: d / 10), min_size=2, max_size=40))
def test_a_dive_told_backwards_costs_the_same_pressure(depths: list[float]) -> None:
    ways = [
        exposure(
            depth_m=max(depths),
            profile=tuple(ProfilePoint(60.0 * n, depth) for n, depth in enumerate([0.0, *way, 0.0])),
        )
        for way in (depths, depths[::-1])
    ]
    # Only the place where the gate begins to hold may differ, so the gate is put out of the way.
    practice = practice_with("[constants.profile_gate_m]\nvalue = 0.001\nlow = 0.001\nhigh = 0.7\n")
    one, other = (wear.water_shares(e, "crown", record().watch, practice).pressure for e in ways)
    assert one == pytest.approx(other, rel=1e-9)
