"""Asks whether the record of a watch begins earlier, when water from before it was logged."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, ClassVar

from textual.app import App, ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.widgets import Static

from logbook.model.text import full_date, printable
from logbook.model.validate.watch import check_watch
from logbook.model.values import Exposure, WatchRecord
from logbook.text.record_start import Early, early
from logbook.tui.shell.ink import sentence
from logbook.tui.shell.room import Room

LATER = "Later the watch can be edited: a in its room, recorded from."


class RecordStartRoom(Room):
    """One question, answered by y or n; what was logged is kept whatever the answer."""

    CSS_PATH = "record_start.tcss"
    TITLE_WORDS = "From before its record"
    PURPOSE = (
        "What was logged is from before the day from which all water of this watch is on record. It is kept; "
        "it is charged once the record begins on its day or before."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("y", "move", "yes, it begins then", tooltip="move the start of its record to that day"),
        Binding("n", "back", "no, leave it", tooltip="keep what was logged, and charge nothing for it"),
    ]

    def __init__(self, found: Early) -> None:
        super().__init__()
        self.found = found

    def body(self) -> ComposeResult:
        """The question, and where it can be answered later."""
        with VerticalScroll(id="ask", can_focus=False):
            yield Static(sentence(self.found.question(), "strong"))
            yield Static()
            yield Static(sentence(LATER, "dim"))

    def action_move(self) -> None:
        """The record of the watch begins on the first of these days."""
        book, found = self.book, self.found

        def move() -> str:
            from logbook.record.writing.watches import correct

            record = book.standing(found.watch.id or 0).record
            moved = replace(found, watch=record.watch).moved()
            moved = check_watch(moved, book.practice, book.today)
            book.do(correct, record, moved, [], book.practice)
            since = full_date(found.days[0])
            return printable(f"{found.watch.name} has its water on record from {since}. z: undo")

        self.change(move, then=self.close)


def ask(app: App[Any], record: WatchRecord, exposure: Exposure) -> None:
    """Ask in a room of its own where an exposure is from before the record of its watch begins."""
    found = early([exposure], [record.watch])
    if found:
        app.push_screen(RecordStartRoom(found[0]))
