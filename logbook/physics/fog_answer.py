"""The fog calculator's answer in numbers and in plain words: what it proves and what it does not."""

from __future__ import annotations

from logbook.physics import fog
from logbook.physics.constants import VAPOUR_GAS_CONSTANT
from logbook.physics.fog import FogPoint
from logbook.physics.worked import Worked, Worksheet

OTHER_VAPOUR = (
    "Gaskets, dial and lubricants give off moisture as well, and a workshop in the tropics may have sealed "
    "in more than was entered here."
)
NO_PROOF = "A crystal that stays clear proves nothing about the seals: only a pressure test does."
FROST = "The dew point is below 0 °C: frost or supercooled dew forms, and the formula is for water."
DRY = "Perfectly dry air has no dew point and cannot fog."


def _remarks(answer: FogPoint, crystal_c: float, air_c: float) -> tuple[str, ...]:
    """Remarks in plain words, with the numbers of the answer."""
    needed = f"{answer.needed_g_m3:.1f} g/m³"
    held = f"{answer.vapour_g_m3:.1f} g/m³"
    if answer.fogs:
        first = (
            f"The sealed air holds {held}; {needed} are enough to fog a crystal at {crystal_c:g} °C with the "
            f"air inside at {air_c:g} °C: fog here is no proof of a leak."
        )
    else:
        first = (
            f"The sealed air holds {held}; to fog a crystal at {crystal_c:g} °C with the air inside at "
            f"{air_c:g} °C takes more than {needed}: fog there would mean more vapour than was sealed in."
        )
    last = () if answer.fogs else (NO_PROOF,)
    if answer.dew_point_c is None:
        return (DRY, first, OTHER_VAPOUR, *last)
    return (first, OTHER_VAPOUR, *((FROST,) if answer.dew_point_c < 0 else ()), *last)


def worksheet(
    sealed_c: float, humidity_pct: float, crystal_c: float, case_air_c: float | None = None
) -> Worksheet:
    """Keys `vapour_g_m3`, `dew_point_c` (None for dry air) and `fogs`; arguments in °C and %.

    Raises ValueError outside −45…60 °C or 0…100 %. Formulas and source as in `logbook.physics.fog`.
    """
    air_c = sealed_c if case_air_c is None else case_air_c
    answer = fog.fog_point(sealed_c, humidity_pct, crystal_c, case_air_c)
    vapour_pa = fog.sealed_vapour_pa(sealed_c, humidity_pct, air_c)
    saturated = ("e_s(T₀)", fog.saturation_vapour_pa(sealed_c), "Pa")
    gas_constant = ("R_v", VAPOUR_GAS_CONSTANT, "J/(kg K)")
    dew = () if answer.dew_point_c is None else (("dew point", answer.dew_point_c, "°C"),)
    results = {
        "vapour_g_m3": Worked(
            "vapour in the sealed air",
            answer.vapour_g_m3,
            "g/m³",
            "U/100 · e_s(T₀) / (R_v T₀)",
            (("T₀", sealed_c, "°C"), ("U", humidity_pct, "%"), saturated, gas_constant),
            fog.WMO_8,
        ),
        "dew_point_c": Worked(
            "dew point inside",
            answer.dew_point_c,
            "°C",
            "e = U/100 · e_s(T₀) · T_air / T₀; t = 243.12 ln(e/6.112 hPa) / (17.62 − ln(e/6.112 hPa))",
            (("T₀", sealed_c, "°C"), ("T_air", air_c, "°C"), ("e", vapour_pa, "Pa")),
            fog.WMO_8,
        ),
        "fogs": Worked(
            "this air would fog the crystal",
            answer.fogs,
            "",
            "crystal below the dew point",
            (("crystal", crystal_c, "°C"), *dew),
            fog.WMO_8,
        ),
    }
    return Worksheet(results, _remarks(answer, crystal_c, air_c))
