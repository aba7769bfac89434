"""Stored whole numbers and the SI floats they stand for; a value at storage resolution comes back equal."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

ZERO_C_MK = 273_150
TRILLION = 10**12
Stored = TypeVar("Stored", float, "NDArray[np.float64]")  # a number, or a column of them

# What is kept of one contact with water, both ends included.
LIMITS = {
    "depth_mm": (0, 400_000),
    "gauge_pa": (0, 5_000_000),
    "duration_s": (0, 2880 * 60),
    "from_mk": (233_150, 393_150),
    "salinity_ppm": (0, 360_000),  # brine, at most as salty as salt dissolves
    "density_g_m3": (900_000, 1_400_000),
    "dips": (1, 10_000),
    "jump_mm": (0, 100_000),
}


def milli(value: float) -> int:
    """Metres to mm, µm to nm, practical salinity to ppm."""
    return round(value * 1000)


def from_milli(stored: Stored) -> Stored:
    return stored / 1000


def millikelvin(celsius: float) -> int:
    return round(celsius * 1000) + ZERO_C_MK


def celsius(stored: Stored) -> Stored:
    return (stored - ZERO_C_MK) / 1000


def per_1000_weeks(per_week: float) -> int:
    """Uses a week to uses in 1000 weeks."""
    return round(per_week * 1000)


def daily_per_1000_weeks(per_day: float) -> int:
    """Uses a day to uses in 1000 weeks, so that both "2 a week" and "1 a day" are whole numbers."""
    return round(per_day * 7000)


def per_day(stored: int) -> float:
    return stored / 7000


def minutes(hours: float) -> int:
    return round(hours * 60)


def hours(stored_minutes: int) -> float:
    return stored_minutes / 60


def seconds(minutes_given: float) -> int:
    return round(minutes_given * 60)


def from_seconds(stored: int) -> float:
    """Seconds to minutes."""
    return stored / 60


def microdegrees(degrees: float) -> int:
    return round(degrees * 1_000_000)


def degrees(stored: int) -> float:
    return stored / 1_000_000


def trillionths(share: float) -> int:
    """A wear share as a whole number of 1e-12, so that sums do not depend on their order."""
    return round(share * TRILLION)


def share(stored: int) -> float:
    return stored / TRILLION
