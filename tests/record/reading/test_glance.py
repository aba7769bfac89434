"""What can be shown at once: read through the standard driver alone, the same as through the store."""

from __future__ import annotations

import os
import sqlite3
import subprocess
import sys
from datetime import date, time, timedelta
from pathlib import Path

import pytest

import logbook
from logbook.errors import NotFound
from logbook.model.practice import Practice
from logbook.model.values import Event, Exposure, ProfilePoint
from logbook.record.file.store import Store
from logbook.record.reading import glance
from logbook.record.writing import events, exposures, watches
from logbook.record.writing.strike import strike
from tests.record.making import a_dive, a_test, a_watch, gaskets, its_seals

DAY = date(2024, 5, 1)
NEXT = date(2024, 5, 2)
HEAVY = (
    "sqlmodel",
    "sqlalchemy",
    "alembic",
    "pydantic",
    "numpy",
    "gsw",
    "pint",
    "textual",
    "rainflow",
    "scipy",
)


@pytest.fixture
def watch_id(store: Store, practice: Practice) -> int:
    return watches.add(store, a_watch(), its_seals(), [], practice)


def test_a_glance_loads_nothing_heavy(store: Store, path: Path, practice: Practice, watch_id: int) -> None:
    exposures.add(store, [a_dive(watch_id, profile=(ProfilePoint(0, 0),))], practice)
    code = f"""
import sys
from pathlib import Path
from logbook.record.reading import glance
from logbook.record.file import places, practice_file
places.default_location()
practice = practice_file.load_practice()
with glance.open_rows(Path({str(path)!r})) as rows:
    assert len(glance.read_records(rows)) == 1
    assert len(glance.read_log(rows)) == 1
    assert glance.read_exposure(rows, 1).profile
    assert not glance.is_stale(rows, practice)
    glance.read_settings(rows)
print([name for name in {HEAVY} if name in sys.modules])
"""
    env = {**os.environ, "PYTHONPATH": str(Path(logbook.__file__).parents[1])}
    told = subprocess.run([sys.executable, "-c", code], env=env, capture_output=True, text=True, check=True)
    assert told.stdout.strip() == "[]"


def test_a_glance_reads_the_same_as_the_store(
    store: Store, path: Path, practice: Practice, watch_id: int
) -> None:
    exposures.add(store, [a_dive(watch_id)], practice)
    events.add(store, [gaskets(watch_id, NEXT, ("crown", "FKM"))], practice)
    with glance.open_rows(path) as rows:
        assert glance.read_records(rows) == glance.read_records(store.rows)
        assert glance.read_log(rows) == glance.read_log(store.rows)


def test_a_glance_cannot_write(store: Store, path: Path) -> None:
    from logbook.errors import RecordTrouble

    with pytest.raises(RecordTrouble, match="read-only"), glance.open_rows(path) as rows:
        rows("DELETE FROM meta", ())


def test_one_glance_sees_one_state_of_the_record(
    store: Store, path: Path, practice: Practice, watch_id: int
) -> None:
    with glance.open_rows(path) as rows, glance.open_rows(path) as other:
        assert glance.count_exposures(rows) == glance.count_exposures(other) == 0
    exposures.add(store, [a_dive(watch_id)], practice)
    with glance.open_rows(path) as rows:
        assert glance.count_exposures(rows) == 1


def test_watches_come_by_nickname_without_case(store: Store, practice: Practice) -> None:
    for name in ("zebra", "Älpler", "Blue bezel", "apple"):
        watches.add(store, a_watch(name), [], [], practice)
    watches.retire(store, 4, DAY)
    assert [r.watch.name for r in glance.read_records(store.rows)] == ["Blue bezel", "zebra", "Älpler"]
    assert glance.read_records(store.rows, retired=True)[0].watch.name == "apple"
    assert [r.watch.name for r in glance.read_records(store.rows, watch_id=2)] == ["Älpler"]
    assert glance.read_records(store.rows, watch_id=4) == []


def test_each_watch_has_what_is_its_own(store: Store, practice: Practice, watch_id: int) -> None:
    other = watches.add(
        store, a_watch("Sunday dress", intervals_months={"strap": 6}), its_seals(), [], practice
    )
    exposures.add(store, [a_dive(watch_id)], practice)
    events.add(store, [a_test(other, DAY)], practice)
    blue, sunday = glance.read_records(store.rows)
    assert (blue.last_exposure_on, sunday.last_exposure_on) == (DAY, None)
    assert (len(blue.events), len(sunday.events)) == (0, 1)
    assert (blue.watch.intervals_months, sunday.watch.intervals_months) == ({}, {"strap": 6})
    assert {s.id for s in blue.seals}.isdisjoint(s.id for s in sunday.seals)
    assert blue.totals.keys() == {s.id for s in blue.seals}


def test_exposures_are_read_in_order_and_in_pages(store: Store, practice: Practice, watch_id: int) -> None:
    given = [
        a_dive(watch_id, NEXT), a_dive(watch_id, DAY, starts_at=time(9), utc_offset_s=0),
        a_dive(watch_id, DAY), a_dive(watch_id, DAY, starts_at=time(8), utc_offset_s=0),
        a_dive(watch_id, date(2024, 6, 1), planned=True),
    ]  # fmt: skip
    exposures.add(store, given, practice)

    def ids(**asked: object) -> list[int | None]:
        return [e.id for e in glance.read_exposures(store.rows, **asked)]  # type: ignore[arg-type]

    assert ids() == [3, 4, 2, 1, 5]
    assert ids(newest_first=True) == [5, 1, 2, 4, 3]
    assert ids(planned=False, newest_first=True, limit=2, offset=1) == [2, 4]
    assert ids(planned=True) == [5]
    assert ids(since=DAY, until=DAY) == [3, 4, 2]
    assert ids(since=NEXT, planned=False) == [1]
    assert ids(watch_id=watch_id + 1) == []
    assert glance.count_exposures(store.rows) == 5
    assert glance.count_exposures(store.rows, watch_id=watch_id, planned=False, since=NEXT) == 1


