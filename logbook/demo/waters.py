"""The exposures of a watch in the scenario: routines, single ones, plans and habits, made like any entry."""

from __future__ import annotations

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
    SHARE,
    TEXT,
    WHOLE,
    Block,
    Kind,
)
from logbook.demo.profiles import Shape, profile_from
from logbook.model.practice import Practice
from logbook.model.validate.exposure import check_habit, make_exposure
from logbook.model.values import Exposure, Habit, ProfilePoint, Settings, Watch

CONTACT_KEYS: Mapping[str, Kind] = {
    "activity": TEXT, "depth_m": AMOUNT, "minutes": AMOUNT, "water": TEXT, "salinity": AMOUNT,
    "water_c": AMOUNT, "home_offset_k": AMOUNT, "from_c": AMOUNT, "dips": COUNT, "rinsed": SHARE,
    "crown_wet": COUNT, "crown_under": COUNT, "pusher_wet": COUNT, "pusher_under": COUNT, "jump_m": AMOUNT,
    "note": TEXT, "hour": AMOUNT, "profile": TEXT,
}  # fmt: skip
ROUTINE_KEYS = {**CONTACT_KEYS, "from": DAYS, "to": DAYS, "times": WHOLE}
SINGLE_KEYS = {**CONTACT_KEYS, "on": DAYS}
PLAN_KEYS = {**CONTACT_KEYS, "in": DAYS, "until": DAYS}
HABIT_KEYS = {**CONTACT_KEYS, "per_day": NUMBER, "from": DAYS, "to": DAYS}

_AMOUNTS = {"depth_m": 1, "salinity": 1, "water_c": 1, "from_c": 0, "jump_m": 1}  # digits it is rounded to
_COUNTS = ("dips", "crown_wet", "crown_under", "pusher_wet", "pusher_under")
_BETWEEN_H = 3  # from one exposure to the next of the same routine on the same day


@dataclass(frozen=True, slots=True)
class Pool:
    """The input that all exposures of one watch are made from."""

    watch: Watch
    settings: Settings
    practice: Practice
    shapes: Mapping[str, Shape]
    seed: str


@dataclass(frozen=True, slots=True)
class _Turn:
    """One turn of a block: its day, its number in all, and its number on that day."""

    on: date
    nth: int = 0
    nth_that_day: int = 0
    planned: bool = False
    planned_to: date | None = None


def exposures_of(watch_block: Block, pool: Pool) -> list[Exposure]:
    """Every exposure of a watch, oldest first, from its routines and its single entries."""
    found: list[Exposure] = []
    for block in watch_block.inner("routine", ROUTINE_KEYS, "activity", "from", "to", "times"):
        dice = _dice(block, pool)
        found += [_made(block, pool, dice, turn) for turn in _turns(block, dice)]
    for block in watch_block.inner("single", SINGLE_KEYS, "activity", "on"):
        found.append(_made(block, pool, _dice(block, pool), _Turn(block.ago("on"))))
    return sorted(found, key=lambda e: (e.starts_on, e.starts_at or time.min))


def plans_of(watch_block: Block, pool: Pool) -> list[Exposure]:
    """The planned exposures and trips of a watch."""
    found = []
    for block in watch_block.inner("plan", PLAN_KEYS, "activity", "in"):
        turn = _Turn(block.ahead("in"), planned=True,
                     planned_to=block.ahead("until") if "until" in block.values else None)  # fmt: skip
        found.append(_made(block, pool, _dice(block, pool), turn))
    return found


def habits_of(watch_block: Block, pool: Pool) -> list[Habit]:
    """The habits of a watch."""
    found = []
    for block in watch_block.inner("habit", HABIT_KEYS, "activity", "per_day", "from"):
        first = block.ago("from")
        exposure = _made(block, pool, _dice(block, pool), _Turn(first))
        with block.blamed("activity"):
            habit = Habit(exposure, float(block.get("per_day")), first, block.day("to"))
            found.append(check_habit(habit, pool.watch, block.today))
    return found


