"""`logbook bench`: the calculators, each with its formula, its numbers and its source."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Any

import typer

from logbook.cli.asked import Asked
from logbook.cli.command import Commands, asked_of
from logbook.cli.water_options import Altitude, Latitude, Salinity, Temp, WaterKind, column_of, density_of
from logbook.errors import BadInput

bench = Commands(name="bench", help="Calculators: value, formula, numbers, source.")


def add_to(app: Commands) -> None:
    """Registers the group."""
    from logbook.cli import bench_cycles

    assert bench_cycles  # loaded for the command that it adds
    app.add_typer(bench)


# How people may rather read an SI value: unit -> other unit, factor, offset, by system of units.
_ALSO: dict[str, dict[str, tuple[str, float, float]]] = {
    "metric": {"Pa": ("bar", 1e-5, 0.0)},
    "imperial": {
        "Pa": ("psi", 1 / 6894.757293168361, 0.0),  # pound-force per square inch, exact definitions
        "m": ("ft", 1 / 0.3048, 0.0),
        "m/s": ("ft/s", 1 / 0.3048, 0.0),
        "°C": ("°F", 1.8, 32.0),
        "K": ("°F of difference", 1.8, 0.0),
        "N": ("lbf", 1 / 4.4482216152605, 0.0),
        "µm": ("thousandths of an inch", 1 / 25.4, 0.0),
    },
}


@bench.command()
def depth(
    ctx: typer.Context,
    depth: Annotated[str, typer.Argument(metavar="DEPTH", help="A true depth, such as 30m or 100ft.")],
    water: WaterKind = None,
    salinity: Salinity = None,
    temp: Temp = None,
    latitude: Latitude = None,
    altitude: Altitude = None,
) -> None:
    """The pressure at a depth, and the depth that an instrument would show there."""
    from logbook.exchange.quantities import parse_length_m
    from logbook.physics import bench as sheets

    asked = asked_of(ctx)
    depth_m = _not_negative(parse_length_m(depth, "DEPTH"), "depth", "DEPTH")
    column, altitude_m = column_of(asked, water, salinity, temp, latitude, altitude)
    _show(asked, lambda: sheets.depth(depth_m, column, altitude_m))


@bench.command()
def pressure(
    ctx: typer.Context,
    pressure: Annotated[
        str, typer.Argument(metavar="PRESSURE", help="A gauge pressure, such as 3bar or 45psi.")
    ],
    water: WaterKind = None,
    salinity: Salinity = None,
    temp: Temp = None,
    latitude: Latitude = None,
    altitude: Altitude = None,
) -> None:
    """The depth at which the water presses so much."""
    from logbook.exchange.quantities import parse_pressure_pa
    from logbook.physics import bench as sheets

    asked = asked_of(ctx)
    gauge_pa = _not_negative(parse_pressure_pa(pressure, "PRESSURE"), "gauge pressure", "PRESSURE")
    column, altitude_m = column_of(asked, water, salinity, temp, latitude, altitude)
    _show(asked, lambda: sheets.pressure(gauge_pa, column, altitude_m))


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
    temp: Temp = None,
) -> None:
    """What moving through the water adds: dynamic pressure, and the metres of water it amounts to."""
    from logbook.exchange.quantities import parse_length_m, parse_speed_m_s
    from logbook.physics import bench as sheets

    asked = asked_of(ctx)
    if (speed is None) == (head is None):
        raise BadInput("Give a speed, such as 3m/s, or --head 25m, one of the two.", where="SPEED")
    speed_m_s = None if speed is None else parse_speed_m_s(speed, "SPEED")
    head_m = None if head is None else parse_length_m(head, "--head")
    density = density_of(asked, water, salinity, temp)
    _show(asked, lambda: sheets.speed(speed_m_s, head_m, density))


@bench.command()
def jump(
    ctx: typer.Context,
    height: Annotated[str, typer.Argument(metavar="HEIGHT", help="The height of the jump, such as 3m.")],
    water: WaterKind = None,
    salinity: Salinity = None,
    temp: Temp = None,
) -> None:
    """The speed at the water after a jump, and its steady head at most."""
    from logbook.exchange.quantities import parse_length_m
    from logbook.physics import bench as sheets

    asked = asked_of(ctx)
    height_m = parse_length_m(height, "HEIGHT")
    density = density_of(asked, water, salinity, temp)
    _show(asked, lambda: sheets.jump(height_m, density))


@bench.command()
def altitude(
    ctx: typer.Context,
    height: Annotated[str, typer.Argument(metavar="HEIGHT", help="Height above the sea, such as 2000m.")],
) -> None:
    """The air pressure of the standard atmosphere at a height."""
    from logbook.exchange.quantities import parse_length_m
    from logbook.physics import bench as sheets

    height_m = parse_length_m(height, "HEIGHT")
    _show(asked_of(ctx), lambda: sheets.altitude(height_m))


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
    from logbook.exchange.quantities import parse_length_m, parse_temperature_c
    from logbook.keeping.practice_file import load_practice
    from logbook.physics import bench as sheets
    from logbook.reckoning.ranges import one_of

    practice = load_practice()
    from_c, to_c = parse_temperature_c(before, "FROM"), parse_temperature_c(after, "TO")
    span_m = _not_negative(parse_length_m(span, "--span"), "span", "--span")
    rubber = practice.materials[one_of(seal, tuple(practice.materials), "material", "--seal")]
    metal = practice.cases[one_of(case, tuple(practice.cases), "case material", "--case")]
    alphas = [(m.alpha_low * 1e-6, m.alpha_high * 1e-6) for m in (rubber, metal)]
    _show(asked_of(ctx), lambda: sheets.swing(from_c, to_c, span_m, *alphas))


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
    from logbook.exchange.quantities import parse_temperature_c
    from logbook.physics import bench as sheets
    from logbook.reckoning.ranges import in_range

    sealed_c = parse_temperature_c(sealed, "--sealed")
    crystal_c = in_range("crystal_c", parse_temperature_c(crystal, "--crystal"), "--crystal")
    air_c = None if case_air is None else parse_temperature_c(case_air, "--case-air")
    share = in_range("humidity_pct", _plain_number(humidity.rstrip("% "), "--humidity"), "--humidity")
    _show(asked_of(ctx), lambda: sheets.fog(sealed_c, share, crystal_c, air_c))


@bench.command()
def force(
    ctx: typer.Context,
    pressure: Annotated[str, typer.Argument(metavar="PRESSURE", help="A gauge pressure, such as 20bar.")],
    diameter: Annotated[
        str, typer.Option(metavar="LENGTH", help="Of the crystal or case back, such as 30mm.")
    ],
) -> None:
    """The force of the water on a crystal or a case back."""
    from logbook.exchange.quantities import parse_length_m, parse_pressure_pa
    from logbook.physics import bench as sheets

    gauge_pa = _not_negative(parse_pressure_pa(pressure, "PRESSURE"), "gauge pressure", "PRESSURE")
    diameter_m = _not_negative(parse_length_m(diameter, "--diameter"), "diameter", "--diameter")
    _show(asked_of(ctx), lambda: sheets.force(gauge_pa, diameter_m))


def _plain_number(text: str, where: str) -> float:
    from logbook.exchange.quantities import BARE, measure

    kind, value = measure(text, where)
    if kind != BARE:
        raise BadInput(f"{text} has a unit where a plain number belongs.", where=where)
    return value


def _not_negative(value: float, what: str, where: str) -> float:
    if value < 0:
        raise BadInput(f"A {what} below zero cannot be; leave out the minus sign.", where=where)
    return value


def _show(asked: Asked, work: Callable[[], Any]) -> None:
    """Prints a worksheet; a number that cannot be is the asker's slip."""
    from logbook.cli.output import answer

    try:
        sheet = work()
    except ValueError as error:
        sentence = str(error)
        raise BadInput(f"{sentence[:1].upper()}{sentence[1:].rstrip('.')}.") from None
    answer(asked, _document(sheet), lambda: _text(sheet, asked.units or "metric"))


