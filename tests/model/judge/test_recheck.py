"""An exposure from a file is judged again, and keeps what was worked out on the day it was logged."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, time

import pytest

from logbook.errors import BadInput
from logbook.model.judge.recheck import kept_gauge_pa, recheck_exposure
from logbook.model.validate.exposure import make_exposure
from logbook.model.values import Exposure, HomeWater, Settings, Watch
from tests.model.builders import PRACTICE

TODAY = date(2026, 8, 1)
HOME = Settings(HomeWater(latitude_deg=45.0))


@pytest.fixture
def dive() -> Exposure:
    return make_exposure(
        PRACTICE, HOME, activity="dive", starts_on=date(2026, 7, 3), today=TODAY, depth_m=40, duration_s=600,
        basis="true", starts_at=time(10, 40), zone="Europe/Berlin",
    )  # fmt: skip


def again(exposure: Exposure, home: Settings = HOME, watch: Watch | None = None) -> Exposure:
    return recheck_exposure(exposure, watch, PRACTICE, home, TODAY)


def refused(exposure: Exposure, watch: Watch | None = None) -> tuple[str | None, str]:
    with pytest.raises(BadInput) as caught:
        again(exposure, watch=watch)
    return caught.value.where, caught.value.message


def test_an_exposure_comes_through_as_it_was_under_any_home_water(dive: Exposure) -> None:
    given = replace(dive, watch_id=3, id=7)
    for degrees in (0.0, 45.0, 90.0):
        home = Settings(HomeWater(20.0, degrees, 500.0), zone="Asia/Tokyo")
        assert again(given, home) == given


def test_the_pressure_of_another_latitude_stays_and_one_of_no_latitude_does_not(dive: Exposure) -> None:
    pole = make_exposure(
        PRACTICE, Settings(HomeWater(latitude_deg=90.0)), activity="dive", starts_on=date(2026, 7, 3),
        today=TODAY, depth_m=40, duration_s=600, basis="true",
    ).gauge_pa  # fmt: skip
    assert again(replace(dive, gauge_pa=pole)).gauge_pa == pole
    for wrong in (0.0, pole * 1.01, dive.gauge_pa * 0.99, -dive.gauge_pa, float("nan")):
        where, said = refused(replace(dive, gauge_pa=wrong))
        assert where == "gauge_pa"
        assert "at 40 m" in said


def test_a_pressure_by_convention_has_one_value(dive: Exposure) -> None:
    """EN 13319: 1019.7 kg/m³ and 9.80665 m/s² make 10 m very nearly 1 bar; see tests/published."""
    shown = replace(dive, basis="EN 13319", depth_m=10.0)
    assert kept_gauge_pa(shown, 99_998.0) == 99_998.0
    for wrong in (99_000.0, 101_000.0):
        with pytest.raises(BadInput, match="The pressure is"):
            kept_gauge_pa(shown, wrong)


def test_in_air_there_is_none(dive: Exposure) -> None:
    dry = replace(dive, water="air", depth_m=0.0)
    assert kept_gauge_pa(dry, 0.0) == 0.0
    with pytest.raises(BadInput, match="in air"):
        kept_gauge_pa(dry, 100.0)


def test_an_offset_stays_though_the_zone_has_another_one_now(dive: Exposure) -> None:
    assert again(replace(dive, utc_offset_s=3600)).utc_offset_s == 3600
    assert again(replace(dive, utc_offset_s=None)).utc_offset_s == 7200
    assert refused(replace(dive, utc_offset_s=60_000))[0] == "utc_offset_s"
    assert refused(replace(dive, starts_at=None))[0] == "utc_offset_s"


def test_a_zone_that_does_not_exist_is_refused_with_or_without_a_time(dive: Exposure) -> None:
    for at in ({}, {"starts_at": None, "utc_offset_s": None}):
        assert refused(replace(dive, zone="Europe/Atlantis", **at))[0] == "zone"


def test_what_its_watch_cannot_have_is_refused(dive: Exposure) -> None:
    plain = Watch("Blue", "divers", 20e5, TODAY, TODAY)
    assert refused(replace(dive, pusher_wet=1), plain)[0] == "pusher_wet"
    assert again(replace(dive, pusher_wet=1), watch=replace(plain, pushers=True)).pusher_wet == 1
