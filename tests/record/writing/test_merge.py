"""Bringing a whole record in: as it is into an empty one, else what is new; and back again by one undo."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from logbook.errors import BadInput
from logbook.model.practice import Practice
from logbook.model.values import Event, Habit, HomeWater, ProfilePoint, Seal, Settings, WornStretch
from logbook.record.file.record_file import FiledWatch, RecordFile
from logbook.record.file.store import Store
from logbook.record.ledger import ledger
from logbook.record.reading import glance
from logbook.record.reading.sql import run
from logbook.record.writing import events, exposures, habits, settings, snoozes, undo, watches
from logbook.record.writing.merge import Merged, bring_in, look
from logbook.record.writing.strike import strike
from tests.record.making import ADDED, a_dive, a_test, a_watch, books, content, gaskets, its_seals

ON = date(2024, 5, 2)
PROFILE = (ProfilePoint(0, 0), ProfilePoint(60, 21, 17.0))
HOME = Settings(HomeWater(38.0, 43.5, 0.0, (15.0,) * 12), zone="Asia/Tokyo")


def filed(store: Store, name: str = "backup.json", **changes: Any) -> RecordFile:
    """What a file of this record holds."""
    with store.reading() as rows:
        records = glance.read_records(rows, retired=True)
        told: dict[str, Any] = {
            "watches": tuple(FiledWatch(record.watch, record.seals) for record in records),
            "exposures": tuple(glance.read_exposures(rows, with_profiles=True)),
            "events": tuple(e for record in records for e in record.events),
            "stretches": tuple(s for record in records for s in record.stretches),
            "habits": tuple(h for record in records for h in record.habits),
            "snoozed": records[0].snoozed if records else {},
            "origins": glance.read_origins(rows),
            "settings": glance.read_settings(rows),
        }
    return RecordFile(name, **(told | changes))


def fill(store: Store, practice: Practice, name: str = "Blue bezel") -> int:
    """A watch with everything that can be on record of it; its id."""
    id_ = watches.add(
        store,
        a_watch(name, pushers=True, intervals_months={"strap": 9}),
        its_seals(),
        [a_test(None, ADDED)],
        practice,
    )
    exposures.add(store, [a_dive(id_, profile=PROFILE), a_dive(id_, on=ON), a_dive(id_, on=ON)], practice)
    exposures.add(store, [a_dive(id_, on=date(2030, 1, 1), planned=True)], practice)
    events.add(store, [gaskets(id_, ON, ("crown", "FKM"), ("crystal", "NBR"))], practice)
    habits.add_habit(store, Habit(a_dive(id_, on=ADDED), 0.5, ADDED, watch_id=id_), practice)
    habits.add_stretches(store, [WornStretch(ADDED, ON, 3.0, id_), WornStretch(ON, ON, 5.0, id_)], practice)
    snoozes.snooze(store, f"{id_}:strap:2024-01-01", ON)
    return id_


@pytest.fixture
def other(tmp_path: Path) -> Iterator[Store]:
    with Store.open(tmp_path / "other.logbook", create=True) as opened:
        yield opened


@pytest.fixture
def file(other: Store, practice: Practice) -> RecordFile:
    """Of a record in which ids have gaps."""
    watches.add(other, a_watch("Gone"), its_seals(), [], practice)
    undo.undo(other, practice)
    id_ = fill(other, practice)
    strike(other, 3, practice)
    settings.write(other, HOME)
    assert id_ == 2
    return filed(other)


def test_an_empty_record_takes_a_file_as_it_is_ids_and_settings_too(
    store: Store, other: Store, file: RecordFile, practice: Practice
) -> None:
    assert bring_in(store, file, practice) == Merged(1, 3, 2, 2, 1, whole=True)
    assert content(store) == content(other)
    assert books(store) == books(other)
    assert undo.recent(store) == ["import backup.json"]


def test_new_ids_follow_those_that_came_in(store: Store, file: RecordFile, practice: Practice) -> None:
    bring_in(store, file, practice)
    taken = [entry.id for entry in (*file.exposures, *file.events, *file.habits, *file.stretches)]
    assert exposures.add(store, [a_dive(2)], practice) == [max(id_ or 0 for id_ in taken) + 1]
    assert watches.add(store, a_watch("Next"), its_seals(), [], practice) == 3
    brought = max(seal.id or 0 for one in file.watches for seal in one.seals)
    (next_watch,) = [r for r in glance.read_records(store.rows) if r.watch.name == "Next"]
    assert sorted(seal.id or 0 for seal in next_watch.seals) == [brought + 1, brought + 2, brought + 3]


def test_what_an_empty_record_silenced_and_had_set_gives_way_and_comes_back(
    store: Store, file: RecordFile, practice: Practice
) -> None:
    settings.write(store, Settings(zone="Europe/Berlin"))
    snoozes.snooze(store, "9:strap:2020-01-01", ON)
    before = content(store)
    bring_in(store, file, practice)
    assert glance.read_settings(store.rows) == HOME
    assert store.rows("SELECT item_id FROM snooze") == [("2:strap:2024-01-01",)]
    undo.undo(store, practice)
    assert content(store) == before


def test_what_was_told_of_a_watch_that_is_gone_silences_nothing_of_the_file(
    store: Store, file: RecordFile, practice: Practice
) -> None:
    watches.add(store, a_watch("Gone"), its_seals(), [], practice)
    undo.undo(store, practice)
    with store.transaction() as session:
        run(session, "INSERT INTO named_date VALUES ('2:strap:2024-01-01', '2030-01-01', '2024-05-01')")
        run(
            session,
            "INSERT INTO told (item_id, stage, after_snooze, due_on, claimed_at)"
            " VALUES ('2:strap:2024-01-01', 'due', '', '2024-04-01', '2024-04-01T10:00:00+00:00')",
        )
    assert bring_in(store, file, practice).whole
    assert (store.rows("SELECT * FROM told"), store.rows("SELECT * FROM named_date")) == ([], [])


def test_a_file_with_ids_beyond_any_record_gets_ids_of_this_one(
    store: Store, file: RecordFile, practice: Practice
) -> None:
    far = replace(file, exposures=(replace(file.exposures[0], id=10**12), *file.exposures[1:]))
    assert bring_in(store, far, practice) == Merged(1, 3, 2, 2, 1)
    assert max(e.id or 0 for e in glance.read_exposures(store.rows)) < 100
    assert bring_in(store, far, practice).nothing


def test_the_same_file_twice_adds_nothing(store: Store, file: RecordFile, practice: Practice) -> None:
    bring_in(store, file, practice)
    before = content(store), books(store)
    again = bring_in(store, file, practice)
    assert again == Merged(already=8, watches_here=1)
    assert again.nothing
    assert (content(store), books(store)) == before
    assert undo.recent(store) == ["import backup.json"]


def test_into_a_record_that_has_something_only_the_new_comes_in(
    store: Store, file: RecordFile, practice: Practice
) -> None:
    here = watches.add(
        store, a_watch("blue BEZEL", pushers=True, note="as here", marked_pa=30e5),
        its_seals(material="VMQ"), [], practice,
    )  # fmt: skip
    exposures.add(store, [a_dive(here, on=ON)], practice)
    settings.write(store, Settings(zone="Europe/Berlin"))
    before = content(store), books(store)
    merged = bring_in(store, file, practice)
    assert merged == Merged(0, 2, 2, 2, 1, already=1, watches_here=1)
    (record,) = glance.read_records(store.rows)
    assert (record.watch.note, record.watch.marked_pa, record.watch.intervals_months) == ("as here", 30e5, {})
    assert sorted(s.material for s in record.seals) == ["FKM", "NBR", "VMQ", "VMQ", "VMQ"]
    assert glance.read_settings(store.rows).zone == "Europe/Berlin"
    assert record.snoozed == {}
    assert {e.kind for e in record.events} == {"pressure-test", "gaskets"}
    kept = books(store)
    ledger.refresh_all(store, practice)
    assert books(store) == kept
    assert bring_in(store, file, practice).nothing
    undo.undo(store, practice)
    assert (content(store), books(store)) == before


def test_a_watch_that_is_not_here_comes_with_its_seals_events_and_intervals(
    store: Store, file: RecordFile, practice: Practice
) -> None:
    fill(store, practice, "Other")
    before = content(store), books(store)
    assert bring_in(store, file, practice) == Merged(1, 3, 2, 2, 1)
    found = {record.watch.name: record for record in glance.read_records(store.rows)}
    new = found["Blue bezel"]
    assert new.watch.id == 2
    assert new.watch.intervals_months == {"strap": 9}
    assert [(s.position, s.material, s.event_id is None) for s in new.seals if s.position == "crown"] == [
        ("crown", "NBR", True), ("crown", "FKM", False),
    ]  # fmt: skip
    assert all(e.watch_id == 2 for e in (*new.events, *new.habits, *new.stretches))
    assert new.habits[0].exposure.watch_id == 2
    assert [s.hours for s in new.stretches] == [3.0, 5.0]
    wet = glance.read_exposures(store.rows, watch_id=2, with_profiles=True)
    assert [e.profile for e in wet] == [PROFILE, (), ()]
    undo.undo(store, practice)
    assert (content(store), books(store)) == before
    undo.redo(store, practice)
    assert bring_in(store, file, practice).nothing


def test_of_equal_entries_as_many_are_on_record_as_in_the_file(
    store: Store, file: RecordFile, practice: Practice
) -> None:
    twice = replace(
        file, exposures=(*file.exposures, *(replace(e, id=100 + n) for n, e in enumerate(file.exposures)))
    )
    bring_in(store, file, practice)
    assert bring_in(store, twice, practice).exposures == 3
    assert bring_in(store, twice, practice).nothing
    assert bring_in(store, file, practice).nothing


def test_an_exposure_of_another_file_is_known_by_what_it_was_there_though_amended(
    store: Store, file: RecordFile, practice: Practice
) -> None:
    first = file.exposures[0].id or 0
    told = replace(file, origins={first: "dive 7"})
    bring_in(store, told, practice)
    assert store.rows("SELECT * FROM imported") == [(first, "dive 7")]
    (kept,) = [e for e in glance.read_exposures(store.rows, with_profiles=True) if e.id == first]
    exposures.amend(store, replace(kept, rinsed=False), practice)
    again = bring_in(store, told, practice)
    assert (again.nothing, again.amended) == (True, 1)
    elsewhere = tuple(replace(e, id=(e.id or 0) + 100) for e in told.exposures)
    assert bring_in(store, replace(told, exposures=elsewhere, origins={}), practice).exposures == 1


def test_a_dive_of_two_files_is_one_in_a_record_as_it_is_in_a_file_of_dives(
    store: Store, file: RecordFile, practice: Practice
) -> None:
    """Of one start and length; its depth and the number that each file gives it differ."""
    first = file.exposures[0].id or 0
    bring_in(store, replace(file, origins={first: "dive 2024-05-02T09:00:00 2700 18000 7"}), practice)
    deeper = (replace(file.exposures[0], id=90, depth_m=18.3, note="of the other file"),)
    for start, new in (("2024-05-02T09:00:00", 0), ("2024-05-02T14:00:00", 1)):
        told = replace(file, exposures=deeper, origins={90: f"dive {start} 2700 18300 1"})
        assert bring_in(store, told, practice).exposures == new


def test_an_equal_one_beside_it_is_not_taken_for_the_one_of_another_file(
    store: Store, file: RecordFile, practice: Practice
) -> None:
    first, second = file.exposures[0], replace(file.exposures[0], id=90)
    told = replace(file, exposures=(first, second), origins={first.id or 0: "dive 7"})
    bring_in(store, told, practice)
    strike(store, 90, practice)
    assert bring_in(store, told, practice).exposures == 1
    assert bring_in(store, told, practice).nothing


def test_origins_come_along_under_the_new_ids(store: Store, file: RecordFile, practice: Practice) -> None:
    fill(store, practice, "Other")
    told = replace(file, origins={file.exposures[0].id or 0: "dive 7"})
    before = content(store)
    bring_in(store, told, practice)
    ((id_, origin),) = store.rows("SELECT * FROM imported")
    assert origin == "dive 7"
    assert glance.read_exposure(store.rows, id_).profile == PROFILE
    assert glance.read_exposure(store.rows, id_).watch_id == 2
    undo.undo(store, practice)
    assert content(store) == before


@pytest.mark.parametrize(
    ("more", "where", "words"),
    [
        ({"exposures": (a_dive(1, pusher_wet=1, id=1),)}, "exposures[0]", "has no pushers"),
        (
            {"habits": (Habit(a_dive(1, pusher_under=1), 1, ADDED, watch_id=1, id=1),)},
            "habits[0]",
            "has no pushers",
        ),
        ({"events": (Event("pushers-damaged", ON, 60, watch_id=1, id=1),)}, "events[0]", "has no pushers"),
        ({"events": (a_test(1, ON), gaskets(1, ON, ("gas-valve", "NBR")))}, "events[1]", "has no gas valve"),
    ],
)
def test_what_the_watch_that_is_here_cannot_have_is_refused_and_nothing_comes_in(
    store: Store, practice: Practice, more: dict[str, Any], where: str, words: str
) -> None:
    watches.add(store, a_watch(), its_seals(), [], practice)
    described = FiledWatch(a_watch(pushers=True, gas_valve=True, id=1))
    before = content(store)
    with pytest.raises(BadInput, match=words) as caught:
        bring_in(store, RecordFile("backup.json", watches=(described,), **more), practice)
    assert caught.value.where == where
    assert content(store) == before
    assert undo.recent(store) == ["add Blue bezel"]


def test_a_table_of_watches_gets_ids_of_its_own_even_in_an_empty_record(
    store: Store, practice: Practice
) -> None:
    watches.add(store, a_watch(), its_seals(), [], practice)
    undo.undo(store, practice)
    table = RecordFile(
        "shelf.csv",
        watches=(FiledWatch(a_watch(id=1), tuple(its_seals())),),
        events=(a_test(1, ON),),
        whole=False,
    )
    assert bring_in(store, table, practice) == Merged(watches=1, events=1)
    (record,) = glance.read_records(store.rows)
    assert (record.watch.id, len(record.seals), record.events[0].kind) == (2, 3, "pressure-test")
    assert bring_in(store, table, practice).nothing


def test_of_a_watch_that_is_here_a_table_brings_the_passed_test_and_nothing_else(
    store: Store, practice: Practice
) -> None:
    watches.add(store, a_watch(), its_seals(), [], practice)
    shelf = (FiledWatch(a_watch(id=1, note="as there"), tuple(its_seals())), FiledWatch(a_watch("New", id=2)))
    opened = Event("opened", ON, 10, watch_id=1)
    table = RecordFile("shelf.csv", watches=shelf, events=(opened, a_test(1, ON), a_test(2, ON)), whole=False)
    assert bring_in(store, table, practice) == Merged(watches=1, events=2, watches_here=1)
    blue, new = glance.read_records(store.rows)
    assert [(e.kind, e.on) for e in blue.events] == [("pressure-test", ON)]
    assert (blue.watch.note, len(blue.seals), len(new.events)) == ("", 3, 1)
    again = bring_in(store, table, practice)
    assert (again.nothing, again.already, again.watches_here) == (True, 2, 2)


def test_a_test_with_its_workshop_on_record_is_the_one_of_the_table(store: Store, practice: Practice) -> None:
    told = replace(a_test(None, ON), workshop="At the harbour", minutes=5.0, medium="water")
    watches.add(store, a_watch(), its_seals(), [told], practice)
    table = RecordFile(
        "shelf.csv", watches=(FiledWatch(a_watch(id=1)),), events=(a_test(1, ON),), whole=False
    )
    assert bring_in(store, table, practice) == Merged(already=1, watches_here=1)
    other = replace(table, events=(replace(a_test(1, ON), test_pa=20e5),))
    assert bring_in(store, other, practice).events == 1


def test_a_test_from_before_the_watch_that_is_here_is_refused(store: Store, practice: Practice) -> None:
    watches.add(store, a_watch(), its_seals(), [], practice)
    table = RecordFile(
        "shelf.csv", watches=(FiledWatch(a_watch(id=1)),), events=(a_test(1, date(2020, 1, 1)),), whole=False
    )
    before = content(store)
    with pytest.raises(BadInput, match=r"Blue bezel: .*before the watch's own first date"):
        bring_in(store, table, practice)
    assert content(store) == before


def test_looking_tells_what_would_come_in_and_writes_nothing(
    store: Store, path: Path, file: RecordFile, practice: Practice
) -> None:
    before = path.read_bytes()
    seen = look(store, file, practice)
    assert path.read_bytes() == before
    assert bring_in(store, file, practice) == seen
    assert look(store, file, practice).nothing
    exposures.add(store, [a_dive(2, on=date(2024, 5, 9))], practice)
    more = replace(file, exposures=(*file.exposures, a_dive(2, on=date(2024, 5, 8), id=99)))
    seen = look(store, more, practice)
    assert (seen.exposures, seen.already) == (1, 8)
    assert bring_in(store, more, practice) == seen


def test_an_empty_file_changes_nothing(store: Store, practice: Practice) -> None:
    before = content(store)
    assert bring_in(store, RecordFile("empty.json"), practice).nothing
    assert content(store) == before
    assert undo.recent(store) == []


def test_the_name_of_a_file_is_text_in_the_step_of_undo(store: Store, practice: Practice) -> None:
    file = RecordFile(
        "\x1b[2J.json", watches=(FiledWatch(a_watch(id=1), (Seal("crown", "NBR", ON, ON, id=1),)),)
    )
    bring_in(store, file, practice)
    assert undo.recent(store) == ["import \\x1b[2J.json"]
