"""`logbook import`: dives, tables, lines and whole records from files, looked at before they are written."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import date
from io import BytesIO
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Annotated, Any, BinaryIO

import typer

from logbook.cli.along import reading_along, writing_along
from logbook.cli.command import Commands, asked_of
from logbook.cli.inputs import LARGEST
from logbook.cli.opening import writing
from logbook.cli.output import answer, iso, table, wrapped
from logbook.errors import BadInput, RecordTrouble
from logbook.files.dives_in import Taker
from logbook.files.files_in import FileIn, kind_at, read, refuse_unmeant
from logbook.files.inbox import IMPORT, Inbox, Item
from logbook.model.civil import checked_zone
from logbook.model.judge.stands_words import a_few, now_standing
from logbook.model.text import printable
from logbook.model.values import Exposure, Settings, Watch
from logbook.record.file.places import typed_path
from logbook.record.file.practice_file import load_practice
from logbook.record.file.record_file import RecordFile
from logbook.record.record import Book
from logbook.text.phrases import exposure_words, not_charged_words, twin_words

ALIKE = {"skip": "skip", "keep": "keep", "add": "keep"}  # with a word of before
STATE_WORDS = {"new": "new", "on record": "on record", "alike": "alike", "struck": "struck before"}
MOST_LISTED = 40  # rows; of a longer file only what is not new is listed


def add_to(app: Commands) -> None:
    """Registers the command."""
    app.command("import")(import_)


@dataclass(frozen=True)
class Told:
    """What was said beside the file; None: not said."""

    watch: str | None
    zone: str | None
    dates: str | None
    rinsed: bool
    alike: str | None
    dry_run: bool

    def options(self) -> Iterator[str]:
        """The options that were given."""
        for field in ("watch", "zone", "dates", "rinsed", "alike"):
            if getattr(self, field):
                yield f"--{field}"


def import_(
    ctx: typer.Context,
    source: Annotated[
        str | None, typer.Argument(metavar="[FILE]", help="UDDF, CSV, our JSON, or lines; - for the input.")
    ] = None,
    watch: Annotated[
        str | None, typer.Option(metavar="NAME", help="Which watch was worn, where the file does not say it.")
    ] = None,
    zone: Annotated[
        str | None, typer.Option(metavar="ZONE", help="Of times without one; else the zone of the settings.")
    ] = None,
    dates: Annotated[
        str | None,
        typer.Option(metavar="iso|day-first|month-first", help="How a CSV writes its dates; else iso."),
    ] = None,
    rinsed: Annotated[bool, typer.Option("--rinsed", help="The watch was rinsed after every dive.")] = False,
    alike: Annotated[
        str | None,
        typer.Option(
            metavar="skip|keep", help="What to do with those like one on record; else you are asked."
        ),
    ] = None,
    twins: Annotated[str | None, typer.Option(hidden=True, help="As --alike.")] = None,
    dry_run: Annotated[
        bool, typer.Option("--dry-run", help="Show what would come in; write nothing.")
    ] = False,
    undo: Annotated[bool, typer.Option("--undo", help="Take the last import back.")] = False,
) -> None:
    """Brings a file in, all of it or nothing; the same file twice gives nothing new."""
    if undo:
        if source is not None:
            raise BadInput(
                "--undo takes back the last import, whatever it was; leave FILE out.", where="FILE"
            )
        _undo(ctx)
        return
    if source is None:
        sentence = "Which file? `logbook import dives.uddf --watch NAME` brings dives in."
        raise BadInput(sentence, where="FILE")
    alike = twins if alike is None else alike
    if alike is not None and alike not in ALIKE:
        raise BadInput("--alike is skip or keep.", where="--alike")
    told = Told(watch, zone, dates, rinsed, alike and ALIKE[alike], dry_run)
    with _opened(source) as (stream, name):
        refuse_unmeant(kind_at(stream, name), told.options())
        with _record_for(ctx, stream, name, told) as book:
            _bring_in(ctx, book, stream, name, told)


@contextmanager
def _opened(source: str) -> Iterator[tuple[BinaryIO, str]]:
    """The file, at its start, with its name; what can be read only once is taken into memory."""
    if source == "-":
        yield _in_memory(sys.stdin.buffer, "the input"), "the input"
        return
    path = typed_path(source)
    try:
        stream = path.open("rb")
    except OSError as error:
        raise RecordTrouble(f"{source} could not be read: {error.strerror}.", where=source) from None
    with stream:
        yield (stream if stream.seekable() else _in_memory(stream, path.name)), path.name


def _in_memory(stream: BinaryIO, name: str) -> BinaryIO:
    data = stream.read(LARGEST + 1)
    if len(data) > LARGEST:
        sentence = (
            f"{printable(name)} is larger than {LARGEST // 1_000_000} MB: save it as a file, and name that."
        )
        raise BadInput(sentence, where="FILE")
    return BytesIO(data)


@contextmanager
def _record_for(ctx: typer.Context, stream: BinaryIO, name: str, told: Told) -> Iterator[Book]:
    """The record; watches from a file begin one where there is none, once the file is known to be right."""
    asked = asked_of(ctx)
    missing = isinstance(asked.location, Path) and not asked.location.exists()
    begins = missing and _holds_watches(asked.day(), stream, name, told.dates or "iso")
    if begins and told.dry_run:  # looking leaves nothing behind
        with TemporaryDirectory() as folder:
            elsewhere = replace(asked, file=Path(folder) / "empty.logbook")
            with writing(elsewhere, create=True) as book:
                yield book
        return
    with writing(asked, create=begins) as book:
        yield book


def _holds_watches(today: date, stream: BinaryIO, name: str, dates: str) -> bool:
    """True for a table of watches or a whole record, without a fault in it."""
    if kind_at(stream, name) not in ("CSV", "JSON"):
        return False
    taker = Taker(load_practice(), Settings(), today, Settings().zone)
    try:
        return read(stream, name, taker, [], dates=dates).record is not None
    finally:
        stream.seek(0)


def _bring_in(ctx: typer.Context, book: Book, stream: BinaryIO, name: str, told: Told) -> None:
    zone = book.settings.zone if told.zone is None else checked_zone(told.zone)
    taker = Taker(book.practice, book.settings, book.today, zone, told.rinsed)
    worn = None if told.watch is None else book.find(told.watch, "--watch").watch
    with reading_along(stream, name) as tell:
        file = read(stream, name, taker, book.all_watches(), worn=worn, dates=told.dates or "iso", tell=tell)
    if file.record is not None:
        _record(ctx, book, file.record, told.dry_run)
    else:
        inbox = Inbox.of(file, taker, book.rows, book.all_watches(), worn or _only_watch(book, file))
        if told.alike == "keep":
            inbox.want_all_alike()
        _exposures(ctx, book, inbox, told)


def _only_watch(book: Book, file: FileIn) -> Watch | None:
    """The watch of dives, which never name theirs; None for a file that does."""
    if file.dives is None:
        return None
    on_shelf = [record.watch for record in book.shelf()]
    if len(on_shelf) == 1:
        return on_shelf[0]
    raise BadInput(f"Which watch was worn? {file.name} does not say it: give --watch NAME.", where="--watch")


def _exposures(ctx: typer.Context, book: Book, inbox: Inbox, told: Told) -> None:
    """Writes what comes in and tells everything about the file."""
    if inbox.open_questions and told.alike is None and not told.dry_run:
        raise BadInput(_question(inbox.open_questions, inbox.name), where=inbox.open_questions[0].place)
    ids: list[int] = []
    if not told.dry_run:
        with writing_along(len(inbox.coming)) as progress:
            ids = book.do(inbox.write, book.practice, progress)
    meant = inbox.meaning(ids, book.all_records(), book.practice, book.units) if ids else []
    document = _document(inbox, ids, told.dry_run) | {"meaning": meant}
    said = _words(book, inbox, ids, told.dry_run)
    answer(asked_of(ctx), document, lambda: "\n".join((said, *_meant(meant))), caution=bool(meant))
    if inbox.items and len(inbox.left_out) == len(inbox.items):
        raise typer.Exit(BadInput.exit_code)


def _meant(meant: list[str]) -> list[str]:
    """The gravest of what came in, each in lines of its own."""
    return [wrapped(line, "", "  ") for line in a_few(meant)]


def _question(alike: list[Item], name: str) -> str:
    first, arrival = alike[0], alike[0].arrival
    twin = None if arrival is None else arrival.twin
    more = f" and {len(alike) - 1} more" if len(alike) > 1 else ""
    return (
        f"{name}, {first.place}{more}: like {twin_words(twin)}, which is on record. Is it the same? "
        "`--alike skip` leaves such ones out, `--alike keep` keeps both; `--dry-run` lists them. Nothing was "
        "written."
    )


def _document(inbox: Inbox, ids: list[int], dry_run: bool) -> dict[str, Any]:
    return {
        "file": inbox.name,
        "dry_run": dry_run,
        "entries": ids,
        "arrivals": [_arrival(item) for item in inbox.items if item.arrival is not None],
        "left_out": [{"place": item.place, "sentence": item.refusal} for item in inbox.left_out],
        "not_charged": [
            {
                "watch": watch.name,
                "recorded_from": iso(watch.recorded_from),
                "first": iso(days[0]),
                "count": len(days),
            }
            for watch, days in inbox.not_charged()
        ],
        "retired": [watch.name for watch in inbox.retired()],
        "warnings": list(inbox.warnings()),
    }


def _arrival(item: Item) -> dict[str, Any]:
    assert item.incoming is not None
    assert item.watch is not None
    assert item.arrival is not None
    exposure, twin = item.incoming.exposure, item.arrival.twin
    return {
        "place": item.place,
        "watch": item.watch.name,
        "activity": exposure.activity,
        "starts_on": iso(exposure.starts_on),
        "starts_at": None if exposure.starts_at is None else exposure.starts_at.isoformat(),
        "depth_m": exposure.depth_m,
        "duration_s": exposure.duration_s,
        "state": item.state,
        "comes_in": item.comes_in,
        "like": twin.id if twin else None,
        "like_place": item.arrival.twin_place or None,
    }


def _words(book: Book, inbox: Inbox, ids: list[int], dry_run: bool) -> str:
    listed = [item for item in inbox.items if item.incoming is not None and item.state is not None]
    if len(listed) > MOST_LISTED:
        listed = [item for item in listed if item.state != "new"][:MOST_LISTED]
    rows = [row for item in listed if (row := _row(book, item))]
    lines = [table(("where", "when", "watch", "what", ""), rows, last=(0, 1, 4)), ""] if rows else []
    lines += [wrapped(f"{sentence}", "", "  ") for sentence in inbox.warnings()]
    lines += [wrapped(f"{item.place}: left out. {item.refusal}", "", "  ") for item in inbox.left_out]
    lines.append(wrapped(_sum(inbox, ids, dry_run)))
    for watch, days in inbox.not_charged():
        lines.append(wrapped(not_charged_words(watch.name, watch.recorded_from, days)))
    for watch in inbox.retired():
        lines.append(wrapped(f"{printable(watch.name)} is retired; its water is kept all the same."))
    return "\n".join(lines)


def _row(book: Book, item: Item) -> tuple[str, ...]:
    if item.incoming is None or item.arrival is None or item.state is None:
        return ()
    exposure, twin = item.incoming.exposure, item.arrival.twin
    state = STATE_WORDS[item.state]
    if item.arrival.twin_place:
        state = f"as {item.arrival.twin_place}"
    elif twin is not None:
        state = (
            f"{'is' if item.state == 'on record' else 'like'} {'plan' if twin.planned else 'entry'} {twin.id}"
        )
    name = printable(item.watch.name if item.watch else "")
    return item.place, _when(exposure), name, exposure_words(exposure, book.units), state


def _when(exposure: Exposure) -> str:
    return f"{exposure.starts_on}" + (f" {exposure.starts_at:%H:%M}" if exposure.starts_at else "")


def _sum(inbox: Inbox, ids: list[int], dry_run: bool) -> str:
    """`8 came in, 1 on record already, 1 left out.`"""
    first = f"{len(inbox.coming)} would come in" if dry_run else f"{len(ids)} came in"
    text = ", ".join([first, *(f"{count} {words}" for count, words in inbox.counts())]) + "."
    if ids:
        text += f" Entries {min(ids)} to {max(ids)}." if len(ids) > 1 else f" Entry {ids[0]}."
        text += " `logbook import --undo` takes the import back."
    return text


def _record(ctx: typer.Context, book: Book, file: RecordFile, dry_run: bool) -> None:
    """Watches of a table, or a whole record: what is not here yet."""
    from logbook.files.merging import counts, merged_words
    from logbook.record.writing import merge

    before = book.all_records()
    merged = book.do(merge.look if dry_run else merge.bring_in, file, book.practice)
    meant = [] if dry_run else now_standing(before, book.all_records(), book.practice, book.units)
    document = {"file": file.name, "dry_run": dry_run, **counts(merged), "meaning": meant}
    said = wrapped(merged_words(merged, dry_run=dry_run))
    answer(asked_of(ctx), document, lambda: "\n".join((said, *_meant(meant))), caution=bool(meant))


def _undo(ctx: typer.Context) -> None:
    from logbook.record.writing.undo import recent

    with writing(asked_of(ctx)) as book:
        labels = recent(book.store, None)
        after = next((n for n, label in enumerate(labels) if label.startswith(IMPORT)), None)
        if after is None:
            raise BadInput("There is no import to take back.", where="--undo")
        if after:
            last = printable(labels[0], 60)
            raise BadInput(
                f"After that import came {after} other change{'s' if after > 1 else ''}, the last of them "
                f"'{last}': `logbook undo` takes {'them' if after > 1 else 'it'} back first.", where="--undo",
            )  # fmt: skip
        label = book.undo()
    answer(asked_of(ctx), {"undone": label}, lambda: f"Undone: {printable(label)}.")
