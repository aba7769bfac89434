"""How everything is read: a function from a statement and its parameters to plain rows."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Any, TypeVar

from logbook.record.schema.shapes import Shape

Rows = Callable[[str, Sequence[Any]], Iterable[tuple[Any, ...]]]

Value = TypeVar("Value")

_CHUNK = 500  # parameters in one statement; SQLite's own limit was 999 for long


def in_chunks(keys: Sequence[Any]) -> Iterator[tuple[str, Sequence[Any]]]:
    """The keys in pieces small enough for one statement, each with its `(?, ?, …)`."""
    for start in range(0, len(keys), _CHUNK):
        piece = keys[start : start + _CHUNK]
        yield f"({', '.join('?' * len(piece))})", piece


def values(rows: Rows, shape: Shape[Value], rest: str, params: Sequence[Any] = ()) -> list[Value]:
    """The values of a table's rows that the rest of the statement chooses, in its order."""
    statement = f"SELECT {shape.listed()} FROM {shape.table} {rest}"
    return [shape.value(row) for row in rows(statement, params)]


def values_of(rows: Rows, shape: Shape[Value], column: str, keys: Sequence[Any]) -> list[Value]:
    """The values whose rows have one of the keys in a column, in no order."""
    return [
        value
        for marks, piece in in_chunks(keys)
        for value in values(rows, shape, f"WHERE {column} IN {marks}", piece)
    ]
