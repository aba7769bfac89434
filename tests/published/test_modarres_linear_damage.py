"""Palmgren and Miner's rule: lives that are given one by one, as the `reliability` library adds them.

Source: documentation of the `reliability` library, `PoF.palmgren_miner_linear_damage`, its example and the
printed answer; after M. Modarres, M. Amiri, C. Jackson, Probabilistic Physics of Failure Approach to
Reliability (2017), pages 33–37. Ball bearings live 50 000, 6500 and 1000 hours at 1, 2 and 4 kN; each hour of
use is 40, 15 and 5 minutes of these. The three lives follow no one power law, so each is taken as the
reference of its own; between two neighbours, a power law is put exactly through both.
Tolerance: half a unit of the last printed digit.
"""

from __future__ import annotations

import math

import pytest

from logbook.model.wear.cycles import Cycle
from logbook.model.wear.wear import miner

LIFE_H = {1: 50_000, 2: 6_500, 4: 1_000}
AN_HOUR_OF_USE_H = {1: 40 / 60, 2: 15 / 60, 4: 5 / 60}
SERVICE_LIFE = 7400.37951  # of such hours
PART_PCT = {1: 9.86717, 2: 28.463, 4: 61.66983}
USED_PCT = 0.01351


def through(one: int, other: int) -> float:
    """The exponent of the power law through two of the lives."""
    return math.log(LIFE_H[one] / LIFE_H[other]) / math.log(other / one)


def used(*loads: int, reference: int, exponent: float) -> float:
    """The part of the bearing's life that an hour of use takes at these loads."""
    cycles = [Cycle(load, 0.0, AN_HOUR_OF_USE_H[load]) for load in loads]
    return miner(cycles, reference, exponent) / LIFE_H[reference]


ALONE = {load: used(load, reference=load, exponent=3) for load in LIFE_H}


def test_an_hour_of_use_takes_the_printed_part_of_the_life() -> None:
    total = sum(ALONE.values())
    assert 100 * total == pytest.approx(USED_PCT, abs=0.5e-5)
    assert 1 / total == pytest.approx(SERVICE_LIFE, abs=0.5e-5)


@pytest.mark.parametrize("load", LIFE_H)
def test_each_load_has_the_printed_part_of_the_damage(load: int) -> None:
    assert 100 * ALONE[load] / sum(ALONE.values()) == pytest.approx(PART_PCT[load], abs=0.5e-3)


@pytest.mark.parametrize(("one", "other"), [(1, 2), (2, 4), (1, 4)])
@pytest.mark.parametrize("reference_is_the_first", [True, False])
def test_two_loads_on_one_power_law_add_up_to_their_parts(
    one: int, other: int, reference_is_the_first: bool
) -> None:
    reference = one if reference_is_the_first else other
    both = used(one, other, reference=reference, exponent=through(one, other))
    assert 100 * SERVICE_LIFE * both == pytest.approx(PART_PCT[one] + PART_PCT[other], abs=1e-3)
