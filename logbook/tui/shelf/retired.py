"""The watches that were retired: what is on record of them stays, and each can come back to the shelf."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Static

from logbook.model.marks import mark_words
from logbook.model.text import printable
from logbook.model.values import Watch
from logbook.text.phrases import full_date
from logbook.tui.shell.ink import Line, fit, short
from logbook.tui.shell.list_room import ListRoom
from logbook.tui.shell.room import CHANGES, REDO, UNDO
from logbook.tui.widgets.lines import Lines

NAME_CELLS, SINCE_CELLS = 30, 20
NONE = "No watch is retired: a, in a watch’s room, then ^r takes it off the shelf."


class RetiredRoom(ListRoom[Watch]):
    """One line a retired watch; it opens as any other does, and one key brings it back."""

    TITLE_WORDS = "Retired watches"
    PURPOSE = (
        "Watches that are off the shelf: nothing is due for them and no list counts them, but all that is on "
        "record of them stays and can be read."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "open", "open", tooltip="the watch under the cursor, in full"),
        Binding("B", "bring_back", "bring back", tooltip="put the watch under the cursor back on the shelf"),
        UNDO,
        REDO,
        CHANGES,
    ]

    def body(self) -> ComposeResult:
        """The watches, or that there is none."""
        yield Static(id="heads")
        yield Lines(self._draw)

    def reload(self) -> None:
        """Read them and show them."""
        every = self.book.records(retired=True)
        self.rows = [record.watch for record in every if record.watch.retired_on is not None]
        self.show_rows()

    def title_line(self) -> Line:
        """How many there are."""
        return [(f"logbook · {self.TITLE_WORDS}: {len(self.rows) or 'none'}", "title")]

    def heads(self) -> list[Line]:
        """Of the columns, or that there is no watch."""
        columns = f" {fit('watch', NAME_CELLS)} {fit('retired', SINCE_CELLS)} mark"
        return [[(columns if self.rows else f" {NONE}", "dim")]]

    def row_line(self, row: Watch, width: int) -> Line:
        """A watch, since when, and its mark."""
        watch = row
        since = full_date(watch.retired_on) if watch.retired_on else ""
        mark = short(mark_words(watch), max(4, width - NAME_CELLS - SINCE_CELLS - 3))
        rest = f"{fit(since, SINCE_CELLS)} {mark}"
        return [(f" {fit(watch.name, NAME_CELLS)} ", "strong"), (rest, "plain")]

    @on(Lines.Chosen)
    def action_open(self) -> None:
        """The watch under the cursor, in full."""
        if (watch := self.here) is not None:
            self.go("watch", watch.id or 0)

    def action_bring_back(self) -> None:
        """Put the watch under the cursor back on the shelf."""
        if (watch := self.here) is not None:

            def bring_back() -> str:
                from logbook.record.writing.watches import unretire

                self.book.do(unretire, watch.id or 0)
                return printable(f"{watch.name} is back on the shelf. z: undo")

            self.change(bring_back)
