"""Whatever happens on whichever day: each stage that a run sees is told exactly once."""

from __future__ import annotations

import tempfile
from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from logbook.errors import SystemTrouble
from logbook.model.due.services import Service, services_of
from logbook.model.due.tasks import STAGES, DueItem, asks_now
from logbook.model.values import Event
from logbook.record.file.store import Store
from logbook.record.writing.told import forget_told
from logbook.reminders.notices import Notice, notices_of
from logbook.reminders.telling import tell_new
from tests.due_items import DUE, days, due_item
from tests.due_items import service as service_of
from tests.effort import tries

IDS = ("1:pressure-test", "1:strap", "1:gaskets:crown", "2:battery", "2:gaskets:crystal")


WANDERS = timedelta(days=90)  # of gaskets, whose dates move by themselves


def later(one: DueItem, other: DueItem) -> bool:
    return STAGES.index(one.stage) > STAGES.index(other.stage)


class Noting:
    """A notifier that notes what it showed; it fails at the notice of that number."""

    name = "noting"

    def __init__(self, fails_at: int | None = None) -> None:
        self.fails_at = fails_at
        self.shown: list[DueItem] = []
        self.count = 0

    def notices(self, services: Sequence[Service]) -> list[Notice]:
        return notices_of(services)

    def send(self, notice: Notice) -> None:
        if self.count == self.fails_at:
            raise SystemTrouble("The notifier fell over.")
        self.count += 1
        self.shown += [item for service in notice.services for item in service.asking]


class Reminded(RuleBasedStateMachine):
    """An owner with five tasks, a scheduler that runs at any time, and a notifier that sometimes fails.

    Each task is a service of its own.

    For each task `heard` is what was told since its stage last went back with its date; `since` is what was
    told since then or, if that was later, since its owner last changed its date.
    """

    @initialize(shifts=st.lists(st.integers(-60, 60), min_size=len(IDS), max_size=len(IDS)))
    def begin(self, shifts: list[int]) -> None:
        self.folder = tempfile.TemporaryDirectory()
        self.store = Store.open(Path(self.folder.name) / "record.logbook", create=True)
        self.day = date(2026, 5, 1)
        self.due = {id_: DUE + timedelta(days=shift) for id_, shift in zip(IDS, shifts, strict=True)}
        self.planned = dict(self.due)
        self.snoozed: dict[str, date] = {}
        self.heard: dict[str, list[DueItem]] = {id_: [] for id_ in IDS}
        self.since: dict[str, list[DueItem]] = {id_: [] for id_ in IDS}

    def teardown(self) -> None:
        if hasattr(self, "store"):
            self.store.close()
            self.folder.cleanup()

    def items(self) -> list[DueItem]:
        return [
            due_item(id_, on=self.day, due=due, task=id_.split(":")[1], snoozed_until=self.snoozed.get(id_))
            for id_, due in self.due.items()
        ]

    def asking(self) -> list[DueItem]:
        return asks_now(self.items(), self.day)

    @rule(days=st.integers(1, 20))
    def time_passes(self, days: int) -> None:
        self.day += timedelta(days=days)

    @rule(id_=st.sampled_from(IDS), days=st.integers(1, 40))
    def is_snoozed(self, id_: str, days: int) -> None:
        self.snoozed[id_] = self.day + timedelta(days=days)

    @rule(id_=st.sampled_from([id_ for id_ in IDS if "gaskets" in id_]), days=st.integers(-40, 40))
    def date_wanders(self, id_: str, days: int) -> None:
        self.due[id_] = self.planned[id_] + timedelta(days=days)

    @rule(id_=st.sampled_from(IDS), days=st.sampled_from((-61, -1, 1, 30, 61, 365)))
    def owner_edits_the_interval(self, id_: str, days: int) -> None:
        self.planned[id_] += timedelta(days=days)
        self.due[id_] = self.planned[id_]
        self.since[id_] = []

    @rule(times=st.integers(1, 3))
    def scheduler_runs(self, times: int) -> None:
        for _ in range(times):
            self._run(Noting())
        for item in self.asking():
            assert self._was_told(item), item

    @precondition(lambda self: self.asking())
    @rule(fails_at=st.integers(0, 2))
    def notifier_fails(self, fails_at: int) -> None:
        noting = Noting(fails_at)
        try:
            self._run(noting)
        except SystemTrouble:
            assert noting.count == fails_at

    def _run(self, noting: Noting) -> None:
        for item in self.items():
            silent = item.stage != "later" and item not in self.asking()
            if not silent and any(later(told, item) and told.due != item.due for told in self.heard[item.id]):
                self.heard[item.id], self.since[item.id] = [], []
        try:
            services = [service_of(item, on=self.day) for item in self.items()]
            tell_new(self.store, services, self.day, find=lambda: noting)
        finally:
            for item in noting.shown:
                self.heard[item.id].append(item)
                self.since[item.id].append(item)

    def _was_told(self, item: DueItem) -> bool:
        """The stage was told for this date, and since the snooze of now if there is one."""
        return any(
            told.stage == item.stage
            and (told.due == item.due or (item.task == "gaskets" and item.due - told.due <= WANDERS))
            and (told.snoozed_until or date.min) >= (item.snoozed_until or date.min)
            for told in self.heard[item.id]
        )

    @invariant()
    def nothing_is_told_twice(self) -> None:
        for told in getattr(self, "since", {}).values():
            assert len(told) == len({(item.stage, item.snoozed_until) for item in told}), told


