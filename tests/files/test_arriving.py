"""What of a file is new: nothing comes in twice, nothing different is taken for the same."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.files.arriving import Arrival, sort_out
from logbook.files.incoming import Incoming
from logbook.model.same import Origin
from logbook.model.values import Exposure
from tests.record.making import a_dive

DAY = date(2026, 2, 20)


def dive_of(
    start: str = "2026-02-20T09:30:00", dive_id: str = "", watch_id: int = 1, **changes: object
) -> Incoming:
    exposure = a_dive(watch_id, DAY, starts_at=time.fromisoformat(start[11:]), utc_offset_s=0, **changes)
    origin = Origin(start, exposure.duration_s, round(exposure.depth_m * 1000), dive_id)
    return Incoming("line 7", exposure, str(origin))


def kept(incoming: Incoming, id_: int = 1) -> Exposure:
    return replace(incoming.exposure, id=id_)


def state(incoming: Incoming, *on_record: tuple[Exposure, str]) -> str:
    return sorted_out([incoming], *on_record)[0].state


def sorted_out(incoming: list[Incoming], *on_record: tuple[Exposure, str]) -> list[Arrival]:
    origins = {e.id or 0: origin for e, origin in on_record if origin}
    return sort_out(incoming, [e for e, _ in on_record], origins)


def test_what_came_in_before_does_not_come_in_again() -> None:
    dive = dive_of(dive_id="a1")
    assert state(dive) == "new"
    assert state(dive, (kept(dive), dive.origin)) == "on record"


def test_a_dive_that_was_amended_since_is_still_the_same_dive() -> None:
    dive = dive_of(dive_id="a1")
    moved = replace(kept(dive), starts_on=date(2026, 2, 22), depth_m=30.0, rinsed=False)
    assert state(dive, (moved, dive.origin)) == "on record"


@pytest.mark.parametrize(
    ("again", "expected"),
    [
        (dive_of(dive_id="other"), "on record"),  # another program's id for the same start and length
        (dive_of(dive_id="a1", depth_m=21.4, duration_s=2400), "on record"),  # same id and start, read finer
        (dive_of("2026-02-20T10:30:00", dive_id="a1"), "alike"),  # the clock was put right, perhaps
        # A file that numbers its dives from one, and another day's file that does so too.
        (dive_of("2026-02-20T14:00:00", dive_id="a1", duration_s=2000), "new"),
        (dive_of("2026-02-20T14:00:00", duration_s=2000), "new"),
        (dive_of(watch_id=2, dive_id="a1"), "new"),  # another watch was in that water too
    ],
)
def test_an_id_alone_does_not_make_two_dives_one(again: Incoming, expected: str) -> None:
    first = dive_of(dive_id="a1")
    assert state(again, (kept(first), first.origin)) == expected


def test_the_same_number_and_shape_on_another_day_is_another_dive() -> None:
    first = dive_of(dive_id="1")
    later = replace(dive_of(dive_id="1"), exposure=replace(first.exposure, starts_on=date(2026, 3, 1)))
    later = replace(later, origin=str(Origin("2026-03-01T09:30:00", 2280, 21_000, "1")))
    assert state(later, (kept(first), first.origin)) == "new"
    assert [a.state for a in sorted_out([first, later])] == ["new", "new"]


def without_time(depth_m: float, dive_id: str) -> Incoming:
    exposure = a_dive(1, DAY, depth_m=depth_m, duration_s=3000)
    return Incoming("line 7", exposure, str(Origin("2026-02-20", 3000, round(1000 * depth_m), dive_id)))


@pytest.mark.parametrize(
    ("again", "expected"),
    [
        (without_time(18.0, "a"), "on record"),
        (without_time(18.0, ""), "on record"),  # a file without ids
        (without_time(40.0, "b"), "new"),
        (without_time(18.0, "b"), "alike"),  # two dives of one shape, or one dive of two programs
    ],
)
def test_a_date_alone_does_not_make_two_dives_of_a_day_one(again: Incoming, expected: str) -> None:
    first = without_time(18.0, "a")
    stored = replace(kept(first), note="amended since")
    assert state(again, (stored, first.origin)) == expected


def test_a_dive_that_was_typed_is_a_question() -> None:
    typed = a_dive(1, DAY, starts_at=time(9, 0), utc_offset_s=0, depth_m=20.0, duration_s=2400, id=5)
    (arrival,) = sorted_out([dive_of()], (typed, ""))
    assert arrival.state == "alike"
    assert arrival.twin == typed


@pytest.mark.parametrize(
    ("typed", "is_alike"),
    [
        (a_dive(1, DAY), True),  # without a time of day
        (a_dive(1, DAY, duration_s=4000), False),
        (a_dive(1, DAY, depth_m=30.0), False),
        (a_dive(1, date(2026, 2, 21)), False),
        (a_dive(2, DAY), False),
        (a_dive(1, DAY, starts_at=time(12, 0), utc_offset_s=0, depth_m=18.0), False),
        (a_dive(1, DAY, starts_at=time(11, 0), utc_offset_s=3600), True),  # another zone, half an hour later
        (a_dive(1, DAY, starts_at=time(15, 30), utc_offset_s=0, depth_m=21.4), True),  # a clock of elsewhere
        (
            a_dive(1, DAY, starts_at=time(9, 50), utc_offset_s=0, depth_m=40.0, duration_s=3600),
            True,
        ),  # overlap
        (a_dive(1, DAY, starts_at=time(10, 40), utc_offset_s=0, depth_m=40.0, duration_s=3600), False),
        (a_dive(1, DAY, activity="mixed-gas"), True),
        (a_dive(1, DAY, activity="pool"), False),
    ],
)
def test_alike_is_what_may_be_the_same(typed: Exposure, is_alike: bool) -> None:
    assert (state(dive_of(depth_m=21.5), (replace(typed, id=5), "")) == "alike") is is_alike


def test_one_typed_dive_is_like_one_of_a_file_and_of_the_nearest() -> None:
    typed = a_dive(1, DAY, starts_at=time(10, 0), utc_offset_s=0, id=5)
    far, near = dive_of("2026-02-20T09:00:00"), dive_of("2026-02-20T10:10:00", depth_m=21.5)
    assert [a.state for a in sorted_out([far, near], (typed, ""))] == ["new", "alike"]


def test_a_plan_is_a_likeness_and_never_the_dive_itself() -> None:
    dive = dive_of()
    plan = replace(kept(dive), planned=True)
    (arrival,) = sorted_out([dive], (plan, ""))
    assert (arrival.state, arrival.twin) == ("alike", plan)


def test_what_was_struck_is_not_taken_for_new() -> None:
    dive = dive_of(dive_id="a1")
    (arrival,) = sort_out([dive], [], {}, [(1, dive.origin)])
    assert arrival.state == "struck"
    (again,) = sort_out([dive], [kept(dive)], {1: dive.origin}, [(1, dive.origin)])
    assert again.state == "on record"


def test_a_dive_that_a_file_has_twice_comes_in_once() -> None:
    first, second = sorted_out([dive_of(), replace(dive_of(), place="line 90")])
    assert (first.state, second.state, second.twin_place) == ("new", "on record", "line 7")


def a_shower(n: int) -> Incoming:
    shower = a_dive(1, DAY, activity="shower", water="soap", depth_m=0.1, duration_s=480, salinity=0.0)
    return Incoming(f"row {n}", shower, f"csv:feed#{n}")


def test_two_equal_rows_of_a_table_are_two_showers() -> None:
    rows = [a_shower(1), a_shower(2)]
    assert [a.state for a in sorted_out(rows)] == ["new", "new"]
    one = (kept(rows[0], 1), "")
    assert [a.state for a in sorted_out(rows, one)] == ["on record", "new"]
    both = [(kept(row, n), "") for n, row in enumerate(rows, 1)]
    assert [a.state for a in sorted_out(rows, *both)] == ["on record", "on record"]


def test_what_is_on_record_word_for_word_is_no_question_beside_a_likeness() -> None:
    """Two showers of one day, one of them typed a little differently: only that one is asked about."""
    rows = [a_shower(1), a_shower(2)]
    exact, near = kept(rows[1], 1), replace(kept(rows[0], 2), duration_s=600)
    assert [a.state for a in sorted_out(rows, (near, ""), (exact, ""))] == ["on record", "alike"]


origins = st.builds(
    Origin,
    st.datetimes().map(lambda at: at.isoformat()) | st.dates().map(lambda on: on.isoformat()),
    st.integers(0, 172_800),
    st.integers(0, 400_000),
    st.text(st.characters(exclude_categories=("Cs",)), max_size=40),
)


@given(origins)
def test_an_origin_reads_back_as_it_was_written(origin: Origin) -> None:
    assert Origin.read(str(origin)) == origin
    assert origin.is_same(origin)


@given(origins, origins)
def test_sameness_has_no_direction(one: Origin, other: Origin) -> None:
    assert one.is_same(other) == other.is_same(one)


@given(st.text())
def test_what_was_no_dive_of_a_file_is_told_apart(text: str) -> None:
    assert Origin.read(f"csv:{text}") is None


@pytest.mark.parametrize("text", ["dive", "dive 2026 x y z", "dive 2026-02-20 12 z", "dive  1 2"])
def test_an_odd_origin_is_none(text: str) -> None:
    assert Origin.read(text) is None
