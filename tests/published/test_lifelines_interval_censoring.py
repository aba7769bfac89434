"""The outlook's likelihood against lifelines: interval-censored Weibull fits without a prior.

Source: lifelines 0.30, `WeibullFitter.fit_interval_censoring` (maximum likelihood of S(t) = exp(−(t/λ)^ρ)),
on samples drawn here with fixed seeds. Tolerance: 1 % of scale and shape. A chain of tests of one seal is one
interval to lifelines: from its last pass to its failure, or from its last pass on.
"""

from __future__ import annotations

import math
import random

import pytest
from lifelines import WeibullFitter

from logbook.reckoning.outlook import Trial, mode_without_prior

# seed, true scale, true shape, seals
SAMPLES = [(1, 1.5, 2.0, 40), (2, 2.2, 2.5, 60), (3, 0.8, 1.2, 50), (4, 3.0, 4.0, 80), (5, 1.0, 1.0, 120)]
SAMPLES += [(6, 1.8, 3.0, 200)]


def chains(seed: int, scale: float, shape: float, seals: int) -> list[list[Trial]]:
    """The tests of each seal until its first failure, at growing wear shares."""
    draw = random.Random(seed)
    found = []
    for _ in range(seals):
        fails_at = draw.weibullvariate(scale, shape)
        chain: list[Trial] = []
        before = 0.0
        for _ in range(draw.randint(1, 3)):
            at = before + draw.uniform(0.2, 0.9) * scale
            chain.append(Trial(before, at, opened=False, passed=at < fails_at))
            before = at
            if not chain[-1].passed:
                break
        found.append(chain)
    return found


def as_interval(chain: list[Trial]) -> tuple[float, float]:
    """The interval in which a seal failed, as its last test tells."""
    last = chain[-1]
    return (last.at, math.inf) if last.passed else (last.before, last.at)


@pytest.mark.parametrize(("seed", "scale", "shape", "seals"), SAMPLES)
def test_the_mode_without_a_prior_is_lifelines_fit(seed: int, scale: float, shape: float, seals: int) -> None:
    drawn = chains(seed, scale, shape, seals)
    intervals = [as_interval(chain) for chain in drawn]
    fit = WeibullFitter().fit_interval_censoring(
        [low for low, _ in intervals], [high for _, high in intervals]
    )
    found_scale, found_shape = mode_without_prior([test for chain in drawn for test in chain])
    assert found_scale == pytest.approx(fit.lambda_, rel=0.01)
    assert found_shape == pytest.approx(fit.rho_, rel=0.01)
