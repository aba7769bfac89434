"""Steps of undo that an older version wrote: each revision says what it does to the rows that they keep."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from alembic import command
from sqlalchemy import inspect

from logbook.model.practice import Practice
from logbook.record.file import doctor, upgrade
from logbook.record.file.engine import file_engine
from logbook.record.file.store import Store
from logbook.record.ledger import ledger
from logbook.record.schema import revision
from logbook.record.writing import undo
from logbook.record.writing.journal import JOURNALLED
from tests.record.making import content

FIXTURES = Path(__file__).with_name("fixtures")
Columns = dict[str, set[str]]


def columns_after_each(path: Path) -> dict[str, Columns]:
    """Revision -> journalled table -> its columns once that revision was made."""
    found: dict[str, Columns] = {}
    path.touch()
    engine = file_engine(path, foreign_keys=False)
    with engine.begin() as connection:
        config = upgrade._config(None)
        config.attributes["connection"] = connection
        for number in revision.REVISIONS:
            command.upgrade(config, number)
            tables = inspect(connection)
            found[number] = {
                table: {column["name"] for column in tables.get_columns(table)}
                for table in JOURNALLED
                if tables.has_table(table)
            }
    engine.dispose()
    return found


def test_a_revision_says_which_columns_the_rows_that_undo_keeps_have_not_got(path: Path) -> None:
    after = columns_after_each(path)
    assert list(after) == [script.revision for script in upgrade.known_revisions()]
    before: Columns = {}
    for script in upgrade.known_revisions():
        now, said = after[script.revision], script.module.NEW_COLUMNS
        assert {*said} <= {*before}, script.revision
        for table, columns in before.items():
            assert now[table] == columns | {*said.get(table, {})}, (script.revision, table)
        before = now


@pytest.mark.parametrize("number", revision.REVISIONS[:-1])
def test_every_step_of_an_older_record_goes_back_and_forth(
    number: str, path: Path, practice: Practice
) -> None:
    shutil.copyfile(FIXTURES / f"record-{number}.logbook", path)
    path.chmod(0o600)
    with Store.open(path) as store:
        ledger.refresh_all(store, practice)
        while undo.counts(store.rows)[1]:
            undo.redo(store, practice)
        states = [content(store)]
        while undo.recent(store):
            undo.undo(store, practice)
            states.append(content(store))
        first = states.pop()
        assert [table for table, rows in first.items() if rows] == ["setting"]  # which no step began
        while states:
            undo.redo(store, practice)
            assert content(store) == states.pop()
    assert doctor.examine(path, practice) == []
