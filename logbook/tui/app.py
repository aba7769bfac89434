"""The terminal UI: opens a record and shows its Shelf."""

from __future__ import annotations

import gc
from collections.abc import Callable, Iterable, Mapping
from datetime import date
from functools import partial
from pathlib import Path, PurePath
from typing import TYPE_CHECKING, ClassVar

from textual import events, on
from textual.app import App, SystemCommand
from textual.binding import Binding, BindingType
from textual.screen import Screen

from logbook.errors import InUse, LogbookError
from logbook.model.text import full_date, printable
from logbook.model.values import Units
from logbook.record.file import lock
from logbook.record.file.places import refuse_missing_folder
from logbook.record.file.plain import plain, plainly
from logbook.record.record import Book
from logbook.record.standings import MustReckon
from logbook.tui.shelf.room import ShelfRoom
from logbook.tui.shell.background import A_MOMENT, LEAVING, Background, Tell
from logbook.tui.shell.keys_in_turn import KeysInTurn
from logbook.tui.shell.look import Look, wants_no_colour
from logbook.tui.shell.room import Room, key_name
from logbook.tui.widgets.frame import WaitLine

if TYPE_CHECKING:
    from tempfile import TemporaryDirectory

    from textual.actions import ActionParseResult
    from textual.dom import DOMNode


A_MINUTE_S = 60
LEFT_READING = "Left: the record is in use by another program, so this stands as it was read before."


