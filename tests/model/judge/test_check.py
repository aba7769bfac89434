"""The check before water: it only ever gets stricter, and which watch may come."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from logbook.model import marks
from logbook.model.judge import check
from logbook.model.judge.rules import KEEP_DRY, NO_OBJECTION, THINK_TWICE, VERDICTS
from logbook.model.values import FAULTS, Exposure, Shares, WatchRecord
from tests.effort import tries
from tests.model.builders import (
    BAR,
    FITTED,
    ONE_DAY,
    PRACTICE,
    TODAY,
    codes,
    event,
    exposure,
    passed,
    record,
    untested,
)
from tests.model.situations import days_ago, deeper, grave, judged, plans, records


@given(whole=records, plan=plans, more_m=st.one_of(st.floats(0, 1), st.floats(0, 300)))
def test_more_depth_never_gives_a_better_verdict(whole: WatchRecord, plan: Exposure, more_m: float) -> None:
    assert grave(judged(whole, deeper(plan, more_m))) >= grave(judged(whole, plan))


@given(whole=records, plan=plans, more_s=st.integers(0, 100_000))
def test_more_time_never_gives_a_better_verdict(whole: WatchRecord, plan: Exposure, more_s: int) -> None:
    longer = replace(plan, duration_s=plan.duration_s + more_s)
    assert grave(judged(whole, longer)) >= grave(judged(whole, plan))


@given(whole=records, plan=plans, on=days_ago, kind=st.sampled_from(FAULTS))
def test_an_added_fault_never_gives_a_better_verdict(
    whole: WatchRecord, plan: Exposure, on: date, kind: Any
) -> None:
    faulty = replace(whole, events=(*whole.events, event(kind, on, id=99)))
    assert grave(judged(faulty, plan)) >= grave(judged(whole, plan))


@given(whole=records, plan=plans, on=days_ago, earlier=st.integers(0, 1500), bar=st.sampled_from([3.0, 25.0]))
def test_a_test_longer_ago_never_gives_a_better_verdict(
    whole: WatchRecord, plan: Exposure, on: date, earlier: int, bar: float
) -> None:
    recent, long_ago = (
        replace(whole, events=(*whole.events, passed(day, bar, id=99)))
        for day in (on, on - earlier * ONE_DAY)
    )
    assert grave(judged(long_ago, plan)) >= grave(judged(recent, plan))


@given(plan=plans, overdue=st.integers(0, 2000), on_time=st.integers(0, 364))
def test_a_test_that_falls_overdue_never_gives_a_better_verdict(
    plan: Exposure, overdue: int, on_time: int
) -> None:
    late = record(passed(date(2023, 9, 2) - overdue * ONE_DAY))
    punctual = record(passed(TODAY - on_time * ONE_DAY))
    assert grave(judged(late, plan)) >= grave(judged(punctual, plan))
    spared = marks.class_of(plan, PRACTICE) == marks.SPLASH  # rain and hands are not nagged
    assert spared or grave(judged(late, plan)) >= VERDICTS.index(THINK_TWICE)


@given(whole=records, plan=plans, bar=st.sampled_from([0.5, 1.0, 3.0, 5.0, 10.0, 20.0]))
def test_a_lower_number_on_the_dial_never_gives_a_better_verdict(
    whole: WatchRecord, plan: Exposure, bar: float
) -> None:
    marked = whole.watch.marked_pa
    assume(marked is not None)
    lower = replace(whole, watch=replace(whole.watch, marked_pa=min(marked or 0.0, bar * BAR)))
    assert grave(judged(lower, plan)) >= grave(judged(whole, plan))


@given(whole=records, plan=plans)
@settings(max_examples=tries(150))
def test_a_lower_kind_of_mark_never_gives_a_better_verdict(whole: WatchRecord, plan: Exposure) -> None:
    """From mixed gas down to no mark at all, with the same number as long as there is one.

    A failed test is left out: a pass after it need reach no more than the mark, so a lower one is met sooner.
    """
    assume(all(one.passed is not False for one in whole.events))
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
def test_a_mark_that_is_not_known_asks_to_think_twice_and_to_keep_a_dive_dry(
    whole: WatchRecord, plan: Exposure
) -> None:
    dives = marks.class_of(plan, PRACTICE) in marks.DIVING
    unknown = replace(whole, watch=replace(whole.watch, mark="unknown", marked_pa=None))
    assert grave(judged(unknown, plan)) >= VERDICTS.index(KEEP_DRY if dives else THINK_TWICE)


@given(
    whole=records,
    plan=plans,
    later=st.integers(0, 30),
    kind=st.sampled_from(["battery", "opened", "movement"]),
)
def test_an_opening_after_the_last_test_never_gives_a_better_verdict(
    whole: WatchRecord, plan: Exposure, later: int, kind: Any
) -> None:
    """An unmarked watch promises nothing that an opening could take away, and ends what stands on it."""
    assume(whole.watch.mark != "unmarked")
    tests = [e.on for e in whole.events if e.kind.endswith("-test")]
    on = max([*tests, TODAY - 30 * ONE_DAY]) + later * ONE_DAY
    opened = replace(whole, events=(*whole.events, event(kind, min(on, TODAY), id=99, order=99)))
    assert grave(judged(opened, plan)) >= grave(judged(whole, plan))


@given(whole=records, plan=plans, more=st.floats(0, 2), seal_id=st.sampled_from([1, 2, 3]))
def test_more_wear_never_gives_a_better_verdict(
    whole: WatchRecord, plan: Exposure, more: float, seal_id: int
) -> None:
    totals = dict(whole.totals) | {seal_id: whole.totals.get(seal_id, Shares()).plus(Shares(salt=more))}
    assert grave(judged(replace(whole, totals=totals), plan)) >= grave(judged(whole, plan))


@given(whole=records, plan=plans)
def test_the_verdict_is_that_of_the_worst_reason(whole: WatchRecord, plan: Exposure) -> None:
    found = judged(whole, plan)
    assert grave(found) == max((VERDICTS.index(r.verdict) for r in found.reasons), default=0)
    assert len(set(codes(found.reasons))) == len(found.reasons)


# ---------------------------------------------------------------- which one may come?


OLD_TEST = passed(date(2023, 6, 1))


def test_the_watch_with_the_fewest_objections_comes_first() -> None:
    good = record(name="Blue bezel")
    warned = record(OLD_TEST, name="Lido quartz")
    warned_twice = record(OLD_TEST, name="Gran's chrono", totals={3: Shares(salt=0.75)})
    kept_dry = record(passed(), event("battery"), name="Sunday dress")
    found = check.check_any([kept_dry, warned_twice, warned, good], exposure(), PRACTICE, TODAY)
    assert [v.name for v in found] == ["Blue bezel", "Lido quartz", "Gran's chrono", "Sunday dress"]
    assert [v.verdict for v in found] == [NO_OBJECTION, THINK_TWICE, THINK_TWICE, KEEP_DRY]


def test_a_grave_objection_outweighs_many_mild_ones() -> None:
    one_grave = record(name="one", mark="water-resistant")
    many_mild = record(
        OLD_TEST, name="many", totals={3: Shares(salt=0.75)}, confirmed_on=None, last_exposure_on=None
    )
    found = check.check_any([one_grave, many_mild], exposure(), PRACTICE, TODAY)
    assert [v.name for v in found] == ["many", "one"]
    assert [len(v.reasons) for v in found] == [3, 1]


def test_of_one_verdict_a_pass_in_force_outranks_the_count_of_reasons() -> None:
    never_tested = untested(name="never tested")
    proved_with_doubts = record(
        passed(), name="proved", totals={3: Shares(salt=1.2)}, confirmed_on=None, last_exposure_on=None
    )
    swim = exposure(activity="swim", depth_m=1.5)
    found = check.check_any([never_tested, proved_with_doubts], swim, PRACTICE, TODAY)
    assert [(v.name, v.verdict) for v in found] == [("proved", THINK_TWICE), ("never tested", THINK_TWICE)]
    assert [len(v.reasons) for v in found] == [2, 1]


def test_watches_that_are_alike_stay_in_their_order() -> None:
    alike = [record(name=name) for name in ("c", "a", "b")]
    assert [v.name for v in check.check_any(alike, exposure(), PRACTICE, TODAY)] == ["c", "a", "b"]


def test_a_retired_watch_does_not_come() -> None:
    gone = record(name="gone", retired_on=FITTED)
    assert check.check_any([gone], exposure(), PRACTICE, TODAY) == []


@given(wholes=st.lists(records, max_size=5), plan=plans)
@settings(max_examples=tries(40))
def test_asking_for_any_gives_the_answers_of_asking_for_each(
    wholes: list[WatchRecord], plan: Exposure
) -> None:
    named = [replace(r, watch=replace(r.watch, name=f"watch {n}")) for n, r in enumerate(wholes)]
    each = {v.name: v for v in (judged(r, plan) for r in named)}
    found = check.check_any(named, plan, PRACTICE, TODAY)
    assert {v.name: v for v in found} == each
    assert [grave(v) for v in found] == sorted(grave(v) for v in found)
