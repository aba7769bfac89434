"""The contents of a book: its chapters in one line or one under the other, the one that is open marked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from textual import events
from textual.message import Message
from textual.widgets import Static

from logbook.tui.shell.ink import Line, Piece, content, fit


class Contents(Static):
    """Chapter names by number; with a search, how much of each was found. A click opens one."""

    @dataclass
    class Picked(Message):
        """A chapter was clicked."""

        chapter: int

    def __init__(self, names: Sequence[str], *, id: str | None = None) -> None:
        super().__init__(id=id)
        self.names = names
        self.below = False  # one under the other
        self._ends: list[int] = []  # of each name in the one line

    def say(self, current: int, found: Sequence[int] | None) -> None:
        """Mark a chapter as the open one; `found` says how much a search found in each."""
        counts = ["" if found is None else f"{n} found" if n else "–" for n in found or [0] * len(self.names)]
        roles = ["strong" if n == current else "dim" if found and not found[n] else "plain"
                 for n in range(len(self.names))]  # fmt: skip
        labels = [f"{n + 1} {name}" for n, name in enumerate(self.names)]
        marks = ["▸" if n == current else " " for n in range(len(self.names))]
        if self.below:
            width = max(map(len, labels)) + 1
            lines: list[Line] = [
                [(mark, "key"), (fit(label, width), role), (count, "good")]
                for mark, label, role, count in zip(marks, labels, roles, counts, strict=True)
            ]
        else:
            lines = [self._one_line(marks, labels, roles, found)]
        self.update(content(lines))

    def _one_line(
        self, marks: Sequence[str], labels: Sequence[str], roles: Sequence[str], found: Sequence[int] | None
    ) -> list[Piece]:
        line: list[Piece] = []
        self._ends = []
        for n, (mark, label, role) in enumerate(zip(marks, labels, roles, strict=True)):
            count = f" ({found[n]})" if found else ""
            line += [(mark, "key"), (label, role), (count, "good"), (" ", "plain")]
            self._ends.append((self._ends[-1] if self._ends else 0) + len(mark + label + count) + 1)
        return line

    def on_click(self, event: events.Click) -> None:
        """Open the chapter under the pointer."""
        at = event.get_content_offset(self)
        if at is None:
            return
        chapter = at.y if self.below else sum(end <= at.x for end in self._ends)
        if chapter < len(self.names):
            self.post_message(self.Picked(chapter))
