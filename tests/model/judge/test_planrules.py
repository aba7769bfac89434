"""Every plan rule, each in a situation in which it alone speaks; the pressures that are judged."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from datetime import date

import pytest

from logbook.model import marks
from logbook.model.judge import check, facts, planrules, rules
from logbook.model.judge.planrules import Planned
from logbook.model.judge.rules import KEEP_DRY, THINK_TWICE
from logbook.model.values import Exposure, WatchRecord
from tests.model.builders import (
    BAR,
    FITTED,
    ONE_DAY,
    PRACTICE,
    TESTED,
    TODAY,
    check_plan,
    codes,
    event,
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

PLANS_ALONE: dict[str, tuple[Callable[[], WatchRecord], Callable[[], Exposure], str]] = {
    "not-closed": (record, lambda: exposure(crown_open=True), KEEP_DRY),
    "over-mark": (lambda: record(marked_pa=10 * BAR), lambda: exposure(depth_m=120.0), KEEP_DRY),
    "beyond-class": (lambda: record(mark="water-resistant"), exposure, KEEP_DRY),
    "near-mark": (lambda: record(marked_pa=10 * BAR), lambda: exposure(depth_m=85.0), THINK_TWICE),
    "big-swing": (record, lambda: exposure(from_c=39.0, water_c=3.0), THINK_TWICE),
    "hot-water": (record, sauna, KEEP_DRY),
    "jump": (record, lambda: pool(jump_m=3.5), THINK_TWICE),
    "over-tested": (lambda: record(passed(bar=9)), exposure, THINK_TWICE),
}


@pytest.mark.parametrize("code", PLANS_ALONE)
def test_a_plan_rule_speaks_alone(code: str) -> None:
    made, planned, verdict = PLANS_ALONE[code]
    found = check.check(made(), planned(), PRACTICE, TODAY)
    assert verdict_of(found.reasons) == {code: verdict}
    assert found.verdict == verdict


@pytest.mark.parametrize("code", PLANS_ALONE)
def test_every_reason_of_a_plan_carries_a_sentence_a_value_and_a_limit(code: str) -> None:
    made, planned, _ = PLANS_ALONE[code]
    for reason in check.check(made(), planned(), PRACTICE, TODAY).reasons:
        assert reason.value
        assert reason.limit
        assert len(reason.sentence) > 20


@pytest.mark.parametrize("code", [code for code in PLANS_ALONE if code != "beyond-class"])  # names a mark
def test_a_plan_rule_speaks_in_feet_psi_and_fahrenheit_to_an_owner_of_those(code: str) -> None:
    made, planned, _ = PLANS_ALONE[code]
    found = check.check(made(), planned(), PRACTICE, TODAY, units="imperial")
    told = "\n".join(f"{r.sentence}; {r.value}; {r.limit}" for r in found.reasons)
    assert re.findall(r"\d (?:m|bar|°C|K)\b", told) == []
    assert [r.code for r in found.reasons] == [code]


def test_a_big_swing_is_told_in_the_units_of_the_owner() -> None:
    """39 and 3 °C are 102.2 and 37.4 °F; 36 K are 64.8 °F, 35 K are 63."""
    plan = exposure(from_c=39.0, water_c=3.0)
    (reason,) = check.check(record(), plan, PRACTICE, TODAY, units="imperial").reasons
    assert reason.sentence.startswith("the case goes from 102.2 to 37.4 °F,")
    assert (reason.value, reason.limit) == ("64.8 °F", "63 °F")


def test_every_plan_rule_of_the_list_was_heard_alone() -> None:
    assert set(PLANS_ALONE) == set(planrules.PLAN) <= set(rules.ORDER)


def test_each_rule_stands_in_the_table_under_the_code_that_it_speaks() -> None:
    for code, (made, planned, _) in PLANS_ALONE.items():
        asked = planned()
        known = facts.gather(made(), TODAY, PRACTICE, planrules.asked_by(asked, PRACTICE))
        found = planrules.PLAN[code](Planned(asked, rules.Situation(known, (), 100, PRACTICE)))
        assert found is not None
        assert found.code == code


# ---------------------------------------------------------------- pressures


def planned(whole: WatchRecord, plan: Exposure, day: date = TODAY) -> Planned:
    known = facts.gather(whole, day, PRACTICE, planrules.asked_by(plan, PRACTICE))
    return Planned(plan, rules.Situation(known, (), 100, PRACTICE))


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


def test_what_is_asked_of_the_watch_is_judged_with_the_arms_speed() -> None:
    found = check_plan(record(), exposure(depth_m=100.0))
    assert (found.gauge_pa, found.planned_pa) == (10 * BAR, 10 * BAR + 512.5)
    assert found.pass_needed_pa == pytest.approx(1.25 * found.planned_pa)


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


@pytest.mark.parametrize(("mark", "bar"), [("unmarked", 1.0), ("water-resistant", 2.0)])
def test_a_mark_without_a_number_is_held_to_what_stands_for_it(mark: str, bar: float) -> None:
    whole = record(mark=mark, marked_pa=None)
    plan = exposure(activity="boat", depth_m=0.05, gauge_pa=bar * BAR + 1)
    assert "over-mark" in codes(check_plan(whole, plan).reasons)
    within = replace(plan, gauge_pa=bar * BAR - 1)
    assert "over-mark" not in codes(check_plan(whole, within).reasons)


def test_an_unknown_mark_stands_for_the_rules_that_would_need_one() -> None:
    unknown = record(mark="unknown", marked_pa=None)
    deep = check_plan(unknown, exposure(activity="mixed-gas", depth_m=150.0))
    assert codes(deep.reasons) == ["mark-unknown"]
    assert verdict_of(check_plan(unknown, rain()).reasons) == {"mark-unknown": THINK_TWICE}


def test_exactly_what_was_passed_is_not_above_it() -> None:
    """Above, it is more than was tested; at or below, the pass needed is asked for."""
    whole = record(passed(bar=12), mark="divers-mixed-gas", marked_pa=30 * BAR)
    plain = exposure(activity="dive", depth_m=30.0)
    for gauge, spoken in ((9.5 * BAR, []), (9.7 * BAR, [THINK_TWICE]), (11.9 * BAR, [THINK_TWICE]),
                          (12 * BAR, [KEEP_DRY])):  # fmt: skip
        found = check_plan(whole, replace(plain, gauge_pa=gauge))
        assert [r.verdict for r in found.reasons if r.code == "over-tested"] == spoken


@pytest.mark.parametrize(
    ("activity", "verdict"),
    [("dive", KEEP_DRY), ("freedive", KEEP_DRY), ("mixed-gas", KEEP_DRY), ("snorkel", THINK_TWICE),
     ("pool", THINK_TWICE), ("shower", THINK_TWICE), ("bath", THINK_TWICE)],
)  # fmt: skip
def test_above_what_was_passed_keeps_divers_dry_and_warns_others(activity: str, verdict: str) -> None:
    water = PRACTICE.activities[activity].water
    plan = exposure(activity=activity, water=water, depth_m=2.0)
    whole = record(passed(bar=0.1), mark="divers-mixed-gas")
    assert verdict_of(check_plan(whole, plan).reasons) == {"over-tested": verdict, "never-tested": verdict}


@pytest.mark.parametrize(
    ("plan", "bar", "needed"),
    [(exposure(), 9, "10 bar"), (exposure(activity="freedive"), 9, "10 bar"), (pool(), 2.9, "3 bar"),
     (exposure(depth_m=90.0), 11, "11.3 bar")],
)  # fmt: skip
def test_a_plan_within_what_was_passed_asks_for_the_pass_needed(
    plan: Exposure, bar: float, needed: str
) -> None:
    (found,) = check_plan(record(passed(bar=bar)), plan).reasons
    assert (found.code, found.verdict, found.limit) == ("over-tested", THINK_TWICE, needed)
    assert f"this asks for a pass at {needed}" in found.sentence


def test_a_proof_six_months_past_its_interval_still_softens_a_dive_above_the_newer_one() -> None:
    """25 bar, due on 1 Mar 2024, and 1 bar since: think twice until 1 Sep 2024, whatever began since."""
    for on, verdict in ((date(2024, 8, 31), THINK_TWICE), (date(2024, 9, 1), KEEP_DRY)):
        whole = record(
            passed(date(2023, 3, 1), 25), passed(date(2024, 6, 1), 1), confirmed_on=date(2024, 8, 30),
            last_exposure_on=date(2024, 8, 30),
        )  # fmt: skip
        found = verdict_of(check_plan(whole, exposure(), on).reasons)
        assert found["over-tested"] == verdict
        opened = replace(whole, events=(whole.events[0], event("battery", date(2024, 5, 1)), whole.events[1]))
        assert verdict_of(check_plan(opened, exposure(), on).reasons)["over-tested"] == verdict


def test_while_no_proof_is_in_force_other_rules_speak_of_it() -> None:
    for told in ((passed(), event("battery")), (passed(date(2023, 6, 1)),), (passed(), event("knock"))):
        assert "over-tested" not in codes(check_plan(record(*told), exposure()).reasons)
    assert codes(check_plan(untested(), exposure()).reasons) == ["never-tested"]


def test_a_pass_without_a_pressure_counts_as_1_bar() -> None:
    dive, swim = (
        {r.code: r for r in check_plan(record(passed(bar=None)), plan).reasons}
        for plan in (exposure(), pool())
    )
    assert (dive["over-tested"].verdict, dive["over-tested"].limit) == (KEEP_DRY, "1.00 bar")
    assert list(swim) == ["over-tested"]
    assert swim["over-tested"].verdict == THINK_TWICE


def test_a_vacuum_of_0_7_bar_covers_rain_and_no_pool() -> None:
    unknown = record(passed(bar=0.7, medium="vacuum"), mark="unknown", marked_pa=None)
    assert codes(check_plan(unknown, rain()).reasons) == ["mark-unknown"]
    marked = record(passed(bar=0.7, medium="vacuum"))
    assert verdict_of(check_plan(marked, pool()).reasons)["over-tested"] == THINK_TWICE


def test_rain_and_hands_are_not_nagged_for_a_weak_proof_where_the_mark_allows_them() -> None:
    assert check_plan(record(passed(bar=0.0001)), rain()).reasons == ()
    unmarked = record(passed(bar=0.0001), mark="unmarked", marked_pa=None)
    assert "over-tested" in codes(check_plan(unmarked, rain()).reasons)


def test_the_makers_test_covers_a_divers_watch_to_its_mark() -> None:
    whole = untested(new_on=FITTED, marked_pa=10 * BAR)
    assert "over-tested" not in codes(check_plan(whole, exposure(depth_m=99.9)).reasons)
    found = {r.code: r for r in check_plan(whole, exposure(depth_m=100.0)).reasons}
    assert "of its maker’s test" in found["over-tested"].sentence


# ---------------------------------------------------------------- closing, heat, jumps


@pytest.mark.parametrize("use", ["crown_wet", "crown_under", "pusher_wet", "pusher_under"])
def test_planning_to_use_crown_or_pushers_in_water_speaks(use: str) -> None:
    found = check_plan(record(), exposure(**{use: 1}))
    assert verdict_of(found.reasons) == {"not-closed": KEEP_DRY}
    assert ("crown" if use.startswith("crown") else "pushers") in (found.reasons[0].value or "")


def test_pushers_that_their_maker_allows_in_water_may_be_used_and_not_be_left_open() -> None:
    allowed = record(pushers=True, pushers_wet=True)
    assert check_plan(allowed, exposure(pusher_under=2)).reasons == ()
    assert codes(check_plan(allowed, exposure(), pushers_open=True).reasons) == ["not-closed"]
    assert codes(check_plan(allowed, exposure(crown_wet=1)).reasons) == ["not-closed"]


def test_pushers_that_are_unlocked_speak() -> None:
    assert codes(check_plan(record(), exposure(), pushers_open=True).reasons) == ["not-closed"]


@pytest.mark.parametrize(
    ("mark", "from_c", "spoken"),
    [("divers", 38.0, []), ("divers", 38.1, ["big-swing"]), ("divers-mixed-gas", 38.0, []),
     ("water-resistant", 23.0, []), ("water-resistant", 23.1, ["big-swing"]),
     ("unmarked", 23.1, ["big-swing"]), ("unknown", 23.1, ["big-swing"])],
)  # fmt: skip
def test_a_swing_is_big_above_that_of_the_thermal_shock_test_of_the_mark(
    mark: str, from_c: float, spoken: list[str]
) -> None:
    """ISO 6425, 40/5 °C: 35 K; plain marks 40/20/40 °C: 20 K; both from memory."""
    marked_pa = None if mark in ("unmarked", "unknown") else 20 * BAR
    whole = record(mark=mark, marked_pa=marked_pa, use="dry")
    found = codes(check_plan(whole, pool(from_c=from_c, water_c=3.0)).reasons)
    assert [code for code in found if code == "big-swing"] == spoken


def test_a_swing_is_no_matter_for_rain() -> None:
    assert check_plan(record(), rain(from_c=40.0, water_c=1.0)).reasons == ()


@pytest.mark.parametrize(
    ("plan", "verdict"),
    [
        (shower(water_c=35.0), None),
        (shower(water_c=35.5), THINK_TWICE),
        (exposure(activity="hot tub", water="hot tub", depth_m=0.5, water_c=30.0), THINK_TWICE),
        (exposure(activity="hands", water="soap", depth_m=0.05, water_c=40.0), THINK_TWICE),
        (pool(water_c=36.0), None),
        (exposure(activity="bath", water="fresh", depth_m=0.3, water_c=40.0), None),
        (exposure(activity="bath", water="fresh", depth_m=0.3, water_c=40.1), THINK_TWICE),
        (sauna(water_c=50.0), KEEP_DRY),
    ],
    ids=["soap at 35", "soap above 35", "any hot tub", "hot hands", "warm pool", "bath at 40",
         "bath above 40", "mild sauna"],
)  # fmt: skip
def test_hot_water_is_a_hot_tub_soap_above_35_or_anything_above_40_and_a_sauna_is_kept_out_of(
    plan: Exposure, verdict: str | None
) -> None:
    assert verdict_of(check_plan(record(), plan).reasons).get("hot-water") == verdict


def test_a_sauna_says_take_it_off() -> None:
    (found,) = check_plan(record(), sauna()).reasons
    assert "take it off" in found.sentence


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
    assert marks.class_of(plan, PRACTICE) == judged_as


def test_a_sauna_stays_what_it_is() -> None:
    assert marks.class_of(sauna(), PRACTICE) == "rain, hands"


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


def test_a_vacuum_alone_is_told_for_what_it_is_and_no_pressure_of_0_bar() -> None:
    """Failed in a vacuum, then passed there on two days: no dive can lean on that."""
    failed = replace(passed(TESTED + ONE_DAY, 0.7, medium="vacuum"), passed=False)
    again = (passed(TESTED + n * ONE_DAY, 0.7, medium="vacuum") for n in (2, 3))
    found = check_plan(record(passed(), failed, *again), exposure())
    (said,) = [r for r in found.reasons if r.code == "over-tested"]
    assert said.sentence == (
        "this asks for a pass at 10 bar; the highest in force is 0.70 bar in vacuum, 4 Jun 2024, "
        "which counts for rain and hands at most"
    )
    assert (said.value, said.limit) == ("none", "10 bar")
