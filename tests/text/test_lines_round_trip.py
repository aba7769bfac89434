"""Whatever exposure can be made is printed as a line that reads back as an equal one."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, time
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, assume, given
from hypothesis import settings as examples
from hypothesis import strategies as st

import logbook
from logbook.errors import BadInput, NotUnderstood
from logbook.model import practice as practice_file
from logbook.model.practice import Practice
from logbook.model.validate.exposure import make_exposure
from logbook.model.values import Exposure, HomeWater, Settings, Watch
from logbook.text.lines import amend_line, amend_words, parse_entry, print_entry
from logbook.text.words import VOCABULARY
from tests.effort import tries

TODAY = date(2026, 11, 25)
ZONES = (
    "UTC", "Europe/Berlin", "America/New_York", "Australia/Lord_Howe", "Africa/Casablanca", "Asia/Kathmandu",
    "America/St_Johns", "Pacific/Apia", "Etc/GMT+5", "EST5EDT",
)  # fmt: skip
ACTIVITIES = (
    "dive", "mixed-gas", "freedive", "snorkel", "swim", "pool", "shower", "bath", "hot tub", "rain", "hands",
    "sauna", "boat",
)  # fmt: skip
COUNTS = st.integers(0, 100)
NOTES = st.text(st.characters(codec="utf-8", exclude_categories=["Cc", "Cs"]), max_size=40)
WATCH = Watch(
    name="Gran's chrono",
    mark="unknown",
    marked_pa=None,
    added_on=TODAY,
    recorded_from=TODAY,
    pushers=True,
    id=3,
)


@cache
def practice() -> Practice:
    text = (Path(logbook.__file__).parent / "practice.toml").read_text(encoding="utf-8")
    return practice_file.parse(text)


def homes() -> st.SearchStrategy[Settings]:
    monthly = st.none() | st.tuples(*[st.floats(-3, 60)] * 12)
    home = st.builds(HomeWater, salinity=st.floats(0, 42), latitude_deg=st.floats(-90, 90), monthly_c=monthly)
    return st.builds(
        Settings, home=home, zone=st.sampled_from(ZONES), units=st.sampled_from(["metric", "imperial"])
    )


@st.composite
def sayings(draw: st.DrawFn) -> dict[str, Any]:
    """What may be said of an exposure; some of it may contradict."""
    activity = draw(st.sampled_from(ACTIVITIES))
    air = activity == "sauna"
    maybe = {
        "duration_s": st.floats(1, 172_800), "from_c": st.floats(-20, 70), "dips": st.integers(1, 500),
        "rinsed": st.booleans(), "crown_wet": COUNTS, "pusher_wet": COUNTS, "note": NOTES,
        "crown_open": st.booleans(), "pushers_open": st.booleans(),
        "basis": st.sampled_from(["EN 13319", "fresh", "true"]), "zone": st.sampled_from(ZONES),
        "water_c": st.floats(-20, 120) if air else st.floats(-3, 60), "water_c_assumed": st.booleans(),
        "starts_at": st.times(), "planned_to": st.dates(TODAY, date(2199, 12, 31)),
    } | ({} if air else {
        "depth_m": st.floats(0, 400), "jump_m": st.floats(0, 30), "crown_under": COUNTS,
        "pusher_under": COUNTS,
        "water": st.sampled_from(["sea", "brackish", "fresh", "pool", "soap", "hot tub"]),
    })  # fmt: skip
    said: dict[str, Any] = {name: draw(values) for name, values in maybe.items() if draw(st.booleans())}
    if activity in ("dive", "mixed-gas", "freedive"):
        said.setdefault("depth_m", draw(st.floats(0, 400)))
    if activity in ("dive", "mixed-gas"):
        said.setdefault("duration_s", draw(st.floats(1, 172_800)))
    if said.get("water") == "brackish":
        said["salinity"] = draw(st.floats(0, 42))
    if said.get("depth_m") == 0:
        said.pop("crown_under", None)
        said.pop("pusher_under", None)
    said["planned"] = "planned_to" in said or draw(st.booleans())
    said["starts_on"] = draw(st.dates(date(1950, 1, 1), TODAY))
    return {"activity": activity} | said


def attempt(call: Callable[[], Exposure]) -> Exposure | BadInput:
    try:
        return call()
    except BadInput as error:
        return error


def reads_back(said: dict[str, Any], home: Settings, named: bool) -> None:
    watch = WATCH if named else None
    made = attempt(lambda: make_exposure(practice(), home, today=TODAY, watch=watch, **said))
    if isinstance(made, BadInput):
        # A skipped hour is no time, a depth below half a millimetre is none, and some marks are no text.
        assert made.where in ("starts_at", "crown_under", "pusher_under", "note")
    assume(isinstance(made, Exposure))
    assert isinstance(made, Exposure)
    line = print_entry(made, "Gran's chrono" if named else None, practice(), home)
    found = parse_entry(
        line, practice=practice(), settings=home, today=TODAY, watches=[WATCH], with_name=named,
        planned=made.planned,
    )  # fmt: skip
    assert found == made
    assert print_entry(found, "Gran's chrono" if named else None, practice(), home) == line
    unchanged = amend_words(replace(made, id=5), "", practice=practice(), settings=home, today=TODAY)
    assert unchanged == replace(made, id=5)
    whole = print_entry(made, None, practice(), home)
    again = amend_line(
        replace(made, id=5), whole, practice=practice(), settings=home, today=TODAY, watch=WATCH
    )
    assert again == replace(made, id=5)


SLOW = [HealthCheck.too_slow, HealthCheck.filter_too_much]


@examples(max_examples=tries(2_000), deadline=None, suppress_health_check=SLOW)
@given(sayings(), homes(), st.booleans())
def test_an_exposure_printed_and_read_is_equal(said: dict[str, Any], home: Settings, named: bool) -> None:
    reads_back(said, home, named)


@pytest.mark.release
@examples(max_examples=10_000, deadline=None, suppress_health_check=SLOW)
@given(sayings(), homes(), st.booleans())
def test_ten_thousand_exposures_printed_and_read_are_equal(
    said: dict[str, Any], home: Settings, named: bool
) -> None:
    reads_back(said, home, named)


FOLDS = [
    # A time that comes twice. EU: last Sunday of October, directive 2000/84/EC; the others: IANA tz database.
    ("Europe/Berlin", date(2026, 10, 25), time(2, 30), (7200, 3600)),
    ("America/New_York", date(2026, 11, 1), time(1, 30), (-14_400, -18_000)),
    ("America/St_Johns", date(2026, 11, 1), time(1, 30), (-9_000, -12_600)),
    ("Australia/Lord_Howe", date(2026, 4, 5), time(1, 45), (39_600, 37_800)),
    ("Africa/Casablanca", date(2026, 2, 15), time(2, 30), (3600, 0)),
    ("Pacific/Auckland", date(2026, 4, 5), time(2, 30), (46_800, 43_200)),
]


@pytest.mark.parametrize(("zone", "day", "clock", "offsets"), FOLDS)
def test_both_readings_of_a_repeated_hour_read_back(
    zone: str, day: date, clock: time, offsets: tuple[int, int]
) -> None:
    home = Settings(zone="UTC")
    said: dict[str, Any] = {"activity": "swim", "starts_on": day, "starts_at": clock, "zone": zone}
    made = [
        make_exposure(practice(), home, today=TODAY, utc_offset_s=told_s, **said)
        for told_s in (None, *offsets)
    ]
    assert [each.utc_offset_s for each in made] == [offsets[0], *offsets]
    for each in made:
        line = print_entry(each, None, practice(), home)
        assert parse_entry(line, practice=practice(), settings=home, today=TODAY, with_name=False) == each


WORDS = st.sampled_from(
    sorted(
        VOCABULARY
        | {"21m", "38min", "17C", "~15C", "64F", "1h10", "3", "2026-07-03", "sat", "10:40", "12", "mar"}
    )
)


@examples(max_examples=tries(1_000), deadline=None)
@given(st.lists(WORDS | st.text(max_size=8), max_size=12))
def test_any_line_is_an_exposure_or_a_clear_error(words: list[str]) -> None:
    line = "swim " + " ".join(words)
    found = attempt(
        lambda: parse_entry(line, practice=practice(), settings=Settings(), today=TODAY, with_name=False)
    )
    if isinstance(found, NotUnderstood):
        assert 0 <= found.column <= len(found.line)
        assert found.message
    elif isinstance(found, BadInput):
        assert found.where
    else:
        assert found.activity == "swim"
