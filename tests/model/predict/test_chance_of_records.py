"""The chance of whole records: which events the law sees, with which wear between them, to which pressure."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest

from logbook.model.judge import proofs, standing
from logbook.model.predict import trials
from logbook.model.predict.chance import Chance, Opened, Trial
from logbook.model.predict.trials import Foresight, Past
from logbook.model.values import Event, Shares, WatchRecord
from tests.model.builders import (
    BAR,
    FITTED,
    ONE_DAY,
    PRACTICE,
    TESTED,
    TODAY,
    event,
    habit,
    passed,
    record,
    seals,
    untested,
    watch,
    wear_on,
)

OTHER_ID = 100  # ids of the second watch's seals and events lie above this
ALL = (("case-back", "NBR"), ("crystal", "NBR"), ("crown", "NBR"))


def other(*events: Event, **given: Any) -> WatchRecord:
    """A second watch, fitted on the same day."""
    own = tuple(replace(s, id=OTHER_ID + (s.id or 0)) for s in seals())
    marked = tuple(replace(e, id=OTHER_ID + n) for n, e in enumerate(events, start=1))
    return replace(record(id=2, **given), seals=own, events=marked)


def with_events(whole: WatchRecord, *events: Event) -> WatchRecord:
    """The record with these events; one of gaskets brings its seals."""
    numbered = [replace(e, id=n) for n, e in enumerate(events, start=1)]
    fitted = [
        replace(s, fitted_earliest=e.on, fitted_latest=e.on, order=e.order, event_id=e.id,
                id=100 * n + (s.id or 0))
        for n, e in enumerate(numbered, start=1)
        for s in whole.seals
        if s.position in dict(e.seals)
    ]  # fmt: skip
    return replace(whole, events=tuple(numbered), seals=(*whole.seals, *fitted))


def failed(on: date = TESTED, bar: float | None = 25, **given: Any) -> Event:
    return replace(passed(on, bar, **given), passed=False)


def dry(seal_id: int, up_to: date) -> Shares:
    """A ledger without any exposure."""
    return Shares()


def learned(*records: WatchRecord, sums: trials.Sums = dry, on: date = TODAY) -> Foresight:
    return trials.foresee(records, PRACTICE, sums, on)


def chance_of(
    of: WatchRecord,
    *others: WatchRecord,
    on: date = TODAY,
    to_pa: float | None = None,
    sums: trials.Sums = dry,
) -> Chance | None:
    foresight = learned(of, *others, on=on, sums=sums)
    return foresight.chance_of(of, standing.wear_of(of, PRACTICE, on), on, to_pa)


def chance(of: WatchRecord, *others: WatchRecord, **given: Any) -> float:
    found = chance_of(of, *others, **given)
    assert found is not None
    return found.chance


def past(of: WatchRecord, on: date = TODAY, sums: trials.Sums = dry) -> Past:
    return learned(of, sums=sums, on=on).seen[of.watch.id or 0].past


# --------------------------------------------------------------- what the priors give

# A diver's watch of 20 bar, bought new, screwed crown, NBR, worn 12 hours a day, with 20 sea dives a year of
# 18 m, 45 min, 20 °C from 32 °C, four in five of them rinsed. With all of them rinsed "5 years" is 0.79, with
# half of them "11 years" is 0.90; all else is as it is here.
NEW_ON = date(2010, 1, 1)
A_YEAR = 365.25


def years(count: float) -> date:
    return NEW_ON + timedelta(days=round(count * A_YEAR))


def diver(*events: Event) -> WatchRecord:
    own = watch(new_on=NEW_ON, added_on=NEW_ON, recorded_from=NEW_ON)
    dives = tuple(habit(n / A_YEAR, NEW_ON, rinsed=rinsed) for n, rinsed in ((16, True), (4, False)))
    return with_events(WatchRecord(own, seals(fitted=NEW_ON), {}, habits=dives), *events)


def mended(on: date) -> list[Event]:
    return [event("gaskets", on, seals=ALL), passed(on, 20)]


LIVES = {
    # Source: the design's table, "the trade's feel, from memory, is the same within 0.05".
    "new, one month": ([], 1 / 12, 0.99),
    "a year after a pass at its mark, gaskets new then": (mended(years(3)), 4, 0.97),
    "3 years untested": ([], 3, 0.88),
    "5 years untested": ([], 5, 0.75),
    "passed today after 11 years": ([passed(years(11), 20)], 11, 0.94),
    "a year after a failure, mended and passed": (
        [failed(years(5), 20), *mended(years(5))], 6, 0.94,
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", LIVES)
def test_the_priors_give_what_they_were_chosen_for_asked_for_10_bar(name: str) -> None:
    events, age, expected = LIVES[name]
    found = chance_of(diver(*events), on=years(age))
    assert found is not None
    assert found.to_pa == 10 * BAR
    assert found.chance == pytest.approx(expected, abs=0.02)


# --------------------------------------------------------------- what the law sees


def test_a_first_pass_comes_with_all_the_wear_since_the_fitting() -> None:
    (moment,) = past(record()).moments
    assert moment.what == Trial(1.0, passed=True)
    assert moment.years == pytest.approx((TESTED - FITTED).days / A_YEAR)
    crown = next(w for w in moment.worn if w.place == 2)
    assert (crown.before, crown.at) == (0.0, pytest.approx(wear_on(record(), TESTED).wear_share))


def test_a_second_test_sees_the_wear_since_the_first() -> None:
    first, second = past(with_events(untested(), passed(), failed(TODAY))).moments
    assert [w.before for w in second.worn] == [w.at for w in first.worn]
    assert all(w.at > w.before for w in second.worn)
    assert second.what == Trial(1.0, passed=False)


def test_new_gaskets_begin_without_wear_at_their_own_place_alone() -> None:
    _, change, test = past(
        with_events(untested(), passed(), event("gaskets", seals=ALL[2:]), passed(TODAY))
    ).moments
    assert change.what == Opened(frozenset({2}))
    assert {w.place: w.before > 0 for w in test.worn} == {0: True, 1: True, 2: False}


def test_a_failure_new_gaskets_and_a_pass_of_one_day_are_read_in_that_order() -> None:
    service = [event("gaskets", TODAY, seals=ALL), passed(TODAY), failed(TODAY, medium="air")]
    kinds = [moment.what for moment in past(with_events(untested(), *service)).moments]
    assert kinds == [Trial(1.0, passed=False), Opened(frozenset({0, 1, 2})), Trial(1.0, passed=True)]


def test_the_days_exposures_count_only_when_the_test_came_after_them() -> None:
    asked: list[date] = []

    def sums(seal_id: int, up_to: date) -> Shares:
        asked.append(up_to)
        return Shares()

    past(record(), sums=sums)
    before = set(asked)
    asked.clear()
    past(record(passed(order=55)), sums=sums)
    assert (before, set(asked)) == ({TESTED - ONE_DAY}, {TESTED})


@pytest.mark.parametrize(
    ("said", "what"),
    [
        (passed(bar=10), Trial(1.0, passed=True)),
        (passed(bar=3), Trial(0.3, passed=True)),
        (failed(bar=5), Trial(0.5, passed=False)),
        (passed(bar=0.7, medium="vacuum"), Trial(0.07, passed=True)),
        (passed(bar=None), Trial(0.1, passed=True)),  # not written down: 1 bar
        (event("water-inside", TESTED), Trial(1.0, passed=False)),
        (event("battery", TESTED), Opened(frozenset())),
        (event("repaired", TESTED, repaired="crown-damaged"), Opened(frozenset())),
    ],
)
def test_what_an_event_is_to_the_law(said: Event, what: Trial | Opened) -> None:
    (moment,) = past(record(said)).moments
    assert moment.what == (what if isinstance(what, Opened) else pytest.approx(what))


@pytest.mark.parametrize(
    "said",
    [
        event("condensation-test", TESTED, passed=False),
        event("fog", TESTED, crystal_c=20.0, case_air_c=30.0),
        event("crystal-damaged", TESTED),
        event("strap", TESTED),
        passed(FITTED, order=15),  # before its seals were fitted
        passed(FITTED - ONE_DAY),
    ],
)
def test_what_is_nothing_to_the_law(said: Event) -> None:
    assert past(record(said)).moments == ()
    assert chance(record(said)) == chance(untested())


def test_a_test_asks_for_the_pass_that_its_use_needs_and_never_more_than_its_mark() -> None:
    asked = {
        (use, bar): proofs.pass_needed_by_use_pa(marked, PRACTICE) / BAR
        for use in ("diving", "swimming", "dry")
        for bar in (2, 5, 20)
        for marked in [watch(use=use, mark="water-resistant", marked_pa=bar * BAR)]
    }  # fmt: skip
    assert asked == {
        ("diving", 2): 2, ("diving", 5): 5, ("diving", 20): 10,
        ("swimming", 2): 2, ("swimming", 5): 3, ("swimming", 20): 3,
        ("dry", 2): 1, ("dry", 5): 1, ("dry", 20): 1,
    }  # fmt: skip
    unknown = watch(mark="unknown", marked_pa=None)
    assert proofs.pass_needed_by_use_pa(unknown, PRACTICE) == 10 * BAR


def test_to_a_lower_pressure_the_chance_is_better_and_to_a_higher_one_no_worse_than_to_its_own() -> None:
    own = chance(untested())
    assert chance(untested(), to_pa=3 * BAR) > own
    assert chance(untested(), to_pa=20 * BAR) == own


def test_a_shallow_pass_says_less_than_a_deep_one() -> None:
    shallow, deep = (chance(record(passed(TODAY - ONE_DAY, bar))) for bar in (1, 10))
    assert chance(untested()) < shallow < deep


def test_a_watch_without_any_seal_has_none() -> None:
    assert chance_of(replace(record(), seals=())) is None


# --------------------------------------------------------------- the maker's test


def test_the_makers_test_of_a_divers_watch_is_a_pass_and_no_test_of_the_owners() -> None:
    makers = replace(untested(), watch=watch(new_on=FITTED))
    (moment,) = past(makers).moments
    assert moment.what == Trial(1.0, passed=True, weighs=False)
    found = chance_of(makers)
    assert found is not None
    assert (found.tests_used, found.findings_used) == (0, 0)
    assert found.chance >= chance(untested())


def test_of_another_mark_the_maker_tests_samples() -> None:
    plain = watch(new_on=FITTED, mark="water-resistant")
    assert past(replace(untested(), watch=plain)).moments == ()


def test_the_makers_test_teaches_nothing_about_another_watch() -> None:
    own = record()
    assert chance_of(own, replace(other(), watch=replace(other().watch, new_on=FITTED))) == chance_of(own)


# --------------------------------------------------------------- a fitting that is not known


def of_unknown_fitting(*events: Event, span_years: int = 20) -> WatchRecord:
    first = FITTED.replace(year=FITTED.year - span_years)
    return replace(untested(), seals=seals(fitted=first, latest=FITTED), events=events)


def test_a_watch_of_which_no_fitting_is_known_is_tight_with_even_odds_before_its_first_test() -> None:
    assert chance(of_unknown_fitting()) == pytest.approx(0.5 * 0.98 + 0.5 * 0.04, abs=0.001)
    first, second = past(of_unknown_fitting(passed(), passed(TODAY, id=2))).moments
    assert (first.untold, second.untold) == (True, False)
    assert chance(of_unknown_fitting(passed(TODAY))) > 0.9


def test_a_fitting_known_within_three_years_is_taken_at_its_middle() -> None:
    (moment,) = past(of_unknown_fitting(passed(), span_years=2)).moments
    assert not moment.untold
    assert all(w.at > 0 for w in moment.worn)


# --------------------------------------------------------------- what all watches teach


def test_a_failure_of_one_watch_lowers_the_chance_of_another_and_a_pass_raises_it() -> None:
    own, on = diver(), years(4)
    late = replace(diver(), watch=replace(diver().watch, id=2))
    assert chance(own, replace(late, events=(failed(on, id=1),)), on=on) < chance(own, on=on) - 0.005
    assert chance(own, replace(late, events=(passed(on, id=1),)), on=on) > chance(own, on=on) + 0.001


def test_every_test_of_every_watch_is_counted() -> None:
    found = chance_of(record(passed(), event("water-inside", TODAY, id=2)), other(failed(), passed(TODAY)))
    assert found is not None
    assert found.tests_used == 4
    assert found.basis == "after 4 tests of yours"


def test_an_earlier_day_knows_nothing_of_tests_that_came_later() -> None:
    whole = record(passed(TESTED), passed(TESTED + timedelta(days=30), id=2))
    assert learned(whole, on=TESTED + timedelta(days=10)).tests_used == 1


def test_a_pass_that_is_only_supposed_counts_as_one_that_was_read() -> None:
    own, passes = untested(), passed(TODAY, id=None)
    supposed = learned(own, other(failed())).chance_of(
        replace(own, events=(passes,)), standing.wear_of(own, PRACTICE, TODAY), TODAY
    )
    read = chance_of(replace(own, events=(passes,)), other(failed()))
    assert supposed is not None
    assert read is not None
    assert supposed.chance == pytest.approx(read.chance, abs=1e-9)
    assert supposed.tests_used == read.tests_used == 2


def test_the_same_record_on_the_same_day_has_the_same_chance_whatever_was_asked_before() -> None:
    own, others = record(), other(failed(), passed(TODAY))
    foresight = learned(own, others)
    wears = standing.wear_of(own, PRACTICE, TODAY)
    first = foresight.chance_of(own, wears, TODAY)
    foresight.chance_of(others, standing.wear_of(others, PRACTICE, TODAY), TODAY, to_pa=BAR)
    assert (
        foresight.chance_of(own, wears, TODAY) == first == learned(own, others).chance_of(own, wears, TODAY)
    )
    assert learned(others, own).chance_of(own, wears, TODAY).chance == pytest.approx(first.chance, rel=1e-9)


def test_more_wear_in_the_ledger_before_a_test_moves_what_the_test_teaches() -> None:
    def salty(seal_id: int, up_to: date) -> Shares:
        return Shares(salt=0.01 * (up_to - FITTED).days)

    own = untested()
    light = chance(own, other(failed()))
    heavy = chance(own, other(failed()), sums=salty)
    assert heavy != light


# --------------------------------------------------------------- no chance to speak of


def test_the_trouble_of_one_watch_leaves_another_its_chance() -> None:
    assert chance_of(record(), other(event("fog"), failed())) is not None


@pytest.mark.parametrize(
    ("whole", "why"),
    [
        (with_events(untested(), passed(), failed(TODAY)), "while something stands: failed-test"),
        (with_events(untested(), passed(), event("water-inside")), "while something stands: water-inside"),
    ],
)
def test_why_there_is_none_is_said_in_words(whole: WatchRecord, why: str) -> None:
    stands = standing.stand(whole, PRACTICE, TODAY, learned(whole))
    assert (stands.chance, stands.why_no_chance) == (None, why)


def test_after_the_mending_and_a_pass_there_is_one_again() -> None:
    service = [failed(TODAY), event("gaskets", TODAY, seals=ALL), passed(TODAY)]
    whole = with_events(untested(), *service)
    assert standing.stand(whole, PRACTICE, TODAY, learned(whole)).chance is not None
