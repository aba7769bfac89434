"""The whole record as JSON."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date, time
from pathlib import Path

import pytest

from logbook.caution import CAUTION
from logbook.files.json.writing import record_document
from logbook.model.fitting import Fitted, initial_seals
from logbook.model.validate.exposure import make_exposure
from logbook.model.values import Event, Habit, HomeWater, ProfilePoint, Settings, Watch, WornStretch
from logbook.record.file.practice_file import load_practice
from logbook.record.file.store import Store
from logbook.record.reading import glance
from logbook.record.writing import events, exposures, habits, settings, snoozes, watches

TODAY = date(2026, 3, 15)
HOME = Settings(HomeWater(38.0, 43.5, 0.0, tuple(float(n) for n in range(10, 22))), zone="Europe/Athens")


@pytest.fixture
def store(tmp_path: Path) -> Store:
    """A record with something of every kind."""
    practice = load_practice()
    made = Store.open(tmp_path / "record.logbook", create=True)
    watch = Watch(
        "Reef",
        "divers",
        20e5,
        TODAY,
        date(2025, 1, 1),
        crown="screwed",
        pushers=True,
        use="diving",
        intervals_months={"strap": 12},
    )
    seals = initial_seals(watch, "NBR", Fitted(None, date(2025, 1, 1), date(2025, 1, 1)), {})
    test = Event(
        "pressure-test", date(2025, 6, 1), 40, passed=True, test_pa=20e5, medium="water", minutes=2.5
    )
    watch_id = watches.add(made, watch, seals, [test], practice)
    settings.write(made, HOME)

    def wet(activity: str, **more: object) -> object:
        fields = {"starts_on": date(2026, 3, 1), "watch": watches_of(made)[0]} | more
        return make_exposure(practice, HOME, activity=activity, today=TODAY, **fields)  # type: ignore[arg-type]

    profile = (ProfilePoint(0, 0), ProfilePoint(60, 12.5, 15.25), ProfilePoint(1200, 0))
    dive = wet("dive", profile=profile, starts_at=time(9, 30), rinsed=True, note="with a “friend”")
    plan = wet(
        "dive",
        depth_m=30,
        duration_s=2400,
        starts_on=date(2026, 4, 1),
        planned_to=date(2026, 4, 5),
        planned=True,
    )
    exposures.add(made, [dive, plan], practice)
    events.add(
        made, [Event("gaskets", date(2026, 1, 5), 20, seals=(("crown", "FKM"),), watch_id=watch_id)], practice
    )
    habits.add_habit(made, Habit(wet("shower"), 2.0, date(2026, 1, 1), watch_id=watch_id), practice)
    habits.add_stretches(
        made, [WornStretch(date(2026, 1, 1), date(2026, 1, 9), 14.0, watch_id=watch_id)], practice
    )
    snoozes.snooze(made, "1:strap:2025-01-01", date(2026, 5, 1))
    return made


def watches_of(store: Store) -> list[Watch]:
    return [record.watch for record in glance.read_records(store.rows)]


def test_the_keys_that_others_rely_on(store: Store) -> None:
    document = record_document(store.rows)
    assert set(document) >= {"version", "watches", "exposures", "events", "worn", "habits", "caution"}
    assert (document["version"], document["caution"]) == (1, CAUTION)


def test_it_survives_json(store: Store) -> None:
    document = record_document(store.rows)
    assert json.loads(json.dumps(document, allow_nan=False)) == document


def test_every_field_of_an_exposure_is_there_in_si_units(store: Store) -> None:
    dive, plan = record_document(store.rows)["exposures"]
    assert dive["profile"] == [
        {"time_s": 0.0, "depth_m": 0.0, "water_c": None},
        {"time_s": 60.0, "depth_m": 12.5, "water_c": 15.25},
        {"time_s": 1200.0, "depth_m": 0.0, "water_c": None},
    ]
    assert (dive["watch"], dive["starts_on"], dive["starts_at"], dive["zone"], dive["utc_offset_s"]) == (
        "Reef",
        "2026-03-01",
        "09:30:00",
        "Europe/Athens",
        7200,
    )
    assert (dive["depth_m"], dive["duration_s"], dive["salinity"], dive["water_c"]) == (
        12.5,
        1200,
        38.0,
        12.0,
    )
    assert (dive["rinsed"], dive["planned"], dive["note"]) == (True, False, "with a “friend”")
    assert (plan["planned"], plan["planned_to"]) == (True, "2026-04-05")


def test_a_watch_has_its_seals_past_and_present(store: Store) -> None:
    (watch,) = record_document(store.rows)["watches"]
    assert (watch["name"], watch["marked_pa"], watch["intervals_months"]) == ("Reef", 20e5, {"strap": 12})
    crowns = [(s["material"], s["fitted_earliest"]) for s in watch["seals"] if s["position"] == "crown"]
    assert crowns == [("NBR", "2025-01-01"), ("FKM", "2026-01-05")]


def test_events_habits_worn_time_and_what_is_silenced_are_there(store: Store) -> None:
    document = record_document(store.rows)
    test, gaskets = document["events"]
    assert (test["kind"], test["test_pa"], test["minutes"], test["passed"]) == (
        "pressure-test",
        20e5,
        2.5,
        True,
    )
    assert gaskets["seals"] == [{"position": "crown", "material": "FKM"}]
    (habit,) = document["habits"]
    assert (habit["per_day"], habit["exposure"]["activity"], "starts_on" in habit["exposure"]) == (
        2.0,
        "shower",
        False,
    )
    assert [w["hours_per_day"] for w in document["worn"]] == [14.0]
    assert document["snoozed"] == [{"item": "1:strap:2025-01-01", "until_on": "2026-05-01"}]
    assert document["settings"]["home"]["monthly_c"][0] == 10.0


def test_what_is_worked_out_or_is_the_records_own_is_not_exported(store: Store) -> None:
    """What an exposure raised, and that the clock was said to be right."""
    practice = load_practice()
    dive = replace(glance.read_exposures(store.rows, planned=False)[0], id=None, crown_under=1, profile=())
    exposures.add(store, [dive], practice)
    with_it = record_document(store.rows)
    with store.transaction() as session:
        session.connection().exec_driver_sql("UPDATE meta SET clock_right_to = '2027-01-01'")
    (record,) = glance.read_records(store.rows, by_clock=True)
    assert record.raised
    assert record.plans
    assert (record.clock_right_to, record.changed_on is None) == (date(2027, 1, 1), False)
    with store.transaction() as session:
        session.connection().exec_driver_sql("DELETE FROM raised")
    assert record_document(store.rows) == with_it


def test_the_same_record_gives_the_same_document(store: Store) -> None:
    assert json.dumps(record_document(store.rows)) == json.dumps(record_document(store.rows))


def test_ids_are_those_of_the_record(store: Store) -> None:
    document = record_document(store.rows)
    ids = [e["id"] for kind in ("exposures", "events", "worn", "habits") for e in document[kind]]
    assert len(set(ids)) == len(ids) == 6
