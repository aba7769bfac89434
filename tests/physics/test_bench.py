"""The calculators: keys, numbers, and that each answer carries its working."""

from __future__ import annotations

import pytest

from logbook.physics import bench, fog, motion, water
from logbook.physics.water import WaterColumn
from logbook.physics.worked import Worksheet

SEA = WaterColumn(35.0, 15.0, 45.0)
BRINE = WaterColumn(280.0, 30.0, 31.5, 1190.0)
STEEL = (15.9e-6, 15.9e-6)
NITRILE = (112e-6, 235e-6)
FLUOROCARBON = (160e-6, 160e-6)

SHEETS = {
    "depth": bench.depth(30.0, SEA),
    "pressure": bench.pressure(3e5, SEA),
    "speed": bench.speed(3.0),
    "head": bench.speed(head_m=25.0),
    "jump": bench.jump(3.0),
    "altitude": bench.altitude(2000.0),
    "depth with a case": bench.depth(30.0, SEA, 0.0, 5.0),
    "pressure with a case": bench.pressure(3e5, SEA, 0.0, 5.0),
    "depth of a brine": bench.depth(2.0, BRINE),
    "swing": bench.swing(32.0, 6.0, 0.030, NITRILE, STEEL),
    "fog": bench.fog(21.0, 50.0, 10.0),
    "dry": bench.fog(21.0, 0.0, 10.0),
    "force": bench.force(20e5, 0.030),
}
KEYS = {
    "depth": {"depth_m", "gauge_pa", "absolute_pa", "density_kg_m3", "en13319_depth_m"},
    "pressure": {"gauge_pa", "depth_m"},
    "speed": {"speed_m_s", "dynamic_pa", "head_m"},
    "head": {"speed_m_s", "dynamic_pa", "head_m"},
    "jump": {"height_m", "speed_m_s", "head_m"},
    "altitude": {"ambient_pa", "case_air_pa", "across_pa"},
    "depth with a case": {"depth_m", "gauge_pa", "case_air_pa", "across_pa"},
    "pressure with a case": {"gauge_pa", "depth_m", "case_air_pa", "across_pa"},
    "depth of a brine": {"depth_m", "gauge_pa", "absolute_pa", "density_kg_m3", "en13319_depth_m"},
    "swing": {"swing_k", "seal_um", "case_um", "difference_um"},
    "fog": {"vapour_g_m3", "dew_point_c", "fogs"},
    "dry": {"vapour_g_m3", "dew_point_c", "fogs"},
    "force": {"force_n"},
}


@pytest.mark.parametrize("name", SHEETS)
def test_a_calculator_has_the_keys_that_others_rely_on(name: str) -> None:
    assert KEYS[name] <= set(SHEETS[name].values())


@pytest.mark.parametrize("name", SHEETS)
def test_every_answer_carries_its_formula_and_its_source(name: str) -> None:
    sheet: Worksheet = SHEETS[name]
    for result in sheet.results.values():
        assert result.what
        assert result.formula
        assert result.source
        assert "\n" not in result.formula
        assert result.numbers or result.formula == "as given"


def test_depth_tells_gauge_and_absolute_apart() -> None:
    values = SHEETS["depth"].values()
    assert values["gauge_pa"] == water.gauge_pa_at_depth(30.0, SEA)
    assert values["absolute_pa"] == pytest.approx(values["gauge_pa"] + 101_325.0)
    assert values["density_kg_m3"] == pytest.approx(1026.04, abs=0.01)
    assert values["en13319_depth_m"] == pytest.approx(30.185, abs=0.001)


def test_altitude_changes_the_absolute_pressure_alone() -> None:
    high, low = bench.depth(30.0, SEA, altitude_m=2000.0).values(), SHEETS["depth"].values()
    assert high["gauge_pa"] == low["gauge_pa"]
    assert low["absolute_pa"] - high["absolute_pa"] == pytest.approx(101_325.0 - 79_501.4, abs=0.1)


def test_the_numbers_shown_give_the_pressure_again() -> None:
    result = SHEETS["depth"]["gauge_pa"]
    numbers = {name: value for name, value, _ in result.numbers}
    assert numbers["ρ"] * numbers["g"] * numbers["z"] == pytest.approx(result.value, abs=2.0)


def test_pressure_is_depth_read_backwards() -> None:
    depth_m = SHEETS["pressure"].values()["depth_m"]
    assert isinstance(depth_m, float)
    assert bench.depth(depth_m, SEA).values()["gauge_pa"] == pytest.approx(3e5, abs=1e-3)


def test_a_swimmers_speed_is_shown_to_matter_little() -> None:
    assert SHEETS["speed"].values()["dynamic_pa"] == 4500.0
    assert "0.46 m" in SHEETS["speed"].remarks[0]
    assert SHEETS["head"].remarks == ()


def test_a_head_gives_its_speed() -> None:
    assert SHEETS["head"].values()["speed_m_s"] == motion.speed_m_s_for_head(25.0)
    assert SHEETS["head"].values()["head_m"] == 25.0


