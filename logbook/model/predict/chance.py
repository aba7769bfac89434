"""The chance that a pressure test would pass, by a law of two states: a watch is tight or it leaks.

A tight watch begins to leak by wear, by chance, or at an opening; only tests tell, and they err both ways.
The law's six unknowns are drawn together once and weighed by every test, since no test names the state. See
docs/method.md, "Chance".
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from logbook.model.practice import Practice
from logbook.model.predict.draws import two_halves

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

# A Korobov lattice: point n has the coordinates n · GENERATOR^j / COUNT. The prime count spreads every
# coordinate evenly over its law. The generator is from memory; a test compares the means with random draws.
COUNT, GENERATOR = 4093, 1516
LARGEST = 700.0  # larger exponents overflow
LEAST_LIKELY = 1e-300  # likelihood of a test that a draw calls impossible
LEAST_SHOWN = 0.01  # no bookkeeping can be surer than 1–99 %


@dataclass(frozen=True, eq=False)
class Laws:
    """Many draws of each of the law's unknowns."""

    scale: Array  # λ, wear share at which a place's e⁻¹ is left
    shape: Array  # k
    hazard: Array  # h, leaks a year that come by chance
    opening: Array  # q, chance that an opening leaves a tight watch leaking
    miss: Array  # ε, chance that a test to the reference pressure does not find a leak
    alarm: Array  # φ, chance that a tight watch fails a test


class Worn(NamedTuple):
    """The wear share of the seal at one place, before a stretch of time and after it."""

    place: int
    before: float
    at: float


class Opened(NamedTuple):
    """The case was opened; `renewed` are the places that got new gaskets."""

    renewed: frozenset[int]


class Trial(NamedTuple):
    """A pressure test, with its pressure as a share of the reference pressure, 1 at most.

    A test that does not weigh, the maker's, tells about this watch but not about the law.
    """

    reach: float
    passed: bool
    weighs: bool = True


class Moment(NamedTuple):
    """A dated event in the life of a watch, with the stretch of time before it."""

    years: float
    worn: Sequence[Worn]
    what: Opened | Trial | None
    untold: bool = False  # its fitting is unknown and no test has told yet: tight with a chance of ½


@dataclass(frozen=True, eq=False)
class State:
    """How each draw sees a watch after some moments of its life."""

    tight: Array  # by draw
    leaking: Array  # by place and draw; with `tight` it sums to 1
    log_weight: Array  # log of the likelihood that the draw gave the tests
    tests: int = 0
    failed: bool = False  # failed a test since it was last opened


@dataclass(frozen=True, slots=True)
class Chance:
    """The chance that a test to `to_pa` would pass, its 80 % band, and what stands behind it."""

    chance: float
    low: float
    high: float
    to_pa: float
    tests_used: int
    findings_used: int = 0

    @property
    def basis(self) -> str:
        """`from common practice alone`, or `after 3 tests and 2 findings of yours`."""
        return basis_words(self.tests_used, self.findings_used)

    @property
    def words(self) -> str:
        """`97 % (91–99), after 3 tests of yours`; the pressure is for the sentence around it."""
        low, mean, high = (round(100 * part) for part in (self.low, self.chance, self.high))
        return f"{mean} % ({low}–{high}), {self.basis}"


def basis_words(tests: int, findings: int = 0) -> str:
    """Which tests and findings of the owner a chance rests on."""
    counted = [
        f"{count} {word}{'s' if count != 1 else ''}"
        for count, word in ((tests, "test"), (findings, "finding"))
        if count
    ]
    return f"after {' and '.join(counted)} of yours" if counted else "from common practice alone"


@lru_cache(maxsize=4)
def drawn(practice: Practice) -> Laws:
    """Draws from the priors of `practice`, the same each time."""
    import numpy as np

    nth = np.arange(COUNT, dtype=np.int64)
    even = [((nth * pow(GENERATOR, j, COUNT)) % COUNT + 0.5) / COUNT for j in range(6)]
    normal = _normal_points()
    scale, shape, hazard = (
        two_halves(normal[np.floor(points * COUNT).astype(np.int64)], row.value, row.low, row.high)
        for name, points in zip(("chance_scale", "chance_shape", "chance_hazard"), even[:3], strict=True)
        for row in [practice.constants[name]]
    )
    opening, miss, alarm = (
        _beta(practice[f"{name}_a"], practice[f"{name}_b"], points)
        for name, points in zip(("chance_opening", "chance_miss", "chance_alarm"), even[3:], strict=True)
    )
    return Laws(scale, shape, hazard, opening, miss, alarm)


def begin(laws: Laws, places: int) -> State:
    """The state of a tight watch with seals at so many places."""
    import numpy as np

    count = len(laws.scale)
    return State(np.ones(count), np.zeros((places, count)), np.zeros(count))


