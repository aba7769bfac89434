"""Everything that is read from the record, through plain SQL that any driver runs.

Only the standard library is imported, so that the first screen is painted before anything heavy loads. The
same functions serve an open store (`store.rows`) and a file opened here for reading alone.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from contextlib import closing, contextmanager
from dataclasses import replace
from datetime import date, time
from functools import partial
from pathlib import Path
from typing import Any

from logbook.errors import NotFound
from logbook.model.practice import Practice
from logbook.model.values import (  # fmt: skip
    CHANNELS,
    DAY_ORDER,
    Event,
    Exposure,
    ProfilePoint,
    Raised,
    Seal,
    Settings,
    Shares,
    WatchRecord,
)
from logbook.record.file.reader import Reader
from logbook.record.reading.charged import ledger_sums, which_exposures
from logbook.record.reading.rows import Rows, in_chunks, values, values_of
from logbook.record.schema import shapes


@contextmanager
def open_rows(path: Path) -> Iterator[Rows]:
    """Reads one state of the record at `path`, without writing; see `Reader`."""
    with closing(Reader(path)) as reader, reader.reading() as rows:
        yield rows


_LAST = (
    "(SELECT e.starts_on FROM exposure e WHERE e.watch_id = watch.id AND e.planned = 0"
    " ORDER BY e.starts_on DESC LIMIT 1)"
)


def read_records(
    rows: Rows,
    *,
    watch_id: int | None = None,
    retired: bool = False,
    on: date | None = None,
    by_clock: bool = False,
) -> list[WatchRecord]:
    """Everything needed to reckon each watch (or one), by nickname; retired ones only when asked for.

    `on` leaves what was worn after that day out of the totals. With `by_clock` that day is the machine's, so
    that it is held against the newest change too.
    """
    params: tuple[Any, ...] = () if watch_id is None else (watch_id,)
    by_watch = partial(_by_watch, rows, watch_id)
    intervals = by_watch(("task", "months"), "watch_interval", "task")
    totals = by_watch(
        ("seal_id", *CHANNELS), "seal_total JOIN seal ON seal.id = seal_total.seal_id", "seal_id"
    )
    doubtful = by_watch(
        ("seal_id", *(f"SUM({c})" for c in CHANNELS)),
        "ledger_share JOIN seal ON seal.id = ledger_share.seal_id AND counted = 0",
        "seal_id",
        "watch_id, seal_id",
    )
    seals = by_watch(shapes.SEAL.names, "seal", "fitted_earliest, fitted_latest, day_order, id")
    events = by_watch(shapes.EVENT.names, "event", "happened_on, day_order, id")
    habits = by_watch(shapes.HABIT.names, "habit", "id")
    stretches = by_watch(shapes.STRETCH.names, "worn_stretch", "id")
    raised, plans = _raised(rows, watch_id), _plans(rows, watch_id)
    changed_on = _changed_on(rows) if by_clock else None
    clock_right_to = _clock_right_to(rows)
    snoozed = _dates_of(rows, "snooze", "until_on")
    named = _dates_of(rows, "named_date", "due_on")
    chosen = ("" if retired else " AND retired_on IS NULL") + ("" if watch_id is None else " AND id = ?")
    records = []
    for *row, last_on in rows(
        f"SELECT {shapes.WATCH.listed()}, {_LAST} FROM watch WHERE 1 = 1{chosen} ORDER BY name_key", params
    ):
        key = row[0]
        fitted = tuple(shapes.SEAL.value(s) for s in seals[key])
        records.append(
            WatchRecord(
                watch=shapes.WATCH.value(row, intervals_months=dict(intervals[key])),
                seals=fitted,
                totals=_totals(rows, totals[key], last_on, on),
                doubtful={t[0]: shapes.shares_of([int(n) for n in t[1:]]) for t in doubtful[key]},
                events=tuple(_events(events[key], fitted)),
                habits=tuple(shapes.habit_of(h) for h in habits[key]),
                raised=tuple(raised.get(key, ())),
                plans=tuple(plans[key]),
                changed_on=changed_on,
                stretches=tuple(shapes.STRETCH.value(s) for s in stretches[key]),
                last_exposure_on=shapes.day_of(last_on) if last_on else None,
                snoozed=snoozed,
                named=named,
                clock_right_to=clock_right_to,
            )
        )
    return records


def _by_watch(
    rows: Rows, watch_id: int | None, columns: Sequence[str], source: str, order: str, together: str = ""
) -> dict[int, list[tuple[Any, ...]]]:
    """Watch id -> its rows of a table, of one watch or of all."""
    only, params = ("", ()) if watch_id is None else (" WHERE watch_id = ?", (watch_id,))
    grouping = f" GROUP BY {together}" if together else ""
    grouped: dict[int, list[tuple[Any, ...]]] = defaultdict(list)
    for row in rows(
        f"SELECT watch_id, {', '.join(columns)} FROM {source}{only}{grouping} ORDER BY {order}", params
    ):
        grouped[row[0]].append(row[1:])
    return grouped


def _dates_of(rows: Rows, table: str, column: str) -> dict[str, date]:
    """Item -> the day that a table has for it."""
    found = rows(f"SELECT item_id, {column} FROM {table}", ())
    return {item: shapes.day_of(day) for item, day in found}


def _totals(
    rows: Rows, kept: Iterable[Sequence[Any]], last_on: str | None, on: date | None
) -> dict[int, Shares]:
    """Seal id -> what its exposures add up to; up to a day where later ones are on record."""
    if on is None or not last_on or last_on <= on.isoformat():
        return {row[0]: shapes.shares_of(row[1:]) for row in kept}
    return {row[0]: ledger_sums(rows, row[0], until=on) for row in kept}


def _plans(rows: Rows, watch_id: int | None) -> dict[int, list[Exposure]]:
    """Watch id -> what is planned, soonest first."""
    columns = shapes.EXPOSURE.listed("exposure")
    only, params = ("", ()) if watch_id is None else (" WHERE watch.id = ?", (watch_id,))
    joined = "watch JOIN exposure ON exposure.watch_id = watch.id AND exposure.planned = 1"
    found: dict[int, list[Exposure]] = defaultdict(list)
    for row in rows(f"SELECT {columns} FROM {joined}{only} ORDER BY starts_on, exposure.id", params):
        found[row[1]].append(shapes.EXPOSURE.value(row))
    return found


def _changed_on(rows: Rows) -> date | None:
    """The day of the newest change by the clock of the machine that made it, in UTC."""
    (newest,) = next(iter(rows("SELECT MAX(done_at) FROM action", ())))
    return shapes.day_of(newest[:10]) if newest else None


def _raised(rows: Rows, watch_id: int | None) -> dict[int, list[Raised]]:
    """Watch id -> what its exposures raised, oldest first."""
    columns = shapes.EXPOSURE.listed("exposure")
    only, params = ("", ()) if watch_id is None else (" AND exposure.watch_id = ?", (watch_id,))
    # CROSS JOIN keeps the order: from the few that are raised to their exposures, never the other way.
    statement = (
        f"SELECT {columns}, code FROM raised CROSS JOIN exposure WHERE exposure.id = exposure_id{only}"
        " ORDER BY exposure_id, code"
    )
    found: dict[int, list[Raised]] = defaultdict(list)
    for *row, code in rows(statement, params):
        found[row[1]].append(Raised(code, shapes.EXPOSURE.value(row)))
    return {key: sorted(each, key=lambda one: _start(one.exposure)) for key, each in found.items()}


def _start(one: Exposure) -> tuple[date, time, int]:
    """As `read_exposures` orders them: those with a day alone come first on it."""
    return one.starts_on, one.starts_at or time.min, one.id or 0


def _clock_right_to(rows: Rows) -> date | None:
    (day,) = next(iter(rows("SELECT clock_right_to FROM meta", ())))
    return shapes.day_of(day) if day else None


def _events(found: Iterable[Sequence[Any]], seals: Iterable[Seal]) -> list[Event]:
    """Events with the seals that each of them brought."""
    brought: dict[int, list[Seal]] = defaultdict(list)
    for seal in sorted(seals, key=lambda s: s.id or 0):
        if seal.event_id is not None:
            brought[seal.event_id].append(seal)
    return [shapes.event_of(row, brought[row[0]]) for row in found]


# What tells two states of one watch's water apart that cost the same: how many, on which days, planned.
State = tuple[Any, ...]


def read_states(rows: Rows) -> dict[int, State]:
    """Watch id -> the state of its water."""
    statement = (
        "SELECT watch_id, planned, COUNT(*), SUM(CAST(REPLACE(starts_on, '-', '') AS INTEGER)),"
        " SUM(CAST(REPLACE(COALESCE(planned_to, '0'), '-', '') AS INTEGER)), MAX(id)"
        " FROM exposure GROUP BY watch_id, planned ORDER BY watch_id, planned"
    )
    found: dict[int, State] = defaultdict(tuple)
    for watch_id, *state in rows(statement, ()):
        found[watch_id] += tuple(int(each) for each in state)
    return dict(found)


def read_writes(rows: Rows) -> tuple[int]:
    """How often the record was written to, by whom ever."""
    return (int(next(iter(rows("SELECT writes FROM meta", ())))[0]),)


def rules_are_told(rows: Rows) -> bool:
    """False for a record of before these rules, until somebody was told which watches read otherwise."""
    return bool(next(iter(rows("SELECT rules_told FROM meta", ())))[0])


def read_settings(rows: Rows) -> Settings:
    """What the owner set, or the defaults."""
    found = list(rows(f"SELECT {shapes.SETTINGS.listed()} FROM setting", ()))
    monthly = [mk for (mk,) in rows("SELECT water_mk FROM home_month ORDER BY month", ())]
    return shapes.settings_of(found[0], monthly) if found else Settings()


def read_exposures(
    rows: Rows, *, watch_id: int | None = None, since: date | None = None, until: date | None = None,
    planned: bool | None = None, activity: str | None = None, newest_first: bool = False,
    limit: int | None = None, offset: int = 0, with_profiles: bool = False,
) -> list[Exposure]:  # fmt: skip
    """Exposures by start (date-only ones first on their day); both ends of the dates are included."""
    where, params = which_exposures(watch_id, since, until, planned, activity)
    way = "DESC" if newest_first else "ASC"
    order = f"starts_on {way}, COALESCE(starts_at, '') {way}, id {way}"
    rest = f"WHERE {where} ORDER BY {order}"
    if limit is not None:
        rest += " LIMIT ? OFFSET ?"
        params += [limit, offset]
    found = values(rows, shapes.EXPOSURE, rest, params)
    return _with_profiles(rows, found) if with_profiles else found


def read_exposure(rows: Rows, exposure_id: int) -> Exposure:
    """One exposure with its profile; raises NotFound."""
    found = values_of(rows, shapes.EXPOSURE, "id", [exposure_id])
    if not found:
        raise NotFound(f"There is no exposure {exposure_id} in the record.", where="id")
    return _with_profiles(rows, found)[0]


def read_exposures_of(rows: Rows, ids: Sequence[int]) -> list[Exposure]:
    """The exposures with these ids, without profiles; ids that are no exposure's are passed over."""
    return values_of(rows, shapes.EXPOSURE, "id", ids)


