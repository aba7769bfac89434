"""Rooms to stand in, for the tests of what holds in every one of them."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

from textual.pilot import Pilot
from textual.screen import Screen

from logbook.caution import CAUTION_LINE
from logbook.exchange.record_start import Early
from logbook.reckoning.validate import make_exposure
from logbook.tui.amend import AmendRoom
from logbook.tui.amend_event import AmendEventRoom
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
from logbook.tui.habit_form import HabitFormRoom, StretchFormRoom
from logbook.tui.habits import HabitsRoom
from logbook.tui.otherwise import OtherwiseRoom
from logbook.tui.plans import PlansRoom
from logbook.tui.record_start import RecordStartRoom
from logbook.tui.retired import RetiredRoom
from logbook.tui.room import Room
from logbook.tui.service_done import ServiceDoneRoom
from logbook.tui.settings import SettingsRoom
from logbook.tui.snooze import SnoozeRoom
from logbook.tui.visits import VisitsRoom
from logbook.tui.watch import WatchRoom
from logbook.tui.watch_edit import WatchEditRoom
from logbook.tui.welcome import WelcomeRoom
from logbook.tui.worn import WornRoom
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
