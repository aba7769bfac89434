"""One check: a plan and the watch on its day, with water planned before that day already charged."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import TYPE_CHECKING

from logbook.model.judge import facts, planrules, rules, standing
from logbook.model.judge.planrules import Planned
from logbook.model.judge.rules import NO_OBJECTION, Reason, Situation
from logbook.model.practice import Practice
from logbook.model.same import planned_water
from logbook.model.values import Exposure, Position, Shares, Units, WatchRecord
from logbook.model.wear import charge
from logbook.model.wear.charge import current_seals

if TYPE_CHECKING:  # the first screen is painted without the chance
    from logbook.model.predict.bands import BandMaker
    from logbook.model.predict.trials import Foresight


@dataclass(frozen=True, slots=True)
class Case:
    """What all trials of one check share: constants, today, the inputs of chance and bands, units."""

    practice: Practice
    today: date
    foresight: Foresight | None
    bands: BandMaker | None
    units: Units = "metric"

    def of(self, record: WatchRecord, exposure: Exposure, on: date) -> Planned:
        """A plan and the watch on its day, with what is planned before that day charged."""
        lived = with_plans(record, exposure, self.practice, self.today, on)
        wears = standing.wear_of(lived, self.practice, on)
        asked = planrules.asked_by(exposure, self.practice)
        known = facts.gather(record, on, self.practice, asked, self.today)
        score, _ = standing.score_of(record, known, wears)
        chance = standing.chance_of(record, known, wears, score, self.foresight)
        situation = Situation(
            known,
            tuple(wears),
            score,
            self.practice,
            chance,
            self.units,
            standing.known_places(record, wears, self.practice),
        )
        return Planned(exposure, situation, self.units)

    def band_of(self, record: WatchRecord, planned: Planned) -> tuple[int, int] | None:
        """The score's 80 % band; None where it is not computed, or where earlier planned water is added."""
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
    """The record with the planned water of the days before `on` charged: that of kept plans and its own.

    A question about a plan that is kept already is about that plan: its water is charged once.
    """
    kept = list(record.plans)
    own = next((plan for plan in kept if plan.id is not None and plan.id == exposure.id), None)
    own = own or next((p for p in kept if planned_water(p) == planned_water(exposure)), None)
    if own is not None:
        kept.remove(own)
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


def worst_of(reasons: Sequence[Reason]) -> str:
    """The verdict of reasons sorted worst first."""
    return reasons[0].verdict if reasons else NO_OBJECTION
