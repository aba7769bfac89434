"""Help: what the room one came from is for, and every key that works in it."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.widgets import Static

from logbook.caution import CAUTION, CROWN_IN_WATER, LIFE_SUPPORT, TESTS_SAY_LITTLE
from logbook.tui.shell.ink import Line, content
from logbook.tui.shell.room import Room, key_name


class HelpRoom(Room):
    """The keys of another room, in words."""

    CSS_PATH = "help.tcss"
    TITLE_WORDS = "Help"
    PURPOSE = "The keys of the room you came from."
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "back", "back"),
        Binding("question_mark,f1", "back", "back", show=False),
    ]

    def __init__(self, about: Room) -> None:
        super().__init__()
        self.about = about

    def body(self) -> ComposeResult:
        """Purpose, keys, cautions."""
        with VerticalScroll(id="page"):
            yield Static(content(self._lines()))

    def on_mount(self) -> None:
        """The page scrolls by the arrow keys."""
        super().on_mount()
        self.query_one("#page").focus()

    def _lines(self) -> list[Line]:
        lines: list[Line] = [[(self.about.TITLE_WORDS, "title")], [(self.about.PURPOSE, "plain")], []]
        for binding in self.about.room_bindings():
            if binding.description:
                key = binding.key_display or key_name(binding.key)
                words = binding.tooltip or binding.description
                lines.append([(f"{key:>6}  ", "key"), (words, "plain")])
        lines += [
            [("    ^p  ", "key"), ("every action by name", "plain")],
            [("   tab  ", "key"), ("the next field; the mouse works everywhere", "plain")],
            [],
            [(CAUTION, "mild")],
            [(TESTS_SAY_LITTLE, "plain")],
            [(LIFE_SUPPORT, "plain")],
            [(CROWN_IN_WATER, "plain")],
        ]
        return lines
