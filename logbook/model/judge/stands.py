"""What stands until proven: what raises it, what lifts it, and how it speaks until then.

`STANDS` is the table: each row says how something is lifted and how it speaks. `history` applies it to the
facts of a watch. See docs/method.md, "What stands until proven".
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

from logbook.model import marks
from logbook.model.judge import proofs
from logbook.model.judge.proofs import BAR_PA, Asked, Proof
from logbook.model.marks import SPLASH
from logbook.model.practice import Practice
from logbook.model.values import DAMAGE, Event, Exposure, Habit, Seal, Watch
from logbook.physics import fog

NO_OBJECTION = "no objection found"
THINK_TWICE = "think twice"
KEEP_DRY = "keep it dry"
VERDICTS = (NO_OBJECTION, THINK_TWICE, KEEP_DRY)  # mildest first
NOT_JUDGED = "not judged"  # for a retired watch, which has no verdict

Code = Literal[
    "failed-test", "water-inside", "damaged", "opened-untested", "overstressed", "beyond-proof", "knocked"
]
OPENINGS = ("opened", "battery", "movement", "gaskets")
SEALED_C, SEALED_PCT = 21.0, 50.0  # the air that a workshop is assumed to have sealed in
_WHOLE_PA = 0.5  # pressures are kept in whole pascals


@dataclass(frozen=True, slots=True)
class Fact:
    """One thing that happened, at its place inside its day."""

    on: date
    rank: float
    what: Event | Exposure | Proof | Seal | Habit
    raises: str | None = None  # for an exposure: what the ledger found that it raises


@dataclass(slots=True)
class Unresolved:
    """One thing that stands: its code, what raised it, and how far it is towards being lifted."""

    code: Code
    cause: Fact
    way: str  # the row of `STANDS` that lifts it
    opened: bool = False  # the case has been opened since
    repaired: bool = False  # its damage has been repaired since
    condensed: bool = False  # a condensation test was passed on a later day
    passed_on: date | None = None  # the first of two passes without an opening
    lowered: bool = False  # a pass since reaches the plan with a margin, though not the pass needed
    mild: bool = False  # the date is a range, so it may have come before the pass

    @property
    def on(self) -> date:
        """The day on which it began."""
        return self.cause.on

    @property
    def event(self) -> Event | None:
        """The event that raised it; None where an exposure, a habit or a range of dates raised it."""
        return self.cause.what if isinstance(self.cause.what, Event) else None

    @property
    def entry_id(self) -> int:
        """The id of the entry that raised it; 0 where it has none."""
        what = self.cause.what
        return 0 if isinstance(what, Proof) else what.id or 0


@dataclass(frozen=True, slots=True)
class Needs:
    """The passes that lift what stands, in Pa gauge, for one watch and what is asked of it."""

    watch: Watch
    practice: Practice
    asked: Asked
    asked_pa: float  # the pass needed for what is asked
    use_pa: float  # that of the stated use, at least a swim's
    stress_pa: float  # that for what is asked, at least 10 bar, at most the mark

    @classmethod
    def of(cls, watch: Watch, asked: Asked, practice: Practice) -> Needs:
        """The passes that one watch needs."""
        asked_pa = proofs.pass_needed_pa(watch, asked, practice)
        cap_pa = proofs.cap_pa(watch, practice)
        swim_pa = proofs.pass_needed_pa(watch, Asked("swim"), practice)
        use_pa = max(proofs.pass_needed_by_use_pa(watch, practice), swim_pa)
        stress_pa = min(cap_pa, max(asked_pa, practice["least_test_dive_bar"] * BAR_PA))
        return cls(watch, practice, asked, asked_pa, use_pa, stress_pa)

    def met_by(self, proof: Proof, needed_pa: float, *, splash: bool = False) -> bool:
        """True when a pass reaches a pressure in Pa; a vacuum only where rain and hands are asked."""
        return proof.counts_pa(self.practice, splash=splash) >= needed_pa - _WHOLE_PA

    def failed_pa(self, failed: Event) -> float:
        """What a pass must reach in Pa after a failure: the pressure of the failed test, at most the mark."""
        if failed.test_pa is None or failed.medium == "vacuum":
            return self.use_pa
        return min(failed.test_pa, proofs.cap_pa(self.watch, self.practice))


@dataclass(frozen=True, slots=True)
class Stand:
    """One row of the table of what stands: its code, what lifts it, and how it speaks until then.

    `lifted` sees every later fact; it may note progress, and returns True once the thing is lifted.
    """

    code: Code
    lifted: Callable[[Unresolved, Fact, Needs], bool]
    speaks: Callable[[Unresolved, Needs], str | None]
    takes_proofs: bool = True  # it asks for a new pass: earlier proofs are no longer in force


# ---------------------------------------------------------------- what lifts


def opens(event: Event) -> bool:
    """True for an opening of the case: gaskets, battery, movement, a repair, or any other."""
    return event.kind in OPENINGS or event.kind == "repaired"


def pass_in(fact: Fact) -> Proof | None:
    """A fact as a proof; None where it is not one."""
    if isinstance(fact.what, Proof):
        return fact.what
    return proofs.proof_of(fact.what) if isinstance(fact.what, Event) else None


def _failed_lifted(stand: Unresolved, fact: Fact, needs: Needs) -> bool:
    failed, proof = stand.event, pass_in(fact)
    if failed is None or proof is None or not _reaches_failure(failed, proof, needs):
        return False
    if stand.opened:
        return True
    same_way = proof.medium in ("water", failed.medium or proof.medium)
    weaker = fact.on == stand.on and failed.test_pa is not None and (proof.test_pa or 0.0) < failed.test_pa
    if not same_way or weaker:
        return False
    if stand.passed_on is None:
        stand.passed_on = fact.on
    return fact.on > stand.passed_on


def _reaches_failure(failed: Event, proof: Proof, needs: Needs) -> bool:
    if failed.medium == "vacuum" and proof.medium == "vacuum":
        return failed.test_pa is not None and (proof.test_pa or 0.0) >= failed.test_pa - _WHOLE_PA
    return needs.met_by(proof, needs.failed_pa(failed))


def _water_lifted(stand: Unresolved, fact: Fact, needs: Needs) -> bool:
    """Opened and dried, then the pass; unless water was seen, a condensation test may replace the opening."""
    if _dry_air_in(fact) and fact.on > stand.on and stand.event and stand.event.kind != "water-inside":
        stand.condensed = True
    proof = pass_in(fact)
    return proof is not None and (stand.opened or stand.condensed) and needs.met_by(proof, needs.use_pa)


def _fog_lifted(stand: Unresolved, fact: Fact, needs: Needs) -> bool:
    proof = pass_in(fact)
    return _dry_air_in(fact) or (proof is not None and needs.met_by(proof, needs.use_pa))


def _dry_air_in(fact: Fact) -> bool:
    """True for a passed condensation test."""
    return isinstance(fact.what, Event) and fact.what.kind == "condensation-test" and bool(fact.what.passed)


def _damage_lifted(stand: Unresolved, fact: Fact, needs: Needs) -> bool:
    if isinstance(fact.what, Event) and fact.what.kind == "repaired" and stand.event:
        stand.repaired = stand.repaired or fact.what.repaired == stand.event.kind
    proof = pass_in(fact)
    return proof is not None and stand.repaired and needs.met_by(proof, needs.use_pa)


def _pass_lifts(needed: Callable[[Needs], float]) -> Callable[[Unresolved, Fact, Needs], bool]:
    def lifted(stand: Unresolved, fact: Fact, needs: Needs) -> bool:
        proof = pass_in(fact)
        if proof is None:
            return False
        splash, plan_pa = needs.asked.splash, needs.asked.planned_pa
        with_margin = plan_pa > 0 and needs.met_by(
            proof, needs.practice["test_margin"] * plan_pa, splash=splash
        )
        stand.lowered = stand.lowered or with_margin
        return needs.met_by(proof, needed(needs), splash=splash)

    return lifted


# ---------------------------------------------------------------- how it speaks until then


def _dry(stand: Unresolved, needs: Needs) -> str:
    return KEEP_DRY


def _twice(stand: Unresolved, needs: Needs) -> str:
    return THINK_TWICE


def _dry_until_first_pass(stand: Unresolved, needs: Needs) -> str:
    return KEEP_DRY if stand.passed_on is None else THINK_TWICE


def _dry_but_for_a_splash(stand: Unresolved, needs: Needs) -> str:
    return THINK_TWICE if needs.asked.splash or stand.lowered or stand.mild else KEEP_DRY


def _twice_but_for_a_splash(stand: Unresolved, needs: Needs) -> str | None:
    marked = marks.allows(needs.watch, SPLASH, needs.practice) == "yes" and (
        marks.mark_limit_pa(needs.watch, needs.practice) >= needs.practice["least_test_swim_bar"] * BAR_PA
    )
    return None if needs.asked.splash and marked else THINK_TWICE


def _dry_if_moved(stand: Unresolved, needs: Needs) -> str:
    return KEEP_DRY if stand.event and stand.event.moved else THINK_TWICE


STANDS: Mapping[str, Stand] = {
    "failed-test": Stand("failed-test", _failed_lifted, _dry_until_first_pass),
    "water-inside": Stand("water-inside", _water_lifted, _dry),
    "fog-explained": Stand("water-inside", _fog_lifted, _twice, takes_proofs=False),
    "damaged": Stand("damaged", _damage_lifted, _dry),
    "overstressed": Stand("overstressed", _pass_lifts(lambda n: n.stress_pa), _dry_but_for_a_splash),
    "opened-untested": Stand("opened-untested", _pass_lifts(lambda n: n.asked_pa), _dry_but_for_a_splash),
    "knocked": Stand("knocked", _pass_lifts(lambda n: n.asked_pa), _dry_if_moved),
    "beyond-proof": Stand("beyond-proof", _pass_lifts(lambda n: n.asked_pa), _twice_but_for_a_splash),
}


# ---------------------------------------------------------------- what raises


def way_of(event: Event, watch: Watch) -> str | None:
    """The row of `STANDS` that an event raises; None where it raises nothing.

    An unmarked watch promises nothing that an opening could take away, so it needs no test after one, unless
    its owner set an interval for tests.
    """
    if event.kind == "pressure-test":
        return "failed-test" if event.passed is False else None
    if event.kind == "condensation-test":
        return "water-inside" if event.passed is False else None
    if event.kind == "fog":
        return "fog-explained" if is_explained(event) else "water-inside"
    if opens(event):
        return "opened-untested" if watch.mark != "unmarked" or tests_are_asked(watch) else None
    found: Mapping[str, str] = {"water-inside": "water-inside", "knock": "knocked"}
    return "damaged" if event.kind in DAMAGE else found.get(event.kind)


def is_explained(fogged: Event) -> bool:
    """True for fog that the sealed-in air could have made, by the temperatures that were noted."""
    if fogged.crystal_c is None or fogged.case_air_c is None:
        return False
    try:
        return fog.fog_point(SEALED_C, SEALED_PCT, fogged.crystal_c, fogged.case_air_c).fogs
    except ValueError:  # temperatures beyond the formula explain nothing
        return False


def tests_are_asked(watch: Watch) -> bool:
    """True where the owner set an interval for pressure tests."""
    return "pressure-test" in watch.intervals_months


def overstress(exposure: Exposure, watch: Watch, practice: Practice) -> str | None:
    """What an exposure did that no watch is asked to bear: `crown`, `pushers`, `mark`, or None.

    It went more than `over_share` above the mark by depth or jump; or the crown was used or open under water,
    or the pushers, unless the watch says that its maker allows them. With an unknown mark only the crown and
    pushers count.
    """
    wet = marks.class_of(exposure, practice) != SPLASH
    if exposure.crown_under or (exposure.crown_open and wet):
        return "crown"
    if not watch.pushers_wet and (exposure.pusher_under or (exposure.pushers_open and wet)):
        return "pushers"
    if watch.mark == "unknown":
        return None
    limit_pa = practice["over_share"] * marks.mark_limit_pa(watch, practice)
    return "mark" if marks.met_pa(exposure) > limit_pa + _WHOLE_PA else None


def beyond_proof(
    exposure: Exposure, watch: Watch, known: Sequence[Proof], live: Sequence[Proof], practice: Practice
) -> bool:
    """True for an exposure above the highest proof on record, or of a class that the mark does not allow.

    `known` are all proofs so far, of which a vacuum does not count here; `live` are those that nothing has
    taken away. A proof in force at the pass needed answers for a class that is not allowed.
    """
    if exposure.water == "air":
        return False
    best = proofs.highest((p for p in known if p.medium != "vacuum"), practice)
    met_pa = marks.met_pa(exposure)
    if best is not None and met_pa > practice["over_share"] * best.counts_pa(practice) + _WHOLE_PA:
        return True
    activity_class = marks.class_of(exposure, practice)
    if watch.mark == "unknown" or marks.allows(watch, activity_class, practice) != "no":
        return False
    asked = Asked(activity_class, met_pa)
    needed_pa = proofs.pass_needed_pa(watch, asked, practice)
    on = exposure.starts_on
    return not any(
        p.counts_pa(practice, splash=asked.splash) >= needed_pa - _WHOLE_PA
        and on < proofs.lapses_on(p, watch, asked, practice)
        for p in live
    )
