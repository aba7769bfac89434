"""What stands around every room: the title line, the caution, and the keys that work there."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, cast

from textual import events
from textual.containers import Vertical
from textual.widgets import Static

from logbook.caution import CAUTION_LINE
from logbook.tui.shell.ink import Line, content, sentence

if TYPE_CHECKING:
    from logbook.tui.app import LogbookApp
    from logbook.tui.shell.room import Room

ShownKey = tuple[str, str, str]  # key as written, its words, its action
LAID_OUT_FOR = (80, 24)  # columns and lines in which every room shows all it has
MOST_ROWS, GAP = 2, 2
ALWAYS = ("help", "back")  # the way to every other key, and the way out


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


class Edge(Vertical):
    """Lines that stay at the top or the foot of the window, however little room there is in between."""

    DEFAULT_CSS = "Edge { height: auto; } Edge#top { dock: top; } Edge#foot { dock: bottom; }"


class SmallWindow(Static):
    """Says so where the window is smaller than the rooms are laid out for; they go on working below it."""

    DEFAULT_CSS = "SmallWindow { height: auto; padding: 0 1; display: none; color: $text-warning; }"

    def __init__(self) -> None:
        super().__init__(id="small-window")

    def measure(self) -> None:
        """Show the sentence, or put it away."""
        width, height = self.app.size
        small = width < LAID_OUT_FOR[0] or height < LAID_OUT_FOR[1]
        if small:
            needed = " by ".join(map(str, LAID_OUT_FOR))
            words = f"{width} by {height} characters are few: parts are cut off."
            self.update(sentence(f"{words} Rooms are laid out for {needed}.", "mild"))
        self.display = small


class WaitLine(Static):
    """What one waits for, and how to leave it; not there while one waits for nothing."""

    DEFAULT_CSS = "WaitLine { height: auto; padding: 0 1; display: none; }"

    def __init__(self) -> None:
        super().__init__(id="wait")

    def say(self, words: str) -> None:
        """Show the sentence, or put it away."""
        self.update(sentence(words, "strong"))
        self.display = bool(words)

    def on_mount(self) -> None:
        """A room that is opened meanwhile says it too."""
        self.say(cast("LogbookApp", self.app).waited_for)


class KeyLine(Static):
    """The keys of a room with their words; a click on one does what the key does."""

    DEFAULT_CSS = "KeyLine { height: auto; padding: 0 1; background: $surface; }"

    def __init__(self) -> None:
        super().__init__(id="keys")
        self._spans: list[tuple[int, int, int, str]] = []  # line, from cell, to cell, action

    def say(self, room: Room) -> None:
        """Write the room's keys, wrapped between two of them where one line is too short."""
        rows = key_rows(room.shown_keys(), max(20, self.app.size.width - 2))
        lines: list[Line] = []
        self._spans = []
        for n, row in enumerate(rows):
            at = 0
            for shown in row:
                length = _cells(shown)
                self._spans.append((n, at, at + length, shown[2]))
                at += length + GAP
            words = [((key, "key"), (f" {said}  ", "plain")) for key, said, _ in row]
            lines.append([piece for pair in words for piece in pair])
        self.update(content(lines))

    async def on_click(self, event: events.Click) -> None:
        """Do what the key under the pointer does."""
        x = event.x - 1
        for line, start, end, action in self._spans:
            if event.y == line and start <= x < end:
                await self.screen.run_action(action)
                return


def key_rows(keys: Sequence[ShownKey], width: int) -> list[list[ShownKey]]:
    """Keys in at most two rows of `width` cells; those that find no place are left to help, which stays.

    A row ends between two keys. What a room names first is the last to go.
    """
    staying = [key for key in keys if key[2] in ALWAYS]
    others = [key for key in keys if key[2] not in ALWAYS]
    for shown in range(len(others), -1, -1):
        chosen = [*others[:shown], *staying]
        rows = _wrapped([key for key in keys if key in chosen], width)
        if len(rows) <= MOST_ROWS:
            return rows
    return _wrapped(staying, width)


def _wrapped(keys: Sequence[ShownKey], width: int) -> list[list[ShownKey]]:
    rows: list[list[ShownKey]] = [[]]
    at = 0
    for key in keys:
        if at and at + _cells(key) > width:
            rows.append([])
            at = 0
        rows[-1].append(key)
        at += _cells(key) + GAP
    return rows


def _cells(key: ShownKey) -> int:
    from rich.cells import cell_len

    return cell_len(f"{key[0]} {key[1]}")
