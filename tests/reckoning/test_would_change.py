"""What would change a verdict: doing what the check says gives what it promises, and nothing less does."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given, settings

from logbook.reckoning.planrules import Plan
from logbook.reckoning.rules import VERDICTS
from logbook.reckoning.values import DAMAGE, Seal, Shares, WatchRecord
from tests.reckoning.builders import (
    BAR,
    TODAY,
    check_plan,
    event,
    exposure,
    passed,
    rain,
    record,
    shower,
)
from tests.reckoning.situations import deeper, grave, judged, plans, records

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
        record(passed(), event("crystal-damaged")),
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
        record(passed(), event("crown-damaged"), totals={3: Shares(salt=1.2)}),
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
    whole = record(passed(), event("crystal-damaged"), totals={3: Shares(salt=0.95)})
    before = replace(whole)
    check_plan(whole, exposure(crown_wet=1))
    assert whole == before
