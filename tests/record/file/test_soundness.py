"""Every row is read before a record is called sound or copied: types, words, ranges, dates, texts."""

from __future__ import annotations

import shutil
from contextlib import closing
from pathlib import Path

import pytest
from sqlalchemy import CheckConstraint, Text

from logbook.errors import Refused
from logbook.model.practice import Practice
from logbook.record.file import backup, doctor, soundness
from logbook.record.file.store import Store
from logbook.record.schema import revision
from logbook.record.schema.columns import Row
from tests.record.damage import NOT_UTF8, fill_every_table, spoil, spoil_cell
from tests.record.making import folder_of

TABLES = [table.name for table in Row.metadata.sorted_tables]


@pytest.fixture(scope="session")
def full_record(tmp_path_factory: pytest.TempPathFactory, practice: Practice) -> Path:
    """A record with rows in every table, to make copies of."""
    path = tmp_path_factory.mktemp("full") / "record.logbook"
    with Store.open(path, create=True) as store:
        fill_every_table(store, practice)
    return path


@pytest.fixture
def full(full_record: Path, path: Path) -> Path:
    return Path(shutil.copy(full_record, path))


def faults(path: Path) -> list[soundness.Fault]:
    with closing(revision.connect(path, read_only=True)) as connection:
        return soundness.faults_of(connection)


def test_a_record_with_rows_in_every_table_is_sound(full: Path, practice: Practice) -> None:
    with Store.open(full) as store:
        assert not [table for table in TABLES if store.rows(f"SELECT COUNT(*) FROM {table}") == [(0,)]]
    assert faults(full) == []
    assert doctor.examine(full, practice) == []


@pytest.mark.parametrize("table", TABLES)
def test_a_cell_of_another_type_is_found_in_every_column(full: Path, table: str) -> None:
    """In all but the keys: what no longer fits its index is a damaged page."""
    columns = [column for column in Row.metadata.tables[table].columns if not column.primary_key]
    for column in columns:
        spoil_cell(full, table, column.name, "x'0102'", loose=True)
    with closing(revision.connect(full, read_only=True)) as connection:
        words = [fault.words for fault in soundness.row_faults(connection)]
    expected = ("text", "whole number")
    missed = [
        column.name
        for column in columns
        if not any(f"1 row of {table} with no {kind} as {column.name}" in words for kind in expected)
    ]
    assert missed == []
    assert not columns or faults(full)


@pytest.mark.parametrize("table", TABLES)
def test_a_text_that_is_no_utf_8_is_found_in_every_table(full: Path, table: str) -> None:
    texts = [c.name for c in Row.metadata.tables[table].columns if isinstance(c.type, Text)]
    for name in texts[-1:]:
        spoil_cell(full, table, name, NOT_UTF8)
        found = [fault.words for fault in faults(full)]
        assert f"{table} is not readable" in found, found


@pytest.mark.parametrize("day", ["2026-02-30", "0000-01-01", "2026-1-01", "99999-01-01", "today"])
def test_a_date_that_is_none_is_found_in_every_column(full: Path, day: str) -> None:
    dates = [
        (table, column.name)
        for table in TABLES
        for column in Row.metadata.tables[table].columns
        if column.info["type"] == "date"
    ]
    for table, name in dates:
        spoil_cell(full, table, name, f"'{day}'")
    words = [fault.words for fault in faults(full)]
    assert [(t, n) for t, n in dates if f"1 row of {t} with no date as {n}" not in words] == []


@pytest.mark.parametrize(
    ("statement", "words"),
    [
        ("UPDATE exposure SET starts_at = '25:00:00'", "no time of day as starts_at"),
        ("UPDATE exposure SET water = 'wine' WHERE id = 3", "1 row of exposure with what breaks the rule"),
        ("UPDATE exposure SET depth_mm = 400001 WHERE id = 3", "ck_exposure_depth_mm_range"),
        ("UPDATE seal SET position = 'strap' WHERE id = 1", "ck_seal_position_word"),
        ("UPDATE setting SET altitude_mm = 9223372036854775807", "ck_setting_altitude_mm_range"),
        (
            "UPDATE action SET done_at = 'a while ago' WHERE id = 1",
            "1 row of action with no moment as done_at",
        ),
        ("UPDATE action SET done_at = '2026-03-01T10:00:00' WHERE id = 1", "no moment as done_at"),
        ("UPDATE calendar_entry SET alarm_from = 'x'", "no date as alarm_from"),
        ("UPDATE told SET sent_at = ''", "no moment as sent_at"),
    ],
)
def test_what_no_version_would_have_written_is_found(full: Path, statement: str, words: str) -> None:
    spoil(full, statement)
    assert any(words in fault.words for fault in faults(full)), faults(full)


@pytest.mark.parametrize("kept", ["'[{'", "'[1]'", "'[{\"id\": 1}]'", "'{}x'", "'[[\"id\"]]'"])
def test_a_step_of_undo_that_lost_its_rows_is_found(full: Path, kept: str) -> None:
    spoil(full, f"UPDATE change SET other_rows = {kept} WHERE action_id = 1 AND seq = 0")
    assert [(fault.about, "step 1 of undo" in fault.words) for fault in faults(full)] == [("journal", True)]


def test_every_rule_of_every_table_is_looked_at(full: Path) -> None:
    """None of them may hang on how SQLite opened the file: of one opened to be read it drops them all."""
    for table in Row.metadata.sorted_tables:
        named = {str(c.name) for c in table.constraints if isinstance(c, CheckConstraint)}
        assert named <= {rule.removeprefix("what breaks the rule ") for rule in soundness.rules(table)}


SILENT = {
    "a word": "UPDATE exposure SET water = 'wine' WHERE id = 3",
    "a date": "UPDATE seal SET fitted_latest = '2026-99-99' WHERE id = 1",
    "a text": f"UPDATE watch SET note = {NOT_UTF8}",
    "a number": "UPDATE exposure SET depth_mm = -5 WHERE id = 3",
}


@pytest.mark.parametrize("what", SILENT)
def test_doctor_finds_and_backup_and_restore_refuse_what_cannot_be_read(
    full: Path, practice: Practice, what: str
) -> None:
    sound = full.with_name("sound")
    backup.backup(full, sound)
    spoil(full, SILENT[what])
    assert [finding.about for finding in doctor.examine(full, practice)] == ["rows"]
    with pytest.raises(Refused, match=r"The record .* is damaged \(.*\); no backup was made"):
        backup.backup(full, full.with_name("copy"))
    with pytest.raises(Refused, match=r"is damaged .* Your record was left alone"):
        backup.restore(sound, full)
    assert folder_of(full) == ["record.logbook", "sound"]


@pytest.mark.parametrize("number", revision.REVISIONS[:-1])
def test_a_record_of_an_earlier_revision_is_copied_as_it_is_and_only_when_sound(
    number: str, path: Path
) -> None:
    shutil.copyfile(Path(__file__).parents[1] / "fixtures" / f"record-{number}.logbook", path)
    target = path.with_name("copy")
    backup.backup(path, target)
    assert revision.check(target) == number
    spoil(path, "UPDATE exposure SET starts_on = '2026-99-99'")
    with pytest.raises(Refused, match=r"The record .*record.logbook is damaged .* no backup was made"):
        backup.backup(path, path.with_name("other"))
    assert folder_of(path) == ["copy", "record.logbook"]
