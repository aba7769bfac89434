"""The fewest workshop visits: against trying every choice, and what a visit holds."""

from __future__ import annotations

import itertools
import random
from collections.abc import Sequence
from datetime import date, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.model.due.services import OPENING, TEST, Service, services_of
from logbook.model.due.tasks import DueItem, stage_of
from logbook.model.due.visits import AT_ONCE, GRACE, Trips, Visit, horizon, plan_visits, trips_of, window_of
from logbook.model.judge import standing
from logbook.model.values import Event, Exposure
from tests.effort import tries
from tests.model.builders import PRACTICE, TODAY, record, watch

TASKS = ("pressure-test", "gaskets", "battery", "movement", "strap")


def item(
    due: date, task: str = "strap", watch: str = "Blue bezel", reach: tuple[int, int] = (-3, 0), key: str = ""
) -> DueItem:
    """A task that may be drawn some months to either side of its date."""
    name = f"1:{key or f'{watch}:{task}:{due}:{reach}'}"
    return DueItem(name, watch, task, None, due, stage_of(due, TODAY, PRACTICE), due, 12, reach, "because")


def alone(item: DueItem, troubles: tuple[Event, ...] = ()) -> Service:
    """A service of one task."""
    (service,) = services_of([item], TODAY, troubles)
    return service


def plan_of(items: Sequence[DueItem], trips: Trips | None = None) -> list[Visit]:
    """The visits for these tasks, each a service of its own."""
    return plan_visits([alone(item) for item in items], TODAY, trips)


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
    windows = [window_of(alone(i), TODAY) for i in items]
    days = sorted({day for window in windows for day in window})
    for size in range(len(days) + 1):
        for chosen in itertools.combinations(days, size):
            if all(any(a <= day <= b for day in chosen) for a, b in windows):
                return size
    raise AssertionError("no set of days meets the windows")


def openings_by_trying(items: Sequence[DueItem], days: Sequence[date]) -> int:
    """The fewest openings of cases over all ways to put the opening tasks on these days."""
    total = 0
    for name in {i.watch for i in items}:
        own = [window_of(alone(i), TODAY) for i in items if i.watch == name and i.task in OPENING]
        ways = itertools.product(*([day for day in days if a <= day <= b] for a, b in own))
        total += min(len(set(way)) for way in ways)
    return total


@settings(max_examples=tries(300), deadline=None)
@given(some_items())
def test_no_choice_of_days_needs_fewer_visits(items: list[DueItem]) -> None:
    assert len(plan_of(items)) == fewest_by_trying(items)


@settings(max_examples=tries(300), deadline=None)
@given(some_items())
def test_on_the_days_chosen_no_watch_could_be_opened_less_often(items: list[DueItem]) -> None:
    plan = plan_of(items)
    opened = sum(len(visit.tests_after_opening) for visit in plan)
    assert opened == openings_by_trying(items, [visit.window[1] for visit in plan])


@settings(max_examples=tries(300), deadline=None)
@given(some_items(12))
def test_every_task_is_on_exactly_one_visit_and_inside_its_window(items: list[DueItem]) -> None:
    plan = plan_of(items)
    assert sorted(i.id for visit in plan for i in visit.items) == sorted(i.id for i in items)
    for visit in plan:
        assert TODAY <= visit.window[0] <= visit.window[1]
        assert visit.items
        windows = [window_of(alone(i), TODAY) for i in visit.items]
        assert visit.window == (max(a for a, _ in windows), min(b for _, b in windows))


@settings(max_examples=tries(200), deadline=None)
@given(some_items(12), st.randoms(use_true_random=False))
def test_the_order_of_the_tasks_does_not_matter(items: list[DueItem], chance: random.Random) -> None:
    shuffled = [*items]
    chance.shuffle(shuffled)
    assert plan_of(shuffled) == plan_of(items)


@settings(max_examples=tries(200), deadline=None)
@given(some_items(12))
def test_a_visit_that_opens_a_case_tests_it_and_no_other(items: list[DueItem]) -> None:
    for visit in plan_of(items):
        assert {*visit.tests_after_opening} == {i.watch for i in visit.items if i.task in OPENING}


@settings(max_examples=tries(200), deadline=None)
@given(some_items(12))
def test_a_visit_costs_no_more_for_one_more_task(items: list[DueItem]) -> None:
    if items:
        fewer, all_ = len(plan_of(items[1:])), len(plan_of(items))
        assert fewer <= all_ <= fewer + 1


def only(plan: list[Visit]) -> Visit:
    """The one visit of a plan."""
    (visit,) = plan
    return visit


def test_nothing_due_needs_no_visit() -> None:
    assert plan_of([]) == []


