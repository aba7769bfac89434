"""What the demo promises to show, asserted from the record that was built."""

from __future__ import annotations

import itertools
from collections import Counter
from datetime import date, timedelta

from logbook.model.due.tasks import asks_now
from logbook.model.judge.rules import KEEP_DRY, NO_OBJECTION, STANDING, THINK_TWICE
from logbook.model.judge.stands import STANDS
from logbook.model.marks import mark_words
from logbook.model.values import EVENT_KINDS, MARK_KINDS, POSITIONS, USES, WATERS
from logbook.record.file import doctor


def test_it_holds_at_least_ten_watches_with_the_four_that_people_know(built):
    assert len(built.records) >= 10
    assert {"Blue bezel", "Lido quartz", "Gran's chrono", "Sunday dress"} <= built.records.keys()


def test_every_kind_of_mark_is_there_with_a_number_and_without(built):
    watches = [r.watch for r in built.records.values()]
    assert {w.mark for w in watches} == set(MARK_KINDS)
    numbers = {w.marked_pa is None for w in watches if w.mark == "water-resistant"}
    assert numbers == {True, False}


def test_marks_are_in_bar_and_in_metres_as_the_dials_say_them(built):
    words = {name: mark_words(record.watch) for name, record in built.records.items()}
    assert words["Blue bezel"] == "diver’s 200 m"
    assert words["Deep orange"] == "diver’s, mixed gas 600 m"
    assert words["Lake bronze"] == "diver’s 30 bar"


def test_every_sealing_place_and_every_material_is_there(built):
    seals = [s for r in built.records.values() for s in r.seals]
    assert {s.position for s in seals} == set(POSITIONS)
    assert {s.material for s in seals} == set(built.practice.materials)


def test_both_crowns_both_movements_every_use_and_more_than_one_group_are_there(built):
    watches = [r.watch for r in built.records.values()]
    assert {w.crown for w in watches} == {"screwed", "pushed"}
    assert {w.movement for w in watches} == {"quartz", "mechanical"}
    assert {w.use for w in watches} == set(USES)
    assert {"sea box", "desk drawer"} <= {w.group for w in watches}


def test_every_activity_and_every_water_was_met_over_two_years_and_more(built):
    assert len(built.exposures) >= 450
    assert {e.activity for e in built.exposures} == set(built.practice.activities)
    assert {e.water for e in built.exposures} == set(WATERS)
    days = sorted(e.starts_on for e in built.exposures)
    assert days[0] <= built.today - timedelta(days=731)
    assert built.today - timedelta(days=3) <= days[-1] < built.today


def test_dives_of_several_depths_some_rinsed_some_not_some_measured_some_assumed(built):
    sea = [e for e in built.exposures if e.water == "sea"]
    assert {e.rinsed for e in sea} == {True, False}
    assert {e.water_c_assumed for e in sea} == {True, False}
    assert {e.starts_at is None for e in built.exposures} == {True, False}
    assert len({e.depth_m for e in sea if e.activity == "dive"}) > 40


def test_some_used_a_pusher_under_water_and_some_jumped(built):
    assert any(e.pusher_under for e in built.exposures)
    assert any(e.jump_m > 3 for e in built.exposures)


def test_no_watch_is_in_two_waters_at_once(built):
    for name in built.records:
        spans = []
        for e in (e for e in built.of(name) if e.starts_at is not None):
            begin = e.starts_on.toordinal() * 86_400 + e.starts_at.hour * 3600 + e.starts_at.minute * 60
            spans.append((begin, begin + e.duration_s))
        spans.sort()
        assert all(a[1] <= b[0] for a, b in itertools.pairwise(spans)), name


def test_tests_were_passed_and_failed_in_air_vacuum_and_water(built):
    tests = [e for r in built.records.values() for e in r.events if e.kind == "pressure-test"]
    assert {e.passed for e in tests} == {True, False}
    assert {e.medium for e in tests if e.test_pa is not None} == {"air", "vacuum", "water"}
    assert any(e.kind == "condensation-test" for r in built.records.values() for e in r.events)


def test_one_test_went_to_the_mark_and_of_another_nobody_knows_the_pressure(built):
    def passes(name):
        return [e for e in built.records[name].events if e.kind == "pressure-test"]

    (deep,), (night,) = passes("Deep orange"), passes("Night shift")
    assert (deep.to_mark, deep.test_pa) == (True, built.records["Deep orange"].watch.marked_pa)
    assert (night.passed, night.to_mark, night.test_pa) == (True, False, None)


