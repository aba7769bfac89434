"""Yearly pressure tests of invented owners, each foretold from the tests before it, for `calibration.py`."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from typing import NamedTuple

import numpy as np
from calibration_books import Books, books_of
from calibration_lives import Life, Owner
from calibration_worlds import SHOCKS_A_YEAR, Law, Truths, World, course
from numpy.typing import NDArray

from logbook.model.due.tasks import months_after
from logbook.model.predict import chance, trials
from logbook.model.predict.chance import Laws, Moment, Opened, State, Trial, Worn
from logbook.model.values import Position, Seal
from logbook.model.wear import charge
from logbook.model.wear.account import DAYS_A_YEAR

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
    """A test that was done, yearly or after a repair, and what the predictor's draws make of the watch."""

    on: date
    moments: list[Moment]  # in the books, since the test before; the last is the test itself
    passed: bool
    before: State  # by the predictor's draws, up to the test
    after: State
    yearly: bool = False
    true_chance: float = 1.0
    gaskets_within: bool = True
    test_within: bool = True


@dataclass
class _Watch:
    """What a watch is like between two tests, in the books and really."""

    seals: tuple[Seal, ...]
    fitted_on: date  # really
    last_on: date  # of its last moment
    untold: bool  # nothing has told of it yet, and its fitting is not known
    seen: State  # by the predictor's draws
    true: State  # by the true draw
    passed_on: date | None = None
    booked: Mapping[Position, float] = field(default_factory=dict)  # wear shares at the last moment
    truly: Mapping[Position, float] = field(default_factory=dict)

    def renewed(self, on: date) -> None:
        """New gaskets everywhere."""
        self.seals = tuple(replace(s, fitted_earliest=on, fitted_latest=on) for s in self.seals)
        self.fitted_on, self.booked, self.truly = on, {}, {}


