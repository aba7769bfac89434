"""What a person would ask back about: depths and lengths beyond what an activity has."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from logbook.model.plausible import doubt, doubtful_field
from logbook.model.values import Exposure
from tests.model.builders import PRACTICE

# Assumptions, written out by hand from the design: the most of depth and minutes.
MOST = {
    "dive": (100, 240), "mixed-gas": (330, 720), "freedive": (140, 480), "snorkel": (12, 360),
    "swim": (10, 480), "pool": (6, 300), "shower": (0.5, 60), "bath": (1, 120), "hot tub": (2, 120),
    "rain": (0.5, 720), "hands": (0.5, 30), "sauna": (0, 120), "boat": (3, 1440),
}  # fmt: skip


def exposure(activity: str, depth_m: float, minutes: float) -> Exposure:
    return Exposure(
        activity=activity, water="sea", depth_m=depth_m, basis="true", gauge_pa=0.0,
        duration_s=round(minutes * 60), water_c=15.0, from_c=32.0, starts_on=date(2026, 11, 25),
    )  # fmt: skip


@pytest.mark.parametrize("activity", MOST)
def test_up_to_the_most_nothing_is_asked_and_beyond_it_something_is(activity: str) -> None:
    depth_m, minutes = MOST[activity]
    at_most = exposure(activity, depth_m, minutes)
    assert doubt(at_most, PRACTICE) is None
    assert doubtful_field(replace(at_most, depth_m=depth_m + 0.1), PRACTICE) == "depth_m"
    assert doubtful_field(replace(at_most, duration_s=at_most.duration_s + 60), PRACTICE) == "duration_s"


def test_every_activity_has_its_most() -> None:
    assert set(PRACTICE.activities) == set(MOST)
    assert all(row.most_depth_m is not None and row.most_minutes for row in PRACTICE.activities.values())


@pytest.mark.parametrize(
    ("activity", "depth_m", "minutes", "units", "question"),
    [
        ("shower", 10, 8, "metric", "10 m deep is more than a shower's 0.5 m: is that right?"),
        ("rain", 1, 8, "metric", "1 m deep is more than rain's 0.5 m: is that right?"),
        ("swim", 12.192, 8, "imperial", "40 ft deep is more than a swim's 33 ft: is that right?"),
        ("hands", 0.1, 45, "metric", "45 min is longer than hand washing's 30 min: is that right?"),
        # Of two doubts the depth is asked about first.
        ("pool", 7, 999, "metric", "7 m deep is more than a pool's 6 m: is that right?"),
    ],
)
def test_the_question_names_both_numbers(
    activity: str, depth_m: float, minutes: float, units: str, question: str
) -> None:
    assert doubt(exposure(activity, depth_m, minutes), PRACTICE, units) == question


def test_an_activity_of_the_owner_without_limits_is_never_asked_about() -> None:
    row = PRACTICE.activities["swim"]._replace(name="paddle", most_depth_m=None, most_minutes=None)
    own = replace(PRACTICE, activities={"paddle": row})
    assert doubt(exposure("paddle", 300, 2000), own) is None
    assert doubt(exposure("gone from the file", 300, 2000), own) is None
