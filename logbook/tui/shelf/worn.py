"""Worn on another day than today: one question."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import ClassVar

from textual.app import ComposeResult
from textual.widgets import Static

from logbook.errors import BadInput
from logbook.model.values import Watch
from logbook.model.wear.worn_day import DAY_WORN_H
from logbook.record.record import Book
from logbook.text.dates import EXAMPLES, parse_date
from logbook.text.phrases import full_date
from logbook.tui.shell.form import FormRoom, Question, Write
from logbook.tui.shell.ink import content, sentence
from logbook.tui.shell.whose import named
from logbook.tui.widgets.field import Field


class WornRoom(FormRoom):
    """The day on which these watches were worn."""

    CSS_PATH = "worn.tcss"
    TITLE_WORDS = "Worn that day"
    PURPOSE = "These watches were worn on a day: 12 hours in place of the habit, shared out when several."
    FIELD_OF: ClassVar[dict[str, str]] = {"date": "on"}

    def __init__(self, watches: Sequence[Watch]) -> None:
        super().__init__()
        self.watches = list(watches)

    def asked(self) -> ComposeResult:
        """Which watches, then the question."""
        every = named([watch.name for watch in self.watches], 400)
        yield Static(content([[("worn: ", "dim"), (every, "strong")]]), id="whose")
        yield Question(Field("on", "day"))
        yield Static(sentence(EXAMPLES, "dim"), id="hint")

    def fill(self) -> None:
        """The day before stands there, ready to be replaced."""
        self.fill_in({"on": "yesterday"})

    def prepare(self) -> None:
        """The watches as they are on record now."""
        self.watches = [record.watch for record in self.book.records_of([w.id or 0 for w in self.watches])]

    def save(self) -> Write:
        """The day."""
        if not self.text("on").strip():
            raise BadInput("On which day? It belongs here, such as yesterday or 12 mar.", where="on")
        on = parse_date(self.text("on"), self.book.today, where="on")
        return lambda: worn(self.book, [watch.id or 0 for watch in self.watches], on)


def worn(book: Book, watch_ids: Sequence[int], on: date) -> str:
    """Put on record that watches were worn on a day, and say so; raises LogbookError."""
    watches = [record.watch for record in book.records_of(watch_ids)]
    ids, others = book.wear(watch_ids, on)
    each_h = DAY_WORN_H / (len(ids) + len(others))
    return said(watches, each_h, [book.name_of(other.watch_id) for other in others], on, book.today)


def said(watches: Sequence[Watch], hours: float, others: Sequence[str], on: date, today: date) -> str:
    """`Worn today: Blue bezel and Lido quartz, 6 h each. z: undo`; `others` share the day with them."""
    day = "today" if on == today else f"on {full_date(on)}"
    each = " each" if len(watches) > 1 else ""
    shared = f", shared with {named(others)}" if others else ""
    return f"Worn {day}: {named([w.name for w in watches])}, {hours_words(hours)}{each}{shared}. z: undo"


def hours_words(hours: float) -> str:
    """`4 h`, `1 h 43 min`, `43 min`."""
    whole, minutes = divmod(round(hours * 60), 60)
    return " ".join(
        part for part in (f"{whole} h" if whole else "", f"{minutes} min" if minutes else "") if part
    )