def spread_days(first_ago: int, last_ago: int, times: int, dice: Random) -> Iterator[int]:
    """`times` days, oldest first, as days ago: one at random within each equal part of the span."""
    part = (first_ago - last_ago + 1) / times
    for n in range(times):
        # Several a day are spread evenly, so that a trip has its two dives on each of its days.
        within = (n + dice.random()) * part if part > 1 else n * part
        yield first_ago - int(within + 1e-9)


def _turns(block: Block, dice: Random) -> list[_Turn]:
    """The days of a routine, one turn for each time."""
    first, last, times = block.get("from"), block.get("to"), block.get("times")
    if first < last:
        raise block.fault("from", f"{first} days ago is after {last} days ago; the earlier belongs here.")
    if times < 1:
        raise block.fault("times", "a routine happens at least once.")
    turns: list[_Turn] = []
    for nth, ago in enumerate(spread_days(first, last, times, dice)):
        on = block.today - timedelta(days=ago)
        again = bool(turns) and turns[-1].on == on
        turns.append(_Turn(on, nth, turns[-1].nth_that_day + 1 if again else 0))
    return turns


def _dice(block: Block, pool: Pool) -> Random:
    """Random numbers of a block's own, so that a change to one block leaves the others as they are."""
    return Random(f"{pool.seed}, {block.place}")


def _made(block: Block, pool: Pool, dice: Random, turn: _Turn) -> Exposure:
    drawn: dict[str, Any] = {key: block.amount(key, dice, digits) for key, digits in _AMOUNTS.items()}
    drawn |= {key: block.count(key, dice) for key in _COUNTS}
    drawn["duration_s"] = block.amount("minutes", dice, 0, times=60)
    drawn["starts_at"] = _clock(block.amount("hour", dice, 2), turn)
    drawn["water_c"] = _water_c(block, pool, dice, turn.on, drawn["water_c"])
    values = {key: value for key, value in drawn.items() if value is not None}
    profile = _profile(block, pool, dice, values)
    with block.blamed("activity"):
        return make_exposure(
            pool.practice, pool.settings, starts_on=turn.on, today=block.today, watch=pool.watch,
            rinsed=_falls_to(turn.nth, float(block.get("rinsed", 0))),
            planned=turn.planned, planned_to=turn.planned_to, profile=profile, **values,
            **block.given("activity", "water", "note"),
        )  # fmt: skip


def _falls_to(nth: int, share: float) -> bool:
    """True for `share` of all turns, as evenly as whole numbers allow."""
    return int((nth + 1) * share + 1e-9) > int(nth * share + 1e-9)


def _clock(hour: float | None, turn: _Turn) -> time | None:
    """A time of day to five minutes, as people remember it."""
    if hour is None:
        return None
    minutes = min(int((hour + turn.nth_that_day * _BETWEEN_H) * 12) * 5, 23 * 60 + 55)
    return time(minutes // 60, minutes % 60)


def _water_c(block: Block, pool: Pool, dice: Random, on: date, given_c: float | None) -> float | None:
    """The temperature read: as given, or an offset from the home water of that month."""
    offset_k = block.amount("home_offset_k", dice, 1)
    if offset_k is None:
        return given_c
    monthly_c = pool.settings.home.monthly_c
    if given_c is not None or monthly_c is None:
        raise block.fault("home_offset_k", "it needs the home water by month, and no water_c beside it.")
    return round(monthly_c[on.month - 1] + offset_k, 1)


def _profile(block: Block, pool: Pool, dice: Random, values: Mapping[str, float]) -> Sequence[ProfilePoint]:
    name = block.get("profile")
    if name is None:
        return ()
    if name not in pool.shapes:
        raise block.fault("profile", f"no shape is called {name!r}; there are {', '.join(pool.shapes)}.")
    if not {"depth_m", "duration_s", "water_c"} <= values.keys():
        raise block.fault("profile", "it needs depth_m, minutes, and water_c or home_offset_k beside it.")
    seconds = round(values["duration_s"])
    return profile_from(pool.shapes[name], values["depth_m"], seconds, values["water_c"], dice)
