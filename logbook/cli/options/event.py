"""The options of a workshop event or a fault, and what they amount to."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from typing import Annotated, Any

import typer

from logbook.errors import BadInput
from logbook.record.record import Book
from logbook.text.quantities import BARE, measure, parse_duration_s, parse_pressure_pa, parse_temperature_c
from logbook.text.spans import parse_span

Seals = Annotated[
    list[str] | None,
    typer.Option(
        "--seal",
        metavar="PLACE[=MATERIAL],…",
        help="New gaskets: case-back, crystal, crown, pushers, gas-valve; of the same material unless said.",
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


@dataclass(frozen=True)
class Tested:
    """What is said of work at a workshop and its test, as it was typed; None: not said."""

    on: Annotated[
        str | None,
        typer.Option(
            "--on",
            metavar="DATE[..DATE]",
            help="The day, such as 2026-03-01 or yesterday; of an event also the days between which it was.",
        ),
    ] = None
    passed: Annotated[bool, typer.Option("--passed", help="The test was passed.")] = False
    failed: Annotated[bool, typer.Option("--failed", help="The test was failed.")] = False
    bar: Annotated[
        str | None,
        typer.Option(
            "--bar", metavar="PRESSURE", help="The pressure of a test, a number of bar or with its unit."
        ),
    ] = None
    to_mark: Annotated[bool, typer.Option("--to-mark", help="The test was to what the watch is marked.")] = (
        False
    )
    bar_unknown: Annotated[
        bool, typer.Option("--bar-unknown", help="The pressure of the test is not known.")
    ] = False
    medium: Annotated[
        str | None,
        typer.Option("--medium", metavar="air|vacuum|water", help="What a pressure test was done in."),
    ] = None
    workshop: Annotated[str | None, typer.Option("--workshop", metavar="NAME", help="Who did it.")] = None
    note: Annotated[str | None, typer.Option("--note", metavar="TEXT", help="A note.")] = None


@dataclass(frozen=True)
class Told(Tested):
    """The options of an event as they were typed."""

    minutes: Annotated[str | None, typer.Option("--minutes", metavar="N", help="How long a test lasted.")] = (
        None
    )
    deflection: Annotated[
        str | None,
        typer.Option(
            "--deflection-um", metavar="N", help="How far the case gave way in a test, in micrometres."
        ),
    ] = None
    crystal: Annotated[
        str | None, typer.Option("--crystal", metavar="TEMPERATURE", help="Of the crystal when fog was seen.")
    ] = None
    case_air: Annotated[
        str | None,
        typer.Option("--case-air", metavar="TEMPERATURE", help="Of the air inside when fog was seen."),
    ] = None
    moved: Annotated[
        bool, typer.Option("--moved", help="Crystal, crown or bezel moved in the fall or under the blow.")
    ] = False
    order: Annotated[
        str | None,
        typer.Option(
            "--order",
            metavar="N",
            help="Its place within the day: opening 10, gaskets 20, repair 30, test 40, exposures 50, "
            "fault 60.",
        ),
    ] = None

    def fields(self, book: Book) -> dict[str, Any]:
        """The fields of an event that were said, and of its pressure whether it is the mark or not known."""
        read: dict[str, tuple[str | None, Callable[[str], Any]]] = {
            "test_pa": (self.bar, bar_pa),
            "medium": (self.medium, str),
            "minutes": (self.minutes, minutes_of),
            "deflection_um": (self.deflection, lambda text: number_of(text, "--deflection-um")),
            "crystal_c": (self.crystal, lambda text: temperature_c(text, "--crystal")),
            "case_air_c": (self.case_air, lambda text: temperature_c(text, "--case-air")),
            "workshop": (self.workshop, str),
            "note": (self.note, str),
            "order": (self.order, lambda text: whole_of(text, "--order")),
        }
        found = {name: convert(text) for name, (text, convert) in read.items() if text is not None}
        flags = {"to_mark": self.to_mark, "pressure_unknown": self.bar_unknown, "moved": self.moved}
        found |= {name: True for name, said in flags.items() if said}
        if self.on is not None:
            found |= days_of(self.on, book.today)
        result = result_of(self.passed, self.failed)
        return found if result is None else found | {"passed": result}
