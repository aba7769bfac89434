"""The facts of a watch in their order, and what its logged exposures raise among them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from itertools import permutations
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.model.fitting import UNKNOWN_YEARS
from logbook.model.judge import history, proofs
from logbook.model.judge.history import Course
from logbook.model.judge.proofs import Asked
from logbook.model.values import (
    DAMAGE,
    DAY_ORDER,
    EVENT_KINDS,
    Event,
    Exposure,
    Habit,
    Raised,
    Seal,
    WatchRecord,
)
from logbook.model.wear.account import later_by_years
from tests.model.builders import (
    BAR,
    ONE_DAY,
    PRACTICE,
    TESTED,
    TODAY,
    at,
    event,
    exposure,
    passed,
    rain,
    record,
    seal,
    shower,
    untested,
)

DAY = date(2024, 7, 1)
DIVE = Asked("scuba", 1.8 * BAR)


def day(n: int) -> date:
    return DAY + n * ONE_DAY


def told(*events: Event, until: date | None = None, asked: Asked = DIVE, **given_: Any) -> Course:
    """What stands and is proved after these events."""
    whole = record(*events, **given_) if events else untested(**given_)
    return history.course(whole, asked, PRACTICE, until)


def codes(found: Course) -> list[str]:
    return [stand.code for stand in found.stands]


def failed(on: date = DAY, bar: float | None = 25, **more: Any) -> Event:
    test_pa = None if bar is None else bar * BAR
    return event("pressure-test", on, passed=False, test_pa=test_pa, **({"medium": "water"} | more))


# ---------------------------------------------------------------- the order of one day


def test_a_battery_change_and_a_test_on_one_day_are_in_that_order_unless_the_owner_says_otherwise() -> None:
    """A workshop changes the battery and then tests it: nothing is left open."""
    for entered in permutations([event("battery", DAY), passed(DAY)]):
        found = told(*entered)
        assert codes(found) == []
        assert len(found.live) == 1


def test_a_battery_change_put_after_the_test_of_that_day_leaves_it_untested() -> None:
    battery = event("battery", DAY, order=DAY_ORDER["pressure-test"] + 1)
    for entered in permutations([battery, passed(DAY)]):
        found = told(*entered)
        assert [stand.event for stand in found.stands] == [battery]
        assert found.live == []
        assert len(found.known) == 1


def test_a_fault_or_knock_of_the_day_of_a_test_came_after_it_unless_the_owner_says_otherwise() -> None:
    for kind in ("fog", "water-inside", "crystal-damaged", "knock"):
        assert codes(told(passed(DAY), event(kind, DAY))) != []
    early = [event("opened", DAY, order=6), event("fog", DAY, order=5)]
    assert codes(told(passed(DAY), *early)) == []


def test_repair_and_test_on_one_day_mend_in_that_order_and_not_in_the_other() -> None:
    damage = event("crown-damaged", DAY)
    repair, test = event("repaired", day(1), repaired="crown-damaged"), passed(day(1))
    for entered in permutations([damage, repair, test]):
        assert codes(told(*entered)) == []
        late = [replace(e, order=45) if e is repair else e for e in entered]
        assert codes(told(*late)) == ["damaged", "opened-untested"]


def test_a_failure_an_opening_and_a_pass_of_one_day_are_read_in_that_order() -> None:
    for entered in permutations([failed(DAY), event("opened", DAY), passed(DAY, 25)]):
        assert codes(told(*entered)) == []


def test_a_failure_in_water_comes_after_that_days_passes_in_air_or_vacuum() -> None:
    for medium in ("air", "vacuum"):
        for entered in permutations([failed(DAY), passed(DAY, 25, medium=medium)]):
            found = told(*entered)
            assert codes(found) == ["failed-test"]
            assert found.stands[0].passed_on is None
            assert found.live == []


def test_a_failure_always_stands_beside_passes_of_its_day() -> None:
    for entered in permutations([failed(DAY, 10), passed(DAY, 10), passed(DAY, 6)]):
        assert codes(told(*entered)) == ["failed-test"]
        assert told(*entered).stands[0].passed_on == DAY


def test_of_one_days_passes_the_highest_counts() -> None:
    for entered in permutations([event("battery", DAY), passed(DAY, 3), passed(DAY, 12)]):
        found = told(*entered)
        assert codes(found) == []
        best = proofs.highest(found.live, PRACTICE)
        assert best is not None
        assert best.test_pa == 12 * BAR


def test_a_condensation_test_and_a_pressure_test_of_one_day_lift_fog_of_the_day_before() -> None:
    for entered in permutations(
        [event("fog", DAY), event("condensation-test", day(1), passed=True), passed(day(1))]
    ):
        assert codes(told(*entered)) == []


def test_an_exposure_comes_after_the_test_and_before_the_fault_of_its_day() -> None:
    worked = Raised("overstressed", exposure(crown_under=1, starts_on=DAY))
    assert codes(told(passed(DAY), event("fog", DAY), raised=(worked,))) == ["overstressed", "water-inside"]


def test_what_happened_after_the_day_that_is_asked_is_not_seen() -> None:
    later = (event("battery", day(1)), event("fog", day(1)))
    assert codes(told(passed(TESTED), *later, until=DAY)) == []
    assert codes(told(passed(TESTED), *later, until=day(1))) == ["opened-untested", "water-inside"]


def test_what_asks_for_a_pass_takes_every_proof_away() -> None:
    for breaking in (failed(), event("battery", DAY), event("fog", DAY), event("crystal-damaged", DAY),
                     event("knock", DAY)):  # fmt: skip
        found = told(passed(TESTED, 25), breaking)
        assert (found.live, len(found.known)) == ([], 1)
    assert len(told(passed(TESTED, 25), event("strap", DAY)).live) == 1


# ---------------------------------------------------------------- the maker's test, and dates that are ranges

NEW = date(2024, 2, 1)


def test_the_makers_test_stands_at_the_day_the_watch_was_new() -> None:
    assert told(new_on=NEW, until=NEW - ONE_DAY).known == []
    (proof,) = told(new_on=NEW, until=NEW).known
    assert (proof.on, proof.makers) == (NEW, True)


def test_an_opening_ends_what_the_makers_test_says() -> None:
    found = told(event("battery", DAY), new_on=NEW)
    assert codes(found) == ["opened-untested"]
    assert (found.live, len(found.known)) == ([], 1)


def test_a_new_watch_opened_on_its_first_day_was_opened_before_its_makers_test() -> None:
    """A row of that day goes by the order of days: opening, then test. It is asked where it matters."""
    assert codes(told(event("opened", NEW, order=DAY_ORDER["pressure-test"] + 1), new_on=NEW)) == [
        "opened-untested"
    ]


def ranged(first: date, last: date, **given_: Any) -> tuple[Seal, ...]:
    return (seal(fitted=first, latest=last, **given_),)


ADDED = date(2024, 8, 1)


def test_gaskets_dated_by_a_range_that_reaches_past_the_last_pass_only_make_think_twice() -> None:
    found = told(passed(TESTED), seals=ranged(date(2024, 1, 1), DAY), added_on=ADDED)
    assert codes(found) == ["opened-untested"]
    assert found.stands[0].mild
    assert found.live == []


def test_gaskets_that_were_certainly_fitted_after_the_last_pass_say_no_less() -> None:
    found = told(passed(TESTED), seals=ranged(day(1), day(30)), added_on=ADDED)
    assert codes(found) == ["opened-untested"]


def test_a_range_before_the_last_pass_or_without_any_pass_raises_nothing() -> None:
    assert codes(told(passed(day(1)), seals=ranged(date(2024, 1, 1), DAY), added_on=ADDED)) == []
    assert codes(told(seals=ranged(date(2024, 1, 1), DAY), added_on=ADDED)) == []


def test_a_fitting_date_that_is_not_known_raises_nothing() -> None:
    """It reaches back by 30 years, and up to the day the watch was added."""
    oldest = later_by_years(ADDED, -UNKNOWN_YEARS)
    assert codes(told(passed(TESTED), seals=ranged(oldest, ADDED), added_on=ADDED)) == []


def test_a_gaskets_event_known_to_a_month_that_holds_a_pass_only_makes_think_twice() -> None:
    month = (date(2024, 5, 1), date(2024, 6, 30))
    told_of = event("gaskets", month[1], span=month)
    assert [s.mild for s in told(passed(TESTED), told_of).stands] == [True]
    assert [s.mild for s in told(passed(date(2024, 4, 1)), told_of).stands] == [False]


# ---------------------------------------------------------------- habits


def habit(of: Exposure, first: date, last: date | None = None) -> Habit:
    return Habit(of, 1.0, first, last)


SMALL: dict[str, Any] = {"mark": "water-resistant", "marked_pa": 3 * BAR, "use": "dry"}


def test_a_habit_raises_on_its_first_day_what_one_of_its_exposures_would() -> None:
    found = told(habits=(habit(shower(crown_under=1), DAY),), **SMALL)
    assert [(s.code, s.on) for s in found.stands] == [("overstressed", DAY), ("beyond-proof", DAY)]
    assert codes(told(habits=(habit(shower(), DAY),))) == []  # a diver's watch may shower
    assert codes(told(habits=(habit(shower(crown_under=1), DAY),), until=day(-1), **SMALL)) == []


def test_a_habit_that_goes_on_raises_it_again_after_each_pass_and_one_that_ended_does_not() -> None:
    """That day's water comes after the pass, unless the owner put the pass after it."""
    late = {"order": DAY_ORDER["exposure"] + 5}
    for last, order, left in ((None, {}, [day(5)]), (day(5), {}, [day(5)]), (day(4), {}, []),
                              (None, late, [day(6)]), (day(5), late, [])):  # fmt: skip
        found = told(passed(day(5), **order), habits=(habit(exposure(crown_under=1), DAY, last),))
        assert [stand.on for stand in found.stands] == left