Reminded.TestCase.settings = settings(max_examples=tries(60), stateful_step_count=30, deadline=None)
TestReminded = Reminded.TestCase


@pytest.fixture
def store(tmp_path: Path) -> Store:
    return Store.open(tmp_path / "record.logbook", create=True)


def told(store: Store, item: DueItem, day: date = DUE) -> int:
    """How many notices a run gives for one item."""
    return told_of(store, item, day=day)


def told_of(store: Store, *items: DueItem, day: date = DUE, troubles: tuple[Event, ...] = ()) -> int:
    """How many notices a run gives for one service."""
    return len(tell_new(store, [service_of(*items, on=day, troubles=troubles)], day, find=Noting).services)


GASKETS = due_item("1:gaskets:crown:2025-06-01", on=DUE, task="gaskets", position="crown")


def seen(item: DueItem, on: date, due: date) -> DueItem:
    """The item with another date, seen from a day."""
    return due_item(item.id, on=on, due=due, task=item.task, position=item.position)


def test_a_gasket_date_that_wanders_is_told_once_and_one_put_off_by_a_season_again(store: Store) -> None:
    assert told(store, GASKETS) == 1
    assert told(store, replace(GASKETS, due=DUE + timedelta(days=90))) == 0
    assert told(store, replace(GASKETS, due=DUE + timedelta(days=91))) == 1
    assert told(store, replace(GASKETS, due=DUE + timedelta(days=91))) == 0


@pytest.mark.parametrize("days", [-1, 1, 14])
def test_a_fixed_date_that_is_changed_is_a_new_one(store: Store, days: int) -> None:
    item = due_item(on=DUE)
    assert told(store, item) == 1
    assert told(store, replace(item, due=DUE + timedelta(days=days))) == 1
    assert told(store, replace(item, due=DUE + timedelta(days=days))) == 0


@pytest.mark.parametrize("item", [due_item(), GASKETS])
@pytest.mark.parametrize("between", [(), (30,), (40,), (30, 40)])
def test_a_date_that_was_told_in_every_stage_and_is_put_off_is_told_as_due_and_overdue_again(
    store: Store, item: DueItem, between: tuple[int, ...]
) -> None:
    """Put off by 61 days: seen as later, as coming up, as both or as none of them on its way."""
    for on in days(DUE, -30, 0, 14):
        assert told(store, seen(item, on, DUE), on) == 1
    moved = DUE + timedelta(days=61)
    for on in days(DUE, *between):
        told(store, seen(item, on, moved), on)
    for on in days(moved, 0, 14):
        assert told(store, seen(item, on, moved), on) == 1, on
        assert told(store, seen(item, on, moved), on) == 0, on


def test_an_item_that_is_later_again_and_comes_back_to_its_date_is_told_again(store: Store) -> None:
    item = due_item(on=DUE)
    assert told(store, item) == 1
    assert told(store, seen(item, DUE, DUE + timedelta(days=365))) == 0
    assert told(store, item) == 1


def test_a_clock_that_goes_back_makes_nothing_new(store: Store) -> None:
    assert told(store, due_item(on=DUE)) == 1
    before = DUE - timedelta(days=60)
    assert told(store, seen(due_item(), before, DUE), before) == 0
    assert told(store, due_item(on=DUE)) == 0


def test_what_was_told_can_be_forgotten_as_a_whole(store: Store) -> None:
    assert told(store, due_item(on=DUE)) == told(store, GASKETS) == 1
    with store.transaction() as session:
        forget_told(session)
    assert store.rows("SELECT item_id FROM named_date") == []
    assert told(store, due_item(on=DUE)) == told(store, GASKETS) == 1


def test_a_snooze_that_is_taken_back_is_no_news(store: Store) -> None:
    item = due_item(on=DUE, snoozed_until=DUE)
    assert told(store, item) == 1
    assert told(store, replace(item, snoozed_until=None)) == 0


def test_the_dates_of_gaskets_that_were_told_are_named(store: Store) -> None:
    told(store, GASKETS)
    told(store, due_item(on=DUE))
    assert store.rows("SELECT item_id, due_on, named_on FROM named_date") == [
        ("1:gaskets:crown:2025-06-01", "2026-06-10", "2026-06-10")
    ]


