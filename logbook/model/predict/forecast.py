"""The forecast: when each seal's wear share reaches 1 if this owner lives on in the same way.

For each set of drawn constants, the last two years are cut into whole weeks and put together anew, a few
weeks in a row and each from its own season (a block bootstrap). Running habits and plans are added. The same
record and the same seed give the same answer. See docs/method.md, "Forecast".
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING

from logbook.model.due import tasks as due
from logbook.model.predict import bands
from logbook.model.predict.bands import Outset
from logbook.model.predict.draws import SEED, Draws
from logbook.model.predict.weeks import (
    WEEKS_A_YEAR,
    ahead,
    is_short,
    laid_over,
    planned_days,
    weekly,
    weeks_of,
)
from logbook.model.values import CHANNELS, Position, Seal, Use
from logbook.model.wear import account, charge

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]
    Whole = NDArray[np.int64]

# All of these are assumptions: see docs/method.md, "Forecast".
BLOCK = 4  # weeks that stay together
SEASON_WEEKS = 3  # how far from its own place in the year a week may come
HORIZON_YEARS = 10
FAN_BLOCKS = 3  # from one point of the fan to the next
# Days before today on which a used-up seal's share is looked at, besides some evenly since its fitting.
LOOKS_BACK_DAYS, LOOKS_BACK = (7, 14, 21, 28, 42, 63, 84), 9
POINTS = (0.1, 0.5, 0.9)


@dataclass(frozen=True, slots=True)
class FanPoint:
    """The wear share on a day ahead: 10 %, 50 % and 90 % of the ways ahead lie at or below these."""

    on: date
    low: float
    middle: float
    high: float


@dataclass(frozen=True, slots=True)
class SealForecast:
    """When a seal's wear share reaches 1: by p10 in one of ten ways ahead, p50 in half; None: beyond.

    `mostly_from` is the channel with the largest part of the wear ahead.
    """

    position: Position
    material: str
    p10: date | None
    p50: date | None
    p90: date | None
    mostly_from: str
    cap_on: date
    fan: tuple[FanPoint, ...]


@dataclass(frozen=True, slots=True)
class Forecast:
    """The forecast of one watch, with the seal that comes first in front.

    `fixed_interval_on` is the day for its gaskets by the common interval alone. The forecast rests on `weeks`
    of record, or on the stated use where there are too few.
    """

    on: date
    seals: tuple[SealForecast, ...]
    fixed_interval_on: date
    weeks: int
    from_stated_use: bool
    planned: int  # planned days of water that are counted in
    use: Use  # as stated

    @property
    def first(self) -> SealForecast:
        """The seal that limits the watch from here on."""
        return self.seals[0]

    @property
    def horizon(self) -> date:
        """The last day looked at."""
        return self.on + timedelta(weeks=HORIZON_YEARS * WEEKS_A_YEAR)

    def of(self, position: Position) -> SealForecast | None:
        """The forecast of the seal at one place."""
        return next((seal for seal in self.seals if seal.position == position), None)


def forecast_of(
    outset: Outset, draws: Draws, *, seed: int = SEED, years: int = HORIZON_YEARS
) -> Forecast | None:
    """The forecast of every seal in place; None without a seal or on a watch that is retired.

    `draws` has one set of constants for each path.
    """
    record = outset.record
    seals = charge.current_seals(record.seals)
    if not seals or record.watch.retired_on is not None:
        return None
    weeks = years * WEEKS_A_YEAR
    starts = None if is_short(outset) else _starts(outset, weeks, draws.count, seed)
    found = [_of_seal(outset, seal, draws, starts, weeks) for seal in seals]
    beyond = date.max
    found.sort(key=lambda f: (min(f.p50 or beyond, f.cap_on), f.p50 or beyond, -f.fan[-1].middle))
    months = record.watch.intervals_months.get("gaskets", draws.practice.intervals["gaskets"].months)
    fixed = min(due.months_after(seal.fitted_earliest, months) for seal in seals)
    planned = sum(len(planned_days(plan, outset.on)) for plan in outset.plans)
    return Forecast(
        outset.on, tuple(found), fixed, weeks_of(outset), is_short(outset), planned, record.watch.use
    )


def _of_seal(outset: Outset, seal: Seal, draws: Draws, starts: Whole | None, weeks: int) -> SealForecast:
    import numpy as np

    today = bands.wear_share_draws(outset, seal, draws)
    each, channels = laid_over(weekly(outset, seal), seal, outset, draws)
    added = np.zeros((1, draws.count))
    for part, stated in ahead(outset, seal, weeks):
        share, by_channel = laid_over(part, seal, outset, draws)
        added = added + (share * draws.stated_times() if stated else share)
        channels = channels.plus(by_channel)
    blocks = _by_block(each, starts, weeks) + _blocks_of(added)
    course = np.cumsum(np.vstack([today, blocks]), axis=0)
    reached = _reached_days(course, each, added, starts)
    if (today >= 1).any():
        reached = np.where(today >= 1, -_days_since_full(today, seal, outset, draws), reached)
    p10, p50, p90 = (_date_at(outset, reached, point, weeks) for point in POINTS)
    return SealForecast(
        position=seal.position,
        material=seal.material,
        p10=p10,
        p50=p50,
        p90=p90,
        mostly_from=max(zip(channels.as_tuple(), CHANNELS, strict=True))[1],
        cap_on=account.later_by_years(charge.middle(seal), draws.practice.material(seal.material).cap_years),
        fan=_fan(outset, course),
    )


def _days_since_full(today: Array, seal: Seal, outset: Outset, draws: Draws) -> Array:
    """How many days ago a share now at or over 1 reached it, by straight lines between earlier days."""
    import numpy as np

    span = (outset.on - seal.fitted_earliest).days
    looks = {*np.linspace(0, span, LOOKS_BACK), *(float(n) for n in LOOKS_BACK_DAYS if n < span)}
    ago = np.array(sorted(looks, reverse=True))
    days = [outset.on - timedelta(days=round(n)) for n in ago[1:-1]]
    earlier = bands.wear_shares_on(outset, seal, draws, days)
    shares = np.maximum.accumulate(np.vstack([np.zeros(draws.count), earlier, today]), axis=0)
    at = np.clip((shares < 1).sum(axis=0), 1, len(ago) - 1)
    path = np.arange(draws.count)
    before, after = shares[at - 1, path], shares[at, path]
    part = (1 - before) / np.maximum(after - before, 1e-12)
    result: Array = ago[at - 1] + np.clip(part, 0, 1) * (ago[at] - ago[at - 1])
    return result


def _starts(outset: Outset, weeks: int, paths: int, seed: int) -> Whole:
    """The week of the record at which each block of each path begins, by block and path.

    A block comes from within three weeks of its own place in the year, or from anywhere where the record has
    no such weeks. A block that begins in the last weeks goes on with the first, so all weeks count alike.
    """
    import numpy as np

    random = np.random.default_rng([seed, outset.record.watch.id or 0])
    blocks = weeks // BLOCK
    begins = np.arange(weeks_of(outset))
    first = outset.on + timedelta(days=1) - timedelta(weeks=weeks_of(outset))
    place = _place_in_year(first, begins)
    starts = np.empty((blocks, paths), dtype=np.int64)
    for block in range(blocks):
        apart = np.abs(place - _place_in_year(outset.on, np.array([block * BLOCK]))[0])
        near = begins[np.minimum(apart, WEEKS_A_YEAR - apart) <= SEASON_WEEKS]
        chosen = near if len(near) else begins
        starts[block] = chosen[random.integers(0, len(chosen), paths)]
    return starts


def _place_in_year(first: date, weeks: Whole) -> Array:
    """Weeks since the turn of the year, for weeks that begin so many weeks after a day."""
    import numpy as np

    since_new_year = (first.timetuple().tm_yday - 1) / 7
    return np.mod(weeks.astype(np.float64) + since_new_year, 365.2425 / 7)


def _by_block(each: Array, starts: Whole | None, weeks: int) -> Array:
    """The wear of each block and path, by prefix sums over the weeks of the record."""
    import numpy as np

    paths = each.shape[1]
    if starts is None:
        return np.repeat(each * BLOCK, weeks // BLOCK, axis=0)
    sums: Array = np.zeros((len(each) + BLOCK, paths))
    np.cumsum(np.vstack([each, each[: BLOCK - 1]]), axis=0, out=sums[1:])
    path = np.arange(paths)
    taken: Array = sums[starts + BLOCK, path] - sums[starts, path]
    return taken


def _blocks_of(added: Array) -> Array:
    """Weekly additions by block, from one week for all or one for each."""
    blocks: Array = added * BLOCK if len(added) == 1 else added.reshape(-1, BLOCK, added.shape[1]).sum(axis=1)
    return blocks


def _reached_days(course: Array, each: Array, added: Array, starts: Whole | None) -> Array:
    """Days until each path reaches 1; infinite where it does not."""
    import numpy as np

    paths = course.shape[1]
    path = np.arange(paths)
    block = (course < 1).sum(axis=0)  # the first block edge at or over 1
    reached = np.full(paths, np.inf)
    reached[block == 0] = 0.0
    inside = path[(block > 0) & (block < len(course))]
    if not len(inside):
        return reached
    at = block[inside] - 1
    share = course[at, inside]
    open_still = np.ones(len(inside), dtype=bool)
    for step in range(BLOCK):
        week = np.zeros_like(at) if starts is None else (starts[at, inside] + step) % len(each)
        cost = each[week, inside] + added[0 if len(added) == 1 else at * BLOCK + step, inside]
        here = open_still & (share + cost >= 1)
        if step == BLOCK - 1:
            here = open_still
        part = np.clip((1 - share) / np.where(cost > 0, cost, 1.0), 0.0, 1.0)
        days = (at * BLOCK + step + part) * 7
        reached[inside[here]] = days[here]
        open_still &= ~here
        share = share + cost
    return reached


def _date_at(outset: Outset, reached: Array, point: float, weeks: int) -> date | None:
    import numpy as np

    days = float(np.quantile(reached, point, method="inverted_cdf"))
    return None if days >= weeks * 7 else outset.on + timedelta(days=math.floor(days))


def _fan(outset: Outset, course: Array) -> tuple[FanPoint, ...]:
    import numpy as np

    low, middle, high = np.quantile(course[::FAN_BLOCKS], POINTS, axis=1)
    apart = timedelta(weeks=BLOCK * FAN_BLOCKS)
    return tuple(
        FanPoint(outset.on + nth * apart, *(float(share) for share in shares))
        for nth, shares in enumerate(zip(low, middle, high, strict=True))
    )
