"""Bringing an older record up to date: a backup first, all or nothing, and one chain of revisions."""

from __future__ import annotations

import json
import os
import re
import shutil
import sqlite3
import tempfile
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from sqlalchemy import Connection, Dialect
from sqlalchemy.dialects import postgresql, sqlite
from sqlalchemy.schema import CreateIndex, CreateTable

from logbook.errors import RecordTrouble, Refused
from logbook.files.json import writing as json_out
from logbook.model.practice import Practice
from logbook.model.values import DAMAGE, EVENT_KINDS
from logbook.record.file import doctor, upgrade
from logbook.record.file.store import Store
from logbook.record.ledger import ledger
from logbook.record.reading import glance
from logbook.record.schema import revision
from logbook.record.schema.columns import Row
from logbook.record.schema.migrations.scripts import statements
from logbook.record.writing import undo, watches
from tests.cli.running import Cli
from tests.record import children
from tests.record.making import a_watch, content, folder_of, its_seals, says_as_much

FIXTURES = Path(__file__).parents[1] / "fixtures"

STEP = """
revision = "next"
down_revision = "{head}"
branch_labels = None
depends_on = None

def upgrade():
    from alembic import op
    op.get_bind().exec_driver_sql("ALTER TABLE watch ADD COLUMN colour TEXT")
    {more}
"""


def a_step(folder: Path, more: str = "") -> Path:
    versions = folder / "more"
    versions.mkdir()
    (versions / "next_colour.py").write_text(
        STEP.format(more=more, head=revision.REVISIONS[-2]), encoding="utf-8"
    )
    return versions


