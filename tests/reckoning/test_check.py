"""The check before water: it only ever gets stricter; which watch may come; what stands beside it."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from typing import Any

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from logbook.reckoning import check
from logbook.reckoning.chance import Chance
from logbook.reckoning.planrules import Plan
from logbook.reckoning.rules import KEEP_DRY, NO_OBJECTION, THINK_TWICE, VERDICTS
from logbook.reckoning.values import FAULTS, Exposure, Shares, WatchRecord
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
    untested,
)
from tests.reckoning.situations import days_ago, deeper, grave, judged, plans, records


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


# ---------------------------------------------------------------- on which day

DUE_ON = date(2025, 6, 1)  # twelve months after the test


def judged_on(starts_on: date, today: date, planned_to: date | None = None) -> list[str]:
    """The codes for a dive of a day or a trip, asked on another; no silence of the record among them."""
    whole = record(confirmed_on=date(2025, 5, 1))
    plan = Plan(exposure(starts_on=starts_on, planned_to=planned_to))
    (by_any,) = check.check_any([whole], plan, PRACTICE, today)
    by_name = check.check(whole, plan, PRACTICE, today)
    assert by_any == by_name
    return codes(by_name.reasons)


def test_a_plan_ahead_is_judged_on_its_own_day() -> None:
    assert judged_on(DUE_ON - ONE_DAY, today=TODAY) == []
    assert judged_on(DUE_ON, today=TODAY) == ["test-overdue"]


def test_a_day_that_is_past_is_judged_as_of_today() -> None:
    assert judged_on(TODAY, today=DUE_ON) == ["test-overdue"]
    assert judged_on(TODAY, today=DUE_ON, planned_to=TODAY + ONE_DAY) == ["test-overdue"]


def test_a_trip_under_way_is_judged_on_its_last_day() -> None:
    assert judged_on(TODAY, today=TODAY + ONE_DAY, planned_to=DUE_ON) == ["test-overdue"]
    assert judged_on(TODAY, today=TODAY + ONE_DAY, planned_to=DUE_ON - ONE_DAY) == []


def test_the_context_says_that_a_past_day_is_judged_as_of_today() -> None:
    said = "that day is past: judged as of today, 2 Sep 2024"
    assert said in context(record(), exposure(starts_on=TODAY - ONE_DAY))
    assert "judged" not in context(record(), exposure())


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


def test_half_degrees_stand_as_half_degrees() -> None:
    """32 − 19.5 is 12.5."""
    found = context(record(), exposure(water_c=19.5, water_c_assumed=True))
    assert "swing 32 → 19.5 °C is 12.5 K of the 35 K of the thermal-shock test" in found
    assert "water at 19.5 °C is taken from the home water" in found


def test_an_owner_of_feet_reads_no_metre_bar_or_celsius_but_the_mark_as_it_stands_on_the_watch() -> None:
    """1 bar = 14.504 psi, by the exact pound and inch; 21 m = 68.9 ft; 12.5 K = 22.5 °F."""
    plan = Plan(exposure(depth_m=21.0, water_c=19.5, water_c_assumed=True, jump_m=2.0))
    found = check.check(record(), plan, PRACTICE, TODAY, units="imperial")
    told = "\n".join([*(reason.sentence for reason in found.reasons), *found.context, found.would_change])
    assert "psi at 69 ft + arm" in told
    assert "highest pass 362.6 psi (1 Jun 2024)" in told
    assert "swing 89.6 → 67.1 °F is 22.5 °F of the 63 °F of the thermal-shock test" in told
    assert "water at 67 °F is taken" in told
    assert "a jump from 6.6 ft has" in told
    as_marked = re.sub(r"\(row: [^)]*\)|its stated 200 m, 656 ft", "", told)
    assert re.findall(r"\d (?:m|bar|°C|K)\b", as_marked) == []


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


def test_the_chance_is_said_to_be_of_the_day_that_is_judged() -> None:
    class Foretold:
        def chance_of(self, *_: object) -> Chance:
            return Chance(0.95, 0.9, 0.99, to_pa=1e6, tests_used=2)

    foresight: Any = Foretold()
    for starts_on, when in ((TODAY - ONE_DAY, "today"), (TODAY, "on that day"), (DUE_ON, "on that day")):
        found = check.check(record(), Plan(exposure(starts_on=starts_on)), PRACTICE, TODAY, foresight)
        said = f"would pass a pressure test to 10 bar {when}: 95 % (90–99), after 2 tests of yours"
        assert said in found.context


def test_a_watch_that_is_retired_is_said_to_be() -> None:
    assert "retired on 1 Jan 2024" in check_plan(record(retired_on=FITTED), exposure()).context
    assert "retired" not in context(record(), exposure())


def test_the_answer_carries_the_pressures() -> None:
    found = check_plan(record(), exposure())
    assert found.gauge_pa == 1.8 * BAR
    assert found.planned_pa == 1.8 * BAR + 0.5 * 1025
    assert found.name == "Blue bezel"