def test_profiles_are_read_only_when_asked_for(store: Store, practice: Practice, watch_id: int) -> None:
    profile = (ProfilePoint(0, 0.0), ProfilePoint(600, 21.0, 17.0))
    exposures.add(store, [a_dive(watch_id, profile=profile), a_dive(watch_id)], practice)
    assert [e.profile for e in glance.read_exposures(store.rows)] == [(), ()]
    assert [e.profile for e in glance.read_exposures(store.rows, with_profiles=True)] == [profile, ()]
    assert glance.read_exposure(store.rows, 1).profile == profile


def test_the_log_holds_exposures_and_events_newest_first(
    store: Store, practice: Practice, watch_id: int
) -> None:
    other = watches.add(store, a_watch("Sunday dress"), [], [], practice)
    exposures.add(
        store, [a_dive(watch_id, DAY), a_dive(watch_id, DAY, starts_at=time(9), utc_offset_s=0)], practice
    )
    events.add(store, [a_test(watch_id, DAY), Event("fog", DAY, 60, watch_id=watch_id)], practice)
    exposures.add(store, [a_dive(other, NEXT), a_dive(other, NEXT, planned=True)], practice)
    events.add(store, [gaskets(watch_id, DAY, ("crown", "FKM"))], practice)
    log = glance.read_log(store.rows)
    assert [entry.id for entry in log] == [5, 4, 2, 1, 3, 7]
    assert [type(entry) for entry in log] == [Exposure, Event, Exposure, Exposure, Event, Event]
    assert log[-1] == glance.read_event(store.rows, 7)
    assert [entry.id for entry in glance.read_log(store.rows, watch_id, limit=2, offset=1)] == [2, 1]


def test_a_log_longer_than_one_statement_may_ask_for_is_whole(
    store: Store, practice: Practice, watch_id: int
) -> None:
    exposures.add(store, [a_dive(watch_id)] * 1203, practice)
    assert [entry.id for entry in glance.read_log(store.rows)] == list(range(1203, 0, -1))
    assert len(glance.read_exposures(store.rows, with_profiles=True)) == 1203


def test_what_is_not_there_is_said(store: Store) -> None:
    with pytest.raises(NotFound, match="There is no exposure 5"):
        glance.read_exposure(store.rows, 5)
    with pytest.raises(NotFound, match="There is no event 5"):
        glance.read_event(store.rows, 5)


def raise_by_hand(path: Path, *raised: tuple[int, str]) -> None:
    connection = sqlite3.connect(path)
    connection.executemany("INSERT INTO raised (exposure_id, code) VALUES (?, ?)", raised)
    connection.commit()
    connection.close()


def test_what_exposures_raised_is_read_with_their_watch_oldest_first(
    store: Store, path: Path, practice: Practice, watch_id: int
) -> None:
    other = watches.add(store, a_watch("Other"), its_seals(), [], practice)
    later, early, foreign = exposures.add(
        store, [a_dive(watch_id, NEXT), a_dive(watch_id, DAY), a_dive(other, DAY)], practice
    )
    raise_by_hand(path, (later, "overstressed"), (early, "overstressed"), (early, "beyond-proof"))
    raise_by_hand(path, (foreign, "beyond-proof"))
    found = {
        record.watch.name: [(each.exposure.id, each.code) for each in record.raised]
        for record in glance.read_records(store.rows)
    }
    assert found == {
        "Blue bezel": [(early, "beyond-proof"), (early, "overstressed"), (later, "overstressed")],
        "Other": [(foreign, "beyond-proof")],
    }
    (one,) = glance.read_records(store.rows, watch_id=other)
    assert [each.exposure for each in one.raised] == [glance.read_exposure(store.rows, foreign)]


def test_what_an_exposure_raised_goes_with_it(store: Store, practice: Practice, watch_id: int) -> None:
    """The crown was used under water before a pass and after it."""
    gone, stays = exposures.add(
        store, [a_dive(watch_id, on, crown_under=1) for on in (DAY, DAY + timedelta(days=90))], practice
    )
    events.add(store, [a_test(watch_id, DAY + timedelta(days=30))], practice)
    (record,) = glance.read_records(store.rows)
    assert [each.exposure.id for each in record.raised] == [gone, stays]
    strike(store, gone, practice)
    (record,) = glance.read_records(store.rows)
    assert [each.exposure.id for each in record.raised] == [stays]


def test_the_day_up_to_which_the_clock_is_right_is_read(store: Store, path: Path, watch_id: int) -> None:
    assert glance.read_records(store.rows)[0].clock_right_to is None
    connection = sqlite3.connect(path)
    connection.execute("UPDATE meta SET clock_right_to = '2027-01-01'")
    connection.commit()
    connection.close()
    assert glance.read_records(store.rows)[0].clock_right_to == date(2027, 1, 1)
