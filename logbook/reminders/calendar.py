"""Writes the due list as an iCalendar file (RFC 5545, RFC 7986) that a calendar program may subscribe to."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from logbook.caution import CAUTION
from logbook.errors import RecordTrouble, Refused
from logbook.model.due.calendar_plan import Entry
from logbook.record.file import files

if TYPE_CHECKING:
    from icalendar import Alarm, Calendar, Event

PRODID = "-//seal-logbook//logbook//EN"
NAME = "logbook: what is due"
READ_AGAIN = timedelta(days=1)  # how often a calendar that subscribes should look
_HEAD = 2_000  # bytes that hold the first lines of a calendar of ours


def calendar_bytes(entries: Sequence[Entry]) -> bytes:
    """The file, with the same bytes for the same entries.

    It has no METHOD: it is a file to open or subscribe to, not a message from one person to another.
    """
    from icalendar import Calendar

    calendar = Calendar()
    calendar.add("version", "2.0")
    calendar.add("prodid", PRODID)
    for name, text in (("name", NAME), ("x-wr-calname", NAME), ("description", CAUTION)):
        calendar.add(name, _text(text))
    calendar.add("refresh-interval", READ_AGAIN, parameters={"VALUE": "DURATION"})
    for entry in entries:
        calendar.add_component(_event(entry))
    return _bytes(calendar)


def _bytes(calendar: Calendar) -> bytes:
    made: bytes = calendar.to_ical()
    return made


def _event(entry: Entry) -> Event:
    from icalendar import Event

    event = Event()
    event.add("uid", entry.uid)
    event.add("sequence", entry.sequence)
    event.add("dtstamp", entry.changed_at)
    event.add("last-modified", entry.changed_at)
    event.add("dtstart", entry.due_on)
    event.add("dtend", entry.due_on + timedelta(days=1))  # the end is not part of the event
    event.add("summary", _text(entry.summary))
    event.add("description", _text(entry.description))
    event.add("categories", ["logbook"])
    event.add("transp", "TRANSPARENT")
    event.add("status", "CANCELLED" if entry.cancelled else "CONFIRMED")
    for days in [] if entry.cancelled else entry.alarm_days:
        event.add_component(_alarm(entry, days))
    return event


def _alarm(entry: Entry, days: int) -> Alarm:
    from icalendar import Alarm

    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("trigger", timedelta(days=-days))
    alarm.add("description", _text(f"{entry.summary}\n{CAUTION}"))
    return alarm


def _text(text: str) -> object:
    r"""A TEXT value, escaped as §3.3.11 of RFC 5545 says.

    The library would take a typed backslash before an N for a line break.
    """
    from icalendar.prop import vText

    class Text(vText):
        def to_ical(self) -> bytes:
            escaped = str(self).replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,")
            return escaped.replace("\n", "\\n").encode()

    return Text(text)


def target_of(path: Path) -> Path:
    """The path with links followed; refuses a place that is neither free nor holds a calendar of ours."""
    try:
        target = path.resolve()
        if target.is_dir():
            raise Refused(f"{path} is a folder; name the file to write in it.", where=str(path))
        if target.exists() and not _is_ours(target):
            sentence = f"{path} is not a calendar that logbook wrote; it was left as it is."
            raise Refused(sentence, where=str(path))
    except (OSError, RuntimeError, ValueError) as error:  # a ring of links, a NUL in the name
        raise _unwritable(path, error) from None
    return target


def _is_ours(path: Path) -> bool:
    if not path.is_file():
        return False
    with path.open("rb") as file:
        lines = file.read(_HEAD).split(b"\r\n")
    return lines[0] == b"BEGIN:VCALENDAR" and f"PRODID:{PRODID}".encode() in lines


def write_calendar(target: Path, content: bytes) -> None:
    """Puts the calendar in its place in one step, readable by its owner alone."""
    try:
        draft = files.draft_beside(target)
        try:
            draft.write_bytes(content)
            if target_of(target).exists():
                files.place_over(draft, target)
            elif not files.place_new(draft, target):
                sentence = f"There is a file at {target} now; it was left as it is."
                raise Refused(sentence, where=str(target))
        finally:
            draft.unlink(missing_ok=True)
    except OSError as error:
        raise _unwritable(target, error) from None


def _unwritable(path: Path, error: Exception) -> RecordTrouble:
    reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
    return RecordTrouble(f"{path} could not be written: {reason}.", where=str(path))
