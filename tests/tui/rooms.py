"""Rooms to stand in, for the tests of what holds in every one of them."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

from textual.pilot import Pilot
from textual.screen import Screen

from logbook.caution import CAUTION_LINE
from logbook.model.validate.exposure import make_exposure
from logbook.record.record import Book
from logbook.text.record_start import Early
from logbook.tui.bench.fog_check import FogCheckRoom
from logbook.tui.bench.room import BenchRoom
from logbook.tui.check.plans import PlansRoom
from logbook.tui.due.lines import tasks
from logbook.tui.due.room import DueRoom
from logbook.tui.due.service_done import ServiceDoneRoom
from logbook.tui.due.snooze import SnoozeRoom
from logbook.tui.due.visits import VisitsRoom
from logbook.tui.events.amend import AmendEventRoom
from logbook.tui.events.room import EventRoom
from logbook.tui.files.bring_in import BringInRoom
from logbook.tui.files.dossier import DossierRoom
from logbook.tui.guide.room import GuideRoom
from logbook.tui.habits.form import HabitFormRoom, StretchFormRoom
from logbook.tui.habits.room import HabitsRoom
from logbook.tui.settings.room import SettingsRoom
from logbook.tui.shelf.otherwise import OtherwiseRoom
from logbook.tui.shelf.retired import RetiredRoom
from logbook.tui.shelf.worn import WornRoom
from logbook.tui.shell.changes import ChangesRoom
from logbook.tui.shell.room import Room
from logbook.tui.watch.edit import WatchEditRoom
from logbook.tui.watch.room import WatchRoom
from logbook.tui.watch.welcome import WelcomeRoom
from logbook.tui.water.amend import AmendRoom
from logbook.tui.water.entry_line import EntryLineRoom
from logbook.tui.water.record_start import RecordStartRoom
from tests.tui.helpers import wait_for_room, wait_for_text

MakeRoom = Callable[[Book], Room]


def _amending(book: Book) -> AmendRoom:
    record = book.records()[0]
    dive = make_exposure(
        book.practice, book.settings, activity="dive", starts_on=book.today, today=book.today,
        watch=record.watch, depth_m=21.0, duration_s=2280,
    )  # fmt: skip
    return AmendRoom(dive, record)


def _amending_an_event(book: Book) -> AmendEventRoom:
    record = next(record for record in book.records() if record.events)
    return AmendEventRoom(record.events[0], record)


ROOMS: dict[str, MakeRoom] = {
    "WatchRoom": lambda book: WatchRoom(book.watches()[0].id or 0),
    "WatchEditRoom": lambda book: WatchEditRoom(book.watches()[0].id or 0),
    "AmendRoom": _amending,
    "AmendEventRoom": _amending_an_event,
    "HabitsRoom": lambda book: HabitsRoom(book.watches()[0].id or 0),
    "HabitFormRoom": lambda book: HabitFormRoom(book.watches()[0].id or 0),
    "StretchFormRoom": lambda book: StretchFormRoom(book.watches()[0].id or 0),
    "DueRoom": lambda book: DueRoom(),
    "DossierRoom": lambda book: DossierRoom(book.watches()[0]),
    "EventRoom": lambda book: EventRoom(book.watches()[0].id or 0),
    "SnoozeRoom": lambda book: SnoozeRoom(tasks(book.standings())[0]),
    "ServiceDoneRoom": lambda book: ServiceDoneRoom(
        book.watches()[0].id or 0, book.standings()[0].services[0]
    ),
    "VisitsRoom": lambda book: VisitsRoom(),
    "WornRoom": lambda book: WornRoom(book.watches()),
    "WelcomeRoom": lambda book: WelcomeRoom(),
    "EntryLineRoom": lambda book: EntryLineRoom(),
    "BringInRoom": lambda book: BringInRoom(),
    "ChangesRoom": lambda book: ChangesRoom(),
    "PlansRoom": lambda book: PlansRoom(),
    "SettingsRoom": lambda book: SettingsRoom(),
    "RetiredRoom": lambda book: RetiredRoom(),
    "GuideRoom": lambda book: GuideRoom(),
    "BenchRoom": lambda book: BenchRoom(),
    "FogCheckRoom": lambda book: FogCheckRoom(),
    "OtherwiseRoom": lambda book: OtherwiseRoom(),
    "RecordStartRoom": lambda book: RecordStartRoom(Early(book.watches()[0], (date(2024, 6, 1),))),
}


async def opened(pilot: Pilot[Any], book: Book, name: str) -> Screen[Any]:
    """A room on top of the Shelf, or the Shelf itself."""
    await wait_for_room(pilot, "ShelfRoom")
    if name != "ShelfRoom":
        pilot.app.push_screen(ROOMS[name](book))
        await wait_for_room(pilot, name)
    await wait_for_text(pilot, CAUTION_LINE)
    return pilot.app.screen
