"""What truly wears the seals of invented owners: laws of our own and foreign ones, for `calibration.py`.

The arithmetic of docs/method.md, "Wear share", written a second time and for whole lives at once: the
predictor charges entries and lays drawn constants over sums of them, this goes day by day with the true ones.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from zlib import crc32

import numpy as np
from calibration_lives import WATERS, Contacts, Life
from numpy.typing import NDArray

from logbook.model.practice import Practice
from logbook.model.predict.draws import Draws, two_halves
from logbook.model.values import Exposure, Position, WatchRecord
from logbook.model.wear import account, wear
from logbook.physics.constants import MOLAR_GAS_CONSTANT, kelvin

Array = NDArray[np.float64]

HOURS_A_YEAR = 8766.0
CHEMICALS = {"pool": "H_pool", "soap": "H_soap", "hot tub": "H_hot_tub"}
FOREIGN_TIMES = 3.0  # 10 % and 90 % points of what foreign weights are multiplied by
FOREIGN_EXPONENTS = (1.0, 4.5)
SHOCKS_A_YEAR = 0.052  # one week in a thousand


@dataclass(frozen=True)
class World:
    """A law that seals follow, in words and by what it changes of ours."""

    name: str
    words: str
    exponents: bool = False
    weights: bool = False
    weights_of_age: bool = False
    ea_kj_mol: float | None = None
    age_power: float = 1.0
    as_lived: bool = False  # unknown temperatures and the water before the log are as lived, not as stated
    shocks: bool = False
    tests_by_book: bool = False  # tests go by the wear share in the books, else by the true one


OWN = World("own law", "constants drawn from our own ranges", tests_by_book=True)
WORLDS = (
    OWN,
    World(
        "own law, tests by true wear",
        "the same; a test goes by the true wear share, not by the one in the books",
    ),
    World("other exponents", "n_p and n_t each anywhere from 1 to 4.5", exponents=True),
    World(
        "other weights",
        "every m and every channel's unit also ×/÷ 3, and the years of the material too",
        weights=True,
        weights_of_age=True,
    ),
    World("other weights, same years", "the same without the years of the material", weights=True),
    World("shocks", "a leak by chance in one week out of a thousand, whatever the wear", shocks=True),
    World("ageing at 40 kJ/mol", "Ea 40 kJ/mol for all", ea_kj_mol=40.0),
    World("ageing at 120 kJ/mol", "Ea 120 kJ/mol for all", ea_kj_mol=120.0),
    World("ageing by root of time", "the ageing channel is the square root of ours", age_power=0.5),
    World(
        "life not as stated",
        "water before the log, and temperatures that were left out, are as lived, not as assumed",
        as_lived=True,
    ),
)


class Truths:
    """The true constants of `count` owners in every world; those of one owner do not depend on `count`."""

    def __init__(self, practice: Practice, count: int, seed: int) -> None:
        self.practice = practice
        self.count = count
        self._seed = seed
        self.draws = Draws(practice, count, self._normal)
        self._made: dict[str, Array] = {}

    def _random(self, name: str) -> np.random.Generator:
        return np.random.default_rng([self._seed, 3, crc32(name.encode())])

    def _normal(self, name: str) -> Array:
        return self._random(name).standard_normal(self.count)

    def exponent(self, name: str) -> Array:
        """An exponent in a world of foreign ones."""

        def make() -> Array:
            return self._random(f"foreign {name}").uniform(*FOREIGN_EXPONENTS, self.count)

        return self._once(name, make)

    def foreign(self, name: str) -> Array:
        """What a weight is multiplied by in a world of foreign weights."""
        spread = FOREIGN_TIMES
        return self._once(name, lambda: two_halves(self._normal(f"foreign {name}"), 1.0, 1 / spread, spread))

    def _once(self, name: str, make: Callable[[], Array]) -> Array:
        if name not in self._made:
            self._made[name] = make()
        return self._made[name]

    def tests(self) -> tuple[Array, ...]:
        """λ, k, h, q, ε and φ of each owner, from the priors of the chance."""
        rows = [self.practice.constants[f"chance_{name}"] for name in ("scale", "shape", "hazard")]
        spread = (
            two_halves(self._normal(name), row.value, row.low, row.high)
            for name, row in zip(("λ", "k", "h"), rows, strict=True)
        )
        errors = (
            self._random(letter).beta(
                self.practice[f"chance_{name}_a"], self.practice[f"chance_{name}_b"], self.count
            )
            for letter, name in (("q", "opening"), ("ε", "miss"), ("φ", "alarm"))
        )
        return (*spread, *errors)


class Law:
    """The true constants of one owner in one world."""

    def __init__(self, truths: Truths, owner: int, world: World) -> None:
        self.truths, self.owner, self.world = truths, owner, world
        self.practice = truths.practice

    def constant(self, name: str) -> float:
        """A constant of practice.toml as it truly is."""
        world = self.world
        if name == "Ea" and world.ea_kj_mol is not None:
            return world.ea_kj_mol
        if name in ("n_p", "n_t") and world.exponents:
            return float(self.truths.exponent(name)[self.owner])
        value = float(self.truths.draws.constant(name)[self.owner])
        foreign = world.weights and name[:2] in ("N_", "H_", "U_")
        return value * self._foreign(name) if foreign else value

    def factor(self, row: str, channel: str) -> float:
        """A seal factor."""
        value = float(self.truths.draws.factor(row, channel)[self.owner])
        return value * self._foreign(f"{channel} {row}") if self.world.weights else value

    def years(self, material: str) -> float:
        """Years of one interval of a material."""
        value = float(self.truths.draws.years(material)[self.owner])
        return value * self._foreign(f"years {material}") if self.world.weights_of_age else value

    def stated_times(self) -> float:
        """How many times the stated use really happened before the log."""
        return float(self.truths.draws.stated_times()[self.owner])

    def _foreign(self, name: str) -> float:
        return float(self.truths.foreign(name)[self.owner])


class Prices:
    """What hours, cycles and uses cost one seal under one law."""

    def __init__(self, law: Law, life: Life, position: Position, material: str) -> None:
        self.law, self.practice = law, law.practice
        self.m = {channel: law.factor(wear.seal_row(life.watch, position), channel)
                  for channel in ("m_p", "m_t", "m_s", "m_c", "m_h")}  # fmt: skip
        self.ea, self.worn_c = law.constant("Ea"), law.constant("worn_c")
        mean = 0.5 * (
            self.rate(self.practice["interval_worn_c"]) + self.rate(self.practice["interval_storage_c"])
        )
        self.per_hour = 1 / mean / law.years(material) / HOURS_A_YEAR
        self.worn, self.stored = self.rate(self.worn_c), self.rate(law.constant("storage_c"))
        self.mark_pa = _mark_pa(life, law)
        self.crown, self.pushers = position == "crown", position == "pushers"
        weekly = life.watch.winds * self.crown + life.watch.presses * self.pushers
        self.dry_a_day = self.m["m_h"] * weekly / 7 / law.constant("U_dry")

    def rate(self, celsius: Array | float) -> Array:
        """Ageing rate against that at the reference temperature (Arrhenius)."""
        inverse = 1 / (np.asarray(celsius) - (-kelvin(0.0))) - 1 / kelvin(self.practice["reference_c"])
        rate: Array = np.exp(-self.ea * 1e3 / MOLAR_GAS_CONSTANT * inverse)
        return rate

    def ageing(self, hours: Array, wrist_h: Array, storage_h: Array, water_c: Array) -> Array:
        """Ageing in the water, less that of the hours on the wrist and in storage that it replaces."""
        instead = wrist_h * self.worn + storage_h * self.stored
        result: Array = (hours * self.rate(water_c) - instead) * self.per_hour
        return result

    def water(self, met: Contacts, water_c: Array) -> Array:
        """All other channels."""
        law, m, hours = self.law, self.m, met.hours
        cost = (
            m["m_p"] * met.dips * (met.gauge_pa / self.mark_pa) ** law.constant("n_p") / law.constant("N_p")
        )
        swing = np.abs(self.worn_c - water_c) / self.practice["swing_k"]
        cost = cost + m["m_t"] * swing ** law.constant("n_t") / law.constant("N_t")
        salt = np.where(met.rinsed, 1.0, law.constant("unrinsed")) / law.constant("H_salt")
        cost = cost + m["m_s"] * hours * salt * (met.water == WATERS.index("sea"))
        for water, interval in CHEMICALS.items():
            inside = met.water == WATERS.index(water)
            cost = cost + m["m_c"] * hours * inside / law.constant(interval)
        if self.crown:
            uses = met.wet / law.constant("U_wet") + met.under / law.constant("U_under")
            cost = cost + m["m_h"] * uses
        return cost


def _mark_pa(life: Life, law: Law) -> float:
    name = wear.unstated_mark(life.watch)
    return life.watch.marked_pa or 0.0 if name is None else law.constant(name) * 1e5


def course(life: Life, law: Law, position: Position, material: str, fitted: date, days: int) -> Array:
    """The true wear share of a seal at the start of each day from its fitting on, `days` of them."""
    prices = Prices(law, life, position, material)
    start = fitted.toordinal()
    logged = max(life.watch.recorded_from.toordinal() - start, 0)
    age = np.full(days, 0.0)
    other = np.full(days, prices.dry_a_day)
    age += (life.watch.worn_h * prices.worn + (24 - life.watch.worn_h) * prices.stored) * prices.per_hour
    if not law.world.as_lived:
        stated_age, stated = _stated(life, law, prices)
        age[:logged] += stated_age
        other[:logged] += stated
    first = start if law.world.as_lived else max(start, life.watch.recorded_from.toordinal())
    met = _since(life.contacts, first, start + days)
    habit_h = _add_habits(life, prices, age, other, slice(0 if law.world.as_lived else logged, None))
    water_c = np.where(met.said | law.world.as_lived, met.water_c, law.constant("home_c"))
    wrist, storage = _hours(met, life.watch.worn_h - habit_h, 24 - habit_h)
    at = met.day - start
    age += np.bincount(at, prices.ageing(wrist + storage, wrist, storage, water_c), days)
    other += np.bincount(at, prices.water(met, water_c), days)
    grown = np.concatenate(([0.0], np.cumsum(age)))
    if law.world.age_power != 1.0:
        grown = np.maximum(grown, 0.0) ** law.world.age_power
    result: Array = grown + np.concatenate(([0.0], np.cumsum(other)))
    return result


def _since(contacts: Contacts, first: int, end: int) -> Contacts:
    a, b = np.searchsorted(contacts.day, (first, end))
    return Contacts(*(getattr(contacts, name)[a:b] for name in contacts.__dataclass_fields__))


def _hours(met: Contacts, worn_h: float, day_h: float) -> tuple[Array, Array]:
    """Hours that each contact takes off the wrist and out of storage: the wrist's first, in their order."""
    ends = np.cumsum(met.hours)
    before = ends - met.hours
    before = before - before[np.searchsorted(met.day, met.day)] if len(met.day) else before
    hours = np.clip(day_h - before, 0.0, met.hours)
    wrist = np.clip(worn_h - before, 0.0, hours)
    return wrist, hours - wrist


