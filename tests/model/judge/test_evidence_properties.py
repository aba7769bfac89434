"""What holds of evidence whatever happened: every short history, and any longer one by chance.

An added fault, failure, blow, overstress, deeper plan, an opening after the last test, or time going by never
betters a verdict; a lost proof never betters one; a pass at the mark never worsens one; typing order changes
nothing; and one more exposure begins something exactly where a working-out from nothing says so.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import date
from functools import cache
from itertools import combinations, pairwise, product
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.model.judge import facts, planrules, rules, standing
from logbook.model.judge.case import reasons_of
from logbook.model.judge.history import new_by, raised_by_exposures
from logbook.model.judge.planrules import Planned
from logbook.model.judge.rules import KEEP_DRY, Situation
from logbook.model.values import Event, Exposure, WatchRecord
from tests.effort import part_of, tries
from tests.model.builders import PRACTICE
from tests.model.situation_words import NOW, Told, case_of, grave, history_of, water_of

PASSES = (
    "passed 25 bar in water",
    "passed 12 bar in air",
    "passed 3 bar in air",
    "passed 0.9 bar in vacuum",
    "condensation test passed",
)
OPENINGS = ("opened", "crystal repaired")
TROUBLES = (
    "failed 20 bar in water",
    "failed 3 bar in air",
    "failed 0.7 bar in vacuum",
    "condensation test failed",
    "water inside",
    "fog",
    "fog that sealed air explains",
    "crystal damaged",
    "knock",
    "knock that moved something",
    "dive 205 m",
    "dive 103 m",
    "swim 1.5 m, crown used under water",
)
DAYS = ("1 Mar", "10 Mar")
ITEMS = tuple(f"{day}: {what}" for day in DAYS for what in (*PASSES, *OPENINGS, *TROUBLES))
PLANS = ("shelf", "rain", "swim 1.5 m", "dive 18 m")
WATCHES: dict[str, dict[str, Any]] = {
    "a diver's watch, proved": {},
    "a diver's watch, never tested": {"bare": True},
    "ten bar, swims, proved at three": {
        "watch": "10 bar, swimming", "bare": True, "history": ["5 Jan: passed 3 bar in air"],
    },
    "three bar, kept dry": {"watch": "3 bar, dry"},
    "an unknown mark": {"watch": "unknown mark, swimming"},
    "an unmarked watch that its owner tests": {"watch": "unmarked, dry, tests every 24 months"},
    "used up": {"watch": "diver's 20 bar, diving, wear 0.98"},
}  # fmt: skip
IN_FULL = ("a diver's watch, proved", "ten bar, swims, proved at three")

History = tuple[str, ...]


def histories(most: int) -> Iterator[History]:
    """Sets of up to so many facts, none of them told twice; some of those of two or more."""
    for length in range(most + 1):
        sets = combinations(ITEMS, length)
        yield from sets if length < 2 else part_of(sets)


def without(history: History, lost: str) -> History:
    return tuple(line for line in history if line != lost)


def what(line: str) -> str:
    return line.partition(": ")[2]


# ---------------------------------------------------------------- a watch with a history, asked


@cache
def base(name: str) -> WatchRecord:
    return case_of(WATCHES[name]).record


@cache
def told(line: str) -> Told:
    return history_of([line], None)


def record_of(name: str, history: Iterable[str]) -> WatchRecord:
    """The watch with these facts, entered in the order in which they are told."""
    events: list[Event] = list(base(name).events)
    exposures: list[Exposure] = []
    for number, line in enumerate(history, start=1):
        events += [replace(event, id=number) for event in told(line).events]
        exposures += [replace(exposure, id=number) for exposure in told(line).exposures]
    whole = replace(base(name), events=tuple(events))
    raised = raised_by_exposures(whole, exposures, PRACTICE) if exposures else []
    return replace(whole, raised=tuple(raised))


@cache
def wears_of(name: str, on: date) -> tuple[Any, ...]:
    """Facts change no wear, so that it is worked out once for a watch and a day."""
    return tuple(standing.wear_of(base(name), PRACTICE, on))


@cache
def planned(plan: str) -> Exposure:
    return water_of(plan, NOW)


def reasons(name: str, whole: WatchRecord, plan: str, on: date = NOW) -> list[rules.Reason]:
    """What speaks on a day, for the stated use or a plan."""
    if plan == "shelf":
        known = facts.gather(whole, on, PRACTICE)
    else:
        asked = planrules.asked_by(planned(plan), PRACTICE)
        known = facts.gather(whole, on, PRACTICE, asked)
    score, _ = standing.score_of(whole, known, wears_of(name, on))
    situation = Situation(known, wears_of(name, on), score, PRACTICE)
    if plan == "shelf":
        return rules.standing_reasons(situation)
    return reasons_of(Planned(planned(plan), situation))


def verdicts(
    name: str, history: Iterable[str], on: date = NOW, plans: Sequence[str] = PLANS
) -> tuple[int, ...]:
    """How grave the answers are to the plans, in their order."""
    whole = record_of(name, history)
    return tuple(rules.VERDICTS.index(grave(reasons(name, whole, plan, on))) for plan in plans)


@cache
def now_of(name: str, history: History) -> tuple[int, ...]:
    """The answers of today to all plans, which several properties compare others with."""
    return verdicts(name, history)


def better(some: tuple[int, ...], others: tuple[int, ...]) -> list[int]:
    """The places at which some answers are milder than others."""
    return [n for n, (a, b) in enumerate(zip(some, others, strict=True)) if a < b]


def is_last_opening(history: History, line: str) -> bool:
    """True for an opening on a later day than every test of the history."""
    tests = [
        DAYS.index(other.partition(":")[0]) for other in history if what(other) in PASSES or "failed" in other
    ]
    return what(line) in OPENINGS and all(DAYS.index(line.partition(":")[0]) > day for day in tests)


# ---------------------------------------------------------------- every history


def broken(name: str, most: int) -> dict[str, list[str]]:
    """The properties that some history breaks, each with its histories in words."""
    found: dict[str, list[str]] = {}
    for history in histories(most):
        now = now_of(name, history)
        for line in history:
            before = now_of(name, without(history, line))
            if what(line) in TROUBLES or is_last_opening(history, line):
                kind, places = f"it is better for “{line}”", better(now, before)
            elif what(line) in PASSES:
                kind, places = f"it is better without “{line}”", better(before, now)
            else:
                continue
            for place in places:
                found.setdefault(kind, []).append(f"{PLANS[place]} after {without(history, line)}")
    return found


@pytest.mark.parametrize("name", WATCHES)
def test_trouble_never_betters_a_verdict_and_a_lost_proof_never_does(name: str) -> None:
    assert broken(name, 3 if name in IN_FULL else 2) == {}


@pytest.mark.parametrize("name", WATCHES)
def test_time_going_by_never_betters_a_verdict(name: str) -> None:
    days = (date(2026, 12, 20), date(2027, 2, 1), date(2028, 3, 1))
    for history in histories(2 if name in IN_FULL else 1):
        answers = [now_of(name, history), *(verdicts(name, history, on) for on in days)]
        for earlier, later in pairwise(answers):
            assert not better(later, earlier), history


DEEPER = (
    ("swim 0.3 m", "swim 1.5 m", "swim 5 m", "swim 9 m"),
    tuple(f"dive {depth_m} m" for depth_m in (1, 5, 18, 23, 30, 95, 119, 170, 210)),
)


@pytest.mark.parametrize("name", WATCHES)
def test_a_deeper_plan_is_never_better(name: str) -> None:
    for history in histories(2 if name in IN_FULL else 1):
        for ladder in DEEPER:
            answers = verdicts(name, history, plans=ladder)
            assert list(answers) == sorted(answers), (history, ladder, answers)


@pytest.mark.parametrize("name", WATCHES)
def test_a_pass_at_the_mark_never_worsens_a_verdict(name: str) -> None:
    mark = base(name).watch.marked_pa or {"unmarked": 1e5}.get(base(name).watch.mark, 25e5)
    at_the_mark = f"20 Mar: passed {mark / 1e5:g} bar in water"
    for history in histories(2):
        assert not better(now_of(name, history), verdicts(name, (*history, at_the_mark))), history


def stated(whole: WatchRecord) -> list[tuple[str, date, bool]]:
    """What stands for the stated use, and whether anything was noted of its lifting."""
    known = facts.gather(whole, NOW, PRACTICE)
    return sorted((s.way, s.on, s.opened) for s in known.standing)


@pytest.mark.parametrize("name", WATCHES)
def test_typing_order_changes_nothing(name: str) -> None:
    for history in histories(2):
        whole, otherwise = record_of(name, history), record_of(name, history[::-1])
        assert stated(whole) == stated(otherwise), history
        assert {r.code: r.verdict for r in reasons(name, whole, "dive 18 m")} == {
            r.code: r.verdict for r in reasons(name, otherwise, "dive 18 m")
        }, history


# ---------------------------------------------------------------- any longer history

lines = st.sampled_from(ITEMS + tuple(f"20 Mar: {fact}" for fact in (*PASSES, *OPENINGS, *TROUBLES)))
any_history = st.lists(lines, max_size=6, unique=True)
any_watch = st.sampled_from(sorted(WATCHES))


@given(
    name=any_watch,
    history=any_history,
    added=st.sampled_from(TROUBLES),
    day=st.sampled_from(["5 Mar", "25 Mar"]),
)
@settings(max_examples=tries(300))
def test_trouble_never_betters_a_long_history(name: str, history: list[str], added: str, day: str) -> None:
    assert not better(verdicts(name, [*history, f"{day}: {added}"]), verdicts(name, history))


@given(name=any_watch, history=any_history, data=st.data())
@settings(max_examples=tries(300))
def test_a_lost_proof_never_betters_a_long_history(
    name: str, history: list[str], data: st.DataObject
) -> None:
    lost = data.draw(st.sampled_from([line for line in history if what(line) in PASSES] or [""]))
    assert not better(verdicts(name, [line for line in history if line != lost]), verdicts(name, history))


@given(name=any_watch, history=any_history, data=st.data())
@settings(max_examples=tries(300))
def test_typing_order_changes_nothing_of_a_long_history(
    name: str, history: list[str], data: st.DataObject
) -> None:
    """The numbers of entries, and their places in what is read, are those of their typing."""
    otherwise = data.draw(st.permutations(history))
    assert verdicts(name, history) == verdicts(name, otherwise)
    assert stated(record_of(name, history)) == stated(record_of(name, otherwise))


@given(name=any_watch, history=any_history, later=st.integers(0, 900), more=st.integers(0, 900))
@settings(max_examples=tries(200))
def test_time_never_betters_a_long_history(name: str, history: list[str], later: int, more: int) -> None:
    sooner, after = (date.fromordinal(NOW.toordinal() + days) for days in (later, later + more))
    assert not better(verdicts(name, history, after), verdicts(name, history, sooner))


# ---------------------------------------------------------------- what one more exposure begins

EXPOSED = (
    "dive 205 m", "dive 103 m", "dive 18 m", "dive 18 m, crown open", "mixed gas 60 m", "swim 1.5 m",
    "swim 1.5 m, crown used under water", "swim 1.5 m, pushers used under water", "shower", "rain", "sauna",
)  # fmt: skip
DAYS_IN_WATER = ("1 Mar", "5 Mar", "10 Mar", "20 Mar")
exposures = st.lists(
    st.sampled_from([f"{day}: {water}" for day in DAYS_IN_WATER for water in EXPOSED]), max_size=4
)
HABITS = ("from 2 Mar: daily swim 1.5 m, crown open", "from 2 Mar to 12 Mar: daily dive 18 m")


def logged(told_lines: Sequence[str]) -> list[Exposure]:
    found = []
    for number, line in enumerate(told_lines, start=1):
        found += [replace(exposure, id=number) for exposure in told(line).exposures]
    return found


def begun(whole: WatchRecord, water: Sequence[Exposure]) -> list[tuple[str, int | None]]:
    return [(r.code, r.exposure.id) for r in raised_by_exposures(whole, water, PRACTICE)]


def agrees(whole: WatchRecord, water: Sequence[Exposure]) -> bool:
    """True where the last of some exposures begins something exactly if it changes the list from nothing."""
    *before, last = water
    kept = replace(whole, raised=tuple(raised_by_exposures(whole, before, PRACTICE)))
    new = new_by(kept, last, PRACTICE)
    return (new == []) == (begun(whole, water) == begun(whole, before))


@given(
    name=any_watch,
    history=any_history,
    water=exposures,
    last=exposures.filter(bool),
    habit=st.sampled_from(["", *HABITS]),
)
@settings(max_examples=tries(400))
def test_one_more_exposure_begins_what_a_working_out_from_nothing_says(
    name: str, history: list[str], water: list[str], last: list[str], habit: str
) -> None:
    happened = [line for line in history if not told(line).exposures]
    whole = record_of(name, happened)
    whole = replace(whole, habits=tuple(told(habit).habits) if habit else ())
    assert agrees(whole, logged([*water, last[-1]]))


@given(name=any_watch, history=any_history, water=exposures, data=st.data())
@settings(max_examples=tries(200))
def test_what_exposures_begin_does_not_hang_on_the_order_of_typing(
    name: str, history: list[str], water: list[str], data: st.DataObject
) -> None:
    whole = record_of(name, [line for line in history if not told(line).exposures])

    def codes_and_days(typed: Sequence[str]) -> list[tuple[str, date]]:
        return sorted(
            (code, logged(typed)[(number or 0) - 1].starts_on) for code, number in begun(whole, logged(typed))
        )

    assert codes_and_days(water) == codes_and_days(data.draw(st.permutations(water)))


@pytest.mark.parametrize("name", WATCHES)
def test_a_second_exposure_begins_what_a_working_out_from_nothing_says(name: str) -> None:
    """Two exposures before, between and after one event, each on each day."""
    water = [f"{day}: {exposure}" for day in ("1 Mar", "10 Mar", "20 Mar") for exposure in EXPOSED[:7]]
    for event in (
        "",
        *(f"10 Mar: {fact}" for fact in ("passed 12 bar in air", "failed 3 bar in air", "opened")),
    ):
        whole = record_of(name, [event] if event else [])
        for both in part_of(product(water, water)):
            assert agrees(whole, logged(both)), (event, both)


# ---------------------------------------------------------------- whatever else happened


def keeps_it_dry(name: str, history: Sequence[str]) -> bool:
    return set(verdicts(name, history)) == {rules.VERDICTS.index(KEEP_DRY)}


STUBBORN: dict[str, Callable[[str], bool]] = {
    # what keeps it dry for all -> the lines that may help to lift it
    "water inside": lambda line: what(line) in OPENINGS,
    "fog": lambda line: what(line) in (*OPENINGS, "condensation test passed"),
    "crystal damaged": lambda line: what(line) == "crystal repaired",
}


@pytest.mark.parametrize("fault", STUBBORN)
def test_no_pass_alone_lifts_a_fault(fault: str) -> None:
    name = "a diver's watch, proved"
    for history in histories(2):
        if not any(STUBBORN[fault](line) for line in history):
            assert keeps_it_dry(name, (f"28 Feb: {fault}", *history)), history
