"""The nudge as a timer of the user's systemd. Quoting follows systemd.syntax(7) and systemd.service(5)."""

from __future__ import annotations

import os
import shutil
from contextlib import suppress
from pathlib import Path

from logbook.errors import Refused, SystemTrouble
from logbook.reminders import programs
from logbook.reminders.scheduling.job import ABOUT, MARKER, Job, Piece, holds, take_away, written

UNIT = "logbook-nudge"
TIMER, SERVICE = f"{UNIT}.timer", f"{UNIT}.service"
_HEAD = f"# {MARKER}\n"
_NOT_IN_A_PROGRAM = ('"', "'", "\\", "${", "$$")  # in its path; arguments may hold them


class Systemd:
    """A timer that makes up for a run that the machine slept through."""

    name = "systemd"

    def is_here(self) -> bool:
        if not shutil.which("systemctl"):
            return False
        with suppress(SystemTrouble):
            return programs.run(("systemctl", "--user", "show-environment"), limit_s=10.0).code == 0
        return False

    def pieces(self, job: Job) -> list[Piece]:
        return [
            Piece(_folder() / SERVICE, service_text(job).encode()),
            Piece(_folder() / TIMER, timer_text(job).encode()),
        ]

    def install(self, job: Job) -> None:
        try:
            with written(self.pieces(job), _is_ours):
                _systemctl("daemon-reload")
                _systemctl("enable", TIMER)
                _systemctl("restart", TIMER)  # a running timer takes up a new time
        except SystemTrouble:
            with suppress(SystemTrouble):
                _systemctl("daemon-reload")
            raise

    def remove(self) -> bool:
        paths = [path for path in (_folder() / TIMER, _folder() / SERVICE) if holds(path, _is_ours)]
        if not paths:
            return False
        with suppress(SystemTrouble):  # its files are taken away even where systemd does not run
            _systemctl("disable", "--now", TIMER)
        take_away(paths)
        with suppress(SystemTrouble):
            _systemctl("daemon-reload")
        return True


def service_text(job: Job) -> str:
    """The unit that runs the command once."""
    program, *arguments = job.words
    if any(signs in program for signs in _NOT_IN_A_PROGRAM):
        sentence = (
            f"systemd cannot start {program}: there are quotes, backslashes or dollar signs in its path."
        )
        raise Refused(sentence)
    words = [quoted(program), *(quoted(word).replace("$", "$$") for word in arguments)]
    surroundings = [quoted(f"{key}={value}") for key, value in job.surroundings.items()]
    lines = [
        "[Unit]",
        f"Description={ABOUT}",
        "",
        "[Service]",
        "Type=oneshot",
        *([f"Environment={' '.join(surroundings)}"] if surroundings else []),
        f"ExecStart={' '.join(words)}",
    ]
    return _HEAD + "\n".join(lines) + "\n"


def timer_text(job: Job) -> str:
    """The unit that starts the other each day, late rather than never."""
    lines = [
        "[Unit]",
        f"Description={ABOUT}, once a day",
        "",
        "[Timer]",
        f"OnCalendar=*-*-* {job.hour:02}:{job.minute:02}:00",
        "Persistent=true",
        "",
        "[Install]",
        "WantedBy=timers.target",
    ]
    return _HEAD + "\n".join(lines) + "\n"


def quoted(word: str) -> str:
    """A word in double quotes, with backslash and quote escaped and a percent sign doubled."""
    for sign, escaped in (("\\", "\\\\"), ('"', '\\"'), ("%", "%%")):
        word = word.replace(sign, escaped)
    return f'"{word}"'


def _folder() -> Path:
    return Path(os.environ.get("XDG_CONFIG_HOME") or Path.home() / ".config") / "systemd" / "user"


def _is_ours(content: bytes) -> bool:
    return content.startswith(_HEAD.encode())


def _systemctl(*words: str) -> None:
    programs.run(("systemctl", "--user", *words)).or_trouble()
