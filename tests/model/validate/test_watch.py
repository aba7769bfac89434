"""Watches, seals, events, habits, stretches and settings: contradictions and ranges."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from functools import partial
from pathlib import Path
from typing import Any

import pytest

import logbook
from logbook.errors import BadInput
from logbook.model import practice as practice_file
from logbook.model.validate.exposure import (
    check_bought_new,
    check_event,
    check_habit,
    check_seal,
    check_settings,
    check_stretch,
    check_watch,
    make_exposure,
)
from logbook.model.values import (
    DAMAGE,
    EVENT_KINDS,
    FAULTS,
    Event,
    Exposure,
    Habit,
    HomeWater,
    ProfilePoint,
    Seal,
    Settings,
    Watch,
    WatchRecord,
    WornStretch,
)

TODAY = date(2026, 11, 25)
TOMORROW = TODAY + timedelta(days=1)
BOUGHT = date(2020, 5, 1)
PRACTICE = practice_file.parse((Path(logbook.__file__).parent / "practice.toml").read_text(encoding="utf-8"))
WATCH = Watch(
    name="Blue bezel", mark="divers", marked_pa=20e5, added_on=TODAY, recorded_from=TODAY, crown="screwed",
    pushers=True, gas_valve=True, bought_on=BOUGHT, id=1,
)  # fmt: skip
PLAIN = replace(WATCH, name="Sunday dress", pushers=False, gas_valve=False)


def refuses(where: str, sentence: str, call: Any, *args: Any) -> None:
    with pytest.raises(BadInput, match=sentence) as caught:
        call(*args)
    assert caught.value.where == where


# ---------------------------------------------------------------- watches


@pytest.mark.parametrize(
    ("changes", "where", "sentence"),
    [
        ({"name": ""}, "name", "The name is empty"),
        ({"name": " \t "}, "name", "The name is empty"),
        ({"name": "a: b"}, "name", "A name has no colon"),
        ({"name": "x" * 81}, "name", "has 81 characters; at most 80 fit"),
        ({"name": "x" * 10_000}, "name", "has 10,000 characters"),
        ({"name": "a\x1b[2J"}, "name", r"control character \\x1b"),
        ({"name": "a\u202eb"}, "name", r"control character \\u202e"),
        ({"name": "a\ud800"}, "name", r"control character \\ud800"),
        ({"mark": "tight"}, "mark", "is no mark; there are unmarked"),
        ({"mark": "diver"}, "mark", r"Did you mean divers\?"),
        ({"mark": "unmarked"}, "mark", "An unmarked watch states no pressure: leave out 20 bar"),
        ({"mark": "unknown"}, "mark", "is not unknown: leave out 20 bar"),
        ({"marked_pa": None}, "marked_pa", "A diver's mark has a number"),
        ({"mark": "divers-mixed-gas", "marked_pa": None}, "marked_pa", "A diver's mark has a number"),
        ({"marked_pa": 9.9e5}, "marked_pa", r"100 m \(ISO 6425, as secondary sources quote it\): 9.9 bar"),
        ({"mark": "divers-mixed-gas", "marked_pa": 5e5}, "marked_pa", "starts at 100 m"),
        ({"mark": "water-resistant", "marked_pa": 0}, "marked_pa", "0 bar is not from 0.1 to 2000 bar"),
        ({"marked_pa": 2001e5}, "marked_pa", "2001 bar is not"),
        ({"marked_pa": float("nan")}, "marked_pa", "nan bar is not"),
        ({"marked_in": "ft"}, "marked_in", "is no unit of a mark; there are bar and m"),
        ({"made_from": 1968}, "made_to", "Give the first and the last year"),
        ({"made_to": 1968}, "made_from", "Give the first and the last year"),
        ({"made_from": 1799, "made_to": 1968}, "made_from", "1799 is not from 1800 to 2200"),
        ({"made_from": 1968, "made_to": 1967}, "made_to", "give the earlier year first"),
        ({"made_from": 2019, "made_to": 2027}, "made_to", "lies in the future"),
        ({"made_from": 2021, "made_to": 2021}, "made_from", "bought on 2020-05-01: it was made before"),
        ({"pushers": False, "pushers_wet": True}, "pushers_wet", "has no pushers"),
        ({"crown": "pushed and screwed"}, "crown", "is no crown; there are screwed and pushed"),
        ({"movement": "solar"}, "movement", "is no movement"),
        ({"use": "surfing"}, "use", "is no use; there are diving, swimming and dry"),
        ({"case_material": "stel"}, "case_material", r"Did you mean steel\?"),
        ({"worn_h": 24.1}, "worn_h", "24.1 h a day is not from 0 to 24 h a day"),
        ({"worn_h": -1}, "worn_h", "-1 h a day is not"),
        ({"winds": -1}, "winds", "-1 is not from 0"),
        ({"presses": 1001}, "presses", "1001 is not"),
        ({"intervals_months": {"battery": 0}}, "intervals_months", "0 months is not from 1 to 600"),
        ({"intervals_months": {"battery": 601}}, "intervals_months", "601 months is not"),
        ({"bought_on": TOMORROW}, "bought_on", "lies in the future"),
        ({"new_on": TOMORROW}, "new_on", "lies in the future"),
        ({"added_on": TOMORROW}, "added_on", "lies in the future"),
        ({"recorded_from": TOMORROW}, "recorded_from", "lies in the future"),
        ({"bought_on": date(1, 1, 1)}, "bought_on", "a date lies from"),
        ({"new_on": date(2020, 4, 30)}, "new_on", "Bought new on 2020-04-30, but bought on 2020-05-01"),
        ({"retired_on": TOMORROW}, "retired_on", "lies in the future"),
        ({"retired_on": date(2020, 4, 30)}, "retired_on", "own first date, 2020-05-01"),
        ({"confirmed_on": TOMORROW}, "confirmed_on", "lies in the future"),
        ({"note": "x" * 2_001}, "note", "at most 2,000"),
        ({"reference": "x" * 81}, "reference", "at most 80"),
        ({"group": "a\x00"}, "group", "control character"),
    ],
)
def test_a_watch_that_cannot_be_is_refused(changes: dict[str, Any], where: str, sentence: str) -> None:
    refuses(where, sentence, check_watch, replace(WATCH, **changes), PRACTICE, TODAY)


@pytest.mark.parametrize(
    "changes",
    [
        {},
        {"marked_pa": 10e5},
        {"mark": "unmarked", "marked_pa": None},
        {"mark": "unknown", "marked_pa": None},
        {"mark": "water-resistant", "marked_pa": None},
        {"mark": "water-resistant", "marked_pa": 3e5},
        {"mark": "divers-mixed-gas", "marked_pa": 2000e5},
        {"new_on": BOUGHT},
        {"bought_on": None, "new_on": BOUGHT},
        {"worn_h": 0},
        {"worn_h": 24},
        {"name": "x" * 80},
        {"name": "[bold]🤿[/] =1+1"},
        {"intervals_months": {"battery": 36}},
        {"retired_on": TODAY, "confirmed_on": TODAY},
    ],
)
def test_a_watch_that_can_be_is_handed_back(changes: dict[str, Any]) -> None:
    watch = replace(WATCH, **changes)
    assert check_watch(watch, PRACTICE, TODAY) == watch


def test_a_watchs_texts_are_tidied_and_its_numbers_rounded_to_what_is_stored() -> None:
    watch = replace(
        WATCH, name="  E\u0301te\u0301   2 ", note="a\nb", marked_pa=1_999_999.6, worn_h=12.001, winds=1.23456
    )
    found = check_watch(watch, PRACTICE, TODAY)
    assert (found.name, found.note, found.marked_pa) == ("Été 2", "a b", 2_000_000.0)
    assert (found.worn_h, found.winds) == (12.0, 1.235)


NEW = date(2025, 6, 1)
BEFORE = NEW - timedelta(days=1)


def bought_new(**told: Any) -> WatchRecord:
    """A watch bought new, its seals of that day, and what else is told of it."""
    watch = replace(WATCH, bought_on=None, new_on=NEW)
    seal = Seal("case-back", "NBR", NEW, NEW, id=1)
    return WatchRecord(watch, **({"seals": (seal,), "totals": {}} | told))


def water_on(day: date) -> Exposure:
    return make_exposure(
        PRACTICE, Settings(), activity="dive", starts_on=day, today=TODAY, depth_m=18, duration_s=2400
    )


def dated(day: date) -> dict[str, tuple[dict[str, Any], list[Exposure]]]:
    """What a record can hold, on one day: the keys say how a refusal names it."""
    return {
        "its case back seal was fitted on": (
            {"seals": (Seal("case-back", "NBR", date(2020, 1, 1), day),)}, [],
        ),
        r"the record has an event \(pressure test\) on": (
            {"events": (Event("pressure-test", day, 40, passed=True),)}, [],
        ),
        r"the record has water \(dive\) on": ({}, [water_on(day)]),
        "the record has a habit from": ({"habits": (Habit(water_on(day), 1.0, day),)}, []),
        "the record has a worn stretch from": ({"stretches": (WornStretch(day, TODAY, 3.0),)}, []),
    }  # fmt: skip


@pytest.mark.parametrize("named", dated(NEW))
def test_a_watch_is_not_bought_new_after_anything_on_its_record(named: str) -> None:
    told, water = dated(BEFORE)[named]
    sentence = f"Blue bezel cannot have been bought new on 2025-06-01: {named} 2025-05-31; give that day or"
    refuses("new_on", sentence, check_bought_new, bought_new(**told), water)
    told, water = dated(NEW)[named]
    check_bought_new(bought_new(**told), water)


def test_the_first_thing_on_the_record_is_the_one_that_is_named() -> None:
    long_ago = replace(water_on(BEFORE), starts_on=date(2021, 1, 1))
    refuses("new_on", "dive.* 2021-01-01", check_bought_new, bought_new(), [water_on(BEFORE), long_ago])


def test_a_watch_that_was_not_bought_new_may_have_any_past() -> None:
    second_hand = bought_new()
    second_hand = replace(second_hand, watch=replace(second_hand.watch, new_on=None, bought_on=NEW))
    check_bought_new(second_hand, [water_on(BEFORE)])


# ---------------------------------------------------------------- seals


@pytest.mark.parametrize(
    ("seal", "watch", "where", "sentence"),
    [
        (Seal("lid", "NBR", BOUGHT, BOUGHT), WATCH, "position", "'lid' is no sealing place"),  # type: ignore[arg-type]
        (Seal("pushers", "NBR", BOUGHT, BOUGHT), PLAIN, "position", "Sunday dress has no pushers"),
        (Seal("gas-valve", "NBR", BOUGHT, BOUGHT), PLAIN, "position", "Sunday dress has no gas valve"),
        (Seal("crown", "NBRR", BOUGHT, BOUGHT), WATCH, "material", r"Did you mean NBR\?"),
        (Seal("crown", "NBR", TODAY, BOUGHT), WATCH, "fitted", "give the earlier day first"),
        (Seal("crown", "NBR", BOUGHT, TOMORROW), WATCH, "fitted", "lies in the future"),
        (Seal("crown", "NBR", BOUGHT, BOUGHT, order=-1), WATCH, "order", "-1 is not"),
    ],
)
def test_a_seal_that_cannot_be_is_refused(seal: Seal, watch: Watch, where: str, sentence: str) -> None:
    refuses(where, sentence, check_seal, seal, watch, PRACTICE, TODAY)


def test_a_seal_may_be_older_than_the_purchase() -> None:
    seal = Seal("crown", "unknown", date(2015, 1, 1), TODAY)
    assert check_seal(seal, WATCH, PRACTICE, TODAY) == seal


# ---------------------------------------------------------------- events


def event(kind: str, **more: Any) -> Event:
    return Event(kind=kind, **({"on": TODAY, "order": 40} | more))  # type: ignore[arg-type]


MONTH = (date(2026, 10, 1), date(2026, 10, 31))
PASS = {"passed": True, "test_pa": 10e5, "medium": "air"}


@pytest.mark.parametrize(
    ("given", "watch", "where", "sentence"),
    [
        (event("pressure-tset"), WATCH, "kind", r"Did you mean pressure-test\?"),
        (event("pressure-test"), WATCH, "passed", "Passed or failed. A pressure-test needs its result"),
        (event("condensation-test"), WATCH, "passed", "needs its result"),
        (event("battery", passed=True), WATCH, "passed", "Only a test is passed or failed, not battery"),
        (event("pressure-test", passed=True), WATCH, "test_pa", "To what pressure was it passed"),
        (event("pressure-test", passed=False), WATCH, "test_pa", "To what pressure was it failed"),
        (
            event("pressure-test", passed=True, to_mark=True),
            WATCH,
            "test_pa",
            "has the pressure of that mark",
        ),
        (
            event("pressure-test", **PASS | {"test_pa": 5e4, "medium": "vacuum"}, to_mark=True),
            WATCH,
            "medium",
            "No vacuum is a test to its mark",
        ),
        (event("battery", to_mark=True), WATCH, "test_pa", "Only a pressure test has a pressure"),
        (event("fog", moved=True), WATCH, "moved", "Only a fall or blow .knock. moves"),
        (event("knock", passed=True), WATCH, "passed", "Only a test is passed or failed, not knock"),
        (event("knock", on=TOMORROW), WATCH, "on", "lies in the future"),
        (event("fog", span=(TODAY, TODAY)), WATCH, "span", "give the earlier day first"),
        (event("fog", span=(MONTH[0], TOMORROW), on=TOMORROW), WATCH, "on", "lies in the future"),
        (event("fog", span=MONTH, on=MONTH[0]), WATCH, "on", "the day that counts is 2026-10-31, not"),
        (event("pressure-test", **PASS, span=MONTH, on=MONTH[1]), WATCH, "on", "counts is 2026-10-01, not"),
        (event("pressure-test", passed=True, test_pa=10e5), WATCH, "medium", "air, vacuum or water"),
        (event("pressure-test", passed=False, test_pa=10e5), WATCH, "medium", "air, vacuum or water"),
        (event("pressure-test", **PASS | {"medium": "oil"}), WATCH, "medium", "'oil' is no medium"),
        (event("pressure-test", **PASS | {"test_pa": 0}), WATCH, "test_pa", "0 bar is not above 0"),
        (event("pressure-test", **PASS | {"test_pa": -1e5}), WATCH, "test_pa", "-1 bar is not above 0"),
        (event("pressure-test", **PASS | {"test_pa": 2001e5}), WATCH, "test_pa", "2001 bar is not"),
        (
            event("pressure-test", **PASS | {"test_pa": 1.1e5, "medium": "vacuum"}),
            WATCH,
            "test_pa",
            "no vacuum is deeper",
        ),
        (event("pressure-test", **PASS, minutes=0), WATCH, "minutes", "0 min is not above 0"),
        (event("pressure-test", **PASS, deflection_um=6_000), WATCH, "deflection_um", "6000 µm is not"),
        (event("condensation-test", **PASS), WATCH, "test_pa", "Only a pressure test has a pressure"),
        (event("battery", test_pa=1e5), WATCH, "test_pa", "Only a pressure test has a pressure, not battery"),
        (event("opened", minutes=3), WATCH, "minutes", "Only a test has minutes"),
        (event("water-inside", crystal_c=5), WATCH, "crystal_c", "Only fog has temperatures"),
        (event("fog", crystal_c=61), WATCH, "crystal_c", r"Did you mean 61 °F = 16.1 °C\?"),
        (event("fog", case_air_c=-46), WATCH, "case_air_c", "-46 °C is not"),
        (
            event("repaired"),
            WATCH,
            "repaired",
            "names it: crown-damaged, crystal-damaged, pushers-damaged or gas-valve-damaged",
        ),
        (event("repaired", repaired="fog"), WATCH, "repaired", "fog and water need a passed test"),
        (event("crown-damaged", repaired="crown-damaged"), WATCH, "repaired", "Only a repair repairs"),
        (event("repaired", repaired="pushers-damaged"), PLAIN, "kind", "Sunday dress has no pushers"),
        (event("repaired", repaired="gas-valve-damaged"), PLAIN, "kind", "Sunday dress has no gas valve"),
        (event("pushers-damaged"), PLAIN, "kind", "Sunday dress has no pushers"),
        (event("gas-valve-damaged"), PLAIN, "kind", "Sunday dress has no gas valve"),
        (event("gaskets"), WATCH, "seals", "Which gaskets"),
        (event("gaskets", seals=(("pushers", "NBR"),)), PLAIN, "seals", "Sunday dress has no pushers"),
        (event("gaskets", seals=(("lid", "NBR"),)), WATCH, "seals", "'lid' is no sealing place"),
        (event("gaskets", seals=(("crown", "FKN"),)), WATCH, "seals", r"Did you mean FKM\?"),
        (event("gaskets", seals=(("crown", "NBR"), ("crown", "FKM"))), WATCH, "seals", "listed twice"),
        (event("battery", seals=(("crown", "NBR"),)), WATCH, "seals", "Only new gaskets list seals"),
        (event("battery", on=TOMORROW), WATCH, "on", "lies in the future"),
        (
            event("battery", on=date(2020, 4, 30)),
            WATCH,
            "on",
            "before the watch's own first date, 2020-05-01",
        ),
        (event("battery", order=-1), WATCH, "order", "-1 is not"),
        (event("battery", workshop="x" * 81), WATCH, "workshop", "at most 80"),
        (event("battery", note="\x07"), WATCH, "note", "control character"),
    ],
)
def test_an_event_that_cannot_be_is_refused(given: Event, watch: Watch, where: str, sentence: str) -> None:
    refuses(where, sentence, check_event, given, watch, TODAY, PRACTICE)


@pytest.mark.parametrize("kind", EVENT_KINDS)
def test_every_kind_of_event_is_taken_with_what_it_needs(kind: str) -> None:
    needs: dict[str, dict[str, Any]] = {
        "pressure-test": PASS | {"minutes": 10.0, "deflection_um": 12.5},
        "condensation-test": {"passed": False, "minutes": 2.5},
        "repaired": {"repaired": "crystal-damaged"},
        "gaskets": {"seals": (("crown", "FKM"), ("case-back", "NBR"))},
        "fog": {"crystal_c": 5.0, "case_air_c": 21.0},
        "knock": {"moved": True, "span": MONTH, "on": MONTH[1]},
    }
    given = event(kind, **needs.get(kind, {}))
    assert check_event(given, WATCH, TODAY, PRACTICE) == given


@pytest.mark.parametrize("repaired", DAMAGE)
def test_every_damage_can_be_repaired(repaired: str) -> None:
    given = event("repaired", repaired=repaired)
    assert check_event(given, WATCH, TODAY) == given


@pytest.mark.parametrize(
    "kind", [kind for kind in FAULTS if kind not in ("pushers-damaged", "gas-valve-damaged")]
)
def test_a_plain_watch_can_have_every_fault_of_a_plain_watch(kind: str) -> None:
    assert check_event(event(kind), PLAIN, TODAY).kind == kind


@pytest.mark.parametrize("passed", [True, False])
def test_a_pressure_test_lacks_its_pressure_only_where_that_is_said(passed: bool) -> None:
    told = event("pressure-test", passed=passed)
    assert check_event(told, WATCH, TODAY, pressure_unknown=True) == told
    in_air = replace(told, medium="oil")
    refuses("medium", "is no medium", partial(check_event, pressure_unknown=True), in_air, WATCH, TODAY)


def test_a_vacuum_reaches_one_bar() -> None:
    vacuum = event("pressure-test", passed=True, test_pa=1e5, medium="vacuum")
    assert check_event(vacuum, WATCH, TODAY) == vacuum


def test_an_event_is_rounded_to_what_is_stored() -> None:
    given = event(
        "pressure-test", passed=True, test_pa=999_999.7, medium="water", minutes=2.49999, note=" a  b "
    )
    found = check_event(given, WATCH, TODAY)
    assert (found.test_pa, found.minutes, found.note) == (1_000_000.0, 2.5, "a b")


# ---------------------------------------------------------------- habits, stretches, settings

SHOWER = make_exposure(PRACTICE, Settings(), activity="shower", starts_on=TODAY, today=TODAY)


@pytest.mark.parametrize(
    ("changes", "where", "sentence"),
    [
        ({"per_day": 0}, "per_day", "0 is not above 0"),
        ({"per_day": 0.00001}, "per_day", "0 is not above 0"),
        ({"per_day": 51}, "per_day", "51 is not"),
        ({"from_on": TOMORROW}, "from_on", "lies in the future"),
        ({"from_on": date(2020, 4, 30)}, "from_on", "own first date"),
        ({"to_on": date(2026, 10, 31)}, "to_on", "ends on 2026-10-31, before it begins on 2026-11-01"),
        ({"exposure": replace(SHOWER, planned=True)}, "exposure", "not a planned one or a profile"),
        ({"exposure": replace(SHOWER, profile=(ProfilePoint(0, 0),))}, "exposure", "not a planned one"),
    ],
)
def test_a_habit_that_cannot_be_is_refused(changes: dict[str, Any], where: str, sentence: str) -> None:
    habit = replace(Habit(SHOWER, 1.0, date(2026, 11, 1)), **changes)
    refuses(where, sentence, check_habit, habit, WATCH, TODAY)


def test_a_habit_may_go_on_and_its_count_is_whole_in_a_thousand_weeks() -> None:
    habit = Habit(SHOWER, 2 / 7, BOUGHT, date(2030, 1, 1))
    assert check_habit(habit, WATCH, TODAY) == habit
    assert check_habit(replace(habit, per_day=0.33333, to_on=None), WATCH, TODAY).per_day == 2333 / 7000


@pytest.mark.parametrize(
    ("stretch", "where", "sentence"),
    [
        (WornStretch(BOUGHT, TODAY, 24.5), "hours", "24.5 h a day is not"),
        (WornStretch(BOUGHT, TODAY, -0.5), "hours", "-0.5 h a day is not"),
        (WornStretch(TODAY, BOUGHT, 8), "to_on", "before it begins"),
        (WornStretch(BOUGHT, TOMORROW, 8), "to_on", "lies in the future"),
        (WornStretch(date(2020, 4, 30), TODAY, 8), "from_on", "own first date"),
    ],
)
def test_a_worn_stretch_that_cannot_be_is_refused(stretch: WornStretch, where: str, sentence: str) -> None:
    refuses(where, sentence, check_stretch, stretch, WATCH, TODAY)


def test_a_worn_stretch_of_one_day_is_taken_to_the_minute() -> None:
    assert check_stretch(WornStretch(TODAY, TODAY, 7.501), WATCH, TODAY).hours == 7.5


@pytest.mark.parametrize(
    ("settings", "where", "sentence"),
    [
        (Settings(home=HomeWater(salinity=43)), "salinity", "43 is not"),
        (Settings(home=HomeWater(latitude_deg=91)), "latitude_deg", "91° is not from -90 to 90°"),
        (Settings(home=HomeWater(altitude_m=6_001)), "altitude_m", "6001 m is not"),
        (Settings(home=HomeWater(altitude_m=-431)), "altitude_m", "-431 m is not"),
        (Settings(home=HomeWater(monthly_c=(5.0,) * 11)), "monthly_c", "11 temperatures; it needs 12"),
        (Settings(home=HomeWater(monthly_c=(5.0,) * 11 + (61.0,))), "monthly_c", "61 °C is not"),
        (Settings(zone="Europe/Berlim"), "zone", r"Did you mean Europe/Berlin\?"),
        (Settings(units="nautical"), "units", "is no system of units"),  # type: ignore[arg-type]
    ],
)
def test_settings_that_cannot_be_are_refused(settings: Settings, where: str, sentence: str) -> None:
    refuses(where, sentence, check_settings, settings)


def test_settings_that_can_be_are_handed_back_rounded() -> None:
    home = HomeWater(
        salinity=38.12345, latitude_deg=-45.12345678, altitude_m=375.0001, monthly_c=(15.00004,) * 12
    )
    found = check_settings(Settings(home=home, zone="Australia/Lord_Howe", units="imperial"))
    assert found.home == HomeWater(38.123, -45.123457, 375.0, (15.0,) * 12)
    assert (found.zone, found.units) == ("Australia/Lord_Howe", "imperial")
