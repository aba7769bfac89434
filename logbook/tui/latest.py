"""Questions that take a while, answered in a thread one at a time; of those asked meanwhile only the last."""

from __future__ import annotations

from collections.abc import Callable
from typing import Generic, TypeVar

from textual.widget import Widget

Asked = TypeVar("Asked")
Answer = TypeVar("Answer")


class Latest(Generic[Asked, Answer]):
    """Answers what was asked last, without a key having to wait for it.

    `work` runs in a thread and touches no widget; `show` takes its answer back in the room.
    """

    def __init__(
        self, room: Widget, work: Callable[[Asked], Answer], show: Callable[[Asked, Answer], None]
    ) -> None:
        self._room = room
        self._work = work
        self._show = show
        self._waiting: list[Asked] = []  # at most one
        self._busy = False

    @property
    def idle(self) -> bool:
        """True when the last question has its answer."""
        return not self._busy

    def ask(self, question: Asked) -> None:
        """Answer this instead of anything that is still waiting."""
        self._waiting = [question]
        if not self._busy:
            self._start()

    def _start(self) -> None:
        self._busy = True
        question = self._waiting.pop()

        def run() -> None:
            answer = self._work(question)
            self._room.call_later(self._done, question, answer)

        self._room.run_worker(run, thread=True, group="latest")

    def _done(self, question: Asked, answer: Answer) -> None:
        self._busy = False
        if self._waiting:
            self._start()  # what was asked meanwhile makes this answer an old one
        elif self._room.is_attached:
            self._show(question, answer)