# ---------------------------------------------------------------- what exposures raise

WORKED = exposure(crown_under=1, starts_on=DAY, id=1)
DEEP = exposure(depth_m=60.0, starts_on=DAY, id=2)  # 6 bar


def raised(whole: WatchRecord, *logged: Exposure) -> list[tuple[str, int | None]]:
    return [(r.code, r.exposure.id) for r in history.raised_by_exposures(whole, logged, PRACTICE)]


def test_only_what_overstressed_or_went_beyond_proof_is_kept() -> None:
    whole = record(passed(TESTED, 5))
    assert raised(whole, exposure(starts_on=DAY, id=3), rain(starts_on=DAY, id=4)) == []
    assert raised(whole, WORKED) == [("overstressed", 1)]
    assert raised(whole, DEEP) == [("beyond-proof", 2)]


def test_what_is_above_the_mark_is_above_the_proof_as_well() -> None:
    deepest = exposure(depth_m=260.0, starts_on=DAY, id=5)
    assert raised(record(passed(TESTED, 25)), deepest) == [("overstressed", 5), ("beyond-proof", 5)]


def test_the_first_of_each_code_is_kept_until_something_else_happens() -> None:
    again = replace(WORKED, id=7, starts_on=day(1))
    whole = record(passed(TESTED, 25))
    assert raised(whole, again, WORKED) == [("overstressed", 1)]
    between = record(passed(TESTED, 25), passed(day(1), 25))
    assert raised(between, again, WORKED) == [("overstressed", 1), ("overstressed", 7)]