@pytest.mark.parametrize("given", [{}, {"speed_m_s": 3.0, "head_m": 0.5}])
def test_speed_and_head_are_one_or_the_other(given: dict[str, float]) -> None:
    with pytest.raises(ValueError, match="a speed or a head, one of the two"):
        bench.speed(**given)


def test_a_jump_never_hides_the_slam() -> None:
    assert SHEETS["jump"].values()["head_m"] == 3.0
    assert "slam" in SHEETS["jump"].remarks[0]
    assert "does not add to the depth" in SHEETS["jump"].remarks[0]


def test_a_swing_has_low_and_high_where_the_handbooks_disagree() -> None:
    values = SHEETS["swing"].values()
    assert values["swing_k"] == 26.0
    assert values["difference_um_low"] < values["difference_um"] < values["difference_um_high"] < 0
    assert "case_um_low" not in values


def test_a_swing_with_single_coefficients_has_single_answers() -> None:
    sheet = bench.swing(6.0, 32.0, 0.030, FLUOROCARBON, STEEL)
    assert set(sheet.values()) == {"swing_k", "seal_um", "case_um", "difference_um"}
    assert sheet.values()["difference_um"] == pytest.approx((160 - 15.9) * 0.030 * 26, rel=1e-9)


def test_fog_that_sealed_air_can_do_is_called_no_proof_of_a_leak() -> None:
    sheet = bench.fog(21.0, 50.0, 5.0, case_air_c=5.0)
    assert sheet.values()["fogs"] is True
    assert "no proof of a leak" in sheet.remarks[0]


def test_a_clear_crystal_is_called_no_proof_of_anything() -> None:
    sheet = bench.fog(21.0, 50.0, 20.0, case_air_c=42.0)
    assert sheet.values()["fogs"] is False
    assert "more vapour than was sealed in" in sheet.remarks[0]
    assert any("proves nothing" in remark for remark in sheet.remarks)


@pytest.mark.parametrize("name", ["fog", "dry"])
def test_the_fog_answer_always_names_the_other_sources_of_vapour(name: str) -> None:
    assert any("Gaskets, dial and lubricants" in remark for remark in SHEETS[name].remarks)


def test_dry_air_is_answered_in_words_too() -> None:
    assert SHEETS["dry"].values()["dew_point_c"] is None
    assert SHEETS["dry"].remarks[0] == "Perfectly dry air has no dew point and cannot fog."


def test_a_dew_point_below_freezing_says_that_frost_is_meant() -> None:
    assert any("frost" in remark for remark in bench.fog(21.0, 15.0, 10.0).remarks)
    assert not any("frost" in remark for remark in SHEETS["fog"].remarks)


def test_the_fog_sheet_says_what_the_arithmetic_says() -> None:
    answer = fog.fog_point(24.0, 60.0, 12.0, 15.0)
    values = bench.fog(24.0, 60.0, 12.0, 15.0).values()
    assert (values["vapour_g_m3"], values["dew_point_c"], values["fogs"]) == (
        answer.vapour_g_m3,
        answer.dew_point_c,
        answer.fogs,
    )


def test_nothing_on_the_bench_makes_a_promise() -> None:
    for sheet in SHEETS.values():
        words = " ".join(sheet.remarks).lower()
        assert "safe" not in words
        assert "waterproof" not in words


def test_the_seals_hold_a_little_more_where_the_case_is_cold() -> None:
    cold, warm = (bench.depth(10.0, SEA, 0.0, case_c) for case_c in (5.0, 60.0))
    # Sealed at 21 °C and 1013.25 hPa, 10 m by the column of SEA: p + p_air − p₁ T₂/T₁, by hand.
    assert cold["across_pa"].value == pytest.approx(100_611.5 + 101_325 - 95_813.5, abs=1)
    assert warm["across_pa"].value == pytest.approx(100_611.5 + 101_325 - 114_759.2, abs=1)


def test_of_a_case_whose_temperature_was_not_said_nothing_is_said() -> None:
    assert not {"case_air_pa", "across_pa"} & set(bench.depth(10.0, SEA).values())


def test_at_altitude_the_air_in_the_case_presses_outwards() -> None:
    found = bench.altitude(2000.0)
    # ISO 2533 at 2000 m less the air that was sealed by the sea.
    assert found["across_pa"].value == pytest.approx(79_501.4 - 101_325, abs=0.1)


def test_a_brine_has_the_density_that_was_given_and_says_so() -> None:
    sheet = bench.depth(2.0, BRINE)
    assert sheet["density_kg_m3"].value == 1190.0
    assert sheet["density_kg_m3"].formula == "as given"
    assert sheet["gauge_pa"].formula == "p = ρ · g · z"
    assert bench.pressure(float(sheet["gauge_pa"].value or 0), BRINE)["depth_m"].value == pytest.approx(2.0)
    assert sheet.remarks == (bench.ONE_DENSITY,)
