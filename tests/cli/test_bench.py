"""`logbook bench`."""

from __future__ import annotations

from pathlib import Path

import pytest

from logbook.bench.calculators import CALCULATORS, Calculator
from tests.cli.running import Cli

SEA = ("--water", "sea", "--salinity", "35", "--temp", "15C", "--latitude", "45")
SEALED = ("--sealed", "21C", "--humidity", "50")
EACH = (
    ("depth", "30m", *SEA),
    ("pressure", "3bar", *SEA),
    ("speed", "3m/s", "--water", "fresh"),
    ("speed", "--head", "25m", "--water", "fresh"),
    ("jump", "3m", "--water", "fresh"),
    ("altitude", "2000m"),
    ("swing", "32C", "6C", "--span", "30mm", "--seal", "NBR", "--case", "steel"),
    ("fog", "--sealed", "21C", "--humidity", "50", "--crystal", "10C"),
    ("force", "20bar", "--diameter", "30mm"),
)


@pytest.mark.parametrize("words", EACH, ids=lambda words: " ".join(words[:2]))
def test_each_shows_formula_numbers_and_source(bare: Cli, words: tuple[str, ...]) -> None:
    text = bare.ok("bench", *words)
    assert "source: " in text
    assert "with " in text
    assert max(len(line) for line in text.splitlines()) <= 80
    working = bare.json("bench", *words)["working"]
    assert all({"formula", "source", "numbers", "unit"} <= set(one) for one in working.values())


@pytest.mark.parametrize("words", EACH, ids=lambda words: " ".join(words[:2]))
def test_no_calculator_needs_a_record(bare: Cli, words: tuple[str, ...]) -> None:
    bare.ok("bench", *words)
    assert not bare.file.exists()


@pytest.mark.parametrize(
    "calculator", [each for each in CALCULATORS if not each.command], ids=lambda c: c.word
)
def test_a_command_asks_what_its_calculator_declares(bare: Cli, calculator: Calculator) -> None:
    told = bare.ok("bench", calculator.word, "--help")
    assert calculator.about in " ".join(told.split())
    for name, ask in calculator.asks.items():
        assert f"--{name.replace('_', '-')} {ask.kind.word}" in told or f"{name.upper()}" in told
        assert ask.help in " ".join(told.split())


def test_depth_gives_pressure_density_and_what_an_instrument_shows(bare: Cli) -> None:
    found = bare.json("bench", "depth", "100m", *SEA)
    # Column integral with gsw 3.6 and scipy: 100 m of sea water, practical salinity 35, 15 °C, 45°.
    assert found["gauge_pa"] == pytest.approx(1006320.7, rel=1e-5)
    assert found["absolute_pa"] == pytest.approx(found["gauge_pa"] + 101325, abs=0.1)
    assert found["depth_m"] == 100.0
    assert found["en13319_depth_m"] == pytest.approx(found["gauge_pa"] / (1019.7 * 9.80665))
    assert 1026 < found["density_kg_m3"] < 1027


def test_pressure_is_the_way_back_from_depth(bare: Cli) -> None:
    gauge_pa = bare.json("bench", "depth", "30m", *SEA)["gauge_pa"]
    assert bare.json("bench", "pressure", f"{gauge_pa}Pa", *SEA)["depth_m"] == pytest.approx(30, abs=1e-4)


def test_fresh_water_has_no_salinity(bare: Cli) -> None:
    found = bare.json("bench", "depth", "10m", "--water", "fresh", "--temp", "20C", "--latitude", "45")
    assert found["gauge_pa"] == pytest.approx(97888.5, rel=1e-5)  # column integral with gsw 3.6 and scipy
    assert "has no salinity" in bare.refused("bench", "depth", "10m", "--water", "fresh", "--salinity", "36")


BRINE = ("--water", "sea", "--salinity", "280", "--density", "1190", "--temp", "30C", "--latitude", "45")


