"""Every standing rule, each in a situation in which it alone speaks, and how gravely."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from logbook.model.judge import check, rules, standing
from logbook.model.judge.rules import KEEP_DRY, NO_OBJECTION, THINK_TWICE
from logbook.model.predict.chance import Chance
from logbook.model.values import EventKind, Raised, Shares, WatchRecord
from tests.model.builders import (
    BAR,
    FITTED,
    ONE_DAY,
    PRACTICE,
    TESTED,
    TODAY,
    check_plan,
    codes,
    drawer_watch,
    event,
    exposure,
    habit,
    passed,
    rain,
    record,
    shower,
    stops,
    untested,
    verdict_of,
    worn_out,
)

SALT = Shares(salt=0.85)
WORKED = Raised("overstressed", exposure(crown_under=1, starts_on=TESTED + ONE_DAY))
DEEP = Raised("beyond-proof", exposure(depth_m=60.0, starts_on=TESTED + ONE_DAY))


# ---------------------------------------------------------------- one alone


def test_a_watch_with_nothing_against_it_has_no_stop_and_no_objection() -> None:
    assert stops(record()) == ()
    assert check_plan(record(), exposure()).reasons == ()
    assert check_plan(record(), exposure()).verdict == NO_OBJECTION


ALONE: dict[str, tuple[Callable[[], WatchRecord], str, str | None]] = {  # and for rain
    "failed-test": (lambda: record(passed(), event("pressure-test", passed=False)), KEEP_DRY, KEEP_DRY),
    "water-inside": (lambda: record(passed(), event("fog")), KEEP_DRY, KEEP_DRY),
    "damaged": (lambda: record(passed(), event("crystal-damaged")), KEEP_DRY, KEEP_DRY),
    "overstressed": (lambda: record(raised=(WORKED,)), KEEP_DRY, THINK_TWICE),
    "opened-untested": (lambda: record(passed(), event("battery")), KEEP_DRY, THINK_TWICE),
    "knocked": (lambda: record(passed(), event("knock")), THINK_TWICE, THINK_TWICE),
    "beyond-proof": (lambda: record(raised=(DEEP,)), THINK_TWICE, None),
    "mark-unknown": (lambda: record(mark="unknown", marked_pa=None), KEEP_DRY, THINK_TWICE),
    "never-tested": (untested, KEEP_DRY, None),
    "test-overdue": (lambda: record(passed(date(2023, 6, 1))), THINK_TWICE, None),
    "seal-too-old": (drawer_watch, THINK_TWICE, THINK_TWICE),
    "used-up": (worn_out, THINK_TWICE, None),
    "clock-behind": (lambda: record(confirmed_on=TODAY + 2 * ONE_DAY), THINK_TWICE, THINK_TWICE),
    "record-silent": (lambda: record(last_exposure_on=None, confirmed_on=None), THINK_TWICE, None),
}


@pytest.mark.parametrize("code", ALONE)
def test_a_standing_rule_speaks_alone_for_the_stated_use_and_for_a_planned_dive(code: str) -> None:
    made, verdict, _ = ALONE[code]
    assert verdict_of(stops(made())) == {code: verdict}
    assert verdict_of(check_plan(made(), exposure()).reasons) == {code: verdict}


@pytest.mark.parametrize("code", ALONE)
def test_in_the_rain_a_rule_speaks_as_its_row_says(code: str) -> None:
    made, _, verdict = ALONE[code]
    found = verdict_of(check_plan(made(), rain()).reasons)
    assert found == ({} if verdict is None else {code: verdict})


@pytest.mark.parametrize("code", ALONE)
def test_every_standing_reason_carries_a_sentence_a_value_and_a_limit(code: str) -> None:
    for reason in stops(ALONE[code][0]()):
        assert reason.value
        assert reason.limit
        assert len(reason.sentence) > 20


def test_every_rule_of_the_list_was_heard() -> None:
    """A low score never speaks alone: it is silent while a proof is in force, and none speaks by itself."""
    every = {row.code for row in rules.STANDS.values()} | set(rules.STANDING)
    assert set(ALONE) | {"low-score", "chance-low"} == every
    assert every | {"beyond-class"} <= set(rules.ORDER)


@pytest.mark.parametrize("code", ["opened-untested", "mark-unknown", "overstressed"])
def test_a_shower_is_not_rain(code: str) -> None:
    found = verdict_of(check_plan(ALONE[code][0](), shower()).reasons)
    assert found[code] == (THINK_TWICE if code == "mark-unknown" else KEEP_DRY)  # tested in June


def test_a_watch_kept_dry_is_judged_for_rain() -> None:
    assert verdict_of(stops(record(passed(), event("battery"), use="dry"))) == {
        "opened-untested": THINK_TWICE
    }
    assert verdict_of(stops(record(passed(), event("fog"), use="dry"))) == {"water-inside": KEEP_DRY}


def test_codes_that_were_called_otherwise_before_say_so() -> None:
    was = {reason.code: reason.was for code in ALONE for reason in stops(ALONE[code][0]())}
    assert was["water-inside"] == was["damaged"] == "fault-open"
    assert was["failed-test"] is None


# ---------------------------------------------------------------- what stands


def test_of_one_code_the_gravest_is_told_the_latest_of_equal_ones() -> None:
    explained = event("fog", TESTED + 9 * ONE_DAY, crystal_c=5.0, case_air_c=21.0)
    (found,) = stops(record(passed(), event("fog", TESTED + ONE_DAY), explained))
    assert (found.verdict, found.value) == (KEEP_DRY, "2 Jun 2024")
    twice = [event("crown-damaged", TESTED + n * ONE_DAY) for n in (1, 5)]
    assert [r.value for r in stops(record(passed(), *twice))] == ["6 Jun 2024"]


@pytest.mark.parametrize("kind", ["crystal-damaged", "crown-damaged", "pushers-damaged", "gas-valve-damaged"])
def test_a_repair_speaks_as_an_opening(kind: EventKind) -> None:
    found = stops(record(passed(), event("repaired", repaired=kind)))
    assert codes(found) == ["opened-untested"]
    assert f"{kind.removesuffix('-damaged').replace('-', ' ')} repaired" in found[0].sentence


# ---------------------------------------------------------------- chance


def chance(mean: float, low: float) -> Chance:
    return Chance(mean, low, 0.99, 10 * BAR, tests_used=3)


class Foretold:
    """A foresight that always says the same."""

    def __init__(self, said: Chance) -> None:
        self.said = said

    def chance_of(self, *_: object) -> Chance:
        return self.said


@pytest.mark.parametrize(
    ("use", "mean", "low", "speaks"),
    [
        ("diving", 0.90, 0.75, False),
        ("diving", 0.899, 0.80, True),
        ("diving", 0.95, 0.749, True),
        ("swimming", 0.80, 0.60, False),
        ("swimming", 0.799, 0.70, True),
        ("swimming", 0.90, 0.599, True),
    ],
)
def test_a_low_chance_speaks_alone(use: str, mean: float, low: float, speaks: bool) -> None:
    foresight: Any = Foretold(chance(mean, low))
    seen = standing.stand(record(use=use), PRACTICE, TODAY, foresight)
    assert verdict_of(seen.stops) == ({"chance-low": THINK_TWICE} if speaks else {})
    for reason in seen.stops:
        assert "after 3 tests of yours" in reason.sentence


def told_of(mean: float, low: float) -> rules.Reason:
    """What the rule of chance says for a watch that dives: limits 90 % in the mean, 75 % at the low end."""
    foresight: Any = Foretold(chance(mean, low))
    (reason,) = standing.stand(record(), PRACTICE, TODAY, foresight).stops
    return reason


def test_a_chance_that_rounding_would_lift_to_its_limit_has_a_decimal_and_is_below_it() -> None:
    for mean, said in ((0.84, "84 %"), (0.8951, "89.5 %"), (0.8996, "89.9 %"), (0.899999, "89.9 %")):
        reason = told_of(mean, 0.8)
        assert (reason.value, reason.limit) == (said, "90 %, low end 75 %")
        assert f"a chance of {said} (80–99), after 3 tests of yours" in reason.sentence


def test_the_low_end_of_a_chance_is_named_where_it_is_what_speaks() -> None:
    for low, said in ((0.51, "51 %"), (0.7496, "74.9 %")):
        reason = told_of(0.93, low)
        assert (reason.value, reason.limit) == (f"low end {said}", "low end 75 %")
        assert f"a chance of 93 %, low end {said}, after 3 tests of yours" in reason.sentence


def test_a_chance_near_nothing_is_never_said_to_be_none() -> None:
    assert told_of(0.001, 0.0001).value == "1 %"


def test_a_low_chance_is_no_matter_for_rain() -> None:
    foresight: Any = Foretold(chance(0.5, 0.2))
    found = check.check(record(), rain(), PRACTICE, TODAY, foresight)
    assert found.reasons == ()


@pytest.mark.parametrize("code", ["water-inside", "opened-untested", "knocked", "overstressed"])
def test_no_chance_is_told_while_something_stands_and_the_reason_says_so(code: str) -> None:
    foresight: Any = Foretold(chance(0.5, 0.2))
    seen = standing.stand(ALONE[code][0](), PRACTICE, TODAY, foresight)
    assert seen.chance is None
    assert seen.why_no_chance == f"while something stands: {code}"
    assert "chance-low" not in codes(seen.stops)


# ---------------------------------------------------------------- a stated use beyond the mark

PLAN_OF_USE = {"diving": exposure(), "swimming": exposure(activity="swim", depth_m=1.5), "dry": rain()}


@pytest.mark.parametrize(
    ("mark", "bar", "use", "verdict"),
    [
        ("water-resistant", 3, "diving", KEEP_DRY),
        ("water-resistant", 3, "swimming", KEEP_DRY),
        ("water-resistant", 5, "swimming", THINK_TWICE),
        ("water-resistant", 20, "diving", KEEP_DRY),
        ("unmarked", None, "swimming", KEEP_DRY),
        ("unmarked", None, "dry", THINK_TWICE),
        ("water-resistant", 3, "dry", None),
        ("water-resistant", 10, "swimming", None),
        ("divers", 20, "diving", None),
        ("unknown", None, "diving", None),
    ],
)
def test_a_stated_use_beyond_the_mark_speaks_as_such_a_plan_does(
    mark: str, bar: float | None, use: str, verdict: str | None
) -> None:
    whole = record(mark=mark, marked_pa=None if bar is None else bar * BAR, use=use)
    found = {r.code: r for r in stops(whole)}
    asked = [r for r in check_plan(whole, PLAN_OF_USE[use]).reasons if r.code == "beyond-class"]
    if verdict is None:
        assert "beyond-class" not in found
        assert asked == []
        return
    stated, (planned,) = found["beyond-class"], asked
    assert (stated.verdict, stated.value, stated.limit) == (verdict, planned.value, planned.limit)
    assert planned.verdict == verdict
    assert stated.sentence == f"its stated use is {use}: {planned.sentence}"


def test_a_plan_within_the_mark_is_not_blamed_for_the_stated_use() -> None:
    whole = record(mark="water-resistant", marked_pa=3 * BAR, use="diving")
    assert codes(stops(whole)) == ["beyond-class"]
    assert codes(check_plan(whole, rain()).reasons) == []


# ---------------------------------------------------------------- the record


@pytest.mark.parametrize(("days", "spoken"), [(179, []), (180, ["record-silent"])])
def test_a_record_is_silent_after_a_hundred_and_eighty_days(days: int, spoken: list[str]) -> None:
    whole = record(passed(TESTED - 90 * ONE_DAY), last_exposure_on=TODAY - days * ONE_DAY, confirmed_on=None)
    assert codes(stops(whole)) == spoken


def test_a_watch_kept_dry_may_be_silent() -> None:
    assert stops(record(last_exposure_on=None, confirmed_on=None, use="dry")) == ()


def test_confirming_ends_the_silence() -> None:
    assert stops(record(last_exposure_on=None, confirmed_on=TODAY - 10 * ONE_DAY)) == ()


def test_a_clock_that_is_behind_allows_no_better_than_think_twice() -> None:
    later = record(confirmed_on=TODAY + 40 * ONE_DAY)
    for plan in (exposure(), rain()):
        found = check_plan(later, plan)
        assert verdict_of(found.reasons) == {"clock-behind": THINK_TWICE}
    assert "12 Oct 2024 is on record already" in found.reasons[0].sentence
    right = replace(later, clock_right_to=TODAY + 40 * ONE_DAY)
    assert check_plan(right, exposure()).reasons == ()


# ---------------------------------------------------------------- all together


def test_all_that_speak_are_listed_worst_first_and_in_the_order_of_what_they_are_about() -> None:
    whole = record(
        passed(date(2023, 6, 1)), event("battery", TESTED), event("fog"), event("crown-damaged"),
        event("knock"),
        totals={3: SALT}, raised=(WORKED, DEEP), last_exposure_on=None, confirmed_on=TODAY + 9 * ONE_DAY,
    )  # fmt: skip
    plan = exposure(depth_m=180.0, jump_m=4.0, from_c=45.0, water_c=5.0)
    found = check_plan(whole, plan, crown_open=True)
    assert codes(found.reasons) == [
        "water-inside", "damaged", "overstressed", "opened-untested", "not-closed",
        "knocked", "beyond-proof", "near-mark", "big-swing", "jump",
        "test-overdue", "low-score", "clock-behind",
    ]  # fmt: skip
    graveness = [rules.VERDICTS.index(r.verdict) for r in found.reasons]
    assert graveness == sorted(graveness, reverse=True)
    assert found.verdict == KEEP_DRY


def test_a_habit_in_the_record_does_not_disturb_the_rules() -> None:
    assert stops(record(habits=(habit(0.1, FITTED, water="fresh"),))) == ()


def test_a_retired_watch_has_no_stops() -> None:
    assert stops(record(passed(), event("fog"), retired_on=FITTED)) == ()
