"""Quantities as the answers of a form: as short as possible while they read back as what is kept.

So an answer that nobody touches keeps its meaning: 21 m shows as 68.898 ft, and 70 ft as 70 ft.
"""

from __future__ import annotations

from collections.abc import Callable

from logbook.text import quantities

MOST_PLACES = 5


def depth_text(depth_m: float, units: str) -> str:
    """Metres, kept to the millimetre, in m or ft."""
    factor, unit = (quantities.FOOT_M, "ft") if units == "imperial" else (1.0, "m")
    return _shortest(
        quantities.show_depth(depth_m, units), depth_m / factor, f" {unit}", depth_m,
        lambda text: round(quantities.parse_length_m(text), 3),
    )  # fmt: skip


def temp_text(celsius: float, units: str) -> str:
    """Degrees Celsius, kept to a thousandth, in °C or °F."""
    value, unit = (celsius * 9 / 5 + 32, "°F") if units == "imperial" else (celsius, "°C")
    return _shortest(
        quantities.show_temp(celsius, units), value, f" {unit}", celsius,
        lambda text: round(quantities.parse_temperature_c(text), 3),
    )  # fmt: skip


def pressure_text(pressure_pa: float, units: str) -> str:
    """Whole pascals, in bar or psi."""
    factor, unit = (quantities.PSI_PA, "psi") if units == "imperial" else (quantities.BAR_PA, "bar")
    return _shortest(
        quantities.show_pressure(pressure_pa, units), pressure_pa / factor, f" {unit}", pressure_pa,
        lambda text: float(round(quantities.parse_pressure_pa(text))),
    )  # fmt: skip


def minutes_text(duration_s: float) -> str:
    """Whole seconds, in minutes."""
    return _shortest(
        quantities.show_minutes(duration_s), duration_s / 60, " min", duration_s,
        lambda text: float(round(quantities.parse_duration_s(text))),
    )  # fmt: skip


def _shortest(usual: str, value: float, unit: str, kept: float, back: Callable[[str], float]) -> str:
    """The usual text if it reads back as what is kept, else the text with the fewest decimals that does."""
    texts = (usual, *(f"{value:.{places}f}{unit}" for places in range(1, MOST_PLACES)))
    longest = f"{value:.{MOST_PLACES}f}{unit}"
    return next((text for text in texts if abs(back(text) - kept) < 1e-6), longest)
