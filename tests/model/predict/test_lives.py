"""How long a seal lasts in a known life: years until its wear share is 1.

The ten lives of docs/method.md carry their expected years as typed-in numbers, worked out by hand from the
published formulas with exposures that take no hour off the wrist. The others are worked out here, in closed
form, from constants that are written out again: nothing of the package is used for the expected years.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.model.values import Habit, Watch, WatchRecord
from logbook.model.wear import account
from tests.effort import tries
from tests.model.builders import PRACTICE, exposure, seal

START = date(2020, 1, 1)
BAR = 1e5

# Written out again, on purpose: the model's constants as docs/method.md lists them.
GAS_CONSTANT, EA = 8.314462618, 80_000.0
YEARS = {"NBR": 5.0, "HNBR": 5.0, "CR": 5.0, "FKM": 50 / 7, "EPDM": 50 / 7, "VMQ": 50 / 7, "plastic": 50 / 7,
         "NR": 25 / 7, "unknown": 25 / 7}  # fmt: skip
FACTORS = {  # pressure, temperature, salt, chemicals, handling
    "case-back": (1, 1, 0.7, 0.7, 0), "crystal": (0.7, 1.2, 0.3, 0.5, 0), "crown-screwed": (1, 0.8, 1, 1, 1),
    "crown-pushed": (1.5, 0.8, 1.2, 1.2, 2), "pushers": (1.5, 0.8, 1.3, 1.2, 1),
    "gas-valve": (1, 0.8, 1, 1, 0),
}  # fmt: skip
CHEMICAL_HOURS = {"pool": 300.0, "soap": 120.0, "hot tub": 60.0}


@dataclass(frozen=True)
class Life:
    """A watch, a seal, and one exposure that repeats so many times a year."""

    position: str = "crown"
    material: str = "NBR"
    crown: str = "screwed"
    mark: str = "water-resistant"
    bar: float | None = 10.0
    worn_h: float = 12.0
    winds_a_year: float = 52.0
    presses_a_year: float = 0.0
    per_year: float = 0.0
    water: str = "fresh"
    salinity: float | None = None
    exposure_bar: float = 0.0
    minutes: float = 60.0
    water_c: float = 20.0
    from_c: float = 32.0
    dips: int = 1
    rinsed: bool = False
    crown_wet: int = 0
    crown_under: int = 0
    pusher_wet: int = 0
    pusher_under: int = 0


def rate(celsius: float) -> float:
    """Arrhenius, against 21 °C."""
    return math.exp(-EA / GAS_CONSTANT * (1 / (celsius + 273.15) - 1 / 294.15))


def expected_years(life: Life, hours_come_off_the_wrist: bool = True) -> float:
    """One over the wear share of a year, in closed form."""
    m_p, m_t, m_s, m_c, m_h = FACTORS[f"crown-{life.crown}" if life.position == "crown" else life.position]
    per_hour = 1 / (0.5 * (rate(32) + rate(21)) * YEARS[life.material] * 8766)
    hours = life.minutes / 60
    reached = life.water_c
    if life.water == "air":
        reached += (life.from_c - life.water_c) * math.exp(-life.minutes / 20)
    year = 365.25 * (life.worn_h * rate(32) + (24 - life.worn_h) * rate(21)) * per_hour
    if hours_come_off_the_wrist:
        year += life.per_year * hours * (rate(reached) - rate(32)) * per_hour
    mark = {"unmarked": 1.0, "unknown": 3.0}.get(life.mark, life.bar or 3.0)
    year += life.per_year * m_p * life.dips * (life.exposure_bar / mark) ** 2 / 100
    year += life.per_year * m_t * (abs(life.from_c - reached) / 35) ** 2 / 150
    salt = {"sea": 1.0, "brackish": (life.salinity or 0) / 35}.get(life.water, 0.0) / 300
    year += life.per_year * m_s * hours * salt * (1 if life.rinsed else 4)
    if life.water in CHEMICAL_HOURS:
        year += life.per_year * m_c * hours / CHEMICAL_HOURS[life.water]
    dry = {"crown": life.winds_a_year, "pushers": life.presses_a_year}.get(life.position, 0.0)
    wet, under = {
        "crown": (life.crown_wet, life.crown_under), "pushers": (life.pusher_wet, life.pusher_under),
    }.get(life.position, (0, 0))  # fmt: skip
    year += m_h * (dry / 6000 + life.per_year * (wet / 200 + under / 20))
    return 1 / year


def record_of(life: Life) -> WatchRecord:
    watch = Watch(
        name="Sunday dress", mark=life.mark, marked_pa=None if life.bar is None else life.bar * BAR,
        added_on=START, recorded_from=START, crown=life.crown, worn_h=life.worn_h, pushers=True,
        gas_valve=True, winds=life.winds_a_year / 365.25 * 7, presses=life.presses_a_year / 365.25 * 7, id=1,
    )  # fmt: skip
    repeated = exposure(
        activity="pool", water=life.water, salinity=life.salinity, depth_m=0.0,
        gauge_pa=life.exposure_bar * BAR, duration_s=round(life.minutes * 60), water_c=life.water_c,
        from_c=life.from_c, dips=life.dips, rinsed=life.rinsed, crown_wet=life.crown_wet,
        crown_under=life.crown_under, pusher_wet=life.pusher_wet, pusher_under=life.pusher_under,
    )  # fmt: skip
    habits = (Habit(repeated, life.per_year / 365.25, START),) if life.per_year else ()
    return WatchRecord(watch, (seal(life.position, life.material, START),), {}, habits=habits)


def wear_share(life: Life, days: int) -> float:
    whole = record_of(life)
    return account.seal_wear(whole, whole.seals[0], PRACTICE, START + timedelta(days=days)).wear_share


def years_to_used_up(life: Life) -> float:
    """Years until the wear share reaches 1, found day by day from the account."""
    low, high = 0, 40 * 366
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if wear_share(life, middle) < 1 else (low, middle)
    return high / 365.25


def dives(n: int, depth_bar: float, minutes: float, water_c: float, from_c: float, **more: Any) -> Life:
    plain = {"bar": 20.0, "per_year": n, "exposure_bar": depth_bar, "minutes": minutes, "water_c": water_c,
             "from_c": from_c, "water": "sea"}  # fmt: skip
    return Life(**(plain | more))


POOL_SET_UNDER_WATER = Life(
    per_year=20, water="pool", exposure_bar=0.0979, minutes=45, water_c=27, from_c=31, crown_under=1
)
POOL_WEEKLY = Life(per_year=52, water="pool", exposure_bar=0.14685, minutes=60, water_c=27, from_c=31)
SHOWER_DAILY = Life(
    crown="pushed", bar=5.0, worn_h=24, per_year=365.25, water="soap", exposure_bar=0.00979, minutes=8,
    water_c=40, from_c=32,
)  # fmt: skip
METHOD_TABLE: dict[str, tuple[Life, float]] = {
    "in a drawer, never wound": (Life(crown="pushed", bar=3.0, worn_h=0, winds_a_year=0), 10.63),
    "in the office, dry": (Life(crown="pushed", bar=3.0), 4.60),
    "worn day and night": (Life(worn_h=24), 3.18),
    "an hour in the pool every week": (POOL_WEEKLY, 2.59),
    "a hot soapy shower every day": (SHOWER_DAILY, 1.10),
    "ten warm sea dives a year, rinsed": (dives(10, 1.8, 45, 26, 33, rinsed=True), 4.23),
    "fifty sea dives a year, rinsed": (dives(50, 2.0, 45, 18, 32, rinsed=True), 2.62),
    "fifty sea dives a year, not rinsed": (dives(50, 2.0, 45, 18, 32), 1.32),
    "fifty lake dives a year": (dives(50, 2.0, 40, 6, 30, water="fresh"), 2.95),
    "the crown set under water": (POOL_SET_UNDER_WATER, 0.79),
}
MORE_LIVES: dict[str, Life] = {
    "a fluorocarbon crown of a diver": dives(50, 2.0, 45, 18, 32, rinsed=True, material="FKM"),
    "pushers pressed wet at the pool": Life(
        position="pushers", presses_a_year=700, per_year=60, water="pool", exposure_bar=0.15, minutes=40,
        water_c=27, pusher_wet=2,
    ),
    "pushers pressed under water": dives(
        12, 1.0, 30, 24, 32, position="pushers", pusher_under=1, material="HNBR"
    ),
    "a gas valve in salt left to dry": dives(30, 3.0, 50, 12, 32, position="gas-valve", material="EPDM"),
    "a silicone crystal seal in the sauna": Life(
        position="crystal", material="VMQ", per_year=100, water="air", minutes=15, water_c=80, bar=5.0
    ),
    "a plastic crystal seal of a freediver": dives(
        40, 2.5, 60, 19, 32, position="crystal", material="plastic", dips=20, rinsed=True
    ),
    "a case back of natural rubber in a cold lake": dives(
        100, 1.2, 35, 4, 30, position="case-back", material="NR", water="fresh"
    ),
    "an estuary swimmer in brackish water": Life(
        per_year=80, water="brackish", salinity=12, exposure_bar=0.15, minutes=50, water_c=17
    ),
    "a hot tub twice a week": Life(
        crown="pushed", bar=5.0, per_year=104, water="hot tub", exposure_bar=0.05, minutes=20, water_c=38
    ),
    "a winter sauna habit of a worn watch": Life(
        worn_h=24, per_year=150, water="air", minutes=12, water_c=85, from_c=31
    ),
    "an unmarked watch in the rain": Life(
        mark="unmarked", bar=None, crown="pushed", per_year=150, exposure_bar=0.005, minutes=20, water_c=10
    ),
    "a swimmer whose mark is unknown": Life(
        mark="unknown", bar=None, crown="pushed", per_year=50, water="sea", exposure_bar=0.15, minutes=30,
        water_c=19, material="unknown",
    ),
    "a mark without a number, wound daily": Life(bar=None, crown="pushed", winds_a_year=365, material="CR"),
    "crown worked with wet hands": Life(
        crown="pushed", bar=5.0, per_year=100, water="soap", exposure_bar=0.005, minutes=1, water_c=30,
        crown_wet=1,
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", METHOD_TABLE)
def test_a_life_of_the_method_table_lasts_as_long_as_the_table_says(name: str) -> None:
    life, years = METHOD_TABLE[name]
    assert years_to_used_up(life) == pytest.approx(years, rel=0.02)


@pytest.mark.parametrize("name", METHOD_TABLE)
def test_the_method_table_follows_from_its_own_formulas(name: str) -> None:
    """Half a unit of the last digit printed, in the accounting the table names."""
    life, years = METHOD_TABLE[name]
    assert expected_years(life, hours_come_off_the_wrist=False) == pytest.approx(years, abs=0.0051)


@pytest.mark.parametrize("name", [*METHOD_TABLE, *MORE_LIVES])
def test_a_life_lasts_as_long_as_its_closed_form(name: str) -> None:
    life = METHOD_TABLE[name][0] if name in METHOD_TABLE else MORE_LIVES[name]
    # The account ends on a whole day: at most one day late.
    assert 0 <= years_to_used_up(life) - expected_years(life) <= 1.001 / 365.25


def test_a_drawer_ends_at_the_storage_class_before_the_sum_does() -> None:
    whole = record_of(METHOD_TABLE["in a drawer, never wound"][0])
    before, on = date(2026, 12, 31), date(2027, 1, 1)
    wears = {day: [account.seal_wear(whole, whole.seals[0], PRACTICE, day)] for day in (before, on)}
    assert account.score(wears[before], before)[0] == 34  # 1 − 7/10.63 = 0.3415
    assert account.score(wears[on], on)[0] == 0


positions = st.sampled_from(["case-back", "crystal", "crown", "pushers", "gas-valve"])
bare_lives = st.builds(
    Life,
    position=positions,
    material=st.sampled_from(sorted(YEARS)),
    crown=st.sampled_from(["screwed", "pushed"]),
    bar=st.sampled_from([3.0, 5.0, 10.0, 20.0]),
    worn_h=st.floats(0, 24),
    per_year=st.floats(1, 700),
    exposure_bar=st.floats(0, 10),
    minutes=st.floats(1, 120),
    water_c=st.floats(0, 45),
    from_c=st.floats(20, 35),
    rinsed=st.booleans(),
    dips=st.integers(1, 20),
)
DAYS = 700


def with_(life: Life, **changed: Any) -> Life:
    return Life(**({f: getattr(life, f) for f in Life.__dataclass_fields__} | changed))


def never_longer(worse: Life, better: Life) -> bool:
    """No seal lasts longer in the worse life: at any time as much of its interval is used up, or more."""
    return all(wear_share(worse, days) >= wear_share(better, days) - 1e-12 for days in (90, DAYS))


salted_or_treated = st.sampled_from([("sea", None), ("pool", None), ("soap", None), ("hot tub", None)])


@given(life=bare_lives, water=salted_or_treated, more=st.floats(0, 120))
@settings(max_examples=tries(60))
def test_more_minutes_in_salt_or_treated_water_never_give_a_longer_life(
    life: Life, water: tuple[str, None], more: float
) -> None:
    life = with_(life, water=water[0])
    assert never_longer(with_(life, minutes=life.minutes + more), life)


@given(life=bare_lives, more=st.floats(0, 120), water_c=st.floats(32, 45))
@settings(max_examples=tries(40))
def test_more_minutes_in_fresh_water_warmer_than_the_wrist_never_give_a_longer_life(
    life: Life, more: float, water_c: float
) -> None:
    life = with_(life, water="fresh", water_c=water_c)
    assert never_longer(with_(life, minutes=life.minutes + more), life)


def test_more_minutes_in_cold_fresh_water_slow_the_ageing_that_they_take_off_the_wrist() -> None:
    """Fresh water has no channel of its own by the minute: cold, it only replaces warmer hours."""
    short, long = Life(per_year=100, water_c=6, minutes=30), Life(per_year=100, water_c=6, minutes=90)
    assert years_to_used_up(long) > years_to_used_up(short)


@given(life=bare_lives, water=st.sampled_from(["sea", "fresh", "pool", "soap"]), more=st.floats(0, 20))
@settings(max_examples=tries(40))
def test_deeper_never_gives_a_longer_life(life: Life, water: str, more: float) -> None:
    life = with_(life, water=water)
    assert never_longer(with_(life, exposure_bar=life.exposure_bar + more), life)


@given(life=bare_lives, salinity=st.floats(0, 35), more=st.floats(0, 7))
@settings(max_examples=tries(40))
def test_saltier_never_gives_a_longer_life(life: Life, salinity: float, more: float) -> None:
    fresher = with_(life, water="brackish", salinity=salinity)
    assert never_longer(with_(fresher, salinity=salinity + more), fresher)
    assert never_longer(with_(life, water="sea"), with_(life, water="brackish", salinity=salinity))
    assert never_longer(fresher, with_(life, water="fresh"))


@given(life=bare_lives, water=st.sampled_from(["sea", "fresh"]))
@settings(max_examples=tries(40))
def test_not_rinsing_never_gives_a_longer_life(life: Life, water: str) -> None:
    life = with_(life, water=water)
    assert never_longer(with_(life, rinsed=False), with_(life, rinsed=True))


@given(life=bare_lives, more=st.floats(0, 24))
@settings(max_examples=tries(40))
def test_being_worn_more_never_gives_a_longer_life(life: Life, more: float) -> None:
    assert never_longer(with_(life, worn_h=min(24.0, life.worn_h + more)), life)


@given(life=bare_lives, more=st.floats(0, 500), water=st.sampled_from(["sea", "pool", "soap"]))
@settings(max_examples=tries(40))
def test_more_often_never_gives_a_longer_life(life: Life, more: float, water: str) -> None:
    life = with_(life, water=water)
    assert never_longer(with_(life, per_year=life.per_year + more), life)


@given(life=bare_lives, bar=st.sampled_from([3.0, 5.0, 10.0]))
@settings(max_examples=tries(30))
def test_a_lower_mark_never_gives_a_longer_life(life: Life, bar: float) -> None:
    assert never_longer(with_(life, bar=min(bar, life.bar or bar)), life)


@given(life=bare_lives, dips=st.integers(1, 50))
@settings(max_examples=tries(30))
def test_more_dips_never_give_a_longer_life(life: Life, dips: int) -> None:
    assert never_longer(with_(life, dips=life.dips + dips), life)


def test_colder_water_may_age_less_and_yet_wear_more_by_its_swing() -> None:
    """Two channels pull apart: the hours are cooler, the swing is larger; the swing wins for a short dive."""
    whole = {c: record_of(dives(50, 2.0, 40, c, 32, water="fresh")) for c in (24.0, 6.0)}
    shares = {
        c: account.seal_wear(r, r.seals[0], PRACTICE, START + timedelta(days=DAYS)).shares
        for c, r in whole.items()
    }
    assert shares[6.0].ageing < shares[24.0].ageing
    assert shares[6.0].temperature > shares[24.0].temperature
    assert shares[6.0].total > shares[24.0].total
