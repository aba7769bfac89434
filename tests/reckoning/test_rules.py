"""Every standing stop rule, each in a situation in which it alone speaks, and how gravely."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from logbook.reckoning import facts, rules, standing
from logbook.reckoning.chance import Chance
from logbook.reckoning.rules import (
    KEEP_DRY,
    NO_OBJECTION,
    STANDING_CODES,
    THINK_TWICE,
)
from logbook.reckoning.values import DAMAGED_PART, FAULTS, EventKind, Seal, Shares, WatchRecord
from tests.reckoning.builders import (
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
    habit,
    passed,
    rain,
    record,
    seals,
    shower,
    stops,
    untested,
    verdict_of,
)

SALT = Shares(salt=0.85)


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
    assert ("repair" in found[0].sentence) == (kind not in ("fog", "water-inside"))


@pytest.mark.parametrize("kind", ["battery", "opened", "movement", "gaskets"])
def test_each_opening_speaks_alone(kind: EventKind) -> None:
    assert codes(stops(record(passed(), event(kind)))) == ["opened-untested"]


@pytest.mark.parametrize("kind", ["crystal-damaged", "crown-damaged", "pushers-damaged", "gas-valve-damaged"])
def test_a_repair_speaks_as_an_opening(kind: EventKind) -> None:
    found = stops(record(passed(), event("repaired", repaired=kind)))
    assert codes(found) == ["opened-untested"]
    assert f"{DAMAGED_PART[kind]} repaired" in found[0].sentence


def test_a_failed_condensation_test_speaks_as_a_failure() -> None:
    found = stops(record(passed(), event("condensation-test", passed=False)))
    assert codes(found) == ["failed-test"]
    assert "condensation test failed" in found[0].sentence


def chance(mean: float, low: float) -> Chance:
    return Chance(mean, low, 0.99, to_pa=10 * BAR, tests_used=3)


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
    """What the chance's rule says for a watch that dives: limits 90 % in the mean, 75 % at the low end."""
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


def test_every_rule_of_the_list_was_heard_alone() -> None:
    assert set(ALONE) | {"chance-low"} == set(STANDING_CODES)
    assert len(rules.STANDING) == len(STANDING_CODES)


def test_without_the_tests_read_the_chance_says_that_it_is_not_computed() -> None:
    context = check_plan(record(), exposure()).context
    assert "chance: not computed" in context
    assert any("band not computed" in line for line in context)
    stands = standing.stand(record(), PRACTICE, TODAY)
    assert (stands.low, stands.high, stands.chance) == (None, None, None)


@pytest.mark.parametrize("code", ALONE)
def test_every_standing_reason_carries_a_sentence_a_value_and_a_limit(code: str) -> None:
    for reason in stops(ALONE[code][0]()):
        assert reason.value
        assert reason.limit
        assert len(reason.sentence) > 20


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


