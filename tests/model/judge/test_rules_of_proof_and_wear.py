"""The rules of proof, age and wear: overdue, never tested, too old, used up, a low score."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from logbook.model.judge import standing
from logbook.model.judge.rules import KEEP_DRY, NO_OBJECTION, THINK_TWICE
from logbook.model.values import Shares, WatchRecord
from tests.model.builders import (
    FITTED,
    ONE_DAY,
    PRACTICE,
    TESTED,
    TODAY,
    check_plan,
    codes,
    drawer_watch,
    exposure,
    old_seals,
    passed,
    rain,
    record,
    seals,
    stops,
    untested,
    verdict_of,
    worn_out,
)

SALT = Shares(salt=0.85)

# ---------------------------------------------------------------- tests: overdue, never, the maker's


def test_the_interval_is_over_on_its_last_day() -> None:
    whole = record(passed(date(2023, 9, 3)))
    assert codes(stops(whole, date(2024, 9, 2))) == []
    assert codes(stops(whole, date(2024, 9, 3))) == ["test-overdue"]


@pytest.mark.parametrize("activity", ["dive", "freedive", "mixed-gas"])
def test_six_months_overdue_keeps_a_diver_dry(activity: str) -> None:
    lately = date(2024, 8, 30)
    whole = record(
        passed(date(2023, 3, 1)), mark="divers-mixed-gas", confirmed_on=lately, last_exposure_on=lately
    )
    plan = exposure(activity=activity)
    before = check_plan(whole, plan, date(2024, 8, 31))
    on_the_day = check_plan(whole, plan, date(2024, 9, 1))
    assert verdict_of(before.reasons) == {"test-overdue": THINK_TWICE}
    assert verdict_of(on_the_day.reasons) == {"test-overdue": KEEP_DRY}


@pytest.mark.parametrize("activity", ["swim", "pool", "snorkel"])
def test_years_overdue_still_only_warns_a_swimmer(activity: str) -> None:
    plan = exposure(activity=activity, water=PRACTICE.activities[activity].water, depth_m=1.0)
    found = check_plan(record(passed(date(2019, 1, 1))), plan)
    assert verdict_of(found.reasons) == {"test-overdue": THINK_TWICE}


@pytest.mark.parametrize("activity", ["rain", "hands", "boat"])
def test_rain_and_hands_are_not_nagged_for_a_test_where_the_mark_allows_them(activity: str) -> None:
    plan = rain(activity=activity)
    for old in (record(passed(date(2019, 1, 1))), untested()):
        assert check_plan(old, plan).reasons == ()
    unknown = record(passed(date(2019, 1, 1)), mark="unknown", marked_pa=None)
    assert verdict_of(check_plan(unknown, plan).reasons)["test-overdue"] == THINK_TWICE


@pytest.mark.parametrize(("use", "months"), [("diving", 12), ("swimming", 12), ("dry", 36)])
def test_the_stated_use_sets_the_interval(use: str, months: int) -> None:
    """12 months with diving or swimming, 36 when kept dry: common practice, no source."""
    whole = record(passed(date(2021, 9, 2)), use=use, mark="unknown", marked_pa=None)
    assert ("test-overdue" in codes(stops(whole, date(2024, 9, 1)))) == (months == 12)
    assert "test-overdue" in codes(stops(whole, date(2024, 9, 2)))


@pytest.mark.parametrize(
    ("use", "activity", "months"),
    [("dry", "dive", 12), ("dry", "freedive", 12), ("dry", "swim", 12), ("dry", "rain", 36),
     ("diving", "rain", 12), ("swimming", "dive", 12)],
)  # fmt: skip
def test_a_plan_beyond_the_stated_use_asks_for_the_shorter_interval(
    use: str, activity: str, months: int
) -> None:
    plan = exposure(activity=activity, depth_m=0.05 if activity == "rain" else 5.0)
    whole = record(passed(date(2023, 1, 10)), use=use, mark="unknown", marked_pa=None)
    over_on = date(2023 + months // 12, 1, 10)
    assert "test-overdue" not in codes(check_plan(whole, plan, on=over_on - ONE_DAY).reasons)
    found = {r.code: r for r in check_plan(whole, plan, on=over_on).reasons}
    assert found["test-overdue"].limit == f"{months} months"


def test_a_dive_with_a_watch_stated_dry_is_kept_dry_six_months_after_its_shorter_interval() -> None:
    whole = record(passed(date(2022, 9, 3)), use="dry")
    assert stops(whole) == ()
    assert verdict_of(check_plan(whole, exposure()).reasons)["test-overdue"] == KEEP_DRY


def test_a_longer_interval_of_the_owners_own_is_named_beside_the_one_that_counts() -> None:
    whole = record(passed(date(2023, 9, 1)), intervals_months={"pressure-test": 24})
    (found,) = stops(whole)
    assert (found.code, found.limit) == ("test-overdue", "12 months")
    assert found.sentence == (
        "the pressure test was due on 1 Sep 2024, 1 day ago: "
        "your interval is 24 months, of which 12 count for diving"
    )
    swims = record(passed(date(2023, 9, 1)), intervals_months={"pressure-test": 24}, use="swimming")
    assert stops(swims) == ()


def test_a_shorter_interval_of_the_owners_own_counts() -> None:
    found = stops(record(passed(date(2024, 6, 1)), intervals_months={"pressure-test": 3}))
    assert codes(found) == ["test-overdue"]
    assert (found[0].limit, found[0].value) == ("3 months", "1 day over")
    assert "1 Sep 2024" in found[0].sentence
    assert "your interval" not in found[0].sentence


def test_the_stated_use_counts_from_the_last_pass_at_the_pass_it_needs_never_from_a_lower_one() -> None:
    """10 bar for diving: a pass at 6 bar in June does not renew one at 25 of last summer."""
    found = stops(record(passed(date(2023, 7, 1), 25), passed(TESTED, 6)))
    assert codes(found) == ["test-overdue"]
    assert "1 Jul 2024" in found[0].sentence
    (never,) = stops(record(passed(TESTED, 6)))
    assert (never.code, never.value, never.limit) == ("never-tested", "6 bar", "10 bar")
    assert "the highest, of 1 Jun 2024, was 6 bar" in never.sentence


def test_a_check_counts_from_the_last_pass_that_reaches_the_planned_pressure() -> None:
    """Whether it reaches the pass needed, `over-tested` says."""
    found = check_plan(record(passed(date(2023, 7, 1), 25), passed(TESTED, 6)), exposure())
    assert verdict_of(found.reasons) == {"over-tested": THINK_TWICE}


@pytest.mark.parametrize(
    ("activity", "verdict"), [("dive", KEEP_DRY), ("freedive", KEEP_DRY), ("pool", THINK_TWICE)]
)
def test_a_watch_that_was_never_tested_does_not_dive(activity: str, verdict: str) -> None:
    plan = exposure(activity=activity, depth_m=1.0, water=PRACTICE.activities[activity].water)
    assert verdict_of(check_plan(untested(), plan).reasons) == {"never-tested": verdict}


def test_an_unmarked_watch_has_no_test_due_unless_its_owner_sets_one() -> None:
    bare: dict[str, Any] = {"mark": "unmarked", "marked_pa": None, "use": "dry"}
    assert codes(stops(untested(**bare))) == ["beyond-class"]  # its mark speaks on
    mine = untested(**bare, intervals_months={"pressure-test": 12})
    assert "never-tested" in codes(stops(mine))


def test_a_divers_watch_bought_new_needs_no_test_of_its_own_for_a_year() -> None:
    new = untested(new_on=date(2024, 1, 1))
    assert stops(new) == ()
    assert check_plan(new, exposure()).verdict == NO_OBJECTION
    assert "its maker’s, 20 bar in water, 1 Jan 2024" in check_plan(new, exposure()).context[0]
    assert codes(stops(new, date(2025, 1, 1))) == ["test-overdue"]  # confirmed in September, so not silent


def test_the_makers_test_of_samples_is_none_of_this_piece() -> None:
    sampled = untested(new_on=date(2024, 1, 1), mark="water-resistant")
    found = verdict_of(check_plan(sampled, exposure(activity="freedive")).reasons)
    assert found == {"never-tested": KEEP_DRY}
    (never,) = [r for r in stops(sampled) if r.code == "never-tested"]
    assert "its maker tests samples" in never.sentence


# ---------------------------------------------------------------- an unknown mark


def test_a_swim_on_an_unknown_mark_is_milder_with_a_proof_in_force_at_the_pass_needed() -> None:
    swim = exposure(activity="swim", depth_m=1.5)
    for bar, verdict in ((3, THINK_TWICE), (2, KEEP_DRY)):
        whole = record(passed(bar=bar), mark="unknown", marked_pa=None)
        assert verdict_of(check_plan(whole, swim).reasons)["mark-unknown"] == verdict
        assert verdict_of(check_plan(whole, exposure()).reasons)["mark-unknown"] == KEEP_DRY


# ---------------------------------------------------------------- seals


def test_a_used_up_or_too_old_seal_keeps_a_diver_dry_where_no_proof_is_in_force() -> None:
    for made, code in ((worn_out, "used-up"), (drawer_watch, "seal-too-old")):
        overdue = verdict_of(check_plan(made(passed(date(2023, 6, 1))), exposure()).reasons)
        assert overdue == {code: KEEP_DRY, "test-overdue": THINK_TWICE}
        weak = verdict_of(check_plan(made(passed(bar=6)), exposure()).reasons)
        assert weak == {code: KEEP_DRY, "over-tested": THINK_TWICE}
        swim = verdict_of(
            check_plan(made(passed(date(2023, 6, 1))), exposure(activity="swim", depth_m=1.5)).reasons
        )
        assert swim[code] == THINK_TWICE


def test_the_proof_that_speaks_for_an_old_seal_is_named() -> None:
    for made in (worn_out, drawer_watch):
        assert stops(made())[0].sentence.endswith("; tested tight to 25 bar on 1 Jun 2024")
        assert "tested tight" not in stops(made(passed(date(2023, 6, 1))))[0].sentence


def test_the_age_of_a_seal_dated_by_a_range_counts_from_the_middle() -> None:
    """Fitted between Sep 2016 and Sep 2018: the middle is seven years before Sep 2024, its class's limit."""
    maybe = record(
        seals=seals(fitted=date(2016, 9, 2), latest=date(2018, 9, 3)),
        recorded_from=FITTED,
        worn_h=0.0,
        use="dry",
    )
    assert codes(stops(maybe, date(2024, 9, 1))) == []
    found = stops(maybe, date(2024, 9, 2))
    assert codes(found) == ["seal-too-old"]
    assert "fitted between 2 Sep 2016 and 3 Sep 2018" in found[0].sentence


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


