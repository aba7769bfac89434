"""The law of the chance: two states, what time, openings and tests do to them, and what the draws weigh."""

from __future__ import annotations

import random
from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.model.predict import chance
from logbook.model.predict.chance import Chance, Laws, Moment, Opened, State, Trial, Worn
from tests.effort import tries
from tests.model.builders import PRACTICE, practice_with

LAWS = chance.drawn(PRACTICE)
PASSED, FAILED = Trial(1.0, passed=True), Trial(1.0, passed=False)
PLACES = 3


def laws(**given_: float) -> Laws:
    """One draw of the law."""
    plain = {"scale": 5.0, "shape": 2.5, "hazard": 0.01, "opening": 0.05, "miss": 0.04, "alarm": 0.02}
    return Laws(**{name: np.array([value]) for name, value in (plain | given_).items()})


def met(what: Opened | Trial | None, years: float = 0.0, *worn: Worn, untold: bool = False) -> Moment:
    return Moment(years, worn, what, untold)


def lived(*moments: Moment, of: Laws = LAWS, places: int = PLACES) -> State:
    return chance.live(of, chance.begin(of, places), moments)


def told(state: State, of: Laws = LAWS, reach: float = 1.0) -> Chance:
    """The chance of a test today, all that is known being this one watch."""
    return chance.chance_of(of, state, state.log_weight, reach, 1e6, state.tests)


def plain(state: State) -> float:
    """The chance to pass before it is held within 1–99 %."""
    weight = np.exp(state.log_weight - state.log_weight.max())
    return float(chance.pass_chance(LAWS, state, 1.0) @ weight / weight.sum())


# --------------------------------------------------------------- the draws


@pytest.mark.parametrize(
    ("name", "mean", "tenth", "ninetieth"),
    [
        # Log-normal laws: median · exp(σ²/2), median · exp(∓1.2816 σ). Source: the closed forms.
        ("scale", 5.0 * np.exp(0.08), 2.995, 8.348),
        ("shape", 2.5 * np.exp(0.03125), 1.815, 3.444),
        # Beta(1, b): mean 1/(1 + b), quantile 1 − (1 − p)^(1/b). Source: the closed forms.
        ("opening", 1 / 20, 1 - 0.9 ** (1 / 19), 1 - 0.1 ** (1 / 19)),
        ("miss", 1 / 25, 1 - 0.9 ** (1 / 24), 1 - 0.1 ** (1 / 24)),
        ("alarm", 1 / 50, 1 - 0.9 ** (1 / 49), 1 - 0.1 ** (1 / 49)),
    ],
)
def test_the_draws_are_spread_over_their_priors(
    name: str, mean: float, tenth: float, ninetieth: float
) -> None:
    found = getattr(LAWS, name)
    assert found.mean() == pytest.approx(mean, rel=0.005)
    assert np.quantile(found, (0.1, 0.9)) == pytest.approx((tenth, ninetieth), rel=0.005)


def test_leaks_by_chance_come_once_in_a_hundred_years_give_or_take() -> None:
    assert np.quantile(LAWS.hazard, (0.1, 0.5, 0.9)) == pytest.approx((0.0033, 0.01, 0.03), rel=0.01)


def test_no_two_unknowns_are_drawn_in_step() -> None:
    drawn = np.array(
        [getattr(LAWS, name) for name in ("scale", "shape", "hazard", "opening", "miss", "alarm")]
    )
    ranks = drawn.argsort(axis=1).argsort(axis=1)
    apart = np.corrcoef(ranks) - np.eye(6)
    assert np.abs(apart).max() < 0.03


def test_they_are_the_same_each_time_and_follow_the_owners_priors() -> None:
    again = chance.drawn.__wrapped__(PRACTICE)
    assert np.array_equal(again.miss, LAWS.miss)
    doubtful = chance.drawn(practice_with("[constants.chance_scale]\nvalue = 1.0\nlow = 0.6\nhigh = 1.7"))
    assert np.median(doubtful.scale) == pytest.approx(1.0, rel=0.01)


def test_plain_random_draws_give_the_same_chance() -> None:
    """Many draws by numpy's own generators, each law apart, against the few thousand of the lattice."""
    rng = np.random.default_rng(7)
    count = 400_000
    z = rng.standard_normal(count)
    many = Laws(
        5.0 * np.exp(0.4 * rng.standard_normal(count)),
        2.5 * np.exp(0.25 * rng.standard_normal(count)),
        0.01 * np.where(z < 0, (0.01 / 0.0033) ** (z / 1.28155), 3.0 ** (z / 1.28155)),
        rng.beta(1, 19, count),
        rng.beta(1, 24, count),
        rng.beta(1, 49, count),
    )
    worn = [Worn(n, 0.0, 1.3) for n in range(PLACES)]
    more = [Worn(n, 1.3, 1.6) for n in range(PLACES)]
    moments = [met(PASSED, 4.0, *worn), met(Opened(frozenset()), 1.0, *more), met(FAILED), met(PASSED)]
    few, all_ = told(lived(*moments)), told(lived(*moments, of=many), many)
    assert (few.chance, few.low, few.high) == pytest.approx((all_.chance, all_.low, all_.high), abs=0.01)


