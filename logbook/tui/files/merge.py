"""What a file of watches, or a whole record, would bring in; nothing is written yet."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.widgets import Static

from logbook.errors import LogbookError
from logbook.files.merging import coming_words, merged_words
from logbook.model.judge.stands_words import a_few, now_standing
from logbook.model.text import printable
from logbook.record.file.record_file import RecordFile
from logbook.record.reading.record_news import WatchNews
from logbook.record.record import Book
from logbook.tui.shell.background import Background, Tell
from logbook.tui.shell.ink import Line, content, sentence
from logbook.tui.shell.room import Room

if TYPE_CHECKING:
    from logbook.record.writing.merge import Merged

HOW = (
    "A watch that is on record stays as it is described here; of its exposures, events, habits and worn "
    "stretches comes in what is not here yet. Of a table comes in a passed test that is not here yet."
)
LOOKING, WRITING = "Looking at what is new …", "Bringing it in …"


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
        self._seen: Merged | None = None  # None while it is being looked at
        self.looking, self.writing = Background(self), Background(self)

    def body(self) -> ComposeResult:
        """The words, then the watches of the file."""
        with VerticalScroll(id="words"):
            yield Static(sentence(LOOKING), id="merge-words")

    def on_mount(self) -> None:
        """Arrows scroll the list, which follows from a thread."""
        self.query_one("#words").focus()
        self.looking.begin(self._look, self._show, self._say_why_not)

    def action_bring_in(self) -> None:
        """Write what is new, in a thread."""
        if self._seen is None or self.writing.busy:
            return
        if self._seen.nothing:
            self.app.notify("Nothing of this file is new.", markup=False)
            return
        self.query_one("#merge-words", Static).update(sentence(WRITING))
        self.writing.begin(self._bring_in, self._leave_with, self._say_why_not)

    def _look(self, _: Tell) -> Merged:
        """How much of the file would come in; of one for which there is no record yet all of it."""
        from logbook.record.writing import merge

        if self.book.exists():
            return self.book.do(merge.look, self._file, self.book.practice)
        with TemporaryDirectory() as folder:
            empty = Book(Path(folder) / "empty", self.book.today)
            with empty.writing(create=True) as store:
                return merge.look(store, self._file, self.book.practice)

    def _bring_in(self, _: Tell) -> tuple[Merged, list[str]]:
        """What of the file is new, and of each watch the gravest of what stands since."""
        from logbook.record.writing import merge

        book, before = self.book, self.book.records(retired=True)
        with book.writing(create=True) as store:
            merged = merge.bring_in(store, self._file, book.practice)
        return merged, now_standing(before, book.records(retired=True), book.practice, book.units)

    def action_back(self) -> None:
        """One step back, unless it is being written, which ends by itself."""
        if self.writing.busy:
            self.app.notify(f"{WRITING} It takes a moment; undo takes it back.", markup=False)
        else:
            super().action_back()

    def _say_why_not(self, reason: LogbookError) -> None:
        """Leave where there is nothing to show; else it is as it was seen."""
        if self._seen is None:
            while self.app.screen is not self:  # help, or the palette
                self.app.pop_screen()
            self.leave(reason)
        else:
            self.app.notify(reason.message, severity="error", markup=False)
            self._show(self._seen)

    def _leave_with(self, written: tuple[Merged, list[str]]) -> None:
        merged, meant = written
        while self.app.screen is not self:
            self.app.pop_screen()
        self.app.pop_screen()
        self.app.pop_screen()  # the questions about the file
        words = f"{self._file.name}: {merged_words(merged, dry_run=False)} z: undo"
        self.app.notify("\n".join([printable(words), *a_few(meant)]), markup=False)

    def _show(self, merged: Merged) -> None:
        self._seen = merged
        lines: list[Line] = [
            [(f"{self._file.name}: {merged_words(merged, dry_run=True)}", "strong")],
            [("", "plain")],
            [(HOW, "dim")],
            [("", "plain")],
            *_shelf(merged.shelf),
        ]
        self.query_one("#merge-words", Static).update(content(lines))


def _shelf(shelf: tuple[WatchNews, ...]) -> Iterator[Line]:
    """One line a watch: whether it is new, and what of it comes in."""
    for one in shelf:
        state, role = ("new", "good") if one.here is None else ("on record", "dim")
        renamed = f", here {one.here}" if one.renamed else ""
        coming = coming_words(one) or ("" if one.here is None else "nothing new")
        yield [(f"{state:<11}", role), (f"{one.name}{renamed}", "plain"), (f"  {coming}", "dim")]
