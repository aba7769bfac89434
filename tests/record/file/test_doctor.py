"""The doctor finds what is wrong, says it in a sentence, and mends the ledger alone."""

from __future__ import annotations

import re
import sqlite3
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from logbook.model.practice import Practice
from logbook.model.values import HomeWater, Settings
from logbook.record.file import doctor
from logbook.record.file.store import Store
from logbook.record.writing import events, exposures, settings, watches
from tests.record.file.test_backup import damage
from tests.record.making import a_dive, a_test, a_watch, books, content, gaskets, its_seals


@pytest.fixture
def sound(store: Store, path: Path, practice: Practice) -> Path:
    watches.add(store, a_watch(), its_seals(), [a_test(None, date(2024, 1, 1))], practice)
    exposures.add(store, [a_dive(1)] * 60, practice)
    events.add(store, [gaskets(1, date(2024, 6, 1), ("crown", "FKM"))], practice)
    settings.write(store, Settings(HomeWater(monthly_c=(15.0,) * 12)))
    return path


def test_a_sound_record_has_no_findings(sound: Path, practice: Practice) -> None:
    assert doctor.examine(sound, practice) == []


def test_a_new_record_has_no_findings(store: Store, path: Path, practice: Practice) -> None:
    assert doctor.examine(path, practice) == []


WRONG: dict[str, tuple[str, str, str]] = {
    "a share": (
        "UPDATE ledger_share SET salt = salt + 1 WHERE exposure_id = 5 AND seal_id = 1",
        "ledger",
        "1 rows of the ledger differ",
    ),
    "a share too few": (
        "DELETE FROM ledger_share WHERE exposure_id = 5",
        "ledger",
        "3 rows of the ledger differ",
    ),
    "a sum": (
        "UPDATE seal_total SET ageing = ageing - 1 WHERE seal_id = 2",
        "ledger",
        "sums of 1 seals differ",
    ),
    "a sum too few": ("DELETE FROM seal_total WHERE seal_id = 2", "ledger", "sums of 1 seals differ"),
    "other constants": ("UPDATE meta SET practice_fingerprint = 'x'", "ledger", "other constants"),
    "an orphan": (
        "UPDATE seal SET watch_id = 9 WHERE id = 1",
        "references",
        "row 1 of seal refers to a missing row",
    ),
    "a twin id": (
        "INSERT INTO worn_stretch VALUES (5, 1, '2024-01-01', '2024-01-01', 0)",
        "books",
        "Entry 5 is there twice",
    ),
    "a counter": (
        "UPDATE meta SET next_entry_id = 5",
        "books",
        "next_entry_id stands at 5, but 62 is in use",
    ),
    "a watch counter": ("UPDATE meta SET next_watch_id = 1", "books", "next_watch_id stands at 1, but 1"),
    "a seal of a test": (
        "UPDATE seal SET event_id = 1 WHERE id = 1",
        "books",
        "Seal 1 does not agree with entry 1",
    ),
    "a seal of another day": (
        "UPDATE seal SET fitted_earliest = '2024-05-30' WHERE event_id IS NOT NULL",
        "books",
        "Seal 4 does not agree with entry 62",
    ),
    "eleven months": ("DELETE FROM home_month WHERE month = 3", "books", "11 of 12 months"),
    "a stray action": (
        "UPDATE action SET undone = 1 WHERE id = 2",
        "journal",
        "2 actions follow one that was undone",
    ),
    "an unknown table": (
        "UPDATE change SET table_name = 'strap' WHERE action_id = 4 AND seq = 0",
        "journal",
        "1 changes speak of strap",
    ),
    "a lost step": (
        "DELETE FROM change WHERE action_id = 2",
        "journal",
        "1 actions have lost what would undo them",
    ),
}


@pytest.mark.parametrize("what", WRONG)
def test_what_is_wrong_is_found(sound: Path, practice: Practice, what: str) -> None:
    statement, about, words = WRONG[what]
    connection = sqlite3.connect(sound)
    assert connection.execute(statement).rowcount > 0
    connection.commit()
    connection.close()
    found = doctor.examine(sound, practice)
    assert any(finding.about == about and words in finding.sentence for finding in found), found