def test_a_brine_presses_by_the_density_that_is_given(bare: Cli) -> None:
    found = bare.json("bench", "depth", "2m", *BRINE)
    # Normal gravity of GRS 80 at 45°, 9.80620 m/s²: 1190 · 9.80620 · 2, by hand.
    assert found["gauge_pa"] == pytest.approx(23_338.8, abs=0.5)
    assert found["density_kg_m3"] == 1190
    assert bare.json("bench", "pressure", f"{found['gauge_pa']}Pa", *BRINE)["depth_m"] == pytest.approx(2)
    # ½ · 1190 kg/m³ · (1 m/s)², by hand.
    fast = bare.json("bench", "speed", "1m/s", "--salinity", "280", "--density", "1190")
    assert fast["dynamic_pa"] == pytest.approx(595)


def test_a_density_belongs_to_a_brine_and_a_brine_has_one(bare: Cli) -> None:
    assert "needs its density too" in bare.refused("bench", "depth", "2m", "--salinity", "280")
    assert "Only a brine above salinity 42" in bare.refused("bench", "depth", "2m", "--density", "1190")
    light = ("--salinity", "280", "--density", "900")
    assert "not from 1000 to 1400 kg/m³" in bare.refused("bench", "depth", "2m", *light)


def test_the_air_in_the_case_is_told_where_its_temperature_is(bare: Cli) -> None:
    found = bare.json("bench", "depth", "10m", *SEA[:4], "--temp", "5C", "--latitude", "45")
    # 101 325 Pa · 278.15 / 294.15, by hand.
    assert found["case_air_pa"] == pytest.approx(95_813.5, abs=0.1)
    assert found["across_pa"] == pytest.approx(found["absolute_pa"] - found["case_air_pa"])
    assert "case_air_pa" not in bare.json("bench", "depth", "10m")
    assert bare.json("bench", "altitude", "2000m")["across_pa"] == pytest.approx(79_501.4 - 101_325, abs=0.5)
    assert "difference across the seals" in bare.ok("bench", "pressure", "3bar", *SEA)


def test_altitude_lowers_the_absolute_pressure(bare: Cli) -> None:
    assert bare.json("bench", "altitude", "2000m")["ambient_pa"] == pytest.approx(
        79501.4, abs=0.5
    )  # ISO 2533
    sea, lake = (bare.json("bench", "depth", "10m", *SEA, "--altitude", height) for height in ("0m", "2000m"))
    assert sea["absolute_pa"] - lake["absolute_pa"] == pytest.approx(101325 - 79501.4, abs=0.5)


def test_a_speed_and_its_head(bare: Cli) -> None:
    # ½ · 1000 kg/m³ · (3 m/s)²; 22.1 m/s gives 25 m of head: common practice, recomputed.
    assert bare.json("bench", "speed", "3m/s", "--water", "fresh")["dynamic_pa"] == pytest.approx(4500)
    assert bare.json("bench", "speed", "--head", "25m", "--water", "fresh")["speed_m_s"] == pytest.approx(
        22.1, abs=0.05
    )
    assert "one of the two" in bare.refused("bench", "speed", "3m/s", "--head", "25m")
    assert "one of the two" in bare.refused("bench", "speed")


def test_sea_water_is_denser_than_fresh(bare: Cli) -> None:
    fresh, sea = (bare.json("bench", "speed", "3m/s", "--water", w)["dynamic_pa"] for w in ("fresh", "sea"))
    assert sea / fresh == pytest.approx(1.026, abs=0.001)


def test_a_jump_has_at_most_its_own_height_as_head(bare: Cli) -> None:
    found = bare.json("bench", "jump", "3m", "--water", "fresh")
    assert found["head_m"] == found["height_m"] == 3.0
    assert "slam" in bare.ok("bench", "jump", "3m").lower()


