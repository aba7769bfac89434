"""One pass over all exposures gives what each gives alone, to the last digit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from random import Random
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.model.practice import Practice
from logbook.model.values import DAY_ORDER, Exposure, ProfilePoint, Seal, Shares, WatchRecord
from logbook.model.wear import bulk, charge, profiles
from logbook.model.wear.clock import spend
from logbook.model.wear.columns import columns_of
from tests.effort import tries
from tests.model.builders import ONE_DAY, PRACTICE, TODAY, exposure, practice_with, record, sauna, seals
from tests.model.shapes import dive, square
from tests.record import making

# Broken exponents and short lags: what a power and an exponential give in the last place shows.
OTHER = practice_with(
    "[constants.n_p]\nvalue = 2.37\n[constants.n_t]\nvalue = 1.61\n[constants.lag_water_min]\nvalue = 3.3\n"
    "[constants.lag_wrist_min]\nvalue = 11.1\n[constants.Ea]\nvalue = 77.7\n"
)
Charged = dict[int, dict[int, tuple[Shares, bool]]]


def one_by_one(whole: WatchRecord, exposures: Sequence[Exposure], practice: Practice) -> Charged:
    found = charge.charge_exposures(whole, exposures, practice)
    return {e: {s: (c.shares, c.counted) for s, c in by_seal.items()} for e, by_seal in found.items()}


def in_one_pass(whole: WatchRecord, exposures: Sequence[Exposure], practice: Practice) -> Charged:
    spent = spend(exposures, *charge.hours_left(whole))
    found = bulk.charge_all(whole, columns_of(exposures), spent, practice)
    charged: Charged = {e.id or 0: {} for e in exposures}
    for exposure_id, seal_id, shares, counted in zip(
        found.exposure_id.tolist(), found.seal_id.tolist(), found.shares.tolist(), found.counted.tolist(),
        strict=True,
    ):  # fmt: skip
        charged[exposure_id][seal_id] = Shares(*shares), counted
    return charged


def numbered(exposures: Sequence[Exposure]) -> list[Exposure]:
    return [replace(e, id=n) for n, e in enumerate(exposures, start=1)]


# --------------------------------------------------------------- what may be on record

NEAR = st.dates(date(2024, 1, 1), date(2024, 1, 20))


@st.composite
def shapes(draw: Any, of: Exposure) -> tuple[ProfilePoint, ...]:
    """Points at any milliseconds, often at one temperature for a while, or at none."""
    count = draw(st.integers(0, 12))
    dice = draw(st.randoms(use_true_random=False))
    times = sorted({dice.randint(0, of.duration_s * 1000 + 999) for _ in range(count)})
    told = draw(st.sampled_from(["never", "always", "now and then"]))
    hottest = 120.0 if of.water == "air" else 60.0
    water_c, points = of.water_c, []
    for at_ms in times:
        if dice.random() < 0.5:
            water_c = min(hottest, max(-3.0, round(water_c + dice.choice([0.1, -0.1, 3.0, -20.0]), 3)))
        silent = told == "never" or (told == "now and then" and dice.random() < 0.5)
        depth_m = dice.choice([0.0, of.depth_m, round(dice.uniform(0, 1.2 * of.depth_m), 3)])
        points.append(ProfilePoint(at_ms / 1000, depth_m, None if silent else water_c))
    return tuple(points)


@st.composite
def contacts(draw: Any) -> Exposure:
    found = draw(making.exposures(on=NEAR))
    return replace(found, profile=draw(shapes(found)))


@st.composite
def records(draw: Any) -> WatchRecord:
    """Marks, crowns and pushers; seals that follow one another, some with a range of dates; worn hours."""
    fitted = draw(st.lists(making.seals(), max_size=8))
    near = [
        replace(
            seal,
            fitted_earliest=first,
            fitted_latest=first + timedelta(days=draw(st.integers(0, 30))),
            order=draw(st.sampled_from([20, 49, 50, 51])),
            event_id=draw(st.sampled_from([None, 1])),
            id=n,
        )
        for n, seal in enumerate(fitted, start=1)
        for first in [draw(st.dates(date(2023, 12, 10), date(2024, 1, 20)))]
    ]
    watch = replace(draw(making.watches()), recorded_from=draw(NEAR), id=1)
    habits = [
        replace(habit, from_on=first, to_on=draw(st.sampled_from([first, first + 3 * ONE_DAY, None])))
        for habit in draw(st.lists(making.habits(), max_size=3))
        for first in [draw(NEAR)]
    ]
    stretches = draw(st.lists(making.stretches(), max_size=4))
    return WatchRecord(watch, tuple(near), {}, habits=tuple(habits), stretches=tuple(stretches))


PRACTICES = st.sampled_from([PRACTICE, OTHER])


@settings(max_examples=tries(200))
@given(whole=records(), exposures=st.lists(contacts(), max_size=12).map(numbered), practice=PRACTICES)
def test_one_pass_over_all_gives_every_digit_that_each_gives_alone(
    whole: WatchRecord, exposures: list[Exposure], practice: Practice
) -> None:
    assert in_one_pass(whole, exposures, practice) == one_by_one(whole, exposures, practice)


def test_a_long_record_of_every_kind_of_water_differs_in_no_digit() -> None:
    dice = Random(7)
    waters = ["sea", "brackish", "fresh", "pool", "soap", "hot tub", "air"]
    fitted = [*seals(), *(Seal("crown", "FKM", TODAY - 40 * ONE_DAY * n, TODAY, id=9 + n) for n in range(5))]
    found = []
    for n in range(1, 1_501):
        water = dice.choice(waters)
        depth_m, minutes = round(dice.uniform(0.1, 60), 3), dice.randint(1, 200)
        shape = square(depth_m, minutes + 2) if n % 3 == 0 else ()
        found.append(
            exposure(
                water=water, depth_m=depth_m, gauge_pa=float(round(depth_m * 1e4)), profile=shape, id=n,
                duration_s=(minutes + 2) * 60, starts_on=TODAY - dice.randint(0, 250) * ONE_DAY,
                water_c=round(dice.uniform(-2, 110 if water == "air" else 45), 3), dips=dice.randint(1, 9),
                from_c=round(dice.uniform(20, 36), 3), salinity=round(dice.uniform(0, 42), 3),
                rinsed=dice.random() < 0.5, crown_wet=dice.randint(0, 3), crown_under=dice.randint(0, 3),
            )
        )  # fmt: skip
    whole = record(seals=tuple(fitted))
    assert in_one_pass(whole, found, OTHER) == one_by_one(whole, found, OTHER)


@pytest.mark.parametrize(
    "alone",
    [
        dive((0, 0.0, 20.0), (10, 18.0, 8.0), (30, 18.0, 8.0), (40, 0.0, 20.0)),
        dive((0, 0.0), (20, 18.0), (45, 0.0)),
        exposure(profile=square(18.0, 45.0)[:1]),
        exposure(duration_s=0, profile=square(18.0, 45.0)[:2]),
        sauna(profile=(ProfilePoint(0.0, 0.0, 70.0), ProfilePoint(900.0, 0.0, 95.0))),
    ],
    ids=["measured", "without temperatures", "one point", "no time", "sauna"],
)
def test_each_shape_alone_is_the_same_in_one_pass(alone: Exposure) -> None:
    of = [replace(alone, id=1)]
    assert in_one_pass(record(), of, PRACTICE) == one_by_one(record(), of, PRACTICE)


@pytest.mark.parametrize("order", [49, 50, 51])
def test_a_seal_that_is_replaced_on_the_day_meets_the_same_exposures_in_one_pass(order: int) -> None:
    """Before the water of that day, at its own place in the day, and after it."""
    first = Seal("crown", "NBR", TODAY - 40 * ONE_DAY, TODAY - 40 * ONE_DAY, id=1)
    second = Seal("crown", "FKM", TODAY, TODAY, order, id=2)
    assert DAY_ORDER["exposure"] == 50
    of = [exposure(id=1, starts_on=TODAY)]
    assert in_one_pass(record(seals=(first, second)), of, PRACTICE) == one_by_one(
        record(seals=(first, second)), of, PRACTICE
    )


def test_without_exposures_or_seals_nothing_is_charged() -> None:
    assert in_one_pass(record(), [], PRACTICE) == {}
    assert in_one_pass(record(seals=()), [exposure(id=1)], PRACTICE) == {1: {}}


def test_the_rules_of_integration_are_those_of_gauss_and_legendre() -> None:
    """Oracle: numpy.polynomial.legendre.leggauss, from [-1, 1] to [0, 1]."""
    from numpy.polynomial.legendre import leggauss

    for _, rule in profiles.RULES:
        nodes, weights = leggauss(len(rule))
        assert [node for node, _ in rule] == pytest.approx((nodes + 1) / 2, abs=1e-15)
        assert [weight for _, weight in rule] == pytest.approx(weights / 2, abs=1e-15)
