"""What every room has in common: its frame, its keys, one step back, help, and undo."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import TYPE_CHECKING, Any, ClassVar, Literal, TypeVar, cast

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.screen import Screen

from logbook.errors import InUse, LogbookError, NotFound, NothingLeft
from logbook.model.text import printable
from logbook.tui.shell.ink import Line, short
from logbook.tui.shell.router import made
from logbook.tui.widgets.frame import Caution, Edge, KeyLine, SmallWindow, TitleLine, WaitLine

if TYPE_CHECKING:
    from logbook.record.record import Book
    from logbook.tui.app import LogbookApp
    from logbook.tui.shell.background import Tell

Found = TypeVar("Found")

WRITING, LEFT = "Writing it down …", "Left: nothing was written."

BACK = Binding("escape", "back", "back")
HELP = Binding("question_mark,f1", "help", "help", key_display="?")
# Of the rooms that show the record and ask nothing; in one with fields a letter is text.
UNDO = Binding("z", "undo", "undo", tooltip="take the last change back")
REDO = Binding("y", "redo", "redo", show=False, tooltip="do again what was taken back last")
ONE_LINE = Binding("colon", "one_line", "one line", show=False, tooltip="log water in one line, of any watch")
CHANGES = Binding("Z", "changes", "changes", show=False, tooltip="every change, to undo and redo")

# Keys that are written otherwise than the library names them.
_AS_WRITTEN = {
    "enter": "⏎",
    "escape": "esc",
    "question_mark": "?",
    "colon": ":",
    "left_square_bracket": "[",
    "right_square_bracket": "]",
}


class Room(Screen[None]):
    """A screen with a title line, a body, the caution and the keys that work in it.

    A room says what it is for in `PURPOSE`; help and palette read it. `body` yields what stands in between.
    """

    TITLE_WORDS: ClassVar[str] = ""
    PURPOSE: ClassVar[str] = ""
    BINDINGS: ClassVar[list[BindingType]] = [BACK, HELP]

    prepared = False  # what it cannot do without is read
    saving = False  # what was answered is being written

    @property
    def logbook_app(self) -> LogbookApp:
        """The app as this one, which the library takes for any."""
        return cast("LogbookApp", self.app)

    @property
    def book(self) -> Book:
        """The record this app is open on."""
        return self.logbook_app.book

    def compose(self) -> ComposeResult:
        """Title, body, caution, keys."""
        yield Edge(TitleLine(id="title"), SmallWindow(), id="top")
        yield from self.body()
        yield Edge(WaitLine(), Caution(), KeyLine(), id="foot")

    def body(self) -> ComposeResult:
        """What stands between title and caution."""
        raise NotImplementedError

    def on_mount(self) -> None:
        """Write the frame's lines."""
        self.say_title()
        self.say_keys()

    def on_resize(self) -> None:
        """The keys wrap where the window ends, and a small window is told of."""
        self.query_one(SmallWindow).measure()
        self.say_keys()

    def title_line(self) -> Line:
        """Where one is, and what it is about."""
        about = short(self.subject, 60)
        return [(f"logbook · {self.TITLE_WORDS}{': ' if about else ''}", "title"), (about, "strong")]

    @property
    def subject(self) -> str:
        """The watch or the thing that the room is about; empty where it is about none."""
        return ""

    def say_title(self) -> None:
        """Write the title as it is now."""
        self.query_one("#title", TitleLine).say(self.title_line())

    def say_keys(self) -> None:
        """Write the keys that work now."""
        self.query_one("#keys", KeyLine).say(self)

    def on_screen_resume(self) -> None:
        """What was shown may have changed meanwhile; what takes longer to work out follows."""
        try:
            self.book.follow()
            self.reload()
        except LogbookError as error:
            self.logbook_app.trouble_reading(error)
        else:
            self.logbook_app.look_ahead()

    def reload(self) -> None:
        """Read again what this room shows."""

    def room_bindings(self) -> Iterator[Binding]:
        """The room's own bindings, then those of every room, each key once."""
        seen: set[str] = set()
        for kind in type(self).__mro__:
            for binding in kind.__dict__.get("BINDINGS", []):
                if isinstance(binding, Binding) and issubclass(kind, Room) and binding.key not in seen:
                    seen.add(binding.key)
                    yield binding

    def shown_keys(self) -> list[tuple[str, str, str]]:
        """Key as written, its words, its action: what the last line of the room shows."""
        return [
            (binding.key_display or key_name(binding.key), binding.description, binding.action)
            for binding in self.room_bindings()
            if binding.show
        ]

    def action_back(self) -> None:
        """One step back."""
        self.app.pop_screen()

    def close(self) -> None:
        """Out of this room, and of what stands over it, such as help; one may have left it meanwhile."""
        if self not in self.app.screen_stack:
            self.logbook_app.show_again()
            return
        while self.app.screen is not self:
            self.app.pop_screen()
        self.app.pop_screen()

    def leave(self, error: LogbookError) -> None:
        """One step back, as there is nothing to show, and say why; or wait for a record that is in use."""
        if not isinstance(error, InUse):
            self.close()
        self.logbook_app.trouble_reading(error)

    def prepare(self) -> None:
        """Read what this room cannot do without, before it is shown; raises LogbookError."""

    @property
    def watch_here(self) -> int | None:
        """The watch at hand, or under the cursor."""
        return None

    def action_room(self, name: str) -> None:
        """To the room of a name."""
        self.go(name)

    def action_watch_room(self, name: str) -> None:
        """To a room about the watch at hand, where there is one."""
        if (watch_id := self.watch_here) is not None:
            self.go(name, watch_id)

    def go(self, name: str, *about: Any, **more: Any) -> None:
        """Go to the room of a name: see `enter`."""
        self.enter(made(name, *about, **more))

    def enter(self, room: Room) -> None:
        """Go to another room, or say why there is nothing to show there."""
        self.looked_up(self.book.follow)
        try:
            room.prepare()
            room.prepared = True
        except LogbookError as error:
            self.logbook_app.trouble_reading(error, lambda: self.enter(room))
            self._forget_what_is_gone(error)
        else:
            self.app.push_screen(room)

    def _forget_what_is_gone(self, error: LogbookError) -> None:
        """What another window took away is no longer shown."""
        if isinstance(error, NotFound):
            self.book.forget()
            self.logbook_app.show_again()

    def looked_up(self, read: Callable[[], Found]) -> Found | None:
        """What the record says while one moves or types; None, and a message, when it cannot be read."""
        try:
            return read()
        except LogbookError as error:
            self.logbook_app.trouble_reading(error)
            return None

    def change(
        self,
        do: Callable[[], str],
        failed: Callable[[LogbookError], None] | None = None,
        then: Callable[[], None] | None = None,
    ) -> None:
        """Do something to the record in a thread, and show what has become of it; or say why not.

        `do` returns what is said once it is done; `then` leads elsewhere after that.
        """

        def done(said: str) -> None:
            self.app.notify(said, markup=False)
            (then or self.logbook_app.show_again)()

        def refused(error: LogbookError) -> None:
            (failed or self.logbook_app.refuse)(error)
            self._forget_what_is_gone(error)

        self._begin(lambda _: do(), done, refused, WRITING)

    def save_once(
        self, do: Callable[[], str], failed: Callable[[LogbookError], None], then: Callable[[], None]
    ) -> None:
        """The same for what was answered, which is not written twice however often one says so."""

        def refused(error: LogbookError) -> None:
            self.saving = False
            failed(error)

        if not self.saving:
            self.saving = True
            self.change(do, refused, then)

    def _begin(
        self,
        do: Callable[[Tell], str],
        done: Callable[[str], None],
        failed: Callable[[LogbookError], None],
        words: str,
    ) -> None:
        """Change the record in a thread, and read there what the rooms show first."""
        book = self.book

        def do_and_read(tell: Tell) -> str:
            said = do(tell)
            book.read_ahead()
            return said

        self.logbook_app.changes.begin(do_and_read, done, failed, left=self.say_left, words=words)

    def strike(self, entry_id: int, name: str) -> None:
        """Take an entry off the record, and say which it was."""

        def strike() -> str:
            self.book.strike(entry_id)
            return printable(f"Struck: {name}. z: undo")

        self.change(strike)

    def say_left(self) -> None:
        """A change was left before it was made; one is still here, and may save again."""
        self.saving = False
        self.app.notify(LEFT, markup=False)

    def action_undo(self) -> None:
        """Take back the last change."""
        self.step(self.book.undo, "Undone: {}. y: do it again", "Undoing …")

    def action_redo(self) -> None:
        """Do again what was taken back last."""
        self.step(self.book.redo, "Done again: {}. z: undo", "Doing it again …")

    def step(self, take: Callable[[Tell], str], said: str, words: str) -> None:
        """Go one step back or forth, in a thread; `take` returns what it was, which `said` says."""

        def done(label: str) -> None:
            self.app.notify(printable(said.format(label)), markup=False)
            self.logbook_app.show_again()

        def failed(error: LogbookError) -> None:
            severity: Literal["information", "error"] = (
                "information" if isinstance(error, NothingLeft) else "error"
            )
            self.app.notify(error.message, severity=severity, markup=False)

        self._begin(take, done, failed, words)

    def action_one_line(self) -> None:
        """Log a contact with water in one line."""
        self.go("entry-line", self.nickname)

    @property
    def nickname(self) -> str:
        """The watch that one is looking at, if it is one."""
        return ""

    def action_changes(self) -> None:
        """Every change, and which of them undo and redo would take next."""
        self.go("changes")

    def action_help(self) -> None:
        """What this room is for and which keys work in it."""
        self.app.push_screen(made("help", self))


def key_name(key: str) -> str:
    """A key as it is written for people."""
    first = key.split(",")[0]
    return _AS_WRITTEN.get(first, first.replace("ctrl+", "^"))


def keys_in_a_field(
    keys: Sequence[tuple[str, str, str]], hidden: Sequence[str] = ()
) -> list[tuple[str, str, str]]:
    """The keys of a room that work while one writes: a letter is text there, help is on F1."""
    shown = [each for each in keys if each[2] not in hidden]
    return [("F1" if key == "?" else key, words, action) for key, words, action in shown]