def read_origins(rows: Rows, watch_id: int | None = None) -> dict[int, str]:
    """Exposure id -> what it was in the file that it came from; typed ones are left out."""
    only, params = ("", []) if watch_id is None else (" WHERE watch_id = ?", [watch_id])
    joined = f"imported JOIN exposure ON exposure.id = imported.exposure_id{only}"
    found = rows(f"SELECT exposure_id, origin FROM {joined} ORDER BY exposure_id", params)
    return {int(id_): str(origin) for id_, origin in found}


def count_exposures(
    rows: Rows, *, watch_id: int | None = None, since: date | None = None, until: date | None = None,
    planned: bool | None = None,
) -> int:  # fmt: skip
    where, params = which_exposures(watch_id, since, until, planned)
    ((count,),) = rows(f"SELECT COUNT(*) FROM exposure WHERE {where}", params)
    return int(count)


def _with_profiles(rows: Rows, found: Sequence[Exposure]) -> list[Exposure]:
    points: dict[int, list[ProfilePoint]] = defaultdict(list)
    for marks, piece in in_chunks([one.id for one in found]):
        statement = f"SELECT {shapes.POINT.listed()} FROM profile_point WHERE exposure_id IN {marks}"
        for row in rows(f"{statement} ORDER BY exposure_id, seq", piece):
            points[row[-1]].append(shapes.POINT.value(row))
    return [replace(one, profile=tuple(points[one.id])) if one.id in points else one for one in found]


