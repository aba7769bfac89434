"""`logbook event`: what a workshop did to a watch, and faults that its owner saw."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Annotated, cast

import typer

from logbook.cli.command import Commands, asked_of
from logbook.cli.entries import entry_document
from logbook.cli.opening import writing
from logbook.cli.options.event import Seals, Told
from logbook.cli.output import answer, wrapped
from logbook.errors import BadInput
from logbook.model.fitting import places
from logbook.model.kinds_of_before import KINDS_OF_BEFORE
from logbook.model.ranges import one_of
from logbook.model.text import printable
from logbook.model.validate.make_event import make_event
from logbook.model.values import EVENT_KINDS, Event, EventKind, Position, Units, WatchRecord
from logbook.model.wear.charge import current_seals
from logbook.record.record import Book
from logbook.text import events
from logbook.text.events import told_words, when_words


def add_to(app: Commands) -> None:
    """Registers the command."""
    app.command()(event)


def event(
    ctx: typer.Context,
    words: Annotated[
        list[str],
        typer.Argument(
            metavar="WATCH… KIND",
            help="The watch or watches, then: gaskets, opened, battery, movement, strap, pressure-test, "
            "condensation-test, repaired crown|crystal|pushers|gas-valve; a fault: fog, water-inside, "
            "crown-damaged, crystal-damaged, pushers-damaged, gas-valve-damaged; a fall or blow: knock.",
        ),
    ],
    told: Told,
    seal: Seals = None,
    every_seal: Annotated[bool, typer.Option("--all", help="New gaskets at every place.")] = False,
) -> None:
    """Records a workshop event, a fault or a knock.

    Within one day an opening comes before new gaskets, a repair, a test, exposures and a fault; --order
    changes that. Of several days a passed test counts on the first, all else on the last.
    """
    asked = asked_of(ctx)
    names, kind, repaired = _told(words)
    with writing(asked) as book:
        records = [book.find(name) for name in names]
        made = [_event(book, record, kind, repaired, told, seal, every_seal) for record in records]
        ids = book.add_events(made)
    written = [(replace(e, id=id_), record) for e, id_, record in zip(made, ids, records, strict=True)]
    lines = []
    for event, record in written:
        lines.append(event_line(event, record.watch.name, book.units))
        if told.order is None:
            lines += taken_before_line(event, record)
    answer(
        asked,
        {"entries": [entry_document(e, record.watch.name) for e, record in written]},
        lambda: "\n".join(lines),
    )


def taken_before_line(event: Event, record: WatchRecord) -> list[str]:
    """How an entry and the test of its day are read, one after the other, and the way to say otherwise."""
    lines = []
    test = events.taken_before(event, record.events)
    if test is not None:
        amend = f"`logbook amend {event.id} --order {events.order_after(test)}`"
        lines.append(f"Taken to be before that day's pressure test; {amend} if it was after.")
    fault = events.read_after_opening(event, record)
    found = events.read_after_pass(event, record)
    if fault is not None:
        seen = events.KIND_WORDS[fault.kind]
        amend = f"`logbook amend {fault.id} --order {events.ORDER_FIRST}`"
        lines.append(f"Read as the opening first, then {seen}; {amend} if it was opened for that.")
    elif found is not None:
        test, what = found
        amend = f"`logbook amend {test.id} --order {events.order_last(test)}`"
        lines.append(f"Read as the pass first, then {what}; {amend} if the pass came last.")
    return [wrapped(line, "    ") for line in lines]


# The words of before for faults -> what else they could mean; after `repaired` they can mean one thing alone.
_OTHER_READINGS = {
    "water": "or log a contact with water with `logbook wet`",
    "crown": "or gaskets --seal crown for a new gasket there",
    "crystal": "or gaskets --seal crystal for a new gasket there",
    "pushers": "or gaskets --seal pushers for new gaskets there",
    "valve": "or gaskets --seal gas-valve for a new gasket there",
}
_REPAIRS = {"gas-valve": "gas-valve-damaged"}


def damage_of(part: str) -> EventKind:
    """The damage that a part repaired had; a word that names none stays, and is refused with its event."""
    return cast("EventKind", _REPAIRS.get(part) or KINDS_OF_BEFORE.get(part, part))


def _told(words: Sequence[str]) -> tuple[list[str], str, str | None]:
    """Names of watches, the kind of event, and what was repaired."""
    names, repaired = list(words), None
    if len(names) > 1 and names[-2] == "repaired":
        repaired = damage_of(names[-1])
        names.pop()
    kind = names.pop()
    if kind in _OTHER_READINGS:
        damage, other = KINDS_OF_BEFORE[kind], _OTHER_READINGS[kind]
        raise BadInput(
            f"'{kind}' can be read in two ways: write {damage} for a fault, {other}.", where="KIND"
        )
    one_of(kind, EVENT_KINDS, "kind of event", "KIND")
    if not names:
        raise BadInput("Which watch? Its nickname comes before the kind of event.", where="WATCH")
    return names, kind, repaired


def _event(
    book: Book,
    record: WatchRecord,
    kind: str,
    repaired: str | None,
    told: Told,
    seal: list[str] | None,
    every: bool,
) -> Event:
    """The event as it will be kept, judged against its watch."""
    return make_event(
        kind,
        record.watch,
        book.today,
        book.practice,
        repaired=repaired,
        seals=new_gaskets(record, seal, every),
        **told.fields(book),
    )


def new_gaskets(record: WatchRecord, told: list[str] | None, every: bool) -> tuple[tuple[Position, str], ...]:
    """Place and material of each new gasket; a material that is not said stays what it was."""
    fitted = {seal.position: seal.material for seal in current_seals(record.seals)}
    if every and told:
        raise BadInput("--all and --seal are two answers; choose one.", where="--seal")
    if every:
        return tuple((place, fitted.get(place, "unknown")) for place in places(record.watch))
    found = []
    for part in (part.strip() for text in told or () for part in text.split(",")):
        place, _, material = (piece.strip() for piece in part.partition("="))
        found.append((cast("Position", place), material or fitted.get(cast("Position", place), "unknown")))
    return tuple(found)


def event_line(event: Event, watch: str, units: Units = "metric") -> str:
    """One written event: id, watch, day, what happened."""
    text = f"{event.id}  {printable(watch)}: {printable(told_words(event, units))} {when_words(event)}"
    return wrapped(text, "", "    ")