def test_of_one_day_the_earlier_hour_is_kept() -> None:
    early, late = (replace(WORKED, id=n, starts_at=at(hour)) for n, hour in ((9, 8), (8, 18)))
    assert raised(record(), late, early) == [("overstressed", 9)]


def test_what_is_kept_before_is_not_read_when_it_is_worked_out_anew() -> None:
    whole = record(passed(TESTED, 25), raised=(Raised("beyond-proof", DEEP),))
    assert raised(whole, WORKED) == [("overstressed", 1)]


def test_exposures_from_before_the_records_start_raise_too() -> None:
    early = replace(WORKED, starts_on=date(2023, 5, 1))
    assert raised(untested(recorded_from=TESTED), early) == [("overstressed", 1)]


def test_one_more_exposure_begins_what_nothing_before_it_began() -> None:
    whole = record(passed(TESTED, 5))
    assert history.new_by(whole, DEEP, PRACTICE) == ["beyond-proof"]
    begun = replace(whole, raised=(Raised("beyond-proof", replace(DEEP, id=3, starts_on=day(-1))),))
    assert history.new_by(begun, DEEP, PRACTICE) == []
    later = replace(whole, raised=(Raised("beyond-proof", replace(DEEP, id=3, starts_on=day(1))),))
    assert history.new_by(later, DEEP, PRACTICE) == ["beyond-proof"]


