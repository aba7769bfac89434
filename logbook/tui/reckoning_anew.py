"""The ledger of a long record is made anew after constants or version have changed: how far it is."""

from __future__ import annotations

from dataclasses import dataclass
from threading import Event
from typing import TYPE_CHECKING, ClassVar, cast

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.message import Message
from textual.widgets import ProgressBar, Static
from textual.worker import get_current_worker

from logbook.tui.ink import sentence
from logbook.tui.room import Room

if TYPE_CHECKING:
    from logbook.tui.app import LogbookApp

WHY = (
    "The constants in force, or this version of logbook, are not those that the ledger was reckoned with. So "
    "what each exposure cost is reckoned anew, once."
)
LEAVING = "Putting everything back as it was …"
LEFT = "Not now: the record is as it was, and its ledger is reckoned anew when it is opened next."


class _LeftError(Exception):
    """The person leaves."""


class ReckoningAnewRoom(Room):
    """A bar, the same in words, and one way out; closes by itself when all is done."""

    CSS_PATH = "reckoning_anew.tcss"
    TITLE_WORDS = "Reckoning anew"
    PURPOSE = (
        "What each exposure cost each seal is reckoned anew, since constants or version have changed. "
        "Leaving puts everything back as it was."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "not now, leave", tooltip="put everything back and leave logbook"),
        Binding("ctrl+q,ctrl+c", "leave", "", show=False),
    ]

    @dataclass
    class Told(Message):
        """So many exposures are done, of so many."""

        done: int
        total: int

    @dataclass
    class Ended(Message):
        """All is done, or, with a reason, nothing is."""

        reason: Exception | None

    def __init__(self) -> None:
        super().__init__()
        self._leaving = Event()

    def body(self) -> ComposeResult:
        """Why, the bar, the words."""
        with Vertical(id="anew"):
            yield Static(sentence(WHY), id="why")
            yield ProgressBar(show_percentage=False, show_eta=False)
            yield Static(sentence("Opening the record …"), id="words")

    def on_mount(self) -> None:
        """Begin, in a thread, so that no key waits."""
        super().on_mount()
        self.run_worker(self._work, thread=True, group="anew", exit_on_error=False)

    def _work(self) -> None:
        worker = get_current_worker()

        def tell(done: int, total: int) -> None:
            if self._leaving.is_set() or worker.is_cancelled:
                raise _LeftError
            self.post_message(self.Told(done, total))

        try:
            self.book.reckon_anew(tell)
        except Exception as reason:  # whatever it is, the room must not stand for ever
            self.post_message(self.Ended(reason))
        else:
            self.post_message(self.Ended(None))

    @on(Told)
    def _show(self, told: Told) -> None:
        self.query_one(ProgressBar).update(total=told.total, progress=told.done)
        if not self._leaving.is_set():
            self._say(f"{told.done:,} of {told.total:,} exposures")

    @on(Ended)
    def _end(self, ended: Ended) -> None:
        if ended.reason is None:
            while self.app.screen is not self:  # help, or the palette
                self.app.pop_screen()
            self.dismiss()
        elif isinstance(ended.reason, _LeftError):
            self.app.exit(message=LEFT)
        else:
            cast("LogbookApp", self.app).give_up(ended.reason)

    def action_leave(self) -> None:
        """Put everything back and leave; said once it is so."""
        self._leaving.set()
        self._say(LEAVING)

    def _say(self, words: str) -> None:
        self.query_one("#words", Static).update(sentence(words))
