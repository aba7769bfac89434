"""Whatever happens on whichever day: each stage that a run sees is told exactly once."""

from __future__ import annotations

import tempfile
from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from logbook.errors import SystemTrouble
from logbook.exchange.notices import Notice, notices_of
from logbook.exchange.telling import tell_new
from logbook.keeping.store import Store
from logbook.reckoning.due import DueItem, asks_now
from tests.due_items import DUE, due_item

IDS = ("1:pressure-test", "1:strap", "1:gaskets:crown", "2:battery", "2:gaskets:crystal")


class Noting:
    """A notifier that notes what it showed; it fails at the notice of that number."""

    name = "noting"

    def __init__(self, fails_at: int | None = None) -> None:
        self.fails_at = fails_at
        self.shown: list[DueItem] = []
        self.count = 0

    def notices(self, items: Sequence[DueItem]) -> list[Notice]:
        return notices_of(items)

    def send(self, notice: Notice) -> None:
        if self.count == self.fails_at:
            raise SystemTrouble("The notifier fell over.")
        self.count += 1
        self.shown += notice.items


class Reminded(RuleBasedStateMachine):
    """An owner with five tasks, a scheduler that runs at any time, and a notifier that sometimes fails."""

    @initialize(shifts=st.lists(st.integers(-60, 60), min_size=len(IDS), max_size=len(IDS)))
    def begin(self, shifts: list[int]) -> None:
        self.folder = tempfile.TemporaryDirectory()
        self.store = Store.open(Path(self.folder.name) / "record.logbook", create=True)
        self.day = date(2026, 5, 1)
        self.due = {id_: DUE + timedelta(days=shift) for id_, shift in zip(IDS, shifts, strict=True)}
        self.planned = dict(self.due)
        self.snoozed: dict[str, date] = {}
        self.heard: list[tuple[str, str, date | None]] = []

    def teardown(self) -> None:
        if hasattr(self, "store"):
            self.store.close()
            self.folder.cleanup()

    def asking(self) -> list[DueItem]:
        items = [
            due_item(id_, on=self.day, due=due, task=id_.split(":")[1], snoozed_until=self.snoozed.get(id_))
            for id_, due in self.due.items()
        ]
        return asks_now(items, self.day)

    @rule(days=st.integers(1, 20))
    def time_passes(self, days: int) -> None:
        self.day += timedelta(days=days)

    @rule(id_=st.sampled_from(IDS), days=st.integers(1, 40))
    def is_snoozed(self, id_: str, days: int) -> None:
        self.snoozed[id_] = self.day + timedelta(days=days)

    @rule(id_=st.sampled_from(IDS), days=st.integers(-40, 40))
    def date_wanders(self, id_: str, days: int) -> None:
        self.due[id_] = self.planned[id_] + timedelta(days=days)

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
        try:
            tell_new(self.store, self.asking(), self.day, find=lambda: noting)
        finally:
            self.heard += [self._key(item) for item in noting.shown]

    @staticmethod
    def _key(item: DueItem) -> tuple[str, str, date | None]:
        return item.id, item.stage, item.snoozed_until

    def _was_told(self, item: DueItem) -> bool:
        """The stage was told, and since the snooze of now if there is one."""
        return any(
            (id_, stage) == (item.id, item.stage) and (snooze or date.min) >= (item.snoozed_until or date.min)
            for id_, stage, snooze in self.heard
        )

    @invariant()
    def nothing_is_told_twice(self) -> None:
        heard = getattr(self, "heard", [])
        assert len(heard) == len(set(heard))


Reminded.TestCase.settings = settings(max_examples=60, stateful_step_count=30, deadline=None)
TestReminded = Reminded.TestCase


@pytest.fixture
def store(tmp_path: Path) -> Store:
    return Store.open(tmp_path / "record.logbook", create=True)


def told(store: Store, item: DueItem, day: date = DUE) -> int:
    """How many notices a run gives for one item."""
    return len(tell_new(store, [item], day, find=Noting).items)


def test_a_date_that_wanders_is_told_once_and_one_put_off_by_a_season_again(store: Store) -> None:
    item = due_item(on=DUE)
    assert told(store, item) == 1
    assert told(store, replace(item, due=DUE + timedelta(days=90))) == 0
    assert told(store, replace(item, due=DUE + timedelta(days=91))) == 1
    assert told(store, replace(item, due=DUE + timedelta(days=91))) == 0


def test_a_snooze_that_is_taken_back_is_no_news(store: Store) -> None:
    item = due_item(on=DUE, snoozed_until=DUE)
    assert told(store, item) == 1
    assert told(store, replace(item, snoozed_until=None)) == 0


def test_the_dates_of_gaskets_that_were_told_are_named(store: Store) -> None:
    gaskets = due_item("1:gaskets:crown:2025-06-01", on=DUE, task="gaskets", position="crown")
    told(store, gaskets)
    told(store, due_item(on=DUE))
    assert store.rows("SELECT item_id, due_on, named_on FROM named_date") == [
        ("1:gaskets:crown:2025-06-01", "2026-06-10", "2026-06-10")
    ]


def test_an_interruption_takes_the_claim_back(store: Store) -> None:
    class Interrupted(Noting):
        def send(self, notice: Notice) -> None:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        tell_new(store, [due_item(on=DUE)], DUE, find=Interrupted)
    assert told(store, due_item(on=DUE)) == 1
