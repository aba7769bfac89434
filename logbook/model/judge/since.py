"""What happened: which channels and exposures had the largest part of a seal's wear in a stretch of time.

The owner asks this after a fault or a failed test, from the last passed pressure test on. It is bookkeeping:
it says what was charged in that time, never what caused the fault.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Literal

from logbook.model.judge import facts, proofs
from logbook.model.practice import Practice
from logbook.model.values import CHANNELS, DAY_ORDER, Event, Exposure, Seal, Shares, WatchRecord
from logbook.model.wear import account, charge

Beginning = Literal["asked", "passed test", "maker’s test", "fitting"]
HARDEST = 5  # exposures listed


@dataclass(frozen=True, slots=True)
class Cost:
    """One exposure and what it added to the seal."""

    exposure: Exposure
    shares: Shares


# Seal id, first and last day or None -> what its counted exposures of these days add up to, from the ledger.
Sums = Callable[[int, date | None, date | None], Shares]
# Seal id, first and last day -> the exposures of these days that added most to it, the dearest first.
Dearest = Callable[[int, date, date], Sequence[Cost]]


@dataclass(frozen=True, slots=True)
class Period:
    """A stretch of time between two moments, and the days whose exposures lie in it.

    Exposures on the day of a test come after it, those on the day of a fault before it, unless an order is
    given.
    """

    start: date
    beginning: Beginning
    end: date
    trouble: Event | None  # the fault or failed test that ends it; None: it ends today
    first_water: date
    last_water: date


@dataclass(frozen=True, slots=True)
class Since:
    """What the limiting seal was charged in a period: by its exposures, and by the clock.

    The clock's part is worn and stored hours, dry uses, repeated exposures and what is assumed for the time
    before the log began; `assumed` is that last part alone.
    """

    period: Period
    seal: Seal
    by_exposures: Shares
    by_the_clock: Shares
    assumed: Shares
    hardest: tuple[Cost, ...]

    @property
    def shares(self) -> Shares:
        """All that was charged, by channel."""
        return self.by_exposures.plus(self.by_the_clock)

    @property
    def by_channel(self) -> list[tuple[str, float]]:
        """The channels with their part, the largest first."""
        return sorted(zip(CHANNELS, self.shares.as_tuple(), strict=True), key=lambda pair: -pair[1])


def trouble_of(record: WatchRecord, practice: Practice, on: date) -> tuple[Event, ...]:
    """The failures, faults and damage that stand, oldest first."""
    return tuple(sorted(facts.gather(record, on, practice).troubles, key=facts.moment))


def period_of(record: WatchRecord, practice: Practice, on: date, asked: date | None = None) -> Period:
    """The period from the day asked for, or the last passed test, to the first later trouble that stands.

    Without trouble it ends today. Without a pass, even the maker's, it begins only with the fitting of the
    seal: `start` is then the first day of the calendar.
    """
    begins, beginning = _beginning(record, on, asked)
    start, order, _ = begins
    first_water = start if order < DAY_ORDER["exposure"] else start + timedelta(days=1)
    # Damage may stand that a later pass does not close; it does not end what came after that pass.
    trouble = next((e for e in trouble_of(record, practice, on) if facts.moment(e) > begins), None)
    if trouble is None:
        return Period(start, beginning, on, None, first_water, on)
    after_the_water = trouble.order > DAY_ORDER["exposure"]
    last_water = trouble.on if after_the_water else trouble.on - timedelta(days=1)
    return Period(start, beginning, trouble.on, trouble, first_water, last_water)


def reckon(
    record: WatchRecord, period: Period, practice: Practice, sums: Sums, dearest: Dearest
) -> Since | None:
    """What the seal that limited the watch at the end of a period was charged in it; None without a seal."""
    seal = _limiting(record, period, practice, sums)
    if seal is None:
        return None
    fitted = charge.middle(seal)
    if fitted > period.start:
        # A date known as a range begins at its middle, as in the account.
        period = replace(period, start=min(fitted, period.end), beginning="fitting")
    key, bare = seal.id or 0, replace(record, totals={}, doubtful={})
    before = account.seal_wear(bare, seal, practice, period.start)
    after = account.seal_wear(bare, seal, practice, period.end)
    return Since(
        period=period,
        seal=seal,
        by_exposures=sums(key, period.first_water, period.last_water),
        by_the_clock=after.shares.plus(before.shares.times(-1)),
        assumed=after.assumed.plus(before.assumed.times(-1)),
        hardest=tuple(dearest(key, period.first_water, period.last_water)),
    )


def _beginning(record: WatchRecord, on: date, asked: date | None) -> tuple[tuple[date, int, int], Beginning]:
    """The moment at which a period begins, as `facts.moment` sorts it, and what happened there."""
    if asked is not None:
        return (asked, -1, 0), "asked"  # before all that happened on that day
    passed = [e for e in record.events if e.kind == "pressure-test" and e.passed and e.on <= on]
    if passed:
        return facts.moment(max(passed, key=facts.moment)), "passed test"
    makers = proofs.makers_proof(record.watch)
    if makers is None or makers.on > on:
        return (date.min, -1, 0), "fitting"
    return (makers.on, -1, 0), "maker’s test"


def _limiting(record: WatchRecord, period: Period, practice: Practice, sums: Sums) -> Seal | None:
    """The most worn seal of those in place at the end of a period."""
    order = period.trouble.order if period.trouble else DAY_ORDER["fog"]
    shares: dict[int, float] = {}
    in_place = [s.seal for s in charge.services(record.seals) if _holds(s, (period.end, order))]
    for seal in in_place:
        key = seal.id or 0
        then = replace(record, totals={key: sums(key, None, period.last_water)}, doubtful={})
        shares[key] = account.seal_wear(then, seal, practice, period.end).wear_share
    return max(in_place, key=lambda seal: shares[seal.id or 0], default=None)


def _holds(service: charge.Service, at: tuple[date, int]) -> bool:
    """True while a seal is in place; one with a range of fitting dates counts from its earliest day."""
    fitted = (service.seal.fitted_earliest, service.seal.order)
    return fitted <= at and (service.until is None or at <= service.until)