def test_an_interruption_takes_the_claim_back(store: Store) -> None:
    class Interrupted(Noting):
        def send(self, notice: Notice) -> None:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        tell_new(store, [service_of(due_item(on=DUE))], DUE, find=Interrupted)
    assert told(store, due_item(on=DUE)) == 1


# ---------------------------------------------------------------- several tasks of one service

STRAP = "1:strap:2024-06-20"


def strap(day: date, **given: Any) -> DueItem:
    """A strap that is due twenty days after the pressure test, seen from a day."""
    return due_item(STRAP, on=day, task="strap", due=DUE + timedelta(days=20), **given)


def test_a_service_is_told_once_in_each_of_its_stages_whichever_task_brings_it_there(store: Store) -> None:
    heard = []
    for day in days(DUE, *range(-60, 60)):
        if told_of(store, due_item(on=day), strap(day), day=day):
            heard.append((day - DUE).days)
    # The test alone: coming up 30 days before, due, overdue 14 days after. The strap brings nothing new.
    assert heard == [-30, 0, 14]


def test_what_is_left_of_a_service_is_told_as_the_service_that_it_is_then(store: Store) -> None:
    day = DUE + timedelta(days=25)
    assert told_of(store, due_item(on=day), strap(day), day=day) == 1
    done = due_item("1:pressure-test:2026-07-05", on=day, due=date(2027, 7, 5))
    assert len(tell_new(store, services_of([done, strap(day)], day), day, find=Noting).services) == 0
    overdue = DUE + timedelta(days=34)
    assert told_of(store, strap(overdue), day=overdue) == 1


def test_a_snooze_of_one_task_that_ends_is_told_though_the_service_was(store: Store) -> None:
    ends = DUE + timedelta(days=5)
    assert told_of(store, due_item(on=DUE), strap(DUE, snoozed_until=ends)) == 1
    before = ends - timedelta(days=1)
    assert told_of(store, due_item(on=before), strap(before, snoozed_until=ends), day=before) == 0
    assert told_of(store, due_item(on=ends), strap(ends, snoozed_until=ends), day=ends) == 1
    assert told_of(store, due_item(on=ends), strap(ends, snoozed_until=ends), day=ends) == 0


def test_a_fault_is_told_at_once_though_its_service_was_told_in_that_stage(store: Store) -> None:
    day = DUE + timedelta(days=40)
    assert told_of(store, due_item(on=day), strap(day), day=day) == 1
    fog = due_item("1:pressure-test:2026-07-20:fog-7", on=day)
    troubles = (Event("fog", day, 60, id=7),)
    assert told_of(store, fog, strap(day), day=day, troubles=troubles) == 1
    assert told_of(store, fog, strap(day), day=day, troubles=troubles) == 0


# ---------------------------------------------------------------- gaskets, told of each seal before

CROWN, CRYSTAL = (f"1:gaskets:{place}:2025-06-01" for place in ("crown", "crystal"))


def as_one(day: date, due: date = DUE, **given: Any) -> DueItem:
    """The one gasket task of a watch whose seals were tasks of their own."""
    return due_item(
        "1:gaskets:2025-06-01", on=day, due=due, task="gaskets", position="crown",
        formerly=(CROWN, CRYSTAL), **given,
    )  # fmt: skip


def of_a_seal(id_: str, day: date, due: date = DUE) -> DueItem:
    return due_item(id_, on=day, due=due, task="gaskets")


@pytest.mark.parametrize("id_", [CROWN, CRYSTAL])
@pytest.mark.parametrize("later", [0, 60, 90])
def test_what_was_told_of_one_seal_is_not_told_again_of_the_gaskets(
    store: Store, id_: str, later: int
) -> None:
    """The date of the whole is a later one, so that an earlier stage comes back: that is no news either."""
    for on in days(DUE, -30, 0, 14):
        assert told(store, of_a_seal(id_, on), on) == 1
    for on in days(DUE, 15, 30, 45):
        assert told(store, as_one(on, DUE + timedelta(days=later)), on) == 0


def test_what_was_told_as_overdue_alone_covers_the_stages_before_it(store: Store) -> None:
    overdue = DUE + timedelta(days=20)
    assert told(store, of_a_seal(CROWN, overdue), overdue) == 1
    assert told(store, as_one(overdue, DUE + timedelta(days=45)), overdue) == 0


def test_gaskets_whose_date_is_more_than_a_season_later_are_told_anew(store: Store) -> None:
    assert told(store, of_a_seal(CROWN, DUE)) == 1
    moved = DUE + timedelta(days=91)
    assert told(store, as_one(moved, moved), moved) == 1
    assert told(store, as_one(moved, moved), moved) == 0


def test_a_snooze_of_one_seal_that_ended_untold_is_told_once(store: Store) -> None:
    assert told(store, of_a_seal(CROWN, DUE)) == 1
    ended = as_one(DUE, snoozed_until=DUE)
    assert told(store, ended) == 1
    assert told(store, ended) == 0
