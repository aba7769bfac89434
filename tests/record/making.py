"""Watches, seals, exposures and events to put into a record, made by hand or by hypothesis."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import date, timedelta
from pathlib import Path
from typing import Any

from hypothesis import strategies as st

from logbook.model import values as v
from logbook.model.kinds_of_before import kind_of_today
from logbook.record.file.store import Store
from logbook.record.reading import glance
from logbook.record.writing.journal import JOURNALLED
from tests.model.builders import PRACTICE

ADDED = date(2024, 1, 1)
POSITIONS: tuple[v.Position, ...] = ("case-back", "crystal", "crown")
MATERIALS = tuple(PRACTICE.materials)


@contextmanager
def a_copy_of(record: Path) -> Iterator[Store]:
    """A record of one's own to write to; it goes when the block ends."""
    with tempfile.TemporaryDirectory() as folder, Store.open(shutil.copy(record, folder)) as store:
        yield store


def a_watch(name: str = "Blue bezel", **changes: Any) -> v.Watch:
    given: dict[str, Any] = {
        "mark": "divers", "marked_pa": 20e5, "added_on": ADDED, "recorded_from": ADDED, "crown": "screwed",
        "new_on": ADDED, "use": "diving",
    }  # fmt: skip
    return v.Watch(name, **{**given, **changes})


def its_seals(fitted: date = ADDED, material: str = "NBR") -> list[v.Seal]:
    return [v.Seal(position, material, fitted, fitted) for position in POSITIONS]


def a_dive(watch_id: int | None = None, on: date = date(2024, 5, 1), **changes: Any) -> v.Exposure:
    given: dict[str, Any] = {
        "activity": "dive", "water": "sea", "depth_m": 21.0, "basis": "EN 13319", "gauge_pa": 210_000.0,
        "duration_s": 2280, "water_c": 17.0, "from_c": 32.0, "salinity": 38.0, "rinsed": True,
    }  # fmt: skip
    return v.Exposure(**{**given, **changes}, starts_on=on, watch_id=watch_id)


def gaskets(watch_id: int, on: date, *seals: tuple[v.Position, str], **changes: Any) -> v.Event:
    return v.Event("gaskets", on, v.DAY_ORDER["gaskets"], seals=seals, watch_id=watch_id, **changes)


def a_test(watch_id: int | None, on: date, passed: bool = True) -> v.Event:
    return v.Event(
        "pressure-test", on, v.DAY_ORDER["pressure-test"], passed=passed, test_pa=10e5, medium="air",
        watch_id=watch_id,
    )  # fmt: skip


def content(store: Store) -> dict[str, list[tuple[Any, ...]]]:
    """Every journalled table, row by row."""
    with store.reading() as rows:
        return {table: sorted(rows(f"SELECT * FROM {table}", ()), key=repr) for table in JOURNALLED}


def books(store: Store) -> dict[str, list[tuple[Any, ...]]]:
    """The ledger as kept."""
    with store.reading() as rows:
        return {t: sorted(rows(f"SELECT * FROM {t}", ())) for t in ("ledger_share", "raised", "seal_total")}


def record_of(store: Store, watch_id: int) -> v.WatchRecord:
    with store.reading() as rows:
        return glance.read_records(rows, watch_id=watch_id, retired=True)[0]


def folder_of(path: Path) -> list[str]:
    return sorted(found.name for found in path.parent.iterdir())


def says_as_much(now: Any, before: Any, key: str = "") -> bool:
    """Whether an export says all that an earlier version's said; it may say more, and in words of today."""
    if isinstance(before, dict):
        return isinstance(now, dict) and all(k in now and says_as_much(now[k], before[k], k) for k in before)
    if isinstance(before, list):
        return len(now) == len(before) and all(map(says_as_much, now, before))
    if key in ("kind", "repaired"):
        return bool(now == kind_of_today(before))
    if key == "item":
        return bool(now == before.replace(":pushers-15", ":pushers-damaged-15"))
    return bool(now == before)


