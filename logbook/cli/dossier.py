"""`logbook dossier`: what the watchmaker of one watch is handed."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from logbook.cli.clock import clock_document, with_clock
from logbook.cli.command import Commands, asked_of
from logbook.cli.opening import reading
from logbook.cli.output import answer
from logbook.dossier.page import page_of
from logbook.dossier.render import Format, form_of, render
from logbook.errors import BadInput
from logbook.model.text import printable
from logbook.record.file.writing_files import in_a_folder, spare_record, write_private


def add_to(app: Commands) -> None:
    """Registers the command."""
    app.command()(dossier)


def dossier(
    ctx: typer.Context,
    watch: Annotated[str, typer.Argument(metavar="WATCH", help="Its nickname or the start of it.")],
    path: Annotated[
        str,
        typer.Argument(metavar="PATH", help="Where the dossier goes; .html or .md says in which form."),
    ],
    ask: Annotated[
        list[str] | None,
        typer.Option("--ask", metavar="TEXT", help="What you ask the workshop for; may be given again."),
    ] = None,
    html: Annotated[bool, typer.Option("--html", help="As HTML, whatever the ending of PATH.")] = False,
    md: Annotated[bool, typer.Option("--md", help="As Markdown, whatever the ending of PATH.")] = False,
    notes: Annotated[
        bool, typer.Option("--notes", help="With your notes on exposures, which are left out otherwise.")
    ] = False,
    replace: Annotated[
        bool, typer.Option("--replace", help="Write over a file that is there already.")
    ] = False,
) -> None:
    """The dossier of a watch, for its watchmaker: seals, exposures, tests, faults, and lines to fill in.

    It holds that watch's data alone. Workshop names, and notes on the watch, on workshop events and on
    faults, are always in it; notes on exposures only with --notes.
    """
    asked = asked_of(ctx)
    form = _form(path, html, md)
    target = in_a_folder(path)
    spare_record(target, asked.location)
    with reading(asked) as book:
        record = book.find(watch)
        rows, practice, clock = book.rows, book.practice, clock_document(book)
        page = page_of(rows, record, practice, book.today, book.units, ask or (), with_notes=notes)
    write_private(target, render(page, form), replace=replace)
    document = {"path": str(target), "watch": record.watch.name, "format": form, **clock}
    sentence = f"Wrote the dossier of {printable(record.watch.name)} to {target}."
    answer(asked, document, lambda: with_clock(sentence, book), caution=True)


def _form(path: str, html: bool, md: bool) -> Format:
    """What was asked for, else what the ending of the path says."""
    if html and md:
        raise BadInput("--html and --md are two answers; choose one.", where="--md")
    if html or md:
        return "html" if html else "markdown"
    form = form_of(Path(path))
    if form is None:
        raise BadInput("Let PATH end in .html or .md, or say --html or --md.", where="PATH")
    return form
