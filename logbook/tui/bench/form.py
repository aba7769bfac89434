"""The calculators of the bench as they are asked: what each wants to know, and what stands there at first."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from logbook.model.values import Units

if TYPE_CHECKING:
    from logbook.model.practice import Practice
    from logbook.model.values import HomeWater

WATERS = ("sea", "fresh", "pool", "brackish")
SALTY = ("sea", "brackish")


@dataclass(frozen=True, slots=True)
class Ask:
    """One question: its label, what stands there at first in each system of units, or its fixed answers.

    `answers` of ("materials",) or ("cases",) are those of the practice.
    """

    name: str
    label: str
    hint: str = ""
    metric: str = ""
    imperial: str = ""
    answers: tuple[str, ...] = ()

    def first(self, units: Units) -> str:
        """What stands there at first."""
        return self.imperial or self.metric if units == "imperial" else self.metric


@dataclass(frozen=True, slots=True)
class Calculator:
    """One calculator: its word in the row, the command's name for it, and its questions in two columns."""

    word: str
    command: str
    about: str
    columns: tuple[tuple[Ask, ...], tuple[Ask, ...]]

    @property
    def asks(self) -> tuple[Ask, ...]:
        """Every question in order."""
        return self.columns[0] + self.columns[1]


_PICK = "left and right, or a first letter"
_WATER = Ask("water", "water", _PICK, answers=WATERS)
_SALINITY = Ask("salinity", "salinity", "practical salinity, a number such as 35")
_DENSITY = Ask("density", "density", "of a brine above salinity 42, in kg/m³, a number such as 1190")
_TEMP = Ask("temp", "temperature", "of the water, such as 15C or 59F")
_LATITUDE = Ask("latitude", "latitude", "degrees north, such as 45; south is below 0")
_ALTITUDE = Ask("altitude", "altitude", "of the water's surface, such as 1200m or 4000ft")
_SPEED = Ask("speed", "speed", "such as 1m/s, 5km/h or 2kn", "1 m/s", "3 ft/s")


def _in_a_column(word: str, about: str, ask: Ask) -> Calculator:
    """Of a place: its water, latitude and altitude count."""
    return Calculator(word, word, about, ((ask, _WATER, _SALINITY, _DENSITY), (_TEMP, _LATITUDE, _ALTITUDE)))


def _in_a_water(word: str, command: str, about: str, ask: Ask) -> Calculator:
    """Of a water at its surface: only its density counts."""
    return Calculator(word, command, about, ((ask, _WATER), (_SALINITY, _DENSITY, _TEMP)))


CALCULATORS: tuple[Calculator, ...] = (
    _in_a_column(
        "depth",
        "The pressure at a depth, and the depth that an instrument would show there.",
        Ask("depth", "depth", "a true depth, such as 30m or 100ft", "30 m", "100 ft"),
    ),
    _in_a_column(
        "pressure",
        "The depth at which the water presses so much.",
        Ask("pressure", "pressure", "gauge, such as 3bar, 300kPa or 45psi", "3 bar", "45 psi"),
    ),
    _in_a_water("speed", "speed", "What moving through the water adds to the pressure.", _SPEED),
    _in_a_water(
        "head",
        "speed",
        "The speed whose pressure is that of so many metres of water.",
        Ask("head", "head", "a height of water, such as 25m", "25 m", "80 ft"),
    ),
    _in_a_water(
        "jump",
        "jump",
        "The speed at the water after a jump, and its steady head at most.",
        Ask("height", "height", "of the jump, such as 3m", "3 m", "10 ft"),
    ),
    Calculator(
        "altitude",
        "altitude",
        "The air pressure of the standard atmosphere at a height.",
        ((Ask("height", "height", "above the sea, such as 2000m or 6500ft", "2000 m", "6500 ft"),), ()),
    ),
    Calculator(
        "swing",
        "swing",
        "What a swing of temperature does to a seal and the case around it.",
        (
            (
                Ask("from", "from", "the temperature before, such as 32C", "32 °C", "90 °F"),
                Ask("to", "to", "the temperature after, such as 6C", "6 °C", "43 °F"),
                Ask("span", "span", "the length that expands, such as 30mm", "30 mm", "1.2 in"),
            ),
            (
                Ask("seal", "seal", _PICK, answers=("materials",)),
                Ask("case", "case", _PICK, answers=("cases",)),
            ),
        ),
    ),
    Calculator(
        "fog",
        "fog",
        "Would the air that was sealed in fog the crystal: a leak, or trapped air?",
        (
            (
                Ask("sealed", "sealed at", "the air when the case was closed, such as 21C", "21 °C", "70 °F"),
                Ask("humidity", "humidity", "of that air, in per cent, such as 50", "50"),
            ),
            (
                Ask("crystal", "crystal at", "its inner face, such as 10C", "10 °C", "50 °F"),
                Ask("case_air", "case air at", "inside now; empty: as when it was closed"),
            ),
        ),
    ),
    Calculator(
        "force",
        "force",
        "The force of the water on a crystal or a case back.",
        (
            (Ask("pressure", "pressure", "gauge, such as 20bar or 300psi", "20 bar", "300 psi"),),
            (Ask("diameter", "diameter", "of the crystal or case back, such as 30mm", "30 mm", "1.2 in"),),
        ),
    ),
)


def answers(ask: Ask, practice: Practice) -> Sequence[str]:
    """The fixed answers of a question; none where it is answered in writing."""
    known: dict[tuple[str, ...], Sequence[str]] = {
        ("materials",): tuple(practice.materials),
        ("cases",): tuple(practice.cases),
    }
    return known.get(ask.answers, ask.answers)


def is_brine(salinity: str) -> bool:
    """True for a number so high that the equation of sea water does not reach it."""
    from logbook.model.validate.exposure import BRINE_ABOVE

    try:
        return float(salinity.replace(",", ".")) > BRINE_ABOVE
    except ValueError:
        return False


def silent_words(
    calculator: Calculator, water: str, home: HomeWater, home_c: float, units: Units
) -> Mapping[str, str]:
    """What an empty answer stands for, by question, with the water that is picked."""
    from logbook.text.quantities import show_depth, show_temp

    words = {
        "salinity": "" if water == "brackish" else f"{home.salinity:g}, as at home",
        "temp": f"{show_temp(home_c, units)}, as at home",
        "latitude": f"{home.latitude_deg:g}, as at home",
        "altitude": f"{show_depth(home.altitude_m, units)}, as at home",
        "case_air": "as when it was closed",
    }
    if water not in SALTY and _LATITUDE not in calculator.asks:
        words["temp"] = "not said: 1000 kg/m³"
    return words
