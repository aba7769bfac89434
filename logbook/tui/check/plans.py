"""Plans: every planned exposure and trip of every watch, with the verdict for its day."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import ClassVar

from textual import on
from textual.binding import Binding, BindingType

from logbook.errors import BadInput, LogbookError
from logbook.model.judge import check
from logbook.model.judge.check import Verdict
from logbook.model.predict.bands import BandMaker
from logbook.model.text import printable
from logbook.model.values import WatchRecord
from logbook.record.reading.glance import read_exposure
from logbook.record.record import Book
from logbook.text import phrases
from logbook.tui.check import plans_lines
from logbook.tui.check.plans_lines import PlanRow
from logbook.tui.shell.background import Background
from logbook.tui.shell.ink import Line
from logbook.tui.shell.list_room import ListRoom
from logbook.tui.shell.room import CHANGES, ONE_LINE, REDO, UNDO
from logbook.tui.water.saving import cost_words
from logbook.tui.widgets.lines import Lines

Verdicts = dict[int, Verdict]  # plan id -> verdict


@dataclass(frozen=True, slots=True)
class Asked:
    """The plans that lie ahead, and the record that they are judged with."""

    rows: tuple[PlanRow, ...]
    book: Book
    bands: Callable[[], BandMaker | None]


class PlansRoom(ListRoom[PlanRow]):
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
        self.records: list[WatchRecord] = []
        self.verdicts: Verdicts = {}
        self.gone: set[int | None] = set()  # plans that were here, to go back to once they are again
        self.answers = Background(self, newest_only=True)

    def prepare(self) -> None:
        """The record itself: that it cannot be read is not to look as if nothing were planned."""
        self.book.all_plans()

    def heads(self) -> list[Line]:
        """Of the columns."""
        return [plans_lines.heads(self.app.size.width)]

    def title_line(self) -> Line:
        """How many there are, and which ask."""
        return plans_lines.title(self.rows)

    def reload(self) -> None:
        """Read the record, show it, and judge what lies ahead."""
        here, before = self.here, {row.plan.id for row in self.rows}
        self.records = self.book.records(retired=True)
        self.rows = plans_lines.rows_of(self.book.all_plans(), self.records, self.book.today)
        ids = [row.plan.id for row in self.rows]
        back = [plan_id for plan_id in ids if plan_id in self.gone]
        wanted = back[0] if back else here.plan.id if here else None
        self.gone = (self.gone | before) - set(ids)
        self.show_rows(ids.index(wanted) if wanted in ids else None)
        ahead = tuple(row for row in self.rows if not row.past)
        asked = Asked(ahead, self.book, self.book.band_maker)
        self.answers.begin(lambda _: _judge(asked), self._show)

    def _show(self, verdicts: Verdicts) -> None:
        self.verdicts = verdicts
        self.query_one(Lines).refresh()
        self.write_detail()

    def row_line(self, row: PlanRow, width: int) -> Line:
        """A plan and its verdict."""
        return plans_lines.row_line(row, self._verdict(row), self.book.units, width)

    def _verdict(self, row: PlanRow) -> Verdict | None:
        return self.verdicts.get(row.plan.id or 0)

    @property
    def nickname(self) -> str:
        """The watch of the plan under the cursor."""
        return self.here.name if self.here else ""

    def detail(self) -> Iterable[Line]:
        """The plan under the cursor."""
        row, book = self.here, self.book
        verdict = self._verdict(row) if row else None
        return plans_lines.detail(row, verdict, book.today, book.units, self.app.size.width)

    @on(Lines.Chosen)
    def action_open(self) -> None:
        """The check of the plan under the cursor, with its reasons."""
        if self.here is not None:
            self._check(self.here.plan.watch_id, self.here)

    def action_which(self) -> None:
        """Which watch may come: this plan, or any, for all of them."""
        self._check(None, self.here)

    def action_new(self) -> None:
        """Ask about another trip, of the watch under the cursor."""
        self._check(self.here.plan.watch_id if self.here else None, None)

    def _check(self, watch_id: int | None, row: PlanRow | None) -> None:
        self.go("check", watch_id, row.plan if row else None)

    def action_strike(self) -> None:
        """Take the plan under the cursor off the record."""
        row = self.here
        if row is not None:
            when = phrases.span_words(row.plan.starts_on, row.plan.planned_to)
            self.strike(row.plan.id or 0, f"{row.plan.activity} of {printable(row.name, 40)}, {when}")

    def action_happened(self) -> None:
        """The plan under the cursor happened as it was planned, a trip on its first day: charge that."""
        row, book = self.here, self.book
        if row is None:
            return
        if row.plan.starts_on > book.today:
            day = phrases.full_date(row.plan.starts_on)
            self.app.notify(f"It begins on {day}, which lies ahead: nothing has happened yet.", markup=False)
            return

        def charge() -> str:
            kept = book.ask(read_exposure, row.plan.id or 0)
            if kept.starts_on != row.plan.starts_on:
                raise BadInput("This plan was changed meanwhile: look at it again.")
            entry, rest = book.charge_plan(kept, kept.starts_on)
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