@pytest.fixture
def old(path: Path, practice: Practice, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A record of the newest revision, in a world that knows one more."""
    with Store.open(path, create=True) as store:
        watches.add(store, a_watch(), its_seals(), [], practice)
    monkeypatch.setattr(revision, "REVISIONS", (*revision.REVISIONS, "next"))
    monkeypatch.setattr(revision, "HEAD", "next")
    return path


def columns(path: Path) -> list[str]:
    connection = sqlite3.connect(path)
    found = [row[1] for row in connection.execute("PRAGMA table_info(watch)")]
    connection.close()
    return found


def dump(path: Path) -> list[tuple[str, str]]:
    connection = sqlite3.connect(path)
    found = connection.execute(
        "SELECT name, sql FROM sqlite_schema WHERE sql IS NOT NULL ORDER BY name"
    ).fetchall()
    connection.close()
    return [(name, plain(sql)) for name, sql in found]


def test_the_revisions_known_at_a_glance_are_those_of_the_package() -> None:
    assert tuple(script.revision for script in upgrade.known_revisions()) == revision.REVISIONS


def declared(dialect: Dialect) -> list[tuple[str, ...]]:
    """The tables and indexes that the row classes say there are."""
    return sorted(
        parts(plain(str(made.compile(dialect=dialect))))
        for table in Row.metadata.sorted_tables
        for made in (CreateTable(table), *(CreateIndex(index) for index in table.indexes))
    )


def parts(statement: str) -> tuple[str, ...]:
    """A statement, its columns and its constraints sorted: in which order they stand means nothing."""
    # A column that was added later has its constraint behind it.
    statement = re.sub(r"( \w+ \w+) (CONSTRAINT)", r"\1, \2", statement)
    head, _, inside = statement.partition("(")
    inside, _, tail = inside.rpartition(")")
    depth, found = 0, [""]
    for char in inside:
        depth += (char == "(") - (char == ")")
        if char == "," and not depth:
            found.append("")
        else:
            found[-1] += char
    if head.startswith("CREATE TABLE"):
        found.sort(key=str.strip)
    return (head.strip(), *(each.strip() for each in found), tail.strip())


def test_a_shared_database_gets_the_tables_that_the_row_classes_declare() -> None:
    stepwise = [
        plain(statement)
        for step in upgrade.known_revisions()
        for statement in statements(step.module.__file__, "postgresql")
    ]
    assert sorted(map(parts, left_by(stepwise))) == declared(postgresql.dialect())
    assert not any("STRICT" in statement or "INTEGER" in statement for statement in stepwise)


REFERENCE = re.compile(r"CONSTRAINT \w+ FOREIGN KEY\(\w+\) REFERENCES (\w+) \(id\)[^,)]*")


def left_by(statements: list[str]) -> list[str]:
    """The tables and indexes that stand after the statements, as PostgreSQL takes them.

    With a table fall its indexes and what refers to it (documentation of DROP TABLE … CASCADE); a reference
    that is said again has to be the one that fell.
    """
    standing: list[str] = []
    fallen: set[tuple[str, str]] = set()
    for statement in statements:
        words = statement.split()
        if words[0] == "DROP":
            assert words[3:] == ["CASCADE"], statement
            name = words[2]
            standing = [s for s in standing if f"TABLE {name} " not in s and f" ON {name} " not in s]
            fallen = {(table, reference) for table, reference in fallen if table != name}
            fallen |= {
                (s.split()[2], found[0].strip())
                for s in standing
                for found in REFERENCE.finditer(s)
                if found[1] == name
            }
        elif words[0] == "ALTER":
            table, _, added = statement.removeprefix("ALTER TABLE ").partition(" ADD ")
            if added.startswith("COLUMN "):
                (at,) = (n for n, s in enumerate(standing) if s.startswith(f"CREATE TABLE {table} "))
                standing[at] = f"{standing[at].removesuffix(')')}, {added.removeprefix('COLUMN ')})"
            else:
                fallen.remove((table, added))
        elif words[0] == "CREATE" and words[3] != "AS":
            standing.append(statement)
    assert not fallen
    return sorted(standing)


def plain(statement: str) -> str:
    return " ".join(statement.split()).replace("( ", "(").replace(" )", ")")


def test_a_read_only_folder_is_said_to_be_one(tmp_path: Path) -> None:
    nobody = 65_534

    def work(say: Callable[[str], None]) -> None:
        if os.geteuid() == 0:  # to whom no folder is read-only
            os.setuid(nobody)
        try:
            Store.open(older)
        except RecordTrouble as error:
            say(error.message)

    with tempfile.TemporaryDirectory() as name:
        older = Path(shutil.copy(FIXTURES / "record-0002.logbook", name))
        older.chmod(0o666)
        older.parent.chmod(0o555)
        said = children.start(work).wait()
        older.parent.chmod(0o755)
    assert [f"the folder {older.parent} is read-only" in words for words in said] == [True], said


def test_a_new_record_has_the_tables_that_the_row_classes_declare(store: Store, path: Path) -> None:
    found = sorted(parts(sql) for name, sql in dump(path) if name != "alembic_version")
    assert found == declared(sqlite.dialect())


def test_a_new_record_has_the_tables_of_an_older_one_that_was_brought_up_to_date(
    store: Store, path: Path, tmp_path: Path
) -> None:
    for version in ("0001", "0002"):
        older = Path(shutil.copy(FIXTURES / f"record-{version}.logbook", tmp_path))
        Store.open(older).close()
        assert dump(older) == dump(path)


def test_an_older_record_is_brought_up_to_date_after_a_backup(old: Path, tmp_path: Path) -> None:
    before = old.read_bytes()
    kept = upgrade.upgrade(old, more_versions=a_step(tmp_path))
    assert "colour" in columns(old)
    assert revision.check(old) == "next"
    assert revision.check(kept) == revision.REVISIONS[-2]
    assert columns(kept) == columns_of_bytes(before, tmp_path)
    assert kept.name.startswith("record.logbook.before-next-")
    with Store.open(old) as store:
        assert [r.watch.name for r in glance.read_records(store.rows)] == ["Blue bezel"]


def columns_of_bytes(content: bytes, folder: Path) -> list[str]:
    (folder / "earlier").write_bytes(content)
    return columns(folder / "earlier")


def test_a_failing_step_rolls_back_all_and_the_backup_stays(old: Path, tmp_path: Path) -> None:
    before = old.read_bytes()
    more = 'op.get_bind().exec_driver_sql("UPDATE nowhere SET x = 1")'
    with pytest.raises(
        RecordTrouble, match=r"no such table: nowhere\); it was left as it was. A backup is at"
    ):
        upgrade.upgrade(old, more_versions=a_step(tmp_path, more))
    assert old.read_bytes() == before
    assert len([name for name in folder_of(old) if ".before-next-" in name]) == 1


def test_steps_that_were_written_before_the_disk_complained_are_not_said_to_be_undone(
    old: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    run = upgrade.bring_to_head

    def fail_late(connection: Connection, more_versions: Path | None) -> None:
        run(connection, more_versions)
        connection.exec_driver_sql("COMMIT")
        raise sqlite3.OperationalError("disk I/O error")

    monkeypatch.setattr(upgrade, "bring_to_head", fail_late)
    upgrade.upgrade(old, more_versions=a_step(tmp_path))
    assert revision.check(old) == "next"


def test_a_step_that_leaves_rows_referring_to_nothing_is_taken_back(old: Path, tmp_path: Path) -> None:
    """Foreign keys are off while tables are rebuilt; what they protect is looked at before it is kept."""
    before = old.read_bytes()
    more = 'op.get_bind().exec_driver_sql("DELETE FROM watch")'
    with pytest.raises(RecordTrouble, match="would refer to nothing"):
        upgrade.upgrade(old, more_versions=a_step(tmp_path, more))
    assert old.read_bytes() == before


def test_a_damaged_record_is_not_brought_up_to_date(old: Path, tmp_path: Path) -> None:
    connection = sqlite3.connect(old)
    connection.execute("UPDATE seal SET watch_id = 99")
    connection.commit()
    connection.close()
    before = old.read_bytes()
    with pytest.raises(RecordTrouble, match=r"is damaged .* so it was not brought up to date"):
        upgrade.upgrade(old, more_versions=a_step(tmp_path))
    assert old.read_bytes() == before


def test_opening_and_glancing_bring_an_older_record_up_to_date_first(
    old: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    versions = a_step(tmp_path)
    original = upgrade.upgrade
    monkeypatch.setattr(upgrade, "upgrade", lambda path: original(path, more_versions=versions))
    with glance.open_rows(old) as rows:
        assert len(glance.read_records(rows)) == 1
    assert "colour" in columns(old)


def test_the_newest_code_of_yesterday_refuses_the_record_of_today(
    old: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    upgrade.upgrade(old, more_versions=a_step(tmp_path))
    monkeypatch.setattr(revision, "REVISIONS", revision.REVISIONS[:-1])
    monkeypatch.setattr(revision, "HEAD", revision.REVISIONS[-1])
    with pytest.raises(Refused, match="newer version of logbook"):
        Store.open(old)


@pytest.mark.parametrize("number", revision.REVISIONS[:-1])
def test_a_record_of_every_earlier_revision_opens_with_all_that_was_in_it(
    number: str, path: Path, practice: Practice
) -> None:
    """Beside each record lies what its own version exported; the newest may say more, never less."""
    shutil.copyfile(FIXTURES / f"record-{number}.logbook", path)
    path.chmod(0o600)  # as every record is; a checkout may give the file any mode
    exported = json.loads((FIXTURES / f"record-{number}.json").read_text(encoding="utf-8"))
    with Store.open(path) as store:
        document = json_out.record_document(store.rows)
        undoable = undo.recent(store)
        ledger.refresh_all(store, practice)
    exported.pop("written_by")
    assert says_as_much(document, exported)
    assert undoable[0] == "log dive of 7 Mar 2026 for Blue bezel"
    assert doctor.examine(path, practice) == []
    with Store.open(path) as store:
        while undo.recent(store):
            undo.undo(store, practice)
        assert glance.read_records(store.rows, retired=True) == []


@pytest.mark.parametrize("number", revision.REVISIONS[:-1])
def test_a_dive_of_before_above_the_mark_stands_as_soon_as_an_older_record_is_read(
    number: str, path: Path
) -> None:
    """The last dive of each record, after the last pass, to 255 m with a mark of 20 bar."""
    shutil.copyfile(FIXTURES / f"record-{number}.logbook", path)
    path.chmod(0o600)
    connection = sqlite3.connect(path)
    dived = "UPDATE exposure SET depth_mm = 255000, gauge_pa = 2600000 WHERE starts_on = '2026-03-07'"
    assert connection.execute(dived).rowcount == 1
    connection.commit()
    connection.close()
    older = shutil.copyfile(path, path.with_name("older.logbook"))
    older.chmod(0o600)

    def said(cli: Cli) -> list[str]:
        return [stop["code"] for stop in cli.json("score", "Blue bezel")["stops"]]

    read, written = Cli(path, "2026-03-10"), Cli(older, "2026-03-10")
    assert "overstressed" in said(read)
    written.ok("wet", "Blue bezel: rain 10min")
    assert "overstressed" in said(written)


@pytest.fixture
def of_0002(path: Path) -> Path:
    """A record of revision 0002: every kind of event, struck entries, a step undone, and what was told."""
    shutil.copyfile(FIXTURES / "record-0002.logbook", path)
    path.chmod(0o600)
    return path


def test_every_kind_of_event_has_the_word_of_today(of_0002: Path) -> None:
    with Store.open(of_0002) as store:
        kinds = {kind for (kind,) in store.rows("SELECT DISTINCT kind FROM event", ())}
        repaired = {kind for (kind,) in store.rows("SELECT DISTINCT repaired FROM event", ())}
    assert kinds == {*EVENT_KINDS} - {"knock"}
    assert repaired == {None, *DAMAGE}


def test_what_was_told_of_a_fault_stays_told_under_its_word_of_today(of_0002: Path) -> None:
    connection = sqlite3.connect(of_0002)
    before = {table: items_of(connection, table) for table in TELLING}
    connection.close()
    with Store.open(of_0002) as store:
        connection = sqlite3.connect(of_0002)
        now = {table: items_of(connection, table) for table in TELLING}
        connection.close()
        (fault,) = [r for r in glance.read_records(store.rows) if r.watch.name == "Gran's chrono"]
    old, new = "2:pressure-test:2026-02-23:pushers-15", "2:pressure-test:2026-02-23:pushers-damaged-15"
    assert all(old in before[table] for table in ("snooze", "told", "calendar_entry"))
    assert now == {table: [new if i == old else i for i in items] for table, items in before.items()}
    assert fault.snoozed[new] == date(2026, 6, 1)


TELLING = ("snooze", "told", "named_date", "calendar_entry")


def items_of(connection: sqlite3.Connection, table: str) -> list[str]:
    return [item for (item,) in connection.execute(f"SELECT item_id FROM {table} ORDER BY item_id")]


def test_steps_of_before_go_back_and_forth_after_the_upgrade(of_0002: Path, practice: Practice) -> None:
    """Struck and amended before it: an event of an old kind, an exposure, a habit; a watch described anew."""
    with Store.open(of_0002) as store:
        ledger.refresh_all(store, practice)
        assert undo.redo(store, practice) == "log crystal damage of 8 Mar 2026 for Lido quartz"
        assert glance.read_event(store.rows, 33).kind == "crystal-damaged"
        newest = content(store)
        while undo.recent(store)[0] != "log water inside of 3 Mar 2026 for Gran's chrono":
            undo.undo(store, practice)
        assert glance.read_event(store.rows, 30).kind == "water-inside"
        assert glance.read_event(store.rows, 15).note == ""
        exposure = glance.read_exposure(store.rows, 29)
        assert (exposure.activity, exposure.crown_open, exposure.density_kg_m3) == ("hands", False, None)
        records = {r.watch.name: r for r in glance.read_records(store.rows)}
        assert {h.exposure.activity for h in records["Lido quartz"].habits} == {"shower", "hands"}
        field = records["Field watch"].watch
        assert (field.note, field.marked_in, field.pushers_wet, field.made_from) == ("", "bar", False, None)
        while undo.counts(store.rows)[1]:
            undo.redo(store, practice)
        assert content(store) == newest


def test_a_snooze_of_before_goes_back_and_forth_after_the_upgrade(of_0002: Path, practice: Practice) -> None:
    item = "2:pressure-test:2026-02-23:pushers-damaged-15"
    with Store.open(of_0002) as store:
        ledger.refresh_all(store, practice)
        while undo.recent(store)[0] != "log battery change of 27 Feb 2026 for Lido quartz":
            undo.undo(store, practice)
        assert item not in glance.read_records(store.rows)[0].snoozed
        while undo.counts(store.rows)[1]:
            undo.redo(store, practice)
        assert item in glance.read_records(store.rows)[0].snoozed
