"""The calculators of the bench: each is declared here once, for the command and for the room.

A calculator is its questions and the function that works out their answers; `logbook.bench.worksheets` writes
what it answers.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from logbook.bench.questions import (
    DEGREES,
    HEIGHT,
    LENGTH,
    PERCENT,
    PLACE_HEIGHT,
    PRESSURE,
    SPEED,
    TEMPERATURE,
    Answers,
    Around,
    Ask,
    Kind,
    bare_number,
)
from logbook.errors import BadInput
from logbook.model.ranges import one_of
from logbook.model.validate.exposure import BRINE_ABOVE, checked_density
from logbook.physics import bench as sheets
from logbook.physics.constants import FRESH_WATER_KG_M3
from logbook.physics.water import WaterColumn, density_kg_m3
from logbook.physics.worked import Worksheet
from logbook.record.file.practice_file import load_practice
from logbook.text.quantities import show_depth, show_temp

WATERS = ("sea", "fresh", "pool", "brackish")
SALTY = ("sea", "brackish")
SALTLESS = ("fresh", "pool", "soap", "hot tub")
_PICK = "left and right, or a first letter"

# ------------------------------------------------------------------ the water

_WATER = (
    Ask("water", "water", _PICK, Kind("WATER"), choices=lambda _: WATERS,
        said="sea (the default), fresh, pool, or 'brackish 12'."),
    Ask("salinity", "salinity", "practical salinity, a number such as 35", Kind("NUMBER", bare_number("35")),
        said="Practical salinity; else the home water's.", quantity="brine"),
    Ask("density", "density", "of a brine above salinity 42, in kg/m³, a number such as 1190",
        Kind("NUMBER", bare_number("1190"))),
)  # fmt: skip
_TEMP = Ask(
    "temp", "temperature", "of the water, such as 15C or 59F", TEMPERATURE, quantity="water_c",
    said="Of the water, such as 15C; else the home water's.",
)  # fmt: skip
_LATITUDE = Ask(
    "latitude", "latitude", "degrees north, such as 45; south is below 0", DEGREES,
    said="Where on earth; else the home water's.", quantity="latitude_deg",
)  # fmt: skip
_ALTITUDE = Ask(
    "altitude", "altitude", "of the water's surface, such as 1200m or 4000ft", PLACE_HEIGHT,
    said="Of the water's surface; else the home water's.", quantity="altitude_m",
)  # fmt: skip


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


def _salinity(asked: Answers) -> float:
    said, given = split_water(asked.said("water"), asked.said("salinity"))
    kind = one_of(said or "sea", ("sea", "brackish", *SALTLESS), "water", "water")
    if kind in SALTLESS:
        if given is not None and asked.asks["salinity"].read(given, None):
            sentence = (
                f"{kind.capitalize()} water has no salinity: name sea or brackish water, or leave it out."
            )
            raise BadInput(sentence, where="salinity")
        return 0.0
    if given is not None:
        return asked.asks["salinity"].read(given, None)
    if kind == "brackish":
        raise BadInput("How salty is brackish water? Give its salinity, such as 12.", where="salinity")
    return asked.around.home().salinity


def water_c(around: Around) -> float:
    """The temperature in °C of water of which none was said: at home, this month."""
    monthly_c = around.home().monthly_c
    return load_practice()["home_c"] if monthly_c is None else monthly_c[around.month - 1]


def _column(asked: Answers) -> tuple[WaterColumn, float]:
    """The column of water that was described, and the altitude of its surface in m."""
    practical = _salinity(asked)
    density = checked_density(practical, asked.get("density"), "density")
    celsius = asked.get("temp")
    if celsius is None:
        celsius = water_c(asked.around)
    home = asked.around.home()
    degrees, height_m = asked.get("latitude"), asked.get("altitude")
    column = WaterColumn(practical, celsius, home.latitude_deg if degrees is None else degrees, density)
    return column, home.altitude_m if height_m is None else height_m


def _density(asked: Answers) -> float:
    """Density at the surface in kg/m³; fresh water of no stated temperature has its round 1000."""
    if asked.said("temp") is None and asked.said("water") in SALTLESS:
        return FRESH_WATER_KG_M3
    column, _ = _column(asked)
    return density_kg_m3(column, 0.0)


# ------------------------------------------------------------------ the calculators


@dataclass(frozen=True, slots=True)
class Calculator:
    """One calculator: its word in the room's row, what it is for, and its questions in two columns.

    The command of that word takes those in `also` too; one that `command` answers has none of its own.
    """

    word: str
    about: str
    columns: tuple[tuple[Ask, ...], tuple[Ask, ...]]
    work: Callable[[Answers], Worksheet]
    also: tuple[Ask, ...] = ()
    command: str = ""

    @property
    def asks(self) -> Mapping[str, Ask]:
        """Every question by its name, in order."""
        return {ask.name: ask for column in (*self.columns, self.also) for ask in column}


def _in_a_column(ask: Ask) -> tuple[tuple[Ask, ...], tuple[Ask, ...]]:
    """Of a place: its water, latitude and altitude count."""
    return (ask, *_WATER), (_TEMP, _LATITUDE, _ALTITUDE)


def _in_a_water(ask: Ask) -> tuple[tuple[Ask, ...], tuple[Ask, ...]]:
    """Of a water at its surface: only its density counts."""
    return (ask, _WATER[0]), (*_WATER[1:], _TEMP)


def _depth(asked: Answers) -> Worksheet:
    return sheets.depth(asked["depth"], *_column(asked), asked.get("temp"))


def _pressure(asked: Answers) -> Worksheet:
    return sheets.pressure(asked["pressure"], *_column(asked), asked.get("temp"))


def _speed(asked: Answers) -> Worksheet:
    speed, head = asked.said("speed"), asked.said("head")
    if (speed is None) == (head is None):
        sentence = "Give a speed, such as 3m/s, or a head, such as 25m, one of the two."
        raise BadInput(sentence, where="speed")
    return sheets.speed(asked.get("speed"), asked.get("head"), _density(asked))


def _swing(asked: Answers) -> Worksheet:
    practice = load_practice()
    temperatures = asked["from"], asked["to"], asked["span"]
    rubber = one_of(asked.said("seal") or "NBR", tuple(practice.materials), "material", "seal")
    metal = one_of(asked.said("case") or "steel", tuple(practice.cases), "case material", "case")
    alphas = [
        (m.alpha_low * 1e-6, m.alpha_high * 1e-6) for m in (practice.materials[rubber], practice.cases[metal])
    ]
    return sheets.swing(*temperatures, *alphas)


_A_PRESSURE = Ask(
    "pressure", "pressure", "gauge, such as 3bar, 300kPa or 45psi", PRESSURE, ("3 bar", "45 psi"),
    needed=True, argument=True, most=1.2e8, below_zero=False, what="gauge pressure",
)  # fmt: skip
_SPEED = Ask("speed", "speed", "such as 1m/s, 5km/h or 2kn", SPEED, ("1 m/s", "3 ft/s"), argument=True,
             said="A speed, such as 3m/s or 5kn.", most=1_000)  # fmt: skip
_HEAD = Ask("head", "head", "a height of water, such as 25m", HEIGHT, ("25 m", "80 ft"), most=50_000,
            said="Ask for the speed of this head instead, such as 25m.")  # fmt: skip

CALCULATORS: tuple[Calculator, ...] = (
    Calculator(
        "depth",
        "The pressure at a depth, and the depth that an instrument would show there.",
        _in_a_column(
            Ask("depth", "depth", "a true depth, such as 30m or 100ft", HEIGHT, ("30 m", "100 ft"),
                needed=True, argument=True, below_zero=False)
        ),
        _depth,
    ),
    Calculator(
        "pressure", "The depth at which the water presses so much.", _in_a_column(_A_PRESSURE), _pressure
    ),
    Calculator(
        "speed",
        "What moving through the water adds to the pressure.",
        _in_a_water(_SPEED),
        _speed,
        also=(_HEAD,),
    ),
    Calculator(
        "head",
        "The speed whose pressure is that of so many metres of water.",
        _in_a_water(_HEAD),
        _speed,
        command="speed",
    ),
    Calculator(
        "jump",
        "The speed at the water after a jump, and its steady head at most.",
        _in_a_water(
            Ask("height", "height", "of the jump, such as 3m", HEIGHT, ("3 m", "10 ft"),
                needed=True, argument=True, most=50_000)
        ),
        lambda asked: sheets.jump(asked["height"], _density(asked)),
    ),
    Calculator(
        "altitude",
        "The air pressure of the standard atmosphere at a height.",
        ((
            Ask("height", "height", "above the sea, such as 2000m or 6500ft", HEIGHT, ("2000 m", "6500 ft"),
                needed=True, argument=True, most=50_000),
        ), ()),
        lambda asked: sheets.altitude(asked["height"]),
    ),
    Calculator(
        "swing",
        "What a swing of temperature does to a seal and the case around it.",
        (
            (
                Ask("from", "from", "the temperature before, such as 32C", TEMPERATURE, ("32 °C", "90 °F"),
                    needed=True, argument=True),
                Ask("to", "to", "the temperature after, such as 6C", TEMPERATURE, ("6 °C", "43 °F"),
                    needed=True, argument=True),
                Ask("span", "span", "the length that expands, such as 30mm", LENGTH, ("30 mm", "1.2 in"),
                    usual="30mm", most=1_000, below_zero=False),
            ),
            (
                Ask("seal", "seal", _PICK, Kind("MATERIAL"), choices=lambda known: known.materials,
                    usual="NBR", said="The seal's material, such as NBR or FKM."),
                Ask("case", "case", _PICK, Kind("MATERIAL"), choices=lambda known: known.cases,
                    usual="steel", said="The case's material, such as steel or titanium."),
            ),
        ),
        _swing,
    ),
    Calculator(
        "fog",
        "Would the air that was sealed in fog the crystal: a leak, or trapped air?",
        (
            (
                Ask("sealed", "sealed at", "the air when the case was closed, such as 21C", TEMPERATURE,
                    ("21 °C", "70 °F"), needed=True),
                Ask("humidity", "humidity", "of that air, in per cent, such as 50",
                    PERCENT, ("50", "50"), needed=True, quantity="humidity_pct"),
            ),
            (
                Ask("crystal", "crystal at", "its inner face, such as 10C", TEMPERATURE, ("10 °C", "50 °F"),
                    needed=True, quantity="crystal_c"),
                Ask("case_air", "case air at", "inside now; empty: as when it was closed", TEMPERATURE,
                    said="The air inside now; else as when it was closed.", quantity="case_air_c"),
            ),
        ),
        lambda asked: sheets.fog(
            asked["sealed"], asked["humidity"], asked["crystal"], asked.get("case_air")
        ),
    ),
    Calculator(
        "force",
        "The force of the water on a crystal or a case back.",
        (
            (replace(_A_PRESSURE, hint="gauge, such as 20bar or 300psi", example=("20 bar", "300 psi")),),
            (Ask("diameter", "diameter", "of the crystal or case back, such as 30mm", LENGTH,
                 ("30 mm", "1.2 in"), needed=True, most=1_000, below_zero=False),),
        ),
        lambda asked: sheets.force(asked["pressure"], asked["diameter"]),
    ),
)  # fmt: skip
FOG = next(each for each in CALCULATORS if each.word == "fog")


def work_out(calculator: Calculator, texts: Mapping[str, str | None], around: Around) -> Worksheet:
    """The worksheet of a calculator for answers by name; an empty or missing one takes what is usual.

    Raises BadInput whose `where` is the name of the answer at fault, or None where no single one is.
    """
    try:
        return calculator.work(Answers(calculator.asks, texts, around))
    except (ValueError, OverflowError) as error:
        sentence = str(error)
        raise BadInput(f"{sentence[:1].upper()}{sentence[1:].rstrip('.')}.") from None


def is_brine(salinity: str) -> bool:
    """True for a number so high that the equation of sea water does not reach it."""
    try:
        return float(salinity.replace(",", ".")) > BRINE_ABOVE
    except ValueError:
        return False


def silent_words(calculator: Calculator, water: str, around: Around) -> Mapping[str, str]:
    """What an empty answer stands for, by question, with the water that is picked."""
    home, units = around.home(), around.units or "metric"
    words = {
        "salinity": "" if water == "brackish" else f"{home.salinity:g}, as at home",
        "temp": f"{show_temp(water_c(around), units)}, as at home",
        "latitude": f"{home.latitude_deg:g}, as at home",
        "altitude": f"{show_depth(home.altitude_m, units)}, as at home",
        "case_air": "as when it was closed",
    }
    if water not in SALTY and "latitude" not in calculator.asks:
        words["temp"] = "not said: 1000 kg/m³"
    return words
