"""Everything that is due: what asks now, what was snoozed, and what comes later."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Static

from logbook.model.judge.standing import Standing
from logbook.tui.due import lines as due_lines
from logbook.tui.due.lines import Task
from logbook.tui.shell.ink import Line, content, wrapped
from logbook.tui.shell.list_room import ListRoom
from logbook.tui.shell.room import CHANGES, ONE_LINE, REDO, UNDO
from logbook.tui.widgets.lines import Lines


class DueRoom(ListRoom[Task]):
    """One line a watch, its tasks unfolded on demand."""

    CSS_PATH = "room.tcss"
    TITLE_WORDS = "Due"
    PURPOSE = "What is coming up, due or overdue for which watch, what you snoozed, and what comes later."
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("d", "done", "done", tooltip="record that it was done, as the workshop events that it is"),
        Binding("s", "snooze", "snooze", tooltip="silence it until a date"),
        Binding("enter", "unfold", "unfold", tooltip="show each task of a watch, or fold them again"),
        Binding("l", "watch_room('watch')", "open watch", tooltip="the watch under the cursor, in full"),
        Binding("v", "room('visits')", "visits", tooltip="the fewest workshop visits that cover it"),
        UNDO,
        REDO,
        CHANGES,
        ONE_LINE,
    ]

    def __init__(self) -> None:
        super().__init__()
        self.unfolded: set[str] = set()  # ids of services

    def body(self) -> ComposeResult:
        """A clock that is behind, column heads, the watches, and the one under the cursor."""
        yield Static(id="clock")
        yield from super().body()

    def on_resize(self) -> None:
        """What stands above the list follows the window."""
        self._write_clock(self.book.standings())

    def heads(self) -> list[Line]:
        """Of the columns."""
        return [due_lines.heads(self.app.size.width)]

    def reload(self) -> None:
        """Read the record and show it."""
        standings = self.book.standings()
        self.rows = due_lines.tasks(standings, self.unfolded)
        self._write_clock(standings)
        self.show_rows()

    def title_line(self) -> Line:
        """What asks, and how gravely."""
        asking = [t.service for t in self.rows if t.service.asking]
        role = "grave" if any(service.urgent for service in asking) else "mild" if asking else "good"
        return [("logbook · Due   ", "title"), (due_lines.title(self.rows), role)]

    def _write_clock(self, standings: Sequence[Standing]) -> None:
        """No date below can be trusted while the record is ahead of the clock."""
        said, width = due_lines.clock(standings), max(20, self.size.width - 2)
        clock = self.query_one("#clock", Static)
        clock.display = bool(said)
        clock.update(content([[(part, "mild")] for part in wrapped(said, width)]))

    def row_line(self, row: Task, width: int) -> Line:
        """A service or a task."""
        return due_lines.row(row, width)

    def detail(self) -> Iterable[Line]:
        """The service or task under the cursor."""
        return due_lines.detail(self.here, self.book.today)

    @property
    def watch_here(self) -> int | None:
        """The watch of it."""
        return self.here.watch_id if self.here else None

    @on(Lines.Chosen)
    def action_unfold(self) -> None:
        """Show each task of the service under the cursor, or fold them again."""
        task = self.here
        if task is not None:
            self.unfolded ^= {task.service.id}
            self.reload()
            whole = next(n for n, t in enumerate(self.rows) if t.service.id == task.service.id)
            self.query_one(Lines).cursor = whole

    def action_done(self) -> None:
        """Record that it was done: one task, or the whole service of a watch."""
        task = self.here
        if task is None:
            return
        if len(task.items) == 1 and not (task.item is None and task.service.troubles):
            self.go("event", task.watch_id, task.items[0].task)
        else:
            self.go("service-done", task.watch_id, task.service)

    def action_snooze(self) -> None:
        """Silence it until a date."""
        task = self.here
        if task is not None:
            self.go("snooze", task)
