"""The tables of the record: one row class each, with every range and word that the database itself holds.

Row classes are not validated on the way in; values are checked once at the edge, and here as a last line.
"""

from __future__ import annotations

from datetime import date, time

from sqlmodel import Field, Index, UniqueConstraint

from logbook.model.values import (  # fmt: skip
    BASES,
    CROWNS,
    EVENT_KINDS,
    MARK_KINDS,
    MARK_UNITS,
    MEDIA,
    MOVEMENTS,
    POSITIONS,
    USES,
    WATERS,
)
from logbook.record.schema.columns import (  # fmt: skip
    IsoTime,
    Row,
    day,
    flag,
    holds,
    is_date,
    key,
    maybe_day,
    maybe_text,
    maybe_whole,
    one_of,
    text,
    whole,
    within,
)
from logbook.record.schema.scale import LIMITS

STRICT = {"sqlite_strict": True}
MARK_PA = 200_000_000  # 2000 bar
MADE_YEARS = (1800, 2200)
TESTS = ("pressure-test", "condensation-test")


def _contact_checks() -> list[object]:
    """The constraints of one contact with water, shared by exposures and habits."""
    uses = ("crown_wet", "crown_under", "pusher_wet", "pusher_under")
    return [
        holds("activity_given", "length(activity) BETWEEN 1 AND 40"),
        one_of("water", WATERS),
        one_of("basis", BASES),
        *(within(column, low, high) for column, (low, high) in LIMITS.items()),
        # −3…60 °C in water; air reaches 120 °C in a sauna.
        holds("water_mk_range", "water_mk BETWEEN 270150 AND 333150"
              " OR (water = 'air' AND water_mk BETWEEN 233150 AND 393150)"),
        *(within(column, 0, 10_000) for column in uses),
        *map(flag, ("rinsed", "water_assumed", "crown_open", "pushers_open")),
    ]  # fmt: skip


class Contact(Row):
    """The columns of one contact with water."""

    activity: str = text()
    water: str = text()
    depth_mm: int = whole()
    basis: str = text()
    gauge_pa: int = whole()
    duration_s: int = whole()
    water_mk: int = whole()
    water_assumed: int = whole()
    from_mk: int = whole()
    salinity_ppm: int | None = maybe_whole()
    density_g_m3: int | None = maybe_whole()
    dips: int = whole()
    rinsed: int = whole()
    crown_wet: int = whole()
    crown_under: int = whole()
    pusher_wet: int = whole()
    pusher_under: int = whole()
    crown_open: int = whole()
    pushers_open: int = whole()
    jump_mm: int = whole()
    note: str = text()


class WatchRow(Row, table=True):
    __tablename__ = "watch"
    __table_args__ = (
        UniqueConstraint("name_key"),
        holds("name_given", "length(name) >= 1"),
        one_of("mark", MARK_KINDS),
        within("marked_pa", 0, MARK_PA),
        one_of("crown", CROWNS),
        flag("pushers"),
        flag("gas_valve"),
        flag("pushers_wet"),
        one_of("marked_in", MARK_UNITS),
        within("made_from", *MADE_YEARS),
        within("made_to", *MADE_YEARS),
        holds("made_both", "(made_from IS NULL) = (made_to IS NULL)"),
        holds("made_in_order", "made_from <= made_to"),
        one_of("movement", MOVEMENTS),
        one_of("stated_use", USES),
        within("worn_min", 0, 1440),
        within("winds_per_1000_weeks", 0, 10_000_000),
        within("presses_per_1000_weeks", 0, 10_000_000),
        *is_date("added_on", "recorded_from", "bought_on", "new_on", "retired_on", "confirmed_on"),
        STRICT,
    )
    id: int = key()
    name: str = text()
    name_key: str = text()  # without case, composed: two watches never differ by case alone
    mark: str = text()
    marked_pa: int | None = maybe_whole()
    marked_in: str = text()
    added_on: date = day()
    recorded_from: date = day()
    crown: str = text()
    pushers: int = whole()
    gas_valve: int = whole()
    pushers_wet: int = whole()
    case_material: str = text()
    movement: str = text()
    stated_use: str = text()
    bought_on: date | None = maybe_day()
    new_on: date | None = maybe_day()
    made_from: int | None = maybe_whole()
    made_to: int | None = maybe_whole()
    worn_min: int = whole()
    winds_per_1000_weeks: int = whole()
    presses_per_1000_weeks: int = whole()
    reference: str = text()
    note: str = text()
    shelf_group: str = text()
    retired_on: date | None = maybe_day()
    confirmed_on: date | None = maybe_day()


