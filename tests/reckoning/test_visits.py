"""The fewest workshop visits: against trying every choice, and what a visit holds."""

from __future__ import annotations

import itertools
import random
from collections.abc import Sequence
from datetime import date, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.reckoning import standing
from logbook.reckoning.due import DueItem
from logbook.reckoning.visits import GRACE, OPENING, TEST, Visit, horizon, plan_visits, window_of
from tests.reckoning.builders import PRACTICE, TODAY, record

TASKS = ("pressure-test", "gaskets", "battery", "movement", "strap")


def item(
    due: date, task: str = "strap", watch: str = "Blue bezel", reach: tuple[int, int] = (-3, 0), key: str = ""
) -> DueItem:
    """A task that may be drawn some months to either side of its date."""
    name = key or f"{watch}:{task}:{due}:{reach}"
    return DueItem(name, watch, task, None, due, "later", due, 12, reach, "because")


def in_days(days: int, *args: object, **given_: object) -> DueItem:
    """A task that is due some days from today."""
    return item(TODAY + timedelta(days=days), *args, **given_)  # type: ignore[arg-type]


@st.composite
def some_items(draw: st.DrawFn, most: int = 7) -> list[DueItem]:
    """Tasks of three watches, some overdue, all within the horizon."""
    count = draw(st.integers(0, most))
    return [
        in_days(
            draw(st.integers(-400, 700)),
            draw(st.sampled_from(TASKS)),
            draw(st.sampled_from(("A", "B", "C"))),
            (-draw(st.integers(0, 9)), draw(st.integers(0, 9))),
            key=str(n),
        )
        for n in range(count)
    ]


def fewest_by_trying(items: Sequence[DueItem]) -> int:
    """The size of the smallest set of days that meets every window, all sets of ends and beginnings tried."""
    windows = [window_of(i, TODAY) for i in items]
    days = sorted({day for window in windows for day in window})
    for size in range(len(days) + 1):
        for chosen in itertools.combinations(days, size):
            if all(any(a <= day <= b for day in chosen) for a, b in windows):
                return size
    raise AssertionError("no set of days meets the windows")


def openings_by_trying(items: Sequence[DueItem], days: Sequence[date]) -> int:
    """The fewest openings of cases over all ways to put the opening tasks on these days."""
    total = 0
    for watch in {i.watch for i in items}:
        own = [window_of(i, TODAY) for i in items if i.watch == watch and i.task in OPENING]
        ways = itertools.product(*([day for day in days if a <= day <= b] for a, b in own))
        total += min(len(set(way)) for way in ways)
    return total


@settings(max_examples=300, deadline=None)
@given(some_items())
def test_no_choice_of_days_needs_fewer_visits(items: list[DueItem]) -> None:
    assert len(plan_visits(items, TODAY)) == fewest_by_trying(items)


@settings(max_examples=300, deadline=None)
@given(some_items())
def test_on_the_days_chosen_no_watch_could_be_opened_less_often(items: list[DueItem]) -> None:
    plan = plan_visits(items, TODAY)
    opened = sum(len(visit.tests_after_opening) for visit in plan)
    assert opened == openings_by_trying(items, [visit.window[1] for visit in plan])


@settings(max_examples=300, deadline=None)
@given(some_items(12))
def test_every_task_is_on_exactly_one_visit_and_inside_its_window(items: list[DueItem]) -> None:
    plan = plan_visits(items, TODAY)
    assert sorted(i.id for visit in plan for i in visit.items) == sorted(i.id for i in items)
    for visit in plan:
        assert TODAY <= visit.window[0] <= visit.window[1]
        assert visit.items
        windows = [window_of(i, TODAY) for i in visit.items]
        assert visit.window == (max(a for a, _ in windows), min(b for _, b in windows))


@settings(max_examples=200, deadline=None)
@given(some_items(12), st.randoms(use_true_random=False))
def test_the_order_of_the_tasks_does_not_matter(items: list[DueItem], chance: random.Random) -> None:
    shuffled = [*items]
    chance.shuffle(shuffled)
    assert plan_visits(shuffled, TODAY) == plan_visits(items, TODAY)


@settings(max_examples=200, deadline=None)
@given(some_items(12))
def test_a_visit_that_opens_a_case_tests_it_and_no_other(items: list[DueItem]) -> None:
    for visit in plan_visits(items, TODAY):
        assert {*visit.tests_after_opening} == {i.watch for i in visit.items if i.task in OPENING}


@settings(max_examples=200, deadline=None)
@given(some_items(12))
def test_a_visit_costs_no_more_for_one_more_task(items: list[DueItem]) -> None:
    if items:
        fewer, all_ = len(plan_visits(items[1:], TODAY)), len(plan_visits(items, TODAY))
        assert fewer <= all_ <= fewer + 1


def only(plan: list[Visit]) -> Visit:
    """The one visit of a plan."""
    (visit,) = plan
    return visit


def test_nothing_due_needs_no_visit() -> None:
    assert plan_visits([], TODAY) == []


def test_what_is_overdue_may_be_done_from_today_for_thirty_days() -> None:
    assert only(plan_visits([in_days(-300)], TODAY)).window == (TODAY, TODAY + GRACE)
    assert timedelta(days=30) == GRACE


