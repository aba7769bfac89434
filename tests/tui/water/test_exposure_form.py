"""What the texts of the form mean, and what stands in it beforehand; no screen."""

from __future__ import annotations

from datetime import date, time
from typing import Any

import pytest

from logbook.errors import BadInput
from logbook.model.validate.exposure import make_exposure
from logbook.model.values import HomeWater, Settings, Watch
from logbook.record.file.practice_file import load_practice
from logbook.tui.water import form, remembered
from logbook.tui.water.form import QUESTIONS, Around
from tests.tui.helpers import HOSTILE

PRACTICE = load_practice()
TODAY = date(2026, 11, 25)  # a Wednesday
WATCH = Watch(
    "Blue bezel", "divers", 20e5, date(2025, 1, 1), date(2025, 1, 1), pushers=True, new_on=date(2024, 1, 1)
)
DIVE = {"what": "dive", "depth": "21", "minutes": "38"}


def around(**more: Any) -> Around:
    told: dict[str, Any] = {"settings": Settings(), "units": "metric", "watch": WATCH} | more
    return Around(PRACTICE, today=TODAY, **told)


def read(texts: dict[str, str], **more: Any) -> form.Reading:
    return form.read(DIVE | texts, around(**more), QUESTIONS)


RIGHT = [
    ({}, {"activity": "dive", "depth_m": 21.0, "duration_s": 2280, "water": "sea", "basis": "EN 13319"}),
    ({"what": "DI"}, {"activity": "dive"}),
    ({"what": "scuba"}, {"activity": "dive"}),
    ({"what": "mixed gas"}, {"activity": "mixed-gas"}),
    ({"what": "hot"}, {"activity": "hot tub", "water": "hot tub"}),
    ({"depth": "70ft"}, {"depth_m": 21.336}),
    ({"depth": "21.5 m"}, {"depth_m": 21.5}),
    ({"minutes": "1h10"}, {"duration_s": 4200}),
    ({"minutes": "90 s"}, {"duration_s": 90}),
    ({"water": "brackish 12"}, {"water": "brackish", "salinity": 12.0}),
    ({"water": "sea salinity 38"}, {"water": "sea", "salinity": 38.0}),
    ({"water": "lake"}, {"water": "fresh", "salinity": 0.0}),
    ({"temp": "64F"}, {"water_c": 17.778, "water_c_assumed": False}),
    ({"temp": "~12"}, {"water_c": 12.0, "water_c_assumed": True}),
    ({"temp": ""}, {"water_c": 15.0, "water_c_assumed": True}),
    ({"from": "28"}, {"from_c": 28.0}),
    ({"dips": "8 dips"}, {"dips": 8}),
    ({"crown": "wet 3 times"}, {"crown_wet": 3, "crown_under": 0}),
    ({"crown": "under water"}, {"crown_wet": 0, "crown_under": 1}),
    ({"crown": "wet twice, under"}, {"crown_wet": 2, "crown_under": 1}),
    ({"crown": "not touched"}, {"crown_wet": 0, "crown_under": 0}),
    ({"crown": "open"}, {"crown_open": True, "crown_wet": 0}),
    ({"crown": "not screwed down"}, {"crown_open": True}),
    ({"crown": "open, wet twice"}, {"crown_open": True, "crown_wet": 2}),
    ({"crown": "closed"}, {"crown_open": False}),
    ({"pushers": "wet"}, {"pusher_wet": 1}),
    ({"jump": "3"}, {"jump_m": 3.0}),
    ({"jump": "none"}, {"jump_m": 0.0}),
    ({"when": ""}, {"starts_on": TODAY, "starts_at": None}),
    ({"when": "10:40"}, {"starts_on": TODAY, "starts_at": time(10, 40)}),
    ({"when": "sat 10:40"}, {"starts_on": date(2026, 11, 21), "starts_at": time(10, 40)}),
    ({"when": "yesterday"}, {"starts_on": date(2026, 11, 24)}),
    ({"when": "12 mar 9:05"}, {"starts_on": date(2026, 3, 12), "starts_at": time(9, 5)}),
    ({"when": "2026-07-03"}, {"starts_on": date(2026, 7, 3)}),
]


