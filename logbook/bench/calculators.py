"""The calculators of the bench, asked in words: texts with units in, a worksheet out."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import TYPE_CHECKING

from logbook.errors import BadInput
from logbook.model.ranges import in_range, one_of
from logbook.model.validate.exposure import checked_density
from logbook.model.values import Units
from logbook.physics.worked import Worksheet
from logbook.text.quantities import (
    BARE,
    measure,
    parse_length_m,
    parse_pressure_pa,
    parse_speed_m_s,
    parse_temperature_c,
)

if TYPE_CHECKING:
    from logbook.model.values import HomeWater
    from logbook.physics.water import WaterColumn

SALTLESS = ("fresh", "pool", "soap", "hot tub")
# Beyond these an answer means nothing, and the arithmetic would run out of numbers: what, most, unit.
MOST: Mapping[str, tuple[str, float, str]] = MappingProxyType(
    {
        "speed": ("speed", 1_000.0, "m/s"),
        "head": ("head", 50_000.0, "m"),
        "height": ("height", 50_000.0, "m"),
        "span": ("span", 1_000.0, "m"),
        "diameter": ("diameter", 1_000.0, "m"),
        "pressure": ("gauge pressure", 1.2e8, "Pa"),
    }
)


@dataclass(frozen=True, slots=True)
class Around:
    """What fills in where an answer is silent."""

    home: Callable[[], HomeWater]  # asked only by those calculators that need a water
    month: int  # whose home temperature counts
    units: Units | None = None  # of a number without a unit; None: it is refused

    def unit(self, metric: str, imperial: str) -> str | None:
        """The unit that a bare number is taken in."""
        return None if self.units is None else metric if self.units == "metric" else imperial


@dataclass(frozen=True, slots=True)
class _Answers:
    """Answers by name, each read as what its calculator takes it for; a refusal's `where` is that name."""

    texts: Mapping[str, str | None]
    around: Around

    def said(self, name: str) -> str | None:
        """What was answered, stripped; None where nothing was."""
        return (self.texts.get(name) or "").strip() or None

    def _must(self, name: str) -> str:
        said = self.said(name)
        if said is None:
            raise BadInput(f"The {name.replace('_', ' ')} is needed here.", where=name)
        return said

    def length_m(self, name: str, metric: str = "m", imperial: str = "ft") -> float:
        """Metres."""
        return _bounded(
            name,
            parse_length_m(self._must(name), name, default_unit=self.around.unit(metric, imperial)),
        )

    def pressure_pa(self, name: str) -> float:
        """Pascal, not negative."""
        unit = self.around.unit("bar", "psi")
        return _bounded(
            name,
            not_negative(
                parse_pressure_pa(self._must(name), name, default_unit=unit), "gauge pressure", name
            ),
        )

    def speed_m_s(self, name: str) -> float:
        """Metres per second."""
        unit = self.around.unit("m/s", "ft/s")
        return _bounded(name, parse_speed_m_s(self._must(name), name, default_unit=unit))

    def celsius(self, name: str) -> float:
        """Degrees Celsius."""
        return parse_temperature_c(self._must(name), name, default_unit=self.around.unit("C", "F"))

    def number(self, name: str, strip: str, example: str) -> float:
        """A number without a unit, but for the signs in `strip`."""
        kind, value = measure(self._must(name).rstrip(strip), name)
        if kind != BARE:
            sentence = f"The {name} takes a number without a unit, such as {example}."
            raise BadInput(sentence, where=name)
        return value


def not_negative(value: float, what: str, where: str) -> float:
    """Hand `value` back unless it is below zero; raises BadInput then."""
    if value < 0:
        raise BadInput(f"A {what} below zero cannot be; leave out the minus sign.", where=where)
    return value


def _bounded(name: str, value: float) -> float:
    if name in MOST and value > MOST[name][1]:
        what, most, unit = MOST[name]
        raise BadInput(f"The {what} must be {most:g} {unit} or less, not {value:g}.", where=name)
    return value


# ------------------------------------------------------------------ the water


def split_water(
    water: str | None, salinity: str | None, where: str = "salinity"
) -> tuple[str | None, str | None]:
    """The kind of water and its salinity as they were said; `brackish 12` says both."""
    if water is None or not water.startswith("brackish "):
        return water, salinity
    if salinity is not None:
        raise BadInput("The salinity is given twice; once is right.", where=where)
    kind, _, number = water.partition(" ")
    return kind, number


def _salinity(asked: _Answers) -> float:
    said, given = split_water(asked.said("water"), asked.said("salinity"))
    kind = one_of(said or "sea", ("sea", "brackish", *SALTLESS), "water", "water")
    value = (
        None if given is None else _Answers({"salinity": given}, asked.around).number("salinity", "", "35")
    )
    if kind in SALTLESS:
        if value:
            sentence = (
                f"{kind.capitalize()} water has no salinity: name sea or brackish water, or leave it out."
            )
            raise BadInput(sentence, where="salinity")
        return 0.0
    if value is None:
        if kind == "brackish":
            raise BadInput("How salty is brackish water? Give its salinity, such as 12.", where="salinity")
        return asked.around.home().salinity
    return in_range("brine", value, "salinity")


def water_c(around: Around) -> float:
    """The temperature in °C of water of which none was said: at home, this month."""
    from logbook.record.file.practice_file import load_practice

    monthly_c = around.home().monthly_c
    return load_practice()["home_c"] if monthly_c is None else monthly_c[around.month - 1]


