"""The last line: what the database itself does not take, whatever the code above it does."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import closing
from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from sqlalchemy import CheckConstraint, ForeignKeyConstraint, UniqueConstraint

from logbook.errors import BadInput
from logbook.model.due.services import Service
from logbook.model.judge.standing import stand
from logbook.model.practice import Practice
from logbook.model.values import Habit, HomeWater, ProfilePoint, Settings, WornStretch
from logbook.record.file.store import Store
from logbook.record.reading import glance
from logbook.record.schema.columns import Row
from logbook.record.writing import (
    calendar_entries,
    events,
    exposures,
    habits,
    settings,
    snoozes,
    told,
    watches,
)
from tests.record.making import ADDED, a_dive, a_test, a_watch, gaskets, its_seals

REFUSED = [
    ("watch", "mark", "'certain'"), ("watch", "marked_pa", "-1"), ("watch", "marked_pa", "200000001"),
    ("watch", "crown", "'glued'"), ("watch", "pushers", "2"), ("watch", "gas_valve", "-1"),
    ("watch", "movement", "'steam'"), ("watch", "stated_use", "'flying'"), ("watch", "worn_min", "1441"),
    ("watch", "worn_min", "-1"), ("watch", "winds_per_1000_weeks", "-1"), ("watch", "name", "''"),
    ("watch", "added_on", "'yesterday'"), ("watch", "added_on", "NULL"), ("watch", "worn_min", "'much'"),
    ("watch", "worn_min", "1.5"), ("watch", "pushers_wet", "2"), ("watch", "marked_in", "'fathoms'"),
    ("watch", "made_from", "1968"), ("watch", "made_from = 1968, made_to", "1967"),
    ("watch", "made_from = 1799, made_to", "1968"), ("watch", "made_from = 1968, made_to", "2201"),
    ("watch_interval", "months", "0"),
    ("seal", "position", "'strap'"), ("seal", "material", "''"), ("seal", "fitted_latest", "'2001-01-01'"),
    ("seal", "watch_id", "99"), ("seal", "event_id", "99"), ("seal", "day_order", "-1"),
    ("exposure", "depth_mm", "-1"), ("exposure", "depth_mm", "400001"), ("exposure", "gauge_pa", "-1"),
    ("exposure", "duration_s", "-1"), ("exposure", "duration_s", "172801"),
    ("exposure", "water_mk", "270149"),
    ("exposure", "water_mk", "333151"), ("exposure", "from_mk", "0"), ("exposure", "salinity_ppm", "360001"),
    ("exposure", "density_g_m3", "899999"), ("exposure", "density_g_m3", "1400001"),
    ("exposure", "crown_open", "2"), ("exposure", "pushers_open", "NULL"), ("habit", "crown_open", "-1"),

    ("exposure", "salinity_ppm", "-1"), ("exposure", "dips", "0"), ("exposure", "jump_mm", "-1"),
    ("exposure", "water", "'mud'"), ("exposure", "basis", "'guess'"), ("exposure", "activity", "''"),
    ("exposure", "rinsed", "2"), ("exposure", "water_assumed", "2"), ("exposure", "crown_wet", "-1"),
    ("exposure", "crown_under", "-1"), ("exposure", "pusher_wet", "-1"), ("exposure", "pusher_under", "-1"),
    ("exposure", "planned", "2"), ("exposure", "planned_to", "'2030-01-01'"),
    ("exposure", "starts_at", "'noon'"),
    ("exposure", "utc_offset_s", "90000"), ("exposure", "starts_on", "'1/2/2024'"),
    ("exposure", "watch_id", "99"),
    ("exposure", "depth_mm", "21.5"), ("exposure", "note", "x'00'"),
    ("profile_point", "depth_mm", "400001"), ("profile_point", "time_ms", "-1"),
    ("profile_point", "water_mk", "0"),
    ("habit", "per_1000_weeks", "0"), ("habit", "to_on", "'2001-01-01'"), ("habit", "depth_mm", "-1"),
    ("habit", "water_mk", "0"), ("habit", "water", "'mud'"),
    ("worn_stretch", "worn_min", "1441"), ("worn_stretch", "to_on", "'2001-01-01'"),
    ("event", "kind", "'polished'"), ("event", "passed", "NULL"), ("event", "passed", "2"),
    ("event", "medium", "'oil'"),
    ("event", "test_pa", "-1"), ("event", "test_pa", "400000001"), ("event", "repaired", "'crown-damaged'"),
    ("event", "kind", "'repaired'"), ("event", "crystal_mk", "0"), ("event", "case_air_mk", "0"),
    ("event", "day_order", "-1"), ("event", "watch_id", "99"), ("event", "happened_on", "''"),
    ("event", "kind", "'crown'"), ("event", "span_first", "'2000-01-01'"), ("event", "to_mark", "2"),
    ("event", "span_first = '2000-01-01', span_last", "'2000-01-02'"), ("event", "moved", "1"),
    ("event", "span_last = happened_on, span_first", "happened_on"),
    ("event", "test_pa = NULL, to_mark", "1"),
    ("event", "span_last = happened_on, span_first", "'soon'"),
    ("raised", "code", "'knocked'"), ("raised", "exposure_id", "99"),
    ("snooze", "until_on", "'later'"), ("snooze", "item_id", "''"),
    ("setting", "id", "2"), ("setting", "salinity_ppm", "42001"), ("setting", "latitude_udeg", "90000001"),
    ("setting", "altitude_mm", "-500001"), ("setting", "units", "'cubits'"),
    ("home_month", "month", "13"), ("home_month", "water_mk", "0"), ("home_month", "setting_id", "3"),
    ("ledger_share", "counted", "2"), ("ledger_share", "salt", "-1"), ("ledger_share", "exposure_id", "99"),
    ("seal_total", "handling", "-1"), ("seal_total", "seal_id", "99"),
    ("action", "undone", "2"), ("action", "label", "''"), ("change", "action_id", "99"),
    ("imported", "origin", "''"), ("imported", "exposure_id", "99"), ("imported", "origin", "NULL"),
    ("named_date", "due_on", "'soon'"), ("named_date", "named_on", "NULL"),
    ("told", "stage", "'later'"), ("told", "after_snooze", "'soon'"), ("told", "due_on", "'soon'"),
    ("told", "claimed_at", "NULL"),
    ("calendar_entry", "uid", "''"), ("calendar_entry", "sequence", "-1"),
    ("calendar_entry", "cancelled", "2"), ("calendar_entry", "due_on", "'soon'"),
    ("meta", "id", "2"), ("meta", "schema_name", "'other'"), ("meta", "next_entry_id", "0"),
    ("meta", "clock_right_to", "'tomorrow'"),
]  # fmt: skip

# The ends of each promised range belong to it.
TAKEN = [
    ("watch", "marked_pa", "0"), ("watch", "marked_pa", "200000000"), ("watch", "worn_min", "1440"),
    ("exposure", "depth_mm", "0"), ("exposure", "depth_mm", "400000"), ("exposure", "duration_s", "172800"),
    ("exposure", "water_mk", "270150"), ("exposure", "water_mk", "333150"), ("exposure", "dips", "1"),
    ("exposure", "water = 'air', water_mk", "393150"), ("exposure", "salinity_ppm", "360000"),
    ("exposure", "density_g_m3", "900000"), ("exposure", "density_g_m3", "1400000"),
    ("watch", "made_from = 1800, made_to", "2200"), ("watch", "made_from = 1968, made_to", "1968"),
    ("watch", "marked_in", "'m'"), ("meta", "clock_right_to", "'2027-01-01'"),
    ("event", "span_first = '2000-01-01', span_last", "happened_on"),
    ("event", "span_last = '2030-01-01', span_first", "happened_on"),
    ("setting", "latitude_udeg", "-90000000"), ("ledger_share", "ageing", "-1"),
]  # fmt: skip


def next_services(store: Store, practice: Practice, on: date) -> Sequence[Service]:
    """The services of its watch, what asks now in front."""
    (record,) = glance.read_records(store.rows)
    return stand(record, practice, on).services


@pytest.fixture(scope="module")
def full_record(empty_record: Path, practice: Practice) -> Path:
    """A record with a row in every table, to make copies of."""
    path = empty_record.with_name("full.logbook")
    shutil.copy2(empty_record, path)
    with Store.open(path) as store:
        intervals = {"battery": 24}
        watch_id = watches.add(
            store, a_watch(intervals_months=intervals), its_seals(), [a_test(None, ADDED)], practice
        )
        profile = (ProfilePoint(0, 0), ProfilePoint(60, 21, 17.0))
        exposures.add(store, [a_dive(watch_id, profile=profile)], practice, origins=["line:1"])
        events.add(store, [gaskets(watch_id, date(2024, 6, 1), ("crown", "FKM"))], practice)
        habits.add_habit(store, Habit(a_dive(), 1.0, ADDED, ADDED, watch_id), practice)
        habits.add_stretches(store, [WornStretch(ADDED, ADDED, 8.0, watch_id)], practice)
        settings.write(store, Settings(HomeWater(monthly_c=(15.0,) * 12)))
        snoozes.snooze(store, "1:strap:2024-01-01", date(2024, 7, 1))
        now = datetime(2024, 6, 2, tzinfo=UTC)
        services = next_services(store, practice, now.date())
        with calendar_entries.following(store, services, now, now.date()):
            pass  # their dates are named too
        told.claim(store, services[:1], now)
    with closing(sqlite3.connect(path, isolation_level=None)) as plain:
        plain.execute("INSERT INTO raised (exposure_id, code) SELECT id, 'overstressed' FROM exposure")
    return path


@pytest.fixture
def full(full_record: Path, path: Path) -> Iterator[sqlite3.Connection]:
    """The same, open through the standard driver."""
    shutil.copy2(full_record, path)
    with closing(sqlite3.connect(path, isolation_level=None)) as plain:
        plain.execute("PRAGMA foreign_keys = ON")
        yield plain


def test_every_table_has_a_row_to_try_the_rules_on(full: sqlite3.Connection) -> None:
    counts = {t: full.execute(f"SELECT COUNT(*) FROM {t}").fetchone()[0] for t in Row.metadata.tables}
    assert all(counts.values()), counts
    assert {table for table, _, _ in REFUSED} == set(counts)


@pytest.mark.parametrize(("table", "column", "value"), REFUSED)
def test_a_value_outside_its_rule_is_not_taken(
    full: sqlite3.Connection, table: str, column: str, value: str
) -> None:
    one = "pressure-test" if column in ("passed", "kind", "repaired") else None
    where = f" WHERE kind = '{one}'" if table == "event" and one else ""
    with pytest.raises(sqlite3.IntegrityError):
        full.execute(f"UPDATE {table} SET {column} = {value}{where}")


@pytest.mark.parametrize(("table", "column", "value"), TAKEN)
def test_the_ends_of_a_range_are_taken(full: sqlite3.Connection, table: str, column: str, value: str) -> None:
    full.execute(f"UPDATE {table} SET {column} = {value}")


@pytest.mark.parametrize("table", ["watch", "exposure", "event", "action"])
def test_a_row_that_others_refer_to_stays(full: sqlite3.Connection, table: str) -> None:
    if table == "action":  # what an action changed goes with it
        full.execute("DELETE FROM action")
        assert full.execute("SELECT COUNT(*) FROM change").fetchone() == (0,)
        return
    with pytest.raises(sqlite3.IntegrityError, match="FOREIGN KEY"):
        full.execute(f"DELETE FROM {table}")


def test_one_event_fits_one_seal_at_a_place(full: sqlite3.Connection) -> None:
    columns = "watch_id, event_id, position, material, fitted_earliest, fitted_latest, day_order"
    with pytest.raises(sqlite3.IntegrityError, match="UNIQUE"):
        full.execute(
            f"INSERT INTO seal (id, {columns}) SELECT 99, {columns} FROM seal WHERE event_id IS NOT NULL"
        )


@pytest.mark.parametrize("twin", ["BLUE BEZEL", "Blue bezel", "blue Bezel"])
def test_two_watches_never_differ_by_capitals_alone(store: Store, practice: Practice, twin: str) -> None:
    watches.add(store, a_watch("Blue bezel"), [], [], practice)
    with pytest.raises(BadInput, match="already a watch called Blue bezel"):
        watches.add(store, a_watch(twin), [], [], practice)


def test_a_name_is_the_same_composed_or_not(store: Store, practice: Practice) -> None:
    watches.add(store, a_watch("Mémé"), [], [], practice)
    with pytest.raises(BadInput, match="already a watch called Mémé"):
        watches.add(store, a_watch("Me\u0301me\u0301"), [], [], practice)


def test_an_error_of_the_database_itself_becomes_a_sentence(store: Store, practice: Practice) -> None:
    watch_id = watches.add(store, a_watch(), its_seals(), [], practice)
    with pytest.raises(BadInput, match="it breaks the rule exposure_depth_mm_range"):
        exposures.add(store, [a_dive(watch_id, depth_m=-5.0)], practice)
    with pytest.raises(BadInput, match="cannot be stored"):
        exposures.add(store, [a_dive(watch_id, note="\ud800")], practice)
    with pytest.raises(BadInput, match="too large"):
        exposures.add(store, [a_dive(watch_id, duration_s=10**30)], practice)
    assert store.rows("SELECT COUNT(*) FROM exposure") == [(0,)]


def test_every_constraint_has_a_name_of_its_kind() -> None:
    kinds = set()
    for table in Row.metadata.tables.values():
        assert str(table.primary_key.name) == f"pk_{table.name}"
        for index in table.indexes:
            assert str(index.name).startswith(f"ix_{table.name}_")
            kinds.add("ix")
        for constraint in table.constraints:
            kind = {CheckConstraint: "ck", ForeignKeyConstraint: "fk", UniqueConstraint: "uq"}.get(
                type(constraint), "pk"
            )
            kinds.add(kind)
            assert constraint.name
    assert kinds == {"ck", "fk", "ix", "pk", "uq"}
