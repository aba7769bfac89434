"""Small factories for the reckoning's tests: a watch with nothing against it, and the parts it is made of."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date, time, timedelta
from pathlib import Path
from typing import Any

import logbook
from logbook.model import practice
from logbook.model.judge import check, standing
from logbook.model.judge.check import Verdict
from logbook.model.judge.rules import Reason
from logbook.model.practice import Practice
from logbook.model.values import (
    DAY_ORDER,
    Event,
    EventKind,
    Exposure,
    Habit,
    Position,
    Seal,
    Shares,
    Watch,
    WatchRecord,
    WornStretch,
)
from logbook.model.wear import account, charge
from logbook.model.wear.account import SealWear

SHIPPED = (Path(logbook.__file__).parent / "practice.toml").read_text(encoding="utf-8")
PRACTICE: Practice = practice.parse(SHIPPED)

FITTED = date(2024, 1, 1)
TESTED = date(2024, 6, 1)
TODAY = date(2024, 9, 2)
BAR = 1e5
ONE_DAY = timedelta(days=1)


def practice_with(override: str) -> Practice:
    """The shipped constants with an owner's override laid over them."""
    return practice.parse(SHIPPED, override=override)


def watch(**given: Any) -> Watch:
    """A diver's watch of 20 bar with a screwed-down crown, on record since its seals were fitted."""
    plain: dict[str, Any] = {
        "name": "Blue bezel",
        "mark": "divers",
        "marked_pa": 20 * BAR,
        "added_on": FITTED,
        "recorded_from": FITTED,
        "crown": "screwed",
        "use": "diving",
        "confirmed_on": TODAY,
        "id": 1,
    }
    return Watch(**(plain | given))


def seal(position: Position = "crown", material: str = "NBR", fitted: date = FITTED, **given: Any) -> Seal:
    """A seal fitted on one known date, or from `fitted` to `latest`."""
    latest = given.pop("latest", fitted)
    return Seal(position, material, fitted, latest, **({"id": 1} | given))


def seals(material: str = "NBR", fitted: date = FITTED, latest: date | None = None) -> tuple[Seal, ...]:
    """Case back, crystal and crown, fitted together."""
    places: tuple[Position, ...] = ("case-back", "crystal", "crown")
    return tuple(
        Seal(position, material, fitted, latest or fitted, id=n) for n, position in enumerate(places, start=1)
    )


def passed(on: date = TESTED, bar: float | None = 25, **given: Any) -> Event:
    """A passed pressure test in water."""
    plain: dict[str, Any] = {"order": DAY_ORDER["pressure-test"], "medium": "water"}
    pa = None if bar is None else bar * BAR
    return Event("pressure-test", on, passed=True, test_pa=pa, **(plain | given))


def event(kind: EventKind, on: date = TESTED + ONE_DAY, **given: Any) -> Event:
    """Any other event, in the order of its kind within the day."""
    return Event(kind, on, **({"order": DAY_ORDER[kind]} | given))


def record(*events: Event, **given: Any) -> WatchRecord:
    """A record of the watch above with NBR seals; without events it holds one passed test of 25 bar.

    Keywords of a record go to the record, all others to its watch.
    """
    of_record = (
        "seals",
        "totals",
        "habits",
        "stretches",
        "last_exposure_on",
        "snoozed",
        "watch",
        "raised",
        "plans",
    )
    whole: dict[str, Any] = {k: given.pop(k) for k in of_record if k in given}
    plain: dict[str, Any] = {
        "watch": watch(**given),
        "seals": seals(),
        "totals": {},
        "events": events or (passed(),),
        "last_exposure_on": TODAY - ONE_DAY,
    }
    return WatchRecord(**(plain | whole))


def untested(**given: Any) -> WatchRecord:
    """A record without any event."""
    return replace(record(**given), events=())


def exposure(**given: Any) -> Exposure:
    """A rinsed sea dive to 18 m, 45 minutes at 20 °C from a wrist of 32 °C; gauge follows from the depth."""
    plain: dict[str, Any] = {
        "activity": "dive",
        "water": "sea",
        "depth_m": 18.0,
        "basis": "EN 13319",
        "duration_s": 2700,
        "water_c": 20.0,
        "from_c": 32.0,
        "starts_on": TODAY,
        "salinity": 35.0,
        "rinsed": True,
    }
    filled = plain | given
    filled.setdefault("gauge_pa", filled["depth_m"] * 1e4)
    return Exposure(**filled)


