"""The daily nudge in the system's own scheduler: systemd, launchd or cron, whichever is there."""

from __future__ import annotations

from contextlib import suppress
from typing import Protocol

from logbook.errors import SystemTrouble
from logbook.reminders.scheduling.cron import Cron
from logbook.reminders.scheduling.job import Job, Piece
from logbook.reminders.scheduling.launchd import Launchd
from logbook.reminders.scheduling.systemd import Systemd


class Scheduler(Protocol):
    """One of the system's schedulers."""

    name: str

    def is_here(self) -> bool:
        """True when it works for this user on this machine."""

    def pieces(self, job: Job) -> list[Piece]:
        """What `install` writes, and where."""

    def install(self, job: Job) -> None:
        """Writes and starts it in place of an earlier one; on SystemTrouble nothing is left half done."""

    def remove(self) -> bool:
        """Takes away exactly what `install` wrote; False where there was nothing."""


SCHEDULERS: dict[str, Scheduler] = {each.name: each for each in (Systemd(), Launchd(), Cron())}


def choose(name: str | None) -> Scheduler:
    """The scheduler of this name, or without one the first that works here."""
    if name is not None:
        return SCHEDULERS[name]
    for scheduler in SCHEDULERS.values():
        if scheduler.is_here():
            return scheduler
    raise SystemTrouble(
        "There is neither systemd nor launchd nor crontab for you on this machine; "
        "have `logbook nudge now` run once a day by other means."
    )


def install(scheduler: Scheduler, job: Job) -> None:
    """Installs the nudge in this scheduler and no other."""
    scheduler.install(job)
    for other in SCHEDULERS.values():
        if other is not scheduler:
            with suppress(SystemTrouble):
                other.remove()


def remove() -> list[str]:
    """Takes the nudge away wherever it is installed; returns the names of those schedulers."""
    return [name for name, scheduler in SCHEDULERS.items() if scheduler.remove()]
