"""The Shelf: every watch with what is left of its seals, what stands against it, and what comes next."""

from __future__ import annotations

from dataclasses import replace
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Static

from logbook.errors import LogbookError, NotFound
from logbook.reckoning.standing import Standing
from logbook.reckoning.values import Exposure, Shares
from logbook.tui import shelf_lines
from logbook.tui.ink import Line, content
from logbook.tui.room import CHANGES, ONE_LINE, REDO, UNDO, Room
from logbook.tui.widgets.frame import TitleLine
from logbook.tui.widgets.lines import Lines


class ShelfRoom(Room):
    """Every watch on one line; the one under the cursor in a few more below."""

    TITLE_WORDS = "Shelf"
    PURPOSE = "Every watch: what is left of its seals, what speaks against water today, and what comes next."
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("w", "log", "log exposure", tooltip="log an exposure of the watch under the cursor"),
        Binding("c", "check", "check", tooltip="may the watch under the cursor go there?"),
        Binding("enter", "open", "open", tooltip="the watch under the cursor, in full"),
        Binding("n", "new", "new watch", tooltip="put another watch on the shelf"),
        Binding("i", "bring_in", "bring in", tooltip="dives or a table from a file, looked at first"),
        Binding("u", "due", "due", tooltip="everything that is due, and what comes later"),
        Binding("b", "bench", "bench", tooltip="calculators, and the guided look for fog"),
        Binding("g", "guide", "guide", tooltip="marks, the model, every constant with its source"),
        UNDO,
        REDO,
        CHANGES,
        replace(ONE_LINE, show=True),
        Binding("q", "app.quit", "quit", tooltip="leave logbook; everything is already saved"),
        Binding("escape", "nothing", "", show=False),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.standings: list[Standing] = []
        self.go_to: int | None = None  # the watch that the cursor goes to when the Shelf is read next

    def body(self) -> ComposeResult:
        """Column heads, the watches, and the one under the cursor."""
        yield Static(id="heads")
        yield Lines(self._draw, id="watches")
        yield Static("─" * 400, classes="rule")
        yield Static(id="detail")

    def on_mount(self) -> None:
        """Show what the record holds."""
        self.query_one(Lines).focus()

    def on_resize(self) -> None:
        """Title and columns follow the window."""
        self._write_heads()
        if self.standings:
            self._write_title()

    def reload(self) -> None:
        """Read the record and show it."""
        wanted, self.go_to = self.go_to or self.watch_id, None
        self.standings = self.book.standings()
        ids = [standing.record.watch.id for standing in self.standings]
        self._write_title()
        self._write_heads()
        self.query_one(Lines).show(len(ids), ids.index(wanted) if wanted in ids else None)
        self.call_after_refresh(self._write_detail)  # the list stands first

    def _write_title(self) -> None:
        line = shelf_lines.title(self.standings, self.book.today, self.app.size.width - 2)
        self.query_one("#title", TitleLine).say(line)

    def _draw(self, row: int, width: int) -> Line:
        return shelf_lines.row(self.standings[row], self.book.today, width)

    def _write_heads(self) -> None:
        self.query_one("#heads", Static).update(content([shelf_lines.heads(self.app.size.width)]))

    @on(Lines.Highlighted, "#watches")
    def _write_detail(self) -> None:
        detail = self.query_one("#detail", Static)
        if not self.standings:
            detail.update(content([[("No watch on the shelf yet: n puts the first one there.", "plain")]]))
            return
        standing = self.standings[self.query_one(Lines).cursor]
        watch_id = standing.record.watch.id or 0
        newest, cost = self.looked_up(lambda: self._last_water(watch_id)) or (None, {})
        lines = shelf_lines.detail(standing, newest, cost, self.book.today, self.book.units)
        detail.update(content(lines))

    def _last_water(self, watch_id: int) -> tuple[Exposure | None, dict[int, Shares]]:
        """The newest exposure of a watch and what it added to which seal."""
        last = self.book.exposures(watch_id, limit=1)
        return (last[0], self.book.cost(last[0].id or 0)) if last else (None, {})

    @property
    def nickname(self) -> str:
        """Of the watch under the cursor."""
        return self.standings[self.query_one(Lines).cursor].name if self.standings else ""

    @property
    def watch_id(self) -> int | None:
        """The watch under the cursor."""
        return self.standings[self.query_one(Lines).cursor].record.watch.id if self.standings else None

    def _there(self) -> int | None:
        """The watch under the cursor, unless another window took it away meanwhile, which is then said."""
        if self.watch_id is None:
            return None
        try:
            self.book.standing(self.watch_id)
        except LogbookError as error:
            self.app.notify(error.message, severity="error", markup=False)
            if isinstance(error, NotFound):
                self.book.forget()
                self.reload()
            return None
        return self.watch_id

    @on(Lines.Chosen, "#watches")
    def action_open(self) -> None:
        """The watch under the cursor, in full."""
        if (watch_id := self._there()) is not None:
            from logbook.tui.watch import WatchRoom

            self.enter(WatchRoom(watch_id))

    def action_log(self) -> None:
        """Log an exposure of the watch under the cursor."""
        if (watch_id := self._there()) is not None:
            from logbook.tui.exposure import ExposureRoom

            self.enter(ExposureRoom(watch_id))

    def action_check(self) -> None:
        """May it go there today?"""
        if (watch_id := self._there()) is not None:
            from logbook.tui.check import CheckRoom

            self.enter(CheckRoom(watch_id))

    def action_new(self) -> None:
        """Put another watch on the shelf."""
        from logbook.tui.welcome import WelcomeRoom

        self.enter(WelcomeRoom())

    def action_bring_in(self) -> None:
        """Dives, a table or lines from a file."""
        from logbook.tui.bring_in import BringInRoom

        self.enter(BringInRoom(self.watch_id))

    def action_due(self) -> None:
        """Everything that is due."""
        from logbook.tui.due import DueRoom

        self.enter(DueRoom())

    def action_bench(self) -> None:
        """Depth, pressure, swing, fog and the other calculators."""
        from logbook.tui.bench import BenchRoom

        self.enter(BenchRoom(self.watch_id))

    def action_guide(self) -> None:
        """What the numbers mean and where they come from."""
        from logbook.tui.guide import GuideRoom

        self.enter(GuideRoom())

    def action_nothing(self) -> None:
        """There is no step back from here."""