def test_a_record_that_others_can_read_is_found(sound: Path, practice: Practice) -> None:
    sound.chmod(0o644)
    found = doctor.examine(sound, practice)
    assert [(f.about, "mode 0644" in f.sentence) for f in found] == [("file", True)]


def test_what_an_interruption_left_is_found(sound: Path, practice: Practice) -> None:
    sound.with_name(".record.logbook.abc123.new").touch()
    found = doctor.examine(sound, practice)
    assert [(f.about, ".record.logbook.abc123.new was left" in f.sentence) for f in found] == [("file", True)]


SPOILT: dict[str, tuple[Callable[[Path], object], str]] = {
    "damaged": (damage, "not sound|is damaged"),
    "empty": (lambda p: p.write_bytes(b""), "is empty"),
    "missing": (lambda p: p.unlink(), "There is no record"),
    "cut": (lambda p: p.write_bytes(p.read_bytes()[:9000]), "damaged|cut short"),
    "text": (lambda p: p.write_text("dives", encoding="utf-8"), "is not a logbook record"),
}


@pytest.mark.parametrize("how", SPOILT)
def test_a_spoilt_file_is_a_finding_and_no_crash(
    store: Store, sound: Path, practice: Practice, how: str
) -> None:
    store.close()
    spoil, words = SPOILT[how]
    spoil(sound)
    found = doctor.examine(sound, practice, mend=True)
    assert found
    assert any(re.search(words, finding.sentence) for finding in found), found


def test_mending_makes_the_ledger_anew_and_nothing_else(
    store: Store, sound: Path, practice: Practice
) -> None:
    before, right = content(store), books(store)
    with store.transaction() as session:
        for statement in ("UPDATE ledger_share SET salt = 0", "DELETE FROM seal_total"):
            session.connection().exec_driver_sql(statement)
    assert books(store) != right
    found = doctor.examine(sound, practice, mend=True)
    assert {(f.about, f.mended) for f in found} == {("ledger", True)}
    assert (content(store), books(store)) == (before, right)
    assert doctor.examine(sound, practice) == []


def test_mending_leaves_what_it_cannot_mend(sound: Path, practice: Practice) -> None:
    connection = sqlite3.connect(sound)
    connection.execute("UPDATE meta SET next_entry_id = 5")
    connection.commit()
    connection.close()
    for _ in range(2):
        found = doctor.examine(sound, practice, mend=True)
        assert [(f.about, f.mended) for f in found] == [("books", False)]


WRONGLY_RAISED = {
    "one too many": "INSERT INTO raised VALUES (1, 'beyond-proof')",
    "one too few": "DELETE FROM raised",
    "another code": "UPDATE raised SET code = 'beyond-proof'",
    "another exposure": "UPDATE raised SET exposure_id = 1",
}


@pytest.mark.parametrize("what", WRONGLY_RAISED)
def test_a_wrong_row_of_what_exposures_raised_is_found_and_mended_with_the_ledger(
    store: Store, path: Path, practice: Practice, what: str
) -> None:
    watch_id = watches.add(store, a_watch(), its_seals(), [], practice)
    exposures.add(store, [a_dive(watch_id), a_dive(watch_id, crown_under=1)], practice)
    right, shares = store.rows("SELECT * FROM raised"), books(store)
    assert doctor.examine(path, practice) == []
    with store.transaction() as session:
        assert session.connection().exec_driver_sql(WRONGLY_RAISED[what]).rowcount == 1
    (found,) = doctor.examine(path, practice)
    assert found.about == "ledger"
    assert "rows of what exposures raised differ from the record" in found.sentence
    (mended,) = doctor.examine(path, practice, mend=True)
    assert mended.mended
    assert (store.rows("SELECT * FROM raised"), books(store)) == (right, shares)
    assert doctor.examine(path, practice) == []
