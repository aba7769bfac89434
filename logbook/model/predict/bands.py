"""The 80 % band of every wear share and score, from the ranges of the constants and of unknown history.

Each set of drawn constants gives one wear share; the band runs from their 10 % to their 90 % point. Where a
fitting date or the use before the log is not known, the band covers both ends of what it may have been.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import chain
from typing import TYPE_CHECKING

from logbook.model.predict import tally
from logbook.model.predict.draws import Draws
from logbook.model.predict.tally import Amounts, ContactRow, Contacts, Key, Tally
from logbook.model.values import Exposure, Habit, Position, Seal, WatchRecord
from logbook.model.wear import account
from logbook.model.wear.account import Clockwork, SealWear

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

LOW, HIGH = 0.1, 0.9
NODES = 9  # fitting dates tried where only a range is known


@dataclass(frozen=True, slots=True)
class Band:
    """The low and the high end of a wear share."""

    low: float
    high: float


@dataclass(frozen=True, eq=False)
class Bands:
    """The bands of one watch on a day; scores in whole numbers, as the score.

    `middle` is the median of the largest wear share. It is mostly above the share by the constants in force,
    since most ranges reach further towards more wear.
    """

    seals: Mapping[Position, Band]
    score_low: int
    score_high: int
    middle: float


@dataclass(frozen=True, eq=False)
class Outset:
    """The input of bands and forecast for one watch: all it met, by sealing place, and what is planned."""

    clockwork: Clockwork
    contacts: Mapping[Position, Contacts]
    plans: Sequence[Exposure]
    on: date

    @property
    def record(self) -> WatchRecord:
        """The watch."""
        return self.clockwork.record


class BandMaker:
    """Makes bands for any day and any supposed change of a watch, such as new gaskets; each only once."""

    def __init__(self, draws: Draws, contacts: Callable[[int], Mapping[Position, Contacts]]) -> None:
        self._draws = draws
        self._contacts = contacts
        self._read: dict[int, Mapping[Position, Contacts]] = {}
        self._made: dict[tuple[int, tuple[Seal, ...], date], Bands | None] = {}

    def of(self, record: WatchRecord, wears: Sequence[SealWear], on: date) -> Bands | None:
        """The bands of a watch with these seals on a day; `wears` are their wear shares then."""
        watch_id = record.watch.id or 0
        key = watch_id, record.seals, on
        if key not in self._made:
            if watch_id not in self._read:
                self._read[watch_id] = self._contacts(watch_id)
            clockwork = Clockwork.of(record, self._draws.practice)
            outset = Outset(clockwork, self._read[watch_id], (), on)
            self._made[key] = bands_of(outset, wears, self._draws)
        return self._made[key]


def bands_of(outset: Outset, wears: Sequence[SealWear], draws: Draws) -> Bands | None:
    """The bands of the seals in place; None without a seal."""
    import numpy as np

    if not wears:
        return None
    on = outset.on
    drawn = {w.seal.position: wear_share_draws(outset, w.seal, draws) for w in wears}
    old = [_too_old(w.seal, draws, on) for w in wears]
    worst = np.max(list(drawn.values()), axis=0)
    largest = np.where(np.any(old, axis=0), np.inf, worst)
    ends = np.quantile(largest, (LOW, HIGH), method="inverted_cdf")
    seals = {}
    for w in wears:
        low, high = np.quantile(drawn[w.seal.position], (LOW, HIGH))
        seals[w.seal.position] = Band(*_with_history(float(low), float(high), w))
    least = min(float(ends[0]), max(w.history_low for w in wears))
    most = max(float(ends[1]), *(w.history_high for w in wears))
    capped = any(on >= w.cap_on for w in wears)
    high = 0 if capped else account.score_of(least)
    return Bands(seals, account.score_of(most), high, float(np.median(worst)))


def wear_share_draws(outset: Outset, seal: Seal, draws: Draws) -> Array:
    """A seal's wear share at the start of the day, one for each set of constants."""
    today: Array = wear_shares_on(outset, seal, draws, [outset.on])[0]
    return today


def wear_shares_on(outset: Outset, seal: Seal, draws: Draws, days: Sequence[date]) -> Array:
    """A seal's wear share at the start of some days up to today, by day and set of constants."""
    import numpy as np

    dates = _fitting_dates(seal)
    recorded, assumed = _lives(outset, seal, [(fitted, day) for fitted in dates for day in days])
    watch = outset.record.watch
    shares = recorded.under(tally.prices(recorded.keys, seal.position, seal.material, watch, draws))
    stated = assumed.under(tally.prices(assumed.keys, seal.position, seal.material, watch, draws))
    shares = (shares + stated * draws.stated_times()).reshape(len(dates), len(days), draws.count)
    if len(dates) == 1:
        result: Array = shares[0]
        return result
    place = draws.between(fitting_name(seal)) * (len(dates) - 1)
    below = np.minimum(place.astype(int), len(dates) - 2)
    part, each = place - below, np.arange(draws.count)
    # By set and day; each set has its own fitting date.
    between = (1 - part[:, None]) * shares[below, :, each] + part[:, None] * shares[below + 1, :, each]
    by_day: Array = between.T
    return by_day


