"""What would change a verdict: the least effort that gives the mildest one within reach, tried on a copy."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date

from logbook.model.judge import rules
from logbook.model.judge.case import Case, reasons_of, worst_of
from logbook.model.judge.planrules import Planned
from logbook.model.judge.rules import KEEP_DRY, NO_OBJECTION, VERDICTS, Reason
from logbook.model.judge.stands_words import CORRODES, lifting_pass_pa, proof_advice
from logbook.model.text import listed
from logbook.model.values import DAMAGE, Event, Exposure, WatchRecord
from logbook.model.wear.charge import current_seals


def would_change(
    case: Case, record: WatchRecord, exposure: Exposure, on: date, reasons: Sequence[Reason]
) -> str:
    """The sentence about the least effort that gives the mildest verdict within reach."""
    if not reasons:
        return "A fault, a knock, an opening, or a test that falls due would change it."
    clock = [reason for reason in reasons if reason.code == "clock-behind"]  # no workshop sets a clock

    planned = case.of(record, exposure, on)
    day = max(on, planned.situation.facts.newest_on or on)  # after all that is on record

    def verdict_after(steps: Sequence[Step], test_pa: float) -> str:
        changed, changed_plan = record, exposure
        for step in steps:
            changed, changed_plan = step.apply(changed, changed_plan, day, test_pa)
        spoken = (r for r in reasons_of(case.of(changed, changed_plan, day)) if r.code != "clock-behind")
        return worst_of(rules.worst_first([*spoken, *clock]))

    def least(test_pa: float) -> tuple[Sequence[Step], str]:
        # Fewer steps may be better: a needless opening leaves more in doubt than it settles.
        needed, best = _STEPS, verdict_after(_STEPS, test_pa)
        for step in _STEPS:
            fewer = tuple(s for s in needed if s is not step)
            verdict = verdict_after(fewer, test_pa)
            if VERDICTS.index(verdict) <= VERDICTS.index(best):
                needed, best = fewer, verdict
        return needed, best

    advised_pa = _advised_pa(planned)
    needed, best = least(advised_pa)
    by_use_pa = planned.situation.facts.needs.use_pa
    if best != NO_OBJECTION and by_use_pa > advised_pa:  # the chance is asked for at what the use needs
        more, milder = least(by_use_pa)
        if VERDICTS.index(milder) < VERDICTS.index(best):
            needed, best, advised_pa = more, milder, by_use_pa
    now = worst_of(reasons)
    if VERDICTS.index(best) >= VERDICTS.index(now):
        if clock and now == clock[0].verdict:
            return "Setting the clock changes it; or say that it is right: `logbook doctor --clock-is-right`."
        if now == KEEP_DRY:
            return (
                "Nothing that a workshop does changes it for this plan: milder water or another watch would."
            )
        return "It stays so for this plan, whatever is tested; milder water or another watch would change it."
    wet = any(CORRODES in reason.sentence for reason in reasons)
    done = _step_words(needed, proof_advice(record.watch, advised_pa, case.units))
    hurry = f" {CORRODES[0].upper()}{CORRODES[1:]}." if wet else ""
    return f"It would read “{best}” {done}.{hurry}"


def _advised_pa(planned: Planned) -> float:
    """The pressure in Pa of a pass that answers the plan and lifts whatever stands."""
    needs = planned.situation.facts.needs
    lifting = (lifting_pass_pa(stand, needs) for stand in planned.situation.facts.standing)
    return max(needs.asked_pa, *lifting, 0.0)


def _step_words(steps: Sequence[Step], test: str) -> str:
    """What has to happen, worded to end the sentence "It would read …"."""
    done = listed((s.words.format(test=test) for s in steps if s.at_workshop), "and")
    rest = [s.words for s in steps if not s.at_workshop]
    return ", ".join([*([f"after {done}"] if done else []), *rest])


_LATE = 10_001  # after everything else that can have happened on the day
Remedy = Callable[[WatchRecord, Exposure, date, float], tuple[WatchRecord, Exposure]]


@dataclass(frozen=True, slots=True)
class Step:
    """One thing that can be done about a verdict, in words and as a changed record."""

    words: str
    apply: Remedy
    at_workshop: bool = True


def _with_events(record: WatchRecord, *events: Event) -> WatchRecord:
    return replace(record, events=(*record.events, *events))


def _serviced(record: WatchRecord, plan: Exposure, on: date, test_pa: float) -> tuple[WatchRecord, Exposure]:
    """The record with new gaskets everywhere, of the same materials."""
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


# In the order in which they happen; the first to be left out is the one with the most effort.
_STEPS: tuple[Step, ...] = (
    Step("new gaskets", _serviced),
    Step("a repair", _repaired),
    Step("opening, drying, mending", _dried),
    Step("{test}", _tested),
    Step("with crown and pushers closed and left alone", _closed, at_workshop=False),
    Step("once you say that nothing else happened", _confirmed, at_workshop=False),
)
