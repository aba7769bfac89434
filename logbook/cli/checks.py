"""`logbook check`: may this watch go there? The verdict, every reason, and what would change it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Annotated

import typer

from logbook.cli.command import Commands, asked_of
from logbook.cli.inputs import several
from logbook.cli.opening import reading
from logbook.cli.options.plan import PlanOptions
from logbook.cli.output import answer
from logbook.cli.verdicts import Shown, verdict_units
from logbook.errors import BadInput
from logbook.model.judge.check import Verdict, check_any
from logbook.model.ranges import one_of
from logbook.model.values import Exposure, Units, WatchRecord
from logbook.record.record import Book

_CODES = {"think twice": 5, "keep it dry": 6, None: 6}  # a retired watch has no verdict


def add_to(app: Commands) -> None:
    """Registers the command."""
    app.command()(check)


def check(
    ctx: typer.Context,
    told: PlanOptions,
    words: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="WATCH [LINE]",
            help="The watch (none with --any), then what is planned, such as 'dive 30m 40min sea 12C'.",
        ),
    ] = None,
    every: Annotated[bool, typer.Option("--any", help="Asks of every watch: which one may come?")] = False,
    altitude: Annotated[str | None, typer.Option(metavar="HEIGHT", help="Of the water's surface.")] = None,
    crown: Annotated[str, typer.Option(metavar="closed|open", help="How the crown will be.")] = "closed",
    pushers: Annotated[str, typer.Option(metavar="closed|open", help="How the pushers will be.")] = "closed",
    exit_code: Annotated[
        bool, typer.Option("--exit-code", help="Exit 5 for think twice, 6 for keep it dry.")
    ] = False,
) -> None:
    """The answer before water: the verdict with every reason, from a line or from options."""
    name, line = _parted(words or [], every)
    with reading(asked_of(ctx)) as book:
        record = None if every else book.find(name)
        item = told.exposure(book, line, record.watch if record else None)
        item = replace(
            item,
            crown_open=item.crown_open or _is_open(crown, "--crown"),
            pushers_open=item.pushers_open or _is_open(pushers, "--pushers"),
        )
        verdicts = _judged(book, record, item, verdict_units(book, asked_of(ctx)))
        shown = Shown.of(book, item, altitude)
    document = {"watches": [shown.document(v) for v in verdicts]} if every else shown.document(verdicts[0])
    answer(
        asked_of(ctx),
        document,
        lambda: shown.every(verdicts) if every else shown.one(verdicts[0]),
        caution=True,
    )
    if exit_code and verdicts:
        # Asked of every watch, the answer is that of the one with the fewest objections.
        raise typer.Exit(_CODES.get(verdicts[0].verdict, 0))


def _parted(words: Sequence[str], every: bool) -> tuple[str, str]:
    """The watch's name and the line; `NAME: LINE` in one word is both."""
    if every:
        return "", several(words)
    if not words:
        raise BadInput("Which watch? Name it, or ask of every one with --any.", where="WATCH")
    name, colon, line = words[0].partition(":")
    return name, several([line.strip(), *words[1:]] if colon else words[1:])


def _is_open(text: str, where: str) -> bool:
    return one_of(text, ("closed", "open"), "state", where) == "open"


def _judged(book: Book, record: WatchRecord | None, plan: Exposure, units: Units) -> list[Verdict]:
    from logbook.model.judge.check import check

    given = (plan, book.practice, book.today, book.foresight(), book.band_maker(), units)
    return check_any(book.shelf(), *given) if record is None else [check(record, *given)]
