"""Each hour is spent once: overlaps, midnights, entries without a time, worn hours, whole days, zones."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.model.values import Exposure, WornStretch
from logbook.model.wear.charge import TOUCH_DAYS
from logbook.model.wear.clock import Spent, WornDays, spend
from tests.effort import tries
from tests.model.builders import ONE_DAY, at, exposure, stretch

MONDAY = date(2024, 7, 1)


def always(hours: float) -> Callable[[date], float]:
    return lambda day: hours


def spent(*exposures: Exposure, worn_h: float = 12.0, day_h: float = 24.0) -> list[Spent]:
    found = spend([replace(e, id=n) for n, e in enumerate(exposures, start=1)], always(worn_h), always(day_h))
    return [found[n] for n in range(1, len(exposures) + 1)]


def timed(hour: int, minute: int, minutes: float, on: date = MONDAY, **more: object) -> Exposure:
    given_ = {"starts_at": at(hour, minute), "utc_offset_s": 0, "duration_s": round(minutes * 60)}
    return exposure(starts_on=on, **(given_ | more))


def untimed(minutes: float, on: date = MONDAY) -> Exposure:
    return exposure(starts_on=on, duration_s=round(minutes * 60))


def test_an_exposure_takes_its_hours_off_the_wrist_first() -> None:
    assert spent(timed(9, 0, 90)) == [Spent(1.5, 0.0)]


def test_worn_hours_that_are_used_up_leave_the_rest_to_storage() -> None:
    assert spent(timed(9, 0, 180), worn_h=2) == [Spent(2.0, 1.0)]
    assert spent(timed(9, 0, 60), worn_h=0) == [Spent(0.0, 1.0)]


def test_worn_hours_of_a_day_are_shared_by_all_its_exposures() -> None:
    first, second = spent(timed(9, 0, 60), timed(15, 0, 60), worn_h=1.5)
    assert (first, second) == (Spent(1.0, 0.0), Spent(0.5, 0.5))


def test_overlapping_hours_count_once_and_belong_to_the_earlier_start() -> None:
    first, second = spent(timed(9, 0, 60), timed(9, 30, 60))
    assert (first.hours, second.hours) == (1.0, 0.5)


def test_the_order_of_entry_does_not_matter_to_an_overlap() -> None:
    late, early = spent(timed(9, 30, 60), timed(9, 0, 60))
    assert (early.hours, late.hours) == (1.0, 0.5)


def test_an_exposure_inside_another_takes_no_hour() -> None:
    assert [s.hours for s in spent(timed(9, 0, 120), timed(9, 30, 30))] == [2.0, 0.0]


def test_the_same_moment_entered_twice_is_spent_once() -> None:
    assert sum(s.hours for s in spent(timed(9, 0, 60), timed(9, 0, 60))) == 1.0


def test_an_overlap_across_a_gap_takes_only_what_is_free() -> None:
    """9–10 and 11–12 are taken; 9:30–11:30 finds one free hour."""
    found = spent(timed(9, 0, 60), timed(9, 30, 120), timed(11, 0, 60))
    assert [s.hours for s in found] == [1.0, 1.5, 0.5]
    assert sum(s.hours for s in found) == 3.0


def test_exposures_that_touch_do_not_overlap() -> None:
    assert [s.hours for s in spent(timed(9, 0, 60), timed(10, 0, 60))] == [1.0, 1.0]


def test_an_entry_without_a_time_overlaps_nothing() -> None:
    assert [s.hours for s in spent(untimed(60), untimed(60), timed(0, 0, 60))] == [1.0, 1.0, 1.0]


def test_crossing_midnight_takes_worn_hours_of_both_days() -> None:
    """22:00 to 02:00 with one worn hour a day: an hour off the wrist on each side."""
    assert spent(timed(22, 0, 240), worn_h=1) == [Spent(2.0, 2.0)]


def test_what_crosses_midnight_leaves_fewer_worn_hours_to_the_next_day() -> None:
    _, next_day = spent(timed(22, 0, 240), timed(9, 0, 60, on=MONDAY + ONE_DAY), worn_h=2)
    assert next_day == Spent(0.0, 1.0)


def test_overlap_is_seen_across_midnight() -> None:
    assert [s.hours for s in spent(timed(23, 0, 120), timed(0, 30, 60, on=MONDAY + ONE_DAY))] == [2.0, 0.5]


def test_two_days_without_a_break_are_forty_eight_hours_and_no_more() -> None:
    assert spent(timed(0, 0, 2880), worn_h=10) == [Spent(20.0, 28.0)]
    assert spent(timed(12, 0, 2880), worn_h=24)[0].hours == 48.0


def test_a_day_has_twenty_four_hours_however_much_is_entered() -> None:
    found = spent(untimed(900), untimed(900), untimed(900))
    assert [s.hours for s in found] == [15.0, 9.0, 0.0]
    assert sum(s.from_wrist_h for s in found) == 12.0


def test_repeated_exposures_leave_less_of_a_day() -> None:
    assert spent(untimed(600), worn_h=12, day_h=4) == [Spent(4.0, 0.0)]


def test_the_same_wall_clock_in_two_zones_is_not_the_same_moment() -> None:
    """10:00 in a zone two hours ahead is 08:00 in the other: an hour long, they do not meet."""
    east, west = timed(10, 0, 60, utc_offset_s=7200), timed(10, 0, 60, utc_offset_s=0)
    assert [s.hours for s in spent(east, west)] == [1.0, 1.0]


def test_one_moment_written_in_two_zones_is_spent_once() -> None:
    east, west = timed(12, 0, 60, utc_offset_s=7200), timed(10, 0, 60, utc_offset_s=0)
    assert sum(s.hours for s in spent(east, west)) == 1.0


@pytest.mark.parametrize(
    ("zone", "on"),
    [
        ("Europe/Berlin", date(2024, 10, 27)),
        ("America/New_York", date(2024, 11, 3)),
        ("Australia/Lord_Howe", date(2024, 4, 7)),
    ],
)
def test_the_hour_that_the_clocks_repeat_is_two_hours(zone: str, on: date) -> None:
    """The same civil time before and after the clocks go back; Lord Howe goes back by half an hour."""
    moments = [datetime(on.year, on.month, on.day, 1, 45, fold=f, tzinfo=ZoneInfo(zone)) for f in (0, 1)]
    if moments[0].utcoffset() == moments[1].utcoffset():
        moments = [m.replace(hour=2) for m in moments]
    offsets = [m.utcoffset() for m in moments]
    assert offsets[0] is not None
    assert offsets[1] is not None
    assert offsets[0] > offsets[1]
    first, second = (
        timed(m.hour, m.minute, 20, on=on, utc_offset_s=round(o.total_seconds()))
        for m, o in zip(moments, offsets, strict=True)
        if o is not None
    )
    assert sum(s.hours for s in spent(first, second)) == pytest.approx(40 / 60)
    assert sum(s.hours for s in spent(first, first)) == pytest.approx(20 / 60)


# ---------------------------------------------------------------- worn hours of a day


def test_without_a_stretch_the_watchs_own_habit_counts() -> None:
    assert WornDays(12.0, ()).hours_on(MONDAY) == 12.0


def test_a_stretch_holds_on_its_first_and_its_last_day() -> None:
    days = WornDays(12.0, [stretch(MONDAY, MONDAY + 2 * ONE_DAY, 3.0)])
    assert [days.hours_on(MONDAY + n * ONE_DAY) for n in (-1, 0, 2, 3)] == [12.0, 3.0, 3.0, 12.0]


def test_the_latest_entered_stretch_wins_where_two_cover_a_day() -> None:
    wide, narrow = (
        stretch(MONDAY, MONDAY + 9 * ONE_DAY, 3.0),
        stretch(MONDAY + ONE_DAY, MONDAY + ONE_DAY, 8.0),
    )
    after = WornDays(12.0, [wide, narrow])
    assert [after.hours_on(MONDAY + n * ONE_DAY) for n in (0, 1, 2)] == [3.0, 8.0, 3.0]
    assert WornDays(12.0, [narrow, wide]).hours_on(MONDAY + ONE_DAY) == 3.0


stretches = st.lists(
    st.builds(
        lambda first, length, hours: WornStretch(
            MONDAY + first * ONE_DAY, MONDAY + (first + length) * ONE_DAY, hours
        ),
        st.integers(-5, 30),
        st.integers(0, 20),
        st.floats(0, 24),
    ),
    max_size=12,
)


@given(entered=stretches)
def test_worn_hours_are_those_of_the_last_stretch_that_covers_the_day(entered: list[WornStretch]) -> None:
    days = WornDays(12.0, entered)
    for n in range(-7, 55):
        day = MONDAY + n * ONE_DAY
        covering = [s.hours for s in entered if s.from_on <= day <= s.to_on]
        assert days.hours_on(day) == (covering[-1] if covering else 12.0)


@given(entered=stretches, first=st.integers(-7, 30), length=st.integers(0, 40), cut=st.integers(-10, 60))
def test_runs_of_equal_days_cover_the_span_once_and_in_order(
    entered: list[WornStretch], first: int, length: int, cut: int
) -> None:
    days = WornDays(12.0, entered)
    start, end, at_cut = (MONDAY + n * ONE_DAY for n in (first, first + length, cut))
    runs = days.regimes(start, end, [at_cut])
    told = {b + n * ONE_DAY: hours for b, e, hours in runs for n in range((e - b).days)}
    assert told == {start + n * ONE_DAY: days.hours_on(start + n * ONE_DAY) for n in range(length)}
    assert sum((e - b).days for b, e, _ in runs) == length
    assert not any(b < at_cut < e for b, e, _ in runs)


# ---------------------------------------------------------------- properties


def exposures_in(zone_offsets: st.SearchStrategy[int], longest_min: int) -> st.SearchStrategy[list[Exposure]]:
    one = st.tuples(
        st.integers(0, 13),
        st.one_of(st.none(), st.integers(0, 1439)),
        st.integers(1, longest_min),
        zone_offsets,
    )
    return st.lists(one, max_size=14).map(
        lambda told: [
            exposure(
                id=n,
                starts_on=MONDAY + day * ONE_DAY,
                starts_at=None if minute is None else at(minute // 60, minute % 60),
                utc_offset_s=None if minute is None else offset,
                duration_s=length * 60,
            )
            for n, (day, minute, length, offset) in enumerate(told, start=1)
        ]
    )


def minutes_by_day(exposures: list[Exposure]) -> dict[date, float]:
    """Minutes of each day that are in some exposure, minute by minute, at most a day's."""
    taken: dict[date, set[int]] = {}
    loose: dict[date, int] = {}
    for e in exposures:
        first = 0 if e.starts_at is None else e.starts_at.hour * 60 + e.starts_at.minute
        for minute in range(first, first + e.duration_s // 60):
            day = e.starts_on + (minute // 1440) * ONE_DAY
            if e.starts_at is None:
                loose[day] = loose.get(day, 0) + 1
            else:
                taken.setdefault(day, set()).add(minute % 1440)
    return {
        day: min(1440, len(taken.get(day, ())) + loose.get(day, 0)) for day in {*taken, *loose}
    }  # fmt: skip


@given(exposures=exposures_in(st.just(0), 2880), worn_h=st.floats(0, 24))
@settings(max_examples=tries(60))
def test_all_hours_of_exposures_are_the_minutes_that_a_minute_by_minute_count_finds(
    exposures: list[Exposure], worn_h: float
) -> None:
    found = spend(exposures, always(worn_h), always(24.0))
    by_day = minutes_by_day(exposures)
    assert sum(s.hours for s in found.values()) == pytest.approx(sum(by_day.values()) / 60)
    off_the_wrist = sum(min(worn_h, minutes / 60) for minutes in by_day.values())
    assert sum(s.from_wrist_h for s in found.values()) == pytest.approx(off_the_wrist)


@given(exposures=exposures_in(st.sampled_from([7200, 3600]), 2880), worn_h=st.floats(0, 24))
@settings(max_examples=tries(60))
def test_hours_are_never_negative_nor_more_than_the_exposure_lasts(
    exposures: list[Exposure], worn_h: float
) -> None:
    found = spend(exposures, always(worn_h), always(24.0))
    for e in exposures:
        one = found[e.id or 0]
        assert min(one.from_wrist_h, one.from_storage_h) >= -1e-12
        assert one.hours <= e.duration_s / 3600 + 1e-9


def _window_agrees(exposures: list[Exposure], changed: date) -> None:
    def near(e: Exposure, days: int) -> bool:
        return abs((e.starts_on - changed).days) <= days

    def worn(day: date) -> float:
        return (day.toordinal() * 7) % 13

    whole = spend(exposures, worn, always(24.0))
    part = spend([e for e in exposures if near(e, 2 * TOUCH_DAYS)], worn, always(24.0))
    for e in exposures:
        if near(e, TOUCH_DAYS):
            assert part[e.id or 0].from_wrist_h == pytest.approx(whole[e.id or 0].from_wrist_h)
            assert part[e.id or 0].from_storage_h == pytest.approx(whole[e.id or 0].from_storage_h)


@given(exposures=exposures_in(st.sampled_from([7200, 3600]), 2880), changed=st.integers(0, 13))
@settings(max_examples=tries(150))
def test_twice_the_reach_around_a_change_tells_the_hours_within_it(
    exposures: list[Exposure], changed: int
) -> None:
    _window_agrees(exposures, MONDAY + changed * ONE_DAY)


@given(exposures=exposures_in(st.integers(-12, 14).map(lambda h: h * 3600), 2880), changed=st.integers(0, 13))
@settings(max_examples=tries(100))
def test_the_window_holds_for_a_traveller_across_the_date_line(
    exposures: list[Exposure], changed: int
) -> None:
    """Exposures of up to two days, each in any zone."""
    _window_agrees(exposures, MONDAY + changed * ONE_DAY)


@given(exposures=exposures_in(st.just(0), 2880), gone=st.integers(0, 13))
@settings(max_examples=tries(100))
def test_removing_an_exposure_changes_only_what_begins_within_reach(
    exposures: list[Exposure], gone: int
) -> None:
    if not exposures:
        return
    removed = exposures[gone % len(exposures)]
    before = spend(exposures, always(6.0), always(24.0))
    after = spend([e for e in exposures if e is not removed], always(6.0), always(24.0))
    for e in exposures:
        if e is not removed and abs((e.starts_on - removed.starts_on).days) > TOUCH_DAYS:
            assert before[e.id or 0] == after[e.id or 0]
