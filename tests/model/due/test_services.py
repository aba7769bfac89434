"""What is due on one watch within half a year of each other is one service."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.model.due.services import Service, in_order, kinds_done, services_of, troubles_of
from logbook.model.due.tasks import STAGES, DueItem, months_after, stage_of
from logbook.model.judge import facts, standing
from logbook.model.values import Event
from tests.effort import tries
from tests.model.builders import ONE_DAY, PRACTICE, TESTED, TODAY, event, passed, record

TASKS = ("pressure-test", "gaskets", "battery", "movement", "strap")


def item(task: str, due: date, snoozed: date | None = None, watch: str = "Blue bezel") -> DueItem:
    """A task of a watch, seen today."""
    id_ = f"1:{task}:{due - timedelta(days=365)}"
    stage = stage_of(due, TODAY, PRACTICE)
    return DueItem(id_, watch, task, None, due, stage, due, 12, (-3, 0), f"why {task}", snoozed)


def ahead(task: str, days: int, **given_: date) -> DueItem:
    return item(task, TODAY + timedelta(days=days), **given_)


def only(*items: DueItem, troubles: tuple[Event, ...] = ()) -> Service:
    (service,) = services_of(items, TODAY, troubles)
    return service


def tasks_of(*items: DueItem) -> list[list[str]]:
    return [[i.task for i in service.items] for service in services_of(items, TODAY)]


def test_what_is_due_within_six_months_of_the_first_is_done_with_it() -> None:
    first = date(2025, 1, 31)
    within, beyond = months_after(first, 6), months_after(first, 6) + ONE_DAY
    assert tasks_of(item("strap", first), item("gaskets", within)) == [["strap", "gaskets"]]
    assert tasks_of(item("strap", first), item("gaskets", beyond)) == [["strap"], ["gaskets"]]


def test_a_service_reaches_from_its_first_task_and_not_from_one_to_the_next() -> None:
    days = [item(task, date(2025, month, 1)) for task, month in zip(TASKS, (1, 5, 9), strict=False)]
    assert tasks_of(*days) == [["pressure-test", "gaskets"], ["battery"]]


def test_what_is_over_for_long_goes_with_what_is_due_now() -> None:
    found = [ahead("strap", -900), ahead("pressure-test", -3), ahead("gaskets", 100), ahead("movement", 300)]
    assert tasks_of(*found) == [["strap", "pressure-test", "gaskets"], ["movement"]]


def test_a_service_has_the_first_date_that_asks_and_the_worst_stage() -> None:
    service = only(ahead("strap", 20), ahead("pressure-test", -20), ahead("gaskets", 5))
    assert (service.due, service.stage) == (TODAY - timedelta(days=20), "overdue")
    assert service.why == "why pressure-test"
    assert [i.task for i in service.asking] == ["pressure-test", "gaskets", "strap"]


def test_a_single_task_keeps_its_name_and_several_are_named_as_they_are_done() -> None:
    assert only(ahead("strap", 3)).label == "strap and bars"
    service = only(ahead("pressure-test", 3), ahead("strap", 4), ahead("gaskets", 5))
    assert service.label == "service: gaskets, strap and bars, pressure test"


def test_its_identity_is_that_of_its_first_task() -> None:
    first = ahead("pressure-test", 3)
    assert only(first, ahead("strap", 4)).id == f"1:service:{first.id.removeprefix('1:')}"
    assert only(first, ahead("strap", 4)).first == first


def test_a_snoozed_task_leaves_the_date_to_the_others_and_a_service_of_snoozed_ones_is_silent() -> None:
    until = TODAY + timedelta(days=9)
    quiet = ahead("pressure-test", -20, snoozed=until)
    assert only(quiet, ahead("strap", -1)).due == TODAY - timedelta(days=1)
    assert only(quiet, ahead("strap", -1)).stage == "due"
    silent = only(quiet, ahead("strap", 100))
    assert (silent.silent, silent.asking, silent.snoozed_until) == (True, (), until)
    assert silent.stage == "overdue"


WATER, CROWN = Event("water-inside", TODAY, 60, id=1), Event("crown-damaged", TODAY, 60, id=2)
FAILED = Event("pressure-test", TODAY, 40, passed=False, id=3)


@pytest.mark.parametrize(
    ("troubles", "label", "why"),
    [
        ((WATER,), "to a workshop now: open, dry, mend", "water was seen inside"),
        ((CROWN,), "to a workshop now", "the crown was damaged"),
        ((FAILED, CROWN), "to a workshop now", "a test failed, the crown was damaged"),
        (
            (WATER, CROWN),
            "to a workshop now: open, dry, mend",
            "water was seen inside, the crown was damaged",
        ),
    ],
)
def test_what_is_wrong_sends_the_watch_to_a_workshop_now(
    troubles: tuple[Event, ...], label: str, why: str
) -> None:
    service = only(ahead("pressure-test", 0), ahead("strap", 9), troubles=troubles)
    assert (service.label, service.why, service.urgent) == (label, why, True)


def test_a_fault_goes_with_the_first_service_alone() -> None:
    services = services_of([ahead("pressure-test", 0), ahead("movement", 400)], TODAY, (WATER,))
    assert [bool(service.troubles) for service in services] == [True, False]


def test_faults_come_first_and_then_what_is_over_for_longest() -> None:
    late = replace(only(ahead("strap", -300)), watch="late")
    later = replace(only(ahead("strap", 400)), watch="later")
    fresh = replace(only(ahead("strap", 0)), watch="fresh")
    quiet = replace(only(ahead("strap", -500, snoozed=TODAY + ONE_DAY)), watch="quiet")
    wet = replace(only(ahead("pressure-test", 0), troubles=(WATER,)), watch="wet")
    every = [later, quiet, fresh, late, wet]
    assert [s.watch for s in in_order(every)] == ["wet", "late", "fresh", "quiet", "later"]


def test_what_stands_is_read_off_the_facts() -> None:
    fog = event("fog", TODAY, id=7)
    failed = event("pressure-test", TODAY - ONE_DAY, passed=False, id=6)
    assert troubles_of(facts.gather(record(passed(TESTED), failed, fog), TODAY, PRACTICE)) == (failed, fog)
    assert troubles_of(facts.gather(record(passed(TESTED)), TODAY, PRACTICE)) == ()
    assert troubles_of(facts.gather(record(passed(TESTED), event("battery", TODAY)), TODAY, PRACTICE)) == ()
    whole = standing.stand(record(passed(TESTED), fog), PRACTICE, TODAY)
    assert whole.services[0].troubles == (fog,)
    assert whole.next_service == whole.services[0]


def test_what_was_done_is_told_in_the_order_of_a_workshop_s_day() -> None:
    found = kinds_done(["pressure-test", "gaskets", "battery"], ["crown-damaged", "crown-damaged"])
    assert found == [
        ("battery", None), ("gaskets", None), ("repaired", "crown-damaged"), ("pressure-test", None),
    ]  # fmt: skip


def test_a_bare_opening_is_told_where_nothing_else_opens_the_case() -> None:
    assert kinds_done(["pressure-test", "opened"]) == [("opened", None), ("pressure-test", None)]
    assert kinds_done(["opened", "gaskets"]) == [("gaskets", None)]


def test_a_case_that_is_opened_may_be_tested_though_no_test_is_due() -> None:
    assert kinds_done(["gaskets"]) == [("gaskets", None)]
    for task in ("gaskets", "opened"):
        assert kinds_done([task], tests=True) == [(task, None), ("pressure-test", None)]
    assert kinds_done(["strap"], tests=True) == [("strap", None)]


def test_while_something_stands_only_the_owner_knows_what_was_done_beside_the_test() -> None:
    service = only(ahead("pressure-test", 0), ahead("strap", 9), troubles=(WATER, CROWN, CROWN))
    assert service.to_be_told == ("opened", "gaskets", "strap")
    assert service.damage == ("crown-damaged",)
    assert only(ahead("pressure-test", 0), troubles=(FAILED,)).to_be_told == ("opened", "gaskets")
    assert only(ahead("pressure-test", 0), troubles=(FAILED,)).damage == ()


def test_where_a_test_is_all_that_asks_only_the_owner_knows_what_else_was_done() -> None:
    assert only(ahead("pressure-test", 0), ahead("gaskets", 150)).to_be_told == ("gaskets",)
    assert only(ahead("pressure-test", 0), ahead("gaskets", 5)).to_be_told == ()
    assert only(ahead("pressure-test", 0)).to_be_told == ()


def test_in_full_a_watch_that_goes_to_a_workshop_now_names_what_is_due_with_it() -> None:
    found = [ahead("pressure-test", 0), ahead("gaskets", 9)]
    assert only(*found, troubles=(CROWN,)).in_full == "to a workshop now; due with it: gaskets, pressure test"
    assert only(*found).in_full == only(*found).label


@st.composite
def some(draw: st.DrawFn) -> list[DueItem]:
    """Tasks of one watch on any days, some of them snoozed."""
    chosen = draw(st.lists(st.sampled_from(TASKS), unique=True, min_size=1))
    ends = st.none() | st.integers(-40, 90).map(lambda days: TODAY + timedelta(days=days))
    return [item(t, TODAY + timedelta(days=draw(st.integers(-800, 900))), draw(ends)) for t in chosen]


@settings(max_examples=tries(300))
@given(some(), st.randoms(use_true_random=False))
def test_every_task_is_in_exactly_one_service_and_no_service_is_longer_than_six_months(
    items: list[DueItem], chance: object
) -> None:
    services = services_of(items, TODAY)
    assert sorted(i.id for service in services for i in service.items) == sorted(i.id for i in items)
    shuffled = [*items]
    chance.shuffle(shuffled)  # type: ignore[attr-defined]
    assert services_of(shuffled, TODAY) == services
    for service in services:
        first, last = (max(day, TODAY) for day in (service.items[0].due, service.items[-1].due))
        assert last <= months_after(first, 6)
        assert service.due in {i.due for i in service.items}
        assert STAGES.index(service.stage) <= max(STAGES.index(i.stage) for i in service.items)
    assert len([service for service in services if service.stage != "later"]) <= 1