def _document(sheet: Any) -> dict[str, Any]:
    working = {
        key: {
            "what": found.what,
            "unit": found.unit,
            "formula": found.formula,
            "source": found.source,
            "numbers": [{"name": name, "value": value, "unit": unit} for name, value, unit in found.numbers],
        }
        for key, found in sheet.results.items()
    }
    return {**sheet.values(), "working": working, "remarks": list(sheet.remarks)}


def _text(sheet: Any, units: str) -> str:
    from logbook.cli.output import wrapped

    lines = []
    for key, found in sheet.results.items():
        if key.endswith(("_low", "_high")):
            continue
        lines.append(wrapped(found.line() + _also(found, units) + _span(sheet, key), "", "    "))
        if found.formula == "as given":
            continue
        lines.append(wrapped(found.formula, "    "))
        if found.numbers:
            lines.append(wrapped(f"with {found.working()}", "    "))
        lines.append(wrapped(f"source: {found.source}", "    "))
    lines += [wrapped(remark) for remark in sheet.remarks]
    return "\n".join(lines)


def _span(sheet: Any, key: str) -> str:
    """From where to where the value lies, where handbooks disagree."""
    from logbook.physics.worked import quantity

    low, high = (sheet.results.get(key + end) for end in ("_low", "_high"))
    if low is None or high is None:
        return ""
    return f", from {quantity(low.value, low.unit)} to {quantity(high.value, high.unit)}"


def _also(found: Any, units: str) -> str:
    """The value once more in the unit that people know it by, in brackets."""
    from logbook.physics.worked import quantity

    other = _ALSO[units].get(found.unit)
    if other is None or not isinstance(found.value, float):
        return ""
    unit, factor, offset = other
    return f" ({quantity(float(f'{found.value * factor + offset:.4g}'), unit)})"
