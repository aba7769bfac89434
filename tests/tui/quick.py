"""What an app without a terminal need not do, so that more tests fit into a minute."""

from __future__ import annotations

import asyncio
import time
from typing import Any

import pytest
from textual import _wait
from textual._compositor import Compositor
from textual._context import visible_screen_stack
from textual.app import ScreenStackError
from textual.css.model import RuleSet
from textual.css.stylesheet import Stylesheet
from textual.message_pump import MessagePump
from textual.pilot import Pilot
from textual.screen import Screen

from tests.tui.helpers import PATIENCE_S

REST_S = 1 / 100  # the pilot looks so often whether the app has come to rest

_parsed: dict[tuple[Any, ...], list[RuleSet]] = {}  # by text, place and colours: the same for every app


def _listening(pilot: Pilot[Any]) -> list[MessagePump]:
    """The app and all that is in the room in front."""
    try:
        return [pilot.app, *pilot.app.screen.walk_children(with_self=True)]
    except ScreenStackError:  # it is closing
        return []


def leave_out(monkeypatch: pytest.MonkeyPatch) -> None:
    """Parse each style sheet once, paint nothing that goes nowhere, and notice sooner that all is done.

    The pilot sends a message to everything in the room to hear that none is left; looking is cheaper.
    """
    parse, paint = Stylesheet._parse_rules, Compositor.render_update

    def parse_rules(self: Stylesheet, *told: Any, **more: Any) -> list[RuleSet]:
        key = (*told, *more.items(), *self._variables.items())
        if key not in _parsed:
            _parsed[key] = parse(self, *told, **more)
        return _parsed[key]

    def render_update(
        self: Compositor, full: bool = False, screen_stack: list[Screen] | None = None, simplify: bool = False
    ) -> Any:
        if full:
            return paint(self, full, screen_stack, simplify)
        visible_screen_stack.set(screen_stack or [])
        self._dirty_regions.clear()
        return None

    async def wait_for_screen(self: Pilot[Any], timeout: float = PATIENCE_S) -> bool:
        end = time.monotonic() + timeout
        while any(not each._message_queue.empty() for each in _listening(self)):
            if self.app._exception_event.is_set():
                return False
            assert time.monotonic() < end, "messages are left that nobody takes"
            await asyncio.sleep(0)
        return True

    monkeypatch.setattr(Pilot, "_wait_for_screen", wait_for_screen)
    monkeypatch.setattr(Stylesheet, "_parse_rules", parse_rules)
    monkeypatch.setattr(Compositor, "render_update", render_update)
    monkeypatch.setattr(_wait, "SLEEP_GRANULARITY", REST_S)
    monkeypatch.setattr(_wait, "SLEEP_IDLE", REST_S / 20)
