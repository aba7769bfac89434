"""Any order of actions keeps the books straight, and undo and redo walk through the exact states."""

from __future__ import annotations

import shutil
import tempfile
from dataclasses import replace
from datetime import date, time, timedelta
from pathlib import Path
from typing import Any

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    precondition,
    rule,
    run_state_machine_as_test,
)

from logbook.model import values as v
from logbook.model.practice import parse
from logbook.record.file import backup, doctor
from logbook.record.file.practice_file import shipped_path
from logbook.record.file.record_file import FiledWatch, RecordFile
from logbook.record.file.store import Store
from logbook.record.ledger import raising
from logbook.record.reading import glance
from logbook.record.writing import events, exposures, habits, merge, undo, watches
from logbook.record.writing.strike import strike
from tests.effort import tries
from tests.record import making
from tests.record.making import a_dive, a_watch, content, its_seals

PRACTICE = parse(shipped_path().read_text(encoding="utf-8"))
NEAR = st.dates(date(2024, 1, 1), date(2024, 1, 20))
POINTS = st.integers(0, 1000)
WATCHES = st.sampled_from([1, 2])


# Few draws each, so that hypothesis has enough left for long runs.


def contact(
    on: date,
    length_s: int,
    start: tuple[time, int] | None,
    water: v.Water,
    planned: bool,
    how: dict[str, Any],
) -> v.Exposure:
    at, offset_s = start or (None, None)
    return a_dive(
        None,
        on,
        duration_s=length_s,
        starts_at=at,
        utc_offset_s=offset_s,
        water=water,
        planned=planned,
        **how,
    )


STARTS = st.sampled_from([time(0), time(10, 40), time(23, 59)])
DEEPER = {"depth_m": 120.0, "gauge_pa": 1.2e6}
DEEPEST = {"depth_m": 260.0, "gauge_pa": 2.6e6}
OFFSETS_S = st.sampled_from([-36_000, 0, 43_200])
CONTACTS = st.builds(
    contact,
    NEAR,
    st.sampled_from([60, 2_280, 40_000, 172_800]),
    st.none() | st.tuples(STARTS, OFFSETS_S),
    st.sampled_from(["sea", "soap"]),
    st.sampled_from([False, False, False, True]),
    # Some overstress the watch, or go beyond its proof.
    st.sampled_from([{}, {}, {"crown_under": 1}, DEEPER, DEEPEST]),
)  # fmt: skip
EVENTS = st.builds(
    lambda kind, on, order: v.Event(
        kind, on, order, passed=True if kind.endswith("-test") else None,
        repaired="crown-damaged" if kind == "repaired" else None,
        seals=(("crown", "FKM"), ("pushers", "NBR")) if kind == "gaskets" else (),
    ),
    st.sampled_from(v.EVENT_KINDS), NEAR, st.sampled_from([10, 20, 55]),
)  # fmt: skip
DESCRIPTIONS = st.builds(
    lambda start, worn_h, crown, marked_pa: a_watch(
        recorded_from=start, worn_h=worn_h, crown=crown, marked_pa=marked_pa
    ),
    NEAR, st.sampled_from([0.0, 1.0, 24.0]), st.sampled_from(v.CROWNS), st.sampled_from([5e5, 20e5]),
)  # fmt: skip
HABITS = st.builds(
    lambda e, on, days: v.Habit(e, 1.0, on, None if days is None else on + timedelta(days=days)),
    CONTACTS, NEAR, st.none() | st.integers(0, 5),
)  # fmt: skip


