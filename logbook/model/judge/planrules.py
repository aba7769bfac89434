"""The plan rules: a planned exposure against the mark of a watch, its tests, and heat.

Each rule is one function from a `Planned` to a `Reason`, or None; `PLAN` is the table of them.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from logbook.model import marks
from logbook.model.civil import months_after
from logbook.model.judge import rules
from logbook.model.judge.proofs import Asked
from logbook.model.judge.rules import KEEP_DRY, THINK_TWICE, Reason, Situation
from logbook.model.marks import DIVERS, mark_limit_pa
from logbook.model.practice import Practice
from logbook.model.shown import show_at_least, show_depth, show_difference, show_judged, show_swing, show_temp
from logbook.model.text import full_date
from logbook.model.values import Exposure, Units, Watch
from logbook.model.wear import wear
from logbook.physics import motion


@dataclass(frozen=True, slots=True)
class Planned:
    """A planned exposure with the situation of its watch and the owner's units."""

    exposure: Exposure
    situation: Situation
    units: Units = "metric"

    @property
    def watch(self) -> Watch:
        """The watch in question."""
        return self.situation.facts.watch

    @property
    def practice(self) -> Practice:
        """The constants in force."""
        return self.situation.practice

    @property
    def arm_m_s(self) -> float:
        """A typical speed of the arm in m/s."""
        return self.practice.activities[self.exposure.activity].arm_m_s

    @property
    def arm_pa(self) -> float:
        """Dynamic pressure of the arm, ½ρv², in Pa."""
        return arm_pa(self.exposure, self.practice)

    @property
    def jump_pa(self) -> float:
        """Steady stagnation pressure of the jump in Pa, at most; drag ignored."""
        return marks.jump_pa(self.exposure)

    @property
    def planned_pa(self) -> float:
        """The pressure judged, in Pa gauge: depth with the arm's speed, or the jump if that is more."""
        return judged_pa(self.exposure, self.practice)

    def pressure(self, pressure_pa: float) -> str:
        """A gauge pressure in Pa as the sentences print it."""
        return show_judged(pressure_pa, self.units)


def arm_pa(exposure: Exposure, practice: Practice) -> float:
    """Dynamic pressure of a typical speed of the arm, ½ρv², in Pa; none in air."""
    if exposure.water == "air":
        return 0.0
    return motion.dynamic_pa(practice.activities[exposure.activity].arm_m_s, marks.density_kg_m3(exposure))


def judged_pa(exposure: Exposure, practice: Practice) -> float:
    """The pressure judged, in Pa gauge: depth with the arm's speed, or the jump if that is more."""
    return max(exposure.gauge_pa + arm_pa(exposure, practice), marks.jump_pa(exposure))


def asked_by(exposure: Exposure, practice: Practice) -> Asked:
    """What a planned exposure asks of a watch."""
    return Asked(marks.class_of(exposure, practice), judged_pa(exposure, practice))


PlanRule = Callable[[Planned], Reason | None]


def percent(share: float) -> str:
    """Percent of the mark as sentences print it; a little above 100 never reads as 100."""
    return f"{share:.1f} %" if 100 < share < 101 else f"{share:.0f} %"


def over_mark(p: Planned) -> Reason | None:
    """The planned pressure is above the mark."""
    limit = mark_limit_pa(p.watch, p.practice)
    if p.watch.mark == "unknown" or p.planned_pa <= limit:
        return None
    sentence = (
        f"{p.pressure(p.planned_pa)} with the arm’s speed and the jump is above {_mark_phrase(p, limit)}"
    )
    return Reason("over-mark", sentence, p.pressure(p.planned_pa), p.pressure(limit), KEEP_DRY)


def _mark_phrase(p: Planned, limit_pa: float) -> str:
    if p.watch.mark == "unmarked":
        return f"the {p.pressure(limit_pa)} taken for a watch without a mark"
    if p.watch.marked_pa is None:
        return f"the {p.pressure(limit_pa)} taken for a mark without a number"
    return f"the mark of {p.pressure(limit_pa)}"


def beyond_class(p: Planned) -> Reason | None:
    """The activity is above what the mark allows in the table of common practice."""
    return rules.beyond_class(p.situation)


def over_tested(p: Planned) -> Reason | None:
    """The planned pressure is above the highest proof in force, or that proof lacks the margin it needs.

    Says nothing while no proof is in force, or for rain and hands on a watch whose mark allows them.
    """
    known = p.situation.facts
    best = known.highest(known.in_force)
    if best is None or p.planned_pa <= 0 or p.situation.spared:
        return None
    passed_pa = best.counts_pa(p.practice, splash=known.asked.splash)
    value, limit = p.pressure(p.planned_pa), p.pressure(passed_pa)
    whose = "its maker’s test" if best.makers else f"the test of {full_date(best.on)}"
    needed = show_at_least(known.needs.asked_pa, p.units)
    if p.planned_pa > passed_pa:
        verdict = KEEP_DRY if p.situation.diving and not _reached_lately(p) else THINK_TWICE
        if passed_pa <= 0:  # a vacuum
            told = rules.tested_words(best, p.practice, p.units)
            sentence = f"this asks for a pass at {needed}; the highest in force is {told}"
            return Reason("over-tested", sentence, "none", needed, verdict)
        return Reason("over-tested", f"{value} is above the {limit} of {whose}", value, limit, verdict)
    if passed_pa >= known.needs.asked_pa - 0.5:
        return None
    sentence = f"{value} is within the {limit} of {whose}, but this asks for a pass at {needed}"
    return Reason("over-tested", sentence, limit, needed, THINK_TWICE)


