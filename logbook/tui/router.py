"""The way from any room to any other, by its name: a room is loaded when somebody first goes there.

No room imports another one, so that each can be read alone and the first screen loads no other.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from logbook.tui.room import Room

ROOMS = {
    "amend-event": "logbook.tui.amend_event:AmendEventRoom",
    "bench": "logbook.tui.bench:BenchRoom",
    "bring-in": "logbook.tui.bring_in:BringInRoom",
    "changes": "logbook.tui.changes:ChangesRoom",
    "check": "logbook.tui.check:CheckRoom",
    "dossier": "logbook.tui.dossier:DossierRoom",
    "due": "logbook.tui.due:DueRoom",
    "entry-line": "logbook.tui.entry_line:EntryLineRoom",
    "event": "logbook.tui.event_form:EventRoom",
    "exposure": "logbook.tui.exposure:ExposureRoom",
    "fog-check": "logbook.tui.bench_fog:FogCheckRoom",
    "guide": "logbook.tui.guide:GuideRoom",
    "habit-form": "logbook.tui.habit_form:HabitFormRoom",
    "habits": "logbook.tui.habits:HabitsRoom",
    "help": "logbook.tui.help:HelpRoom",
    "merge": "logbook.tui.merge:MergeRoom",
    "plans": "logbook.tui.plans:PlansRoom",
    "preview": "logbook.tui.preview:PreviewRoom",
    "retired": "logbook.tui.retired:RetiredRoom",
    "service-done": "logbook.tui.service_done:ServiceDoneRoom",
    "settings": "logbook.tui.settings:SettingsRoom",
    "snooze": "logbook.tui.snooze:SnoozeRoom",
    "stretch-form": "logbook.tui.habit_form:StretchFormRoom",
    "visits": "logbook.tui.visits:VisitsRoom",
    "watch": "logbook.tui.watch:WatchRoom",
    "watch-edit": "logbook.tui.watch_edit:WatchEditRoom",
    "welcome": "logbook.tui.welcome:WelcomeRoom",
    "worn": "logbook.tui.worn:WornRoom",
}


def made(name: str, *about: Any, **more: Any) -> Room:
    """The room of a name, about what it is told, as its class takes it."""
    module, _, which = ROOMS[name].partition(":")
    room: Room = getattr(import_module(module), which)(*about, **more)
    return room
