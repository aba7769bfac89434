"""Watches to print: one with any text wherever text may stand, and one with more than fits."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

from logbook.dossier.content import Dossier, gather
from logbook.model.judge.standing import Standing, stand, wear_of
from logbook.model.practice import parse
from logbook.model.predict.bands import bands_of
from logbook.model.predict.draws import Draws
from logbook.model.predict.insight import Insight
from logbook.model.validate.exposure import make_exposure
from logbook.model.values import (
    DAY_ORDER,
    FAULTS,
    POSITIONS,
    Event,
    EventKind,
    Exposure,
    Habit,
    ProfilePoint,
    Seal,
    Settings,
    Watch,
)
from logbook.record.file.practice_file import shipped_path
from logbook.record.file.store import Store
from logbook.record.reading import glance
from logbook.record.reading.insight import read_outset
from logbook.record.writing import events, exposures, habits, watches

TODAY = date(2026, 3, 15)
ADDED = date(2020, 1, 1)
PRACTICE = parse(shipped_path().read_text(encoding="utf-8"))
LONG = "a sentence about a watch that its owner wrote down at length and with every detail there was to tell "
WISH = "new gaskets at every place, a pressure test in air and in water, and a word on the crown, which turns"


def wet(activity: str, on: date, watch_id: int, **given: object) -> Exposure:
    made = make_exposure(PRACTICE, Settings(), activity=activity, starts_on=on, today=TODAY, **given)  # type: ignore[arg-type]
    return replace(made, watch_id=watch_id)


def profile(depth_m: float, minutes: float, points: int) -> list[ProfilePoint]:
    """Down, along a slope, up: as an instrument writes it, point by point."""
    found = []
    for n in range(points):
        part = n / (points - 1)
        shape = min(1.0, part * 8, (1 - part) * 4) * (1 - 0.3 * part) + 0.02 * (n % 2) * (0 < part < 1)
        found.append(ProfilePoint(round(part * minutes * 60), max(0.0, depth_m * shape)))
    return found


def event(kind: EventKind, on: date, watch_id: int | None, **given: object) -> Event:
    return replace(Event(kind, on, DAY_ORDER[kind], watch_id=watch_id), **given)  # type: ignore[arg-type]


def seals_of(material: str, days: int = 0) -> list[Seal]:
    """A seal at every place, its fitting known to so many days."""
    return [Seal(place, material, ADDED, ADDED + timedelta(days)) for place in POSITIONS]


def written_all_over(store: Store, text: str, name: str | None = None) -> int:
    """A watch with the same text wherever its owner can write, as another program may have left it."""
    word = text[:20] if text.strip() else "blank"  # where the record itself takes no more, and no blank
    watch = Watch(
        name or text, "divers", 20e5, ADDED, ADDED, pushers=True, gas_valve=True,
        case_material=word, use="diving", reference=text, note=text, group=text,
    )  # fmt: skip
    watch_id = watches.add(store, watch, seals_of(word), [], PRACTICE)
    happened = [
        event("pressure-test", date(2021, 5, 1), watch_id, passed=True, test_pa=20e5, medium="air",
              workshop=text, note=text),
        event("opened", date(2022, 5, 1), watch_id, workshop=text, note=text),
        event("fog", date(2025, 5, 1), watch_id, crystal_c=5.0, note=text, workshop=text),
    ]  # fmt: skip
    events.add(store, happened, PRACTICE)
    dive = wet("dive", date(2025, 4, 1), watch_id, depth_m=21, duration_s=2400, water_c=15, rinsed=True)
    other = replace(dive, activity=word, note=text, starts_on=date(2025, 4, 2))
    exposures.add(store, [dive, other], PRACTICE)
    habit = Habit(replace(dive, activity=word, note=text), 0.1, date(2024, 1, 1), watch_id=watch_id)
    habits.add_habit(store, habit, PRACTICE)
    return watch_id


def crowded(store: Store, count: int = 5_000, name: str = "Everything at once") -> int:
    """A watch with more of everything than one page can list."""
    watch = Watch(
        name, "divers-mixed-gas", 30e5, ADDED, ADDED, crown="pushed", pushers=True, gas_valve=True,
        case_material="titanium", movement="quartz", use="diving", bought_on=ADDED, reference=LONG[:80],
        note=(LONG * 4)[:390], group="a box",
    )  # fmt: skip
    watch_id = watches.add(store, watch, seals_of("unknown", 500), [], PRACTICE)
    happened: list[Event] = []
    for n in range(14):
        day = ADDED + timedelta(150 * n + 20)
        told = {"workshop": LONG[:60], "note": LONG}
        happened.append(event("battery", day, watch_id, **told))
        happened.append(
            event("pressure-test", day, watch_id, passed=n < 12, test_pa=12.5e5, minutes=10,
                  medium="vacuum" if n % 2 else "air", deflection_um=123.4, **told)
        )  # fmt: skip
    happened += [event(kind, date(2026, 3, n + 1), watch_id, note=LONG) for n, kind in enumerate(FAULTS)]
    happened += [event("fog", date(2021, 3, n + 1), watch_id, note=LONG) for n in range(3)]
    events.add(store, happened, PRACTICE)
    activities = (
        "dive",
        "swim",
        "snorkel",
        "pool",
        "shower",
        "bath",
        "hot tub",
        "rain",
        "hands",
        "sauna",
        "boat",
    )
    days = (TODAY - ADDED).days
    wets = []
    for n in range(count):
        day, kind = ADDED + timedelta(1 + n * (days - 1) // count), activities[n % len(activities)]
        given: dict[str, object] = {"crown_wet": n % 3, "note": LONG}
        if kind == "dive":
            given |= {"depth_m": 20 + n % 25, "duration_s": 2400, "water_c": 8}
            given |= {"pusher_under": n % 2, "crown_under": n % 2}
        wets.append(wet(kind, day, watch_id, **given))
    for n in range(4):
        points = profile(40 + n, 50, 1500)
        wets.append(wet("mixed-gas", date(2026, 2, n + 1), watch_id, water_c=8, profile=points))
    exposures.add(store, wets, PRACTICE)
    for kind in activities[3:7]:
        contact = wet(kind, date(2026, 1, 1), watch_id)
        habits.add_habit(store, Habit(contact, 0.5, date(2025, 1, 1), watch_id=watch_id), PRACTICE)
    return watch_id


def standing_of(store: Store, watch_id: int, today: date = TODAY) -> Standing:
    """How a watch stands, with bands; a forecast would take long and is not printed."""
    record = glance.read_records(store.rows, watch_id=watch_id, retired=True)[0]
    outset = read_outset(store.rows, record, PRACTICE, today)
    bands = bands_of(outset, wear_of(record, PRACTICE, today), Draws.random(PRACTICE, 50))
    return stand(record, PRACTICE, today, insight=Insight(bands, None))


def page_of(
    store: Store, watch_id: int, asked: Sequence[str] = (), *, with_notes: bool = False,
    today: date = TODAY, units: str = "metric",
) -> Dossier:  # fmt: skip
    """The content of the page of one watch."""
    standing = standing_of(store, watch_id, today)
    return page_from(store, standing, asked, with_notes=with_notes, units=units)


def page_from(
    store: Store, standing: Standing, asked: Sequence[str] = (), *, with_notes: bool = False,
    units: str = "metric",
) -> Dossier:  # fmt: skip
    """The same, of a watch whose standing is known."""
    return gather(store.rows, standing, PRACTICE, units, asked, with_notes=with_notes)  # type: ignore[arg-type]


def new_store(path: Path) -> Store:
    return Store.open(path, create=True)
