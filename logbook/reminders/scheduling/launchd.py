"""The nudge as an agent of launchd, the scheduler of macOS: a property list after launchd.plist(5)."""

from __future__ import annotations

import os
import plistlib
import shutil
import sys
from contextlib import suppress
from pathlib import Path
from typing import Any

from logbook.errors import SystemTrouble
from logbook.reminders import programs
from logbook.reminders.scheduling.job import Job, Piece, holds, take_away, written

LABEL = "seal-logbook.nudge"


class Launchd:
    """An agent that runs on waking if its time passed while the machine slept."""

    name = "launchd"

    def is_here(self) -> bool:
        return sys.platform == "darwin" and shutil.which("launchctl") is not None

    def pieces(self, job: Job) -> list[Piece]:
        return [Piece(_path(), plistlib.dumps(agent(job), sort_keys=False))]

    def install(self, job: Job) -> None:
        was_there = holds(_path(), _is_ours)
        try:
            with written(self.pieces(job), _is_ours):
                _unload()
                programs.run(("launchctl", "bootstrap", _domain(), str(_path()))).or_trouble()
        except SystemTrouble:
            if was_there:
                with suppress(SystemTrouble):
                    programs.run(("launchctl", "bootstrap", _domain(), str(_path())))
            raise

    def remove(self) -> bool:
        if not holds(_path(), _is_ours):
            return False
        _unload()
        take_away([_path()])
        return True


def agent(job: Job) -> dict[str, Any]:
    """The property list."""
    surroundings = {"EnvironmentVariables": dict(job.surroundings)} if job.surroundings else {}
    return {
        "Label": LABEL,
        "ProgramArguments": list(job.words),
        **surroundings,
        "StartCalendarInterval": {"Hour": job.hour, "Minute": job.minute},
        "ProcessType": "Background",
    }


def _unload() -> None:
    """Takes the agent out of launchd; it is no fault if it is not there."""
    with suppress(SystemTrouble):
        programs.run(("launchctl", "bootout", f"{_domain()}/{LABEL}"))


def _domain() -> str:
    return f"gui/{os.getuid()}"


def _path() -> Path:
    return Path.home() / "Library" / "LaunchAgents" / f"{LABEL}.plist"


def _is_ours(content: bytes) -> bool:
    try:
        found = plistlib.loads(content)
    except Exception:  # whatever else the file holds
        return False
    return isinstance(found, dict) and found.get("Label") == LABEL
