"""A restore brings back exactly what was backed up, keeps what it replaced, and refuses what is no record."""

from __future__ import annotations

import random
import shutil
import sqlite3
import stat
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.errors import RecordTrouble, Refused
from logbook.model import values as v
from logbook.model.practice import Practice
from logbook.record.file import backup, doctor
from logbook.record.file.store import Store
from logbook.record.reading import glance
from logbook.record.writing import events, exposures, habits, undo, watches
from tests.effort import tries
from tests.record import children, making
from tests.record.file.test_backup import damage, fill
from tests.record.making import a_copy_of, a_watch, books, content, folder_of


@settings(max_examples=tries(200))
@given(
    st.lists(making.watches(), max_size=2),
    st.lists(making.exposures(planned=None), max_size=3),
    st.lists(making.events(), max_size=2),
    st.lists(making.stretches(), max_size=1),
    st.lists(making.habits(), max_size=1),
)
def test_a_random_record_backed_up_and_restored_is_equal(
    empty_record: Path, practice: Practice, described: list[v.Watch], wet: list[v.Exposure],
    happened: list[v.Event], worn: list[v.WornStretch], repeated: list[v.Habit],
) -> None:  # fmt: skip
    with a_copy_of(empty_record) as store, a_copy_of(empty_record) as other:
        for number, watch in enumerate(described):
            ours = watches.add(
                store, replace(watch, name=f"Watch {number}"), making.its_seals(), [], practice
            )
            exposures.add(store, [replace(e, watch_id=ours) for e in wet], practice)
            events.add(store, [replace(e, watch_id=ours) for e in happened], practice)
            habits.add_stretches(store, [replace(w, watch_id=ours) for w in worn], practice)
            for habit in repeated:
                habits.add_habit(store, replace(habit, watch_id=ours), practice)
        before = content(store), books(store)
        assert store.path is not None
        assert other.path is not None
        backup.backup(store, store.path.with_name("backup"))
        backup.restore(other.path, store.path.with_name("backup"))
        assert (content(other), books(other)) == before


def test_a_restore_keeps_the_replaced_record_aside(store: Store, path: Path, practice: Practice) -> None:
    fill(store, practice)
    backup.backup(store, path.with_name("backup"))
    exposures.add(store, [making.a_dive(1)], practice)
    kept = backup.restore(path, path.with_name("backup"))
    assert kept is not None
    assert kept.name.startswith("record.logbook.replaced-")
    with glance.open_rows(path) as now, glance.open_rows(kept) as before:
        assert (glance.count_exposures(now), glance.count_exposures(before)) == (5, 6)
    assert {stat.S_IMODE(p.stat().st_mode) for p in (path, kept)} == {0o600}
    assert folder_of(path) == ["backup", "record.logbook", kept.name]


def test_a_link_to_the_record_stays_a_link(store: Store, path: Path, practice: Practice) -> None:
    fill(store, practice)
    source, link = path.with_name("backup"), path.with_name("link")
    backup.backup(store, source)
    exposures.add(store, [making.a_dive(1)], practice)
    link.symlink_to("record.logbook")
    kept = backup.restore(link, source)
    assert (link.is_symlink(), path.is_symlink()) == (True, False)
    assert kept is not None
    with glance.open_rows(path) as now, glance.open_rows(kept) as before:
        assert (glance.count_exposures(now), glance.count_exposures(before)) == (5, 6)
    path.unlink()
    assert backup.restore(link, source) is None
    assert path.exists()


def test_a_link_that_leads_to_itself_is_one_sentence(store: Store, path: Path) -> None:
    source, link = path.with_name("backup"), path.with_name("link")
    backup.backup(store, source)
    link.symlink_to("link")
    with pytest.raises(RecordTrouble, match="it is a link that leads nowhere"):
        backup.restore(link, source)


def test_two_restores_within_a_second_keep_both_replaced_records(
    store: Store, path: Path, practice: Practice
) -> None:
    fill(store, practice)
    backup.backup(store, path.with_name("backup"))
    assert backup.restore(path, path.with_name("backup")) != backup.restore(path, path.with_name("backup"))
    assert len(folder_of(path)) == 4


def test_a_restore_where_no_record_is_makes_one(store: Store, path: Path, practice: Practice) -> None:
    fill(store, practice)
    target = path.parent / "new" / "record.logbook"
    assert backup.restore(target, path) is None
    assert stat.S_IMODE(target.stat().st_mode) == 0o600
    with glance.open_rows(target) as rows:
        assert glance.count_exposures(rows) == 5


def test_what_was_done_before_the_backup_can_still_be_undone(
    store: Store, path: Path, practice: Practice
) -> None:
    fill(store, practice)
    backup.backup(store, path.with_name("backup"))
    backup.restore(path, path.with_name("backup"))
    assert undo.undo(store, practice) == "log 5 exposures"


