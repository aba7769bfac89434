"""The standing rules: what speaks against water whatever is planned, and the order of reasons.

What stands until proven comes from `stands`; every other rule is one function from a `Situation` to a
`Reason`, or None when it has nothing to say. `STANDING` is the table of them. Rain and washing hands are not
nagged about: where the mark allows them, only events speak, and age past the storage age.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING

from logbook.model import marks
from logbook.model.civil import months_after
from logbook.model.judge import proofs
from logbook.model.judge.facts import WET_USES, Facts
from logbook.model.judge.proofs import Proof
from logbook.model.judge.stands import KEEP_DRY as KEEP_DRY
from logbook.model.judge.stands import NO_OBJECTION as NO_OBJECTION
from logbook.model.judge.stands import NOT_JUDGED as NOT_JUDGED
from logbook.model.judge.stands import STANDS
from logbook.model.judge.stands import THINK_TWICE as THINK_TWICE
from logbook.model.judge.stands import VERDICTS as VERDICTS
from logbook.model.judge.stands_words import sentence_of, when
from logbook.model.marks import CLASS_WORDS, SPLASH, mark_row
from logbook.model.practice import Practice
from logbook.model.shown import show_at_least, show_pressure
from logbook.model.text import full_date
from logbook.model.values import Position, Units, Watch
from logbook.model.wear.account import SealWear

if TYPE_CHECKING:  # the first screen is painted without the chance
    from datetime import date

    from logbook.model.predict.chance import Chance

# Every code, in the order of reasons with one verdict: what is wrong with this watch; mark and
# class, with what the plan itself does; proof; age and wear; the record.
ORDER = (
    "failed-test", "water-inside", "damaged", "overstressed", "opened-untested", "knocked", "beyond-proof",
    "not-closed",
    "over-mark", "mark-unknown", "beyond-class", "near-mark", "big-swing", "hot-water", "jump",
    "over-tested", "never-tested", "test-overdue",
    "seal-too-old", "used-up", "low-score", "chance-low",
    "clock-behind", "record-silent",
)  # fmt: skip
# Former names of codes: files and scripts that read the old one still find it.
WAS = {"water-inside": "fault-open", "damaged": "fault-open", "chance-low": "outlook-low"}


@dataclass(frozen=True, slots=True)
class Reason:
    """What a rule says: its code, one sentence, the value and its limit as printed, and the verdict."""

    code: str
    sentence: str
    value: str | None
    limit: str | None
    verdict: str

    @property
    def bound(self) -> str | None:
        """The limit where it is a number; None for one in words, which the sentence already tells."""
        return self.limit if self.limit and any(char.isdigit() for char in self.limit) else None

    @property
    def was(self) -> str | None:
        """The former name of this code."""
        return WAS.get(self.code)


@dataclass(frozen=True, slots=True)
class Situation:
    """What the standing rules look at: the facts for what is asked, wear of the seals, score and chance."""

    facts: Facts
    wears: tuple[SealWear, ...]
    score: int | None  # None: not known
    practice: Practice
    chance: Chance | None = None  # None: not computed, or not known
    units: Units = "metric"
    known: frozenset[Position] = frozenset()  # the places whose fitting date is known

    @property
    def activity_class(self) -> str:
        """The judged class of activity."""
        return self.facts.asked.activity_class

    @property
    def splash_only(self) -> bool:
        """True for rain and washing hands."""
        return self.facts.asked.splash

    @property
    def diving(self) -> bool:
        """True for free dive, scuba and mixed gas."""
        return self.facts.asked.diving

    @property
    def spared(self) -> bool:
        """True for rain and hands on a watch whose mark allows them: most rules then say nothing."""
        return self.splash_only and marks.allows(self.facts.watch, SPLASH, self.practice) == "yes"

    @property
    def judges_plan(self) -> bool:
        """True in a check; False for the stated use, which has no pressure of its own."""
        return self.facts.asked.planned_pa > 0


Rule = Callable[[Situation], Reason | None]


def standing_reasons(situation: Situation) -> list[Reason]:
    """Everything that speaks against the stated use of a watch, worst first."""
    rules = (*STANDING.values(), stated_use_beyond_class)
    spoken = (reason for rule in rules if (reason := rule(situation)) is not None)
    return worst_first([*what_stands(situation), *spoken])


def worst_first(reasons: Iterable[Reason]) -> list[Reason]:
    """Sorts by verdict, the gravest first; reasons with one verdict are in the order of `ORDER`."""
    return sorted(reasons, key=lambda r: (-VERDICTS.index(r.verdict), ORDER.index(r.code)))


def what_stands(s: Situation) -> list[Reason]:
    """What stands until proven, one reason for each code: the gravest, the latest of equal ones."""
    worst: dict[str, Reason] = {}
    for stand in s.facts.standing:
        verdict = STANDS[stand.way].speaks(stand, s.facts.needs)
        before = worst.get(stand.code)
        if verdict is None or (before and VERDICTS.index(before.verdict) > VERDICTS.index(verdict)):
            continue
        sentence, limit = sentence_of(stand, s.facts.needs, s.units)
        worst[stand.code] = Reason(stand.code, sentence, when(stand).removeprefix("on "), limit, verdict)
    return list(worst.values())


# ---------------------------------------------------------------- mark and class


def mark_unknown(s: Situation) -> Reason | None:
    """The mark is not known; the verdict is milder for a swim with a proof in force at the pass needed."""
    if s.facts.watch.mark != "unknown":
        return None
    proved = not s.diving and s.facts.proved is not None
    verdict = THINK_TWICE if s.splash_only or proved else KEEP_DRY
    return Reason("mark-unknown", "its mark is not known", "unknown", "a mark", verdict)


def beyond_class(s: Situation) -> Reason | None:
    """The activity is above what the mark allows in the table of common practice."""
    if s.facts.watch.mark == "unknown":
        return None
    row = mark_row(s.facts.watch, s.practice)
    allowed = row.allows[s.activity_class]
    if allowed == "yes":
        return None
    what = CLASS_WORDS[s.activity_class]
    if allowed == "light":
        sentence = f"{what}: light use at most {_for_its_mark(s.facts.watch)}, by common practice"
        return Reason("beyond-class", sentence, s.activity_class, f"{row.name}: light", THINK_TWICE)
    sentence = f"{what}: more than is usual {_for_its_mark(s.facts.watch)}, by common practice"
    return Reason("beyond-class", sentence, s.activity_class, row.name, KEEP_DRY)


def _for_its_mark(watch: Watch) -> str:
    if watch.mark == "unmarked":
        return "for an unmarked watch"
    if watch.marked_pa is None:
        return "for a mark without a number"
    return f"for a mark of {marks.mark_words(watch)}"


def stated_use_beyond_class(s: Situation) -> Reason | None:
    """The stated use is above what the mark allows; it is judged like a plan of that class."""
    found = beyond_class(s)
    if found is None:
        return None
    return replace(found, sentence=f"its stated use is {s.facts.watch.use}: {found.sentence}")


# ---------------------------------------------------------------- proof


def _reference_pa(s: Situation) -> float:
    """What a proof must reach for its age to count: the plan's pressure, or the pass the stated use needs."""
    return s.facts.asked.planned_pa if s.judges_plan else s.facts.needs.asked_pa


