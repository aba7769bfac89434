"""The facts of a watch in their order, and what stands and is proved after each of them.

One walk goes through the facts, oldest first. Each fact may lift what stands; then it may raise something
new, and anything that asks for a pass takes every proof away.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta

from logbook.model import marks
from logbook.model.fitting import is_known
from logbook.model.judge import proofs
from logbook.model.judge.proofs import Asked, Proof
from logbook.model.judge.stands import (
    STANDS,
    Fact,
    Needs,
    Unresolved,
    beyond_proof,
    opens,
    overstress,
    pass_in,
    tests_are_asked,
    way_of,
)
from logbook.model.practice import Practice
from logbook.model.values import DAY_ORDER, Event, Exposure, Habit, Raised, Seal, WatchRecord


@dataclass(slots=True)
class Course:
    """What stands and what is proved, fact by fact."""

    needs: Needs
    stands: list[Unresolved] = field(default_factory=list)
    known: list[Proof] = field(default_factory=list)  # every proof so far, oldest first
    live: list[Proof] = field(default_factory=list)  # those after which nothing has asked for a new pass

    def see(self, fact: Fact) -> None:
        """Takes in the next fact: what it lifts, what it proves, what it raises."""
        what, watch = fact.what, self.needs.watch
        if isinstance(what, Event) and opens(what):
            # An unmarked watch promises nothing, so an opening ends whatever stands on it.
            self.stands = [] if watch.mark == "unmarked" and not tests_are_asked(watch) else self.stands
            for stand in self.stands:
                stand.opened = True
        self.stands = [s for s in self.stands if not STANDS[s.way].lifted(s, fact, self.needs)]
        proof = pass_in(fact)
        if proof is not None:
            self.known.append(proof)
            self.live.append(proof)
        for way in self.raised_by(fact):
            self._raise(way, fact)

    def raised_by(self, fact: Fact) -> list[str]:
        """The rows of `STANDS` that a fact raises."""
        what, watch = fact.what, self.needs.watch
        if isinstance(what, Event):
            return [way for way in [way_of(what, watch)] if way is not None]
        if isinstance(what, Seal):
            return ["opened-untested"] if self.known else []
        if isinstance(what, Proof):
            return []
        if fact.raises is not None:
            return [fact.raises]
        exposure = replace(what.exposure, starts_on=fact.on) if isinstance(what, Habit) else what
        practice = self.needs.practice
        found = ["overstressed"] if overstress(exposure, watch, practice) else []
        beyond = beyond_proof(exposure, watch, self.known, self.live, practice)
        return [*found, "beyond-proof"] if beyond else found

    def _raise(self, way: str, fact: Fact) -> None:
        row = STANDS[way]
        mild = way == "opened-untested" and self._may_be_before_a_pass(fact)
        self.stands.append(Unresolved(row.code, fact, way, mild=mild))
        if row.takes_proofs:
            self.live = []

    def _may_be_before_a_pass(self, fact: Fact) -> bool:
        """True where gaskets were fitted within a range of days that holds the last pass."""
        what = fact.what
        if isinstance(what, Seal):
            return any(proof.on >= what.fitted_earliest for proof in self.known)
        span = what.span if isinstance(what, Event) and what.kind == "gaskets" else None
        return span is not None and any(span[0] <= proof.on <= span[1] for proof in self.known)


def facts_of(record: WatchRecord, practice: Practice, until: date | None = None) -> list[Fact]:
    """All that happened up to a day, oldest first, each day in the order of docs/method.md."""
    found = [*_events(record.events), *_seal_ranges(record, practice), *_habits(record, until)]
    found += [_fact(raised.exposure, raised.code) for raised in sorted(record.raised, key=_gravest_first)]
    makers = proofs.makers_proof(record.watch)
    if makers is not None:
        found.append(Fact(makers.on, float(DAY_ORDER["pressure-test"]), makers))
    chosen = found if until is None else [fact for fact in found if fact.on <= until]
    return sorted(chosen, key=_place)


def _gravest_first(raised: Raised) -> int:
    return list(STANDS).index(raised.code)


def course(record: WatchRecord, asked: Asked, practice: Practice, until: date | None = None) -> Course:
    """What stands and what is proved at the end of a day; without a day, of all that is on record."""
    going = Course(Needs.of(record.watch, asked, practice))
    for fact in facts_of(record, practice, until):
        going.see(fact)
    return going


def raised_by_exposures(
    record: WatchRecord, exposures: Iterable[Exposure], practice: Practice
) -> list[Raised]:
    """What these logged exposures raise: the first of each code since the last fact that is not an exposure.

    `record.raised` is not read; `exposures` belong to the watch and are not planned. Later ones of the same
    code add nothing: a pass lifts them together with the first.
    """
    bare = replace(record, raised=())
    every = [*facts_of(bare, practice), *(_fact(exposure) for exposure in exposures)]
    going, found = Course(Needs.of(record.watch, proofs.stated(record.watch), practice)), []
    begun: set[str] = set()
    for fact in sorted(every, key=_place):
        if not isinstance(fact.what, Exposure):
            begun = begun if isinstance(fact.what, Habit) else set()
            going.see(fact)
            continue
        fresh = [code for code in going.raised_by(fact) if code not in begun]
        for code in fresh:
            begun.add(code)
            found.append(Raised("overstressed" if code == "overstressed" else "beyond-proof", fact.what))
            going.see(replace(fact, raises=code))
    return found


def new_by(record: WatchRecord, exposure: Exposure, practice: Practice) -> list[str]:
    """The codes that one more exposure begins, at its place among the facts of `record`."""
    going, begun = _up_to(record, exposure, practice)
    return [code for code in going.raised_by(_fact(exposure)) if code not in begun]


def _up_to(record: WatchRecord, exposure: Exposure, practice: Practice) -> tuple[Course, set[str]]:
    """How things stood before an exposure, and what other exposures had begun since the last other fact."""
    going = Course(Needs.of(record.watch, proofs.stated(record.watch), practice))
    begun: set[str] = set()
    for earlier in _others(record, exposure, practice):
        if _place(earlier) > _place(_fact(exposure)):
            break
        if isinstance(earlier.what, Exposure):
            begun.add(earlier.raises or "")
        elif not isinstance(earlier.what, Habit):
            begun = set()
        going.see(earlier)
    return going, begun


def meant_by(
    record: WatchRecord, entries: Sequence[Exposure | Habit], practice: Practice, asked: Asked
) -> list[Unresolved]:
    """What logged exposures and habits raise and no later pass has lifted, whatever else stands.

    Of several exposures with the same code only the first counts: a pass lifts all at once.
    """
    mine, ids = {id(entry) for entry in entries}, {entry.id for entry in entries}
    habits = [h for h in record.habits if h.id not in ids] + [e for e in entries if isinstance(e, Habit)]
    raised = (r for r in record.raised if r.exposure.id not in ids)
    facts = facts_of(replace(record, raised=tuple(raised), habits=tuple(habits)), practice)
    facts += [_fact(entry) for entry in entries if isinstance(entry, Exposure)]
    going, begun = Course(Needs.of(record.watch, asked, practice)), set[str]()
    for fact in sorted(facts, key=_place):
        if isinstance(fact.what, Exposure) and id(fact.what) in mine:
            fresh = [code for code in going.raised_by(fact) if code not in begun]
            begun.update(fresh)
            for code in fresh:
                going.see(replace(fact, raises=code))
            continue
        if not isinstance(fact.what, Exposure | Habit):
            begun = set()
        going.see(fact)
    return [stand for stand in going.stands if id(stand.cause.what) in mine]


def begun_by(record: WatchRecord, exposure: Exposure, practice: Practice) -> list[Unresolved]:
    """What a logged exposure raised, even if lifted since, the gravest first: for its line in a log."""
    going, _ = _up_to(record, exposure, practice)
    codes = going.raised_by(_fact(exposure))
    return [Unresolved(STANDS[code].code, _fact(exposure, code), code) for code in codes]


def _others(record: WatchRecord, exposure: Exposure, practice: Practice) -> list[Fact]:
    """The facts of a record without this exposure, which may be on it already."""
    every = facts_of(record, practice)
    return [f for f in every if not (isinstance(f.what, Exposure) and f.what.id == exposure.id)]


def _place(fact: Fact) -> tuple[date, float, str, float]:
    """Sorts facts; of two at one place, what they are decides, never which was typed first."""
    what = fact.what
    if isinstance(what, Exposure):
        at = what.starts_at.isoformat() if what.starts_at else ""
        return fact.on, fact.rank, at, -marks.met_pa(what)
    word = f"{what.kind} {what.repaired} {what.medium}" if isinstance(what, Event) else ""
    return fact.on, fact.rank, word, 0.0


def _fact(exposure: Exposure, raises: str | None = None) -> Fact:
    return Fact(exposure.starts_on, float(DAY_ORDER["exposure"]), exposure, raises)


def _events(events: Sequence[Event]) -> Iterator[Fact]:
    """Puts the events of a day in order: failures first, then openings, then passes, faults last.

    A failure in water comes after that day's passes in air or vacuum, which it outranks. An order that the
    owner gave is kept.
    """
    wet_failures = {e.on for e in events if _is_failure(e) and e.medium == "water"}
    for event in events:
        yield Fact(event.on, _rank(event, event.on in wet_failures), event)


def _rank(event: Event, wet_failure: bool) -> float:
    usual = DAY_ORDER[event.kind]
    if event.order != usual:
        return float(event.order)
    if wet_failure and event.passed and event.kind == "pressure-test" and event.medium != "water":
        return 2.0
    if _is_failure(event):
        return 3.0
    return usual - 1.0 if event.kind == "condensation-test" else float(usual)


def _is_failure(event: Event) -> bool:
    return event.kind in ("pressure-test", "condensation-test") and event.passed is False


def _seal_ranges(record: WatchRecord, practice: Practice) -> Iterator[Fact]:
    """Gaskets dated by a range that reaches past a pass: the watch was perhaps opened after that pass.

    An unknown fitting date raises nothing.
    """
    ranges = [
        seal
        for seal in record.seals
        if seal.event_id is None
        and seal.fitted_earliest < seal.fitted_latest
        and is_known(seal, record, practice)
    ]
    if ranges and (record.watch.mark != "unmarked" or tests_are_asked(record.watch)):
        last = max(ranges, key=lambda seal: seal.fitted_latest)
        makers = proofs.makers_proof(record.watch)
        passes = [*([makers.on] if makers else []), *(e.on for e in record.events if proofs.proof_of(e))]
        if any(on <= last.fitted_latest for on in passes):
            yield Fact(last.fitted_latest, float(DAY_ORDER["pressure-test"]) + 1, last)


def _habits(record: WatchRecord, until: date | None) -> Iterator[Fact]:
    """A habit raises what its exposure would, on its first day and after each pass while it runs."""
    water = DAY_ORDER["exposure"]
    # After a pass that came later than the day's water, the habit's next water is the day after.
    after = [e.on + timedelta(days=e.order > water) for e in record.events if proofs.proof_of(e)]
    for habit in record.habits:
        for on in [habit.from_on, *(on for on in after if on > habit.from_on)]:
            if (habit.to_on is None or on <= habit.to_on) and (until is None or on <= until):
                yield Fact(on, float(DAY_ORDER["exposure"]), habit)
