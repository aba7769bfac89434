"""What the rooms of the bench have in common: questions, an answer that follows them, and scrolling in it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.widgets import Input, Static

from logbook.bench.questions import Around
from logbook.errors import InUse, LogbookError
from logbook.model.values import Settings
from logbook.physics.worked import Worksheet
from logbook.tui.bench import lines as bench_lines
from logbook.tui.bench.asks import Asks
from logbook.tui.shell.ink import Line, content
from logbook.tui.shell.room import Room
from logbook.tui.widgets.pick import Options
from logbook.tui.widgets.questions import keys_in_a_field


class WorkedRoom(Room):
    """A room with questions and `#answer`, in which `#worked` shows a worksheet."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+o", "read_answer", "read on", tooltip="to the answer, to scroll in it"),
        Binding("up", "step(-1)", "question above", show=False),
        Binding("down", "step(1)", "question below", show=False),
        Binding("pageup", "scroll(-1)", "scroll the answer up", show=False),
        Binding("pagedown", "scroll(1)", "scroll the answer down", show=False),
    ]
    OF_LETTERS: ClassVar[tuple[str, ...]] = ()  # actions whose keys are text in a field

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
        try:
            self.settings = self.book.settings
        except LogbookError:
            self.settings = Settings()
        self.units = self.book.units_asked or self.settings.units
        self.around = Around(lambda: self.settings.home, self.book.today.month, self.units)

    @property
    def asks(self) -> Asks:
        """The questions that are shown."""
        raise NotImplementedError

    def hint(self) -> str:
        """How to answer where the cursor is."""
        return self.asks.hint()

    def draw_answer(self) -> None:
        """Write the answer as wide as there is room for it."""
        raise NotImplementedError

    def show_answer(self, sheet: Worksheet | None, refusals: Sequence[LogbookError]) -> None:
        """The worksheet, else what stands in its way and beside no question."""
        width = max(20, self.query_one("#answer").scrollable_content_region.width)
        lines: list[Line] = [[(r.message, "grave")] for r in refusals if r.where not in self.asks.texts]
        if sheet is not None:
            lines = bench_lines.answer(sheet, self.units, width)
        elif not lines:
            lines = [[("The answer follows once this can be read.", "dim")]]
        self.query_one("#worked", Static).update(content(lines))

    def on_resize(self) -> None:
        """The answer follows the window."""
        super().on_resize()
        self.call_after_refresh(self.draw_answer)

    def shown_keys(self) -> list[tuple[str, str, str]]:
        """Letters are text in a field, so that help is on F1 there."""
        keys = super().shown_keys()
        return keys_in_a_field(keys, hidden=self.OF_LETTERS) if isinstance(self.focused, Input) else keys

    def on_descendant_focus(self) -> None:
        """Keys and hint follow the cursor."""
        self.say_keys()
        self.query_one("#said", Static).update(content([[(self.hint(), "dim")]]))

    def ask_after(self, control: Input | Options) -> None:
        """Enter: the next question, after the last of them the answer."""
        if not self.asks.ask_after(control):
            self.action_read_answer()

    def action_read_answer(self) -> None:
        """The cursor into the answer."""
        self.query_one("#answer").focus()

    def action_step(self, step: int) -> None:
        """The question above or below."""
        (self.focus_next if step > 0 else self.focus_previous)()

    def action_scroll(self, step: int) -> None:
        """The answer, where it is longer than its place."""
        pane = self.query_one("#answer", VerticalScroll)
        (pane.scroll_page_down if step > 0 else pane.scroll_page_up)(animate=False)
