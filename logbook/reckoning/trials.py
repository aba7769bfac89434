"""The owner's pressure tests as the outlook learns from them: each at the wear share its seal had then.

Wear shares at a test are derived from the ledger, never frozen, so that a dive logged late moves them.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from logbook.physics import fog
from logbook.reckoning import account, charge, facts
from logbook.reckoning.account import SealWear
from logbook.reckoning.facts import Facts
from logbook.reckoning.outlook import Outlook, Posterior, Trial, learn
from logbook.reckoning.practice import Practice
from logbook.reckoning.values import DAY_ORDER, Event, Seal, Shares, WatchRecord

# Seal id and a day -> what its counted exposures up to and including that day add up to, from the ledger.
Sums = Callable[[int, date], Shares]

SEALED_C, SEALED_PCT = 21.0, 50.0  # the air that a workshop is taken to have sealed in


@dataclass(frozen=True, slots=True)
class Foresight:
    """What all the owner's tests teach, and the wear share of each seal at each pass it was there for."""

    posterior: Posterior
    at_pass: Mapping[tuple[int, int], float]  # seal id, event id -> wear share

    def outlook_of(self, record: WatchRecord, known: Facts, wears: Sequence[SealWear]) -> Outlook | None:
        """The chance that a pressure test on that day would pass, by the seal with the largest wear share.

        The chance and its high end are those of the middle fitting dates. Where a fitting is only a range,
        the low end is that of the seal with the largest wear share were each as old as its dates allow. What
        that adds was worn before the middle date, so that it adds to the share at a later pass as well.
        None while a failure or a fault stands, or when no seal is on record.
        """
        if known.failed is not None or known.open_faults or not wears:
            return None
        opened = known.opened is not None
        limiting = max(wears, key=lambda w: w.wear_share)
        before = self._share_at_last_pass(record, known, limiting)
        middle = self.posterior.outlook(before, limiting.wear_share, opened)
        oldest = max(wears, key=lambda w: w.share_at_the_earliest)
        doubtful = oldest.share_at_the_earliest - oldest.wear_share
        if doubtful <= 0:
            return middle
        before = self._share_at_last_pass(record, known, oldest)
        worst = self.posterior.outlook(
            before + doubtful if before else 0.0, oldest.share_at_the_earliest, opened
        )
        return replace(middle, low=min(middle.low, worst.low))

    def _share_at_last_pass(self, record: WatchRecord, known: Facts, limiting: SealWear) -> float:
        """A seal's wear share at the last pass: 0 when fitted since, never tested, or tested by its maker."""
        passes = [e for e in record.events if _is_pass(e) and e.on <= known.on]
        last = max(passes, key=facts.moment, default=None)
        if last is None or not _in_place(limiting.seal, record, last):
            return 0.0
        if last.id is None:  # a pass that is only supposed, on the day itself
            return limiting.wear_share
        return self.at_pass.get((limiting.seal.id or 0, last.id), 0.0)


def foresee(records: Sequence[WatchRecord], practice: Practice, sums: Sums, on: date) -> Foresight:
    """The posterior from every test of every watch up to a day; retired ones were the owner's as well."""
    tests: list[Trial] = []
    at_pass: dict[tuple[int, int], float] = {}
    for record in records:
        tests += _trials(record, practice, sums, at_pass, on)
    return Foresight(learn(tests, practice), at_pass)


def _trials(
    record: WatchRecord, practice: Practice, sums: Sums, at_pass: dict[tuple[int, int], float], on: date
) -> list[Trial]:
    """The tests of one watch, oldest first; notes the wear share of every seal at every pass."""
    tests = []
    events = sorted((e for e in record.events if e.on <= on), key=facts.moment)
    last: Event | None = None
    for event in events:
        if not (_is_test(event) or _is_leak(event)):
            continue
        shares = {seal.id or 0: _share_at(record, seal, event, practice, sums)
                  for seal in record.seals if _in_place(seal, record, event)}  # fmt: skip
        if shares:
            limiting = max(shares, key=lambda key: shares[key])
            before = at_pass.get((limiting, last.id or 0), 0.0) if last else 0.0
            since = facts.moment(last) if last else None
            opened = any(
                facts.opens(e) and (since is None or facts.moment(e) > since)
                for e in events
                if facts.moment(e) < facts.moment(event)
            )
            tests.append(Trial(before, shares[limiting], opened, bool(event.passed)))
        if _is_pass(event):
            at_pass.update({(seal, event.id or 0): share for seal, share in shares.items()})
            last = event
    return tests


def _share_at(record: WatchRecord, seal: Seal, event: Event, practice: Practice, sums: Sums) -> float:
    """The wear share of a seal at an event; the day's exposures count when the event comes after them."""
    after_the_water = event.order > DAY_ORDER["exposure"]
    up_to = event.on if after_the_water else event.on - timedelta(days=1)
    then = replace(record, totals={seal.id or 0: sums(seal.id or 0, up_to)})
    return account.seal_wear(then, seal, practice, event.on).wear_share


def _in_place(seal: Seal, record: WatchRecord, event: Event) -> bool:
    at = (event.on, event.order)
    return any(
        service.seal == seal
        and (charge.middle(seal), seal.order) < at
        and (service.until is None or at <= service.until)
        for service in charge.services(record.seals)
    )


def _is_test(event: Event) -> bool:
    return event.kind == "pressure-test" and event.passed is not None


def _is_pass(event: Event) -> bool:
    return event.kind == "pressure-test" and event.passed is True


def _is_leak(event: Event) -> bool:
    """Fog that the air sealed in could not have held; without both temperatures fog says nothing here."""
    if event.kind != "fog" or event.crystal_c is None or event.case_air_c is None:
        return False
    return not fog.fog_point(SEALED_C, SEALED_PCT, event.crystal_c, event.case_air_c).fogs
