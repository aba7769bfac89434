"""What the rooms of the bench have in common: an answer that is a worksheet."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import ClassVar

from textual import on
from textual.binding import Binding, BindingType
from textual.widgets import Input, Static

from logbook.bench.questions import Around
from logbook.errors import LogbookError
from logbook.physics.worked import Worksheet
from logbook.tui.bench import lines as bench_lines
from logbook.tui.bench.asks import Asks
from logbook.tui.shell.answering import AnsweringRoom
from logbook.tui.shell.ink import Line, content
from logbook.tui.widgets.pick import Options


@dataclass(frozen=True, slots=True)
class Answered:
    """A worksheet, or what stands in the way of one; and what an empty answer stands for, by question."""

    sheet: Worksheet | None = None
    refusals: tuple[LogbookError, ...] = ()
    silent: Mapping[str, str] = field(default_factory=dict)
    wait_s: float | None = None  # how long a timer is to run


class WorkedRoom(AnsweringRoom):
    """A room in whose answer `#worked` shows a worksheet."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+o", "read_answer", "read on", tooltip="to the answer, to scroll in it"),
    ]

    answered: Answered | None = None

    def look_around(self) -> None:
        """The home water and the units, as they were when the record was last read."""
        self.settings, self.units = self.book.settings, self.book.units
        self.around = Around(lambda: self.settings.home, self.book.today.month, self.units)

    @property
    def asks(self) -> Asks:
        """The questions that are shown."""
        raise NotImplementedError

    def said(self) -> Line:
        """How to answer where the cursor is."""
        return [(self.asks.hint(), "dim")]

    def consider(self) -> None:
        """Work it out anew; no key waits for it."""
        raise NotImplementedError

    @on(Input.Changed)
    def _typed(self) -> None:
        self.consider()

    def take(self, answered: Answered) -> None:
        """Show an answer, and what is wrong beside the question it is about."""
        self.answered = answered
        self.asks.complain({refusal.where or "": refusal.message for refusal in answered.refusals})
        self.draw_answer()

    def draw_answer(self) -> None:
        """The worksheet, else what stands in its way and beside no question."""
        answered = self.answered
        if answered is None:
            return
        width, texts = max(20, self.pane.scrollable_content_region.width), self.asks.texts
        lines: list[Line] = [[(r.message, "grave")] for r in answered.refusals if r.where not in texts]
        if answered.sheet is not None:
            lines = bench_lines.answer(answered.sheet, self.units, width)
        elif not lines:
            lines = [[("The answer follows once this can be read.", "dim")]]
        self.query_one("#worked", Static).update(content(lines))

    def ask_after(self, control: Input | Options) -> None:
        """Enter: the next question, after the last of them the answer."""
        if not self.asks.ask_after(control):
            self.action_read_answer()
