"""Which constant moves the date of a seal most: one at a time, at its low and at its high."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta

from logbook.model.practice import Practice
from logbook.model.predict import bands
from logbook.model.predict.bands import Outset
from logbook.model.predict.draws import CHANNEL_FACTORS, STATED, Draws, factor_name, named_ranges, years_name
from logbook.model.predict.forecast import HORIZON_YEARS
from logbook.model.predict.weeks import WEEKS_A_YEAR, ahead, laid_over, weekly
from logbook.model.values import Seal
from logbook.model.wear import wear


@dataclass(frozen=True, slots=True)
class Lever:
    """What one constant alone does to the date at its low and high; None: beyond the horizon."""

    name: str
    at_low: date | None
    at_high: date | None
    days: int  # between the two; a date beyond the horizon counts as the horizon


@dataclass(frozen=True, slots=True)
class Levers:
    """The date with every constant at its value, and what each alone does to it, the largest effect first."""

    base: date | None
    each: tuple[Lever, ...]


def levers_of(outset: Outset, seal: Seal, practice: Practice) -> Levers:
    """What moves the date of a seal most: each constant alone at its low and at its high.

    It uses the mean week of the record, without chance and without plans. A constant that moves the date by
    less than a day is left out.
    """
    names = _names(outset, seal, practice)
    draws = Draws.one_at_a_time(practice, names)
    today = bands.wear_share_draws(outset, seal, draws)
    rate = laid_over(weekly(outset, seal), seal, outset, draws)[0].mean(axis=0)
    for part, stated in ahead(replace(outset, plans=()), seal, 1):
        share = laid_over(part, seal, outset, draws)[0][0]
        rate = rate + (share * draws.stated_times() if stated else share)
    days = [_days_to_one(float(share), float(pace)) for share, pace in zip(today, rate, strict=True)]
    levers = []
    for nth, name in enumerate(names):
        low, high = days[1 + 2 * nth], days[2 + 2 * nth]
        levers.append(Lever(name, _on(outset, low), _on(outset, high), abs(round(high - low))))
    moving = sorted((lever for lever in levers if lever.days >= 1), key=lambda lever: -lever.days)
    return Levers(_on(outset, days[0]), tuple(moving))


def _names(outset: Outset, seal: Seal, practice: Practice) -> list[str]:
    row = wear.seal_row(outset.record.watch, seal.position)
    own = [factor_name(row, channel) for channel in CHANNEL_FACTORS]
    return [*named_ranges(practice), years_name(seal.material), *own, STATED, bands.fitting_name(seal)]


def _days_to_one(share: float, weekly: float) -> float:
    most = HORIZON_YEARS * WEEKS_A_YEAR * 7.0
    if share >= 1:
        return 0.0
    return min(most, (1 - share) / weekly * 7) if weekly > 0 else most


def _on(outset: Outset, days: float) -> date | None:
    beyond = days >= HORIZON_YEARS * WEEKS_A_YEAR * 7
    return None if beyond else outset.on + timedelta(days=int(days))
