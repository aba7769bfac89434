"""A seal's account in closed form against a plain simulation that goes through every day, one by one."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.reckoning import account, charge, standing
from logbook.reckoning.account import SealWear
from logbook.reckoning.values import Exposure, Habit, Seal, Shares, WatchRecord, WornStretch
from tests.reckoning.builders import (
    FITTED,
    ONE_DAY,
    PRACTICE,
    at,
    charged,
    event,
    exposure,
    habit,
    passed,
    rain,
    record,
    seal,
    seals,
    shower,
    stretch,
)

# The constants of the method, written out again for the simulation.
EA_OVER_R = 80_000 / 8.314462618
YEARS = {"NBR": 5.0, "FKM": 50 / 7, "NR": 25 / 7}
CROWN_SCREWED = {"p": 1.0, "t": 0.8, "s": 1.0, "c": 1.0, "h": 1.0}
CHEMICALS = {"pool": 300, "soap": 120, "hot tub": 60}


def rate(celsius: float) -> float:
    return math.exp(EA_OVER_R * (1 / 294.15 - 1 / (celsius + 273.15)))


@dataclass
class Plain:
    """What the simulation adds up."""

    ageing: float = 0.0
    pressure: float = 0.0
    temperature: float = 0.0
    salt: float = 0.0
    chemicals: float = 0.0
    handling: float = 0.0


def stated_use(use: str) -> list[tuple[float, Exposure]]:
    """Times a year and exposure: the use that a watch is charged with before its record begins."""
    if use == "dry":
        return [(20.0, rain(from_c=32, depth_m=0.05, gauge_pa=0.05 * 9806.65))]
    if use == "swimming":
        pool = exposure(
            activity="pool", water="pool", depth_m=1.5, gauge_pa=1.5 * 9806.65, duration_s=2700, water_c=27
        )
        return [(40.0, pool)]
    dive = exposure(depth_m=18.0, gauge_pa=18 * 1019.7 * 9.80665, duration_s=2700, water_c=20, rinsed=True)
    return [(15.0, dive), (15.0, replace(dive, rinsed=False))]


def simulate(whole: WatchRecord, of: Seal, start: date, on: date, dives: list[Exposure]) -> Plain:
    """Every day from `start` up to `on`: hours first into water, then on the wrist, then in the drawer.

    Only for a screwed-down crown. Each exposure lies within one day; timed ones do not need to be apart.
    """
    sum_ = Plain()
    per_hour = 1 / (0.5 * (rate(32) + rate(21)) * YEARS[of.material] * 8766)
    day = start
    while day < on:
        worn = whole.watch.worn_h
        for entered in whole.stretches:
            if entered.from_on <= day <= entered.to_on:
                worn = entered.hours
        on_record = day >= whole.watch.recorded_from
        if on_record:
            repeated = [
                (h.per_day, h.exposure)
                for h in whole.habits
                if h.from_on <= day and (h.to_on is None or day <= h.to_on)
            ]
        else:
            repeated = [(n / 365.25, e) for n, e in stated_use(whole.watch.use)]
        in_water = sum(n * e.duration_s / 3600 for n, e in repeated)
        squeezed = min(1.0, 24 / in_water) if in_water else 1.0
        hours = 0.0
        for times, e in repeated:
            taken = times * e.duration_s / 3600 * squeezed
            sum_.ageing += taken * rate(e.water_c) * per_hour
            hours += taken
            _water(sum_, whole, e, times)
        covered: set[int] = set()
        for e in sorted((e for e in dives if e.starts_on == day), key=lambda e: (e.starts_at or at(0), e.id)):
            if not on_record:
                continue
            begin = e.starts_at.hour * 60 + e.starts_at.minute if e.starts_at else 0
            minutes = set(range(begin, begin + e.duration_s // 60))
            new = minutes if e.starts_at is None else minutes - covered
            if e.starts_at is not None:
                covered |= minutes
            taken = min(len(new) / 60, 24 - hours)
            sum_.ageing += taken * rate(e.water_c) * per_hour
            hours += taken
            _water(sum_, whole, e, 1.0)
        wrist = max(0.0, worn - hours)
        sum_.ageing += (wrist * rate(32) + (24 - hours - wrist) * rate(21)) * per_hour
        sum_.handling += CROWN_SCREWED["h"] * whole.watch.winds / 7 / 6000
        day += ONE_DAY
    return sum_


def _water(sum_: Plain, whole: WatchRecord, e: Exposure, times: float) -> None:
    hours = e.duration_s / 3600
    mark = whole.watch.marked_pa or 3e5
    sum_.pressure += times * e.dips * CROWN_SCREWED["p"] * (e.gauge_pa / mark) ** 2 / 100
    sum_.temperature += times * CROWN_SCREWED["t"] * ((e.water_c - e.from_c) / 35) ** 2 / 150
    if e.water == "sea":
        sum_.salt += times * CROWN_SCREWED["s"] * hours / 300 * (1 if e.rinsed else 4)
    if e.water in CHEMICALS:
        sum_.chemicals += times * CROWN_SCREWED["c"] * hours / CHEMICALS[e.water]
    sum_.handling += times * CROWN_SCREWED["h"] * (e.crown_wet / 200 + e.crown_under / 20)


def crown(whole: WatchRecord) -> Seal:
    return next(s for s in charge.current_seals(whole.seals) if s.position == "crown")


def wear_on(whole: WatchRecord, on: date, of: Seal | None = None) -> SealWear:
    return account.seal_wear(whole, of or crown(whole), PRACTICE, on)


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
@settings(max_examples=120)
def test_the_closed_form_is_the_sum_of_all_days(
    stretches: list[WornStretch], habits: list[Habit], told: list[tuple[Any, ...]], worn_h: float,
    winds: float, use: str, recorded: int, material: str,
) -> None:  # fmt: skip
    whole = one_crown(
        material, stretches=tuple(stretches), habits=tuple(habits), worn_h=worn_h, winds=winds, use=use,
        recorded_from=START + recorded * ONE_DAY,
    )  # fmt: skip
    dives = as_dives(told)
    simulated = simulate(whole, crown(whole), START, END, dives)
    assert_same(wear_on(charged(whole, dives), END).shares, simulated)


def test_the_simulation_finds_half_a_year_of_office_life_without_water() -> None:
    """The oracle itself against one multiplication."""
    whole = one_crown(winds=0.0, recorded_from=START)
    alone = simulate(whole, crown(whole), START, END, [])
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
@settings(max_examples=60)
def test_the_middle_lies_between_the_ends_of_what_is_not_known(
    early: int, length: int, recorded: int
) -> None:
    ranged = seal(fitted=START + early * ONE_DAY, latest=START + (early + length) * ONE_DAY, id=1)
    whole = record(seals=(ranged,), recorded_from=START + recorded * ONE_DAY)
    found = wear_on(whole, START + 1800 * ONE_DAY)
    assert found.history_low <= found.wear_share + 1e-12 <= found.history_high + 2e-12


# ---------------------------------------------------------------- score and cap


def with_wear(share: float, **given_: Any) -> SealWear:
    shown = seal(**given_)
    cap = date(2031, 1, 1)
    return SealWear(shown, Shares(salt=share), Shares(), cap, cap, lambda: (share, share))


@pytest.mark.parametrize(
    ("share", "score"),
    [(0.0, 100), (0.3, 70), (0.301, 69), (0.299, 70), (0.1, 90), (0.7, 30), (0.9, 10), (0.58, 42), (0.29, 71),
     (0.999, 0), (0.99, 1), (1.0, 0), (1.7, 0), (0.005, 99)],
)  # fmt: skip
def test_a_score_is_what_is_left_rounded_down(share: float, score: int) -> None:
    assert account.score([with_wear(share)], FITTED)[0] == score


def test_every_hundredth_of_an_interval_is_one_point() -> None:
    assert [account.score([with_wear(n / 100)], FITTED)[0] for n in range(101)] == list(range(100, -1, -1))


def test_the_most_worn_seal_limits_the_score() -> None:
    worn, fresh = with_wear(0.6, position="crystal"), with_wear(0.1)
    assert account.score([fresh, worn], FITTED) == (40, worn)


def test_a_watch_without_seals_scores_nothing() -> None:
    assert account.score([], FITTED) == (0, None)


def test_past_its_storage_class_a_seal_scores_nothing_and_limits() -> None:
    old = replace(with_wear(0.2, position="crystal"), cap_on=date(2030, 5, 1))
    other = with_wear(0.6)
    assert account.score([old, other], date(2030, 4, 30)) == (40, other)
    assert account.score([old, other], date(2030, 5, 1)) == (0, old)


@pytest.mark.parametrize(
    ("material", "years"), [("NBR", 7), ("FKM", 10), ("NR", 5), ("unknown", 5), ("VMQ", 10)]
)
def test_the_cap_falls_on_the_anniversary_of_the_fitting(material: str, years: int) -> None:
    whole = record(seals=(seal(material=material, fitted=date(2024, 2, 29)),))
    found = wear_on(whole, FITTED)
    assert found.cap_on == date(2024 + years, 2, 28)  # no leap year among these
    assert wear_on(record(seals=(seal(material=material),)), FITTED).cap_on == date(2024 + years, 1, 1)


def test_the_shown_cap_counts_from_the_middle_and_the_strict_one_from_the_earliest() -> None:
    found = wear_on(record(seals=(seal(fitted=date(2020, 1, 1), latest=date(2020, 1, 31)),)), FITTED)
    assert (found.cap_at_the_earliest, found.cap_on) == (date(2027, 1, 1), date(2027, 1, 16))


def test_a_part_of_a_year_is_counted_in_days() -> None:
    assert account.later_by_years(date(2024, 1, 1), 2.5) == date(2026, 1, 1) + timedelta(days=183)
    assert account.later_by_years(date(2024, 2, 29), -4) == date(2020, 2, 29)


# ---------------------------------------------------------------- replacing and testing


def test_a_replaced_seal_starts_again_at_zero() -> None:
    replaced = END - timedelta(days=20)
    dives = [exposure(id=n, starts_on=START + n * ONE_DAY) for n in range(30)]
    before = charged(record(seals=seals(fitted=START), recorded_from=START), dives)
    after = replace(before, seals=(*before.seals, seal("crown", "FKM", replaced, id=9)))
    assert wear_on(after, replaced).wear_share == 0
    assert wear_on(after, replaced).seal.material == "FKM"
    assert wear_on(before, replaced).wear_share > 0.1


def test_replacing_one_seal_leaves_the_others_as_they_were() -> None:
    before = record(seals=seals(fitted=START), recorded_from=START)
    after = replace(before, seals=(*before.seals, seal("crown", fitted=END, id=9)))
    for position in ("case-back", "crystal"):
        one, other = (
            next(w for w in standing.wear_of(r, PRACTICE, END) if w.seal.position == position)
            for r in (before, after)
        )
        assert one == other


def test_a_passed_test_resets_no_wear() -> None:
    plain, tested = (
        record(passed(START), seals=seals(fitted=START)),
        record(passed(END), seals=seals(fitted=START)),
    )
    assert standing.wear_of(plain, PRACTICE, END) == standing.wear_of(tested, PRACTICE, END)
    assert standing.stand(plain, PRACTICE, END).score == standing.stand(tested, PRACTICE, END).score


def test_opening_the_case_resets_no_wear() -> None:
    opened = record(passed(), event("battery"), event("movement"), event("opened"))
    assert standing.wear_of(opened, PRACTICE, END) == standing.wear_of(record(), PRACTICE, END)


def test_a_daily_shower_is_charged_from_its_first_to_its_last_day() -> None:
    first, last = date(2024, 2, 1), date(2024, 2, 29)
    whole = record(habits=(Habit(shower(), 1.0, first, last),))
    share = 8 / 60 / 120
    for on, days in (
        (first, 0),
        (first + ONE_DAY, 1),
        (last, 28),
        (last + ONE_DAY, 29),
        (date(2025, 1, 1), 29),
    ):
        assert wear_on(whole, on).shares.chemicals == pytest.approx(days * share)


def test_a_worn_stretch_of_nothing_is_a_drawer() -> None:
    worn = wear_on(one_crown(recorded_from=START), END).shares.ageing
    kept = one_crown(recorded_from=START, stretches=(stretch(START, END, 0.0),))
    assert wear_on(kept, END).shares.ageing == pytest.approx(worn * rate(21) / (0.5 * (rate(32) + rate(21))))
