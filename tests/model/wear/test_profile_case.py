"""The case temperature on the way through a profile: lag, turns, swings and ageing."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import replace
from itertools import pairwise
from random import Random

import pytest
from scipy.integrate import quad

from logbook.model.values import Exposure
from logbook.model.wear import wear
from tests.model.builders import PRACTICE, exposure, practice_with, sauna
from tests.model.shapes import Piece, cost, dive, pieces, points, square

# --------------------------------------------------------------- the case follows the water


def integrated(piece: Piece, steps: int = 20_000) -> list[float]:
    """The case by Runge and Kutta's fourth-order steps of τ·dT/dt = W(t) − T, start and end included."""
    width = piece.minutes / steps

    def slope(at: float, case: float) -> float:
        water = piece.water_from_c + (piece.water_to_c - piece.water_from_c) * at / piece.minutes
        return (water - case) / piece.lag_min

    case, found = piece.case_from_c, [piece.case_from_c]
    for n in range(steps):
        at = n * width
        k1 = slope(at, case)
        k2 = slope(at + width / 2, case + width / 2 * k1)
        k3 = slope(at + width / 2, case + width / 2 * k2)
        k4 = slope(at + width, case + width * k3)
        case += width / 6 * (k1 + 2 * k2 + 2 * k3 + k4)
        found.append(case)
    return found


PIECES = [
    Piece(40.0, 18.0, 18.0, 32.0, 6.0),  # a step into steady water
    Piece(10.0, 24.0, 8.0, 32.0, 6.0),  # colder all the way
    Piece(30.0, 8.0, 28.0, 20.0, 6.0),  # cools first, then follows the water up
    Piece(30.0, 28.0, 4.0, 12.0, 6.0),  # warms first, then follows it down
    Piece(0.5, 20.0, 19.9, 20.3, 6.0),
    Piece(25.0, 80.0, 95.0, 32.0, 20.0),  # a sauna that is heated further
    Piece(500.0, 4.0, 30.0, 30.0, 3.0),
]


@pytest.mark.parametrize("piece", PIECES)
def test_the_case_is_where_a_fine_integration_has_it(piece: Piece) -> None:
    fine = integrated(piece)
    for n in range(0, 20_001, 500):
        assert piece.case_c(piece.minutes * n / 20_000) == pytest.approx(fine[n], abs=1e-8)


@pytest.mark.parametrize("piece", PIECES)
def test_the_turns_of_the_case_are_those_of_a_fine_integration(piece: Piece) -> None:
    fine = integrated(piece)
    turns = [b for a, b, c in zip(fine, fine[1:], fine[2:], strict=False) if (b - a) * (c - b) < 0]
    assert piece.turning_c() == pytest.approx([*turns, fine[-1]], abs=1e-4)


def test_some_of_these_pieces_turn_and_some_do_not() -> None:
    assert Counter(len(piece.turning_c()) for piece in PIECES) == {1: 4, 2: 3}


def test_after_one_lag_a_case_has_gone_63_percent_of_a_step() -> None:
    """1 − 1/e: the definition of a first-order lag."""
    assert Piece(6.0, 0.0, 0.0, 100.0, 6.0).case_c(6.0) == pytest.approx(100 / math.e)


@pytest.mark.parametrize("piece", PIECES)
def test_the_mean_rate_is_that_of_a_fine_integration(piece: Piece) -> None:
    """Simpson's rule over the integrated case, with the rate of docs/method.md written out again."""
    fine = [math.exp(80_000 / 8.314462618 * (1 / 294.15 - 1 / (c + 273.15))) for c in integrated(piece)]
    weights = [1, *([4, 2] * 9_999), 4, 1]
    mean = math.fsum(w * r for w, r in zip(weights, fine, strict=True)) / (3 * 20_000)
    of = exposure(
        water="air" if piece.lag_min == 20 else "sea",
        from_c=piece.case_from_c,
        duration_s=piece.minutes * 60,
        profile=points((0, 0.0, piece.water_from_c), (piece.minutes, 0.0, piece.water_to_c)),
    )
    practice = practice_with(f"[constants.lag_water_min]\nvalue = {piece.lag_min}\nlow = 3.0\nhigh = 20.0\n")
    assert wear.course_of(of, practice).rate == pytest.approx(mean, rel=1e-9)


def random_piece(dice: Random) -> Piece:
    """From a blink to two days, in water or a sauna as far from the case as any may be, at any lag."""
    lag_min, minutes = dice.choice([3.0, 6.0, 12.0, 20.0, 40.0]), 10 ** dice.uniform(-1.5, 3.46)
    low, high = (-20.0, 120.0) if lag_min >= 20 else (-3.0, 60.0)
    case_c, water_c = dice.uniform(-20, 70), dice.uniform(low, high)
    if dice.random() < 0.4:  # nearly settled
        case_c = water_c + dice.uniform(-0.5, 0.5)
    to_c = dice.choice([water_c, water_c + dice.uniform(-1, 1), dice.uniform(low, high)])
    return Piece(minutes, water_c, to_c, case_c, lag_min)


