"""Reading an export: what is wrong is told with its file and its place, and nothing hostile gets through."""

from __future__ import annotations

import copy
import json
from collections.abc import Callable
from dataclasses import replace
from datetime import date, time
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.errors import BadInput, LogbookError, Refused
from logbook.files.json import tree as json_tree
from logbook.files.json.reading import read_document
from logbook.files.json.writing import record_document
from logbook.model.fitting import Fitted, initial_seals
from logbook.model.kinds_of_before import KINDS_OF_BEFORE
from logbook.model.practice import parse
from logbook.model.validate.exposure import make_exposure
from logbook.model.values import Event, Habit, HomeWater, ProfilePoint, Settings, Watch, WornStretch
from logbook.record.file.practice_file import shipped_path
from logbook.record.file.store import Store
from logbook.record.writing import events, exposures, habits, snoozes, watches
from logbook.record.writing import settings as settings_service
from logbook.record.writing.merge import bring_in
from tests.effort import tries
from tests.hostile import HOSTILE
from tests.record.making import says_as_much

PRACTICE = parse(shipped_path().read_text(encoding="utf-8"))
TODAY = date(2026, 3, 15)
NORTH, SOUTH = (Settings(HomeWater(latitude_deg=degrees)) for degrees in (60.0, 0.0))
OBEYED = {chr(code) for code in (*range(32), *range(127, 160), 0x202E, 0x2066)}  # by a terminal
Change = Callable[[dict[str, Any]], object]