# What hypothesis draws, as finely as it is kept.

days = st.dates(date(2023, 12, 1), date(2024, 4, 30))
texts = st.text(st.characters(exclude_categories=("Cs", "Cc")), max_size=30)
times = st.times().map(lambda t: t.replace(microsecond=0, fold=0))


def thousandths(low: float, high: float) -> st.SearchStrategy[float]:
    return st.integers(round(low * 1000), round(high * 1000)).map(lambda n: n / 1000)


def whole_pa(high: int) -> st.SearchStrategy[float]:
    return st.integers(0, high).map(float)


@st.composite
def profiles(draw: Any) -> tuple[v.ProfilePoint, ...]:
    return tuple(
        v.ProfilePoint(seq * 10.0, draw(thousandths(0, 400)), draw(st.none() | thousandths(-3, 60)))
        for seq in range(draw(st.integers(0, 4)))
    )


@st.composite
def exposures(draw: Any, on: st.SearchStrategy[date] = days, planned: bool | None = False) -> v.Exposure:
    plan = draw(st.booleans()) if planned is None else planned
    starts_on = draw(on)
    starts_at = draw(st.none() | times)
    water = draw(st.sampled_from(v.WATERS))
    return v.Exposure(
        activity=draw(st.sampled_from(["dive", "pool", "sauna", "hands"])),
        water=water,
        depth_m=draw(thousandths(0, 400)),
        basis=draw(st.sampled_from(v.BASES)),
        gauge_pa=draw(whole_pa(4_200_000)),
        duration_s=draw(st.integers(1, 2880 * 60)),
        water_c=draw(thousandths(-3, 120 if water == "air" else 60)),
        from_c=draw(thousandths(-20, 70)),
        starts_on=starts_on,
        starts_at=starts_at,
        zone=draw(st.sampled_from(["UTC", "Europe/Berlin", "Pacific/Apia"])),
        utc_offset_s=None if starts_at is None else draw(st.integers(-12 * 4, 14 * 4)) * 900,
        salinity=draw(thousandths(0, 360)) if water in ("sea", "brackish") else None,
        water_c_assumed=draw(st.booleans()),
        dips=draw(st.integers(1, 500)),
        rinsed=draw(st.booleans()),
        crown_wet=draw(st.integers(0, 100)),
        crown_under=draw(st.integers(0, 100)),
        pusher_wet=draw(st.integers(0, 100)),
        pusher_under=draw(st.integers(0, 100)),
        density_kg_m3=draw(st.none() | thousandths(900, 1400)),
        crown_open=draw(st.booleans()),
        pushers_open=draw(st.booleans()),
        jump_m=draw(thousandths(0, 30)),
        note=draw(texts),
        profile=draw(profiles()),
        planned=plan,
        planned_to=starts_on + timedelta(days=draw(st.integers(0, 20)))
        if plan and draw(st.booleans())
        else None,
    )


@st.composite
def events(draw: Any) -> v.Event:
    kind = draw(st.sampled_from(v.EVENT_KINDS))
    test = kind.endswith("-test")
    brought: Sequence[v.Position] = draw(st.lists(st.sampled_from(v.POSITIONS), unique=True))
    on, test_pa = draw(days), draw(st.none() | whole_pa(200_000_000))
    longer = timedelta(days=draw(st.integers(1, 900)))
    return v.Event(
        kind=kind,
        on=on,
        span=draw(st.sampled_from([None, (on, on + longer), (on - longer, on)])),
        to_mark=draw(st.booleans()) if kind == "pressure-test" and test_pa is not None else False,
        moved=draw(st.booleans()) if kind == "knock" else False,
        order=draw(st.integers(0, 100)),
        passed=draw(st.booleans()) if test else None,
        test_pa=test_pa,
        medium=draw(st.none() | st.sampled_from(v.MEDIA)),
        minutes=draw(st.none() | st.integers(1, 600_000).map(lambda s: s / 60)),
        deflection_um=draw(st.none() | thousandths(-5000, 5000)),
        repaired=draw(st.sampled_from(v.DAMAGE)) if kind == "repaired" else None,
        crystal_c=draw(st.none() | thousandths(-45, 60)),
        case_air_c=draw(st.none() | thousandths(-45, 60)),
        workshop=draw(texts),
        note=draw(texts),
        seals=tuple((p, draw(st.sampled_from(MATERIALS))) for p in brought) if kind == "gaskets" else (),
    )


