"""Opening a record: what is made, what is refused and in which words, and who may read the file."""

from __future__ import annotations

import sqlite3
import stat
from collections.abc import Callable
from pathlib import Path

import pytest

from logbook.errors import LogbookError, RecordTrouble, Refused
from logbook.model.practice import Practice
from logbook.record.file import creation
from logbook.record.file.store import Store
from logbook.record.reading import glance
from logbook.record.schema import revision
from tests.record.making import a_watch, content, folder_of, its_seals


def open_store(path: Path) -> None:
    Store.open(path).close()


def create_store(path: Path) -> None:
    Store.open(path, create=True).close()


def glance_at(path: Path) -> None:
    with glance.open_rows(path) as rows:
        glance.read_records(rows)


OPENERS = [open_store, create_store, glance_at]
Opener = Callable[[Path], None]


def mode_of(path: Path) -> int:
    return stat.S_IMODE(path.stat().st_mode)


def test_a_new_record_is_for_its_owner_alone(tmp_path: Path) -> None:
    path = tmp_path / "deep" / "folder" / "record.logbook"
    create_store(path)
    assert mode_of(path) == 0o600
    assert mode_of(path.parent) == 0o700
    assert folder_of(path) == ["record.logbook"]


def test_the_journal_of_a_change_is_for_its_owner_alone(store: Store, path: Path) -> None:
    with store.transaction():
        assert mode_of(path.with_name("record.logbook-journal")) == 0o600


def test_a_record_is_durable_and_holds_its_references(store: Store) -> None:
    with store.reading() as rows:
        settings = {
            p: next(iter(rows(f"PRAGMA {p}", ())))[0] for p in ("foreign_keys", "journal_mode", "synchronous")
        }
    assert settings == {"foreign_keys": 1, "journal_mode": "delete", "synchronous": 3}


def test_every_table_is_strict_but_the_one_that_alembic_keeps(store: Store) -> None:
    loose = store.rows(
        "SELECT name FROM pragma_table_list WHERE schema = 'main' AND type = 'table' AND strict = 0"
    )
    assert sorted(name for (name,) in loose) == ["alembic_version", "sqlite_schema"]


def test_a_record_that_is_not_there_is_not_made_by_the_way(path: Path) -> None:
    for opener in (open_store, glance_at):
        with pytest.raises(RecordTrouble, match="There is no record at"):
            opener(path)
    assert not path.exists()


def test_making_a_record_where_one_is_leaves_it_alone(store: Store, path: Path, practice: Practice) -> None:
    from logbook.record.writing import watches

    watches.add(store, a_watch(), its_seals(), [], practice)
    before = content(store)
    creation.make_file(path)
    create_store(path)
    assert content(store) == before
    assert folder_of(path) == ["record.logbook"]


@pytest.mark.parametrize("opener", OPENERS)
def test_an_empty_file_is_refused(path: Path, opener: Opener) -> None:
    path.touch()
    with pytest.raises(Refused, match="is empty, and an empty file is never taken for an empty logbook"):
        opener(path)
    assert path.read_bytes() == b""


@pytest.mark.parametrize("opener", OPENERS)
@pytest.mark.parametrize("bytes_in", [b"x", b"SQLite format 3", b"%PDF-1.7 something else\n" * 400])
def test_a_file_of_another_kind_is_refused(path: Path, opener: Opener, bytes_in: bytes) -> None:
    path.write_bytes(bytes_in)
    with pytest.raises(Refused, match="is not a logbook record; it belongs to another program"):
        opener(path)
    assert path.read_bytes() == bytes_in


@pytest.mark.parametrize("opener", OPENERS)
@pytest.mark.parametrize("with_id", [False, True])
def test_a_database_of_another_program_is_refused(path: Path, opener: Opener, with_id: bool) -> None:
    other = sqlite3.connect(path)
    other.execute("CREATE TABLE watch (id INTEGER)")
    if with_id:
        other.execute(f"PRAGMA application_id = {revision.APPLICATION_ID}")
    other.close()
    before = path.read_bytes()
    with pytest.raises(Refused, match="is not a logbook record; it belongs to another program"):
        opener(path)
    assert path.read_bytes() == before


@pytest.mark.parametrize("opener", OPENERS)
def test_a_file_with_the_magic_of_a_database_and_no_sense_is_refused(path: Path, opener: Opener) -> None:
    path.write_bytes(b"SQLite format 3\x00" + b"\xff" * 5000)
    with pytest.raises(Refused, match="is not a logbook record"):
        opener(path)


