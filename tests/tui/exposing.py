"""What the tests of the Log exposure room share: opening it, writing into it, looking at it."""

from __future__ import annotations

from typing import Any

from textual.pilot import Pilot

from logbook.tui.water.questions import Questions
from logbook.tui.water.room import ExposureRoom
from tests.tui.helpers import paste, press_all, wait_for, wait_for_room


async def open_room(pilot: Pilot[Any], watch_id: int) -> ExposureRoom:
    """The room, with its first working shown."""
    room = ExposureRoom(watch_id)
    pilot.app.screen.enter(room)  # type: ignore[attr-defined]
    await wait_for_room(pilot, "ExposureRoom")
    await wait_for(pilot, lambda: not room.answers.busy, "the first working is there")
    return room


async def on_shelf(pilot: Pilot[Any], name: str) -> None:
    """The Shelf, with its cursor on a watch."""
    await wait_for_room(pilot, "ShelfRoom")
    shelf = pilot.app.screen
    names = [standing.name for standing in shelf.standings]  # type: ignore[attr-defined]
    await press_all(pilot, ["down"] * names.index(name))


def texts(pilot: Pilot[Any]) -> dict[str, str]:
    """What stands in the form."""
    return pilot.app.screen.query_one(Questions).texts


def focused(pilot: Pilot[Any]) -> str:
    """The question the cursor is at."""
    return (pilot.app.focused.name or pilot.app.focused.id or "") if pilot.app.focused else ""


async def put(pilot: Pilot[Any], name: str, text: str) -> None:
    """An answer written over what stands there."""
    pilot.app.screen.query_one(Questions).ask(name)
    await pilot.pause()
    await pilot.press("ctrl+u", "ctrl+k")
    await paste(pilot, text)
