"""The outlook: the chance that a pressure test today would pass, learned from the owner's own tests.

A Weibull law in wear share, not in time, interval-censored: a test tells only that a seal had, or had not,
failed by its wear share then. Passes of one seal chain, so that each test counts once. See docs/method.md.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

from logbook.reckoning.practice import Practice

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Grid = NDArray[np.float64]

Z90 = 1.2815515655446004  # 90 % point of the standard normal law
REACH = 4.0  # standard deviations of the prior that the grid spans on either side
NODES_SCALE, NODES_SHAPE, NODES_FAULT = 48, 32, 24
LARGEST = 700.0  # exponents beyond it overflow
SMALLEST = 1e-12  # a test that the model calls impossible: assembly and measurement have their own faults


class Trial(NamedTuple):
    """One pressure test of one seal: its wear share at the last pass before (0: none) and at the test."""

    before: float
    at: float
    opened: bool  # opened between that pass and the test
    passed: bool


@dataclass(frozen=True, slots=True)
class Outlook:
    """A chance with its 80 % band, and how many of the owner's tests stand behind it."""

    chance: float
    low: float
    high: float
    tests_used: int

    @property
    def prior_only(self) -> bool:
        """True when no test of the owner's stands behind it."""
        return self.tests_used == 0

    @property
    def words(self) -> str:
        """`97 % (91–99), 3 tests of all your watches`, or what stands behind it when there is no test."""
        band = f"{_percent(self.chance)} % ({_percent(self.low)}–{_percent(self.high)})"
        if self.prior_only:
            return f"{band}, prior only, 0 tests"
        return f"{band}, {self.tests_used} test{'s' if self.tests_used != 1 else ''} of all your watches"


def _percent(chance: float) -> str:
    """A chance in percent; never 0 nor 100, which no bookkeeping can say."""
    return str(min(99, max(1, round(100 * chance))))


@dataclass(frozen=True)
class Posterior:
    """The weight of every (scale, shape, fault) on a grid, after the tests; sums to 1."""

    scale: Grid  # λ, wear share at which e⁻¹ of the seals are left
    shape: Grid  # k
    fault: Grid  # q, the chance of an assembly fault at an opening
    weight: Grid  # by scale, shape, fault
    tests_used: int

    @cached_property
    def _weight_without_fault(self) -> Grid:
        marginal: Grid = self.weight.sum(axis=2)
        return marginal

    def outlook(self, before: float, now: float, opened: bool) -> Outlook:
        """The chance today of a seal with these wear shares at its last pass and now.

        (1 − q*)·exp[(D₁/λ)^k − (D/λ)^k], q* = q when opened since that pass, else 0.
        """
        import numpy as np

        chance = np.exp(_log_survival(self.scale, self.shape, before, now))
        weight = self._weight_without_fault
        if opened:
            chance = chance[:, :, None] * (1 - self.fault)
            weight = self.weight
        mean = float((chance * weight).sum())
        order = np.argsort(chance.ravel())
        values, sums = chance.ravel()[order], np.cumsum(weight.ravel()[order])
        at = np.minimum(np.searchsorted(sums, (0.1, 0.9)), len(values) - 1)
        low, high = float(values[at[0]]), float(values[at[1]])
        return Outlook(mean, min(low, mean), max(high, mean), self.tests_used)