def _column(asked: _Answers) -> tuple[WaterColumn, float]:
    """The column of water that was described, and the altitude of its surface in m."""
    from logbook.physics.water import WaterColumn

    around = asked.around
    practical = _salinity(asked)
    density = asked.number("density", "", "1190") if asked.said("density") else None
    density = checked_density(practical, density, "density")
    if asked.said("temp"):
        celsius = in_range("water_c", asked.celsius("temp"), "temp")
    else:
        celsius = water_c(around)
    home = around.home()
    degrees = asked.number("latitude", "°", "45") if asked.said("latitude") else home.latitude_deg
    height_m = home.altitude_m
    if altitude := asked.said("altitude"):
        height_m = parse_length_m(altitude, "altitude", default_unit=around.unit("m", "ft") or "m")
    in_range("latitude_deg", degrees, "latitude")
    in_range("altitude_m", height_m, "altitude")
    return WaterColumn(practical, celsius, degrees, density), height_m


def _case_c(asked: _Answers) -> float | None:
    """A case as warm as the water, where its temperature was said."""
    return asked.celsius("temp") if asked.said("temp") else None


def _density(asked: _Answers) -> float:
    """Density at the surface in kg/m³; fresh water of no stated temperature has its round 1000."""
    from logbook.physics.constants import FRESH_WATER_KG_M3

    if asked.said("temp") is None and asked.said("water") in SALTLESS:
        return FRESH_WATER_KG_M3
    from logbook.physics.water import density_kg_m3

    column, _ = _column(asked)
    return density_kg_m3(column, 0.0)


# ------------------------------------------------------------------ the calculators


def _depth(asked: _Answers) -> Worksheet:
    from logbook.physics import bench as sheets

    depth_m = not_negative(asked.length_m("depth"), "depth", "depth")
    return sheets.depth(depth_m, *_column(asked), _case_c(asked))


def _pressure(asked: _Answers) -> Worksheet:
    from logbook.physics import bench as sheets

    gauge_pa = asked.pressure_pa("pressure")
    return sheets.pressure(gauge_pa, *_column(asked), _case_c(asked))


def _speed(asked: _Answers) -> Worksheet:
    from logbook.physics import bench as sheets

    if (asked.said("speed") is None) == (asked.said("head") is None):
        sentence = "Give a speed, such as 3m/s, or a head, such as 25m, one of the two."
        raise BadInput(sentence, where="speed")
    if asked.said("speed"):
        return sheets.speed(asked.speed_m_s("speed"), None, _density(asked))
    return sheets.speed(None, asked.length_m("head"), _density(asked))


def _jump(asked: _Answers) -> Worksheet:
    from logbook.physics import bench as sheets

    return sheets.jump(asked.length_m("height"), _density(asked))


def _altitude(asked: _Answers) -> Worksheet:
    from logbook.physics import bench as sheets

    return sheets.altitude(asked.length_m("height"))


def _swing(asked: _Answers) -> Worksheet:
    from logbook.physics import bench as sheets
    from logbook.record.file.practice_file import load_practice

    practice = load_practice()
    from_c, to_c = asked.celsius("from"), asked.celsius("to")
    span_m = not_negative(asked.length_m("span", "mm", "in"), "span", "span")
    seal, case = asked.said("seal") or "NBR", asked.said("case") or "steel"
    rubber = practice.materials[one_of(seal, tuple(practice.materials), "material", "seal")]
    metal = practice.cases[one_of(case, tuple(practice.cases), "case material", "case")]
    alphas = [(m.alpha_low * 1e-6, m.alpha_high * 1e-6) for m in (rubber, metal)]
    return sheets.swing(from_c, to_c, span_m, *alphas)


def _fog(asked: _Answers) -> Worksheet:
    from logbook.physics import bench as sheets

    sealed_c = asked.celsius("sealed")
    crystal_c = in_range("crystal_c", asked.celsius("crystal"), "crystal")
    air_c = None
    if asked.said("case_air"):
        air_c = in_range("case_air_c", asked.celsius("case_air"), "case_air")
    share = in_range("humidity_pct", asked.number("humidity", "% ", "50"), "humidity")
    return sheets.fog(sealed_c, share, crystal_c, air_c)


def _force(asked: _Answers) -> Worksheet:
    from logbook.physics import bench as sheets

    gauge_pa = asked.pressure_pa("pressure")
    diameter_m = not_negative(asked.length_m("diameter", "mm", "in"), "diameter", "diameter")
    return sheets.force(gauge_pa, diameter_m)


CALCULATORS: Mapping[str, Callable[[_Answers], Worksheet]] = MappingProxyType(
    {
        "depth": _depth,
        "pressure": _pressure,
        "speed": _speed,
        "jump": _jump,
        "altitude": _altitude,
        "swing": _swing,
        "fog": _fog,
        "force": _force,
    }
)


def work_out(calculator: str, texts: Mapping[str, str | None], around: Around) -> Worksheet:
    """The worksheet of a calculator for answers by name; an empty or missing one takes what is usual.

    Raises BadInput whose `where` is the name of the answer at fault, or None where no single one is.
    """
    try:
        return CALCULATORS[calculator](_Answers(texts, around))
    except (ValueError, OverflowError) as error:
        sentence = str(error)
        raise BadInput(f"{sentence[:1].upper()}{sentence[1:].rstrip('.')}.") from None
