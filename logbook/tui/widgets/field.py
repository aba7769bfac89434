"""A question on one line: its label and a frameless entry, marked while its answer cannot be taken."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.widget import Widget
from textual.widgets import Input, Static

from logbook.model.text import printable
from logbook.tui.shell.ink import sentence

LONGEST = 400  # characters; more than any answer has


class Entry(Input):
    """One line of text; what cannot be shown on a terminal stands there escaped, also when pasted."""

    def __init__(self, name: str, longest: int = LONGEST) -> None:
        super().__init__(name=name, id=f"{name}-entry", compact=True)
        self.longest = longest
        self.cursor_blink = False

    def validate_value(self, value: str) -> str:
        """Text that a terminal can show, no longer than an answer may be."""
        return printable(value[: self.longest])[: self.longest]


def write_label(label: Static, words: str, wrong: bool) -> None:
    """A label, marked where its answer is wrong; however long it is, a blank stays before the answer."""
    shown = f"! {words}" if wrong else words
    label.styles.min_width = len(shown) + 1 + label.gutter.width
    label.update(sentence(shown))


class Asked(Horizontal):
    """A label and what takes its answer. `mark` says that the answer is wrong; the room says why."""

    DEFAULT_CSS = """
    Asked { height: 1; }
    Asked .label { color: $foreground-muted; }
    Asked.-here .label { color: $accent; text-style: bold; }
    Asked.-wrong .label { color: $text-error; text-style: bold; }
    """

    def __init__(self, name: str, label: str, control: Widget) -> None:
        super().__init__(id=name, name=name)
        self.label = label
        self.control = control

    def compose(self) -> ComposeResult:
        """The label, then what takes the answer."""
        yield Static(sentence(self.label), classes="label")
        yield self.control

    def on_descendant_focus(self) -> None:
        """The label stands out while one writes here."""
        self.add_class("-here")

    def on_descendant_blur(self) -> None:
        """And steps back."""
        self.remove_class("-here")

    @property
    def text(self) -> str:
        """What was answered."""
        raise NotImplementedError

    def fill(self, text: str) -> None:
        """Put an answer there as though it had always stood there: no one gave it."""
        raise NotImplementedError

    def ask(self) -> None:
        """The cursor onto what takes the answer."""
        self.control.focus()

    def mark(self, wrong: bool) -> None:
        """Mark the answer as one that cannot be taken, or lift that."""
        if self.has_class("-wrong") != wrong:
            self.set_class(wrong, "-wrong")
            write_label(self.query_one(".label", Static), self.label, wrong)


class Field(Asked):
    """A question that is answered in writing; `silent` says what an empty answer stands for."""

    DEFAULT_CSS = """
    Field .label { width: 10; }
    Field Entry { width: 1fr; background: $surface; }
    Field Entry:focus { background: $surface-lighten-1; }
    """

    def __init__(self, name: str, label: str, *, silent: str = "", longest: int = LONGEST) -> None:
        self.entry = Entry(name, longest)
        super().__init__(name, label, self.entry)
        self.silent(silent)

    @property
    def text(self) -> str:
        """What stands in the entry."""
        return self.entry.value

    def fill(self, text: str) -> None:
        """Put text there as though it had always stood there: no one typed it."""
        with self.entry.prevent(Input.Changed):
            self.entry.value = text
        if self.entry.has_focus:
            self.entry.select_all()

    def silent(self, words: str) -> None:
        """What an empty entry stands for."""
        self.entry.placeholder = words

    def ask(self) -> None:
        """The cursor into the entry, its text selected."""
        super().ask()
        self.entry.select_all()