@pytest.mark.parametrize("seed", range(150))
def test_ageing_over_any_piece_is_that_of_an_adaptive_quadrature(seed: int) -> None:
    """Oracle: scipy.integrate.quad over a lag at a time, to 1e-13."""
    piece = random_piece(Random(seed))
    lags = [n * piece.lag_min for n in range(40) if n * piece.lag_min < piece.minutes]
    parts = pairwise([*lags, piece.minutes])

    def at(minutes: float) -> float:
        return wear.relative_rate(piece.case_c(minutes), PRACTICE)

    oracle = math.fsum(quad(at, a, b, epsabs=0, epsrel=1e-13, limit=200)[0] for a, b in parts)
    assert math.fsum(piece.aged(PRACTICE)) == pytest.approx(oracle, rel=1e-9)


def test_a_settled_case_is_no_more_work_however_long_it_stays() -> None:
    steps = [len(Piece(minutes, 8.0, 8.0, 32.0, 6.0).aged(PRACTICE)) for minutes in (20.0, 2880.0)]
    assert steps == [1, 1]


# --------------------------------------------------------------- temperature cycles


def swings(of: Exposure) -> list[tuple[float, float]]:
    return [(c.range, c.count) for c in wear.course_of(of, PRACTICE).temperature]


def test_a_dive_in_steady_water_is_one_swing_to_where_the_case_gets_and_back() -> None:
    reached = 20 + 12 * math.exp(-45 / 6)
    assert swings(exposure(profile=square(18.0, 45.0))) == [(pytest.approx(32 - reached), 1.0)]


def test_rewarming_is_counted_though_the_water_ends_cold() -> None:
    of = dive((0, 0.0, 25.0), (20, 30.0, 6.0), (40, 30.0, 6.0))
    (swing, count), *_ = sorted(swings(of), reverse=True)
    assert count == 1.0
    assert swing == pytest.approx(32 - pieces(of, PRACTICE)[-1].case_c(20.0))


def test_a_warm_layer_between_two_cold_ones_is_a_swing_of_its_own() -> None:
    of = dive(
        (0, 5.0, 8.0), (40, 5.0, 8.0), (41, 5.0, 24.0), (80, 5.0, 24.0), (81, 5.0, 8.0), (120, 5.0, 8.0)
    )
    (small, one), (large, other) = swings(of)
    assert (one, other) == (1.0, 1.0)
    assert small == pytest.approx(16, abs=0.1)
    assert large == pytest.approx(24, abs=0.1)


def test_a_short_dip_swings_the_case_less_than_the_water_does() -> None:
    of = exposure(duration_s=120, profile=square(18.0, 2.0, 0.5))
    assert swings(of) == [(pytest.approx(12 * (1 - math.exp(-2 / 6))), 1.0)]
    assert cost(of).temperature < cost(replace(of, profile=())).temperature


def test_in_air_the_case_follows_with_the_lag_of_the_wrist() -> None:
    of = sauna(profile=points((0, 0.0), (15, 0.0)))
    assert swings(of) == [(pytest.approx((80 - 32) * (1 - math.exp(-15 / 20))), 1.0)]
    assert cost(of).pressure == 0
    # As without a profile, but that the case is not as hot from the first minute on.
    assert cost(of).temperature == pytest.approx(cost(sauna()).temperature)
    assert cost(of).ageing < cost(sauna()).ageing


def test_without_measured_temperatures_the_water_is_that_of_the_entry() -> None:
    bare = exposure(profile=square(18.0, 45.0), water_c=11.0)
    told = replace(bare, profile=tuple(replace(p, water_c=11.0) for p in bare.profile))
    assert pieces(bare, PRACTICE) == pieces(told, PRACTICE) == [Piece(45, 11, 11, 32, 6)]


def test_the_first_and_last_measured_temperatures_hold_to_the_ends() -> None:
    of = exposure(duration_s=3600, profile=points((0, 0.0), (10, 9.0, 20.0), (20, 18.0, 10.0), (30, 0.0)))
    assert [(p.minutes, p.water_from_c, p.water_to_c) for p in pieces(of, PRACTICE)] == [
        (10, 20, 20), (10, 20, 10), (40, 10, 10),
    ]  # fmt: skip


def test_the_last_point_may_lie_in_the_last_begun_second() -> None:
    of = exposure(duration_s=60, profile=points((0, 0.0, 20.0), (60.4 / 60, 0.0, 10.0)))
    (piece,) = pieces(of, PRACTICE)
    assert (piece.minutes * 60, piece.water_to_c) == (pytest.approx(60.4), 10.0)


def test_two_readings_at_one_instant_are_a_step_of_the_water() -> None:
    of = dive((0, 0.0, 20.0), (10, 9.0, 20.0), (10 + 1e-300, 9.0, 8.0), (40, 0.0, 8.0))
    assert [(p.minutes, p.water_from_c, p.water_to_c) for p in pieces(of, PRACTICE)] == [
        (10, 20, 20), (30, 8, 8),
    ]  # fmt: skip
    blink = dive((0, 0.0, 20.0), (1e-309, 0.0, 0.0), duration_s=2700)
    assert [p.water_from_c for p in pieces(blink, PRACTICE)] == [0.0]


def test_a_lag_of_a_blink_costs_no_more_work_than_is_allowed() -> None:
    practice = practice_with("[constants.lag_water_min]\nvalue = 0.0001\nlow = 0.0001\nhigh = 1.0\n")
    found = wear.course_of(exposure(profile=square(18.0, 45.0)), practice)
    assert found.rate == pytest.approx(wear.relative_rate(20, practice), rel=1e-3)
    assert [c.range for c in found.temperature] == [pytest.approx(12.0)]
