"""The water that a calculator is asked about: options, and what fills in where they are silent."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from logbook.cli.asked import Asked
from logbook.cli.event_options import number_of
from logbook.errors import BadInput, LogbookError

if TYPE_CHECKING:
    from logbook.physics.water import WaterColumn
    from logbook.reckoning.values import Settings

WaterKind = Annotated[
    str | None,
    typer.Option("--water", metavar="WATER", help="sea (the default), fresh, pool, or 'brackish 12'."),
]
Salinity = Annotated[
    str | None,
    typer.Option("--salinity", metavar="NUMBER", help="Practical salinity; else the home water's."),
]
Temp = Annotated[
    str | None,
    typer.Option("--temp", metavar="TEMPERATURE", help="Of the water, such as 15C; else the home water's."),
]
Latitude = Annotated[
    str | None, typer.Option("--latitude", metavar="DEGREES", help="Where on earth; else the home water's.")
]
Altitude = Annotated[
    str | None,
    typer.Option("--altitude", metavar="HEIGHT", help="Of the water's surface; else the home water's."),
]

FRESH = ("fresh", "pool", "soap", "hot tub")


def home_of(asked: Asked) -> Settings:
    """The owner's settings where there is a record that can be read, else the defaults."""
    from logbook.keeping.glance import open_rows, read_settings
    from logbook.reckoning.values import Settings

    location = asked.location
    if not isinstance(location, Path) or not location.exists():
        return Settings()
    try:
        with open_rows(location) as rows:
            return read_settings(rows)
    except LogbookError:
        return Settings()  # a calculator works without any record


def water_of(water: str | None, salinity: str | None) -> tuple[str | None, float | None]:
    """The kind of water and its practical salinity, as far as they were said; `brackish 12` says both."""
    kind, given = water, salinity
    if water is not None and water.startswith("brackish "):
        kind, _, number = water.partition(" ")
        if salinity is not None:
            raise BadInput("The salinity is given twice; once is right.", where="--salinity")
        given = number
    return kind, None if given is None else number_of(given, "--salinity")


def _salinity(water: str | None, salinity: str | None, settings: Settings) -> float:
    """Practical salinity of the water that was named."""
    from logbook.reckoning.ranges import in_range, one_of

    said, given = water_of(water, salinity)
    kind = one_of(said or "sea", ("sea", "brackish", *FRESH), "water", "--water")
    if kind in FRESH:
        if given:
            raise BadInput(f"{kind} has no salinity; write --water sea or 'brackish 12'.", where="--salinity")
        return 0.0
    if given is None:
        if kind == "brackish":
            raise BadInput("How salty is it? Write --water 'brackish 12'.", where="--water")
        return settings.home.salinity
    return in_range("salinity", given, "--salinity")


def column_of(
    asked: Asked,
    water: str | None,
    salinity: str | None,
    temp: str | None,
    latitude: str | None,
    altitude: str | None,
) -> tuple[WaterColumn, float]:
    """The column of water that was described, and the altitude of its surface in m."""
    from logbook.exchange.quantities import parse_length_m
    from logbook.keeping.practice_file import load_practice
    from logbook.physics.water import WaterColumn
    from logbook.reckoning.ranges import in_range

    settings = home_of(asked)
    home = settings.home
    practical = _salinity(water, salinity, settings)
    if temp is not None:
        celsius = _water_c(temp)
    elif home.monthly_c is not None:
        celsius = home.monthly_c[asked.day().month - 1]
    else:
        celsius = load_practice()["home_c"]
    degrees = home.latitude_deg if latitude is None else number_of(latitude.rstrip("°"), "--latitude")
    height_m = (
        home.altitude_m if altitude is None else parse_length_m(altitude, "--altitude", default_unit="m")
    )
    in_range("latitude_deg", degrees, "--latitude")
    in_range("altitude_m", height_m, "--altitude")
    return WaterColumn(practical, celsius, degrees), height_m


def density_of(asked: Asked, water: str | None, salinity: str | None, temp: str | None) -> float:
    """Density at the surface in kg/m³; fresh water of no stated temperature has its round 1000."""
    from logbook.physics.constants import FRESH_WATER_KG_M3

    if temp is None and (water in FRESH):
        return FRESH_WATER_KG_M3
    from logbook.physics.water import density_kg_m3

    column, _ = column_of(asked, water, salinity, temp, None, None)
    return density_kg_m3(column, 0.0)


def _water_c(text: str) -> float:
    from logbook.exchange.quantities import parse_temperature_c
    from logbook.reckoning.ranges import in_range

    return in_range("water_c", parse_temperature_c(text, "--temp"), "--temp")
