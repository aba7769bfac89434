"""Work that takes a while: done in a thread, its end handed back where widgets may be touched.

Whatever goes wrong in it is a sentence for the person, never the end of the app.
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

if TYPE_CHECKING:
    from logbook.tui.app import LogbookApp
    from logbook.tui.room import Room

Result = TypeVar("Result")
Tell = Callable[[int, int], None]  # so much is done, of so much


class LeftError(Exception):
    """The person leaves while something is read or written; what raises it leaves the record as it was."""


@dataclass(frozen=True, slots=True)
class _Piece:
    """One piece of work, and who hears of its end."""

    do: Callable[[Tell], Any]
    done: Callable[[Any], None]
    failed: Callable[[LogbookError], None]
    told: Tell | None
    left: Callable[[], None] | None


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
        self._leaving = Event()  # it, at the next chance
        self._is_running = False

    @property
    def busy(self) -> bool:
        """True until the last piece of work has ended."""
        return self._under_way is not None or bool(self._waiting)

    @property
    def leaving(self) -> bool:
        """True from the wish to leave until the work has ended."""
        return self.busy and self._leaving.is_set()

    def begin(
        self,
        do: Callable[[Tell], Result],
        done: Callable[[Result], None],
        failed: Callable[[LogbookError], None] | None = None,
        *,
        told: Tell | None = None,
        left: Callable[[], None] | None = None,
    ) -> None:
        """Have something done in a thread, where it touches no widget.

        `do` calls what it is given now and then, with how much is done and of how much, which `told` hears.
        `done` takes what it returns, `failed` why there is nothing, by default said over the room; `left`
        hears that it was left.
        """
        if self._newest_only:
            self._waiting.clear()
        self._waiting.append(_Piece(do, done, failed or self._app.refuse, told, left))
        if not self._is_running:
            self._is_running = True
            self._owner.run_worker(self._work_off(), group="background")

    def leave(self) -> None:
        """Have the piece under way stop at the next chance."""
        self._leaving.set()

    @property
    def _app(self) -> LogbookApp:
        return cast("LogbookApp", self._owner.app)

    async def _work_off(self) -> None:
        try:
            while self._waiting:
                end = await self._end_of(self._waiting.popleft())
                # What was asked meanwhile makes the answer to an old question an old one.
                if self._owner.is_attached and not (self._newest_only and self._waiting):
                    self._tell_of(end)
        finally:
            self._is_running = False
            self._under_way = None
            self._leaving.set()  # a thread whose room has gone stops at the next chance

    def _tell_of(self, end: Callable[[], None]) -> None:
        try:
            end()
        except LogbookError as error:
            self._app.refuse(error)

    async def _end_of(self, piece: _Piece) -> Callable[[], None]:
        """Do a piece of work; what is to be called now that it has ended."""
        self._under_way, self._leaving = piece, Event()
        try:
            result = await asyncio.to_thread(piece.do, self._tell(piece, self._leaving))
        except LeftError:
            return piece.left or (lambda: None)
        except Exception as reason:  # whatever it is, it is told of in the room
            return partial(piece.failed, self._sentence(reason))
        else:
            return partial(piece.done, result)
        finally:
            self._under_way = None

    def _tell(self, piece: _Piece, leaving: Event) -> Tell:
        """What the thread calls with how far it is; raises LeftError once it is to stop."""
        loop = asyncio.get_running_loop()

        def hear(done: int, total: int) -> None:
            if piece.told is not None and self._owner.is_attached:
                piece.told(done, total)

        def tell(done: int, total: int) -> None:
            if leaving.is_set():
                raise LeftError
            loop.call_soon_threadsafe(hear, done, total)

        return tell

    def _sentence(self, reason: Exception) -> LogbookError:
        if isinstance(reason, LogbookError):
            return reason
        self._owner.log.error("".join(traceback.format_exception(reason)))
        return SystemTrouble(f"This could not be done: {type(reason).__name__}, {reason}.")
