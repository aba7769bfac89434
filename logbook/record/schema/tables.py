"""The tables of the record: one row class each, with every range and word that the database itself holds.

What is a value has its columns and their constraints from the fields of `model.values`; here stands what
holds between them, and what the record keeps about itself. Row classes are not validated on the way in;
values are checked once at the edge, and here as a last line.
"""

from __future__ import annotations

from sqlalchemy import CheckConstraint
from sqlalchemy import text as sql
from sqlmodel import Index, UniqueConstraint

from logbook.model.due.tasks import STAGES
from logbook.model.values import CHANNELS, RAISED_CODES
from logbook.record.schema import shapes
from logbook.record.schema.columns import Row, holds, one_of, row_class, within

TESTS = ("pressure-test", "condensation-test")
TOLD_STAGES = tuple(stage for stage in STAGES if stage != "later")
SHARE_LIMIT = 10**18  # a million intervals, in 1e-12: far beyond any life, well inside eight bytes
# Six wear shares in trillionths, so that sums are exact in any order.
_SHARES = dict.fromkeys(CHANNELS, "int")


def _of_a_contact() -> list[CheckConstraint]:
    return [
        holds("activity_given", "length(activity) BETWEEN 1 AND 40"),
        # −3…60 °C in water; air reaches 120 °C in a sauna.
        holds("water_mk_range", "water_mk BETWEEN 270150 AND 333150"
              " OR (water = 'air' AND water_mk BETWEEN 233150 AND 393150)"),
    ]  # fmt: skip


def _of_shares() -> list[CheckConstraint]:
    # Ageing may fall below zero: cold water stands in for a warm wrist.
    return [within(c, -SHARE_LIMIT if c == "ageing" else 0, SHARE_LIMIT) for c in CHANNELS]


# What the owner described and logged.

WatchRow = row_class(
    "watch", shapes.WATCH.fields,
    UniqueConstraint("name_key"),
    holds("name_given", "length(name) >= 1"),
    holds("made_both", "(made_from IS NULL) = (made_to IS NULL)"),
    holds("made_in_order", "made_from <= made_to"),
    more={"name_key": "str"},  # without case, composed: two watches never differ by case alone
)  # fmt: skip
# A service interval that the owner set for one task of one watch.
WatchIntervalRow = row_class(
    "watch_interval", (), within("months", 1, 1200),
    more={"watch_id": "int", "task": "str", "months": "int"}, keys=("watch_id", "task"),
)  # fmt: skip
EventRow = row_class(
    "event", shapes.EVENT.fields,
    holds("passed_of_test", f"(kind IN {TESTS}) = (passed IS NOT NULL)"),
    holds("repaired_of_repair", "(kind = 'repaired') = (repaired IS NOT NULL)"),
    holds("to_mark_of_test", "to_mark = 0 OR (kind = 'pressure-test' AND test_pa IS NOT NULL)"),
    holds("moved_of_knock", "moved = 0 OR kind = 'knock'"),
    holds("span_both", "(span_first IS NULL) = (span_last IS NULL)"),
    holds("span_in_order", "span_first < span_last"),
    holds("span_counts", "happened_on IN (span_first, span_last)"),
    Index(None, "watch_id", "happened_on"),
    Index(None, "happened_on"),
    more={"span_first": "date | None", "span_last": "date | None"},
)  # fmt: skip
SealRow = row_class(
    "seal", shapes.SEAL.fields,
    UniqueConstraint("event_id", "position"),
    holds("material_given", "length(material) BETWEEN 1 AND 40"),
    holds("fitted_in_order", "fitted_earliest <= fitted_latest"),
    Index(None, "watch_id"),
    more={"watch_id": "int"},
)  # fmt: skip
ExposureRow = row_class(
    "exposure", shapes.EXPOSURE.fields,
    *_of_a_contact(),
    holds("planned_to_of_plan", "planned_to IS NULL OR (planned = 1 AND planned_to >= starts_on)"),
    Index(None, "watch_id", "planned", "starts_on"),
    Index(None, "starts_on"),
)  # fmt: skip
ProfilePointRow = row_class(
    "profile_point", shapes.POINT.fields,
    more={"exposure_id": "int", "seq": "int"}, keys=("exposure_id", "seq"), sqlite_with_rowid=False,
)  # fmt: skip
# What an exposure was in the file that it came from, so that it does not come in twice.
ImportedRow = row_class(
    "imported", (), holds("origin_given", "length(origin) BETWEEN 1 AND 1000"),
    more={"exposure_id": "int", "origin": "str"}, keys=("exposure_id",),
)  # fmt: skip
HabitRow = row_class(
    "habit", (*shapes.HABIT.fields, *shapes.CONTACT.fields),
    *_of_a_contact(),
    holds("in_order", "to_on IS NULL OR from_on <= to_on"),
    Index(None, "watch_id"),
)  # fmt: skip
WornStretchRow = row_class(
    "worn_stretch", shapes.STRETCH.fields, holds("in_order", "from_on <= to_on"), Index(None, "watch_id")
)
# A due item that stays silent until a date.
SnoozeRow = row_class(
    "snooze", (), holds("item_given", "length(item_id) >= 1"),
    more={"item_id": "str", "until_on": "date"}, keys=("item_id",),
)  # fmt: skip
# What the owner set once; a single row, absent until something is set.
SettingRow = row_class(
    "setting", (*shapes.HOME.fields, *shapes.SETTINGS.fields), holds("single", "id = 1"), more={"id": "int"}
)
# The home water's temperature in one month; twelve rows or none.
HomeMonthRow = row_class(
    "home_month", (), within("month", 1, 12), within("water_mk", 270_150, 333_150),
    more={"month": "int", "setting_id": "int", "water_mk": "int"}, keys=("month",),
)  # fmt: skip

