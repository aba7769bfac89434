"""The likelihood behind the chance against lifelines: interval-censored Weibull fits without a prior.

Source: lifelines 0.30, `WeibullFitter.fit_interval_censoring` (maximum likelihood of S(t) = exp(−(t/λ)^ρ)),
on samples drawn here with fixed seeds. Tolerance: 1 % of scale and shape. One seal, tests to the reference
pressure that never err, no leak by chance and none by an opening: then a chain of tests is one interval to
lifelines, from its last pass to its failure, or from its last pass on. The likelihood is what weighs the
draws of the number on the screen.
"""

from __future__ import annotations

import math
import random
from typing import Any

import numpy as np
import pytest

from logbook.model.predict import chance
from logbook.model.predict.chance import Laws, Moment, Trial, Worn

# seed, true scale, true shape, seals
SAMPLES = [(1, 1.5, 2.0, 40), (2, 2.2, 2.5, 60), (3, 0.8, 1.2, 50), (4, 3.0, 4.0, 80), (5, 1.0, 1.0, 120)]
SAMPLES += [(6, 1.8, 3.0, 200)]
STEPS, ROUNDS = 21, 16

Chain = list[Moment]


def fitter() -> Any:
    """The library's own; it takes a second to load, which only these tests need to wait for."""
    from lifelines import WeibullFitter

    return WeibullFitter()


def chains(seed: int, scale: float, shape: float, seals: int) -> list[Chain]:
    """The tests of each seal until its first failure, at growing wear shares."""
    draw = random.Random(seed)
    found = []
    for _ in range(seals):
        fails_at = draw.weibullvariate(scale, shape)
        chain: Chain = []
        before = 0.0
        for _ in range(draw.randint(1, 3)):
            at = before + draw.uniform(0.2, 0.9) * scale
            chain.append(Moment(1.0, [Worn(0, before, at)], Trial(1.0, passed=at < fails_at)))
            before = at
            if at >= fails_at:
                break
        found.append(chain)
    return found


def as_interval(chain: Chain) -> tuple[float, float]:
    """The interval in which a seal failed, as its last test tells."""
    ((_, before, at),), test = chain[-1].worn, chain[-1].what
    assert isinstance(test, Trial)
    return (at, math.inf) if test.passed else (before, at)


def log_likelihood(drawn: list[Chain], scale: np.ndarray, shape: np.ndarray) -> np.ndarray:
    """By scale and shape, how likely the tests were: the weight that the chance gives a draw of the law."""
    none = np.zeros_like(scale)
    laws = Laws(scale, shape, hazard=none, opening=none, miss=none, alarm=none)
    return sum(chance.live(laws, chance.begin(laws, 1), chain).log_weight for chain in drawn)


def mode(drawn: list[Chain]) -> tuple[float, float]:
    """The scale and shape with the greatest likelihood, by a grid in logarithms that closes in on it."""
    centre, reach = np.zeros(2), 3.0
    for _ in range(ROUNDS):
        steps = np.linspace(-reach, reach, STEPS)
        scale, shape = (np.exp(c + s).ravel() for c, s in zip(centre, np.meshgrid(steps, steps), strict=True))
        best = int(np.argmax(log_likelihood(drawn, scale, shape)))
        centre = np.log([scale[best], shape[best]])
        reach *= 0.5
    return float(np.exp(centre[0])), float(np.exp(centre[1]))


@pytest.mark.parametrize(("seed", "scale", "shape", "seals"), SAMPLES)
def test_without_priors_and_errors_the_likelihood_is_greatest_at_lifelines_fit(
    seed: int, scale: float, shape: float, seals: int
) -> None:
    drawn = chains(seed, scale, shape, seals)
    intervals = [as_interval(chain) for chain in drawn]
    fit = fitter().fit_interval_censoring([low for low, _ in intervals], [high for _, high in intervals])
    assert mode(drawn) == pytest.approx((fit.lambda_, fit.rho_), rel=0.01)


@pytest.mark.parametrize(("seed", "scale", "shape", "seals"), SAMPLES)
def test_the_greatest_likelihood_itself_is_lifelines(
    seed: int, scale: float, shape: float, seals: int
) -> None:
    drawn = chains(seed, scale, shape, seals)
    intervals = [as_interval(chain) for chain in drawn]
    fit = fitter().fit_interval_censoring([low for low, _ in intervals], [high for _, high in intervals])
    found = log_likelihood(drawn, np.array([fit.lambda_]), np.array([fit.rho_]))
    assert found[0] == pytest.approx(fit.log_likelihood_, rel=1e-6)