@pytest.fixture(scope="session")
def document(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    """An export with something of every kind in it; the first exposure was logged under another latitude."""
    with Store.open(tmp_path_factory.mktemp("record") / "record.logbook", create=True) as store:
        reef = Watch("Reef", "divers", 20e5, TODAY, date(2025, 1, 1), pushers=True)
        seals = initial_seals(reef, "NBR", Fitted(None, date(2025, 1, 1), date(2025, 2, 1)), {})
        ids = [watches.add(store, watch, seals, [], PRACTICE)
               for watch in (reef, Watch("Lido", "unknown", None, TODAY, TODAY, pushers=True))]  # fmt: skip
        settings_service.write(store, SOUTH)

        def watched(made: Any) -> Any:
            return replace(made, watch_id=ids[0])

        def wet(home: Settings, activity: str, **more: Any) -> Any:
            told = {"starts_on": date(2026, 3, 1), "today": TODAY} | more
            return watched(make_exposure(PRACTICE, home, activity=activity, **told))

        points = (ProfilePoint(0, 0), ProfilePoint(60, 12.5, 15.25), ProfilePoint(1200, 0))
        dives = [
            wet(NORTH, "dive", depth_m=40.0, duration_s=600, basis="true", starts_at=time(9, 30)),
            wet(SOUTH, "dive", profile=points, starts_on=date(2026, 3, 2), rinsed=True),
        ]
        exposures.add(store, dives, PRACTICE)
        test = Event("pressure-test", date(2025, 6, 1), 40, passed=True, test_pa=2e6, medium="water")
        gaskets = Event("gaskets", date(2026, 1, 5), 20, seals=(("crown", "FKM"),))
        events.add(store, [watched(test), watched(gaskets)], PRACTICE)
        habits.add_habit(store, Habit(wet(SOUTH, "shower"), 2.0, date(2026, 3, 1), watch_id=ids[0]), PRACTICE)
        worn = WornStretch(date(2026, 1, 1), date(2026, 1, 9), 14.0, watch_id=ids[0])
        habits.add_stretches(store, [worn], PRACTICE)
        snoozes.snooze(store, "1:strap:2025-01-01", date(2026, 5, 1))
        with store.reading() as rows:
            made = record_document(rows)
    made["imported"] = [
        {"exposure": made["exposures"][1]["id"], "origin": "dive 2026-03-02T09:30 1200 12500 d7"}
    ]
    return made


def read(document: Any) -> Any:
    return read_document(json.dumps(document).encode(), "backup.json", PRACTICE, TODAY)


def refused(data: bytes) -> tuple[str | None, str]:
    with pytest.raises(BadInput) as caught:
        read_document(data, "backup.json", PRACTICE, TODAY)
    assert caught.value.message.startswith("backup.json")
    return caught.value.where, caught.value.message


def what_is_said_of(data: bytes) -> str:
    """The sentence with which a file is refused; nothing when it is read."""
    try:
        read_document(data, "backup.json", PRACTICE, TODAY)
    except LogbookError as error:
        return error.message
    return ""


def test_everything_is_read_as_it_was(document: dict[str, Any], tmp_path: Path) -> None:
    with Store.open(tmp_path / "again.logbook", create=True) as store:
        bring_in(store, read(document), PRACTICE)
        with store.reading() as rows:
            assert record_document(rows) == document


EARLIER = sorted((Path(__file__).parents[2] / "record" / "fixtures").glob("record-*.json"))


@pytest.mark.parametrize("path", EARLIER, ids=lambda path: path.stem)
def test_the_export_of_every_earlier_revision_is_read(path: Path, tmp_path: Path) -> None:
    told = json.loads(path.read_text(encoding="utf-8"))
    with Store.open(tmp_path / "again.logbook", create=True) as store:
        bring_in(store, read_document(path.read_bytes(), path.name, PRACTICE, date(2030, 1, 1)), PRACTICE)
        with store.reading() as rows:
            found = record_document(rows)
    told.pop("written_by")
    assert says_as_much(found, told)


JANUARY = ["2026-01-01", "2026-01-31"]
PRESSURELESS = {"test_pa": None, "medium": None, "deflection_um": None}


def one_event(document: dict[str, Any], **more: Any) -> dict[str, Any]:
    """The document with a test to change; only its first event stays."""
    again = copy.deepcopy(document)
    test = next(event for event in again["events"] if event["kind"] == "pressure-test")
    again["events"] = [test | more]
    for watch in again["watches"]:
        watch["seals"] = [seal for seal in watch["seals"] if seal["event_id"] is None]
    return again


@pytest.mark.parametrize(("before", "today"), KINDS_OF_BEFORE.items())
def test_the_words_of_before_for_faults_are_read_for_ever(
    document: dict[str, Any], before: str, today: str
) -> None:
    bare = {"passed": None, "test_pa": None, "medium": None, "minutes": None, "deflection_um": None}
    whole = copy.deepcopy(document)
    for watch in whole["watches"]:
        watch |= {"pushers": True, "gas_valve": True}
    fault = one_event(whole, kind=before, **bare)
    repair = one_event(whole, kind="repaired", repaired=before, **bare)
    assert read(fault).events[0].kind == today
    if before != "water":
        assert read(repair).events[0].repaired == today


def test_a_due_item_of_a_fault_of_before_stays_snoozed(document: dict[str, Any]) -> None:
    snoozed = [{"item": "1:pressure-test:2026-03-01:water-12", "until_on": "2026-06-01"}]
    assert list(read(document | {"snoozed": snoozed}).snoozed) == [
        "1:pressure-test:2026-03-01:water-inside-12"
    ]


def test_a_test_of_before_without_a_pressure_is_one_whose_pressure_is_not_known(
    document: dict[str, Any],
) -> None:
    told = one_event(document, **PRESSURELESS)
    for key in ("span", "to_mark", "moved"):
        del told["events"][0][key]
    found = read(told).events[0]
    assert (found.test_pa, found.to_mark, found.span) == (None, False, None)


@pytest.mark.parametrize(
    ("more", "place", "sentence"),
    [
        ({"span": ["2026-01-01"]}, "span", "here stand 1 days"),
        ({"span": ["2026-01-01", "soon"]}, "span[1]", "a date such as"),
        ({"span": ["2026-01-02", "2026-01-01"], "on": "2026-01-01"}, "span", "the earlier day first"),
        (
            {"span": ["2026-01-01", "2026-01-31"], "on": "2026-01-31", "passed": True},
            "on",
            "is 2026-01-01, not",
        ),
        (
            {"span": ["2026-01-01", "2026-01-31"], "on": "2026-01-01", "passed": False},
            "on",
            "is 2026-01-31, not",
        ),
        ({"to_mark": "yes"}, "to_mark", "true or false"),
        (
            {"to_mark": True, "test_pa": None, "medium": None, "deflection_um": None},
            "test_pa",
            "of that mark",
        ),
        ({"moved": True}, "moved", "Only a fall or blow"),
    ],
)
def test_a_span_a_mark_or_a_move_that_cannot_be_is_refused(
    document: dict[str, Any], more: dict[str, Any], place: str, sentence: str
) -> None:
    with pytest.raises(BadInput, match=sentence) as caught:
        read(one_event(document, **more))
    assert caught.value.where == f"events[0].{place}"


def test_a_pressure_worked_out_under_an_earlier_latitude_stays(document: dict[str, Any]) -> None:
    kept = read(document).exposures[0].gauge_pa
    again = make_exposure(
        PRACTICE, SOUTH, activity="dive", depth_m=40.0, duration_s=600, basis="true",
        starts_on=date(2026, 3, 1), today=TODAY,
    ).gauge_pa  # fmt: skip
    assert kept == document["exposures"][0]["gauge_pa"]
    assert kept > again + 500


def test_keys_that_a_later_version_of_the_program_adds_are_left_alone(document: dict[str, Any]) -> None:
    more = copy.deepcopy(document) | {"colours": ["blue"]}
    for part in (more["watches"][0], more["exposures"][0], more["settings"], more["settings"]["home"]):
        part["added_later"] = {"a": [1, 2, {"b": None}]}
    assert read(more) == read(document)


def test_what_an_older_file_does_not_say_is_silent(document: dict[str, Any]) -> None:
    less = copy.deepcopy(document)
    for key in ("imported", "snoozed", "caution", "written_by"):
        del less[key]
    for key in ("profile", "note", "planned_to"):
        del less["exposures"][1][key]
    found = read(less)
    assert (found.origins, found.snoozed, found.exposures[1].profile) == ({}, {}, ())


def _set(*keys: Any, to: Any) -> Change:
    def change(document: dict[str, Any]) -> None:
        part: Any = document
        for key in keys[:-1]:
            part = part[key]
        part[keys[-1]] = to

    return change


def _drop(*keys: Any) -> Change:
    def change(document: dict[str, Any]) -> None:
        part: Any = document
        for key in keys[:-1]:
            part = part[key]
        del part[keys[-1]]

    return change


@pytest.mark.parametrize(
    ("change", "where", "words"),
    [
        (_set("exposures", 1, "depth_m", to="12"), "exposures[1].depth_m", "'12', but a number"),
        (_set("exposures", 1, "depth_m", to=True), "exposures[1].depth_m", "true, but a number"),
        (_set("exposures", 1, "depth_m", to=700), "exposures[1].depth_m", "no diver has been deeper"),
        (_set("exposures", 1, "depth_m", to=10**400), "exposures[1].depth_m", "a number that is too large"),
        (_set("exposures", 1, "gauge_pa", to=1.0), "exposures[1].gauge_pa", "The pressure is 1 Pa"),
        (_set("exposures", 0, "gauge_pa", to=5e5), "exposures[0].gauge_pa", "it is 40"),
        (_set("exposures", 1, "duration_s", to=1.5), "exposures[1].duration_s", "1.5, but a whole number"),
        (_set("exposures", 1, "dips", to=0), "exposures[1].dips", "out of range"),
        (_set("exposures", 1, "water", to="milk"), "exposures[1].water", "is no water"),
        (_set("exposures", 1, "activity", to=None), "exposures[1].activity", "null, but a text"),
        (_set("exposures", 1, "rinsed", to="yes"), "exposures[1].rinsed", "but true or false belongs here"),
        (_set("exposures", 1, "starts_on", to="2026-02-30"), "exposures[1].starts_on", "a date such as"),
        (_set("exposures", 1, "starts_on", to="2026-03-16"), "exposures[1].starts_on", "lies in the future"),
        (_set("exposures", 0, "starts_at", to="24:61"), "exposures[0].starts_at", "a time of day such as"),
        (_set("exposures", 0, "utc_offset_s", to=90_000), "exposures[0].utc_offset_s", "no place is further"),
        (_set("exposures", 1, "utc_offset_s", to=60), "exposures[1].utc_offset_s", "needs a time beside it"),
        (_set("exposures", 1, "zone", to="../../etc/passwd"), "exposures[1].zone", "is not a time zone"),
        (_set("exposures", 1, "profile", 1, "depth_m", to=13), "exposures[1].depth_m", "deeper than the"),
        (_set("exposures", 1, "profile", 1, "time_s", to=-1), "exposures[1].profile", "Point 2"),
        (_set("exposures", 1, "profile", 1, to=[]), "exposures[1].profile[1]", "a list, but an object"),
        (_set("exposures", 1, "profile", to={}), "exposures[1].profile", "an object, but a list"),
        (_set("exposures", 1, "note", to="a\x1b[2J"), "exposures[1].note", "control character \\x1b"),
        (_set("exposures", 1, "note", to="x" * 3000), "exposures[1].note", "at most 2,000 fit"),
        (_set("exposures", 1, "planned_to", to="2026-04-01"), "exposures[1].planned_to", "Only a planned"),
        (_set("exposures", 1, "watch_id", to=7), "exposures[1].watch_id", "there is no watch 7"),
        (_set("exposures", 1, "watch", to="Lido"), "exposures[1].watch", "watch 1 of this file is 'Reef'"),
        (_set("exposures", 1, "id", to=1), "exposures[1].id", "the id 1 is that of exposures[0] too"),
        (_set("exposures", 1, "id", to=0), "exposures[1].id", "an id from 1 up"),
        (_set("exposures", 1, "id", to=2**53), "exposures[1].id", "an id from 1 up"),
        (_set("events", 0, "id", to=1), "events[0].id", "the id 1 is that of exposures[0] too"),
        (_drop("exposures", 1, "water_c"), "exposures[1].water_c", "this is missing"),
        (_drop("exposures", 1, "id"), "exposures[1].id", "this is missing"),
        (_set("events", 0, "kind", to="party"), "events[0].kind", "is no kind of event"),
        (_set("events", 0, "passed", to=None), "events[0].passed", "Passed or failed?"),
        (_set("events", 0, "test_pa", to=1e9), "events[0].test_pa", "out of range"),
        (_set("events", 1, "seals", to=[]), "events[1].seals", "Which gaskets?"),
        (_set("events", 1, "seals", 0, "material", to="NBR"), "events[1].seals", "other seals of this event"),
        (_set("events", 1, "seals", 0, "position", to="gas-valve"), "events[1].seals", "has no gas valve"),
        (_set("events", 1, "on", to="2026-01-06"), "watches[1].seals[4].fitted_latest", "fitted this seal"),
        (_set("watches", 1, "seals", 3, "event_id", to=3), "watches[1].seals[3].event_id", "brought no"),
        (_set("watches", 1, "seals", 3, "id", to=1), "watches[1].seals[3].id", "is that of"),
        (_set("watches", 1, "seals", 0, "material", to="gum"), "watches[1].seals[0].material", "no material"),
        (_set("watches", 1, "mark", to="unmarked"), "watches[1].mark", "states no pressure"),
        (_set("watches", 1, "name", to="lido"), "watches[1].name", "capitals do not count"),
        (_set("watches", 1, "name", to=" "), "watches[1].name", "The name is empty"),
        (_set("watches", 1, "id", to=2), "watches[1].id", "the id 2 is that of watches[0] too"),
        (_set("watches", 1, "winds_per_week", to=-1), "watches[1].winds_per_week", "out of range"),
        (_set("watches", 1, "winds_per_week", to=1e300), "watches[1].winds_per_week", "out of range"),
        (_set("watches", 1, "intervals_months", to={"foo": 3}), "watches[1].intervals_months", "is no task"),
        (_set("watches", 1, "intervals_months", to={"strap": 0}), "watches[1].intervals_months", "out of"),
        (_set("watches", 1, "intervals_months", to=3), "watches[1].intervals_months", "an object belongs"),
        (_set("watches", to={}), "watches", "a list belongs here"),
        (_drop("watches"), "watches", "this is missing"),
        (_set("worn", 0, "hours_per_day", to=25), "worn[0].hours_per_day", "a day has no more"),
        (_set("worn", 0, "to_on", to="2025-01-01"), "worn[0].to_on", "before it begins"),
        (_set("habits", 0, "per_day", to=0), "habits[0].per_day", "out of range"),
        (_set("habits", 0, "exposure", "depth_m", to=-1), "habits[0].exposure.depth_m", "out of range"),
        (_set("habits", 0, "exposure", "gauge_pa", to=9e4), "habits[0].exposure.gauge_pa", "The pressure is"),
        (_set("settings", "units", to="cubits"), "settings.units", "is no system of units"),
        (_set("settings", "home", "latitude_deg", to=91), "settings.home.latitude_deg", "from pole to pole"),
        (_set("settings", "home", "monthly_c", to=[1]), "settings.home.monthly_c", "it needs 12"),
        (_set("settings", "home", "monthly_c", to=["x"] * 12), "settings.home.monthly_c[0]", "a number"),
        (_set("snoozed", 0, "item", to=""), "snoozed[0].item", "an empty text"),
        (_set("snoozed", 0, "until_on", to="never"), "snoozed[0].until_on", "a date such as"),
        (_set("snoozed", 0, "until_on", to="9999-12-31"), "snoozed[0].until_on", "within two years"),
        (_set("snoozed", 0, "until_on", to="2028-03-16"), "snoozed[0].until_on", "within two years"),
        (_set("imported", 0, "exposure", to=99), "imported[0].exposure", "there is no exposure 99"),
        (_set("imported", 0, "origin", to="x" * 2000), "imported[0].origin", "at most 1,000 fit"),
        (_set("imported", 0, "origin", to="dive 2026 x y z"), "imported[0].origin", "no dive of a file"),
        (_set("imported", 0, "origin", to="dive 7"), "imported[0].origin", "no dive of a file"),
        (_set("imported", 0, "origin", to="csv:\x1b[2J"), "imported[0].origin", "character \\x1b"),
        (_set("version", to="1"), "version", "'1', but an id from 1 up"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_said_with_its_place(
    document: dict[str, Any], change: Change, where: str, words: str
) -> None:
    changed = copy.deepcopy(document)
    change(changed)
    found, said = refused(json.dumps(changed).encode())
    assert said.startswith(f"backup.json, {where}: ")
    assert words in said, said
    assert found == where


@pytest.mark.parametrize(
    ("data", "where", "words"),
    [
        (b"", "backup.json", "the file is empty"),
        (b"  \n", "backup.json", "the file is empty"),
        (b"[1, 2]", "backup.json", "this is no export of logbook"),
        (b"{}", "backup.json", "this is no export of logbook"),
        (b'{"version": 1}', "settings", "this is missing"),
        (b'{"version": 1,\n "settings": }', "line 2, column 14", "this is not JSON"),
        (b'{"version": 1} x', "line 1, column 16", "this is not JSON"),
        (b'{"version": 1, "a": {"b": 1, "b": 2}}', "a.b", "this key stands twice"),
        (b'{"version": 1, "version": 1}', "version", "this key stands twice"),
        (b'{"version": 1, "a": [0, NaN]}', "a[1]", "here stands NaN, which is no number"),
        (b'{"version": 1, "a": -Infinity}', "a", "here stands -Infinity, which is no number"),
        (b'{"version": 1e999}', "version", "Infinity, but an id from 1 up"),
        (b'{"version": ' + b"9" * 6000 + b"}", "backup.json", "more digits than any number"),
        (b"[" * 100_000, "backup.json", "stand 100000 deep inside each other; at most 64"),
        (b'{"version": "' + b"[" * 100, "line 1, column 13", "Unterminated string"),
        (b'{"version": "' + b"[" * 100 + b"\\", "line 1, column 13", "Unterminated string"),
        (b'{"a":' * 100_000, "backup.json", "stand 100000 deep inside each other"),
        (b'{"version": 1, "a": "\xff"}', "line 1", "the byte 0xff is not UTF-8"),
        ('{"version": 1}'.encode("utf-16"), "backup.json", "this looks like UTF-16; save it as UTF-8"),
    ],
)
def test_what_is_no_json_of_ours_is_said_with_its_place(data: bytes, where: str, words: str) -> None:
    found, said = refused(data)
    assert words in said, said
    assert found == where


def test_brackets_inside_texts_are_no_nesting(document: dict[str, Any]) -> None:
    changed = copy.deepcopy(document)
    changed["exposures"][1]["note"] = '[{"' * 60 + "\\"
    assert read(changed).exposures[1].note == changed["exposures"][1]["note"]


def test_a_snooze_that_is_over_or_ends_within_two_years_is_read(document: dict[str, Any]) -> None:
    for until in ("2020-01-01", "2026-03-15", "2028-03-15"):
        changed = copy.deepcopy(document)
        _set("snoozed", 0, "until_on", to=until)(changed)
        assert list(read(changed).snoozed.values()) == [date.fromisoformat(until)]


def test_what_follows_the_greatest_id_of_a_file_can_be_read_again(
    document: dict[str, Any], tmp_path: Path
) -> None:
    changed = copy.deepcopy(document)
    _set("exposures", 0, "id", to=10**12)(changed)
    with Store.open(tmp_path / "again.logbook", create=True) as store:
        bring_in(store, read(changed), PRACTICE)
        plain = make_exposure(PRACTICE, SOUTH, activity="pool", starts_on=TODAY, today=TODAY)
        exposures.add(store, [replace(plain, watch_id=1)], PRACTICE)
        with store.reading() as rows:
            again = record_document(rows)
        assert bring_in(store, read(again), PRACTICE).nothing


def test_a_file_of_a_newer_version_is_refused_with_what_to_do(document: dict[str, Any]) -> None:
    with pytest.raises(Refused, match=r"written by a newer version of logbook .*Please update logbook"):
        read(document | {"version": 2})


def test_a_file_that_is_too_large_is_not_read(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(json_tree, "LARGEST_BYTES", 10)
    assert "has 14 bytes; at most 10 are read" in refused(b'{"version": 1}')[1]


@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
def test_hostile_texts_are_kept_as_text_or_refused_in_words(document: dict[str, Any], text: str) -> None:
    for keys in (("exposures", 1, "note"), ("watches", 0, "group"), ("events", 0, "workshop"),
                 ("exposures", 1, "zone"), ("snoozed", 0, "item"), ("exposures", 1, "activity")):  # fmt: skip
        changed = copy.deepcopy(document)
        _set(*keys, to=text)(changed)
        said = what_is_said_of(json.dumps(changed).encode())
        assert not set(said) & OBEYED
        assert len(said) < 400


PLACES = st.sampled_from([
    ("exposures", 1), ("exposures", 0), ("watches", 1), ("watches", 1, "seals", 0), ("events", 0),
    ("events", 1),
    ("worn", 0), ("habits", 0), ("habits", 0, "exposure"), ("settings",), ("settings", "home"),
    ("exposures", 1, "profile", 1), (),
])  # fmt: skip
VALUES = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=5) | st.sampled_from(HOSTILE)
    | st.dates().map(str),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=3), inner, max_size=3),
    max_leaves=4,
)  # fmt: skip


def _spoilt(document: dict[str, Any], place: tuple[Any, ...], value: Any, data: st.DataObject) -> bytes:
    changed = copy.deepcopy(document)
    part: Any = changed
    for key in place:
        part = part[key]
    part[data.draw(st.sampled_from(sorted(part)))] = value
    return json.dumps(changed).encode()


@settings(max_examples=tries(400))
@given(place=PLACES, value=VALUES, data=st.data())
def test_any_value_at_any_place_is_read_or_refused_in_words(
    document: dict[str, Any], place: tuple[Any, ...], value: Any, data: st.DataObject
) -> None:
    said = what_is_said_of(_spoilt(document, place, value, data))
    assert not said or said.startswith("backup.json")


@pytest.mark.release
@settings(max_examples=10_000)
@given(place=PLACES, value=VALUES, data=st.data())
def test_ten_thousand_values_at_any_place_are_read_or_refused_in_words(
    document: dict[str, Any], place: tuple[Any, ...], value: Any, data: st.DataObject
) -> None:
    said = what_is_said_of(_spoilt(document, place, value, data))
    assert not said or said.startswith("backup.json")
