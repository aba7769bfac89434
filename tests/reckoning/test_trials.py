"""The owner's tests as the outlook learns from them: which seal, at which wear share, since which pass."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from logbook.reckoning import facts, standing, trials
from logbook.reckoning.outlook import Outlook, Trial
from logbook.reckoning.values import Shares, WatchRecord
from tests.reckoning.builders import (
    FITTED,
    ONE_DAY,
    PRACTICE,
    TESTED,
    TODAY,
    event,
    passed,
    record,
    seals,
    wear_on,
)


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


@pytest.mark.parametrize("kind", ["fog", "crystal-damaged"])
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


# ---------------------------------------------------------------- a fitting that is only a range


def unknown_since(years: int, *events: Any, places: int = 3) -> WatchRecord:
    """Seals fitted between so many years ago and TESTED − 9 days; the others than the last known."""
    latest = TESTED - 9 * ONE_DAY
    known = TODAY.replace(year=2020)
    made = seals(fitted=known)
    open_ = tuple(
        replace(s, fitted_earliest=TODAY.replace(year=TODAY.year - years), fitted_latest=latest)
        for s in made[:places]
    )
    whole = record(*(events or (event("strap"),)), added_on=latest, recorded_from=latest, use="dry")
    return replace(whole, seals=(*open_, *made[places:]))


def plain(whole: WatchRecord) -> Outlook:
    """The outlook at the wear shares of the middle alone."""
    limiting = max(standing.wear_of(whole, PRACTICE, TODAY), key=lambda w: w.wear_share)
    foresight = trials.foresee([whole], PRACTICE, nothing_yet, TODAY)
    known = facts.gather(whole, TODAY)
    before = foresight._share_at_last_pass(whole, known, limiting)
    return foresight.posterior.outlook(before, limiting.wear_share, known.opened is not None)


def test_a_fitting_that_is_only_a_range_lowers_the_low_end_and_nothing_else() -> None:
    whole = unknown_since(6)
    found, middle = outlook(whole), plain(whole)
    assert found is not None
    assert found.low < middle.low - 0.05
    assert replace(found, low=middle.low) == middle


def test_the_low_end_is_that_of_the_seal_fitted_on_its_earliest_day() -> None:
    """Never tested: as a watch whose seals are known to be of that day."""
    whole = unknown_since(6)
    oldest = standing.wear_of(whole, PRACTICE, TODAY)
    share = max(w.share_at_the_earliest for w in oldest)
    posterior = trials.foresee([whole], PRACTICE, nothing_yet, TODAY).posterior
    found = outlook(whole)
    assert found is not None
    assert found.low == pytest.approx(posterior.outlook(0.0, share, False).low)


def test_a_wider_range_never_raises_the_low_end() -> None:
    lows = [found.low for years in range(2, 8) if (found := outlook(unknown_since(years)))]
    assert lows == sorted(lows, reverse=True)
    assert lows[0] > lows[-1]


def test_a_seal_that_may_be_the_most_worn_counts_though_another_limits_the_middle() -> None:
    whole = unknown_since(6, places=1)  # the case back alone
    wears = standing.wear_of(whole, PRACTICE, TODAY)
    assert max(wears, key=lambda w: w.wear_share).seal.position != "case-back"
    assert max(wears, key=lambda w: w.share_at_the_earliest).seal.position == "case-back"
    found = outlook(whole)
    assert found is not None
    assert found.low < plain(whole).low


def test_what_a_seal_wore_before_a_pass_stays_before_it() -> None:
    """A pass last week says as much of an old seal as of a young one: hardly a week was added since."""
    passed_now = unknown_since(6, passed(TODAY - 7 * ONE_DAY, id=1))
    found = outlook(passed_now)
    assert found is not None
    assert found.low > 0.95
    assert found.low <= plain(passed_now).low


def test_a_known_fitting_leaves_the_band_as_it_is() -> None:
    assert outlook(record(passed(id=1))) == plain(record(passed(id=1)))
