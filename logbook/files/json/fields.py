"""Which field of each value is which key of the export, and what may stand there."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from contextlib import contextmanager
from dataclasses import fields
from typing import Any

from logbook.errors import BadInput
from logbook.files.json.tree import DAY, FLAG, ID, NUMBER, TEXT, TIME, WHOLE, Kind, Node
from logbook.files.json.writing import RENAMED
from logbook.model.fields import Stored, stored_fields
from logbook.model.values import HomeWater, Settings

_KINDS = {"float": NUMBER, "int": WHOLE, "bool": FLAG, "date": DAY, "time": TIME}
_OWN_IDS = ("id", "watch_id")  # they have a default in the values, but no entry of a file is without them
_HOME = tuple(field.name for field in fields(HomeWater))


def given(node: Node, cls: type, without: Collection[str] = ()) -> dict[str, Any]:
    """The fields of a value that stand in the file as they are; silent ones have their default."""
    there = node.members()
    found = {}
    for one in stored_fields(cls):
        key = RENAMED.get(one.name, one.name)
        if one.name not in without and (key in there or one.needed or one.name in _OWN_IDS):
            found[one.name] = node.at(key).read(_kind(one))
    return found


def _kind(one: Stored) -> Kind:
    """What may stand in the file as a field."""
    if one.name in _OWN_IDS:
        return ID
    kind = ID if one.name.endswith("_id") else _KINDS.get(one.type, TEXT)
    return kind.or_null() if one.maybe else kind


@contextmanager
def judged(node: Node, cls: type) -> Iterator[None]:
    """Turns what a validator refuses into a sentence about the place in the file."""
    try:
        yield
    except BadInput as error:
        where = error.where or ""
        if cls is Settings and where in _HOME:
            where = f"home.{where}"
        elif where not in {each.name for each in fields(cls)}:
            where = ""
        key = RENAMED.get(where, where)
        path = f"{node.path}.{key}" if key else node.path
        Node(None, path, node.file).wrong(error.message)


@contextmanager
def judged_at(node: Node) -> Iterator[None]:
    """The same, for a value that stands at one place."""
    try:
        yield
    except BadInput as error:
        node.wrong(error.message)
