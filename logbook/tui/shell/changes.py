"""What was changed, the last change first: undo takes it back, redo does it again."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Static

from logbook.record.reading import steps
from logbook.record.writing.undo import Step
from logbook.tui.shell.book import LISTED_STEPS
from logbook.tui.shell.ink import Line, content, short, wrapped
from logbook.tui.shell.room import Room
from logbook.tui.widgets.frame import TitleLine
from logbook.tui.widgets.lines import Lines

HOW = "Undo and redo walk through this list one by one; a new change ends what could be redone."


class ChangesRoom(Room):
    """One line a change: when, what, and whether it is taken back."""

    CSS_PATH = "changes.tcss"
    TITLE_WORDS = "Changes"
    PURPOSE = (
        "Every change to the record, imports included, is one step: undo takes the last one back, redo does "
        "again what was taken back last. What you were told, by a notice or a calendar, is no step."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("z", "undo", "undo", tooltip="take back the change that is marked as next"),
        Binding("y", "redo", "redo", tooltip="do again what was taken back last"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.back: list[Step] = []
        self.forward: list[Step] = []

    def body(self) -> ComposeResult:
        """The changes, and the one under the cursor in full."""
        yield Lines(self._draw, id="changes")
        yield Static("─" * 400, classes="rule")
        yield Static(id="detail")

    def on_mount(self) -> None:
        """The cursor begins at what undo would take back."""
        self.query_one(Lines).focus()

    def reload(self) -> None:
        """Read the steps and show them."""
        self.back, self.forward = self.book.steps()
        words = f"{_counted(len(self.back))} to undo, {_counted(len(self.forward))} to redo"
        self.query_one("#title", TitleLine).say([("logbook · Changes   ", "title"), (words, "plain")])
        self.query_one(Lines).show(len(self._steps), min(len(self.forward), max(0, len(self._steps) - 1)))
        self._write_detail()

    @property
    def _steps(self) -> list[Step]:
        """The newest first: what was taken back stands above what would be."""
        return [*reversed(self.forward), *self.back]

    def _draw(self, row: int, width: int) -> Line:
        step = self._steps[row]
        mark = self._mark(row)
        role = "dim" if step.undone else "strong" if mark else "plain"
        words = f"{steps.when_words(step)}  {steps.step_words(step)}"
        return [(f" {mark:<11}", "key"), (short(words, width - 12), role)]

    def _mark(self, row: int) -> str:
        """What a key would do with this row next."""
        if row == len(self.forward):
            return "undo next"
        return "redo next" if row == len(self.forward) - 1 else "undone" if row < len(self.forward) else ""

    def on_lines_highlighted(self) -> None:
        """Another row, another detail."""
        self._write_detail()

    def _write_detail(self) -> None:
        rows = self._steps
        width = max(20, self.app.size.width - 2)
        if not rows:
            found = [[("Nothing was changed yet.", "plain")]]
        else:
            step = rows[self.query_one(Lines).cursor]
            found = [[(line, "plain")] for line in wrapped(steps.step_words(step), width)[:2]]
        self.query_one("#detail", Static).update(content([*found, [(HOW, "dim")]]))


def _counted(count: int) -> str:
    return str(count) if count < LISTED_STEPS else f"{LISTED_STEPS} or more"
