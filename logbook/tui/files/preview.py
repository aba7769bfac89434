"""What a file would bring in: each exposure with its watch and what becomes of it; nothing is written yet."""

from __future__ import annotations

from collections.abc import Iterable
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.widgets import Static

from logbook.errors import LogbookError
from logbook.files.inbox import Inbox, Item
from logbook.model.judge.stands_words import a_few
from logbook.model.text import printable
from logbook.model.values import Watch
from logbook.tui.files import preview_lines
from logbook.tui.files.bring_in import LEFT
from logbook.tui.shell.background import Background, Tell
from logbook.tui.shell.ink import Line, sentence
from logbook.tui.shell.list_room import ListRoom
from logbook.tui.widgets.lines import Lines

DETAIL_LINES = 5


class PreviewRoom(ListRoom["Item"]):
    """One line an exposure of the file; keys choose the watch, and one brings all of it in."""

    CSS_PATH = "preview.tcss"
    TITLE_WORDS = "Preview"
    PURPOSE = (
        "What the file would bring in. Choose the watch of each dive, or leave it out; what is on record "
        "already stays out by itself, and what is like an exposure on record is yours to decide."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("b", "bring_in", "bring in", tooltip="write what comes in, all of it or nothing"),
        Binding("right", "watch(1)", "next watch", key_display="→", tooltip="another watch for this dive"),
        Binding("left", "watch(-1)", "", show=False),
        Binding("a", "all", "for all", tooltip="the watch of this dive for every dive"),
        Binding("l", "out", "leave out", tooltip="leave this one out, or take it back in"),
        Binding("s", "keep_both", "keep both", tooltip="this one comes in beside the one that it is like"),
        Binding("S", "keep_all", "", show=False, tooltip="all that are like one on record come in beside it"),
    ]

    def __init__(self, inbox: Inbox) -> None:
        super().__init__()
        self.inbox = inbox
        self._choices: list[Watch | None] = []
        self.writing = Background(self)

    def prepare(self) -> None:
        """Which watches there are to choose from."""
        self._choices = [*self.book.watches(), None]

    def heads(self) -> list[Line]:
        """Of the columns."""
        return [preview_lines.heads(self.app.size.width)]

    def reload(self) -> None:
        """What the file would bring in stays as it was chosen."""
        self.rows = self.inbox.items
        self.show_rows()

    def title_line(self) -> Line:
        """The file, and what of it comes in."""
        return [(f"logbook · {self.inbox.name}   ", "title"), (preview_lines.title(self.inbox), "plain")]

    def row_line(self, row: Item, width: int) -> Line:
        """An exposure of the file."""
        return preview_lines.row(row, self.book.units, width)

    def detail(self) -> Iterable[Line]:
        """The exposure under the cursor."""
        width = max(20, self.app.size.width - 2)
        return preview_lines.detail(self.inbox, self.here, self.book.units, width, DETAIL_LINES)

    def action_watch(self, step: int) -> None:
        """Another watch for the dive under the cursor; after the last comes none."""
        item = self.here
        if item is None or item.dive is None:
            self.app.notify("This file says itself whose water it was.", markup=False)
            return
        ids = [None if watch is None else watch.id for watch in self._choices]
        here = ids.index(None if item.watch is None else item.watch.id)
        self.inbox.give(item, self._choices[(here + step) % len(ids)])
        self._sort_out()

    def action_all(self) -> None:
        """The watch of this dive for every dive of the file."""
        item = self.here
        if item is not None and item.dive is not None:
            for other in self.inbox.items:
                self.inbox.give(other, item.watch)
            self._sort_out()

    def action_out(self) -> None:
        """Leave the one under the cursor out, or take it back in."""
        item = self.here
        if item is not None:
            item.unwanted = not item.unwanted
            self._sort_out()

    def action_keep_both(self) -> None:
        """The one under the cursor comes in beside the one that it is like, or it does not."""
        item = self.here
        if item is not None and item.state in ("alike", "struck"):
            item.wanted = not item.wanted
            self.reload()

    def action_keep_all(self) -> None:
        """All that are like an exposure on record come in beside it."""
        self.inbox.want_all_alike()
        self.reload()

    def _sort_out(self) -> None:
        self.inbox.sort_out()
        self.reload()

    def action_bring_in(self) -> None:
        """Write what comes in, in a thread."""
        if self.writing.busy:
            return
        if self.inbox.open_questions:
            self.query_one(Lines).cursor = self.inbox.items.index(self.inbox.open_questions[0])
            self.app.notify(preview_lines.question(self.inbox), severity="warning", markup=False)
            return
        if not self.inbox.coming:
            self.app.notify("Nothing of this file comes in.", markup=False)
            return
        self._say(f"Bringing in {len(self.inbox.coming):,} exposures …")
        self.writing.begin(
            self._bring_in, self._leave_with, self._say_why_not, told=self._tell, left=self._say_left,
        )  # fmt: skip

    def _bring_in(self, tell: Tell) -> tuple[list[int], list[str]]:
        """Ids of what came in, and what it means for the next dive, a sentence a watch at most."""
        book, inbox = self.book, self.inbox
        ids = book.do(inbox.write, book.practice, tell)
        return ids, inbox.meaning(ids, book.records(retired=True), book.practice, book.units)

    def _tell(self, done: int, total: int) -> None:
        self._say(f"Bringing in: {done:,} of {total:,} exposures. esc: leave it")

    def _say_left(self) -> None:
        self.app.notify(LEFT, markup=False)
        self.write_detail()

    def _say_why_not(self, error: LogbookError) -> None:
        self.app.notify(error.message, severity="error", markup=False)
        self.write_detail()

    def _leave_with(self, written: tuple[list[int], list[str]]) -> None:
        ids, meant = written
        noun = "exposure" if len(ids) == 1 else "exposures"
        words = f"{len(ids):,} {noun} came in from {self.inbox.name}. z: undo"
        self.app.pop_screen()
        self.app.pop_screen()  # the questions about the file
        self.app.notify("\n".join([printable(words), *a_few(meant)]), markup=False)

    def _say(self, words: str) -> None:
        self.query_one("#detail", Static).update(sentence(words))

    def action_back(self) -> None:
        """Leave what is being written, else one step back."""
        if self.writing.busy:
            self.writing.leave()
        else:
            super().action_back()
