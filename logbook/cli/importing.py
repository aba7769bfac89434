"""`logbook import`: dives, tables, lines and whole records from files, looked at before they are written."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, BinaryIO, cast

import typer

from logbook.cli.book import WritableBook, iso, writing
from logbook.cli.command import Commands, asked_of
from logbook.errors import BadInput, RecordTrouble

if TYPE_CHECKING:
    from logbook.exchange.arriving import Arrival
    from logbook.exchange.inbox import FileKind, Inbox
    from logbook.reckoning.values import Exposure, Watch

TWINS = ("ask", "skip", "add")
STATE_WORDS = {"new": "new", "on record": "on record already", "alike": "like one on record"}


def add_to(app: Commands) -> None:
    """Registers the command."""
    app.command("import")(import_)


@dataclass(frozen=True)
class Asked:
    """What was said beside the file."""

    watch: str | None
    zone: str | None
    dates: str
    rinsed: bool
    twins: str
    dry_run: bool


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
        str, typer.Option(metavar="iso|day-first|month-first", help="How a CSV writes its dates.")
    ] = "iso",
    rinsed: Annotated[bool, typer.Option("--rinsed", help="The watch was rinsed after every dive.")] = False,
    twins: Annotated[
        str,
        typer.Option(metavar="ask|skip|add", help="What to do with one that is like one on record."),
    ] = "ask",
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
    if twins not in TWINS:
        raise BadInput(f"--twins is {', '.join(TWINS[:-1])} or {TWINS[-1]}.", where="--twins")
    told = Asked(watch, zone, dates, rinsed, twins, dry_run)
    with _opened(source) as (stream, name, kind), writing(asked_of(ctx)) as book:
        _BY_KIND[kind](ctx, book, stream, name, told)


@contextmanager
def _opened(file: str) -> Iterator[tuple[BinaryIO, str, FileKind]]:
    """The file, at its start, with its name and its kind."""
    from logbook.exchange.inbox import LOOKED_AT, kind_of

    if file == "-":
        import io
        import sys

        from logbook.cli.inputs import LARGEST

        data = sys.stdin.buffer.read(LARGEST + 1)
        if len(data) > LARGEST:
            raise BadInput(f"The input is larger than {LARGEST // 1_000_000} MB; name a file.", where="FILE")
        yield io.BytesIO(data), "the input", kind_of("the input", data[:LOOKED_AT])
        return
    path = Path(file).expanduser()
    try:
        stream = path.open("rb")
    except OSError as error:
        raise RecordTrouble(f"{file} could not be read: {error.strerror}.", where=file) from None
    with stream:
        head = stream.read(LOOKED_AT)
        stream.seek(0)
        yield stream, path.name, kind_of(path.name, head)


def _text(stream: BinaryIO, name: str) -> str:
    from logbook.cli.inputs import LARGEST

    data = stream.read(LARGEST + 1)
    if len(data) > LARGEST:
        raise BadInput(f"{name} is larger than {LARGEST // 1_000_000} MB.", where=name)
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        raise BadInput(f"{name}, line {line}: this is not UTF-8 text.", where=f"line {line}") from None


def _worn(book: WritableBook, told: Asked, name: str) -> Watch:
    """The watch of a file that does not say which was worn."""
    if told.watch is not None:
        return book.find(told.watch, "--watch").watch
    on_shelf = [record.watch for record in book.shelf]
    if len(on_shelf) == 1:
        return on_shelf[0]
    sentence = f"Which watch was worn? {name} does not say it: give --watch NAME."
    raise BadInput(sentence, where="--watch")


def _dives(ctx: typer.Context, book: WritableBook, stream: BinaryIO, name: str, told: Asked) -> None:
    from logbook.cli.reading_along import reading_along
    from logbook.exchange.dives_in import Taker
    from logbook.exchange.inbox import sorted_out
    from logbook.exchange.uddf import read_dives
    from logbook.reckoning.civil import checked_zone

    worn = _worn(book, told, name)
    zone = book.settings.zone if told.zone is None else checked_zone(told.zone)
    with reading_along(stream, name) as tell:
        dives = list(read_dives(stream, name, tell))
    taker = Taker(book.practice, book.settings, book.today, zone, told.rinsed)
    taken, refused = taker.take_all([(dive, worn) for dive in dives])
    _bring_in(ctx, book, sorted_out(book.rows, name, taken, refused), told)


def _table(ctx: typer.Context, book: WritableBook, stream: BinaryIO, name: str, told: Asked) -> None:
    raise NotImplementedError


def _lines(ctx: typer.Context, book: WritableBook, stream: BinaryIO, name: str, told: Asked) -> None:
    from logbook.exchange.inbox import sorted_out
    from logbook.exchange.lines_in import read_lines

    incoming = read_lines(
        _text(stream, name), name, practice=book.practice, settings=book.settings, today=book.today,
        watches=book.watches, watch=None if told.watch is None else book.find(told.watch, "--watch").watch,
    )  # fmt: skip
    _bring_in(ctx, book, sorted_out(book.rows, name, incoming), told)


def _record(ctx: typer.Context, book: WritableBook, stream: BinaryIO, name: str, told: Asked) -> None:
    raise NotImplementedError


_BY_KIND = {"UDDF": _dives, "CSV": _table, "JSON": _record, "lines": _lines}


def _bring_in(ctx: typer.Context, book: WritableBook, inbox: Inbox, told: Asked) -> None:
    """Writes what is new and tells everything about the file."""
    from logbook.cli.output import answer
    from logbook.exchange.inbox import write

    alike = inbox.of("alike")
    if alike and told.twins == "ask" and not told.dry_run:
        raise BadInput(_question(alike, inbox.name), where=alike[0].incoming.place)
    adding = told.twins == "add"
    ids = [] if told.dry_run else write(book.store, inbox, book.practice, alike=adding)
    document = _document(book, inbox, ids, told)
    answer(asked_of(ctx), document, lambda: _words(book, inbox, ids, told))


def _question(alike: Sequence[Arrival], name: str) -> str:
    first = alike[0]
    twin = cast("Exposure", first.twin)
    more = f" and {len(alike) - 1} more" if len(alike) > 1 else ""
    return (
        f"{name}, {first.incoming.place}{more}: like entry {twin.id} of {twin.starts_on}, which was logged "
        "already. Is it the same? `--twins skip` leaves such ones out, `--twins add` brings them in; "
        "`--dry-run` lists them. Nothing was written."
    )


def _document(book: WritableBook, inbox: Inbox, ids: Sequence[int], told: Asked) -> dict[str, Any]:
    return {
        "file": inbox.name,
        "dry_run": told.dry_run,
        "entries": list(ids),
        "arrivals": [_arrival(book, arrival) for arrival in inbox.arrivals],
        "left_out": [{"place": each.place, "sentence": each.sentence} for each in inbox.left_out],
        "warnings": [{"place": place, "sentence": sentence} for place, sentence in inbox.warnings()],
    }


def _arrival(book: WritableBook, arrival: Arrival) -> dict[str, Any]:
    exposure = arrival.incoming.exposure
    return {
        "place": arrival.incoming.place,
        "watch": book.name_of(exposure.watch_id),
        "activity": exposure.activity,
        "starts_on": iso(exposure.starts_on),
        "starts_at": None if exposure.starts_at is None else exposure.starts_at.isoformat(),
        "depth_m": exposure.depth_m,
        "duration_s": exposure.duration_s,
        "state": arrival.state,
        "like": None if arrival.twin is None else arrival.twin.id,
    }


def _words(book: WritableBook, inbox: Inbox, ids: Sequence[int], told: Asked) -> str:
    from logbook.cli.output import table, wrapped
    from logbook.exchange.phrases import exposure_words
    from logbook.reckoning.text import printable

    lines = []
    if inbox.arrivals:
        rows = [
            (
                a.incoming.place,
                f"{a.incoming.exposure.starts_on}",
                printable(book.name_of(a.incoming.exposure.watch_id)),
                exposure_words(a.incoming.exposure, book.units),
                STATE_WORDS[a.state],
            )
            for a in inbox.arrivals
        ]
        lines += [table(("where", "day", "watch", "what", ""), rows, last=(0, 1, 4)), ""]
    for place, sentence in inbox.warnings():
        lines.append(wrapped(f"{place}: {sentence}", "", "  "))
    for refusal in inbox.left_out:
        lines.append(wrapped(f"{refusal.place}: left out. {refusal.sentence}", "", "  "))
    return "\n".join([*lines, wrapped(_sum(inbox, ids, told))])


def _sum(inbox: Inbox, ids: Sequence[int], told: Asked) -> str:
    """`8 came in, 1 on record already, 1 left out.`"""
    counts = {
        "on record already": len(inbox.of("on record")),
        "like one on record": 0 if told.twins == "add" else len(inbox.of("alike")),
        "left out": len(inbox.left_out),
    }
    coming = len(inbox.coming(alike=told.twins == "add"))
    first = f"{coming} would come in" if told.dry_run else f"{len(ids)} came in"
    others = [f"{count} {words}" for words, count in counts.items() if count]
    text = ", ".join([first, *others]) + "."
    if ids:
        text += f" Entries {min(ids)} to {max(ids)}." if len(ids) > 1 else f" Entry {ids[0]}."
        text += " `logbook import --undo` takes them back." if len(ids) > 1 else ""
    return text


def _undo(ctx: typer.Context) -> None:
    from logbook.cli.output import answer
    from logbook.exchange.inbox import IMPORT
    from logbook.keeping.undo import recent
    from logbook.keeping.undo import undo as take_back
    from logbook.reckoning.text import printable

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
        label = take_back(book.store, book.practice)
    answer(asked_of(ctx), {"undone": label}, lambda: f"Undone: {printable(label)}.")