class WatchIntervalRow(Row, table=True):
    """A service interval that the owner set for one task of one watch."""

    __tablename__ = "watch_interval"
    __table_args__ = (within("months", 1, 1200), STRICT)
    watch_id: int = whole("watch.id", part_of_key=True)
    task: str = text(primary_key=True)
    months: int = whole()


class EventRow(Row, table=True):
    __tablename__ = "event"
    __table_args__ = (
        one_of("kind", EVENT_KINDS),
        one_of("medium", MEDIA),
        one_of("repaired", EVENT_KINDS),
        flag("passed"),
        within("test_pa", 0, 2 * MARK_PA),
        within("test_s", 0, 10_000_000),
        within("deflection_nm", -10_000_000, 10_000_000),
        within("crystal_mk", 213_150, 373_150),
        within("case_air_mk", 213_150, 373_150),
        within("day_order", 0, 10_000),
        holds("passed_of_test", f"(kind IN {TESTS}) = (passed IS NOT NULL)"),
        holds("repaired_of_repair", "(kind = 'repaired') = (repaired IS NOT NULL)"),
        flag("to_mark"),
        flag("moved"),
        holds("to_mark_of_test", "to_mark = 0 OR (kind = 'pressure-test' AND test_pa IS NOT NULL)"),
        holds("moved_of_knock", "moved = 0 OR kind = 'knock'"),
        holds("span_both", "(span_first IS NULL) = (span_last IS NULL)"),
        holds("span_in_order", "span_first < span_last"),
        holds("span_counts", "happened_on IN (span_first, span_last)"),
        *is_date("happened_on", "span_first", "span_last"),
        Index(None, "watch_id", "happened_on"),
        Index(None, "happened_on"),
        STRICT,
    )
    id: int = key()
    watch_id: int = whole("watch.id")
    kind: str = text()
    happened_on: date = day()
    span_first: date | None = maybe_day()
    span_last: date | None = maybe_day()
    day_order: int = whole()
    passed: int | None = maybe_whole()
    test_pa: int | None = maybe_whole()
    to_mark: int = whole()
    medium: str | None = maybe_text()
    test_s: int | None = maybe_whole()
    deflection_nm: int | None = maybe_whole()
    repaired: str | None = maybe_text()
    crystal_mk: int | None = maybe_whole()
    case_air_mk: int | None = maybe_whole()
    moved: int = whole()
    workshop: str = text()
    note: str = text()


class SealRow(Row, table=True):
    __tablename__ = "seal"
    __table_args__ = (
        UniqueConstraint("event_id", "position"),
        one_of("position", POSITIONS),
        holds("material_given", "length(material) BETWEEN 1 AND 40"),
        holds("fitted_in_order", "fitted_earliest <= fitted_latest"),
        within("day_order", 0, 10_000),
        *is_date("fitted_earliest", "fitted_latest"),
        Index(None, "watch_id"),
        STRICT,
    )
    id: int = key()
    watch_id: int = whole("watch.id")
    event_id: int | None = maybe_whole("event.id")
    position: str = text()
    material: str = text()
    fitted_earliest: date = day()
    fitted_latest: date = day()
    day_order: int = whole()


