"""A backup is verified before it counts, and overwrites nothing unless told to."""

from __future__ import annotations

import stat
from datetime import date, timedelta
from pathlib import Path

import pytest

from logbook.errors import RecordTrouble, Refused
from logbook.model.practice import Practice
from logbook.record.file import backup
from logbook.record.file.store import Store
from logbook.record.reading import glance
from logbook.record.writing import exposures, watches
from tests.record.making import a_dive, a_watch, books, content, folder_of, its_seals


@pytest.fixture
def target(tmp_path: Path) -> Path:
    return tmp_path / "elsewhere" / "backup.logbook"


def fill(store: Store, practice: Practice, dives: int = 5) -> None:
    watches.add(store, a_watch(), its_seals(), [], practice)
    exposures.add(store, [a_dive(1, date(2024, 2, 1) + timedelta(days=n)) for n in range(dives)], practice)


def test_a_backup_is_the_record_and_private(store: Store, practice: Practice, target: Path) -> None:
    fill(store, practice)
    backup.backup(store, target)
    with Store.open(target) as copy:
        assert (content(copy), books(copy)) == (content(store), books(store))
    assert stat.S_IMODE(target.stat().st_mode) == 0o600
    assert folder_of(target) == ["backup.logbook"]


def test_a_backup_is_made_from_a_path_too(store: Store, path: Path, practice: Practice, target: Path) -> None:
    fill(store, practice)
    backup.backup(path, target)
    with glance.open_rows(target) as rows:
        assert glance.count_exposures(rows) == 5


def test_a_file_that_is_there_is_not_overwritten_unless_told(
    store: Store, practice: Practice, target: Path
) -> None:
    target.parent.mkdir()
    target.write_text("precious", encoding="utf-8")
    with pytest.raises(Refused, match="There is already a file at"):
        backup.backup(store, target)
    assert target.read_text(encoding="utf-8") == "precious"
    assert folder_of(target) == ["backup.logbook"]
    fill(store, practice)
    backup.backup(store, target, overwrite=True)
    with glance.open_rows(target) as rows:
        assert glance.count_exposures(rows) == 5


def test_the_record_is_no_place_for_its_own_backup(store: Store, path: Path, practice: Practice) -> None:
    fill(store, practice)
    for name in (path, path.parent / "." / path.name):
        with pytest.raises(Refused, match="is the record itself"):
            backup.backup(path, name, overwrite=True)
    assert store.rows("SELECT COUNT(*) FROM exposure") == [(5,)]


def test_a_damaged_record_is_not_passed_off_as_a_backup(
    store: Store, path: Path, practice: Practice, target: Path
) -> None:
    fill(store, practice, dives=200)
    store.close()
    damage(path)
    with pytest.raises((Refused, RecordTrouble), match="is damaged"):
        backup.backup(path, target)
    assert not target.exists()


def damage(path: Path) -> None:
    """Overwrites the middle of the file, where rows are, and leaves its beginning and length."""
    whole = bytearray(path.read_bytes())
    start = len(whole) // 2 // 4096 * 4096
    whole[start : start + 3 * 4096] = b"\x5a" * (3 * 4096)
    path.write_bytes(whole)


def test_a_backup_while_another_window_writes_is_one_state(
    store: Store, path: Path, practice: Practice, target: Path
) -> None:
    fill(store, practice)
    with store.action("log a dive", practice) as session:
        session.connection().exec_driver_sql("UPDATE exposure SET note = 'not yet'")
        backup.backup(path, target)
    with glance.open_rows(target) as rows:
        assert {e.note for e in glance.read_exposures(rows)} == {""}


def test_a_folder_that_cannot_be_written_is_one_sentence(store: Store, tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("a file", encoding="utf-8")
    with pytest.raises(RecordTrouble, match="No backup could be made at"):
        backup.backup(store, tmp_path / "taken" / "backup.logbook")


def test_a_record_that_is_not_there_has_no_backup(tmp_path: Path, target: Path) -> None:
    with pytest.raises(RecordTrouble, match="There is no record at"):
        backup.backup(tmp_path / "nothing", target)
    assert not target.exists()
