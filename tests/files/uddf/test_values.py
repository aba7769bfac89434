"""The edges of what a value of a dive file may be."""

from __future__ import annotations

import io
from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from logbook.files.uddf.reading import FileDive, read_dives
from logbook.files.uddf.values import read_when
from tests.files.uddf.writing import Written, uddf

DIVE = Written("d1", datetime(2026, 7, 3, 9, 40), 21.0, 2280.0)


def read(dive: Written) -> FileDive:
    (found,) = read_dives(io.BytesIO(uddf([dive])), "one.uddf")
    return found


@pytest.mark.parametrize(
    ("offset", "hours"), [("+05:45", 5.75), ("-0330", -3.5), ("+14", 14.0), ("-12:00", -12.0)]
)
def test_an_offset_is_hours_and_minutes(offset: str, hours: float) -> None:
    found = read_when(f"2026-07-03T09:40:00{offset}")
    assert not isinstance(found, str)
    assert found[0].utcoffset() == timedelta(hours=hours)


@pytest.mark.parametrize("offset", ["+02:75", "+25:00", "-99:99", "+00:60"])
def test_an_offset_that_no_clock_has_is_refused(offset: str) -> None:
    found = read_when(f"2026-07-03T09:40:00{offset}")
    assert isinstance(found, str)
    assert "its offset from UTC" in found


def test_the_deepest_that_a_diver_has_been_is_a_dive_and_a_millimetre_more_is_none() -> None:
    assert read(replace(DIVE, depth_m=400.0)).problem == ""
    assert "no diver has been deeper than 400 m" in read(replace(DIVE, depth_m=400.001)).problem
