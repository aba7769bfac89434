"""`logbook outlook`: the chance that a pressure test today would pass, and what stands behind it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any

import typer

from logbook.cli.book import iso, reading
from logbook.cli.command import Commands, asked_of

if TYPE_CHECKING:
    from logbook.reckoning.standing import Standing


def add_to(app: Commands) -> None:
    """Registers the command."""
    app.command()(outlook)


def outlook(
    ctx: typer.Context,
    watch: Annotated[str, typer.Argument(metavar="WATCH", help="Its nickname or the start of it.")],
) -> None:
    """The chance that a pressure test today would pass, with its band and the tests behind it."""
    from logbook.cli.output import answer

    asked = asked_of(ctx)
    with reading(asked) as book:
        standing = book.standing(book.find(watch))
        tests = book.foresight.posterior.tests_used
    answer(asked, _document(standing, tests), lambda: _text(standing), caution=True)


def _document(standing: Standing, tests: int) -> dict[str, Any]:
    found = standing.outlook
    return {
        "name": standing.name,
        "on": iso(standing.on),
        "chance": None if found is None else found.chance,
        "low": None if found is None else found.low,
        "high": None if found is None else found.high,
        "tests_used": tests,
        "prior_only": tests == 0,
        "limiting_seal": None if standing.limiting is None else standing.limiting.seal.position,
    }


def _text(standing: Standing) -> str:
    from logbook.cli.output import wrapped
    from logbook.exchange.phrases import place
    from logbook.reckoning.text import printable

    name = printable(standing.name)
    if standing.outlook is None or standing.limiting is None:
        return wrapped(f"{name}: no outlook while a failure or a fault stands.")
    seal = standing.limiting
    worn = f"{place(seal.seal.position)}, {seal.wear_share:.2f} of an interval used"
    lines = [
        wrapped(f"{name}: would pass a pressure test today with a chance of {standing.outlook.words}."),
        wrapped(f"By the seal that limits it ({worn})."),
        "A chance by bookkeeping, not a promise; the test itself is the answer.",
    ]
    return "\n".join(lines)