@st.composite
def seals(draw: Any) -> v.Seal:
    first = draw(days)
    last = first + timedelta(days=draw(st.integers(0, 3000)))
    position, material = draw(st.sampled_from(v.POSITIONS)), draw(st.sampled_from(MATERIALS))
    return v.Seal(position, material, first, last, draw(st.integers(0, 100)))


@st.composite
def habits(draw: Any) -> v.Habit:
    first = draw(days)
    contact = draw(exposures(on=st.just(first)))
    plain = {"starts_at": None, "zone": "UTC", "utc_offset_s": None, "profile": ()}
    per_day = draw(st.integers(1, 350_000)) / 7000
    to_on = draw(st.none() | st.integers(0, 400).map(lambda n: first + timedelta(days=n)))
    kept = {name: getattr(contact, name) for name in v.Exposure.__slots__}
    return v.Habit(v.Exposure(**{**kept, **plain}), per_day, first, to_on)


@st.composite
def stretches(draw: Any) -> v.WornStretch:
    first = draw(days)
    last = first + timedelta(days=draw(st.integers(0, 60)))
    return v.WornStretch(first, last, draw(st.integers(0, 1440)) / 60)


@st.composite
def watches(draw: Any, name: str = "Blue bezel") -> v.Watch:
    maybe_day = st.none() | days
    made = sorted(draw(st.tuples(st.integers(1800, 2200), st.integers(1800, 2200))))
    made_from, made_to = made if draw(st.booleans()) else (None, None)
    return v.Watch(
        name=name,
        mark=draw(st.sampled_from(v.MARK_KINDS)),
        marked_pa=draw(st.none() | st.integers(10_000, 200_000_000).map(float)),
        added_on=draw(days),
        recorded_from=draw(days),
        crown=draw(st.sampled_from(v.CROWNS)),
        pushers=draw(st.booleans()),
        gas_valve=draw(st.booleans()),
        pushers_wet=draw(st.booleans()),
        made_from=made_from,
        made_to=made_to,
        marked_in=draw(st.sampled_from(v.MARK_UNITS)),
        case_material=draw(st.sampled_from(["steel", "titanium", "bronze"])),
        movement=draw(st.sampled_from(v.MOVEMENTS)),
        use=draw(st.sampled_from(v.USES)),
        bought_on=draw(maybe_day),
        new_on=draw(maybe_day),
        worn_h=draw(st.integers(0, 1440)) / 60,
        winds=draw(thousandths(0, 1000)),
        presses=draw(thousandths(0, 1000)),
        reference=draw(texts),
        note=draw(texts),
        group=draw(texts),
        retired_on=draw(maybe_day),
        confirmed_on=draw(maybe_day),
        intervals_months=draw(st.dictionaries(st.sampled_from(["battery", "strap"]), st.integers(1, 600))),
    )


@st.composite
def all_settings(draw: Any) -> v.Settings:
    monthly = draw(st.none() | st.tuples(*[thousandths(-3, 60)] * 12))
    latitude = draw(st.integers(-90_000_000, 90_000_000)) / 1_000_000
    home = v.HomeWater(draw(thousandths(0, 42)), latitude, draw(thousandths(-430, 6000)), monthly)
    return v.Settings(
        home, draw(st.sampled_from(["UTC", "Asia/Tokyo"])), draw(st.sampled_from(["metric", "imperial"]))
    )
