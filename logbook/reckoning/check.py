"""The check before water: every reason that speaks, what stands beside it, what would change it.

A plan is judged on its last day, with the wear of the days before charged: its own and that of kept plans.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import TYPE_CHECKING

from logbook.reckoning import charge, facts, marks, planrules, rules, standing, wear
from logbook.reckoning.charge import current_seals
from logbook.reckoning.planrules import Planned
from logbook.reckoning.practice import Practice
from logbook.reckoning.rules import KEEP_DRY, NO_OBJECTION, NOT_JUDGED, VERDICTS, Reason, Situation
from logbook.reckoning.shown import (
    Units,
    show_at_least,
    show_depth,
    show_difference,
    show_pressure,
    show_swing,
    show_temp,
)
from logbook.reckoning.stands_words import CORRODES, lifting_pass_pa, proof_advice
from logbook.reckoning.text import full_date, likely, listed
from logbook.reckoning.values import DAMAGE, Event, Exposure, Position, Shares, WatchRecord

if TYPE_CHECKING:  # the first screen is painted without the chance
    from logbook.reckoning.bands import BandMaker
    from logbook.reckoning.trials import Foresight


@dataclass(frozen=True, slots=True)
class Verdict:
    """The answer before water: the verdict, its reasons worst first, context, and what would change it.

    A retired watch is not judged: it has no verdict, and `would_change` says so.
    """

    name: str
    verdict: str | None
    reasons: tuple[Reason, ...]
    context: tuple[str, ...]
    gauge_pa: float  # hydrostatic, at the planned depth
    planned_pa: float  # with the arm's speed, or the jump
    pass_needed_pa: float
    holds_from: date | None  # the first day of the plan from which the verdict holds
    would_change: str

    @property
    def word(self) -> str:
        """The verdict, or that there is none."""
        return self.verdict or NOT_JUDGED


def check(
    record: WatchRecord,
    exposure: Exposure,
    practice: Practice,
    today: date,
    foresight: Foresight | None = None,
    bands: BandMaker | None = None,
    units: Units = "metric",
) -> Verdict:
    """May this watch go there on the day of the plan?

    A trip is judged for its last day: what falls due on the way must speak before it begins. A day that is
    past is judged as of today, since the record may have got worse in between. Sentences are in `units`.
    """
    case = Case(practice, today, foresight, bands, units)
    on = max(today, exposure.last_day)
    planned = case.of(record, exposure, on)
    retired = record.watch.retired_on is not None
    reasons = [] if retired else reasons_of(planned)
    return Verdict(
        name=record.watch.name,
        verdict=None if retired else _worst(reasons),
        reasons=tuple(reasons),
        context=tuple(_context(case, record, planned, reasons)),
        gauge_pa=exposure.gauge_pa,
        planned_pa=planned.planned_pa,
        pass_needed_pa=planned.situation.facts.needs.asked_pa,
        holds_from=None if retired else _holds_from(case, record, exposure, on, reasons),
        would_change=RETIRED if retired else _would_change(case, record, exposure, on, reasons),
    )


RETIRED = "It is retired and not judged: bring it back to ask about it."


def check_any(
    records: Sequence[WatchRecord],
    exposure: Exposure,
    practice: Practice,
    today: date,
    foresight: Foresight | None = None,
    bands: BandMaker | None = None,
    units: Units = "metric",
) -> list[Verdict]:
    """Which one may come? Every watch that is not retired, the fewest objections first."""
    shelf = (record for record in records if record.watch.retired_on is None)
    verdicts = [check(record, exposure, practice, today, foresight, bands, units) for record in shelf]
    return sorted(verdicts, key=lambda v: (VERDICTS.index(v.verdict or KEEP_DRY), len(v.reasons)))


@dataclass(frozen=True, slots=True)
class Case:
    """What every trial of one check has in common: constants, today, what chance and bands need, units."""

    practice: Practice
    today: date
    foresight: Foresight | None
    bands: BandMaker | None
    units: Units = "metric"

    def of(self, record: WatchRecord, exposure: Exposure, on: date) -> Planned:
        """A plan beside the situation of a watch on a day, with what is planned before that day charged."""
        lived = with_plans(record, exposure, self.practice, self.today, on)
        wears = standing.wear_of(lived, self.practice, on)
        asked = planrules.asked_by(exposure, self.practice)
        known = facts.gather(record, on, self.practice, asked, self.today)
        score, _ = standing.score_of(record, known, wears)
        chance = standing.chance_of(record, known, wears, score, self.foresight)
        situation = Situation(known, tuple(wears), score, self.practice, chance, self.units)
        return Planned(exposure, situation, self.units)

    def band_of(self, record: WatchRecord, planned: Planned) -> tuple[int, int] | None:
        """The 80 % band of the score; None where it is not computed, or water planned before comes on top."""
        situation, on = planned.situation, planned.situation.facts.on
        if self.bands is None or situation.score is None:
            return None
        if with_plans(record, planned.exposure, self.practice, self.today, on) is not record:
            return None
        found = self.bands.of(record, situation.wears, on)
        return (found.score_low, found.score_high) if found else None


def with_plans(
    record: WatchRecord, exposure: Exposure, practice: Practice, today: date, on: date
) -> WatchRecord:
    """The record with the planned water of the days before `on` charged: kept plans', and its own."""
    kept = [plan for plan in record.plans if plan.id is None or plan.id != exposure.id]
    extra: dict[Position, Shares] = {}
    for plan in (*kept, exposure):
        days = (min(on - timedelta(days=1), plan.last_day) - max(today, plan.starts_on)).days + 1
        if days > 0:
            for position, shares in charge.preview(record, replace(plan, profile=()), practice).items():
                extra[position] = extra.get(position, Shares()).plus(shares.times(days))
    if not extra:
        return record
    totals: dict[int, Shares] = dict(record.totals)
    for seal in current_seals(record.seals):
        key = seal.id or 0
        totals[key] = totals.get(key, Shares()).plus(extra.get(seal.position, Shares()))
    return replace(record, totals=totals)


