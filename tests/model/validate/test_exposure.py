"""Making an exposure: what is filled in, what is rounded, what is refused."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, time
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import settings as examples
from hypothesis import strategies as st

import logbook
from logbook.errors import BadInput
from logbook.model import practice as practice_file
from logbook.model.practice import Practice
from logbook.model.text import clean, printable
from logbook.model.validate.exposure import RANGES, make_exposure
from logbook.model.values import Exposure, HomeWater, ProfilePoint, Settings, Watch
from tests.effort import tries

TODAY = date(2026, 11, 25)
WATCH = Watch(
    name="Lido quartz", mark="unknown", marked_pa=None, added_on=TODAY, recorded_from=TODAY,
    bought_on=date(2020, 5, 1), id=4,
)  # fmt: skip
PRACTICE = practice_file.parse((Path(logbook.__file__).parent / "practice.toml").read_text(encoding="utf-8"))


def made(activity: str = "swim", practice: Practice = PRACTICE, settings: Settings | None = None,
         starts_on: date = TODAY, **said: Any) -> Exposure:  # fmt: skip
    return make_exposure(
        practice, settings or Settings(), activity=activity, starts_on=starts_on, today=TODAY, **said
    )


def refused(where: str, sentence: str, activity: str = "swim", **said: Any) -> None:
    with pytest.raises(BadInput, match=sentence) as caught:
        made(activity, **said)
    assert caught.value.where == where
    assert caught.value.exit_code == 3


# ---------------------------------------------------------------- pressure


@pytest.mark.parametrize(
    ("said", "gauge_pa", "tolerance_pa"),
    [
        # EN 13319:2000: 1019.7 kg/m³ and 9.80665 m/s², so that 10 m is 1 bar to 4 Pa; true of every water.
        ({"activity": "dive", "depth_m": 20, "duration_s": 60}, 1019.7 * 9.80665 * 20, 0.5),
        ({"activity": "dive", "depth_m": 20, "duration_s": 60, "water": "fresh"}, 1019.7 * 9.80665 * 20, 0.5),
        ({"basis": "fresh", "depth_m": 10}, 98_066.5, 0.5),
        # Column integral with gsw 3.6 and scipy at 45° N: practical salinity 35 at 15 °C; fresh at 20 °C.
        ({"depth_m": 10, "water_c": 15}, 100_611.5, 1),
        ({"depth_m": 100, "water_c": 15}, 1_006_320.7, 1),
        ({"depth_m": 10, "water_c": 20, "water": "fresh"}, 97_888.5, 1),
        ({"depth_m": 0}, 0, 0),
        ({"activity": "sauna"}, 0, 0),
    ],
)
def test_the_pressure_comes_from_the_depth_its_basis_and_the_water(
    said: dict[str, Any], gauge_pa: float, tolerance_pa: float
) -> None:
    found = made(**said)
    assert found.gauge_pa == pytest.approx(gauge_pa, abs=tolerance_pa)
    assert found.gauge_pa == int(found.gauge_pa)


def test_the_latitude_of_the_home_water_counts_for_a_true_depth_and_for_no_other() -> None:
    equator, pole = (Settings(home=HomeWater(latitude_deg=deg)) for deg in (0.0, 90.0))
    # Normal gravity differs by 0.53 % between equator and pole (GRS 80).
    true = [made(settings=where, depth_m=100).gauge_pa for where in (equator, pole)]
    assert true[1] / true[0] == pytest.approx(1.0053, abs=2e-4)
    read = [made("dive", settings=where, depth_m=100, duration_s=60).gauge_pa for where in (equator, pole)]
    assert read[0] == read[1]


def test_saltier_water_presses_more_at_a_true_depth() -> None:
    fresh, brackish, sea = (
        made(depth_m=10, water=water, salinity=salinity).gauge_pa
        for water, salinity in (("fresh", None), ("brackish", 12), ("sea", 38))
    )
    assert fresh < brackish < sea


def test_a_brine_presses_by_the_density_that_its_owner_gives() -> None:
    found = made(depth_m=2, salinity=280, density_kg_m3=1190.00049)
    assert (found.salinity, found.density_kg_m3) == (280.0, 1190.0)
    # Normal gravity of GRS 80 at 45°, 9.80620 m/s²: 1190 · 9.80620 · 2, by hand.
    assert found.gauge_pa == pytest.approx(23_338.8, abs=1)


def test_what_an_instrument_read_in_a_brine_stays_what_it_read() -> None:
    sea, brine = (
        made("dive", depth_m=20, duration_s=60, **water)
        for water in ({}, {"salinity": 280, "density_kg_m3": 1190})
    )
    assert sea.gauge_pa == brine.gauge_pa


# ---------------------------------------------------------------- filling in and rounding


def test_values_are_rounded_to_what_is_stored() -> None:
    found = made(
        depth_m=21.33649,
        duration_s=2279.7,
        water_c=17.77777,
        from_c=31.99951,
        jump_m=3.0481,
        salinity=35.12345,
    )
    assert (found.depth_m, found.duration_s, found.water_c) == (21.336, 2280, 17.778)
    assert (found.from_c, found.jump_m, found.salinity) == (32.0, 3.048, 35.123)


def test_a_value_is_never_the_negative_zero() -> None:
    found = made(water_c=-0.0001, from_c=-0.0001)
    assert str(found.water_c) == str(found.from_c) == "0.0"


def test_seconds_stay_and_parts_of_a_second_go() -> None:
    found = made(starts_at=time(10, 40, 30, 999_999))
    assert (found.starts_at, found.utc_offset_s) == (time(10, 40, 30), 0)


def test_a_date_alone_has_the_owners_zone_and_no_offset() -> None:
    found = made(settings=Settings(zone="Europe/Berlin"))
    assert (found.zone, found.utc_offset_s, found.starts_at) == ("Europe/Berlin", None, None)


def test_another_word_for_an_activity_is_kept_under_its_name() -> None:
    assert made("scuba", depth_m=20, duration_s=60).activity == "dive"


def test_a_given_temperature_may_be_marked_as_assumed_and_else_is_not() -> None:
    assert made(water_c=17).water_c_assumed is False
    assert made(water_c=17, water_c_assumed=True).water_c_assumed is True
    assert made("rain").water_c_assumed is False
    assert made().water_c_assumed is True


@pytest.mark.parametrize(
    ("activity", "water", "water_c", "assumed"),
    [
        ("swim", None, 11, True),
        ("swim", "sea", 11, True),
        ("swim", "fresh", 11, True),
        ("swim", "pool", 27, False),
        ("pool", None, 27, False),
        ("pool", "sea", 11, True),
        ("shower", None, 38, False),
        ("shower", "fresh", 38, False),
        ("swim", "hot tub", 38, False),
    ],
)
def test_a_silent_temperature_is_that_of_the_water(
    activity: str, water: str | None, water_c: float, assumed: bool
) -> None:
    home = Settings(home=HomeWater(monthly_c=(5, 5, 5, 5, 5, 5, 5, 5, 5, 5, 11, 5)))
    found = made(activity, settings=home, water=water)
    assert (found.water_c, found.water_c_assumed) == (water_c, assumed)


@pytest.mark.parametrize(
    ("water", "salinity"), [("sea", 7.5), ("fresh", 0.0), ("pool", 0.0), ("soap", 0.0), ("hot tub", 0.0)]
)
def test_a_silent_salinity_is_the_home_seas_or_none(water: str, salinity: float) -> None:
    assert made(settings=Settings(home=HomeWater(salinity=7.5)), water=water).salinity == salinity


def test_a_true_depth_in_brine_weighs_what_its_density_says() -> None:
    found = made(depth_m=10, salinity=340, density_kg_m3=1240.0004)
    assert (found.salinity, found.density_kg_m3) == (340.0, 1240.0)
    # 1240 kg/m³ × 9.80620 m/s² × 10 m: gravity at 45° by the formula of TEOS-10, appendix D (9.806199).
    assert found.gauge_pa == pytest.approx(121_596.9, abs=1)
    # EN 13319:2000: 1019.7 kg/m³ and 9.80665 m/s² in every water.
    shown = made(depth_m=10, basis="EN 13319", salinity=340, density_kg_m3=1240)
    assert shown.gauge_pa == pytest.approx(1019.7 * 9.80665 * 10, abs=0.5)


def test_what_was_open_is_kept_and_open_pushers_need_pushers() -> None:
    with_pushers = replace(WATCH, pushers=True)
    found = made(crown_open=True, pushers_open=True, watch=with_pushers)
    assert (found.crown_open, found.pushers_open) == (True, True)
    assert (made().crown_open, made().pushers_open) == (False, False)
    refused("pushers_open", "Lido quartz has no pushers", pushers_open=True, watch=WATCH)


def test_air_has_no_salinity() -> None:
    assert made("sauna").salinity is None


def test_a_note_is_one_line() -> None:
    assert made(note="  two\n turtles\t[/] ").note == "two turtles [/]"


# ---------------------------------------------------------------- ranges


@pytest.mark.parametrize(
    ("said", "where", "sentence"),
    [
        ({"depth_m": -0.001}, "depth_m", "-0.001 m is not from 0 to 400 m"),
        ({"depth_m": 401}, "depth_m", r"401 m is not .*\(no diver has been deeper\).*Did you mean 401 ft"),
        ({"depth_m": float("nan")}, "depth_m", "nan m is not"),
        ({"depth_m": float("inf")}, "depth_m", "inf m is not"),
        ({"duration_s": 0}, "duration_s", "0 min is not above 0"),
        ({"duration_s": 0.4}, "duration_s", "0 min is not above 0"),
        ({"duration_s": -60}, "duration_s", "-1 min is not above 0"),
        ({"duration_s": 172_801}, "duration_s", "is not above 0 and up to 2880 min"),
        ({"water_c": -3.1}, "water_c", "-3.1 °C is not from -3 to 60 °C"),
        ({"water_c": 60.1}, "water_c", r"60.1 °C is not .*Did you mean 60.1 °F = 15.6 °C\? Write 60.1F"),
        ({"water_c": 290}, "water_c", r"Did you mean 290 K = 17 °C\? Write 17C"),
        (
            {"water_c": 150},
            "water_c",
            r"150 °C is not from -3 to 60 °C \(colder water freezes, hotter scalds\).$",
        ),
        ({"activity": "sauna", "water_c": 121}, "water_c", "121 °C is not from -20 to 120 °C"),
        ({"activity": "sauna", "water_c": 350}, "water_c", r"Did you mean 350 K = 77 °C\?"),
        ({"from_c": -21}, "from_c", "-21 °C is not from -20 to 70 °C"),
        ({"from_c": 90}, "from_c", r"Did you mean 90 °F = 32.2 °C\?"),
        ({"salinity": 360.1, "density_kg_m3": 1250}, "salinity", "360.1 is not from 0 to 360"),
        ({"salinity": -1}, "salinity", "-1 is not from 0 to 360"),
        ({"salinity": 42.1}, "density_kg_m3", "a brine of 42.1 needs its density too, such as"),
        ({"salinity": 42, "density_kg_m3": 1190}, "density_kg_m3", "leave out 1190 kg/m³, or give its salin"),
        ({"density_kg_m3": 1025}, "density_kg_m3", "Only a brine above salinity 42 takes a density"),
        ({"water": "pool", "density_kg_m3": 1025}, "density_kg_m3", "Only a brine above salinity 42"),
        ({"salinity": 280, "density_kg_m3": 999}, "density_kg_m3", "999 kg/m³ is not from 1000 to 1400"),
        ({"salinity": 280, "density_kg_m3": float("nan")}, "density_kg_m3", "nan kg/m³ is not"),
        ({"dips": 0}, "dips", "0 is not from 1 to 500"),
        ({"dips": 501}, "dips", "501 is not from 1 to 500"),
        ({"dips": 1.5}, "dips", "must be a whole number, not 1.5"),
        ({"jump_m": 31}, "jump_m", r"31 m is not from 0 to 30 m .*Did you mean 31 ft = 9.4 m\?"),
        ({"jump_m": -1}, "jump_m", "-1 m is not"),
        ({"crown_wet": -1}, "crown_wet", "-1 is not from 0 to 100"),
        ({"crown_under": 101}, "crown_under", "101 is not"),
        ({"pusher_wet": 101}, "pusher_wet", "101 is not"),
        ({"pusher_under": 10**6}, "pusher_under", "is not from 0 to 100"),
        ({"activity": "dvie"}, "activity", r"'dvie' is no activity; .* Did you mean dive\?"),
        ({"water": "see"}, "water", r"'see' is no water; there are sea, .* and air. Did you mean sea\?"),
        ({"basis": "msw"}, "basis", "'msw' is no basis of a depth; there are EN 13319, fresh and true"),
        ({"note": "x" * 2_001}, "note", "has 2,001 characters; at most 2,000 fit"),
        ({"note": "a\x00b"}, "note", r"control character \\x00; leave it out"),
        ({"note": "a\u202eb"}, "note", r"control character \\u202e"),
    ],
)
def test_what_is_out_of_range_is_refused_with_its_reason(
    said: dict[str, Any], where: str, sentence: str
) -> None:
    refused(where, sentence, **said)


@pytest.mark.parametrize(
    ("field", "low", "high", "more"),
    [
        ("depth_m", 0, 400, {}),
        ("duration_s", 1, 172_800, {}),
        ("water_c", -3, 60, {}),
        ("from_c", -20, 70, {}),
        ("salinity", 0, 42, {}),
        ("dips", 1, 500, {}),
        ("jump_m", 0, 30, {}),
        ("crown_wet", 0, 100, {}),
        ("water_c", -20, 120, {"activity": "sauna"}),
    ],
)
def test_both_ends_of_a_range_are_in_it(field: str, low: float, high: float, more: dict[str, Any]) -> None:
    assert getattr(made(**{field: low}, **more), field) == low
    assert getattr(made(**{field: high}, **more), field) == high


@pytest.mark.parametrize("quantity", sorted(RANGES))
def test_every_range_says_what_it_is_of_and_why(quantity: str) -> None:
    rule = RANGES[quantity]
    assert rule.low < rule.high
    assert rule.what
    assert rule.reason


# ---------------------------------------------------------------- what is missing, what contradicts


@pytest.mark.parametrize(
    ("said", "where", "sentence"),
    [
        ({"activity": "dive"}, "depth_m", "^How deep was it. A dive needs its depth, such as 21m.$"),
        ({"activity": "dive", "depth_m": 21}, "duration_s", "A dive needs its minutes, such as 38min"),
        ({"water": "brackish"}, "salinity", "How salty was it"),
        ({"water": "fresh", "salinity": 5}, "salinity", "not fresh: write 'brackish 5'"),
        ({"activity": "sauna", "salinity": 5}, "salinity", "not air"),
        ({"water": "air"}, "water", "A swim is not in air: give its water, such as sea"),
        ({"activity": "sauna", "water": "fresh"}, "water", "A sauna is in air"),
        ({"activity": "sauna", "depth_m": 1}, "depth_m", "There is no depth in air"),
        ({"activity": "sauna", "jump_m": 1}, "jump_m", "There is no jump into air"),
        ({"activity": "sauna", "crown_under": 1}, "crown_under", "write 'crown wet'"),
        ({"activity": "sauna", "pusher_under": 1}, "pusher_under", "write 'pusher wet'"),
        ({"depth_m": 0, "crown_under": 1}, "crown_under", "under water at no depth"),
        ({"depth_m": 0.0004, "pusher_under": 1}, "pusher_under", "under water at no depth"),
        ({"watch": WATCH, "pusher_wet": 1}, "pusher_wet", "Lido quartz has no pushers"),
        ({"watch": WATCH, "pusher_under": 1}, "pusher_under", "Lido quartz has no pushers"),
        ({"planned_to": TODAY}, "planned_to", "Only a planned trip has a last day"),
        (
            {"planned": True, "planned_to": date(2026, 11, 24)},
            "planned_to",
            "ends on 2026-11-24, before it starts",
        ),
        ({"planned": True, "planned_to": date(9000, 1, 1)}, "planned_to", "a date lies from"),
        ({"starts_on": date(2026, 11, 26)}, "starts_on", "The swim on 2026-11-26 lies in the future"),
        ({"starts_on": date(2020, 4, 30), "watch": WATCH}, "starts_on", "own first date, 2020-05-01"),
        ({"starts_on": date(1, 1, 1)}, "starts_on", "a date lies from"),
        ({"starts_on": date(9999, 12, 31), "planned": True}, "starts_on", "a date lies from"),
        ({"utc_offset_s": 3600}, "utc_offset_s", "needs a time beside it"),
        (
            {"starts_at": time(10, 40), "utc_offset_s": 3600},
            "utc_offset_s",
            r"not at \+01:00 .* but at \+00:00",
        ),
        ({"starts_at": time(10), "zone": "Mars/Base"}, "zone", "'Mars/Base' is not a time zone"),
        ({"zone": "Europe"}, "zone", "'Europe' is not a time zone"),
        ({"zone": "../../etc/passwd"}, "zone", "is not a time zone"),
        ({"zone": "\x00"}, "zone", r"'\\x00' is not a time zone"),
        ({"zone": ""}, "zone", "'' is not a time zone"),
    ],
)
def test_what_is_missing_or_contradicts_is_refused(said: dict[str, Any], where: str, sentence: str) -> None:
    refused(where, sentence, **said)


def test_what_only_looks_like_a_contradiction_is_taken() -> None:
    assert made("pool", water="sea").water == "sea"
    assert made("dive", depth_m=5, duration_s=60, water="pool").water == "pool"
    assert made(watch=replace(WATCH, pushers=True), pusher_wet=1).pusher_wet == 1
    assert made(pusher_wet=1).pusher_wet == 1  # no watch at hand to ask
    assert made(starts_on=date(2020, 5, 1), watch=WATCH).watch_id == 4
    assert made(starts_at=time(23, 59)).starts_on == TODAY  # of today's times only the day is compared
    assert made(starts_on=date(2027, 7, 1), planned=True, planned_to=date(2027, 7, 1)).planned
    assert made("sauna", crown_wet=1).crown_wet == 1
    assert made(water="fresh", salinity=0).salinity == 0


# ---------------------------------------------------------------- clock changes

# Clock changes in seven zones: EU directive 2000/84/EC for Berlin, the IANA time zone database for the rest.
GAPS = [
    ("Europe/Berlin", date(2026, 3, 29), time(2, 30), "03:30"),
    ("America/New_York", date(2026, 3, 8), time(2, 0), "03:00"),
    ("America/St_Johns", date(2026, 3, 8), time(2, 59), "03:59"),
    ("Australia/Lord_Howe", date(2025, 10, 5), time(2, 15), "02:45"),
    ("Africa/Casablanca", date(2026, 3, 22), time(2, 30), "03:30"),
    ("Asia/Kathmandu", date(1986, 1, 1), time(0, 10), "00:25"),
    ("Pacific/Apia", date(2011, 12, 30), time(12, 0), "2011-12-31 12:00"),
]


@pytest.mark.parametrize(("zone", "day", "clock", "moment"), GAPS)
def test_a_time_that_the_clocks_skipped_is_refused(zone: str, day: date, clock: time, moment: str) -> None:
    sentence = f"did not exist in {zone}: the clocks went forward; write {moment} for that moment"
    refused("starts_at", sentence, starts_on=day, starts_at=clock, zone=zone)


FOLDS = [
    ("Europe/Berlin", date(2026, 10, 25), time(2, 30), 7200, 3600),
    ("America/New_York", date(2025, 11, 2), time(1, 0), -14_400, -18_000),
    ("America/St_Johns", date(2025, 11, 2), time(1, 59), -9_000, -12_600),
    ("Australia/Lord_Howe", date(2026, 4, 5), time(1, 45), 39_600, 37_800),
    ("Africa/Casablanca", date(2026, 2, 15), time(2, 30), 3600, 0),
    ("Pacific/Auckland", date(2026, 4, 5), time(2, 0), 46_800, 43_200),
]


@pytest.mark.parametrize(("zone", "day", "clock", "first_s", "second_s"), FOLDS)
def test_of_a_repeated_time_the_first_is_meant_unless_the_offset_says_which(
    zone: str, day: date, clock: time, first_s: int, second_s: int
) -> None:
    said: dict[str, Any] = {"starts_on": day, "starts_at": clock, "zone": zone}
    assert made(**said).utc_offset_s == first_s
    assert made(**said, utc_offset_s=first_s).utc_offset_s == first_s
    assert made(**said, utc_offset_s=second_s).utc_offset_s == second_s
    refused("utc_offset_s", "leave the offset out", **said, utc_offset_s=1800)


def test_the_fold_of_a_time_value_is_not_looked_at() -> None:
    said: dict[str, Any] = {"starts_on": date(2026, 10, 25), "zone": "Europe/Berlin"}
    assert made(**said, starts_at=time(2, 30, fold=1)) == made(**said, starts_at=time(2, 30))


# ---------------------------------------------------------------- profiles

DOWN_AND_UP = (ProfilePoint(0, 0), ProfilePoint(600, 21.5, 16.5), ProfilePoint(2280, 0, 17))


def test_a_profile_gives_depth_and_duration_where_they_are_silent() -> None:
    found = made("dive", profile=DOWN_AND_UP)
    assert (found.depth_m, found.duration_s, found.profile) == (21.5, 2280, DOWN_AND_UP)


def test_a_depth_and_a_duration_may_be_more_than_the_profile_shows() -> None:
    found = made("dive", profile=DOWN_AND_UP, depth_m=22, duration_s=2400)
    assert (found.depth_m, found.duration_s) == (22, 2400)


def test_the_points_of_a_profile_are_rounded_and_of_one_instant_the_deepest_stays() -> None:
    points = [ProfilePoint(0, 0), ProfilePoint(10.00001, 3.00049), ProfilePoint(10.00002, 4, 16.66666),
              ProfilePoint(10.00003, 2)]  # fmt: skip
    assert made(profile=points).profile == (ProfilePoint(0, 0), ProfilePoint(10, 4, 16.667))


@pytest.mark.parametrize(
    ("points", "more", "where", "sentence"),
    [
        (DOWN_AND_UP, {"depth_m": 21.4}, "depth_m", "goes to 21.5 m, deeper than the 21.4 m given"),
        (DOWN_AND_UP, {"duration_s": 2279}, "duration_s", "lasts 2280 s, longer than the 2279 s given"),
        ([ProfilePoint(0, 0), ProfilePoint(10, 3), ProfilePoint(9, 3)], {}, "profile", "Point 3 .* at 9 s"),
        ([ProfilePoint(-1, 0)], {}, "profile", "Point 1 of the profile is at -1 s"),
        ([ProfilePoint(float("nan"), 0)], {}, "profile", "Point 1"),
        ([ProfilePoint(0, 0), ProfilePoint(172_801, 3)], {}, "profile", "at most two days"),
        ([ProfilePoint(0, 0), ProfilePoint(10, -1)], {}, "profile", "-1 m is not"),
        ([ProfilePoint(0, 0), ProfilePoint(10, 500)], {}, "profile", "500 m is not"),
        ([ProfilePoint(0, 0), ProfilePoint(10, 5, 290)], {}, "profile", "Did you mean 290 K"),
        ([ProfilePoint(0, 0)], {"activity": "dive"}, "duration_s", "0 min is not above 0"),
    ],
)
def test_a_profile_that_cannot_be_is_refused(
    points: list[ProfilePoint], more: dict[str, Any], where: str, sentence: str
) -> None:
    refused(where, sentence, profile=points, **more)


# ---------------------------------------------------------------- properties


@examples(max_examples=tries(300), deadline=None)
@given(
    st.fixed_dictionaries(
        {},
        optional={
            "depth_m": st.floats(allow_nan=True),
            "duration_s": st.floats(allow_nan=True),
            "water_c": st.floats(allow_nan=True),
            "from_c": st.floats(-1e3, 1e3),
            "salinity": st.floats(-1e3, 1e3),
            "dips": st.integers(-(10**9), 10**9),
            "jump_m": st.floats(),
            "crown_under": st.integers(-3, 200),
            "note": st.text(),
            "zone": st.text(max_size=20),
            "starts_on": st.dates(),
            "planned": st.booleans(),
            "starts_at": st.times(),
            "utc_offset_s": st.integers(-(10**6), 10**6),
        },
    ),
    st.sampled_from(sorted(PRACTICE.activities)),
)
def test_whatever_is_said_the_answer_is_in_range_or_bad_input(said: dict[str, Any], activity: str) -> None:
    found = attempt(activity, said)
    if isinstance(found, BadInput):
        assert found.where
        assert found.message
    else:
        assert 0 <= found.depth_m <= 400
        assert 0 <= found.gauge_pa < 4.3e6
        assert 0 < found.duration_s <= 172_800
        assert -20 <= found.water_c <= 120
        assert 1 <= found.dips <= 500


def attempt(activity: str, said: dict[str, Any]) -> Exposure | BadInput:
    try:
        return made(activity, **said)
    except BadInput as error:
        return error


@given(st.text())
def test_a_cleaned_text_stays_as_it_is_and_a_printable_one_has_no_controls(text: str) -> None:
    assert not any(ord(char) < 32 or 127 <= ord(char) < 160 for char in printable(text))
    try:
        tidy = clean(text, "note", "note")
    except BadInput:
        return
    assert clean(tidy, "note", "note") == tidy
