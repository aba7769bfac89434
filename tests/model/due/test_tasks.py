"""What is due and when: stages, anchors, at once, snoozing, gaskets, identities, and every month-end."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.model.due import tasks as due
from logbook.model.due.tasks import DueItem
from logbook.model.judge import standing
from logbook.model.values import DAY_ORDER, Event, Shares, WatchRecord
from tests.effort import tries
from tests.model.builders import (
    FITTED,
    ONE_DAY,
    PRACTICE,
    TESTED,
    TODAY,
    codes,
    event,
    passed,
    record,
    seal,
    seals,
    stops,
    untested,
)


def items(whole: WatchRecord, on: date = TODAY) -> dict[str, DueItem]:
    """Task -> its item."""
    return {item.task: item for item in standing.stand(whole, PRACTICE, on).due}


def pressure_test(whole: WatchRecord, on: date = TODAY) -> DueItem:
    return items(whole, on)["pressure-test"]


# ---------------------------------------------------------------- month arithmetic

DAYS_IN_MONTH = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)


def months_later(day: date, months: int) -> date:
    """An oracle of its own: count months from year 0, then step back to the last day the month has."""
    count = day.year * 12 + (day.month - 1) + months
    year, month = divmod(count, 12)
    leap = year % 4 == 0 and (year % 100 != 0 or year % 400 == 0)
    last = DAYS_IN_MONTH[month] + (1 if leap and month == 1 else 0)
    return date(year, month + 1, min(day.day, last))


def all_days() -> Iterator[date]:
    day = date(2020, 1, 1)
    while day <= date(2031, 12, 31):
        yield day
        day += ONE_DAY


def is_month_end(day: date) -> bool:
    return (day + ONE_DAY).month != day.month


def due_of_strap(anchor: date, months: int) -> DueItem:
    whole = record(event("strap", anchor), intervals_months={"strap": months}, added_on=date(2019, 1, 1))
    return items(whole, date(2032, 1, 1))["strap"]


@pytest.mark.parametrize(
    ("anchor", "months", "expected"),
    [
        (date(2024, 1, 31), 1, date(2024, 2, 29)),
        (date(2023, 1, 31), 1, date(2023, 2, 28)),
        (date(2024, 2, 29), 12, date(2025, 2, 28)),
        (date(2024, 2, 29), 48, date(2028, 2, 29)),
        (date(2024, 8, 31), 18, date(2026, 2, 28)),
        (date(2024, 12, 31), 2, date(2025, 2, 28)),
        (date(2024, 3, 31), 1, date(2024, 4, 30)),
        (date(2024, 5, 15), 7, date(2024, 12, 15)),
        (date(2024, 5, 31), -3, date(2024, 2, 29)),
    ],
)
def test_months_are_counted_from_the_anchor_and_end_with_the_month(
    anchor: date, months: int, expected: date
) -> None:
    assert due.months_after(anchor, months) == expected
    assert months_later(anchor, months) == expected


def test_every_month_end_and_leap_day_agrees_with_an_oracle_of_its_own() -> None:
    ends = [d for d in all_days() if is_month_end(d)]
    assert date(2024, 2, 29) in ends
    for anchor in ends:
        for months in range(1, 61):
            assert due.months_after(anchor, months) == months_later(anchor, months)


def test_a_stride_through_all_anchors_and_intervals_is_due_when_the_oracle_says() -> None:
    """Every 97th of the 263 000 pairs, through the whole due list; 97 divides no cycle of a calendar."""
    pairs = [(anchor, months) for anchor in all_days() for months in range(1, 61)]
    assert len(pairs) == 4383 * 60
    for anchor, months in pairs[::97]:
        item = due_of_strap(anchor, months)
        assert (item.anchor, item.due) == (anchor, months_later(anchor, months))


@pytest.mark.release
def test_all_anchors_and_intervals_are_due_when_the_oracle_says() -> None:
    for anchor in all_days():
        for months in range(1, 61):
            assert due.months_after(anchor, months) == months_later(anchor, months)
            assert due_of_strap(anchor, months).due == months_later(anchor, months)


# ---------------------------------------------------------------- stages


@pytest.mark.parametrize(
    ("days_before", "stage"),
    [(360, "later"), (31, "later"), (30, "coming up"), (1, "coming up"), (0, "due"), (-13, "due"),
     (-14, "overdue"), (-900, "overdue")],
)  # fmt: skip
def test_a_stage_begins_on_its_day(days_before: int, stage: str) -> None:
    at = date(2025, 6, 1)
    assert due.stage_of(at, at - days_before * ONE_DAY, PRACTICE) == stage
    item = pressure_test(record(passed(date(2024, 6, 1))), at - days_before * ONE_DAY)
    assert (item.due, item.stage) == (at, stage)


@given(at=st.dates(date(2020, 1, 1), date(2030, 1, 1)), first=st.integers(-60, 60), later=st.integers(0, 60))
def test_a_stage_never_goes_back_as_days_go_by(at: date, first: int, later: int) -> None:
    now, then = (due.stage_of(at, at + n * ONE_DAY, PRACTICE) for n in (first, first + later))
    assert due.STAGES.index(then) >= due.STAGES.index(now)


# ---------------------------------------------------------------- pressure test


@pytest.mark.parametrize(("use", "months"), [("diving", 12), ("swimming", 12), ("dry", 36)])
def test_a_pressure_test_counts_from_the_last_pass_by_the_stated_use(use: str, months: int) -> None:
    item = pressure_test(record(passed(TESTED), use=use))
    assert (item.anchor, item.due) == (TESTED, months_later(TESTED, months))
    assert item.interval_months == months
    assert (item.earliest, item.latest) == (months_later(item.due, -3), item.due)


def test_the_owners_interval_counts_and_is_told() -> None:
    item = pressure_test(record(passed(TESTED), intervals_months={"pressure-test": 9}))
    assert (item.due, item.interval_months) == (date(2025, 3, 1), 9)
    assert item.why == "9 months after the last test passed at 10 bar or more"


@pytest.mark.parametrize(("use", "most", "bar"), [("diving", 12, 10), ("swimming", 24, 3), ("dry", 60, 1)])
def test_a_longer_interval_of_the_owners_counts_up_to_the_most_of_its_use_and_both_are_named(
    use: str, most: int, bar: int
) -> None:
    """Most months: common practice, no source."""
    at_most = pressure_test(record(passed(TESTED), use=use, intervals_months={"pressure-test": most}))
    assert (at_most.due, at_most.why) == (
        months_later(TESTED, most),
        f"{most} months after the last test passed at {bar} bar or more",
    )
    longer = pressure_test(record(passed(TESTED), use=use, intervals_months={"pressure-test": most + 6}))
    assert (longer.due, longer.interval_months) == (months_later(TESTED, most), most)
    assert longer.why == (
        f"{most} months after the last test passed at {bar} bar or more; "
        f"of your {most + 6} months, only {most} count for {use}"
    )


def test_a_watch_without_a_mark_has_no_pressure_test_unless_its_owner_set_one() -> None:
    plain = untested(mark="unmarked", marked_pa=None, use="dry")
    assert "pressure-test" not in items(plain)
    opened = replace(plain, events=(event("battery", TODAY - ONE_DAY, id=2),))
    assert "pressure-test" not in items(opened)
    own = untested(mark="unmarked", marked_pa=None, use="dry", intervals_months={"pressure-test": 24})
    assert items(own)["pressure-test"].interval_months == 24


@pytest.mark.parametrize(
    "trouble", [event("fog", TODAY, id=3), event("pressure-test", TODAY, passed=False, id=3)]
)
def test_a_fault_on_a_watch_without_a_mark_is_on_the_list(trouble: Event) -> None:
    whole = replace(untested(mark="unmarked", marked_pa=None, use="dry"), events=(trouble,))
    assert items(whole)["pressure-test"].stage == "due"


def test_a_failed_or_a_condensation_test_is_no_anchor() -> None:
    whole = record(passed(TESTED), event("condensation-test", TESTED + 20 * ONE_DAY, passed=True))
    assert pressure_test(whole).anchor == TESTED


def test_the_makers_test_is_an_anchor_for_a_divers_watch() -> None:
    item = pressure_test(untested(new_on=FITTED))
    assert (item.anchor, item.due) == (FITTED, date(2025, 1, 1))
    assert "maker" in item.why


@pytest.mark.parametrize(
    "kind",
    ["battery", "opened", "gaskets", "movement", "fog", "water-inside", "crown-damaged", "crystal-damaged"],
)
def test_what_asks_for_a_test_asks_at_once(kind: Any) -> None:
    on = date(2024, 8, 1)
    item = pressure_test(record(passed(TESTED), event(kind, on)))
    assert (item.anchor, item.due, item.stage) == (on, on, "overdue")
    assert pressure_test(record(passed(TESTED), event(kind, on)), on).stage == "due"


def test_a_failed_test_asks_for_the_next_at_once() -> None:
    on = date(2024, 8, 30)
    item = pressure_test(record(passed(TESTED), event("pressure-test", on, passed=False)))
    assert (item.anchor, item.due, item.stage, item.why) == (on, on, "due", "a test failed, 30 Aug 2024")


def test_a_failed_condensation_test_asks_for_a_pressure_test_at_once() -> None:
    on = date(2024, 8, 30)
    item = pressure_test(record(passed(TESTED), event("condensation-test", on, passed=False)))
    assert (item.due, item.why) == (on, "a condensation test failed, 30 Aug 2024")


def test_a_clock_that_is_behind_puts_off_nothing_that_is_on_record() -> None:
    """Fog on record, the machine's clock set back: it is due on the day that the clock says."""
    whole = record(passed(), event("fog"))
    early = TESTED - 400 * ONE_DAY
    item = pressure_test(whole, early)
    assert (item.due, item.stage, item.anchor) == (early, "due", TESTED + ONE_DAY)


