"""Connections as the record needs them: durable, foreign keys on, every write begun as a write."""

from __future__ import annotations

import sqlite3
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, QueuePool, create_engine, event
from sqlalchemy.exc import DisconnectionError

from logbook.record.file import lock
from logbook.record.file.files import identity
from logbook.record.schema.revision import connect

_WRITES = "logbook_writes"


class ReplacedError(Exception):
    """The file at the path is no longer the one that the connection holds (a restore put another there)."""


def file_engine(path: Path, *, foreign_keys: bool = True) -> Engine:
    """An engine on one SQLite file that exists already."""
    engine = create_engine(
        "sqlite+pysqlite://",
        creator=lambda: connect(path, check_same_thread=False),  # the pool hands it to one thread at a time
        poolclass=QueuePool,
    )

    @event.listens_for(engine, "connect")
    def prepare(driver: sqlite3.Connection, record: Any) -> None:
        record.info["file"] = identity(path)
        driver.execute(f"PRAGMA foreign_keys = {int(foreign_keys)}").close()
        # Rollback journal and EXTRA: what was acknowledged is on the disk, its folder's entry included.
        lock.take(driver, "PRAGMA journal_mode = DELETE")
        driver.execute("PRAGMA synchronous = EXTRA").close()

    @event.listens_for(engine, "checkout")
    def still_there(driver: sqlite3.Connection, record: Any, proxy: Any) -> None:
        if record.info.get("file") != identity(path):
            raise DisconnectionError  # the pool opens a new connection in its place

    @event.listens_for(engine, "begin")
    def begin(connection: Connection) -> None:
        if not connection.get_execution_options().get(_WRITES):
            connection.exec_driver_sql("BEGIN")
            lock.take(_driver(connection), "SELECT 1 FROM sqlite_master")
            return
        lock.take(_driver(connection), "BEGIN IMMEDIATE")
        # Asked again now that nobody else can write: a restore may have won the race for the lock.
        if connection.connection.info.get("file") != identity(path):
            raise ReplacedError

    @event.listens_for(engine, "commit")
    def commit(connection: Connection) -> None:
        if not connection.get_execution_options().get(_WRITES):
            return
        driver = _driver(connection)
        try:
            lock.take(driver, "COMMIT")  # for which all who read must have ended
        except BaseException:
            driver.rollback()
            raise

    return engine


def _driver(connection: Connection) -> sqlite3.Connection:
    driver = connection.connection.driver_connection
    assert isinstance(driver, sqlite3.Connection)
    return driver


def writing_engine(engine: Engine) -> Engine:
    """The same pool; its transactions take the right to write at once, so that none waits to upgrade."""
    return engine.execution_options(**{_WRITES: True})


def reading_engine(engine: Engine) -> Engine:
    """The same pool; its transactions see one state from their first read on, as SQLite's do by nature."""
    return engine if engine.name == "sqlite" else engine.execution_options(isolation_level="REPEATABLE READ")
