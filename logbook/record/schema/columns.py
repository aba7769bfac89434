"""Column types and constraints for SQLite and PostgreSQL alike: whole numbers, text, ISO dates as text."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, time
from types import new_class
from typing import Any

from sqlalchemy import BigInteger, CheckConstraint, Dialect, ForeignKey, Integer, MetaData, Text
from sqlalchemy.types import TypeDecorator
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


class IsoDate(TypeDecorator[date]):
    """A plain date as `YYYY-MM-DD`."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: date | None, dialect: Dialect) -> str | None:
        return None if value is None else value.isoformat()

    def process_result_value(self, value: str | None, dialect: Dialect) -> date | None:
        return None if value is None else date.fromisoformat(value)


class IsoTime(TypeDecorator[time]):
    """A civil time of day as `HH:MM:SS`, without a zone."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: time | None, dialect: Dialect) -> str | None:
        return None if value is None else value.isoformat(timespec="seconds")

    def process_result_value(self, value: str | None, dialect: Dialect) -> time | None:
        return None if value is None else time.fromisoformat(value)


class Row(SQLModel):
    """What all tables share: constraints with names, so that a revision can say what it changes."""

    metadata = MetaData(naming_convention=NAMES)


def key() -> Any:
    """A primary key that the record's own counters give, never the database."""
    return Field(primary_key=True, sa_type=Whole, sa_column_kwargs={"autoincrement": False})


def whole(target: str | None = None, *, part_of_key: bool = False, on_delete: str | None = None) -> Any:
    """A whole number; with a `target` a reference."""
    return Field(sa_type=Whole, primary_key=part_of_key, sa_column_args=_reference(target, on_delete))


def _reference(target: str | None, on_delete: str | None = None) -> list[ForeignKey]:
    """Checked at once unless a transaction puts it off until its end, as undoing does."""
    if target is None:
        return []
    return [ForeignKey(target, ondelete=on_delete, deferrable=True, initially="IMMEDIATE")]


def text(**options: Any) -> Any:
    return Field(sa_type=Text, **options)


def maybe_text() -> Any:
    return Field(default=None, sa_type=Text)


def day() -> Any:
    return Field(sa_type=IsoDate)


def maybe_day() -> Any:
    return Field(default=None, sa_type=IsoDate, nullable=True)


def within(column: str, low: int, high: int) -> CheckConstraint:
    """A range, both ends included; an absent value passes."""
    return CheckConstraint(f"{column} BETWEEN {low} AND {high}", name=f"{column}_range")


def one_of(column: str, words: Iterable[str]) -> CheckConstraint:
    """A closed list of words."""
    listed = ", ".join(f"'{word}'" for word in words)
    return CheckConstraint(f"{column} IN ({listed})", name=f"{column}_word")


def flag(column: str) -> CheckConstraint:
    return CheckConstraint(f"{column} IN (0, 1)", name=f"{column}_flag")


def is_date(*columns: str) -> list[CheckConstraint]:
    return [CheckConstraint(f"{c} LIKE '____-__-__'", name=f"{c}_date") for c in columns]


def holds(name: str, condition: str) -> CheckConstraint:
    return CheckConstraint(condition, name=name)


STRICT = {"sqlite_strict": True}
_TYPES: dict[str, Any] = {"bool": Whole, "int": Whole, "float": Whole, "date": IsoDate, "time": IsoTime}
_KEYS = {"watch_id": "watch.id", "event_id": "event.id", "exposure_id": "exposure.id"}  # what they refer to


def row_class(
    table: str, fields: Iterable[Stored], *rules: Any, more: dict[str, Any] | None = None, **options: Any
) -> Any:
    """The row class of a table: a column and its constraint for each field, and `more` columns and `rules`.

    A rule takes the place of a constraint of the same name.
    """
    found = list(fields)
    columns = {**(more or {}), **{one.column: _column(one) for one in found}}
    named = {rule.name for rule in rules}
    checks = [check for one in found for check in _checks(one) if check.name not in named]
    body = {
        "__tablename__": table, "__table_args__": (*checks, *rules, STRICT | options),
        "__module__": __name__, "__annotations__": dict.fromkeys(columns, Any), **columns,
    }  # fmt: skip
    name = "".join(part.capitalize() for part in table.split("_")) + "Row"
    return new_class(name, (Row,), {"table": True}, lambda namespace: namespace.update(body))


def _column(one: Stored) -> Any:
    if one.column == "id":
        return key()
    maybe = one.maybe and one.column != "watch_id"
    options: dict[str, Any] = {"default": None} if maybe else {}
    return Field(
        sa_type=_TYPES.get(one.type, Text), nullable=maybe,
        sa_column_args=_reference(_KEYS.get(one.column)), **options,
    )  # fmt: skip


def _checks(one: Stored) -> list[CheckConstraint]:
    """What may stand in a column: one of its words, from the least to the most, a flag, a date, a time."""
    if one.words:
        return [one_of(one.column, one.words)]
    if one.kept:
        return [within(one.column, *one.kept)]
    if one.type == "bool":
        return [flag(one.column)]
    if one.type == "time":
        return [holds(f"{one.column}_time", f"{one.column} LIKE '__:__:__'")]
    return is_date(one.column) if one.type == "date" else []
