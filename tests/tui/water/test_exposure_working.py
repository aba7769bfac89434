"""The working beside the form as it is read: pressure, mark, swing, wear; no screen."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from logbook.model.fitting import Fitted, initial_seals
from logbook.model.values import Event, HomeWater, Settings, Shares, Watch, WatchRecord
from logbook.record.file.practice_file import load_practice
from logbook.tui.water import form
from logbook.tui.water import saving as exposure_saving
from logbook.tui.water import working as exposure_working
from logbook.tui.water.form import QUESTIONS, Around
from logbook.tui.water.working import Working
from tests.tui.helpers import text_of, words

PRACTICE = load_practice()
TODAY = date(2026, 11, 25)
FITTED = date(2026, 3, 1)
DIVE = {"what": "dive", "depth": "21", "minutes": "38", "water": "sea", "temp": "17"}


def record(**more: Any) -> WatchRecord:
    told = {"mark": "divers", "marked_pa": 20e5, "crown": "screwed", "use": "diving"} | more
    watch = Watch("Blue bezel", added_on=date(2025, 1, 1), recorded_from=date(2025, 1, 1), id=1, **told)  # type: ignore[arg-type]
    seals = initial_seals(watch, "NBR", Fitted(None, FITTED, FITTED), {})
    test = Event("pressure-test", date(2026, 5, 1), 40, passed=True, test_pa=20e5, medium="water")
    return WatchRecord(watch, seals, {}, events=(test,))


def around(of: WatchRecord, **more: Any) -> Around:
    told: dict[str, Any] = {"settings": Settings(), "units": "metric"} | more
    return Around(PRACTICE, today=TODAY, watch=of.watch, **told)


def worked(texts: dict[str, str], of: WatchRecord | None = None, **more: Any) -> tuple[Working, str]:
    of = of or record()
    told = around(of, **more)
    working = exposure_working.work_out(form.read(DIVE | texts, told, QUESTIONS), of, PRACTICE, told.units)
    assert working is not None
    return working, words(text_of(exposure_working.lines(working, told, 44)))


@pytest.mark.parametrize(
    ("texts", "shown"),
    [
        ({}, "pressure at 21 m 2.10 bar gauge"),
        ({}, "EN 13319, as instruments show it"),
        ({}, "the arm at 1 m/s adds 0.005 bar"),
        ({}, "of the mark, 20 bar 11 %"),
        ({}, "swing 32 → 17 °C 15 K"),
        ({}, "0.43 of a thermal-shock test’s 35 K"),
        ({"temp": "19.5"}, "swing 32 → 19.5 °C 12.5 K 0.36 of a thermal-shock test’s 35 K"),
        ({"temp": ""}, "15 °C assumed, no home water set"),
        ({"jump": "3"}, "jump from 3 m, steady, at most 0.30 bar"),
        ({"what": "pool", "depth": "1.5", "water": "pool"}, "TEOS-10: no salt, 17 °C, 45° north"),
        ({"what": "snorkel", "depth": "3"}, "TEOS-10: salinity 35, 17 °C, 45° north"),
        (
            {"what": "sauna", "depth": "", "water": "", "temp": "80", "minutes": "15"},
            "swing 32 → 57.3 °C 25.3 K",
        ),
        # Sealed at 21 °C and 1013.25 hPa, by hand: 1.01325 · 278.15/294.15 = 0.958 bar;
        # 2.100 + 1.0133 − 0.9581 = 2.155 bar.
        ({"temp": "5"}, "air in the case at 5 °C 0.96 bar: the seals hold 2.16 bar from outside"),
        (
            {"what": "sauna", "depth": "", "water": "", "temp": "80", "minutes": "15"},
            "air in the case at 57.3 °C 1.14 bar: the seals hold 0.13 bar from inside",
        ),
        (
            {"what": "swim", "depth": "2", "water": "sea salinity 280 density 1190"},
            "1190 kg/m³ as given, 45° north",
        ),
        ({"depth": "210"}, "of the mark, 20 bar 105 %"),
        ({"depth": "210"}, "noted: 21.00 bar"),
        ({"crown": "under"}, "noted: crown to be used in water: do not work crown or pushers in water"),
        ({"jump": "5"}, "noted: a jump from 5 m"),
        ({"when": "2024-12-31"}, "Not charged: its record begins on 1 Jan 2025."),
        ({"when": "2026-02-01"}, "Not charged to the seals in place now: they were fitted later."),
        ({"minutes": ""}, "The wear follows once the minutes are there."),
    ],
    ids=lambda each: str(each)[:50],
)
def test_the_working_shows(texts: dict[str, str], shown: str) -> None:
    assert shown in worked(texts)[1]


def test_at_a_lake_in_the_mountains_less_air_helps_the_water() -> None:
    high = Settings(HomeWater(altitude_m=2000.0))
    # ISO 2533 at 2000 m: 0.795 bar; 2.10 + 0.795 − 0.958, by hand.
    assert "the seals hold 1.94 bar from outside" in worked({"temp": "5"}, settings=high)[1]


def test_the_air_in_the_case_speaks_the_owners_units() -> None:
    assert "air in the case at 41 °F 13.9 psi: the seals hold" in worked({"temp": "5C"}, units="imperial")[1]


def test_the_wear_is_shown_by_channel_rinsed_and_not_for_the_most_affected_seal() -> None:
    working, text = worked({})
    assert working.position == "crown"
    assert "adds to the crown seal, of 100" in text
    assert "rinsed not rinsed" in text
    # Salt by hand: 38 min / 300 h = 0.211 of 100 rinsed, four times that not rinsed (docs/method.md, "Salt").
    assert "0.21 0.84" in text
    assert working.shares is not None
    rinsed, not_rinsed = working.shares
    assert f"in all {100 * rinsed.total:.2f} {100 * not_rinsed.total:.2f}" in text


def test_the_channel_that_adds_most_is_lit_and_said() -> None:
    working, text = worked({})
    assert working.shares is not None
    assert max(working.shares[0].as_tuple()) == working.shares[0].salt
    assert "salt, most " in text
    assert text.count(", most") == 1
    told = around(record())
    lit = [
        piece for line in exposure_working.lines(working, told, 44) for piece in line if ", most" in piece[0]
    ]
    assert [role for _, role in lit] == ["strong"]


def test_where_no_salt_is_in_the_water_a_rinse_changes_nothing() -> None:
    text = worked({"what": "pool", "depth": "1.5", "water": "pool"})[1]
    assert "a rinse changes nothing here" in text
    assert "not rinsed" not in text


def test_home_water_that_fills_in_is_said_to() -> None:
    text = worked({"temp": ""}, settings=Settings(home=HomeWater(monthly_c=(9.0,) * 12)))[1]
    assert "9 °C from the home water" in text


def test_a_mark_without_a_number_says_what_was_taken_for_it() -> None:
    text = worked({}, record(mark="unknown", marked_pa=None))[1]
    assert "of 3 bar, taken for unknown" in text


def test_imperial_units_are_shown_where_they_are_used() -> None:
    text = worked({"depth": "70", "temp": "63"}, units="imperial")[1]
    assert "pressure at 70 ft" in text
    assert "psi gauge" in text
    assert "swing 89.6 → 63 °F 26.6 °F 0.42 of a thermal-shock test’s 63 °F" in text
    deep = worked({"depth": "700", "temp": "63"}, units="imperial")[1]
    assert "noted: 309.5 psi with the arm’s speed and the jump is above the mark of 290.1 psi" in deep


def test_nothing_is_worked_out_before_there_is_a_depth() -> None:
    of = record()
    reading = form.read(DIVE | {"depth": ""}, around(of), QUESTIONS)
    assert exposure_working.work_out(reading, of, PRACTICE) is None


@pytest.mark.parametrize("width", [36, 41, 64, 150])
def test_no_line_is_wider_than_its_place(width: int) -> None:
    of = record(mark="unmarked", marked_pa=None)
    told = around(of)
    texts = DIVE | {"temp": "", "crown": "under", "jump": "12", "depth": "399"}
    working = exposure_working.work_out(form.read(texts, told, QUESTIONS), of, PRACTICE)
    assert working is not None
    lines = exposure_working.lines(working, told, width)
    assert max(len(line) for line in text_of(lines).splitlines()) <= width


def test_the_notice_names_entry_cost_and_seal() -> None:
    of = record()
    numbered = replace(of, seals=tuple(replace(seal, id=n) for n, seal in enumerate(of.seals)))
    exposure = form.read(DIVE, around(of), QUESTIONS).exposure
    assert exposure is not None
    cost = {0: Shares(salt=0.001), 2: Shares(salt=0.003)}
    said = exposure_saving.notice(replace(exposure, id=12), numbered, cost, "metric")
    assert said.startswith("Logged 12: dive 21 m, 38 min")
    assert said.endswith("took 0.30 of 100 (crown). z: undo")
    assert "not charged" in exposure_saving.notice(exposure, numbered, {}, "metric")


@pytest.mark.parametrize(
    ("depth", "noted"),
    [("40", "noted: free diving: more than is usual for a mark of 10 bar"), ("5", "")],
)
def test_a_swim_is_judged_by_its_depth_as_much_as_by_its_name(depth: str, noted: str) -> None:
    of = record(mark="water-resistant", marked_pa=10e5, use="swimming")
    _, shown = worked({"what": "swim", "depth": depth}, of)
    assert noted in shown
    assert ("more than is usual for a mark of" in shown) == bool(noted)
