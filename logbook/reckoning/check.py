"""The check before water: every rule that speaks, what stands beside it for context, what would change it."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING

from logbook.reckoning import account, facts, marks, planrules, rules, wear
from logbook.reckoning.charge import current_seals
from logbook.reckoning.planrules import Plan, Planned
from logbook.reckoning.practice import Practice
from logbook.reckoning.rules import KEEP_DRY, NO_OBJECTION, VERDICTS, Reason, Situation
from logbook.reckoning.shown import (
    Units,
    judged_step_pa,
    show_depth,
    show_difference,
    show_judged,
    show_pressure,
    show_swing,
    show_temp,
)
from logbook.reckoning.standing import chance_of, wear_of, why_no_chance
from logbook.reckoning.text import full_date, likely, listed
from logbook.reckoning.values import DAMAGE, Event, WatchRecord

if TYPE_CHECKING:  # the first screen is painted without the chance
    from logbook.reckoning.bands import BandMaker
    from logbook.reckoning.trials import Foresight


@dataclass(frozen=True, slots=True)
class Verdict:
    """The answer before water: the verdict, its reasons worst first, context, and what would change it."""

    name: str
    verdict: str
    reasons: tuple[Reason, ...]
    context: tuple[str, ...]
    gauge_pa: float  # hydrostatic, at the planned depth
    planned_pa: float  # with the arm's speed, or the jump
    would_change: str


def check(
    record: WatchRecord,
    plan: Plan,
    practice: Practice,
    today: date,
    foresight: Foresight | None = None,
    bands: BandMaker | None = None,
    units: Units = "metric",
) -> Verdict:
    """May this watch go there on the day of the plan? Judged with the record as it stands.

    A trip is judged for its last day: what falls due on the way must speak before it begins. A day that is
    past is judged as of today, since the record may have got worse in between. Sentences are in `units`.
    """
    last_day = plan.exposure.last_day
    case = Case(practice, max(today, last_day), foresight, bands, units)
    planned = case.of(record, plan)
    reasons = _reasons(planned)
    return Verdict(
        name=record.watch.name,
        verdict=_worst(reasons),
        reasons=tuple(reasons),
        context=tuple(_context(planned, reasons)),
        gauge_pa=plan.exposure.gauge_pa,
        planned_pa=planned.planned_pa,
        would_change=_would_change(case, record, plan, reasons),
    )


def check_any(
    records: Sequence[WatchRecord],
    plan: Plan,
    practice: Practice,
    today: date,
    foresight: Foresight | None = None,
    bands: BandMaker | None = None,
    units: Units = "metric",
) -> list[Verdict]:
    """Which one may come? Every watch that is not retired, the fewest objections first."""
    shelf = (record for record in records if record.watch.retired_on is None)
    verdicts = [check(record, plan, practice, today, foresight, bands, units) for record in shelf]
    return sorted(verdicts, key=lambda v: (VERDICTS.index(v.verdict), len(v.reasons)))


@dataclass(frozen=True, slots=True)
class Case:
    """What every trial of one check has in common: constants, day, what chance and bands need, units."""

    practice: Practice
    on: date
    foresight: Foresight | None
    bands: BandMaker | None
    units: Units = "metric"

    def of(self, record: WatchRecord, plan: Plan) -> Planned:
        """A plan beside the situation of a watch on the day."""
        wears = wear_of(record, self.practice, self.on)
        score, _ = account.score(wears, self.on)
        known = facts.gather(record, self.on)
        chance = chance_of(self.foresight, record, known, wears) if self.foresight else None
        found = self.bands.of(record, wears, self.on) if self.bands else None
        band = (found.score_low, found.score_high) if found else None
        activity_class = planrules.class_of(plan.exposure, self.practice)
        middle = found.middle if found else None
        situation = Situation(known, tuple(wears), score, activity_class, self.practice, chance, band, middle)
        return Planned(plan, situation, self.units)


def _reasons(planned: Planned) -> list[Reason]:
    spoken = [rule(planned.situation) for rule in rules.STANDING]
    spoken += [rule(planned) for rule in planrules.PLAN]
    return rules.worst_first(r for r in spoken if r is not None)


def _worst(reasons: Sequence[Reason]) -> str:
    return reasons[0].verdict if reasons else NO_OBJECTION


def _context(planned: Planned, reasons: Sequence[Reason]) -> list[str]:
    """What lies inside its limit, and how the answer was come by."""
    spoken = {r.code for r in reasons}
    lines = [_pressure_line(planned)]
    practice, exposure, judged_on = planned.practice, planned.exposure, planned.situation.on
    units = planned.units
    if planned.watch.retired_on is not None:
        lines.append(f"retired on {full_date(planned.watch.retired_on)}")
    if _is_past(planned):
        lines.append(f"that day is past: judged as of today, {full_date(judged_on)}")
    elif exposure.planned_to is not None:
        lines.append(f"judged for the last day of the trip, {full_date(judged_on)}")
    if "big-swing" not in spoken:
        swing = wear.swing_k(exposure, practice)
        reached = wear.case_c(exposure, practice)
        lines.append(
            f"swing {show_swing(exposure.from_c, reached, units)} is {show_difference(swing, units)} "
            f"of the {show_difference(practice['swing_k'], units)} of the thermal-shock test"
        )
    if exposure.jump_m > 0 and "jump" not in spoken:
        height, head = show_depth(exposure.jump_m, units), planned.pressure(planned.jump_pa)
        lines.append(f"a jump from {height} has a steady head of {head} at most")
    if exposure.water_c_assumed:
        water = show_temp(exposure.water_c, units)
        lines.append(f"water at {water} is taken from the home water or assumed, not measured")
    lines.append(f"score {_score_words(planned.situation)}, a share of a service interval, not a chance")
    lines.append(_chance_line(planned))
    lines.append(_mark_line(planned))
    return lines


def _is_past(planned: Planned) -> bool:
    """True when the last day of the plan lies before the day that is judged, which then is today."""
    return planned.exposure.last_day < planned.situation.on


def _score_words(situation: Situation) -> str:
    if situation.band is None:
        return f"{situation.score} (band not computed)"
    return f"{situation.score}{likely(*situation.band)}"


def _chance_line(planned: Planned) -> str:
    situation = planned.situation
    if situation.chance is not None:
        when = "today" if _is_past(planned) else "on that day"
        to = show_pressure(situation.chance.to_pa, planned.units)
        return f"would pass a pressure test to {to} {when}: {situation.chance.words}"
    why = why_no_chance(situation.facts, situation.wears)
    return f"no chance {why}" if why else "chance: not computed"


def _pressure_line(planned: Planned) -> str:
    exposure, watch = planned.exposure, planned.watch
    pressure, depth = planned.pressure, show_depth(exposure.depth_m, planned.units)
    parts = f"{pressure(exposure.gauge_pa)} at {depth} + arm {pressure(planned.arm_pa)}"
    by_jump = planned.jump_pa > exposure.gauge_pa + planned.arm_pa
    if by_jump:
        parts = f"the jump’s steady head of {pressure(planned.jump_pa)}, more than {parts},"
    if watch.marked_pa:
        share = 100 * planned.planned_pa / watch.marked_pa
        parts += f" {'is' if by_jump else '='} {planrules.percent(share)} of the mark"
    best = planned.situation.facts.highest_pass
    if best is None or best.test_pa is None:
        return f"{parts}; no pressure passed since it was last opened or failed"
    whose = "its maker’s, not yours" if best.makers else full_date(best.on)
    return f"{parts}; highest pass {pressure(best.test_pa)} ({whose})"


def _mark_line(planned: Planned) -> str:
    watch = planned.watch
    if watch.mark == "unknown":
        return "its mark is not known, so that no class of use can be read from it"
    row = marks.mark_row(watch, planned.practice)
    used = f"the check read the mark by common practice (row: {row.name})"
    if watch.marked_pa is None:
        return used
    stated = f"{watch.marked_pa / 1e4:.0f} m"  # as it stands on the watch: 10 m for 1 bar
    if planned.units == "imperial":
        stated += f", {show_depth(watch.marked_pa / 1e4, planned.units)}"
    return f"{used}; ISO 22810 itself reads a mark as usable to its stated {stated}"


def _would_change(case: Case, record: WatchRecord, plan: Plan, reasons: Sequence[Reason]) -> str:
    """The least that gives the mildest verdict within reach, tried on a copy of the record."""
    if not reasons:
        return "A fault, an opening, or a test that falls due would change it."

    def verdict_after(steps: Sequence[Step]) -> str:
        changed, changed_plan = record, plan
        for step in steps:
            changed, changed_plan = step.apply(changed, changed_plan, case.on)
        return _worst(_reasons(case.of(changed, changed_plan)))

    now, best = _worst(reasons), verdict_after(_STEPS)
    if VERDICTS.index(best) >= VERDICTS.index(now):
        if now == KEEP_DRY:
            return "Nothing that a workshop does changes it for this plan: milder water, or another watch."
        return "It stays so for this plan, whatever is tested: milder water, or another watch."
    needed = list(_STEPS)
    for step in _STEPS:
        fewer = [s for s in needed if s is not step]
        if verdict_after(fewer) == best:
            needed = fewer
    return f"It would read “{best}” {_step_words(needed, case.of(record, plan).planned_pa, case.units)}."


def _step_words(steps: Sequence[Step], planned_pa: float, units: Units) -> str:
    """What has to happen, as it ends the sentence "It would read …"."""
    pressure = f" at {_at_least(planned_pa, units)} or more" if planned_pa > 0 else ""
    done = listed((s.words.format(pressure=pressure) for s in steps if s.at_workshop), "and")
    rest = [s.words for s in steps if not s.at_workshop]
    return ", ".join([*([f"after {done}"] if done else []), *rest])


def _at_least(pressure_pa: float, units: Units) -> str:
    """Rounded up: a test at the pressure that is printed covers the plan."""
    step_pa = judged_step_pa(pressure_pa, units)
    return show_judged(math.ceil(pressure_pa / step_pa) * step_pa, units)


_LATE = 10_001  # after everything else that can have happened on the day
Remedy = Callable[[WatchRecord, Plan, date], tuple[WatchRecord, Plan]]


@dataclass(frozen=True, slots=True)
class Step:
    """One thing that can be done about a verdict, in words, and what the record then looks like."""

    words: str
    apply: Remedy
    at_workshop: bool = True


def _serviced(record: WatchRecord, plan: Plan, on: date) -> tuple[WatchRecord, Plan]:
    """New gaskets everywhere, of the material that was there."""
    fresh = tuple(
        replace(seal, fitted_earliest=on, fitted_latest=on, order=_LATE, id=-1 - n)
        for n, seal in enumerate(current_seals(record.seals))
    )
    opened = Event("gaskets", on, _LATE)
    return replace(record, seals=(*record.seals, *fresh), events=(*record.events, opened)), plan


def _repaired(record: WatchRecord, plan: Plan, on: date) -> tuple[WatchRecord, Plan]:
    repairs = tuple(Event("repaired", on, _LATE + 1, repaired=kind) for kind in DAMAGE)
    return replace(record, events=(*record.events, *repairs)), plan


def _tested(record: WatchRecord, plan: Plan, on: date) -> tuple[WatchRecord, Plan]:
    test = Event("pressure-test", on, _LATE + 2, passed=True, test_pa=math.inf, medium="water")
    return replace(record, events=(*record.events, test)), plan


def _closed(record: WatchRecord, plan: Plan, on: date) -> tuple[WatchRecord, Plan]:
    return record, Plan(replace(plan.exposure, crown_wet=0, crown_under=0, pusher_wet=0, pusher_under=0))


def _confirmed(record: WatchRecord, plan: Plan, on: date) -> tuple[WatchRecord, Plan]:
    return replace(record, watch=replace(record.watch, confirmed_on=on)), plan


# In the order in which they happen; the first to be spared is the one with the most effort.
_STEPS: tuple[Step, ...] = (
    Step("new gaskets", _serviced),
    Step("a repair", _repaired),
    Step("a pressure test passed{pressure}", _tested),
    Step("with crown and pushers closed and left alone", _closed, at_workshop=False),
    Step("once you confirm that nothing else happened", _confirmed, at_workshop=False),
)