def live(laws: Laws, state: State, moments: Iterable[Moment]) -> State:
    """The state after these moments, oldest first."""
    for moment in moments:
        state = _wear(laws, state, moment.years, moment.worn)
        if moment.untold:
            state = _even_odds(state)
        if isinstance(moment.what, Opened):
            state = _open(laws, state, moment.what)
        elif isinstance(moment.what, Trial):
            state = _test(laws, state, moment.what)
    return state


def pass_chance(laws: Laws, state: State, reach: float) -> Array:
    """By draw, the chance of passing a test to this share of the reference pressure."""
    found = (1 - laws.miss) * reach
    result: Array = state.tight * (1 - laws.alarm) + (1 - state.tight) * (1 - found)
    return result


def chance_of(laws: Laws, state: State, log_weight: Array, reach: float, to_pa: float, tests: int) -> Chance:
    """The chance over all draws by their weights, with the weighted 10 % and 90 % points."""
    import numpy as np

    weight = np.exp(log_weight - log_weight.max())
    weight = weight / weight.sum()
    chances = pass_chance(laws, state, reach)
    mean = float(chances @ weight)
    order = np.argsort(chances, kind="stable")
    sums = np.cumsum(weight[order])
    at = np.minimum(np.searchsorted(sums, (0.1, 0.9)), len(order) - 1)
    low, high = (float(chances[order[n]]) for n in at)
    return Chance(_shown(mean), _shown(min(low, mean)), _shown(max(high, mean)), to_pa, tests)


def _shown(chance: float) -> float:
    return min(1 - LEAST_SHOWN, max(LEAST_SHOWN, chance))


def _wear(laws: Laws, state: State, years: float, worn: Sequence[Worn]) -> State:
    """Time goes by: a tight watch stays so with exp(−h · years − Σ [(D₂/λ)^k − (D₁/λ)^k]).

    A leak is shared among the places by their parts of the exponent; a chance leak may be at any of them.
    """
    import numpy as np

    places = len(state.leaking)
    loss = np.zeros_like(state.leaking) + laws.hazard * (years / places)
    for place, before, at in worn:
        if at > before:
            loss[place] += np.maximum(_power(laws, at) - _power(laws, before), 0.0)
    total = loss.sum(axis=0)
    if not total.any():
        return state
    lost = -np.expm1(-total) * state.tight
    leaking = state.leaking + loss * (lost / np.maximum(total, LEAST_LIKELY))
    return replace(state, tight=state.tight - lost, leaking=leaking)


def _power(laws: Laws, share: float) -> Array | float:
    """(D/λ)^k."""
    import numpy as np

    if share <= 0:
        return 0.0
    result: Array = np.exp(np.minimum(laws.shape * (np.log(share) - np.log(laws.scale)), LARGEST))
    return result


def _even_odds(state: State) -> State:
    import numpy as np

    return replace(
        state,
        tight=np.full_like(state.tight, 0.5),
        leaking=np.full_like(state.leaking, 0.5 / len(state.leaking)),
    )


def _open(laws: Laws, state: State, opening: Opened) -> State:
    """An opening mends leaks at places with new gaskets, or all after a failed test; then it may leave one.

    Where it leaves one is not known: all places are equally likely.
    """
    mended = state.leaking.copy()
    places = range(len(mended)) if state.failed else sorted(opening.renewed)
    tight = state.tight.copy()
    for place in places:
        tight += mended[place]
        mended[place] = 0.0
    left = tight * laws.opening
    return replace(state, tight=tight - left, leaking=mended + left / len(mended), failed=False)


def _test(laws: Laws, state: State, test: Trial) -> State:
    """Updates the two states by a test: how likely was its outcome under each?"""
    import numpy as np

    found = (1 - laws.miss) * test.reach
    if_tight, if_leaking = (1 - laws.alarm, 1 - found) if test.passed else (laws.alarm, found)
    tight, leaking = state.tight * if_tight, state.leaking * if_leaking
    likely = np.maximum(tight + leaking.sum(axis=0), LEAST_LIKELY)
    possible = likely > LEAST_LIKELY
    after = replace(
        state,
        tight=np.where(possible, tight / likely, state.tight),
        leaking=np.where(possible, leaking / likely, state.leaking),
        failed=state.failed or not test.passed,
    )
    if not test.weighs:
        return after
    return replace(after, log_weight=state.log_weight + np.log(likely), tests=state.tests + 1)


@lru_cache(maxsize=1)
def _normal_points() -> Array:
    """The middles of COUNT equally likely parts of the standard normal law."""
    from statistics import NormalDist

    import numpy as np

    law = NormalDist()
    return np.array([law.inv_cdf((n + 0.5) / COUNT) for n in range(COUNT)])


def _beta(a: float, b: float, even: Array) -> Array:
    """Beta(a, b) at these parts of its law, by its density over the logarithm of the odds."""
    import numpy as np

    odds = np.linspace(-60.0, 60.0, 24_001)
    log_density = -a * np.logaddexp(0, -odds) - b * np.logaddexp(0, odds)
    sums = np.cumsum(np.exp(log_density - log_density.max()))
    return 1 / (1 + np.exp(-np.interp(even, (sums - sums[0] / 2) / sums[-1], odds)))
