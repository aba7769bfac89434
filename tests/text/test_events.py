"""Which test of its day a new opening is taken to come before, and the order that puts it after that test."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from logbook.model.judge.facts import moment
from logbook.model.values import DAMAGE, DAY_ORDER, EVENT_KINDS, FAULTS, Event, EventKind, WatchRecord
from logbook.text.events import ORDER_FIRST, order_after, order_words, read_after_opening, taken_before
from tests.model import builders

DAY = date(2026, 5, 1)
OPENINGS = {"opened", "battery", "movement", "gaskets", "repaired"}


def air_test(
    order: int = DAY_ORDER["pressure-test"], on: date = DAY, passed: bool = True, id_: int = 1
) -> Event:
    return Event("pressure-test", on, order, passed=passed, test_pa=10e5, medium="air", id=id_)


def record(*told: Event) -> WatchRecord:
    return replace(builders.record(), events=told)


def logged(kind: EventKind, order: int | None = None, repaired: EventKind | None = None) -> Event:
    return Event(kind, DAY, DAY_ORDER[kind] if order is None else order, repaired=repaired, id=9)


@pytest.mark.parametrize("passed", [True, False])
@pytest.mark.parametrize("kind", EVENT_KINDS)
def test_every_opening_comes_before_the_test_of_its_day_and_nothing_else_is_asked(
    kind: EventKind, passed: bool
) -> None:
    test = air_test(passed=passed)
    expected = test if kind in OPENINGS else None
    assert taken_before(logged(kind), [test]) == expected


@pytest.mark.parametrize("kind", DAMAGE)
def test_a_repair_is_an_opening_whatever_was_damaged(kind: EventKind) -> None:
    assert taken_before(logged("repaired", repaired=kind), [air_test()]) is not None


def test_another_day_another_kind_and_an_order_of_ones_own_are_no_matter() -> None:
    others = [
        air_test(on=DAY + timedelta(days=1)),
        Event("condensation-test", DAY, 40, passed=True, id=2),
        *(Event(kind, DAY, DAY_ORDER[kind], id=3) for kind in FAULTS),
    ]
    assert taken_before(logged("battery"), others) is None
    assert taken_before(logged("battery", order=45), [air_test()]) is None
    assert taken_before(logged("battery", order=40), [air_test()]) is None  # entered later, so it is later


def test_of_two_tests_the_last_of_the_day_is_named() -> None:
    last = air_test(order=47, id_=2)
    assert taken_before(logged("battery"), [last, air_test()]) == last


@pytest.mark.parametrize(
    ("order", "after"), [(40, 45), (0, 45), (44, 45), (45, 46), (55, 56), (10_000, 10_000)]
)
def test_the_order_offered_puts_it_after_the_test(order: int, after: int) -> None:
    test = air_test(order=order)
    assert order_after(test) == after
    assert moment(logged("battery", order=after)) > moment(test)


@pytest.mark.parametrize("fault", FAULTS)
@pytest.mark.parametrize("opening", sorted(OPENINGS))
def test_a_fault_and_an_opening_of_one_day_are_read_with_the_fault_last_and_it_is_named(
    fault: EventKind, opening: EventKind
) -> None:
    """Whichever was typed first; amended to the front of its day, the fault is before the opening."""
    seen, opened = Event(fault, DAY, DAY_ORDER[fault], id=1), Event(opening, DAY, DAY_ORDER[opening], id=2)
    assert read_after_opening(opened, record(seen)) == seen
    assert read_after_opening(seen, record(opened)) == seen
    first = replace(seen, order=ORDER_FIRST)
    assert read_after_opening(opened, record(first)) is None
    assert DAY_ORDER[opening] > ORDER_FIRST


def test_a_knock_and_a_fault_of_another_day_are_no_matter_to_an_opening() -> None:
    others = Event("knock", DAY, 60, id=1), Event("fog", DAY - timedelta(days=1), 60, id=2)
    assert read_after_opening(logged("battery"), record(*others)) is None
    assert read_after_opening(air_test(), record(Event("fog", DAY, 60, id=1))) is None


def test_the_order_of_a_day_is_told_of_a_fault_read_after_an_opening_and_of_a_pass_and_a_fault() -> None:
    fog = Event("fog", DAY, DAY_ORDER["fog"], id=1)
    assert order_words(logged("battery"), record(fog), False) == "battery changed, then fog seen inside"
    assert order_words(replace(fog, id=None), record(logged("battery")), False) == (
        "battery changed, then fog seen inside"
    )
    assert order_words(fog, record(air_test(id_=2)), False) == "pressure test passed, then fog seen inside"
    assert order_words(logged("battery"), record(replace(fog, order=ORDER_FIRST)), False) == ""
    assert order_words(logged("strap"), record(fog), False) == ""
    assert order_words(logged("battery"), record(Event("fog", DAY - timedelta(days=1), 60, id=1)), True) == ""


def test_an_entry_that_is_amended_is_told_once() -> None:
    fog = Event("fog", DAY, DAY_ORDER["fog"], id=1)
    opened = logged("battery")
    assert order_words(replace(opened, note="cell"), record(fog, opened), False) == (
        "battery changed, then fog seen inside"
    )