class Workshop:
    """The tests of one owner's watches in any world; dates and luck are the same in all of them."""

    def __init__(self, owner: Owner, truths: Truths, seed: int) -> None:
        self.owner, self.truths, self.seed = owner, truths, seed
        self.books = [books_of(life, truths.practice) for life in owner.lives]
        self.laws = chance.drawn(truths.practice)  # the predictor's
        keeps = np.random.default_rng([seed, 5, owner.number]).random()
        self.keeps_intervals = bool(keeps < KEEPS_INTERVALS)
        self._truth = [each[owner.number : owner.number + 1] for each in truths.tests()]

    def true_laws(self, world: World) -> Laws:
        """The one law that this owner's watches really follow."""
        laws = Laws(*self._truth)
        return replace(laws, hazard=laws.hazard + SHOCKS_A_YEAR) if world.shocks else laws

    def foretold(self, world: World) -> list[Foretold]:
        """Every yearly test of the owner's, foretold from all that were done on days before it."""
        law = Law(self.truths, self.owner.number, world)
        by_watch = [self._tests(nth, books, law) for nth, books in enumerate(self.books)]
        done = sorted((test for tests in by_watch for test in tests), key=lambda test: test.on)
        found = []
        for test in (each for each in done if each.yearly):
            # Of one watch the state after its last test holds the weight of them all.
            earlier = [[each for each in tests if each.on < test.on] for tests in by_watch]
            weight = sum((tests[-1].after.log_weight for tests in earlier if tests), self._no_weight)
            found.append(
                Foretold(
                    self.owner.number,
                    self._chance(test.before, weight),
                    self._chance(test.before, self._no_weight),
                    test.passed,
                    test.true_chance,
                    test.gaskets_within,
                    test.test_within,
                    sum(map(len, earlier)),
                )
            )
        return found

    @property
    def _no_weight(self) -> Array:
        return np.zeros_like(self.laws.scale)

    def _chance(self, state: State, log_weight: Array) -> float:
        """The chance as the program says it."""
        return chance.chance_of(self.laws, state, log_weight, 1.0, 0.0, 0).chance

    def _tests(self, nth: int, books: Books, law: Law) -> list[_Done]:
        life = books.life
        luck = np.random.default_rng([self.seed, 4, self.owner.number, nth])
        done: list[_Done] = []
        watch = _Watch(
            life.seals,
            life.fitted_on,
            last_on=charge.middle(life.seals[0]),
            untold=trials.fitting_unknown(life.seals),
            seen=chance.begin(self.laws, len(life.seals)),
            true=chance.begin(self.true_laws(law.world), len(life.seals)),
        )
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
        since: list[Moment] = []
        if self.keeps_intervals and on > due:
            since.append(self._meet(watch, books, law, on, Opened(frozenset(range(len(watch.seals))))))
            watch.renewed(on)
        elif opened:
            since.append(self._meet(watch, books, law, on, Opened(frozenset())))
        test_within = watch.passed_on is not None and on <= months_after(watch.passed_on, TEST_MONTHS)
        gaskets_within = on <= months_after(min(s.fitted_earliest for s in watch.seals), GASKET_MONTHS)
        test = self._tried(watch, books, law, on, luck, since)
        test.yearly, test.gaskets_within, test.test_within = True, gaskets_within, test_within
        done = [test]
        for each in retests:
            if done[-1].passed:
                break
            opening = self._meet(watch, books, law, on, Opened(frozenset(range(len(watch.seals)))))
            watch.renewed(on)
            done.append(self._tried(watch, books, law, on, float(each), [opening]))
        if done[-1].passed:
            watch.passed_on = on
        return done

    def _tried(
        self, watch: _Watch, books: Books, law: Law, on: date, luck: float, since: list[Moment]
    ) -> _Done:
        """A test to the reference pressure, passed by luck below its true chance."""
        self._meet(watch, books, law, on, None)
        true_chance = float(chance.pass_chance(self.true_laws(law.world), watch.true, 1.0)[0])
        before, passed = watch.seen, bool(luck < true_chance)
        test = self._meet(watch, books, law, on, Trial(1.0, passed))
        watch.untold = False
        return _Done(on, [*since, test], passed, before, watch.seen, true_chance=true_chance)

    def _meet(self, watch: _Watch, books: Books, law: Law, on: date, what: Opened | Trial | None) -> Moment:
        """Time goes by up to a day, and then this; the moment as the books have it."""
        years = (on - watch.last_on).days / DAYS_A_YEAR
        untold = watch.untold and not isinstance(what, Opened)
        booked = {seal.position: books.share(seal, on) for seal in watch.seals}
        by_book = law.world.tests_by_book
        truly = booked if by_book else self._true_shares(watch, books.life, law, on)

        def moment(before: Mapping[Position, float], now: Mapping[Position, float], untold: bool) -> Moment:
            worn = [Worn(n, before.get(place, 0.0), now[place]) for n, place in enumerate(now)]
            return Moment(years, worn, what, untold)

        seen = moment(watch.booked, booked, untold)
        watch.seen = chance.live(self.laws, watch.seen, [seen])
        true = moment(watch.truly, truly, untold and by_book)
        watch.true = chance.live(self.true_laws(law.world), watch.true, [true])
        watch.last_on, watch.booked, watch.truly = on, booked, truly
        return seen

    def _true_shares(self, watch: _Watch, life: Life, law: Law, on: date) -> dict[Position, float]:
        days = (on - watch.fitted_on).days
        return {
            seal.position: float(
                course(life, law, seal.position, seal.material, watch.fitted_on, days)[days]
            )
            for seal in watch.seals
        }  # fmt: skip


@dataclass(frozen=True)
class Briers:
    """Mean squared error of chances of passing, all on the same tests."""

    tests: int
    passed: float  # share of them
    chance: float
    prior: float
    fixed: float  # the better of the two-chance rules, fitted afterwards
    base: float  # one chance for all, fitted afterwards
    truth: float  # the true chances themselves: no forecast can be expected to do better
    foretold: float  # mean chance foretold


def briers_of(rows: Sequence[Foretold]) -> Briers:
    """The scores of the chance and of the rules beside it."""
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
        chance=score(np.array([row.chance for row in rows])),
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