def test_a_knock_moved_something_and_is_known_only_to_its_month(built):
    (knock,) = [e for e in built.records["Market find"].events if e.kind == "knock"]
    first, last = knock.days
    assert knock.moved
    assert (first.day, (last + timedelta(days=1)).day) == (1, 1)
    assert (first.year, first.month) == (last.year, last.month)
    assert knock.on == last  # of days that may have been, a knock counts on the last
    # It has not met water since.
    assert built.records["Market find"].last_exposure_on <= knock.on


def test_workshop_events_and_faults_of_most_kinds_happened(built):
    kinds = {e.kind for r in built.records.values() for e in r.events}
    assert kinds >= set(EVENT_KINDS) - {"gas-valve-damaged", "crown-damaged"}


def test_a_fogged_watch_has_the_temperatures_of_crystal_and_case_air(built):
    fog = next(e for e in built.records["Green field"].events if e.kind == "fog")
    assert fog.crystal_c is not None
    assert fog.case_air_c is not None
    assert fog.crystal_c < fog.case_air_c
    # It was seen after the last swim, not before it.
    assert fog.on == built.records["Green field"].last_exposure_on


def test_gaskets_replaced_in_the_past_brought_new_seals(built):
    for name in ("Blue bezel", "Lake bronze"):
        record = built.records[name]
        gaskets = next(e for e in record.events if e.kind == "gaskets")
        assert gaskets.on < built.today - timedelta(days=30)
        assert {s.position for s in record.seals if s.event_id == gaskets.id} == {p for p, _ in gaskets.seals}
        assert len(record.seals) > len({s.position for s in record.seals})


def test_the_one_of_unknown_history_carries_a_band_and_assumed_water(built):
    wear = built.stands()["Market find"].limiting
    assert wear.seal.fitted_earliest < wear.seal.fitted_latest
    assert wear.assumed.total > 0
    assert wear.history_is_open


def test_one_never_gets_wet_and_one_is_retired(built):
    assert built.of("Top drawer") == []
    assert built.records["Top drawer"].last_exposure_on is None
    assert built.records["Top drawer"].watch.recorded_from < built.today - timedelta(days=180)
    retired = [n for n, r in built.records.items() if r.watch.retired_on is not None]
    assert retired == ["Old yellow"]


def test_the_watch_of_a_rotation_counts_only_the_days_it_was_worn(built):
    record = built.records["Weekday white"]
    assert record.watch.worn_h == 0
    assert len(record.stretches) >= 200
    assert all(s.from_on == s.to_on and s.hours == 12 for s in record.stretches)
    assert len({s.from_on for s in record.stretches}) == len(record.stretches)


def test_a_shower_is_a_habit_and_a_watch_was_worn_for_longer_and_not_at_all(built):
    record = built.records["Night shift"]
    assert [(h.exposure.activity, h.per_day) for h in record.habits] == [("shower", 1.0)]
    assert {s.hours for s in record.stretches} == {20, 0}


def test_a_trip_of_next_month_is_planned_and_not_charged(built):
    assert len(built.plans) >= 2
    soonest, latest = built.today + timedelta(days=20), built.today + timedelta(days=35)
    assert all(soonest <= p.starts_on <= latest for p in built.plans)
    assert any(p.planned_to is not None and p.planned_to > p.starts_on for p in built.plans)
    assert doctor.examine(built.path, built.practice) == []


def test_the_home_water_has_a_temperature_for_every_month(built):
    assert len(built.settings.home.monthly_c) == 12


def test_notes_stand_beside_watches_events_and_water(built):
    assert sum(bool(r.watch.note) for r in built.records.values()) >= 10
    assert any(e.note for r in built.records.values() for e in r.events)
    assert any(e.note for e in built.exposures)


def test_every_standing_stop_rule_that_can_speak_does_and_most_speak_alone(built):
    stops = {n: [r.code for r in s.stops] for n, s in built.stands().items()}
    spoken = {code for codes in stops.values() for code in codes}
    # The chance is not computed here, and no clock is behind.
    can_speak = {*STANDING, *(row.code for row in STANDS.values())} - {"chance-low", "clock-behind"}
    assert spoken == can_speak | {"beyond-class"}
    alone = {codes[0] for codes in stops.values() if len(codes) == 1}
    assert alone == {"failed-test", "water-inside", "overstressed", "opened-untested", "beyond-class",
                     "test-overdue", "used-up"}  # fmt: skip


