"""The plan rules: what a planned exposure asks of a watch, against its mark, its tests and its heat.

Each rule is one function from a `Planned` to a `Reason`, or None; `PLAN` is the table of them.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from logbook.physics import motion
from logbook.physics.constants import FRESH_WATER_KG_M3
from logbook.reckoning import rules, wear
from logbook.reckoning.marks import mark_limit_pa
from logbook.reckoning.practice import Practice
from logbook.reckoning.rules import KEEP_DRY, SPLASH, THINK_TWICE, Reason, Situation
from logbook.reckoning.shown import Units, show_depth, show_difference, show_judged, show_swing, show_temp
from logbook.reckoning.text import full_date
from logbook.reckoning.values import Exposure, Watch

DIVERS = ("divers", "divers-mixed-gas")
SURFACE = ("swim", "snorkel")
# A stagnation head needs one density; sea water is the heavier, and the share of it in any verdict is small.
SEA_KG_M3 = 1025.0


@dataclass(frozen=True, slots=True)
class Plan:
    """A planned exposure and how the watch would be closed for it."""

    exposure: Exposure
    crown_open: bool = False
    pushers_open: bool = False


@dataclass(frozen=True, slots=True)
class Planned:
    """A plan beside the situation of the watch, the pressures worked out once, and the owner's units."""

    plan: Plan
    situation: Situation
    units: Units = "metric"

    @property
    def exposure(self) -> Exposure:
        """The planned exposure."""
        return self.plan.exposure

    @property
    def watch(self) -> Watch:
        """The watch that is asked about."""
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
    def density_kg_m3(self) -> float:
        """Density that goes with speed and jump, in kg/m³."""
        return SEA_KG_M3 if self.exposure.water in ("sea", "brackish") else FRESH_WATER_KG_M3

    @property
    def arm_pa(self) -> float:
        """Dynamic pressure of the arm, ½ρv², in Pa."""
        return 0.0 if self.exposure.water == "air" else motion.dynamic_pa(self.arm_m_s, self.density_kg_m3)

    @property
    def jump_pa(self) -> float:
        """Steady stagnation pressure of the jump in Pa, at most; drag ignored."""
        return motion.jump_pa(self.exposure.jump_m, self.density_kg_m3)

    @property
    def planned_pa(self) -> float:
        """The pressure judged, in Pa gauge: depth with the arm's speed, or the jump if that is more."""
        return max(self.exposure.gauge_pa + self.arm_pa, self.jump_pa)

    def pressure(self, pressure_pa: float) -> str:
        """A gauge pressure in Pa as the sentences print it."""
        return show_judged(pressure_pa, self.units)


def class_of(exposure: Exposure, practice: Practice) -> str:
    """The class of the table of marks that a plan is judged by: its activity's, or what its depth makes it.

    A splash that goes deeper than `splash_depth_m`, or begins with a jump, is a swim; swimming or snorkelling
    deeper than `swim_depth_m` is a free dive, whatever it is called.
    """
    judged = practice.activities[exposure.activity].mark_class
    if judged == SPLASH and (exposure.depth_m > practice["splash_depth_m"] or exposure.jump_m > 0):
        judged = "swim"
    if judged in SURFACE and exposure.depth_m > practice["swim_depth_m"]:
        judged = "free dive"
    return judged


PlanRule = Callable[[Planned], Reason | None]


def percent(share: float) -> str:
    """Percent of the mark as sentences print it: a little above 100 never reads as 100."""
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
    """The activity is above the class of the mark in the table of common practice."""
    return rules.beyond_class(p.situation)


def over_tested(p: Planned) -> Reason | None:
    """The planned pressure is above the highest passed since the last opening or failure."""
    best = p.situation.facts.highest_pass
    passed = best.test_pa if best is not None and best.test_pa is not None else None
    if p.planned_pa <= 0 or (passed is not None and p.planned_pa <= passed):
        return None
    verdict = KEEP_DRY if p.situation.diving else THINK_TWICE
    if best is None or passed is None:
        sentence = "no pressure was passed since it was last opened or failed, or ever"
        return Reason("over-tested", sentence, p.pressure(p.planned_pa), "none passed", verdict)
    whose = "its maker’s test" if best.makers else f"the test of {full_date(best.on)}"
    sentence = f"{p.pressure(p.planned_pa)} is above the {p.pressure(passed)} of {whose}"
    return Reason("over-tested", sentence, p.pressure(p.planned_pa), p.pressure(passed), verdict)


def not_closed(p: Planned) -> Reason | None:
    """Crown or pushers open, or meant to be used in water."""
    e = p.exposure
    open_now = [
        n for n, is_open in (("crown", p.plan.crown_open), ("pushers", p.plan.pushers_open)) if is_open
    ]
    in_use = [
        name
        for name, uses in (("crown", e.crown_wet + e.crown_under), ("pushers", e.pusher_wet + e.pusher_under))
        if uses
    ]
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


def big_swing(p: Planned) -> Reason | None:
    """The case changes temperature by more than the thermal-shock test."""
    limit = p.practice["big_swing_k"]
    swing = wear.swing_k(p.exposure, p.practice)
    if swing <= limit:
        return None
    reached = wear.case_c(p.exposure, p.practice)
    course = show_swing(p.exposure.from_c, reached, p.units, " to ")
    sentence = f"the case goes from {course}, more than a thermal-shock test asks"
    told, allowed = show_difference(swing, p.units), show_difference(limit, p.units)
    return Reason("big-swing", sentence, told, allowed, THINK_TWICE)


def hot_water(p: Planned) -> Reason | None:
    """Sauna, hot tub, or hot soapy water."""
    e, limit = p.exposure, p.practice["hot_soap_c"]
    celsius = show_temp(e.water_c, p.units)
    if e.water == "soap" and e.water_c > limit:
        what = f"soapy water of {celsius}"
    elif e.water == "hot tub" or e.activity in ("sauna", "hot tub"):
        what = f"{e.activity} at {celsius}"
    else:
        return None
    sentence = f"{what}: heat and soap are hard on gaskets"
    return Reason("hot-water", sentence, celsius, f"soap {show_temp(limit, p.units)}", THINK_TWICE)


def jump(p: Planned) -> Reason | None:
    """A jump from high enough that the first contact is not covered by any steady head."""
    limit = p.practice["jump_m"]
    if p.exposure.jump_m <= limit:
        return None
    height = show_depth(p.exposure.jump_m, p.units)
    sentence = (
        f"a jump from {height}: the slam of first contact can exceed its steady "
        f"{p.pressure(p.jump_pa)}, locally and for milliseconds"
    )
    return Reason("jump", sentence, height, show_depth(limit, p.units), THINK_TWICE)


PLAN: tuple[PlanRule, ...] = (
    over_mark,
    beyond_class,
    over_tested,
    not_closed,
    near_mark,
    big_swing,
    hot_water,
    jump,
)
PLAN_CODES = (
    "over-mark", "beyond-class", "over-tested", "not-closed", "near-mark", "big-swing", "hot-water", "jump",
)  # fmt: skip
