"""Which file to bring in, and what it leaves open: the watch, the zone, the rinse."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Static

from logbook.errors import BadInput, LogbookError, RecordTrouble
from logbook.files.dives_in import Taker
from logbook.files.files_in import kind_at, read, refuse_unmeant
from logbook.files.inbox import Inbox
from logbook.model.civil import checked_zone
from logbook.model.values import Watch
from logbook.record.file.places import typed_path
from logbook.tui.shell.background import Background, Tell
from logbook.tui.shell.form import FormRoom, Question
from logbook.tui.shell.ink import sentence
from logbook.tui.shell.room import Room
from logbook.tui.shell.router import made
from logbook.tui.widgets.field import Field
from logbook.tui.widgets.pick import Pick

WHAT = (
    "UDDF, a CSV table, the JSON of an export, or one-line entries. Nothing is written before you have seen "
    "what would come in."
)
DATES = (("iso", "2026-07-03"), ("day-first", "03/07/2026"), ("month-first", "07/03/2026"))
YES_NO = (("no", "not rinsed"), ("yes", "rinsed after every dive"))
LONGEST_PATH = 4_000
AS_THE_FILE_SAYS = ""
LEFT = "Left: nothing was written."


@dataclass(frozen=True)
class Said:
    """What was said beside the file."""

    path: Path
    taker: Taker
    worn: Watch | None
    dates: str


class BringInRoom(FormRoom):
    """A path and a few answers; then the file is read and shown."""

    CSS_PATH = "bring_in.tcss"
    TITLE_WORDS = "Bring in a file"
    PURPOSE = (
        "Bring dives, exposures or watches in from a file. It is shown first: what is new, what is on record "
        "already, what is left out and why. All of it comes in as one step, which undo takes back."
    )
    FIELD_OF: ClassVar[dict[str, str]] = {"FILE": "path", "--dates": "dates", "--rinsed": "rinsed"}
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+s", "save", "read it", tooltip="read the file and show what is in it"),
    ]

    def __init__(self, watch_id: int | None = None) -> None:
        super().__init__()
        self._watch_id = watch_id
        self.reading = Background(self)

    def asked(self) -> ComposeResult:
        """What comes in, then the questions."""
        watches = [(str(watch.id), watch.name) for watch in self.book.watches()]
        yield Static(sentence(WHAT), id="what")
        yield Question(Field("path", "file", silent="its path, such as ~/dives.uddf", longest=LONGEST_PATH))
        yield Question(Pick("worn", "watch worn", [(AS_THE_FILE_SAYS, "as the file says"), *watches]))
        yield Question(Field("zone", "zone"))
        yield Question(Pick("rinsed", "rinsed", YES_NO))
        yield Question(Pick("dates", "CSV dates", DATES))
        yield Static("", id="progress")

    def fill(self) -> None:
        """The usual answers stand there."""
        self.fill_in({"zone": self.book.settings.zone, "worn": str(self._watch_id)})

    def save(self) -> None:
        """Read the file, in a thread."""
        if self.reading.busy:
            return
        said = self._said()
        self.query_one("#progress", Static).update(sentence("Reading … esc: leave it"))
        self.reading.begin(
            lambda tell: self._read(said, tell),
            self._show, self._complain, told=self._tell, left=self._say_left,
        )  # fmt: skip

    def _said(self) -> Said:
        words = self.text("path").strip()
        if not words:
            raise BadInput("Which file? Its path belongs here, such as ~/dives.uddf.", where="path")
        path = typed_path(words)
        worn = self.text("worn")
        zone, rinsed = checked_zone(self.text("zone").strip()), self.text("rinsed") == "yes"
        taker = Taker(self.book.practice, self.book.settings, self.book.today, zone, rinsed)
        watch = next((w for w in self.book.watches() if str(w.id) == worn), None)
        return Said(path, taker, watch, self.text("dates"))

    def _read(self, said: Said, tell: Tell) -> Room:
        try:
            return self._room_for(said, tell)
        except OSError as error:
            words = f"{said.path} could not be read: {error.strerror}."
            raise RecordTrouble(words, where="FILE") from error

    def _room_for(self, said: Said, tell: Tell) -> Room:
        """Read the file, and the room that shows what is in it."""
        if said.path.exists() and not (said.path.is_file() or said.path.is_dir()):
            # Opening a pipe would wait for whoever writes into it.
            raise BadInput(f"{said.path} is no file; name one, such as ~/dives.uddf.", where="FILE")
        watches = [record.watch for record in self.book.records(retired=True)]
        with said.path.open("rb") as stream:
            total = said.path.stat().st_size
            kind = kind_at(stream, said.path.name)
            refuse_unmeant(kind, ["--rinsed"] if said.taker.rinsed else [])
            worn = said.worn if kind in ("UDDF", "lines") else None
            file = read(
                stream, said.path.name, said.taker, watches, worn=worn, dates=said.dates,
                tell=lambda done: tell(done, total), reopen=lambda: said.path.open("rb"),
            )  # fmt: skip
        if file.record is not None:
            return made("merge", file.record)
        with self.book.reading() as rows:
            return made("preview", Inbox.of(file, said.taker, rows, watches, worn))

    def _tell(self, done: int, total: int) -> None:
        words = f"Reading: {done / 1e6:,.1f} of {total / 1e6:,.1f} MB. esc: leave it"
        self.query_one("#progress", Static).update(sentence(words))

    def _clear(self) -> None:
        self.query_one("#progress", Static).update("")

    def _show(self, room: Room) -> None:
        self._clear()
        self.enter(room)

    def _complain(self, error: LogbookError) -> None:
        self._clear()
        self.complain(error)

    def _say_left(self) -> None:
        self._clear()
        self.app.notify(LEFT, markup=False)

    def action_back(self) -> None:
        """Leave what is being read, else one step back."""
        if self.reading.busy:
            self.reading.leave()
        else:
            super().action_back()