@pytest.mark.parametrize(("texts", "expected"), RIGHT, ids=lambda each: str(each)[:50])
def test_each_answer_means_what_it_says(texts: dict[str, str], expected: dict[str, Any]) -> None:
    reading = read(texts)
    assert reading.fault is None
    assert {name: getattr(reading.exposure, name) for name in expected} == expected


@pytest.mark.parametrize(
    ("texts", "expected"),
    [
        ({"depth": "70"}, ("depth_m", 21.336)),
        ({"temp": "64"}, ("water_c", 17.778)),
        ({"jump": "10"}, ("jump_m", 3.048)),
    ],
)
def test_a_bare_number_takes_the_owners_unit(texts: dict[str, str], expected: tuple[str, float]) -> None:
    reading = read(texts, units="imperial", settings=Settings(units="imperial"))
    assert getattr(reading.exposure, expected[0]) == expected[1]


WRONG = [
    ("what", "", "Which activity? There are dive, mixed-gas"),
    ("what", "flurb", "'flurb' is no activity"),
    ("what", "s", "'s' begins"),
    ("depth", "900", "900 m is not from 0 to 400 m"),
    ("depth", "900", "Did you mean 900 ft = 274.3 m? Write 900ft."),
    ("depth", "-3", "-3 m is not from 0"),
    ("depth", "17C", "17C is a temperature, but a length belongs here"),
    ("depth", "deep", "'deep' is not a number with a unit"),
    ("depth", "21,000", "21,000 can be read in two ways"),
    ("minutes", "0", "0 min is not above 0"),
    ("minutes", "3000", "two days"),
    ("minutes", "21m", "21m is a length, but a time belongs here"),
    ("water", "milk", "'milk' is not understood here"),
    ("water", "brackish", "Brackish water needs its salinity"),
    ("water", "sea 17C", "More stands here than belongs here"),
    ("water", "air", "not in air"),
    ("temp", "290", "Did you mean 290 K"),
    ("temp", "70", "Did you mean 70 °F = 21.1 °C? Write 70F."),
    ("temp", "-9", "colder water freezes"),
    ("from", "99", "Did you mean 99 °F"),
    ("dips", "0", "from 1 to 500"),
    ("dips", "2.5", "write a whole number"),
    ("crown", "screwed", "not touched, wet, under water"),
    ("crown", "wet 900", "from 0 to 100"),
    ("pushers", "pressed", "not touched, wet, under water"),
    ("jump", "50", "nobody jumps from higher"),
    ("when", "tomorrow", "lies in the future: today is 2026-11-25"),
    ("when", "2023-05-01", "before the watch's own first date, 2024-01-01"),
    ("when", "3/4/2026", "write the year first"),
    ("when", "someday", "'someday' is not a date"),
    ("when", "sat 25:00", "not a time of day"),
    ("when", "sat rinsed", "More stands here than belongs here"),
    ("when", "2026-07-03..2026-07-10", "More stands here than belongs here"),
]


@pytest.mark.parametrize(("question", "text", "says"), WRONG)
def test_a_wrong_answer_is_said_at_its_question(question: str, text: str, says: str) -> None:
    reading = read({question: text})
    assert reading.exposure is None
    assert list(reading.wrong) == [question]
    assert says in reading.wrong[question]


def test_two_wrong_answers_are_both_marked() -> None:
    assert list(read({"depth": "900", "temp": "290"}).wrong) == ["depth", "temp"]


def test_two_answers_that_contradict_each_other_are_refused_at_one_of_them() -> None:
    reading = read({"depth": "0", "crown": "under water"})
    assert "Nothing is under water at no depth" in reading.wrong["crown"]


