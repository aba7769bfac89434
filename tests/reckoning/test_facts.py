"""What the events say: passes, openings, faults, and the order of things inside one day."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.reckoning import facts
from logbook.reckoning.facts import Facts
from logbook.reckoning.values import DAMAGE, DAY_ORDER, EVENT_KINDS, FAULTS, Event, EventKind
from tests.reckoning.builders import BAR, ONE_DAY, TESTED, TODAY, event, passed, record, untested

DAY = date(2024, 7, 1)


def known(*events: Event, on: date = TODAY, **given_: object) -> Facts:
    return facts.gather(record(*events, **given_) if events else untested(**given_), on)


def failed(on: date = DAY, kind: EventKind = "pressure-test", **more: object) -> Event:
    return event(kind, on, passed=False, **more)


# ---------------------------------------------------------------- openings and tests


@pytest.mark.parametrize("kind", ["battery", "opened", "movement", "gaskets"])
def test_an_opening_after_the_last_pass_is_untested(kind: EventKind) -> None:
    found = known(passed(TESTED), event(kind, DAY))
    assert found.opened is not None
    assert found.opened.kind == kind


@pytest.mark.parametrize("kind", ["battery", "opened", "movement", "gaskets"])
def test_a_pass_after_an_opening_covers_it(kind: EventKind) -> None:
    assert known(event(kind, TESTED), passed(DAY)).opened is None


def test_a_battery_change_and_a_test_on_one_day_are_in_that_order_unless_the_owner_says_otherwise() -> None:
    """A workshop changes the battery and then tests it: nothing is left open."""
    battery, test = event("battery", DAY), passed(DAY)
    for entered in permutations([battery, test]):
        assert known(*entered).opened is None


def test_a_battery_change_put_after_the_test_of_that_day_leaves_it_untested() -> None:
    battery, test = event("battery", DAY, order=DAY_ORDER["pressure-test"] + 1), passed(DAY)
    for entered in permutations([battery, test]):
        found = known(*entered)
        assert found.opened == battery
        assert found.highest_pass is None


def test_two_events_of_one_order_stand_as_they_were_entered() -> None:
    battery, test = event("battery", DAY, order=40, id=8), passed(DAY, id=7)
    assert known(battery, test).opened == battery
    assert known(replace(battery, id=6), test).opened is None


def test_the_first_opening_since_the_last_pass_is_named() -> None:
    first = event("battery", DAY)
    assert known(passed(TESTED), event("opened", DAY + ONE_DAY), first).opened == first


def test_a_strap_opens_nothing() -> None:
    assert known(passed(TESTED), event("strap", DAY)).opened is None


@pytest.mark.parametrize("kind", DAMAGE)
def test_a_repair_opens_the_watch(kind: EventKind) -> None:
    assert known(passed(TESTED), event("repaired", DAY, repaired=kind)).opened is not None


@pytest.mark.parametrize("kind", ["fog", "water-inside"])
def test_drying_out_is_no_repair_that_opens(kind: EventKind) -> None:
    assert not facts.opens(event("repaired", DAY, repaired=kind))


def test_events_of_a_later_day_are_not_known_yet() -> None:
    later = (event("battery", DAY + ONE_DAY), event("fog", DAY + ONE_DAY))
    found = known(passed(TESTED), *later, on=DAY)
    assert found.opened is None
    assert found.open_faults == ()
    assert known(passed(TESTED), *later, on=DAY + ONE_DAY).opened is not None


def test_an_event_of_the_day_itself_counts() -> None:
    assert known(passed(TESTED), event("battery", DAY), on=DAY).opened is not None


# ---------------------------------------------------------------- condensation


def test_a_passed_condensation_test_alone_lifts_nothing() -> None:
    dry = event("condensation-test", DAY + ONE_DAY, passed=True)
    opened = known(passed(TESTED), event("battery", DAY), dry)
    assert opened.opened is not None
    assert known(passed(TESTED), event("fog", DAY), dry).open_faults != ()
    assert known(passed(TESTED), failed(DAY), dry).failed is not None
    alone = known(dry)
    assert alone.last_pass is None
    assert alone.highest_pass is None


def test_a_failed_condensation_test_stands_until_a_passed_pressure_test() -> None:
    bad = failed(DAY, "condensation-test")
    again = event("condensation-test", DAY + ONE_DAY, passed=True)
    assert known(passed(TESTED), bad, again).failed == bad
    assert known(passed(TESTED), bad, again, passed(DAY + 2 * ONE_DAY)).failed is None


# ---------------------------------------------------------------- failures


def test_a_failure_stands_until_a_later_pass() -> None:
    bad = failed(DAY)
    assert known(passed(TESTED), bad).failed == bad
    assert known(passed(TESTED), bad, passed(DAY + ONE_DAY)).failed is None
    assert known(bad).failed == bad


def test_the_latest_failure_is_named() -> None:
    assert known(failed(DAY), failed(DAY + ONE_DAY)).failed == failed(DAY + ONE_DAY)


def test_a_failure_and_a_pass_on_one_day_go_by_their_order() -> None:
    bad = failed(DAY, order=DAY_ORDER["pressure-test"])
    assert known(bad, passed(DAY, order=41)).failed is None
    assert known(bad, passed(DAY, order=39)).failed == bad


# ---------------------------------------------------------------- faults


@pytest.mark.parametrize("kind", ["fog", "water-inside"])
def test_fog_and_water_stand_until_a_later_pass(kind: EventKind) -> None:
    assert known(passed(TESTED), event(kind, DAY)).open_faults == (event(kind, DAY),)
    assert known(event(kind, DAY), passed(DAY + ONE_DAY)).open_faults == ()


@pytest.mark.parametrize("kind", DAMAGE)
def test_damage_stands_until_its_own_repair_and_a_test_after_it(kind: EventKind) -> None:
    other: EventKind = "crown-damaged" if kind != "crown-damaged" else "crystal-damaged"
    damage = event(kind, DAY)
    repair = event("repaired", DAY + 2 * ONE_DAY, repaired=kind)
    days = [DAY + n * ONE_DAY for n in range(5)]
    assert known(damage, passed(days[1])).open_faults == (damage,)  # tested, not repaired
    assert known(damage, repair).open_faults == (damage,)  # repaired, not tested
    assert known(damage, passed(days[1]), repair).open_faults == (damage,)  # tested before the repair
    assert known(damage, event("repaired", days[2], repaired=other), passed(days[3])).open_faults == (damage,)
    assert known(damage, repair, passed(days[3])).open_faults == ()


def test_a_repair_before_the_damage_does_not_mend_it() -> None:
    damage = event("crystal-damaged", DAY)
    earlier = event("repaired", DAY - ONE_DAY, repaired="crystal-damaged")
    assert known(earlier, damage, passed(DAY + ONE_DAY)).open_faults == (damage,)


def test_repair_and_test_on_one_day_mend_in_that_order_and_not_in_the_other() -> None:
    damage = event("crown-damaged", DAY)
    repair, test = event("repaired", DAY + ONE_DAY, repaired="crown-damaged"), passed(DAY + ONE_DAY)
    for entered in permutations([damage, repair, test]):
        assert known(*entered).open_faults == ()
        late = [replace(e, order=45) if e is repair else e for e in entered]
        assert known(*late).open_faults == (damage,)


def test_a_fault_seen_on_the_day_of_a_test_came_after_it() -> None:
    """Seen in the evening, after the day's test: it stands. The owner may say that it came before."""
    assert known(passed(DAY), event("fog", DAY)).open_faults != ()
    assert known(passed(DAY), event("fog", DAY, order=5)).open_faults == ()