def test_a_logged_exposure_is_said_at_once_whatever_stands_already() -> None:
    begun = record(passed(TESTED, 5), raised=(Raised("beyond-proof", replace(DEEP, starts_on=day(-1))),))
    assert meant(begun, DEEP) == ["beyond-proof"]
    assert meant(record(passed(TESTED, 25)), DEEP) == []


def test_what_a_later_pass_has_lifted_already_is_not_said_of_an_exposure_logged_late() -> None:
    told = record(passed(TESTED, 5), passed(day(3), 20), raised=())
    assert meant(told, DEEP) == []
    assert meant(record(passed(TESTED, 5), passed(day(3), 3), raised=()), DEEP) == ["beyond-proof"]


def meant(whole: WatchRecord, exposure: Exposure) -> list[str]:
    return [s.code for s in history.meant_by(whole, [exposure], PRACTICE, Asked("scuba"))]


contacts = st.lists(
    st.tuples(st.integers(0, 9), st.sampled_from([18.0, 60.0, 210.0]), st.integers(0, 1)), max_size=6
).map(
    lambda drawn: [
        exposure(starts_on=day(n), depth_m=depth, crown_under=crown, id=100 + i, starts_at=at(i))
        for i, (n, depth, crown) in enumerate(drawn)
    ]
)
histories = st.lists(
    st.tuples(st.sampled_from(EVENT_KINDS), st.integers(0, 9), st.booleans(), st.sampled_from(DAMAGE),
              st.sampled_from([None, 3.0, 12.5, 25.0])),
    max_size=8,
).map(
    lambda drawn: [
        event(
            kind, day(n), id=i,
            passed=good if kind.endswith("test") else None,
            test_pa=bar * BAR if bar and kind == "pressure-test" else None,
            repaired=mended if kind == "repaired" else None,
        )
        for i, (kind, n, good, mended, bar) in enumerate(drawn, start=1)
    ]
)  # fmt: skip


@given(events=histories, logged=contacts)
def test_what_is_kept_stands_as_all_the_exposures_would(
    events: list[Event], logged: Sequence[Exposure]
) -> None:
    """A pass lifts the first of a code with the later ones, so that keeping the first alone is enough."""
    whole = untested()
    whole = replace(whole, events=tuple(events))
    kept = replace(whole, raised=tuple(history.raised_by_exposures(whole, logged, PRACTICE)))
    every = Course(history.course(whole, DIVE, PRACTICE).needs)
    facts = [*history.facts_of(whole, PRACTICE), *(history._fact(e) for e in logged)]
    for fact in sorted(facts, key=history._place):
        every.see(fact)
    found = history.course(kept, DIVE, PRACTICE)
    assert {s.code for s in found.stands} == {s.code for s in every.stands}
    assert found.live == every.live


@given(events=histories, salt=st.randoms())
def test_the_order_of_entry_changes_nothing(events: list[Event], salt: Any) -> None:
    mixed = [replace(e, id=n) for n, e in enumerate(events, start=50)]
    salt.shuffle(mixed)
    if events:
        one, other = told(*events), told(*mixed)
        shown = [(s.code, s.on, s.way, s.opened, s.repaired, s.passed_on, s.lowered) for s in one.stands]
        assert sorted(map(repr, shown)) == sorted(
            repr((s.code, s.on, s.way, s.opened, s.repaired, s.passed_on, s.lowered)) for s in other.stands
        )
        assert one.live == other.live


@pytest.mark.parametrize("asked", [DIVE, Asked("swim", 0.2 * BAR), Asked("rain, hands", 500.0)])
def test_what_stands_on_the_last_day_is_what_stands_of_all(asked: Asked) -> None:
    events = (passed(TESTED), event("battery", DAY), passed(day(2), 3), event("knock", day(3)))
    whole = record(*events)
    one = history.course(whole, asked, PRACTICE, TODAY)
    other = history.course(whole, asked, PRACTICE)
    assert (codes(one), one.live) == (codes(other), other.live)
