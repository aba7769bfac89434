"""Prepares a record for the law of the chance: each watch's dated moments, with the wear between them.

Wear shares are derived from the ledger, never frozen, so a dive logged late moves them. They are taken at the
middle of the fitting dates.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from functools import cached_property
from typing import TYPE_CHECKING

from logbook.model.judge import history, proofs
from logbook.model.judge.proofs import Proof
from logbook.model.judge.stands import opens
from logbook.model.practice import Practice
from logbook.model.predict import chance
from logbook.model.predict.chance import Chance, Laws, Moment, Opened, State, Trial, Worn
from logbook.model.values import DAY_ORDER, Event, Position, Seal, Shares, WatchRecord
from logbook.model.wear import account, charge
from logbook.model.wear.account import DAYS_A_YEAR, SealWear
from logbook.model.wear.charge import Service

if TYPE_CHECKING:
    from logbook.model.predict.chance import Array

# Seal id and a day -> what its counted exposures up to and including that day add up to, from the ledger.
Sums = Callable[[int, date], Shares]
At = tuple[date, float]  # a date and the order inside it
Share = Callable[[Seal, At], float]  # the wear share of a seal at a moment

KNOWN_WITHIN_YEARS = 3.0  # a fitting whose dates lie further apart counts as unknown
LAST_OF_DAY = 10**6


@dataclass(frozen=True, slots=True, eq=False)
class Seen:
    """A watch that the law has followed up to its last moment."""

    record: WatchRecord
    told: tuple[Event, ...]
    past: Past
    state: State

    def holds(self, record: WatchRecord, told: tuple[Event, ...]) -> bool:
        """True when this record tells the law the same."""
        of = self.record
        return told == self.told and record.watch == of.watch and record.seals == of.seals


@dataclass(frozen=True, eq=False)
class Foresight:
    """What all the owner's tests teach, and how each watch was followed."""

    practice: Practice
    laws: Laws
    seen: Mapping[int, Seen]  # by the id of the watch
    shares: Mapping[tuple[int, date, bool], float] = field(repr=False)  # at the moments of the past

    @cached_property
    def log_weight(self) -> Array:
        """By draw, the logarithm of how likely it made every test of every watch."""
        import numpy as np

        found = np.zeros_like(self.laws.scale)
        for each in self.seen.values():
            found = found + each.state.log_weight
        return found

    @cached_property
    def tests_used(self) -> int:
        """The number of tests of all watches."""
        return sum(each.state.tests for each in self.seen.values())

    def chance_of(
        self, record: WatchRecord, wears: Sequence[SealWear], on: date, to_pa: float | None = None
    ) -> Chance | None:
        """The chance that a test on a day would pass, to the reference pressure or to another in Pa.

        `wears` are the accounts of the seals in place on that day. None without a seal. Tests of `record`
        that were not among those read, such as a supposed one, count as well.
        """
        if not wears:
            return None
        accounts = {w.seal.id or 0: w.wear_share for w in wears}

        def share(seal: Seal, at: At) -> float:
            known = self.shares.get(_key(seal, at)) if at != (on, LAST_OF_DAY) else None
            return accounts.get(seal.id or 0, 0.0) if known is None else known

        seen = self.seen.get(record.watch.id or 0)
        told = _told(record, on)
        if seen is not None and seen.holds(record, told):
            past, state = seen.past, seen.state
        else:
            past = past_of(record, self.practice, share, on)
            state = _followed(self.laws, past)
        log_weight, tests = self.log_weight, self.tests_used
        if seen is None or state is not seen.state:
            log_weight = log_weight + state.log_weight - (seen.state.log_weight if seen else 0.0)
            tests += state.tests - (seen.state.tests if seen else 0)
        now = chance.live(self.laws, state, [past.last_stretch(share, (on, LAST_OF_DAY))])
        full_pa = proofs.pass_needed_by_use_pa(record.watch, self.practice)
        asked_pa = full_pa if to_pa is None else to_pa
        reach = min(1.0, asked_pa / full_pa)
        return chance.chance_of(self.laws, now, log_weight, reach, asked_pa, tests)


def foresee(records: Sequence[WatchRecord], practice: Practice, sums: Sums, on: date) -> Foresight:
    """What every test of every watch up to a day teaches, retired watches included."""
    laws = chance.drawn(practice)
    shares: dict[tuple[int, date, bool], float] = {}
    seen = {}
    for record in records:
        past = past_of(record, practice, _from_ledger(record, practice, sums, shares), on)
        seen[record.watch.id or 0] = Seen(record, _told(record, on), past, _followed(laws, past))
    return Foresight(practice, laws, seen, shares)


@dataclass(frozen=True, slots=True)
class Past:
    """The moments of a watch, oldest first, and the seals in place after the last of them."""

    places: tuple[Position, ...]
    services: tuple[Service, ...]
    moments: tuple[Moment, ...]
    last: At
    told_by_a_test: bool

    def last_stretch(self, share: Share, now: At) -> Moment:
        """The time from the last moment to now."""
        untold = not self.told_by_a_test and fitting_unknown(_in_place(self.services, now))
        return Moment(_years(self.last, now), _worn(self, share, now), None, untold)


