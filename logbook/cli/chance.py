"""`logbook chance`: the chance that a pressure test today would pass, and what stands behind it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Annotated, Any

import typer

from logbook.caution import TESTS_SAY_LITTLE
from logbook.cli.clock import clock_document, with_clock
from logbook.cli.command import Commands, asked_of
from logbook.cli.opening import reading
from logbook.cli.options.event import bar_pa
from logbook.cli.output import answer, iso, wrapped
from logbook.errors import BadInput
from logbook.model.judge import facts, proofs, standing
from logbook.model.predict.chance import Chance, basis_words
from logbook.model.shown import show_pressure
from logbook.model.text import printable
from logbook.model.values import WatchRecord
from logbook.record.record import Book


def add_to(app: Commands) -> None:
    """Registers the command, and the name that it had before."""
    app.command()(chance)
    app.command("outlook", hidden=True)(chance)


def chance(
    ctx: typer.Context,
    watch: Annotated[str, typer.Argument(metavar="WATCH", help="Its nickname or the start of it.")],
    to: Annotated[
        str | None,
        typer.Option(metavar="BAR", help="To this pressure; else to the one that its stated use asks for."),
    ] = None,
) -> None:
    """The chance that a pressure test today would pass, with its band and the tests behind it."""
    asked = asked_of(ctx)
    to_pa = None if to is None else _pressure_pa(to)
    with reading(asked) as book:
        told, clock = _tell(book, book.find(watch), to_pa), clock_document(book)
    answer(asked, _document(told) | clock, lambda: with_clock(_text(told), book), caution=True)


@dataclass(frozen=True)
class Told:
    """What the answer says of one watch."""

    name: str
    on: date
    to_pa: float
    to_shown: str
    chance: Chance | None
    why_not: str | None
    tests_used: int


def _pressure_pa(text: str) -> float:
    found = bar_pa(text, "--to")
    if found <= 0:
        sentence = f"--to is a pressure above 0, such as 10 or 3 bar, not '{printable(text, 20)}'."
        raise BadInput(sentence, where="--to")
    return found


def _tell(book: Book, record: WatchRecord, to_pa: float | None) -> Told:
    on, foresight = book.today, book.read_foresight()
    known, wears = facts.gather(record, on, book.practice), standing.wear_of(record, book.practice, on)
    score, _ = standing.score_of(record, known, wears)
    needed_pa = proofs.pass_needed_by_use_pa(record.watch, book.practice)
    asked_pa = needed_pa if to_pa is None else to_pa
    return Told(
        name=record.watch.name,
        on=on,
        to_pa=asked_pa,
        to_shown=show_pressure(asked_pa, book.units),
        chance=standing.chance_of(record, known, wears, score, foresight, asked_pa),
        why_not=standing.no_chance(known, score),
        tests_used=foresight.tests_used,
    )


def _document(told: Told) -> dict[str, Any]:
    found = told.chance
    tests, findings = (told.tests_used, 0) if found is None else (found.tests_used, found.findings_used)
    return {
        "name": told.name,
        "on": iso(told.on),
        "chance": None if found is None else found.chance,
        "low": None if found is None else found.low,
        "high": None if found is None else found.high,
        "why_not": told.why_not,
        "to_bar": told.to_pa / 1e5,
        "tests_used": tests,
        "findings_used": findings,
        "basis": basis_words(tests, findings),
        "prior_only": tests + findings == 0,
        "limits": TESTS_SAY_LITTLE,
    }


def _text(told: Told) -> str:
    name = printable(told.name)
    if told.chance is None:
        return wrapped(f"{name}: no chance {told.why_not}.")
    said = f"would pass a pressure test to {told.to_shown} today with a chance of {told.chance.words}"
    return "\n".join([wrapped(f"{name}: {said}."), wrapped(f"Not a promise. {TESTS_SAY_LITTLE}")])
