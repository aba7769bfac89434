"""The standing stop rules: facts about a watch that override its score, whatever is planned.

Each rule is one function from a `Situation` to a `Reason`, or None when it has nothing to say; `STANDING` is
the table of them. Where rain and hands are judged more mildly, the rule says so.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING

from logbook.reckoning.account import SealWear
from logbook.reckoning.due import months_after, pressure_test_months
from logbook.reckoning.facts import WET_USES, Facts
from logbook.reckoning.marks import mark_row
from logbook.reckoning.practice import Practice
from logbook.reckoning.text import full_date
from logbook.reckoning.values import DAMAGED_PART, Event, Use

if TYPE_CHECKING:  # the first screen is painted without the outlook
    from logbook.reckoning.outlook import Outlook

NO_OBJECTION = "no objection found"
THINK_TWICE = "think twice"
KEEP_DRY = "keep it dry"
VERDICTS = (NO_OBJECTION, THINK_TWICE, KEEP_DRY)  # mildest first

SPLASH = "rain, hands"
DIVING = ("free dive", "scuba", "mixed gas")


@dataclass(frozen=True, slots=True)
class Reason:
    """A rule that speaks: its code, one sentence, the value and its limit as printed, and its verdict."""

    code: str
    sentence: str
    value: str | None
    limit: str | None
    verdict: str

    @property
    def bound(self) -> str | None:
        """The limit where it is a number; of one in words, such as `a pass on record`, the sentence tells."""
        return self.limit if self.limit and any(char.isdigit() for char in self.limit) else None


@dataclass(frozen=True, slots=True)
class Situation:
    """What the standing rules look at: the facts, the seals' wear, the score, and the class of activity."""

    facts: Facts
    wears: tuple[SealWear, ...]
    score: int
    activity_class: str
    practice: Practice
    outlook: Outlook | None = None  # None: not computed, or a failure or a fault stands
    band: tuple[int, int] | None = None  # low and high end of the score's 80 % band; None: not computed
    middle: float | None = None  # median of the largest wear share under drawn constants; None: not computed

    @property
    def on(self) -> date:
        """The day that is judged."""
        return self.facts.on

    @property
    def splash_only(self) -> bool:
        """True for rain and washing hands."""
        return self.activity_class == SPLASH

    @property
    def diving(self) -> bool:
        """True for free dive, scuba and mixed gas."""
        return self.activity_class in DIVING

    @property
    def amounts_to(self) -> Use:
        """The use that the class of activity amounts to."""
        return "diving" if self.diving else "dry" if self.splash_only else "swimming"


Rule = Callable[[Situation], Reason | None]


def standing_reasons(situation: Situation) -> list[Reason]:
    """Every rule that speaks for the stated use of a watch, worst first."""
    return worst_first(reason for rule in FOR_STATED_USE if (reason := rule(situation)) is not None)


def worst_first(reasons: Iterable[Reason]) -> list[Reason]:
    """Sorted by verdict, the gravest first; rules of one verdict keep their order."""
    return sorted(reasons, key=lambda r: -VERDICTS.index(r.verdict))


def _dry_or_mild(situation: Situation) -> str:
    return THINK_TWICE if situation.splash_only else KEEP_DRY


_FAULT_WORDS = {
    "fog": "fog was seen inside",
    "water-inside": "water was seen inside",
    "crown-damaged": "the crown was damaged",
    "crystal-damaged": "the crystal was damaged",
    "pushers-damaged": "the pushers were damaged",
    "gas-valve-damaged": "the gas valve was damaged",
}


def fault_open(s: Situation) -> Reason | None:
    """Fog or water until a passed pressure test, damage until a repair and one after it."""
    if not s.facts.open_faults:
        return None
    fault = s.facts.open_faults[-1]
    needs = (
        "a passed pressure test"
        if fault.kind in ("fog", "water-inside")
        else "a repair and a passed pressure test"
    )
    sentence = f"{_FAULT_WORDS[fault.kind]} on {full_date(fault.on)}; it stands until {needs}"
    return Reason("fault-open", sentence, full_date(fault.on), "none open", KEEP_DRY)


def failed_test(s: Situation) -> Reason | None:
    """A failed test with no pass after it."""
    failed = s.facts.failed
    if failed is None:
        return None
    name = failed.kind.replace("-", " ")
    sentence = f"a {name} failed on {full_date(failed.on)} and no pressure test was passed since"
    return Reason("failed-test", sentence, full_date(failed.on), "a pass after it", KEEP_DRY)


