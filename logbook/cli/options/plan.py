"""The options that describe planned water, and the exposure that they, or a line, amount to."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from typing import Annotated, Any

import typer

from logbook.cli.inputs import with_words
from logbook.cli.options.water import water_of
from logbook.errors import BadInput
from logbook.model.plausible import doubt, doubtful_field
from logbook.model.validate.exposure import activity_row, make_exposure
from logbook.model.values import Exposure, Watch
from logbook.record.record import Book
from logbook.text import quantities as q

USUAL_S = 3600.0  # of a planned dive whose length is not said; no rule for water asks how long it takes


@dataclass(frozen=True)
class PlanOptions:
    """What is planned, as options; None: not said."""

    activity: Annotated[
        str | None, typer.Option("--activity", metavar="WORD", help="dive, swim, pool, shower, rain, …")
    ] = None
    depth: Annotated[
        str | None, typer.Option("--depth", metavar="DEPTH", help="The greatest depth, such as 30m.")
    ] = None
    minutes: Annotated[
        str | None, typer.Option("--minutes", metavar="N", help="How long; else as usual for the activity.")
    ] = None
    water: Annotated[
        str | None,
        typer.Option("--water", metavar="WATER", help="sea, fresh, pool, soap, hot tub or 'brackish 12'."),
    ] = None
    salinity: Annotated[
        str | None, typer.Option("--salinity", metavar="NUMBER", help="Practical salinity of the sea.")
    ] = None
    temp: Annotated[
        str | None, typer.Option("--temp", metavar="TEMPERATURE", help="Of the water, such as 12C.")
    ] = None
    before: Annotated[
        str | None,
        typer.Option("--from", metavar="TEMPERATURE", help="Of the case before; else the wrist's."),
    ] = None
    jump: Annotated[
        str | None, typer.Option("--jump", metavar="HEIGHT", help="A jump into the water from this height.")
    ] = None
    on: Annotated[str | None, typer.Option("--on", metavar="DATE", help="The day; else today.")] = None

    def exposure(self, book: Book, line: str, watch: Watch | None) -> Exposure:
        """The planned exposure, from the line or from the options."""
        day = book.today if self.on is None else book.day(self.on, "--on", ahead=True)
        if line:
            options = (
                self.activity,
                self.depth,
                self.minutes,
                self.water,
                self.salinity,
                self.temp,
                self.before,
            )
            if any(option is not None for option in (*options, self.jump)):
                raise BadInput("Say what is planned as a line or as options, not both.", where="LINE")
            return _entry(book, line if self.on is None else with_words(line, f"on {day}"), watch)
        if self.activity is None:
            raise BadInput(
                "What is planned? Give a line such as 'dive 30m 40min', or --activity.", where="--activity"
            )
        return self._from_options(book, day, watch)

    def _from_options(self, book: Book, day: date, watch: Watch | None) -> Exposure:
        kind, salinity = water_of(self.water, self.salinity)
        activity = (self.activity or "").casefold()
        read: dict[str, tuple[str | None, Callable[[str], float]]] = {
            "depth_m": (self.depth, lambda text: q.parse_length_m(text, "--depth")),
            "duration_s": (
                self.minutes,
                lambda text: q.parse_duration_s(text, "--minutes", default_unit="min"),
            ),
            "water_c": (self.temp, lambda text: q.parse_temperature_c(text, "--temp")),
            "from_c": (self.before, lambda text: q.parse_temperature_c(text, "--from")),
            "jump_m": (self.jump, lambda text: q.parse_length_m(text, "--jump")),
        }
        given: dict[str, Any] = {
            name: convert(text) for name, (text, convert) in read.items() if text is not None
        }
        if "duration_s" not in given and activity_row(book.practice, activity).minutes is None:
            given["duration_s"] = USUAL_S
        item = make_exposure(
            book.practice,
            book.settings,
            activity=activity,
            starts_on=day,
            today=book.today,
            water=kind,
            salinity=salinity,
            planned=True,
            watch=watch,
            **given,
        )
        _refuse_doubtful(item, book)
        return item


def _refuse_doubtful(item: Exposure, book: Book) -> None:
    """Raises BadInput for a depth or length that the activity hardly has; a line can insist on it."""
    question = doubt(item, book.practice, book.units)
    if question is not None:
        option = "--depth" if doubtful_field(item, book.practice) == "depth_m" else "--minutes"
        raise BadInput(f"{question} If so, say it as a line that ends in 'sure'.", where=option)


def _entry(book: Book, line: str, watch: Watch | None) -> Exposure:
    """The planned exposure of a line, which may leave the minutes out."""
    try:
        return book.entry(line, watch, planned=True)
    except BadInput as error:
        if error.where != "duration_s":
            raise
        try:
            return book.entry(with_words(line, f"{USUAL_S:.0f}s"), watch, planned=True)
        except BadInput:
            raise error from None