def test_the_first_of_two_openings_is_the_anchor() -> None:
    first, second = date(2024, 7, 1), date(2024, 8, 1)
    assert (
        pressure_test(record(passed(TESTED), event("battery", second), event("opened", first))).anchor
        == first
    )


def test_a_watch_that_was_never_tested_is_asked_for_from_the_day_it_was_added() -> None:
    item = pressure_test(untested(added_on=date(2024, 8, 30)))
    assert (item.anchor, item.due, item.stage) == (date(2024, 8, 30), date(2024, 8, 30), "due")


def test_a_pass_sets_the_anchor_anew() -> None:
    item = pressure_test(record(passed(TESTED), event("battery", date(2024, 8, 1)), passed(date(2024, 8, 1))))
    assert (item.anchor, item.due) == (date(2024, 8, 1), date(2025, 8, 1))


def test_the_due_list_and_the_stop_rule_speak_from_the_same_day() -> None:
    whole = record(passed(date(2023, 9, 3)))
    for on, speaks in ((date(2024, 9, 2), False), (date(2024, 9, 3), True)):
        assert (pressure_test(whole, on).stage == "due") == speaks
        assert ("test-overdue" in codes(stops(whole, on))) == speaks


# ---------------------------------------------------------------- gaskets


def test_the_gaskets_of_a_watch_are_one_task() -> None:
    whole = record()
    tasks = [i.task for i in standing.stand(whole, PRACTICE, TODAY).due]
    assert tasks.count("gaskets") == 1
    item = items(whole)["gaskets"]
    assert (item.anchor, item.due) == (FITTED, date(2027, 1, 1))
    assert item.earliest == date(2026, 7, 1)
    assert item.latest == item.due