@pytest.mark.parametrize(
    ("use", "activity", "months"),
    [("dry", "dive", 12), ("dry", "freedive", 12), ("dry", "swim", 12), ("dry", "rain", 36),
     ("diving", "rain", 12), ("swimming", "dive", 12)],
)  # fmt: skip
def test_a_plan_beyond_the_stated_use_asks_for_the_shorter_interval(
    use: str, activity: str, months: int
) -> None:
    """12 months with diving or swimming, 36 when kept dry: common practice, no source."""
    plan = exposure(activity=activity, depth_m=0.05 if activity == "rain" else 5.0)
    whole = record(passed(date(2023, 1, 10)), use=use)
    over_on = date(2023 + months // 12, 1, 10)
    assert "test-overdue" not in codes(check_plan(whole, plan, on=over_on - ONE_DAY).reasons)
    found = {r.code: r for r in check_plan(whole, plan, on=over_on).reasons}
    assert found["test-overdue"].limit == f"{months} months"


def test_a_dive_with_a_watch_stated_dry_is_kept_dry_six_months_after_its_shorter_interval() -> None:
    whole = record(passed(date(2022, 9, 3)), use="dry")
    assert stops(whole) == ()
    assert verdict_of(check_plan(whole, exposure()).reasons)["test-overdue"] == KEEP_DRY


def test_an_interval_of_the_owners_own_holds_for_every_plan() -> None:
    whole = record(passed(date(2023, 9, 3)), use="dry", intervals_months={"pressure-test": 24})
    assert check_plan(whole, exposure()).reasons == ()


def test_an_interval_of_the_owners_own_counts() -> None:
    whole = record(passed(date(2023, 9, 2)), use="swimming", intervals_months={"pressure-test": 24})
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
    (never,) = [r for r in stops(sampled) if r.code == "never-tested"]
    assert "samples" in never.sentence


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


def low_score(
    score: int, band: tuple[int, int] | None, whole: WatchRecord | None = None
) -> rules.Reason | None:
    """What the rule says of a score with such a band; None: it says nothing."""
    of = whole or record()
    seen = standing.stand(of, PRACTICE, TODAY)
    return rules.low_score(
        rules.Situation(facts.gather(of, TODAY), seen.seals, score, "scuba", PRACTICE, band=band)
    )


@pytest.mark.parametrize(
    ("score", "band", "value", "limit"),
    [
        (19, None, "19", "20"),
        (19, (12, 40), "19", "20"),
        (19, (0, 50), "19", "20"),
        (64, (0, 81), "likely 0–81", "a band above 0"),
    ],
)
def test_a_score_is_low_by_itself_or_by_the_low_end_of_its_band(
    score: int, band: tuple[int, int] | None, value: str, limit: str
) -> None:
    found = low_score(score, band)
    assert found is not None
    assert (found.code, found.value, found.limit, found.verdict) == ("low-score", value, limit, THINK_TWICE)
    assert f"the seal score is {score}" in found.sentence
    assert ("its 80 % band reaches 0" in found.sentence) == (score >= 20)
    assert ("little of a service interval is left" in found.sentence) == (score < 20)


@pytest.mark.parametrize(("score", "band"), [(20, None), (20, (1, 60)), (99, (80, 99))])
def test_a_score_from_twenty_on_whose_band_ends_above_nothing_is_not_low(
    score: int, band: tuple[int, int] | None
) -> None:
    assert low_score(score, band) is None


@pytest.mark.parametrize("code", ["used-up", "seal-too-old"])
def test_a_band_that_reaches_nothing_is_silent_beside_what_makes_it_so(code: str) -> None:
    assert low_score(0, (0, 0), ALONE[code][0]()) is None


@pytest.mark.parametrize("code", ["used-up", "seal-too-old"])
def test_a_low_score_is_silent_beside_what_makes_it_low(code: str) -> None:
    whole = ALONE[code][0]()
    assert standing.stand(whole, PRACTICE, TODAY).score == 0
    assert "low-score" not in codes(stops(whole))


def test_an_interval_that_half_of_the_constants_call_used_up_may_be_used_up() -> None:
    of = record()
    seen = standing.stand(of, PRACTICE, TODAY)
    situation = rules.Situation(facts.gather(of, TODAY), seen.seals, 9, "scuba", PRACTICE, band=(0, 40))
    assert rules.used_up(replace(situation, middle=0.99)) is None
    found = rules.used_up(replace(situation, middle=1.02))
    assert found is not None
    assert (found.code, found.verdict, found.value) == ("used-up", KEEP_DRY, "1.02 of an interval")
    assert "may be used up" in found.sentence
    assert rules.low_score(replace(situation, middle=1.02)) is None


# ---------------------------------------------------------------- the record's silence


@pytest.mark.parametrize(("days", "spoken"), [(179, []), (180, ["record-silent"])])
def test_a_record_is_silent_after_a_hundred_and_eighty_days(days: int, spoken: list[str]) -> None:
    whole = record(last_exposure_on=TODAY - days * ONE_DAY, confirmed_on=None)
    assert codes(stops(whole)) == spoken


def test_a_watch_kept_dry_may_be_silent() -> None:
    assert stops(record(last_exposure_on=None, confirmed_on=None, use="dry")) == ()


def test_confirming_ends_the_silence() -> None:
    assert stops(record(last_exposure_on=None, confirmed_on=TODAY - 10 * ONE_DAY)) == ()


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


def test_an_interval_that_may_be_used_up_since_the_earliest_fitting_date_speaks() -> None:
    whole = record(
        seals=seals(fitted=TODAY - 1700 * ONE_DAY, latest=TODAY - 30 * ONE_DAY),
        worn_h=24,
        added_on=TODAY - 30 * ONE_DAY,
        recorded_from=TODAY - 2000 * ONE_DAY,
    )
    seen = standing.stand(whole, PRACTICE, TODAY)
    assert seen.score > 20
    (reason,) = [r for r in seen.stops if r.code == "used-up"]
    assert reason.verdict == KEEP_DRY
    assert "may be used up" in reason.sentence
    assert "perhaps as early as" in reason.sentence
