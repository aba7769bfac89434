"""`logbook forecast`: when each seal is used up, the way this owner lives, and what moves that date."""

from __future__ import annotations

from typing import Annotated, Any

import typer

from logbook.cli.clock import clock_document, with_clock
from logbook.cli.command import Commands, asked_of
from logbook.cli.opening import reading
from logbook.cli.output import answer, iso, table, wrapped
from logbook.errors import BadInput
from logbook.model.predict.draws import Draws
from logbook.model.predict.forecast import Forecast, forecast_of
from logbook.model.predict.levers import Levers, levers_of
from logbook.model.text import printable
from logbook.model.values import WatchRecord
from logbook.model.wear.charge import current_seals
from logbook.record.record import Book
from logbook.text import foretold
from logbook.text.phrases import full_date, place

MOST_DIGITS = 18  # of a seed


def add_to(app: Commands) -> None:
    """Registers the command."""
    app.command()(forecast)


def forecast(
    ctx: typer.Context,
    watch: Annotated[str, typer.Argument(metavar="WATCH", help="Its nickname or the start of it.")],
    seed: Annotated[
        str, typer.Option(metavar="N", help="Another draw; the same number, the same answer.")
    ] = "1",
) -> None:
    """When each seal is used up, the way this watch lives, beside the fixed interval."""
    asked, number = asked_of(ctx), _seed(seed)
    with reading(asked) as book:
        record = book.find(watch)
        found, clock = _look_ahead(book, record, number), clock_document(book)
    name = record.watch.name
    answer(asked, _document(name, found) | clock, lambda: with_clock(_text(name, found), book), caution=True)


def _seed(text: str) -> int:
    if not (text.isascii() and text.isdecimal() and len(text) <= MOST_DIGITS):
        shown = printable(text, 20)
        raise BadInput(f"--seed is a whole number from 0 up, such as 2, not '{shown}'.", where="--seed")
    return int(text)


def _look_ahead(book: Book, record: WatchRecord, seed: int) -> tuple[Forecast, Levers] | None:
    outset = book.outset(record)
    found = forecast_of(outset, Draws.random(book.practice, seed=seed), seed=seed)
    if found is None:
        return None
    seal = next(s for s in current_seals(record.seals) if s.position == found.first.position)
    return found, levers_of(outset, seal, book.practice)


def _document(name: str, seen: tuple[Forecast, Levers] | None) -> dict[str, Any]:
    if seen is None:
        return {"name": name, "seals": [], "fixed_interval_date": None, "sensitivity": []}
    found, levers = seen
    return {
        "name": name,
        "on": iso(found.on),
        "seals": [
            {
                "position": seal.position,
                "material": seal.material,
                "p10": iso(seal.p10),
                "p50": iso(seal.p50),
                "p90": iso(seal.p90),
                "driver": seal.mostly_from,
                "cap_on": iso(seal.cap_on),
            }
            for seal in found.seals
        ],
        "fixed_interval_date": iso(found.fixed_interval_on),
        "horizon": iso(found.horizon),
        "weeks_of_record": found.weeks,
        "from_stated_use": found.from_stated_use,
        "planned_days": found.planned,
        "date_at_values": iso(levers.base),
        "sensitivity": [
            {
                "constant": lever.name,
                "at_low": iso(lever.at_low),
                "at_high": iso(lever.at_high),
                "days": lever.days,
            }
            for lever in levers.each
        ],
    }


def _text(name: str, seen: tuple[Forecast, Levers] | None) -> str:
    shown = printable(name)
    if seen is None:
        return wrapped(f"{shown}: no forecast for a watch that is retired or has no seal on record.")
    found, levers = seen
    first = found.first
    rows = [
        (
            place(seal.position),
            *(full_date(day) if day else "> 10 years" for day in (seal.p10, seal.p50, seal.p90)),
            seal.mostly_from,
            full_date(seal.cap_on),
        )
        for seal in found.seals
    ]
    heads = ("seal", "one in ten by", "half by", "nine in ten by", "mostly from", "storage age")
    fixed = found.fixed_interval_on
    were = "were" if fixed < found.on else "are"
    lines = [
        wrapped(f"{shown}: its {place(first.position)} seal {foretold.window_words(first, found.on)}."),
        wrapped(f"Ways ahead: {foretold.basis_words(found)}."),
        "",
        table(heads, rows),
        "",
        wrapped(f"By the fixed interval alone its gaskets {were} due on {full_date(fixed)}."),
    ]
    if levers.each:
        head = foretold.levers_head(first, levers, found)
        lines += ["", wrapped(head[:1].upper() + head[1:])]
        lines += [
            wrapped(foretold.lever_words(lever, found.on), "  ", "    ")
            for lever in levers.each[: foretold.MOST_LEVERS]
        ]
    return "\n".join([*lines, "", foretold.NOT_A_PROMISE])