def _not_asked_for_tests(s: Situation) -> bool:
    unasked = s.facts.watch.mark == "unmarked" and "pressure-test" not in s.facts.watch.intervals_months
    return s.spared or unasked


def never_tested(s: Situation) -> Reason | None:
    """No proof is on record; in a check, no proof ever reached the planned pressure.

    On the Shelf, a proof taken away by a failure does not count once a lower pass has answered that failure.
    """
    every = s.facts.proofs
    known = every if s.judges_plan or s.facts.standing else s.facts.live
    if _not_asked_for_tests(s) or s.facts.last_at(known, _reference_pa(s)) is not None:
        return None
    ever = s.facts.last_at(every, _reference_pa(s)) is not None
    verdict = KEEP_DRY if s.diving and not ever else THINK_TWICE
    reached = s.facts.highest(known)
    if reached is None and s.facts.sampled_on is not None:
        new_on = full_date(s.facts.sampled_on)
        sentence = f"no passed pressure test of its own: bought new on {new_on}, its maker tests samples"
        return Reason("never-tested", sentence, "maker’s, of samples", "a pass on record", verdict)
    if reached is None:
        sentence = "no passed pressure test on record"
        return Reason("never-tested", sentence, "none", "a pass on record", verdict)
    asked = show_at_least(_reference_pa(s), s.units)
    since = "since a failure" if ever else "on record"
    if reached.counts_pa(s.practice, splash=s.splash_only) <= 0:
        best = tested_words(reached, s.practice, s.units)
        sentence = f"no pressure test {since} reached {asked}; there is {best}"
        return Reason("never-tested", sentence, "none", asked, verdict)
    best = _bar(reached.counts_pa(s.practice, splash=s.splash_only), s.units)
    sentence = (
        f"no pressure test {since} reached {asked}; the highest, of {full_date(reached.on)}, was {best}"
    )
    return Reason("never-tested", sentence, best, asked, verdict)


