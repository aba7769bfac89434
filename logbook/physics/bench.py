"""The calculators of the bench: each answer comes with its formula, its numbers and its source.

Arguments are SI floats (°C for temperatures, % for humidity). Every function raises ValueError with a
sentence for impossible numbers. The keys of a worksheet are those of the command line's JSON.
"""

from __future__ import annotations

from logbook.physics import air, fog_answer, heat, motion, water
from logbook.physics.constants import FRESH_WATER_KG_M3, STANDARD_GRAVITY, kelvin
from logbook.physics.force import force_n
from logbook.physics.water import WaterColumn
from logbook.physics.worked import Worked, Worksheet

UNIFORM_COLUMN = (
    "The column has one salinity and one temperature from top to bottom; warm water above cold presses less."
)
IN_SITU = "ρ(S_A, Θ, p/2), S_A = 35.16504/35 · S_P, Θ from the surface temperature"
ONE_DENSITY = "The column has one density from top to bottom; a brine lies in layers more often than not."
GIVEN_DENSITY = "uniform column of the density given; gravity at its surface: TEOS-10, with the gsw library"
SLAM = (
    "This is the steady head at most, drag ignored, and it does not add to the depth. The slam of first "
    "contact can exceed it, locally and for milliseconds: no number is given for it."
)
WEATHER = "Weather moves the real pressure by a few per cent."
Numbers = tuple[tuple[str, float, str], ...]


def _column_numbers(column: WaterColumn) -> Numbers:
    if column.given_kg_m3 is not None:
        return (("salinity", column.practical_salinity, "g/kg"),)
    salinity_g_kg, conservative_c = water.salinity_and_temperature(column)
    return (
        ("practical salinity", column.practical_salinity, ""),
        ("surface temperature", column.surface_c, "°C"),
        ("S_A", salinity_g_kg, "g/kg"),
        ("Θ", conservative_c, "°C"),
    )


def _case_answers(gauge_pa: float, ambient_pa: float, case_c: float) -> dict[str, Worked]:
    """The pressure of the air in a case at °C, and the difference to the pressure outside (Pa)."""
    case_pa = air.case_air_pa(case_c)
    return {
        "case_air_pa": Worked(
            "air in the case",
            case_pa,
            "Pa",
            "p₂ = p₁ · T₂ / T₁",
            (("p₁", air.SEALED_PA, "Pa"), ("T₁", kelvin(air.SEALED_C), "K"), ("T₂", kelvin(case_c), "K")),
            air.IDEAL_GAS,
        ),
        "across_pa": Worked(
            "difference across the seals",
            air.across_pa(gauge_pa, ambient_pa, case_pa),
            "Pa",
            "Δp = p + p_air − p₂",
            (("p", gauge_pa, "Pa"), ("p_air", ambient_pa, "Pa"), ("p₂", case_pa, "Pa")),
            "definition; above 0 from outside, below 0 from inside",
        ),
    }


def _column_answers(
    gauge_pa: float, column: WaterColumn, altitude_m: float, case_c: float | None
) -> dict[str, Worked]:
    """What follows from a gauge pressure in Pa: absolute, density, instrument's depth, a case's air at °C."""
    ambient_pa = air.ambient_pa(altitude_m)
    given = column.given_kg_m3 is not None
    case = {} if case_c is None else _case_answers(gauge_pa, ambient_pa, case_c)
    instrument = water.CONVENTIONS["EN 13319"]
    return {
        "absolute_pa": Worked(
            "absolute pressure",
            gauge_pa + ambient_pa,
            "Pa",
            "p_abs = p + p_air(altitude)",
            (("p", gauge_pa, "Pa"), ("altitude", altitude_m, "m"), ("p_air", ambient_pa, "Pa")),
            air.ISO_2533,
        ),
        "density_kg_m3": Worked(
            "density" if given else "density half-way down, by pressure",
            water.density_kg_m3(column, gauge_pa / 2),
            "kg/m³",
            "as given" if given else IN_SITU,
            (*_column_numbers(column), ("p/2", gauge_pa / 2, "Pa")),
            water.TEOS10,
        ),
        "en13319_depth_m": Worked(
            "depth an instrument shows (EN 13319)",
            water.en13319_depth_m(gauge_pa),
            "m",
            "z = p / (1019.7 kg/m³ · 9.80665 m/s²)",
            (("p", gauge_pa, "Pa"), ("Pa per m", instrument.pa_per_unit, "Pa/m")),
            instrument.source,
        ),
        **case,
    }


def _column_words(column: WaterColumn, integral: str, given: str) -> tuple[str, str, str]:
    """Formula, source and remark for a column of water: by its integral, or with a given density."""
    if column.given_kg_m3 is None:
        return integral, water.TEOS10, UNIFORM_COLUMN
    return given, GIVEN_DENSITY, ONE_DENSITY


