"""What stands around every room: the title line, the caution, and the keys that work there."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual import events
from textual.widgets import Static

from logbook.caution import CAUTION_LINE
from logbook.tui.ink import Line, content, sentence

if TYPE_CHECKING:
    from logbook.tui.room import Room


class TitleLine(Static):
    """The first line: where one is, and what asks for attention."""

    DEFAULT_CSS = "TitleLine { height: 1; padding: 0 1; background: $surface; color: $foreground; }"

    def say(self, line: Line) -> None:
        """Show a line of pieces."""
        self.update(content([line]))


class Caution(Static):
    """The line that goes wherever a score or a verdict shows."""

    DEFAULT_CSS = "Caution { height: auto; max-height: 3; padding: 0; color: $text-warning; }"

    def __init__(self) -> None:
        super().__init__(sentence(CAUTION_LINE, "mild"), id="caution")


class KeyLine(Static):
    """The keys of a room with their words; a click on one does what the key does."""

    DEFAULT_CSS = "KeyLine { height: auto; max-height: 2; padding: 0 1; background: $surface; }"

    def __init__(self) -> None:
        super().__init__(id="keys")
        self._spans: list[tuple[int, int, int, str]] = []  # line, from cell, to cell, action

    def say(self, room: Room) -> None:
        """Write the room's keys, wrapped between two of them where one line is too short."""
        from rich.cells import cell_len

        width = max(20, self.app.size.width - 2)
        lines: list[list[tuple[str, str]]] = [[]]
        self._spans = []
        at = 0
        for key, words, action in room.shown_keys():
            length = cell_len(key) + 1 + cell_len(words)
            if at and at + length > width:
                lines.append([])
                at = 0
            lines[-1] += [(key, "key"), (f" {words}  ", "plain")]
            self._spans.append((len(lines) - 1, at, at + length, action))
            at += length + 2
        self.update(content(lines))

    async def on_click(self, event: events.Click) -> None:
        """Do what the key under the pointer does."""
        x = event.x - 1
        for line, start, end, action in self._spans:
            if event.y == line and start <= x < end:
                await self.screen.run_action(action)
                return
