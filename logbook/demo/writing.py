"""Writes a scenario as a record, through the record's own functions and in few actions."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path

from logbook.demo.scenario import Scenario
from logbook.model.judge.standing import stand
from logbook.model.practice import Practice
from logbook.record.file.store import Store
from logbook.record.reading import glance
from logbook.record.writing import exposures, habits, settings, snoozes, watches


def write_record(
    path: Path, scenario: Scenario, today: date, practice: Practice, tell: Callable[[str], None]
) -> None:
    """A new record at `path` that holds the scenario; when anything fails, no file is left there."""
    try:
        with Store.open(path, create=True) as store:
            _write(store, scenario, today, practice, tell)
    except BaseException:
        path.unlink(missing_ok=True)
        raise


def _write(
    store: Store, scenario: Scenario, today: date, practice: Practice, tell: Callable[[str], None]
) -> None:
    tell("writing the watches")
    settings.write(store, scenario.settings)
    ids = [watches.add(store, s.watch, s.seals, s.events, practice) for s in scenario.stories]
    told = list(zip(ids, scenario.stories, strict=True))
    stretches = [replace(w, watch_id=watch_id) for watch_id, s in told for w in s.stretches]
    if stretches:
        habits.add_stretches(store, stretches, practice)
    for habit in [replace(h, watch_id=watch_id) for watch_id, s in told for h in s.habits]:
        habits.add_habit(store, habit, practice)
    tell("writing two years of water")
    # After everything that affects the hours, so that each exposure is charged once.
    happened = [replace(e, watch_id=watch_id) for watch_id, s in told for e in s.exposures]
    happened.sort(key=lambda e: (e.starts_on, e.watch_id))
    exposures.add(store, happened, practice, label=f"log {len(happened)} exposures")
    tell("writing what is planned")
    for watch_id, story in told:
        for task, until in story.snoozed.items():
            _snooze(store, watch_id, task, until, today, practice)
    plans = [replace(e, watch_id=watch_id) for watch_id, s in told for e in s.plans]
    if plans:  # last, so that a first undo takes back something small
        exposures.add(store, plans, practice, label=f"plan {len(plans)} exposures")


def _snooze(store: Store, watch_id: int, task: str, until: date, today: date, practice: Practice) -> None:
    with store.reading() as rows:
        record = glance.read_records(rows, watch_id=watch_id, retired=True)[0]
    for item in stand(record, practice, today).due:
        if item.task == task:
            snoozes.snooze(store, item.id, until)
