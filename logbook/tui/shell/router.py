"""The way from any room to any other, by its name: a room is loaded when somebody first goes there.

No room imports another one, so that each can be read alone and the first screen loads no other.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from logbook.tui.shell.room import Room

ROOMS = {
    "amend-event": "logbook.tui.events.amend:AmendEventRoom",
    "bench": "logbook.tui.bench.room:BenchRoom",
    "bring-in": "logbook.tui.files.bring_in:BringInRoom",
    "changes": "logbook.tui.shell.changes:ChangesRoom",
    "check": "logbook.tui.check.room:CheckRoom",
    "dossier": "logbook.tui.files.dossier:DossierRoom",
    "due": "logbook.tui.due.room:DueRoom",
    "entry-line": "logbook.tui.water.entry_line:EntryLineRoom",
    "event": "logbook.tui.events.room:EventRoom",
    "exposure": "logbook.tui.water.room:ExposureRoom",
    "fog-check": "logbook.tui.bench.fog_check:FogCheckRoom",
    "guide": "logbook.tui.guide.room:GuideRoom",
    "habit-form": "logbook.tui.habits.form:HabitFormRoom",
    "habits": "logbook.tui.habits.room:HabitsRoom",
    "help": "logbook.tui.shell.help:HelpRoom",
    "merge": "logbook.tui.files.merge:MergeRoom",
    "plans": "logbook.tui.check.plans:PlansRoom",
    "preview": "logbook.tui.files.preview:PreviewRoom",
    "retired": "logbook.tui.shelf.retired:RetiredRoom",
    "service-done": "logbook.tui.due.service_done:ServiceDoneRoom",
    "settings": "logbook.tui.settings.room:SettingsRoom",
    "snooze": "logbook.tui.due.snooze:SnoozeRoom",
    "stretch-form": "logbook.tui.habits.form:StretchFormRoom",
    "visits": "logbook.tui.due.visits:VisitsRoom",
    "watch": "logbook.tui.watch.room:WatchRoom",
    "watch-edit": "logbook.tui.watch.edit:WatchEditRoom",
    "welcome": "logbook.tui.watch.welcome:WelcomeRoom",
    "worn": "logbook.tui.shelf.worn:WornRoom",
}


def made(name: str, *about: Any, **more: Any) -> Room:
    """The room of a name, about what it is told, as its class takes it."""
    module, _, which = ROOMS[name].partition(":")
    room: Room = getattr(import_module(module), which)(*about, **more)
    return room