def reasons_of(planned: Planned) -> list[Reason]:
    """Everything that speaks against a plan, worst first."""
    spoken = [rule(planned.situation) for rule in rules.STANDING.values()]
    spoken += [rule(planned) for rule in planrules.PLAN.values()]
    stands = rules.what_stands(planned.situation)
    return rules.worst_first([*stands, *(r for r in spoken if r is not None)])


def _worst(reasons: Sequence[Reason]) -> str:
    return reasons[0].verdict if reasons else NO_OBJECTION


def _holds_from(
    case: Case, record: WatchRecord, exposure: Exposure, on: date, reasons: Sequence[Reason]
) -> date:
    """The first day of a plan on which its verdict is that of its last day; time never betters one."""
    first, last, found = max(case.today, exposure.starts_on), on, _worst(reasons)
    while first < last:
        middle = first + (last - first) // 2
        if _worst(reasons_of(case.of(record, exposure, middle))) == found:
            last = middle
        else:
            first = middle + timedelta(days=1)
    return first


def _context(case: Case, record: WatchRecord, planned: Planned, reasons: Sequence[Reason]) -> list[str]:
    """What lies inside its limit, and how the answer was come by."""
    spoken = {r.code for r in reasons}
    lines = [_pressure_line(planned)]
    practice, exposure, judged_on = planned.practice, planned.exposure, planned.situation.facts.on
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
            f"of the {show_difference(planrules.swing_limit_k(planned.watch, practice), units)} "
            "of the thermal-shock test of its mark"
        )
    if exposure.jump_m > 0 and "jump" not in spoken:
        height, head = show_depth(exposure.jump_m, units), planned.pressure(planned.jump_pa)
        lines.append(f"a jump from {height} has a steady head of {head} at most")
    if exposure.water_c_assumed:
        water = show_temp(exposure.water_c, units)
        lines.append(f"water at {water} is taken from the home water or assumed, not measured")
    band = case.band_of(record, planned)
    lines.append(_score_line(planned.situation, band))
    lines.append(_chance_line(planned))
    lines.append(_mark_line(planned))
    return lines


