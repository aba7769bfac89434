"""Opening a record, making a new one where asked, bringing an older one up to date."""

from __future__ import annotations

import sqlite3
from pathlib import Path

from sqlalchemy import Connection, Engine, create_engine, inspect
from sqlalchemy.exc import SQLAlchemyError

from logbook.errors import NoRecord, RecordTrouble, Refused
from logbook.record.file import files
from logbook.record.file.engine import file_engine
from logbook.record.file.trouble import explain, foreign
from logbook.record.schema import revision


def open_file(path: Path, *, create: bool) -> tuple[Engine, bool]:
    """An engine on the record at `path`, and whether it was begun just now; see `Store.open`."""
    begun = create and not path.exists() and make_file(path)
    if revision.check(path) != revision.HEAD:
        from logbook.record.file.upgrade import upgrade

        upgrade(path)
    return file_engine(path), begun


def make_file(path: Path) -> bool:
    """Puts an empty record at `path`, whole; false, and nothing changed, where another got there first."""
    try:
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        draft = files.draft_beside(path)
    except OSError as error:
        sentence = f"No record could be made at {path}: {error.strerror}."
        raise RecordTrouble(sentence, where=str(path)) from None
    try:
        engine = file_engine(draft)
        with engine.begin() as connection:
            connection.exec_driver_sql(f"PRAGMA application_id = {revision.APPLICATION_ID}")
            lay_tables(connection)
        engine.dispose()
        return files.place_new(draft, path)
    except (SQLAlchemyError, sqlite3.Error) as error:
        raise explain(error, path) from error
    finally:
        files.remove_draft(draft)


def lay_tables(connection: Connection) -> None:
    """All tables, empty, with the record's own facts, by the steps that bring older records up to date."""
    from logbook.record.file.upgrade import bring_to_head

    bring_to_head(connection)
    # Nobody is to be told what reads otherwise in a record that has nothing yet.
    connection.exec_driver_sql("UPDATE meta SET rules_told = 1")


def open_database(url: str, *, create: bool) -> tuple[Engine, bool]:
    """The same of the database that a URL names, for a record that several people share."""
    shown = url.rsplit("@", 1)[-1]  # without the password
    try:
        engine = create_engine(url, pool_pre_ping=True)  # it is kept, and a server may end what is idle
        with engine.begin() as connection:
            names = set(inspect(connection).get_table_names())
            if not names:
                if not create:
                    raise NoRecord(f"There is no record in {shown}.", where=shown)
                lay_tables(connection)
            elif not {"meta", "alembic_version"} <= names:
                raise foreign(shown)
            found = connection.exec_driver_sql("SELECT version_num FROM alembic_version").scalar_one_or_none()
    except (SQLAlchemyError, ImportError) as error:
        raise explain(error, shown) from error
    if found not in revision.REVISIONS:
        raise Refused(
            f"{shown} was written by a newer version of logbook. Please update logbook.", where=shown
        )
    if found != revision.HEAD:
        from logbook.record.file.upgrade import upgrade_database

        upgrade_database(url)
    return engine, not names
