"""A question that one key or one click answers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from textual import events
from textual.message import Message
from textual.widgets import Static

from logbook.tui.shell.ink import Piece, content

LABEL_CELLS = 10


@dataclass(frozen=True, slots=True)
class Answer:
    """One answer: its key as written, its words, what it stands for."""

    key: str
    words: str
    value: bool


class Choice(Static, can_focus=True):
    """A label and its answers, side by side. The room binds the keys; a click answers too."""

    DEFAULT_CSS = """
    Choice { height: 1; color: $foreground-muted; }
    Choice:focus { background: $surface-lighten-1; color: $foreground; }
    """

    @dataclass
    class Chosen(Message):
        """An answer was clicked."""

        value: bool

    def __init__(self, label: str, *, id: str) -> None:
        super().__init__(id=id)
        self.label = label
        self.answers: Sequence[Answer] = ()
        self._spans: list[tuple[int, int, bool]] = []  # from cell, to cell, value

    def offer(self, label: str, answers: Sequence[Answer]) -> None:
        """Ask this, with these answers."""
        self.label, self.answers = label, answers
        self._draw(here=self.has_focus)

    def on_focus(self) -> None:
        """The label stands out, as that of a field does."""
        self._draw(here=True)

    def on_blur(self) -> None:
        """And steps back."""
        self._draw(here=False)

    def _draw(self, *, here: bool) -> None:
        pieces: list[Piece] = [(self.label.ljust(LABEL_CELLS), "key" if here else "plain")]
        self._spans = []
        at = LABEL_CELLS
        for answer in self.answers:
            width = len(answer.key) + 1 + len(answer.words)
            pieces += [(answer.key, "key"), (f" {answer.words}", "plain"), ("   ", "plain")]
            self._spans.append((at, at + width, answer.value))
            at += width + 3
        self.update(content([pieces]))

    def on_click(self, event: events.Click) -> None:
        """Take the answer under the pointer."""
        for start, end, value in self._spans:
            if start <= event.x < end:
                self.post_message(self.Chosen(value))
                return