# --------------------------------------------------------------- against a simulation


def simulated(of: Laws, moments: Sequence[Moment], lives: int, seed: int) -> float:
    """The share of simulated watches that pass a last test, of those that did at every test as `moments` say.

    Written from the law's sentences with one watch at a time, not from the code.
    """
    draw = random.Random(seed)
    lam, k, h, q, eps, phi = (
        float(getattr(of, name)[0]) for name in ("scale", "shape", "hazard", "opening", "miss", "alarm")
    )
    alike = passed = 0
    for _ in range(lives):
        leak: int | None = None
        failed = False
        for moment in moments:
            if leak is None:
                worn = [
                    w
                    for w in moment.worn
                    if draw.random() > np.exp((w.before / lam) ** k - (w.at / lam) ** k)
                ]
                if draw.random() > np.exp(-h * moment.years):
                    leak = draw.randrange(PLACES)
                elif worn:
                    leak = draw.choice(worn).place
            if isinstance(moment.what, Opened):
                if failed or leak in moment.what.renewed:
                    leak = None
                failed = False
                if leak is None and draw.random() < q:
                    leak = draw.randrange(PLACES)
            elif isinstance(moment.what, Trial):
                fails = draw.random() < (phi if leak is None else (1 - eps) * moment.what.reach)
                if fails == moment.what.passed:
                    break
                failed = failed or fails
        else:
            alike += 1
            passed += draw.random() >= (phi if leak is None else 1 - eps)
    assert alike > 2000
    return passed / alike


W1 = [Worn(n, 0.0, 1.0 + 0.3 * n) for n in range(PLACES)]
W2 = [Worn(n, 1.0 + 0.3 * n, 1.8 + 0.3 * n) for n in range(PLACES)]
LIVES = {
    "a pass and then wear": [met(PASSED, 2.0, *W1), met(None, 1.0, *W2)],
    "a failure that nobody mended": [met(FAILED, 3.0, *W1), met(None, 1.0, *W2)],
    "a failure, opened, a pass": [
        met(FAILED, 3.0, *W1), met(Opened(frozenset())), met(PASSED), met(None, 1.0, *W2),
    ],
    "a battery, no test": [met(None, 2.0, *W1), met(Opened(frozenset()), 1.0, *W2)],
    "new gaskets at one place": [met(None, 2.0, *W1), met(Opened(frozenset({2})), 1.0, *W2)],
    "a shallow pass": [met(Trial(0.3, passed=True), 3.0, *W1), met(None, 1.0, *W2)],
    "a pass after a failure, not opened": [met(FAILED, 2.0, *W1), met(PASSED, 0.1), met(None, 1.0, *W2)],
}  # fmt: skip


@pytest.mark.parametrize("name", LIVES)
def test_a_simulation_of_single_watches_passes_as_often_as_the_filter_says(name: str) -> None:
    of = laws(scale=2.5, hazard=0.05, opening=0.2, miss=0.2, alarm=0.1)
    state = lived(*LIVES[name], of=of)
    expected = float(chance.pass_chance(of, state, 1.0)[0])
    assert simulated(of, LIVES[name], 40_000, seed=3) == pytest.approx(expected, abs=0.015)


# --------------------------------------------------------------- the law's sentences


def test_an_opening_leaves_a_tight_watch_leaking_with_its_chance() -> None:
    state = lived(met(Opened(frozenset())), of=laws())
    assert state.tight[0] == pytest.approx(0.95)
    assert state.tight + state.leaking.sum(axis=0) == pytest.approx(1)


def test_only_new_gaskets_at_the_leaking_place_mend_a_leak() -> None:
    crown_leaks = lived(met(None, 0.0, Worn(2, 0.0, 50.0)), of=laws())
    assert crown_leaks.tight[0] < 1e-9
    opened = {
        name: chance.live(laws(), crown_leaks, [met(Opened(frozenset(renewed)))]).tight[0]
        for name, renewed in {"none": (), "elsewhere": (0, 1), "there": (2,), "all": (0, 1, 2)}.items()
    }
    assert opened == pytest.approx({"none": 0.0, "elsewhere": 0.0, "there": 0.95, "all": 0.95}, abs=1e-9)


def test_an_opening_after_a_failure_mends_it_and_the_next_one_does_not() -> None:
    failed = lived(met(FAILED, 0.0, Worn(2, 0.0, 50.0)), met(Opened(frozenset())), of=laws())
    assert failed.tight[0] == pytest.approx(0.95)
    assert chance.live(laws(), failed, [met(Opened(frozenset()))]).tight[0] == pytest.approx(0.95**2)


def test_a_fitting_that_is_not_known_is_tight_with_even_odds_before_its_first_test() -> None:
    of = laws()
    before = lived(met(None, 9.0, Worn(0, 0.0, 3.0), untold=True), of=of)
    assert before.tight[0] == 0.5
    after = lived(met(PASSED, 9.0, Worn(0, 0.0, 3.0), untold=True), of=of)
    assert after.tight[0] == pytest.approx(0.5 * 0.98 / (0.5 * 0.98 + 0.5 * 0.04))


