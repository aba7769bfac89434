"""Guards against impossible numbers: a clear sentence instead of a wrong answer."""

from __future__ import annotations

import math


def within(what: str, value: float, low: float, high: float, unit: str) -> float:
    """Returns `value` if it lies in [low, high]; all three are in `unit`.

    Raises ValueError, naming the quantity and what would be right; NaN is never within.
    """
    if low <= value <= high:
        return value
    if math.isinf(low):
        raise ValueError(f"{what} must be {high:g} {unit}".rstrip() + f" or less, not {value:g}")
    if math.isinf(high):
        raise ValueError(f"{what} must be {low:g} {unit}".rstrip() + f" or more, not {value:g}")
    raise ValueError(f"{what} must be from {low:g} to {high:g} {unit}".rstrip() + f", not {value:g}")


def positive(what: str, value: float, unit: str) -> float:
    """Returns `value` (in `unit`) if it is finite and above zero; raises ValueError otherwise."""
    if 0 < value < math.inf:
        return value
    raise ValueError(f"{what} must be above 0 {unit}".rstrip() + f", not {value:g}")


def finite(what: str, value: float, unit: str) -> float:
    """Returns `value` (in `unit`) if it is a finite number; raises ValueError otherwise."""
    if math.isfinite(value):
        return value
    raise ValueError(f"{what} must be a number of {unit}".rstrip() + f", not {value:g}")
