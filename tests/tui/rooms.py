"""Rooms to stand in, for the tests of what holds in every one of them."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from textual.pilot import Pilot
from textual.screen import Screen

from logbook.caution import CAUTION_LINE
from logbook.tui.bench import BenchRoom
from logbook.tui.bench_fog import FogCheckRoom
from logbook.tui.book import Book
from logbook.tui.bring_in import BringInRoom
from logbook.tui.changes import ChangesRoom
from logbook.tui.dossier import DossierRoom
from logbook.tui.due import DueRoom
from logbook.tui.due_lines import tasks
from logbook.tui.entry_line import EntryLineRoom
from logbook.tui.event_form import EventRoom
from logbook.tui.guide import GuideRoom
from logbook.tui.room import Room
from logbook.tui.snooze import SnoozeRoom
from logbook.tui.visits import VisitsRoom
from logbook.tui.watch import WatchRoom
from logbook.tui.welcome import WelcomeRoom
from tests.tui.helpers import wait_for_room, wait_for_text

MakeRoom = Callable[[Book], Room]

ROOMS: dict[str, MakeRoom] = {
    "WatchRoom": lambda book: WatchRoom(book.watches()[0].id or 0),
    "DueRoom": lambda book: DueRoom(),
    "DossierRoom": lambda book: DossierRoom(book.watches()[0]),
    "EventRoom": lambda book: EventRoom(book.watches()[0].id or 0),
    "SnoozeRoom": lambda book: SnoozeRoom(tasks(book.standings(), book.today)[0]),
    "VisitsRoom": lambda book: VisitsRoom(),
    "WelcomeRoom": lambda book: WelcomeRoom(),
    "EntryLineRoom": lambda book: EntryLineRoom(),
    "BringInRoom": lambda book: BringInRoom(),
    "ChangesRoom": lambda book: ChangesRoom(),
    "GuideRoom": lambda book: GuideRoom(),
    "BenchRoom": lambda book: BenchRoom(),
    "FogCheckRoom": lambda book: FogCheckRoom(),
}


async def opened(pilot: Pilot[Any], book: Book, name: str) -> Screen[Any]:
    """A room on top of the Shelf, or the Shelf itself."""
    await wait_for_room(pilot, "ShelfRoom")
    if name != "ShelfRoom":
        pilot.app.push_screen(ROOMS[name](book))
        await wait_for_room(pilot, name)
    await wait_for_text(pilot, CAUTION_LINE)
    return pilot.app.screen
