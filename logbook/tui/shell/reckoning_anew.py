"""The ledger of a long record is made anew after constants or version have changed: how far it is."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.widgets import ProgressBar, Static

from logbook.errors import LogbookError
from logbook.tui.shell.background import Background
from logbook.tui.shell.ink import sentence
from logbook.tui.shell.room import Room

WHY = (
    "The constants in force, or this version of logbook, are not those that the ledger was reckoned with. So "
    "what each exposure cost is reckoned anew, once."
)
LEAVING = "Putting everything back as it was …"
LEFT = "Not now: the record is as it was, and its ledger is reckoned anew when it is opened next."


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

    def __init__(self) -> None:
        super().__init__()
        self.reckoning = Background(self)

    def body(self) -> ComposeResult:
        """Why, the bar, the words."""
        with Vertical(id="anew"):
            yield Static(sentence(WHY), id="why")
            yield ProgressBar(show_percentage=False, show_eta=False)
            yield Static(sentence("Opening the record …"), id="words")

    def on_mount(self) -> None:
        """Begin, in a thread, so that no key waits."""
        super().on_mount()
        self.reckoning.begin(
            self.book.reckon_anew, self._close, self._give_up, told=self.tell, left=self._leave_app
        )

    def tell(self, done: int, total: int) -> None:
        """So many exposures are done, of so many."""
        self.query_one(ProgressBar).update(total=total, progress=done)
        if not self.reckoning.leaving:
            self._say(f"{done:,} of {total:,} exposures")

    def _close(self, _: None) -> None:
        while self.app.screen is not self:  # help, or the palette
            self.app.pop_screen()
        self.dismiss()

    def _leave_app(self) -> None:
        self.app.exit(message=LEFT)

    def _give_up(self, error: LogbookError) -> None:
        self.logbook_app.give_up(error)

    def action_leave(self) -> None:
        """Put everything back and leave; said once it is so."""
        self.reckoning.leave()
        self._say(LEAVING)

    def _say(self, words: str) -> None:
        self.query_one("#words", Static).update(sentence(words))
