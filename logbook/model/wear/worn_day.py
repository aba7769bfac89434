"""Checks whether watches may be recorded as worn on a day, given what is on record already."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from logbook.errors import BadInput, Refused
from logbook.model.text import full_date, listed, printable
from logbook.model.validate.watch import check_stretch
from logbook.model.values import WatchRecord, WornStretch

DAY_WORN_H = 12.0  # of a day on which watches were worn, shared out evenly among them
FEW = 3  # nicknames in a refusal


def stretch_on(stretches: Sequence[WornStretch], on: date) -> WornStretch | None:
    """The stretch entered last that covers a day; it is the one that counts."""
    return next((s for s in reversed(stretches) if s.from_on <= on <= s.to_on), None)


def sharing_on(records: Sequence[WatchRecord], on: date, hours: float) -> list[WornStretch]:
    """The one-day stretches among which these hours were shared evenly on that day, one a watch.

    Empty where the day holds anything else, such as hours that a person gave, which must stay.
    """
    found = [stretch_on(record.stretches, on) for record in records]
    alone = [s for s in found if s is not None and s.from_on == s.to_on and s.hours > 0]
    even = all(abs(s.hours * len(alone) - hours) < len(alone) / 60 for s in alone)
    return alone if even else []


def check_worn_day(records: Sequence[WatchRecord], on: date, today: date) -> None:
    """Raises BadInput for an impossible day, Refused where a watch is on record as worn on it."""
    for record in records:
        try:
            check_stretch(WornStretch(on, on, 1.0), record.watch, today)
        except BadInput as error:
            raise BadInput(f"{printable(record.watch.name)}: {error.message}", where="on") from None
    worn = [record.watch.name for record in records if _is_worn(record, on)]
    if worn:
        shown = [printable(name) for name in worn[:FEW]]
        more = [f"{len(worn) - FEW} more"] if len(worn) > FEW else []
        day = "today" if on == today else f"on {full_date(on)}"
        raise Refused(
            f"Already on record as worn {day}: {listed([*shown, *more], 'and')}. Nothing was added.",
            where="on",
        )


def _is_worn(record: WatchRecord, on: date) -> bool:
    found = stretch_on(record.stretches, on)
    return found is not None and found.hours > 0
