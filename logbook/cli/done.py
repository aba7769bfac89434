"""`logbook done`: something due was done, one task or the whole service of a watch."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Annotated, Any

import typer

from logbook.cli.command import asked_of
from logbook.cli.done_work import NOTHING_SAID, Work, refuse_for_several, settled
from logbook.cli.entries import entry_document
from logbook.cli.opening import writing
from logbook.cli.options.event import Tested, Told
from logbook.cli.output import answer
from logbook.cli.workshop import event_line, taken_before_line
from logbook.errors import BadInput, NotFound
from logbook.model.due.services import Service, kinds_done
from logbook.model.due.tasks import DueItem
from logbook.model.text import did_you_mean, printable
from logbook.model.validate.make_event import make_event
from logbook.model.values import Event, EventKind, WatchRecord
from logbook.model.wear.charge import current_seals
from logbook.record.reading.glance import read_event
from logbook.record.record import Book
from logbook.text.names import folded

TEST_OPTIONS = (
    "--passed or --failed, --bar PRESSURE (or --to-mark, or --bar-unknown) and --medium air|vacuum|water"
)


TEST = "pressure-test"
_OF_A_TEST = ("passed", "test_pa", "to_mark", "pressure_unknown", "medium")


@dataclass(frozen=True)
class Chosen:
    """What one word of a command line names: a task of a watch, or all of its service."""

    record: WatchRecord
    items: tuple[DueItem, ...]
    service: Service | None = None  # None: one task of it
    work: Work = NOTHING_SAID  # what its owner said of it beside the test

    @property
    def tasks(self) -> tuple[EventKind, ...]:
        """What was done: its tasks, or of a service of which only its owner knows, what was said."""
        own = tuple(item.task for item in self.items)
        if self.service is not None and self.service.to_be_told:
            own = tuple(task for task in own if task == TEST)
        return (*own, *self.work.done)


def done(
    ctx: typer.Context,
    items: Annotated[
        list[str],
        typer.Argument(
            metavar="ITEM…", help="Watches, or ids from `logbook due --tasks`, or how they begin."
        ),
    ],
    tested: Tested,
    opened: Annotated[bool, typer.Option("--opened", help="The case of the watch was opened.")] = False,
    gaskets: Annotated[
        str | None,
        typer.Option(
            "--gaskets",
            metavar="all|PLACES",
            help="New gaskets at every place, or at these: crown,case-back=FKM.",
        ),
    ] = None,
    repaired: Annotated[
        list[str] | None,
        typer.Option(
            "--repaired", metavar="PART", help="What was repaired: crown, crystal, pushers or gas-valve."
        ),
    ] = None,
) -> None:
    """Records that something due was done, as the workshop events that it is.

    A watch stands for its whole service: all that is due on it within half a year. While something stands, or
    a test is all that asks, only the test is taken to be done, and what you say of the rest.
    """

    asked = asked_of(ctx)
    with writing(asked) as book:
        told = Told(**vars(tested))
        found = chosen(book, items)
        work = Work(opened, gaskets, tuple(repaired or ()))
        refuse_for_several(work, sum(one.service is not None for one in found))
        can_ask = not asked.as_json and _can_ask()
        if asks_for_a_test(found, told) and can_ask:
            told = _asked(told)
        found = [
            replace(one, work=settled(one.service, work, can_ask=can_ask)) if one.service else one
            for one in found
        ]
        made = list(_events(book, found, told))
        ids = book.add_events([event for event, _ in made])
        kept = [(read_event(book.rows, key), record) for key, (_, record) in zip(ids, made, strict=True)]
    lines = []
    for event, record in kept:
        lines += [event_line(event, record.watch.name, book.units), *taken_before_line(event, record)]
    documents = [entry_document(event, record.watch.name) for event, record in kept]
    answer(asked, {"entries": documents}, lambda: "\n".join(lines))


def chosen(book: Book, wanted: Sequence[str]) -> list[Chosen]:
    """The tasks of these ids or their unambiguous beginnings; a nickname, or a service’s id, is all of it.

    What is named twice counts once, as the task by itself where it was named so.
    """
    services = [(record, service) for record in book.shelf() for service in book.services_of(record)]
    found = [_find(book, text, services) for text in wanted]
    found.sort(key=lambda one: one.service is not None)
    seen: set[str] = set()
    for n, one in enumerate(found):
        found[n] = replace(one, items=tuple(item for item in one.items if item.id not in seen))
        seen |= {item.id for item in one.items}
    return [one for one in found if one.items]


def _find(book: Book, text: str, services: Sequence[tuple[WatchRecord, Service]]) -> Chosen:
    known: dict[str, Chosen] = {}
    for record, service in services:
        for item in service.items:
            known |= dict.fromkeys((item.id, *item.formerly), Chosen(record, (item,)))
        known[service.id] = Chosen(record, service.items, service)
    named = [record for record in book.shelf() if text and folded(record.watch.name) == folded(text)]
    if named:
        return _service_of(named[0], services)
    if text in known:
        return known[text]
    fitting = {
        one.items[0].id: one
        for key, one in known.items()
        if text and key.startswith(text) and not one.service
    }
    shown = printable(text, 60)
    if len(fitting) > 1:
        raise NotFound(f"{shown!r} begins more than one id: {', '.join([*fitting][:6])}.", where="ITEM")
    if fitting:
        return next(iter(fitting.values()))
    if text and ":" not in text:
        return _service_of(book.find(text, "ITEM"), services)
    sentence = f"There is no due item {shown!r}; `logbook due --tasks` lists them with their ids."
    raise NotFound(sentence + did_you_mean(text, known), where="ITEM")


def _service_of(record: WatchRecord, services: Sequence[tuple[WatchRecord, Service]]) -> Chosen:
    """All that is near of a watch, with what is done on the same occasion."""
    own = [service for of, service in services if of is record]
    near = [service for service in own if service.stage != "later"]
    if not near:
        name, ids = printable(record.watch.name), [item.id for service in own for item in service.items]
        rule = f"name a task by its id: {', '.join(ids)}" if ids else "nothing is scheduled for it"
        raise NotFound(f"Nothing is coming up or due on {name}; {rule}.", where="ITEM")
    return Chosen(record, near[0].items, near[0])


def asks_for_a_test(found: Sequence[Chosen], told: Told) -> bool:
    """True when a pressure test is recorded with them, and its result or pressure was not said."""
    is_test = any(item.task == TEST for one in found for item in one.items)
    return is_test and bool(_missing(told))


def _missing(told: Told) -> str:
    """What the record of a pressure test still needs."""
    if not (told.passed or told.failed):
        return "Passed or failed? A pressure test needs its result"
    if told.passed and not _says_pressure(told):
        return "To what pressure was it passed? A passed test needs it"
    return ""


def _says_pressure(told: Told) -> bool:
    """True when a pressure was given, or that it was the mark, or that it is not known."""
    return told.bar is not None or told.to_mark or told.bar_unknown


def _can_ask() -> bool:
    return sys.stdin.isatty() and sys.stdout.isatty()


def _asked(told: Told) -> Told:
    """What a person at a terminal says of the pressure test, where the options did not."""
    if not (told.passed or told.failed):
        said = typer.prompt("Pressure test: passed or failed", err=True).strip().casefold()
        if not said or not ("passed".startswith(said) or "failed".startswith(said)):
            raise BadInput(f"{said!r} is neither passed nor failed.", where="--passed")
        told = replace(told, passed="passed".startswith(said), failed="failed".startswith(said))
    if not _says_pressure(told):
        bar = typer.prompt("To what pressure, such as 10 bar", default="", show_default=False, err=True)
        told = replace(told, bar=bar.strip() or None)
    if (told.bar is not None or told.to_mark) and told.medium is None:
        told = replace(told, medium=typer.prompt("In air, vacuum or water", default="air", err=True).strip())
    return told


def _events(book: Book, found: Sequence[Chosen], told: Told) -> Iterator[tuple[Event, WatchRecord]]:
    """The events that these tasks amount to, of each watch in the order of a workshop’s day."""
    with_result = told.passed or told.failed or _says_pressure(told)
    is_test = any(item.task == TEST for one in found for item in one.items)
    plain = told.fields(book)
    measured = {name: plain.pop(name) for name in _OF_A_TEST if name in plain}
    if "test_pa" in measured or told.to_mark:
        measured = {"medium": "air"} | measured
    elif told.failed:
        measured["pressure_unknown"] = True  # a failure seldom says its pressure
    for one in found:
        by_itself = any(TEST in other.tasks for other in found if other.record is one.record)
        tests = with_result and one.service is not None and not by_itself
        for kind, repaired in kinds_done(one.tasks, one.work.kinds_repaired, tests=tests):
            is_test = is_test or kind == TEST
            if kind == TEST and (missing := _missing(told)):
                raise BadInput(f"{missing}: {TEST_OPTIONS}.", where="--passed")
            fields = plain | (measured if kind == TEST else {})
            seals = _seals(one) if kind == "gaskets" else ()
            event = make_event(
                kind, one.record.watch, book.today, book.practice, repaired=repaired, seals=seals, **fields
            )
            yield event, one.record
    if with_result and not is_test:
        what = ", ".join(item.label for one in found for item in one.items)
        raise BadInput(
            f"--passed, --failed and --bar belong to a pressure test, not to {what}.", where="--bar"
        )


def _seals(one: Chosen) -> tuple[tuple[Any, str], ...]:
    """The gaskets that were said, else every seal of a watch anew, each of the material that it was."""
    if one.work.gaskets is not None:
        return one.work.seals(one.record)
    return tuple((seal.position, seal.material) for seal in current_seals(one.record.seals))
