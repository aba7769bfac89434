"""Plain statements with `?` for each parameter, on whichever database the record lives."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from sqlalchemy import Connection
from sqlmodel import Session

from logbook.record.reading.rows import Rows


def _spelled(connection: Connection, statement: str) -> str:
    return statement if connection.dialect.paramstyle == "qmark" else statement.replace("?", "%s")


def rows_of(connection: Connection) -> Rows:
    """Plain reading through an open connection."""

    def rows(statement: str, params: Sequence[Any] = ()) -> list[tuple[Any, ...]]:
        result = connection.exec_driver_sql(_spelled(connection, statement), tuple(params))
        return [tuple(row) for row in result]

    return rows


def run(session: Session, statement: str, params: Sequence[Any] = ()) -> None:
    connection = session.connection()
    connection.exec_driver_sql(_spelled(connection, statement), tuple(params)).close()


def run_many(session: Session, statement: str, params: Sequence[Sequence[Any]]) -> None:
    """One statement for many rows of plain values, in one call of the driver."""
    if params:
        connection = session.connection()
        connection.exec_driver_sql(_spelled(connection, statement), [tuple(row) for row in params])


def take_ids(session: Session, counter: str, count: int) -> range:
    """The next numbers of a counter (`entry`, `watch`, `seal`, `action`); none is ever given twice."""
    name = f"next_{counter}_id"
    connection = session.connection()
    statement = _spelled(connection, f"UPDATE meta SET {name} = {name} + ? RETURNING {name}")
    after = connection.exec_driver_sql(statement, (count,)).scalar_one()
    return range(after - count, after)
