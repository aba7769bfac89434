"""Which exposures a change can touch: spans of days on which they begin, watch by watch."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any, ClassVar

from logbook.model.wear.charge import TOUCH_DAYS
from logbook.record.reading.rows import Rows, in_chunks
from logbook.record.writing.journal import Change, PlainRow

# Columns of a watch that no exposure's cost depends on; a change of any other means reckoning it all again.
COSTS_NOTHING = frozenset({
    "name", "name_key", "movement", "stated_use", "bought_on", "new_on", "winds_per_1000_weeks",
    "presses_per_1000_weeks", "reference", "note", "shelf_group", "retired_on", "confirmed_on",
    "made_from", "made_to", "marked_in",
})  # fmt: skip


@dataclass(frozen=True, slots=True)
class Span:
    """First and last day on which a touched exposure begins, both included."""

    first: date
    last: date

    ALL: ClassVar[Span]

    @classmethod
    def near(cls, day: date) -> Span:
        """What an exposure on one day can touch: hours that overlap count once."""
        return wider(cls(day, day), TOUCH_DAYS)

    @classmethod
    def hours(cls, first: date, last: date) -> Span:
        """What other worn hours on these days can touch: exposures that reach into them."""
        return cls(wider(cls(first, last), TOUCH_DAYS).first, last)

    def as_text(self) -> tuple[str, str]:
        return self.first.isoformat(), self.last.isoformat()


Span.ALL = Span(date.min, date.max)


def wider(span: Span, days: int) -> Span:
    """The span with so many days more on both sides, as far as the calendar goes."""
    reach = timedelta(days=days)
    first = span.first - reach if span.first - date.min >= reach else date.min
    last = span.last + reach if date.max - span.last >= reach else date.max
    return Span(first, last)


def merged(spans: Iterable[Span]) -> list[Span]:
    """The same days without overlap, in order."""
    found: list[Span] = []
    for span in sorted(spans, key=lambda s: (s.first, s.last)):
        if found and span.first <= found[-1].last:
            found[-1] = Span(found[-1].first, max(found[-1].last, span.last))
        else:
            found.append(span)
    return found


def spans_of(changes: Sequence[Change], rows: Rows) -> dict[int, list[Span]]:
    """Watch id -> the days on which the changes can alter what an exposure costs."""
    touched: dict[int, list[Span]] = {}
    for change in changes:
        if change.table == "watch":
            if _costs(change):
                touched.setdefault(change.key, []).append(Span.ALL)
        elif change.table in _TOUCHES:
            for row in (*change.before, *change.now):
                span = _TOUCHES[change.table](row)
                if span is not None:
                    touched.setdefault(row["watch_id"], []).append(span)
    for watch_id, day in _days_of_profiles(changes, rows):
        touched.setdefault(watch_id, []).append(Span.near(day))
    return touched


def _costs(change: Change) -> bool:
    if not (change.before and change.now):
        return True
    before, now = change.before[0], change.now[0]
    return any(before[column] != now[column] for column in before if column not in COSTS_NOTHING)


def _of_exposure(row: PlainRow) -> Span | None:
    return None if row["planned"] else Span.near(date.fromisoformat(row["starts_on"]))


def _of_hours(row: PlainRow) -> Span:
    last = date.fromisoformat(row["to_on"]) if row["to_on"] else date.max
    return Span.hours(date.fromisoformat(row["from_on"]), last)


def _of_seal(row: PlainRow) -> Span:
    return Span(date.fromisoformat(row["fitted_earliest"]), date.max)


_TOUCHES: dict[str, Callable[[PlainRow], Span | None]] = {
    "exposure": _of_exposure,
    "habit": _of_hours,
    "worn_stretch": _of_hours,
    "seal": _of_seal,
}


def _days_of_profiles(changes: Sequence[Change], rows: Rows) -> list[tuple[int, date]]:
    """Watch and day of exposures of which only the profile changed."""
    whole = {change.key for change in changes if change.table == "exposure"}
    alone: list[Any] = [c.key for c in changes if c.table == "profile_point" and c.key not in whole]
    found: list[tuple[int, date]] = []
    for marks, piece in in_chunks(alone):
        statement = f"SELECT watch_id, starts_on FROM exposure WHERE planned = 0 AND id IN {marks}"
        found += [(watch_id, date.fromisoformat(day)) for watch_id, day in rows(statement, piece)]
    return found
