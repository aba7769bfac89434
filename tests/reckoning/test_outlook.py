"""The outlook: what tests do to the chance that the next one passes."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.reckoning.outlook import Outlook, Trial, learn, mode_without_prior
from tests.reckoning.builders import PRACTICE, practice_with

shares = st.floats(0.05, 2.0)


def passed(at: float, before: float = 0.0, opened: bool = False) -> Trial:
    return Trial(before, at, opened, passed=True)


def failed(at: float, before: float = 0.0, opened: bool = False) -> Trial:
    return Trial(before, at, opened, passed=False)


def chance(*tests: Trial, now: float = 1.0, before: float = 0.0, opened: bool = False) -> Outlook:
    return learn(tests, PRACTICE).outlook(before, now, opened)


@st.composite
def some_tests(draw: st.DrawFn) -> list[Trial]:
    found = []
    for _ in range(draw(st.integers(0, 6))):
        before = draw(st.floats(0, 1))
        at = before + draw(st.floats(0.05, 1))
        found.append(Trial(before, at, draw(st.booleans()), draw(st.booleans())))
    return found


@pytest.mark.parametrize(("wear_share", "expected"), [(0.5, 0.94), (1.0, 0.79), (1.5, 0.61)])
def test_the_prior_alone_gives_what_it_was_chosen_for(wear_share: float, expected: float) -> None:
    found = chance(now=wear_share)
    assert found.chance == pytest.approx(expected, abs=0.005)
    assert found.prior_only
    assert "prior only, 0 tests" in found.words


@given(tests=some_tests(), at=shares)
@settings(max_examples=40, deadline=None)
def test_one_more_failed_test_lowers_it_and_one_more_pass_raises_it(tests: list[Trial], at: float) -> None:
    """Exactly so at the wear share of the test, by the inequality of Cauchy and Schwarz."""
    plain = chance(*tests, now=at).chance
    assert chance(*tests, failed(at), now=at).chance <= plain + 1e-12
    assert chance(*tests, passed(at), now=at).chance >= plain - 1e-12


@pytest.mark.parametrize("at", [0.3, 0.7, 1.0, 1.5, 2.0])
def test_a_first_test_moves_the_chance_at_an_interval_by_its_outcome(at: float) -> None:
    alone = chance().chance
    assert chance(failed(at)).chance < alone - 0.01
    assert chance(passed(at)).chance > alone


def test_a_pass_at_low_wear_hardly_matters() -> None:
    alone = chance().chance
    assert chance(passed(0.05)).chance == pytest.approx(alone, abs=0.002)
    assert chance(passed(1.0)).chance > alone + 0.02


@given(tests=some_tests(), first=st.floats(0.05, 1.0), more=st.floats(0.05, 1.0))
@settings(max_examples=40, deadline=None)
def test_two_passes_of_one_seal_weigh_exactly_as_one_at_the_second(
    tests: list[Trial], first: float, more: float
) -> None:
    second = first + more
    chained = chance(*tests, passed(first), passed(second, before=first), now=1.2)
    single = chance(*tests, passed(second), now=1.2)
    assert chained.chance == pytest.approx(single.chance, rel=1e-9)
    assert (chained.low, chained.high) == pytest.approx((single.low, single.high), rel=1e-6)


@given(tests=some_tests(), now=shares, more=st.floats(0.01, 1.0), opened=st.booleans())
@settings(max_examples=40, deadline=None)
def test_more_wear_never_raises_it_and_the_band_holds_it(
    tests: list[Trial], now: float, more: float, opened: bool
) -> None:
    sooner, later = chance(*tests, now=now, opened=opened), chance(*tests, now=now + more, opened=opened)
    assert later.chance <= sooner.chance + 1e-12
    assert 0 <= sooner.low <= sooner.chance <= sooner.high <= 1


def test_an_opening_since_the_last_pass_costs_the_chance_of_an_assembly_fault() -> None:
    assert chance(opened=True).chance == pytest.approx(0.95 * chance().chance, rel=0.01)


def test_failures_after_openings_are_laid_to_the_assembly() -> None:
    often = [failed(0.1, opened=True)] * 5 + [passed(0.1, opened=True)] * 5
    assert chance(*often, now=0.1, opened=True).chance == pytest.approx(24 / 30, abs=0.02)  # Beta(6, 24)
    assert chance(*often, now=0.1).chance > 0.9


def test_a_seal_that_just_passed_is_never_said_to_pass_for_certain() -> None:
    words = chance(now=1.0, before=1.0).words
    assert words.startswith("99 %")
    assert "100" not in words


@given(tests=some_tests())
@settings(max_examples=30, deadline=None)
def test_the_order_of_the_tests_does_not_matter(tests: list[Trial]) -> None:
    assert chance(*tests).chance == pytest.approx(chance(*reversed(tests)).chance, rel=1e-12)


def test_a_test_that_the_law_calls_impossible_is_still_weighed() -> None:
    assert chance(failed(0.0)).chance == pytest.approx(chance().chance)


def test_without_a_pass_and_a_failure_there_is_no_greatest_point() -> None:
    with pytest.raises(ValueError, match="at least one pass and one failure"):
        mode_without_prior([passed(1.0), passed(2.0)])


def test_an_owner_may_state_another_prior() -> None:
    doubtful = practice_with("[constants.outlook_scale]\nvalue = 1.0\nlow = 0.6\nhigh = 1.7")
    assert learn([], doubtful).outlook(0, 1.0, False).chance < chance().chance - 0.2