def test_what_is_overdue_is_for_today_or_tomorrow() -> None:
    assert only(plan_of([in_days(-300)])).window == (TODAY, TODAY + AT_ONCE)
    assert timedelta(days=1) == AT_ONCE


def test_what_is_due_but_not_overdue_may_be_done_from_today_for_thirty_days() -> None:
    assert only(plan_of([in_days(-5)])).window == (TODAY, TODAY + GRACE)
    assert timedelta(days=30) == GRACE


def test_a_fault_is_for_today_or_tomorrow_though_its_test_is_not_overdue() -> None:
    test = in_days(0, TEST)
    troubled = alone(test, (Event("water", TODAY, 60),))
    visit = only(plan_visits([troubled], TODAY))
    assert visit.window == (TODAY, TODAY + AT_ONCE)
    assert visit.urgent


def test_what_is_due_but_may_wait_keeps_its_later_end() -> None:
    late = item(date(2024, 8, 25), "battery", reach=(-6, 6))
    assert only(plan_of([late])).window == (TODAY, date(2025, 2, 25))


def test_a_window_ahead_is_that_of_the_task() -> None:
    ahead = item(date(2025, 6, 10), "gaskets", reach=(-6, 0))
    assert only(plan_of([ahead])).window == (date(2024, 12, 10), date(2025, 6, 10))


def test_one_visit_serves_several_watches() -> None:
    visit = only(plan_of([in_days(-5, watch="A"), in_days(3, watch="B")]))
    assert [i.watch for i in visit.items] == ["A", "B"]


def test_what_opens_one_case_goes_together_though_another_visit_comes_sooner() -> None:
    urgent = in_days(0, watch="B")
    gaskets = item(date(2025, 1, 1), "gaskets", watch="A", reach=(-6, 0))  # could go with B
    battery = item(date(2025, 3, 1), "battery", watch="A", reach=(-3, 0))  # could not
    first, second = plan_of([urgent, gaskets, battery])
    assert [i.watch for i in first.items] == ["B"]
    assert [i.task for i in second.items] == ["gaskets", "battery"]
    assert second.window == (date(2024, 12, 1), date(2025, 1, 1))
    assert second.tests_after_opening == ("A",)


def test_what_opens_one_case_is_parted_where_together_it_would_cost_a_visit() -> None:
    urgent = in_days(0, watch="B")  # to 2 October
    gaskets = item(date(2024, 10, 20), "gaskets", watch="A", reach=(-6, 0))
    battery = item(date(2025, 1, 15), "battery", watch="A", reach=(-3, 0))  # from 15 October
    late = item(date(2025, 2, 1), watch="C", reach=(-3, 0))  # from 1 November
    first, second = plan_of([urgent, gaskets, battery, late])
    assert (first.tests_after_opening, second.tests_after_opening) == (("A",), ("A",))


def test_the_own_test_goes_with_the_opening_that_its_window_allows() -> None:
    test = item(date(2025, 1, 1), TEST, watch="A", reach=(-6, 3))
    battery = item(date(2025, 3, 1), "battery", watch="A", reach=(-3, 0))
    urgent = in_days(0, watch="B")
    first, second = plan_of([urgent, test, battery])
    assert [i.watch for i in first.items] == ["B"]
    assert [i.task for i in second.items] == ["battery", TEST]
    assert second.tests_after_opening == ("A",)
    assert second.put_off == ()


def test_a_test_that_may_not_be_drawn_to_the_opening_is_marked_as_put_off() -> None:
    battery = in_days(-10, "battery", "A")
    test = item(date(2025, 3, 1), TEST, watch="A", reach=(-3, 0))
    first, second = plan_of([battery, test])
    assert first.tests_after_opening == ("A",)
    assert [i.task for i in second.items] == [TEST]
    assert (first.put_off, second.put_off) == ((), ("A",))


def test_a_test_before_the_opening_is_not_put_off() -> None:
    test = in_days(-10, TEST, "A")
    battery = item(date(2025, 3, 1), "battery", watch="A", reach=(-3, 0))
    assert [visit.put_off for visit in plan_of([test, battery])] == [(), ()]


def test_a_strap_opens_nothing() -> None:
    assert only(plan_of([in_days(3, "strap")])).tests_after_opening == ()


def test_a_task_that_can_wait_leaves_an_urgent_visit_all_its_days() -> None:
    urgent = in_days(-10, TEST, "A")
    strap = item(TODAY + timedelta(days=100), watch="B", reach=(-3, 3))
    battery = item(TODAY + timedelta(days=150), "battery", watch="C", reach=(-3, 0))
    first, second = plan_of([urgent, strap, battery])
    assert first.window == (TODAY, TODAY + GRACE)
    assert [i.watch for i in second.items] == ["B", "C"]