def test_what_is_due_but_may_wait_keeps_its_later_end() -> None:
    late = item(date(2024, 8, 2), "battery", reach=(-6, 6))
    assert only(plan_visits([late], TODAY)).window == (TODAY, date(2025, 2, 2))


def test_a_window_ahead_is_that_of_the_task() -> None:
    ahead = item(date(2025, 6, 10), "gaskets", reach=(-6, 0))
    assert only(plan_visits([ahead], TODAY)).window == (date(2024, 12, 10), date(2025, 6, 10))


def test_one_visit_serves_several_watches() -> None:
    visit = only(plan_visits([in_days(-5, watch="A"), in_days(3, watch="B")], TODAY))
    assert [i.watch for i in visit.items] == ["A", "B"]


def test_what_opens_one_case_goes_together_though_another_visit_comes_sooner() -> None:
    urgent = in_days(0, watch="B")
    gaskets = item(date(2025, 1, 1), "gaskets", watch="A", reach=(-6, 0))  # could go with B
    battery = item(date(2025, 3, 1), "battery", watch="A", reach=(-3, 0))  # could not
    first, second = plan_visits([urgent, gaskets, battery], TODAY)
    assert [i.watch for i in first.items] == ["B"]
    assert [i.task for i in second.items] == ["gaskets", "battery"]
    assert second.window == (date(2024, 12, 1), date(2025, 1, 1))
    assert second.tests_after_opening == ("A",)


def test_what_opens_one_case_is_parted_where_together_it_would_cost_a_visit() -> None:
    urgent = in_days(0, watch="B")  # to 2 October
    gaskets = item(date(2024, 10, 20), "gaskets", watch="A", reach=(-6, 0))
    battery = item(date(2025, 1, 15), "battery", watch="A", reach=(-3, 0))  # from 15 October
    late = item(date(2025, 2, 1), watch="C", reach=(-3, 0))  # from 1 November
    first, second = plan_visits([urgent, gaskets, battery, late], TODAY)
    assert (first.tests_after_opening, second.tests_after_opening) == (("A",), ("A",))


def test_the_own_test_goes_with_the_opening_that_its_window_allows() -> None:
    test = item(date(2025, 1, 1), TEST, watch="A", reach=(-6, 3))
    battery = item(date(2025, 3, 1), "battery", watch="A", reach=(-3, 0))
    urgent = in_days(0, watch="B")
    first, second = plan_visits([urgent, test, battery], TODAY)
    assert [i.watch for i in first.items] == ["B"]
    assert [i.task for i in second.items] == ["battery", TEST]
    assert second.tests_after_opening == ("A",)
    assert second.put_off == ()


def test_a_test_that_may_not_be_drawn_to_the_opening_is_marked_as_put_off() -> None:
    battery = in_days(-10, "battery", "A")
    test = item(date(2025, 3, 1), TEST, watch="A", reach=(-3, 0))
    first, second = plan_visits([battery, test], TODAY)
    assert first.tests_after_opening == ("A",)
    assert [i.task for i in second.items] == [TEST]
    assert (first.put_off, second.put_off) == ((), ("A",))


def test_a_test_before_the_opening_is_not_put_off() -> None:
    test = in_days(-10, TEST, "A")
    battery = item(date(2025, 3, 1), "battery", watch="A", reach=(-3, 0))
    assert [visit.put_off for visit in plan_visits([test, battery], TODAY)] == [(), ()]


def test_a_strap_opens_nothing() -> None:
    assert only(plan_visits([in_days(3, "strap")], TODAY)).tests_after_opening == ()


def test_a_task_that_can_wait_leaves_an_urgent_visit_all_its_days() -> None:
    urgent = in_days(-20, TEST, "A")
    strap = item(TODAY + timedelta(days=100), watch="B", reach=(-3, 3))
    battery = item(TODAY + timedelta(days=150), "battery", watch="C", reach=(-3, 0))
    first, second = plan_visits([urgent, strap, battery], TODAY)
    assert first.window == (TODAY, TODAY + GRACE)
    assert [i.watch for i in second.items] == ["B", "C"]


def test_only_dates_within_two_years_are_planned() -> None:
    last = horizon(TODAY)
    assert last == date(2026, 9, 2)
    within, beyond = item(last), item(last + timedelta(days=1), "movement", reach=(-12, 24))
    assert only(plan_visits([within, beyond], TODAY)).items == (within,)


def test_the_tasks_of_a_watch_stand_with_the_test_last() -> None:
    tasks = [in_days(0, task, key=task) for task in TASKS]
    assert [i.task for i in only(plan_visits(tasks, TODAY)).items] == [
        "gaskets", "battery", "movement", "strap", TEST,
    ]  # fmt: skip


def test_a_real_watch_is_planned_from_its_own_due_list() -> None:
    items = standing.stand(record(), PRACTICE, TODAY).due
    plan = plan_visits(items, TODAY)
    planned = {i.id for visit in plan for i in visit.items}
    assert planned == {i.id for i in items if i.due <= horizon(TODAY)}
    assert planned
