"""What one exposure costs one seal, and how fast a seal ages: the six channels of the wear share.

A Palmgren–Miner-type sum, by analogy only: each term is the part of a common-practice interval that is used.
See docs/method.md, "Wear share".
"""

from __future__ import annotations

from functools import lru_cache

from logbook.physics import heat
from logbook.reckoning.practice import Practice, SealFactors
from logbook.reckoning.values import Exposure, Position, Shares, Watch

HOURS_A_YEAR = 8766.0  # 365.25 days
PA_PER_BAR = 1e5

# Which constant counts the hours of a water with chemicals in it.
_CHEMICAL_HOURS = {"pool": "H_pool", "soap": "H_soap", "hot tub": "H_hot_tub"}


def factors(watch: Watch, position: Position, practice: Practice) -> SealFactors:
    """The seal factors of a position on this watch; the crown's depend on how it closes."""
    return practice.seals[f"crown-{watch.crown}" if position == "crown" else position]


def reference_mark_pa(watch: Watch, practice: Practice) -> float:
    """The gauge pressure in Pa that pressure cycles are measured against, also where no number is marked."""
    if watch.mark == "unmarked":
        return practice["p_mark_unmarked_bar"] * PA_PER_BAR
    if watch.mark == "unknown" or watch.marked_pa is None:
        return practice["p_mark_unnumbered_bar"] * PA_PER_BAR
    return watch.marked_pa


def relative_rate(case_c: float, practice: Practice) -> float:
    """Ageing rate at a case temperature in °C against that at the reference temperature (Arrhenius)."""
    return heat.ageing_rate(case_c, practice["Ea"] * 1e3, practice["reference_c"])


def ageing_share_per_hour(case_c: float, material: str, practice: Practice) -> float:
    """Wear share of one hour at a case temperature in °C: r(T) / r̄ / Y, Y in hours."""
    years = practice.material(material).years
    return relative_rate(case_c, practice) / _mean_rate(practice) / (years * HOURS_A_YEAR)


@lru_cache(maxsize=8)
def _mean_rate(practice: Practice) -> float:
    """The rate r̄ of the life that one interval is stated for: half of it worn, half stored."""
    worn, stored = practice["interval_worn_c"], practice["interval_storage_c"]
    return 0.5 * (relative_rate(worn, practice) + relative_rate(stored, practice))


def case_c(exposure: Exposure, practice: Practice) -> float:
    """Case temperature in °C that an exposure reaches: the water's at once, in air with the wrist's lag."""
    if exposure.water != "air":
        return exposure.water_c
    minutes = exposure.duration_s / 60
    return heat.case_c_after(minutes, exposure.from_c, exposure.water_c, practice["lag_wrist_min"])


def swing_k(exposure: Exposure, practice: Practice) -> float:
    """Size in K of the one full temperature swing of an exposure without a profile."""
    return heat.swing_k(exposure.from_c, case_c(exposure, practice))


def water_shares(exposure: Exposure, position: Position, watch: Watch, practice: Practice) -> Shares:
    """Every channel but ageing of one exposure, by greatest depth: a pressure cycle per dip, one swing."""
    m = factors(watch, position, practice)
    hours = exposure.duration_s / 3600
    cycle = (exposure.gauge_pa / reference_mark_pa(watch, practice)) ** practice["n_p"] / practice["N_p"]
    swing = (swing_k(exposure, practice) / practice["swing_k"]) ** practice["n_t"] / practice["N_t"]
    wet, under = _uses(exposure, position)
    return Shares(
        pressure=m.m_p * exposure.dips * cycle,
        temperature=m.m_t * swing,
        salt=m.m_s * hours * _salt_per_hour(exposure, practice),
        chemicals=m.m_c * hours * _chemicals_per_hour(exposure, practice),
        handling=m.m_h * (wet / practice["U_wet"] + under / practice["U_under"]),
    )


def dry_use_shares_per_day(watch: Watch, position: Position, practice: Practice) -> Shares:
    """The handling channel of one day of dry crown or pusher uses."""
    weekly = {"crown": watch.winds, "pushers": watch.presses}.get(position, 0.0)
    return Shares(handling=factors(watch, position, practice).m_h * weekly / 7 / practice["U_dry"])


def _salt_per_hour(exposure: Exposure, practice: Practice) -> float:
    if exposure.water == "sea":
        strength = 1.0
    elif exposure.water == "brackish":
        strength = (exposure.salinity or 0.0) / practice["brackish_reference"]
    else:
        return 0.0
    return strength * (1.0 if exposure.rinsed else practice["unrinsed"]) / practice["H_salt"]


def _chemicals_per_hour(exposure: Exposure, practice: Practice) -> float:
    constant = _CHEMICAL_HOURS.get(exposure.water)
    return 1 / practice[constant] if constant else 0.0


def _uses(exposure: Exposure, position: Position) -> tuple[int, int]:
    """Uses while wet and under water that wear this seal: the crown's its own, a pusher's the pushers'."""
    if position == "crown":
        return exposure.crown_wet, exposure.crown_under
    if position == "pushers":
        return exposure.pusher_wet, exposure.pusher_under
    return 0, 0
