"""Profiles that cannot be, or hardly: which are refused with a sentence, and what the rest cost."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.errors import BadInput
from logbook.model.validate.exposure import make_exposure
from logbook.model.values import Exposure, ProfilePoint, Settings
from logbook.model.wear import wear
from logbook.model.wear.cycles import count_cycles
from tests.effort import tries
from tests.model.builders import PRACTICE, TODAY, exposure, record
from tests.model.shapes import bars, cost, dive, points

NAN, INF = math.nan, math.inf
TWO_DAYS_S = 2 * 24 * 3600


def made(shape: tuple[ProfilePoint, ...], **said: Any) -> Exposure:
    """A dive of today as the edge makes it from a profile."""
    plain: dict[str, Any] = {"activity": "dive", "starts_on": TODAY, "today": TODAY, "water_c": 15.0}
    return make_exposure(PRACTICE, Settings(), profile=shape, **(plain | said))


def refused(shape: tuple[ProfilePoint, ...], where: str = "profile", **said: Any) -> str:
    """The one sentence with which a profile is refused."""
    with pytest.raises(BadInput) as caught:
        made(shape, **said)
    assert caught.value.where == where
    sentence = caught.value.message
    assert sentence[:1].isupper()
    assert sentence.endswith((".", "?"))
    assert "\n" not in sentence
    return sentence


def water_shares(of: Exposure) -> tuple[float, ...]:
    return wear.water_shares(of, "crown", record().watch, PRACTICE).as_tuple()


# --------------------------------------------------------------- no numbers


@pytest.mark.parametrize("bad", [NAN, INF, -INF])
@pytest.mark.parametrize("at", [0, 1, 2])
def test_a_depth_that_is_no_number_is_refused(bad: float, at: int) -> None:
    depths = [0.0, 10.0, 0.0]
    depths[at] = bad
    assert "depth" in refused(points(*((n, depth) for n, depth in enumerate(depths))))


@pytest.mark.parametrize("bad", [NAN, INF, -INF])
@pytest.mark.parametrize("at", [0, 1, 2])
def test_a_time_that_is_no_number_is_refused_with_its_point(bad: float, at: int) -> None:
    minutes = [0.0, 1.0, 2.0]
    minutes[at] = bad
    assert f"Point {at + 1} of the profile" in refused(points(*((m, 5.0) for m in minutes)))


@pytest.mark.parametrize("bad", [NAN, INF, -INF, -40.0, 293.15])
def test_a_temperature_that_no_water_has_is_refused(bad: float) -> None:
    assert "temperature" in refused(points((0, 0.0, 15.0), (10, 12.0, bad), (20, 0.0, 15.0)))


def test_kelvin_for_celsius_gets_a_question_and_no_guess() -> None:
    assert "Did you mean 293.15 K = 20 °C?" in refused(points((0, 0.0, 293.15), (10, 12.0, 293.15)))


# --------------------------------------------------------------- above the surface, too deep


@pytest.mark.parametrize("depth_m", [-0.001, -0.3, -20.0])
def test_a_depth_above_the_surface_is_refused(depth_m: float) -> None:
    sentence = refused(points((0, 0.0), (1, 10.0), (2, depth_m), (3, 10.0), (4, 0.0)))
    assert f"{depth_m:g} m is not from 0 to 400 m" in sentence


def test_less_than_nothing_by_rounding_is_the_surface() -> None:
    of = made(points((0, -0.0), (10, 5.0), (20, 0.0)))
    assert math.copysign(1, of.profile[0].depth_m) == 1


def test_a_profile_deeper_than_the_depth_that_was_given_is_a_contradiction() -> None:
    assert "deeper than the 18" in refused(points((0, 0.0), (10, 21.0), (20, 0.0)), "depth_m", depth_m=18.0)


def test_there_is_no_depth_in_hot_air() -> None:
    shape = points((0, 0.0, 80.0), (5, 1.0, 80.0), (10, 0.0, 80.0))
    assert "no depth in air" in refused(shape, "depth_m", activity="sauna", water_c=80.0)


# --------------------------------------------------------------- times that turn back, repeat, or stop


@pytest.mark.parametrize(
    ("minutes", "point"),
    [((0, 10, 5), 3), ((20, 10, 0), 2), ((0, 10, 9.999), 3), ((-1, 0, 10), 1)],
    ids=["one back", "told backwards", "a blink back", "before the start"],
)
def test_times_that_run_back_are_refused_with_the_first_point_that_does(
    minutes: tuple[float, ...], point: int
) -> None:
    sentence = refused(points(*((m, 5.0) for m in minutes)))
    assert sentence.startswith(f"Point {point} of the profile")
    assert "the times run forward" in sentence


def test_a_profile_of_more_than_two_days_is_refused() -> None:
    assert "two days" in refused((ProfilePoint(0, 0.0), ProfilePoint(TWO_DAYS_S + 1, 5.0)))
    assert made((ProfilePoint(0, 0.0), ProfilePoint(TWO_DAYS_S, 5.0))).duration_s == TWO_DAYS_S


def test_a_profile_longer_than_the_duration_that_was_given_is_a_contradiction() -> None:
    assert "longer than the 600 s" in refused(
        points((0, 0.0), (10, 9.0), (20, 0.0)), "duration_s", duration_s=600
    )


@pytest.mark.parametrize("times", [2, 3, 50])
def test_points_that_repeat_add_nothing(times: int) -> None:
    once = points((0, 0.0, 20.0), (5, 18.0, 12.0), (40, 18.0, 12.0), (45, 0.0, 20.0))
    again = tuple(point for point in once for _ in range(times))
    assert made(again) == made(once)
    assert cost(made(again)) == cost(made(once))


def test_of_points_at_one_time_only_the_deepest_counts_so_that_no_turn_is_made_of_them() -> None:
    flicker = points((0, 0.0), (10, 18.0), (10, 2.0), (10, 18.0), (10, 0.0), (20, 0.0))
    assert made(flicker).profile == points((0, 0.0), (10, 18.0), (20, 0.0))
    assert len(wear.course_of(made(flicker), PRACTICE).pressure) == 1


@pytest.mark.parametrize("at_min", [1.0, 30.0])
def test_many_points_at_one_time_are_one_point_and_charged_as_none(at_min: float) -> None:
    of = made(points(*((at_min, depth) for depth in (3.0, 18.0, 7.0))))
    assert not wear.has_shape(of.profile)
    assert cost(of) == cost(replace(of, profile=()))


# --------------------------------------------------------------- gaps


@pytest.mark.parametrize("gap_min", [60.0, 600.0, 47 * 60.0])
def test_over_a_gap_the_line_is_straight_and_costs_the_same_as_with_points_on_it(gap_min: float) -> None:
    last = gap_min + 40
    bare = dive((0, 0.0, 20.0), (20, 18.0, 12.0), (20 + gap_min, 6.0, 16.0), (last, 0.0, 20.0))
    on_the_line = [(20 + gap_min * n / 10, 18.0 - 1.2 * n, 12.0 + 0.4 * n) for n in range(1, 10)]
    filled = dive(
        (0, 0.0, 20.0), (20, 18.0, 12.0), *on_the_line, (20 + gap_min, 6.0, 16.0), (last, 0.0, 20.0)
    )
    assert cost(bare).as_tuple() == pytest.approx(cost(filled).as_tuple(), rel=1e-9)


def test_a_gap_hides_a_way_up_and_never_makes_one() -> None:
    whole = dive((0, 0.0), (5, 18.0), (20, 1.0), (35, 18.0), (40, 0.0))
    gap = dive((0, 0.0), (5, 18.0), (35, 18.0), (40, 0.0))
    assert bars(whole) == [(1.7, 1.0), (1.8, 1.0)]
    assert bars(gap) == [(1.8, 1.0)]


def test_a_gap_at_either_end_keeps_the_way_down_and_up() -> None:
    assert bars(dive((50, 12.0), (51, 12.0), duration_s=5400)) == [(1.2, 1.0)]
    assert bars(dive((50, 18.0), (60, 6.0), (70, 16.0), duration_s=5400)) == [(1.0, 1.0), (1.8, 1.0)]


# --------------------------------------------------------------- next to nothing


def test_one_point_is_charged_as_no_profile() -> None:
    of = made(points((5, 9.0, 4.0)), depth_m=18.0, duration_s=2700)
    assert cost(of) == cost(replace(of, profile=()))
    assert wear.course_of(of, PRACTICE) == wear.course_of(replace(of, profile=()), PRACTICE)


def test_one_point_at_the_start_says_no_duration() -> None:
    assert "duration" in refused(points((0, 9.0)), "duration_s")


def test_no_point_at_all_is_no_profile() -> None:
    assert made((), depth_m=18.0, duration_s=2700).profile == ()
    assert "How deep was it?" in refused((), "depth_m", duration_s=2700)


def test_a_profile_that_never_leaves_the_surface_presses_on_nothing() -> None:
    of = made(points((0, 0.0), (20, 0.0), (40, 0.0)))
    assert of.gauge_pa == 0
    assert wear.course_of(of, PRACTICE).pressure == ()


# --------------------------------------------------------------- whatever is written


numbers = st.one_of(
    st.floats(allow_nan=True, allow_infinity=True),
    st.floats(-5, 60),
    st.integers(0, 4000).map(float),
)


@settings(max_examples=tries(300), deadline=None)
@given(
    shape=st.lists(st.tuples(numbers, numbers, st.none() | numbers), max_size=8),
    in_order=st.booleans(),
    depth_m=st.none() | numbers,
    duration_s=st.none() | numbers,
)
def test_whatever_a_profile_holds_it_is_refused_with_its_field_or_costs_a_finite_share(
    shape: list[tuple[float, float, float | None]],
    in_order: bool,
    depth_m: float | None,
    duration_s: float | None,
) -> None:
    told = [ProfilePoint(*point) for point in shape]
    if in_order:
        told.sort(key=lambda point: point.time_s)
    of, where = None, None
    try:
        of = made(tuple(told), depth_m=depth_m, duration_s=duration_s)
    except BadInput as error:
        where = error.where
    assert where in (None, "profile", "depth_m", "duration_s")
    if of is None:
        return
    times = [point.time_s for point in of.profile]
    assert times == sorted(set(times))
    assert all(0 <= point.depth_m <= of.depth_m for point in of.profile)
    course = wear.course_of(of, PRACTICE)
    assert math.isfinite(course.rate)
    assert course.rate > 0
    assert all(math.isfinite(part) and part >= 0 for part in water_shares(of))


def test_beyond_the_edge_the_count_itself_refuses_what_is_no_number() -> None:
    of = exposure(gauge_pa=NAN, profile=points((0, 0.0, 20.0), (10, 18.0, 20.0), (20, 0.0, 20.0)))
    with pytest.raises(ValueError, match="finite number"):
        wear.course_of(of, PRACTICE)
    with pytest.raises(ValueError, match="finite number"):
        count_cycles([0.0, NAN])


def test_of_two_points_at_one_time_a_measured_temperature_is_kept() -> None:
    start = ProfilePoint(0, 0)
    for both in ((10.0, 15.0), (12.0, None)), ((12.0, None), (10.0, 15.0)):
        found = made((start, *(ProfilePoint(600, depth, celsius) for depth, celsius in both))).profile
        assert found[1] == ProfilePoint(600, 12, 15.0)


def test_a_depth_that_is_no_number_names_its_point() -> None:
    assert refused((ProfilePoint(0, 0), ProfilePoint(60, NAN))).startswith(
        "Point 2 of the profile: The depth"
    )