def test_overdue(s: Situation) -> Reason | None:
    """The last proof that counts is past its interval, by the stated use or by what is asked."""
    last = s.facts.last_at(s.facts.proofs, _reference_pa(s))
    if _not_asked_for_tests(s) or last is None or s.facts.on < (due := s.facts.lapses_on(last)):
        return None
    dry_from = months_after(due, round(s.practice["dive_overdue_months"]))
    days = (s.facts.on - due).days
    span = f"{days} day{'s' if days != 1 else ''}"
    ago = "today" if days == 0 else f"{span} ago"
    months, own = _interval_words(s)
    sentence = f"the pressure test was due on {full_date(due)}, {ago}{own}"
    verdict = KEEP_DRY if s.diving and s.facts.on >= dry_from else THINK_TWICE
    return Reason("test-overdue", sentence, f"{span} over", f"{months} months", verdict)


def _interval_words(s: Situation) -> tuple[int, str]:
    """The months that count, and words about the owner's own longer interval, if there is one."""
    use = marks.use_of(s.activity_class)
    months = proofs.interval_months(s.facts.watch, s.practice, use)
    own = s.facts.watch.intervals_months.get("pressure-test")
    if own is None or own <= months:
        return months, ""
    return months, f": your interval is {own} months, of which {months} count for {use}"


# ---------------------------------------------------------------- age and wear


def _without_proof(s: Situation) -> str:
    """Think twice while a proof at the pass needed is in force; without one, a dive is kept dry."""
    return KEEP_DRY if s.diving and s.facts.proved is None else THINK_TWICE


def _proved_words(s: Situation) -> str:
    proof = s.facts.proved
    if proof is None or s.facts.on < proof.on:
        return ""
    reached = _bar(proof.counts_pa(s.practice, splash=s.splash_only), s.units)
    return f"; tested tight to {reached} on {full_date(proof.on)}"


def seal_too_old(s: Situation) -> Reason | None:
    """A seal is past the storage age of its material; for rain and hands only known fittings count."""
    wears = (w for w in s.wears if not s.spared or w.seal.position in s.known)
    old = [w for w in wears if s.facts.on >= w.cap_on]
    if not old or s.score is None:
        return None
    oldest = min(old, key=lambda w: w.cap_on)
    seal = oldest.seal
    known = seal.fitted_earliest == seal.fitted_latest
    since = (
        f"fitted {full_date(seal.fitted_earliest)}"
        if known
        else f"fitted between {full_date(seal.fitted_earliest)} and {full_date(seal.fitted_latest)}"
    )
    cap = s.practice.material(seal.material).cap_years
    names = ", ".join(w.seal.position.replace("-", " ") for w in old)
    sentence = f"past its storage age: {names} ({seal.material}, {since}){_proved_words(s)}"
    return Reason("seal-too-old", sentence, since, f"{cap:g} years", _without_proof(s))


def used_up(s: Situation) -> Reason | None:
    """The service interval of a seal is used up, at the best estimate."""
    spent = [w for w in s.wears if w.wear_share >= 1]
    if s.spared or not spent or s.score is None:
        return None
    worst = max(spent, key=lambda w: w.wear_share)
    names = ", ".join(w.seal.position.replace("-", " ") for w in spent)
    sentence = f"the service interval of its gaskets is used up: {names}{_proved_words(s)}"
    value = f"{worst.wear_share:.2f} of an interval"
    return Reason("used-up", sentence, value, "1", _without_proof(s))


