"""What would change a verdict: doing what the check says gives what it promises, and nothing less does."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given, settings

from logbook.model.judge import check
from logbook.model.judge.rules import VERDICTS
from logbook.model.predict import trials
from logbook.model.values import DAMAGE, Exposure, Raised, Seal, Shares, WatchRecord
from tests.effort import tries
from tests.model.builders import (
    BAR,
    ONE_DAY,
    PRACTICE,
    TESTED,
    TODAY,
    check_plan,
    event,
    exposure,
    passed,
    pool,
    rain,
    record,
    shower,
)
from tests.model.situations import grave, judged, plans, records

SAID = re.compile(r"It would read “(?P<verdict>[^”]+)” (?P<how>.+)\.$")
STEPS = (
    "new gaskets", "a repair", "opening, drying and mending", "a pressure test passed",
    "crown and pushers closed", "you say that nothing else",
)  # fmt: skip


def followed(whole: WatchRecord, plan: Exposure, how: str) -> tuple[WatchRecord, Exposure]:
    """Do what the sentence says, and nothing else, as an owner would enter it."""
    late = 20_000
    if "new gaskets" in how:
        fresh = tuple(
            Seal(s.position, s.material, TODAY, TODAY, order=late, event_id=900, id=900 + n)
            for n, s in enumerate(whole.seals)
        )
        opened = event("gaskets", TODAY, order=late, id=900)
        whole = replace(whole, seals=(*whole.seals, *fresh), events=(*whole.events, opened))
    if "a repair" in how:
        broken = {e.kind for e in whole.events if e.kind in DAMAGE}
        mended = tuple(event("repaired", TODAY, repaired=kind, order=late + 1, id=901) for kind in broken)
        whole = replace(whole, events=(*whole.events, *mended))
    if "opening, drying" in how:
        whole = replace(whole, events=(*whole.events, event("opened", TODAY, order=late + 1, id=903)))
    if "a pressure test passed" in how:
        told = re.search(r"passed at ([0-9.]+) bar or more", how)
        assert told is not None
        tested = replace(
            passed(TODAY, None, order=late + 2, id=902), test_pa=float(round(float(told[1]) * 1e5))
        )
        whole = replace(whole, events=(*whole.events, tested))
    if "crown and pushers closed" in how:
        plan = replace(plan, crown_wet=0, crown_under=0, pusher_wet=0, pusher_under=0)
        plan = replace(plan, crown_open=False, pushers_open=False)
    if "you say that nothing else" in how:
        whole = replace(whole, watch=replace(whole.watch, confirmed_on=TODAY))
    return whole, plan


@given(whole=records, plan=plans)
@settings(max_examples=tries(400))
def test_doing_what_the_check_says_gives_the_verdict_it_promised(whole: WatchRecord, plan: Exposure) -> None:
    found = judged(whole, plan)
    said = SAID.match(found.would_change)
    if said is None:
        return
    assert VERDICTS.index(said["verdict"]) < grave(found)
    assert judged(*followed(whole, plan, said["how"])).verdict == said["verdict"]


@given(whole=records, plan=plans)
@settings(max_examples=tries(400))
def test_the_check_asks_for_nothing_that_is_not_needed(whole: WatchRecord, plan: Exposure) -> None:
    found = judged(whole, plan)
    said = SAID.match(found.would_change)
    if said is None:
        return
    for step in STEPS:
        if step in said["how"]:
            less = said["how"].replace(step, "")
            assert judged(*followed(whole, plan, less)).verdict != said["verdict"]


@given(whole=records, plan=plans)
@settings(max_examples=tries(200))
def test_where_the_check_sees_no_way_none_of_its_steps_is_one(whole: WatchRecord, plan: Exposure) -> None:
    found = judged(whole, plan)
    if not found.reasons or SAID.match(found.would_change):
        return
    everything = ", ".join(STEPS).replace("test passed", "test passed at 999 bar or more")
    assert judged(*followed(whole, plan, everything)).verdict == found.verdict


AT_TEN = "a pressure test passed at 10 bar or more, better at its mark, 20 bar"
ALONE = "with crown and pushers closed and left alone"
CONFIRMED = "once you say that nothing else happened"
CORRODES = "to a workshop within days: what is wet inside corrodes"
WORKED = Raised("overstressed", exposure(crown_under=1, starts_on=TESTED + ONE_DAY))
SAYINGS: dict[str, tuple[WatchRecord, Exposure, str]] = {
    "battery changed": (record(passed(), event("battery")), exposure(), f"after {AT_TEN}"),
    "knocked": (record(passed(), event("knock")), exposure(), f"after {AT_TEN}"),
    "overstressed": (record(raised=(WORKED,)), exposure(), f"after {AT_TEN}"),
    "overstressed, for a swim": (record(raised=(WORKED,), use="swimming"), pool(), f"after {AT_TEN}"),
    "fog, for rain": (
        record(passed(), event("fog")),
        rain(),
        f"after opening, drying, mending and {AT_TEN}. {CORRODES[0].upper()}{CORRODES[1:]}",
    ),
    "water seen, opened and dried since": (
        record(passed(), event("water-inside"), event("opened", TESTED + 2 * ONE_DAY)),
        exposure(),
        f"after {AT_TEN}",
    ),
    "crystal damaged": (
        record(passed(), event("crystal-damaged")),
        exposure(),
        f"after a repair and {AT_TEN}",
    ),
    "crown open": (record(), exposure(crown_open=True), ALONE),
    "overdue and worked": (
        record(passed(date(2023, 1, 1))),
        exposure(crown_wet=1),
        f"after {AT_TEN}, {ALONE}",
    ),
    "tested too low for a swim": (
        record(passed(bar=1), use="swimming"),
        pool(),
        "after a pressure test passed at 3 bar or more, better at its mark, 20 bar",
    ),
    "worn": (
        record(totals={3: Shares(salt=1.2)}),
        exposure(),
        f"after new gaskets and {AT_TEN}",
    ),
    "silent": (record(last_exposure_on=None, confirmed_on=None), exposure(), CONFIRMED),
    "overdue and silent": (
        record(passed(date(2023, 9, 1)), last_exposure_on=None, confirmed_on=None),
        exposure(),
        f"after {AT_TEN}, {CONFIRMED}",
    ),
    "worn and damaged": (
        record(passed(), event("crown-damaged"), totals={3: Shares(salt=1.2)}),
        exposure(),
        f"after new gaskets, a repair and {AT_TEN}",
    ),
}


@pytest.mark.parametrize("name", SAYINGS)
def test_what_would_change_it_is_said_in_one_sentence(name: str) -> None:
    whole, plan, how = SAYINGS[name]
    assert judged(whole, plan).would_change == f"It would read “no objection found” {how}."


def test_the_pass_at_the_mark_is_asked_for_once_where_nothing_less_is_enough() -> None:
    small = record(passed(), event("battery"), mark="water-resistant", marked_pa=5 * BAR, use="swimming")
    plan = pool(depth_m=0.5)
    assert judged(small, plan).would_change == (
        "It would read “think twice” after a pressure test passed at 3 bar or more, "
        "better at its mark, 5 bar."
    )
    at_mark = record(passed(), event("battery"), mark="divers", marked_pa=10 * BAR)
    assert judged(at_mark, exposure()).would_change == (
        "It would read “no objection found” after a pressure test passed at 10 bar or more."
    )


def test_where_no_way_leads_to_the_mildest_verdict_the_next_is_told() -> None:
    found = check_plan(record(passed(), event("battery")), exposure(depth_m=175.0))
    assert found.would_change == (
        "It would read “think twice” after a pressure test passed at 20 bar or more."
    )


@pytest.mark.parametrize("depth_m", [90.0, 89.87, 93.13, 101.7, 111.2, 118.45])
def test_the_pressure_asked_for_is_never_rounded_below_the_pass_needed(depth_m: float) -> None:
    whole = record(passed(date(2023, 9, 1)), event("battery"), marked_pa=30 * BAR)
    plan = exposure(depth_m=depth_m)
    found = judged(whole, plan)
    said = SAID.match(found.would_change)
    assert said is not None
    told = re.search(r"passed at ([0-9.]+) bar or more", said["how"])
    assert told is not None
    assert float(told[1]) * BAR >= found.pass_needed_pa - 0.5
    assert judged(*followed(whole, plan, said["how"])).verdict == said["verdict"]


def test_an_unknown_mark_has_no_better_pressure_to_name() -> None:
    unknown = record(passed(), event("battery"), mark="unknown", marked_pa=None, use="swimming")
    assert judged(unknown, pool()).would_change == (
        "It would read “think twice” after a pressure test passed at 3 bar or more."
    )


def test_beyond_the_class_of_its_mark_nothing_helps() -> None:
    found = check_plan(record(mark="water-resistant"), exposure())
    assert found.would_change.startswith("Nothing that a workshop does")


def test_hot_water_stays_what_it_is() -> None:
    assert check_plan(record(), shower(water_c=40.0)).would_change.startswith("It stays so for this plan")


def test_without_an_objection_it_says_what_could_bring_one() -> None:
    said = check_plan(record(), exposure()).would_change
    assert said == "A fault, a knock, an opening, or a test that falls due would change it."


def test_no_workshop_sets_a_clock_that_is_behind() -> None:
    """Once it is the only objection left, what is told does not promise that it goes."""
    ahead = record(passed(), event("battery"), confirmed_on=TODAY + 9 * ONE_DAY)
    assert judged(ahead, exposure()).would_change == f"It would read “think twice” after {AT_TEN}."


def test_trying_remedies_leaves_the_record_alone() -> None:
    whole = record(passed(), event("crystal-damaged"), totals={3: Shares(salt=0.95)})
    before = replace(whole)
    check_plan(whole, exposure(crown_wet=1))
    assert whole == before


def test_a_plan_ahead_is_tried_on_its_own_day() -> None:
    """What a workshop does, it does by then: a test due within the trip is told for its last day."""
    trip = exposure(planned=True, planned_to=date(2025, 6, 3), starts_on=date(2025, 5, 30))
    whole = record(confirmed_on=date(2025, 5, 1), last_exposure_on=None)
    found = check.check(whole, trip, PRACTICE, date(2025, 5, 2))
    assert found.would_change == f"It would read “no objection found” after {AT_TEN}."


def test_an_opening_that_nobody_needs_is_not_among_what_is_tried() -> None:
    """Opened and tested to a swim's pressure alone, its chance of a diver's test would be low."""
    whole = record(passed(), event("knock"))
    foresight = trials.foresee([whole], PRACTICE, lambda seal_id, up_to: Shares(), TODAY)
    found = check.check(whole, pool(), PRACTICE, TODAY, foresight)
    three = "a pressure test passed at 3 bar or more, better at its mark, 20 bar"
    assert found.would_change == f"It would read “no objection found” after {three}."


def test_where_a_repair_leaves_the_chance_low_the_pass_that_the_use_needs_is_named() -> None:
    whole = record(passed(), event("crystal-damaged"))
    foresight = trials.foresee([whole], PRACTICE, lambda seal_id, up_to: Shares(), TODAY)
    found = check.check(whole, pool(), PRACTICE, TODAY, foresight)
    assert found.would_change == f"It would read “no objection found” after a repair and {AT_TEN}."