def _mean_column(gauge_pa: float, column: WaterColumn) -> Numbers:
    return (
        ("ρ", water.density_kg_m3(column, gauge_pa / 2), "kg/m³"),
        ("g", water.gravity_m_s2(column, gauge_pa / 2), "m/s²"),
        ("latitude", column.latitude_deg, "°"),
    )


def depth(
    depth_m: float, column: WaterColumn, altitude_m: float = 0.0, case_c: float | None = None
) -> Worksheet:
    """Pressures at a true depth in m: `depth_m, gauge_pa, absolute_pa, density_kg_m3, en13319_depth_m`.

    With the temperature of the case in °C it adds `case_air_pa, across_pa`.
    """
    gauge_pa = water.gauge_pa_at_depth(depth_m, column)
    given = Worked("depth", max(0.0, depth_m), "m", "as given", (), "as given")
    formula, source, remark = _column_words(
        column,
        "z = ∫ dp / (ρ g) from 0 to p, solved for p; close to p = ρ(p/2) · g(p/2) · z",
        "p = ρ · g · z",
    )
    gauge = Worked(
        "gauge pressure",
        gauge_pa,
        "Pa",
        formula,
        (*_mean_column(gauge_pa, column), ("z", max(0.0, depth_m), "m")),
        source,
    )
    results = {"depth_m": given, "gauge_pa": gauge} | _column_answers(gauge_pa, column, altitude_m, case_c)
    return Worksheet(results, (remark,))


def pressure(
    gauge_pa: float, column: WaterColumn, altitude_m: float = 0.0, case_c: float | None = None
) -> Worksheet:
    """True depth at a gauge pressure in Pa: `gauge_pa, depth_m`, and the further keys of `depth`."""
    depth_m = water.depth_m_at_gauge(gauge_pa, column)
    given = Worked("gauge pressure", gauge_pa, "Pa", "as given", (), "as given")
    formula, source, remark = _column_words(
        column, "z = ∫ dp / (ρ g) from 0 to p, close to p / (ρ(p/2) · g(p/2))", "z = p / (ρ · g)"
    )
    found = Worked(
        "depth",
        depth_m,
        "m",
        formula,
        (("p", gauge_pa, "Pa"), *_mean_column(gauge_pa, column)),
        source,
    )
    results = {"gauge_pa": given, "depth_m": found} | _column_answers(gauge_pa, column, altitude_m, case_c)
    return Worksheet(results, (remark,))


def speed(
    speed_m_s: float | None = None, head_m: float | None = None, density_kg_m3: float = FRESH_WATER_KG_M3
) -> Worksheet:
    """Dynamic pressure of a speed in m/s, or the speed of a head in m: `speed_m_s, dynamic_pa, head_m`.

    Give exactly one of the two; the density is in kg/m³.
    """
    if (speed_m_s is None) == (head_m is None):
        raise ValueError("give a speed or a head, one of the two")
    if speed_m_s is not None:
        v, h = speed_m_s, motion.head_m(speed_m_s)
        v_formula, h_formula = "as given", "h = v² / 2g"
    else:
        assert head_m is not None
        v, h = motion.speed_m_s_for_head(head_m), head_m
        v_formula, h_formula = "v = √(2 g h)", "as given"
    g = ("g", STANDARD_GRAVITY, "m/s²")
    dynamic_pa = motion.dynamic_pa(v, density_kg_m3)
    results = {
        "speed_m_s": Worked(
            "speed through the water", v, "m/s", v_formula, (("h", h, "m"), g), motion.BERNOULLI
        ),
        "dynamic_pa": Worked(
            "dynamic pressure",
            dynamic_pa,
            "Pa",
            "p = ½ ρ v²",
            (("ρ", density_kg_m3, "kg/m³"), ("v", v, "m/s")),
            motion.BERNOULLI,
        ),
        "head_m": Worked(
            "head, as metres of this water", h, "m", h_formula, (("v", v, "m/s"), g), motion.BERNOULLI
        ),
    }
    remark = f"This speed presses like {h:.2f} m more of depth: an arm hardly matters, depth does."
    return Worksheet(results, (remark,) if h < 1 else ())


