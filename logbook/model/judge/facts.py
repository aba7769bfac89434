"""What is known of a watch on a day: what stands until proven, its proofs, and its last water on record.

What is on record stands on every day that is asked about: a day before the newest entry sees the faults,
failures, openings and overstress of both, since a clock may be behind. Proofs count only from their own day.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from logbook.model.judge import history, proofs
from logbook.model.judge.proofs import Asked, Proof
from logbook.model.judge.stands import Needs, Unresolved
from logbook.model.judge.stands import opens as opens
from logbook.model.practice import Practice
from logbook.model.values import Event, Watch, WatchRecord

WET_USES = ("diving", "swimming")
TROUBLES = ("failed-test", "water-inside", "damaged")  # what a workshop must see to


@dataclass(frozen=True, slots=True)
class Facts:
    """What stands and what is proved on a day, for what is asked of the watch; the oldest first."""

    watch: Watch
    on: date
    today: date  # what the clock says; `on` may lie ahead of it
    needs: Needs
    standing: tuple[Unresolved, ...]
    proofs: tuple[Proof, ...]  # every one up to the day
    live: tuple[Proof, ...]  # those after which nothing has asked for a new pass
    last_water_on: date  # last exposure, confirmation, or the start of the record
    newest_on: date | None  # the newest day of any entry other than a plan
    clock_behind_by: date | None  # a day on record that the clock has not reached; None: it is not behind

    @property
    def asked(self) -> Asked:
        """What is asked of the watch."""
        return self.needs.asked

    @property
    def in_force(self) -> tuple[Proof, ...]:
        """The proofs in force for what is asked: nothing took them away, and they are not too old."""
        return tuple(p for p in self.live if self.on < self.lapses_on(p))

    @property
    def proved(self) -> Proof | None:
        """A proof in force at the pass needed for what is asked, the newest; None where there is none."""
        return self.last_at(self.in_force, self.needs.asked_pa)

    @property
    def last_pass(self) -> Proof | None:
        """The last proof of all, whatever pressure it reached."""
        return self.proofs[-1] if self.proofs else None

    @property
    def sampled_on(self) -> date | None:
        """The day it was bought new, where its maker tested only samples: no diver's mark."""
        makers = proofs.makers_proof(self.watch)
        return self.watch.new_on if makers is None and self.watch.mark != "unmarked" else None

    @property
    def troubles(self) -> tuple[Event, ...]:
        """The failures, faults and damage that stand, oldest first, without fog that sealed air explains."""
        found = (s for s in self.standing if s.code in TROUBLES and s.way != "fog-explained")
        return tuple(s.event for s in found if s.event)

    def lapses_on(self, proof: Proof) -> date:
        """The first day on which a proof is too old for what is asked."""
        return proofs.lapses_on(proof, self.watch, self.asked, self.needs.practice)

    def last_at(self, found: Sequence[Proof], needed_pa: float) -> Proof | None:
        """The newest of these proofs that reaches a pressure in Pa."""
        return proofs.last_at(found, needed_pa, self.needs.practice, splash=self.asked.splash)

    def highest(self, found: Sequence[Proof]) -> Proof | None:
        """The one of these proofs that reaches the highest pressure."""
        return proofs.highest(found, self.needs.practice, splash=self.asked.splash)


def moment(event: Event) -> tuple[date, int, int]:
    """Sorts events: date, order inside the day, and the order in which they were entered."""
    return event.on, event.order, event.id or 0


def gather(
    record: WatchRecord,
    on: date,
    practice: Practice,
    asked: Asked | None = None,
    today: date | None = None,
) -> Facts:
    """The facts of a watch on a day; without `asked`, for its stated use.

    `today` is what the clock says, where the judged day lies ahead.
    """
    watch = record.watch
    wanted = asked or proofs.stated(watch)
    by_then = history.course(record, wanted, practice, on)
    newest = _newest_on(record)
    standing, live = by_then.stands, by_then.live
    if newest is not None and newest > on:
        whole = history.course(record, wanted, practice)
        seen = {id(s.cause.what) for s in standing}
        standing = [*standing, *(s for s in whole.stands if id(s.cause.what) not in seen)]
        live = [proof for proof in live if proof in whole.live]
    water = (record.last_exposure_on, watch.confirmed_on, watch.recorded_from, watch.added_on)
    return Facts(
        watch=watch,
        on=on,
        today=today or on,
        needs=by_then.needs,
        standing=tuple(standing),
        proofs=tuple(by_then.known),
        live=tuple(live),
        last_water_on=max(day for day in water if day is not None),
        newest_on=newest,
        clock_behind_by=clock_behind_by(record, today or on),
    )


def _newest_on(record: WatchRecord) -> date | None:
    days = [record.last_exposure_on, record.watch.confirmed_on, *(event.on for event in record.events)]
    return max((day for day in days if day is not None), default=None)


def clock_behind_by(record: WatchRecord, today: date) -> date | None:
    """A day on record more than a day after today; None where the owner said that the clock is right."""
    ahead = [day for day in (_newest_on(record), record.changed_on) if day is not None]
    latest = max(ahead, default=None)
    if latest is None or latest <= today + timedelta(days=1):
        return None
    return None if record.clock_right_to is not None and latest <= record.clock_right_to else latest
