"""What every command is told: which record, which day it is, in which units, and how to answer."""

from __future__ import annotations

import sys
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

from logbook.errors import BadInput, Refused
from logbook.model.ranges import one_of
from logbook.model.text import full_date, printable
from logbook.model.values import UNITS, Units
from logbook.record.file.places import default_location, typed_path

EARLIEST, LATEST = date(1950, 1, 1), date(2199, 12, 31)  # of --today


@dataclass
class Asked:
    """The options that every command takes, as they were given."""

    file: Path | None = None
    today: date | None = None
    units: Units | None = None
    as_json: bool = False
    on_record: bool = False  # the command has written to the record

    @property
    def location(self) -> Path | str:
        """The record: the file given, else where the environment says, else the platform's data folder."""
        return default_location() if self.file is None else self.file

    def day(self) -> date:
        """The day given, else this machine's."""
        return self.today or this_day()

    def refuse_ahead(self) -> None:
        """Raises BadInput when the day given lies ahead: what is told or dropped on it is so for good."""
        if self.today is not None and self.today > this_day():
            sentence = (
                f"--today {self.today} lies ahead: today is {full_date(this_day())}. Reminders are given and "
                "calendars written on the day itself; what will be due is shown by "
                f"`logbook due --today {self.today}`."
            )
            raise BadInput(sentence, where="--today")


def this_day() -> date:
    """The day by this machine's clock."""
    return datetime.now().astimezone().date()


def read_today(text: str) -> date:
    """The day of `--today`, an ISO date."""
    try:
        day = date.fromisoformat(text)
    except ValueError:
        sentence = f"{printable(text, 40)!r} is not a date; write it as 2026-03-15."
        raise BadInput(sentence, where="--today") from None
    if not EARLIEST <= day <= LATEST:
        sentence = f"--today is a day from {EARLIEST} to {LATEST}, not {day}: is the year right?"
        raise BadInput(sentence, where="--today")
    return day


def read_units(text: str) -> Units:
    """The units of `--units`."""
    return one_of(text, UNITS, "system of units", "--units")


def read_file(text: str) -> Path:
    """The path of `--file`."""
    if not text:
        raise BadInput("--file needs a path.", where="--file")
    return typed_path(text)


def need_terminal() -> None:
    """Raises Refused where there is no terminal to open the whole screen on."""
    # It is painted on the third of them.
    if not all(stream.isatty() for stream in (sys.stdin, sys.stdout, sys.stderr)):
        sentence = "The whole screen needs a terminal; `logbook --help` lists the commands that do without."
        raise Refused(sentence)
