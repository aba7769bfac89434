"""Column types and constraints for SQLite and PostgreSQL alike: whole numbers, text, ISO dates as text."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, time
from typing import Any

from sqlalchemy import BigInteger, CheckConstraint, Dialect, ForeignKey, Integer, MetaData, Text
from sqlalchemy.types import TypeDecorator
from sqlmodel import Field, SQLModel

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


def maybe_whole(target: str | None = None) -> Any:
    return Field(default=None, sa_type=Whole, sa_column_args=_reference(target))


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
    return Field(default=None, sa_type=IsoDate)


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
