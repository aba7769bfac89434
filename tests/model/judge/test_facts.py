"""What is known of a watch on a day: what stands, what is proved and in force, and the clock."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.model.judge import facts
from logbook.model.judge.facts import Facts
from logbook.model.judge.proofs import Asked
from logbook.model.values import Event, Raised, WatchRecord
from tests.model.builders import (
    BAR,
    ONE_DAY,
    PRACTICE,
    TESTED,
    TODAY,
    event,
    exposure,
    habit,
    passed,
    record,
    untested,
)

DAY = date(2024, 7, 1)
RAIN, SWIM, DIVE = Asked("rain, hands", 500.0), Asked("swim", 0.2 * BAR), Asked("scuba", 1.8 * BAR)


def day(n: int) -> date:
    return DAY + n * ONE_DAY


def known(*events: Event, on: date = TODAY, asked: Asked | None = None, **given_: Any) -> Facts:
    whole = record(*events, **given_) if events else untested(**given_)
    return facts.gather(whole, on, PRACTICE, asked)


def codes(found: Facts) -> list[str]:
    return [stand.code for stand in found.standing]


# ---------------------------------------------------------------- proofs in force


def test_without_a_question_the_facts_are_those_of_the_stated_use() -> None:
    assert [known(use=use).asked for use in ("diving", "swimming", "dry")] == [
        Asked("scuba"), Asked("swim"), Asked("rain, hands"),
    ]  # fmt: skip


def test_a_proof_is_in_force_until_its_interval_is_over() -> None:
    whole = record(passed(TESTED), confirmed_on=None, last_exposure_on=None)
    for on, in_force in ((date(2025, 5, 31), 1), (date(2025, 6, 1), 0)):
        assert len(facts.gather(whole, on, PRACTICE, DIVE).in_force) == in_force


def test_what_is_asked_can_shorten_how_long_a_proof_is_in_force() -> None:
    whole = record(passed(date(2022, 9, 1)), use="dry")
    assert len(facts.gather(whole, TODAY, PRACTICE, RAIN).in_force) == 1
    assert facts.gather(whole, TODAY, PRACTICE, DIVE).in_force == ()


def test_a_plan_is_proved_by_a_proof_in_force_at_the_pass_it_needs() -> None:
    for bar, asked, proved in ((10, DIVE, True), (9, DIVE, False), (3, SWIM, True), (2, SWIM, False)):
        assert (known(passed(TESTED, bar), asked=asked).proved is not None) == proved
    assert known(passed(date(2023, 6, 1), 25), asked=DIVE).proved is None


def test_the_newest_proof_at_the_pass_needed_is_the_one_that_counts() -> None:
    found = known(passed(TESTED, 25), passed(DAY, 10), passed(day(1), 3), asked=DIVE)
    assert found.proved is not None
    assert found.proved.on == DAY
    best = found.highest(found.in_force)
    assert best is not None
    assert best.test_pa == 25 * BAR


@pytest.mark.parametrize("breaking", ["failed", "battery", "fog", "crystal-damaged", "knock"])
def test_a_pass_before_anything_that_asks_for_one_is_on_record_and_not_in_force(breaking: Any) -> None:
    broken = event("pressure-test", DAY, passed=False) if breaking == "failed" else event(breaking, DAY)
    found = known(passed(TESTED, 25), broken)
    assert found.in_force == ()
    assert found.last_pass is not None
    assert found.last_pass.on == TESTED


def test_the_highest_pass_since_the_last_opening_counts() -> None:
    found = known(passed(DAY, 20), event("battery", day(1)), passed(day(2), 6), passed(day(3), 3), asked=SWIM)
    best = found.highest(found.in_force)
    assert best is not None
    assert best.test_pa == 6 * BAR
    assert found.last_pass is not None
    assert found.last_pass.test_pa == 3 * BAR


def test_a_vacuum_is_in_force_for_rain_alone() -> None:
    whole = record(passed(TESTED, 0.7, medium="vacuum"))
    assert facts.gather(whole, TODAY, PRACTICE, RAIN).proved is not None
    assert facts.gather(whole, TODAY, PRACTICE, SWIM).proved is None


# ---------------------------------------------------------------- the maker's test

NEW = date(2024, 2, 1)


@pytest.mark.parametrize("mark", ["divers", "divers-mixed-gas"])
def test_a_divers_watch_bought_new_is_proved_by_its_maker(mark: str) -> None:
    found = known(mark=mark, new_on=NEW, asked=DIVE)
    assert found.proved is not None
    assert (found.proved.on, found.proved.makers, found.proved.test_pa) == (NEW, True, 20 * BAR)
    assert found.sampled_on is None


@pytest.mark.parametrize(
    ("mark", "sampled"), [("water-resistant", NEW), ("unknown", NEW), ("unmarked", None)]
)
def test_of_other_marks_only_samples_were_tested_and_of_an_unmarked_one_none(
    mark: str, sampled: date | None
) -> None:
    found = known(mark=mark, new_on=NEW)
    assert (found.last_pass, found.sampled_on) == (None, sampled)


def test_an_own_pass_takes_the_place_of_the_makers_as_the_last() -> None:
    found = known(passed(DAY, 10), new_on=NEW)
    assert found.last_pass is not None
    assert not found.last_pass.makers
    best = found.highest(found.in_force)
    assert best is not None
    assert best.makers  # 20 bar, and nothing opened since


def test_a_secondhand_watch_carries_no_makers_test() -> None:
    found = known(bought_on=NEW)
    assert (found.last_pass, found.sampled_on) == (None, None)


# ---------------------------------------------------------------- what stands, whatever day is asked


def test_what_is_on_record_stands_whatever_day_is_asked() -> None:
    whole = record(
        passed(TESTED),
        event("fog", day(1)),
        raised=(Raised("overstressed", exposure(crown_under=1, starts_on=day(2))),),
    )
    found = facts.gather(whole, DAY, PRACTICE, DIVE)
    assert codes(found) == ["water-inside", "overstressed"]
    assert found.in_force == ()


def test_a_pass_counts_only_from_its_day() -> None:
    whole = record(event("battery", TESTED), passed(day(1)))
    assert codes(facts.gather(whole, DAY, PRACTICE, DIVE)) == ["opened-untested"]
    assert facts.gather(whole, DAY, PRACTICE, DIVE).proofs == ()
    assert codes(facts.gather(whole, day(1), PRACTICE, DIVE)) == []


def test_one_thing_that_stands_is_told_once_though_it_stands_before_and_after_the_day() -> None:
    whole = record(event("fog", TESTED), event("strap", day(5)))
    assert codes(facts.gather(whole, DAY, PRACTICE, DIVE)) == ["water-inside"]


def test_an_event_of_the_day_itself_counts() -> None:
    assert codes(known(passed(TESTED), event("battery", DAY), on=DAY)) == ["opened-untested"]


def test_troubles_are_what_a_workshop_must_see_to_the_oldest_first() -> None:
    fog, damage, bad = (
        event("fog", DAY),
        event("crown-damaged", day(1)),
        event("pressure-test", day(2), passed=False),
    )
    found = known(bad, damage, fog, event("battery", day(3)), event("knock", day(4)))
    assert found.troubles == (fog, damage, bad)


def test_fog_that_sealed_air_explains_stands_and_is_no_trouble() -> None:
    """Sealed at 21 °C and 50 % the dew point is 10.18 °C (WMO form)."""
    found = known(event("fog", DAY, crystal_c=5.0, case_air_c=21.0))
    assert codes(found) == ["water-inside"]
    assert found.troubles == ()


# ---------------------------------------------------------------- last water


def test_the_last_water_is_the_latest_of_exposure_confirmation_and_start() -> None:
    start = date(2024, 1, 1)
    assert known(last_exposure_on=None, confirmed_on=None).last_water_on == start
    assert known(last_exposure_on=DAY, confirmed_on=None).last_water_on == DAY
    assert known(last_exposure_on=DAY, confirmed_on=day(1)).last_water_on == day(1)
    assert known(last_exposure_on=None, confirmed_on=None, added_on=DAY).last_water_on == DAY


# ---------------------------------------------------------------- a clock that is behind


def quiet(*events: Event, **given_: Any) -> WatchRecord:
    """A record without any water, so that its events alone tell of days."""
    return record(*(events or (passed(),)), **({"confirmed_on": None, "last_exposure_on": None} | given_))


def behind(whole: WatchRecord, on: date = TODAY, today: date | None = None) -> date | None:
    return facts.gather(whole, on, PRACTICE, DIVE, today).clock_behind_by


def test_the_clock_is_behind_when_an_entry_lies_more_than_a_day_after_today() -> None:
    for ahead, is_behind in ((0, False), (1, False), (2, True), (400, True)):
        later = TODAY + ahead * ONE_DAY
        for whole in (quiet(passed(later)), quiet(last_exposure_on=later), quiet(confirmed_on=later)):
            assert behind(whole) == (later if is_behind else None)


def test_a_plan_is_no_entry_that_a_clock_could_be_behind() -> None:
    assert behind(quiet(plans=(exposure(starts_on=TODAY + 30 * ONE_DAY, planned=True),))) is None


def test_a_habit_that_goes_on_puts_no_clock_behind() -> None:
    assert behind(quiet(habits=(habit(start=DAY),))) is None


def test_the_day_of_a_plan_ahead_is_not_what_the_clock_says() -> None:
    """Judged for a day in spring, the clock of today counts: a test of tomorrow week is still ahead of it."""
    whole = quiet(passed(TODAY + 7 * ONE_DAY))
    assert behind(whole, TODAY + 200 * ONE_DAY, today=TODAY) == TODAY + 7 * ONE_DAY
    assert behind(whole, TODAY + 200 * ONE_DAY, today=TODAY + 6 * ONE_DAY) is None


def test_a_change_of_the_record_by_the_machines_clock_counts_too() -> None:
    changed = replace(quiet(), changed_on=TODAY + 3 * ONE_DAY)
    assert behind(changed) == TODAY + 3 * ONE_DAY
    assert behind(replace(changed, changed_on=TODAY)) is None


def test_an_owner_who_says_that_the_clock_is_right_is_believed_up_to_that_day() -> None:
    later = TODAY + 10 * ONE_DAY
    whole = quiet(passed(later))
    assert behind(replace(whole, clock_right_to=later)) is None
    assert behind(replace(whole, clock_right_to=later - ONE_DAY)) == later


@given(ahead=st.integers(-400, 400))
def test_the_newest_day_is_that_of_any_entry(ahead: int) -> None:
    when = DAY + ahead * ONE_DAY
    assert known(passed(when), last_exposure_on=None, confirmed_on=None).newest_on == when
    assert known(confirmed_on=None, last_exposure_on=when).newest_on == when
    assert known(confirmed_on=None, last_exposure_on=None).newest_on is None