def _reached_lately(p: Planned) -> bool:
    """True where a proof not long past its interval reached the plan, whatever has happened since."""
    known, months = p.situation.facts, round(p.practice["dive_overdue_months"])
    return any(
        proof.counts_pa(p.practice) >= p.planned_pa
        and known.on < months_after(known.lapses_on(proof), months)
        for proof in known.proofs
    )


def not_closed(p: Planned) -> Reason | None:
    """The crown or pushers are open, or will be used in water."""
    e = p.exposure
    pushers_may = p.watch.pushers_wet
    open_now = [n for n, is_open in (("crown", e.crown_open), ("pushers", e.pushers_open)) if is_open]
    uses = (("crown", e.crown_wet + e.crown_under), ("pushers", e.pusher_wet + e.pusher_under))
    in_use = [name for name, times in uses if times and not (name == "pushers" and pushers_may)]
    if open_now:
        sentence = f"{' and '.join(open_now)} open or unlocked: do not work crown or pushers in water"
    elif in_use:
        sentence = f"{' and '.join(in_use)} to be used in water: do not work crown or pushers in water"
    else:
        return None
    return Reason("not-closed", sentence, " and ".join(open_now or in_use), "closed", KEEP_DRY)


def near_mark(p: Planned) -> Reason | None:
    """The planned pressure is close below the mark."""
    limit = mark_limit_pa(p.watch, p.practice)
    near = p.practice["near_mark_divers" if p.watch.mark in DIVERS else "near_mark"]
    if p.watch.mark == "unknown" or not near * limit <= p.planned_pa <= limit:
        return None
    share = f"{100 * p.planned_pa / limit:.0f} %"
    sentence = f"{p.pressure(p.planned_pa)} is {share} of {_mark_phrase(p, limit)}"
    return Reason("near-mark", sentence, f"{share} of the mark", f"{100 * near:.0f} %", THINK_TWICE)


def swing_limit_k(watch: Watch, practice: Practice) -> float:
    """The swing in K of the mark's own thermal-shock test."""
    return practice["big_swing_k" if watch.mark in DIVERS else "big_swing_other_k"]


def big_swing(p: Planned) -> Reason | None:
    """The case changes temperature by more than its mark's thermal-shock test; not for rain and hands."""
    limit = swing_limit_k(p.watch, p.practice)
    swing = wear.swing_k(p.exposure, p.practice)
    if p.situation.splash_only or swing <= limit:
        return None
    reached = wear.case_c(p.exposure, p.practice)
    course = show_swing(p.exposure.from_c, reached, p.units, " to ")
    sentence = f"the case goes from {course}, more than the thermal-shock test of its mark asks"
    told, allowed = show_difference(swing, p.units), show_difference(limit, p.units)
    return Reason("big-swing", sentence, told, allowed, THINK_TWICE)


def hot_water(p: Planned) -> Reason | None:
    """A sauna, a hot tub, hot soapy water, or any water above `hot_water_c`."""
    e = p.exposure
    celsius = show_temp(e.water_c, p.units)
    if e.activity == "sauna" or e.water == "air":
        sentence = f"{e.activity} at {celsius}: take it off, heat is hard on its gaskets"
        return Reason("hot-water", sentence, celsius, "leave it outside", KEEP_DRY)
    soapy = e.water == "soap"
    limit = p.practice["hot_soap_c" if soapy else "hot_water_c"]
    if e.water_c <= limit and e.water != "hot tub" and e.activity != "hot tub":
        return None
    what = f"soapy water of {celsius}" if soapy else f"{e.activity} at {celsius}"
    sentence = f"{what}: heat {'and soap are' if soapy else 'is'} hard on gaskets"
    return Reason("hot-water", sentence, celsius, f"{show_temp(limit, p.units)}", THINK_TWICE)


def jump(p: Planned) -> Reason | None:
    """A jump from so high that no steady head covers the first contact."""
    limit = p.practice["jump_m"]
    if p.exposure.jump_m <= limit:
        return None
    height = show_depth(p.exposure.jump_m, p.units)
    sentence = (
        f"a jump from {height}: the slam of first contact can exceed its steady "
        f"{p.pressure(p.jump_pa)}, locally and for milliseconds"
    )
    return Reason("jump", sentence, height, show_depth(limit, p.units), THINK_TWICE)


PLAN: Mapping[str, PlanRule] = {
    "not-closed": not_closed,
    "over-mark": over_mark,
    "beyond-class": beyond_class,
    "near-mark": near_mark,
    "big-swing": big_swing,
    "hot-water": hot_water,
    "jump": jump,
    "over-tested": over_tested,
}
