"""What the tests of the Watch room share."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from textual.pilot import Pilot

from logbook.model.values import Exposure
from logbook.tui.shell.form import FormRoom
from logbook.tui.watch.room import WatchRoom
from logbook.tui.widgets.lines import Lines
from tests.tui.helpers import wait_for_room, wait_for_text, write

Log = Callable[..., Exposure]
IdOf = Callable[[str], int]
DIVE = {"depth_m": 21.0, "duration_s": 38 * 60, "water_c": 17.0, "rinsed": True}


async def opened(pilot: Pilot[Any], watch_id: int, shows: str = "of 100 left") -> None:
    """The Watch room of one watch, on top of the Shelf, once it `shows` its score or why there is none."""
    await wait_for_room(pilot, "ShelfRoom")
    pilot.app.push_screen(WatchRoom(watch_id))
    await wait_for_room(pilot, "WatchRoom")
    await wait_for_text(pilot, shows)


async def to_the_log(pilot: Pilot[Any]) -> None:
    """The cursor into the log."""
    log = pilot.app.screen.query_one("#log", Lines)
    while not log.has_focus:
        await pilot.press("tab")
    await pilot.pause()


async def answer(pilot: Pilot[Any], name: str, text: str) -> None:
    """Another answer to one question of the form that is in front."""
    screen = pilot.app.screen
    assert isinstance(screen, FormRoom)
    screen.question(name).asked.ask()
    await pilot.pause()
    await write(pilot, text)
