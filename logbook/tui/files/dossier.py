"""Write the dossier of a watch: where to, what is asked for, with which notes."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from pathlib import Path
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Input, Static

from logbook.dossier.page import page_of
from logbook.dossier.render import Format, form_of, render
from logbook.errors import BadInput, LogbookError
from logbook.model.text import printable
from logbook.model.values import Watch
from logbook.record.file.places import typed_path
from logbook.record.file.writing_files import in_a_folder, is_there, spare_record, write_private
from logbook.tui.shell.background import Background
from logbook.tui.shell.form import FormRoom, Question
from logbook.tui.shell.ink import sentence, short
from logbook.tui.widgets.field import Field
from logbook.tui.widgets.pick import Pick

WHAT = (
    "HTML to print, or Markdown, as the ending of the path says. Workshop names, and notes on the watch, on "
    "events and on faults, are always in it."
)
# Label, and what an empty answer stands for.
WISHES = {
    "ask-1": ("you ask for", "such as new gaskets and a pressure test"),
    "ask-2": ("and for", ""),
    "ask-3": ("and for", ""),
}
NOTES = (("no", "leave out"), ("yes", "print"))
REPLACE = (("no", "keep it"), ("yes", "replace it"))
LONGEST_PATH, LONGEST_WISH, LONGEST_NAME = 4_000, 120, 60


@dataclass(frozen=True)
class Ordered:
    """What was said of the dossier."""

    path: Path
    form: Format
    wishes: tuple[str, ...]
    with_notes: bool
    replace: bool


class DossierRoom(FormRoom):
    """A path and a few answers; then the dossier is written."""

    CSS_PATH = "dossier.tcss"
    TITLE_WORDS = "Dossier"
    PURPOSE = (
        "The dossier of this watch, to print and hand to its watchmaker: what you ask for, seals, exposures, "
        "tests, faults, and lines to fill in. No other watch is in it; a file that is there stays unless "
        "you say otherwise."
    )
    FIELD_OF: ClassVar[dict[str, str]] = {"--ask": "ask-1"}
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+s", "save", "write it", tooltip="write the dossier to that path"),
    ]

    def __init__(self, watch: Watch) -> None:
        super().__init__()
        self.watch_told = watch
        self.writing = Background(self)
        self._target: Path | None = None  # the last path that was tried

    def asked(self) -> ComposeResult:
        """What is always in it, then the questions."""
        yield Static(sentence(WHAT), id="what")
        yield Question(Field("path", "path", silent="its path, such as ~/dossier.html", longest=LONGEST_PATH))
        yield Question(Pick("replace", "a file is there", REPLACE))
        for name, (label, silent) in WISHES.items():
            yield Question(Field(name, label, silent=silent, longest=LONGEST_WISH))
        yield Question(Pick("notes", "exposure notes", NOTES))
        yield Static("", id="progress")

    def fill(self) -> None:
        """A path stands there, ready to be replaced."""
        self.fill_in({"path": f"~/{file_name(self.watch_told.name)}.html"})
        self._offer_to_replace()

    @property
    def subject(self) -> str:
        """The watch."""
        return short(self.watch_told.name, 50)

    @on(Input.Changed, "#path-entry")
    def _offer_to_replace(self) -> None:
        """Whether to write over a file is asked where there is one."""
        self.question("replace").display = is_there(typed_path(self.text("path").strip()))

    def save(self) -> None:
        """Write the dossier, in a thread."""
        if self.writing.busy:
            return
        ordered = self._ordered()
        self.query_one("#progress", Static).update(sentence("Writing the dossier …"))
        self.writing.begin(lambda _: self._write(ordered), self._leave_with, self._say_why_not)

    def _ordered(self) -> Ordered:
        words = self.text("path").strip()
        if not words:
            raise BadInput("Where to? A path belongs here, such as ~/dossier.html.", where="path")
        self._target = typed_path(words)
        form = form_of(self._target)
        if form is None:
            raise BadInput("Let the path end in .html or .md, which says in which form.", where="path")
        wishes = (self.text(name).strip() for name in WISHES)
        return Ordered(
            path=in_a_folder(words),
            form=form,
            wishes=tuple(wish for wish in wishes if wish),
            with_notes=self.text("notes") == "yes",
            replace=self.question("replace").display and self.text("replace") == "yes",
        )

    def _write(self, said: Ordered) -> Path:
        book = self.book
        spare_record(said.path, book.location)
        record = book.standing(self.watch_told.id or 0).record
        of = (record, book.practice, book.today, book.units, said.wishes)
        page = book.ask(page_of, *of, with_notes=said.with_notes)
        write_private(said.path, render(page, said.form), replace=said.replace)
        return said.path

    def _leave_with(self, path: Path) -> None:
        self.app.pop_screen()
        self.app.notify(printable(f"Wrote the dossier of {self.watch_told.name} to {path}."), markup=False)

    def _say_why_not(self, error: LogbookError) -> None:
        self.query_one("#progress", Static).update("")
        self._offer_to_replace()
        self.complain(error)

    def complain(self, error: LogbookError) -> None:
        """What speaks against the path is said beside it."""
        if self._target is not None and error.where == str(self._target):
            error.where = "path"
        super().complain(error)

    def action_back(self) -> None:
        """One step back, once what is being written stands there."""
        if not self.writing.busy:
            super().action_back()


def file_name(nickname: str) -> str:
    """A nickname as a file may be called anywhere: `grans-chrono`."""
    plain = unicodedata.normalize("NFKD", nickname).encode("ascii", "ignore").decode()
    words = re.findall(r"[a-z0-9]+", plain.replace("'", "").casefold())
    return "-".join(words)[:LONGEST_NAME].rstrip("-") or "watch"
