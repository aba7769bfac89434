"""Quantities: read with their units, shown with sensible rounding."""

from __future__ import annotations

import math
import subprocess
import sys
from functools import cache
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.errors import BadInput
from logbook.text import quantities as q
from tests.effort import tries


@cache
def pint_registry() -> Any:
    """One for all: each takes 0.3 s."""
    import pint

    return pint.UnitRegistry()


@pytest.mark.parametrize(
    ("text", "metres"),
    [
        ("21m", 21),
        ("21 m", 21),
        ("  21   m ", 21),
        ("21.5m", 21.5),
        ("21,5 m", 21.5),
        (".5m", 0.5),
        ("0,125 m", 0.125),
        ("70ft", 70 * 0.3048),
        ("70 feet", 70 * 0.3048),
        ("1 foot", 0.3048),
        ("150cm", 1.5),
        ("1500 mm", 1.5),
        ("21 METRES", 21),
        ("−3 m", -3),
        ("-3m", -3),
        ("+3m", 3),
        ("1e1 m", 10),
        ("12 in", 0.3048),
        ("21m.", 21),
    ],
)
def test_a_length_is_read_in_metres(text: str, metres: float) -> None:
    assert q.parse_length_m(text) == pytest.approx(metres, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "seconds"),
    [
        ("38min", 2280),
        ("38 minutes", 2280),
        ("1h", 3600),
        ("1h10", 4200),
        ("1h10m", 4200),
        ("1h10min", 4200),
        ("1 h 10 min", 4200),
        ("38min30s", 2310),
        ("38min30", 2310),
        ("90s", 90),
        ("1.5 h", 5400),
        ("2 days", 172800),
    ],
)
def test_a_duration_is_read_in_seconds(text: str, seconds: float) -> None:
    assert q.parse_duration_s(text) == seconds


@pytest.mark.parametrize(
    ("text", "celsius"),
    [
        ("17C", 17),
        ("17 °C", 17),
        ("17ºC", 17),
        ("17 celsius", 17),
        ("64F", 160 / 9),
        ("32 °F", 0),
        ("-2C", -2),
        ("17,5C", 17.5),
        ("-40F", -40),
        ("212 °F", 100),
    ],
)
def test_a_temperature_is_read_in_degrees_celsius(text: str, celsius: float) -> None:
    assert q.parse_temperature_c(text) == pytest.approx(celsius, abs=1e-12)


@pytest.mark.parametrize(
    ("text", "pascal"),
    [
        ("20bar", 2e6),
        ("20 BAR", 2e6),
        ("-0.3 bar", -3e4),
        ("500 mbar", 5e4),
        ("1013.25 hPa", 101325),
        ("100 kPa", 1e5),
        ("0.1 MPa", 1e5),
        ("3 atm", 303975),
        ("5 Pa", 5),
    ],
)
def test_a_pressure_is_read_in_pascal(text: str, pascal: float) -> None:
    assert q.parse_pressure_pa(text) == pytest.approx(pascal, rel=1e-12)


def test_pounds_per_square_inch_are_pound_force_by_definition() -> None:
    # NIST SP 811 (2008), appendix B.8: 1 psi = 6.894 757 E+03 Pa, to the seven figures printed.
    assert q.parse_pressure_pa("1 psi") == pytest.approx(6894.757, abs=5e-4)


@pytest.mark.parametrize(
    ("text", "metres_per_second"),
    [("2m/s", 2), ("3.6 km/h", 1), ("1 kn", 1852 / 3600), ("2 knots", 2 * 1852 / 3600), ("1 mph", 0.44704)],
)
def test_a_speed_is_read_in_metres_per_second(text: str, metres_per_second: float) -> None:
    assert q.parse_speed_m_s(text) == pytest.approx(metres_per_second, rel=1e-12)


@pytest.mark.parametrize(("text", "bar"), [("200m", 20), ("20bar", 20), ("660 ft", 20.1168), ("30 m", 3)])
def test_a_marked_depth_becomes_a_pressure_by_the_trades_ten_metres_to_a_bar(text: str, bar: float) -> None:
    assert q.parse_marked_pa(text) == pytest.approx(bar * 1e5, rel=1e-12)