def past_of(record: WatchRecord, practice: Practice, share: Share, on: date) -> Past:
    """The moments of a watch up to a day: openings, tests, the maker's too, and water that was seen inside.

    The watch begins tight with its first seal; whatever came before met no known seal.
    """
    services = tuple(charge.services(record.seals))
    places = tuple(dict.fromkeys(service.seal.position for service in services))
    start = min((_start(service) for service in services), default=(date.max, 0))
    past = Past(places, services, (), start, told_by_a_test=False)
    full_pa = proofs.pass_needed_by_use_pa(record.watch, practice)
    for at, told in _dated(record, practice, on):
        if isinstance(told, Event) and opens(told):
            what: Opened | Trial = _opened(told, places)
        else:
            what = _tested(told, full_pa, practice)
        if at < start or (at == start and isinstance(what, Trial)):
            continue
        is_test = isinstance(what, Trial)
        untold = is_test and not past.told_by_a_test and fitting_unknown(_in_place(services, at))
        moment = Moment(_years(past.last, at), _worn(past, share, at), what, untold)
        known = past.told_by_a_test or is_test
        past = replace(past, moments=(*past.moments, moment), last=at, told_by_a_test=known)
    return past


def _followed(laws: Laws, past: Past) -> State:
    return chance.live(laws, chance.begin(laws, max(1, len(past.places))), past.moments)


def _dated(record: WatchRecord, practice: Practice, on: date) -> Iterator[tuple[At, Event | Proof]]:
    """The facts up to a day that the law sees, oldest first, in the usual order within a day.

    A `Proof` is the maker's test.
    """
    for fact in history.facts_of(record, practice, on):
        what = fact.what
        if isinstance(what, Proof) or (isinstance(what, Event) and _counts(what)):
            yield (fact.on, fact.rank), what


def _told(record: WatchRecord, on: date) -> tuple[Event, ...]:
    return tuple(event for event in record.events if event.on <= on and _counts(event))


def _counts(event: Event) -> bool:
    is_test = event.kind == "pressure-test" and event.passed is not None
    return opens(event) or is_test or event.kind == "water-inside"


def _opened(event: Event, places: Sequence[Position]) -> Opened:
    renewed = {position for position, _ in event.seals} if event.kind == "gaskets" else set()
    return Opened(frozenset(n for n, place in enumerate(places) if place in renewed))


def _tested(test: Event | Proof, full_pa: float, practice: Practice) -> Trial:
    """A pressure test, a vacuum by its magnitude; water seen inside fails at the reference pressure."""
    if isinstance(test, Event) and test.kind == "water-inside":
        return Trial(1.0, passed=False)
    if isinstance(test, Proof):  # the maker's
        return Trial(1.0 if test.test_pa is None else min(1.0, test.test_pa / full_pa), True, weighs=False)
    unknown_pa = practice["unknown_pass_bar"] * proofs.BAR_PA
    test_pa = unknown_pa if test.test_pa is None else test.test_pa
    return Trial(min(1.0, test_pa / full_pa), bool(test.passed))


def _start(service: Service) -> At:
    return charge.middle(service.seal), service.seal.order


def _years(since: At, at: At) -> float:
    return max(0, (at[0] - since[0]).days) / DAYS_A_YEAR


def _worn(past: Past, share: Share, now: At) -> tuple[Worn, ...]:
    """What each seal that was in place for some of the time wore since the last moment."""
    found = []
    for service in past.services:
        start, end = _start(service), min(now, service.until or now)
        begin = max(past.last, start)
        if begin < end:
            before = share(service.seal, begin) if begin > start else 0.0
            found.append(Worn(past.places.index(service.seal.position), before, share(service.seal, end)))
    return tuple(found)


def fitting_unknown(seals: Sequence[Seal]) -> bool:
    """True when the fitting of every one of these seals is unknown by more than some years."""
    years = [(seal.fitted_latest - seal.fitted_earliest).days / DAYS_A_YEAR for seal in seals]
    return bool(years) and min(years) > KNOWN_WITHIN_YEARS


def _in_place(services: Sequence[Service], at: At) -> list[Seal]:
    return [s.seal for s in services if _start(s) <= at and (s.until is None or at <= s.until)]


def _key(seal: Seal, at: At) -> tuple[int, date, bool]:
    """The day's exposures count only where the moment comes after them."""
    return seal.id or 0, at[0], at[1] > DAY_ORDER["exposure"]


def _from_ledger(
    record: WatchRecord, practice: Practice, sums: Sums, shares: dict[tuple[int, date, bool], float]
) -> Share:
    """Wear shares from the ledger, each kept in `shares`."""
    clockwork = account.Clockwork.of(record, practice)

    def share(seal: Seal, at: At) -> float:
        key = seal_id, day, after_the_water = _key(seal, at)
        if key not in shares:
            up_to = day if after_the_water else day - timedelta(days=1)
            then = replace(record, totals={seal_id: sums(seal_id, up_to)})
            shares[key] = account.account_of(replace(clockwork, record=then), seal, day).wear_share
        return shares[key]

    return share
