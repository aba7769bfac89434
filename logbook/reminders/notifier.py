"""Shows notifications: by the owner's command, else by the desktop's own."""

from __future__ import annotations

import json
import os
import shutil
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Protocol

from logbook.errors import SystemTrouble
from logbook.model.due.services import Service
from logbook.record.file.nudge_file import nudge_command
from logbook.record.file.places import nudge_path
from logbook.reminders import programs
from logbook.reminders.notices import Notice, document_of, notice_of, notices_of

_SCRIPT = (
    "on run argv",
    "display notification (item 2 of argv) with title (item 1 of argv)",
    "end run",
)


class Notifier(Protocol):
    """Shows notices; `name` is the program that does it."""

    name: str

    def notices(self, services: Sequence[Service]) -> list[Notice]:
        """Divides services into notices."""

    def send(self, notice: Notice) -> None:
        """Shows one notice; raises SystemTrouble when the program fails."""


def find_notifier() -> Notifier:
    """The owner's command if one is configured, else `notify-send`, else `osascript`.

    Raises BadInput for a faulty configuration, SystemTrouble when there is nothing to notify with.
    """
    command = nudge_command()
    if command is not None:
        return _Command(command)
    for program, notifier in _DESKTOPS.items():
        if shutil.which(program):
            return notifier()
    raise SystemTrouble(
        "There is nothing here to notify with: install notify-send (libnotify), or put "
        f'command = ["program", "argument"] into {nudge_path()}.'
    )


class _Command:
    """The owner's own program, which gets all that is new in one JSON document on standard input."""

    def __init__(self, words: Sequence[str]) -> None:
        self.words = tuple(words)
        self.name = self.words[0]

    def notices(self, services: Sequence[Service]) -> list[Notice]:
        return [notice_of(services)]

    def send(self, notice: Notice) -> None:
        document = json.dumps(document_of(notice), allow_nan=False) + "\n"
        programs.run(self.words, stdin=document.encode(), surroundings=session_bus()).or_trouble()


class _NotifySend:
    """The notifications of a free desktop, where a body is markup and backslashes in it are escapes."""

    name = "notify-send"

    def notices(self, services: Sequence[Service]) -> list[Notice]:
        return notices_of(services)

    def send(self, notice: Notice) -> None:
        words = (self.name, "--urgency=normal", "--", notice.title, as_markup(notice.body))
        programs.run(words, surroundings=session_bus()).or_trouble()


class _Osascript:
    """The notifications of macOS. The text goes to the script as arguments and never becomes part of it."""

    name = "osascript"

    def notices(self, services: Sequence[Service]) -> list[Notice]:
        return notices_of(services)

    def send(self, notice: Notice) -> None:
        script = [word for line in _SCRIPT for word in ("-e", line)]
        programs.run((self.name, *script, notice.title, notice.body)).or_trouble()


_DESKTOPS: Mapping[str, Callable[[], Notifier]] = {"notify-send": _NotifySend, "osascript": _Osascript}


def as_markup(text: str) -> str:
    """Escapes the text so that a body shows it unchanged."""
    for sign, escaped in (("&", "&amp;"), ("<", "&lt;"), (">", "&gt;"), ("\\", "\\\\")):
        text = text.replace(sign, escaped)
    return text


def session_bus() -> dict[str, str]:
    """Where the desktop listens, for a process that a scheduler started outside the owner's session."""
    if os.environ.get("DBUS_SESSION_BUS_ADDRESS") or not hasattr(os, "getuid"):
        return {}
    socket = Path(os.environ.get("XDG_RUNTIME_DIR") or f"/run/user/{os.getuid()}") / "bus"
    return {"DBUS_SESSION_BUS_ADDRESS": f"unix:path={socket}"} if socket.is_socket() else {}
