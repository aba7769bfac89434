"""One exposure, one seal, six channels: against the formulas of docs/method.md, worked out by hand."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.model.values import CHANNELS, POSITIONS, Exposure, Position, Shares
from logbook.model.wear import wear
from tests.model.builders import BAR, PRACTICE, exposure, practice_with, shower, watch


def shares(position: Position = "crown", of: Exposure | None = None, **given_watch: object) -> Shares:
    return wear.water_shares(of or exposure(), position, watch(**given_watch), PRACTICE)


def test_a_rinsed_sea_dive_costs_a_screwed_crown_what_the_formulas_say() -> None:
    """18 m is 1.8 of 20 bar; 32 → 20 °C is 12 of 35 K; 45 minutes are 0.75 of 300 hours."""
    found = shares()
    assert found.pressure == pytest.approx((1.8 / 20) ** 2 / 100)
    assert found.temperature == pytest.approx(0.8 * (12 / 35) ** 2 / 150)
    assert found.salt == pytest.approx(0.75 / 300)
    assert found.chemicals == 0
    assert found.handling == 0
    assert found.ageing == 0  # charged with the hours it takes, elsewhere


@pytest.mark.parametrize(
    ("position", "crown", "m_p", "m_t", "m_s", "m_c"),
    [
        ("case-back", "screwed", 1, 1, 0.7, 0.7),
        ("crystal", "screwed", 0.7, 1.2, 0.3, 0.5),
        ("crown", "screwed", 1, 0.8, 1, 1),
        ("crown", "pushed", 1.5, 0.8, 1.2, 1.2),
        ("pushers", "screwed", 1.5, 0.8, 1.3, 1.2),
        ("gas-valve", "screwed", 1, 0.8, 1, 1),
    ],
)
def test_each_seal_takes_its_own_part_of_every_channel(
    position: Position, crown: str, m_p: float, m_t: float, m_s: float, m_c: float
) -> None:
    dive, washed = exposure(rinsed=False), shower(duration_s=3600)
    found = shares(position, dive, crown=crown)
    assert found.pressure == pytest.approx(m_p * 0.09**2 / 100)
    assert found.temperature == pytest.approx(m_t * (12 / 35) ** 2 / 150)
    assert found.salt == pytest.approx(m_s * 4 * 0.75 / 300)
    assert shares(position, washed, crown=crown).chemicals == pytest.approx(m_c / 120)


@pytest.mark.parametrize(("water", "hours"), [("pool", 300), ("soap", 120), ("hot tub", 60)])
def test_chemicals_are_counted_by_their_own_hours_and_never_as_salt(water: str, hours: float) -> None:
    found = shares(of=exposure(water=water, duration_s=7200, salinity=None, rinsed=False))
    assert found.chemicals == pytest.approx(2 / hours)
    assert found.salt == 0


@pytest.mark.parametrize("water", ["fresh", "air"])
def test_fresh_water_and_air_carry_neither_salt_nor_chemicals(water: str) -> None:
    found = shares(of=exposure(water=water, rinsed=False))
    assert (found.salt, found.chemicals) == (0, 0)


@pytest.mark.parametrize(("salinity", "part"), [(0.0, 0.0), (7.0, 0.2), (12.0, 12 / 35), (35.0, 1.0)])
def test_brackish_water_counts_in_proportion_to_its_salinity(salinity: float, part: float) -> None:
    sea = shares(of=exposure()).salt
    assert shares(of=exposure(water="brackish", salinity=salinity)).salt == pytest.approx(part * sea)


@pytest.mark.parametrize("salinity", [7.5, 20.0, 36.0, 38.0])
def test_a_sea_counts_by_its_salinity_too(salinity: float) -> None:
    ocean = shares(of=exposure(salinity=35.0)).salt
    assert shares(of=exposure(salinity=salinity)).salt == pytest.approx(salinity / 35 * ocean)
    called_brackish = exposure(water="brackish", salinity=salinity)
    assert shares(of=called_brackish).salt == shares(of=exposure(salinity=salinity)).salt


def test_a_sea_of_unknown_salinity_is_the_open_sea() -> None:
    assert shares(of=exposure(salinity=None)).salt == shares(of=exposure(salinity=35.0)).salt


def test_a_brine_is_charged_by_its_salinity_all_the_same() -> None:
    brine = exposure(salinity=280.0, density_kg_m3=1190.0)
    assert shares(of=brine).salt == pytest.approx(8 * shares(of=exposure(salinity=35.0)).salt)


def test_salt_left_to_dry_costs_four_times_as_much() -> None:
    assert shares(of=exposure(rinsed=False)).salt == pytest.approx(4 * shares().salt)


def test_every_dip_is_a_pressure_cycle_but_the_swing_counts_once() -> None:
    one, twenty = shares(of=exposure(dips=1)), shares(of=exposure(dips=20))
    assert twenty.pressure == pytest.approx(20 * one.pressure)
    assert twenty.temperature == one.temperature
    assert twenty.salt == one.salt


@pytest.mark.parametrize(
    ("mark", "marked_pa", "bar"),
    [
        ("divers", 20 * BAR, 20),
        ("water-resistant", 5 * BAR, 5),
        ("water-resistant", None, 2),
        ("divers", None, 2),
        ("unknown", None, 3),
        ("unknown", 10 * BAR, 3),
        ("unmarked", None, 1),
    ],
)
def test_pressure_cycles_are_measured_against_the_mark_or_what_stands_for_it(
    mark: str, marked_pa: float | None, bar: float
) -> None:
    owner = watch(mark=mark, marked_pa=marked_pa)
    assert wear.reference_mark_pa(owner, PRACTICE) == bar * BAR
    found = wear.water_shares(exposure(), "case-back", owner, PRACTICE)
    assert found.pressure == pytest.approx((1.8 / bar) ** 2 / 100)


def test_a_watch_dipped_to_its_mark_a_hundred_times_has_used_up_its_interval() -> None:
    assert 100 * shares("case-back", exposure(gauge_pa=20 * BAR)).pressure == pytest.approx(1)


def test_a_hundred_and_fifty_thermal_shock_swings_use_up_the_interval() -> None:
    assert 150 * shares("case-back", exposure(from_c=40, water_c=5)).temperature == pytest.approx(1)


def test_warming_up_swings_as_much_as_cooling_down() -> None:
    warm, cold = exposure(from_c=20, water_c=35), exposure(from_c=35, water_c=20)
    assert shares(of=warm).temperature == shares(of=cold).temperature


def test_a_crown_used_in_water_wears_the_crown_and_no_other_seal() -> None:
    worked = exposure(crown_wet=3, crown_under=2)
    assert shares("crown", worked).handling == pytest.approx(3 / 200 + 2 / 20)
    assert shares("crown", worked, crown="pushed").handling == pytest.approx(2 * (3 / 200 + 2 / 20))
    for position in ("case-back", "crystal", "pushers", "gas-valve"):
        assert shares(position, worked).handling == 0


def test_a_pusher_used_in_water_wears_the_pushers_and_no_other_seal() -> None:
    worked = exposure(pusher_wet=4, pusher_under=1)
    assert shares("pushers", worked).handling == pytest.approx(4 / 200 + 1 / 20)
    assert shares("crown", worked).handling == 0


@pytest.mark.parametrize(
    ("position", "crown", "daily"),
    [
        ("crown", "screwed", 7 / 7 / 6000),
        ("crown", "pushed", 2 * 7 / 7 / 6000),
        ("pushers", "pushed", 21 / 7 / 6000),
        ("case-back", "pushed", 0),
        ("crystal", "pushed", 0),
        ("gas-valve", "pushed", 0),
    ],
)
def test_dry_uses_wear_what_is_used_by_the_day(position: Position, crown: str, daily: float) -> None:
    owner = watch(winds=7.0, presses=21.0, crown=crown)
    found = wear.dry_use_shares_per_day(owner, position, PRACTICE)
    assert found == Shares(handling=pytest.approx(daily))


def test_in_a_sauna_the_case_follows_with_the_wrists_lag() -> None:
    """Fifteen minutes at 80 °C from 32 °C with a lag of 20 minutes: 80 − 48·e^(−3/4) = 57.33 °C."""
    sauna = exposure(activity="sauna", water="air", depth_m=0.0, water_c=80, from_c=32, duration_s=900)
    reached = 80 - 48 * math.exp(-0.75)
    assert reached == pytest.approx(57.33, abs=0.005)
    assert wear.case_c(sauna, PRACTICE) == pytest.approx(reached)
    assert wear.swing_k(sauna, PRACTICE) == pytest.approx(reached - 32)
    assert shares("case-back", sauna).temperature == pytest.approx(((reached - 32) / 35) ** 2 / 150)
    assert shares("case-back", sauna).pressure == 0


def test_in_water_the_swing_is_full_even_when_short() -> None:
    assert wear.case_c(exposure(duration_s=60, water_c=4), PRACTICE) == 4
    assert wear.swing_k(exposure(duration_s=60, water_c=4, from_c=32), PRACTICE) == 28


def test_one_interval_of_a_material_is_used_up_half_worn_and_half_stored() -> None:
    """That is what the years of a material are stated for."""
    half_h = 8766 / 2
    for material, years in (("NBR", 5), ("FKM", 5 * 10 / 7), ("NR", 5 * 5 / 7), ("unknown", 5 * 5 / 7)):
        worn = wear.ageing_share_per_hour(32, material, PRACTICE)
        stored = wear.ageing_share_per_hour(21, material, PRACTICE)
        assert years * half_h * (worn + stored) == pytest.approx(1)


def test_rubber_ages_three_and_a_quarter_times_faster_on_the_wrist_than_in_a_drawer() -> None:
    """exp(−80 000/8.314462618 · (1/305.15 − 1/294.15)) = e^1.17914 = 3.2516."""
    assert wear.relative_rate(21, PRACTICE) == pytest.approx(1)
    assert wear.relative_rate(32, PRACTICE) == pytest.approx(3.2516, abs=5e-5)


def test_an_owner_who_wears_it_warmer_does_not_change_what_an_interval_means() -> None:
    warmer = practice_with("[constants.worn_c]\nvalue = 34.0\n")
    before, after = (wear.ageing_share_per_hour(32, "NBR", p) for p in (PRACTICE, warmer))
    assert before == after


@given(
    position=st.sampled_from(POSITIONS),
    depth_m=st.floats(0, 200),
    minutes=st.integers(1, 2880),
    water_c=st.floats(-3, 60),
    from_c=st.floats(-20, 70),
    water=st.sampled_from(["sea", "brackish", "fresh", "pool", "soap", "hot tub", "air"]),
    rinsed=st.booleans(),
)
def test_no_channel_of_an_exposure_is_ever_negative_or_not_a_number(
    position: Position, depth_m: float, minutes: int, water_c: float, from_c: float, water: str, rinsed: bool
) -> None:
    found = shares(
        position,
        exposure(
            depth_m=depth_m,
            duration_s=minutes * 60,
            water_c=water_c,
            from_c=from_c,
            water=water,
            rinsed=rinsed,
        ),
    )
    assert all(math.isfinite(part) and part >= 0 for part in found.as_tuple())


def test_shares_add_up_channel_by_channel() -> None:
    one = Shares(0.1, 0.2, 0.3, 0.4, 0.5, 0.6)
    assert dict(zip(CHANNELS, one.as_tuple(), strict=True))["chemicals"] == 0.5
    assert one.total == pytest.approx(2.1)
    assert one.plus(one).as_tuple() == pytest.approx(one.times(2).as_tuple())
    assert one.times(0).total == 0
