"""The outlook of whole records: which events are data, how passes of one seal chain, when there is none."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.reckoning import facts, standing, trials
from logbook.reckoning.outlook import Outlook, Trial, learn
from logbook.reckoning.trials import Foresight
from logbook.reckoning.values import DAMAGE, FAULTS, Event, EventKind, Shares, WatchRecord
from tests.reckoning.builders import FITTED, ONE_DAY, PRACTICE, TESTED, TODAY, event, passed, record, seals

OTHER_ID = 100  # ids of the second watch's seals and events lie above this


def other(*events: Event) -> WatchRecord:
    """A second watch, fitted on the same day."""
    own = tuple(replace(s, id=OTHER_ID + (s.id or 0)) for s in seals())
    marked = tuple(replace(e, id=OTHER_ID + n) for n, e in enumerate(events, start=1))
    return replace(record(id=2), seals=own, events=marked)


def dry(seal_id: int, up_to: date) -> Shares:
    """A ledger without any exposure."""
    return Shares()


def salty(seal_id: int, up_to: date) -> Shares:
    """A ledger that adds a thousandth of an interval of salt a day to every seal."""
    return Shares(salt=0.001 * (up_to - FITTED).days)


def learned(*records: WatchRecord, sums: trials.Sums = dry) -> Foresight:
    return trials.foresee(records, PRACTICE, sums, date.max)


def outlook(of: WatchRecord, *others: WatchRecord, on: date = TODAY) -> Outlook | None:
    """The outlook of a watch from its own tests and those of others."""
    foresight = learned(of, *others)
    return foresight.outlook_of(of, facts.gather(of, on), standing.wear_of(of, PRACTICE, on))


def chance(of: WatchRecord, *others: WatchRecord) -> float:
    found = outlook(of, *others)
    assert found is not None
    return found.chance


def numbered(*events: Event, **given_: object) -> WatchRecord:
    """The record of a watch with these events, each with an id as the record gives it."""
    whole = record(**given_)
    return replace(whole, events=tuple(replace(e, id=n) for n, e in enumerate(events, start=1)))


# --------------------------------------------------------------- chains


@settings(max_examples=25, deadline=None)
@given(
    first=st.integers(30, 200), more=st.integers(1, 200), wet=st.booleans(), order=st.sampled_from([40, 55])
)
def test_two_passes_of_one_seal_weigh_exactly_as_the_later_one_alone(
    first: int, more: int, wet: bool, order: int
) -> None:
    days = FITTED + timedelta(days=first), FITTED + timedelta(days=first + more)
    both = other(*(passed(day, order=order) for day in days))
    later = other(passed(days[1], order=order))
    sums = salty if wet else dry
    two, one = (learned(whole, sums=sums).posterior for whole in (both, later))
    assert float(abs(two.weight - one.weight).max()) < 1e-12
    assert (two.tests_used, one.tests_used) == (2, 1)


def test_what_a_chain_of_passes_says_of_another_watch_is_what_its_last_says() -> None:
    days = [TESTED + timedelta(days=7 * n) for n in range(6)]
    untested = replace(record(), events=())
    chained = chance(untested, other(*(passed(day) for day in days)))
    assert chained == pytest.approx(chance(untested, other(passed(days[-1]))), rel=1e-9)


def test_a_pass_after_new_gaskets_begins_a_chain_of_its_own() -> None:
    fitted = TESTED + 30 * ONE_DAY
    old, new = seals(), seals(fitted=fitted)
    both = (*old, *(replace(s, id=10 + (s.id or 0), event_id=2) for s in new))
    whole = replace(numbered(passed(TESTED), event("gaskets", fitted), passed(TODAY - ONE_DAY)), seals=both)
    tests: list[Trial] = trials._trials(whole, PRACTICE, dry, {}, date.max)
    assert [t.before for t in tests] == [0.0, 0.0]
    assert [t.opened for t in tests] == [False, True]
    assert tests[1].at < tests[0].at


def test_new_gaskets_since_the_pass_take_its_credit_and_add_the_assembly() -> None:
    fitted = TODAY - 10 * ONE_DAY
    fresh = tuple(replace(s, id=10 + (s.id or 0), event_id=2) for s in seals(fitted=fitted))
    whole = replace(numbered(passed(TESTED), event("gaskets", fitted)), seals=(*seals(), *fresh))
    found = outlook(whole)
    assert found is not None
    assert found.tests_used == 1
    # 1 − q of Beta(1, 19), for the new seals have hardly any wear
    assert found.chance == pytest.approx(0.95, abs=0.005)


@settings(max_examples=25, deadline=None)
@given(at=st.floats(0.05, 2), times=st.integers(2, 40), opened=st.booleans(), passes=st.booleans())
def test_tests_that_are_alike_weigh_as_many_as_they_are(
    at: float, times: int, opened: bool, passes: bool
) -> None:
    """Counted once with their number; told apart by a hair they are computed one by one."""
    alike = learn([Trial(0.0, at, opened, passes)] * times, PRACTICE)
    apart = learn([Trial(0.0, at * (1 + 1e-13 * n), opened, passes) for n in range(times)], PRACTICE)
    assert alike.tests_used == apart.tests_used == times
    assert alike.outlook(0, 1.0, opened).chance == pytest.approx(
        apart.outlook(0, 1.0, opened).chance, rel=1e-6
    )


# --------------------------------------------------------------- no outlook


@pytest.mark.parametrize("kind", FAULTS)
def test_there_is_none_while_any_fault_stands_and_one_again_after_a_pass(kind: EventKind) -> None:
    fault = event(kind, TESTED + ONE_DAY)
    assert outlook(numbered(passed(TESTED), fault)) is None
    repair = [event("repaired", TESTED + 2 * ONE_DAY, repaired=kind)] if kind in DAMAGE else []
    again = passed(TESTED + 3 * ONE_DAY)
    assert outlook(numbered(passed(TESTED), fault, *repair, again)) is not None


@pytest.mark.parametrize("kind", DAMAGE)
def test_neither_a_repair_without_a_test_nor_a_test_without_the_repair_is_enough(kind: EventKind) -> None:
    fault = event(kind, TESTED + ONE_DAY)
    repair = event("repaired", TESTED + 2 * ONE_DAY, repaired=kind)
    assert outlook(numbered(passed(TESTED), fault, repair)) is None
    assert outlook(numbered(passed(TESTED), fault, passed(TESTED + 3 * ONE_DAY))) is None


@pytest.mark.parametrize("kind", ["pressure-test", "condensation-test"])
def test_there_is_none_while_a_failure_stands(kind: EventKind) -> None:
    failed = event(kind, TESTED + ONE_DAY, passed=False)
    assert outlook(numbered(passed(TESTED), failed)) is None
    assert outlook(numbered(passed(TESTED), failed, passed(TODAY))) is not None


def test_a_condensation_test_that_was_passed_ends_no_failure() -> None:
    failed = event("pressure-test", TESTED + ONE_DAY, passed=False)
    dry_crystal = event("condensation-test", TESTED + 2 * ONE_DAY, passed=True)
    assert outlook(numbered(passed(TESTED), failed, dry_crystal)) is None


def test_the_trouble_of_one_watch_leaves_another_its_outlook() -> None:
    own = numbered(passed(TESTED))
    assert outlook(own, other(event("fog"), event("pressure-test", passed=False))) is not None


def test_a_watch_without_any_seal_has_none() -> None:
    assert outlook(replace(numbered(passed(TESTED)), seals=())) is None


# --------------------------------------------------------------- what is no datum, and what hardly matters


def test_the_makers_test_leaves_the_chance_at_that_of_no_test_at_all() -> None:
    makers = replace(record(new_on=FITTED), events=())
    untested = replace(record(), events=())
    found = outlook(makers)
    assert found == outlook(untested)
    assert found is not None
    assert found.prior_only


def test_the_makers_test_teaches_nothing_about_another_watch() -> None:
    own = numbered(passed(TESTED))
    bought_new = replace(other(), watch=replace(other().watch, new_on=FITTED))
    assert outlook(own, bought_new) == outlook(own)


def test_a_pass_on_the_day_after_the_fitting_hardly_matters_to_another_watch() -> None:
    untested = replace(record(), events=())
    early, late = other(passed(FITTED + ONE_DAY)), other(passed(FITTED + 1500 * ONE_DAY))
    assert chance(untested, early) == pytest.approx(chance(untested), abs=1e-6)
    assert chance(untested, late) > chance(untested) + 1e-3


@settings(max_examples=20, deadline=None)
@given(days=st.integers(30, 1500))
def test_one_more_failure_lowers_and_one_more_pass_raises_the_chance_of_a_seal_as_worn(days: int) -> None:
    on = FITTED + timedelta(days=days)
    worn = replace(record(), events=())
    foresights = {
        name: learned(worn, *more)
        for name, more in {
            "none": (),
            "pass": (other(passed(on)),),
            "failure": (other(event("pressure-test", on, passed=False)),),
        }.items()
    }
    known, wears = facts.gather(worn, on), standing.wear_of(worn, PRACTICE, on)
    found = {name: f.outlook_of(worn, known, wears) for name, f in foresights.items()}
    chances = {name: each.chance for name, each in found.items() if each}
    assert chances["failure"] < chances["none"] < chances["pass"]


# --------------------------------------------------------------- dates that meet


def test_a_test_on_the_day_of_the_fitting_finds_a_seal_without_wear() -> None:
    (trial,) = trials._trials(numbered(passed(FITTED)), PRACTICE, dry, {}, date.max)
    assert (trial.before, trial.at, trial.passed) == (0.0, 0.0, True)


def test_a_test_before_the_gaskets_of_the_first_day_meets_no_seal_and_is_no_datum() -> None:
    assert trials._trials(numbered(passed(FITTED, order=15)), PRACTICE, dry, {}, date.max) == []


def test_a_failure_on_the_day_of_the_fitting_says_next_to_nothing_of_wear() -> None:
    """No law of wear can fail at no wear: it is laid to nothing, but there is no outlook while it stands."""
    failed = numbered(event("pressure-test", FITTED, passed=False))
    untested = replace(record(), events=())
    assert outlook(failed) is None
    assert chance(untested, other(event("pressure-test", FITTED, passed=False))) == pytest.approx(
        chance(untested), rel=1e-9
    )


def test_of_two_tests_on_one_day_the_second_chains_on_the_first() -> None:
    fail_then_pass = [event("pressure-test", TESTED, passed=False), passed(TESTED)]
    found = {}
    for name, both in (("fail, pass", fail_then_pass), ("pass, fail", fail_then_pass[::-1])):
        found[name] = trials._trials(numbered(*both), PRACTICE, dry, {}, date.max)
    worn = found["fail, pass"][0].at
    assert [(t.before, t.at, t.passed) for t in found["fail, pass"]] == [
        (0.0, worn, False), (0.0, worn, True),
    ]  # fmt: skip
    assert [(t.before, t.at, t.passed) for t in found["pass, fail"]] == [
        (0.0, worn, True), (worn, worn, False),
    ]  # fmt: skip


def test_an_earlier_day_knows_nothing_of_tests_that_came_later() -> None:
    watch = replace(record(), events=(passed(TESTED), passed(TESTED + timedelta(days=100), id=2)))
    then = trials.foresee([watch], PRACTICE, dry, TESTED + timedelta(days=50))
    assert then.posterior.tests_used == 1
