"""`logbook wet` and `logbook plan`: what got wet, and what is meant to."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Annotated, Any

import typer

from logbook.cli import asking
from logbook.cli.asked import Asked
from logbook.cli.clock import clock_document, with_clock
from logbook.cli.command import Commands, asked_of
from logbook.cli.entries import exposure_document, exposure_line, logged_document, written_exposures
from logbook.cli.failures import StoppedError
from logbook.cli.inputs import several, text_of, with_words
from logbook.cli.opening import reading, writing
from logbook.cli.options.event import whole_of
from logbook.cli.output import answer, iso, wrapped
from logbook.cli.verdicts import Shown, verdict_units
from logbook.errors import BadInput
from logbook.model.judge.check import Verdict, check
from logbook.model.validate.exposure import check_watch
from logbook.model.values import Exposure, Units, WatchRecord
from logbook.record.reading.glance import read_exposure, read_exposures
from logbook.record.record import Book
from logbook.text.dates import parse_days
from logbook.text.planned import refuse_past_plan
from logbook.text.record_start import Early, early


def add_to(app: Commands) -> None:
    """Registers the commands."""
    app.command()(wet)
    app.command()(plan)


def wet(
    ctx: typer.Context,
    lines: Annotated[
        list[str],
        typer.Argument(
            metavar="LINE…",
            help="Entries such as 'blue bezel: dive 21m 38min sea 17C rinsed'; - reads them from the input.",
        ),
    ],
) -> None:
    """Logs contacts with water from one-line entries, all or nothing, and says what each cost."""

    asked = asked_of(ctx)
    told = _lines(lines)
    with writing(asked) as book:
        items = [_entry(book, line, n if len(told) > 1 else None) for n, line in enumerate(told, 1)]
        ids = book.log(items)
        early = ask_about_start(book, asked, items)
        kept = written_exposures(items, ids)
        document: dict[str, Any] = {"entries": [logged_document(book, e) for e in kept]}
        document |= clock_document(book)
        if early:
            document["not_charged"] = [each.document() for each in early]
        lines = [exposure_line(book, e) for e in kept] + [wrapped(each.sentence()) for each in early]
        text = with_clock("\n".join(lines), book)
    answer(asked, document, lambda: text, caution=True)


def _lines(words: Sequence[str]) -> list[str]:
    found: list[str] = []
    for word in words:
        lines = text_of("-").splitlines() if word == "-" else [word]
        found += [line for line in lines if line.strip()]
    if not found:
        sentence = "There is no entry to log; one reads 'blue bezel: dive 21m 38min sea 17C rinsed'."
        raise BadInput(sentence, where="LINE")
    return found


def _entry(book: Book, line: str, number: int | None) -> Exposure:
    """The exposure of a line; an error says which of several lines it is about."""
    try:
        return book.entry(line, with_name=True)
    except BadInput as error:
        if number is not None:
            error.message = f"Entry {number}: {error.message}"
            error.where = f"entry {number}" + (f", {error.where}" if error.where else "")
        raise


def plan(
    ctx: typer.Context,
    watch: Annotated[
        str | None, typer.Argument(metavar="[WATCH]", help="Its nickname or the start of it.")
    ] = None,
    words: Annotated[
        list[str] | None,
        typer.Argument(metavar="[LINE]", help="The activity and the rest, such as 'dive 30m 40min'."),
    ] = None,
    since: Annotated[
        str | None, typer.Option("--from", metavar="DATE", help="The day, or the first of a trip.")
    ] = None,
    until: Annotated[str | None, typer.Option("--to", metavar="DATE", help="The last day of a trip.")] = None,
    happened: Annotated[
        str | None, typer.Option(metavar="ID", help="The plan of this id happened: charge it from now on.")
    ] = None,
    confirm: Annotated[str | None, typer.Option(hidden=True, help="As --happened.")] = None,
) -> None:
    """Plans water for a watch and checks it; without a line it lists the plans.

    A plan is never charged until it happened.
    """
    asked = asked_of(ctx)
    plan_id = confirm if happened is None else happened
    if plan_id is not None:
        if watch is not None or words:
            raise BadInput(
                "--happened ID stands alone, with --from DATE for the day it happened.", where="--happened"
            )
        _happened(ctx, plan_id, since)
        return
    if not words:
        _list(ctx, watch)
        return
    with writing(asked) as book:
        record = book.find(watch or "")
        _write_plan(ctx, book, record, _planned(book, record, several(words), since, until))


def _planned(book: Book, record: WatchRecord, line: str, since: str | None, until: str | None) -> Exposure:
    """The planned exposure, its days from the options where they are given."""
    if since is not None or until is not None:
        days = f"on {_days(book, since, until)}"
        line = with_words(line, days)
    item = book.entry(line, record.watch, planned=True)
    refuse_past_plan(
        item, book.today, "LINE" if since is None and until is None else "--from" if until is None else "--to"
    )
    return item


def _days(book: Book, since: str | None, until: str | None) -> str:
    """A day, or the first and the last of a trip, as a line has them."""
    if until is None:
        return f"{book.day(since or 'today', '--from', ahead=True)}"
    first, last = parse_days(since or "today", until, book.today, where=("--from", "--to"))
    return f"{first}..{last}"


def _write_plan(ctx: typer.Context, book: Book, record: WatchRecord, item: Exposure) -> None:

    verdict = _verdict(book, record, item, verdict_units(book, asked_of(ctx)))
    ids = book.log([item])
    kept = written_exposures([item], ids)[0]
    shown = Shown.of(book, item)
    document = {"entries": [exposure_document(book, kept)], "check": shown.document(verdict)}
    text = f"{exposure_line(book, kept)}\n\n{shown.one(verdict)}"
    answer(asked_of(ctx), document, lambda: text, caution=True)


def _verdict(book: Book, record: WatchRecord, item: Exposure, units: Units) -> Verdict:
    return check(record, item, book.practice, book.today, book.foresight(), book.band_maker(), units)


def _list(ctx: typer.Context, watch: str | None) -> None:
    asked = asked_of(ctx)
    with reading(asked) as book:
        watch_id = None if watch is None else book.find(watch).watch.id
        plans = read_exposures(book.rows, watch_id=watch_id, planned=True)
        documents = [exposure_document(book, e) | {"starts_on": iso(e.starts_on)} for e in plans]
        text = "\n".join(exposure_line(book, e) for e in plans) or "Nothing is planned."
    answer(asked, {"plans": documents}, lambda: text, caution=True)


def _happened(ctx: typer.Context, plan_id: str, since: str | None) -> None:
    """A plan happened, of a trip one day: on its own, or on the day that is given. The rest stays a plan."""
    asked = asked_of(ctx)
    with writing(asked) as book:
        plan = read_exposure(book.rows, whole_of(plan_id, "--happened"))
        if not plan.planned:
            raise BadInput(f"Entry {plan.id} is not a plan; it is on record already.", where="--happened")
        charged, rest = book.charge_plan(plan, plan.starts_on if since is None else book.day(since, "--from"))
        ids = [one.id or 0 for one in (charged, rest) if one is not None]
        kept = [read_exposure(book.rows, id_) for id_ in ids]
        document = {"entries": [logged_document(book, kept[0])]}
        if rest is not None:
            document["plans"] = [exposure_document(book, kept[1])]
        text = "\n".join(exposure_line(book, e) for e in kept)
    answer(asked, document, lambda: text, caution=True)


def ask_about_start(book: Book, asked: Asked, items: Sequence[Exposure]) -> list[Early]:
    """Asks of each watch whether its record begins earlier; returns those whose entries stay uncharged.

    The entries are kept whatever the answer: where the answers end early, the rest stay as they are.
    """
    from logbook.record.writing import watches

    found = early(items, book.all_watches())
    if not asking.can_ask(asked):
        return found
    moved = []
    try:
        for each in found:
            if asking.yes(each.question()):
                book.do(watches.edit, check_watch(each.moved(), book.practice, book.today), book.practice)
                moved.append(each)
    except StoppedError:
        pass
    return [each for each in found if each not in moved]
