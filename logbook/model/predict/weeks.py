"""How a watch is used, week by week: what its record holds, and what is added to the weeks ahead.

The forecast draws from these weeks. With too little record, there is one week of the watch's usual hours, and
the stated use is added.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from typing import TYPE_CHECKING

from logbook.model.judge.facts import WET_USES
from logbook.model.predict import bands, tally
from logbook.model.predict.bands import Outset
from logbook.model.predict.draws import Draws
from logbook.model.predict.tally import Amounts, Contacts, Tally
from logbook.model.values import Exposure, Habit, Seal, Shares
from logbook.model.wear import charge
from logbook.model.wear.account import Clockwork, clock_hours

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

# All of these are assumptions: see docs/method.md, "Forecast".
WEEKS_BACK = 104
LEAST_WEEKS = 8  # with fewer on record the stated use is forecast
WEEKS_A_YEAR = 52


def weeks_of(outset: Outset) -> int:
    """Whole weeks of record that a forecast draws from, at most two years; the last one ends today."""
    days = (outset.on - outset.record.watch.recorded_from).days
    return max(0, min(WEEKS_BACK, days // 7))


def is_short(outset: Outset) -> bool:
    """True with too little record to draw from: then the stated use is forecast.

    True also in the first year of a wet stated use without any water on record: it need not stay dry.
    """
    weeks, record = weeks_of(outset), outset.record
    if weeks < LEAST_WEEKS:
        return True
    dry = not record.habits and not any(len(found) for found in outset.contacts.values())
    return weeks < WEEKS_A_YEAR and record.watch.use in WET_USES and dry


def weekly(outset: Outset, seal: Seal) -> Tally:
    """What ran by the clock and what was logged at the seal's place, week by week, the oldest first.

    Habits that have ended are part of the weeks in which they ran; running ones are not, since they are added
    to the weeks ahead. With too little record it is one usual week of hours and uses, with nothing logged.
    """
    clockwork, weeks = outset.clockwork, weeks_of(outset)
    if is_short(outset):
        return _usual_week(outset, seal)
    amounts = Amounts(weeks)
    first = outset.on + timedelta(days=1) - timedelta(weeks=weeks)
    ended = _ended(outset)
    for week in range(weeks):
        start = first + timedelta(weeks=week)
        end = start + timedelta(weeks=1)
        bands.add_clock(amounts, week, clockwork, seal, start, end)
        bands.add_habits(amounts, week, clockwork, seal, ended, start, end)
    contacts = outset.contacts.get(seal.position)
    if contacts is not None:
        # Where two seals may have met one exposure, the one in place by its middle date has it. Exposures
        # that no seal is charged with, since none is known to have been there, are included too.
        inside = (contacts.counted == 1) & (contacts.day >= first.toordinal())
        own = _as_if_of(seal, contacts.where(inside & (contacts.day <= outset.on.toordinal())), outset)
        rows = (own.day - first.toordinal()) // 7
        tally.add_contacts(amounts, own, rows, seal.position, outset.record.watch, clockwork.practice)
    return amounts.tally()


def _usual_week(outset: Outset, seal: Seal) -> Tally:
    """A week with the mean worn hours since the record began, and dry uses."""
    record, on = outset.record, outset.on
    began = record.watch.recorded_from
    days = (on - began).days
    worn_h = record.watch.worn_h
    if record.stretches and days > 0:
        worn_h = clock_hours(outset.clockwork, began, on)[0] / days
    usual = replace(record, stretches=(), watch=replace(record.watch, worn_h=worn_h))
    amounts = Amounts(1)
    clockwork = Clockwork.of(usual, outset.clockwork.practice)
    bands.add_clock(amounts, 0, clockwork, seal, on, on + timedelta(weeks=1))
    return amounts.tally()


def _ended(outset: Outset) -> list[Habit]:
    """Habits that have ended, without those that a running habit of the same activity continues."""
    habits = outset.clockwork.habits
    running = {h.exposure.activity for h in habits if h.to_on is None or h.to_on >= outset.on}
    return [h for h in habits if h.to_on is not None and h.to_on < outset.on
            and h.exposure.activity not in running]  # fmt: skip


def _as_if_of(seal: Seal, contacts: Contacts, outset: Outset) -> Contacts:
    """The contacts with their ageing as if met by the material of this seal, whichever seal met them."""
    import numpy as np

    practice = outset.clockwork.practice
    years = {s.id or 0: practice.material(s.material).years for s in outset.record.seals}
    own = practice.material(seal.material).years
    times = np.array([years.get(int(key), own) / own for key in contacts.seal])
    return replace(contacts, ageing=contacts.ageing * times)


def ahead(outset: Outset, seal: Seal, weeks: int) -> list[tuple[Tally, bool]]:
    """What is added to the weeks ahead, in one row for all or one for each; True beside stated use."""
    clockwork, on = outset.clockwork, outset.on
    alike = _weeks_alike(outset, weeks)
    habits = Amounts(weeks if len(alike) > 1 else 1)
    for those in alike if len(alike) > 1 else [[0]]:
        one, start = Amounts(1), on + timedelta(weeks=those[0])
        bands.add_habits(one, 0, clockwork, seal, clockwork.habits, start, start + timedelta(weeks=1))
        habits.add_to_each(those, one)
    found = [(habits.tally(), False)]
    if is_short(outset):
        found.append((_stated_week(outset, seal), True))
    if outset.plans:
        planned = Amounts(weeks)
        _add_plans(planned, outset, seal)
        found.append((planned.tally(), False))
    return found


def _stated_week(outset: Outset, seal: Seal) -> Tally:
    """A week of the stated use, without activities that a habit covers."""
    clockwork, on = outset.clockwork, outset.on
    habits = {h.exposure.activity for h in clockwork.habits if charge.runs_on(h, on)}
    stated = [replace(h, to_on=None) for h in clockwork.stated if h.exposure.activity not in habits]
    amounts = Amounts(1)
    bands.add_habits(amounts, 0, clockwork, seal, stated, on, on + timedelta(weeks=1))
    return amounts.tally()


def _weeks_alike(outset: Outset, weeks: int) -> list[list[int]]:
    """The weeks ahead, grouped where the same habits run on the same number of days."""
    if not outset.clockwork.habits:
        return [list(range(weeks))]
    alike: dict[tuple[int, ...], list[int]] = {}
    for week in range(weeks):
        first = outset.on + timedelta(weeks=week)
        days = [first + timedelta(days=n) for n in range(7)]
        running = (sum(charge.runs_on(habit, day) for day in days) for habit in outset.clockwork.habits)
        alike.setdefault(tuple(running), []).append(week)
    return list(alike.values())


def planned_days(plan: Exposure, on: date) -> list[date]:
    """The planned days of water from today on: each day of a trip, as if dived as planned."""
    last = plan.last_day
    days = (plan.starts_on + timedelta(days=n) for n in range((last - plan.starts_on).days + 1))
    return [day for day in days if day >= on]


def _add_plans(amounts: Amounts, outset: Outset, seal: Seal) -> None:
    import numpy as np

    practice = outset.clockwork.practice
    rows, at = [], []
    for plan in outset.plans:
        shares = charge.preview(outset.record, plan, practice)[seal.position]
        for day in planned_days(plan, outset.on):
            week = (day - outset.on).days // 7
            if week < amounts.stretches:
                rows.append(tally.row_of(plan, seal.position, shares, practice))
                at.append(week)
    if rows:
        where = np.array(at)
        contacts = tally.contacts_of(rows)
        tally.add_contacts(amounts, contacts, where, seal.position, outset.record.watch, practice)


def laid_over(part: Tally, seal: Seal, outset: Outset, draws: Draws) -> tuple[Array, Shares]:
    """What each stretch costs under each set of constants, and each channel's part of a mean stretch."""
    prices = tally.prices(part.keys, seal.position, seal.material, outset.record.watch, draws)
    return part.under(prices), part.by_channel(prices).times(1 / len(part.amounts))
