"""`logbook habit`, `worn`, `nothing-else`: watches between their entries."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated

import typer

from logbook.cli.command import Commands, asked_of
from logbook.cli.entries import exposure_line, habit_document, habit_line, logged_document, stretch_line
from logbook.cli.inputs import several
from logbook.cli.opening import writing
from logbook.cli.options.event import number_of
from logbook.cli.options.watch import hours_of
from logbook.cli.output import answer, iso, wrapped
from logbook.cli.past_plans import settle
from logbook.errors import BadInput
from logbook.files.json.writing import entry_object
from logbook.model.ranges import one_of
from logbook.model.text import listed, printable
from logbook.model.validate.exposure import check_habit, check_stretch
from logbook.model.values import Habit, WornStretch
from logbook.record.reading.glance import read_exposure
from logbook.record.record import Book
from logbook.text.phrases import full_date

DAYS_A_WEEK = 7
_PER = {"day": 1, "week": DAYS_A_WEEK}


def add_to(app: Commands) -> None:
    """Registers the commands, and the names that they had before."""
    for command in (habit, worn, nothing_else):
        app.command()(command)
    app.command("wore", hidden=True)(worn)
    app.command("confirm", hidden=True)(nothing_else)


def habit(
    ctx: typer.Context,
    watch: Annotated[str, typer.Argument(metavar="WATCH", help="Its nickname or the start of it.")],
    words: Annotated[list[str], typer.Argument(metavar="LINE", help="What repeats, such as 'shower 8min'.")],
    per: Annotated[
        tuple[str, str], typer.Option("--per", metavar="week|day N", help="How often, such as week 2.")
    ],
    since: Annotated[str, typer.Option("--from", metavar="DATE", help="The first day.")] = "today",
    until: Annotated[
        str | None, typer.Option("--to", metavar="DATE", help="The last day; else it goes on.")
    ] = None,
) -> None:
    """A repeated exposure ("a shower a day"), counted as such."""
    from logbook.record.writing import habits

    asked = asked_of(ctx)
    with writing(asked) as book:
        record = book.find(watch)
        first = book.day(since, "--from")
        made = Habit(
            exposure=book.entry(several(words), record.watch),
            per_day=per_day(*per),
            from_on=first,
            to_on=None if until is None else book.day(until, "--to", ahead=True),
            watch_id=record.watch.id,
        )
        kept = check_habit(made, record.watch, book.today)
        kept = replace(kept, id=book.do(habits.add_habit, kept, book.practice))
        document = habit_document(book, kept)
        meant: list[str] = document["meaning"]
        lines = [habit_line(book, kept), *(wrapped(line, "", "    ") for line in meant)]
    answer(asked, {"entries": [document]}, lambda: "\n".join(lines), caution=bool(meant))


def per_day(unit: str, count: str) -> float:
    """How often a day, from `day 2` or `week 3`."""
    if unit.replace(".", "", 1).isdigit():
        unit, count = count, unit
    one_of(unit, tuple(_PER), "span of time", "--per")
    return number_of(count, "--per") / _PER[unit]


def worn(
    ctx: typer.Context,
    names: Annotated[
        list[str], typer.Argument(metavar="WATCH…", help="The watches worn that day; one, of a stretch.")
    ],
    on: Annotated[str | None, typer.Option(metavar="DATE", help="The day; today where none is said.")] = None,
    since: Annotated[
        str | None, typer.Option("--from", metavar="DATE", help="The first day of a stretch.")
    ] = None,
    until: Annotated[
        str | None, typer.Option("--to", metavar="DATE", help="The last day of a stretch.")
    ] = None,
    hours: Annotated[
        str | None, typer.Option("--hours", metavar="N", help="Hours a day on the wrist in a stretch.")
    ] = None,
) -> None:
    """These watches were worn that day: 12 hours in place of the habit, shared out when several.

    With --from, --to and --hours a stretch of one watch: so many hours a day between two days.
    """
    stretch = {"--from": since, "--to": until, "--hours": hours}
    said = [option for option, text in stretch.items() if text is not None]
    if not said:
        _worn_on(ctx, names, on or "today")
        return
    missing = [option for option in stretch if option not in said]
    if missing or on is not None or len(names) > 1:
        where = missing[0] if missing else "--on" if on is not None else "WATCH"
        sentence = (
            "A worn stretch is of one watch and takes --from, --to and --hours; a single day takes --on."
        )
        raise BadInput(sentence, where=where)
    _worn_for(ctx, names[0], since or "", until or "", hours or "")


def _worn_for(ctx: typer.Context, watch: str, since: str, until: str, hours: str) -> None:
    """A worn stretch."""
    from logbook.record.writing import habits

    with writing(asked_of(ctx)) as book:
        record = book.find(watch)
        made = WornStretch(
            book.day(since, "--from"),
            book.day(until, "--to"),
            hours_of(hours, "--hours"),
            watch_id=record.watch.id,
        )
        kept = check_stretch(made, record.watch, book.today)
        ids = book.do(habits.add_stretches, [kept], book.practice)
        _answer_stretches(ctx, book, ids)


def _worn_on(ctx: typer.Context, names: list[str], on: str) -> None:
    """These watches, that day."""

    with writing(asked_of(ctx)) as book:
        day = book.day(on, "--on")
        ids, sharing = book.wear(list(dict.fromkeys(book.find(name).watch.id or 0 for name in names)), day)
        _answer_stretches(ctx, book, [*ids, *(stretch.id or 0 for stretch in sharing)])


def _answer_stretches(ctx: typer.Context, book: Book, ids: list[int]) -> None:
    """The stretches as they were written."""
    kept = [s for record in book.all_records() for s in record.stretches if s.id in ids]
    documents = [{"entry": "worn", **entry_object(s, book.name_of(s.watch_id))} for s in kept]
    answer(asked_of(ctx), {"entries": documents}, lambda: "\n".join(stretch_line(book, s) for s in kept))


def nothing_else(
    ctx: typer.Context,
    names: Annotated[
        list[str] | None,
        typer.Argument(metavar="[WATCH…]", help="These watches; none named: every one on the shelf."),
    ] = None,
) -> None:
    """Nothing else happened up to today; first asks about plans whose days are past."""
    from logbook.record.writing import habits

    asked = asked_of(ctx)
    with writing(asked) as book:
        records = [book.find(name) for name in names] if names else book.shelf()
        if not records:
            raise BadInput("There is no watch on the shelf to say that of.", where="WATCH")
        chosen = list(dict.fromkeys(record.watch.id or 0 for record in records))
        settled = settle(book, asked, chosen)
        book.do(habits.confirm, chosen, book.today)
        day = book.today
        kept = [read_exposure(book.rows, id_) for id_ in settled.charged]
        entries = [logged_document(book, e) for e in kept]
        lines = [exposure_line(book, e) for e in kept]
    lines += [f"Struck: plan {id_}, which did not happen." for id_ in settled.struck]
    found = list(dict.fromkeys(record.watch.name for record in records))
    named = listed([printable(n) for n in found], "and")
    lines.append(wrapped(f"Nothing else happened to {named} up to {full_date(day)}."))
    document = {"confirmed": found, "confirmed_on": iso(day), "entries": entries, "struck": settled.struck}
    answer(asked, document, lambda: "\n".join(lines), caution=bool(kept))
