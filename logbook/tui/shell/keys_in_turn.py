"""Keys in turn: each waits for the effect of the one before, so that a burst lands as single keys would.

The library hands a key to whatever has the focus when the key arrives, and a key moves the focus, answers a
question or opens a room only later, by messages. Of keys that arrive together all but the first would go to
the question that the first one leaves.
"""

from __future__ import annotations

import asyncio
from collections import deque
from typing import TYPE_CHECKING

from textual import events
from textual.message_pump import MessagePump
from textual.widgets import Input

if TYPE_CHECKING:
    from logbook.tui.app import LogbookApp

# A key goes up from the focus to the app, which calls the action; the action posts a message, which goes up
# and posts another one of the form; that moves the focus, in the app; and one more for what the move brings.
ROUNDS = 4
LOOK_AGAIN_S = 0.1  # whether the one that is waited for is still there


class KeysInTurn:
    """Lets one key through at a time; the others wait here."""

    def __init__(self, app: LogbookApp) -> None:
        self._app = app
        self._waiting: deque[events.Key | events.Paste] = deque()
        self._at_it: asyncio.Task[None] | None = None
        self._next: events.Key | events.Paste | None = None  # whose turn it is

    def hold(self) -> None:
        """Keep keys back until the room in front is there, with all that is on its way to it."""
        if self._at_it is None:
            self._at_it = asyncio.create_task(self._let_through(), name="keys in turn")

    def may_pass(self, event: events.Key | events.Paste) -> bool:
        """True when it is this one's turn; else it comes again when it is."""
        if event is self._next:
            self._next = None
            return True
        if self._at_it is not None:
            self._waiting.append(event)
            return False
        self.hold()
        return True

    async def _let_through(self) -> None:
        try:
            await self._all_done()
            while self._waiting:
                self._next = self._waiting.popleft()
                is_text = self._is_text(self._next)
                self._app.post_message(self._next)
                await _caught_up(self._app)
                if not (is_text and self._waiting and self._is_text(self._waiting[0])):
                    await self._all_done()
        finally:
            self._at_it = None

    def _is_text(self, event: events.Key | events.Paste) -> bool:
        """True for a letter that an entry keeps: it moves nothing, so that the next one need not wait."""
        return isinstance(event, events.Key) and event.is_printable and isinstance(self._app.focused, Input)

    async def _all_done(self) -> None:
        """Go on once nothing is on its way any more between the focus and the app."""
        for _ in range(ROUNDS):
            await self._app.changes.let_keys_on()
            await _caught_up(self._app)
            here = self._app.focused or self._app.screen
            for pump in here.ancestors_with_self:
                await _caught_up(pump)


async def _caught_up(pump: MessagePump) -> None:
    """Go on once `pump` has worked off what it was sent before, or has gone."""
    done = asyncio.Event()
    if not pump.call_later(done.set):
        return
    while not done.is_set():
        try:
            await asyncio.wait_for(done.wait(), LOOK_AGAIN_S)
        except TimeoutError:
            if not pump.is_running:
                return