def truncated(path: Path) -> None:
    whole = path.read_bytes()
    path.write_bytes(whole[: len(whole) // 3])


def newer(path: Path) -> None:
    connection = sqlite3.connect(path)
    connection.execute("UPDATE alembic_version SET version_num = '0999'")
    connection.commit()
    connection.close()


def orphaned(path: Path) -> None:
    connection = sqlite3.connect(path)
    connection.execute("UPDATE exposure SET watch_id = 99")
    connection.commit()
    connection.close()


def foreign(path: Path) -> None:
    path.unlink()
    connection = sqlite3.connect(path)
    connection.execute("CREATE TABLE watch (id INTEGER)")
    connection.close()


BAD: dict[str, tuple[Callable[[Path], object], str]] = {
    "empty": (lambda p: p.write_bytes(b""), "is empty, and an empty file is never taken"),
    "foreign": (foreign, "is not a logbook record"),
    "text": (lambda p: p.write_text("dives: 3", encoding="utf-8"), "is not a logbook record"),
    "truncated": (truncated, "damaged|cut short"),
    "damaged": (damage, "is damaged"),
    "newer": (newer, "newer version of logbook"),
    "orphaned": (orphaned, r"is damaged \(row 1 of exposure refers to a missing row of watch\)"),
    "missing": (lambda p: p.unlink(), "There is no record at"),
}


@pytest.mark.parametrize("kind", BAD)
def test_what_is_no_sound_record_is_refused_and_the_record_left_alone(
    store: Store, path: Path, practice: Practice, kind: str
) -> None:
    fill(store, practice, dives=200)
    source = path.with_name("source")
    backup.backup(store, source)
    spoil, words = BAD[kind]
    spoil(source)
    before, names = path.read_bytes(), folder_of(path)
    with pytest.raises(Refused, match=f"(?s)({words}).*Your record was left alone"):
        backup.restore(path, source)
    assert path.read_bytes() == before
    assert folder_of(path) == names


def test_a_backup_cut_short_at_any_length_is_refused(store: Store, path: Path, practice: Practice) -> None:
    fill(store, practice)
    source, cut = path.with_name("source"), path.with_name("cut")
    backup.backup(store, source)
    whole = source.read_bytes()
    lengths = random.Random(7).sample(range(1, len(whole)), 60)
    for length in [*lengths, len(whole) - 1]:
        cut.write_bytes(whole[:length])
        with pytest.raises(Refused, match="Your record was left alone"):
            backup.restore(path, cut)
    assert doctor.examine(path, practice) == []


def test_the_record_is_no_backup_of_itself(store: Store, path: Path) -> None:
    with pytest.raises(Refused, match="is the record itself"):
        backup.restore(path, path)


def test_a_ruined_record_can_be_replaced(store: Store, path: Path, practice: Practice) -> None:
    fill(store, practice, dives=200)
    source = path.with_name("backup")
    backup.backup(store, source)
    store.close()
    for ruin in (damage, truncated, lambda p: p.write_bytes(b"")):
        ruin(path)
        ruined = path.read_bytes()
        kept = backup.restore(path, source)
        assert kept is not None
        assert kept.read_bytes() == ruined
        assert doctor.examine(path, practice) == []


def test_what_a_crash_left_half_done_stays_with_the_replaced_record(
    store: Store, path: Path, practice: Practice
) -> None:
    """A journal of the old file, left beside the new one, would be played back into it."""
    fill(store, practice)
    source = path.with_name("backup")
    backup.backup(store, source)
    store.close()

    def die_half_way(say: Callable[[str], None]) -> None:
        with Store.open(path) as other, other.transaction() as session:
            driver = session.connection()
            driver.exec_driver_sql("PRAGMA cache_size = 2")
            for n in range(2000):
                driver.exec_driver_sql(f"INSERT INTO snooze VALUES ('{n}', '2024-01-01')")
            say("half done")
            while True:
                pass

    child = children.start(die_half_way)
    assert child.listen(children.PATIENCE_S) == ["half done"]
    child.kill()
    assert "record.logbook-journal" in folder_of(path)
    shutil.copy(path, path.with_name("ruined"))
    with path.open("r+b") as file:  # so ruined that nobody can even take the change back
        file.write(b"nothing like a database")
    kept = backup.restore(path, source)
    assert kept is not None
    assert f"{kept.name}-journal" in folder_of(path)
    assert "record.logbook-journal" not in folder_of(path)
    assert doctor.examine(path, practice) == []


def test_a_watch_list_reads_the_same_after_a_restore(store: Store, path: Path, practice: Practice) -> None:
    watches.add(store, a_watch("Sunday dress"), making.its_seals(), [], practice)
    before = glance.read_records(store.rows)
    backup.backup(store, path.with_name("backup"))
    backup.restore(path, path.with_name("backup"))
    assert glance.read_records(store.rows) == before


def test_a_log_that_another_tool_left_beside_the_record_does_not_reach_the_restored_one(
    store: Store, path: Path, practice: Practice
) -> None:
    """A crash of something that had switched the file to write-ahead logging."""
    fill(store, practice)
    source = path.with_name("backup")
    backup.backup(store, source)
    store.close()
    other = sqlite3.connect(path)
    other.execute("PRAGMA journal_mode = WAL")
    other.execute("UPDATE watch SET name = 'Elsewhere'")
    other.commit()
    crashed = path.with_name("crashed.logbook")
    for end in ("", "-wal"):
        shutil.copy(f"{path}{end}", f"{crashed}{end}")
    other.close()
    kept = backup.restore(crashed, source)
    assert kept is not None
    assert not crashed.with_name("crashed.logbook-wal").exists()
    with glance.open_rows(crashed) as now, glance.open_rows(kept) as before:
        names = [[r.watch.name for r in glance.read_records(rows)] for rows in (now, before)]
    assert names == [["Blue bezel"], ["Elsewhere"]]
