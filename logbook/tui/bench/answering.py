"""What the rooms of the bench have in common: an answer that is a worksheet."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.widgets import Input, Static

from logbook.bench.questions import Around
from logbook.errors import InUse, LogbookError
from logbook.model.values import Settings
from logbook.physics.worked import Worksheet
from logbook.tui.bench import lines as bench_lines
from logbook.tui.bench.asks import Asks
from logbook.tui.shell.answering import AnsweringRoom
from logbook.tui.shell.ink import Line, content
from logbook.tui.widgets.pick import Options


class WorkedRoom(AnsweringRoom):
    """A room in whose answer `#worked` shows a worksheet."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+o", "read_answer", "read on", tooltip="to the answer, to scroll in it"),
    ]

    def prepare(self) -> None:
        """Home water and units are waited for while another holds the record, rather than taken as usual."""
        try:
            self.settings = self.book.settings
        except InUse:
            raise
        except LogbookError:
            self.settings = Settings()

    def look_around(self) -> None:
        """The home water and the units; a calculator works without any record."""
        if not self.prepared:
            self.prepare()
        self.units = self.book.units_asked or self.settings.units
        self.around = Around(lambda: self.settings.home, self.book.today.month, self.units)

    @property
    def asks(self) -> Asks:
        """The questions that are shown."""
        raise NotImplementedError

    def said(self) -> Line:
        """How to answer where the cursor is."""
        return [(self.asks.hint(), "dim")]

    def show_answer(self, sheet: Worksheet | None, refusals: Sequence[LogbookError]) -> None:
        """The worksheet, else what stands in its way and beside no question."""
        width = max(20, self.pane.scrollable_content_region.width)
        lines: list[Line] = [[(r.message, "grave")] for r in refusals if r.where not in self.asks.texts]
        if sheet is not None:
            lines = bench_lines.answer(sheet, self.units, width)
        elif not lines:
            lines = [[("The answer follows once this can be read.", "dim")]]
        self.query_one("#worked", Static).update(content(lines))

    def ask_after(self, control: Input | Options) -> None:
        """Enter: the next question, after the last of them the answer."""
        if not self.asks.ask_after(control):
            self.action_read_answer()
