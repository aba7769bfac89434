"""Where an event is made from what its owner told: the day that counts, and what a test "to its mark" was to.

`validate_watch.check_event` judges the event itself, here and wherever one comes from a file.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any, cast

from logbook.errors import BadInput
from logbook.model.practice import Practice
from logbook.model.text import printable
from logbook.model.validate.watch import check_event, counts_on
from logbook.model.values import DAY_ORDER, Event, EventKind, Watch
from logbook.model.wear.wear import reference_mark_pa


def make_event(
    kind: str, watch: Watch, today: date, practice: Practice, *, on: date | None = None,
    span: tuple[date, date] | None = None, order: int | None = None, test_pa: float | None = None,
    to_mark: bool = False, pressure_unknown: bool = False, **fields: Any,
) -> Event:  # fmt: skip
    """The event of `watch` as it will be kept; raises BadInput with the field in `where`.

    It was `on` a day, or on some day of `span`, else today. A pressure test says one of `test_pa` (Pa),
    `to_mark` and `pressure_unknown`. `fields` are others of an event.
    """
    event = Event(
        cast("EventKind", kind), on or today, DAY_ORDER.get(kind, 0) if order is None else order,
        span=span, watch_id=watch.id, **fields,
    )  # fmt: skip
    if test_pa is not None:
        event = replace(event, test_pa=test_pa)
    _refuse_two_pressures(event, test_pa, to_mark, pressure_unknown)
    return _judged(event, watch, today, practice, to_mark, pressure_unknown)


def change_event(
    event: Event, watch: Watch, today: date, practice: Practice, *, to_mark: bool = False,
    pressure_unknown: bool = False, **fields: Any,
) -> Event:  # fmt: skip
    """An event on record with what is told otherwise; raises as `make_event` does.

    A day that is told takes the place of a span, and a pressure that of the one which was there.
    """
    test_pa = fields.get("test_pa")
    _refuse_two_pressures(event, test_pa, to_mark, pressure_unknown)
    if test_pa is not None or to_mark or pressure_unknown:
        fields = {"test_pa": None, "to_mark": False} | fields
    elif event.test_pa is None:
        pressure_unknown = True  # as it was
    if "on" in fields:
        fields = {"span": None} | fields
    return _judged(replace(event, **fields), watch, today, practice, to_mark, pressure_unknown)


def _refuse_two_pressures(event: Event, test_pa: float | None, to_mark: bool, unknown: bool) -> None:
    if (to_mark or unknown) and event.kind != "pressure-test":
        raise BadInput(f"Only a pressure test has a pressure, not {event.kind}.", where="test_pa")
    if (test_pa is not None) + to_mark + unknown > 1:
        sentence = "A test has one pressure: a number, its mark, or one that is not known; say which."
        raise BadInput(sentence, where="test_pa")


def _judged(
    event: Event, watch: Watch, today: date, practice: Practice, to_mark: bool, unknown: bool
) -> Event:
    if to_mark:
        if watch.mark == "unknown":
            sentence = f"The mark of {printable(watch.name)} is not known, so 'to its mark' says no pressure"
            raise BadInput(f"{sentence}: give its bar, or say that it is not known.", where="to_mark")
        event = replace(event, to_mark=True, test_pa=reference_mark_pa(watch, practice))
    event = _on_the_day_that_counts(event, watch)
    return check_event(event, watch, today, practice, pressure_unknown=unknown)


def _on_the_day_that_counts(event: Event, watch: Watch) -> Event:
    """Of a span no day is before the watch's own first one; of one day nothing more is kept than that day."""
    if event.span is None:
        return event
    first, last = event.span
    if watch.first_on is not None and first < watch.first_on <= last:
        first = watch.first_on
    if first == last:
        return replace(event, on=first, span=None)
    return replace(event, on=counts_on(event, first, last), span=(first, last))
