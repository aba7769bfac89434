"""A list that draws only the lines in view, so that a hundred thousand rows open and scroll like forty."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import ClassVar

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.binding import Binding, BindingType
from textual.geometry import Region, Size
from textual.message import Message
from textual.reactive import reactive
from textual.scroll_view import ScrollView
from textual.strip import Strip

from logbook.model.text import printable
from logbook.tui.shell.ink import STYLES, Line

TURNED = Style(reverse=True)
Draw = Callable[[int, int], Line]  # row, width in cells -> what stands there


class Lines(ScrollView, can_focus=True):
    """Rows drawn on demand, one of them under the cursor."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up,k", "move(-1)", "up", show=False),
        Binding("down,j", "move(1)", "down", show=False),
        Binding("pageup", "page(-1)", "page up", show=False),
        Binding("pagedown", "page(1)", "page down", show=False),
        Binding("home", "edge(0)", "first", show=False),
        Binding("end", "edge(1)", "last", show=False),
        Binding("enter", "choose", "open", show=False),
    ]
    COMPONENT_CLASSES: ClassVar[set[str]] = {
        "lines--under-cursor",
        *(f"lines--{role}" for role in STYLES),
    }
    DEFAULT_CSS = (
        "Lines { height: 1fr; background: $background; overflow-x: hidden; scrollbar-size-vertical: 1; }\n"
    ) + "\n".join(
        f"Lines > .lines--{role} {{ {rule} }}"
        for role, rule in {
            "dim": "color: $foreground-muted;",
            "strong": "text-style: bold;",
            "title": "color: $primary; text-style: bold;",
            "good": "color: $text-success;",
            "mild": "color: $text-warning;",
            "grave": "color: $text-error; text-style: bold;",
            "bar": "color: $primary;",
            "rest": "color: $foreground-disabled;",
            "key": "color: $accent; text-style: bold;",
            "under-cursor": "background: $panel;",
        }.items()
    )

    cursor: reactive[int] = reactive(0)

    @dataclass
    class Highlighted(Message):
        """The cursor stands on another row."""

        lines: Lines
        row: int

        @property
        def control(self) -> Lines:
            """The list that sent it."""
            return self.lines

    @dataclass
    class Chosen(Message):
        """A row was opened, by Enter or by a second click."""

        lines: Lines
        row: int

        @property
        def control(self) -> Lines:
            """The list that sent it."""
            return self.lines

    def __init__(self, draw: Draw, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._draw = draw
        self._count = 0

    @property
    def count(self) -> int:
        """How many rows there are."""
        return self._count

    @property
    def row_width(self) -> int:
        """Cells of a row: the list without its scrollbar."""
        return self.scrollable_content_region.width

    def show(self, count: int, cursor: int | None = None) -> None:
        """Take a new number of rows; the cursor stays where it can."""
        self._count = count
        self.virtual_size = Size(self.row_width, count)
        wanted = self.cursor if cursor is None else cursor
        self.cursor = max(0, min(wanted, count - 1))
        self.scroll_to_region(Region(0, self.cursor, 1, 1), animate=False)
        self.refresh()

    def render_line(self, y: int) -> Strip:
        """One line of the screen."""
        row = y + self.scroll_offset.y
        width = self.row_width
        if row >= self._count:
            return Strip.blank(width, self.get_visual_style().rich_style)
        # Whole styles, not parts of them: a muted colour is mixed with what stands behind it.
        here: tuple[str, ...] = ("lines--under-cursor",) if row == self.cursor and self.has_focus else ()
        segments = [
            Segment(printable(text), self.get_visual_style(*here, f"lines--{role}").rich_style)
            for text, role in self._draw(row, width)
        ]
        base = self.get_visual_style(*here).rich_style
        strip = Strip(segments).adjust_cell_length(width, base).crop(0, width)
        # Where the terminal's own colours are used no ground marks the row: its style says "reverse", which
        # visual styles leave out.
        turned = bool(here) and self.get_component_styles(here[0]).text_style.reverse
        return strip.apply_style(TURNED) if turned else strip

    def watch_cursor(self, old: int, new: int) -> None:
        """Keep the row in view and tell the room."""
        self.scroll_to_region(Region(0, new, 1, 1), animate=False)
        self.refresh()
        if self._count:
            self.post_message(self.Highlighted(self, new))

    def on_resize(self, event: events.Resize) -> None:
        """The width of every row follows the window, and the row under the cursor stays in view."""
        self.virtual_size = Size(self.row_width, self._count)
        self.scroll_to_region(Region(0, self.cursor, 1, 1), animate=False)

    def on_click(self, event: events.Click) -> None:
        """The first click moves the cursor, a click on the row under it opens it."""
        at = event.get_content_offset(self)  # the cells around the rows are no row
        row = self._count if at is None else at.y + self.scroll_offset.y
        if row >= self._count:
            return
        if row == self.cursor:
            self.action_choose()
        else:
            self.cursor = row

    def action_move(self, step: int) -> None:
        """One row up or down."""
        if self._count:
            self.cursor = max(0, min(self.cursor + step, self._count - 1))

    def action_page(self, step: int) -> None:
        """One screenful up or down."""
        self.action_move(step * max(1, self.size.height - 1))

    def action_edge(self, end: int) -> None:
        """To the first or the last row."""
        if self._count:
            self.cursor = (self._count - 1) * end

    def action_choose(self) -> None:
        """Open the row under the cursor."""
        if self._count:
            self.post_message(self.Chosen(self, self.cursor))