@pytest.mark.parametrize("word", sorted(q.UNITS))
def test_every_common_unit_has_the_value_that_pint_gives_it(word: str) -> None:
    # Oracle: pint 0.25, its default registry of exact definitions.
    names = {
        "in": "inch", "kn": "knot", "kt": "knot", "kts": "knot", "knots": "knot", "d": "day",
        "secs": "second", "mins": "minute", "hrs": "hour", "pa": "pascal", "hpa": "hectopascal",
        "kpa": "kilopascal", "atmospheres": "atmosphere", "fps": "foot/second", "kmh": "km/h",
    }  # fmt: skip
    si = {q.LENGTH: "m", q.TIME: "s", q.PRESSURE: "Pa", q.SPEED: "m/s"}
    kind, factor = q.UNITS[word]
    value = pint_registry().Quantity(1, names.get(word, word)).to(si[kind]).magnitude
    assert factor == pytest.approx(value, rel=1e-12)


@given(st.floats(-100, 200))
def test_fahrenheit_and_celsius_agree_with_pint(fahrenheit: float) -> None:
    text = f"{fahrenheit:.6f}"
    expected = pint_registry().Quantity(float(text), "degF").to("degC").magnitude
    assert q.parse_temperature_c(f"{text} F") == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize(
    ("parse", "text", "value"),
    [
        (q.parse_length_m, "2 yards", 1.8288),
        (q.parse_pressure_pa, "1 kgf/cm2", 98066.5),
        (q.parse_pressure_pa, "760 torr", 101325),
        (q.parse_duration_s, "1 week", 604800),
        (q.parse_speed_m_s, "100 cm/s", 1),
    ],
)
def test_rarer_units_are_left_to_pint(parse, text: str, value: float) -> None:  # type: ignore[no-untyped-def]
    assert parse(text) == pytest.approx(value, rel=1e-9)


