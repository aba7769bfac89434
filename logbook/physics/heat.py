"""Warm and cold: temperature swings, how a case follows them, what expands, how fast rubber ages."""

from __future__ import annotations

import math
from dataclasses import dataclass

from logbook.physics.bounds import finite, positive, within
from logbook.physics.constants import ABSOLUTE_ZERO_C, MOLAR_GAS_CONSTANT, kelvin

REFERENCE_C = 21.0  # °C at which the ageing rate is 1 by definition
EXPANSION = "linear thermal expansion, α L ΔT, textbook; the coefficients are handbook values"


@dataclass(frozen=True, slots=True)
class Range:
    """A value with its lowest and highest, all in one unit."""

    value: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Expansion:
    """Changes of length in µm, signed: above 0 it grows. `difference_um` is seal minus case."""

    seal_um: Range
    case_um: Range
    difference_um: Range


def _above_zero_k(what: str, celsius: float) -> float:
    return within(what, celsius, ABSOLUTE_ZERO_C, 1e4, "°C")


def swing_k(from_c: float, to_c: float) -> float:
    """Size in K of the change between two temperatures in °C; never negative."""
    return abs(_above_zero_k("temperature", to_c) - _above_zero_k("temperature", from_c))


def case_c_after(minutes: float, start_c: float, surroundings_c: float, lag_min: float) -> float:
    """Case temperature in °C after `minutes` in surroundings of a steady temperature in °C.

    First-order lag: T = T_s + (T_0 − T_s) exp(−t/τ), τ = `lag_min` in minutes. Raises ValueError for
    negative minutes or a lag of 0 or less. Newton's law of cooling, textbook.
    """
    within("time", minutes, 0, math.inf, "min")
    remaining = math.exp(-minutes / positive("lag", lag_min, "min"))
    return _above_zero_k("surroundings", surroundings_c) + remaining * (
        _above_zero_k("start", start_c) - surroundings_c
    )


def _change_um(span_m: float, swing: float, alpha_per_k: tuple[float, float]) -> Range:
    """Change of length in µm over a signed swing in K; the value takes the middle of the coefficients."""
    low, high = (alpha * span_m * swing * 1e6 for alpha in alpha_per_k)
    return Range((low + high) / 2, min(low, high), max(low, high))


def differential_expansion(
    span_m: float,
    change_k: float,
    alpha_seal_per_k: tuple[float, float],
    alpha_case_per_k: tuple[float, float],
) -> Expansion:
    """What seal and case do over a span in m when the temperature changes by a signed number of K.

    The coefficients of linear expansion are (low, high) in 1/K. The value takes their middle; low and high
    are the lowest and highest that the ranges allow. Difference = (α_seal − α_case) · span · ΔT, signed.
    Raises ValueError for a negative span or for low above high. Textbook.
    """
    within("span", span_m, 0, math.inf, "m")
    finite("change of temperature", change_k, "K")
    for name, (low, high) in (("seal", alpha_seal_per_k), ("case", alpha_case_per_k)):
        if not low <= high:
            raise ValueError(f"expansion of the {name}: low ({low:g}) must not be above high ({high:g})")
    seal = _change_um(span_m, change_k, alpha_seal_per_k)
    case = _change_um(span_m, change_k, alpha_case_per_k)
    difference = Range(seal.value - case.value, seal.low - case.high, seal.high - case.low)
    return Expansion(seal, case, difference)


def ageing_rate(temp_c: float, ea_j_mol: float, reference_c: float = REFERENCE_C) -> float:
    """How many times faster rubber ages at a temperature in °C than at `reference_c`; dimensionless.

    Arrhenius: r = exp(−Ea/R · (1/T − 1/T_ref)), Ea in J/mol, R of CODATA 2018. Raises ValueError for a
    negative activation energy or a temperature at or below absolute zero.
    """
    within("activation energy", ea_j_mol, 0, math.inf, "J/mol")
    t_k, reference_k = kelvin(temp_c), kelvin(reference_c)
    positive("absolute temperature", min(t_k, reference_k), "K")
    return math.exp(-ea_j_mol / MOLAR_GAS_CONSTANT * (1 / t_k - 1 / reference_k))
