"""The owner's tests as the outlook learns from them: which seal, at which wear share, since which pass."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from logbook.reckoning import facts, standing, trials
from logbook.reckoning.outlook import Outlook, Trial
from logbook.reckoning.values import Shares, WatchRecord
from tests.reckoning.builders import FITTED, ONE_DAY, PRACTICE, TESTED, TODAY, event, passed, record, wear_on


def nothing_yet(seal_id: int, up_to: date) -> Shares:
    """A ledger without any exposure."""
    return Shares()


def learned(whole: WatchRecord, sums: trials.Sums = nothing_yet) -> list[Trial]:
    return trials._trials(whole, PRACTICE, sums, {}, TODAY)


def outlook(whole: WatchRecord) -> Outlook | None:
    foresight = trials.foresee([whole], PRACTICE, nothing_yet, TODAY)
    return foresight.outlook_of(whole, facts.gather(whole, TODAY), standing.wear_of(whole, PRACTICE, TODAY))


def test_a_first_pass_counts_from_zero_at_the_wear_share_of_its_day() -> None:
    (trial,) = learned(record(passed(TESTED, id=1)))
    assert trial == Trial(0.0, pytest.approx(wear_on(record(), TESTED).wear_share), opened=False, passed=True)


def test_a_second_test_chains_on_the_pass_before() -> None:
    first, second = learned(record(passed(TESTED, id=1), event("pressure-test", TODAY, passed=False, id=2)))
    assert second.before == first.at
    assert second.at > first.at
    assert (second.opened, second.passed) == (False, False)


def test_a_failed_test_is_no_pass_to_chain_on() -> None:
    *_, last = learned(
        record(
            passed(TESTED, id=1),
            event("pressure-test", TESTED + ONE_DAY, passed=False, id=2),
            passed(TESTED + 9 * ONE_DAY, id=3),
        )
    )
    assert last.before == pytest.approx(wear_on(record(), TESTED).wear_share)


@pytest.mark.parametrize(("order", "opened"), [(10, True), (45, False)])
def test_an_opening_counts_when_it_came_before_the_test_of_its_day(order: int, opened: bool) -> None:
    (trial,) = learned(record(event("battery", TESTED, order=order, id=1), passed(TESTED, id=2)))
    assert trial.opened is opened


def test_the_days_exposures_count_only_when_the_test_came_after_them() -> None:
    asked: list[date] = []

    def sums(seal_id: int, up_to: date) -> Shares:
        asked.append(up_to)
        return Shares()

    learned(record(passed(TESTED, id=1)), sums)
    learned(record(passed(TESTED, id=1, order=55)), sums)
    assert set(asked[:3]) == {TESTED - ONE_DAY}
    assert set(asked[3:]) == {TESTED}


def test_a_condensation_test_and_the_makers_test_are_no_data() -> None:
    assert learned(record(event("condensation-test", TESTED, passed=False), new_on=FITTED)) == []


@pytest.mark.parametrize(
    ("given", "is_datum"),
    [
        ({}, False),
        ({"crystal_c": 5.0, "case_air_c": 21.0}, False),  # air of 21 °C and 50 % fogs there by itself
        ({"crystal_c": 20.0, "case_air_c": 30.0}, True),
    ],
)
def test_fog_is_a_failure_only_where_the_sealed_air_could_not_have_held_it(
    given: dict[str, Any], is_datum: bool
) -> None:
    found = learned(record(event("fog", TESTED, id=1, **given)))
    assert [t.passed for t in found] == ([False] if is_datum else [])


@pytest.mark.parametrize("kind", ["fog", "crystal"])
def test_there_is_no_outlook_while_a_fault_or_a_failure_stands(kind: Any) -> None:
    assert outlook(record(passed(), event(kind))) is None
    assert outlook(record(passed(), event("pressure-test", passed=False))) is None
    assert outlook(record(passed(id=1))) is not None


def test_an_owners_pass_is_better_news_than_the_makers() -> None:
    own = outlook(record(passed(TODAY - 2 * ONE_DAY, id=1)))
    makers = outlook(record(event("strap"), new_on=FITTED))
    assert own is not None
    assert makers is not None
    assert own.chance > makers.chance
    assert (own.tests_used, makers.tests_used) == (1, 0)
