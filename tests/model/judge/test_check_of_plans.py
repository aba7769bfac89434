"""On which day a plan is judged, with what water before it, and from when its verdict holds."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from logbook.model.judge import check
from logbook.model.judge.case import with_plans
from logbook.model.judge.check import Verdict
from logbook.model.judge.rules import KEEP_DRY, NO_OBJECTION, THINK_TWICE
from logbook.model.values import Exposure, ProfilePoint, Shares, WatchRecord
from logbook.model.wear import charge
from tests.model.builders import (
    FITTED,
    ONE_DAY,
    PRACTICE,
    TODAY,
    check_plan,
    codes,
    event,
    exposure,
    passed,
    pool,
    rain,
    record,
    seals,
    untested,
    verdict_of,
)

DUE_ON = date(2025, 6, 1)  # twelve months after the test


def asked(whole: WatchRecord, plan: Exposure, today: date = TODAY) -> Verdict:
    return check.check(whole, plan, PRACTICE, today)


# ---------------------------------------------------------------- on which day


def judged_on(starts_on: date, today: date, planned_to: date | None = None) -> list[str]:
    """The codes for a dive of a day or a trip, asked on another; the record's silence apart."""
    plan = exposure(starts_on=starts_on, planned_to=planned_to)
    (by_any,) = check.check_any([record()], plan, PRACTICE, today)
    by_name = asked(record(), plan, today)
    assert by_any == by_name
    return [code for code in codes(by_name.reasons) if code != "record-silent"]


def test_a_plan_ahead_is_judged_on_its_own_day() -> None:
    assert judged_on(DUE_ON - ONE_DAY, today=TODAY) == []
    assert judged_on(DUE_ON, today=TODAY) == ["test-overdue"]


def test_a_day_that_is_past_is_judged_as_of_today() -> None:
    assert judged_on(TODAY, today=DUE_ON) == ["test-overdue"]
    assert judged_on(TODAY, today=DUE_ON, planned_to=TODAY + ONE_DAY) == ["test-overdue"]
    assert asked(record(), exposure(starts_on=TODAY), DUE_ON).holds_from == DUE_ON


def test_a_trip_under_way_is_judged_on_its_last_day() -> None:
    start = DUE_ON - 5 * ONE_DAY
    assert judged_on(start, today=start + ONE_DAY, planned_to=DUE_ON) == ["test-overdue"]
    assert judged_on(start, today=start + ONE_DAY, planned_to=DUE_ON - ONE_DAY) == []


def test_a_trip_is_judged_for_its_last_day_and_says_from_when() -> None:
    """A test passed on 10 Sep 2023 is due on 10 Sep 2024: within the trip, not on its first day."""
    whole = record(passed(date(2023, 9, 10)))
    trip = exposure(planned=True, planned_to=date(2024, 9, 14))
    assert check_plan(whole, exposure()).reasons == ()
    assert check_plan(whole, replace(trip, planned_to=date(2024, 9, 9))).reasons == ()
    found = check_plan(whole, trip)
    assert verdict_of(found.reasons) == {"test-overdue": THINK_TWICE}
    assert "judged for the last day of the trip, 14 Sep 2024" in found.context
    assert found.holds_from == date(2024, 9, 10)


# ---------------------------------------------------------------- with the water planned before


def new_gaskets(*told: Any, **given_: Any) -> WatchRecord:
    """A watch whose gaskets were fitted today: only what is planned wears it."""
    whole = record(*told, seals=seals(fitted=TODAY), recorded_from=TODAY, worn_h=0.0, winds=0.0, **given_)
    return replace(whole, last_exposure_on=None, watch=replace(whole.watch, confirmed_on=None))


def trip_of(days: int, **given_: Any) -> Exposure:
    """Three dives a day, unrinsed, from today on."""
    last = TODAY + (days - 1) * ONE_DAY
    plain = {"planned": True, "planned_to": last, "dips": 3, "duration_s": 3 * 2700, "rinsed": False}
    return exposure(**(plain | given_))


def shares_of(whole: WatchRecord) -> list[float]:
    return [whole.totals.get(s.id or 0, Shares()).total for s in whole.seals]


