"""A question with a handful of answers on one line: left and right, a first letter, or a click picks one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from rich.cells import cell_len
from textual import events
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.message import Message
from textual.reactive import reactive
from textual.widgets import Static

from logbook.tui.shell.ink import Line, content, short
from logbook.tui.widgets.field import Asked

YES_NO = (("no", "no"), ("yes", "yes"))


def next_with(event: events.Key, words: Sequence[str], at: int) -> int | None:
    """The next of `words` after `at` that begins with the letter of a key, which is then used up."""
    letter = (event.character or "").casefold()
    after = [*range(at + 1, len(words)), *range(at + 1)]
    found: list[int] = [n for n in after if letter.isalnum() and words[n].casefold().startswith(letter)]
    if not found:
        return None
    event.stop()
    event.prevent_default()
    return found[0]


class Options(Static, can_focus=True):
    """The answers in a row, the picked one in brackets; where they do not fit, the picked one alone."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("left", "step(-1)", "the answer before", show=False),
        Binding("right,space", "step(1)", "the next answer", show=False),
        Binding("enter", "go_on", "the next question", show=False),
    ]
    picked: reactive[int] = reactive(0, init=False)

    @dataclass
    class Changed(Message):
        """Another answer was picked."""

        options: Options

        @property
        def control(self) -> Options:
            """The row that sent it."""
            return self.options

    @dataclass
    class Ended(Message):
        """Enter was pressed: the answer stands."""

        options: Options

        @property
        def control(self) -> Options:
            """The row that sent it."""
            return self.options

    def __init__(self, words: Sequence[str]) -> None:
        super().__init__()
        self.words = list(words)

    def offer(self, words: Sequence[str], picked: int) -> None:
        """Other answers in place of these; no one picked them."""
        self.words = list(words)
        self.set_reactive(Options.picked, picked)
        self.refresh()

    def _pieces(self) -> list[tuple[str, str]]:
        return [
            (f"[{word}]", "strong") if n == self.picked else (f" {word} ", "dim")
            for n, word in enumerate(self.words)
        ]

    def _fits(self) -> bool:
        return sum(cell_len(text) for text, _ in self._pieces()) <= self.size.width

    def render(self) -> Content:
        """The row as it stands."""
        if not self.words:
            return Content("")
        return content([self._pieces() if self._fits() else self._alone()])

    def _alone(self) -> Line:
        place = f" {self.picked + 1} of {len(self.words)} →"
        room = max(1, self.size.width - len(place) - 2)
        return [(f"[{short(self.words[self.picked], room)}]", "strong"), (place, "dim")]

    def watch_picked(self) -> None:
        """Tell the room."""
        self.post_message(self.Changed(self))

    def action_step(self, step: int) -> None:
        """The next answer, or the one before; after the last comes the first."""
        if self.words:
            self.picked = (self.picked + step) % len(self.words)

    def action_go_on(self) -> None:
        """Leave the answer as it is."""
        self.post_message(self.Ended(self))

    def on_key(self, event: events.Key) -> None:
        """A first letter goes to the next answer that begins with it."""
        found = next_with(event, self.words, self.picked)
        if found is not None:
            self.picked = found

    def on_click(self, event: events.Click) -> None:
        """The answer under the pointer; the next one where only one is shown."""
        if not self._fits():
            self.action_step(1)
            return
        at = event.get_content_offset(self)
        end = 0
        for n, (text, _) in enumerate(self._pieces()):
            end += cell_len(text)
            if at is not None and at.x < end:
                self.picked = n
                return


class Pick(Asked):
    """A question with fixed answers."""

    DEFAULT_CSS = """
    Pick .label { width: 9; }
    Pick Options { width: 1fr; height: 1; }
    Pick Options:focus { background: $surface-lighten-1; }
    """

    def __init__(self, name: str, label: str, answers: Sequence[tuple[str, str]]) -> None:
        self._values = [value for value, _ in answers]
        self.options = Options([words for _, words in answers])
        super().__init__(name, label, self.options)

    @property
    def text(self) -> str:
        """What was picked."""
        return self._values[self.options.picked] if self._values else ""

    def fill(self, text: str) -> None:
        """Take an answer as though it had always stood there: no one picked it."""
        if text in self._values and text != self.text:
            with self.options.prevent(Options.Changed):
                self.options.picked = self._values.index(text)

    def offer(self, answers: Sequence[tuple[str, str]], value: str) -> None:
        """Other answers in place of these, one of them picked."""
        self._values = [known for known, _ in answers]
        self.options.offer([words for _, words in answers], self._values.index(value))
