"""Any watch with any history, and any plan for it: strategies for the properties of the check."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

from hypothesis import strategies as st

from logbook.model.judge import check
from logbook.model.judge.check import Verdict
from logbook.model.judge.rules import VERDICTS
from logbook.model.values import DAMAGE, FAULTS, Event, Exposure, Shares, WatchRecord
from tests.model.builders import BAR, ONE_DAY, PRACTICE, TODAY, event, exposure, passed, record, seals

FIRST = date(2022, 9, 1)
LONG = (TODAY - FIRST).days

# ---------------------------------------------------------------- any watch, any plan

days_ago = st.integers(0, LONG).map(lambda n: TODAY - n * ONE_DAY)
event_of_any_kind = st.one_of(
    st.builds(lambda on, bar: passed(on, bar), days_ago, st.sampled_from([None, 0.7, 3.0, 6.0, 12.5, 25.0])),
    st.builds(
        lambda on, bar, medium: passed(on, bar, medium=medium),
        days_ago,
        st.sampled_from([0.7, 3.0, 12.5]),
        st.sampled_from(["air", "vacuum"]),
    ),
    st.builds(
        lambda on, bar: replace(passed(on, bar), passed=False), days_ago, st.sampled_from([None, 0.7, 6.0])
    ),
    st.builds(lambda on, ok: event("condensation-test", on, passed=ok), days_ago, st.booleans()),
    st.builds(
        lambda kind, on: event(kind, on), st.sampled_from(["battery", "opened", "gaskets", "strap"]), days_ago
    ),
    st.builds(lambda kind, on: event(kind, on), st.sampled_from(FAULTS), days_ago),
    st.builds(lambda on, moved: event("knock", on, moved=moved), days_ago, st.booleans()),
    st.builds(lambda kind, on: event("repaired", on, repaired=kind), st.sampled_from(DAMAGE), days_ago),
)
histories = st.lists(event_of_any_kind, max_size=4).map(
    lambda told: tuple(replace(e, id=n) for n, e in enumerate(told, start=1))
)
marks = st.tuples(
    st.sampled_from(["unmarked", "unknown", "water-resistant", "divers", "divers-mixed-gas"]),
    st.sampled_from([None, 3.0, 5.0, 10.0, 20.0, 30.0]),
)


def _record(mark: tuple[str, float | None], history: tuple[Event, ...], **given_: Any) -> WatchRecord:
    kind, bar = mark
    marked_pa = None if bar is None or kind in ("unmarked", "unknown") else bar * BAR
    fitted = given_.pop("fitted")
    made = record(mark=kind, marked_pa=marked_pa, seals=seals(fitted=fitted), recorded_from=fitted, **given_)
    return replace(made, events=tuple(sorted(history, key=lambda e: (e.on, e.order, e.id or 0))))


records = st.builds(
    _record,
    marks,
    histories,
    fitted=st.sampled_from([date(2017, 1, 1), date(2019, 6, 1), date(2023, 1, 1), TODAY - 9 * ONE_DAY]),
    totals=st.sampled_from([{}, {}, {3: Shares(salt=0.5)}, {2: Shares(salt=0.9)}]),
    use=st.sampled_from(["diving", "swimming", "dry"]),
    new_on=st.sampled_from([None, None, FIRST, TODAY - 30 * ONE_DAY]),
    confirmed_on=st.sampled_from([None, TODAY]),
    last_exposure_on=st.sampled_from([None, TODAY - 3 * ONE_DAY]),
    added_on=st.just(FIRST),
    crown=st.sampled_from(["screwed", "pushed"]),
    worn_h=st.sampled_from([0.0, 12.0]),
)


def _exposure(activity: str, **given_: Any) -> Exposure:
    return exposure(activity=activity, water=PRACTICE.activities[activity].water, **given_)


plans = st.builds(
    _exposure,
    st.sampled_from(sorted(PRACTICE.activities)),
    depth_m=st.one_of(st.floats(0, 5), st.floats(0, 300)),
    duration_s=st.integers(1, 172_800),
    water_c=st.floats(-3, 60),
    from_c=st.floats(20, 40),
    jump_m=st.sampled_from([0.0, 0.0, 2.0, 5.0, 20.0]),
    crown_wet=st.sampled_from([0, 0, 0, 1]),
    pusher_under=st.sampled_from([0, 0, 0, 1]),
    crown_open=st.sampled_from([False, False, False, True]),
    pushers_open=st.sampled_from([False, False, False, True]),
)


def judged(whole: WatchRecord, plan: Exposure) -> Verdict:
    return check.check(whole, plan, PRACTICE, TODAY)


def grave(found: Verdict) -> int:
    """How grave the answer is, 0 for no objection; these watches are none of them retired."""
    assert found.verdict is not None
    return VERDICTS.index(found.verdict)


def deeper(plan: Exposure, more_m: float) -> Exposure:
    depth = plan.depth_m + more_m
    return replace(plan, depth_m=depth, gauge_pa=depth * 1e4)