def test_common_units_are_read_without_loading_pint() -> None:
    code = (
        "import sys; from logbook.text import quantities as q;"
        "q.parse_length_m('70ft'); q.parse_pressure_pa('3 bar'); q.parse_duration_s('1h10');"
        "q.parse_temperature_c('64F'); q.parse_speed_m_s('2 kn'); q.show_depth(21, 'imperial');"
        "sys.exit('pint' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


@pytest.mark.parametrize(
    ("parse", "text", "words"),
    [
        (q.parse_length_m, "21", "no unit: write m, cm, mm or ft, such as 21m"),
        (q.parse_length_m, "21min", "21min is a time, but a length belongs here"),
        (q.parse_length_m, "21 foos", "'foos' is not a unit known here"),
        (q.parse_length_m, "", "not a number with a unit"),
        (q.parse_length_m, "m", "not a number with a unit"),
        (q.parse_length_m, "deep", "not a number with a unit"),
        (q.parse_length_m, "21 m m", "not a unit known"),
        (q.parse_length_m, "1,000 m", "two ways: write 1000, or 1.000"),
        (q.parse_length_m, "12,500ft", "two ways: write 12500, or 12.500"),
        (q.parse_length_m, "1e999 m", "too large"),
        (q.parse_length_m, "1e308 km", "too large"),
        (q.parse_length_m, "nan m", "not a number"),
        (q.parse_length_m, "inf m", "not a number"),
        (q.parse_length_m, "9" * 5000 + "m", "not a number with a unit"),
        (q.parse_length_m, "2 m**9", "not a unit known"),
        (q.parse_length_m, "2 __import__", "not a unit known"),
        (q.parse_length_m, "38'", "not a unit known"),
        (q.parse_pressure_pa, "20m", "20m is a length, but a pressure belongs here"),
        (q.parse_duration_s, "10:40", "not a unit known|not a number"),
        (q.parse_duration_s, "1h75", "not a unit known"),
        (q.parse_duration_s, "1:75", "not a unit known|not a number"),
        (q.parse_speed_m_s, "3m", "a speed belongs here"),
        (q.parse_temperature_c, "17", "no unit: write C or F"),
        (q.parse_temperature_c, "17°", "not a unit known"),
        (q.parse_temperature_c, "290K", "not in kelvin; 290 K is 16.85 °C: write 16.85C"),
        (
            q.parse_temperature_c,
            "290C",
            r"290 °C is hotter than any water.*Did you mean 290 K = 17 °C\? Write 17C",
        ),
        (q.parse_temperature_c, "21m", "a temperature belongs here"),
    ],
)
def test_what_is_no_such_quantity_is_refused_with_what_would_be_right(parse, text: str, words: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(BadInput, match=words) as caught:
        parse(text, "field")
    assert caught.value.where == "field"
    assert len(caught.value.message) < 250


def test_a_bare_number_is_taken_in_the_unit_that_the_caller_allows() -> None:
    assert q.parse_length_m("21", default_unit="m") == 21
    assert q.parse_length_m("70", default_unit="ft") == pytest.approx(21.336)
    assert q.parse_temperature_c("64", default_unit="F") == pytest.approx(17.7778, abs=1e-4)
    assert q.parse_duration_s("38", default_unit="min") == 2280
    assert q.parse_length_m("70ft", default_unit="m") == pytest.approx(21.336)  # a unit that is there wins


@pytest.mark.parametrize("char", ["\x1b", "\x00", "\u202e", "\x9b"])
def test_a_message_never_holds_a_raw_control_character(char: str) -> None:
    for text in (f"21{char}m", f"{char}21m", f"21 m{char}"):
        with pytest.raises(BadInput) as caught:
            q.parse_length_m(text)
        assert char not in caught.value.message


@settings(max_examples=tries(300), deadline=None)
@given(st.text(max_size=30))
def test_any_text_is_a_quantity_or_bad_input(text: str) -> None:
    found = attempt(text)
    if isinstance(found, BadInput):
        assert found.message
    else:
        assert math.isfinite(found)


def attempt(text: str) -> float | BadInput:
    try:
        return q.measure(text, pint=False)[1]
    except BadInput as error:
        return error


@pytest.mark.parametrize(
    ("metres", "metric", "imperial"),
    [
        (21, "21 m", "69 ft"),
        (21.336, "21.3 m", "70 ft"),
        (1.5, "1.5 m", "4.9 ft"),
        (0.05, "0.05 m", "0.2 ft"),
        (0, "0 m", "0 ft"),
        (100, "100 m", "328 ft"),
        (-0.001, "0 m", "0 ft"),
    ],
)
def test_a_depth_is_shown_with_its_unit(metres: float, metric: str, imperial: str) -> None:
    assert q.show_depth(metres, "metric") == metric
    assert q.show_depth(metres, "imperial") == imperial


@pytest.mark.parametrize(
    ("celsius", "metric", "imperial"),
    [(17, "17 °C", "63 °F"), (17.54, "17.5 °C", "64 °F"), (-0.04, "0 °C", "32 °F"), (-3, "-3 °C", "27 °F")],
)
def test_a_temperature_is_shown_with_its_unit(celsius: float, metric: str, imperial: str) -> None:
    assert q.show_temp(celsius) == metric
    assert q.show_temp(celsius, "imperial") == imperial


@pytest.mark.parametrize(
    ("pascal", "metric", "imperial"),
    [
        (210_000, "2.10 bar", "30.5 psi"),
        (500, "0.005 bar", "0.07 psi"),
        (2_000_000, "20 bar", "290 psi"),
        (1_234_567, "12.3 bar", "179 psi"),
        (0, "0 bar", "0.00 psi"),
        (33_000, "0.33 bar", "4.8 psi"),
    ],
)
def test_a_pressure_is_shown_with_its_unit(pascal: float, metric: str, imperial: str) -> None:
    assert q.show_pressure(pascal) == metric
    assert q.show_pressure(pascal, "imperial") == imperial


@pytest.mark.parametrize(
    ("seconds", "shown"),
    [(2280, "38 min"), (2310, "38.5 min"), (30, "30 s"), (0, "0 min"), (7200, "120 min")],
)
def test_a_duration_is_shown_in_minutes(seconds: float, shown: str) -> None:
    assert q.show_minutes(seconds) == shown
