"""The check before water: every reason against a plan, its context, and what would change the verdict.

A plan is judged on its last day, with the wear of the days before charged: its own and that of kept plans.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING

from logbook.model import marks
from logbook.model.judge import planrules, rules, standing
from logbook.model.judge.case import Case, reasons_of, worst_of
from logbook.model.judge.planrules import Planned
from logbook.model.judge.remedies import would_change
from logbook.model.judge.rules import KEEP_DRY, NOT_JUDGED, VERDICTS, Reason, Situation
from logbook.model.practice import Practice
from logbook.model.shown import (
    show_at_least,
    show_depth,
    show_difference,
    show_pressure,
    show_swing,
    show_temp,
)
from logbook.model.text import full_date, likely
from logbook.model.values import Exposure, Units, WatchRecord
from logbook.model.wear import wear

if TYPE_CHECKING:  # the first screen is painted without the chance
    from logbook.model.predict.bands import BandMaker
    from logbook.model.predict.trials import Foresight


@dataclass(frozen=True, slots=True)
class Verdict:
    """The answer before water: the verdict, its reasons worst first, context, and what would change it.

    A retired watch is not judged: it has no verdict, and `would_change` says why.
    """

    name: str
    verdict: str | None
    reasons: tuple[Reason, ...]
    context: tuple[str, ...]
    gauge_pa: float  # hydrostatic, at the planned depth
    planned_pa: float  # with the arm's speed, or the jump
    pass_needed_pa: float
    proved: bool  # a pass in force reaches what the plan asks for
    holds_from: date | None  # the first day of the plan from which the verdict holds
    would_change: str

    @property
    def word(self) -> str:
        """The verdict, or the word that there is none."""
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

    A trip is judged for its last day: what falls due on the way must be said before it begins. A past day is
    judged as of today, since the record may have got worse in between. Sentences are in `units`.
    """
    case = Case(practice, today, foresight, bands, units)
    on = max(today, exposure.last_day)
    planned = case.of(record, exposure, on)
    retired = record.watch.retired_on is not None
    reasons = [] if retired else reasons_of(planned)
    return Verdict(
        name=record.watch.name,
        verdict=None if retired else worst_of(reasons),
        reasons=tuple(reasons),
        context=tuple(_context(case, record, planned, reasons)),
        gauge_pa=exposure.gauge_pa,
        planned_pa=planned.planned_pa,
        pass_needed_pa=planned.situation.facts.needs.asked_pa,
        proved=planned.situation.facts.proved is not None,
        holds_from=None if retired else _holds_from(case, record, exposure, on, reasons),
        would_change=RETIRED if retired else would_change(case, record, exposure, on, reasons),
    )


PAST_PLAN = (
    "plan {id} is past and not settled, so its water is not counted: "
    "`logbook plan --happened {id}` or `logbook strike {id}`"
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
    """Which watch may come? Every watch that is not retired, by verdict, then proof, then number of reasons.

    Of two with the same verdict, the one with a pass in force comes first: evidence outranks a count of
    reasons.
    """
    shelf = (record for record in records if record.watch.retired_on is None)
    verdicts = [check(record, exposure, practice, today, foresight, bands, units) for record in shelf]
    return sorted(
        verdicts, key=lambda v: (VERDICTS.index(v.verdict or KEEP_DRY), not v.proved, len(v.reasons))
    )


def _holds_from(
    case: Case, record: WatchRecord, exposure: Exposure, on: date, reasons: Sequence[Reason]
) -> date:
    """The first day of a plan with the verdict of its last day; time alone never improves a verdict."""
    first, last, found = max(case.today, exposure.starts_on), on, worst_of(reasons)
    while first < last:
        middle = first + (last - first) // 2
        if worst_of(reasons_of(case.of(record, exposure, middle))) == found:
            last = middle
        else:
            first = middle + timedelta(days=1)
    return first


def _context(case: Case, record: WatchRecord, planned: Planned, reasons: Sequence[Reason]) -> list[str]:
    """What lies inside its limit, and how the answer was reached."""
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
    lines += [PAST_PLAN.format(id=plan.id) for plan in record.plans if plan.id and plan.last_day < case.today]
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
    if known.troubles:  # an old test is no comfort while something is wrong
        return f"{parts}; {needed}"
    if best is None:
        return f"{parts}; {needed}, and no test is in force"
    return f"{parts}; {needed}; highest in force: {rules.tested_words(best, planned.practice, planned.units)}"


def _mark_line(planned: Planned) -> str:
    watch = planned.watch
    if watch.mark == "unknown":
        return "its mark is not known, so no class of use can be read from it"
    row = marks.mark_row(watch, planned.practice)
    return f"the check read the mark by common practice (row: {row.name})"
