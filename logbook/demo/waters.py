"""What a watch of the scenario meets: routines and single exposures, plans, habits, and profiles from shapes."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, time, timedelta
from random import Random
from typing import Any

from logbook.demo.blocks import (
    AMOUNT,
    COUNT,
    DAYS,
    NUMBER,
    POINTS,
    SHARE,
    TEXT,
    WHOLE,
    Block,
    Kind,
)
from logbook.reckoning.practice import Practice
from logbook.reckoning.validate import activity_row, check_habit, make_exposure
from logbook.reckoning.values import Exposure, Habit, ProfilePoint, Settings, Watch

SHAPE_KEYS: Mapping[str, Kind] = {"points": POINTS, "every_s": WHOLE, "surface_k": NUMBER, "waver_m": NUMBER}
CONTACT_KEYS: Mapping[str, Kind] = {
    "activity": TEXT, "depth_m": AMOUNT, "basis": TEXT, "minutes": AMOUNT, "water": TEXT, "salinity": AMOUNT,
    "water_c": AMOUNT, "home_offset_k": AMOUNT, "from_c": AMOUNT, "dips": COUNT, "rinsed": SHARE,
    "crown_wet": COUNT, "crown_under": COUNT, "pusher_wet": COUNT, "pusher_under": COUNT, "jump_m": AMOUNT,
    "note": TEXT, "hour": AMOUNT, "profile": TEXT,
}  # fmt: skip
ROUTINE_KEYS = {**CONTACT_KEYS, "from": DAYS, "to": DAYS, "times": WHOLE}
SINGLE_KEYS = {**CONTACT_KEYS, "on": DAYS}
PLAN_KEYS = {**CONTACT_KEYS, "in": DAYS, "until": DAYS}
HABIT_KEYS = {**CONTACT_KEYS, "per_day": NUMBER, "from": DAYS, "to": DAYS}

_AMOUNTS = {"depth_m": 1, "salinity": 1, "water_c": 1, "from_c": 0, "jump_m": 1}  # to how many digits
_COUNTS = ("dips", "crown_wet", "crown_under", "pusher_wet", "pusher_under")
_BETWEEN_H = 3  # from one exposure to the next of the same routine on the same day


@dataclass(frozen=True, slots=True)
class Shape:
    """How a dive runs: shares of its time and of its greatest depth, and how its water and diver behave."""

    times: tuple[float, ...]  # from 0 to 1
    depths: tuple[float, ...]  # from 0 to 1
    every_s: int
    surface_k: float  # so much warmer at the surface than at the greatest depth
    waver_m: float  # no diver keeps a depth

    def share_at(self, time_share: float) -> float:
        """Depth as a share of the greatest, straight from point to point."""
        n = min(max(bisect_right(self.times, time_share) - 1, 0), len(self.times) - 2)
        span = self.times[n + 1] - self.times[n]
        into = (time_share - self.times[n]) / span
        return self.depths[n] + into * (self.depths[n + 1] - self.depths[n])


def shape_of(block: Block) -> Shape:
    """A shape from its table; raises BadInput when its points do not run from 0 to 100 % of the time."""
    block.checked(SHAPE_KEYS, "points")
    times, depths = zip(*((t / 100, d / 100) for t, d in block.get("points")), strict=True)
    if times[0] != 0 or times[-1] != 1 or any(b <= a for a, b in zip(times, times[1:], strict=False)):
        raise block.fault("points", "the times must run from 0 to 100, each later than the one before.")
    if max(depths) != 1:
        raise block.fault("points", "one point must be at 100 % of the depth.")
    return Shape(
        times, depths, block.get("every_s", 60), block.get("surface_k", 0.0), block.get("waver_m", 0.0)
    )


@dataclass(frozen=True, slots=True)
class Pool:
    """What every exposure of one watch is made from."""

    watch: Watch
    settings: Settings
    practice: Practice
    shapes: Mapping[str, Shape]
    seed: str


def exposures_of(watch_block: Block, pool: Pool) -> list[Exposure]:
    """Every exposure of a watch, oldest first: its routines, then its single ones."""
    found: list[Exposure] = []
    for block in watch_block.inner("routine", "routine"):
        found += _routine(block.checked(ROUTINE_KEYS, "activity", "from", "to", "times"), pool)
    for block in watch_block.inner("single", "single"):
        block.checked(SINGLE_KEYS, "activity", "on")
        dice = _dice(block, pool)
        rinsed = float(block.get("rinsed", 0)) >= 1
        found.append(
            _made(block, pool, dice, block.today - timedelta(days=block.get("on")), 0, rinsed=rinsed)
        )
    return sorted(found, key=lambda e: (e.starts_on, e.starts_at or time.min))


def plans_of(watch_block: Block, pool: Pool) -> list[Exposure]:
    """The planned exposures and trips of a watch, from so many days ahead."""
    found = []
    for block in watch_block.inner("plan", "plan"):
        block.checked(PLAN_KEYS, "activity", "in")
        on = block.today + timedelta(days=block.get("in"))
        until = block.today + timedelta(days=block.get("until")) if "until" in block.values else None
        rinsed = float(block.get("rinsed", 0)) >= 1
        found.append(
            _made(block, pool, _dice(block, pool), on, 0, rinsed=rinsed, planned=True, planned_to=until)
        )
    return found


def habits_of(watch_block: Block, pool: Pool) -> list[Habit]:
    """The exposures of a watch that repeat."""
    found = []
    for block in watch_block.inner("habit", "habit"):
        block.checked(HABIT_KEYS, "activity", "per_day", "from")
        first = block.today - timedelta(days=block.get("from"))
        rinsed = float(block.get("rinsed", 0)) >= 1
        exposure = _made(block, pool, _dice(block, pool), first, 0, rinsed=rinsed)
        with block.blamed("activity"):
            habit = Habit(exposure, float(block.get("per_day")), first, block.day("to"), pool.watch.id)
            found.append(check_habit(habit, pool.watch, block.today))
    return found


def spread_days(first_ago: int, last_ago: int, times: int, dice: Random) -> Iterator[int]:
    """So many days ago, `times` over, oldest first: evenly, each anywhere within its own part of the span."""
    part = (first_ago - last_ago + 1) / times
    for n in range(times):
        # Several a day stand evenly, so that a trip has its two dives on each of its days.
        within = (n + dice.random()) * part if part > 1 else n * part
        yield first_ago - int(within)


def shares_out(n: int, share: float) -> bool:
    """True for `share` of all numbers, as evenly as whole numbers allow."""
    return int((n + 1) * share + 1e-9) > int(n * share + 1e-9)


def _routine(block: Block, pool: Pool) -> Iterator[Exposure]:
    first, last, times = block.get("from"), block.get("to"), block.get("times")
    if first < last:
        raise block.fault(
            "from", f"{first} days ago is later than {last} days ago; the earlier belongs here."
        )
    if times < 1:
        raise block.fault("times", "a routine happens at least once.")
    dice = _dice(block, pool)
    share = float(block.get("rinsed", 0))
    before, on_that_day = None, 0
    for n, ago in enumerate(spread_days(first, last, times, dice)):
        on_that_day = on_that_day + 1 if ago == before else 0
        before = ago
        on = block.today - timedelta(days=ago)
        yield _made(block, pool, dice, on, on_that_day, rinsed=shares_out(n, share))


def _dice(block: Block, pool: Pool) -> Random:
    """Each block its own, so that a change to one leaves the others as they are."""
    return Random(f"{pool.seed}, {block.place}")


def _made(block: Block, pool: Pool, dice: Random, on: date, nth_that_day: int, *, rinsed: bool,
          planned: bool = False, planned_to: date | None = None) -> Exposure:  # fmt: skip
    values: dict[str, Any] = {key: block.amount(key, dice, digits) for key, digits in _AMOUNTS.items()}
    values |= {key: block.count(key, dice) for key in _COUNTS}
    values |= block.given("basis", "water", "note")
    minutes, hour = block.amount("minutes", dice, 0), block.amount("hour", dice, 2)
    values["water_c"] = _water_c(block, pool, dice, on, values["water_c"])
    if minutes is not None:
        values["duration_s"] = minutes * 60
    if hour is not None:
        values["starts_at"] = _clock(hour + nth_that_day * _BETWEEN_H)
    with block.blamed("activity"):
        activity_row(pool.practice, block.get("activity"))
        values["profile"] = _profile(block, pool, dice, values)
        silent = {key for key, value in values.items() if value is None}
        return make_exposure(
            pool.practice, pool.settings, activity=block.get("activity"), starts_on=on, today=block.today,
            rinsed=rinsed, planned=planned, planned_to=planned_to, watch=pool.watch,
            **{key: value for key, value in values.items() if key not in silent},
        )  # fmt: skip


def _clock(hour: float) -> time:
    """A time of day to the five minutes, as people remember it."""
    minutes = min(int(hour * 12) * 5, 23 * 60 + 55)
    return time(minutes // 60, minutes % 60)


def _water_c(block: Block, pool: Pool, dice: Random, on: date, given_c: float | None) -> float | None:
    """A temperature that was read: as given, or so much warmer than the home water of that month."""
    offset_k = block.amount("home_offset_k", dice, 1)
    if offset_k is None:
        return given_c
    monthly_c = pool.settings.home.monthly_c
    if given_c is not None or monthly_c is None:
        raise block.fault("home_offset_k", "it needs the home water by month, and no water_c beside it.")
    return round(monthly_c[on.month - 1] + offset_k, 1)


def _profile(block: Block, pool: Pool, dice: Random, values: Mapping[str, Any]) -> Sequence[ProfilePoint]:
    name = block.get("profile")
    if name is None:
        return ()
    if name not in pool.shapes:
        raise block.fault("profile", f"no shape is called {name!r}; there are {', '.join(pool.shapes)}.")
    for key, needed in (("depth_m", "depth_m"), ("minutes", "duration_s"), ("water_c", "water_c")):
        if values.get(needed) is None:
            raise block.fault(key, "a profile needs depth_m, minutes, and water_c or home_offset_k.")
    return profile_from(
        pool.shapes[name], values["depth_m"], round(values["duration_s"]), values["water_c"], dice
    )


def profile_from(
    shape: Shape, depth_m: float, duration_s: int, water_c: float, dice: Random
) -> tuple[ProfilePoint, ...]:
    """A profile of this shape, from surface to surface, its deepest point at `depth_m` exactly."""
    seconds = [*range(0, duration_s, shape.every_s), duration_s]
    shares = [shape.share_at(s / duration_s) for s in seconds]
    deepest = max(range(len(shares)), key=shares.__getitem__)
    points = []
    for n, (at_s, share) in enumerate(zip(seconds, shares, strict=True)):
        wavered_m = share * depth_m + dice.uniform(-shape.waver_m, shape.waver_m)
        at_m = depth_m if n == deepest else min(max(wavered_m, 0.1), depth_m) if share else 0.0
        celsius = water_c + shape.surface_k * (1 - at_m / depth_m)
        points.append(ProfilePoint(float(at_s), round(at_m, 1), round(celsius, 1)))
    return tuple(points)