def test_a_trip_of_21_days_with_three_dives_a_day_is_judged_with_its_own_wear() -> None:
    """Twenty days of it lie before the last: 0.6 of a crown's interval, 20 × 3 × 0.75 h × 4 / 300 h."""
    whole = new_gaskets(totals={3: Shares(salt=0.4)})
    assert asked(whole, exposure()).verdict == NO_OBJECTION
    assert asked(whole, trip_of(1)).verdict == NO_OBJECTION
    found = asked(whole, trip_of(21))
    assert codes(found.reasons) == ["used-up"]
    assert found.reasons[0].value is not None
    assert float(found.reasons[0].value.split()[0]) > 0.4 + 20 * 0.03


def test_a_trip_charges_each_of_its_days_before_the_one_that_is_judged() -> None:
    whole, trip = new_gaskets(), trip_of(21)
    a_day = [charge.preview(whole, trip, PRACTICE)[s.position].total for s in whole.seals]
    for on, days in (
        (TODAY, 0),
        (TODAY + ONE_DAY, 1),
        (TODAY + 20 * ONE_DAY, 20),
        (TODAY + 60 * ONE_DAY, 21),
    ):
        lived = with_plans(whole, trip, PRACTICE, TODAY, on)
        assert shares_of(lived) == pytest.approx([days * share for share in a_day])


def test_where_no_water_is_planned_before_the_record_stays_as_it_is() -> None:
    whole = new_gaskets(
        plans=(trip_of(3, id=8, starts_on=TODAY + 9 * ONE_DAY, planned_to=TODAY + 11 * ONE_DAY),)
    )
    assert with_plans(whole, exposure(), PRACTICE, TODAY, TODAY) is whole


def test_a_kept_plan_before_a_plan_is_charged_and_one_behind_it_is_not() -> None:
    before, behind = trip_of(5, id=8), exposure(id=9, planned=True, starts_on=TODAY + 40 * ONE_DAY)
    whole = new_gaskets(plans=(before, behind))
    on = TODAY + 30 * ONE_DAY
    a_day = [charge.preview(whole, before, PRACTICE)[s.position].total for s in whole.seals]
    lived = with_plans(whole, exposure(starts_on=on), PRACTICE, TODAY, on)
    assert shares_of(lived) == pytest.approx([5 * share for share in a_day])


def test_any_plan_behind_others_is_judged_with_their_wear() -> None:
    whole = new_gaskets(totals={3: Shares(salt=0.4)}, plans=(trip_of(21, id=8),))
    weekend = exposure(starts_on=TODAY + 30 * ONE_DAY)
    assert codes(asked(replace(whole, plans=()), weekend).reasons) == []
    found = asked(whole, weekend)
    assert codes(found.reasons) == ["used-up"]
    assert found.holds_from == weekend.starts_on


def test_a_kept_plan_that_is_asked_about_is_not_charged_twice() -> None:
    kept = trip_of(10, id=8)
    on = TODAY + 9 * ONE_DAY
    once = with_plans(new_gaskets(), replace(kept, id=None), PRACTICE, TODAY, on)
    assert shares_of(with_plans(new_gaskets(plans=(kept,)), kept, PRACTICE, TODAY, on)) == shares_of(once)


def test_asking_anew_about_what_is_kept_already_charges_it_once_and_its_double_too() -> None:
    kept = trip_of(10, id=8)
    on, anew = TODAY + 9 * ONE_DAY, replace(kept, id=None, watch_id=None, note="")
    once = with_plans(new_gaskets(), anew, PRACTICE, TODAY, on)
    assert shares_of(with_plans(new_gaskets(plans=(kept,)), anew, PRACTICE, TODAY, on)) == shares_of(once)
    twice = with_plans(new_gaskets(plans=(kept, replace(kept, id=9))), anew, PRACTICE, TODAY, on)
    assert min(shares_of(twice)) > min(shares_of(once))


def test_of_a_trip_under_way_only_the_days_from_today_on_are_charged() -> None:
    """What is over was logged, or is still to be confirmed."""
    whole, trip = new_gaskets(), trip_of(10, starts_on=TODAY - 6 * ONE_DAY, planned_to=TODAY + 3 * ONE_DAY)
    a_day = charge.preview(whole, trip, PRACTICE)["crown"].total
    lived = with_plans(whole, trip, PRACTICE, TODAY, TODAY + 3 * ONE_DAY)
    assert lived.totals[3].total == pytest.approx(3 * a_day)