def opened_untested(s: Situation) -> Reason | None:
    """Opened since the last passed pressure test."""
    opened = s.facts.opened
    if opened is None:
        return None
    sentence = f"opened on {full_date(opened.on)} ({_opening_words(opened)}) and not pressure-tested since"
    return Reason("opened-untested", sentence, full_date(opened.on), "a test after it", _dry_or_mild(s))


def _opening_words(event: Event) -> str:
    if event.kind == "repaired":
        return f"{DAMAGED_PART.get(event.repaired or event.kind, event.repaired)} repaired"
    return {"opened": "case opened", "gaskets": "gaskets", "battery": "battery", "movement": "movement"}[
        event.kind
    ]


def mark_unknown(s: Situation) -> Reason | None:
    """The mark is not known."""
    if s.facts.watch.mark != "unknown":
        return None
    return Reason("mark-unknown", "its mark is not known", "unknown", "a mark", _dry_or_mild(s))


def beyond_class(s: Situation) -> Reason | None:
    """The class of activity is above what the mark allows in the table of common practice."""
    if s.facts.watch.mark == "unknown":
        return None
    row = mark_row(s.facts.watch, s.practice)
    allowed = row.allows[s.activity_class]
    if allowed == "yes":
        return None
    if allowed == "light":
        sentence = f"{s.activity_class} is light use at most for the mark {row.name}, by common practice"
        return Reason("beyond-class", sentence, s.activity_class, f"{row.name}: light", THINK_TWICE)
    sentence = f"{s.activity_class} is beyond the mark {row.name}, by common practice"
    return Reason("beyond-class", sentence, s.activity_class, row.name, KEEP_DRY)


def stated_use_beyond_class(s: Situation) -> Reason | None:
    """The stated use is above what the mark allows, judged as a plan of that class would be."""
    found = beyond_class(s)
    if found is None:
        return None
    return replace(found, sentence=f"its stated use is {s.facts.watch.use}: {found.sentence}")


def seal_too_old(s: Situation) -> Reason | None:
    """A seal past the storage class of its material, from the earliest date it may have been fitted."""
    old = [w for w in s.wears if s.on >= w.cap_at_the_earliest]
    if not old:
        return None
    oldest = min(old, key=lambda w: w.cap_at_the_earliest)
    seal = oldest.seal
    known = seal.fitted_earliest == seal.fitted_latest
    since = (
        f"fitted {full_date(seal.fitted_earliest)}"
        if known
        else f"perhaps as early as {full_date(seal.fitted_earliest)}"
    )
    cap = s.practice.material(seal.material).cap_years
    names = ", ".join(w.seal.position.replace("-", " ") for w in old)
    sentence = f"older than a stored spare may be: {names} ({seal.material}, {since})"
    return Reason("seal-too-old", sentence, since, f"{cap:g} years", _dry_or_mild(s))


def used_up(s: Situation) -> Reason | None:
    """The service interval of a seal is used up, counted from the earliest date it may have been fitted."""
    spent = [w for w in s.wears if w.share_at_the_earliest >= 1]
    if not spent:
        return _used_up_on_half_the_draws(s)
    worst = max(spent, key=lambda w: w.share_at_the_earliest)
    names = ", ".join(w.seal.position.replace("-", " ") for w in spent)
    perhaps = "is" if any(w.wear_share >= 1 for w in spent) else "may be"
    sentence = f"the service interval {perhaps} used up: {names}"
    if perhaps == "may be":
        sentence += f" (fitted perhaps as early as {full_date(worst.seal.fitted_earliest)})"
    value = f"{worst.share_at_the_earliest:.2f} of an interval"
    return Reason("used-up", sentence, value, "1", _dry_or_mild(s))


def _used_up_on_half_the_draws(s: Situation) -> Reason | None:
    """Used up for half of the constants as they may be, though not yet for their values."""
    if s.middle is None or s.middle < 1:
        return None
    sentence = "the service interval may be used up: it is for half of the constants as they may be"
    return Reason("used-up", sentence, f"{s.middle:.2f} of an interval", "1", _dry_or_mild(s))


def test_overdue(s: Situation) -> Reason | None:
    """The interval since the last passed test is over: that of the stated use or, if shorter, of the plan."""
    if s.facts.last_pass is None:
        return None
    passed_on = s.facts.last_pass.on
    months = pressure_test_months(s.facts.watch, s.practice, s.amounts_to)
    due = months_after(passed_on, months)
    dry_from = months_after(passed_on, months + round(s.practice["dive_overdue_months"]))
    if s.on < due:
        return None
    days = (s.on - due).days
    span = f"{days} day{'s' if days != 1 else ''}"
    ago = "today" if days == 0 else f"{span} ago"
    sentence = f"the pressure test was due on {full_date(due)}, {ago}"
    verdict = KEEP_DRY if s.diving and s.on >= dry_from else THINK_TWICE
    return Reason("test-overdue", sentence, f"{span} over", f"{months} months", verdict)