def test_a_swing_is_signed_and_spans_what_handbooks_say(bare: Cli) -> None:
    found = bare.json("bench", "swing", "32C", "-6C", "--span", "30mm", "--seal", "NBR", "--case", "steel")
    assert found["swing_k"] == 38.0
    assert found["difference_um"] == pytest.approx(found["seal_um"] - found["case_um"])
    steel = bare.json("constants", "cases.steel")
    alpha = 1e-6 * (steel["alpha_low"] + steel["alpha_high"]) / 2  # 1/K, handbook, as the practice has it
    assert found["case_um"] == pytest.approx(alpha * 0.03 * -38 * 1e6)
    assert found["difference_um_low"] < found["difference_um"] < found["difference_um_high"] < 0
    low, high = found["seal_um_low"], found["seal_um_high"]
    assert f"from {low:.6g} µm to {high:.6g} µm" in " ".join(bare.ok("bench", "swing", "32C", "-6C").split())


def test_fog_is_told_from_a_leak(bare: Cli) -> None:
    sealed = ("bench", "fog", "--sealed", "21C", "--humidity", "50%")
    found = bare.json(*sealed, "--crystal", "10C")
    assert found["dew_point_c"] == pytest.approx(10.18, abs=0.01)  # WMO No. 8, Magnus form
    assert found["fogs"] is True
    assert bare.json(*sealed, "--crystal", "10C", "--case-air", "10C")["fogs"] is False
    assert (
        bare.json("bench", "fog", "--sealed", "21C", "--humidity", "0", "--crystal", "10C")["dew_point_c"]
        is None
    )


def test_force_is_pressure_times_area(bare: Cli) -> None:
    assert bare.json("bench", "force", "20bar", "--diameter", "30mm")["force_n"] == pytest.approx(
        1413.717, abs=0.001
    )


def test_cycles_are_counted_as_the_standard_counts_them(bare: Cli, tmp_path: Path) -> None:
    series = tmp_path / "series.csv"
    values = (-2, 1, -3, 5, -1, 3, -4, 4, -2)
    series.write_text(
        "time_s,value\n" + "".join(f"{n},{v}\n" for n, v in enumerate(values)), encoding="utf-8"
    )
    counts: dict[float, float] = {}
    for cycle in bare.json("bench", "cycles", str(series))["cycles"]:
        counts[cycle["range"]] = counts.get(cycle["range"], 0) + cycle["count"]
    assert counts == {3.0: 0.5, 4.0: 1.5, 6.0: 0.5, 8.0: 1.0, 9.0: 0.5}  # ASTM E1049-85, its example
    text = bare.ok("bench", "cycles", "-", stdin="value,time_s\n1,0\n5,1\n1,2\n")
    assert "ASTM E1049" in text
    assert "range" in text
    assert "No cycle" in bare.ok("bench", "cycles", "-", stdin="time_s,value\n0,1\n")


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("time,value\n0,1\n", "needs the columns time_s and value"),
        ("", "needs the columns"),
        ("time_s,value\n0,1\n1,deep\n", "Row 3, column value: 'deep' is not a number"),
        ("time_s,value\n0,1\n1,nan\n", "Row 3, column value"),
        ("time_s,value\n0,1\n1\n", "Row 3, column value"),
        ("time_s,value\n5,1\n4,2\n", "goes back in time"),
    ],
)
def test_a_series_that_cannot_be_read_names_its_row(bare: Cli, text: str, expected: str) -> None:
    assert expected in bare.refused("bench", "cycles", "-", stdin=text)


def test_a_file_that_is_not_there_or_no_text(bare: Cli, tmp_path: Path) -> None:
    assert bare("bench", "cycles", str(tmp_path / "none.csv")).code == 4
    (tmp_path / "odd.csv").write_bytes(b"time_s,value\n0,\xff\n")
    assert "not UTF-8" in bare.refused("bench", "cycles", str(tmp_path / "odd.csv"))


def test_imperial_answers_stand_beside_the_si_ones(bare: Cli) -> None:
    text = bare.ok("bench", "depth", "100ft", "--units", "imperial")
    assert "depth = 30.48 m (100 ft)" in text
    assert " psi)" in text
    assert "(3.0" in bare.ok("bench", "depth", "30m")
    assert " bar)" in bare.ok("bench", "depth", "30m")