@pytest.mark.parametrize("first", ["case-back", "crystal", "crown"])
def test_the_seal_that_decides_is_named(first: Any) -> None:
    others = [s for s in seals(fitted=date(2024, 7, 1)) if s.position != first]
    item = items(record(seals=(seal(first, fitted=FITTED, id=9), *others)))["gaskets"]
    assert (item.position, item.anchor, item.due) == (first, FITTED, date(2027, 1, 1))
    assert item.why == f"{first.replace('-', ' ')} seal: 36 months after it was fitted"


def test_its_identity_is_of_the_oldest_fitting_whichever_seal_decides() -> None:
    """A young seal that wears fast decides, then an old one again: one task all the while."""
    young = seal("crown", fitted=date(2024, 7, 1), id=9)
    whole = record(seals=(*seals()[:2], young))
    worn = replace(whole, totals={9: Shares(salt=1.5)})
    assert items(whole)["gaskets"].position != "crown"
    assert items(worn)["gaskets"].position == "crown"
    assert items(whole)["gaskets"].id == "1:gaskets:2024-01-01"
    assert items(worn)["gaskets"].id == "1:gaskets:2024-01-01:used-up"


def test_a_long_interval_ends_at_the_storage_class() -> None:
    whole = record(seals=(seal(material="NR"),), intervals_months={"gaskets": 120})
    item = items(whole)["gaskets"]
    assert item.due == date(2029, 1, 1)
    assert "storage age" in item.why


