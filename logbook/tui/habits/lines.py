"""Habits and worn stretches of a watch as plain lines: what repeats, how often, since when, what it costs."""

from __future__ import annotations

from datetime import date, timedelta

from logbook.model.practice import Practice
from logbook.model.ranges import number
from logbook.model.text import listed
from logbook.model.values import Habit, Units, WatchRecord, WornStretch
from logbook.model.wear.account import Clockwork, habit_costs
from logbook.model.wear.charge import charged_habits, current_seals
from logbook.text import phrases, quantities
from logbook.tui.shell.ink import Line, fit

A_MONTH = 30  # days over which the cost of a habit is told
COST_HEAD = "took, of 100 a month"
DATES_CELLS, COST_CELLS = 26, 6


def times_words(habit: Habit) -> str:
    """`once a day`, `3 times a week`, `0.5 times a week`."""
    daily = habit.per_day >= 1
    count = round(habit.per_day if daily else habit.per_day * 7, 3)
    return f"{_counted(count)} a {'day' if daily else 'week'}"


def _counted(times: float) -> str:
    return {1.0: "once", 2.0: "twice"}.get(times) or f"{number(times)} times"


def since_words(habit: Habit) -> str:
    """`since 1 Mar 2026`, `1 Mar 2026 to 2 May 2026`."""
    since = phrases.full_date(habit.from_on)
    return f"since {since}" if habit.to_on is None else f"{since} to {phrases.full_date(habit.to_on)}"


def habit_name(habit: Habit, units: Units) -> str:
    """A habit as a notice names it."""
    return f"{phrases.exposure_words(habit.exposure, units)}, {times_words(habit)}"


def stretch_name(stretch: WornStretch) -> str:
    """A worn stretch as a notice names it."""
    first, last = phrases.full_date(stretch.from_on), phrases.full_date(stretch.to_on)
    days = f"on {first}" if first == last else f"{first} to {last}"
    return f"{number(round(stretch.hours, 2))} h a day, {days}"


def default_line(record: WatchRecord, practice: Practice, units: Units) -> Line:
    """The hours a day where nothing else is said, and how the watch is used dry."""
    watch = record.watch
    worn = quantities.show_temp(practice["worn_c"], units)
    words = f"Worn {number(watch.worn_h)} h a day at {worn} where nothing else is said"
    dry = (("its crown is", watch.winds), ("its pushers are", watch.presses))
    uses = [f"{what} worked dry {_counted(times)} a week" for what, times in dry if times]
    return [(f"{words}; {listed(uses, 'and')}." if uses else f"{words}.", "plain")]


def cost_a_month(habit: Habit, record: WatchRecord, practice: Practice, today: date) -> str:
    """The most that a habit adds to any seal in thirty days; `over` and `–` where it adds nothing now."""
    if habit.to_on is not None and habit.to_on < today:
        return "over"
    clockwork = Clockwork.of(record, practice)
    running = [each for each in charged_habits(record) if each.id == habit.id]
    start = max(habit.from_on, today)
    end = start + timedelta(days=A_MONTH)
    totals = [
        sum(shares.total for _, _, shares in habit_costs(clockwork, seal, running, start, end))
        for seal in current_seals(record.seals)
    ]
    return phrases.of_hundred(max(totals)).removesuffix(" of 100") if totals else "–"


def habit_row(habit: Habit, cost: str, units: Units, width: int) -> Line:
    """One habit: what, how often, between which days, what it costs."""
    words = f"{times_words(habit)}: {phrases.exposure_words(habit.exposure, units)}"
    room = width - 1 - DATES_CELLS - 1 - COST_CELLS - 1
    role = "dim" if cost == "over" else "plain"
    return [
        (f" {fit(words, room)} ", role),
        (fit(since_words(habit), DATES_CELLS), "dim"),
        (f"{fit(cost, COST_CELLS, right=True)} ", role),
    ]


def stretch_row(stretch: WornStretch, width: int) -> Line:
    """One worn stretch: its hours a day, its days."""
    return [(f" {fit(stretch_name(stretch), width - 1)}", "plain")]


def detail(habit: Habit, units: Units) -> Line:
    """A habit in full, with its note."""
    words = f"{habit_name(habit, units)}, {since_words(habit)}"
    return [(f"{words}; note: {habit.exposure.note}" if habit.exposure.note else words, "plain")]