def test_two_faults_are_both_open_until_one_test_closes_both() -> None:
    fog, water = event("fog", DAY), event("water-inside", DAY + ONE_DAY)
    assert known(water, fog).open_faults == (fog, water)
    assert known(water, fog, passed(DAY + ONE_DAY)).open_faults == (water,)
    assert known(water, fog, passed(DAY + 2 * ONE_DAY)).open_faults == ()


# ---------------------------------------------------------------- what was passed, and how much


def test_the_highest_pass_since_the_last_opening_counts() -> None:
    days = [DAY + n * ONE_DAY for n in range(4)]
    found = known(passed(days[0], 20), event("battery", days[1]), passed(days[2], 6), passed(days[3], 3))
    assert found.highest_pass is not None
    assert found.highest_pass.test_pa == 6 * BAR
    assert found.last_pass is not None
    assert found.last_pass.test_pa == 3 * BAR


@pytest.mark.parametrize("breaking", ["failed", "battery", "fog", "crystal"])
def test_a_pass_before_a_failure_an_opening_or_a_fault_proves_no_pressure(breaking: str) -> None:
    broken = failed(DAY) if breaking == "failed" else event(breaking, DAY)
    assert known(passed(TESTED, 25), broken).highest_pass is None


def test_a_pass_without_a_pressure_proves_no_pressure_but_is_a_pass() -> None:
    found = known(passed(DAY, None))
    assert found.highest_pass is None
    assert found.last_pass is not None
    assert found.opened is None


def test_a_vacuum_counts_by_its_magnitude() -> None:
    found = known(passed(DAY, 0.7, medium="vacuum"))
    assert found.highest_pass is not None
    assert (found.highest_pass.test_pa, found.highest_pass.medium) == (0.7 * BAR, "vacuum")


# ---------------------------------------------------------------- the maker's test

NEW = date(2024, 2, 1)


@pytest.mark.parametrize("mark", ["divers", "divers-mixed-gas"])
def test_a_divers_watch_bought_new_carries_its_makers_test_to_the_mark(mark: str) -> None:
    found = known(mark=mark, new_on=NEW)
    assert found.last_pass is not None
    assert (found.last_pass.on, found.last_pass.makers) == (NEW, True)
    assert found.highest_pass is not None
    assert found.highest_pass.test_pa == 20 * BAR
    assert found.sampled_on is None


