"""The fewest workshop visits that cover what falls due, over all watches."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.widgets import Static

from logbook.model.due.visits import Visit, horizon, plan_visits, trips_of
from logbook.text import visiting
from logbook.tui.shell.ink import Line, content, wrapped
from logbook.tui.shell.room import CHANGES, ONE_LINE, REDO, UNDO, Room


class VisitsRoom(Room):
    """When to go, and what is then done for which watch."""

    CSS_PATH = "visits.tcss"
    TITLE_WORDS = "Fewest visits"
    PURPOSE = (
        "The fewest workshop visits for what falls due in the next two years: the days on which each covers "
        "its services, and what is then done for which watch. A case that is opened is tested afterwards; "
        "no watch is away while its trip runs."
    )
    BINDINGS: ClassVar[list[BindingType]] = [UNDO, REDO, CHANGES, ONE_LINE]

    def body(self) -> ComposeResult:
        """The visits, soonest first."""
        with VerticalScroll(id="visits"):
            yield Static(id="visits-words")

    def on_mount(self) -> None:
        """Arrows scroll the list."""
        self.query_one("#visits").focus()

    def on_resize(self) -> None:
        """Lines break where the window ends."""
        self.reload()

    def reload(self) -> None:
        """Plan anew."""
        standings, today = self.book.standings(), self.book.today
        services = [service for standing in standings for service in standing.services]
        trips = trips_of(self.book.all_plans(), [standing.record.watch for standing in standings], today)
        plan, last = plan_visits(services, today, trips), horizon(today)
        later = sum(len(service.items) for service in services) - sum(len(visit.items) for visit in plan)
        found = lines(plan, last, later, max(20, self.app.size.width - 3))
        self.query_one("#visits-words", Static).update(content(found))


def lines(plan: Sequence[Visit], last: date, later: int, width: int) -> list[Line]:
    """The plan as plain pieces of text in lines of at most `width` cells."""
    found: list[Line] = [[(line, "strong")] for line in wrapped(visiting.summary(len(plan), last), width)]
    for number, visit in enumerate(plan, start=1):
        days = wrapped(f"{number}  {visiting.when(visit)}", width)
        found += [[("", "plain")], *([(line, "title")] for line in days)]
        for watch, work in visiting.by_watch(visit):
            found += _hanging(f"{watch}: {work}", width)
    if later:
        found += [[("", "plain")], [(visiting.left_out(later), "dim")]]
    return found


def _hanging(text: str, width: int) -> Iterator[Line]:
    for n, line in enumerate(wrapped(text, width - 5)):
        yield [(("     " if n else "   ") + line, "plain")]
