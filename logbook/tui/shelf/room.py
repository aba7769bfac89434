"""The Shelf: every watch with what is left of its seals, what stands against it, and what comes next."""

from __future__ import annotations

from dataclasses import replace
from typing import ClassVar

from textual import on
from textual.binding import Binding, BindingType

from logbook.model.values import Watch
from logbook.tui.shelf.listing import ShelfList
from logbook.tui.shell.room import CHANGES, ONE_LINE, REDO, UNDO
from logbook.tui.widgets.lines import Lines

PICKED = "the picked watches, else the one under the cursor"


class ShelfRoom(ShelfList):
    """Every watch on one line; the one under the cursor in a few more below."""

    TITLE_WORDS = "Shelf"
    PURPOSE = "Every watch: what is left of its seals, what speaks against water today, and what comes next."
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(
            "w", "watch_room('exposure')", "log", tooltip="log an exposure of the watch under the cursor"
        ),
        Binding("c", "watch_room('check')", "check", tooltip="may the watch under the cursor go there?"),
        Binding("enter", "open", "open", tooltip="the watch under the cursor, in full"),
        Binding("space", "pick", "pick", tooltip="pick the watch under the cursor, or let it go"),
        Binding("e", "event", "event", tooltip=f"a workshop event or a fault of {PICKED}"),
        Binding("o", "worn", "worn", tooltip=f"worn today: {PICKED}; 12 hours, shared out"),
        replace(ONE_LINE, description="line", show=True),
        Binding("O", "worn_that_day", "worn that day", show=False, tooltip=f"worn on another day: {PICKED}"),
        Binding("slash", "find", "find", key_display="/", tooltip="find a watch by letters of its nickname"),
        Binding("G", "group", "group", tooltip="the groups one after the other, then every watch"),
        Binding("S", "sort", "sort", show=False, tooltip="by nickname, least left, last water, next due"),
        Binding("R", "room('retired')", "retired", show=False, tooltip="watches that are off the shelf"),
        Binding("n", "room('welcome')", "new", tooltip="put another watch on the shelf"),
        Binding("u", "room('due')", "due", tooltip="everything that is due, and what comes later"),
        Binding("t", "room('plans')", "plans", tooltip="every planned exposure and trip, and its verdict"),
        Binding("i", "bring_in", "import", tooltip="dives or a table from a file, looked at first"),
        Binding("b", "bench", "bench", tooltip="calculators, and the guided look for fog"),
        Binding("g", "room('guide')", "guide", tooltip="marks, the model, every constant with its source"),
        Binding(
            "comma",
            "room('settings')",
            "settings",
            key_display=",",
            tooltip="units, time zone, home water, colours",
        ),
        UNDO,
        REDO,
        CHANGES,
        Binding("q", "app.quit", "quit", tooltip="leave logbook; everything is already saved"),
        Binding(
            "escape",
            "clear",
            "clear",
            show=False,
            tooltip="lift what is looked for, else what is picked, else the group",
        ),
    ]

    def _meant(self) -> list[Watch]:
        """The picked watches, else the one under the cursor."""
        picked = [each.record.watch for each in self.all if each.record.watch.id in self.picked]
        here = [each.record.watch for each in self.all if each.record.watch.id == self.watch_id]
        return picked or here

    def action_event(self) -> None:
        """A workshop event or a fault."""
        if watches := self._meant():
            first, *others = (watch.id or 0 for watch in watches)
            self.go("event", first, others=others)

    def action_worn(self) -> None:
        """Worn today."""
        if watches := self._meant():
            from logbook.tui.shelf.worn import worn

            ids = [watch.id or 0 for watch in watches]
            self.change(lambda: worn(self.book, ids, self.book.today))

    def action_worn_that_day(self) -> None:
        """Worn on another day."""
        if watches := self._meant():
            self.go("worn", watches)

    @on(Lines.Chosen, "#watches")
    def action_open(self) -> None:
        """The watch under the cursor, in full."""
        if (watch_id := self.watch_id) is not None:
            self.go("watch", watch_id)

    def action_bring_in(self) -> None:
        """Dives, a table or lines from a file."""
        self.go("bring-in", self.watch_id)

    def action_bench(self) -> None:
        """Depth, pressure, swing, fog and the other calculators."""
        self.go("bench", self.watch_id)