@pytest.mark.parametrize("opener", OPENERS)
def test_a_folder_is_refused(tmp_path: Path, opener: Opener) -> None:
    with pytest.raises(Refused, match="is a folder, not a logbook record"):
        opener(tmp_path)


@pytest.mark.parametrize("opener", OPENERS)
def test_a_record_of_a_newer_version_is_refused(path: Path, opener: Opener) -> None:
    create_store(path)
    newer = sqlite3.connect(path)
    newer.execute("UPDATE alembic_version SET version_num = '0999'")
    newer.commit()
    newer.close()
    before = path.read_bytes()
    with pytest.raises(
        Refused, match=r"newer version of logbook \(its revision is 0999.*Please update logbook"
    ):
        opener(path)
    assert path.read_bytes() == before


@pytest.mark.parametrize("opener", OPENERS)
def test_a_record_cut_short_anywhere_is_refused(path: Path, opener: Opener, tmp_path: Path) -> None:
    create_store(path)
    whole = path.read_bytes()
    for kept in [*range(1, len(whole), 4096), len(whole) - 1]:
        cut = tmp_path / f"cut-{kept}"
        cut.write_bytes(whole[:kept])
        with pytest.raises(LogbookError, match=r"cut short|is damaged|is not a logbook record"):
            opener(cut)
        assert cut.read_bytes() == whole[:kept]


def test_a_record_in_a_folder_that_cannot_be_made_is_one_sentence(tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("a file", encoding="utf-8")
    with pytest.raises(RecordTrouble, match="No record could be made at"):
        create_store(tmp_path / "taken" / "record.logbook")


def test_a_record_with_odd_characters_in_its_path_opens(tmp_path: Path) -> None:
    path = tmp_path / "mes montres? 100% #1 & é" / "record.logbook"
    create_store(path)
    glance_at(path)
    open_store(path)


def test_a_record_that_is_taken_away_while_open_is_not_written_into_the_void(
    store: Store, path: Path, practice: Practice
) -> None:
    from logbook.record.writing import watches

    store.rows("SELECT 1")
    path.unlink()
    with pytest.raises(RecordTrouble, match="could not be opened"):
        watches.add(store, a_watch(), its_seals(), [], practice)


@pytest.mark.parametrize("moment", ["connect", "revision_of"])
def test_a_record_that_goes_while_it_is_opened_is_one_sentence(
    store: Store, path: Path, monkeypatch: pytest.MonkeyPatch, moment: str
) -> None:
    store.close()
    step = getattr(revision, moment)

    def take_away(*given: object, **more: object) -> object:
        path.unlink(missing_ok=True)
        return step(*given, **more)

    monkeypatch.setattr(revision, moment, take_away)
    with pytest.raises(RecordTrouble, match=r"There is no record at|could not be opened"):
        glance_at(path)


def test_the_usual_place_follows_the_environment(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, a_home_of_its_own: Path
) -> None:
    from logbook.record.file.places import default_location, default_path

    assert default_path().is_relative_to(a_home_of_its_own)
    monkeypatch.setenv("LOGBOOK_URL", "postgresql://club/logbook")
    assert default_location() == "postgresql://club/logbook"
    monkeypatch.setenv("LOGBOOK_FILE", str(tmp_path / "here.logbook"))
    assert default_location() == default_path() == tmp_path / "here.logbook"
    Store.open(create=True).close()
    assert (tmp_path / "here.logbook").exists()


def test_who_opens_a_record_first_has_begun_it(path: Path, tmp_path: Path) -> None:
    for place in (path, f"sqlite:///{tmp_path / 'shared.db'}"):
        with Store.open(place, create=True) as first, Store.open(place, create=True) as second:
            assert (first.begun, second.begun) == (True, False)


def test_a_record_begun_in_a_shared_database_has_all_that_one_in_a_file_has(
    path: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What the command line begins: the zone of the machine, every table, the record's own facts."""
    from logbook.cli.asked import Asked
    from logbook.cli.opening import writing

    monkeypatch.setenv("TZ", "Asia/Tokyo")
    begun = []
    for file, url in ((path, ""), (None, f"sqlite:///{tmp_path / 'shared.db'}")):
        monkeypatch.setenv("LOGBOOK_URL", url)
        with writing(Asked(file), create=True) as book:
            assert book.settings.zone == "Asia/Tokyo"
            tables = [name for (name,) in book.rows("SELECT name FROM sqlite_schema ORDER BY name", ())]
            facts = list(book.rows("SELECT * FROM meta", ())) + list(book.rows("SELECT * FROM setting", ()))
            begun.append((tables, facts, content(book.store)))
    assert begun[0] == begun[1]
