"""What one exposure costs one seal, and how fast a seal ages: the six channels of the wear share.

It is a Palmgren–Miner-type sum, by analogy only: each term is the used part of a common-practice interval.
See docs/method.md, "Wear share".
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Generic, NamedTuple, TypeVar

from logbook.model.practice import Practice, SealFactors
from logbook.model.values import SALTY, Exposure, Position, ProfilePoint, Shares, Watch, Water
from logbook.model.wear.cycles import Cycle
from logbook.physics import heat
from logbook.physics.constants import MOLAR_GAS_CONSTANT, kelvin

if TYPE_CHECKING:
    from logbook.model.wear.columns import Array

# The formulae work on the numbers of one exposure and on arrays of many: the same operations in the same
# order.
Number = TypeVar("Number", float, "Array")

HOURS_A_YEAR = 8766.0  # 365.25 days
PA_PER_BAR = 1e5

# The constant that counts the hours in a water with chemicals.
CHEMICAL_HOURS = {"pool": "H_pool", "soap": "H_soap", "hot tub": "H_hot_tub"}


def factors(watch: Watch, position: Position, practice: Practice) -> SealFactors:
    """The seal factors of a position on this watch; the crown's depend on how it closes."""
    return practice.seals[seal_row(watch, position)]


def seal_row(watch: Watch, position: Position) -> str:
    """The row of the seal factors that a position has on this watch."""
    return f"crown-{watch.crown}" if position == "crown" else position


def reference_mark_pa(watch: Watch, practice: Practice) -> float:
    """The gauge pressure in Pa to which pressure cycles are compared, also where no number is marked."""
    constant = unstated_mark(watch)
    return watch.marked_pa or 0.0 if constant is None else practice[constant] * PA_PER_BAR


def unstated_mark(watch: Watch) -> str | None:
    """The constant that stands for a mark which states no pressure; None where it states one."""
    if watch.mark in ("unmarked", "unknown"):
        return f"p_mark_{watch.mark}_bar"
    return "p_mark_unnumbered_bar" if watch.marked_pa is None else None


def relative_rate(case_c: float, practice: Practice) -> float:
    """Ageing rate at a case temperature in °C, relative to the reference temperature (Arrhenius)."""
    return heat.ageing_rate(case_c, practice["Ea"] * 1e3, practice["reference_c"])


def arrhenius(practice: Practice) -> tuple[float, float]:
    """−Ea/R in K and 1/T_ref in 1/K: `relative_rate` is exp(−Ea/R · (1/T − 1/T_ref))."""
    return -(practice["Ea"] * 1e3) / MOLAR_GAS_CONSTANT, 1 / kelvin(practice["reference_c"])


def ageing_share_per_hour(case_c: float, material: str, practice: Practice) -> float:
    """Wear share of one hour at a case temperature in °C: r(T) / r̄ / Y, Y in hours."""
    return share_per_hour_at_rate(relative_rate(case_c, practice), material, practice)


def share_per_hour_at_rate(rate: Number, material: str, practice: Practice) -> Number:
    """Wear share of one hour at an ageing rate relative to the reference temperature: rate / r̄ / Y."""
    years = practice.material(material).years
    return rate / interval_rate(practice) / (years * HOURS_A_YEAR)


@lru_cache(maxsize=8)
def interval_rate(practice: Practice) -> float:
    """The rate r̄ of the life for which one interval is stated: half of it worn, half stored."""
    worn, stored = practice["interval_worn_c"], practice["interval_storage_c"]
    return 0.5 * (relative_rate(worn, practice) + relative_rate(stored, practice))


def case_c(exposure: Exposure, practice: Practice) -> float:
    """Case temperature in °C that an exposure reaches: the water's at once, in air with the wrist's lag."""
    if exposure.water != "air":
        return exposure.water_c
    minutes = exposure.duration_s / 60
    return heat.case_c_after(minutes, exposure.from_c, exposure.water_c, practice["lag_wrist_min"])


def swing_k(exposure: Exposure, practice: Practice) -> float:
    """Size in K of the one full temperature swing of an exposure, whatever its profile says."""
    return heat.swing_k(exposure.from_c, case_c(exposure, practice))


@dataclass(frozen=True, slots=True)
class Course:
    """What an exposure does to every seal alike.

    Ranges of pressure in Pa, of case temperature in K; `rate` is the mean ageing rate relative to the
    reference temperature.
    """

    pressure: tuple[Cycle, ...]
    temperature: tuple[Cycle, ...]
    rate: float


def has_shape(points: Sequence[ProfilePoint]) -> bool:
    """True when a profile has more than one point: a single point has no shape."""
    return len(points) >= 2