def shower(**given: Any) -> Exposure:
    """Eight minutes of soapy water."""
    plain = {"activity": "shower", "water": "soap", "depth_m": 0.1, "gauge_pa": 979.0, "duration_s": 480}
    return exposure(**({"water_c": 34.0, "basis": "true", "salinity": None} | plain | given))


def rain(**given: Any) -> Exposure:
    """Twenty minutes of rain."""
    plain = {"activity": "rain", "water": "fresh", "depth_m": 0.05, "gauge_pa": 490.0, "duration_s": 1200}
    return exposure(**({"water_c": 12.0, "basis": "true", "salinity": None} | plain | given))


def pool(**given: Any) -> Exposure:
    """Three quarters of an hour in a pool, at 1.5 m."""
    plain = {"activity": "pool", "water": "pool", "depth_m": 1.5, "water_c": 27.0, "basis": "true"}
    return exposure(**(plain | given))


def sauna(**given: Any) -> Exposure:
    """A quarter of an hour in a sauna of 80 °C."""
    plain = {"activity": "sauna", "water": "air", "depth_m": 0.0, "water_c": 80.0, "duration_s": 900}
    return exposure(**(plain | given))


def at(hour: int, minute: int = 0) -> time:
    """A civil time of day."""
    return time(hour, minute)


def habit(per_day: float = 1.0, start: date = FITTED, end: date | None = None, **given: Any) -> Habit:
    """An exposure that repeats."""
    return Habit(exposure(**given), per_day, start, end)


def stretch(start: date, end: date, hours: float) -> WornStretch:
    """A worn stretch, both days included."""
    return WornStretch(start, end, hours)


def charged(whole: WatchRecord, exposures: Iterable[Exposure], constants: Practice = PRACTICE) -> WatchRecord:
    """The record with the totals that these exposures add up to, as a ledger would keep them."""
    totals: dict[int, Shares] = dict(whole.totals)
    for by_seal in charge.charge_exposures(whole, list(exposures), constants).values():
        for seal_id, what in by_seal.items():
            if what.counted:
                totals[seal_id] = totals.get(seal_id, Shares()).plus(what.shares)
    return replace(whole, totals=totals)


def check_plan(
    whole: WatchRecord, planned: Exposure, on: date = TODAY, *, crown_open: bool = False,
    pushers_open: bool = False, constants: Practice = PRACTICE,
) -> Verdict:  # fmt: skip
    """The answer before water on a day, for a plan that does not lie ahead of it."""
    planned = replace(
        planned, starts_on=min(planned.starts_on, on), crown_open=crown_open, pushers_open=pushers_open
    )
    return check.check(whole, planned, constants, on)


def stops(whole: WatchRecord, on: date = TODAY) -> tuple[Reason, ...]:
    """The standing rules that speak for the stated use."""
    return standing.stand(whole, PRACTICE, on).stops


def codes(reasons: Iterable[Reason]) -> list[str]:
    """The codes of reasons, in their order."""
    return [reason.code for reason in reasons]


def verdict_of(reasons: Iterable[Reason]) -> Mapping[str, str]:
    """Code -> how it speaks."""
    return {reason.code: reason.verdict for reason in reasons}


def crown_of(whole: WatchRecord) -> Seal:
    """The crown seal in place."""
    return next(s for s in charge.current_seals(whole.seals) if s.position == "crown")


def wear_on(whole: WatchRecord, on: date, of: Seal | None = None) -> SealWear:
    """The account of a seal, else of the crown's, at the start of a day."""
    return account.seal_wear(whole, of or crown_of(whole), PRACTICE, on)


def old_seals() -> tuple[Seal, ...]:
    return seals(fitted=date(2017, 9, 2))


def worn_out(*told: Any, **given_: Any) -> WatchRecord:
    """Worn day and night for four and a half years: 1.4 intervals, two years short of the storage age."""
    fitted = date(2020, 3, 1)
    return record(*told, seals=seals(fitted=fitted), recorded_from=fitted, worn_h=24.0, **given_)


def drawer_watch(*told: Any, **given_: Any) -> WatchRecord:
    """Seven years in a drawer: past the storage age, with a third of the interval left."""
    return record(*told, seals=old_seals(), recorded_from=date(2017, 1, 1), worn_h=0.0, winds=0.0, **given_)
