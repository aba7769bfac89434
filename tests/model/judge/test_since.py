"""What happened since the last pass: the period, the seal, the two parts, and that they add up."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.model.judge import since
from logbook.model.judge.since import Cost, Since, period_of, reckon
from logbook.model.values import CHANNELS, Exposure, Shares, WatchRecord
from logbook.model.wear import charge
from tests.model.builders import (
    FITTED,
    ONE_DAY,
    PRACTICE,
    TESTED,
    TODAY,
    charged,
    event,
    exposure,
    passed,
    record,
    seal,
    seals,
    untested,
    wear_on,
)


def happened(whole: WatchRecord, water: Sequence[Exposure] = (), asked: date | None = None) -> Since:
    """What happened, the ledger being the charges of these exposures."""
    numbered = [replace(e, id=n) for n, e in enumerate(water, start=1)]
    charges = charge.charge_exposures(whole, numbered, PRACTICE)

    def found(seal_id: int, first: date | None, last: date | None) -> list[Cost]:
        return [
            Cost(e, charges[e.id or 0][seal_id].shares)
            for e in numbered
            if (first is None or first <= e.starts_on)
            and (last is None or e.starts_on <= last)
            and seal_id in charges[e.id or 0]
            and charges[e.id or 0][seal_id].counted
        ]

    def sums(seal_id: int, first: date | None, last: date | None) -> Shares:
        total = Shares()
        for cost in found(seal_id, first, last):
            total = total.plus(cost.shares)
        return total

    def dearest(seal_id: int, first: date, last: date) -> list[Cost]:
        return sorted(found(seal_id, first, last), key=lambda c: -c.shares.total)[: since.HARDEST]

    told = reckon(whole, period_of(whole, PRACTICE, TODAY, asked), PRACTICE, sums, dearest)
    assert told is not None
    return told


def test_it_begins_at_the_last_passed_test_and_ends_today_without_trouble() -> None:
    period = period_of(record(passed(date(2024, 3, 1)), passed(TESTED)), PRACTICE, TODAY)
    assert (period.start, period.beginning, period.end, period.trouble) == (
        TESTED, "passed test", TODAY, None,
    )  # fmt: skip


@pytest.mark.parametrize("kind", ["fog", "water-inside", "crystal-damaged"])
def test_it_ends_at_the_first_trouble_that_stands(kind: str) -> None:
    fault = event(kind, date(2024, 8, 1))  # type: ignore[arg-type]
    period = period_of(record(passed(), fault, event("water-inside", date(2024, 8, 20))), PRACTICE, TODAY)
    assert (period.end, period.trouble) == (date(2024, 8, 1), fault)


def test_a_failed_test_ends_it() -> None:
    failed = passed(date(2024, 8, 1))
    failed = replace(failed, passed=False)
    assert period_of(record(passed(), failed), PRACTICE, TODAY).trouble == failed


def test_damage_before_the_last_pass_stands_but_ends_nothing() -> None:
    period = period_of(record(event("crystal-damaged", date(2024, 3, 1)), passed()), PRACTICE, TODAY)
    assert (period.start, period.end, period.trouble) == (TESTED, TODAY, None)


def test_a_pass_after_the_fog_and_an_opening_begins_anew() -> None:
    told = [event("fog", date(2024, 7, 1)), event("opened", date(2024, 7, 8)), passed(date(2024, 8, 1))]
    period = period_of(record(passed(), *told), PRACTICE, TODAY)
    assert (period.start, period.trouble) == (date(2024, 8, 1), None)


def test_water_that_a_later_pass_does_not_answer_stands_and_ends_nothing() -> None:
    """Passed again and never opened: it stands, and what came after that pass ends today."""
    told = [event("water-inside", date(2024, 7, 1)), passed(date(2024, 8, 1))]
    period = period_of(record(passed(), *told), PRACTICE, TODAY)
    assert (period.start, period.end, period.trouble) == (date(2024, 8, 1), TODAY, None)


def test_an_opening_or_a_knock_is_no_trouble_that_ends_it() -> None:
    for kind in ("battery", "knock"):
        period = period_of(record(passed(), event(kind, date(2024, 7, 1))), PRACTICE, TODAY)
        assert (period.end, period.trouble) == (TODAY, None)


def test_the_makers_test_counts_and_is_named() -> None:
    period = period_of(untested(new_on=FITTED), PRACTICE, TODAY)
    assert (period.start, period.beginning) == (FITTED, "maker’s test")


def test_without_any_pass_it_begins_when_the_seal_was_fitted() -> None:
    told = happened(untested())
    assert (told.period.start, told.period.beginning) == (FITTED, "fitting")


def test_a_day_that_is_asked_for_wins() -> None:
    told = happened(record(), asked=date(2024, 8, 1))
    assert (told.period.start, told.period.beginning) == (date(2024, 8, 1), "asked")


def test_a_seal_fitted_after_the_pass_begins_at_its_fitting() -> None:
    late = date(2024, 7, 1)
    told = happened(record(passed(), seals=(seal(fitted=late),)))
    assert (told.period.start, told.period.beginning) == (late, "fitting")
    assert told.shares.total == pytest.approx(wear_on(record(seals=(seal(fitted=late),)), TODAY).wear_share)


@pytest.mark.parametrize(
    ("order", "counts"), [(40, True), (60, False)], ids=["test before water", "test after water"]
)
def test_the_water_of_the_tests_own_day_lies_after_it_as_its_order_says(order: int, counts: bool) -> None:
    told = happened(record(passed(order=order)), [exposure(starts_on=TESTED)])
    assert bool(told.hardest) is counts


@pytest.mark.parametrize(
    ("kind", "counts"), [("fog", True), ("condensation-test", False)], ids=["fault", "failed test"]
)
def test_the_water_of_the_troubles_own_day_comes_before_a_fault_and_after_a_test(
    kind: str, counts: bool
) -> None:
    on = date(2024, 8, 1)
    passed_ = False if kind == "condensation-test" else None
    trouble = event(kind, on, passed=passed_)  # type: ignore[arg-type]
    told = happened(record(passed(), trouble), [exposure(starts_on=on)])
    assert bool(told.hardest) is counts


def test_the_hardest_exposures_come_first_and_are_few() -> None:
    dives = [exposure(starts_on=TESTED + n * 3 * ONE_DAY, depth_m=5.0 + 3 * n) for n in range(1, 9)]
    told = happened(record(), dives)
    shares = [cost.shares.total for cost in told.hardest]
    assert len(shares) == since.HARDEST
    assert shares == sorted(shares, reverse=True)
    assert told.hardest[0].exposure.depth_m == 29.0


def test_an_unrinsed_dive_shows_as_salt() -> None:
    dives = [
        exposure(starts_on=TESTED + n * ONE_DAY, duration_s=4 * 3600, rinsed=False) for n in range(3, 30, 3)
    ]
    told = happened(record(), dives)
    assert told.by_channel[0][0] == "salt"
    assert [share for _, share in told.by_channel] == sorted(told.shares.as_tuple(), reverse=True)
    assert {name for name, _ in told.by_channel} == {*CHANNELS}


@given(st.integers(1, 240), st.lists(st.integers(0, 240), max_size=6))
def test_two_stretches_of_time_add_up_to_the_account(cut: int, days: list[int]) -> None:
    whole = record()
    water = [exposure(starts_on=FITTED + ONE_DAY + timedelta(days=d), activity="dive") for d in days]
    at = FITTED + timedelta(days=cut)
    numbered = [replace(e, id=n) for n, e in enumerate(water, start=1)]
    fogged = replace(whole, events=(event("fog", at, order=0),))  # before that day's water
    before = happened(fogged, water, asked=FITTED)
    after = happened(whole, water, asked=at)
    assert before.seal == after.seal
    account = wear_on(charged(whole, numbered), TODAY, after.seal)
    assert before.shares.plus(after.shares).as_tuple() == pytest.approx(account.shares.as_tuple(), abs=1e-12)


def test_what_is_assumed_of_the_time_before_the_log_is_told_apart() -> None:
    told = happened(untested(recorded_from=TESTED))
    assert 0 < told.assumed.total < told.by_the_clock.total
    assert happened(untested(recorded_from=TESTED), asked=TESTED).assumed.total == 0


def test_the_seal_is_the_one_that_limited_the_watch_when_it_happened() -> None:
    old, new = seal("case-back", id=1), seal("case-back", fitted=date(2024, 8, 20), event_id=9, id=2)
    fog = event("fog", date(2024, 8, 1))
    told = happened(record(passed(), fog, seals=(old, new)))
    assert told.seal == old


def test_without_a_seal_there_is_nothing_to_tell() -> None:
    whole = record(seals=())
    assert (
        reckon(whole, period_of(whole, PRACTICE, TODAY), PRACTICE, lambda *_: Shares(), lambda *_: []) is None
    )


def test_a_worn_seal_limits_before_a_fresh_one() -> None:
    told = happened(record(seals=seals()), [exposure(starts_on=TESTED + ONE_DAY, rinsed=False)])
    assert told.seal.position == "crown"
