"""Invented owners and the water their watches meet, for `calibration.py`.

Everything about them is made up by simple tables with weights: who they are, what they wear, how often they
go into which water. Nothing here knows how seals wear; that is the business of `calibration_worlds`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from logbook.model.fitting import places
from logbook.model.practice import Practice
from logbook.model.values import Basis, Exposure, Habit, Seal, Use, Watch, Water
from logbook.physics.water import gauge_pa_for

Array = NDArray[np.float64]
Whole = NDArray[np.int64]
Random = np.random.Generator

HORIZON_DAYS = 3640  # ten years of 52 weeks, as the forecast's
RECORD_YEARS = (0.2, 4.0)
MOST_WATCHES = 10
BAR = 1e5


class Habitat(NamedTuple):
    """One kind of water an owner may meet, in a usual year of a usual owner of this kind."""

    activity: str
    water: Water
    basis: Basis
    takers: float  # the share of owners who do it at all
    per_year: float  # median over owners
    season: float  # 0: all year alike; 1: none at all in the coldest week
    depth_m: float  # median, and how many times as deep one in six is
    deeper: float
    minutes: float
    coldest_c: float
    warmest_c: float
    dips: int = 1
    always_said: bool = False  # its temperature is known without asking


class Kind(NamedTuple):
    """One kind of owner: share of all, what they wear and where they go."""

    share: float
    use: Use
    marks: tuple[tuple[float, str, float | None, float], ...]  # weight, mark, bar, share of screwed crowns
    waters: tuple[Habitat, ...]


_SHOWER = Habitat("shower", "soap", "fresh", 0.3, 40, 0.0, 0.1, 1.0, 8, 38, 38, 1, True)
_RAIN = Habitat("rain", "fresh", "fresh", 1.0, 20, 0.2, 0.05, 1.0, 20, 5, 18, 1, True)
_SWIM = Habitat("swim", "sea", "EN 13319", 0.7, 12, 0.95, 1.5, 1.4, 30, 12, 25)
KINDS: dict[str, Kind] = {
    "diver": Kind(
        0.3, "diving",
        ((0.6, "divers", 20, 0.95), (0.2, "divers", 30, 1.0), (0.2, "water-resistant", 20, 0.8)),
        (
            Habitat("dive", "sea", "EN 13319", 1.0, 20, 0.8, 17, 1.4, 45, 9, 26),
            Habitat("dive", "fresh", "EN 13319", 0.4, 10, 0.5, 15, 1.5, 40, 5, 18),
            _SWIM, _RAIN, _SHOWER,
        ),
    ),
    "swimmer": Kind(
        0.25, "swimming",
        ((0.5, "water-resistant", 10, 0.6), (0.3, "water-resistant", 20, 0.8), (0.2, "divers", 20, 0.95)),
        (
            _SWIM._replace(takers=1.0, per_year=30),
            Habitat("snorkel", "sea", "EN 13319", 0.5, 8, 0.95, 3, 1.5, 45, 15, 27, 8),
            _RAIN, _SHOWER,
        ),
    ),
    "pool-goer": Kind(
        0.25, "swimming",
        ((0.4, "water-resistant", 5, 0.1), (0.4, "water-resistant", 10, 0.5),
         (0.2, "water-resistant", 20, 0.8)),
        (
            Habitat("pool", "pool", "fresh", 1.0, 45, 0.1, 1.5, 1.3, 45, 27, 27, 1, True),
            Habitat("hot tub", "hot tub", "fresh", 0.2, 6, 0.0, 0.5, 1.2, 20, 38, 38, 1, True),
            _RAIN, _SHOWER,
        ),
    ),
    "dry": Kind(
        0.2, "dry",
        ((0.4, "water-resistant", 3, 0.0), (0.3, "water-resistant", 5, 0.1),
         (0.2, "water-resistant", None, 0.0), (0.1, "unmarked", None, 0.0)),
        (_RAIN, _SHOWER._replace(takers=0.05), _SWIM._replace(takers=0.1, per_year=3)),
    ),
}  # fmt: skip
MATERIALS = {"NBR": 0.5, "unknown": 0.2, "VMQ": 0.1, "FKM": 0.1, "EPDM": 0.05, "plastic": 0.05}
WORN_H = {8.0: 0.25, 12.0: 0.4, 16.0: 0.2, 24.0: 0.15}
WINDS = {0.0: 0.2, 1.0: 0.5, 7.0: 0.3}  # dry uses of the crown a week
# How the fitting of the gaskets in place is known: to the day, to a year or some years, or not at all, which
# means anywhere in the years that a spare may be stored.
FITTINGS = {
    "at the start": 0.25,
    "before": 0.3,
    "in the record": 0.1,
    "a year": 0.1,
    "some years": 0.15,
    "not": 0.1,
}
KNOWN_FITTINGS = ("at the start", "before", "in the record")
DAILY_SHOWER = 0.1  # of watches, entered once as a habit
MANY = 0.7  # spread, in logarithms, of how often owners of a kind go
WARMEST = date(2000, 7, 27).toordinal()
WATERS: tuple[Water, ...] = ("sea", "fresh", "pool", "soap", "hot tub")


@dataclass(frozen=True, eq=False)
class Contacts:
    """Contacts with water as columns, by day; what truly happened, whether or not it was written down."""

    day: Whole  # ordinal
    kind: Whole  # index among the waters of this kind of owner
    water: Whole  # index in WATERS
    gauge_pa: Array
    depth_m: Array
    seconds: Whole
    water_c: Array
    said: NDArray[np.bool_]  # the temperature was written down
    rinsed: NDArray[np.bool_]
    dips: Whole
    wet: Whole
    under: Whole

    @property
    def hours(self) -> Array:
        """Length in hours."""
        return self.seconds / 3600


@dataclass(frozen=True, eq=False)
class Life:
    """One watch: as its owner describes it, when its gaskets were really fitted, and all its water."""

    watch: Watch
    kind: str
    seals: tuple[Seal, ...]  # in place on the first day of the record
    fitted_on: date  # really
    fitting: str
    renewed_on: date | None  # inside the record, where `fitting` says so
    today: date
    contacts: Contacts  # from the first day that may matter to the end of the horizon
    habits: tuple[Habit, ...]

    @property
    def waters(self) -> Sequence[Habitat]:
        """The kinds of water its owner may meet."""
        return KINDS[self.kind].waters


@dataclass(frozen=True, eq=False)
class Owner:
    """An owner with one to ten watches; the first is the one that bands and dates are asked of."""

    number: int
    kind: str
    lives: tuple[Life, ...]


def owner_of(number: int, seed: int, practice: Practice) -> Owner:
    """The owner of this number; the same for the same seed."""
    random = np.random.default_rng([seed, 1, number])
    kind = _pick(random, {name: kind.share for name, kind in KINDS.items()})
    today = date(2026, 1, 1) + timedelta(days=int(random.integers(0, 365)))
    years = random.uniform(*RECORD_YEARS)
    count = int(random.integers(1, MOST_WATCHES + 1))
    lives = []
    for nth in range(count):
        own = np.random.default_rng([seed, 2, number, nth])
        span = years if nth == 0 else own.uniform(RECORD_YEARS[0], max(years, 0.3))
        number_of = number * MOST_WATCHES + nth + 1
        ahead = HORIZON_DAYS if nth == 0 else 0
        lives.append(_life(own, kind, today, round(span * 365.25), ahead, number_of, practice))
    return Owner(number, kind, tuple(lives))


def _pick(random: Random, weights: dict[str, float]) -> str:
    names = list(weights)
    return names[int(random.choice(len(names), p=np.array(list(weights.values())) / sum(weights.values())))]


def _pick_number(random: Random, weights: dict[float, float]) -> float:
    return float(random.choice(list(weights), p=list(weights.values())))


def _life(
    random: Random, kind: str, today: date, days: int, ahead: int, number: int, practice: Practice
) -> Life:
    recorded = today - timedelta(days=days)
    fitting = _pick(random, FITTINGS)
    material = _pick(random, MATERIALS)
    cap_days = int(practice.material(material).cap_years * 365)
    back = {"at the start": (0, 0), "in the record": (200, 1000), "before": (30, 1095)}.get(fitting, (0, 0))
    latest = recorded - timedelta(days=int(random.integers(back[0], back[1] + 1)))
    earliest = latest
    if fitting == "a year":
        latest = recorded - timedelta(days=int(random.integers(0, 730)))
        earliest = latest - timedelta(days=364)
    elif fitting == "some years":
        back_days = int(random.integers(180, 2190))
        earliest = recorded - timedelta(days=min(back_days, cap_days))
    elif fitting == "not":
        earliest = recorded - timedelta(days=cap_days)
    fitted = earliest + timedelta(days=int(random.integers(0, (latest - earliest).days + 1)))
    renewed = today - timedelta(days=int(random.uniform(0.1, 0.9) * days))
    watch = _watch(random, kind, recorded, number)
    seals = tuple(
        Seal(place, material, earliest, latest, id=nth + 1) for nth, place in enumerate(places(watch))
    )
    habits = _shower_habit(random, recorded) if random.random() < DAILY_SHOWER else ()
    first = min(earliest, recorded).toordinal()
    contacts = _contacts(random, kind, first, today.toordinal() + ahead)
    return Life(
        watch, kind, seals, fitted, fitting, renewed if fitting == "in the record" else None, today, contacts,
        habits,
    )  # fmt: skip


def _watch(random: Random, kind: str, recorded: date, number: int) -> Watch:
    marks = KINDS[kind].marks
    _, mark, bar, screwed = marks[int(random.choice(len(marks), p=[row[0] for row in marks]))]
    return Watch(
        name=f"Watch {number}",
        mark=mark,
        marked_pa=None if bar is None else bar * BAR,
        added_on=recorded,
        recorded_from=recorded,
        crown="screwed" if random.random() < screwed else "pushed",
        pushers=bool(random.random() < 0.2),
        gas_valve=bool(mark == "divers" and random.random() < 0.1),
        movement="quartz" if random.random() < 0.5 else "mechanical",
        use=KINDS[kind].use,
        worn_h=_pick_number(random, WORN_H),
        winds=_pick_number(random, WINDS),
        presses=float(random.choice([0.0, 3.0, 20.0])),
        id=number,
    )


def _shower_habit(random: Random, recorded: date) -> tuple[Habit, ...]:
    depth_m = 0.1
    exposure = Exposure(
        "shower", "soap", depth_m, "fresh", gauge_pa_for(depth_m, "fresh"), int(random.integers(3, 11)) * 60,
        38.0, 32.0, date.min,
    )  # fmt: skip
    return (Habit(exposure, 1.0, recorded),)


@lru_cache
def _pa_per_m(basis: Basis) -> float:
    return gauge_pa_for(1.0, basis)


def _season(day: Whole) -> Array:
    """1 in the warmest week of the year, 0 in the coldest."""
    return 0.5 + 0.5 * np.cos(2 * math.pi * (day - WARMEST) / 365.2425)


def _contacts(random: Random, kind: str, first: int, end: int) -> Contacts:
    """All water from one day up to another: so many a week by chance, by season, each on some day of it."""
    says, rinses, careless = random.choice([0.9, 0.5, 0.1]), random.beta(2, 1.5), random.random() < 0.15
    weeks = np.arange(first, end - 6, 7)
    warmth = _season(weeks)
    columns: list[tuple[Array | Whole, ...]] = []
    for nth, habitat in enumerate(KINDS[kind].waters):
        takes, often = random.random() < habitat.takers, math.exp(MANY * random.standard_normal())
        if not takes:
            continue
        by_week = 1 - habitat.season + 2 * habitat.season * warmth  # mean 1
        counts = random.poisson(habitat.per_year / 52.18 * often * by_week)
        day = np.repeat(weeks, counts) + random.integers(0, 7, counts.sum())
        columns.append(_of_kind(random, nth, habitat, day, says, rinses, careless))
    joined = [np.concatenate(column) for column in zip(*columns, strict=True)]
    order = np.argsort(joined[0], kind="stable")
    return Contacts(*(column[order] for column in joined))


def _of_kind(
    random: Random, nth: int, habitat: Habitat, day: Whole, says: float, rinses: float, careless: bool
) -> tuple[Array | Whole, ...]:
    count = len(day)
    warmth = _season(day)
    depth_m = np.round(habitat.depth_m * habitat.deeper ** random.standard_normal(count), 2)
    minutes = np.clip(np.round(habitat.minutes * np.exp(0.25 * random.standard_normal(count))), 1, 180)
    noise = 0.0 if habitat.coldest_c == habitat.warmest_c else 1.5
    water_c = habitat.coldest_c + (habitat.warmest_c - habitat.coldest_c) * warmth
    water_c = np.round(np.maximum(water_c + noise * random.standard_normal(count), 0.0), 1)
    said = np.full(count, True) if habitat.always_said else random.random(count) < says
    often = 5.0 if careless else 1.0
    return (
        day.astype(np.int64),
        np.full(count, nth),
        np.full(count, WATERS.index(habitat.water)),
        depth_m * _pa_per_m(habitat.basis),
        depth_m,
        (minutes * 60).astype(np.int64),
        water_c,
        said,
        random.random(count) < rinses,
        np.full(count, habitat.dips),
        (random.random(count) < 0.02 * often).astype(np.int64),
        (random.random(count) < 0.002 * often).astype(np.int64),
    )