def test_gaskets_of_an_unknown_date_count_from_the_earliest() -> None:
    open_dates = (seal(fitted=date(2020, 1, 1), latest=FITTED),)
    whole = record(seals=open_dates, intervals_months={"gaskets": 120}, use="dry", worn_h=0.0)
    item = items(whole)["gaskets"]
    assert (item.anchor, item.due) == (date(2020, 1, 1), date(2027, 1, 1))


def test_a_used_up_interval_was_due_when_its_average_pace_reached_one() -> None:
    """Two intervals in 244 days: due after 122."""
    fitted = FITTED
    on = fitted + timedelta(days=244)
    still = record(seals=(seal(fitted=fitted),), worn_h=0.0, winds=0.0)
    worn = standing.wear_of(still, PRACTICE, on)[0].wear_share
    item = items(replace(still, totals={1: Shares(salt=2.0 - worn)}), on)["gaskets"]
    assert item.due == fitted + timedelta(days=122)
    assert item.stage == "overdue"
    assert "used up" in item.why


def test_gaskets_are_due_as_used_up_at_the_best_estimate_as_their_stop_rule_speaks() -> None:
    """From the middle of the days on which they may have been fitted, not from the earliest of them."""
    on = date(2024, 9, 2)
    open_dates = seal(fitted=date(2023, 1, 1), latest=date(2024, 9, 1))
    still = record(seals=(open_dates,), recorded_from=date(2023, 1, 1), totals={1: Shares(salt=0.8)})
    worn = standing.wear_of(still, PRACTICE, on)[0]
    assert worn.wear_share < 1 < worn.history_high
    assert "used-up" not in codes(stops(still, on))
    assert "used up" not in items(still, on)["gaskets"].why
    more = replace(still, totals={1: Shares(salt=1.2)})
    assert "used-up" in codes(stops(more, on))
    item = items(more, on)["gaskets"]
    assert item.stage in ("due", "overdue")
    assert "used up" in item.why


def test_an_interval_that_is_not_used_up_leaves_the_date_alone() -> None:
    still = record(seals=(seal(fitted=TODAY),), worn_h=0.0, winds=0.0)
    for share, date_ in ((0.999, date(2027, 9, 2)), (1.0, TODAY)):
        assert items(replace(still, totals={1: Shares(salt=share)}))["gaskets"].due == date_


@pytest.mark.parametrize(
    ("off_days", "kept"), [(0, True), (9, True), (-9, True), (21, True), (22, False), (-40, False)]
)
def test_a_date_that_was_told_stays_unless_the_news_is_more_than_three_weeks(
    off_days: int, kept: bool
) -> None:
    """What was said in a notice and a calendar does not wander; a new date is told when it is news."""
    plain = record(seals=(seal(),))
    fresh = items(plain)["gaskets"]
    told_on = fresh.due + timedelta(days=off_days)
    item = items(replace(plain, named={fresh.id: told_on}))["gaskets"]
    assert item.due == (told_on if kept else fresh.due)
    assert item.stage == due.stage_of(item.due, TODAY, PRACTICE)


def test_new_gaskets_know_nothing_of_the_date_told_for_the_old_ones() -> None:
    plain = record(seals=(seal(),))
    told = items(plain)["gaskets"]
    fresh = seal("crown", fitted=date(2024, 8, 1), id=9)
    whole = replace(plain, seals=(*plain.seals, fresh), named={told.id: told.due})
    assert items(whole)["gaskets"].due == date(2027, 8, 1)


