"""A worksheet in words: as plain text, as a document, and as a few values at a glance."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any, Literal

from logbook.model.values import Units
from logbook.physics.worked import Worked, Worksheet, quantity
from logbook.text.quantities import BAR_PA, FOOT_M, PSI_PA

COLUMNS = 80  # of the plain text
_FIGURES = 4  # of a value at a glance
_POUND_FORCE_N = 4.4482216152605  # exact: avoirdupois pound times standard gravity

# How people may rather read an SI value: unit -> other unit, factor, offset, by system of units.
_ALSO: Mapping[str, Mapping[str, tuple[str, float, float]]] = MappingProxyType(
    {
        "metric": {"Pa": ("bar", 1 / BAR_PA, 0.0)},
        "imperial": {
            "Pa": ("psi", 1 / PSI_PA, 0.0),
            "m": ("ft", 1 / FOOT_M, 0.0),
            "m/s": ("ft/s", 1 / FOOT_M, 0.0),
            "°C": ("°F", 1.8, 32.0),
            "K": ("°F of difference", 1.8, 0.0),
            "N": ("lbf", 1 / _POUND_FORCE_N, 0.0),
            "µm": ("thousandths of an inch", 1 / 25.4, 0.0),
        },
    }
)
Part = Literal["value", "formula", "numbers", "source", "remark"]


@dataclass(frozen=True, slots=True)
class Passage:
    """One paragraph of a worksheet, and what part it is of it."""

    part: Part
    text: str

    @property
    def indents(self) -> tuple[int, int]:
        """Columns before its first line and before those after it."""
        return {"value": (0, 4), "remark": (0, 0)}.get(self.part, (4, 4))


def passages(sheet: Worksheet, units: Units) -> Iterator[Passage]:
    """Every value with its formula, the numbers put in and the source, then the remarks."""
    for key, found in _shown(sheet):
        yield Passage("value", found.line() + _also(found, units) + _span(sheet, key))
        if found.formula == "as given":
            continue
        yield Passage("formula", found.formula)
        if found.numbers:
            yield Passage("numbers", f"with {found.working()}")
        yield Passage("source", f"source: {found.source}")
    for remark in sheet.remarks:
        yield Passage("remark", remark)


def text(sheet: Worksheet, units: Units) -> str:
    """The whole worksheet in lines of at most 80 columns."""
    return "\n".join(
        textwrap.fill(
            passage.text,
            COLUMNS,
            initial_indent=" " * passage.indents[0],
            subsequent_indent=" " * passage.indents[1],
            break_long_words=False,
            break_on_hyphens=False,
        )
        for passage in passages(sheet, units)
    )


def document(sheet: Worksheet) -> dict[str, Any]:
    """The values by key, and under `working` how each was found, as JSON can hold it."""
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


def at_a_glance(sheet: Worksheet, units: Units) -> list[tuple[str, str]]:
    """What each value is, and the value in four figures, in the unit that people know it by."""
    return [(found.what, _known_by(found, units) or _rounded(found.value, found.unit))
            for _, found in _shown(sheet)]  # fmt: skip


def _shown(sheet: Worksheet) -> Iterator[tuple[str, Worked]]:
    """The results but for the ends of a span, which stand beside its middle."""
    return ((key, found) for key, found in sheet.results.items() if not key.endswith(("_low", "_high")))


def _span(sheet: Worksheet, key: str) -> str:
    """From where to where the value lies, where handbooks disagree."""
    low, high = (sheet.results.get(key + end) for end in ("_low", "_high"))
    if low is None or high is None:
        return ""
    return f", from {quantity(low.value, low.unit)} to {quantity(high.value, high.unit)}"


def _known_by(found: Worked, units: Units) -> str:
    """The value in the unit that people know it by; empty where that is the SI unit."""
    other = _ALSO[units].get(found.unit)
    if other is None or not isinstance(found.value, float):
        return ""
    unit, factor, offset = other
    return _rounded(found.value * factor + offset, unit)


def _also(found: Worked, units: Units) -> str:
    """The same once more, in brackets."""
    known = _known_by(found, units)
    return f" ({known})" if known else ""


def _rounded(value: float | bool | None, unit: str) -> str:
    return quantity(float(f"{value:.{_FIGURES}g}") if isinstance(value, float) else value, unit)
