"""`logbook watch`: putting a watch on the shelf, describing it anew, showing it, retiring it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Annotated, Any

import typer

from logbook.cli.command import Commands, asked_of
from logbook.cli.entries import entry_document
from logbook.cli.opening import reading, writing
from logbook.cli.options import watch as given
from logbook.cli.options.event import bar_pa
from logbook.cli.options.watch import Described
from logbook.cli.output import answer, wrapped
from logbook.cli.watch_show import beyond_mark, show_document, show_text, summary, watch_document
from logbook.cli.workshop import event_line
from logbook.errors import BadInput
from logbook.model.fitting import Fitted, initial_seals, last_pass_on, places
from logbook.model.judge.stands_words import a_few, now_stands
from logbook.model.ranges import one_of
from logbook.model.validate.exposure import check_event, check_seal, check_watch
from logbook.model.values import DAY_ORDER, MEDIA, Event, Seal, Watch, WatchRecord
from logbook.model.wear.charge import current_seals
from logbook.record.record import Book
from logbook.text.spans import parse_span

watch = Commands(name="watch", help="A watch: add it, edit it, show it, retire it.")


def add_to(app: Commands) -> None:
    """Registers the group."""
    app.add_typer(watch)


@watch.command()
def add(
    ctx: typer.Context,
    name: given.Name,
    told: Described,
    seals: given.Seals = None,
    seal: given.OneSeal = None,
    fitted: given.FittedOn = None,
    tested: Annotated[
        str | None, typer.Option(metavar="DATE[..DATE]", help="When it last passed a pressure test of yours.")
    ] = None,
    tested_bar: Annotated[
        str | None, typer.Option(metavar="N", help="The pressure of that test, in bar.")
    ] = None,
    tested_medium: Annotated[
        str, typer.Option(metavar="air|vacuum|water", help="What that test was done in.")
    ] = "air",
    interval: given.Interval = None,
) -> None:
    """Puts a watch on the shelf; begins the record where there is none."""
    with writing(asked_of(ctx), create=True) as book:
        new = _described(name, told, interval, book)
        tests = _tested(new, tested, tested_bar, tested_medium, book)
        fresh = _fresh_seals(new, seals or "unknown", fitted, seal, book, tests)
        events = [*_opened(new, fitted, seal, book), *tests]

        watch_id = book.add_watch(new, fresh, events)
        _answer(ctx, book, watch_id, "is on the shelf", events=True)


def _described(name: str, told: Described, interval: list[str] | None, book: Book) -> Watch:
    """A new watch from what was told; a number without a mark is a water-resistant one."""
    fields = told.fields(book)
    fields.setdefault("mark", "unknown" if fields.get("marked_pa") is None else "water-resistant")
    fields.setdefault("marked_pa", None)
    fields.setdefault("recorded_from", book.today)
    made = Watch(name=name, added_on=book.today, intervals_months=given.intervals_of(interval, {}), **fields)
    return check_watch(made, book.practice, book.today)


def _fresh_seals(
    made: Watch,
    material: str,
    fitted: str | None,
    single: list[str] | None,
    book: Book,
    tests: Sequence[Event],
) -> tuple[Seal, ...]:
    one_of(material, tuple(book.practice.materials), "material", "--seals")
    span = given.fitted_of(fitted, book) or (None, None)
    apart = given.single_seals(single, book)
    _refuse_foreign_places(apart, places(made))
    whole, since = Fitted(None, *span), last_pass_on(tests)
    found = initial_seals(made, material, whole, apart, last_pass=since)
    return tuple(check_seal(seal, made, book.practice, book.today) for seal in found)


def _refuse_foreign_places(told: dict[Any, Any], there: tuple[Any, ...]) -> None:
    for position in told:
        if position not in there:
            option = {"pushers": "--pushers", "gas-valve": "--gas-valve"}[position]
            raise BadInput(f"It has no {position}: add {option}, or leave that seal out.", where="--seal")


def _opened(made: Watch, fitted: str | None, single: list[str] | None, book: Book) -> list[Event]:
    """New gaskets on a day that is known mean that the case was open then; a test before it proves nothing.

    A span of days says so by itself, more mildly where the pass may have come after it. What came with a
    watch bought later, or new, opened nothing of the owner's.
    """
    spans = [
        given.fitted_of(fitted, book),
        *((s.earliest, s.latest) for s in given.single_seals(single, book).values()),
    ]
    days = [span[1] for span in spans if span is not None and span[1] is not None and span[0] == span[1]]
    if not days or (made.first_on is not None and max(days) <= made.first_on):
        return []
    event = Event(kind="opened", on=max(days), order=DAY_ORDER["opened"], note="given gaskets")
    return [check_event(event, made, book.today, book.practice)]


def _tested(made: Watch, tested: str | None, bar: str | None, medium: str, book: Book) -> list[Event]:
    """The last passed test, as the event that it is; of a span it counts on the first day."""
    if tested is None:
        if bar is not None:
            raise BadInput("--tested-bar needs the day of the test: --tested DATE.", where="--tested-bar")
        return []
    if bar is None:
        raise BadInput("A passed test needs its pressure: --tested-bar 10.", where="--tested-bar")
    first, last = parse_span(tested, book.today, "--tested")
    event = Event(
        kind="pressure-test",
        on=first,
        span=(first, last) if first < last else None,
        order=DAY_ORDER["pressure-test"],
        passed=True,
        test_pa=bar_pa(bar, "--tested-bar"),
        medium=one_of(medium, MEDIA, "medium of a pressure test", "medium"),
    )
    return [check_event(event, made, book.today, book.practice)]


@watch.command()
def edit(
    ctx: typer.Context,
    name: given.Name,
    told: Described,
    rename: Annotated[str | None, typer.Option("--name", metavar="NAME", help="Its new nickname.")] = None,
    seals: given.Seals = None,
    seal: given.OneSeal = None,
    fitted: given.FittedOn = None,
    interval: given.Interval = None,
) -> None:
    """Changes what was said of a watch, and only that; new gaskets are a matter of `logbook event`."""
    with writing(asked_of(ctx)) as book:
        record = book.find(name)
        from logbook.record.writing import watches

        changed = edited_watch(record, rename, told, interval, book)
        corrected = corrected_seals(record, changed, seals, fitted, seal, book)
        book.do(watches.correct, record, changed, corrected, book.practice)
        _answer(ctx, book, changed.id or 0, "is as you say now", before=record)


@watch.command()
def show(ctx: typer.Context, name: given.Name) -> None:
    """Everything known of a watch: description, seals, score, what is due, its last entries."""
    asked = asked_of(ctx)
    with reading(asked) as book:
        record = book.find(name)
        document, text = show_document(book, record), show_text(book, record)
    answer(asked, document, lambda: text, caution=True)


@watch.command()
def retire(
    ctx: typer.Context,
    name: given.Name,
    on: Annotated[str, typer.Option(metavar="DATE", help="The day it left the shelf.")] = "today",
    back: Annotated[bool, typer.Option("--back", help="Takes it back onto the shelf.")] = False,
) -> None:
    """Takes a watch off the shelf; everything of it stays on record."""
    from logbook.record.writing import watches

    with writing(asked_of(ctx)) as book:
        record = book.find(name)
        watch_id = record.watch.id or 0
        if back:
            book.do(watches.unretire, watch_id)
        else:
            book.retire(record.watch, book.day(on, "--on"))
        _answer(ctx, book, watch_id, "is back on the shelf" if back else "is off the shelf")


def _answer(
    ctx: typer.Context,
    book: Book,
    watch_id: int,
    what: str,
    *,
    events: bool = False,
    before: WatchRecord | None = None,
) -> None:
    """Says what is on record now, read back from it; with the events that a new watch came with.

    Of a watch that was otherwise `before` also what stands now and did not then.
    """
    record = next(r for r in book.all_records() if r.watch.id == watch_id)
    name = record.watch.name
    brought = record.events if events else ()
    document = {"watch": watch_document(record), "entries": [entry_document(e, name) for e in brought]}
    lines = [summary(record, what), *(event_line(e, name, book.units) for e in brought)]
    lines += beyond_mark(record, book.practice)
    meant = [] if before is None else now_stands(before, record, book.practice, book.units)
    if before is not None:
        document["meaning"] = meant
        lines += [wrapped(line, "", "  ") for line in a_few(meant)]
    answer(asked_of(ctx), document, lambda: "\n".join(lines), caution=bool(meant))


def edited_watch(
    record: WatchRecord, rename: str | None, told: Described, interval: list[str] | None, book: Book
) -> Watch:
    """The watch with what was told, and nothing else, changed."""
    fields: dict[str, Any] = told.fields(book)
    if rename is not None:
        fields["name"] = rename
    if fields.get("mark") in ("unmarked", "unknown"):
        fields.setdefault("marked_pa", None)
    months = given.intervals_of(interval, dict(record.watch.intervals_months))
    return check_watch(replace(record.watch, intervals_months=months, **fields), book.practice, book.today)


def corrected_seals(
    record: WatchRecord,
    changed: Watch,
    material: str | None,
    fitted: str | None,
    single: list[str] | None,
    book: Book,
) -> list[Seal]:
    """The seals in place that were told otherwise, and those of places that are new to the watch."""
    if material is not None:
        one_of(material, tuple(book.practice.materials), "material", "--seals")
    span = given.fitted_of(fitted, book) or (None, None)
    apart = given.single_seals(single, book)
    current = {seal.position: seal for seal in current_seals(record.seals)}
    found = [_corrected(seal, material, span, apart.get(seal.position)) for seal in current.values()]
    missing = [place for place in places(changed) if place not in current]
    if missing:
        whole = Fitted(None, *span)
        fresh = initial_seals(changed, material or "unknown", whole, apart)
        found += [seal for seal in fresh if seal.position in missing]
    for place in apart:
        if place not in current and place not in missing:
            check_seal(
                replace(next(iter(current.values())), position=place), changed, book.practice, book.today
            )
    return [
        check_seal(seal, changed, book.practice, book.today)
        for seal in found
        if seal != current.get(seal.position)
    ]


def _corrected(seal: Seal, material: str | None, span: tuple[Any, Any], told: Fitted | None) -> Seal:
    """A seal as it is said to be; what nobody speaks of stays."""
    stuff, (first, last) = material, span
    if told is not None:
        stuff = told.material or stuff
        if told.earliest is not None:
            first, last = told.earliest, told.latest
    if stuff is not None:
        seal = replace(seal, material=stuff)
    return seal if first is None else replace(seal, fitted_earliest=first, fitted_latest=last)
