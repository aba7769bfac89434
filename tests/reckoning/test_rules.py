"""Every stop rule, each in a situation in which it alone speaks; how gravely; and the table of marks."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from logbook.reckoning import facts, planrules, rules, standing
from logbook.reckoning.planrules import PLAN_CODES, Plan, Planned
from logbook.reckoning.rules import (
    KEEP_DRY,
    NO_OBJECTION,
    NOT_COMPUTED,
    STANDING_CODES,
    THINK_TWICE,
    Reason,
)
from logbook.reckoning.values import FAULTS, EventKind, Exposure, Seal, Shares, WatchRecord
from tests.reckoning.builders import (
    BAR,
    FITTED,
    ONE_DAY,
    PRACTICE,
    SHIPPED,
    TESTED,
    TODAY,
    check_plan,
    codes,
    event,
    exposure,
    habit,
    passed,
    practice_with,
    rain,
    record,
    seals,
    shower,
    stops,
    untested,
    verdict_of,
)

SALT = Shares(salt=0.85)


def pool(**given_: Any) -> Exposure:
    plain = {"activity": "pool", "water": "pool", "depth_m": 1.5, "water_c": 27.0, "basis": "true"}
    return exposure(**(plain | given_))


def sauna(**given_: Any) -> Exposure:
    plain = {"activity": "sauna", "water": "air", "depth_m": 0.0, "water_c": 80.0, "duration_s": 900}
    return exposure(**(plain | given_))


def old_seals() -> tuple[Seal, ...]:
    return seals(fitted=date(2017, 9, 2))


def worn_out(**given_: Any) -> WatchRecord:
    """Worn day and night for four and a half years: 1.4 intervals, two years short of the storage class."""
    fitted = date(2020, 3, 1)
    return record(seals=seals(fitted=fitted), recorded_from=fitted, worn_h=24.0, **given_)


def drawer_watch(**given_: Any) -> WatchRecord:
    """Seven years in a drawer: past the storage class, with a third of the interval left."""
    return record(seals=old_seals(), recorded_from=date(2017, 1, 1), worn_h=0.0, winds=0.0, **given_)


# ---------------------------------------------------------------- one alone: standing rules


def test_a_watch_with_nothing_against_it_has_no_stop_and_no_objection() -> None:
    assert stops(record()) == ()
    assert check_plan(record(), exposure()).reasons == ()
    assert check_plan(record(), exposure()).verdict == NO_OBJECTION


ALONE: dict[str, tuple[Callable[[], WatchRecord], str]] = {
    "fault-open": (lambda: record(passed(), event("fog")), KEEP_DRY),
    "failed-test": (lambda: record(passed(), event("pressure-test", passed=False)), KEEP_DRY),
    "opened-untested": (lambda: record(passed(), event("battery")), KEEP_DRY),
    "mark-unknown": (lambda: record(mark="unknown", marked_pa=None), KEEP_DRY),
    "seal-too-old": (drawer_watch, KEEP_DRY),
    "used-up": (worn_out, KEEP_DRY),
    "test-overdue": (lambda: record(passed(date(2023, 6, 1))), THINK_TWICE),
    "never-tested": (untested, KEEP_DRY),
    "low-score": (lambda: record(totals={3: SALT}), THINK_TWICE),
    "record-silent": (lambda: record(last_exposure_on=None, confirmed_on=None), THINK_TWICE),
}


@pytest.mark.parametrize("code", ALONE)
def test_a_standing_rule_speaks_alone(code: str) -> None:
    made, verdict = ALONE[code]
    assert verdict_of(stops(made())) == {code: verdict}


@pytest.mark.parametrize("code", ALONE)
def test_a_standing_rule_speaks_alone_for_a_planned_dive(code: str) -> None:
    """But that a fault, a failure or an opening also ends what was passed before, as does never a test."""
    made, verdict = ALONE[code]
    spoken = verdict_of(check_plan(made(), exposure()).reasons)
    untested_pressure = code in ("fault-open", "failed-test", "opened-untested", "never-tested")
    assert spoken == {code: verdict} | ({"over-tested": KEEP_DRY} if untested_pressure else {})


@pytest.mark.parametrize("kind", FAULTS)
def test_each_fault_speaks_alone(kind: EventKind) -> None:
    found = stops(record(passed(), event(kind)))
    assert verdict_of(found) == {"fault-open": KEEP_DRY}
    assert "pressure test" in found[0].sentence
    assert ("repair" in found[0].sentence) == (kind not in ("fog", "water"))


@pytest.mark.parametrize("kind", ["battery", "opened", "movement", "gaskets"])
def test_each_opening_speaks_alone(kind: EventKind) -> None:
    assert codes(stops(record(passed(), event(kind)))) == ["opened-untested"]


@pytest.mark.parametrize("kind", ["crystal", "crown", "pushers", "valve"])
def test_a_repair_speaks_as_an_opening(kind: EventKind) -> None:
    found = stops(record(passed(), event("repaired", repaired=kind)))
    assert codes(found) == ["opened-untested"]
    assert f"{kind} repaired" in found[0].sentence


def test_a_failed_condensation_test_speaks_as_a_failure() -> None:
    found = stops(record(passed(), event("condensation-test", passed=False)))
    assert codes(found) == ["failed-test"]
    assert "condensation test failed" in found[0].sentence


def test_every_rule_of_the_list_was_heard_alone_but_the_one_that_is_not_computed() -> None:
    assert set(ALONE) | {"outlook-low"} == set(STANDING_CODES)
    assert set(PLANS_ALONE) == set(PLAN_CODES)
    assert len(rules.STANDING) == len(STANDING_CODES) - 1
    assert len(planrules.PLAN) == len(PLAN_CODES)


def test_the_outlook_is_not_computed_and_says_so() -> None:
    assert "not computed" in NOT_COMPUTED["outlook-low"]
    assert "not computed" in NOT_COMPUTED["low-score"]
    context = check_plan(record(), exposure()).context
    assert "outlook: not computed" in context
    assert any("band not computed" in line for line in context)
    stands = standing.stand(record(), PRACTICE, TODAY)
    assert (stands.low, stands.high) == (None, None)


# ---------------------------------------------------------------- one alone: plan rules

PLANS_ALONE: dict[str, tuple[Callable[[], WatchRecord], Callable[[], Exposure], dict[str, bool], str]] = {
    "over-mark": (lambda: record(marked_pa=10 * BAR), lambda: exposure(depth_m=120.0), {}, KEEP_DRY),
    "beyond-class": (lambda: record(mark="water-resistant"), exposure, {}, KEEP_DRY),
    "over-tested": (lambda: record(passed(bar=1)), exposure, {}, KEEP_DRY),
    "not-closed": (record, exposure, {"crown_open": True}, KEEP_DRY),
    "near-mark": (lambda: record(marked_pa=10 * BAR), lambda: exposure(depth_m=85.0), {}, THINK_TWICE),
    "big-swing": (record, lambda: exposure(from_c=39.0, water_c=3.0), {}, THINK_TWICE),
    "hot-water": (record, sauna, {}, THINK_TWICE),
    "jump": (record, lambda: pool(jump_m=3.5), {}, THINK_TWICE),
}


@pytest.mark.parametrize("code", PLANS_ALONE)
def test_a_plan_rule_speaks_alone(code: str) -> None:
    made, planned, closed, verdict = PLANS_ALONE[code]
    found = check_plan(made(), planned(), **closed)
    assert verdict_of(found.reasons) == {code: verdict}
    assert found.verdict == verdict


@pytest.mark.parametrize("code", [*ALONE, *PLANS_ALONE])
def test_every_reason_carries_a_sentence_a_value_and_a_limit(code: str) -> None:
    reasons: tuple[Reason, ...]
    if code in ALONE:
        reasons = stops(ALONE[code][0]())
    else:
        made, planned, closed, _ = PLANS_ALONE[code]
        reasons = check_plan(made(), planned(), **closed).reasons
    for reason in reasons:
        assert reason.value
        assert reason.limit
        assert len(reason.sentence) > 20


# ---------------------------------------------------------------- milder for rain and hands


@pytest.mark.parametrize(
    ("code", "verdict"),
    [
        ("fault-open", KEEP_DRY),
        ("failed-test", KEEP_DRY),
        ("opened-untested", THINK_TWICE),
        ("mark-unknown", THINK_TWICE),
        ("seal-too-old", THINK_TWICE),
        ("used-up", THINK_TWICE),
        ("test-overdue", THINK_TWICE),
        ("never-tested", THINK_TWICE),
        ("low-score", THINK_TWICE),
        ("record-silent", THINK_TWICE),
    ],
)
def test_in_the_rain_a_rule_speaks_as_its_row_says(code: str, verdict: str) -> None:
    assert verdict_of(check_plan(ALONE[code][0](), rain()).reasons)[code] == verdict


@pytest.mark.parametrize("code", ["opened-untested", "mark-unknown", "seal-too-old", "used-up"])
def test_a_shower_is_not_rain(code: str) -> None:
    assert verdict_of(check_plan(ALONE[code][0](), shower()).reasons)[code] == KEEP_DRY


def test_a_watch_kept_dry_is_judged_for_rain() -> None:
    assert verdict_of(stops(record(passed(), event("battery"), use="dry"))) == {
        "opened-untested": THINK_TWICE
    }
    assert verdict_of(stops(record(passed(), event("fog"), use="dry"))) == {"fault-open": KEEP_DRY}


def test_closing_matters_in_the_rain_too() -> None:
    assert verdict_of(check_plan(record(), rain(), crown_open=True).reasons) == {"not-closed": KEEP_DRY}


# ---------------------------------------------------------------- tests: overdue, never, the maker's


def test_the_interval_is_over_on_its_last_day() -> None:
    whole = record(passed(date(2023, 9, 3)))
    assert codes(stops(whole, date(2024, 9, 2))) == []
    assert codes(stops(whole, date(2024, 9, 3))) == ["test-overdue"]


@pytest.mark.parametrize("activity", ["dive", "freedive", "mixed-gas"])
def test_six_months_overdue_keeps_a_diver_dry(activity: str) -> None:
    whole = record(passed(date(2023, 3, 1)), mark="divers-mixed-gas", confirmed_on=date(2025, 1, 1))
    plan = exposure(activity=activity)
    before = check_plan(whole, plan, date(2024, 8, 31))
    on_the_day = check_plan(whole, plan, date(2024, 9, 1))
    assert verdict_of(before.reasons) == {"test-overdue": THINK_TWICE}
    assert verdict_of(on_the_day.reasons) == {"test-overdue": KEEP_DRY}


@pytest.mark.parametrize("activity", ["swim", "pool", "snorkel", "rain", "hands", "boat"])
def test_years_overdue_still_only_warns_a_swimmer(activity: str) -> None:
    whole = record(passed(date(2019, 1, 1)))
    row = PRACTICE.activities[activity]
    plan = exposure(activity=activity, water=row.water, depth_m=1.0)
    assert verdict_of(check_plan(whole, plan).reasons)["test-overdue"] == THINK_TWICE


@pytest.mark.parametrize(("use", "months"), [("diving", 12), ("swimming", 12), ("dry", 36)])
def test_the_stated_use_sets_the_interval(use: str, months: int) -> None:
    whole = record(passed(date(2021, 9, 2)), use=use)
    found = verdict_of(stops(whole, date(2024, 9, 1)))
    assert ("test-overdue" in found) == (months == 12)
    assert "test-overdue" in verdict_of(stops(whole, date(2024, 9, 2)))


def test_an_interval_of_the_owners_own_counts() -> None:
    whole = record(passed(date(2023, 9, 2)), intervals_months={"pressure-test": 24})
    assert stops(whole) == ()
    found = stops(record(passed(date(2024, 6, 1)), intervals_months={"pressure-test": 3}))
    assert codes(found) == ["test-overdue"]
    assert found[0].limit == "3 months"
    assert "1 Sep 2024" in found[0].sentence
    assert found[0].value == "1 day over"


@pytest.mark.parametrize(
    ("activity", "verdict"),
    [("dive", KEEP_DRY), ("freedive", KEEP_DRY), ("pool", THINK_TWICE), ("rain", THINK_TWICE)],
)
def test_a_watch_that_was_never_tested_does_not_dive(activity: str, verdict: str) -> None:
    plan = exposure(activity=activity, depth_m=1.0, water=PRACTICE.activities[activity].water)
    assert verdict_of(check_plan(untested(), plan).reasons)["never-tested"] == verdict


def test_a_divers_watch_bought_new_needs_no_test_of_its_own_for_a_year() -> None:
    new = untested(new_on=date(2024, 1, 1))
    assert stops(new) == ()
    assert check_plan(new, exposure()).verdict == NO_OBJECTION
    assert any("maker’s, not yours" in line for line in check_plan(new, exposure()).context)
    assert codes(stops(new, date(2025, 1, 1))) == ["test-overdue"]  # confirmed in September, so not silent


def test_the_makers_test_of_samples_only_warns_also_for_diving() -> None:
    sampled = untested(new_on=date(2024, 1, 1), mark="water-resistant")
    found = verdict_of(check_plan(sampled, exposure(activity="freedive")).reasons)
    assert found["never-tested"] == THINK_TWICE
    assert found["over-tested"] == KEEP_DRY  # its own row: no pressure was passed
    assert "samples" in stops(sampled)[0].sentence


# ---------------------------------------------------------------- seals


def test_a_seal_is_too_old_from_the_earliest_day_it_may_have_been_fitted() -> None:
    maybe = record(
        seals=seals(fitted=date(2017, 9, 2), latest=date(2024, 9, 1)),
        recorded_from=FITTED,
        worn_h=0.0,
        use="dry",
    )
    assert codes(stops(maybe, date(2024, 9, 1))) == []
    found = stops(maybe, date(2024, 9, 2))
    assert codes(found) == ["seal-too-old"]
    assert "perhaps as early as 2 Sep 2017" in found[0].sentence
    assert standing.stand(maybe, PRACTICE, date(2024, 9, 2)).score > 0  # shown from the middle


def test_the_storage_class_is_past_on_its_anniversary() -> None:
    assert codes(stops(drawer_watch(), date(2024, 9, 1))) == []
    assert codes(stops(drawer_watch(), date(2024, 9, 2))) == ["seal-too-old"]


def test_too_old_names_every_seal_that_is() -> None:
    new_crown = replace(old_seals()[2], fitted_earliest=FITTED, fitted_latest=FITTED, id=9)
    whole = replace(drawer_watch(), seals=(*old_seals(), new_crown))
    sentence = stops(whole)[0].sentence
    assert "case back" in sentence
    assert "crystal" in sentence
    assert "crown" not in sentence


def test_an_interval_is_used_up_at_one_and_not_before() -> None:
    whole = record(worn_h=0.0, winds=0.0, seals=seals(fitted=TODAY), recorded_from=TODAY)
    for share, spoken in ((0.999999, ["low-score"]), (1.0, ["used-up"]), (1.7, ["used-up"])):
        assert codes(stops(replace(whole, totals={3: Shares(salt=share)}))) == spoken


def test_a_low_score_is_one_below_twenty() -> None:
    whole = record(worn_h=0.0, winds=0.0, seals=seals(fitted=TODAY), recorded_from=TODAY)
    assert stops(replace(whole, totals={3: Shares(salt=0.80)})) == ()
    found = stops(replace(whole, totals={3: Shares(salt=0.81)}))
    assert (codes(found), found[0].value, found[0].limit) == (["low-score"], "19", "20")


@pytest.mark.parametrize("code", ["used-up", "seal-too-old"])
def test_a_low_score_is_silent_beside_what_makes_it_low(code: str) -> None:
    whole = ALONE[code][0]()
    assert standing.stand(whole, PRACTICE, TODAY).score == 0
    assert "low-score" not in codes(stops(whole))


# ---------------------------------------------------------------- the record's silence


@pytest.mark.parametrize(("days", "spoken"), [(179, []), (180, ["record-silent"])])
def test_a_record_is_silent_after_a_hundred_and_eighty_days(days: int, spoken: list[str]) -> None:
    whole = record(last_exposure_on=TODAY - days * ONE_DAY, confirmed_on=None)
    assert codes(stops(whole)) == spoken


def test_a_watch_kept_dry_may_be_silent() -> None:
    assert stops(record(last_exposure_on=None, confirmed_on=None, use="dry")) == ()


def test_confirming_ends_the_silence() -> None:
    assert stops(record(last_exposure_on=None, confirmed_on=TODAY - 10 * ONE_DAY)) == ()


# ---------------------------------------------------------------- pressures


def planned(whole: WatchRecord, plan: Exposure, day: date = TODAY) -> Planned:
    row = PRACTICE.activities[plan.activity]
    known = facts.gather(whole, day)
    return Planned(Plan(plan), rules.Situation(known, (), 100, row.mark_class, PRACTICE))


@pytest.mark.parametrize(
    ("activity", "speed"),
    [("dive", 1), ("mixed-gas", 1), ("freedive", 2), ("snorkel", 1.5), ("swim", 2), ("pool", 2),
     ("shower", 0),     ("bath", 0), ("hot tub", 0), ("rain", 0), ("hands", 0), ("boat", 0)],
)  # fmt: skip
def test_the_arms_speed_adds_its_dynamic_pressure(activity: str, speed: float) -> None:
    """½·ρ·v², 1025 kg/m³ in the sea and 1000 elsewhere."""
    water = PRACTICE.activities[activity].water
    density = 1025 if water == "sea" else 1000
    found = planned(record(), exposure(activity=activity, water=water, depth_m=2.0))
    assert found.planned_pa == pytest.approx(2e4 + 0.5 * density * speed**2)


def test_a_jump_counts_where_it_presses_more_than_the_depth_and_never_adds_to_it() -> None:
    """ρ·g·H: five metres of fresh water are 49 033 Pa."""
    shallow, deep = pool(depth_m=1.0, jump_m=5.0), pool(depth_m=10.0, jump_m=5.0)
    assert planned(record(), shallow).planned_pa == pytest.approx(1000 * 9.80665 * 5)
    assert planned(record(), deep).planned_pa == pytest.approx(1e5 + 2000)


def test_air_neither_presses_nor_is_swum_through() -> None:
    assert planned(record(), sauna()).planned_pa == 0


def test_the_arms_speed_can_be_what_goes_over_the_mark() -> None:
    """199.96 m and an arm at 1 m/s: 512.5 Pa more than the 400 Pa that are left."""
    over = check_plan(record(), exposure(depth_m=199.96))
    under = check_plan(record(), exposure(depth_m=199.94))
    assert codes(over.reasons) == ["over-mark"]
    assert codes(under.reasons) == ["near-mark"]


def test_a_jump_can_be_what_goes_over_the_mark() -> None:
    small = record(mark="unmarked", marked_pa=None)
    high = check_plan(small, pool(depth_m=0.5, jump_m=11.0))
    assert verdict_of(high.reasons)["over-mark"] == KEEP_DRY
    assert "over-mark" not in codes(check_plan(small, pool(depth_m=0.5, jump_m=10.0)).reasons)


def test_exactly_at_the_mark_is_near_it_and_not_over_it() -> None:
    for gauge, spoken in ((20 * BAR, ["near-mark"]), (20 * BAR + 1, ["over-mark"])):
        plan = exposure(activity="boat", depth_m=0.05, gauge_pa=gauge)  # a boat's arm has no speed
        assert codes(check_plan(record(), plan).reasons) == spoken


@pytest.mark.parametrize(
    ("mark", "share"), [("water-resistant", 0.6), ("divers", 0.8), ("divers-mixed-gas", 0.8)]
)
def test_near_the_mark_begins_at_sixty_or_for_a_divers_mark_at_eighty_per_cent(
    mark: str, share: float
) -> None:
    whole = record(mark=mark)
    for gauge, spoken in ((share * 20 * BAR, ["near-mark"]), (share * 20 * BAR - 1, [])):
        plan = exposure(activity="boat", depth_m=0.05, gauge_pa=gauge)
        assert codes(check_plan(whole, plan).reasons) == spoken


@pytest.mark.parametrize(("mark", "bar"), [("unmarked", 1.0), ("water-resistant", 3.0), ("divers", 3.0)])
def test_a_mark_without_a_number_is_held_to_what_stands_for_it(mark: str, bar: float) -> None:
    whole = record(mark=mark, marked_pa=None)
    plan = exposure(activity="boat", depth_m=0.05, gauge_pa=bar * BAR + 1)
    assert "over-mark" in codes(check_plan(whole, plan).reasons)
    within = replace(plan, gauge_pa=bar * BAR - 1)
    assert "over-mark" not in codes(check_plan(whole, within).reasons)


def test_an_unknown_mark_stands_for_the_rules_that_would_need_one() -> None:
    unknown = record(mark="unknown", marked_pa=None)
    deep = check_plan(unknown, exposure(activity="mixed-gas", depth_m=240.0))
    assert codes(deep.reasons) == ["mark-unknown"]
    assert verdict_of(check_plan(unknown, rain()).reasons) == {"mark-unknown": THINK_TWICE}


def test_exactly_what_was_passed_is_not_above_it() -> None:
    whole = record(passed(bar=2))
    for gauge, spoken in ((2 * BAR, []), (2 * BAR + 1, ["over-tested"])):
        plan = exposure(activity="boat", depth_m=0.05, gauge_pa=gauge)
        assert codes(check_plan(whole, plan).reasons) == spoken


@pytest.mark.parametrize(
    ("activity", "verdict"),
    [("dive", KEEP_DRY), ("freedive", KEEP_DRY), ("mixed-gas", KEEP_DRY), ("snorkel", THINK_TWICE),
     ("pool", THINK_TWICE), ("shower", THINK_TWICE), ("rain", THINK_TWICE)],
)  # fmt: skip
def test_above_what_was_passed_keeps_divers_dry_and_warns_others(activity: str, verdict: str) -> None:
    water = PRACTICE.activities[activity].water
    plan = exposure(activity=activity, water=water, depth_m=2.0)
    whole = record(passed(bar=0.1), mark="divers-mixed-gas")
    assert verdict_of(check_plan(whole, plan).reasons) == {"over-tested": verdict}


def test_a_pass_without_a_pressure_covers_no_depth() -> None:
    found = check_plan(record(passed(bar=None)), exposure())
    assert verdict_of(found.reasons) == {"over-tested": KEEP_DRY}
    assert found.reasons[0].limit == "none passed"


def test_a_vacuum_of_0_7_bar_covers_the_pool_and_not_the_dive() -> None:
    whole = record(passed(bar=0.7, medium="vacuum"))
    assert check_plan(whole, pool()).reasons == ()
    assert codes(check_plan(whole, exposure()).reasons) == ["over-tested"]


def test_the_makers_test_covers_a_divers_watch_to_its_mark() -> None:
    whole = untested(new_on=FITTED, marked_pa=10 * BAR)
    assert "over-tested" not in codes(check_plan(whole, exposure(depth_m=99.9)).reasons)
    assert "over-tested" in codes(check_plan(whole, exposure(depth_m=100.0)).reasons)


# ---------------------------------------------------------------- closing, heat, jumps


@pytest.mark.parametrize("use", ["crown_wet", "crown_under", "pusher_wet", "pusher_under"])
def test_planning_to_use_crown_or_pushers_in_water_speaks(use: str) -> None:
    found = check_plan(record(), exposure(**{use: 1}))
    assert verdict_of(found.reasons) == {"not-closed": KEEP_DRY}
    assert ("crown" if use.startswith("crown") else "pushers") in (found.reasons[0].value or "")


def test_pushers_that_are_unlocked_speak() -> None:
    assert codes(check_plan(record(), exposure(), pushers_open=True).reasons) == ["not-closed"]


@pytest.mark.parametrize(("from_c", "spoken"), [(38.0, []), (38.1, ["big-swing"])])
def test_a_swing_is_big_above_thirty_five_kelvin(from_c: float, spoken: list[str]) -> None:
    assert codes(check_plan(record(), exposure(from_c=from_c, water_c=3.0)).reasons) == spoken


@pytest.mark.parametrize(
    ("plan", "speaks"),
    [
        (shower(water_c=35.0), False),
        (shower(water_c=35.5), True),
        (exposure(activity="hot tub", water="hot tub", depth_m=0.5, water_c=30.0), True),
        (exposure(activity="hands", water="soap", depth_m=0.05, water_c=40.0), True),
        (pool(water_c=36.0), False),
        (exposure(activity="bath", water="fresh", depth_m=0.3, water_c=40.0), False),
        (sauna(water_c=50.0), True),
    ],
    ids=["soap at 35", "soap above 35", "any hot tub", "hot hands", "warm pool", "plain bath", "mild sauna"],
)  # fmt: skip
def test_hot_water_is_sauna_hot_tub_and_soap_above_thirty_five(plan: Exposure, speaks: bool) -> None:
    assert ("hot-water" in codes(check_plan(record(), plan).reasons)) == speaks


@pytest.mark.parametrize(("height", "spoken"), [(3.0, []), (3.1, ["jump"])])
def test_a_jump_speaks_above_three_metres(height: float, spoken: list[str]) -> None:
    assert codes(check_plan(record(), pool(jump_m=height)).reasons) == spoken


# ---------------------------------------------------------------- the table of marks

CLASS_ACTIVITY = {
    "rain, hands": "rain", "swim": "swim", "snorkel": "snorkel", "free dive": "freedive", "scuba": "dive",
    "mixed gas": "mixed-gas",
}  # fmt: skip
# Common practice, no source: the rows of docs/method.md, in the order of the classes above.
MARK_TABLE: list[tuple[str, float | None, str]] = [
    ("unmarked", None, "light no no no no no"),
    ("water-resistant", None, "yes no no no no no"),
    ("water-resistant", 3, "yes no no no no no"),
    ("water-resistant", 4.9, "yes no no no no no"),
    ("water-resistant", 5, "yes light no no no no"),
    ("water-resistant", 9.9, "yes light no no no no"),
    ("water-resistant", 10, "yes yes yes no no no"),
    ("water-resistant", 15, "yes yes yes no no no"),
    ("water-resistant", 20, "yes yes yes yes no no"),
    ("water-resistant", 100, "yes yes yes yes no no"),
    ("divers", 10, "yes yes yes yes yes no"),
    ("divers", 100, "yes yes yes yes yes no"),
    ("divers", None, "yes no no no no no"),
    ("divers", 5, "yes light no no no no"),
    ("divers-mixed-gas", 30, "yes yes yes yes yes yes"),
    ("divers-mixed-gas", None, "yes no no no no no"),
]


@pytest.mark.parametrize(("mark", "bar", "row"), MARK_TABLE)
def test_a_mark_allows_what_its_row_says(mark: str, bar: float | None, row: str) -> None:
    whole = record(mark=mark, marked_pa=None if bar is None else bar * BAR)
    for allowed, activity in zip(row.split(), CLASS_ACTIVITY.values(), strict=True):
        plan = exposure(activity=activity, depth_m=0.02, water="fresh")
        found = verdict_of(check_plan(whole, plan).reasons).get("beyond-class", NO_OBJECTION)
        assert found == {"yes": NO_OBJECTION, "light": THINK_TWICE, "no": KEEP_DRY}[allowed], activity


def test_every_activity_has_the_class_the_table_speaks_of() -> None:
    classes = {a.name: a.mark_class for a in PRACTICE.activities.values()}
    assert classes == {
        "dive": "scuba", "mixed-gas": "mixed gas", "freedive": "free dive", "snorkel": "snorkel",
        "swim": "swim", "pool": "swim", "shower": "swim", "bath": "swim", "hot tub": "swim",
        "rain": "rain, hands",
        "hands": "rain, hands", "sauna": "rain, hands", "boat": "rain, hands",
    }  # fmt: skip


def test_the_owner_may_read_a_mark_in_another_way() -> None:
    """The table is data: an override that allows swimming at 5 bar is followed."""
    rows = SHIPPED[SHIPPED.index("[[marks]]") : SHIPPED.index("[intervals.")]
    milder = practice_with(rows.replace('swim = "light"', 'swim = "yes"'))
    whole = record(mark="water-resistant", marked_pa=5 * BAR)
    assert codes(check_plan(whole, pool()).reasons) == ["beyond-class"]
    assert check_plan(whole, pool(), constants=milder).reasons == ()


@pytest.mark.parametrize(
    ("mark", "bar", "words"),
    [
        ("unmarked", None, "unmarked"),
        ("unknown", None, "unknown"),
        ("water-resistant", None, "water-resistant"),
        ("water-resistant", 10, "10 bar"),
        ("divers", 20, "diver’s 20 bar"),
        ("divers-mixed-gas", 30.5, "diver’s, mixed gas 30.5 bar"),
    ],
)
def test_a_mark_is_printed_in_words_with_its_unit(mark: str, bar: float | None, words: str) -> None:
    whole = record(mark=mark, marked_pa=None if bar is None else bar * BAR)
    assert planrules.mark_words(whole.watch) == words


# ---------------------------------------------------------------- all together


def test_all_that_speak_are_listed_worst_first() -> None:
    whole = record(passed(date(2023, 6, 1)), event("fog"), event("battery", TESTED), totals={3: SALT})
    found = check_plan(whole, exposure(depth_m=180.0, jump_m=4.0, from_c=45.0, water_c=5.0), crown_open=True)
    assert codes(found.reasons) == [
        "fault-open", "opened-untested", "over-tested", "not-closed",
        "test-overdue", "low-score", "near-mark", "big-swing", "jump",
    ]  # fmt: skip
    graveness = [rules.VERDICTS.index(r.verdict) for r in found.reasons]
    assert graveness == sorted(graveness, reverse=True)
    assert found.verdict == KEEP_DRY


def test_a_habit_in_the_record_does_not_disturb_the_rules() -> None:
    assert stops(record(habits=(habit(0.1, FITTED, water="fresh"),))) == ()