def test_planned_days_charge_wear_and_raise_nothing() -> None:
    worked = exposure(crown_under=1, depth_m=260.0, planned=True, id=8)
    whole = new_gaskets(plans=(worked,))
    later = asked(whole, rain(starts_on=TODAY + 20 * ONE_DAY))
    assert later.reasons == ()
    wet = asked(whole, pool(starts_on=TODAY + 20 * ONE_DAY))
    assert not {"overstressed", "beyond-proof"} & set(codes(wet.reasons))


def test_a_planned_profile_costs_as_its_plan_does() -> None:
    shape = tuple(ProfilePoint(60.0 * n, 18.0 * (n % 2)) for n in range(40))
    on = TODAY + 2 * ONE_DAY
    plain, shaped = (
        with_plans(new_gaskets(), trip_of(3, profile=p), PRACTICE, TODAY, on) for p in ((), shape)
    )
    assert shares_of(plain) == shares_of(shaped)


@pytest.mark.parametrize("start", [0.1, 0.3, 0.55, 0.9, 1.2])
def test_the_verdict_of_a_trip_holds_from_the_first_day_on_which_a_trip_to_it_has_it(start: float) -> None:
    whole = new_gaskets(totals={3: Shares(salt=start)})
    trip = trip_of(21)
    found = asked(whole, trip)
    days = [TODAY + n * ONE_DAY for n in range(21)]
    same = [day for day in days if asked(whole, replace(trip, planned_to=day)).verdict == found.verdict]
    assert found.holds_from == same[0]
    assert same == [day for day in days if day >= same[0]]


def test_trying_plans_leaves_the_record_alone() -> None:
    whole = new_gaskets(plans=(trip_of(3, id=8),), totals={3: Shares(salt=0.5)})
    asked(whole, trip_of(21))
    assert whole.totals == {3: Shares(salt=0.5)}


# ---------------------------------------------------------------- a retired watch


def test_a_retired_watch_is_not_judged_and_one_sentence_says_so() -> None:
    found = asked(record(passed(), event("fog"), retired_on=FITTED), exposure())
    assert (found.verdict, found.reasons, found.holds_from) == (None, (), None)
    assert found.word == "not judged"
    assert found.would_change == "It is retired and not judged: bring it back to ask about it."
    assert "retired on 1 Jan 2024" in found.context
    assert "retired" not in " ".join(asked(record(), exposure()).context)


# ---------------------------------------------------------------- the clock


def test_a_plan_ahead_is_held_to_the_clock_of_today() -> None:
    """Something of next week is on record: whatever day is asked about, the clock is behind."""
    later = record(passed(TODAY + 7 * ONE_DAY))
    plan = exposure(starts_on=TODAY + 20 * ONE_DAY)
    assert verdict_of(asked(later, plan, TODAY).reasons) == {"clock-behind": THINK_TWICE}
    assert asked(later, plan, TODAY + 7 * ONE_DAY).reasons == ()


def test_what_is_on_record_stands_for_a_clock_that_is_behind() -> None:
    fogged = record(passed(), event("fog", TODAY + 7 * ONE_DAY), confirmed_on=None)
    found = verdict_of(asked(fogged, exposure()).reasons)
    assert found == {"water-inside": KEEP_DRY, "clock-behind": THINK_TWICE}


# ---------------------------------------------------------------- a score that is not known

ADDED = date(2024, 8, 1)


def unknown(**given_: Any) -> WatchRecord:
    """Neither a fitting date nor any proof: the span reaches up to the day the watch was added."""
    old = seals(fitted=date(1994, 8, 1), latest=ADDED)
    return untested(seals=old, added_on=ADDED, recorded_from=ADDED, **given_)


def test_a_score_that_is_not_known_is_no_number_and_makes_none_of_its_own_objections() -> None:
    found = asked(unknown(use="swimming"), pool())
    assert verdict_of(found.reasons) == {"never-tested": THINK_TWICE}
    told = "\n".join(found.context)
    why = "while neither the fitting of its gaskets nor a passed test is on record"
    assert f"score not known {why}" in told
    assert f"no chance of passing a test {why}" in told
