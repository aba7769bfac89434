"""`logbook due`, `snooze`: what is due, and not now; `done` stands beside it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Annotated, Any

import typer

from logbook.cli.clock import clock_document, with_clock
from logbook.cli.command import Commands, asked_of
from logbook.cli.done import chosen, done
from logbook.cli.opening import reading, writing
from logbook.cli.output import answer, iso, wrapped
from logbook.model.due.services import Service
from logbook.model.due.snoozing import check_until
from logbook.model.due.tasks import DueItem
from logbook.model.text import printable
from logbook.reminders.notices import service_document
from logbook.text.phrases import full_date

COMING_UP, DUE = 1, 2
_CODES = {"coming up": COMING_UP, "due": DUE, "overdue": DUE}


def add_to(app: Commands) -> None:
    """Registers the commands."""
    for command in (due, done, snooze):
        app.command()(command)


def due(
    ctx: typer.Context,
    tasks: Annotated[bool, typer.Option("--tasks", help="List each task of a watch with its id.")] = False,
) -> None:
    """What is coming up, due or overdue, one line a watch; exits 1 when something comes up, 2 when due."""
    asked = asked_of(ctx)
    with reading(asked) as book:
        services, clock = book.services(), clock_document(book)
    items = _by_date(item for service in services for item in service.asking)
    silent = _by_date(item for service in services for item in _silent(service))
    document = {
        "items": [item_document(item) for item in items],
        "services": [service_document(service) for service in services if service.asking],
        "snoozed": [item_document(item) for item in silent],
        **clock,
    }
    answer(asked, document, lambda: with_clock(_text(services, silent, tasks), book), caution=True)
    raise typer.Exit(max((_CODES[item.stage] for item in items), default=0))


def _by_date(items: Iterable[DueItem]) -> list[DueItem]:
    return sorted(items, key=lambda item: (item.due, item.id))


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


def _silent(service: Service) -> list[DueItem]:
    """Its tasks that would ask and are snoozed."""
    return [item for item in service.items if item.stage != "later" and item not in service.asking]


def _text(services: Sequence[Service], silent: Sequence[DueItem], tasks: bool) -> str:
    asking = [service for service in services if service.asking]
    lines = [line for service in asking for line in _service_lines(service, tasks)]
    lines = lines or ["Nothing is due or coming up."]
    for item in silent:
        until = full_date(item.snoozed_until) if item.snoozed_until else ""
        lines.append(wrapped(f"Silent until {until}: {_title(item)}  [{item.id}]", "", "    "))
    if asking:
        named = "ID" if tasks else "WATCH"
        lines += ["", f"`logbook done {named}` records that it was done,"]
        lines += [f"`logbook snooze {named} --until DATE` silences it for a while."]
        lines += [] if tasks else ["`logbook due --tasks` lists each task with its id."]
    return "\n".join(lines)


def _title(item: DueItem) -> str:
    return f"{printable(item.watch)}: {item.label}"


def _service_lines(service: Service, tasks: bool) -> list[str]:
    """A line for the service and why; with `tasks` each of those that ask, with its id, below it."""
    hanging = " " * 24
    words = f"{printable(service.watch)}: {service.in_full}"
    first = wrapped(f"{service.stage:<9}  {full_date(service.due):>11}  {words}", "", hanging)
    if not tasks:
        return [first, wrapped(service.why, hanging)]
    return [first, *(line for item in service.asking for line in _item_lines(item))]


def _item_lines(item: DueItem) -> list[str]:
    first = f"  {item.stage:<9}{full_date(item.due):>11}  {item.label}"
    return [wrapped(first, "", " " * 24), wrapped(f"{item.why}  [{item.id}]", " " * 24)]


def snooze(
    ctx: typer.Context,
    item: Annotated[
        str,
        typer.Argument(
            metavar="ITEM", help="A watch, or an id from `logbook due --tasks`, or how it begins."
        ),
    ],
    until: Annotated[str, typer.Option(metavar="DATE", help="Silent until this day.")],
) -> None:
    """Silences something due until a date, two years ahead at the most; it stays in the list."""
    from logbook.record.writing.snoozes import snooze as write

    asked = asked_of(ctx)
    with writing(asked) as book:
        day = check_until(book.day(until, "--until", ahead=True), book.today, "--until")
        (found,) = chosen(book, [item])
        near = [task for task in found.items if task.stage != "later"] or [*found.items]
        book.do(write, near[0].id, day, [task.id for task in near[1:]])
    what = ", ".join(task.label for task in near)
    sentence = f"Silent until {full_date(day)}: {printable(near[0].watch)}: {what}."
    document = {"id": near[0].id, "ids": [task.id for task in near], "snoozed_until": iso(day)}
    answer(asked, document | {"due": iso(near[0].due)}, lambda: sentence, caution=True)
