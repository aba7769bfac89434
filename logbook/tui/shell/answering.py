"""What the rooms have in common that answer as one types: questions, an answer, scrolling in it."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.widget import Widget
from textual.widgets import Input, Static

from logbook.tui.shell.background import Background
from logbook.tui.shell.ink import Line, content
from logbook.tui.shell.room import Room, keys_in_a_field


class AnsweringRoom(Room):
    """A room with questions, `#said` under them, and an answer in a pane of its own."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "step(-1)", "question above", show=False),
        Binding("down", "step(1)", "question below", show=False),
        Binding("pageup", "scroll(-1)", "scroll the answer up", show=False),
        Binding("pagedown", "scroll(1)", "scroll the answer down", show=False),
    ]
    OF_LETTERS: ClassVar[tuple[str, ...]] = ()  # actions whose keys are text in a field

    def __init__(self) -> None:
        super().__init__()
        self.answers = Background(self, newest_only=True)

    @property
    def pane(self) -> Widget:
        """Where the answer stands."""
        return self.query_one("#answer")

    def said(self) -> Line:
        """What stands under the questions: what is wrong, or how to answer where the cursor is."""
        raise NotImplementedError

    def say(self, line: Line | None = None) -> None:
        """Write it, or something else in its place."""
        self.query_one("#said", Static).update(content([self.said() if line is None else line]))

    def draw_answer(self) -> None:
        """Write the answer as wide as there is room for it."""
        raise NotImplementedError

    def on_resize(self) -> None:
        """Title and answer follow the window."""
        self.say_title()
        self.call_after_refresh(self.draw_answer)

    def shown_keys(self) -> list[tuple[str, str, str]]:
        """Letters are text in a field, so that help is on F1 there."""
        keys = super().shown_keys()
        return keys_in_a_field(keys, hidden=self.OF_LETTERS) if isinstance(self.focused, Input) else keys

    def on_descendant_focus(self) -> None:
        """Keys and hint follow the cursor."""
        self.say_keys()
        self.say()

    def action_read_answer(self) -> None:
        """The cursor into the answer."""
        self.pane.focus()

    def action_step(self, step: int) -> None:
        """The question above or below."""
        (self.focus_next if step > 0 else self.focus_previous)()

    def action_scroll(self, step: int) -> None:
        """The answer, where it is longer than its place."""
        (self.pane.scroll_page_down if step > 0 else self.pane.scroll_page_up)(animate=False)
