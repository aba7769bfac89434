"""The options that describe a watch, and what they amount to."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from typing import Annotated, Any

import typer

from logbook.cli.options.event import bar_pa, number_of, whole_of
from logbook.errors import BadInput
from logbook.model.due.tasks import TASKS
from logbook.model.fitting import Fitted
from logbook.model.ranges import one_of
from logbook.model.values import POSITIONS
from logbook.record.record import Book
from logbook.text.own_words import NOT_KNOWN
from logbook.text.quantities import marked_in, parse_duration_s, parse_marked_pa
from logbook.text.spans import parse_span, parse_years

Name = Annotated[str, typer.Argument(metavar="NAME", help="The nickname of the watch.")]
Seals = Annotated[
    str | None,
    typer.Option("--seals", metavar="MATERIAL", help="What all its seals are made of, such as NBR or FKM."),
]
OneSeal = Annotated[
    list[str] | None,
    typer.Option(
        "--seal", metavar="PLACE=MATERIAL[@DATE]", help="One seal apart, such as crown=FKM@2025-01-10."
    ),
]
FittedOn = Annotated[
    str | None,
    typer.Option(
        "--fitted",
        metavar="DATE[..DATE]",
        help="When its seals were fitted; 2024 or may 2024 will do; else unknown.",
    ),
]
Interval = Annotated[
    list[str] | None,
    typer.Option(
        "--interval",
        metavar="TASK=MONTHS",
        help="The maker's own, for pressure-test, gaskets, battery, movement or strap; TASK= clears it.",
    ),
]


@dataclass(frozen=True)
class Described:
    """The options of a watch as they were typed; None: not said."""

    mark: Annotated[
        str | None,
        typer.Option(
            "--mark",
            metavar="MARK",
            help="What it says about water: unmarked, unknown, water-resistant, divers or divers-mixed-gas.",
        ),
    ] = None
    bar: Annotated[
        str | None,
        typer.Option("--bar", metavar="N", help="The marked pressure, a number of bar or with its unit."),
    ] = None
    marked: Annotated[
        str | None,
        typer.Option(
            "--marked", metavar="DEPTH", help="The marked depth, such as 200m; 10 m count as 1 bar."
        ),
    ] = None
    crown: Annotated[
        list[str] | None,
        typer.Option("--crown", metavar="screwed|pushed", help="How the crown closes; else pushed."),
    ] = None
    pushers: Annotated[bool, typer.Option("--pushers", help="It has pushers.")] = False
    pushers_wet: Annotated[
        bool, typer.Option("--pushers-wet", help="Its maker allows the pushers to be used in water.")
    ] = False
    gas_valve: Annotated[bool, typer.Option("--gas-valve", help="It has a gas (helium) valve.")] = False
    case: Annotated[
        str | None, typer.Option("--case", metavar="MATERIAL", help="What its case is made of; else steel.")
    ] = None
    movement: Annotated[
        str | None,
        typer.Option("--movement", metavar="mechanical|quartz", help="What drives it; else mechanical."),
    ] = None
    use: Annotated[
        str | None,
        typer.Option(
            "--use",
            metavar="diving|swimming|dry",
            help="Its use, also before the log began; else dry.",
        ),
    ] = None
    bought: Annotated[
        str | None, typer.Option("--bought", metavar="DATE", help="When you bought it, new or not.")
    ] = None
    new_on: Annotated[
        str | None,
        typer.Option(
            "--new-on", metavar="DATE", help="Bought new that day: its seals and the maker's test are as old."
        ),
    ] = None
    made: Annotated[
        str | None,
        typer.Option(
            "--made", metavar="YEAR[..YEAR]", help="The year it was made, or the first and the last."
        ),
    ] = None
    worn: Annotated[
        str | None,
        typer.Option("--worn", metavar="HOURS", help="Hours a day on the wrist where nothing else is said."),
    ] = None
    winds: Annotated[
        str | None, typer.Option("--winds", metavar="N", help="Dry uses of the crown a week; else 1.")
    ] = None
    presses: Annotated[
        str | None, typer.Option("--presses", metavar="N", help="Dry uses of the pushers a week; else 0.")
    ] = None
    recorded_from: Annotated[
        str | None,
        typer.Option(
            "--recorded-from", metavar="DATE", help="From this day all its water is logged; else from today."
        ),
    ] = None
    reference: Annotated[
        str | None, typer.Option("--reference", metavar="TEXT", help="A reference or serial number.")
    ] = None
    note: Annotated[str | None, typer.Option("--note", metavar="TEXT", help="A note.")] = None
    group: Annotated[str | None, typer.Option("--group", metavar="NAME", help="A group of the shelf.")] = None

    def fields(self, book: Book) -> dict[str, Any]:
        """The fields of a watch that were said."""
        read: dict[str, tuple[str | None, Callable[[str], Any]]] = {
            "mark": (self.mark, str),
            "case_material": (self.case, str),
            "movement": (self.movement, str),
            "use": (self.use, str),
            "bought_on": (self.bought, lambda text: book.day(text, "--bought")),
            "new_on": (self.new_on, lambda text: book.day(text, "--new-on")),
            "worn_h": (self.worn, lambda text: hours_of(text, "--worn")),
            "winds": (self.winds, lambda text: number_of(text, "--winds")),
            "presses": (self.presses, lambda text: number_of(text, "--presses")),
            "recorded_from": (self.recorded_from, lambda text: book.day(text, "--recorded-from")),
            "reference": (self.reference, str),
            "note": (self.note, str),
            "group": (self.group, str),
        }
        found = {name: convert(text) for name, (text, convert) in read.items() if text is not None}
        flags = {"pushers": self.pushers, "pushers_wet": self.pushers_wet, "gas_valve": self.gas_valve}
        found |= {name: True for name, said in flags.items() if said}
        return found | self._years(book.today) | self._pressure() | self._crown()

    def _years(self, today: date) -> dict[str, Any]:
        if self.made is None:
            return {}
        first, last = parse_years(self.made, today, "--made")
        return {"made_from": first, "made_to": last}

    def _pressure(self) -> dict[str, Any]:
        if self.bar is not None and self.marked is not None:
            raise BadInput("--bar and --marked say the same thing; give one of them.", where="--marked")
        if self.bar is not None:
            return {"marked_pa": bar_pa(self.bar), "marked_in": "bar"}
        if self.marked is None:
            return {}
        marked_pa = parse_marked_pa(self.marked, "--marked")
        return {"marked_pa": marked_pa, "marked_in": marked_in(self.marked, "--marked")}

    def _crown(self) -> dict[str, Any]:
        said = list(dict.fromkeys(self.crown or ()))
        if len(said) > 1:
            raise BadInput(f"A crown is {' or '.join(said)}, not both; say which.", where="--crown")
        return {"crown": said[0]} if said else {}


def hours_of(text: str, where: str) -> float:
    """Hours from a bare number of them, or from a quantity with its unit."""
    return parse_duration_s(text, where, default_unit="h") / 3600


def fitted_of(text: str | None, book: Book, where: str = "--fitted") -> tuple[date, date] | None:
    """First and last day on which seals may have been fitted; None: not known."""
    if text is None or text.strip().casefold() in NOT_KNOWN:
        return None
    return parse_span(text, book.today, where)


def single_seals(told: list[str] | None, book: Book) -> dict[Any, Fitted]:
    """Place -> what `--seal` says of it."""
    found: dict[Any, Fitted] = {}
    for part in (part.strip() for text in told or () for part in text.split(",")):
        place, _, rest = part.partition("=")
        material, _, days = rest.partition("@")
        position = one_of(place.strip(), POSITIONS, "sealing place", "--seal")
        if position in found:
            raise BadInput(f"The {position} seal is told twice; once is right.", where="--seal")
        if material.strip():
            one_of(material.strip(), tuple(book.practice.materials), "material", "--seal")
        span = fitted_of(days.strip() or None, book, "--seal") or (None, None)
        found[position] = Fitted(material.strip() or None, *span)
    return found


def intervals_of(told: list[str] | None, before: dict[str, int]) -> dict[str, int]:
    """Task -> months, with what was told laid over what was there."""
    found = dict(before)
    for text in told or ():
        task, _, months = (part.strip() for part in text.partition("="))
        one_of(task, TASKS, "task", "--interval")
        if months:
            found[task] = whole_of(months, "--interval")
        else:
            found.pop(task, None)
    return found