def fresh(*told: Any, **given_: Any) -> WatchRecord:
    """Seals fitted today: what wears them is in the totals alone."""
    return record(*told, worn_h=0.0, winds=0.0, seals=seals(fitted=TODAY), recorded_from=TODAY, **given_)


def test_an_interval_is_used_up_at_one_and_not_before() -> None:
    for share, spoken in ((0.999999, []), (1.0, ["used-up"]), (1.7, ["used-up"])):
        assert codes(stops(fresh(totals={3: Shares(salt=share)}))) == spoken


OLD_TEST = passed(date(2023, 6, 1))


def test_a_low_score_is_one_below_twenty_while_no_proof_is_in_force() -> None:
    assert codes(stops(fresh(OLD_TEST, totals={3: Shares(salt=0.80)}))) == ["test-overdue"]
    overdue, low = stops(fresh(OLD_TEST, totals={3: Shares(salt=0.81)}))
    assert (overdue.code, low.code, low.value, low.limit) == ("test-overdue", "low-score", "19", "20")
    assert low.verdict == THINK_TWICE
    assert stops(fresh(passed(), totals={3: Shares(salt=0.81)})) == ()
    assert "low-score" in codes(stops(fresh(passed(bar=6), totals={3: Shares(salt=0.81)})))


def test_a_low_score_is_no_matter_for_rain() -> None:
    assert check_plan(fresh(OLD_TEST, totals={3: SALT}), rain()).reasons == ()


@pytest.mark.parametrize("made", [worn_out, drawer_watch])
def test_a_low_score_is_silent_beside_what_makes_it_low(made: Callable[..., WatchRecord]) -> None:
    whole = made(OLD_TEST)
    assert standing.stand(whole, PRACTICE, TODAY).score == 0
    assert "low-score" not in codes(stops(whole))


def test_of_a_watch_of_which_nothing_is_known_no_score_speaks() -> None:
    """Its gaskets' date stands for "not known": a span up to the day it was added."""
    added = date(2024, 8, 1)
    unknown = untested(
        seals=seals(fitted=date(1994, 8, 1), latest=added), added_on=added, recorded_from=added
    )
    seen = standing.stand(unknown, PRACTICE, TODAY)
    assert seen.score is None
    assert seen.why_no_score == "while neither the fitting of its gaskets nor a passed test is on record"
    assert verdict_of(seen.stops) == {"never-tested": KEEP_DRY}
    proved = standing.stand(replace(unknown, events=(passed(added),)), PRACTICE, TODAY)
    assert proved.score is not None
    assert "seal-too-old" in codes(proved.stops)
