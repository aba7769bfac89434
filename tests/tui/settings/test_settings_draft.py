"""The settings as the texts of a form, and back."""

from __future__ import annotations

from zoneinfo import available_timezones

import pytest

from logbook.model.values import HomeWater, Settings
from logbook.tui.settings.draft import MONTHS, Reading, read, texts_of, zones_like
from tests.tui.helpers import HOSTILE

YEAR_C = (13.25, 12, 13, 14, 17, 20, 23, 24, 22, 20, 17, 15)
SET = Settings(HomeWater(38.5, 43.123456, 123.456, YEAR_C), "Europe/Rome", "metric")
ZONES = sorted(available_timezones())


def said(before: Settings, units: str = "metric", **typed: str) -> Reading:
    """What a form filled from `before` says once some of it was typed over."""
    stood = texts_of(before, units)
    return read(stood | {"units": units} | typed, before, stood, "UTC")


@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_what_is_not_touched_keeps_every_figure(units: str) -> None:
    found = said(SET, units).settings
    assert found is not None
    assert (found.home, found.zone, found.units) == (SET.home, SET.zone, units)


def test_quantities_come_in_any_unit_and_numbers_alone_in_the_units_that_were_picked() -> None:
    found = said(
        SET, "imperial", altitude="1500 ft", jan="59F", feb="15C", mar="59", latitude="-33.9°"
    ).settings
    assert found is not None
    home = found.home
    assert home.monthly_c is not None
    assert (home.altitude_m, home.latitude_deg, home.monthly_c[:3]) == (457.2, -33.9, (15.0, 15.0, 15.0))
    assert said(SET, altitude="1500").settings.home.altitude_m == 1500  # type: ignore[union-attr]


def test_an_empty_answer_means_the_usual_one() -> None:
    found = said(SET, zone="", salinity="", latitude=" ", altitude="", **dict.fromkeys(MONTHS, "")).settings
    assert found == Settings(HomeWater(), "UTC", "metric")


def test_months_are_all_or_none_and_the_missing_ones_are_named() -> None:
    assert said(SET, feb="", dec="").wrong == {"months": "All twelve months, or none: feb and dec have none."}
    assert said(SET, feb="").wrong == {"months": "All twelve months, or none: feb has none."}


@pytest.mark.parametrize(
    ("name", "text", "words"),
    [
        ("salinity", "50", "42"),
        ("salinity", "salty", "'salty' is no salinity: a number without a unit, such as 38."),
        ("latitude", "100", "from pole to pole"),
        ("latitude", "10 m", "is no latitude"),
        ("altitude", "9000m", "out of range"),
        ("altitude", "12C", "a length belongs here"),
        ("zone", "Europe/Berln", "Did you mean Europe/Berlin?"),
        ("jul", "90", "out of range"),
        ("jul", "300K", "not in kelvin"),
    ],
)
def test_what_is_wrong_is_said_of_its_own_field(name: str, text: str, words: str) -> None:
    reading = said(SET, **{name: text})
    assert reading.settings is None
    assert list(reading.wrong) == [name]
    assert words in reading.wrong[name]


@pytest.mark.parametrize("name", ["zone", "salinity", "latitude", "altitude", "jan"])
def test_hostile_text_is_answered_in_words(name: str) -> None:
    for text in HOSTILE:
        reading = said(SET, **{name: text})
        assert reading.settings is not None or set(reading.wrong) <= {name, "months"}
        assert all(len(words) < 300 for words in reading.wrong.values())


@pytest.mark.parametrize(
    ("typed", "first"),
    [
        ("rome", "Europe/Rome"),
        ("new york", "America/New_York"),
        ("Berln", "Europe/Berlin"),
        ("europe/lisb", "Europe/Lisbon"),
        ("kolkta", "Asia/Kolkata"),
    ],
)
def test_zones_are_offered_by_the_name_of_a_place(typed: str, first: str) -> None:
    assert zones_like(typed, ZONES)[0] == first


def test_no_zone_is_offered_for_nothing_or_for_one_that_there_is() -> None:
    assert zones_like("", ZONES) == zones_like("Europe/Rome", ZONES) == []
    assert zones_like("x" * 10_000, ZONES) == []
