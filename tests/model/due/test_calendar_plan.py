"""What a calendar holds of the due list, and how it follows it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime, time, timedelta
from itertools import count

from hypothesis import given
from hypothesis import strategies as st

from logbook.caution import CAUTION
from logbook.model.due.calendar_plan import Changes, Entry, changes_between, plan_entries
from logbook.model.due.tasks import DueItem
from logbook.model.values import Event
from tests.due_items import DUE, due_item, service

TODAY = date(2026, 3, 15)


def noon(day: date) -> datetime:
    return datetime.combine(day, time(12), UTC)


def uids() -> Callable[[], str]:
    """Names as they would be given, in a fixed order."""
    numbers = count(1)
    return lambda: f"uid-{next(numbers)}"


def planned(items: list[DueItem], known: list[Entry] | None = None, day: date = TODAY) -> list[Entry]:
    return plan_entries([service(item, on=day) for item in items], known or [], noon(day), day, uids())


def test_an_item_becomes_an_entry_with_why_and_the_caution() -> None:
    (entry,) = planned([due_item()])
    assert (entry.summary, entry.due_on, entry.sequence, entry.cancelled) == (
        "Blue bezel: pressure test",
        DUE,
        0,
        False,
    )
    assert entry.description.startswith("12 months after the last passed test.\n")
    assert CAUTION in entry.description
    assert entry.changed_at == noon(TODAY)


def test_without_a_change_an_entry_is_the_same_on_another_day() -> None:
    first = planned([due_item()])
    assert planned([due_item(on=DUE)], first, DUE) == first


def test_a_moved_date_or_other_words_are_one_step_on_under_the_same_name() -> None:
    (first,) = planned([due_item()])
    (moved,) = planned([due_item(due=date(2026, 6, 12))], [first], date(2026, 3, 20))
    assert (moved.uid, moved.sequence, moved.changed_at) == (first.uid, 1, noon(date(2026, 3, 20)))
    (renamed,) = planned([due_item(due=date(2026, 6, 12), watch="Grey bezel")], [moved], date(2026, 3, 21))
    assert (renamed.uid, renamed.sequence, renamed.summary) == (first.uid, 2, "Grey bezel: pressure test")
    (reasoned,) = planned(
        [due_item(due=date(2026, 6, 12), watch="Grey bezel", why="fog was seen")], [renamed]
    )
    assert (reasoned.uid, reasoned.sequence) == (first.uid, 3)


def test_an_item_that_has_gone_is_cancelled_once_and_comes_back_under_its_name() -> None:
    first = planned([due_item()])
    (gone,) = planned([], first, date(2026, 3, 20))
    assert (gone.cancelled, gone.sequence, gone.summary) == (True, 1, "Blue bezel: pressure test")
    assert planned([], [gone], date(2026, 3, 21)) == [gone]
    (back,) = planned([due_item()], [gone], date(2026, 3, 22))
    assert (back.cancelled, back.sequence, back.uid) == (False, 2, first[0].uid)


def test_a_cancelled_entry_stays_for_a_year_after_its_date_and_after_its_cancelling() -> None:
    gone = planned([], planned([due_item()]))
    assert planned([], gone, date(2027, 6, 10)) == gone
    assert planned([], gone, date(2027, 6, 12)) == []
    late = planned([], planned([due_item()]), date(2029, 1, 1))  # long overdue, and only then done
    assert planned([], late, date(2030, 1, 1)) == late
    assert planned([], late, date(2030, 1, 3)) == []


def test_an_entry_that_asks_still_is_never_dropped() -> None:
    first = planned([due_item()])
    assert planned([due_item()], first, date(2040, 1, 1)) == first


def test_alarms_are_fourteen_days_and_one_day_before() -> None:
    (entry,) = planned([due_item()])
    assert entry.alarm_days == [14, 1]


def test_no_alarm_comes_before_a_snooze_has_ended() -> None:
    # Due on 10 June; two weeks before it is 27 May.
    ends = {
        date(2026, 5, 20): [14, 1],
        date(2026, 5, 27): [14, 1],
        date(2026, 5, 28): [13, 1],
        date(2026, 6, 9): [1],
        date(2026, 6, 10): [0],
        date(2026, 7, 1): [-21],
    }
    for end, days in ends.items():
        (entry,) = planned([due_item(snoozed_until=end)])
        assert entry.alarm_days == days, end
    assert "No reminder before 1 Jul 2026." in entry.description


AFTER = date(2026, 6, 20)  # ten days after the date


def alarms(entry: Entry) -> list[date]:
    return [entry.due_on - timedelta(days=each) for each in entry.alarm_days]


def test_an_entry_whose_alarms_have_passed_when_it_is_written_rings_once_on_the_next_day() -> None:
    for on in (DUE - timedelta(days=1), DUE, AFTER):
        (entry,) = first = planned([due_item()], day=on)
        assert alarms(entry) == [on + timedelta(days=1)]
        assert entry.description.startswith("12 months after the last passed test.\n\n")
        for later in (on, on + timedelta(days=1), on + timedelta(days=2), date(2027, 1, 1)):
            assert planned([due_item()], first, later) == first


def test_an_entry_that_has_an_alarm_left_has_no_other() -> None:
    (entry,) = planned([due_item()], day=DUE - timedelta(days=2))
    assert (entry.alarm_from, entry.alarm_days) == (None, [14, 1])


def test_an_entry_whose_alarms_have_rung_stays_as_it_is() -> None:
    first = planned([due_item()])
    assert planned([due_item()], first, AFTER) == first
    put_off = planned([due_item(snoozed_until=AFTER)])
    assert planned([due_item(snoozed_until=AFTER)], put_off, date(2026, 12, 1)) == put_off


def test_an_entry_that_moves_or_comes_back_with_no_alarm_ahead_rings_on_the_next_day() -> None:
    overdue = due_item(due=date(2026, 6, 1))
    (moved,) = planned([overdue], planned([due_item()]), date(2026, 6, 5))
    assert alarms(moved) == [date(2026, 6, 6)]
    gone = planned([], [moved], date(2026, 6, 10))
    assert alarms(planned([overdue], gone, date(2026, 6, 15))[0]) == [date(2026, 6, 16)]


def test_a_snooze_that_ended_between_two_runs_or_was_taken_back_rings_on_the_next_day() -> None:
    first = planned([due_item()])
    (ended,) = planned([due_item(snoozed_until=AFTER)], first, AFTER + timedelta(days=5))
    assert alarms(ended) == [AFTER + timedelta(days=6)]
    long = planned([due_item(snoozed_until=date(2028, 1, 1))], first, AFTER)
    (back,) = planned([due_item()], long, AFTER + timedelta(days=5))
    assert alarms(back) == [AFTER + timedelta(days=6)]


def test_what_is_typed_is_shown_without_control_characters() -> None:
    (entry,) = planned([due_item(watch="a\nBEGIN:VEVENT\x1b\u202e")])
    assert entry.summary == "a\\x0aBEGIN:VEVENT\\x1b\\u202e: pressure test"


def test_changes_are_counted_by_kind() -> None:
    before = planned([due_item("1:a"), due_item("1:b"), due_item("1:c"), due_item("1:d"), due_item("1:e")])
    after = planned(
        [
            due_item("1:a"),
            due_item("1:b", due=date(2026, 7, 1)),
            due_item("1:c", why="fog was seen"),
            due_item("1:f"),
        ],
        before,
    )
    assert changes_between(before, after) == Changes(new=1, moved=1, reworded=1, cancelled=2)
    assert changes_between(after, planned([], after)) == Changes(new=0, moved=0, reworded=0, cancelled=4)
    assert changes_between([], before) == Changes(new=5, moved=0, reworded=0, cancelled=0)


GAP = timedelta(days=100)

LISTS = st.dictionaries(
    st.sampled_from(("1:pressure-test", "1:strap", "2:gaskets:crown", "2:battery")),
    st.tuples(
        st.integers(-400, 400),
        st.sampled_from(("Blue bezel", "Lido")),
        st.none() | st.dates(date(2026, 1, 1), date(2028, 1, 1)),
    ),
)


@given(st.lists(st.tuples(LISTS, st.integers(0, 500)), min_size=1, max_size=8))
def test_however_the_list_changes_names_stay_and_sequences_never_fall(
    story: list[tuple[dict[str, tuple[int, str, date | None]], int]],
) -> None:
    known: list[Entry] = []
    day, new_uid = TODAY, uids()
    for asked, passed in story:
        day += timedelta(days=passed)
        items = [
            due_item(id_, watch=watch, due=DUE + timedelta(days=shift), snoozed_until=snoozed)
            for id_, (shift, watch, snoozed) in asked.items()
        ]
        services = [service(item, on=day) for item in items]
        after = plan_entries(services, known, noon(day), day, new_uid)
        assert plan_entries(services, after, noon(day + timedelta(days=1)), day, new_uid) == after
        live = [entry for entry in after if not entry.cancelled]
        services = [service(item, on=day + GAP) for item in items]
        much_later = plan_entries(services, after, noon(day + GAP), day + GAP, new_uid)
        assert [entry for entry in much_later if not entry.cancelled] == live
        assert {e.item_id for e in after if not e.cancelled} == set(asked)
        assert len({e.uid for e in after}) == len(after)
        old = {e.item_id: e for e in known}
        for entry in after:
            before = old.get(entry.item_id)
            if not entry.cancelled and (before is None or before.cancelled or before.due_on != entry.due_on):
                assert max(alarms(entry)) > day  # what is new, moved or back rings yet
            if before is None:
                assert (entry.sequence, entry.cancelled) == (0, False)
                continue
            assert entry.uid == before.uid
            assert entry.sequence - before.sequence == (0 if entry == before else 1)
            assert entry.changed_at >= before.changed_at
        known = after


def test_tasks_that_are_done_together_are_one_entry_with_a_line_each() -> None:
    test = due_item()
    strap = due_item(
        "1:strap:2024-08-01", task="strap", due=date(2026, 8, 1), why="24 months since the strap was changed"
    )
    together = service(test, strap, on=TODAY)
    (entry,) = plan_entries([together], [], noon(TODAY), TODAY, uids())
    assert entry.summary == "Blue bezel: service: strap and bars, pressure test"
    assert entry.due_on == DUE
    assert entry.description.startswith(
        "Pressure test, 10 Jun 2026: 12 months after the last passed test.\n"
        "Strap and bars, 1 Aug 2026: 24 months since the strap was changed.\n"
    )


def test_a_service_keeps_the_entry_of_its_first_task_and_those_of_the_others_are_cancelled() -> None:
    strap = due_item("1:strap:2024-08-01", task="strap", due=date(2026, 8, 1))
    gaskets = [due_item(f"1:gaskets:{place}:2024-08-01", task="gaskets") for place in ("crown", "crystal")]
    before = planned([due_item(), strap, *gaskets])
    known = {entry.item_id: entry for entry in before}
    one = due_item("1:gaskets:2024-08-01", task="gaskets", due=date(2026, 9, 1))
    after = plan_entries([service(due_item(), strap, one, on=TODAY)], before, noon(TODAY), TODAY, uids())
    (live,) = [entry for entry in after if not entry.cancelled]
    assert (live.uid, live.sequence) == (known[due_item().id].uid, 1)
    gone = [entry for entry in after if entry.cancelled]
    assert {entry.item_id for entry in gone} == {strap.id, *(each.id for each in gaskets)}
    assert all((e.uid, e.sequence) == (known[e.item_id].uid, 1) for e in gone)


def test_a_fault_is_said_in_the_entry() -> None:
    test = due_item("1:pressure-test:2026-03-14:water-5", due=date(2026, 3, 14), why="water was seen")
    wet = service(test, on=TODAY, troubles=(Event("water-inside", date(2026, 3, 14), 60, id=5),))
    (entry,) = plan_entries([wet], [], noon(TODAY), TODAY, uids())
    assert entry.summary == "Blue bezel: to a workshop now: open, dry, mend"
    assert entry.description.startswith("Water was seen inside.\n")
