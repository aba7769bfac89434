"""Physical constants and conventional values, each with its source on the same line."""

from __future__ import annotations

STANDARD_GRAVITY = 9.80665  # m/s², exact: 3rd General Conference on Weights and Measures, 1901
STANDARD_ATMOSPHERE_PA = 101_325.0  # Pa, exact: 10th General Conference on Weights and Measures, 1954
MOLAR_GAS_CONSTANT = 8.314462618  # J/(mol K): CODATA 2018, exact since 2019 (rounded at the tenth digit)
VAPOUR_GAS_CONSTANT = 461.5  # J/(kg K), water vapour: R / 18.015 g/mol, rounded as meteorologists use it
ICE_POINT_K = 273.15  # K at 0 °C, exact: definition of the Celsius scale
FRESH_WATER_KG_M3 = 1000.0  # kg/m³: the round figure of instruments and worked examples, no source
ABSOLUTE_ZERO_C = -ICE_POINT_K  # °C


def kelvin(celsius: float) -> float:
    """Thermodynamic temperature in K of a temperature in °C (definition of the Celsius scale)."""
    return celsius + ICE_POINT_K
