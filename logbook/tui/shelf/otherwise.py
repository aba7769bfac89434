"""Shown once for a record of before: which watches read otherwise, why, and what is asked of old faults."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.widgets import Static

from logbook.model.judge.otherwise import Otherwise, otherwise, question
from logbook.tui.shell.background import Tell
from logbook.tui.shell.ink import VERDICT_ROLE, Line, fit, short, wrapped
from logbook.tui.shell.list_room import ListRoom
from logbook.tui.shell.room import CHANGES, UNDO
from logbook.tui.widgets.lines import Lines

NAME_CELLS, VERDICT_CELLS = 22, 13
WHY = (
    "What happened to a watch now outranks what was added up: a pass counts up to its pressure, a fault "
    "stands until it is mended and tested, water beyond the mark stands until a test."
)


class OtherwiseRoom(ListRoom[Otherwise]):
    """One line a watch that reads otherwise, the reasons of the one under the cursor below."""

    CSS_PATH = "otherwise.tcss"
    TITLE_WORDS = "What reads otherwise now"
    PURPOSE = (
        "The rules have changed since this record was last open: these watches read otherwise, for these "
        "reasons. Where an old fault was opened and mended, log the opening on its day: e. Shown once."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "open", "open", tooltip="the watch under the cursor, in full"),
        Binding("e", "opened", "it was opened", tooltip="log that it was opened, and on which day"),
        UNDO,
        CHANGES,
    ]

    def body(self) -> ComposeResult:
        """Why, the watches, and the one under the cursor in full."""
        yield Static(id="heads")
        yield Lines(self._draw)
        yield Static("─" * 400, classes="rule")
        yield VerticalScroll(Static(id="detail"), id="reasons")

    def reload(self) -> None:
        """Work out what reads otherwise, and show it."""
        found = (otherwise(standing) for standing in self.book.standings())
        self.rows = [each for each in found if each is not None]
        self.show_rows()

    def title_line(self) -> Line:
        """How many watches read otherwise."""
        count = len(self.rows)
        words = f"{count} watch{'es' if count != 1 else ''}" if count else "none any more"
        return [(f"logbook · {self.TITLE_WORDS}   ", "title"), (words, "plain")]

    def heads(self) -> list[Line]:
        """Why."""
        return [[(line, "dim")] for line in wrapped(WHY, self.size.width - 2)]

    def row_line(self, row: Otherwise, width: int) -> Line:
        """A watch, its verdict and the first reason."""
        found = row
        stops = found.standing.stops
        verdict = stops[0].verdict if stops else "–"
        room = max(4, width - NAME_CELLS - VERDICT_CELLS - 4)
        return [
            (f" {fit(found.standing.name, NAME_CELLS)} ", "strong"),
            (fit(verdict, VERDICT_CELLS), VERDICT_ROLE.get(verdict, "dim")),
            (f" {short(found.reasons[0], room)}", "plain"),
        ]

    def detail(self) -> list[Line]:
        """Every reason, and what is asked."""
        here, width = self.here, max(20, self.size.width - 4)
        lines: list[Line] = []
        for sentence in here.reasons if here else ():
            parts = wrapped(sentence, width)
            lines += [[("– " if n == 0 else "  ", "dim"), (part, "plain")] for n, part in enumerate(parts)]
        for event in here.asks if here else ():
            lines += [[(part, "strong")] for part in wrapped(f"{question(event)} e: log it", width)]
        return lines

    @on(Lines.Chosen)
    def action_open(self) -> None:
        """The watch under the cursor, in full."""
        if (here := self.here) is not None:
            self.go("watch", here.standing.record.watch.id or 0)

    def action_back(self) -> None:
        """One step back; it is not shown again."""
        book = self.book

        def told(_: Tell) -> None:
            from logbook.record.writing.rules_told import rules_told

            book.do(rules_told)

        self.logbook_app.changes.begin(told, lambda _: None)
        super().action_back()

    def action_opened(self) -> None:
        """Log that the case was opened, on the day that is asked for."""
        if (here := self.here) is not None:
            self.go("event", here.standing.record.watch.id or 0, "opened")