def _is_past(planned: Planned) -> bool:
    """True when the last day of the plan lies before the day that is judged, which then is today."""
    return planned.exposure.last_day < planned.situation.facts.on


def _score_line(situation: Situation, band: tuple[int, int] | None) -> str:
    if situation.score is None:
        return f"score not known {standing.NOTHING_KNOWN}"
    words = "" if band is None else likely(*band)
    return f"score {situation.score}{words}, a share of a service interval, not a chance"


def _chance_line(planned: Planned) -> str:
    situation = planned.situation
    if situation.chance is not None:
        when = "today" if _is_past(planned) else "on that day"
        to = show_pressure(situation.chance.to_pa, planned.units)
        return f"would pass a pressure test to {to} {when}: {situation.chance.words}"
    why = standing.no_chance(situation.facts, situation.score)
    return f"no chance of passing a test {why}" if why else "chance of passing a test: not computed"


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
    known = planned.situation.facts
    best = known.highest(known.in_force)
    needed = f"it asks for a pass at {show_at_least(known.needs.asked_pa, planned.units)}"
    if best is None:
        return f"{parts}; {needed}, and no test is in force"
    return f"{parts}; {needed}; highest in force: {rules.tested_words(best, planned.practice, planned.units)}"


def _mark_line(planned: Planned) -> str:
    watch = planned.watch
    if watch.mark == "unknown":
        return "its mark is not known, so that no class of use can be read from it"
    row = marks.mark_row(watch, planned.practice)
    return f"the check read the mark by common practice (row: {row.name})"


def _would_change(
    case: Case, record: WatchRecord, exposure: Exposure, on: date, reasons: Sequence[Reason]
) -> str:
    """The least that gives the mildest verdict within reach, tried on a copy of the record."""
    if not reasons:
        return "A fault, a knock, an opening, or a test that falls due would change it."
    clock = [reason for reason in reasons if reason.code == "clock-behind"]  # which no workshop sets

    def verdict_after(steps: Sequence[Step], test_pa: float) -> str:
        changed, changed_plan = record, exposure
        for step in steps:
            changed, changed_plan = step.apply(changed, changed_plan, on, test_pa)
        spoken = (r for r in reasons_of(case.of(changed, changed_plan, on)) if r.code != "clock-behind")
        return _worst(rules.worst_first([*spoken, *clock]))

    def least(test_pa: float) -> tuple[Sequence[Step], str]:
        # Fewer may be better: an opening that nobody needs leaves more in doubt than it settles.
        needed, best = _STEPS, verdict_after(_STEPS, test_pa)
        for step in _STEPS:
            fewer = tuple(s for s in needed if s is not step)
            verdict = verdict_after(fewer, test_pa)
            if VERDICTS.index(verdict) <= VERDICTS.index(best):
                needed, best = fewer, verdict
        return needed, best

    planned = case.of(record, exposure, on)
    advised_pa = _advised_pa(planned)
    needed, best = least(advised_pa)
    by_use_pa = planned.situation.facts.needs.use_pa
    if best != NO_OBJECTION and by_use_pa > advised_pa:  # the chance is asked for at what the use needs
        more, milder = least(by_use_pa)
        if VERDICTS.index(milder) < VERDICTS.index(best):
            needed, best, advised_pa = more, milder, by_use_pa
    now = _worst(reasons)
    if VERDICTS.index(best) >= VERDICTS.index(now):
        if clock and now == clock[0].verdict:
            return "Setting the clock changes it; or say that it is right: `logbook doctor --clock-is-right`."
        if now == KEEP_DRY:
            return "Nothing that a workshop does changes it for this plan: milder water, or another watch."
        return "It stays so for this plan, whatever is tested: milder water, or another watch."
    wet = any(CORRODES in reason.sentence for reason in reasons)
    done = _step_words(needed, proof_advice(record.watch, advised_pa, case.units), wet=wet)
    return f"It would read “{best}” {done}."