def low_score(s: Situation) -> Reason | None:
    """Little is left of a service interval; silent where age or wear speak, or a proof is in force."""
    limit = s.practice["low_score"]
    if s.splash_only or s.score is None or s.score >= limit or s.facts.proved is not None:
        return None
    if used_up(s) is not None or seal_too_old(s) is not None:
        return None
    sentence = f"the seal score is {s.score}: little of a service interval is left"
    return Reason("low-score", sentence, f"{s.score}", f"{limit:g}", THINK_TWICE)


def chance_low(s: Situation) -> Reason | None:
    """The chance that a pressure test today would pass is low, in the mean or at the low end of its band."""
    if s.chance is None or s.spared:
        return None
    asked = "dive" if s.diving else "else"
    mean, low = s.practice[f"chance_mean_{asked}"], s.practice[f"chance_low_{asked}"]
    words = s.chance.words  # such as "85 % (70–95), after 3 tests of yours"
    low_limit = f"low end {100 * low:g} %"
    if s.chance.chance < mean:
        value, limit = _percent_below(s.chance.chance, mean), f"{100 * mean:g} %, {low_limit}"
        told = f"{value} ({words.partition(' (')[2]}"
    elif s.chance.low < low:
        value, limit = f"low end {_percent_below(s.chance.low, low)}", low_limit
        told = f"{words.partition(' (')[0]}, {value}, {words.partition('), ')[2]}"
    else:
        return None
    sentence = f"a pressure test today would pass with a chance of {told}"
    return Reason("chance-low", sentence, value, limit, THINK_TWICE)


def _percent_below(chance: float, limit: float) -> str:
    """A chance below its limit, in percent, with a decimal where rounding would hide the difference."""
    whole = max(1, round(100 * chance))
    if whole < 100 * limit - 1e-9:
        return f"{whole} %"
    return f"{math.floor(1000 * chance) / 10:.1f} %"


# ---------------------------------------------------------------- the record


def clock_behind(s: Situation) -> Reason | None:
    """Something on record lies ahead of the clock, so no interval can be trusted."""
    ahead = s.facts.clock_behind_by
    if ahead is None:
        return None
    sentence = f"{clock_words(ahead)}; {CLOCK_REMEDY}"
    return Reason("clock-behind", sentence, full_date(ahead), "at most a day ahead", THINK_TWICE)


CLOCK_REMEDY = "set the clock, or say `logbook doctor --clock-is-right`"


def clock_words(ahead: date) -> str:
    """The sentence that the clock has not reached a day on record."""
    return f"the clock is behind: {full_date(ahead)} is on record already"


def record_silent(s: Situation) -> Reason | None:
    """Wet use is stated, but nothing was logged or confirmed for a long time, counted up to today at most."""
    if s.facts.watch.use not in WET_USES or s.spared:
        return None
    silent = (min(s.facts.on, s.facts.today) - s.facts.last_water_on).days
    limit = round(s.practice["silent_days"])
    if silent < limit:
        return None
    sentence = f"nothing was logged or confirmed for {silent} days, though its use is {s.facts.watch.use}"
    return Reason("record-silent", sentence, f"{silent} days", f"{limit} days", THINK_TWICE)


def _bar(pressure_pa: float, units: Units) -> str:
    return show_pressure(pressure_pa, units)


VACUUM_COUNTS = "which counts for rain and hands at most"


def tested_words(proof: Proof, practice: Practice, units: Units) -> str:
    """`20 bar in water, 1 Jun 2026`, or as much as is known; a vacuum says what it counts for."""
    known = "pressure not known, counts as " if proof.test_pa is None else ""
    bar = _bar(proof.counts_pa(practice) if proof.test_pa is None else proof.test_pa, units)
    whose = "its maker’s, " if proof.makers else ""
    told = f"{whose}{known}{bar} in {proof.medium}, {full_date(proof.on)}"
    return f"{told}, {VACUUM_COUNTS}" if proof.medium == "vacuum" else told


STANDING: Mapping[str, Rule] = {
    "mark-unknown": mark_unknown,
    "never-tested": never_tested,
    "test-overdue": test_overdue,
    "seal-too-old": seal_too_old,
    "used-up": used_up,
    "low-score": low_score,
    "chance-low": chance_low,
    "clock-behind": clock_behind,
    "record-silent": record_silent,
}