def test_only_dates_within_two_years_are_planned() -> None:
    last = horizon(TODAY)
    assert last == date(2026, 9, 2)
    within, beyond = item(last), item(last + timedelta(days=1), "movement", reach=(-12, 24))
    assert only(plan_of([within, beyond])).items == (within,)


def test_the_tasks_of_a_watch_stand_with_the_test_last() -> None:
    tasks = [in_days(0, task, key=task) for task in TASKS]
    assert [i.task for i in only(plan_of(tasks)).items] == [
        "gaskets", "battery", "movement", "strap", TEST,
    ]  # fmt: skip


def test_a_real_watch_is_planned_from_its_own_services() -> None:
    services = standing.stand(record(), PRACTICE, TODAY).services
    plan = plan_visits(services, TODAY)
    planned = {s.id for visit in plan for s in visit.services}
    assert planned == {s.id for s in services if s.first.due <= horizon(TODAY)}
    assert planned


def test_a_service_is_one_visit_within_the_window_of_what_cannot_wait() -> None:
    """The test could be put off by three months more than the gaskets, but the case is opened only once."""
    gaskets = item(date(2025, 3, 1), "gaskets", reach=(-6, 0), key="gaskets")
    test = item(date(2025, 6, 15), TEST, reach=(-3, 0), key="test")
    services = services_of([gaskets, test], TODAY)
    visit = only(plan_visits(services, TODAY))
    assert [i.task for i in visit.items] == ["gaskets", TEST]
    assert visit.window == (date(2024, 9, 2), date(2025, 3, 1))
    close = item(date(2025, 4, 1), TEST, reach=(-3, 0), key="test")
    assert only(plan_visits(services_of([gaskets, close], TODAY), TODAY)).window == (
        date(2025, 1, 1),
        date(2025, 3, 1),
    )


# ---------------------------------------------------------------- trips


def trip(first: int, last: int) -> Trips:
    """The days of a trip of Blue bezel, counted from today."""
    return {"Blue bezel": [(TODAY + timedelta(days=first), TODAY + timedelta(days=last))]}


def test_the_days_before_a_trip_are_offered_first() -> None:
    assert only(plan_of([in_days(-5)], trip(10, 20))).window == (TODAY, TODAY + timedelta(days=9))


def test_a_trip_of_another_watch_is_no_hindrance() -> None:
    assert only(plan_of([in_days(-5)], {"Other": [(TODAY, TODAY + GRACE)]})).window == (TODAY, TODAY + GRACE)


def test_while_a_trip_runs_what_is_overdue_waits_for_the_day_after_it() -> None:
    begins = TODAY + timedelta(days=8)
    assert only(plan_of([in_days(-300)], trip(-3, 7))).window == (begins, begins + AT_ONCE)


def test_what_is_overdue_is_done_today_where_a_trip_begins_tomorrow() -> None:
    assert only(plan_of([in_days(-300)], trip(1, 7))).window == (TODAY, TODAY)


def test_trips_that_follow_each_other_are_one_hindrance() -> None:
    trips = {"Blue bezel": [*trip(5, 9)["Blue bezel"], *trip(-1, 4)["Blue bezel"]]}
    assert only(plan_of([in_days(-5)], trips)).window == (TODAY + timedelta(days=10), TODAY + GRACE)


some_trips = st.lists(st.tuples(st.integers(-20, 700), st.integers(0, 30)), max_size=5)


@settings(max_examples=tries(300), deadline=None)
@given(some_items(9), some_trips)
def test_no_watch_is_in_a_workshop_while_its_trip_runs(
    items: list[DueItem], told: list[tuple[int, int]]
) -> None:
    days = [(TODAY + timedelta(days=a), TODAY + timedelta(days=a + n)) for a, n in told]
    for visit in plan_of(items, {"A": days}):
        if any(i.watch == "A" for i in visit.items):
            assert not any(a <= visit.window[1] and visit.window[0] <= b for a, b in days)
        assert TODAY <= visit.window[0] <= visit.window[1]


def test_trips_are_what_is_planned_of_a_watch_and_not_over() -> None:
    def plan(first: int, last: int | None, watch_id: int = 1) -> Exposure:
        day = TODAY + timedelta(days=first)
        to = None if last is None else TODAY + timedelta(days=last)
        return Exposure(
            "dive", "sea", 20.0, "EN 13319", 2e5, 2400, 18.0, 32.0, day, planned=True, planned_to=to,
            watch_id=watch_id,
        )  # fmt: skip

    plans = [plan(-9, -1), plan(-3, 4), plan(12, None), plan(3, 4, watch_id=7)]
    assert trips_of(plans, [watch()], TODAY) == {
        "Blue bezel": [
            (TODAY - timedelta(days=3), TODAY + timedelta(days=4)),
            (TODAY + timedelta(days=12), TODAY + timedelta(days=12)),
        ]
    }