def jump(height_m: float, density_kg_m3: float = FRESH_WATER_KG_M3) -> Worksheet:
    """A jump into the water from a height in m: `height_m, speed_m_s, head_m, stagnation_pa`."""
    v = motion.speed_m_s_for_head(height_m)
    g = ("g", STANDARD_GRAVITY, "m/s²")
    height = ("H", height_m, "m")
    results = {
        "height_m": Worked("height of the jump", height_m, "m", "as given", (), "as given"),
        "speed_m_s": Worked("speed at the water", v, "m/s", "v = √(2 g H)", (g, height), motion.BERNOULLI),
        "head_m": Worked(
            "steady head, at most", height_m, "m", "h ≤ v² / 2g = H", (("v", v, "m/s"), g), motion.BERNOULLI
        ),
        "stagnation_pa": Worked(
            "steady pressure, at most",
            motion.jump_pa(height_m, density_kg_m3),
            "Pa",
            "p ≤ ρ g H",
            (("ρ", density_kg_m3, "kg/m³"), g, height),
            motion.BERNOULLI,
        ),
    }
    return Worksheet(results, (SLAM,))


def altitude(height_m: float) -> Worksheet:
    """Pressure of the standard atmosphere at a geometric altitude in m: `ambient_pa, case_air_pa, across_pa`.

    The case is taken to be as warm as when it was closed.
    """
    ambient = Worked(
        "air pressure",
        air.ambient_pa(height_m),
        "Pa",
        "p = 101325 Pa · (1 − 0.0065 K/m · H / 288.15 K)^5.25588, H = r h / (r + h)",
        (("h", height_m, "m"), ("H", air.geopotential_m(height_m), "m"), ("r", air.EARTH_RADIUS_M, "m")),
        air.ISO_2533,
    )
    case = _case_answers(0.0, air.ambient_pa(height_m), air.SEALED_C)
    return Worksheet({"ambient_pa": ambient, **case}, (WEATHER,))


def swing(
    from_c: float,
    to_c: float,
    span_m: float,
    alpha_seal_per_k: tuple[float, float],
    alpha_case_per_k: tuple[float, float],
) -> Worksheet:
    """What a change from one temperature to another (°C) does to seal and case over a span in m.

    Coefficients of linear expansion are (low, high) in 1/K. Keys: `swing_k` (never negative), `seal_um`,
    `case_um`, `difference_um` (seal minus case; below 0 when cooling shrinks the seal more than the case),
    each with `_low` and `_high` where the coefficients are ranges.
    """
    size_k = heat.swing_k(from_c, to_c)
    change_k = to_c - from_c
    expansion = heat.differential_expansion(span_m, change_k, alpha_seal_per_k, alpha_case_per_k)
    results = {
        "swing_k": Worked(
            "temperature swing",
            size_k,
            "K",
            "|T₂ − T₁|",
            (("T₁", from_c, "°C"), ("T₂", to_c, "°C")),
            "definition",
        )
    }
    common: Numbers = (("L", span_m, "m"), ("ΔT", change_k, "K"))
    seal, case = sum(alpha_seal_per_k) / 2, sum(alpha_case_per_k) / 2
    parts: tuple[tuple[str, str, heat.Range, str, Numbers], ...] = (
        ("seal_um", "change of the seal", expansion.seal_um, "α_seal · L · ΔT", (("α_seal", seal, "1/K"),)),
        ("case_um", "change of the case", expansion.case_um, "α_case · L · ΔT", (("α_case", case, "1/K"),)),
        (
            "difference_um",
            "seal minus case",
            expansion.difference_um,
            "(α_seal − α_case) · L · ΔT",
            (("α_seal", seal, "1/K"), ("α_case", case, "1/K")),
        ),
    )
    for key, what, found, formula, numbers in parts:
        results[key] = Worked(what, found.value, "µm", formula, (*numbers, *common), heat.EXPANSION)
        if found.low < found.high:
            ends = (("_low", "lowest", found.low), ("_high", "highest", found.high))
            for ending, word, value in ends:
                results[key + ending] = Worked(
                    f"{what}, {word}", value, "µm", formula, common, heat.EXPANSION
                )
    return Worksheet(results)


def fog(sealed_c: float, humidity_pct: float, crystal_c: float, case_air_c: float | None = None) -> Worksheet:
    """Would air sealed at °C and % fog a crystal at °C? `vapour_g_m3, dew_point_c, fogs`, with remarks.

    `case_air_c` is the air inside the case (None: still at the sealing temperature). `dew_point_c` is None
    for perfectly dry air.
    """
    return fog_answer.worksheet(sealed_c, humidity_pct, crystal_c, case_air_c)


def force(gauge_pa: float, diameter_m: float) -> Worksheet:
    """Force of a gauge pressure in Pa on a disc of a diameter in m: `force_n`."""
    result = Worked(
        "force on the disc",
        force_n(gauge_pa, diameter_m),
        "N",
        "F = p π d² / 4",
        (("p", gauge_pa, "Pa"), ("d", diameter_m, "m")),
        "pressure times area, textbook",
    )
    return Worksheet({"force_n": result})
