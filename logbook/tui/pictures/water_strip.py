"""A year of water as a strip: weeks across, Monday to Sunday down, each day by what it cost."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from datetime import date

from logbook.model.values import Habit, Position
from logbook.model.wear import wet_days
from logbook.model.wear.wet_days import Year
from logbook.text import phrases, quantities
from logbook.tui.habits.lines import times_words
from logbook.tui.shell.ink import Line, Piece, wrapped

DRY, GLYPHS, UNKNOWN = "·", " ░▒▓█", " "  # of each level; a day that is not on record, or not there yet
DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
HINT = "[ the year before, ] the year after, ↑ ↓ another seal, Y puts it away"
INDENT = len(DAYS[0]) + 1
MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September", "October",
          "November", "December")  # fmt: skip
_ROLES = {DRY: "rest", UNKNOWN: "plain"}


def lines(year: Year, position: Position | None, recorded_from: date, today: date, width: int) -> list[Line]:
    """Words, the strip and what its glyphs stand for, at most `width` cells wide."""
    heading, *more = wrapped(in_words(year, position), width)
    return [
        [(heading, "strong")],
        *([(row, "strong")] for row in more),
        *strip(year, recorded_from, today, width),
        *([(row, "dim")] for row in wrapped(legend(year, recorded_from, today), width)),
        *([(row, "plain")] for row in wrapped(by_month(year), width)),
        *([(row, "dim")] for row in wrapped(HINT, width)),
    ]


def in_words(year: Year, position: Position | None) -> str:
    """The year in words: how many days, in which month most, which cost most, how much in all."""
    greatest, days = year.greatest, f"{year.year}: {_days(year)}{_habits(year)}"
    if greatest is None:
        return f"{days}.{_heat(year)}"
    on = f"{greatest.on.day} {greatest.on:%b}"
    if not year.by_cost:
        longest = quantities.show_minutes(greatest.duration_s + greatest.habit_s)
        return (
            f"{days}; the longest day {on}, {longest}. It cost no seal of this place anything.{_heat(year)}"
        )
    took, in_all = (phrases.of_hundred(share) for share in (greatest.share, year.share))
    seal = f"of the {phrases.place(position or '')} seal"
    all_days = "all that are drawn" if year.undrawn else "all of them"
    words = f"{days}; the costliest day {on} took {took} {seal}, {all_days} {in_all.split()[0]}."
    return words + _heat(year)


def _days(year: Year) -> str:
    count = len(year.logged)
    on_record = " on record" if year.habits or not count else ""
    if not count:
        return f"no day with water{on_record}"
    month, most = year.most_in
    busiest = f", most in {MONTHS[month - 1]} ({most})" if count > 1 else ""
    return f"{count} day{'s' if count != 1 else ''} with water{on_record}, {_hours(year.duration_s)}{busiest}"


def _habits(year: Year) -> str:
    """The habits of water: first those that every day of theirs is drawn with."""
    daily = [h for h in year.habits if wet_days.is_water(h.exposure) and h not in year.undrawn]
    drawn, undrawn = (", ".join(map(_habit, habits)) for habits in (daily, year.undrawn))
    found = f", and {_habit_word(daily)}: {drawn}" if daily else ""
    return found + (f", and {_habit_word(year.undrawn)}: {undrawn}, not drawn by day" if undrawn else "")


def _habit_word(habits: Sequence[Habit]) -> str:
    return "a habit" if len(habits) == 1 else "habits"


def _habit(habit: Habit) -> str:
    return f"{habit.exposure.activity} {times_words(habit)}"


def _heat(year: Year) -> str:
    """Hot air, which is no water."""
    found = [f"{year.heat_days} day{'s' if year.heat_days != 1 else ''} on record"] if year.heat_days else []
    found += [_habit(habit) for habit in year.habits if not wet_days.is_water(habit.exposure)]
    return f" Hot air is no water and not drawn: {', '.join(found)}." if found else ""


def by_month(year: Year) -> str:
    """The days of water in each month that had any; month and number stay together where a line breaks."""
    counts = Counter(day.on.month for day in year.logged)
    named = ", ".join(f"{MONTHS[n - 1][:3]}\u00a0{counts[n]}" for n in sorted(counts))
    return f"days {'on record ' if year.habits else ''}by month: {named or 'none'}"


def _hours(duration_s: int) -> str:
    return f"{duration_s / 3600:,.0f} h" if duration_s >= 36_000 else quantities.show_minutes(duration_s)


def strip(year: Year, recorded_from: date, today: date, width: int) -> list[Line]:
    """Month names, then a row for each day of the week; two cells a day where there is room for them."""
    weeks = wet_days.weeks_of(year.year)
    cells = 2 if width >= INDENT + 2 * len(weeks) else 1
    wet = {day.on: day for day in year.days}

    def glyph(day: date | None) -> str:
        if day is None:
            return UNKNOWN
        if day in wet:
            return GLYPHS[year.level(wet[day])]
        return DRY if recorded_from <= day <= today and not year.may_be_wet(day) else UNKNOWN

    found: list[Line] = [[(" " * INDENT + _months(weeks, cells), "dim")]]
    for n, name in enumerate(DAYS):
        row = [glyph(week[n]) for week in weeks]
        found.append([(f"{name} ", "dim"), *_joined(row, cells)])
    return found


def _months(weeks: Sequence[Sequence[date | None]], cells: int) -> str:
    """Each month's name over the week in which it begins."""
    line = [" "] * (cells * len(weeks))
    for n, week in enumerate(weeks):
        begun = next((day for day in week if day is not None and day.day == 1), None)
        if begun is not None:
            line[n * cells : n * cells + 3] = f"{begun:%b}"
    return "".join(line[: cells * len(weeks)])


def _joined(glyphs: Sequence[str], cells: int) -> Iterator[Piece]:
    """Neighbours of one role as one piece; a dry day is one point in its cells."""
    text, role = "", ""
    for glyph in glyphs:
        of_glyph = _ROLES.get(glyph, "bar")
        if of_glyph != role and text:
            yield text, role
            text = ""
        shown = glyph.ljust(cells) if glyph == DRY else glyph * cells
        text, role = text + shown, of_glyph
    if text:
        yield text, role


def legend(year: Year, recorded_from: date, today: date) -> str:
    """What each glyph stands for, with its unit."""
    parts = [f"{DRY} dry"]
    steps = [f"{step:g}" for step in year.steps]
    if steps:
        bounds = [f"under {steps[0]}", *(f"from {step}" for step in steps)]
        parts += [f"{glyph} {bound}" for glyph, bound in zip(GLYPHS[1:], bounds, strict=False)]
        parts[-1] += " of 100 a day" if year.by_cost else " minutes a day"
    elif year.days:
        parts.append(f"{GLYPHS[1]} water, which cost nothing")
    some_blank = recorded_from > date(year.year, 1, 1) or today < date(year.year, 12, 31)
    if year.undrawn:
        parts.append("blank: not on record, still to come, or a habit that is not drawn")
    elif some_blank:
        parts.append("blank: not on record, or still to come")
    return ", ".join(parts)
