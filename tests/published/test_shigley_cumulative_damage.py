"""Palmgren and Miner's rule: a worked example of a textbook of mechanics, through the pressure channel.

Source: R. G. Budynas, J. K. Nisbett, Shigley's Mechanical Engineering Design, 9th edition, section 6–15
(cumulative fatigue damage), pages 325 and 326, looked up: a steel that withstands 72 kpsi for 10³ and 40 kpsi
for 10⁶ reversals is stressed at 60 kpsi for 3000 of its N₁ = 8520; 5520 are left, or 0.648·10⁶ at 40 kpsi, or
10⁶ at 38.6 kpsi (this last figure from memory). Its line of lives is a power law with the printed slope
b = −0.085 091, so that no law had to be fitted.
Tolerance: 0.1 % for three printed digits of a life; 38.6 beside its use.
"""

from __future__ import annotations

import itertools

import pytest

from logbook.model.wear import wear
from logbook.model.wear.cycles import Cycle
from tests.model.builders import PRACTICE, exposure, practice_with, watch

KPSI_AS_PA = 1e5  # a stand-in: only the ratio of a range to the reference counts
B = -0.085_091
LIMIT_KPSI, LIMIT_CYCLES = 40, 1e6  # endurance limit of the undamaged steel
STEEL = practice_with(
    f"[constants.n_p]\nvalue = {-1 / B}\nlow = 1\nhigh = 20\n"
    f"[constants.N_p]\nvalue = {LIMIT_CYCLES}\nlow = 1e3\nhigh = {LIMIT_CYCLES}\n"
)


def damage(*blocks: tuple[float, float]) -> float:
    """The pressure channel of the case back, whose factor is 1, for blocks of (kpsi, cycles)."""
    cycles = tuple(Cycle(kpsi * KPSI_AS_PA, 0.0, count) for kpsi, count in blocks)
    marked = watch(marked_pa=LIMIT_KPSI * KPSI_AS_PA)
    assert PRACTICE.seals["case-back"].m_p == 1
    course = wear.Course(cycles, (), 1.0)
    return wear.water_shares(exposure(), "case-back", marked, STEEL, course).pressure


@pytest.mark.parametrize(
    ("kpsi", "life", "tolerance"),
    [(72, 1e3, 1e-3), (60, 8520, 1e-3), (40, 1e6, 1e-12)],
)
def test_one_stress_uses_the_whole_life_in_the_cycles_printed(
    kpsi: float, life: float, tolerance: float
) -> None:
    assert damage((kpsi, life)) == pytest.approx(1, rel=tolerance)


def test_three_thousand_cycles_leave_what_the_book_leaves() -> None:
    assert damage((60, 3000)) == pytest.approx(3000 / 8520, rel=1e-3)
    assert damage((60, 3000), (60, 5520)) == pytest.approx(1, rel=1e-3)
    assert damage((60, 3000), (40, 0.648e6)) == pytest.approx(1, rel=1e-3)


def test_the_endurance_limit_falls_to_that_of_the_figure() -> None:
    # 38.6 is printed to 0.05 of 38.6; the life goes with the power 11.75 of it: 1.5 %.
    assert damage((60, 3000), (38.6, 1e6)) == pytest.approx(1, rel=0.015)


def test_in_whichever_order_the_blocks_come_the_damage_is_the_same() -> None:
    """What the book holds against the rule: that it does not look at the order."""
    blocks = [(60, 3000), (40, 1e5), (50, 2000), (72, 11)]
    sums = {damage(*order) for order in itertools.permutations(blocks)}
    assert len(sums) == 1


def test_a_block_may_be_cut_into_smaller_ones() -> None:
    assert damage(*[(60, 30)] * 100) == pytest.approx(damage((60, 3000)), rel=1e-12)
