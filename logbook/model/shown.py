"""Prints depths, temperatures, pressures and times for sentences, in metric or imperial units."""

from __future__ import annotations

import math

FOOT_M, INCH_M = 0.3048, 0.0254  # exact: international yard and pound agreement, 1959
BAR_PA = 1e5  # exact
PSI_PA = 0.45359237 * 9.80665 / INCH_M**2  # exact: pound-force per square inch


def show_depth(depth_m: float, units: str = "metric") -> str:
    """`21.3 m`, `0.05 m`, or `70 ft`."""
    if units == "imperial":
        feet = depth_m / FOOT_M
        return f"{_places(feet, 0 if abs(feet) >= 9.95 else 1)} ft"
    return f"{_places(depth_m, 1 if abs(depth_m) >= 0.95 else 2)} m"


def show_temp(celsius: float, units: str = "metric") -> str:
    """`17.5 °C`, or `64 °F`."""
    if units == "imperial":
        return f"{_places(_fahrenheit(celsius), 0)} °F"
    return f"{_places(celsius, 1)} °C"


def show_swing(from_c: float, to_c: float, units: str = "metric", between: str = " → ") -> str:
    """`32 → 19.5 °C`, or `89.6 → 67.1 °F`: it keeps a decimal, so that the difference is right."""
    if units == "imperial":
        return f"{_places(_fahrenheit(from_c), 1)}{between}{_places(_fahrenheit(to_c), 1)} °F"
    return f"{_places(from_c, 1)}{between}{_places(to_c, 1)} °C"


def show_difference(kelvin: float, units: str = "metric") -> str:
    """A difference of temperatures: `12.5 K`, or `22.5 °F`."""
    return f"{_places(kelvin * 9 / 5, 1)} °F" if units == "imperial" else f"{_places(kelvin, 1)} K"


def show_pressure(pressure_pa: float, units: str = "metric") -> str:
    """`2.10 bar`, `0.005 bar`, `20 bar`, or `30.5 psi`; two or three figures."""
    if units == "imperial":
        psi = pressure_pa / PSI_PA
        return f"{psi:.{2 if abs(psi) < 1 else 1 if abs(psi) < 100 else 0}f} psi".replace("-0.00 ", "0.00 ")
    bar = pressure_pa / BAR_PA
    if bar == round(bar):
        return f"{bar:.0f} bar"
    size = abs(bar)
    return f"{bar:.{3 if size < 0.1 else 2 if size < 10 else 1}f} bar".replace("-0.000 ", "0.000 ")


def show_at_least(pressure_pa: float, units: str = "metric") -> str:
    """A gauge pressure that is asked for: like `show_pressure`, but never rounded down."""
    unit_pa = PSI_PA if units == "imperial" else BAR_PA
    size = pressure_pa / unit_pa
    few, some = (1, 100) if units == "imperial" else (0.1, 10)
    most = 2 if units == "imperial" else 3
    step = 10.0 ** -(most if size < few else most - 1 if size < some else most - 2)
    return show_pressure(math.ceil(size / step - 1e-6) * step * unit_pa, units)


def show_judged(pressure_pa: float, units: str = "metric") -> str:
    """A gauge pressure to compare with another: `25.00 bar`, `362.6 psi`, more digits where it is small."""
    if units == "imperial":
        psi = pressure_pa / PSI_PA
        return f"{psi:.1f} psi" if psi >= 0.95 else f"{psi:.2f} psi"
    bar = pressure_pa / BAR_PA
    return f"{bar:.2f} bar" if bar >= 0.095 else f"{bar:.3f} bar"


def show_minutes(duration_s: float) -> str:
    """`38 min`, `38.5 min`, or `30 s` below a minute."""
    if 0 < duration_s < 60:
        return f"{_places(duration_s, 0)} s"
    return f"{_places(duration_s / 60, 1)} min"


def _fahrenheit(celsius: float) -> float:
    return celsius * 9 / 5 + 32


def _places(value: float, places: int) -> str:
    """At most so many decimal places, without trailing or negative zeros."""
    text = f"{value:.{places}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
