"""A seal's account in closed form against a plain simulation that goes through every day, one by one."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.model.values import Exposure, Habit, Shares, WatchRecord, WornStretch
from tests.effort import tries
from tests.model.builders import ONE_DAY, at, charged, crown_of, exposure, habit, record, seal, wear_on
from tests.model.simulation import YEARS, Plain, rate, simulate


def assert_same(found: Shares, simulated: Plain) -> None:
    for channel in ("ageing", "pressure", "temperature", "salt", "chemicals", "handling"):
        expected = getattr(simulated, channel)
        assert getattr(found, channel) == pytest.approx(expected, rel=1e-9, abs=1e-13), channel


START = date(2023, 3, 15)
END = date(2023, 9, 1)
SPAN = (END - START).days
day_numbers = st.integers(-40, SPAN + 20)


def spans(longest: int) -> st.SearchStrategy[tuple[date, date]]:
    return st.tuples(day_numbers, st.integers(0, longest)).map(
        lambda told: (START + told[0] * ONE_DAY, START + (told[0] + told[1]) * ONE_DAY)
    )


stretches = st.lists(
    st.tuples(spans(60), st.floats(0, 24)).map(lambda told: WornStretch(*told[0], told[1])), max_size=6
)
waters = st.sampled_from(["sea", "fresh", "pool", "soap", "hot tub"])
repeated = st.builds(
    lambda span, open_end, per_day, water, minutes, celsius, rinsed: Habit(
        exposure(water=water, duration_s=minutes * 60, water_c=celsius, rinsed=rinsed, depth_m=1.0),
        per_day, span[0], None if open_end else span[1],
    ),
    spans(100), st.booleans(), st.floats(0.01, 6), waters, st.integers(1, 200), st.floats(0, 45),
    st.booleans(),
)  # fmt: skip
single = st.tuples(
    st.integers(0, SPAN - 1), st.one_of(st.none(), st.integers(0, 900)), st.integers(1, 500), waters,
    st.floats(-2, 45), st.booleans(), st.integers(0, 2),
)  # fmt: skip


def as_dives(told: list[tuple[Any, ...]]) -> list[Exposure]:
    return [
        exposure(
            id=n, starts_on=START + day * ONE_DAY, water=water, water_c=celsius, rinsed=rinsed,
            crown_wet=uses,
            starts_at=None if minute is None else at(minute // 60, minute % 60), duration_s=minutes * 60,
            utc_offset_s=None if minute is None else 0, dips=1 + uses, depth_m=5.0 * uses,
        )
        for n, (day, minute, minutes, water, celsius, rinsed, uses) in enumerate(told, start=1)
    ]  # fmt: skip


def one_crown(material: str = "NBR", **given_: Any) -> WatchRecord:
    return record(seals=(seal("crown", material, START, id=1),), **given_)


@given(
    stretches=stretches,
    habits=st.lists(repeated, max_size=3),
    told=st.lists(single, max_size=8),
    worn_h=st.floats(0, 24),
    winds=st.floats(0, 30),
    use=st.sampled_from(["dry", "swimming", "diving"]),
    recorded=st.integers(-20, SPAN + 20),
    material=st.sampled_from(sorted(YEARS)),
)
@settings(max_examples=tries(120))
def test_the_closed_form_is_the_sum_of_all_days(
    stretches: list[WornStretch], habits: list[Habit], told: list[tuple[Any, ...]], worn_h: float,
    winds: float, use: str, recorded: int, material: str,
) -> None:  # fmt: skip
    whole = one_crown(
        material, stretches=tuple(stretches), habits=tuple(habits), worn_h=worn_h, winds=winds, use=use,
        recorded_from=START + recorded * ONE_DAY,
    )  # fmt: skip
    dives = as_dives(told)
    simulated = simulate(whole, crown_of(whole), START, END, dives)
    assert_same(wear_on(charged(whole, dives), END).shares, simulated)


def test_the_simulation_finds_half_a_year_of_office_life_without_water() -> None:
    """The oracle itself against one multiplication."""
    whole = one_crown(winds=0.0, recorded_from=START)
    alone = simulate(whole, crown_of(whole), START, END, [])
    days = SPAN / 365.25
    assert alone.ageing == pytest.approx(
        days / 5, rel=1e-9
    )  # half worn, half stored: what 5 years are stated for


def test_repeated_exposures_of_more_than_a_day_spend_only_the_day() -> None:
    """Thirty hours of warm water a day cannot age a seal by more than twenty-four."""
    whole = one_crown(habits=(habit(5.0, START, duration_s=6 * 3600, water="fresh", water_c=40),), winds=0.0)
    per_hour = 1 / (0.5 * (rate(32) + rate(21)) * 5 * 8766)
    whole = replace(whole, watch=replace(whole.watch, recorded_from=START))
    assert wear_on(whole, END).shares.ageing == pytest.approx(SPAN * 24 * rate(40) * per_hour)


def test_nothing_is_worn_on_the_day_of_the_fitting_itself() -> None:
    assert wear_on(one_crown(), START).wear_share == 0
    assert wear_on(one_crown(), START + ONE_DAY).wear_share > 0


def test_before_its_fitting_a_seal_has_no_wear() -> None:
    assert wear_on(one_crown(), START - timedelta(days=100)).wear_share == 0


def test_the_account_of_a_longer_time_is_the_account_of_its_parts() -> None:
    whole = one_crown(recorded_from=START)
    halves = [wear_on(whole, START + timedelta(days=n)).wear_share for n in (100, 200)]
    assert halves[1] == pytest.approx(2 * halves[0])


# ---------------------------------------------------------------- before the log began


@pytest.mark.parametrize(
    ("use", "channel", "a_year"),
    [
        ("dry", "temperature", 20 * 0.8 * (20 / 35) ** 2 / 150),
        ("swimming", "chemicals", 40 * 0.75 / 300),
        ("diving", "salt", (15 + 15 * 4) * 0.75 / 300),
    ],
)
def test_the_stated_use_is_charged_for_the_time_before_the_record(
    use: str, channel: str, a_year: float
) -> None:
    """20 rains, 40 pool visits of 45 minutes, or 30 sea dives of 45 minutes, half of them rinsed."""
    whole = one_crown(use=use, recorded_from=START + timedelta(days=1461), winds=0.0)
    found = wear_on(whole, START + timedelta(days=1461))
    assert getattr(found.assumed, channel) == pytest.approx(4 * a_year)
    assert getattr(found.shares, channel) == pytest.approx(4 * a_year)


def test_the_stated_use_stops_on_the_day_before_the_record_starts() -> None:
    starts = START + timedelta(days=100)
    whole = one_crown(recorded_from=starts)
    at_start, later = wear_on(whole, starts), wear_on(whole, starts + timedelta(days=50))
    assert at_start.assumed.salt == pytest.approx(100 / 365.25 * 75 * 0.75 / 300)
    assert later.assumed == at_start.assumed
    assert later.shares.salt == at_start.shares.salt


def test_with_everything_on_record_nothing_is_assumed() -> None:
    found = wear_on(one_crown(recorded_from=START), END)
    assert found.assumed == Shares()
    assert not found.history_is_open


def test_a_seal_fitted_after_the_records_start_assumes_nothing() -> None:
    whole = record(seals=(seal(fitted=END - 30 * ONE_DAY),), recorded_from=START)
    assert wear_on(whole, END).assumed == Shares()


def test_the_stated_use_is_carried_with_its_spread() -> None:
    """A known fitting: only the stated use is open, divided and multiplied by 2.5."""
    found = wear_on(one_crown(recorded_from=END), END)
    assert found.history_is_open
    middle, part = found.wear_share, found.assumed.total
    assert found.history_low == pytest.approx(middle - part * (1 - 1 / 2.5))
    assert found.history_high == pytest.approx(middle + part * 1.5)


def test_an_unknown_fitting_is_carried_from_its_latest_to_its_earliest_day() -> None:
    ranged = seal(fitted=START, latest=START + timedelta(days=100), id=1)
    whole = record(seals=(ranged,), recorded_from=START - ONE_DAY)
    found = wear_on(whole, END)
    fresh, old = (
        wear_on(record(seals=(seal(fitted=day),), recorded_from=START - ONE_DAY), END).wear_share
        for day in (START + timedelta(days=100), START)
    )
    assert found.history_low == pytest.approx(fresh)
    assert found.history_high == pytest.approx(old)
    middle = record(seals=(seal(fitted=START + timedelta(days=50)),), recorded_from=START - ONE_DAY)
    assert found.wear_share == pytest.approx(wear_on(middle, END).wear_share)


@given(early=st.integers(0, 900), length=st.integers(0, 900), recorded=st.integers(0, 1500))
@settings(max_examples=tries(60))
def test_the_middle_lies_between_the_ends_of_what_is_not_known(
    early: int, length: int, recorded: int
) -> None:
    ranged = seal(fitted=START + early * ONE_DAY, latest=START + (early + length) * ONE_DAY, id=1)
    whole = record(seals=(ranged,), recorded_from=START + recorded * ONE_DAY)
    found = wear_on(whole, START + 1800 * ONE_DAY)
    assert found.history_low <= found.wear_share + 1e-12 <= found.history_high + 2e-12
