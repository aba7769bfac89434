"""`logbook export`, `backup`, `restore`, `doctor`: the record as a whole."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from logbook.cli.asked import Asked
from logbook.cli.clock import clock_document, with_clock
from logbook.cli.command import Commands, asked_of
from logbook.cli.failures import UsageMistake
from logbook.cli.opening import reading, writing
from logbook.cli.output import answer, iso, tame, wrapped
from logbook.errors import LogbookError, Refused
from logbook.files.csv.writing import KINDS, write_table
from logbook.files.json.writing import record_document
from logbook.model.ranges import one_of
from logbook.model.text import listed, printable
from logbook.record.file.places import refuse_missing_folder
from logbook.record.file.practice_file import load_practice
from logbook.record.file.writing_files import in_a_folder, write_private
from logbook.record.schema.revision import check
from logbook.text.phrases import full_date

if TYPE_CHECKING:
    from logbook.record.file.doctor import Finding


def add_to(app: Commands) -> None:
    """Registers the commands."""
    for command in (export, backup, restore, doctor):
        app.command()(command)


def export(
    ctx: typer.Context,
    out: Annotated[
        str | None, typer.Option(metavar="PATH", help="Write it there; a file that is there already stays.")
    ] = None,
    table: Annotated[
        str | None,
        typer.Option(
            "--csv",
            metavar="exposures|events|worn|habits|watches",
            help="One kind of entry as a table of comma-separated values instead, in SI units.",
        ),
    ] = None,
) -> None:
    """The whole record as one JSON document, with or without --json; or one kind of entry as CSV."""
    from logbook.cli.output import write
    from logbook.files.merging import counted_words

    asked = asked_of(ctx)
    if table is not None:
        _export_table(asked, table, out)
        return
    with reading(asked) as book:
        document = record_document(book.rows)
    if out is None:
        write(json.dumps(document, allow_nan=False, indent=None if asked.as_json else 1))
        return
    path = in_a_folder(out)
    write_private(path, json.dumps(document, allow_nan=False, indent=1) + "\n")
    wrote = {kind: len(document[kind]) for kind in ("watches", "exposures")}
    counted = (counted_words(count, kind) for kind, count in wrote.items())
    sentence = f"Wrote {listed(counted, 'and')} to {path}."
    answer(asked, {"path": str(path), **wrote}, lambda: sentence)


def _export_table(asked: Asked, kind: str, out: str | None) -> None:
    """One kind of entry as CSV, printed or written."""
    from logbook.cli.output import write

    if asked.as_json:
        raise UsageMistake("--csv and --json are two answers; choose one.", where="--csv")
    one_of(kind, KINDS, "kind of entry", "--csv")
    with reading(asked) as book:
        written = write_table(book.rows, kind)
    if out is None:
        write(written.text.removesuffix("\n"))
        return
    path = in_a_folder(out)
    write_private(path, written.text)
    write(tame(f"Wrote {written.rows} {'row' if written.rows == 1 else 'rows'} of {kind} to {path}."))


def _file_of(asked: Asked, what: str) -> Path:
    """The record's file; a shared database has none."""
    if isinstance(asked.location, Path):
        return asked.location
    raise Refused(f"This record is in a shared database: {what} it with that database's own tools.")


def backup(
    ctx: typer.Context,
    path: Annotated[
        str, typer.Argument(metavar="PATH", help="Where the copy goes; a file there stays as it is.")
    ],
) -> None:
    """Writes a verified copy of the record."""
    from logbook.record.file.backup import backup as write

    asked = asked_of(ctx)
    target = in_a_folder(path)
    write(_file_of(asked, "back"), target)
    answer(asked, {"path": str(target)}, lambda: f"The record is copied to {target}.")


def restore(
    ctx: typer.Context,
    path: Annotated[
        str, typer.Argument(metavar="PATH", help="A backup; the record it replaces is kept aside.")
    ],
) -> None:
    """Puts a backup in place of the record, which is kept aside."""
    from logbook.record.file.backup import restore as bring_back

    asked = asked_of(ctx)
    source = Path(path).expanduser()
    record = _file_of(asked, "restore")
    refuse_missing_folder(record)
    kept = bring_back(record, source)
    asked.on_record = True
    aside = f" What was there is kept as {kept}." if kept else ""
    document = {"path": str(record), "from": str(source), "kept": str(kept) if kept else None}
    answer(asked, document, lambda: f"{source} is the record at {record} now.{aside}")


def doctor(
    ctx: typer.Context,
    mend: Annotated[
        bool,
        typer.Option(
            "--mend", help="Make the ledger anew where it does not add up; nothing else is touched."
        ),
    ] = False,
    clock_is_right: Annotated[
        bool,
        typer.Option(
            "--clock-is-right",
            help="Write down that the clock is right although later days are on record already.",
        ),
    ] = False,
) -> None:
    """Looks the record over: the file, its references, its books. Exits 4 when something is wrong."""
    from logbook.record.file.doctor import examine

    asked = asked_of(ctx)
    if clock_is_right:
        _say_clock_is_right(ctx)
        return
    path = _file_of(asked, "look after")
    findings = examine(path, load_practice(), mend=mend)
    # Of the file itself only advice is given, such as on who else may read it, as long as it can be read.
    sound = _readable(path) and all(f.mended or f.about == "file" for f in findings)
    words = _findings_text(path, findings)
    clock: dict[str, Any] = {}
    if _readable(path):
        words, clock = _with_clock(asked, words)
    document = {
        "path": str(path),
        "sound": sound,
        "findings": [{"about": f.about, "sentence": f.sentence, "mended": f.mended} for f in findings],
        "clock_behind_by": None,
        **clock,
    }
    answer(asked, document, lambda: words)
    if not sound:
        raise typer.Exit(LogbookError.exit_code)


def _with_clock(asked: Asked, words: str) -> tuple[str, dict[str, Any]]:
    """The answer with what is said of a clock that is behind; as it was where the record cannot be read."""
    try:
        with reading(asked) as book:
            return with_clock(words, book), clock_document(book)
    except LogbookError:
        return words, {}


def _say_clock_is_right(ctx: typer.Context) -> None:
    from logbook.record.writing.clock import say_right

    asked = asked_of(ctx)
    with writing(asked) as book:
        newest, today = say_right(book.store, book.today), book.today
    if newest is None:
        words = (
            f"The clock is not behind: nothing on record lies after {full_date(today)}. Nothing was written."
        )
    else:
        words = f"Written down: today is {full_date(today)}, although {full_date(newest)} is on record."
    answer(asked, {"today": today.isoformat(), "clock_right_to": iso(newest)}, lambda: words)


def _readable(path: Path) -> bool:
    try:
        check(path)
    except LogbookError:
        return False
    return True


def _findings_text(path: Path, findings: list[Finding]) -> str:
    if not findings:
        return f"{path} is sound."
    lines = [wrapped(f"{printable(f.sentence)}{' Mended.' if f.mended else ''}", "", "  ") for f in findings]
    if any(f.about == "ledger" and not f.mended for f in findings):
        lines.append("`logbook doctor --mend` makes the ledger anew from the exposures.")
    return "\n".join(lines)
