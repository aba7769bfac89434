"""Bringing an older record up to date: a backup first, all or nothing, and one chain of revisions."""

from __future__ import annotations

import json
import shutil
import sqlite3
from pathlib import Path

import pytest
from sqlalchemy.dialects import postgresql
from sqlalchemy.schema import CreateIndex, CreateTable

from logbook.errors import RecordTrouble, Refused
from logbook.exchange import json_out
from logbook.keeping import doctor, glance, ledger, revision, undo, upgrade, watches
from logbook.keeping.columns import Row
from logbook.keeping.creation import META
from logbook.keeping.engine import file_engine
from logbook.keeping.migrations.scripts import statements
from logbook.keeping.store import Store
from logbook.reckoning.practice import Practice
from tests.keeping.making import a_watch, folder_of, its_seals

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


def test_a_shared_database_gets_the_same_tables_step_by_step_as_at_once() -> None:
    stepwise = [
        plain(statement)
        for step in upgrade.known_revisions()
        for statement in statements(step.module.__file__, "postgresql")
    ]
    postgres = postgresql.dialect()
    at_once = [
        plain(str(made.compile(dialect=postgres)))
        for table in Row.metadata.sorted_tables
        for made in (CreateTable(table), *(CreateIndex(index) for index in table.indexes))
    ]
    assert sorted(stepwise) == sorted([*at_once, plain(META)])
    assert not any("STRICT" in statement or "INTEGER" in statement for statement in stepwise)


def plain(statement: str) -> str:
    return " ".join(statement.split()).replace("( ", "(").replace(" )", ")")


def test_a_record_made_at_once_equals_one_made_step_by_step(store: Store, path: Path, tmp_path: Path) -> None:
    stepwise = tmp_path / "stepwise"
    sqlite3.connect(stepwise).close()
    engine = file_engine(stepwise)
    with engine.begin() as connection:
        upgrade.lay_by_steps(connection)
    engine.dispose()
    assert dump(stepwise) == dump(path)


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


FIXTURES = Path(__file__).with_name("fixtures")


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
    assert {key: document[key] for key in exported} == exported
    assert undoable[0] == "log dive of 7 Mar 2026 for Blue bezel"
    assert doctor.examine(path, practice) == []
    with Store.open(path) as store:
        while undo.recent(store):
            undo.undo(store, practice)
        assert glance.read_records(store.rows, retired=True) == []