# What the record works out and keeps.

# What one exposure adds to one seal; not counted where it only widens the band.
LedgerShareRow = row_class(
    "ledger_share", (), *_of_shares(),
    # Few rows are not counted, and the first screen asks for them.
    Index("ix_ledger_share_doubtful", "seal_id",
          sqlite_where=sql("counted = 0"), postgresql_where=sql("counted = 0")),
    more={"exposure_id": "int", "seal_id": "int", "counted": "bool", **_SHARES},
    keys=("exposure_id", "seal_id"), sqlite_with_rowid=False,
)  # fmt: skip
# The sum of a seal's counted ledger rows.
SealTotalRow = row_class(
    "seal_total", (), *_of_shares(), more={"seal_id": "int", **_SHARES}, keys=("seal_id",)
)
# What an exposure began that stands until a pass; derived, as the ledger is.
row_class(
    "raised", (), one_of("code", RAISED_CODES),
    more={"exposure_id": "int", "code": "str"}, keys=("exposure_id", "code"), sqlite_with_rowid=False,
)  # fmt: skip

# What the record keeps about itself. Moments are UTC, ISO 8601.

# One thing that the owner did, as one step of undo.
row_class(
    "action", (), holds("label_given", "length(label) >= 1"),
    more={"id": "int", "done_at": "str", "label": "str", "undone": "bool"},
)  # fmt: skip
# The other side of one change: the rows that were there before it or, once undone, after it. The key is JSON,
# a number or a text; the rows are a JSON list, absent where there were none.
row_class(
    "change", (), holds("rows_json", "other_rows IS NULL OR length(other_rows) >= 2"),
    more={
        "action_id": "int", "seq": "int", "table_name": "str", "row_key": "str", "other_rows": "str | None",
    },
    keys=("action_id", "seq"),
)  # fmt: skip
_COUNTERS = ("next_entry_id", "next_watch_id", "next_seal_id", "next_action_id")
# The record's own facts; a single row.
row_class(
    "meta", (),
    holds("single", "id = 1"),
    holds("schema_name_known", "schema_name = 'logbook'"),
    *(within(counter, 1, 2**53) for counter in _COUNTERS),
    more={
        "id": "int", "schema_name": "str",
        "practice_fingerprint": "str",  # of the constants behind the ledger; empty: no ledger yet
        **dict.fromkeys(_COUNTERS, "int"),
        "clock_right_to": "date | None",  # up to this day the owner said that the clock is right
        # False: of an older record nobody was told yet which watches read otherwise.
        "rules_told": "bool",
        "writes": "int",  # grows with every action, so that others can tell that something changed
    },
)  # fmt: skip

# What the owner was told. Undo does not reach it: what was said cannot be unsaid.

# The date of a due item as it was told; it stays while a fresh forecast is near it.
row_class("named_date", (), more={"item_id": "str", "due_on": "date", "named_on": "date"}, keys=("item_id",))
# One notice: an item and the stage it had come to; again when a snooze has ended, on the date of
# `after_snooze` (empty: none did). Someone is about to tell it since `claimed_at`, and did at `sent_at`.
row_class(
    "told", (), one_of("stage", TOLD_STAGES),
    holds("after_snooze_date", "after_snooze = '' OR after_snooze LIKE '____-__-__'"),
    more={
        "item_id": "str", "stage": "str", "after_snooze": "str", "due_on": "date", "claimed_at": "str",
        "sent_at": "str | None",
    },
    keys=("item_id", "stage", "after_snooze"),
)  # fmt: skip
# A due item as it stands in the calendar file; no alarm before `alarm_from` (empty: none was put off).
row_class(
    "calendar_entry", (), holds("uid_given", "length(uid) >= 1"), within("sequence", 0, 2**31 - 1),
    more={
        "item_id": "str", "uid": "str", "sequence": "int", "summary": "str", "description": "str",
        "due_on": "date", "alarm_from": "str", "cancelled": "bool", "changed_at": "str",
    },
    keys=("item_id",),
)  # fmt: skip

TABLES = Row.metadata.tables  # name -> table
