"""What a passed pressure test proves: evidence up to its pressure, of its kind, on its day.

Holds the proof itself, the pass needed for what is asked, and how long a proof stays in force by age. What
takes a proof away sooner is in `stands`. See docs/method.md, "Evidence".
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from logbook.model.civil import months_after
from logbook.model.marks import CLASS_OF_USE, DIVERS, DIVING, SPLASH, mark_limit_pa, use_of
from logbook.model.practice import Practice
from logbook.model.values import Event, Medium, Use, Watch

BAR_PA = 1e5


@dataclass(frozen=True, slots=True)
class Asked:
    """What is asked of a watch: a class of activity and, for a plan, its pressure in Pa gauge.

    This is the judged pressure, with the arm's speed and the jump; 0 stands for the stated use.
    """

    activity_class: str
    planned_pa: float = 0.0

    @property
    def splash(self) -> bool:
        """True for rain and washing hands."""
        return self.activity_class == SPLASH

    @property
    def diving(self) -> bool:
        """True for free dive, scuba and mixed gas."""
        return self.activity_class in DIVING


@dataclass(frozen=True, slots=True)
class Proof:
    """A passed pressure test, or the maker's own on a diver's watch bought new; pressure in Pa gauge."""

    on: date
    test_pa: float | None  # as written down; a vacuum as its positive magnitude; None: not known
    medium: Medium
    makers: bool = False
    to_mark: bool = False

    def counts_pa(self, practice: Practice, *, splash: bool = False) -> float:
        """The pressure in Pa up to which it is evidence.

        A pass of unknown pressure counts as 1 bar. A deep enough vacuum covers rain and hands, as 1 bar
        would, and nothing else: it pulls where water pushes.
        """
        unknown_pa = practice["unknown_pass_bar"] * BAR_PA
        if self.medium != "vacuum":
            return unknown_pa if self.test_pa is None else self.test_pa
        deep = (self.test_pa or 0.0) >= practice["vacuum_covers_bar"] * BAR_PA
        return unknown_pa if splash and deep else 0.0


def proof_of(event: Event) -> Proof | None:
    """An event as a proof; None unless it is a passed pressure test."""
    if event.kind != "pressure-test" or not event.passed:
        return None
    return Proof(event.on, event.test_pa, event.medium or "air", to_mark=event.to_mark)


def makers_proof(watch: Watch) -> Proof | None:
    """The maker's test of a watch bought new: of a diver's mark each piece (ISO 6425, from memory).

    For other marks only samples are tested, which proves nothing about this piece; for an unmarked watch,
    nothing is.
    """
    if watch.new_on is None or watch.mark not in DIVERS:
        return None
    return Proof(watch.new_on, watch.marked_pa, "water", makers=True, to_mark=True)


def cap_pa(watch: Watch, practice: Practice) -> float:
    """The highest pressure in Pa that a pass is ever asked for: the mark; no limit where it is not known."""
    return math.inf if watch.mark == "unknown" else mark_limit_pa(watch, practice)


def pass_needed_pa(watch: Watch, asked: Asked, practice: Practice) -> float:
    """The pressure in Pa at which a pass answers what is asked.

    The greater of `test_margin` times the planned pressure and the floor of its class, at most the mark.
    """
    floor_pa = _floor_pa(asked, practice)
    return min(cap_pa(watch, practice), max(practice["test_margin"] * asked.planned_pa, floor_pa))


def _floor_pa(asked: Asked, practice: Practice) -> float:
    word = "splash" if asked.splash else "dive" if asked.diving else "swim"
    return practice[f"least_test_{word}_bar"] * BAR_PA


def stated(watch: Watch) -> Asked:
    """What the stated use asks of a watch."""
    return Asked(CLASS_OF_USE[watch.use])


def pass_needed_by_use_pa(watch: Watch, practice: Practice) -> float:
    """The pass needed by the stated use, in Pa."""
    return pass_needed_pa(watch, stated(watch), practice)


def interval_months(watch: Watch, practice: Practice, *uses: Use) -> int:
    """Months from one pressure test to the next: the shortest for the stated use and any of `uses`.

    The owner's own number wins where it is shorter; where it is longer, it counts up to `own_most_…`.
    """
    every = {watch.use, *uses}
    own = watch.intervals_months.get("pressure-test")
    if own is None:
        return min(practice.intervals[f"pressure-test-{use}"].months for use in every)
    return min(own, *(round(practice[f"own_most_{use}"]) for use in every))


def lapses_on(proof: Proof, watch: Watch, asked: Asked, practice: Practice) -> date:
    """The first day on which a proof is too old for what is asked."""
    return months_after(proof.on, interval_months(watch, practice, use_of(asked.activity_class)))


def highest(proofs: Iterable[Proof], practice: Practice, *, splash: bool = False) -> Proof | None:
    """The proof that reaches the highest pressure, the newest of equal ones."""
    return max(proofs, key=lambda p: (p.counts_pa(practice, splash=splash), p.on), default=None)


def last_at(proofs: Iterable[Proof], needed_pa: float, practice: Practice, *, splash: bool) -> Proof | None:
    """The newest proof that reaches a pressure in Pa."""
    reaching = (p for p in proofs if p.counts_pa(practice, splash=splash) >= needed_pa - 0.5)
    return max(reaching, key=lambda p: p.on, default=None)
