"""One line from anywhere: what got wet, when and how; its meaning stands below as one types."""

from __future__ import annotations

from functools import partial

from textual.app import ComposeResult
from textual.widgets import Static

from logbook.model.text import printable
from logbook.model.values import Exposure, WatchRecord
from logbook.text import phrases
from logbook.text.lines import LONGEST_LINE, parse_entry
from logbook.tui.shell.closest import closest
from logbook.tui.shell.form import Question, Write
from logbook.tui.shell.ink import Line, sentence
from logbook.tui.water import record_start
from logbook.tui.water import saving as exposure_saving
from logbook.tui.water.line_form import LineFormRoom
from logbook.tui.widgets.field import Field

OFFERED = 8  # nicknames shown at a time
HOW = (
    "NICKNAME: ACTIVITY, then in any order depth, minutes, water, temperature, rinsed, crown wet, jump, and "
    "when: on yesterday, on sat, on 12 mar 10:40. The start of a nickname, or of a word of it, is enough."
)
SUCH_AS = "blue bezel: dive 21m 38min sea 17C rinsed"


class EntryLineRoom(LineFormRoom):
    """One field, and below it what the line means or which word of it has no meaning."""

    CSS_PATH = "entry_line.tcss"
    TITLE_WORDS = "One line"
    PURPOSE = (
        "Log a contact with water in one line, for any watch, from any room. Enter writes it; before the "
        "colon it takes the nickname that is offered."
    )

    def __init__(self, name: str = "") -> None:
        super().__init__()
        self._logged: tuple[WatchRecord, Exposure] | None = None
        self._name_of = name  # the nickname that stands there to begin with

    def asked(self) -> ComposeResult:
        """The line, its meaning, how it is written."""
        yield Question(Field("line", "entry", silent=SUCH_AS, longest=LONGEST_LINE))
        yield Static("", id="means")
        yield Static(sentence(HOW, "dim"), id="how")

    def fill(self) -> None:
        """The nickname of the watch that one came from stands there."""
        if self._name_of:
            self.fill_in({"line": f"{self._name_of}: "})

    def shown_keys(self) -> list[tuple[str, str, str]]:
        """Enter saves: there is one question."""
        keys = super().shown_keys()
        return [("⏎", "save", "save"), *(key for key in keys if key[2] not in ("save", "app.focus_next"))]

    def _offered(self, line: str) -> list[str]:
        """Nicknames that what stands there may become, the likeliest first; none once there is a colon."""
        names = [] if ":" in line else [watch.name for watch in self.book.watches()]
        return closest(line, names, lambda name: (name, ""))[:OFFERED]

    def meaning(self) -> list[Line]:
        """The nicknames that are offered, else the entry; nothing of an empty line."""
        line = self.text("line")
        if not line.strip():
            return []
        offered = self._offered(line)
        if offered:
            others = "".join(f" · {name}" for name in offered[1:])
            return [[("enter takes ", "dim"), (offered[0], "strong"), (others, "dim")]]
        exposure = self._read(line)
        name = next(w.name for w in self.book.watches() if w.id == exposure.watch_id)
        words = phrases.exposure_words(exposure, self.book.units)
        return [[(f"{name}, {phrases.full_date(exposure.starts_on)}: {words}", "good")]]

    def _read(self, line: str) -> Exposure:
        book = self.book
        return parse_entry(
            line, practice=book.practice, settings=book.settings, today=book.today, watches=book.watches()
        )

    def save(self) -> Write | None:
        """Take the nickname that is offered; else the entry, and what it cost."""
        offered = self._offered(self.text("line")) if self.text("line").strip() else []
        if offered:
            self.fill_in({"line": f"{offered[0]}: "})
            self.ask_first()
            self.say_what_it_means()
            return None
        return partial(self._write, self._read(self.text("line")))

    def _write(self, exposure: Exposure) -> str:
        record = self.book.standing(exposure.watch_id or 0).record
        words = exposure_saving.save(self.book, record, exposure)
        self._logged = record, exposure
        return printable(f"{record.watch.name}: {words}")

    def saved(self) -> None:
        """Back; water from before the record of its watch is asked about."""
        super().saved()
        if self._logged is not None:
            record_start.ask(self.app, *self._logged)
