"""Writing an exposure into the record, and what is said about it afterwards, or when it was refused."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from rich.cells import cell_len

from logbook.errors import LogbookError, NotUnderstood
from logbook.model.judge.stands_words import at_once
from logbook.model.values import DAY_ORDER, Exposure, Shares, Units, WatchRecord
from logbook.record.record import Book
from logbook.text import phrases
from logbook.tui.shell.ink import Line, wrapped

LABEL_CELLS = 13  # before the one line, so that the caret stands under its word


def save(book: Book, record: WatchRecord, exposure: Exposure) -> str:
    """Write one exposure; returns what it cost in a sentence. On a LogbookError nothing is written."""
    entry_id = book.log([exposure])[0]
    kept = replace(exposure, id=entry_id)
    meant = at_once(record, [kept], book.practice, book.units)
    if meant and _was_tested(record, kept):
        meant.append("It counts as after that day’s pressure test; if it was before, amend the test (a).")
    return notice(kept, record, book.cost(entry_id), book.units, meant)


def _was_tested(record: WatchRecord, kept: Exposure) -> bool:
    """Whether a test was passed on the day of an exposure, which is then taken to come before it."""
    return any(
        event.kind == "pressure-test" and event.passed and event.order < DAY_ORDER["exposure"]
        for event in record.events
        if event.on == kept.starts_on
    )


def notice(
    kept: Exposure, record: WatchRecord, cost: Mapping[int, Shares], units: Units, meant: Sequence[str] = ()
) -> str:
    """`Logged 12: dive 21 m, 38 min, … took 0.3 of 100 (crown). z: undo`, and what it means for the next."""
    words = f"Logged {kept.id}: {phrases.exposure_words(kept, units)}"
    return " ".join([f"{words}: {cost_words(record, cost)}. z: undo", *meant])


def cost_words(record: WatchRecord, cost: Mapping[int, Shares]) -> str:
    """What an exposure added where it added most: `took 0.3 of 100 (crown)`."""
    if not cost:
        return "not charged to the seals in place"
    most = max(cost, key=lambda seal_id: cost[seal_id].total)
    places = {seal.id: phrases.place(seal.position) for seal in record.seals}
    return f"took {phrases.of_hundred(cost[most].total)} ({places.get(most, 'seal')})"


def pointer(error: LogbookError, width: int) -> list[Line]:
    """An error of the one line: a caret under the word that was not understood, then the sentence."""
    lines: list[Line] = []
    if isinstance(error, NotUnderstood):
        before = error.line[: error.column]
        indent = cell_len(before)
        if cell_len(error.line) >= width - LABEL_CELLS:  # the entry has scrolled: show the part again
            part = error.line[max(0, error.column - 30) :][: width - LABEL_CELLS]
            indent = cell_len(before[-30:])
            lines.append([(" " * LABEL_CELLS, "plain"), (part, "plain")])
        lines.append([(" " * (LABEL_CELLS + indent), "plain"), ("^", "grave")])
    return [*lines, *([(part, "grave")] for part in wrapped(error.message, width))]
