"""Plans: every planned exposure and trip of every watch, with the verdict for its day."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Static

from logbook.errors import LogbookError
from logbook.model.judge import check
from logbook.model.judge.check import Verdict
from logbook.model.text import printable
from logbook.model.values import WatchRecord
from logbook.text import phrases
from logbook.tui.check import plans_lines
from logbook.tui.check.plans_lines import PlanRow
from logbook.tui.shell.background import Background
from logbook.tui.shell.ink import Line, content
from logbook.tui.shell.room import CHANGES, ONE_LINE, REDO, UNDO, Room
from logbook.tui.water.saving import cost_words
from logbook.tui.widgets.frame import TitleLine
from logbook.tui.widgets.lines import Lines

if TYPE_CHECKING:
    from logbook.model.predict.bands import BandMaker
    from logbook.tui.shell.book import Book

Verdicts = dict[int, Verdict]  # plan id -> verdict


@dataclass(frozen=True, slots=True)
class Asked:
    """The plans that lie ahead, and the record that they are judged with."""

    rows: tuple[PlanRow, ...]
    book: Book
    bands: Callable[[], BandMaker | None]


class PlansRoom(Room):
    """One line a plan; past ones first, which ask whether they happened."""

    CSS_PATH = "plans.tcss"
    TITLE_WORDS = "Plans"
    PURPOSE = (
        "Every planned exposure and trip, the soonest first, with the verdict for that watch on that day. "
        "A plan is never charged until you say that it happened."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "open", "reasons", tooltip="the check of this plan, with every reason"),
        Binding("d", "happened", "it happened", tooltip="charge it as it was planned, a trip its first day"),
        Binding("x", "strike", "strike", tooltip="take the plan off the record"),
        Binding("n", "new", "plan another", tooltip="ask about another trip; ^s there keeps it as a plan"),
        Binding("a", "which", "which may come?", tooltip="this plan for every watch on the shelf"),
        UNDO,
        REDO,
        CHANGES,
        ONE_LINE,
    ]

    def __init__(self) -> None:
        super().__init__()
        self.rows: list[PlanRow] = []
        self.records: list[WatchRecord] = []
        self.verdicts: Verdicts = {}
        self.gone: set[int | None] = set()  # plans that were here, to go back to once they are again
        self.answers = Background(self, newest_only=True)

    def body(self) -> ComposeResult:
        """Column heads, the plans, and the one under the cursor."""
        yield Static(id="heads")
        yield Lines(self._draw, id="plans")
        yield Static("─" * 400, classes="rule")
        yield Static(id="detail")

    def prepare(self) -> None:
        """The record itself: that it cannot be read is not to look as if nothing were planned."""
        self.book.all_plans()

    def on_mount(self) -> None:
        """The cursor begins at what asks, else at what comes first."""
        self.query_one(Lines).focus()

    def on_resize(self) -> None:
        """Columns follow the window."""
        self.query_one("#heads", Static).update(content([plans_lines.heads(self.app.size.width)]))
        self._write_detail()

    def reload(self) -> None:
        """Read the record, show it, and judge what lies ahead."""
        here, before = self.row_here, {row.plan.id for row in self.rows}
        self.records = self.book.all_records()
        self.rows = plans_lines.rows_of(self.book.all_plans(), self.records, self.book.today)
        self.query_one("#title", TitleLine).say(plans_lines.title(self.rows))
        ids = [row.plan.id for row in self.rows]
        back = [plan_id for plan_id in ids if plan_id in self.gone]
        wanted = back[0] if back else here.plan.id if here else None
        self.gone = (self.gone | before) - set(ids)
        self.query_one(Lines).show(len(ids), ids.index(wanted) if wanted in ids else None)
        self._write_detail()
        ahead = tuple(row for row in self.rows if not row.past)
        asked = Asked(ahead, self.book, self.book.band_maker)
        self.answers.begin(lambda _: _judge(asked), self._show)

    def _show(self, verdicts: Verdicts) -> None:
        self.verdicts = verdicts
        self.query_one(Lines).refresh()
        self._write_detail()

    def _draw(self, row: int, width: int) -> Line:
        each = self.rows[row]
        return plans_lines.row_line(each, self._verdict(each), self.book.units, width)

    def _verdict(self, row: PlanRow) -> Verdict | None:
        return self.verdicts.get(row.plan.id or 0)

    @property
    def row_here(self) -> PlanRow | None:
        """The plan under the cursor."""
        at = self.query_one(Lines).cursor
        return self.rows[at] if at < len(self.rows) else None

    @property
    def nickname(self) -> str:
        """The watch of the plan under the cursor."""
        return self.row_here.name if self.row_here else ""

    @on(Lines.Highlighted, "#plans")
    def _write_detail(self) -> None:
        row, book = self.row_here, self.book
        verdict = self._verdict(row) if row else None
        lines = plans_lines.detail(row, verdict, book.today, book.units, self.app.size.width)
        self.query_one("#detail", Static).update(content(lines))

    @on(Lines.Chosen, "#plans")
    def action_open(self) -> None:
        """The check of the plan under the cursor, with its reasons."""
        if self.row_here is not None:
            self._check(self.row_here.plan.watch_id, self.row_here)

    def action_which(self) -> None:
        """Which watch may come: this plan, or any, for all of them."""
        self._check(None, self.row_here)

    def action_new(self) -> None:
        """Ask about another trip, of the watch under the cursor."""
        self._check(self.row_here.plan.watch_id if self.row_here else None, None)

    def _check(self, watch_id: int | None, row: PlanRow | None) -> None:
        self.go("check", watch_id, row.plan if row else None)

    def action_strike(self) -> None:
        """Take the plan under the cursor off the record."""
        row = self.row_here
        if row is not None:
            when = phrases.span_words(row.plan.starts_on, row.plan.planned_to)
            self.strike(row.plan.id or 0, f"{row.plan.activity} of {printable(row.name, 40)}, {when}")

    def action_happened(self) -> None:
        """The plan under the cursor happened as it was planned, a trip on its first day: charge that."""
        row, book = self.row_here, self.book
        if row is None:
            return
        if row.plan.starts_on > book.today:
            day = phrases.full_date(row.plan.starts_on)
            self.app.notify(f"It begins on {day}, which lies ahead: nothing has happened yet.", markup=False)
            return

        def charge() -> str:
            entry, rest = book.confirm_plan(row.plan)
            cost = cost_words(row.record, book.cost(entry.id or 0))
            return printable(plans_lines.happened_words(entry, rest, book.units, cost))

        self.change(charge)


def _judge(asked: Asked) -> Verdicts:
    """The verdict on every plan that lies ahead; runs in a thread."""
    if not asked.rows:
        return {}
    book = asked.book
    try:
        foresight, bands = book.foresight(wait=True), asked.bands()
        return {
            row.plan.id or 0: check.check(
                row.record, row.plan, book.practice, book.today, foresight, bands, book.units
            )
            for row in asked.rows
        }
    except LogbookError:  # the record has gone, which the next look at it says
        return {}
