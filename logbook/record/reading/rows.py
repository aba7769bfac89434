"""How everything is read: a function from a statement and its parameters to plain rows."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Any

Rows = Callable[[str, Sequence[Any]], Iterable[tuple[Any, ...]]]

_CHUNK = 500  # parameters in one statement; SQLite's own limit was 999 for long


def in_chunks(keys: Sequence[Any]) -> Iterator[tuple[str, Sequence[Any]]]:
    """The keys in pieces small enough for one statement, each with its `(?, ?, …)`."""
    for start in range(0, len(keys), _CHUNK):
        piece = keys[start : start + _CHUNK]
        yield f"({', '.join('?' * len(piece))})", piece
