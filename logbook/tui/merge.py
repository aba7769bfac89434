"""What a file of watches, or a whole record, would bring in; nothing is written yet."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.widgets import Static

from logbook.exchange.merging import merged_words
from logbook.reckoning.text import printable
from logbook.tui.ink import Line, content
from logbook.tui.room import Room

if TYPE_CHECKING:
    from logbook.keeping.merge import Merged
    from logbook.keeping.record_file import RecordFile

HOW = (
    "A watch whose nickname is on record stays as it is described here; of its exposures, events, habits and "
    "worn stretches comes in what is not here yet."
)


class MergeRoom(Room):
    """What would come in, in a sentence and a list of watches."""

    CSS_PATH = "merge.tcss"
    TITLE_WORDS = "Preview"
    PURPOSE = "What a table of watches or another record would bring in, as one step that undo takes back."
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("b", "bring_in", "bring in", tooltip="write what is new, all of it or nothing"),
    ]

    def __init__(self, file: RecordFile) -> None:
        super().__init__()
        self._file = file
        self._merged: Merged

    def prepare(self) -> None:
        """See what of it is new."""
        self._merged = self.book.look_at(self._file)

    def body(self) -> ComposeResult:
        """The words, then the watches of the file."""
        with VerticalScroll(id="words"):
            yield Static(id="merge-words")

    def on_mount(self) -> None:
        """Arrows scroll the list."""
        here = {watch.name for watch in self.book.watches()}
        lines: list[Line] = [
            [(f"{self._file.name}: {merged_words(self._merged, dry_run=True)}", "strong")],
            [("", "plain")],
            [(HOW, "dim")],
            [("", "plain")],
        ]
        for one in self._file.watches:
            state, role = ("here already", "dim") if one.watch.name in here else ("new", "good")
            lines.append([(f"{state:<14}", role), (one.watch.name, "plain")])
        self.query_one("#merge-words", Static).update(content(lines))
        self.query_one("#words").focus()

    def action_bring_in(self) -> None:
        """Write what is new."""
        if self._merged.nothing:
            self.app.notify("Nothing of this file is new.", markup=False)
            return
        merged = self.looked_up(lambda: self.book.merge(self._file))
        if merged is not None:
            self.app.pop_screen()
            self.app.pop_screen()  # the questions about the file
            words = f"{self._file.name}: {merged_words(merged, dry_run=False)} z: undo"
            self.app.notify(printable(words), markup=False)
