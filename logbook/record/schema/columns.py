"""Column types and constraints for SQLite and PostgreSQL alike: whole numbers, text, ISO dates as text."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from types import MappingProxyType, new_class
from typing import Any

from sqlalchemy import BigInteger, CheckConstraint, ForeignKey, Integer, MetaData, Text
from sqlmodel import Field, SQLModel

from logbook.model.fields import Stored

# STRICT tables of SQLite know INTEGER alone; 1e-12 shares need eight bytes on PostgreSQL.
Whole = BigInteger().with_variant(Integer(), "sqlite")

NAMES = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s_%(referred_table_name)s",
    "pk": "pk_%(table_name)s",
}


class Row(SQLModel):
    """What all tables share: constraints with names, so that a revision can say what it changes."""

    metadata = MetaData(naming_convention=NAMES)


def within(column: str, low: int, high: int) -> CheckConstraint:
    """A range, both ends included; an absent value passes."""
    return CheckConstraint(f"{column} BETWEEN {low} AND {high}", name=f"{column}_range")


def one_of(column: str, words: Iterable[str]) -> CheckConstraint:
    """A closed list of words."""
    listed = ", ".join(f"'{word}'" for word in words)
    return CheckConstraint(f"{column} IN ({listed})", name=f"{column}_word")


def holds(name: str, condition: str) -> CheckConstraint:
    return CheckConstraint(condition, name=name)


_TEXTS = ("str", "date", "time")
# What a column of this name refers to, and whether its row goes with what it refers to.
_REFERS = {
    "watch_id": ("watch.id", None), "event_id": ("event.id", None), "exposure_id": ("exposure.id", None),
    "setting_id": ("setting.id", None), "seal_id": ("seal.id", "CASCADE"),
    "action_id": ("action.id", "CASCADE"),
}  # fmt: skip


def row_class(
    table: str, fields: Iterable[Stored], *rules: Any, more: Mapping[str, str] = MappingProxyType({}),
    keys: Sequence[str] = ("id",), **options: Any,
) -> Any:  # fmt: skip
    """The row class of a table: columns with their constraints, and `rules`, of which one takes the place of
    a constraint of its name.

    `more` are columns that are no fields, each with its type; the record's own counters give the `keys`.
    """
    plain = (Stored(name, name, kind.removesuffix(" | None"), "None" in kind) for name, kind in more.items())
    found = [*plain, *fields]
    columns = {one.column: _column(one, one.column in keys) for one in found}
    named = {rule.name for rule in rules}
    checks = [check for one in found for check in _checks(one) if check.name not in named]
    body = {
        "__tablename__": table, "__table_args__": (*checks, *rules, {"sqlite_strict": True} | options),
        "__module__": __name__, "__annotations__": dict.fromkeys(columns, Any), **columns,
    }  # fmt: skip
    return new_class(f"{table}_row", (Row,), {"table": True}, lambda namespace: namespace.update(body))


def _column(one: Stored, is_key: bool) -> Any:
    maybe = one.maybe and not is_key and one.column != "watch_id"
    # A reference is checked at once unless a transaction puts it off until its end, as undoing does.
    reference = [
        ForeignKey(target, ondelete=on_delete, deferrable=True, initially="IMMEDIATE")
        for target, on_delete in [_REFERS.get(one.column, ("", None))]
        if target
    ]
    return Field(
        default=None, primary_key=is_key, nullable=maybe,
        sa_type=Text if one.words or one.type in _TEXTS else Whole,
        sa_column_args=reference,
        sa_column_kwargs={"info": {"type": one.type}, **({"autoincrement": False} if is_key else {})},
    )  # fmt: skip


def _checks(one: Stored) -> list[CheckConstraint]:
    """What may stand in a column: one of its words, from the least to the most, a flag, a date, a time."""
    if one.words:
        return [one_of(one.column, one.words)]
    if one.kept:
        return [within(one.column, *one.kept)]
    rule = _RULES.get(one.type)
    return [holds(f"{one.column}_{rule[0]}", f"{one.column} {rule[1]}")] if rule else []


_RULES = {
    "bool": ("flag", "IN (0, 1)"), "date": ("date", "LIKE '____-__-__'"), "time": ("time", "LIKE '__:__:__'"),
}  # fmt: skip
