"""Yearly pressure tests of invented owners, each foretold from the tests before it, for `calibration.py`."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from functools import lru_cache
from typing import NamedTuple

import numpy as np
from calibration_books import Books, books_of
from calibration_lives import Life, Owner
from calibration_worlds import SHOCK_A_WEEK, Law, Truths, World, course
from numpy.typing import NDArray

from logbook.reckoning.due import months_after
from logbook.reckoning.outlook import Posterior, Trial, learn
from logbook.reckoning.practice import Practice
from logbook.reckoning.values import Position, Seal

Array = NDArray[np.float64]

GASKET_MONTHS, TEST_MONTHS = 36, 12
OPENED_A_YEAR = 0.25  # a battery or a service between two tests
KEEPS_INTERVALS = 0.5  # owners who have gaskets older than the interval replaced before the test
MOST_RETESTS = 3


class Foretold(NamedTuple):
    """One yearly test: the chance foretold, what came, and what the fixed interval knew."""

    owner: int
    chance: float
    prior: float  # the chance foretold without any test
    passed: bool
    true_chance: float
    gaskets_within: bool  # fitted no more than 36 months ago, counted from the earliest date
    test_within: bool  # passed no more than 12 months ago
    tests_before: int


@dataclass
class _Done:
    """A test that was done, yearly or after a repair."""

    on: date
    trial: Trial
    yearly: bool = False
    true_chance: float = 1.0
    gaskets_within: bool = True
    test_within: bool = True


@dataclass
class _Watch:
    """What a watch is like between two tests."""

    seals: tuple[Seal, ...]
    fitted_on: date  # really
    opened: bool = False  # since the last pass
    last_on: date | None = None
    at_pass: Mapping[Position, float] = field(default_factory=dict)  # in the books
    truly_at_pass: Mapping[Position, float] = field(default_factory=dict)

    def renewed(self, on: date) -> None:
        """New gaskets everywhere."""
        self.seals = tuple(replace(s, fitted_earliest=on, fitted_latest=on) for s in self.seals)
        self.fitted_on, self.opened = on, True
        self.at_pass, self.truly_at_pass = {}, {}


class Workshop:
    """The tests of one owner's watches in any world; dates and luck are the same in all of them."""

    def __init__(self, owner: Owner, truths: Truths, seed: int) -> None:
        self.owner, self.truths, self.seed = owner, truths, seed
        self.books = [books_of(life, truths.practice) for life in owner.lives]
        self._known: dict[tuple[tuple[Trial, ...], Trial], float] = {}
        keeps = np.random.default_rng([seed, 5, owner.number]).random()
        self.keeps_intervals = bool(keeps < KEEPS_INTERVALS)
        self.scale, self.shape, self.fault = (float(each[owner.number]) for each in truths.tests())

    def foretold(self, world: World) -> list[Foretold]:
        """Every yearly test of the owner's, foretold from all that were done on days before it."""
        law = Law(self.truths, self.owner.number, world)
        done = sorted(
            (test for nth, books in enumerate(self.books) for test in self._tests(nth, books, law)),
            key=lambda test: test.on,
        )
        found = []
        for test in done:
            if not test.yearly:
                continue
            before = tuple(each.trial for each in done if each.on < test.on)
            found.append(
                Foretold(
                    self.owner.number,
                    self._chance(before, test.trial),
                    self._chance((), test.trial),
                    test.trial.passed,
                    test.true_chance,
                    test.gaskets_within,
                    test.test_within,
                    len(before),
                )
            )
        return found

    def _chance(self, before: tuple[Trial, ...], test: Trial) -> float:
        """The chance foretold; remembered, since worlds differ in few tests."""
        asked = test._replace(passed=True)
        if (before, asked) not in self._known:
            practice = self.truths.practice
            posterior = learn(before, practice) if before else _prior(practice)
            chance = posterior.outlook(test.before, test.at, test.opened).chance
            self._known[before, asked] = chance
        return self._known[before, asked]

    def _tests(self, nth: int, books: Books, law: Law) -> list[_Done]:
        life = books.life
        luck = np.random.default_rng([self.seed, 4, self.owner.number, nth])
        watch, done = _Watch(life.seals, life.fitted_on), []
        on = life.watch.recorded_from + timedelta(days=int(luck.integers(60, 366)))
        while on <= life.today:
            opened, chance_luck, retests = luck.random(), luck.random(), luck.random(MOST_RETESTS)
            done += self._test(watch, books, law, on, opened < OPENED_A_YEAR, chance_luck, retests)
            on += timedelta(days=int(np.clip(365 + 30 * luck.standard_normal(), 270, 460)))
        return done

    def _test(
        self, watch: _Watch, books: Books, law: Law, on: date, opened: bool, luck: float, retests: Array
    ) -> list[_Done]:
        due = months_after(min(s.fitted_earliest for s in watch.seals), GASKET_MONTHS)
        if self.keeps_intervals and on > due:
            watch.renewed(on)
        watch.opened = watch.opened or opened
        shares = {seal.position: books.share(seal, on) for seal in watch.seals}
        truly = shares if law.world.tests_by_book else self._true_shares(watch, books.life, law, on)
        limiting = max(shares, key=lambda p: shares[p])
        chance = self._true_chance(watch, truly, law, on, books.life)
        passed = bool(luck < chance)
        trial = Trial(watch.at_pass.get(limiting, 0.0), shares[limiting], watch.opened, passed)
        test_within = watch.last_on is not None and on <= months_after(watch.last_on, TEST_MONTHS)
        gaskets_within = on <= months_after(min(s.fitted_earliest for s in watch.seals), GASKET_MONTHS)
        done = [_Done(on, trial, True, chance, gaskets_within, test_within)]
        if not passed:
            watch.renewed(on)
            shares = truly = {seal.position: 0.0 for seal in watch.seals}
            for each in retests:
                passed = bool(each < 1 - self.fault)
                done.append(_Done(on, Trial(0.0, 0.0, True, passed)))
                if passed:
                    break
        if passed:
            watch.at_pass, watch.truly_at_pass, watch.last_on, watch.opened = shares, truly, on, False
        return done

    def _true_shares(self, watch: _Watch, life: Life, law: Law, on: date) -> dict[Position, float]:
        days = (on - watch.fitted_on).days
        return {
            seal.position: float(
                course(life, law, seal.position, seal.material, watch.fitted_on, days)[days]
            )
            for seal in watch.seals
        }  # fmt: skip

    def _true_chance(
        self, watch: _Watch, truly: Mapping[Position, float], law: Law, on: date, life: Life
    ) -> float:
        """The Weibull law in wear share, from the last pass of the seal that is worn most."""
        most = max(truly, key=lambda p: truly[p])
        before = watch.truly_at_pass.get(most, 0.0)
        hazard = (max(truly[most], before) / self.scale) ** self.shape - (before / self.scale) ** self.shape
        chance = math.exp(-hazard) * (1 - self.fault if watch.opened else 1.0)
        if law.world.shocks:
            since = max(watch.last_on or life.watch.recorded_from, watch.fitted_on)
            chance *= (1 - SHOCK_A_WEEK) ** ((on - since).days / 7)
        return chance


