"""The options of a workshop event or a fault, and what they amount to."""

from __future__ import annotations

from datetime import date
from typing import Annotated, Any

import typer

from logbook.errors import BadInput
from logbook.text.quantities import BARE, measure, parse_duration_s, parse_pressure_pa, parse_temperature_c
from logbook.text.spans import parse_span

On = Annotated[
    str | None,
    typer.Option(
        "--on",
        metavar="DATE[..DATE]",
        help="The day, such as 2026-03-01 or yesterday; of an event also the days between which it was.",
    ),
]
Passed = Annotated[bool, typer.Option("--passed", help="The test was passed.")]
Failed = Annotated[bool, typer.Option("--failed", help="The test was failed.")]
Bar = Annotated[
    str | None,
    typer.Option(
        "--bar", metavar="PRESSURE", help="The pressure of a test, a number of bar or with its unit."
    ),
]
ToMark = Annotated[bool, typer.Option("--to-mark", help="The test was to what the watch is marked.")]
BarUnknown = Annotated[bool, typer.Option("--bar-unknown", help="The pressure of the test is not known.")]
Moved = Annotated[
    bool, typer.Option("--moved", help="Crystal, crown or bezel moved in the fall or under the blow.")
]
Medium = Annotated[
    str | None, typer.Option("--medium", metavar="air|vacuum|water", help="What a pressure test was done in.")
]
Minutes = Annotated[str | None, typer.Option("--minutes", metavar="N", help="How long a test lasted.")]
Deflection = Annotated[
    str | None,
    typer.Option("--deflection-um", metavar="N", help="How far the case gave way in a test, in micrometres."),
]
Seals = Annotated[
    list[str] | None,
    typer.Option(
        "--seal",
        metavar="PLACE[=MATERIAL],…",
        help="New gaskets: case-back, crystal, crown, pushers, gas-valve; of the same material unless said.",
    ),
]
AllSeals = Annotated[bool, typer.Option("--all", help="New gaskets at every place.")]
Opened = Annotated[bool, typer.Option("--opened", help="The case of the watch was opened.")]
Gaskets = Annotated[
    str | None,
    typer.Option(
        "--gaskets",
        metavar="all|PLACES",
        help="New gaskets at every place, or at these: crown,case-back=FKM.",
    ),
]
Repaired = Annotated[
    list[str] | None,
    typer.Option(
        "--repaired", metavar="PART", help="What was repaired: crown, crystal, pushers or gas-valve."
    ),
]
Crystal = Annotated[
    str | None, typer.Option("--crystal", metavar="TEMPERATURE", help="Of the crystal when fog was seen.")
]
CaseAir = Annotated[
    str | None, typer.Option("--case-air", metavar="TEMPERATURE", help="Of the air inside when fog was seen.")
]
Workshop = Annotated[str | None, typer.Option("--workshop", metavar="NAME", help="Who did it.")]
Note = Annotated[str | None, typer.Option("--note", metavar="TEXT", help="A note.")]
Order = Annotated[
    str | None,
    typer.Option(
        "--order",
        metavar="N",
        help="Its place within the day: opening 10, gaskets 20, repair 30, test 40, exposures 50, fault 60.",
    ),
]


def result_of(passed: bool, failed: bool) -> bool | None:
    """What a test came to; None where neither was said."""
    if passed and failed:
        raise BadInput(
            "A test is passed or failed, not both: leave out one of --passed and --failed.", where="--failed"
        )
    return True if passed else False if failed else None


def bar_pa(text: str, where: str = "--bar") -> float:
    """A pressure in Pa from a number of bar, or from a quantity with its unit."""
    return parse_pressure_pa(text, where, default_unit="bar")


def days_of(text: str, today: date, where: str = "--on") -> dict[str, Any]:
    """The fields of an event that say when it was: its day, or the first and the last that it may be."""
    first, last = parse_span(text, today, where)
    return {"on": last} if first == last else {"on": last, "span": (first, last)}


def minutes_of(text: str, where: str = "--minutes") -> float:
    """Minutes from a bare number of them, or from a quantity with its unit."""
    return parse_duration_s(text, where, default_unit="min") / 60


def temperature_c(text: str, where: str) -> float:
    """°C from a temperature with its unit."""
    return parse_temperature_c(text, where)


def number_of(text: str, where: str) -> float:
    """A number without a unit."""
    kind, value = measure(text, where)
    if kind != BARE:
        raise BadInput(f"{where} takes a number without a unit, such as 35.", where=where)
    return value


def whole_of(text: str, where: str) -> int:
    """A whole number without a unit."""
    value = number_of(text, where)
    if value != int(value):
        raise BadInput(f"{where} takes a whole number, not {text}.", where=where)
    return int(value)
