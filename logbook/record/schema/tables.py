"""The tables of the record: one row class each, with every range and word that the database itself holds.

What is a value has its columns and their constraints from the fields of `model.values`; here stands what
holds between them. Row classes are not validated on the way in; values are checked once at the edge, and
here as a last line.
"""

from __future__ import annotations

from datetime import date

from sqlalchemy import CheckConstraint
from sqlmodel import Index, UniqueConstraint

from logbook.record.schema import shapes
from logbook.record.schema.columns import (  # fmt: skip
    STRICT,
    Row,
    day,
    holds,
    is_date,
    key,
    maybe_day,
    row_class,
    text,
    whole,
    within,
)

TESTS = ("pressure-test", "condensation-test")


def _of_a_contact() -> list[CheckConstraint]:
    return [
        holds("activity_given", "length(activity) BETWEEN 1 AND 40"),
        # −3…60 °C in water; air reaches 120 °C in a sauna.
        holds("water_mk_range", "water_mk BETWEEN 270150 AND 333150"
              " OR (water = 'air' AND water_mk BETWEEN 233150 AND 393150)"),
    ]  # fmt: skip


WatchRow = row_class(
    "watch", shapes.WATCH.fields,
    UniqueConstraint("name_key"),
    holds("name_given", "length(name) >= 1"),
    holds("made_both", "(made_from IS NULL) = (made_to IS NULL)"),
    holds("made_in_order", "made_from <= made_to"),
    more={"name_key": text()},  # without case, composed: two watches never differ by case alone
)  # fmt: skip


class WatchIntervalRow(Row, table=True):
    """A service interval that the owner set for one task of one watch."""

    __tablename__ = "watch_interval"
    __table_args__ = (within("months", 1, 1200), STRICT)
    watch_id: int = whole("watch.id", part_of_key=True)
    task: str = text(primary_key=True)
    months: int = whole()


EventRow = row_class(
    "event", shapes.EVENT.fields,
    holds("passed_of_test", f"(kind IN {TESTS}) = (passed IS NOT NULL)"),
    holds("repaired_of_repair", "(kind = 'repaired') = (repaired IS NOT NULL)"),
    holds("to_mark_of_test", "to_mark = 0 OR (kind = 'pressure-test' AND test_pa IS NOT NULL)"),
    holds("moved_of_knock", "moved = 0 OR kind = 'knock'"),
    holds("span_both", "(span_first IS NULL) = (span_last IS NULL)"),
    holds("span_in_order", "span_first < span_last"),
    holds("span_counts", "happened_on IN (span_first, span_last)"),
    *is_date("span_first", "span_last"),
    Index(None, "watch_id", "happened_on"),
    Index(None, "happened_on"),
    more={"span_first": maybe_day(), "span_last": maybe_day()},
)  # fmt: skip

SealRow = row_class(
    "seal", shapes.SEAL.fields,
    UniqueConstraint("event_id", "position"),
    holds("material_given", "length(material) BETWEEN 1 AND 40"),
    holds("fitted_in_order", "fitted_earliest <= fitted_latest"),
    Index(None, "watch_id"),
    more={"watch_id": whole("watch.id")},
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
    more={"exposure_id": whole("exposure.id", part_of_key=True), "seq": whole(part_of_key=True)},
    sqlite_with_rowid=False,
)  # fmt: skip


class ImportedRow(Row, table=True):
    """What an exposure was in the file that it came from, so that it does not come in twice."""

    __tablename__ = "imported"
    __table_args__ = (holds("origin_given", "length(origin) BETWEEN 1 AND 1000"), STRICT)
    exposure_id: int = whole("exposure.id", part_of_key=True)
    origin: str = text()


HabitRow = row_class(
    "habit", (*shapes.HABIT.fields, *shapes.CONTACT.fields),
    *_of_a_contact(),
    holds("in_order", "to_on IS NULL OR from_on <= to_on"),
    Index(None, "watch_id"),
)  # fmt: skip

WornStretchRow = row_class(
    "worn_stretch", shapes.STRETCH.fields, holds("in_order", "from_on <= to_on"), Index(None, "watch_id")
)  # fmt: skip


class SnoozeRow(Row, table=True):
    """A due item that stays silent until a date."""

    __tablename__ = "snooze"
    __table_args__ = (holds("item_given", "length(item_id) >= 1"), *is_date("until_on"), STRICT)
    item_id: str = text(primary_key=True)
    until_on: date = day()


# What the owner set once; a single row, absent until something is set.
SettingRow = row_class(
    "setting", (*shapes.HOME.fields, *shapes.SETTINGS.fields), holds("single", "id = 1"), more={"id": key()}
)


class HomeMonthRow(Row, table=True):
    """The home water's temperature in one month; twelve rows or none."""

    __tablename__ = "home_month"
    __table_args__ = (within("month", 1, 12), within("water_mk", 270_150, 333_150), STRICT)
    month: int = key()
    setting_id: int = whole("setting.id")
    water_mk: int = whole()