def learn(tests: Sequence[Trial], practice: Practice) -> Posterior:
    """The posterior over scale, shape and fault from all the owner's tests, one likelihood a test.

    A pass weighs (1 − q*)·S(D)/S(D₁), a failure 1 − that, S(D) = exp(−(D/λ)^k). Tests with the same wear
    shares are computed once, with their count.
    """
    import numpy as np

    scale, scale_density = _log_normal(practice, "outlook_scale", NODES_SCALE)
    shape, shape_density = _log_normal(practice, "outlook_shape", NODES_SHAPE)
    fault, log_fault = _beta(practice["outlook_fault_a"], practice["outlook_fault_b"], NODES_FAULT)
    plain = np.log(scale_density)[:, None] + np.log(shape_density)[None, :]
    with_fault = np.zeros((len(scale), len(shape), len(fault)))
    log_ok = np.log1p(-fault)
    for test, count in Counter(tests).items():
        survival = _log_survival(scale, shape, test.before, test.at)
        if test.passed:
            plain += count * survival
            if test.opened:
                with_fault += count * log_ok
        elif test.opened:
            with_fault += count * _log_failure(survival[:, :, None] + log_ok)
        else:
            plain += count * _log_failure(survival)
    log_weight = plain[:, :, None] + with_fault + log_fault
    weight = np.exp(log_weight - log_weight.max())
    return Posterior(scale, shape, fault, weight / weight.sum(), len(tests))


def mode_without_prior(tests: Sequence[Trial]) -> tuple[float, float]:
    """The scale and shape at which the likelihood of the tests is greatest, no prior and no fault.

    A grid in logarithms that closes in on its best point; raises ValueError unless there is a pass and a
    failure, without which the likelihood has no greatest point.
    """
    import numpy as np

    if len({test.passed for test in tests}) < 2:
        raise ValueError("the likelihood has no greatest point without at least one pass and one failure")
    centre, reach = np.array([0.0, 0.0]), np.array([4.0, 4.0])
    counted = Counter(tests)
    for _ in range(24):
        scale = np.exp(centre[0] + np.linspace(-reach[0], reach[0], 41))
        shape = np.exp(centre[1] + np.linspace(-reach[1], reach[1], 41))
        total = np.zeros((41, 41))
        for test, count in counted.items():
            survival = _log_survival(scale, shape, test.before, test.at)
            total += count * (survival if test.passed else _log_failure(survival))
        i, j = np.unravel_index(int(np.argmax(total)), total.shape)
        centre = np.log(np.array([scale[i], shape[j]]))
        reach = reach * 0.5
    return float(math.exp(centre[0])), float(math.exp(centre[1]))


def _log_survival(scale: Grid, shape: Grid, before: float, at: float) -> Grid:
    """log S(D)/S(D₁) on the grid of scale and shape; never above 0."""
    import numpy as np

    k = shape[None, :]
    if at <= before or at <= 0:
        return np.zeros((len(scale), len(shape)))
    if before <= 0:
        log_loss = k * (math.log(at) - np.log(scale[:, None]))
    else:  # (D/λ)^k − (D₁/λ)^k = (D₁/λ)^k · ((D/D₁)^k − 1), which no two infinities spoil
        growth = np.expm1(np.minimum(k * (math.log(at) - math.log(before)), LARGEST))
        log_loss = k * (math.log(before) - np.log(scale[:, None]))
        log_loss = log_loss + np.log(np.maximum(growth, SMALLEST * SMALLEST))
    result: Grid = -np.exp(np.minimum(log_loss, LARGEST))
    return result


def _log_failure(log_pass: Grid) -> Grid:
    import numpy as np

    result: Grid = np.log(np.maximum(-np.expm1(log_pass), SMALLEST))
    return result


def _log_normal(practice: Practice, name: str, nodes: int) -> tuple[Grid, Grid]:
    """Nodes evenly spread in the logarithm, and the density there up to a factor."""
    import numpy as np

    constant = practice.constants[name]
    sigma = math.log(constant.high / constant.low) / (2 * Z90)
    steps = np.linspace(-REACH, REACH, nodes)
    return constant.value * np.exp(sigma * steps), np.exp(-0.5 * steps**2)


def _beta(a: float, b: float, nodes: int) -> tuple[Grid, Grid]:
    """Nodes of a Beta(a, b) law, denser near 0, and the logarithm of density times spacing, up to a sum."""
    import numpy as np

    edges = np.linspace(0.0, 1.0, nodes + 1) ** 3
    middle = (edges[1:] + edges[:-1]) / 2
    log_density = (a - 1) * np.log(middle) + (b - 1) * np.log1p(-middle) + np.log(np.diff(edges))
    return middle, log_density