def test_each_story_is_told_by_the_watch_that_is_meant_to_tell_it(built):
    stops = {n: [r.code for r in s.stops] for n, s in built.stands().items()}
    assert stops == {
        "Blue bezel": [],
        "Deep orange": ["test-overdue"],
        "Gran's chrono": ["opened-untested"],
        "Green field": ["water-inside"],
        "Harbour steel": ["failed-test"],
        "Lake bronze": ["used-up"],
        "Lido quartz": ["overstressed"],
        "Market find": ["knocked", "record-silent"],
        "Night shift": ["beyond-proof", "seal-too-old"],
        "Old yellow": [],  # retired
        "Red plastic": ["damaged", "beyond-class", "never-tested", "low-score"],
        "Sunday dress": ["mark-unknown", "never-tested"],
        "Top drawer": ["beyond-class"],
        "Weekday white": [],
    }


def test_a_proof_in_force_outweighs_a_used_up_interval(built):
    lake = built.stands()["Lake bronze"]
    assert (lake.score, lake.limiting.seal.position) == (0, "crown")
    assert [(r.code, r.verdict) for r in lake.stops] == [("used-up", THINK_TWICE)]
    assert "tested tight to 30 bar" in lake.stops[0].sentence
    dive = built.dives_today()["Lake bronze"]
    assert (dive.verdict, [r.code for r in dive.reasons]) == (THINK_TWICE, ["used-up"])


def test_the_crown_used_under_water_stands_until_a_test(built):
    (raised,) = built.records["Lido quartz"].raised
    assert raised.code == "overstressed"
    assert (raised.exposure.crown_under, raised.exposure.pusher_under) == (1, 1)
    assert built.records["Lido quartz"].last_exposure_on > raised.exposure.starts_on


def test_a_knock_that_moved_something_keeps_a_watch_dry(built):
    knocked = next(r for r in built.stands()["Market find"].stops if r.code == "knocked")
    assert knocked.verdict == KEEP_DRY
    assert "moved" in knocked.sentence


def test_of_one_watch_nothing_is_known_but_the_decade_it_was_made_in(built):
    stand = built.stands()["Sunday dress"]
    assert stand.score is None
    assert stand.why_no_score
    assert (stand.record.watch.made_from, stand.record.watch.made_to) == (1970, 1979)
    assert {s.fitted_earliest for s in stand.record.seals} == {date(1970, 1, 1)}
    assert "seventies" in stand.record.watch.note


def test_a_dive_today_finds_all_three_answers(built):
    verdicts = built.dives_today()
    assert verdicts["Blue bezel"].verdict == NO_OBJECTION
    assert verdicts["Deep orange"].verdict == THINK_TWICE
    counted = Counter(v.verdict for v in verdicts.values())
    assert counted[NO_OBJECTION] >= 1
    assert counted[THINK_TWICE] >= 1
    assert counted[KEEP_DRY] >= 3


def test_the_scores_are_spread_from_fresh_to_used_up(built):
    on_shelf = [s for s in built.stands().values() if s.record.watch.retired_on is None]
    scores = sorted(s.score for s in on_shelf if s.score is not None)
    for low, high in ((90, 99), (60, 69), (20, 39), (1, 19), (0, 0)):
        assert any(low <= score <= high for score in scores), (low, high, scores)


def test_different_seals_limit_different_watches(built):
    assert {s.limiting.seal.position for s in built.stands().values()} >= {"crown", "pushers", "crystal"}


def test_the_banner_has_something_overdue_due_coming_up_and_silenced(built):
    items = [i for s in built.stands().values() for i in s.due]
    asking = asks_now(items, built.today)
    assert {i.stage for i in asking} == {"coming up", "due", "overdue"}
    batteries = [i for i in asking if i.task == "battery"]
    assert [(i.watch, i.stage) for i in batteries] == [("Night shift", "coming up")]
    silenced = [i for i in items if i.snoozed_until is not None and i not in asking]
    assert {i.watch for i in silenced} == {"Sunday dress"}
    assert any(i.task == "pressure-test" and i.stage == "overdue" for i in asking)