def read_event(rows: Rows, event_id: int) -> Event:
    """One workshop event or fault; raises NotFound."""
    found = _events_by_id(rows, [event_id])
    if not found:
        raise NotFound(f"There is no event {event_id} in the record.", where="id")
    return found[0]


def _events_by_id(rows: Rows, ids: Sequence[int]) -> list[Event]:
    seals = values_of(rows, shapes.SEAL, "event_id", ids)
    statement = f"SELECT {shapes.EVENT.listed()} FROM event WHERE id IN "
    found = [row for marks, piece in in_chunks(ids) for row in rows(f"{statement}{marks}", piece)]
    return _events(found, seals)


def read_log(
    rows: Rows, watch_id: int | None = None, *, limit: int | None = None, offset: int = 0
) -> list[Exposure | Event]:
    """Exposures and events, the newest first; plans are not part of it. Exposures come without profiles."""
    only, params = ("", []) if watch_id is None else (" AND watch_id = ?", [watch_id])
    statement = (
        f"SELECT id, starts_on AS day, {DAY_ORDER['exposure']} AS day_order, COALESCE(starts_at, '') AS at,"
        f" 1 AS wet FROM exposure WHERE planned = 0{only}"
        f" UNION ALL SELECT id, happened_on, day_order, '', 0 FROM event WHERE 1 = 1{only}"
        " ORDER BY day DESC, day_order DESC, at DESC, id DESC"
    )
    params = [*params, *params]
    if limit is not None:
        statement += " LIMIT ? OFFSET ?"
        params += [limit, offset]
    listed = [(row[0], row[4]) for row in rows(statement, params)]
    entries: list[Exposure | Event] = [
        *_events_by_id(rows, [key for key, wet in listed if not wet]),
        *read_exposures_of(rows, [key for key, wet in listed if wet]),
    ]
    by_id = {entry.id: entry for entry in entries}
    return [by_id[key] for key, _ in listed]


def is_stale(rows: Rows, practice: Practice) -> bool:
    """True when the ledger was reckoned with other constants or another arithmetic than those in force."""
    return not all(practice.reckoned(found) for (found,) in rows("SELECT practice_fingerprint FROM meta", ()))