def never_tested(s: Situation) -> Reason | None:
    """No passed test on record; a maker's test of samples only makes that milder."""
    if s.facts.last_pass is not None:
        return None
    if s.facts.sampled_on is not None:
        new_on = full_date(s.facts.sampled_on)
        sentence = f"no passed test of its own: bought new on {new_on}, its maker tests samples"
        return Reason("never-tested", sentence, "maker’s, not yours", "a pass on record", THINK_TWICE)
    verdict = KEEP_DRY if s.diving else THINK_TWICE
    return Reason("never-tested", "no passed pressure test on record", "none", "a pass on record", verdict)


def low_score(s: Situation) -> Reason | None:
    """Little is left of a service interval, or by the band of the score perhaps nothing.

    Silent where `used-up` or `seal-too-old` speaks.
    """
    limit = s.practice["low_score"]
    reaches_nothing = s.band is not None and s.band[0] <= 0
    if s.score >= limit and not reaches_nothing:
        return None
    if used_up(s) is not None or seal_too_old(s) is not None:
        return None
    if s.score < limit or s.band is None:
        sentence = f"the seal score is {s.score}: little of a service interval is left"
        return Reason("low-score", sentence, f"{s.score}", f"{limit:g}", THINK_TWICE)
    low, high = s.band
    sentence = f"the seal score is {s.score}, but its 80 % band reaches 0: perhaps nothing is left"
    return Reason("low-score", sentence, f"likely {low}–{high}", "a band above 0", THINK_TWICE)


def outlook_low(s: Situation) -> Reason | None:
    """The chance that a pressure test today would pass is low, in the mean or at the low end of its band."""
    if s.outlook is None:
        return None
    asked = "dive" if s.diving else "else"
    mean, low = s.practice[f"outlook_mean_{asked}"], s.practice[f"outlook_low_{asked}"]
    words = s.outlook.words  # such as "85 % (70–95), 3 tests of all your watches"
    low_limit = f"low end {100 * low:g} %"
    if s.outlook.chance < mean:
        value, limit = _percent_below(s.outlook.chance, mean), f"{100 * mean:g} %, {low_limit}"
        told = f"{value} ({words.partition(' (')[2]}"
    elif s.outlook.low < low:
        value, limit = f"low end {_percent_below(s.outlook.low, low)}", low_limit
        told = f"{words.partition(' (')[0]}, {value}, {words.partition('), ')[2]}"
    else:
        return None
    sentence = f"a pressure test today would pass with a chance of {told}"
    return Reason("outlook-low", sentence, value, limit, THINK_TWICE)


def _percent_below(chance: float, limit: float) -> str:
    """A chance that is below its limit in percent, with a decimal where rounding would hide that it is."""
    whole = max(1, round(100 * chance))
    if whole < 100 * limit - 1e-9:
        return f"{whole} %"
    return f"{math.floor(1000 * chance) / 10:.1f} %"


def record_silent(s: Situation) -> Reason | None:
    """Wet use is stated and nothing was logged or confirmed for a long time."""
    last = s.facts.last_water_on
    if s.facts.watch.use not in WET_USES or last is None:
        return None
    silent = (s.on - last).days
    limit = round(s.practice["silent_days"])
    if silent < limit:
        return None
    sentence = f"nothing was logged or confirmed for {silent} days, though its use is {s.facts.watch.use}"
    return Reason("record-silent", sentence, f"{silent} days", f"{limit} days", THINK_TWICE)


# In the order in which they are listed within one verdict.
STANDING: tuple[Rule, ...] = (
    fault_open,
    failed_test,
    opened_untested,
    mark_unknown,
    seal_too_old,
    used_up,
    test_overdue,
    never_tested,
    low_score,
    outlook_low,
    record_silent,
)
# On the screens the stated use stands for a plan; a check asks the plan rules instead, so that none doubles.
FOR_STATED_USE: tuple[Rule, ...] = (*STANDING[:4], stated_use_beyond_class, *STANDING[4:])
STANDING_CODES = (
    "fault-open", "failed-test", "opened-untested", "mark-unknown", "seal-too-old", "used-up", "test-overdue",
    "never-tested", "low-score", "outlook-low", "record-silent",
)  # fmt: skip
