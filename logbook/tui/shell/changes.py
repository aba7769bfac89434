"""What was changed, the last change first: undo takes it back, redo does it again."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Static

from logbook.record.reading import steps
from logbook.record.record import LISTED_STEPS
from logbook.record.writing.undo import Step
from logbook.tui.shell.ink import Line, short, wrapped
from logbook.tui.shell.list_room import ListRoom
from logbook.tui.widgets.lines import Lines

HOW = "Undo and redo walk through this list one by one; a new change ends what could be redone."


class ChangesRoom(ListRoom[Step]):
    """One line a change: when, what, and whether it is taken back."""

    CSS_PATH = "changes.tcss"
    TITLE_WORDS = "Changes"
    PURPOSE = (
        "Every change to the record, imports included, is one step: undo takes the last one back, redo does "
        "again what was taken back last. What you were told, by a notice or a calendar, is no step."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("z", "undo", "undo", tooltip="take back the change that comes next"),
        Binding("y", "redo", "redo", tooltip="do again what was taken back last"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.back: list[Step] = []
        self.forward: list[Step] = []

    def body(self) -> ComposeResult:
        """The changes, and the one under the cursor in full."""
        yield Lines(self._draw)
        yield Static("─" * 400, classes="rule")
        yield Static(id="detail")

    def reload(self) -> None:
        """Read the steps and show them."""
        self.back, self.forward = self.book.steps()
        # The newest first: what was taken back stands above what would be.
        self.rows = [*reversed(self.forward), *self.back]
        self.show_rows(min(len(self.forward), max(0, len(self.rows) - 1)))

    def title_line(self) -> Line:
        """How far undo and redo lead."""
        words = f"{_counted(len(self.back))} to undo, {_counted(len(self.forward))} to redo"
        return [("logbook · Changes   ", "title"), (words, "plain")]

    def _draw(self, at: int, width: int) -> Line:
        step, mark = self.rows[at], self._mark(at)
        role = "dim" if step.undone else "strong" if mark else "plain"
        words = f"{steps.when_words(step)}  {steps.step_words(step)}"
        return [(f" {mark:<11}", "key"), (short(words, width - 12), role)]

    def _mark(self, row: int) -> str:
        """What a key would do with this row next."""
        if row == len(self.forward):
            return "undo next"
        return "redo next" if row == len(self.forward) - 1 else "undone" if row < len(self.forward) else ""

    def detail(self) -> list[Line]:
        """The change under the cursor, and how the keys go."""
        words = steps.step_words(self.here) if self.here else "Nothing was changed yet."
        lines = wrapped(words, max(20, self.app.size.width - 2))[:2]
        return [*([(line, "plain")] for line in lines), [(HOW, "dim")]]


def _counted(count: int) -> str:
    return str(count) if count < LISTED_STEPS else f"{LISTED_STEPS} or more"