def test_of_gaskets_replaced_one_by_one_the_oldest_decides() -> None:
    on = date(2024, 8, 1)
    fitted = (*seals(), seal("crown", fitted=on, id=9))
    assert items(record(seals=fitted))["gaskets"].due == date(2027, 1, 1)
    every = [seal(s.position, fitted=on, id=10 + n) for n, s in enumerate(seals())]
    assert items(record(seals=(*seals(), *every)))["gaskets"].due == date(2027, 8, 1)


# ---------------------------------------------------------------- gaskets, what was said of each seal before


def former(position: str, fitted: date = FITTED, mark: str = "") -> str:
    """The id that the task of one seal had."""
    return f"1:gaskets:{position}:{fitted}{mark}"


def test_a_snooze_of_any_seal_silences_the_gaskets_for_as_long_as_the_longest() -> None:
    short, long = TODAY + 30 * ONE_DAY, TODAY + 60 * ONE_DAY
    whole = record(snoozed={former("crown"): short, former("crystal"): long})
    assert items(whole)["gaskets"].snoozed_until == long
    again = replace(whole, snoozed={**whole.snoozed, "1:gaskets:2024-01-01": short})
    assert items(again)["gaskets"].snoozed_until == short


def test_a_snooze_of_a_seal_that_was_replaced_since_silences_nothing() -> None:
    whole = record(snoozed={former("crown", date(2020, 1, 1)): TODAY + 60 * ONE_DAY})
    assert items(whole)["gaskets"].snoozed_until is None


def test_used_up_gaskets_wake_from_a_snooze_of_before_unless_that_was_of_a_used_up_seal() -> None:
    until = TODAY + 60 * ONE_DAY
    worn = record(totals={seals()[0].id or 0: Shares(salt=2.0)})
    place = seals()[0].position
    plain = replace(worn, snoozed={former(each.position): until for each in seals()})
    assert items(plain)["gaskets"].snoozed_until is None
    marked = replace(worn, snoozed={former(place, mark=":used-up"): until})
    assert items(marked)["gaskets"].snoozed_until == until


def test_a_date_that_was_told_of_one_seal_stays_the_date_of_the_gaskets() -> None:
    plain = record()
    fresh = items(plain)["gaskets"].due
    told_on = fresh - 9 * ONE_DAY
    far = fresh - 100 * ONE_DAY
    for position in ("crown", "crystal", "case-back"):
        assert items(replace(plain, named={former(position): told_on}))["gaskets"].due == told_on
        assert items(replace(plain, named={former(position): far}))["gaskets"].due == fresh


# ---------------------------------------------------------------- services


def test_a_quartz_watch_has_a_battery_and_a_mechanical_one_a_movement() -> None:
    assert "battery" in items(record(movement="quartz"))
    assert "movement" not in items(record(movement="quartz"))
    assert "movement" in items(record(movement="mechanical"))
    assert "battery" not in items(record(movement="mechanical"))


@pytest.mark.parametrize(
    ("task", "months", "earliest", "latest", "movement"),
    [
        ("battery", 30, -6, 6, "quartz"),
        ("movement", 60, -12, 24, "mechanical"),
        ("strap", 24, -6, 3, "quartz"),
    ],
)
def test_a_service_counts_from_the_last_and_may_be_drawn(
    task: Any, months: int, earliest: int, latest: int, movement: str
) -> None:
    on = date(2024, 3, 31)
    whole = record(event(task, on - ONE_DAY), event(task, on), passed(TESTED), movement=movement)
    item = items(whole)[task]
    assert (item.anchor, item.due) == (on, months_later(on, months))
    # Counted from the anchor, never chained from the date, which would lose the 31st.
    assert (item.earliest, item.latest) == (
        months_later(on, months + earliest),
        months_later(on, months + latest),
    )
    assert item.interval_months == months


def test_without_an_earlier_service_the_day_the_watch_came_is_the_anchor() -> None:
    added, bought, new = date(2024, 1, 1), date(2023, 5, 5), date(2022, 2, 2)
    assert items(record(added_on=added))["strap"].anchor == added
    assert items(record(added_on=added, bought_on=bought))["strap"].anchor == bought
    assert items(record(added_on=added, bought_on=bought, new_on=new))["strap"].anchor == new
    assert "no strap change on record" in items(record())["strap"].why


