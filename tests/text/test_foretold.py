"""Bands and forecasts in words: each case a sentence that a person can read after the seal's name."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.model.predict.draws import CHANNEL_FACTORS, RANGED, STATED, factor_name, years_name
from logbook.model.predict.forecast import HORIZON_YEARS, FanPoint, Forecast, SealForecast
from logbook.model.predict.levers import Lever, Levers
from logbook.text import foretold
from logbook.text.phrases import full_date
from tests.model.builders import PRACTICE

ON = date(2026, 11, 25)
SEAL = SealForecast(
    "crown", "NBR", date(2027, 2, 9), date(2028, 1, 9), date(2029, 4, 13), "ageing", date(2032, 12, 15),
    (FanPoint(ON, 0.1, 0.2, 0.3),),
)  # fmt: skip
FORECAST = Forecast(ON, (SEAL,), date(2028, 12, 15), 104, False, 0, "diving")


def window(p10: date | None, p50: date | None, p90: date | None) -> str:
    """The words for a seal with these three days."""
    return foretold.window_words(replace(SEAL, p10=p10, p50=p50, p90=p90, cap_on=date(2050, 1, 1)), ON)


WINDOWS = [
    ("2027-02-09 2028-01-09 2029-04-13",
     "is used up between 9 Feb 2027 and 13 Apr 2029 in eight of ten ways ahead, half by 9 Jan 2028"),
    ("2026-06-03 2027-05-04 2028-11-23",
     ("may be used up already: one way ahead in ten since 3 Jun 2026, half by 4 May 2027"
      ", nine in ten by 23 Nov 2028")),
    ("2025-09-02 2026-01-22 2027-03-10",
     "is likely used up already: half of the ways ahead since 22 Jan 2026, nine in ten by 10 Mar 2027"),
    ("2025-09-02 2026-01-22 2026-09-06",
     "is likely used up already: half of the ways ahead since 22 Jan 2026, nine in ten since 6 Sep 2026"),
    ("2025-09-02 2026-01-22 beyond",
     "is likely used up already: half of the ways ahead since 22 Jan 2026, nine in ten beyond 10 years"),
    ("2026-11-25 2026-11-26 2026-11-27",
     ("may be used up already: one way ahead in ten since 25 Nov 2026, half by 26 Nov 2026"
      ", nine in ten by 27 Nov 2026")),
    ("2029-08-22 2032-08-02 beyond",
     "is used up: one way ahead in ten by 22 Aug 2029, half by 2 Aug 2032, nine in ten beyond 10 years"),
    ("2026-06-03 2032-08-02 beyond",
     ("may be used up already: one way ahead in ten since 3 Jun 2026, half by 2 Aug 2032"
      ", nine in ten beyond 10 years")),
    ("2033-01-01 beyond beyond", "is used up: one way ahead in ten by 1 Jan 2033, half beyond 10 years"),
    ("2026-06-03 beyond beyond",
     "may be used up already: one way ahead in ten since 3 Jun 2026, half beyond 10 years"),
    ("beyond beyond beyond", "lasts beyond 10 years in nine of ten ways ahead"),
]  # fmt: skip


@pytest.mark.parametrize(("days", "words"), WINDOWS)
def test_a_window_reads_as_a_sentence(days: str, words: str) -> None:
    assert window(*(None if day == "beyond" else date.fromisoformat(day) for day in days.split())) == words


POINTS = st.lists(st.integers(-4000, 3650), min_size=0, max_size=3).map(
    lambda found: [*(ON + timedelta(days=n) for n in sorted(found)), None, None, None][:3]
)


@given(POINTS)
def test_a_window_promises_nothing_and_puts_past_and_coming_days_apart(days: list[date | None]) -> None:
    words = window(*days)
    assert words.split()[0] in ("is", "may", "lasts")
    assert not any(never in words for never in ("at the latest", "at the earliest", "None", "safe", "will"))
    likely = days[1] is not None and days[1] <= ON
    for day in filter(None, days[1:] if likely else days):
        if day <= ON:
            assert f"since {full_date(day)}" in words
        else:
            assert any(f"{before} {full_date(day)}" in words for before in ("by", "between", "and"))
    assert ("already" in words) == (days[0] is not None and days[0] <= ON)
    assert ("likely" in words) == likely
    assert ("beyond 10 years" in words) == (None in days)


def test_the_horizon_is_the_one_that_the_words_name() -> None:
    assert f"beyond {HORIZON_YEARS} years" == foretold.BEYOND


@pytest.mark.parametrize(
    ("day", "words"),
    [
        (None, "beyond 10 years"),
        (date(2025, 1, 2), "2 Jan 2025"),
        (date(2026, 11, 26), "26 Nov 2026"),
    ],
)
def test_a_day_alone_is_a_day_or_beyond_the_horizon(day: date | None, words: str) -> None:
    assert foretold.day_or_beyond(day) == words


@pytest.mark.parametrize(
    ("band", "words"),
    [((58, 80), "71, likely 58–80"), ((0, 80), "71, likely 0–80"), ((None, None), "71"), ((None, 80), "71")],
)
def test_a_score_is_followed_by_its_band_where_there_is_one(band: Any, words: str) -> None:
    assert foretold.score_words(71, *band) == words


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({}, "from its last 104 weeks, by season"),
        ({"planned": 9}, "from its last 104 weeks, by season, and 9 planned days of water"),
        ({"planned": 1}, "from its last 104 weeks, by season, and 1 planned day of water"),
        ({"weeks": 52}, "from its last 52 weeks, by season"),
        (
            {"weeks": 51, "planned": 2},
            (
                "from its last 51 weeks, by season, and 2 planned days of water; "
                "seasons it has not seen are taken from the rest"
            ),
        ),
        (
            {"weeks": 7, "from_stated_use": True},
            "only 7 weeks on record: from its stated use, diving, with its wide band",
        ),
        (
            {"weeks": 1, "from_stated_use": True, "planned": 3},
            (
                "only 1 week on record: from its stated use, diving, with its wide band, "
                "and 3 planned days of water"
            ),
        ),
        (
            {"weeks": 0, "from_stated_use": True},
            "only 0 weeks on record: from its stated use, diving, with its wide band",
        ),
    ],
)
def test_a_forecast_says_what_it_rests_on(changes: dict[str, Any], words: str) -> None:
    assert foretold.basis_words(replace(FORECAST, **changes)) == words


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("H_salt", "hours of salt in an interval (H_salt)"),
        ("Ea", "activation energy of ageing (Ea)"),
        (STATED, "use before the log began"),
        ("years NBR", "life of NBR"),
        ("years unknown", "life of a material that is not known"),
        ("m_s crown-screwed", "salt factor of the crown, screwed down (m_s)"),
        ("m_h crown-pushed", "handling factor of the crown, pushed in (m_h)"),
        ("m_c case-back", "chemicals factor of the case back (m_c)"),
        ("fitted 2019-11-15 2024-11-15", "its unknown fitting date"),
    ],
)
def test_a_constant_is_named_in_words(name: str, words: str) -> None:
    assert foretold.constant_words(name) == words


def test_every_constant_that_is_drawn_has_words_of_its_own() -> None:
    drawn = [*RANGED, STATED, *map(years_name, PRACTICE.materials)]
    drawn += [factor_name(row, m) for row in ("crown-screwed", "gas-valve") for m in CHANNEL_FACTORS]
    words = [foretold.constant_words(name) for name in drawn]
    assert len(set(words)) == len(words)
    assert foretold.constant_words("fitted …") not in words


@pytest.mark.parametrize(
    ("low", "high", "words"),
    [
        (date(2027, 10, 27), date(2029, 3, 2), "life of NBR: 27 Oct 2027 at its low, 2 Mar 2029 at its high"),
        (date(2020, 1, 1), None, "life of NBR: used up already at its low, beyond 10 years at its high"),
        (ON, ON + timedelta(days=1), "life of NBR: used up already at its low, 26 Nov 2026 at its high"),
    ],
)
def test_a_lever_says_both_days(low: date | None, high: date | None, words: str) -> None:
    assert foretold.lever_words(Lever("years NBR", low, high, 1), ON) == words


def test_the_levers_say_what_they_are_measured_against() -> None:
    ahead = Levers(date(2029, 10, 31), ())
    assert foretold.levers_head(replace(SEAL, position="case-back"), ahead, FORECAST) == (
        "what moves the case back seal’s date most: "
        "31 Oct 2029 with every constant at its value, and each alone:"
    )
    planned = foretold.levers_head(SEAL, ahead, replace(FORECAST, planned=9))
    assert planned.endswith("at its value and nothing planned, and each alone:")
    assert "beyond 10 years" in foretold.levers_head(SEAL, Levers(None, ()), FORECAST)
    used = foretold.levers_head(SEAL, Levers(ON, ()), FORECAST)
    assert used == "with every constant at its value the crown seal is used up already; each alone:"


@pytest.mark.parametrize(
    ("cap_on", "words"),
    [
        (date(2028, 6, 1), "; its material’s storage age ends 1 Jun 2028"),
        (date(2026, 6, 1), "; its material’s storage age ended 1 Jun 2026"),
        (date(2029, 4, 13), ""),
    ],
)
def test_a_storage_age_that_ends_before_the_window_does_is_said(cap_on: date, words: str) -> None:
    said = foretold.window_words(replace(SEAL, cap_on=cap_on), ON)
    assert said.partition(", half by 9 Jan 2028")[2] == words
