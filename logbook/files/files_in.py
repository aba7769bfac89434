"""Reading any file that comes in: what kind it is, and what it holds, before the record is looked at."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import AbstractContextManager, nullcontext
from dataclasses import dataclass, replace
from typing import BinaryIO, Literal

from logbook.errors import BadInput
from logbook.files.csv import reading as csv_in
from logbook.files.csv.cells import DATES
from logbook.files.dives_in import Taker
from logbook.files.incoming import Incoming
from logbook.files.json.reading import read_document
from logbook.files.lines_in import read_lines
from logbook.files.uddf.reading import FileDive, read_dives
from logbook.model.text import listed, printable
from logbook.model.values import Watch
from logbook.record.file.record_file import RecordFile
from logbook.text.plain_text import text_of

FileKind = Literal["UDDF", "CSV", "JSON", "lines"]
LARGEST_MB = {"CSV": 50, "lines": 50, "JSON": 200}  # a UDDF file is read piece by piece and may be any size
LOOKED_AT = 4_096  # bytes from which the kind of a file without a known ending is told
_ENDINGS: dict[str, FileKind] = {
    ".uddf": "UDDF", ".xml": "UDDF", ".csv": "CSV", ".tsv": "CSV", ".json": "JSON", ".txt": "lines",
}  # fmt: skip

Tell = Callable[[int], None]  # bytes read so far; what it raises ends the reading
Reopen = Callable[[], AbstractContextManager[BinaryIO]]


@dataclass(frozen=True, slots=True)
class FileIn:
    """What a file holds; of the three, one."""

    name: str
    # Dives, which do not say what watch was worn; their profiles are read again when they are wanted.
    dives: Sequence[FileDive] | None = None
    again: Callable[[], Iterator[FileDive]] = lambda: iter(())
    rows: Sequence[Incoming] | None = None  # exposures, each with its watch
    record: RecordFile | None = None  # watches, and whatever is known of them


def kind_of(name: str, head: bytes) -> FileKind:
    """What kind of file it is, by its ending or else by how it begins; raises BadInput."""
    low = name.casefold()
    by_ending = next((kind for ending, kind in _ENDINGS.items() if low.endswith(ending)), None)
    if by_ending is not None:
        return by_ending
    start = head.removeprefix(b"\xef\xbb\xbf").replace(b"\x00", b"").lstrip()[:LOOKED_AT]
    if start.startswith((b"<", b"\xff\xfe<", b"\xfe\xff<")):
        return "UDDF"
    if start.startswith(b"{"):
        return "JSON"
    lines = [line for line in start.splitlines() if line.strip()]
    first_line = next((line for line in lines if not line.startswith(b"#")), b"")
    if b":" in first_line:
        return "lines"
    if any(mark in first_line for mark in (b",", b";", b"\t")):
        return "CSV"
    endings = ", ".join(_ENDINGS)
    raise BadInput(
        f"{printable(name)} is none of the files that come in: UDDF, CSV, JSON of `logbook export`, or "
        f"one-line entries. Give it the ending that it should have: {endings}.", where="FILE",
    )  # fmt: skip


# What may be said beside a file, and for which kinds it means something.
_MEANT_FOR: dict[str, tuple[FileKind, ...]] = {
    "--watch": ("UDDF", "CSV", "lines"), "--zone": ("UDDF", "CSV", "lines"), "--rinsed": ("UDDF",),
    "--dates": ("CSV",), "--alike": ("UDDF", "CSV", "lines"),
}  # fmt: skip


def refuse_unmeant(kind: FileKind, options: Iterable[str]) -> None:
    """Raises BadInput for what was said of a file but could not count for one of its kind."""
    for option in options:
        if kind not in _MEANT_FOR[option]:
            meant = listed(_MEANT_FOR[option])
            raise BadInput(f"{option} is for {meant}; this file is {kind}: leave it out.", where=option)


def kind_at(stream: BinaryIO, name: str) -> FileKind:
    """The kind of an open file, which is then at its start again."""
    kind = kind_of(name, stream.read(LOOKED_AT))
    stream.seek(0)
    return kind


def read(
    stream: BinaryIO,
    name: str,
    taker: Taker,
    watches: Sequence[Watch],
    *,
    worn: Watch | None = None,
    dates: str = "iso",
    tell: Tell | None = None,
    reopen: Reopen | None = None,
) -> FileIn:
    """What the file holds; raises BadInput with the place in it that is wrong.

    `worn` is the watch of entries that name none; the dives of a UDDF file never do, and are given theirs
    when they are sorted out. `reopen` opens the file once more, where the stream is closed by then.
    """
    kind = kind_at(stream, name)
    if kind == "UDDF":
        dives = [replace(dive, points=()) for dive in read_dives(stream, name, tell)]
        return FileIn(name, dives=dives, again=lambda: _again(reopen or (lambda: nullcontext(stream)), name))
    data = _whole(stream, name, LARGEST_MB[kind])
    settings = replace(taker.settings, zone=taker.zone)  # of times that are told without one
    if kind == "JSON":
        return FileIn(name, record=read_document(data, name, taker.practice, taker.today))
    text = text_of(data, name)
    if kind == "lines":
        rows = read_lines(
            text, name, practice=taker.practice, settings=settings, today=taker.today, watches=watches,
            watch=worn,
        )  # fmt: skip
        return FileIn(name, rows=rows)
    return _table(text, name, replace(taker, settings=settings), watches, worn, dates)


def _again(reopen: Reopen, name: str) -> Iterator[FileDive]:
    """The dives once more, with their profiles."""
    with reopen() as stream:
        stream.seek(0)
        yield from read_dives(stream, name)


def _table(
    text: str, name: str, taker: Taker, watches: Sequence[Watch], worn: Watch | None, dates: str
) -> FileIn:
    from logbook.files.merging import record_of

    if dates not in DATES:
        raise BadInput(f"Dates are {', '.join(DATES[:-1])} or {DATES[-1]}.", where="--dates")
    if csv_in.kind_of_table(text, name) == "watches":
        found = csv_in.read_watches(text, name, practice=taker.practice, today=taker.today, dates=dates)
        return FileIn(name, record=record_of(name, found))
    rows = csv_in.read_exposures(
        text, name, practice=taker.practice, settings=taker.settings, today=taker.today, watches=watches,
        dates=dates, watch=worn,
    )  # fmt: skip
    return FileIn(name, rows=rows)


def _whole(stream: BinaryIO, name: str, largest_mb: int) -> bytes:
    data = stream.read(largest_mb * 1_000_000 + 1)
    if len(data) > largest_mb * 1_000_000:
        raise BadInput(f"{printable(name)} is larger than {largest_mb} MB; part it.", where="FILE")
    return data