def fitting_name(seal: Seal) -> str:
    """The name under which a seal's unknown fitting date is drawn; seals with one range share it."""
    return f"fitted {seal.fitted_earliest} {seal.fitted_latest}"


def _fitting_dates(seal: Seal) -> list[date]:
    """The day a seal was fitted, or some days spread evenly over the range of its possible dates."""
    days = (seal.fitted_latest - seal.fitted_earliest).days
    if not days:
        return [seal.fitted_earliest]
    return [seal.fitted_earliest + timedelta(days=round(days * n / (NODES - 1))) for n in range(NODES)]


def _lives(outset: Outset, seal: Seal, spans: Sequence[tuple[date, date]]) -> tuple[Tally, Tally]:
    """What the seal met between each pair of fitting date and day: as recorded, and as stated before that."""
    import numpy as np

    clockwork = outset.clockwork
    practice, watch = clockwork.practice, clockwork.record.watch
    contacts = outset.contacts.get(seal.position)
    if contacts is not None:
        contacts = contacts.where(contacts.seal == (seal.id or 0))
    recorded, assumed = Amounts(len(spans)), Amounts(len(spans))
    stated: list[list[ContactRow]] = []
    repeated: list[list[ContactRow]] = []
    for nth, (fitted, on) in enumerate(spans):
        start = min(fitted, on)
        add_clock(recorded, nth, clockwork, seal, start, on)
        logged = min(max(watch.recorded_from, start), on)
        stated.append(_habit_rows(clockwork, seal, clockwork.stated, start, logged))
        repeated.append(_habit_rows(clockwork, seal, clockwork.habits, logged, on))
    _add_rows(assumed, stated, clockwork, seal)
    _add_rows(recorded, repeated, clockwork, seal)
    if contacts is not None:
        for nth, (fitted, on) in enumerate(spans):
            own = contacts.where(_between(contacts, seal, fitted, on if on < outset.on else None))
            rows = np.full(len(own), nth)
            tally.add_contacts(recorded, own, rows, seal.position, watch, practice)
    return recorded.tally(), assumed.tally()


def _between(contacts: Contacts, seal: Seal, fitted: date, until: date | None) -> NDArray[np.bool_]:
    """Contacts from the fitting up to a day; where the date is known, those that the ledger counts."""
    if seal.fitted_earliest == seal.fitted_latest:
        inside = contacts.counted == 1
    else:
        inside = contacts.day >= fitted.toordinal()
    result: NDArray[np.bool_] = inside if until is None else inside & (contacts.day <= until.toordinal())
    return result


def add_clock(amounts: Amounts, row: int, clockwork: Clockwork, seal: Seal, start: date, end: date) -> None:
    """Adds worn and stored hours and dry uses from one day up to another."""
    worn_h, stored_h = account.clock_hours(clockwork, start, end)
    amounts.add(Key("worn"), row, worn_h)
    amounts.add(Key("stored"), row, stored_h)
    watch = clockwork.record.watch
    weekly = {"crown": watch.winds, "pushers": watch.presses}.get(seal.position, 0.0)
    amounts.add(Key("dry"), row, weekly * (end - start).days / 7)


def add_habits(
    amounts: Amounts,
    row: int,
    clockwork: Clockwork,
    seal: Seal,
    habits: Sequence[Habit],
    start: date,
    end: date,
) -> None:
    """Adds repeated exposures from one day up to another."""
    found = _habit_rows(clockwork, seal, habits, start, end)
    _add_rows(amounts, [found], clockwork, seal, first=row)


def _habit_rows(
    clockwork: Clockwork, seal: Seal, habits: Sequence[Habit], start: date, end: date
) -> list[ContactRow]:
    costs = account.habit_costs(clockwork, seal, habits, start, end)
    return [tally.row_of(e, seal.position, shares, clockwork.practice, times) for e, times, shares in costs]


def _add_rows(
    amounts: Amounts, rows: Sequence[Sequence[ContactRow]], clockwork: Clockwork, seal: Seal, first: int = 0
) -> None:
    """Adds contacts to the stretches from `first` on, a group to each, all in one pass."""
    import numpy as np

    if not any(rows):
        return
    contacts = tally.contacts_of(chain.from_iterable(rows))
    where = np.repeat(np.arange(first, first + len(rows)), [len(own) for own in rows])
    watch = clockwork.record.watch
    tally.add_contacts(amounts, contacts, where, seal.position, watch, clockwork.practice)


def _too_old(seal: Seal, draws: Draws, on: date) -> NDArray[np.bool_]:
    """The sets under which the seal is past the storage age of its material."""
    import numpy as np

    cap_years = draws.practice.material(seal.material).cap_years
    dates = _fitting_dates(seal)
    capped = np.array([on >= account.later_by_years(fitted, cap_years) for fitted in dates])
    if len(dates) == 1 or capped.all() or not capped.any():
        return np.full(draws.count, bool(capped[0]))
    until = int(np.argmin(capped)) - 0.5
    result: NDArray[np.bool_] = draws.between(fitting_name(seal)) * (NODES - 1) < until
    return result


def _with_history(low: float, high: float, wear: SealWear) -> tuple[float, float]:
    if not wear.history_is_open:
        return low, high
    return min(low, wear.history_low), max(high, wear.history_high)