def _advised_pa(planned: Planned) -> float:
    """The pass in Pa that answers the plan and lifts whatever stands."""
    needs = planned.situation.facts.needs
    lifting = (lifting_pass_pa(stand, needs) for stand in planned.situation.facts.standing)
    return max(needs.asked_pa, *lifting, 0.0)


def _step_words(steps: Sequence[Step], test: str, *, wet: bool) -> str:
    """What has to happen, as it ends the sentence "It would read …"."""
    done = listed((s.words.format(test=test) for s in steps if s.at_workshop), "and")
    rest = [s.words for s in steps if not s.at_workshop]
    workshop = f", {CORRODES}" if wet and done else ""
    return ", ".join([*([f"after {done}{workshop}"] if done else []), *rest])


_LATE = 10_001  # after everything else that can have happened on the day
Remedy = Callable[[WatchRecord, Exposure, date, float], tuple[WatchRecord, Exposure]]


@dataclass(frozen=True, slots=True)
class Step:
    """One thing that can be done about a verdict, in words, and what the record then looks like."""

    words: str
    apply: Remedy
    at_workshop: bool = True


def _with_events(record: WatchRecord, *events: Event) -> WatchRecord:
    return replace(record, events=(*record.events, *events))


def _serviced(record: WatchRecord, plan: Exposure, on: date, test_pa: float) -> tuple[WatchRecord, Exposure]:
    """New gaskets everywhere, of the material that was there."""
    fresh = tuple(
        replace(seal, fitted_earliest=on, fitted_latest=on, order=_LATE, id=-1 - n, event_id=-1)
        for n, seal in enumerate(current_seals(record.seals))
    )
    opened = _with_events(record, Event("gaskets", on, _LATE))
    return replace(opened, seals=(*record.seals, *fresh)), plan


def _dried(record: WatchRecord, plan: Exposure, on: date, test_pa: float) -> tuple[WatchRecord, Exposure]:
    return _with_events(record, Event("opened", on, _LATE)), plan


def _repaired(record: WatchRecord, plan: Exposure, on: date, test_pa: float) -> tuple[WatchRecord, Exposure]:
    return _with_events(record, *(Event("repaired", on, _LATE + 1, repaired=kind) for kind in DAMAGE)), plan


def _tested(record: WatchRecord, plan: Exposure, on: date, test_pa: float) -> tuple[WatchRecord, Exposure]:
    test = Event("pressure-test", on, _LATE + 2, passed=True, test_pa=test_pa, medium="water")
    return _with_events(record, test), plan


def _closed(record: WatchRecord, plan: Exposure, on: date, test_pa: float) -> tuple[WatchRecord, Exposure]:
    return record, replace(
        plan, crown_wet=0, crown_under=0, pusher_wet=0, pusher_under=0, crown_open=False, pushers_open=False
    )


def _confirmed(record: WatchRecord, plan: Exposure, on: date, test_pa: float) -> tuple[WatchRecord, Exposure]:
    return replace(record, watch=replace(record.watch, confirmed_on=on)), plan


# In the order in which they happen; the first to be spared is the one with the most effort.
_STEPS: tuple[Step, ...] = (
    Step("new gaskets", _serviced),
    Step("a repair", _repaired),
    Step("opening, drying and mending", _dried),
    Step("{test}", _tested),
    Step("with crown and pushers closed and left alone", _closed, at_workshop=False),
    Step("once you say that nothing else happened", _confirmed, at_workshop=False),
)