def test_a_service_that_lies_ahead_does_not_count_yet() -> None:
    whole = record(event("strap", TODAY + ONE_DAY), passed())
    assert items(whole)["strap"].anchor == FITTED


# ---------------------------------------------------------------- identity, order, snoozing


def test_an_items_identity_is_watch_task_and_anchor() -> None:
    found = items(record(id=7))
    assert found["pressure-test"].id == "7:pressure-test:2024-06-01"
    assert found["gaskets"].id == "7:gaskets:2024-01-01"
    assert found["strap"].id == "7:strap:2024-01-01"


def test_an_identity_stays_while_days_go_by_and_changes_with_its_anchor() -> None:
    whole = record(passed(TESTED))
    assert {pressure_test(whole, TODAY + n * ONE_DAY).id for n in range(0, 800, 50)} == {
        "1:pressure-test:2024-06-01"
    }
    assert pressure_test(record(passed(TESTED), passed(TODAY))).id == "1:pressure-test:2024-09-02"


def test_no_two_items_of_a_watch_have_one_identity() -> None:
    whole = record(movement="quartz", pushers=True, gas_valve=True)
    whole = replace(whole, seals=(*seals(), seal("pushers", id=4), seal("gas-valve", id=5)))
    found = standing.stand(whole, PRACTICE, TODAY).due
    assert len({i.id for i in found}) == len(found) == 4


def test_items_come_soonest_first() -> None:
    found = standing.stand(record(movement="quartz"), PRACTICE, TODAY).due
    assert [i.due for i in found] == sorted(i.due for i in found)


def test_a_retired_watch_is_asked_for_nothing() -> None:
    assert standing.stand(record(retired_on=TODAY), PRACTICE, TODAY).due == ()


def test_only_what_is_near_asks() -> None:
    whole = record(passed(date(2023, 9, 20)))
    asked = due.asks_now(standing.stand(whole, PRACTICE, TODAY).due, TODAY)
    assert [(i.task, i.stage) for i in asked] == [("pressure-test", "coming up")]


def test_a_snooze_silences_until_its_date_and_is_shown() -> None:
    until = TODAY + 5 * ONE_DAY
    whole = record(passed(date(2023, 9, 1)), snoozed={"1:pressure-test:2023-09-01": until})
    for on, asks in ((TODAY, False), (until - ONE_DAY, False), (until, True)):
        found = standing.stand(whole, PRACTICE, on).due
        assert (len(due.asks_now(found, on)) == 1) == asks
    assert pressure_test(whole).snoozed_until == until


def test_a_snooze_of_an_earlier_anchor_does_not_silence_the_next() -> None:
    whole = record(passed(date(2023, 9, 1)), snoozed={"1:pressure-test:2022-09-01": date(2030, 1, 1)})
    assert len(due.asks_now(standing.stand(whole, PRACTICE, TODAY).due, TODAY)) == 1


def test_a_snooze_of_an_untested_opening_does_not_silence_the_fog_that_comes_after_it() -> None:
    opened, fog = event("battery", TODAY - 20 * ONE_DAY, id=2), event("fog", TODAY - ONE_DAY, id=3)
    before = record(passed(id=1), opened)
    silenced = {pressure_test(before).id: TODAY + 90 * ONE_DAY}
    assert due.asks_now([pressure_test(replace(before, snoozed=silenced))], TODAY) == []
    item = pressure_test(replace(before, snoozed=silenced, events=(*before.events, fog)))
    assert due.asks_now([item], TODAY) == [item]
    assert item.due == opened.on
    assert "fog" in item.why


def test_a_snooze_lifts_no_stop_rule() -> None:
    whole = record(passed(date(2023, 9, 1)), snoozed={"1:pressure-test:2023-09-01": date(2030, 1, 1)})
    assert codes(stops(whole)) == ["test-overdue"]


@pytest.mark.parametrize(
    ("key", "words"),
    [("pressure-test", "pressure test"), ("gaskets", "gaskets"), ("battery", "battery"),
     ("strap", "strap and bars")],
)  # fmt: skip
def test_a_task_is_named_in_words(key: str, words: str) -> None:
    assert items(record(movement="quartz"))[key].label == words


