"""The seals a watch comes with: which places, of what, and since when."""

from __future__ import annotations

from datetime import date

import pytest

from logbook.model.fitting import Fitted, initial_seals, last_pass_on, places
from logbook.model.values import Event, Seal, Watch
from tests.model.builders import watch

ADDED = date(2024, 9, 1)


def fitted(
    owner: Watch, material: str = "NBR", told: Fitted | None = None, **single: Fitted
) -> dict[str, Seal]:
    by_place = {name.replace("_", "-"): what for name, what in single.items()}
    made = initial_seals(owner, material, told or Fitted(), by_place)
    return {s.position: s for s in made}


def span(one: Seal) -> tuple[date, date]:
    return one.fitted_earliest, one.fitted_latest


@pytest.mark.parametrize(
    ("pushers", "gas_valve", "expected"),
    [
        (False, False, ("case-back", "crystal", "crown")),
        (True, False, ("case-back", "crystal", "crown", "pushers")),
        (False, True, ("case-back", "crystal", "crown", "gas-valve")),
        (True, True, ("case-back", "crystal", "crown", "pushers", "gas-valve")),
    ],
)
def test_a_watch_has_the_places_it_has(pushers: bool, gas_valve: bool, expected: tuple[str, ...]) -> None:
    owner = watch(pushers=pushers, gas_valve=gas_valve)
    assert places(owner) == expected
    assert tuple(fitted(owner)) == expected


def test_a_known_date_is_the_same_at_both_ends() -> None:
    on = date(2023, 5, 4)
    assert {span(s) for s in fitted(watch(), told=Fitted(earliest=on)).values()} == {(on, on)}


def test_a_range_stays_a_range() -> None:
    first, last = date(2022, 1, 1), date(2022, 12, 31)
    assert span(fitted(watch(), told=Fitted(earliest=first, latest=last))["crown"]) == (first, last)


@pytest.mark.parametrize("material", ["NBR", "FKM", "NR", "unknown"])
def test_an_unknown_date_with_nothing_else_known_reaches_back_thirty_years(material: str) -> None:
    one = fitted(watch(added_on=ADDED), material)["crystal"]
    assert span(one) == (date(1994, 9, 1), ADDED)


@pytest.mark.parametrize("bought", [date(1998, 1, 1), date(2024, 8, 20)])
def test_an_unknown_date_reaches_back_to_the_purchase(bought: date) -> None:
    one = fitted(watch(added_on=ADDED, bought_on=bought))["crown"]
    assert span(one) == (bought, ADDED)


@pytest.mark.parametrize("bought", [None, date(2015, 1, 1)])
def test_an_unknown_date_reaches_back_to_the_first_year_in_which_the_watch_may_have_been_made(
    bought: date | None,
) -> None:
    one = fitted(watch(added_on=ADDED, bought_on=bought, made_from=1970, made_to=1979))["crown"]
    assert span(one) == (date(1970, 1, 1), ADDED)


def test_an_unknown_date_reaches_up_to_the_last_pass_that_is_told() -> None:
    passed = date(2023, 5, 1)
    owner = watch(added_on=ADDED, made_from=1990, made_to=1999)
    made = initial_seals(owner, "NBR", Fitted(), {}, last_pass=passed)
    assert {span(one) for one in made} == {(date(1990, 1, 1), passed)}


def test_a_pass_before_the_purchase_leaves_the_seals_of_its_day() -> None:
    passed = date(2014, 5, 1)
    owner = watch(added_on=ADDED, bought_on=date(2015, 1, 1))
    made = initial_seals(owner, "NBR", Fitted(), {}, last_pass=passed)
    assert {span(one) for one in made} == {(passed, passed)}


def test_a_date_that_is_told_is_not_stretched_by_a_pass() -> None:
    told = Fitted(earliest=date(2020, 1, 1), latest=date(2020, 12, 31))
    made = initial_seals(watch(added_on=ADDED), "NBR", told, {}, last_pass=date(2023, 5, 1))
    assert {span(one) for one in made} == {(date(2020, 1, 1), date(2020, 12, 31))}


def test_bought_new_the_seals_are_of_that_day() -> None:
    new = date(2022, 6, 7)
    assert span(fitted(watch(added_on=ADDED, new_on=new, bought_on=new))["case-back"]) == (new, new)


def test_a_date_told_for_all_seals_wins_over_the_day_it_was_new() -> None:
    told = date(2023, 1, 2)
    one = fitted(watch(new_on=date(2020, 1, 1)), told=Fitted(earliest=told))["crown"]
    assert span(one) == (told, told)


def test_a_seal_told_on_its_own_keeps_its_material_and_its_date() -> None:
    made = fitted(
        watch(added_on=ADDED),
        told=Fitted(earliest=date(2023, 1, 1)),
        crown=Fitted("FKM", date(2024, 1, 10), date(2024, 1, 10)),
    )
    assert (made["crown"].material, span(made["crown"])[0]) == ("FKM", date(2024, 1, 10))
    assert (made["crystal"].material, span(made["crystal"])[0]) == ("NBR", date(2023, 1, 1))


def test_a_material_told_alone_takes_the_date_of_the_others() -> None:
    made = fitted(watch(), told=Fitted(earliest=date(2023, 1, 1)), case_back=Fitted("VMQ"))
    assert (made["case-back"].material, span(made["case-back"])[0]) == ("VMQ", date(2023, 1, 1))


def test_added_on_a_leap_day_the_count_back_ends_on_the_last_of_february() -> None:
    one = fitted(watch(added_on=date(2024, 2, 29)))["crown"]
    assert one.fitted_earliest == date(1994, 2, 28)


def test_a_pass_after_a_watch_came_on_record_leaves_its_seals_those_that_it_came_with() -> None:
    owner = watch(added_on=ADDED, made_from=1990, made_to=1999)
    made = initial_seals(owner, "NBR", Fitted(), {}, last_pass=date(2025, 5, 1))
    assert {span(one) for one in made} == {(date(1990, 1, 1), ADDED)}


def test_of_several_tests_the_last_that_was_passed_counts() -> None:
    days = {date(2024, 3, 1): True, date(2026, 3, 1): True, date(2025, 3, 1): True, date(2026, 9, 1): False}
    tests = [Event("pressure-test", on, 40, passed=passed, test_pa=1e6) for on, passed in days.items()]
    assert last_pass_on([*tests, Event("condensation-test", date(2026, 10, 1), 40, passed=True)]) == date(
        2026, 3, 1
    )
    assert last_pass_on(tests[-1:]) is None
