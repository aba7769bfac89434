"""Amend water that is on record, or a plan, in its line; meaning and cost stand below as one types."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.widgets import Static

from logbook.model.text import printable
from logbook.model.values import Event, Exposure, Shares, WatchRecord
from logbook.text.lines import LONGEST_LINE, amend_line, print_entry
from logbook.text.planned import refuse_past_plan
from logbook.tui.shell.form import Question, Write
from logbook.tui.shell.ink import Line, content, sentence
from logbook.tui.shell.room import Room
from logbook.tui.shell.router import made
from logbook.tui.water import amend_lines
from logbook.tui.water.line_form import LineFormRoom
from logbook.tui.widgets.field import Field

HOW = (
    "The line is the whole entry: ACTIVITY, then in any order depth, minutes, water, temperature, rinsed, "
    "crown wet, jump, and when. What you take out of it is no longer said. Its note follows --."
)

KEPT_IN = "Its figures stand in m and °C, as they are kept; what you write in ft and °F is understood."


def room_for(entry: Exposure | Event, record: WatchRecord) -> Room:
    """The room in which an entry of the log is changed."""
    if isinstance(entry, Exposure):
        return AmendRoom(entry, record)
    return made("amend-event", entry, record)


class AmendRoom(LineFormRoom):
    """One exposure or one planned exposure, as the line that says it."""

    CSS_PATH = "amend.tcss"
    TITLE_WORDS = "Amend"
    PURPOSE = (
        "Amend water that is on record, or a plan, in its line: what it means and what it takes stand "
        "below. Its profile stays. Enter writes it."
    )

    def __init__(self, exposure: Exposure, record: WatchRecord) -> None:
        super().__init__()
        self.entry = exposure
        self.record = record
        self.took: dict[int, Shares] = {}

    def prepare(self) -> None:
        """The entry with its profile, and what it took."""
        self.entry = self.book.with_profile(self.entry)
        self.took = self.book.cost(self.entry.id or 0)

    def asked(self) -> ComposeResult:
        """What is on record, the line, its meaning, how it is written."""
        yield Static(id="stands")
        yield Question(Field("line", "entry", longest=LONGEST_LINE))
        yield Static(id="means")
        how = f"{KEPT_IN} {HOW}" if self.book.units == "imperial" else HOW
        yield Static(sentence(how, "dim"), id="how")

    def fill(self) -> None:
        """The line stands there as it is on record."""
        says = amend_lines.says(self.entry, self.book.units)
        self.query_one("#stands", Static).update(content([[("on record: ", "dim"), (says, "plain")]]))
        self.fill_in({"line": print_entry(self.entry, None, self.book.practice, self.book.settings)})
        self.say_what_it_means()

    @property
    def subject(self) -> str:
        """The watch."""
        return self.record.watch.name

    def meaning(self) -> list[Line]:
        """What the entry is now, and what it takes."""
        exposure = self._read()
        if exposure == self.entry:
            return [[("as it is on record", "dim")]]
        return [
            [(amend_lines.says(exposure, self.book.units), "good")],
            amend_lines.cost_line(self.took, exposure, self.record, self.book.practice),
        ]

    def _read(self) -> Exposure:
        """The entry as its line says now; raises LogbookError."""
        book = self.book
        exposure = amend_line(
            self.entry,
            self.text("line"),
            practice=book.practice,
            settings=book.settings,
            today=book.today,
            watch=self.record.watch,
        )
        if exposure != self.entry:
            refuse_past_plan(exposure, book.today, "line")
        return exposure

    def save(self) -> Write:
        """What stands there, and what it takes then."""
        exposure = self._read()
        return lambda: "Nothing was changed." if exposure == self.entry else self._write(exposure)

    def _write(self, exposure: Exposure) -> str:
        self.book.amend(exposure)
        after = self.book.cost(exposure.id or 0)
        words = amend_lines.says(exposure, self.book.units)
        cost = f"takes {amend_lines.most(after, self.record)}" if after else "not charged"
        return f"Amended: {printable(words)}: {cost}. z: undo"