@given(anchor=st.dates(date(2015, 1, 1), date(2035, 12, 31)), months=st.integers(1, 60))
@settings(max_examples=tries(200))
def test_an_item_is_due_after_its_anchor_by_its_months(anchor: date, months: int) -> None:
    whole = record(passed(anchor), use="dry", intervals_months={"pressure-test": months})
    item = pressure_test(whole, anchor)
    assert item.due == months_later(anchor, months)
    assert item.anchor < item.due


def test_a_watch_without_a_passed_test_is_due_one_from_the_day_it_was_added() -> None:
    bought = FITTED - 400 * ONE_DAY
    item = pressure_test(untested(mark="water-resistant", bought_on=bought, new_on=bought))
    assert (item.anchor, item.due) == (FITTED, FITTED)


OPENED = event("opened", date(2024, 8, 1), id=4)
SILENT = TODAY + 90 * ONE_DAY


def snoozed_then(*before: Event, then: Event) -> DueItem:
    """The pressure test of a watch whose item was snoozed for a season before something more was logged."""
    first = pressure_test(record(passed(TESTED, id=1), *before))
    return pressure_test(record(passed(TESTED, id=1), *before, then, snoozed={first.id: SILENT}))


@pytest.mark.parametrize("kind", ["fog", "water-inside", "crown-damaged", "crystal-damaged"])
@pytest.mark.parametrize("on", [date(2024, 7, 1), OPENED.on, date(2024, 8, 20)])
def test_a_fault_never_falls_under_an_earlier_snooze(kind: Any, on: date) -> None:
    """On the day of an opening that was snoozed, before it and after it."""
    assert snoozed_then(OPENED, then=event(kind, on, id=5)).snoozed_until is None


def test_a_second_fault_of_a_kind_and_a_failed_test_ask_though_the_first_was_snoozed() -> None:
    fog = event("fog", OPENED.on, id=5)
    assert snoozed_then(OPENED, fog, then=event("fog", OPENED.on, id=6)).snoozed_until is None
    failed = event("condensation-test", OPENED.on, id=6, passed=False)
    assert snoozed_then(OPENED, fog, then=failed).snoozed_until is None


def test_a_fault_that_was_snoozed_itself_stays_silent() -> None:
    whole = record(passed(TESTED, id=1), OPENED, event("fog", OPENED.on, id=5))
    item = pressure_test(whole)
    assert item.id == "1:pressure-test:2024-08-01:fog-5"
    assert pressure_test(replace(whole, snoozed={item.id: SILENT})).snoozed_until == SILENT


def test_an_opening_has_the_plain_identity_and_one_more_opening_is_no_other_item() -> None:
    """The owner who snoozed it knows that the case was opened and not tested since."""
    assert pressure_test(record(passed(TESTED, id=1), OPENED)).id == "1:pressure-test:2024-08-01"
    for on in (OPENED.on, date(2024, 8, 20)):
        assert snoozed_then(OPENED, then=event("battery", on, id=5)).snoozed_until == SILENT


def test_the_repair_of_damage_that_was_snoozed_is_no_other_news() -> None:
    damage, on = event("crown-damaged", date(2024, 8, 1), id=4), date(2024, 8, 20)
    repair = event("repaired", on, repaired="crown-damaged", id=5)
    assert snoozed_then(damage, then=repair).snoozed_until == SILENT
    other = event("repaired", on, repaired="crystal-damaged", id=5)
    assert snoozed_then(damage, then=other).snoozed_until is None


def test_an_opening_on_the_day_of_the_last_pass_is_not_under_the_snooze_of_its_next_test() -> None:
    later = event("opened", TESTED, id=5, order=DAY_ORDER["pressure-test"] + 1)
    assert snoozed_then(then=later).snoozed_until is None


def test_an_opening_on_the_day_the_watch_came_is_not_under_the_snooze_of_its_first_test() -> None:
    plain = untested()
    first = pressure_test(plain)
    opened = replace(plain, events=(event("opened", first.anchor, id=5),), snoozed={first.id: SILENT})
    assert pressure_test(opened).snoozed_until is None
