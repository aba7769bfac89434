"""The check before water: it only ever gets stricter, and what it says would change it does change it."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from logbook.reckoning import check
from logbook.reckoning.check import Verdict
from logbook.reckoning.planrules import Plan
from logbook.reckoning.rules import KEEP_DRY, NO_OBJECTION, THINK_TWICE, VERDICTS
from logbook.reckoning.values import DAMAGE, FAULTS, Event, Exposure, Seal, Shares, WatchRecord
from tests.reckoning.builders import (
    BAR,
    FITTED,
    ONE_DAY,
    PRACTICE,
    TODAY,
    check_plan,
    codes,
    event,
    exposure,
    passed,
    rain,
    record,
    seals,
    shower,
    untested,
)

FIRST = date(2022, 9, 1)
LONG = (TODAY - FIRST).days

# ---------------------------------------------------------------- any watch, any plan

days_ago = st.integers(0, LONG).map(lambda n: TODAY - n * ONE_DAY)
event_of_any_kind = st.one_of(
    st.builds(lambda on, bar: passed(on, bar), days_ago, st.sampled_from([None, 0.7, 3.0, 6.0, 12.5, 25.0])),
    st.builds(lambda on: event("pressure-test", on, passed=False), days_ago),
    st.builds(lambda on, ok: event("condensation-test", on, passed=ok), days_ago, st.booleans()),
    st.builds(
        lambda kind, on: event(kind, on), st.sampled_from(["battery", "opened", "gaskets", "strap"]), days_ago
    ),
    st.builds(lambda kind, on: event(kind, on), st.sampled_from(FAULTS), days_ago),
    st.builds(lambda kind, on: event("repaired", on, repaired=kind), st.sampled_from(DAMAGE), days_ago),
)
histories = st.lists(event_of_any_kind, max_size=4).map(
    lambda told: tuple(replace(e, id=n) for n, e in enumerate(told, start=1))
)
marks = st.tuples(
    st.sampled_from(["unmarked", "unknown", "water-resistant", "divers", "divers-mixed-gas"]),
    st.sampled_from([None, 3.0, 5.0, 10.0, 20.0, 30.0]),
)


def _record(mark: tuple[str, float | None], history: tuple[Event, ...], **given_: Any) -> WatchRecord:
    kind, bar = mark
    marked_pa = None if bar is None or kind in ("unmarked", "unknown") else bar * BAR
    fitted = given_.pop("fitted")
    made = record(mark=kind, marked_pa=marked_pa, seals=seals(fitted=fitted), recorded_from=fitted, **given_)
    return replace(made, events=tuple(sorted(history, key=lambda e: (e.on, e.order, e.id or 0))))


records = st.builds(
    _record,
    marks,
    histories,
    fitted=st.sampled_from([date(2017, 1, 1), date(2019, 6, 1), date(2023, 1, 1), TODAY - 9 * ONE_DAY]),
    totals=st.sampled_from([{}, {}, {3: Shares(salt=0.5)}, {2: Shares(salt=0.9)}]),
    use=st.sampled_from(["diving", "swimming", "dry"]),
    new_on=st.sampled_from([None, None, FIRST, TODAY - 30 * ONE_DAY]),
    confirmed_on=st.sampled_from([None, TODAY]),
    last_exposure_on=st.sampled_from([None, TODAY - 3 * ONE_DAY]),
    added_on=st.just(FIRST),
    crown=st.sampled_from(["screwed", "pushed"]),
    worn_h=st.sampled_from([0.0, 12.0]),
)


def _exposure(activity: str, **given_: Any) -> Exposure:
    return exposure(activity=activity, water=PRACTICE.activities[activity].water, **given_)


plans = st.builds(
    Plan,
    st.builds(
        _exposure,
        st.sampled_from(sorted(PRACTICE.activities)),
        depth_m=st.one_of(st.floats(0, 5), st.floats(0, 300)),
        duration_s=st.integers(1, 172_800),
        water_c=st.floats(-3, 60),
        from_c=st.floats(20, 40),
        jump_m=st.sampled_from([0.0, 0.0, 2.0, 5.0, 20.0]),
        crown_wet=st.sampled_from([0, 0, 0, 1]),
        pusher_under=st.sampled_from([0, 0, 0, 1]),
    ),
    crown_open=st.sampled_from([False, False, False, True]),
    pushers_open=st.sampled_from([False, False, False, True]),
)


def judged(whole: WatchRecord, plan: Plan) -> Verdict:
    return check.check(whole, plan, PRACTICE, TODAY)


def grave(found: Verdict) -> int:
    return VERDICTS.index(found.verdict)


def deeper(plan: Plan, more_m: float) -> Plan:
    depth = plan.exposure.depth_m + more_m
    return replace(plan, exposure=replace(plan.exposure, depth_m=depth, gauge_pa=depth * 1e4))


@given(whole=records, plan=plans, more_m=st.one_of(st.floats(0, 1), st.floats(0, 300)))
def test_more_depth_never_gives_a_better_verdict(whole: WatchRecord, plan: Plan, more_m: float) -> None:
    assert grave(judged(whole, deeper(plan, more_m))) >= grave(judged(whole, plan))


@given(whole=records, plan=plans, more_s=st.integers(0, 100_000))
def test_more_time_never_gives_a_better_verdict(whole: WatchRecord, plan: Plan, more_s: int) -> None:
    longer = replace(plan, exposure=replace(plan.exposure, duration_s=plan.exposure.duration_s + more_s))
    assert grave(judged(whole, longer)) >= grave(judged(whole, plan))


@given(whole=records, plan=plans, on=days_ago, kind=st.sampled_from(FAULTS))
def test_an_added_fault_never_gives_a_better_verdict(
    whole: WatchRecord, plan: Plan, on: date, kind: Any
) -> None:
    faulty = replace(whole, events=(*whole.events, event(kind, on, id=99)))
    assert grave(judged(faulty, plan)) >= grave(judged(whole, plan))


@given(whole=records, plan=plans, on=days_ago, earlier=st.integers(0, 1500), bar=st.sampled_from([3.0, 25.0]))
def test_a_test_longer_ago_never_gives_a_better_verdict(
    whole: WatchRecord, plan: Plan, on: date, earlier: int, bar: float
) -> None:
    recent, long_ago = (
        replace(whole, events=(*whole.events, passed(day, bar, id=99)))
        for day in (on, on - earlier * ONE_DAY)
    )
    assert grave(judged(long_ago, plan)) >= grave(judged(recent, plan))


@given(plan=plans, overdue=st.integers(0, 2000), on_time=st.integers(0, 364))
def test_a_test_that_falls_overdue_never_gives_a_better_verdict(
    plan: Plan, overdue: int, on_time: int
) -> None:
    late = record(passed(date(2023, 9, 2) - overdue * ONE_DAY))
    punctual = record(passed(TODAY - on_time * ONE_DAY))
    assert grave(judged(late, plan)) >= grave(judged(punctual, plan))
    assert grave(judged(late, plan)) >= VERDICTS.index(THINK_TWICE)


@given(whole=records, plan=plans, bar=st.sampled_from([0.5, 1.0, 3.0, 5.0, 10.0, 20.0]))
def test_a_lower_number_on_the_dial_never_gives_a_better_verdict(
    whole: WatchRecord, plan: Plan, bar: float
) -> None:
    marked = whole.watch.marked_pa
    assume(marked is not None)
    lower = replace(whole, watch=replace(whole.watch, marked_pa=min(marked or 0.0, bar * BAR)))
    assert grave(judged(lower, plan)) >= grave(judged(whole, plan))


@given(whole=records, plan=plans)
@settings(max_examples=150)
def test_a_lower_kind_of_mark_never_gives_a_better_verdict(whole: WatchRecord, plan: Plan) -> None:
    """From mixed gas down to no mark at all, with the same number as long as there is one."""
    number = whole.watch.marked_pa or 3 * BAR
    ladder = [
        replace(
            whole, watch=replace(whole.watch, mark=kind, marked_pa=None if kind == "unmarked" else number)
        )
        for kind in ("divers-mixed-gas", "divers", "water-resistant", "unmarked")
    ]
    found = [grave(judged(lower, plan)) for lower in ladder]
    assert found == sorted(found)


@given(whole=records, plan=plans)
def test_a_mark_that_is_not_known_is_never_better_than_one_that_is(whole: WatchRecord, plan: Plan) -> None:
    """For whatever may be called a splash it asks to think twice, and for all else to keep it dry."""
    splash = PRACTICE.activities[plan.exposure.activity].mark_class == "rain, hands"
    unknown = replace(whole, watch=replace(whole.watch, mark="unknown", marked_pa=None))
    assert grave(judged(unknown, plan)) >= VERDICTS.index(THINK_TWICE if splash else KEEP_DRY)


@given(
    whole=records, plan=plans, on=days_ago, kind=st.sampled_from(["battery", "opened", "movement", "gaskets"])
)
def test_an_added_opening_never_gives_a_better_verdict(
    whole: WatchRecord, plan: Plan, on: date, kind: Any
) -> None:
    opened = replace(whole, events=(*whole.events, event(kind, on, id=99)))
    assert grave(judged(opened, plan)) >= grave(judged(whole, plan))


@given(whole=records, plan=plans, more=st.floats(0, 2), seal_id=st.sampled_from([1, 2, 3]))
def test_more_wear_never_gives_a_better_verdict(
    whole: WatchRecord, plan: Plan, more: float, seal_id: int
) -> None:
    totals = dict(whole.totals) | {seal_id: whole.totals.get(seal_id, Shares()).plus(Shares(salt=more))}
    assert grave(judged(replace(whole, totals=totals), plan)) >= grave(judged(whole, plan))


@given(whole=records, plan=plans)
def test_the_verdict_is_that_of_the_worst_reason(whole: WatchRecord, plan: Plan) -> None:
    found = judged(whole, plan)
    assert grave(found) == max((VERDICTS.index(r.verdict) for r in found.reasons), default=0)
    assert len(set(codes(found.reasons))) == len(found.reasons)


# ---------------------------------------------------------------- what would change it

SAID = re.compile(r"It would read “(?P<verdict>[^”]+)” (?P<how>.+)\.$")
STEPS = ("new gaskets", "a repair", "a pressure test passed", "crown and pushers closed", "you confirm")


def followed(whole: WatchRecord, plan: Plan, how: str) -> tuple[WatchRecord, Plan]:
    """Do what the sentence says, and nothing else, as an owner would enter it."""
    late = 20_000
    if "new gaskets" in how:
        fresh = tuple(
            Seal(s.position, s.material, TODAY, TODAY, order=late, id=900 + n)
            for n, s in enumerate(whole.seals)
        )
        opened = event("gaskets", TODAY, order=late, id=900)
        whole = replace(whole, seals=(*whole.seals, *fresh), events=(*whole.events, opened))
    if "a repair" in how:
        broken = {e.kind for e in whole.events if e.kind in DAMAGE}
        mended = tuple(event("repaired", TODAY, repaired=kind, order=late + 1, id=901) for kind in broken)
        whole = replace(whole, events=(*whole.events, *mended))
    if "a pressure test passed" in how:
        told = re.search(r"passed at ([0-9.]+) bar or more", how)
        bar = round(float(told[1]), 3) if told else 0.5
        tested = replace(passed(TODAY, None, order=late + 2, id=902), test_pa=float(round(bar * 1e5)))
        whole = replace(whole, events=(*whole.events, tested))
    if "crown and pushers closed" in how:
        plan = Plan(replace(plan.exposure, crown_wet=0, crown_under=0, pusher_wet=0, pusher_under=0))
    if "you confirm" in how:
        whole = replace(whole, watch=replace(whole.watch, confirmed_on=TODAY))
    return whole, plan


@given(whole=records, plan=plans)
@settings(max_examples=400)
def test_doing_what_the_check_says_gives_the_verdict_it_promised(whole: WatchRecord, plan: Plan) -> None:
    found = judged(whole, plan)
    said = SAID.match(found.would_change)
    if said is None:
        return
    assert VERDICTS.index(said["verdict"]) < grave(found)
    assert judged(*followed(whole, plan, said["how"])).verdict == said["verdict"]


@given(whole=records, plan=plans)
@settings(max_examples=400)
def test_the_check_asks_for_nothing_that_is_not_needed(whole: WatchRecord, plan: Plan) -> None:
    found = judged(whole, plan)
    said = SAID.match(found.would_change)
    if said is None:
        return
    for step in STEPS:
        if step in said["how"]:
            less = said["how"].replace(step, "")
            assert judged(*followed(whole, plan, less)).verdict != said["verdict"]


@given(whole=records, plan=plans)
@settings(max_examples=200)
def test_where_the_check_sees_no_way_none_of_its_steps_is_one(whole: WatchRecord, plan: Plan) -> None:
    found = judged(whole, plan)
    if not found.reasons or SAID.match(found.would_change):
        return
    everything = ", ".join(STEPS).replace("passed", "passed at 999 bar or more")
    assert judged(*followed(whole, plan, everything)).verdict == found.verdict


TESTED_181 = "a pressure test passed at 1.81 bar or more"
ALONE = "with crown and pushers closed and left alone"
CONFIRMED = "once you confirm that nothing else happened"
SAYINGS: dict[str, tuple[WatchRecord, Plan, str]] = {
    "battery changed": (record(passed(), event("battery")), Plan(exposure()), f"after {TESTED_181}"),
    "fog, for rain": (
        record(passed(), event("fog")),
        Plan(rain()),
        "after a pressure test passed at 0.005 bar or more",
    ),
    "crystal damaged": (
        record(passed(), event("crystal")),
        Plan(exposure()),
        f"after a repair and {TESTED_181}",
    ),
    "crown open": (record(), Plan(exposure(), crown_open=True), ALONE),
    "overdue and worked": (
        record(passed(date(2023, 1, 1))),
        Plan(exposure(crown_wet=1)),
        f"after {TESTED_181}, {ALONE}",
    ),
    "worn": (
        record(totals={3: Shares(salt=0.9)}),
        Plan(exposure()),
        f"after new gaskets and {TESTED_181}",
    ),
    "silent": (record(last_exposure_on=None, confirmed_on=None), Plan(exposure()), CONFIRMED),
    "overdue and silent": (
        record(passed(date(2023, 9, 1)), last_exposure_on=None, confirmed_on=None),
        Plan(exposure()),
        f"after {TESTED_181}, {CONFIRMED}",
    ),
    "worn and damaged": (
        record(passed(), event("crown"), totals={3: Shares(salt=1.2)}),
        Plan(exposure()),
        f"after new gaskets, a repair and {TESTED_181}",
    ),
}


@pytest.mark.parametrize("name", SAYINGS)
def test_what_would_change_it_is_said_in_one_sentence(name: str) -> None:
    whole, plan, how = SAYINGS[name]
    assert judged(whole, plan).would_change == f"It would read “no objection found” {how}."


def test_where_no_way_leads_to_the_mildest_verdict_the_next_is_told() -> None:
    found = check_plan(record(passed(), event("battery")), exposure(depth_m=175.0))
    assert (
        found.would_change == "It would read “think twice” after a pressure test passed at 17.51 bar or more."
    )


def test_the_pressure_asked_for_is_never_rounded_below_the_plan() -> None:
    """17.505 bar: a test at 17.50, as it would round, would not cover it."""
    whole = record(passed(date(2023, 9, 1)), event("battery"), marked_pa=30 * BAR)
    plan = Plan(exposure(activity="dive", depth_m=175.0, gauge_pa=1_749_000.0))
    said = judged(whole, plan).would_change
    assert "17.50 bar" in said
    assert judged(whole, deeper(plan, 0)).planned_pa == pytest.approx(1_750_512.5)
    assert "17.51 bar" in judged(whole, deeper(plan, 0)).would_change


def test_beyond_the_class_of_its_mark_nothing_helps() -> None:
    found = check_plan(record(mark="water-resistant"), exposure())
    assert found.would_change.startswith("Nothing that a workshop does")


def test_hot_water_stays_what_it_is() -> None:
    assert check_plan(record(), shower(water_c=40.0)).would_change.startswith("It stays so for this plan")


def test_without_an_objection_it_says_what_could_bring_one() -> None:
    assert "A fault, an opening, or a test that falls due" in check_plan(record(), exposure()).would_change


def test_trying_remedies_leaves_the_record_alone() -> None:
    whole = record(passed(), event("crystal"), totals={3: Shares(salt=0.95)})
    before = replace(whole)
    check_plan(whole, exposure(crown_wet=1))
    assert whole == before


# ---------------------------------------------------------------- which one may come?


def test_the_watch_with_the_fewest_objections_comes_first() -> None:
    good = record(name="Blue bezel")
    warned = record(passed(date(2023, 6, 1)), name="Lido quartz")
    warned_twice = record(passed(date(2023, 6, 1)), name="Gran's chrono", totals={3: Shares(salt=0.85)})
    kept_dry = record(passed(), event("battery"), name="Sunday dress")
    plan = Plan(exposure())
    found = check.check_any([kept_dry, warned_twice, warned, good], plan, PRACTICE, TODAY)
    assert [v.name for v in found] == ["Blue bezel", "Lido quartz", "Gran's chrono", "Sunday dress"]
    assert [v.verdict for v in found] == [NO_OBJECTION, THINK_TWICE, THINK_TWICE, KEEP_DRY]


def test_a_grave_objection_outweighs_many_mild_ones() -> None:
    one_grave = record(name="one", mark="water-resistant")
    many_mild = record(
        passed(date(2023, 6, 1)), name="many", totals={3: Shares(salt=0.85)}, confirmed_on=None,
        last_exposure_on=None,
    )  # fmt: skip
    found = check.check_any([one_grave, many_mild], Plan(exposure()), PRACTICE, TODAY)
    assert [v.name for v in found] == ["many", "one"]
    assert [len(v.reasons) for v in found] == [3, 1]


def test_watches_that_are_alike_stay_in_their_order() -> None:
    alike = [record(name=name) for name in ("c", "a", "b")]
    assert [v.name for v in check.check_any(alike, Plan(exposure()), PRACTICE, TODAY)] == ["c", "a", "b"]


def test_a_retired_watch_does_not_come() -> None:
    gone = record(name="gone", retired_on=FITTED)
    assert check.check_any([gone], Plan(exposure()), PRACTICE, TODAY) == []


@given(wholes=st.lists(records, max_size=5), plan=plans)
@settings(max_examples=40)
def test_asking_for_any_gives_the_answers_of_asking_for_each(wholes: list[WatchRecord], plan: Plan) -> None:
    named = [replace(r, watch=replace(r.watch, name=f"watch {n}")) for n, r in enumerate(wholes)]
    each = {v.name: v for v in (judged(r, plan) for r in named)}
    found = check.check_any(named, plan, PRACTICE, TODAY)
    assert {v.name: v for v in found} == each
    assert [grave(v) for v in found] == sorted(grave(v) for v in found)


# ---------------------------------------------------------------- context


def context(whole: WatchRecord, plan: Exposure, **closed: Any) -> str:
    return "\n".join(check_plan(whole, plan, **closed).context)


def test_the_context_shows_the_pressures_and_what_was_passed() -> None:
    first = check_plan(record(), exposure()).context[0]
    assert first == (
        "1.80 bar at 18 m + arm 0.005 bar = 9 % of the mark; highest pass 25.00 bar (1 Jun 2024)"
    )


def test_the_context_says_where_no_pressure_was_passed() -> None:
    assert "no pressure passed since it was last opened or failed" in context(untested(), exposure())


def test_a_mark_without_a_number_has_no_share() -> None:
    assert "of the mark" not in check_plan(record(marked_pa=None), exposure(depth_m=2.0)).context[0]


def test_a_jump_that_presses_more_than_the_depth_is_what_the_share_is_of() -> None:
    """3 m of fresh water are 0.294 bar, 3 % of 10 bar; 1 m and the arm are 0.12."""
    plan = exposure(activity="pool", water="pool", depth_m=1.0, jump_m=3.0, water_c=27.0)
    lines = check_plan(record(marked_pa=10 * BAR), plan).context
    assert lines[0].startswith(
        "the jump’s steady head of 0.29 bar, more than 0.10 bar at 1 m + arm 0.020 bar, is 3 % of the mark"
    )
    assert any(line.startswith("a jump from 3 m has a steady head of 0.29 bar") for line in lines)


def test_a_swing_inside_its_limit_is_context_and_one_beyond_it_a_reason() -> None:
    assert "swing 32 → 20 °C is 12 K of the 35 K of the thermal-shock test" in context(record(), exposure())
    assert "swing" not in context(record(), exposure(from_c=40.0, water_c=2.0))


def test_a_jump_inside_its_limit_is_context_and_one_beyond_it_a_reason() -> None:
    assert "a jump from 2 m" in context(record(), exposure(jump_m=2.0))
    assert "a jump from 5 m" not in context(record(), exposure(jump_m=5.0))


def test_a_temperature_that_was_assumed_is_marked() -> None:
    assert "not measured" in context(record(), exposure(water_c_assumed=True))
    assert "not measured" not in context(record(), exposure())


def test_the_context_says_how_the_mark_was_read() -> None:
    plain = context(record(mark="water-resistant", marked_pa=5 * BAR), rain())
    assert "common practice (row: 5 bar)" in plain
    assert "ISO 22810 itself reads a mark as usable to its stated 50 m" in plain
    unnumbered = context(record(mark="water-resistant", marked_pa=None), rain())
    assert "ISO 22810" not in unnumbered
    assert "its mark is not known" in context(record(mark="unknown", marked_pa=None), rain())


def test_the_context_carries_the_score_as_a_share_and_not_a_chance() -> None:
    found = context(record(totals={3: Shares(salt=0.2)}), exposure())
    assert re.search(r"score \d+ \(band not computed\), a share of a service interval, not a chance", found)


def test_the_answer_carries_the_pressures() -> None:
    found = check_plan(record(), exposure())
    assert found.gauge_pa == 1.8 * BAR
    assert found.planned_pa == 1.8 * BAR + 0.5 * 1025
    assert found.name == "Blue bezel"
