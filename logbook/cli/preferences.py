"""`logbook settings`: the home water, zone and units, and the colours of the rooms."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated

import typer

from logbook.cli.command import Commands, asked_of
from logbook.cli.opening import reading, writing
from logbook.cli.options.event import number_of
from logbook.cli.output import answer, pairs
from logbook.errors import BadInput, LogbookError
from logbook.files.json.writing import settings_object
from logbook.model.validate.exposure import check_settings
from logbook.model.values import Settings, Units
from logbook.physics.worked import plain
from logbook.record.file import looks_file
from logbook.record.file.places import looks_path
from logbook.record.record import Book
from logbook.text.quantities import parse_length_m, parse_temperature_c, show_depth, show_temp

MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")


def add_to(app: Commands) -> None:
    """Registers the command."""
    app.command()(settings)


def settings(
    ctx: typer.Context,
    salinity: Annotated[
        str | None, typer.Option(metavar="NUMBER", help="Practical salinity of the home water, such as 38.")
    ] = None,
    latitude: Annotated[
        str | None, typer.Option(metavar="DEGREES", help="Its latitude, south below zero.")
    ] = None,
    altitude: Annotated[
        str | None, typer.Option(metavar="HEIGHT", help="The altitude of its surface.")
    ] = None,
    home_temp: Annotated[
        str | None,
        typer.Option(
            metavar="MONTH=C,…",
            help="Its temperature by month, such as 'jan=13,feb=12,…'; 'none' forgets it.",
        ),
    ] = None,
    zone: Annotated[
        str | None, typer.Option(metavar="ZONE", help="Where you live, an IANA zone name.")
    ] = None,
    colours: Annotated[
        str | None,
        typer.Option(
            metavar="|".join(looks_file.THEMES),
            help="The colours of the rooms, on this machine, for every record.",
        ),
    ] = None,
    theme: Annotated[str | None, typer.Option(hidden=True, help="As --colours.")] = None,
) -> None:
    """Shows home water, zone, units and colours, or changes those that are given; --units is kept here."""
    asked = asked_of(ctx)
    # Here, and only here, --units after the command is what is set.
    source = ctx.get_parameter_source("units")
    units = asked.units if source is not None and source.name == "COMMANDLINE" else None
    told = (salinity, latitude, altitude, home_temp, zone, units)
    colours = theme if colours is None else colours
    if colours is not None:
        looks_file.check_theme(colours, "--colours")
        if all(option is None for option in told):
            answer(asked, _kept(colours), lambda: f"colours  {colours}; kept in {looks_path()}")
            return
    if all(option is None for option in told):
        with reading(asked) as book:
            found = book.settings
    else:
        from logbook.record.writing.settings import write

        with writing(asked, create=True) as book:
            found = _changed(book, *told)
            book.do(write, found)
        if colours is not None:
            looks_file.keep_theme(colours)
    look, trouble = _look()
    answer(asked, settings_object(found) | {"theme": look}, lambda: _text(found, look, trouble))


def _kept(theme: str) -> dict[str, str]:
    """Keeps colours, which needs no record."""
    return {"theme": theme, "kept_in": str(looks_file.keep_theme(theme))}


def _look() -> tuple[str, str]:
    """The colours in force, and why they are not those that were kept, if so."""
    try:
        return looks_file.kept_theme() or looks_file.USUAL, ""
    except LogbookError as error:
        return looks_file.USUAL, error.message


def _changed(
    book: Book,
    salinity: str | None,
    latitude: str | None,
    altitude: str | None,
    home_temp: str | None,
    zone: str | None,
    units: Units | None,
) -> Settings:
    home, found = book.settings.home, book.settings
    if salinity is not None:
        home = replace(home, salinity=number_of(salinity, "--salinity"))
    if latitude is not None:
        home = replace(home, latitude_deg=number_of(latitude.rstrip("°"), "--latitude"))
    if altitude is not None:
        home = replace(home, altitude_m=parse_length_m(altitude, "--altitude", default_unit="m"))
    if home_temp is not None:
        home = replace(home, monthly_c=monthly_c(home_temp, home.monthly_c))
    found = replace(found, home=home, zone=zone or found.zone, units=units or found.units)
    return check_settings(found)


def monthly_c(text: str, before: tuple[float, ...] | None) -> tuple[float, ...] | None:
    """Twelve temperatures in °C, January first, from `jan=13,feb=12,…`; months left out stay as they were."""
    if text.strip().casefold() == "none":
        return None
    found: dict[int, float] = dict(enumerate(before or ()))
    for part in (part.strip() for part in text.split(",")):
        month, _, degrees = (piece.strip() for piece in part.partition("="))
        if month.casefold()[:3] not in MONTHS or not degrees:
            raise BadInput(f"{part!r} is no month and temperature, such as jan=13.", where="--home-temp")
        number = MONTHS.index(month.casefold()[:3])
        found[number] = parse_temperature_c(degrees, "--home-temp", default_unit="C")
    missing = [month for n, month in enumerate(MONTHS) if n not in found]
    if missing:
        raise BadInput(
            f"The home water needs all twelve months; {', '.join(missing)} is missing.", where="--home-temp"
        )
    return tuple(found[n] for n in range(12))


def _text(found: Settings, look: str, trouble: str) -> str:
    home, units = found.home, found.units
    by_month = "not said; 15 °C is taken, with a wide range, unless an entry says one"
    if home.monthly_c is not None:
        by_month = ", ".join(
            f"{m} {show_temp(c, units)}" for m, c in zip(MONTHS, home.monthly_c, strict=True)
        )
    return pairs(
        (
            (
                "home water",
                f"practical salinity {plain(home.salinity)}, latitude {plain(home.latitude_deg)}°",
            ),
            ("altitude", show_depth(home.altitude_m, units)),
            ("temperature", by_month),
            ("zone", found.zone),
            ("units", found.units),
            ("colours", f"{look}: {trouble}" if trouble else look),
        )
    )
