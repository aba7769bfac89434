"""Work that takes a while: done in a thread, its end handed back where widgets may be touched.

Whatever goes wrong in it is a sentence for the person, never the end of the app; while it waits for a record
that another holds, the foot of the room says so, and Escape leaves it.
"""

from __future__ import annotations

import asyncio
import traceback
from collections import deque
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from threading import Event
from typing import TYPE_CHECKING, Any, TypeVar, cast

from logbook.errors import LogbookError, SystemTrouble
from logbook.record.file import lock
from logbook.record.file.plain import plain

if TYPE_CHECKING:
    from logbook.tui.app import LogbookApp
    from logbook.tui.shell.room import Room

Result = TypeVar("Result")
Tell = Callable[[int, int], None]  # so much is done, of so much

KEYS_WAIT_S = 0.5  # for the effect of the one before; then they go on, and the foot of the room says why
A_MOMENT = lock.Patience(5)  # of a key that reads: another's change is mostly over by then
SAID_AFTER = 25  # times that a record was asked for in vain
IN_USE = "The record is in use: waiting for it. esc: leave it"
LEAVING = "Leaving …"


class LeftError(Exception):
    """The person leaves while something is read or written; what raises it leaves the record as it was."""


@dataclass(frozen=True, slots=True)
class _Piece:
    """One piece of work, and who hears of its end."""

    do: Callable[[Tell], Any]
    done: Callable[[Any], object]
    failed: Callable[[LogbookError], None]
    told: Tell | None
    left: Callable[[], None] | None
    words: str


class Background:
    """The work of a room, or of the app, one piece at a time and each in its turn.

    With `newest_only` a new piece takes the place of those that still wait, and nobody hears of the end of
    the one under way. A room that has gone hears of nothing any more.
    """

    def __init__(self, owner: Room | LogbookApp, *, newest_only: bool = False) -> None:
        self._owner = owner
        self._newest_only = newest_only
        self._waiting: deque[_Piece] = deque()
        self._under_way: _Piece | None = None
        self._leaving = Event()  # at the next chance
        self._is_running = False
        self._has_chances = False  # to leave it
        self._keys_go_on = asyncio.Event()
        self._keys_go_on.set()

    @property
    def busy(self) -> bool:
        """True until the last piece of work has ended."""
        return self._under_way is not None or bool(self._waiting)

    @property
    def leaving(self) -> bool:
        """True from the wish to leave until the work has ended."""
        return self.busy and self._leaving.is_set()

    @property
    def can_be_left(self) -> bool:
        """True while the piece under way comes by chances to leave it, none of which was taken."""
        return self._has_chances and not self.leaving

    def begin(
        self,
        do: Callable[[Tell], Result],
        done: Callable[[Result], object],
        failed: Callable[[LogbookError], None] | None = None,
        *,
        told: Tell | None = None,
        left: Callable[[], None] | None = None,
        words: str = "",
    ) -> None:
        """Have something done in a thread, where it touches no widget.

        `do` calls what it is given now and then, with how much is done and of how much, which `told` hears.
        `done` takes what it returns, `failed` why there is nothing, by default said over the room; `left`
        hears that it was left. `words` stand at the foot of the room once it takes long.
        """
        if self._newest_only:
            self._waiting.clear()
        self._waiting.append(_Piece(do, done, failed or self._app.refuse, told, left, words))
        if not self._is_running:
            self._is_running = True
            self._keys_go_on.clear()
            self._owner.run_worker(self._work_off(), group="background")

    def leave(self) -> None:
        """Have the piece under way, or the one that is about to be, stop at the next chance."""
        if self.busy:
            self._leaving.set()

    async def let_keys_on(self) -> None:
        """Go on once all is done, or once it takes long and says so."""
        try:
            await asyncio.wait_for(self._keys_go_on.wait(), KEYS_WAIT_S)
        except TimeoutError:
            self._takes_long()

    @property
    def _app(self) -> LogbookApp:
        return cast("LogbookApp", self._owner.app)

    async def _work_off(self) -> None:
        try:
            while self._waiting:
                end = await self._end_of(self._waiting.popleft())
                self._app.waits(self, "")
                # What was asked meanwhile makes the answer to an old question an old one.
                if self._owner.is_attached and not (self._newest_only and self._waiting):
                    self._tell_of(end)
        finally:
            self._is_running = False
            self._keys_go_on.set()
            self._app.waits(self, "")

    def _tell_of(self, end: Callable[[], object]) -> None:
        try:
            end()
        except LogbookError as error:
            self._app.refuse(error)

    async def _end_of(self, piece: _Piece) -> Callable[[], object]:
        """Do a piece of work; what is to be called now that it has ended."""
        self._under_way, self._has_chances = piece, False
        leaving = self._leaving
        if self._keys_go_on.is_set():  # for what was done before
            self._takes_long()
        try:
            result = await asyncio.to_thread(self._do, piece, leaving, asyncio.get_running_loop())
        except LeftError:
            return piece.left or (lambda: None)
        except Exception as reason:  # whatever it is, it is told of in the room
            return partial(piece.failed, self._sentence(reason))
        else:
            return partial(piece.done, result)
        finally:
            leaving.set()  # a thread whose room has gone stops at the next chance
            self._under_way, self._has_chances, self._leaving = None, False, Event()

    def _do(self, piece: _Piece, leaving: Event, loop: asyncio.AbstractEventLoop) -> object:
        """The work itself, in its thread; raises LeftError once it is to stop."""
        asked = 0

        def tell(done: int, total: int) -> None:
            if leaving.is_set():
                raise LeftError
            loop.call_soon_threadsafe(self._hear, piece, done, total)

        def between() -> None:
            nonlocal asked
            if leaving.is_set():
                raise LeftError
            asked += 1
            if asked == SAID_AFTER:
                loop.call_soon_threadsafe(self._waits_for_the_record)

        lock.wait_with(lock.Patience(None, between))
        return piece.do(tell)

    def _hear(self, piece: _Piece, done: int, total: int) -> None:
        if piece is not self._under_way or not self._owner.is_attached:
            return
        if done < total:
            self._has_chances = bool(piece.words)
            self._takes_long(f"{piece.words} {done:,} of {total:,}. esc: leave it" if piece.words else "")
        if piece.told is not None:
            piece.told(done, total)

    def _waits_for_the_record(self) -> None:
        self._has_chances = self._under_way is not None
        self._takes_long(IN_USE)

    def _takes_long(self, line: str = "") -> None:
        """Let the keys go on, and say at the foot of the room what one waits for."""
        self._keys_go_on.set()
        if self._under_way is not None and not self.leaving:
            self._app.waits(self, line or self._under_way.words)

    def _sentence(self, reason: Exception) -> LogbookError:
        if isinstance(reason, LogbookError):
            return reason
        self._owner.log.error("".join(traceback.format_exception(reason)))
        if (told := plain(reason, self._app.book.location)) is not None:
            return told
        return SystemTrouble(f"This could not be done: {type(reason).__name__}, {reason}.")