@pytest.mark.parametrize("mark", ["water-resistant", "unmarked", "unknown"])
def test_of_other_marks_only_samples_were_tested(mark: str) -> None:
    found = known(mark=mark, new_on=NEW)
    assert found.last_pass is None
    assert found.highest_pass is None
    assert found.sampled_on == NEW


def test_an_opening_ends_what_the_makers_test_says() -> None:
    found = known(event("battery", DAY), new_on=NEW)
    assert found.opened is not None
    assert found.highest_pass is None
    assert found.last_pass is not None  # it was passed all the same, and the next is due a year after it


def test_a_watch_opened_on_the_day_it_was_bought_new_is_untested() -> None:
    found = known(event("opened", NEW), new_on=NEW)
    assert found.opened is not None
    assert found.highest_pass is None


def test_an_own_pass_takes_the_place_of_the_makers_as_the_last() -> None:
    found = known(passed(DAY, 10), new_on=NEW)
    assert found.last_pass is not None
    assert not found.last_pass.makers
    assert found.highest_pass is not None
    assert found.highest_pass.makers  # 20 bar, and nothing opened since


def test_the_makers_test_is_not_known_before_the_watch_was_new() -> None:
    assert known(new_on=NEW, on=NEW - ONE_DAY).last_pass is None


def test_a_secondhand_watch_carries_no_makers_test() -> None:
    found = known(bought_on=NEW)
    assert (found.last_pass, found.sampled_on) == (None, None)


# ---------------------------------------------------------------- last water, and what asks for a test


def test_the_last_water_is_the_latest_of_exposure_confirmation_and_start() -> None:
    start = date(2024, 1, 1)
    assert known(last_exposure_on=None, confirmed_on=None).last_water_on == start
    assert known(last_exposure_on=DAY, confirmed_on=None).last_water_on == DAY
    assert known(last_exposure_on=DAY, confirmed_on=DAY + ONE_DAY).last_water_on == DAY + ONE_DAY
    assert known(last_exposure_on=None, confirmed_on=None, added_on=DAY).last_water_on == DAY


def test_all_that_asks_for_a_test_is_named_oldest_first() -> None:
    battery, fog = event("battery", DAY), event("fog", DAY + ONE_DAY)
    assert known(passed(TESTED), fog, battery).asking_for_a_test == [battery, fog]
    assert known(passed(TESTED), fog).asking_for_a_test == [fog]
    assert known(passed(TESTED)).asking_for_a_test == []


histories = st.lists(
    st.tuples(st.sampled_from(EVENT_KINDS), st.integers(0, 9), st.booleans(), st.sampled_from(DAMAGE)),
    max_size=12,
).map(
    lambda told: [
        event(
            kind,
            DAY + day * ONE_DAY,
            id=n,
            passed=good if kind.endswith("test") else None,
            repaired=mended if kind == "repaired" else None,
        )
        for n, (kind, day, good, mended) in enumerate(told, start=1)
    ]
)


@given(history=histories, salt=st.randoms())
def test_the_order_of_entry_changes_nothing_once_ids_are_given(history: list[Event], salt: object) -> None:
    mixed = list(history)
    salt.shuffle(mixed)
    if history:
        assert known(*history) == known(*mixed)


@given(history=histories)
def test_a_pass_after_all_else_lifts_everything_but_damage_without_repair(history: list[Event]) -> None:
    found = known(*history, passed(DAY + 10 * ONE_DAY))
    assert (found.opened, found.failed) == (None, None)
    for fault in found.open_faults:
        assert fault.kind in DAMAGE
        repairs = [e for e in history if e.kind == "repaired" and e.repaired == fault.kind]
        assert not any(facts.moment(e) > facts.moment(fault) for e in repairs)


@given(history=histories)
def test_replaying_the_days_one_event_at_a_time_gives_the_same_state(history: list[Event]) -> None:
    """A plain state machine over the sorted events, written independently."""
    opened = bad = None
    open_faults: list[tuple[Event, bool]] = []  # and whether repaired
    for e in sorted(history, key=lambda e: (e.on, e.order, e.id)):
        if e.kind == "pressure-test" and e.passed:
            opened = bad = None
            open_faults = [(f, done) for f, done in open_faults if f.kind in DAMAGE and not done]
        elif e.kind.endswith("test") and e.passed is False:
            bad = e
        elif e.kind in FAULTS:
            open_faults.append((e, False))
        elif e.kind in ("opened", "battery", "movement", "gaskets") or e.kind == "repaired":
            opened = opened or e
            if e.kind == "repaired":
                open_faults = [(f, done or f.kind == e.repaired) for f, done in open_faults]
    found = known(*history)
    assert found.opened == opened
    assert found.failed == bad
    assert list(found.open_faults) == [f for f, _ in open_faults]
