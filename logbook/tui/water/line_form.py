"""A form of one line: what it means stands below as one types, or which word of it has no meaning."""

from __future__ import annotations

from textual import on
from textual.widgets import Input, Static

from logbook.errors import LogbookError
from logbook.tui.shell.form import FormRoom
from logbook.tui.shell.ink import Line, content
from logbook.tui.water.saving import pointer


class LineFormRoom(FormRoom):
    """The question `line`, and under it `#means`."""

    def ask_first(self) -> None:
        """The cursor to the end of the line."""
        entry = self.field("line").entry
        entry.focus()
        entry.action_end()

    def meaning(self) -> list[Line]:
        """What the line means; raises LogbookError."""
        raise NotImplementedError

    @on(Input.Changed)
    def say_what_it_means(self) -> None:
        """The meaning, or what is wrong, with a caret under the word."""
        try:
            self._write_below(self.meaning())
        except LogbookError as error:
            self.complain(error)

    def complain(self, error: LogbookError) -> None:
        """What is wrong with the line stands below it, with a caret."""
        self._write_below(pointer(error, max(20, self.app.size.width - 6)))

    def _write_below(self, lines: list[Line]) -> None:
        self.query_one("#means", Static).update(content(lines))