def course_of(exposure: Exposure, practice: Practice) -> Course:
    """The cycles and the ageing rate of an exposure: by its profile if that has a shape, else by its depth.

    Without a shape, each dip is a pressure cycle to the greatest depth, there is one full swing, and the case
    has the temperature it reaches all the time. A profile shows its dips itself.
    """
    if has_shape(exposure.profile):
        from logbook.model.wear.columns import columns_of
        from logbook.model.wear.profiles import shaped_courses

        ((_, pressure, temperature, rate),) = shaped_courses(
            columns_of([exposure]), practice, arrhenius(practice)
        )
        return Course(tuple(pressure), tuple(temperature), rate)
    reached_c, swing = case_c(exposure, practice), swing_k(exposure, practice)
    return Course(
        (Cycle(exposure.gauge_pa, exposure.gauge_pa / 2, exposure.dips),),
        (Cycle(swing, (exposure.from_c + reached_c) / 2, 1),),
        relative_rate(reached_c, practice),
    )


class Loads(NamedTuple, Generic[Number]):
    """What exposures do to every seal of a watch alike, without ageing: numbers of one, or columns of many.

    Cycles are in cycles of the reference pressure or swing; salt and chemicals in parts of an interval an
    hour; uses of crown and pushers in parts of an interval.
    """

    hours: Number
    pressure: Number
    swings: Number
    salt: Number
    chemicals: Number
    crown: Number
    pushers: Number


def loads_of(exposure: Exposure, course: Course, watch: Watch, practice: Practice) -> Loads[float]:
    """The loads of one exposure of a watch."""
    return Loads(
        hours=exposure.duration_s / 3600,
        pressure=miner(course.pressure, reference_mark_pa(watch, practice), practice["n_p"]),
        swings=miner(course.temperature, practice["swing_k"], practice["n_t"]),
        salt=salt_per_hour(exposure.water, exposure.salinity, exposure.rinsed, practice),
        chemicals=chemicals_per_hour(exposure.water, practice),
        crown=handled(exposure.crown_wet, exposure.crown_under, practice),
        pushers=handled(exposure.pusher_wet, exposure.pusher_under, practice),
    )


def shares_of(
    loads: Loads[Number], position: Position, watch: Watch, practice: Practice
) -> tuple[Number, Number, Number, Number, Number]:
    """Every channel but ageing, in the order of the channels."""
    m = factors(watch, position, practice)
    # A crown's uses wear the crown's seal, a pusher's the pushers'.
    used = {"crown": loads.crown, "pushers": loads.pushers}.get(position, 0 * loads.hours)
    return (
        m.m_p * loads.pressure / practice["N_p"],
        m.m_t * loads.swings / practice["N_t"],
        m.m_s * loads.hours * loads.salt,
        m.m_c * loads.hours * loads.chemicals,
        m.m_h * used,
    )


def water_shares(
    exposure: Exposure, position: Position, watch: Watch, practice: Practice, course: Course | None = None
) -> Shares:
    """Every channel but ageing of one exposure; `course` saves working it out again."""
    loads = loads_of(exposure, course or course_of(exposure, practice), watch, practice)
    return Shares(0.0, *shares_of(loads, position, watch, practice))


def miner(cycles: Sequence[Cycle], reference: float, exponent: float) -> float:
    """Σ count · (range / reference)^exponent: the number of reference cycles that does as much."""
    return math.fsum(cycle.count * (cycle.range / reference) ** exponent for cycle in cycles)


def dry_use_shares_per_day(watch: Watch, position: Position, practice: Practice) -> Shares:
    """The handling channel for one day of dry crown or pusher uses."""
    weekly = {"crown": watch.winds, "pushers": watch.presses}.get(position, 0.0)
    return Shares(handling=factors(watch, position, practice).m_h * weekly / 7 / practice["U_dry"])


def salt_strength(exposure: Exposure, practice: Practice) -> float:
    """How salty its water is: its salinity relative to the open sea; an unknown sea counts as open sea."""
    return _strength(exposure.water, exposure.salinity, practice)


def _strength(water: Water, salinity: float | None, practice: Practice) -> float:
    if water not in SALTY or salinity is None:
        return 1.0 if water == "sea" else 0.0
    return salinity / practice["salt_reference"]


def salt_per_hour(water: Water, salinity: float | None, rinsed: bool, practice: Practice) -> float:
    """The part of an interval that the salt in an hour of this water takes, for a factor of 1."""
    left = 1.0 if rinsed else practice["unrinsed"]
    return _strength(water, salinity, practice) * left / practice["H_salt"]


def chemicals_per_hour(water: Water, practice: Practice) -> float:
    """The part of an interval that the chemicals in an hour of this water take, for a factor of 1."""
    constant = CHEMICAL_HOURS.get(water)
    return 1 / practice[constant] if constant else 0.0


def uses(exposure: Exposure, position: Position) -> tuple[int, int]:
    """Uses while wet and under water that wear this seal: the crown's its own, a pusher's the pushers'."""
    if position == "crown":
        return exposure.crown_wet, exposure.crown_under
    if position == "pushers":
        return exposure.pusher_wet, exposure.pusher_under
    return 0, 0


def handled(wet: Number, under: Number, practice: Practice) -> Number:
    """The part of an interval that uses while wet and under water take, for a factor of 1."""
    return wet / practice["U_wet"] + under / practice["U_under"]