def test_the_home_water_fills_in_where_there_is_a_record(cli: Cli) -> None:
    cli.ok("settings", "--salinity", "38", "--latitude", "40", "--altitude", "500m")
    cli.ok("settings", "--home-temp", ",".join(f"{m}=20" for m in MONTHS))
    at_home = cli.json("bench", "depth", "10m")
    said = ("--salinity", "38", "--latitude", "40", "--altitude", "500m", "--temp", "20C")
    told = cli.json("bench", "depth", "10m", *said)
    for key in ("case_air_pa", "across_pa"):  # only where the temperature is said
        del told[key], told["working"][key]
    assert at_home == told


MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        (("depth", "30"), "has no unit"),
        (("depth", "30bar"), "a length belongs here"),
        (("depth", "-3m"), "below zero"),
        (("depth", "12km"), "11"),
        (("depth", "30m", "--latitude", "91"), "from pole to pole"),
        (("depth", "30m", "--temp", "280K"), "not in kelvin"),
        (("depth", "30m", "--temp", "90C"), "out of range"),
        (("depth", "30m", "--water", "brackish"), "How salty"),
        (("depth", "30m", "--water", "brackish 50"), "needs its density too"),
        (("depth", "30m", "--water", "brackish 361", "--density", "1190"), "out of range"),
        (("depth", "30m", "--altitude", "9km"), "out of range"),
        (("pressure", "3m"), "a pressure belongs here"),
        (("speed", "3m"), "a speed belongs here"),
        (("speed", "-3m/s"), "must be 0"),
        (("jump", "-1m"), "must be 0"),
        (("speed", "1e200 m/s"), "must be 1000 m/s or less"),
        (("speed", "--head", "1e308 m"), "must be 50000 m or less"),
        (("jump", "1e308 m"), "must be 50000 m or less"),
        (("force", "1e300 bar", "--diameter", "30mm"), "must be 1.2e+08 Pa or less"),
        (("force", "20bar", "--diameter", "1e300 m"), "must be 1000 m or less"),
        (("swing", "32C", "6C", "--span", "1e300 m"), "must be 1000 m or less"),
        (("fog", "--sealed", "21C", "--humidity", "50 m", "--crystal", "10C"), "without a unit"),
        (("fog", "--sealed", "21C", "--humidity", "150", "--crystal", "10C"), "air holds no more"),
        (("fog", "--sealed", "90C", "--humidity", "50", "--crystal", "10C"), "60"),
        (("swing", "32C", "6C", "--seal", "rubber"), "'rubber' is no material"),
        (("swing", "32C", "6C", "--case", "gold"), "'gold' is no case material"),
        (("swing", "32C"), "Missing argument"),
        (("force", "20bar"), "Missing option '--diameter'"),
        (("force", "20bar", "--diameter", "30bar"), "a length belongs here"),
        (("dept", "30m"), "No such command"),
        ((), "Which command? There are depth, pressure, speed"),
    ],
)
def test_a_question_that_cannot_be_is_refused(bare: Cli, words: tuple[str, ...], expected: str) -> None:
    assert expected in bare.refused("bench", *words)


@pytest.mark.parametrize(
    ("words", "where"),
    [
        (("depth", "30"), "DEPTH"),
        (("depth", "30m", "--latitude", "91"), "--latitude"),
        (("swing", "32", "6C"), "FROM"),
        (("speed", "--head", "25"), "--head"),
        (
            ("fog", "--sealed", "21C", "--humidity", "50", "--crystal", "10C", "--case-air", "90C"),
            "--case-air",
        ),
    ],
)
def test_a_refusal_names_the_argument_or_the_option(bare: Cli, words: tuple[str, ...], where: str) -> None:
    assert bare("bench", *words, "--json").json["error"]["where"] == where
