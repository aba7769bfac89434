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
from logbook.tui.shell.ink import Line, content, fit, short
from logbook.tui.shell.room import CHANGES, REDO, UNDO, Room
from logbook.tui.widgets.frame import TitleLine
from logbook.tui.widgets.lines import Lines

NAME_CELLS, SINCE_CELLS = 30, 20
NONE = "No watch is retired: a, in a watch’s room, then ^r takes it off the shelf."


class RetiredRoom(Room):
    """One line a retired watch; it opens as any other does, and one key brings it back."""

    TITLE_WORDS = "Retired watches"
    PURPOSE = (
        "Watches that are off the shelf: nothing is due for them and no list counts them, but all that is on "
        "record of them stays and can be read."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "open", "open", tooltip="the watch under the cursor, in full"),
        Binding("b", "bring_back", "bring back", tooltip="put the watch under the cursor back on the shelf"),
        UNDO,
        REDO,
        CHANGES,
    ]

    def __init__(self) -> None:
        super().__init__()
        self.watches: list[Watch] = []

    def body(self) -> ComposeResult:
        """The watches, or that there is none."""
        yield Static(id="heads")
        yield Lines(self._draw, id="retired")

    def on_mount(self) -> None:
        """The list is where one is."""
        self.query_one(Lines).focus()

    def reload(self) -> None:
        """Read them and show them."""
        self.watches = [watch for watch in self.book.every_watch() if watch.retired_on is not None]
        count = len(self.watches)
        title = f"logbook · {self.TITLE_WORDS}: {count or 'none'}"
        self.query_one("#title", TitleLine).say([(title, "title")])
        heads = f" {fit('watch', NAME_CELLS)} {fit('retired', SINCE_CELLS)} mark" if count else f" {NONE}"
        self.query_one("#heads", Static).update(content([[(heads, "dim")]]))
        self.query_one(Lines).show(count)

    def _draw(self, row: int, width: int) -> Line:
        watch = self.watches[row]
        since = full_date(watch.retired_on) if watch.retired_on else ""
        mark = short(mark_words(watch), max(4, width - NAME_CELLS - SINCE_CELLS - 3))
        rest = f"{fit(since, SINCE_CELLS)} {mark}"
        return [(f" {fit(watch.name, NAME_CELLS)} ", "strong"), (rest, "plain")]

    @property
    def _here(self) -> Watch | None:
        return self.watches[self.query_one(Lines).cursor] if self.watches else None

    @on(Lines.Chosen, "#retired")
    def action_open(self) -> None:
        """The watch under the cursor, in full."""
        if (watch := self._here) is not None:
            self.go("watch", watch.id or 0)

    def action_bring_back(self) -> None:
        """Put the watch under the cursor back on the shelf."""
        if (watch := self._here) is not None:

            def bring_back() -> str:
                self.book.unretire(watch.id or 0)
                return printable(f"{watch.name} is back on the shelf. z: undo")

            self.change(bring_back)
