"""`logbook bench`: the calculators, each with its formula, its numbers and its source."""

from __future__ import annotations

from typing import Annotated

import typer

from logbook.cli.bench.cycles import cycles
from logbook.cli.command import Commands, asked_of
from logbook.cli.options.water import Altitude, Density, Latitude, Salinity, Temp, WaterKind, home_of
from logbook.errors import BadInput

bench = Commands(name="bench", help="Calculators: value, formula, numbers, source.")


def add_to(app: Commands) -> None:
    """Registers the group."""
    bench.command()(cycles)
    app.add_typer(bench)


@bench.command()
def depth(
    ctx: typer.Context,
    depth: Annotated[str, typer.Argument(metavar="DEPTH", help="A true depth, such as 30m or 100ft.")],
    water: WaterKind = None,
    salinity: Salinity = None,
    density: Density = None,
    temp: Temp = None,
    latitude: Latitude = None,
    altitude: Altitude = None,
) -> None:
    """The pressure at a depth, and the depth that an instrument would show there."""
    options = {"water": water, "salinity": salinity, "density": density, "temp": temp, "latitude": latitude,
               "altitude": altitude}  # fmt: skip
    _answer(ctx, "depth", {"depth": depth}, options)


@bench.command()
def pressure(
    ctx: typer.Context,
    pressure: Annotated[
        str, typer.Argument(metavar="PRESSURE", help="A gauge pressure, such as 3bar or 45psi.")
    ],
    water: WaterKind = None,
    salinity: Salinity = None,
    density: Density = None,
    temp: Temp = None,
    latitude: Latitude = None,
    altitude: Altitude = None,
) -> None:
    """The depth at which the water presses so much."""
    options = {"water": water, "salinity": salinity, "density": density, "temp": temp, "latitude": latitude,
               "altitude": altitude}  # fmt: skip
    _answer(ctx, "pressure", {"pressure": pressure}, options)


@bench.command()
def speed(
    ctx: typer.Context,
    speed: Annotated[
        str | None, typer.Argument(metavar="[SPEED]", help="A speed, such as 3m/s or 5kn.")
    ] = None,
    head: Annotated[
        str | None,
        typer.Option(metavar="HEIGHT", help="Ask for the speed of this head instead, such as 25m."),
    ] = None,
    water: WaterKind = None,
    salinity: Salinity = None,
    density: Density = None,
    temp: Temp = None,
) -> None:
    """What moving through the water adds: dynamic pressure, and the metres of water it amounts to."""
    options = {"water": water, "salinity": salinity, "density": density, "temp": temp, "head": head}
    _answer(ctx, "speed", {"speed": speed}, options)


@bench.command()
def jump(
    ctx: typer.Context,
    height: Annotated[str, typer.Argument(metavar="HEIGHT", help="The height of the jump, such as 3m.")],
    water: WaterKind = None,
    salinity: Salinity = None,
    density: Density = None,
    temp: Temp = None,
) -> None:
    """The speed at the water after a jump, and its steady head at most."""
    options = {"water": water, "salinity": salinity, "density": density, "temp": temp}
    _answer(ctx, "jump", {"height": height}, options)


@bench.command()
def altitude(
    ctx: typer.Context,
    height: Annotated[str, typer.Argument(metavar="HEIGHT", help="Height above the sea, such as 2000m.")],
) -> None:
    """The air pressure of the standard atmosphere at a height."""
    _answer(ctx, "altitude", {"height": height}, {})


@bench.command()
def swing(
    ctx: typer.Context,
    before: Annotated[str, typer.Argument(metavar="FROM", help="The temperature before, such as 32C.")],
    after: Annotated[str, typer.Argument(metavar="TO", help="The temperature after, such as 6C.")],
    span: Annotated[
        str, typer.Option(metavar="LENGTH", help="The length that expands, such as 30mm.")
    ] = "30mm",
    seal: Annotated[
        str, typer.Option(metavar="MATERIAL", help="The seal's material, such as NBR or FKM.")
    ] = "NBR",
    case: Annotated[
        str, typer.Option(metavar="MATERIAL", help="The case's material, such as steel or titanium.")
    ] = "steel",
) -> None:
    """What a swing of temperature does to a seal and the case around it."""
    options: dict[str, str | None] = {"span": span, "seal": seal, "case": case}
    _answer(ctx, "swing", {"from": before, "to": after}, options)


@bench.command()
def fog(
    ctx: typer.Context,
    sealed: Annotated[
        str, typer.Option(metavar="TEMPERATURE", help="When the case was closed, such as 21C.")
    ],
    humidity: Annotated[
        str, typer.Option(metavar="PERCENT", help="Relative humidity of that air, such as 50.")
    ],
    crystal: Annotated[
        str, typer.Option(metavar="TEMPERATURE", help="The crystal's inner face, such as 10C.")
    ],
    case_air: Annotated[
        str | None,
        typer.Option(metavar="TEMPERATURE", help="The air inside now; else as when it was closed."),
    ] = None,
) -> None:
    """Would the air that was sealed in fog the crystal: a leak, or trapped air?"""
    options = {"sealed": sealed, "humidity": humidity, "crystal": crystal, "case_air": case_air}
    _answer(ctx, "fog", {}, options)


@bench.command()
def force(
    ctx: typer.Context,
    pressure: Annotated[str, typer.Argument(metavar="PRESSURE", help="A gauge pressure, such as 20bar.")],
    diameter: Annotated[
        str, typer.Option(metavar="LENGTH", help="Of the crystal or case back, such as 30mm.")
    ],
) -> None:
    """The force of the water on a crystal or a case back."""
    _answer(ctx, "force", {"pressure": pressure}, {"diameter": diameter})


def _answer(
    ctx: typer.Context, calculator: str, arguments: dict[str, str | None], options: dict[str, str | None]
) -> None:
    """Prints the worksheet; a refusal names the argument (`DEPTH`) or the option (`--head`) at fault."""
    from logbook.bench import worksheets
    from logbook.bench.calculators import Around, work_out
    from logbook.cli.output import answer

    asked = asked_of(ctx)
    around = Around(lambda: home_of(asked).home, asked.day().month)
    try:
        sheet = work_out(calculator, {**arguments, **options}, around)
    except BadInput as error:
        name = error.where
        if name in arguments:
            error.where = name.upper()
        elif name in options:
            error.where = f"--{name.replace('_', '-')}"
        raise
    answer(asked, worksheets.document(sheet), lambda: worksheets.text(sheet, asked.units or "metric"))
