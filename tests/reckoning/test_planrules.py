"""Every plan rule, each in a situation in which it alone speaks; the pressures that are judged."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from datetime import date

import pytest

from logbook.reckoning import check, facts, planrules, rules
from logbook.reckoning.planrules import PLAN_CODES, Plan, Planned
from logbook.reckoning.rules import (
    KEEP_DRY,
    THINK_TWICE,
)
from logbook.reckoning.values import Exposure, WatchRecord
from tests.reckoning.builders import (
    BAR,
    FITTED,
    PRACTICE,
    TODAY,
    check_plan,
    codes,
    exposure,
    passed,
    pool,
    rain,
    record,
    sauna,
    shower,
    untested,
    verdict_of,
)

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


@pytest.mark.parametrize("code", PLANS_ALONE)
def test_every_reason_of_a_plan_carries_a_sentence_a_value_and_a_limit(code: str) -> None:
    made, planned, closed, _ = PLANS_ALONE[code]
    for reason in check_plan(made(), planned(), **closed).reasons:
        assert reason.value
        assert reason.limit
        assert len(reason.sentence) > 20


@pytest.mark.parametrize("code", [code for code in PLANS_ALONE if code != "beyond-class"])  # names a mark
def test_a_plan_rule_speaks_in_feet_psi_and_fahrenheit_to_an_owner_of_those(code: str) -> None:
    made, planned, closed, _ = PLANS_ALONE[code]
    found = check.check(made(), Plan(planned(), **closed), PRACTICE, TODAY, units="imperial")
    told = "\n".join(f"{r.sentence}; {r.value}; {r.limit}" for r in found.reasons)
    told += f"\n{found.would_change}"
    assert re.findall(r"\d (?:m|bar|°C|K)\b", told) == []
    assert [r.code for r in found.reasons] == [code]


def test_a_big_swing_is_told_in_the_units_of_the_owner() -> None:
    """39 and 3 °C are 102.2 and 37.4 °F; 36 K are 64.8 °F, 35 K are 63."""
    plan = Plan(exposure(from_c=39.0, water_c=3.0))
    (reason,) = check.check(record(), plan, PRACTICE, TODAY, units="imperial").reasons
    assert reason.sentence.startswith("the case goes from 102.2 to 37.4 °F,")
    assert (reason.value, reason.limit) == ("64.8 °F", "63 °F")


def test_every_plan_rule_of_the_list_was_heard_alone() -> None:
    assert set(PLANS_ALONE) == set(PLAN_CODES)
    assert len(planrules.PLAN) == len(PLAN_CODES)


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


@pytest.mark.parametrize(("mark", "bar"), [("unmarked", 1.0), ("water-resistant", 2.0), ("divers", 2.0)])
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


def test_closing_matters_in_the_rain_too() -> None:
    assert verdict_of(check_plan(record(), rain(), crown_open=True).reasons) == {"not-closed": KEEP_DRY}


# ---------------------------------------------------------------- what is judged, whatever it is called


@pytest.mark.parametrize(
    ("activity", "depth_m", "jump_m", "judged_as"),
    [("rain", 0.5, 0.0, "rain, hands"), ("rain", 0.51, 0.0, "swim"), ("hands", 20.0, 0.0, "free dive"),
     ("boat", 0.05, 0.0, "rain, hands"), ("boat", 0.05, 1.0, "swim"), ("snorkel", 10.0, 0.0, "snorkel"),
     ("snorkel", 10.01, 0.0, "free dive"), ("swim", 40.0, 0.0, "free dive"), ("pool", 3.8, 3.0, "swim"),
     ("dive", 0.3, 0.0, "scuba"), ("mixed-gas", 60.0, 0.0, "mixed gas")],
)  # fmt: skip
def test_a_plan_is_judged_by_how_deep_it_goes_too(
    activity: str, depth_m: float, jump_m: float, judged_as: str
) -> None:
    """Half a metre and ten metres: assumptions of practice.toml."""
    plan = exposure(activity=activity, depth_m=depth_m, jump_m=jump_m)
    assert planrules.class_of(plan, PRACTICE) == judged_as


def test_a_sauna_stays_what_it_is() -> None:
    assert planrules.class_of(sauna(), PRACTICE) == "rain, hands"


def test_a_jump_off_a_boat_is_no_rain() -> None:
    plain = record(passed(bar=3), mark="water-resistant", marked_pa=3 * BAR, use="dry")
    boat = rain(activity="boat", water="sea", salinity=35.0)
    assert check_plan(plain, boat).reasons == ()
    assert verdict_of(check_plan(plain, replace(boat, jump_m=2.9)).reasons) == {"beyond-class": KEEP_DRY}


def test_a_swim_as_deep_as_a_free_dive_is_judged_as_one() -> None:
    """A plain mark of 10 bar allows swimming and snorkelling, no free dive (the table of marks)."""
    plain = record(passed(bar=10), mark="water-resistant", marked_pa=10 * BAR, use="swimming")
    assert check_plan(plain, pool(depth_m=4.0)).reasons == ()
    assert verdict_of(check_plan(plain, pool(depth_m=40.0)).reasons) == {"beyond-class": KEEP_DRY}


# ---------------------------------------------------------------- a trip


def test_a_trip_is_judged_for_its_last_day() -> None:
    """A test passed on 10 Sep 2023 is due on 10 Sep 2024: within the trip, not on its first day."""
    whole = record(passed(date(2023, 9, 10)))
    day, trip = exposure(), exposure(planned=True, planned_to=date(2024, 9, 10))
    assert check_plan(whole, day).reasons == ()
    assert check_plan(whole, replace(trip, planned_to=date(2024, 9, 9))).reasons == ()
    found = check_plan(whole, trip)
    assert verdict_of(found.reasons) == {"test-overdue": THINK_TWICE}
    assert "judged for the last day of the trip, 10 Sep 2024" in found.context