def _one(exposure: Exposure) -> Contacts:
    """A repeated exposure as a contact of its own; its water's temperature was said."""
    one = np.ones(1)
    whole = np.ones(1, dtype=np.int64)
    return Contacts(
        day=whole, kind=whole, water=whole * WATERS.index(exposure.water), gauge_pa=one * exposure.gauge_pa,
        depth_m=one * exposure.depth_m, seconds=whole * exposure.duration_s, water_c=one * exposure.water_c,
        said=whole > 0, rinsed=whole == int(exposure.rinsed), dips=whole * exposure.dips, wet=whole * 0,
        under=whole * 0,
    )  # fmt: skip


def _stated(life: Life, law: Law, prices: Prices) -> tuple[float, float]:
    """A day of the stated use, as often as it truly was: ageing and all else."""
    age = other = 0.0
    wrist_h = min(life.watch.worn_h, 24.0)
    for habit in account.stated_habits(WatchRecord(life.watch, life.seals, {}), law.practice):
        met = _one(habit.exposure)
        if met.hours[0] > wrist_h:
            raise ValueError("a stated exposure is longer than the watch is worn in a day")
        age += habit.per_day * float(prices.ageing(met.hours, met.hours, 0 * met.hours, met.water_c)[0])
        other += habit.per_day * float(prices.water(met, met.water_c)[0])
    return law.stated_times() * age, law.stated_times() * other


def _add_habits(life: Life, prices: Prices, age: Array, other: Array, days: slice) -> float:
    """Adds what is repeated every day; hours a day of it."""
    hours = 0.0
    for habit in life.habits:
        met = _one(habit.exposure)
        age[days] += prices.ageing(met.hours, met.hours, 0 * met.hours, met.water_c)[0]
        other[days] += prices.water(met, met.water_c)[0]
        hours += float(met.hours[0])
    return hours