def test_a_dive_asks_for_depth_and_minutes_before_anything_is_wrong() -> None:
    without_depth = read({"depth": ""})
    assert list(without_depth.missing) == ["depth"]
    assert without_depth.sketch is None
    without_minutes = read({"minutes": ""})
    assert list(without_minutes.missing) == ["minutes"]
    assert without_minutes.sketch is not None
    assert without_minutes.exposure is None


def test_saving_a_form_with_a_gap_names_the_question() -> None:
    with pytest.raises(BadInput, match="How long was it") as raised:
        form.exposure_of(DIVE | {"minutes": ""}, around(), QUESTIONS, rinsed=True)
    assert raised.value.where == "minutes"


def test_pushers_are_asked_about_only_where_there_are_any() -> None:
    plain = Watch("Plain", "divers", 20e5, date(2025, 1, 1), date(2025, 1, 1))
    assert "pushers" not in [question.name for question in form.asked(QUESTIONS, plain)]
    assert "pushers" in [question.name for question in form.asked(QUESTIONS, WATCH)]


def test_the_line_of_the_room_needs_no_nickname() -> None:
    exposure = form.read_line("dive 21m 38min sea 17C rinsed", around())
    assert (exposure.depth_m, exposure.duration_s, exposure.water_c, exposure.rinsed) == (
        21.0,
        2280,
        17.0,
        True,
    )


@pytest.mark.parametrize("activity", list(PRACTICE.activities))
def test_what_stands_in_the_form_beforehand_can_be_read(activity: str) -> None:
    row = PRACTICE.activities[activity]
    texts = remembered.prefilled(row, None, around())
    reading = form.read({"what": activity} | texts, around(), QUESTIONS)
    assert not reading.wrong
    assert list(reading.missing) == (["depth"] if row.depth_m is None else [])


@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_the_last_exposure_comes_back_but_for_rinse_crown_and_day(units: Any) -> None:
    last = make_exposure(
        PRACTICE, Settings(), activity="dive", starts_on=date(2026, 11, 1), today=TODAY, depth_m=20.93,
        duration_s=2290, water="brackish", salinity=12, water_c=9.5, from_c=30, jump_m=2, dips=2, rinsed=True,
        crown_wet=2, watch=WATCH,
    )  # fmt: skip
    texts = remembered.prefilled(PRACTICE.activities["dive"], last, around(units=units))
    again = form.read({"what": "dive"} | texts, around(units=units), QUESTIONS).exposure
    assert again is not None
    assert (again.depth_m, again.gauge_pa, again.jump_m) == (20.93, last.gauge_pa, 2.0)
    assert (again.water_c, again.from_c) == (9.5, 30.0)
    assert (again.duration_s, again.salinity, again.dips) == (2290, 12.0, 2)
    assert (again.rinsed, again.crown_wet, again.starts_on) == (False, 0, TODAY)


def test_a_temperature_that_was_not_measured_is_not_remembered() -> None:
    last = make_exposure(
        PRACTICE, Settings(), activity="dive", starts_on=TODAY, today=TODAY, depth_m=20, duration_s=60
    )
    assert last.water_c_assumed
    assert remembered.prefilled(PRACTICE.activities["dive"], last, around())["temp"] == ""


def test_an_empty_temperature_says_where_it_will_come_from() -> None:
    dive = PRACTICE.activities["dive"]
    assert remembered.silent_words(dive, around())["temp"] == "assumed 15 °C"
    home = Settings(home=HomeWater(monthly_c=(8.0,) * 12))
    assert "home water" in remembered.silent_words(dive, around(settings=home))["temp"]


@pytest.mark.parametrize("text", HOSTILE, ids=lambda text: ascii(text)[:30])
def test_hostile_text_is_an_answer_like_any_other(text: str) -> None:
    for question in QUESTIONS:
        reading = read({question.name: text})
        for sentence in (*reading.wrong.values(), *reading.missing.values()):
            assert len(sentence) < 400
            assert all(char >= " " for char in sentence)