@lru_cache(maxsize=1)
def _prior(practice: Practice) -> Posterior:
    return learn((), practice)


@dataclass(frozen=True)
class Briers:
    """Mean squared error of chances of passing, all on the same tests."""

    tests: int
    passed: float  # share of them
    outlook: float
    prior: float
    fixed: float  # the better of the two-chance rules, fitted afterwards
    base: float  # one chance for all, fitted afterwards
    truth: float  # the true chances themselves: no forecast can be expected to do better
    foretold: float  # mean chance foretold


def briers_of(rows: Sequence[Foretold]) -> Briers:
    """The scores of the outlook and of the rules beside it."""
    passed = np.array([row.passed for row in rows], dtype=float)
    splits = [
        np.array([row.gaskets_within for row in rows]),
        np.array([row.test_within for row in rows]),
        np.array([row.gaskets_within and row.test_within for row in rows]),
        np.array([row.gaskets_within or row.test_within for row in rows]),
    ]

    def score(chances: Array | float) -> float:
        return float(np.mean((chances - passed) ** 2))

    return Briers(
        tests=len(rows),
        passed=float(passed.mean()),
        outlook=score(np.array([row.chance for row in rows])),
        prior=score(np.array([row.prior for row in rows])),
        fixed=min(score(_two_chances(within, passed)) for within in splits),
        base=score(float(passed.mean())),
        truth=score(np.array([row.true_chance for row in rows])),
        foretold=float(np.mean([row.chance for row in rows])),
    )


def _two_chances(within: NDArray[np.bool_], passed: Array) -> Array:
    """The share that passed within the interval and that beyond it, each for its own tests."""
    chances = np.empty(len(passed))
    for side in (within, ~within):
        if side.any():
            chances[side] = passed[side].mean()
    return chances