class LogbookApp(App[int]):
    """The rooms around one record."""

    # The first screen is not pushed, so that its own sheet would never be read: it comes with the app's.
    CSS_PATH: ClassVar[list[str | PurePath]] = ["shell/theme.tcss", "shelf/room.tcss"]
    TITLE = "logbook"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+q", "quit", "quit", show=False),
        Binding("ctrl+c", "quit", "quit", show=False),
    ]

    def __init__(self, book: Book, clock: Callable[[], date] | None = None) -> None:
        """On one record; `clock` tells which day it is now, None where the day was given and stays."""
        super().__init__(ansi_color=True if wants_no_colour() else None)
        self.book = book
        self._clock = clock
        self._demo: TemporaryDirectory[str] | None = None
        self.behind = Background(self)  # what the first screen need not wait for
        self.ahead = Background(self)
        self.trouble: Exception | None = None  # why it ended, when nothing could be shown
        self.look = Look(self)
        self.changes = Background(self)  # what is written, in turn; a key waits for what the one before wrote
        self.record_is_free = Background(self, newest_only=True)
        self._waiting: dict[Background, str] = {}  # what is waited for -> in words
        self._keys = KeysInTurn(self)

    def get_default_screen(self) -> ShelfRoom:
        """The Shelf is the floor of the stack."""
        return ShelfRoom()

    async def on_event(self, event: events.Event) -> None:
        """Keys and what is pasted go on one at a time; all else at once."""
        if isinstance(event, (events.Key, events.Paste)) and not event.is_forwarded:
            if isinstance(event, events.Key) and event.key == "escape" and self._leave_what_is_waited_for():
                return
            if not self._keys.may_pass(event):
                return
        await super().on_event(event)

    def on_load(self) -> None:
        """A key waits for no lock: what reads the record for it is done again once the record is free."""
        lock.wait_with(A_MOMENT)

    def on_mount(self) -> None:
        """The Shelf, once its ledger is the one of the constants in force."""
        if self.look.trouble is not None:
            self.refuse(self.look.trouble)
        self.set_interval(A_MINUTE_S, self.follow)
        self._keys.hold()
        self.book.standings()
        if self.book.must_reckon:
            self._reckon_anew(self._begin)
        else:
            self._begin()

    def _reckon_anew(self, then: Callable[[], None]) -> None:
        """The whole ledger, with a bar; `then` what needs it."""
        from logbook.tui.shell.reckoning_anew import ReckoningAnewRoom

        if not any(isinstance(screen, ReckoningAnewRoom) for screen in self.screen_stack):
            self.push_screen(ReckoningAnewRoom(), lambda _: then())

    def _begin(self) -> None:
        """The three questions when there is nothing on the Shelf; then what is not needed at once."""
        if not self.book.standings():
            self.ask_first_watch()
        else:
            self._tell_what_reads_otherwise()
        self.call_after_refresh(self._warm)

    def _tell_what_reads_otherwise(self) -> None:
        try:
            otherwise = self.book.reads_otherwise()
        except LogbookError as error:
            self.trouble_reading(error, self._tell_what_reads_otherwise)
            return
        if otherwise:
            from logbook.tui.shelf.otherwise import OtherwiseRoom

            self.push_screen(OtherwiseRoom())

    @on(events.AppFocus)
    def follow(self) -> None:
        """Show the day that it is, and the record as it is."""
        if not self.follow_the_day():
            self.follow_the_record()

    def follow_the_record(self) -> bool:
        """What another window changed is shown; True when it changed something."""
        try:
            moved = self.book.follow()
            if moved and isinstance(self.screen, Room):
                self.screen.reload()
        except LogbookError as error:
            self.trouble_reading(error, self.follow)
            return False
        if moved:
            self.say("Another window changed the record; this is how it stands now.")
            self.look_ahead()
        return moved

    def follow_the_day(self) -> bool:
        """After midnight everything is shown as on the new day; True when the day changed."""
        if self._clock is None or self._clock() == self.book.today:
            return False
        self.book.turn_to(self._clock())
        said = f"It is now {self.book.today:%A}, {full_date(self.book.today)}."
        if any(hasattr(screen, "around") for screen in self.screen_stack):
            said += " A form that was open before midnight still means the day it was opened on."
        self.say(said)
        for screen in self.screen_stack:
            if isinstance(screen, Room):
                try:
                    screen.reload()
                except LogbookError as error:
                    self.trouble_reading(error)
        self.look_ahead()
        return True

    async def run_action(
        self,
        action: str | ActionParseResult,
        default_namespace: DOMNode | None = None,
        namespaces: Mapping[str, DOMNode] | None = None,
    ) -> bool:
        """What a key does; damage of the record that nobody foresaw is told of in the room."""
        try:
            return await super().run_action(action, default_namespace, namespaces)
        except Exception as error:
            if (told := plain(error, self.book.location)) is None:
                raise
            self.refuse(told)
            return True

    def _handle_exception(self, error: Exception) -> None:
        """What nobody caught: where the record is at fault the app ends with the sentence that says so."""
        told = plain(getattr(error, "error", None) or error, self.book.location)
        if told is None:
            super()._handle_exception(error)
        else:
            self.trouble = told
            self._close_messages_no_wait()

    def give_up(self, trouble: Exception) -> None:
        """Leave, since there is nothing to show; the one who opened the app is told why."""
        self.trouble = trouble
        self.exit()

    def ask_first_watch(self) -> None:
        """The three questions."""
        from logbook.tui.watch.welcome import WelcomeRoom

        self.push_screen(WelcomeRoom())

    def open_demo(self) -> None:
        """Build the demo in a temporary folder and open it in place of the empty record."""
        from tempfile import TemporaryDirectory

        if self._demo is None:
            self._demo = TemporaryDirectory(prefix="logbook-demo-")
            self.say("Building the demo: an invented collection, gone when you leave.")
            path = Path(self._demo.name) / "demo.logbook"
            self.behind.begin(lambda _: self._build_demo(path), self._open)

    def _build_demo(self, path: Path) -> Book:
        from logbook import demo

        demo.build(path, self.book.today, self.book.practice)
        return Book(path, self.book.today, self.book.units_asked)

    def _open(self, book: Book) -> None:
        """Another record, on its Shelf."""
        self.book.close()
        self.book = book
        while len(self.screen_stack) > 1:
            self.pop_screen()
        self._warm()

    def on_unmount(self) -> None:
        """Nothing is left open, and the demo goes with the app."""
        self.book.close()
        if self._demo is not None:
            self._demo.cleanup()

    def _warm(self) -> None:
        # The libraries that writing needs come in a thread, so that no key waits for them.
        book = self.book

        def warm(_: Tell) -> None:
            book.warm()
            gc.freeze()  # what was loaded stays; looking it through again would stop the keys for 0.1 s

        self.behind.begin(warm, lambda _: self.show_again())

    def look_ahead(self) -> None:
        """Bands and forecasts of what has changed come in a thread, so that no key waits for them."""
        book = self.book
        self.ahead.begin(lambda _: book.look_ahead(), self._looked)

    def _looked(self, found: bool) -> None:
        """What was found is shown."""
        if found:
            self._paint_again()

    def _paint_again(self) -> None:
        try:
            if isinstance(self.screen, Room) and self.screen.is_mounted:
                self.screen.reload()
        except LogbookError as error:
            self.trouble_reading(error)

    def show_again(self) -> None:
        """The room in front as the record is now; one that only opens reads by itself."""
        self._paint_again()
        self.look_ahead()

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        """Every action of the room one is in, then those of the app."""
        if isinstance(screen, Room):
            for binding in screen.room_bindings():
                if not binding.description:
                    continue
                key = binding.key_display or key_name(binding.key)
                yield SystemCommand(
                    binding.description.capitalize(),
                    f"{binding.tooltip or binding.description} ({key})",
                    partial(self.call_later, screen.run_action, binding.action),
                )
        yield SystemCommand(
            "Other colours", "Dark, light, the terminal’s own, in turn", self.action_other_theme
        )
        if not isinstance(screen, ShelfRoom):  # which has it among its keys
            yield SystemCommand("Quit", "Leave logbook; everything is already saved", self.action_quit)

    def action_other_theme(self) -> None:
        """The next colours, kept for the next start."""
        try:
            self.look.keep(self.look.next_after())
        except LogbookError as error:
            self.refuse(error)
        else:
            self.say(f"Colours: {self.look.chosen}. {self.look.words}")

    def say(self, sentence: str, *, trouble: bool = False) -> None:
        """A short message over the room; what a person typed stays text."""
        self.notify(printable(sentence), severity="error" if trouble else "information", markup=False)

    def refuse(self, error: LogbookError) -> None:
        """An error as the sentence it carries."""
        self.say(error.message, trouble=True)

    # ------------------------------------------------------------------ what is waited for

    def trouble_reading(self, error: LogbookError, again: Callable[[], None] | None = None) -> None:
        """Say why the record could not be read; while another holds it, wait, and then do it `again`.

        What is not told how is shown again, as is everything that comes after a wait.
        """
        if isinstance(error, MustReckon):
            self._reckon_anew(again or self.show_again)
        elif not isinstance(error, InUse):
            self.refuse(error)
        elif again is not None or not self.record_is_free.busy:

            def knock(_: Tell) -> Callable[[], None]:
                self.book.knock()
                return again or self.show_again

            left = partial(self.say, LEFT_READING)
            self.record_is_free.begin(knock, lambda then: then(), left=left)

    @property
    def waited_for(self) -> str:
        """What is waited for at the foot of the room; empty when nothing is."""
        return next(reversed(self._waiting.values()), "")

    def waits(self, work: Background, words: str) -> None:
        """Some work takes long, or, without words, no longer."""
        before = self.waited_for
        self._waiting.pop(work, None)
        if words:
            self._waiting[work] = words
        if self.is_running and self.waited_for != before:
            for line in [line for screen in self.screen_stack for line in screen.query(WaitLine)]:
                line.say(self.waited_for)

    def _leave_what_is_waited_for(self) -> bool:
        """Leave the work whose words are shown, if any are; False where Escape means something else."""
        work = next((each for each in reversed(self._waiting) if each.can_be_left), None)
        if work is not None:
            work.leave()
            self.waits(work, LEAVING)
        return work is not None


def run(
    location: Path | str | None,
    *,
    today: date | None = None,
    units: Units | None = None,
) -> int:
    """Open the terminal UI on a record, by default the usual one; returns the exit status.

    Raises LogbookError when there is a record that cannot be read, or not be brought up to date.
    """
    book = Book(location, today or date.today(), units, by_clock=today is None)
    if isinstance(book.location, Path) and not book.exists():
        refuse_missing_folder(book.location)
    with plainly(book.location):
        book.standings()  # a record that cannot be read is refused before the terminal changes
    app = LogbookApp(book, clock=date.today if today is None else None)
    app.run()
    if app.trouble is not None:
        raise app.trouble
    return app.return_code or 0
