"""`logbook due`, `done`, `snooze`: what is due, that it was done, and not now."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated, Any

import typer

from logbook.cli.book import Book, WritableBook, iso, reading, writing
from logbook.cli.command import Commands, asked_of
from logbook.errors import BadInput, NotFound

if TYPE_CHECKING:
    from datetime import date

    from logbook.reckoning.due import DueItem
    from logbook.reckoning.values import Event, WatchRecord

COMING_UP, DUE = 1, 2
_CODES = {"coming up": COMING_UP, "due": DUE, "overdue": DUE}


def add_to(app: Commands) -> None:
    """Registers the commands."""
    for command in (due, done, snooze):
        app.command()(command)


def due(ctx: typer.Context) -> None:
    """What is coming up, due or overdue; exits 1 when something comes up, 2 when something is due."""
    from logbook.cli.output import answer
    from logbook.reckoning.due import asks_now

    asked = asked_of(ctx)
    with reading(asked) as book:
        every = [item for record in book.shelf for item in book.due_of(record)]
        near = sorted((i for i in every if i.stage != "later"), key=lambda item: (item.due, item.id))
        items = asks_now(near, book.today)
        silent = [item for item in near if item not in items]
        today = book.today
    document = {"items": [item_document(i) for i in items], "snoozed": [item_document(i) for i in silent]}
    answer(asked, document, lambda: _text(items, silent, today), caution=True)
    raise typer.Exit(max((_CODES[item.stage] for item in items), default=0))


def item_document(item: DueItem) -> dict[str, Any]:
    """A due item as JSON."""
    return {
        "id": item.id,
        "watch": item.watch,
        "task": item.task,
        "seal": item.position,
        "due": iso(item.due),
        "earliest": iso(item.earliest),
        "latest": iso(item.latest),
        "stage": item.stage,
        "anchor": iso(item.anchor),
        "interval_months": item.interval_months,
        "why": item.why,
        "snoozed_until": iso(item.snoozed_until),
    }


def _text(items: Sequence[DueItem], silent: Sequence[DueItem], today: date) -> str:
    from logbook.cli.output import wrapped
    from logbook.exchange.phrases import full_date

    lines = [line for item in items for line in _item_lines(item)] or ["Nothing is due or coming up."]
    for item in silent:
        until = full_date(item.snoozed_until) if item.snoozed_until else ""
        lines.append(wrapped(f"Silent until {until}: {_title(item)}  [{item.id}]", "", "    "))
    if items:
        lines += ["", "`logbook done ID` records that it was done,"]
        lines += ["`logbook snooze ID --until DATE` silences it for a while."]
    return "\n".join(lines)


def _title(item: DueItem) -> str:
    from logbook.reckoning.text import printable

    return f"{printable(item.watch)}: {item.label}"


def _item_lines(item: DueItem) -> list[str]:
    from logbook.cli.output import wrapped
    from logbook.exchange.phrases import full_date

    first = f"{item.stage:<9}  {full_date(item.due):>11}  {_title(item)}"
    hanging = " " * 24
    return [wrapped(first, "", hanging), wrapped(f"{item.why}  [{item.id}]", hanging)]


@dataclass(frozen=True)
class _Task:
    """A due item with the watch that it belongs to."""

    item: DueItem
    record: WatchRecord


def _tasks(book: Book) -> dict[str, _Task]:
    return {item.id: _Task(item, record) for record in book.shelf for item in book.due_of(record)}


def _chosen(book: Book, wanted: Sequence[str]) -> list[_Task]:
    """The items of these ids or their unambiguous beginnings."""
    from logbook.reckoning.text import did_you_mean, printable

    tasks = _tasks(book)
    found = []
    for text in wanted:
        fitting = [text] if text in tasks else [id_ for id_ in tasks if id_.startswith(text)]
        shown = printable(text, 60)
        if not fitting or not text:
            sentence = f"There is no due item {shown!r}; `logbook due` lists them with their ids."
            raise NotFound(sentence + did_you_mean(text, tasks), where="ITEM")
        if len(fitting) > 1:
            raise NotFound(f"{shown!r} begins more than one id: {', '.join(fitting[:6])}.", where="ITEM")
        found.append(tasks[fitting[0]])
    return found


def done(
    ctx: typer.Context,
    items: Annotated[
        list[str], typer.Argument(metavar="ITEM…", help="Ids from `logbook due`, or how they begin.")
    ],
    on: Annotated[str, typer.Option(metavar="DATE", help="The day it was done.")] = "today",
    passed: Annotated[bool, typer.Option("--passed", help="The pressure test was passed.")] = False,
    failed: Annotated[bool, typer.Option("--failed", help="The pressure test was failed.")] = False,
    bar: Annotated[
        str | None,
        typer.Option(metavar="PRESSURE", help="The pressure of the test, a number of bar or with its unit."),
    ] = None,
    medium: Annotated[str, typer.Option(metavar="air|vacuum|water", help="What it was tested in.")] = "air",
    workshop: Annotated[str, typer.Option(metavar="NAME", help="Who did it.")] = "",
    note: Annotated[str, typer.Option(metavar="TEXT", help="A note.")] = "",
) -> None:
    """Records that something due was done, as the workshop event that it is."""
    from logbook.cli.entries import entry_document
    from logbook.cli.output import answer
    from logbook.cli.workshop import event_line, taken_before_line
    from logbook.keeping import events

    asked = asked_of(ctx)
    with writing(asked) as book:
        day = book.day(on, "--on")
        tasks = _chosen(book, items)
        made = [_event(task, day, passed, failed, bar, medium, workshop, note, book) for task in tasks]
        ids = events.add(book.store, made, book.practice)
        kept = [event for key, event in _read_back(book, ids)]
        names = [task.record.watch.name for task in tasks]
    documents = [entry_document(event, name) for event, name in zip(kept, names, strict=True)]
    lines = []
    for event, name, task in zip(kept, names, tasks, strict=True):
        lines += [event_line(event, name, book.units), *taken_before_line(event, task.record)]
    answer(asked, {"entries": documents}, lambda: "\n".join(lines))


def _read_back(book: WritableBook, ids: Sequence[int]) -> list[tuple[int, Event]]:
    from logbook.keeping.glance import read_event

    return [(id_, read_event(book.rows, id_)) for id_ in ids]


def _event(
    task: _Task,
    day: date,
    passed: bool,
    failed: bool,
    bar: str | None,
    medium: str,
    workshop: str,
    note: str,
    book: Book,
) -> Event:
    """The workshop event that a due item asks for."""
    from logbook.cli.event_options import bar_pa, result_of
    from logbook.reckoning.charge import current_seals
    from logbook.reckoning.validate import check_event
    from logbook.reckoning.values import DAY_ORDER, Event

    item, watch = task.item, task.record.watch
    is_test = item.task == "pressure-test"
    if not is_test and (passed or failed or bar is not None):
        raise BadInput(
            f"--passed, --failed and --bar belong to a pressure test, not to {item.label}.", where="--bar"
        )
    seals = tuple(
        (seal.position, seal.material)
        for seal in current_seals(task.record.seals)
        if item.task == "gaskets" and seal.position == item.position
    )
    test_pa = None if bar is None else bar_pa(bar, "--bar")
    event = Event(
        kind=item.task,
        on=day,
        order=DAY_ORDER[item.task],
        passed=result_of(passed, failed) if is_test else None,
        test_pa=test_pa,
        medium=medium if test_pa is not None else None,
        workshop=workshop,
        note=note,
        seals=seals,
        watch_id=watch.id,
    )
    # A failure counts whatever its pressure was; `logbook event` asks more closely.
    unknown = failed and test_pa is None
    return check_event(event, watch, book.today, book.practice, pressure_unknown=unknown)


def snooze(
    ctx: typer.Context,
    item: Annotated[str, typer.Argument(metavar="ITEM", help="An id from `logbook due`, or how it begins.")],
    until: Annotated[str, typer.Option(metavar="DATE", help="Silent until this day.")],
) -> None:
    """Silences something due until a date, two years ahead at the most; it stays in the list."""
    from logbook.cli.output import answer
    from logbook.exchange.phrases import full_date
    from logbook.keeping.snoozes import snooze as write
    from logbook.reckoning.snoozing import check_until

    asked = asked_of(ctx)
    with writing(asked) as book:
        day = check_until(book.day(until, "--until", ahead=True), book.today, "--until")
        found = _chosen(book, [item])[0].item
        write(book.store, found.id, day)
    sentence = f"Silent until {full_date(day)}: {_title(found)}."
    answer(
        asked,
        {"id": found.id, "snoozed_until": iso(day), "due": iso(found.due)},
        lambda: sentence,
        caution=True,
    )
