"""What is said once an event is on record: for which watch, and what was made of the day's order."""

from __future__ import annotations

from collections.abc import Sequence

from logbook.model.values import Event, WatchRecord
from logbook.text.events import KIND_WORDS, event_words, order_words, taken_before
from logbook.tui.events.draft import Around
from logbook.tui.shell.whose import named


def said(events: Sequence[Event], around: Sequence[Around], *, wet: bool = False) -> str:
    """`Logged for Blue bezel and Lido quartz: battery changed. z: undo`, one event for each watch.

    Of a single watch also the order of its day, where that matters; `wet`: there was water on it.
    """
    names = [each.record.watch.name for each in around]
    words = f"Logged for {named(names)}: {_in_common(events, around)}. z: undo"
    if len(events) == 1 and (order := order_on_its_day(events[0], around[0].record, wet)):
        words += f"\n{order}"
    mistaken = [
        each.record.watch.name
        for event, each in zip(events, around, strict=True)
        if taken_before(event, each.record.events) is not None
    ]
    if not mistaken:
        return words
    if len(events) == 1:
        again = "log it again with"
        taken = "Taken to be before that day’s pressure test."
    else:
        again = "log it for each of them alone with"
        taken = f"For {named(mistaken)} taken to be before that day’s pressure test."
    return f"{words}\n{taken} If it was after: z, then {again} “in that day” at “after pressure test”."


def order_on_its_day(event: Event, record: WatchRecord, wet: bool) -> str:
    """In which order a day is read that has a pass and what may take it away, or a fault and an opening."""
    order = order_words(event, record, wet)
    return f"Read as: {order}. To change that, a on the entry in the log." if order else ""


def _in_common(events: Sequence[Event], around: Sequence[Around]) -> str:
    """The event in words; of several that differ, such as in their seals, what they have in common."""
    in_words = [event_words(event, each.units) for event, each in zip(events, around, strict=True)]
    return in_words[0] if len(set(in_words)) == 1 else KIND_WORDS[events[0].kind]
