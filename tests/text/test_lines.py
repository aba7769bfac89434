"""One-line entries: what each word means, and the caret under the one that means nothing."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, time
from pathlib import Path
from typing import Any

import pytest

import logbook
from logbook.errors import BadInput, LogbookError, NotFound, NotUnderstood
from logbook.model import practice as practice_file
from logbook.model.practice import Practice
from logbook.model.values import Exposure, HomeWater, ProfilePoint, Settings, Watch
from logbook.text.lines import amend_words, parse_entry, print_entry

TODAY = date(2026, 11, 25)  # a Wednesday
SETTINGS = Settings(zone="Europe/Berlin")
WATCHES = tuple(
    Watch(
        name=name, mark="divers", marked_pa=20e5, added_on=TODAY, recorded_from=TODAY, pushers=pushers, id=n
    )
    for n, (name, pushers) in enumerate(
        [("Blue bezel", True), ("Gran's chrono", True), ("Lido quartz", False), ("Blue hour", False)], 1
    )
)


@pytest.fixture(scope="module")
def practice() -> Practice:
    text = (Path(logbook.__file__).parent / "practice.toml").read_text(encoding="utf-8")
    return practice_file.parse(text)


def entry(practice: Practice, line: str, settings: Settings = SETTINGS, **more: Any) -> Exposure:
    return parse_entry(line, practice=practice, settings=settings, today=TODAY, watches=WATCHES, **more)


def nameless(practice: Practice, line: str, settings: Settings = SETTINGS, **more: Any) -> Exposure:
    return entry(practice, line, settings, with_name=False, **more)


def test_the_entry_of_a_dive_gives_all_that_it_says(practice: Practice) -> None:
    found = entry(practice, "blue bezel: dive 21m 38min sea 17C rinsed")
    assert found == Exposure(
        activity="dive", water="sea", depth_m=21.0, basis="EN 13319", gauge_pa=209_997.0, duration_s=2280,
        water_c=17.0, from_c=32.0, starts_on=TODAY, zone="Europe/Berlin", salinity=35.0, rinsed=True,
        watch_id=1,
    )  # fmt: skip


def test_a_rain_is_one_word(practice: Practice) -> None:
    found = entry(practice, "gran's chrono: rain")
    assert (found.activity, found.water, found.depth_m, found.duration_s) == ("rain", "fresh", 0.05, 1200)
    assert (found.water_c, found.water_c_assumed, found.rinsed, found.watch_id) == (12.0, False, False, 2)


def test_a_pool_visit_takes_its_day(practice: Practice) -> None:
    found = entry(practice, "lido quartz: pool 60min 27C on 2026-07-03")
    assert (found.activity, found.water, found.duration_s) == ("pool", "pool", 3600)
    assert (found.starts_on, found.water_c) == (date(2026, 7, 3), 27.0)


# What every activity means where the line is silent, written out by hand.
@pytest.mark.parametrize(
    ("line", "water", "depth_m", "minutes", "water_c", "assumed", "dips", "basis"),
    [
        ("dive 21m 38min", "sea", 21, 38, 15, True, 1, "EN 13319"),
        ("scuba 21m 38min", "sea", 21, 38, 15, True, 1, "EN 13319"),
        ("mixed-gas 70m 90min", "sea", 70, 90, 15, True, 1, "EN 13319"),
        ("freedive 12m", "sea", 12, 60, 15, True, 20, "EN 13319"),
        ("snorkel", "sea", 3, 45, 15, True, 8, "true"),
        ("swim", "sea", 1.5, 30, 15, True, 1, "true"),
        ("pool", "pool", 1.5, 45, 27, False, 1, "true"),
        ("shower", "soap", 0.1, 8, 38, False, 1, "true"),
        ("bath", "soap", 0.3, 20, 38, False, 1, "true"),
        ("hot tub", "hot tub", 0.5, 20, 38, False, 1, "true"),
        ("rain", "fresh", 0.05, 20, 12, False, 1, "true"),
        ("hands", "soap", 0.05, 1, 30, False, 1, "true"),
        ("sauna", "air", 0, 15, 80, False, 1, "true"),
        ("boat", "sea", 0.05, 120, 15, True, 1, "true"),
    ],
)
def test_a_silent_line_means_what_its_activity_means(
    practice: Practice, line: str, water: str, depth_m: float, minutes: float, water_c: float, assumed: bool,
    dips: int, basis: str,
) -> None:  # fmt: skip
    found = nameless(practice, line)
    assert (found.water, found.depth_m, found.duration_s) == (water, depth_m, minutes * 60)
    assert (found.water_c, found.water_c_assumed, found.dips, found.basis) == (water_c, assumed, dips, basis)
    assert (found.from_c, found.rinsed, found.jump_m, found.starts_on) == (32.0, False, 0.0, TODAY)


@pytest.mark.parametrize(
    ("words", "fields"),
    [
        ("2m", {"depth_m": 2}),
        ("2 m", {"depth_m": 2}),
        ("2,5 m", {"depth_m": 2.5}),
        ("20ft", {"depth_m": 6.096}),
        ("20 feet", {"depth_m": 6.096}),
        ("10 yards", {"depth_m": 9.144}),
        ("38min", {"duration_s": 2280}),
        ("38 minutes", {"duration_s": 2280}),
        ("1h10", {"duration_s": 4200}),
        ("1h 10min", {"duration_s": 4200}),
        ("1 h 10 min", {"duration_s": 4200}),
        ("2h 21m", {"duration_s": 8460, "depth_m": 1.5}),
        ("2h 21m 4m", {"duration_s": 8460, "depth_m": 4}),
        ("4m 2 h 5 m", {"duration_s": 7500, "depth_m": 4}),
        ("1h30", {"duration_s": 5400}),
        ("1h30m", {"duration_s": 5400}),
        ("1h 30m", {"duration_s": 5400}),
        ("1:30", {"duration_s": 5400, "starts_at": None}),
        ("0:45", {"duration_s": 2700, "starts_at": None}),
        ("90s", {"duration_s": 90}),
        ("17C", {"water_c": 17}),
        ("17 °C", {"water_c": 17}),
        ("64F", {"water_c": 17.778}),
        ("-1C", {"water_c": -1}),
        ("−1 C", {"water_c": -1}),
        ("~17C", {"water_c": 17, "water_c_assumed": True}),
        ("~-1C", {"water_c": -1, "water_c_assumed": True}),
        ("from 33C", {"from_c": 33}),
        ("from 33", {"from_c": 33}),
        ("from 90F", {"from_c": 32.222}),
        ("from -5 C", {"from_c": -5}),
        ("20 dips", {"dips": 20}),
        ("1 dip", {"dips": 1}),
        ("rinsed", {"rinsed": True}),
        ("not rinsed", {"rinsed": False}),
        ("unrinsed", {"rinsed": False}),
        ("RINSED", {"rinsed": True}),
        ("crown wet", {"crown_wet": 1}),
        ("crown wet twice", {"crown_wet": 2}),
        ("crown wet 3 times", {"crown_wet": 3}),
        ("crown wet 3 times 2m", {"crown_wet": 3, "depth_m": 2}),
        ("crown wet 2m", {"crown_wet": 1, "depth_m": 2}),
        ("crown under water", {"crown_under": 1}),
        ("crown underwater", {"crown_under": 1}),
        ("crown under water 2 times", {"crown_under": 2}),
        ("crown wet crown under water", {"crown_wet": 1, "crown_under": 1}),
        ("pusher wet", {"pusher_wet": 1}),
        ("pushers under water once", {"pusher_under": 1}),
        ("pushers wet 2x", {"pusher_wet": 2, "dips": 1}),
        ("pushers under water", {"pusher_under": 1}),
        ("crown open", {"crown_open": True, "pushers_open": False, "crown_wet": 0}),
        ("pushers open", {"crown_open": False, "pushers_open": True, "pusher_wet": 0}),
        ("pusher open crown open", {"crown_open": True, "pushers_open": True}),
        ("crown closed", {"crown_open": False}),
        ("twice", {"dips": 2}),
        ("2x", {"dips": 2}),
        ("x3 rinsed", {"dips": 3, "rinsed": True}),
        ("crown wet twice 2x", {"crown_wet": 2, "dips": 2}),
        ("crown untouched", {"crown_wet": 0, "crown_under": 0}),
        ("jump 3m", {"jump_m": 3}),
        ("jump 3", {"jump_m": 3}),
        ("jump 10 ft", {"jump_m": 3.048}),
        ("no jump", {"jump_m": 0}),
        ("sea", {"water": "sea", "salinity": 35}),
        ("salt water", {"water": "sea"}),
        ("sea salinity 38", {"water": "sea", "salinity": 38}),
        ("salinity 38", {"water": "sea", "salinity": 38}),
        ("fresh", {"water": "fresh", "salinity": 0}),
        ("lake", {"water": "fresh", "salinity": 0}),
        ("pool", {"water": "pool", "salinity": 0}),
        ("soap", {"water": "soap", "salinity": 0}),
        ("hot tub", {"water": "hot tub", "salinity": 0}),
        ("brackish 12", {"water": "brackish", "salinity": 12}),
        ("brackish 12 17C", {"water": "brackish", "salinity": 12, "water_c": 17}),
        ("brackish 12 38min", {"water": "brackish", "salinity": 12, "duration_s": 2280}),
        ("sea salinity 280 density 1190", {"water": "sea", "salinity": 280, "density_kg_m3": 1190}),
        (
            "brackish 280 density 1190kg/m3 17C",
            {"water": "brackish", "salinity": 280, "density_kg_m3": 1190, "water_c": 17},
        ),
        (
            "salinity 280 density 1190.5 kg/m³, 38min",
            {"salinity": 280, "density_kg_m3": 1190.5, "duration_s": 2280},
        ),
        ("brackish 17C salinity 12", {"water": "brackish", "salinity": 12, "water_c": 17}),
        ("basis true", {"basis": "true"}),
        ("basis fresh", {"basis": "fresh"}),
        ("basis EN 13319", {"basis": "EN 13319"}),
        ("on 2026-07-03", {"starts_on": date(2026, 7, 3), "starts_at": None}),
        ("on sat", {"starts_on": date(2026, 11, 21)}),
        ("on 12 mar 2m", {"starts_on": date(2026, 3, 12), "depth_m": 2}),
        ("on 12 mar 2025 10:40", {"starts_on": date(2025, 3, 12), "starts_at": time(10, 40)}),
        ("on 3 days ago 9:05", {"starts_on": date(2026, 11, 22), "starts_at": time(9, 5)}),
        ("on 2026-07-03 10:40:30", {"starts_at": time(10, 40, 30), "utc_offset_s": 7200}),
        ("at 10:40", {"starts_on": TODAY, "starts_at": time(10, 40), "utc_offset_s": 3600}),
        ("on sat at 10:40", {"starts_on": date(2026, 11, 21), "starts_at": time(10, 40)}),
        ("at 10:40 zone Asia/Kathmandu", {"zone": "Asia/Kathmandu", "utc_offset_s": 20_700}),
        ("on 2026-10-25 02:30", {"utc_offset_s": 7200}),
        ("on 2026-10-25 02:30+01:00", {"utc_offset_s": 3600}),
        ("yesterday", {"starts_on": date(2026, 11, 24)}),
        ("today 7:30", {"starts_on": TODAY, "starts_at": time(7, 30)}),
        ("sat", {"starts_on": date(2026, 11, 21)}),
        ("saturday 20 dips", {"starts_on": date(2026, 11, 21), "dips": 20}),
        ("12 jul", {"starts_on": date(2026, 7, 12)}),
        ("jul 12 2m", {"starts_on": date(2026, 7, 12), "depth_m": 2}),
        ("12 jul 2025 10:40 2m", {"starts_on": date(2025, 7, 12), "starts_at": time(10, 40), "depth_m": 2}),
        ("2 m 12 jul 17C", {"starts_on": date(2026, 7, 12), "depth_m": 2, "water_c": 17}),
        ("2026-07-11", {"starts_on": date(2026, 7, 11)}),
        ("2026-07-11 9:05", {"starts_on": date(2026, 7, 11), "starts_at": time(9, 5)}),
        ("3 days ago", {"starts_on": date(2026, 11, 22), "duration_s": 1800}),
        ("a week ago", {"starts_on": date(2026, 11, 18)}),
        ("10:40", {"starts_on": TODAY, "starts_at": time(10, 40), "duration_s": 1800}),
        ("01:30", {"starts_at": time(1, 30), "duration_s": 1800}),
        ("9:40", {"starts_at": time(9, 40), "duration_s": 1800}),
        ("10:40 sat", {"starts_on": date(2026, 11, 21), "starts_at": time(10, 40)}),
        ("no time", {"starts_at": None}),
        ("38 min, 2 m, salt, rinsed", {"duration_s": 2280, "depth_m": 2, "water": "sea", "rinsed": True}),
        ("40m sure", {"depth_m": 40}),
        ("2m -- two turtles: 10 m away", {"depth_m": 2, "note": "two turtles: 10 m away"}),
        ("-- rinsed -- not", {"rinsed": False, "note": "rinsed -- not"}),
        ("--", {"note": ""}),
    ],
)
def test_words_say_what_they_say(practice: Practice, words: str, fields: dict[str, Any]) -> None:
    found = nameless(practice, f"swim {words}", watch=WATCHES[0])
    assert {name: getattr(found, name) for name in fields} == fields


def test_the_order_of_the_words_does_not_matter(practice: Practice) -> None:
    one = nameless(practice, "dive 21m 38min sea 17C from 33C rinsed crown wet on sat 10:40")
    other = nameless(practice, "dive on sat 10:40 crown wet rinsed from 33C 17C sea 38min 21m")
    assert one == other


@pytest.mark.parametrize(
    ("line", "word", "sentence"),
    [
        (
            "blue bezel: dvie 21m 38min",
            "dvie",
            r"'dvie' is no activity; begin with dive, .*Did you mean dive\?",
        ),
        ("blue bezel: 21m dive", "21m", "'21m' is no activity"),
        (
            "blue bezel: dive 21m 38min rinsd",
            "rinsd",
            r"'rinsd' is not understood here. Did you mean rinsed\?",
        ),
        ("blue bezel: dive 21m 38min see", "see", r"Did you mean sea\?"),
        ("blue bezel: dive 21m 38min frsh 17C", "frsh", r"Did you mean fresh\?"),
        ("blue bezel: dive 21m 38min xyzzy", "xyzzy", "'xyzzy' is not understood here.$"),
        ("blue bezel: dive 21m 38m", "38m", "depth was already given by '21m'; minutes are written 38min"),
        ("blue bezel: dive 21m 70ft 38min", "70ft", "depth was already given by '21m'"),
        ("blue bezel: dive 21 m 70 ft 38min", "70", "depth was already given by '21 m'"),
        ("blue bezel: dive 21m 38min 40min", "40min", "duration was already given by '38min'"),
        ("blue bezel: dive 21m 38min sea fresh", "fresh", "water was already given by 'sea'"),
        ("blue bezel: rain rinsed not rinsed", "not", "rinse was already given by 'rinsed'"),
        ("blue bezel: rain on sat on sun", "on sun", "date was already given by 'on sat'"),
        ("blue bezel: rain crown wet crown wet", "crown wet", "crown was already given by 'crown wet'"),
        (
            "blue bezel: dive 21m 38min sea 17",
            "17",
            "17 needs its unit: 17m is a depth, 17min minutes, 17C a temp",
        ),
        ("blue bezel: dive 21 38", "21", "21 needs its unit"),
        ("blue bezel: dive 21 rinsd", "21", "21 needs its unit"),
        ("blue bezel: dive 12foos 38min", "12foos", "'foos' is not a unit known here"),
        ("blue bezel: dive 21m 38min 290C", "290C", r"Did you mean 290 K = 17 °C\? Write 17C"),
        ("blue bezel: dive 21m 38min 290K", "290K", "not in kelvin; 290 K is 16.85 °C"),
        ("blue bezel: dive 1,000ft 38min", "1,000ft", "1,000 can be read in two ways"),
        ("blue bezel: dive 21m 38min 2bar", "2bar", "A pressure has no place here"),
        ("blue bezel: dive 21m 38min 1m/s", "1m/s", "A speed has no place here"),
        ("blue bezel: dive ~21m 38min", "~21m", "Only a temperature is marked as assumed"),
        ("blue bezel: dive 21m 38min from sea", "sea", "A number with its unit belongs here, such as 32C"),
        ("blue bezel: dive 21m 38min from", None, "A number with its unit belongs here, such as 32C"),
        ("blue bezel: dive 21m 38min from 3m", "3m", "A temperature belongs here, such as 32C"),
        ("blue bezel: dive 21m 38min jump 3C", "3C", "A length belongs here, such as 3m"),
        ("blue bezel: dive 21m 38min salinity", None, "A number belongs here"),
        ("blue bezel: dive 21m 38min salinity 3m", "3m", "A number without a unit belongs here, not '3m'"),
        ("blue bezel: dive 2.5m dips", "2.5m", "A number without a unit belongs here, not '2.5m'"),
        ("blue bezel: dive 21m 38min on 3/7/2026", "3/7", "day first or month first: write the year first"),
        ("blue bezel: dive 21m 38min on 31 feb 2026", "31", "'31 feb 2026' is not in the calendar"),
        ("blue bezel: dive 21m 38min on rinsed", "rinsed", "'rinsed' is not a date"),
        ("blue bezel: dive 21m 38min on", None, "A date belongs here"),
        ("blue bezel: dive 21m 38min on unknown", "unknown", "A date belongs here"),
        ("blue bezel: dive 21m 38min on sat 25:10", "25:10", "'25:10' is not a time of day"),
        ("blue bezel: dive 21m 38min at noon", "noon", "'noon' is not a time of day"),
        ("blue bezel: dive 21m 38min at", None, "A time belongs here"),
        ("blue bezel: dive 21m 38min zone", None, "A time zone belongs here"),
        (
            "blue bezel: dive 21m 38min crown",
            "crown",
            "write crown open, crown closed, crown untouched",
        ),
        (
            "blue bezel: dive 21m 38min basis",
            "basis",
            "write basis true, basis fresh or basis en 13319",
        ),
        # What may be read in two ways, and what the activity hardly has, is a question.
        (
            "blue bezel: shower 10m",
            "10m",
            "'10m' reads as 10 metres deep, more than a shower's 0.5 m: write 10min for minutes, or add",
        ),
        ("blue bezel: pool rinsed 50m 27C", "50m", "more than a pool's 6 m: write 50min for minutes"),
        ("blue bezel: swim 200m", "200m", "more than a swim's 10 m: write 200min for minutes"),
        ("blue bezel: swim 300 m", "300 m", "'300 m' reads as 300 metres deep"),
        ("blue bezel: shower 1.5m", "1.5m", "write 1.5min for minutes"),
        ("blue bezel: boat 20m", "20m", "more than a boat's 3 m: write 20min"),
        ("blue bezel: rain 20m", "20m", "more than rain's 0.5 m: write 20min"),
        ("blue bezel: hands 2m", "2m", "more than hand washing's 0.5 m: write 2min"),
        ("blue bezel: sauna 2m", "2m", "more than a sauna's 0 m: write 2min for minutes.$"),
        ("blue bezel: shower 100m", "100m", "more than a shower's 0.5 m: leave out how far it was, or add"),
        ("blue bezel: shower 30ft", "30ft", "'30ft' is deeper than a shower's 0.5 m: add 'sure'"),
        ("blue bezel: dive 120m 38min", "120m", "'120m' is deeper than a dive's 100 m: add 'sure'"),
        ("blue bezel: shower 90min", "90min", "'90min' is longer than a shower's 60 min: add 'sure'"),
        ("blue bezel: dive 21m 5h", "5h", "'5h' is longer than a dive's 240 min"),
        (
            "blue bezel: snorkel 1h 3m",
            "1h",
            "'1h 3m' may be 1 h 3 min, or 1 h at a depth of 3 m",
        ),
        ("blue bezel: dive 1h 20m", "1h", "write 1h20min, or 60min 20m"),
        (
            "blue bezel: shower 1:30",
            "1:30",
            "may be a length or a time of day: write 90min, or at 1:30",
        ),
        ("blue bezel: swim 7:30", "7:30", "may be a length or a time of day: write 450min, or at 7:30"),
        ("blue bezel: swim 00:45", "00:45", "write 45min, or at 00:45"),
        ("blue bezel: swim 31 feb", "31 feb", "'31 feb' is not in the calendar"),
        ("blue bezel: swim 12/07/2026", "12/07", "day first or month first: write the year first"),
        ("blue bezel: rain sat sun", "sun", "date was already given by 'sat'"),
        ("blue bezel: swim twice 3x", "3x", "number of dips was already given by 'twice'"),
        ("blue bezel: swim may", "may", "'may' is not understood here"),
        ("blue bezel:", None, "What was it? Begin with the activity"),
        ("blue bezel:   ", None, "What was it?"),
        ("a dive to 21m", "a dive", "An entry begins with the watch and a colon"),
        ("", None, "An entry begins with the watch and a colon"),
    ],
)
def test_a_word_that_is_not_understood_has_the_caret_under_it(
    practice: Practice, line: str, word: str | None, sentence: str
) -> None:
    with pytest.raises(NotUnderstood, match=sentence.replace("What was it?", r"What was it\?")) as caught:
        entry(practice, line)
    expected = len(line.rstrip()) if word is None else line.rindex(word)
    assert caught.value.column == expected
    assert caught.value.line == line
    assert caught.value.exit_code == 3


@pytest.mark.parametrize(
    ("line", "where", "sentence"),
    [
        ("blue bezel: dive", "depth_m", "How deep was it. A dive needs its depth, such as 21m"),
        ("blue bezel: dive 21m", "duration_s", "How long was it. A dive needs its minutes, such as 38min"),
        ("blue bezel: freedive", "depth_m", "How deep was it"),
        ("blue bezel: dive 500m 38min", "depth_m", r"500 m is not .* Did you mean 500 ft = 152.4 m\?"),
        ("blue bezel: dive -3m 38min", "depth_m", "-3 m is not from 0 to 400 m"),
        ("blue bezel: dive 21m 3000min", "duration_s", "3000 min is not"),
        ("blue bezel: dive 21m 0min", "duration_s", "0 min is not above 0"),
        ("blue bezel: dive 21m 38min 64C", "water_c", r"Did you mean 64 °F = 17.8 °C\? Write 64F"),
        ("blue bezel: dive 21m 38min -4C", "water_c", "-4 °C is not from -3 to 60 °C"),
        ("blue bezel: sauna 130C", "water_c", "130 °C is not"),
        ("blue bezel: dive 21m 38min brackish", "salinity", "How salty was it"),
        ("blue bezel: dive 21m 38min brackish 43", "density_kg_m3", "a brine of 43 needs its density too"),
        ("blue bezel: dive 21m 38min sea density 1190", "density_kg_m3", "Only a brine above salinity 42"),
        ("blue bezel: dive 21m 38min brackish 361", "salinity", "361 is not from 0 to 360"),
        ("blue bezel: dive 21m 38min fresh salinity 5", "salinity", "write 'brackish 5'"),
        ("blue bezel: dive 21m 38min air", "water", "A dive is not in air"),
        ("blue bezel: sauna sea", "water", "A sauna is in air"),
        ("blue bezel: sauna crown under water", "crown_under", "under water at no depth"),
        ("blue bezel: swim 0m crown under water", "crown_under", "under water at no depth"),
        ("lido quartz: swim pusher wet", "pusher_wet", "Lido quartz has no pushers"),
        ("lido quartz: swim pushers open", "pushers_open", "Lido quartz has no pushers"),
        ("blue bezel: swim 2.5 dips", "dips", "must be a whole number, not 2.5"),
        ("blue bezel: swim 501 dips", "dips", "501 is not from 1 to 500"),
        ("blue bezel: swim jump 31m", "jump_m", "31 m is not"),
        ("blue bezel: swim on tomorrow", "starts_on", "lies in the future: today is 2026-11-25"),
        ("blue bezel: swim on 2026-11-20..2026-11-22", "planned_to", "Only a planned trip has a last day"),
        ("blue bezel: swim on 2026-03-29 02:30", "starts_at", "did not exist in Europe/Berlin"),
        ("blue bezel: swim at 10:40 zone Europe/Berlim", "zone", r"Did you mean Europe/Berlin\?"),
        ("blue bezel: swim at 10:40+05:00", "utc_offset_s", "was not at"),
        ("blue bezel: swim -- a\x1b[2Jb", "note", r"control character \\x1b"),
        ("bleu bezel: swim", "watch", r"There is no watch 'bleu bezel'; did you mean Blue bezel\?"),
        ("blue: swim", "watch", "Blue bezel and Blue hour"),
        (": swim", "watch", "nickname is missing"),
    ],
)
def test_a_value_that_cannot_be_is_refused_with_its_field(
    practice: Practice, line: str, where: str, sentence: str
) -> None:
    with pytest.raises(BadInput, match=sentence) as caught:
        entry(practice, line)
    assert caught.value.where == where
    assert not isinstance(caught.value, NotUnderstood)


def test_an_unknown_watch_is_not_found_rather_than_bad_input(practice: Practice) -> None:
    with pytest.raises(NotFound):
        entry(practice, "nobody: rain")


def test_a_bare_number_after_from_is_refused_where_the_owner_uses_imperial_units(practice: Practice) -> None:
    with pytest.raises(NotUnderstood, match="A temperature belongs here"):
        nameless(practice, "swim from 90", Settings(units="imperial"))
    assert nameless(practice, "swim from 90F", Settings(units="imperial")).from_c == 32.222


def test_a_line_that_is_too_long_is_refused_before_it_is_read(practice: Practice) -> None:
    with pytest.raises(BadInput, match="has 10,018 characters; an entry has at most 4,000"):
        entry(practice, "blue bezel: swim " + "x" * 10_001)


def test_the_home_water_of_the_month_fills_in_and_is_marked(practice: Practice) -> None:
    monthly_c = (5.0, 4.0, 5.0, 8.0, 11.0, 15.0, 18.0, 19.0, 17.0, 14.0, 10.0, 7.0)
    home = Settings(home=HomeWater(salinity=7.5, monthly_c=monthly_c))
    found = nameless(practice, "swim on 2026-07-03", home)
    assert (found.water_c, found.water_c_assumed, found.salinity) == (18.0, True, 7.5)
    assert nameless(practice, "swim", home).water_c == 10.0
    assert nameless(practice, "pool", home).water_c == 27.0
    assert nameless(practice, "swim hot tub", home).water_c == 38.0
    assert nameless(practice, "bath sea", home).water_c == 10.0


def test_a_planned_line_looks_ahead_and_may_be_a_trip(practice: Practice) -> None:
    assert nameless(practice, "swim on sat", planned=True).starts_on == date(2026, 11, 28)
    assert nameless(practice, "swim on tomorrow", planned=True).planned
    words = "dive 30m 40min on "
    for days in ("28 dec 2026 to 3 jan 2027", "28 dec until 3 jan", "28 dec..3 jan", "28 dec – 3 jan"):
        trip = nameless(practice, f"{words}{days} sea -- [b]", planned=True)
        assert (trip.starts_on, trip.planned_to, trip.water) == (date(2026, 12, 28), date(2027, 1, 3), "sea")
    for days in ("28 dec to 3 jan", "28 dec..3 jan", "2026-12-28..2027-01-03", "28 dec – 3 jan"):
        trip = nameless(practice, f"dive {days} 30m 40min sea", planned=True)
        assert (trip.starts_on, trip.planned_to, trip.depth_m) == (date(2026, 12, 28), date(2027, 1, 3), 30)
    assert nameless(practice, "swim in 3 days", planned=True).starts_on == date(2026, 11, 28)
    assert nameless(practice, "swim sat 10:40 20 dips", planned=True).starts_on == date(2026, 11, 28)
    begun = nameless(practice, f"{words}24 to 26 nov", planned=True)
    assert (begun.starts_on, begun.planned_to) == (date(2026, 11, 24), date(2026, 11, 26))
    with pytest.raises(BadInput, match="The trip runs backwards: 28 dec is after 3 dec"):
        nameless(practice, f"{words}28 to 3 dec", planned=True)
    trip = nameless(practice, "dive 30m 40min on 2026-12-27..2027-01-03", planned=True)
    assert (trip.starts_on, trip.planned_to) == (date(2026, 12, 27), date(2027, 1, 3))


@pytest.mark.parametrize(
    ("line", "printed"),
    [
        ("dive 21m 38min sea 17C rinsed", "dive 21m 38min sea 17C rinsed on 2026-11-25"),
        ("scuba 70ft 1h10", "dive 21.336m 70min sea ~15C on 2026-11-25"),
        ("pool", "pool 1.5m 45min 27C on 2026-11-25"),
        ("sauna", "sauna 15min 80C on 2026-11-25"),
        (
            "swim salinity 280 density 1190 25C",
            "swim 1.5m 30min sea salinity 280 density 1190 25C on 2026-11-25",
        ),
        (
            "swim brackish 280 density 1190.5 25C",
            "swim 1.5m 30min brackish 280 density 1190.5 25C on 2026-11-25",
        ),
        ("swim brackish 12 from 30C", "swim 1.5m 30min brackish 12 ~15C from 30C on 2026-11-25"),
        ("freedive 12m 1 dip", "freedive 12m 60min sea ~15C 1 dip on 2026-11-25"),
        ("boat on sat 9:05 -- a  b", "boat 0.05m 120min sea ~15C on 2026-11-21 09:05 -- a b"),
        ("boat zone Asia/Kathmandu", "boat 0.05m 120min sea ~15C on 2026-11-25 zone Asia/Kathmandu"),
        ("boat 90s crown wet twice", "boat 0.05m 1min30s sea ~15C crown wet 2 times on 2026-11-25"),
        ("boat crown open 2x", "boat 0.05m 120min sea ~15C 2 dips crown open on 2026-11-25"),
        ("boat pushers open", "boat 0.05m 120min sea ~15C pushers open on 2026-11-25"),
        ("shower 2m 90min sure", "shower 2m 90min soap 38C sure on 2026-11-25"),
        ("boat jump 2m basis fresh", "boat 0.05m 120min sea ~15C basis fresh jump 2m on 2026-11-25"),
    ],
)
def test_an_entry_is_printed_in_one_usual_form(practice: Practice, line: str, printed: str) -> None:
    found = nameless(practice, line)
    assert print_entry(found, None, practice, SETTINGS) == printed
    assert print_entry(found, "Blue bezel", practice, SETTINGS) == f"Blue bezel: {printed}"
    assert nameless(practice, printed) == found


# ---------------------------------------------------------------- amending


def test_amending_changes_only_the_words_given(practice: Practice) -> None:
    before = replace(
        entry(practice, "blue bezel: dive 21m 38min sea 17C crown wet on sat 10:40 -- calm"), id=7
    )
    after = amend_words(before, "rinsed 40min", practice=practice, settings=SETTINGS, today=TODAY)
    assert after == replace(before, rinsed=True, duration_s=2400)


@pytest.mark.parametrize(
    ("words", "changes"),
    [
        ("22m", {"depth_m": 22.0, "gauge_pa": 219_997.0}),
        ("not rinsed", {"rinsed": False}),
        ("crown untouched", {"crown_wet": 0}),
        ("crown open", {"crown_open": True}),
        ("sat", {"starts_on": date(2026, 11, 21), "utc_offset_s": 3600}),
        ("1:05", {"duration_s": 3900}),
        ("twice", {"dips": 2}),
        ("16C", {"water_c": 16.0}),
        ("at 11:00", {"starts_at": time(11)}),
        ("no time", {"starts_at": None, "utc_offset_s": None}),
        ("on 2026-07-03", {"starts_on": date(2026, 7, 3), "utc_offset_s": 7200}),
        ("-- rough", {"note": "rough"}),
        ("--", {"note": ""}),
        ("fresh", {"water": "fresh", "salinity": 0.0}),
        ("salinity 38", {"salinity": 38.0}),
        ("", {}),
    ],
)
def test_an_amendment_touches_its_own_field(practice: Practice, words: str, changes: dict[str, Any]) -> None:
    before = entry(practice, "blue bezel: dive 21m 38min sea 17C rinsed crown wet on sat 10:40 -- calm")
    after = amend_words(before, words, practice=practice, settings=SETTINGS, today=TODAY)
    assert after == replace(before, **changes)


BRINE = "blue bezel: swim 2m 20min sea salinity 280 density 1190 30C"


@pytest.mark.parametrize(
    ("words", "salinity", "density_kg_m3"),
    [
        ("rinsed", 280.0, 1190.0),
        ("salinity 300", 300.0, 1190.0),
        ("density 1200", 280.0, 1200.0),
        ("salinity 38", 38.0, None),
        ("sea", 35.0, None),
        ("lake", 0.0, None),
    ],
)
def test_a_density_stays_with_its_brine_and_goes_with_it(
    practice: Practice, words: str, salinity: float, density_kg_m3: float | None
) -> None:
    brine = entry(practice, BRINE)
    found = amend_words(brine, words, practice=practice, settings=SETTINGS, today=TODAY)
    assert (found.salinity, found.density_kg_m3) == (salinity, density_kg_m3)
    assert (found.gauge_pa == brine.gauge_pa) == (density_kg_m3 == 1190.0)


def test_an_assumed_temperature_is_looked_up_again_for_another_day_only(practice: Practice) -> None:
    before = nameless(practice, "swim on 2026-07-03")
    monthly_c = tuple(float(month) for month in range(1, 13))
    home = Settings(home=HomeWater(monthly_c=monthly_c), zone="Europe/Berlin")
    moved = amend_words(before, "on 2026-08-03", practice=practice, settings=home, today=TODAY)
    assert (moved.water_c, moved.water_c_assumed) == (8.0, True)
    rinsed = amend_words(before, "rinsed", practice=practice, settings=home, today=TODAY)
    assert rinsed == replace(before, rinsed=True)
    measured = amend_words(before, "19C", practice=practice, settings=home, today=TODAY)
    assert (measured.water_c, measured.water_c_assumed) == (19.0, False)


def test_a_pressure_stays_when_nothing_that_it_stands_on_changes(practice: Practice) -> None:
    before = nameless(practice, "swim 10m 15C")
    polar = Settings(home=HomeWater(latitude_deg=80.0), zone="Europe/Berlin")
    assert (
        amend_words(before, "rinsed", practice=practice, settings=polar, today=TODAY).gauge_pa
        == before.gauge_pa
    )
    assert (
        amend_words(before, "16C", practice=practice, settings=polar, today=TODAY).gauge_pa > before.gauge_pa
    )


def test_another_activity_brings_its_own_values_where_the_old_ones_had_filled_in(practice: Practice) -> None:
    before = nameless(practice, "swim 40min")
    after = amend_words(before, "pool", practice=practice, settings=SETTINGS, today=TODAY)
    assert after == nameless(practice, "pool 40min")
    with pytest.raises(BadInput, match="How deep was it"):
        amend_words(before, "dive", practice=practice, settings=SETTINGS, today=TODAY)


def test_a_profile_stays_and_holds_the_depth_down(practice: Practice) -> None:
    points = (ProfilePoint(0.0, 0.0), ProfilePoint(600.0, 21.0, 16.5), ProfilePoint(2280.0, 0.0))
    before = replace(entry(practice, "blue bezel: dive 21m 38min"), profile=points)
    assert amend_words(before, "rinsed", practice=practice, settings=SETTINGS, today=TODAY).profile == points
    with pytest.raises(BadInput, match="deeper than the 18"):
        amend_words(before, "18m", practice=practice, settings=SETTINGS, today=TODAY)


def test_a_wrong_word_in_an_amendment_has_its_caret(practice: Practice) -> None:
    before = entry(practice, "blue bezel: rain")
    with pytest.raises(NotUnderstood) as caught:
        amend_words(before, "40min rinsd", practice=practice, settings=SETTINGS, today=TODAY)
    assert caught.value.pointer() == "40min rinsd\n      ^"


HOSTILE = [
    "\x1b[31mred", "\x00", "\x07", "\x9b2J", "\u202egnp", "\u2066x", "\ud800", "[/]", "[bold]x", "=1+1",
    "é" * 5_000, "\u200d" * 50, "🤿" * 40, "a\u0301" * 100, "\r\nrain", "\u2028rain", "٢١m", "²m", "½m",
    "1e400m", "+-3m", "..", "on ..", "-- --", "~", "~~3C", ":", "::", "on \x1b", "zone \x00", "at 99:99",
    "zone ../../etc/passwd", "zone " + "a" * 300, "1h1h1h", "9" * 3_000 + "m", "2 **9", "3 m**m", "nan C",
    "crown wet " + "9" * 500 + " times", "brackish \x1b", "%s%n", "{0}", "\\x1b", "'; drop", "NaN", "infC",
]  # fmt: skip


def refusal(practice: Practice, line: str) -> LogbookError | None:
    try:
        entry(practice, line)
    except LogbookError as error:
        return error
    return None


@pytest.mark.parametrize("hostile", HOSTILE)
@pytest.mark.parametrize("line", ["blue bezel: rain {}", "{}: rain", "blue bezel: {}", "{}"])
def test_hostile_words_are_refused_or_read_and_never_shown_raw(
    practice: Practice, line: str, hostile: str
) -> None:
    error = refusal(practice, line.replace("{}", hostile))
    if error is not None:
        shown = error.message + (error.line if isinstance(error, NotUnderstood) else "")
        assert not set(shown) & set("\x00\x07\x1b\x9b\r\n\u202e\u2066\u2028\ud800")
        assert error.exit_code == 3


def test_the_caret_stands_under_the_word_of_the_line_as_it_is_shown(practice: Practice) -> None:
    with pytest.raises(NotUnderstood) as caught:
        entry(practice, "blue bezel: rain \x1b[2J")
    shown, caret = caught.value.pointer().split("\n")
    assert shown == "blue bezel: rain \\x1b[2J"
    assert shown[caret.index("^") :] == "\\x1b[2J"


# ---------------------------------------------------------------- beyond what an activity has


def test_what_is_insisted_on_is_kept_and_is_printed_with_its_word(practice: Practice) -> None:
    found = nameless(practice, "pool 12m 45min sure")
    assert found.depth_m == 12
    printed = print_entry(found, None, practice, SETTINGS)
    assert printed == "pool 12m 45min 27C sure on 2026-11-25"
    assert nameless(practice, printed) == found


def test_an_amendment_beyond_what_the_activity_has_is_a_question(practice: Practice) -> None:
    before = replace(nameless(practice, "pool 3m"), id=7)
    with pytest.raises(NotUnderstood, match="'30m' reads as 30 metres deep, more than a pool") as caught:
        amend_words(before, "rinsed 30m", practice=practice, settings=SETTINGS, today=TODAY)
    assert caught.value.column == len("rinsed ")
    insisted = amend_words(before, "30m sure", practice=practice, settings=SETTINGS, today=TODAY)
    assert insisted.depth_m == 30
    rinsed = amend_words(insisted, "rinsed", practice=practice, settings=SETTINGS, today=TODAY)
    assert rinsed == replace(insisted, rinsed=True)


def test_a_depth_that_stays_under_another_activity_is_asked_about_as_well(practice: Practice) -> None:
    before = replace(nameless(practice, "dive 21m 38min"), id=7)
    with pytest.raises(NotUnderstood, match=r"21 m deep is more than a shower's 0\.5 m: is that right"):
        amend_words(before, "shower", practice=practice, settings=SETTINGS, today=TODAY)
    amended = amend_words(before, "shower 0.2m", practice=practice, settings=SETTINGS, today=TODAY)
    assert (amended.activity, amended.depth_m) == ("shower", 0.2)


def test_limits_are_told_in_the_units_of_the_owner(practice: Practice) -> None:
    imperial = Settings(units="imperial")
    with pytest.raises(NotUnderstood, match="'40ft' is deeper than a swim's 33 ft: add 'sure'"):
        nameless(practice, "swim 40ft", imperial)


@pytest.mark.parametrize("word", ["crown", "sea", "rinsed", "not", "dips", "pushers", "basis", "open"])
def test_a_hint_never_offers_the_refused_word_itself(practice: Practice, word: str) -> None:
    line = f"swim 2m rinsed sea {word}"
    with pytest.raises(NotUnderstood) as caught:
        nameless(practice, line)
    assert f"mean {word}?" not in caught.value.message
    assert f"write {word}." not in caught.value.message
