"""The shape of an exposure: cycles of pressure, the gate that keeps noise out, and bad input."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.errors import BadInput
from logbook.model.validate.exposure import make_exposure
from logbook.model.values import Exposure, ProfilePoint, Settings
from logbook.model.wear import profiles, wear
from tests.model.builders import PRACTICE, TODAY, exposure, record
from tests.model.shapes import GATE_M, bars, cost, depth_at, dive, seconds

# --------------------------------------------------------------- pressure


def test_a_dive_is_one_cycle_to_its_greatest_depth_and_back() -> None:
    assert bars(dive((0, 0.0), (2, 18.0), (20, 12.0), (30, 5.0), (45, 0.0))) == [(1.8, 1.0)]


def test_coming_up_half_way_and_going_down_again_is_a_cycle_of_its_own() -> None:
    of = dive((0, 0.0), (5, 20.0), (10, 5.0), (15, 18.0), (30, 0.0))
    assert bars(of) == [(1.3, 1.0), (2.0, 1.0)]
    # 1 × (1 × (1.3/20)² + 1 × (2/20)²) / 100
    assert cost(of).pressure == pytest.approx((0.065**2 + 0.1**2) / 100)


def test_the_return_to_the_surface_is_counted_though_the_profile_ends_and_begins_below() -> None:
    assert bars(dive((0, 18.0), (45, 18.0))) == [(1.8, 1.0)]


def test_a_profile_says_its_dips_itself() -> None:
    shape = ((0, 0.0), (1, 10.0), (2, 0.0), (3, 10.0), (4, 0.0))
    assert bars(dive(*shape, dips=20)) == [(1.0, 2.0)]


def test_a_profile_whose_samples_miss_the_greatest_depth_still_reaches_it() -> None:
    assert bars(dive((0, 0.0), (10, 20.4), (20, 0.0), depth_m=21.0)) == [(2.1, 1.0)]


def test_a_float_within_the_gate_is_one_cycle_to_its_greatest_depth() -> None:
    assert bars(dive((0, 0.0), (1, 0.5), (2, 0.1), (3, 0.5), (40, 0.0))) == [(0.05, 1.0)]


def test_a_flat_profile_at_no_depth_has_no_pressure_but_what_was_said_of_the_depth_holds() -> None:
    assert bars(dive((0, 0.0), (40, 0.0))) == []
    assert bars(dive((0, 0.0), (40, 0.0), depth_m=3.0)) == [(0.3, 1.0)]


@pytest.mark.parametrize("swing_m", [0.0, 0.3, 0.69])
def test_wavering_within_the_gate_is_one_stay(swing_m: float) -> None:
    wavering = [(n, 20.0 - (swing_m if n % 2 else 0.0)) for n in range(2, 40)]
    assert bars(dive((0, 0.0), *wavering, (40, 0.0))) == [(2.0, 1.0)]


def test_turns_above_the_gate_count_in_full() -> None:
    of = dive((0, 0.0), (2, 20.0), (10, 20.0 - GATE_M - 0.01), (20, 20.0), (40, 0.0))
    assert bars(of) == [(0.071, 1.0), (2.0, 1.0)]


@pytest.mark.parametrize("seed", range(20))
@pytest.mark.parametrize("shape", ["square", "steps", "multilevel"])
def test_noise_of_three_tenths_of_a_metre_adds_nothing(seed: int, shape: str) -> None:
    """Readings every five seconds, each off by up to 0.3 m; the greatest depth is what was said of it."""
    dice = Random(seed)
    levels = {
        "square": [(0, 0.0), (2, 20.0), (38, 20.0), (40, 0.0)],
        "steps": [(0, 0.0), (2, 20.0), (10, 20.0), (11, 12.0), (25, 12.0), (26, 5.0), (39, 5.0), (40, 0.0)],
        "multilevel": [(0, 0.0), (5, 20.0), (20, 14.0), (30, 9.0), (40, 0.0)],
    }[shape]
    clean = dive(*levels)
    noisy = [
        ProfilePoint(s, max(0.0, depth_at(clean.profile, s) + dice.uniform(-0.3, 0.3)))
        for s in seconds(40, 5)
    ]
    assert cost(replace(clean, profile=tuple(noisy))).as_tuple() == pytest.approx(
        cost(clean).as_tuple(), rel=1e-12
    )


@pytest.mark.parametrize("seed", range(20))
def test_noise_adds_no_cycle_to_a_dive_that_goes_up_and_down(seed: int) -> None:
    """At a turn inside the dive a reading may be off by 0.3 m at either end, and by no more."""
    dice = Random(seed)
    clean = dive((0, 0.0), (5, 20.0), (15, 6.0), (25, 16.0), (40, 0.0))
    noisy = [
        ProfilePoint(s, max(0.0, depth_at(clean.profile, s) + dice.uniform(-0.3, 0.3)))
        for s in seconds(40, 5)
    ]
    found, exact = bars(replace(clean, profile=tuple(noisy))), bars(clean)
    assert [count for _, count in found] == [count for _, count in exact] == [1.0, 1.0]
    assert all(abs(a - b) <= 0.06 + 1e-9 for (a, _), (b, _) in zip(found, exact, strict=True))


@given(
    depths=st.lists(st.floats(0, 40), min_size=1, max_size=30),
    at=st.integers(0, 29),
    down=st.floats(0, 40),
    up=st.floats(0, 40),
)
def test_one_more_way_up_and_down_is_never_less_wear(
    depths: list[float], at: int, down: float, up: float
) -> None:
    def pressure(of: Sequence[float]) -> float:
        shape = tuple(ProfilePoint(60.0 * n, depth) for n, depth in enumerate(of))
        one = exposure(depth_m=40.0, duration_s=3600, profile=shape)
        return wear.water_shares(one, "crown", record().watch, PRACTICE).pressure

    before = [0.0, 40.0, *depths, 0.0]
    place = 2 + at % (len(depths) + 1)
    assert pressure([*before[:place], up, down, *before[place:]]) >= pressure(before) * (1 - 1e-12)


@given(times=st.integers(1, 30))
def test_every_yo_yo_adds_the_same_wear_again(times: int) -> None:
    of = dive((0, 0.0), *((n, 20.0 if n % 2 else 8.0) for n in range(1, 2 * times + 2)), (70, 0.0))
    assert bars(of) == [(1.2, float(times)), (2.0, 1.0)]


# --------------------------------------------------------------- the gate


@given(series=st.lists(st.floats(0, 50), max_size=60), gate=st.floats(0.01, 5))
def test_what_the_gate_keeps_turns_at_every_value_by_more_than_the_gate(
    series: list[float], gate: float
) -> None:
    kept = profiles.gated([0.0, *series, 0.0], gate)
    assert (kept[0], kept[-1]) == (0.0, 0.0)
    steps = [b - a for a, b in pairwise(kept)]
    assert all(abs(step) > gate for step in steps[:-1])
    assert all(a * b < 0 for a, b in pairwise(steps))


@given(series=st.lists(st.floats(0, 50), max_size=60), gate=st.floats(0.01, 5))
def test_the_gate_keeps_the_greatest_value_in_full_and_passing_it_twice_changes_nothing(
    series: list[float], gate: float
) -> None:
    kept = profiles.gated([0.0, *series, 0.0], gate)
    if max(series, default=0.0) > gate:
        assert max(kept) == max(series)
    else:
        assert kept == [0.0]
    assert profiles.gated(kept, gate) == kept


def test_a_series_of_nothing_or_of_one_passes_the_gate() -> None:
    assert profiles.gated([], 0.7) == []
    assert profiles.gated([3.0], 0.7) == [3.0]


# --------------------------------------------------------------- bad input


def made(*of: ProfilePoint) -> Exposure:
    return make_exposure(
        PRACTICE, Settings(), activity="dive", starts_on=TODAY, today=TODAY, profile=of, water_c=15.0
    )


@pytest.mark.parametrize(
    "bad",
    [
        [(0, 0.0), (60, math.nan), (120, 0.0)],
        [(0, 0.0), (60, math.inf), (120, 0.0)],
        [(0, 0.0), (math.nan, 10.0), (120, 0.0)],
        [(0, 0.0), (60, 10.0, math.nan), (120, 0.0)],
        [(0, 0.0), (60, -2.0), (120, 0.0)],
        [(0, 0.0), (120, 10.0), (60, 0.0)],
        [(0, 0.0), (60, 10.0), (200_000, 0.0)],
    ],
    ids=["no depth", "no end of depth", "no time", "no temperature", "above the surface", "back in time",
         "beyond two days"],
)  # fmt: skip
def test_a_profile_that_cannot_be_is_refused_at_the_edge(bad: list[tuple[float, ...]]) -> None:
    with pytest.raises(BadInput) as caught:
        made(*(ProfilePoint(*of) for of in bad))
    assert caught.value.where == "profile"


def test_of_two_points_at_one_time_the_deeper_one_counts() -> None:
    of = made(ProfilePoint(0, 0.0), ProfilePoint(60, 10.0), ProfilePoint(60, 12.0), ProfilePoint(600, 0.0))
    assert [p.depth_m for p in of.profile] == [0.0, 12.0, 0.0]
    assert [(c.range, c.count) for c in wear.course_of(of, PRACTICE).pressure] == [
        (pytest.approx(of.gauge_pa), 1.0)
    ]


def test_two_points_at_one_time_are_one_and_so_no_shape() -> None:
    of = made(ProfilePoint(60, 10.0), ProfilePoint(60, 12.0))
    assert not wear.has_shape(of.profile)


@given(
    shape=st.lists(
        st.tuples(st.floats(0, 3600), st.floats(0, 60), st.none() | st.floats(-3, 60)),
        min_size=2,
        max_size=30,
    ),
    depth_m=st.floats(0, 60),
    water=st.sampled_from(["sea", "fresh", "pool", "air"]),
)
def test_whatever_reaches_the_arithmetic_gives_finite_wear_that_is_not_negative(
    shape: list[tuple[float, float, float | None]], depth_m: float, water: str
) -> None:
    """Times in disorder, depths under the one given: refused at the edge, and harmless beyond it."""
    of = exposure(water=water, depth_m=depth_m, profile=tuple(ProfilePoint(*p) for p in shape))
    found = wear.water_shares(of, "crown", record().watch, PRACTICE)
    assert all(math.isfinite(part) and part >= 0 for part in found.as_tuple())
    assert math.isfinite(cost(of).ageing)
