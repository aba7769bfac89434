"""A result that can show its working: value, formula, the numbers that went in, the source."""

from __future__ import annotations

import math
from dataclasses import dataclass

SIGNIFICANT = 6  # digits shown: more than any input deserves, few enough to read


def plain(value: float | bool | None) -> str:
    """A number as people read it: six significant digits, no exponent from 0.0001 up; yes, no or none."""
    if value is None:
        return "none"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if value == 0 or not math.isfinite(value):
        return f"{value:g}"
    if abs(value) < 1e-4:
        return f"{value:.3g}"
    decimals = max(0, SIGNIFICANT - 1 - math.floor(math.log10(abs(value))))
    text = f"{value:.{decimals}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def quantity(value: float | bool | None, unit: str) -> str:
    """A number with its unit, such as `3 m/s`."""
    return f"{plain(value)} {unit}".rstrip() if value is not None else "none"


@dataclass(frozen=True, slots=True)
class Worked:
    """One worked result: `value` in `unit` (SI, as printed), with everything needed to check it by hand.

    `numbers` holds (name, value, unit) of each number in `formula`. A value of None means that the quantity
    does not exist (perfectly dry air has no dew point).
    """

    what: str
    value: float | bool | None
    unit: str
    formula: str
    numbers: tuple[tuple[str, float, str], ...]
    source: str

    def line(self) -> str:
        """The result on one line: what it is, its value and its unit."""
        return f"{self.what} = {quantity(self.value, self.unit)}"

    def working(self) -> str:
        """The numbers that went into the formula, on one line: `ρ = 1000 kg/m³, v = 3 m/s`."""
        return ", ".join(f"{name} = {quantity(value, unit)}" for name, value, unit in self.numbers)


@dataclass(frozen=True, slots=True)
class Worksheet:
    """The answer of one calculator: results by key, in the order to show them, and remarks in plain words."""

    results: dict[str, Worked]
    remarks: tuple[str, ...] = ()

    def __getitem__(self, key: str) -> Worked:
        """The worked result under a key; KeyError if there is none."""
        return self.results[key]

    def values(self) -> dict[str, float | bool | None]:
        """The bare numbers by key, each in the unit of the key's suffix."""
        return {key: result.value for key, result in self.results.items()}
