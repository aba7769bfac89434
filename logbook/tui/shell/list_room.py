"""What the rooms have in common that are a list: its rows, and the one under the cursor in full below."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Generic, TypeVar

from textual import on
from textual.app import ComposeResult
from textual.widgets import Static

from logbook.tui.shell.ink import Line, content
from logbook.tui.shell.room import Room
from logbook.tui.widgets.lines import Lines

Row = TypeVar("Row")


class ListRoom(Room, Generic[Row]):
    """A room with one list, heads above it and what is under the cursor below, as far as it has them."""

    def __init__(self) -> None:
        super().__init__()
        self.rows: Sequence[Row] = ()

    def body(self) -> ComposeResult:
        """What stands above, the rows, and the one under the cursor."""
        yield Static(id="heads")
        yield Lines(self._draw)
        yield Static("─" * 400, classes="rule")
        yield Static(id="detail")

    def on_mount(self) -> None:
        """The list has the keys."""
        self.query_one(Lines).focus()

    def on_resize(self) -> None:
        """Heads and detail follow the window."""
        self.write_heads()
        self.write_detail()

    @property
    def here(self) -> Row | None:
        """What is under the cursor."""
        at = self.query_one(Lines).cursor
        return self.rows[at] if at < len(self.rows) else None

    def show_rows(self, cursor: int | None = None) -> None:
        """Show the rows as they are now; the cursor stays where it can, or goes where it is told."""
        self.say_title()
        self.write_heads()
        self.query_one(Lines).show(len(self.rows), cursor)
        self.write_detail()

    def row_line(self, row: Row, width: int) -> Line:
        """A row on its line."""
        raise NotImplementedError

    def _draw(self, at: int, width: int) -> Line:
        return self.row_line(self.rows[at], width)

    def heads(self) -> Iterable[Line]:
        """What stands above the list."""
        return ()

    def write_heads(self) -> None:
        """Write it as wide as the window."""
        for place in self.query("#heads").results(Static):
            place.update(content(self.heads()))

    def detail(self) -> Iterable[Line]:
        """What is under the cursor in full."""
        return ()

    @on(Lines.Highlighted)
    def write_detail(self) -> None:
        """Write it as it is now."""
        for place in self.query("#detail").results(Static):
            place.update(content(self.detail()))
