"""What moves the date most: one constant at a time, at its low and at its high."""

from __future__ import annotations

from datetime import date, timedelta

from logbook.model.predict.draws import STATED
from logbook.model.predict.levers import Lever, levers_of
from tests.model.builders import PRACTICE, TODAY, crown_of, exposure, practice_with, record, seals
from tests.model.outsets import EXACT, outset

LONG_AGO = date(2022, 6, 1)


def levers(*dives_a_week: int, constants: object = PRACTICE, **given: object) -> dict[str, Lever]:
    dives = [
        exposure(starts_on=TODAY - timedelta(days=7 * week + 1))
        for week in range(100)
        for _ in range(sum(dives_a_week))
    ]
    plain = {"recorded_from": LONG_AGO, "seals": seals(fitted=LONG_AGO)}
    of = outset(record(**(plain | given)), dives)
    return {lever.name: lever for lever in levers_of(of, crown_of(of.record), PRACTICE).each}


def test_the_constant_that_moves_it_most_comes_first() -> None:
    found = list(levers(1).values())
    assert [lever.days for lever in found] == sorted((lever.days for lever in found), reverse=True)
    assert all(lever.days >= 1 for lever in found)


def test_a_material_of_short_life_is_used_up_sooner() -> None:
    lever = levers()["years NBR"]
    assert lever.at_low is not None
    assert lever.at_high is None or lever.at_low < lever.at_high


def test_a_cycle_that_costs_more_is_used_up_sooner() -> None:
    lever = levers(1)["N_t"]
    assert lever.at_low is not None
    assert lever.at_high is not None
    assert lever.at_low < lever.at_high


def test_what_the_watch_never_met_is_not_listed() -> None:
    dry, wet = levers(), levers(1)
    assert {"H_salt", "N_p", "m_s crown-screwed"} & set(dry) == set()
    assert {"H_salt", "m_s crown-screwed"} <= set(wet)
    assert {"H_pool", "U_under"} & set(wet) == set()
    assert STATED not in wet


def test_an_unknown_fitting_date_and_the_use_before_the_log_are_among_them() -> None:
    fitted = seals(fitted=date(2022, 1, 1), latest=date(2023, 6, 1))
    unknown = levers(seals=fitted, use="swimming", recorded_from=date(2024, 1, 1), worn_h=0.0, winds=0.0)
    assert STATED in unknown
    assert any(name.startswith("fitted ") for name in unknown)


def test_constants_without_a_range_move_nothing() -> None:
    exact = practice_with(EXACT)
    of = outset(record(recorded_from=LONG_AGO), constants=exact)
    assert levers_of(of, crown_of(of.record), exact).each == ()