class ExposureRow(Contact, table=True):
    __tablename__ = "exposure"
    __table_args__ = (
        *_contact_checks(),
        flag("planned"),
        holds("planned_to_of_plan", "planned_to IS NULL OR (planned = 1 AND planned_to >= starts_on)"),
        within("utc_offset_s", -86_400, 86_400),
        holds("starts_at_time", "starts_at LIKE '__:__:__'"),
        *is_date("starts_on", "planned_to"),
        Index(None, "watch_id", "planned", "starts_on"),
        Index(None, "starts_on"),
        STRICT,
    )
    id: int = key()
    watch_id: int = whole("watch.id")
    starts_on: date = day()
    starts_at: time | None = Field(default=None, sa_type=IsoTime)
    zone: str = text()
    utc_offset_s: int | None = maybe_whole()
    planned: int = whole()
    planned_to: date | None = maybe_day()


class ProfilePointRow(Row, table=True):
    __tablename__ = "profile_point"
    __table_args__ = (
        within("time_ms", 0, 2880 * 60_000),
        within("depth_mm", *LIMITS["depth_mm"]),
        within("water_mk", 233_150, 393_150),
        {**STRICT, "sqlite_with_rowid": False},
    )
    exposure_id: int = whole("exposure.id", part_of_key=True)
    seq: int = whole(part_of_key=True)
    time_ms: int = whole()
    depth_mm: int = whole()
    water_mk: int | None = maybe_whole()


class ImportedRow(Row, table=True):
    """What an exposure was in the file that it came from, so that it does not come in twice."""

    __tablename__ = "imported"
    __table_args__ = (holds("origin_given", "length(origin) BETWEEN 1 AND 1000"), STRICT)
    exposure_id: int = whole("exposure.id", part_of_key=True)
    origin: str = text()


class HabitRow(Contact, table=True):
    __tablename__ = "habit"
    __table_args__ = (
        *_contact_checks(),
        within("per_1000_weeks", 1, 7_000_000),
        holds("in_order", "to_on IS NULL OR from_on <= to_on"),
        *is_date("from_on", "to_on"),
        Index(None, "watch_id"),
        STRICT,
    )
    id: int = key()
    watch_id: int = whole("watch.id")
    per_1000_weeks: int = whole()
    from_on: date = day()
    to_on: date | None = maybe_day()


class WornStretchRow(Row, table=True):
    __tablename__ = "worn_stretch"
    __table_args__ = (
        holds("in_order", "from_on <= to_on"),
        within("worn_min", 0, 1440),
        *is_date("from_on", "to_on"),
        Index(None, "watch_id"),
        STRICT,
    )
    id: int = key()
    watch_id: int = whole("watch.id")
    from_on: date = day()
    to_on: date = day()
    worn_min: int = whole()


class SnoozeRow(Row, table=True):
    """A due item that stays silent until a date."""

    __tablename__ = "snooze"
    __table_args__ = (holds("item_given", "length(item_id) >= 1"), *is_date("until_on"), STRICT)
    item_id: str = text(primary_key=True)
    until_on: date = day()


class SettingRow(Row, table=True):
    """What the owner set once; a single row, absent until something is set."""

    __tablename__ = "setting"
    __table_args__ = (
        holds("single", "id = 1"),
        within("salinity_ppm", 0, 42_000),
        within("latitude_udeg", -90_000_000, 90_000_000),
        within("altitude_mm", -500_000, 9_000_000),
        one_of("units", ("metric", "imperial")),
        STRICT,
    )
    id: int = key()
    salinity_ppm: int = whole()
    latitude_udeg: int = whole()
    altitude_mm: int = whole()
    zone: str = text()
    units: str = text()


class HomeMonthRow(Row, table=True):
    """The home water's temperature in one month; twelve rows or none."""

    __tablename__ = "home_month"
    __table_args__ = (within("month", 1, 12), within("water_mk", 270_150, 333_150), STRICT)
    month: int = key()
    setting_id: int = whole("setting.id")
    water_mk: int = whole()