class Keeping(RuleBasedStateMachine):
    """A record with two watches; beside it what its content was after each action that undo can reach."""

    template: Path

    def __init__(self) -> None:
        super().__init__()
        self.folder = Path(tempfile.mkdtemp())
        self.path = self.folder / "record.logbook"
        shutil.copy(self.template, self.path)
        self.store = Store.open(self.path)
        self.states = [content(self.store)]
        self.now = 0
        self.backups: list[tuple[Path, list[Any], int]] = []

    def teardown(self) -> None:
        self.store.close()
        shutil.rmtree(self.folder)

    def done(self) -> None:
        """An action is over: what could be redone is gone, and its state is the newest."""
        after = content(self.store)
        if after != self.states[self.now]:
            self.states = [*self.states[: self.now + 1], after]
            self.now += 1

    def ids(self, table: str) -> list[int]:
        return [id_ for (id_,) in self.store.rows(f"SELECT id FROM {table} ORDER BY id")]

    def pick(self, table: str, point: int) -> int | None:
        ids = self.ids(table)
        return ids[point % len(ids)] if ids else None

    @initialize(start=NEAR, range_days=st.integers(0, 60))
    def two_watches(self, start: date, range_days: int) -> None:
        fitted = date.fromordinal(start.toordinal() - range_days)
        unsure = [
            v.Seal(p, "NBR", date.fromordinal(fitted.toordinal() - 40), start) for p in making.POSITIONS
        ]
        watches.add(self.store, a_watch(recorded_from=start), its_seals(fitted), [], PRACTICE)
        self.done()
        watches.add(self.store, a_watch("Sunday dress", crown="pushed", worn_h=2.0), unsure, [], PRACTICE)
        self.done()

    @rule(
        watch_id=WATCHES,
        items=st.lists(CONTACTS, min_size=1, max_size=3),
    )
    def log(self, watch_id: int, items: list[v.Exposure]) -> None:
        exposures.add(self.store, [replace(e, watch_id=watch_id) for e in items], PRACTICE)
        self.done()

    @rule(watch_id=WATCHES, items=st.lists(CONTACTS, min_size=1, max_size=2))
    def bring_in(self, watch_id: int, items: list[v.Exposure]) -> None:
        """Exposures of a file, each with what it was there."""
        named = [replace(e, watch_id=watch_id) for e in items]
        origins = [f"dive {n}" for n in range(len(named))]
        exposures.add(self.store, named, PRACTICE, "import some", origins)
        self.done()

    @rule(other=DESCRIPTIONS, items=st.lists(CONTACTS, min_size=1, max_size=2), on=NEAR)
    def bring_in_a_record(self, other: v.Watch, items: list[v.Exposure], on: date) -> None:
        """A record of another watch, which is here since something of it came in before, or is not."""
        filed = replace(other, name="From a file", pushers=True, gas_valve=True, id=2)
        file = RecordFile(
            "other.json",
            watches=(FiledWatch(filed, tuple(its_seals(filed.recorded_from))),),
            exposures=tuple(replace(e, watch_id=2, id=10 + n) for n, e in enumerate(items)),
            events=(replace(making.a_test(2, on), id=20),),
            whole=False,
        )
        merge.bring_in(self.store, file, PRACTICE)
        self.done()
        assert merge.bring_in(self.store, file, PRACTICE).nothing
        assert content(self.store) == self.states[self.now]

    @rule(point=POINTS, watch_id=WATCHES, changed=CONTACTS)
    def amend(self, point: int, watch_id: int, changed: v.Exposure) -> None:
        id_ = self.pick("exposure", point)
        if id_ is not None:
            exposures.amend(self.store, replace(changed, id=id_, watch_id=watch_id), PRACTICE)
            self.done()

    @rule(point=POINTS, on=NEAR)
    def confirm_a_plan(self, point: int, on: date) -> None:
        plans = glance.read_exposures(self.store.rows, planned=True)
        if plans:
            plan = plans[point % len(plans)]
            exposures.confirm_plan(self.store, plan.id or 0, a_dive(plan.watch_id, on), PRACTICE)
            self.done()

    @rule(table=st.sampled_from(["exposure", "event", "habit", "worn_stretch"]), point=POINTS)
    def strike(self, table: str, point: int) -> None:
        id_ = self.pick(table, point)
        if id_ is not None:
            strike(self.store, id_, PRACTICE)
            self.done()

    @rule(
        watch_id=WATCHES,
        on=NEAR,
        places=st.lists(st.sampled_from(making.POSITIONS), min_size=1, unique=True),
    )
    def gaskets(self, watch_id: int, on: date, places: list[v.Position]) -> None:
        event = making.gaskets(watch_id, on, *((place, "FKM") for place in places))
        events.add(self.store, [event], PRACTICE)
        self.done()

    @rule(watch_id=WATCHES, event=EVENTS)
    def something_at_the_workshop(self, watch_id: int, event: v.Event) -> None:
        events.add(self.store, [replace(event, watch_id=watch_id)], PRACTICE)
        self.done()

    @rule(point=POINTS, event=EVENTS)
    def amend_event(self, point: int, event: v.Event) -> None:
        id_ = self.pick("event", point)
        if id_ is not None:
            watch_id = glance.read_event(self.store.rows, id_).watch_id
            events.amend(self.store, replace(event, id=id_, watch_id=watch_id), PRACTICE)
            self.done()

    @rule(watch_id=WATCHES, stretch=making.stretches())
    def stretch(self, watch_id: int, stretch: v.WornStretch) -> None:
        habits.add_stretches(self.store, [replace(stretch, watch_id=watch_id)], PRACTICE)
        self.done()

    @rule(watch_id=WATCHES, habit=HABITS)
    def habit(self, watch_id: int, habit: v.Habit) -> None:
        habits.add_habit(self.store, replace(habit, watch_id=watch_id), PRACTICE)
        self.done()

    @rule(watch_id=WATCHES, watch=DESCRIPTIONS)
    def edit(self, watch_id: int, watch: v.Watch) -> None:
        watches.edit(self.store, replace(watch, name=f"Watch {watch_id}", id=watch_id), PRACTICE)
        self.done()

    @rule(watch_id=WATCHES, point=POINTS, seal=making.seals())
    def correct_a_seal(self, watch_id: int, point: int, seal: v.Seal) -> None:
        seals = [s for s in making.record_of(self.store, watch_id).seals if s.event_id is None]
        if seals:
            chosen = seals[point % len(seals)]
            corrected = replace(seal, id=chosen.id, position=chosen.position)
            watches.set_seals(self.store, watch_id, [corrected], PRACTICE)
            self.done()

    @precondition(lambda self: self.now > 2)  # the two watches stay, so that the rules have something to use
    @rule()
    def undo(self) -> None:
        undo.undo(self.store, PRACTICE)
        self.now -= 1
        assert content(self.store) == self.states[self.now]

    @precondition(lambda self: self.now + 1 < len(self.states))
    @rule()
    def redo(self) -> None:
        undo.redo(self.store, PRACTICE)
        self.now += 1
        assert content(self.store) == self.states[self.now]

    @precondition(lambda self: len(self.backups) < 2)
    @rule()
    def back_up(self) -> None:
        target = self.folder / f"backup-{len(self.backups)}"
        backup.backup(self.store, target)
        self.backups.append((target, list(self.states), self.now))

    @precondition(lambda self: self.backups)
    @rule(point=POINTS)
    def restore(self, point: int) -> None:
        source, self.states, self.now = self.backups[point % len(self.backups)]
        backup.restore(self.path, source)  # while the store is open: it must notice
        assert content(self.store) == self.states[self.now]

    @invariant()
    def the_books_are_straight(self) -> None:
        assert doctor.examine(self.path, PRACTICE) == []

    @invariant()
    def what_exposures_raised_is_what_they_would_raise_now(self) -> None:
        with self.store.reading() as rows:
            anew = [
                row
                for record in glance.read_records(rows, retired=True)
                for row in raising.raised_rows(rows, record, PRACTICE)
            ]
            kept = [(id_, code) for id_, code in rows("SELECT exposure_id, code FROM raised", ())]
        assert sorted(kept) == sorted(anew)


@pytest.fixture
def machine(tmp_path: Path) -> type[Keeping]:
    path = tmp_path / "template.logbook"
    Store.open(path, create=True).close()
    return type("KeepingHere", (Keeping,), {"template": path})


def test_any_order_of_actions_keeps_the_books_straight(machine: type[Keeping]) -> None:
    run_state_machine_as_test(
        machine, settings=settings(max_examples=tries(100), stateful_step_count=30, deadline=None)
    )


@pytest.mark.release
def test_any_order_of_many_actions_keeps_the_books_straight(machine: type[Keeping]) -> None:
    run_state_machine_as_test(
        machine, settings=settings(max_examples=1000, stateful_step_count=50, deadline=None)
    )