def test_a_test_finds_a_leak_as_far_as_it_reaches() -> None:
    of = laws()
    leaking = lived(met(None, 0.0, Worn(0, 0.0, 50.0)), of=of)
    for reach in (0.1, 0.5, 1.0):
        assert chance.pass_chance(of, leaking, reach)[0] == pytest.approx(1 - 0.96 * reach)


def test_a_test_that_does_not_weigh_tells_of_the_watch_and_not_of_the_law() -> None:
    worn = Worn(0, 0.0, 4.0)
    makers, own = (lived(met(Trial(1.0, passed=True, weighs=w), 1.0, worn)) for w in (False, True))
    assert np.array_equal(makers.tight, own.tight)
    assert (makers.tests, own.tests) == (0, 1)
    assert not makers.log_weight.any()
    assert own.log_weight.any()


# --------------------------------------------------------------- properties


@st.composite
def lives(draw: st.DrawFn) -> list[Moment]:
    found, at = [], 0.0
    for _ in range(draw(st.integers(0, 5))):
        wear = draw(st.floats(0.0, 1.0))
        worn = [Worn(n, at * (1 + n / 5), (at + wear) * (1 + n / 5)) for n in range(PLACES)]
        at += wear
        what = draw(
            st.sampled_from(
                [PASSED, FAILED, Opened(frozenset()), Opened(frozenset({0, 2})), Trial(0.3, passed=True)]
            )
        )
        found.append(met(what, draw(st.floats(0.0, 3.0)), *worn))
    return found


@given(life=lives())
@settings(max_examples=tries(60), deadline=None)
def test_a_pass_today_never_lowers_and_a_failure_never_raises_the_chance(life: list[Moment]) -> None:
    """Exactly so, by the inequality of Jensen: the mean of f² over f is never less than the mean of f."""
    before = plain(lived(*life))
    assert plain(lived(*life, met(PASSED))) >= before - 1e-12
    assert plain(lived(*life, met(FAILED))) <= before + 1e-12


@given(life=lives(), since=st.floats(0.0, 1.0), years=st.floats(0.0, 3.0))
@settings(max_examples=tries(60), deadline=None)
def test_a_test_with_no_opening_since_does_the_same_later_on(
    life: list[Moment], since: float, years: float
) -> None:
    later = met(None, years, *(Worn(n, 2.0, 2.0 + since) for n in range(PLACES)))
    before = plain(lived(*life, later))
    assert plain(lived(*life, met(PASSED), later)) >= before - 1e-3
    assert plain(lived(*life, met(FAILED), later)) <= before + 1e-3


@given(life=lives(), years=st.floats(0.01, 5.0))
@settings(max_examples=tries(30), deadline=None)
def test_time_and_wear_never_raise_it_and_the_band_holds_it(life: list[Moment], years: float) -> None:
    state = lived(*life)
    later = chance.live(LAWS, state, [met(None, years, *(Worn(n, 1.0, 1.0 + years) for n in range(PLACES)))])
    sooner, then = told(state), told(later)
    assert then.chance <= sooner.chance + 1e-12
    assert 0.01 <= then.low <= then.chance <= then.high <= 0.99


@given(life=lives())
@settings(max_examples=tries(30), deadline=None)
def test_a_deeper_test_never_has_the_better_chance(life: list[Moment]) -> None:
    state = lived(*life)
    chances = [told(state, reach=reach).chance for reach in (0.1, 0.3, 1.0)]
    assert all(b <= a for a, b in pairwise(chances))


def test_a_test_that_the_law_calls_impossible_leaves_the_watch_as_it_was() -> None:
    of = laws(hazard=0.0, miss=0.0, alarm=0.0)
    state = lived(met(FAILED), of=of)
    assert state.tight[0] == 1.0
    assert np.isfinite(state.log_weight).all()


def test_wear_without_end_is_a_leak_and_no_error() -> None:
    state = lived(met(None, 1.0, Worn(0, 0.0, float("inf"))))
    assert state.tight == pytest.approx(0, abs=1e-12)
    assert state.leaking[0] == pytest.approx(1, abs=1e-6)


# --------------------------------------------------------------- words


def test_it_says_what_stands_behind_it() -> None:
    said = Chance(0.973, 0.91, 0.99, 1e6, tests_used=0)
    assert said.words == "97 % (91–99), from common practice alone"
    assert Chance(0.97, 0.91, 0.99, 1e6, 1).basis == "after 1 test of yours"
    assert Chance(0.97, 0.91, 0.99, 1e6, 3, 2).basis == "after 3 tests and 2 findings of yours"
    assert Chance(0.97, 0.91, 0.99, 1e6, 0, 1).basis == "after 1 finding of yours"


def test_it_is_never_said_to_be_certain() -> None:
    assert told(lived(met(PASSED), met(PASSED), met(PASSED))).high == 0.99
    hopeless = lived(*[met(FAILED, 1.0, Worn(0, 0.0, 50.0))] * 6)
    assert told(hopeless).low == 0.01
