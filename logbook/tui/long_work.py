"""Work that takes a while: done in a thread, told of as it goes on, left when a person wants to leave."""

from __future__ import annotations

from collections.abc import Callable
from threading import Event
from typing import Generic, TypeVar

from textual.widget import Widget

from logbook.errors import LogbookError

Result = TypeVar("Result")
Tell = Callable[[int, int], None]  # so much is done, of so much


class LeftError(Exception):
    """The person leaves while something is read or written; what raises it leaves the record as it was."""


class LongWork(Generic[Result]):
    """One piece of work of a room at a time, its end handed back where widgets may be touched.

    `done` takes what the work returns and `failed` why there is nothing; `told` hears how far it is and
    `left` that it was left. A failure that is no sentence for a person is raised in the room.
    """

    def __init__(
        self,
        room: Widget,
        done: Callable[[Result], None],
        failed: Callable[[LogbookError], None],
        *,
        told: Tell | None = None,
        left: Callable[[], None] | None = None,
    ) -> None:
        self._room = room
        self._done = done
        self._failed = failed
        self._told = told
        self._left = left
        self._leaving = Event()
        self.busy = False

    @property
    def leaving(self) -> bool:
        """True from the wish to leave until the work has ended."""
        return self.busy and self._leaving.is_set()

    def begin(self, work: Callable[[Tell], Result]) -> None:
        """Start the work; it calls what it is given now and then, with how much is done and of how much."""
        self.busy = True
        self._leaving.clear()
        self._room.run_worker(lambda: self._run(work), thread=True, group="long", exit_on_error=False)

    def leave(self) -> None:
        """Have the work stop at the next chance."""
        self._leaving.set()

    def _run(self, work: Callable[[Tell], Result]) -> None:
        from textual.worker import get_current_worker

        worker = get_current_worker()

        def tell(done: int, total: int) -> None:
            if self._leaving.is_set() or worker.is_cancelled:
                raise LeftError
            if self._told is not None:
                self._room.call_later(self._told, done, total)

        try:
            result = work(tell)
        except Exception as reason:  # whatever it is, the room must not wait for ever
            self._room.call_later(self._end, reason)
        else:
            self._room.call_later(self._finish, result)

    def _finish(self, result: Result) -> None:
        self.busy = False
        self._done(result)

    def _end(self, reason: Exception) -> None:
        self.busy = False
        if isinstance(reason, LeftError) and self._left is not None:
            self._left()
        elif isinstance(reason, LogbookError):
            self._failed(reason)
        else:
            raise reason
