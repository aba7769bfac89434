"""`logbook forecast`: when each seal is used up, the way this owner lives, and what moves that date."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Annotated, Any

import typer

from logbook.cli.book import Book, iso, reading
from logbook.cli.command import Commands, asked_of

if TYPE_CHECKING:
    from logbook.reckoning.forecast import Forecast
    from logbook.reckoning.levers import Lever
    from logbook.reckoning.values import WatchRecord

MOST_LEVERS = 5  # printed; --json has them all


def add_to(app: Commands) -> None:
    """Registers the command."""
    app.command()(forecast)


def forecast(
    ctx: typer.Context,
    watch: Annotated[str, typer.Argument(metavar="WATCH", help="Its nickname or the start of it.")],
    seed: Annotated[
        int, typer.Option(metavar="N", min=0, help="Another draw; the same number, the same answer.")
    ] = 1,
) -> None:
    """When each seal is used up, the way this watch lives, beside the fixed interval."""
    from logbook.cli.output import answer

    asked = asked_of(ctx)
    with reading(asked) as book:
        record = book.find(watch)
        found, levers = _look_ahead(book, record, seed)
    name = record.watch.name
    answer(asked, _document(name, found, levers), lambda: _text(name, found, levers), caution=True)


def _look_ahead(book: Book, record: WatchRecord, seed: int) -> tuple[Forecast | None, list[Lever]]:
    from logbook.reckoning.charge import current_seals
    from logbook.reckoning.draws import Draws
    from logbook.reckoning.forecast import forecast_of
    from logbook.reckoning.levers import levers_of

    outset = book.outset(record)
    found = forecast_of(outset, Draws.random(book.practice, seed=seed), seed=seed)
    if found is None:
        return None, []
    seal = next(s for s in current_seals(record.seals) if s.position == found.first.position)
    return found, levers_of(outset, seal, book.practice)


def _document(name: str, found: Forecast | None, levers: Sequence[Lever]) -> dict[str, Any]:
    if found is None:
        return {"name": name, "seals": [], "fixed_interval_date": None, "sensitivity": []}
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
                "driver": seal.driver,
                "cap_on": iso(seal.cap_on),
            }
            for seal in found.seals
        ],
        "fixed_interval_date": iso(found.fixed_interval_on),
        "horizon": iso(found.horizon),
        "weeks_of_record": found.weeks,
        "from_stated_use": found.from_stated_use,
        "planned_days": found.planned,
        "sensitivity": [
            {
                "constant": lever.name,
                "at_low": iso(lever.at_low),
                "at_high": iso(lever.at_high),
                "days": lever.days,
            }
            for lever in levers
        ],
    }


def _text(name: str, found: Forecast | None, levers: Sequence[Lever]) -> str:
    from logbook.cli.output import table, wrapped
    from logbook.exchange.foretold import NOT_A_PROMISE, basis_words, day_or_beyond, lever_words, window_words
    from logbook.exchange.phrases import full_date, place
    from logbook.reckoning.text import printable

    shown = printable(name)
    if found is None:
        return wrapped(f"{shown}: no forecast for a watch that is retired or has no seal on record.")
    first = found.first
    rows = [
        (
            place(seal.position),
            *(day_or_beyond(day, found.on) for day in (seal.p10, seal.p50, seal.p90)),
            seal.driver,
            full_date(seal.cap_on),
        )
        for seal in found.seals
    ]
    heads = ("seal", "one in ten by", "half by", "nine in ten by", "driver", "class ends")
    lines = [
        wrapped(f"{shown}: its {place(first.position)} seal {window_words(first, found.on)}."),
        wrapped(f"Paths: {basis_words(found)}."),
        "",
        table(heads, rows, last=(4, 5)),
        "",
        wrapped(f"By the fixed interval alone its gaskets are due on {full_date(found.fixed_interval_on)}."),
    ]
    if levers:
        lines += ["", wrapped(f"What moves the {place(first.position)}’s date most, each constant alone:")]
        lines += [wrapped(lever_words(lever, found.on), "  ", "    ") for lever in levers[:MOST_LEVERS]]
    return "\n".join([*lines, "", NOT_A_PROMISE])
