"""A plain simulation of a seal, day by day, written apart from the package: what an account must equal."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from datetime import date

from logbook.model.values import Exposure, Seal, WatchRecord
from tests.model.builders import ONE_DAY, at, exposure, rain

# The constants of the method, written out again for the simulation.
EA_OVER_R = 80_000 / 8.314462618
YEARS = {"NBR": 5.0, "FKM": 50 / 7, "NR": 25 / 7}
CROWN_SCREWED = {"p": 1.0, "t": 0.8, "s": 1.0, "c": 1.0, "h": 1.0}
CHEMICALS = {"pool": 300, "soap": 120, "hot tub": 60}


def rate(celsius: float) -> float:
    return math.exp(EA_OVER_R * (1 / 294.15 - 1 / (celsius + 273.15)))


@dataclass
class Plain:
    """What the simulation adds up."""

    ageing: float = 0.0
    pressure: float = 0.0
    temperature: float = 0.0
    salt: float = 0.0
    chemicals: float = 0.0
    handling: float = 0.0


def stated_use(use: str) -> list[tuple[float, Exposure]]:
    """Times a year and exposure: the use that a watch is charged with before its record begins."""
    if use == "dry":
        return [(20.0, rain(from_c=32, depth_m=0.05, gauge_pa=0.05 * 9806.65))]
    if use == "swimming":
        pool = exposure(
            activity="pool", water="pool", depth_m=1.5, gauge_pa=1.5 * 9806.65, duration_s=2700, water_c=27
        )
        return [(40.0, pool)]
    dive = exposure(depth_m=18.0, gauge_pa=18 * 1019.7 * 9.80665, duration_s=2700, water_c=20, rinsed=True)
    return [(15.0, dive), (15.0, replace(dive, rinsed=False))]


def simulate(whole: WatchRecord, of: Seal, start: date, on: date, dives: list[Exposure]) -> Plain:
    """Every day from `start` up to `on`: hours first into water, then on the wrist, then in the drawer.

    Only for a screwed-down crown. Each exposure lies within one day; timed ones do not need to be apart.
    """
    sum_ = Plain()
    per_hour = 1 / (0.5 * (rate(32) + rate(21)) * YEARS[of.material] * 8766)
    day = start
    while day < on:
        worn = whole.watch.worn_h
        for entered in whole.stretches:
            if entered.from_on <= day <= entered.to_on:
                worn = entered.hours
        on_record = day >= whole.watch.recorded_from
        if on_record:
            repeated = [
                (h.per_day, h.exposure)
                for h in whole.habits
                if h.from_on <= day and (h.to_on is None or day <= h.to_on)
            ]
        else:
            repeated = [(n / 365.25, e) for n, e in stated_use(whole.watch.use)]
        in_water = sum(n * e.duration_s / 3600 for n, e in repeated)
        squeezed = min(1.0, 24 / in_water) if in_water else 1.0
        hours = 0.0
        for times, e in repeated:
            taken = times * e.duration_s / 3600 * squeezed
            sum_.ageing += taken * rate(e.water_c) * per_hour
            hours += taken
            _water(sum_, whole, e, times)
        covered: set[int] = set()
        for e in sorted((e for e in dives if e.starts_on == day), key=lambda e: (e.starts_at or at(0), e.id)):
            if not on_record:
                continue
            begin = e.starts_at.hour * 60 + e.starts_at.minute if e.starts_at else 0
            minutes = set(range(begin, begin + e.duration_s // 60))
            new = minutes if e.starts_at is None else minutes - covered
            if e.starts_at is not None:
                covered |= minutes
            taken = min(len(new) / 60, 24 - hours)
            sum_.ageing += taken * rate(e.water_c) * per_hour
            hours += taken
            _water(sum_, whole, e, 1.0)
        wrist = max(0.0, worn - hours)
        sum_.ageing += (wrist * rate(32) + (24 - hours - wrist) * rate(21)) * per_hour
        sum_.handling += CROWN_SCREWED["h"] * whole.watch.winds / 7 / 6000
        day += ONE_DAY
    return sum_


def _water(sum_: Plain, whole: WatchRecord, e: Exposure, times: float) -> None:
    hours = e.duration_s / 3600
    mark = whole.watch.marked_pa or 3e5
    sum_.pressure += times * e.dips * CROWN_SCREWED["p"] * (e.gauge_pa / mark) ** 2 / 100
    sum_.temperature += times * CROWN_SCREWED["t"] * ((e.water_c - e.from_c) / 35) ** 2 / 150
    if e.water == "sea":
        sum_.salt += times * CROWN_SCREWED["s"] * hours / 300 * (1 if e.rinsed else 4)
    if e.water in CHEMICALS:
        sum_.chemicals += times * CROWN_SCREWED["c"] * hours / CHEMICALS[e.water]
    sum_.handling += times * CROWN_SCREWED["h"] * (e.crown_wet / 200 + e.crown_under / 20)
