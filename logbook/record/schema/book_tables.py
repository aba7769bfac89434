"""The tables that the record keeps about itself: the ledger, the journal, its own counters."""

from __future__ import annotations

from datetime import date

from sqlalchemy import text as sql
from sqlmodel import Index

from logbook.model.values import CHANNELS, RAISED_CODES
from logbook.record.schema.columns import (  # fmt: skip
    Row,
    flag,
    holds,
    is_date,
    key,
    maybe_day,
    maybe_text,
    one_of,
    text,
    whole,
    within,
)

STRICT = {"sqlite_strict": True}
SHARE_LIMIT = 10**18  # a million intervals, in 1e-12: far beyond any life, well inside eight bytes


def _share_checks() -> list[object]:
    # Ageing may fall below zero: cold water stands in for a warm wrist.
    return [within(c, -SHARE_LIMIT if c == "ageing" else 0, SHARE_LIMIT) for c in CHANNELS]


class Channels(Row):
    """Six wear shares in trillionths, so that sums are exact in any order."""

    ageing: int = whole()
    pressure: int = whole()
    temperature: int = whole()
    salt: int = whole()
    chemicals: int = whole()
    handling: int = whole()


class LedgerShareRow(Channels, table=True):
    """What one exposure adds to one seal; not counted where it only widens the band."""

    __tablename__ = "ledger_share"
    __table_args__ = (
        *_share_checks(),
        flag("counted"),
        # Few rows are not counted, and the first screen asks for them.
        Index(
            "ix_ledger_share_doubtful",
            "seal_id",
            sqlite_where=sql("counted = 0"),
            postgresql_where=sql("counted = 0"),
        ),
        {**STRICT, "sqlite_with_rowid": False},
    )
    exposure_id: int = whole("exposure.id", part_of_key=True)
    seal_id: int = whole("seal.id", part_of_key=True, on_delete="CASCADE")
    counted: int = whole()


class SealTotalRow(Channels, table=True):
    """The sum of a seal's counted ledger rows."""

    __tablename__ = "seal_total"
    __table_args__ = (*_share_checks(), STRICT)
    seal_id: int = whole("seal.id", part_of_key=True, on_delete="CASCADE")


class RaisedRow(Row, table=True):
    """What an exposure began that stands until a pass; derived, as the ledger is."""

    __tablename__ = "raised"
    __table_args__ = (one_of("code", RAISED_CODES), {**STRICT, "sqlite_with_rowid": False})
    exposure_id: int = whole("exposure.id", part_of_key=True)
    code: str = text(primary_key=True)


class ActionRow(Row, table=True):
    """One thing that the owner did, as one step of undo."""

    __tablename__ = "action"
    __table_args__ = (flag("undone"), holds("label_given", "length(label) >= 1"), STRICT)
    id: int = key()
    done_at: str = text()  # UTC, ISO 8601
    label: str = text()
    undone: int = whole()


class ChangeRow(Row, table=True):
    """The other side of one change: the rows that were there before it or, once undone, after it."""

    __tablename__ = "change"
    __table_args__ = (holds("rows_json", "other_rows IS NULL OR length(other_rows) >= 2"), STRICT)
    action_id: int = whole("action.id", part_of_key=True, on_delete="CASCADE")
    seq: int = whole(part_of_key=True)
    table_name: str = text()
    row_key: str = text()  # JSON: a number or a text
    other_rows: str | None = maybe_text()  # JSON list of rows; absent: there were none


class MetaRow(Row, table=True):
    """The record's own facts; a single row."""

    __tablename__ = "meta"
    __table_args__ = (
        holds("single", "id = 1"),
        holds("schema_name_known", "schema_name = 'logbook'"),
        within("next_entry_id", 1, 2**53),
        within("next_watch_id", 1, 2**53),
        within("next_seal_id", 1, 2**53),
        within("next_action_id", 1, 2**53),
        *is_date("clock_right_to"),
        flag("rules_told"),
        STRICT,
    )
    id: int = key()
    schema_name: str = text()
    practice_fingerprint: str = text()  # of the constants behind the ledger; empty: no ledger yet
    next_entry_id: int = whole()
    next_watch_id: int = whole()
    next_seal_id: int = whole()
    next_action_id: int = whole()
    # Up to this day the owner said that the clock is right.
    clock_right_to: date | None = maybe_day()
    rules_told: int = whole()  # 0: of an older record nobody was told yet which watches read otherwise
    writes: int = whole()  # grows with every action, so that others can tell that something changed
