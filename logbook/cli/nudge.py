"""`logbook nudge`: a daily reminder through the system's own scheduler and notifications."""

from __future__ import annotations

import os
import re
import shutil
import sys
from pathlib import Path
from typing import Annotated, Any

import typer

from logbook.cli.asked import Asked
from logbook.cli.clock import clock_document, clock_line
from logbook.cli.command import Commands, asked_of
from logbook.cli.due import item_document
from logbook.cli.opening import writing
from logbook.cli.output import answer, wrapped, write
from logbook.errors import BadInput, LogbookError, RecordTrouble, Refused
from logbook.model.ranges import one_of
from logbook.model.text import printable
from logbook.record.file.places import typed_path
from logbook.reminders.notices import line_of, service_document
from logbook.reminders.notifier import find_notifier
from logbook.reminders.scheduling import schedulers as scheduling
from logbook.reminders.scheduling.job import Job, Piece
from logbook.reminders.scheduling.schedulers import SCHEDULERS, Scheduler

nudge = Commands(name="nudge", help="A daily reminder of what has come up or is due.")

# What a scheduled run must find as this one does; the record itself is named in the command.
_HANDED_ON = {"LOGBOOK_PRACTICE": typed_path, "XDG_CONFIG_HOME": Path}
_TIME = re.compile(r"([01]?\d|2[0-3]):([0-5]\d)")

At = Annotated[str, typer.Option(metavar="HH:MM", help="The time of day, by this machine's clock.")]
SchedulerName = Annotated[
    str | None,
    typer.Option("--scheduler", metavar="systemd|launchd|cron", help="Use this one; else the first at hand."),
]


def add_to(app: Commands) -> None:
    """Registers the group."""
    app.add_typer(nudge)


@nudge.command()
def now(ctx: typer.Context) -> None:
    """Notifies of what has come up, is due or overdue since the last time; each stage of a service once."""
    from logbook.reminders.telling import tell_new

    asked = asked_of(ctx)
    asked.refuse_ahead()
    with writing(asked) as book:
        found = tell_new(book.store, book.services(), book.today)
    document = {
        "told": [item_document(item) for service in found.services for item in service.asking],
        "services": [service_document(service) for service in found.services],
        "notifier": found.notifier,
        **clock_document(book),
    }
    behind = clock_line(book)
    if behind and not asked.as_json:
        write(behind, sys.stderr)  # where a scheduler keeps or mails what its run complains of
    if not found.services:
        answer(asked, document, lambda: "Nothing new.", caution=asked.as_json)
        return
    lines = [f"Told through {printable(found.notifier or '')}:", *map(line_of, found.services)]
    answer(asked, document, lambda: "\n".join(wrapped(line, "", "    ") for line in lines), caution=True)


@nudge.command()
def install(ctx: typer.Context, at: At = "09:00", scheduler: SchedulerName = None) -> None:
    """Has `logbook nudge now` run once a day."""
    asked = asked_of(ctx)
    job = _job(asked, at)
    if not Path(job.words[-1]).exists():
        sentence = f"There is no record at {job.words[-1]}. Begin one with `logbook watch add NAME`."
        raise RecordTrouble(sentence, where=job.words[-1])
    chosen = scheduling.choose(_known(scheduler))
    scheduling.install(chosen, job)
    notifier, trouble = _notifier()
    lines = [f"{chosen.name} runs `logbook nudge now` each day at {job.hour:02}:{job.minute:02}."]
    lines += [f"Written to {_place(piece)}." for piece in chosen.pieces(job)]
    lines += [trouble] if trouble else []
    document = _document(chosen, job) | {"notifier": notifier}
    answer(asked, document, lambda: "\n".join(lines))


@nudge.command()
def remove(ctx: typer.Context) -> None:
    """Takes the daily run away again."""
    asked = asked_of(ctx)
    gone = scheduling.remove()
    sentence = f"The nudge is removed from {' and '.join(gone)}." if gone else "No nudge was installed."
    answer(asked, {"removed": gone}, lambda: sentence)


@nudge.command(name="print")
def show(ctx: typer.Context, at: At = "09:00", scheduler: SchedulerName = None) -> None:
    """Shows exactly what `install` would write and where; nothing is written."""
    asked = asked_of(ctx)
    job = _job(asked, at)
    chosen = scheduling.choose(_known(scheduler))
    texts = [f"# {_place(piece)}\n{piece.text}" for piece in chosen.pieces(job)]
    answer(asked, _document(chosen, job), lambda: "\n".join(texts))


def _document(scheduler: Scheduler, job: Job) -> dict[str, Any]:
    pieces = [
        {"path": None if piece.path is None else str(piece.path), "text": piece.text}
        for piece in scheduler.pieces(job)
    ]
    return {
        "scheduler": scheduler.name,
        "at": f"{job.hour:02}:{job.minute:02}",
        "command": list(job.words),
        "written": pieces,
    }


def _place(piece: Piece) -> str:
    return "your crontab" if piece.path is None else str(piece.path)


def _job(asked: Asked, at: str) -> Job:
    hour, minute = _time(at)
    words = (*_running(), "nudge", "now", "--file", str(_record(asked)))
    # From any folder, as the record: a scheduler starts its runs elsewhere.
    surroundings = {
        name: str(read(os.environ[name]).absolute())
        for name, read in _HANDED_ON.items()
        if os.environ.get(name)
    }
    return Job(words, hour, minute, surroundings)


def _time(text: str) -> tuple[int, int]:
    found = _TIME.fullmatch(text)
    if found is None:
        sentence = f"{printable(text, 40)!r} is not a time of day; write it as 09:00."
        raise BadInput(sentence, where="--at")
    return int(found[1]), int(found[2])


def _known(scheduler: str | None) -> str | None:
    return None if scheduler is None else one_of(scheduler, tuple(SCHEDULERS), "scheduler", "--scheduler")


def _record(asked: Asked) -> Path:
    """Where the record is, from any folder."""
    if isinstance(asked.location, Path):
        return asked.location.absolute()
    raise Refused(
        "This record is in a shared database, whose address may hold a password: it is not written into a "
        "scheduler's files. Schedule `logbook nudge now` yourself, with LOGBOOK_URL in its environment."
    )


def _running() -> tuple[str, ...]:
    """How this program is started, from any folder: its own script, else the interpreter with the package."""
    script = Path(sys.argv[0])
    if script.stem == "logbook" and (found := shutil.which(str(script))):
        return (str(Path(found).absolute()),)
    return (sys.executable, "-m", "logbook")


def _notifier() -> tuple[str | None, str]:
    """The program that would notify, or the sentence that says why none can."""
    try:
        return find_notifier().name, ""
    except LogbookError as error:
        return None, error.message
