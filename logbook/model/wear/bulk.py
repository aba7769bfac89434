"""All exposures of a watch charged in one pass: what `charge.charge_exposures` gives, to the same digit.

Arrays run across exposures and across the seals that they meet. Sums, products and quotients of arrays are
those of numbers; exponentials, powers and logarithms come from the standard library, one by one; a sum of
many is rounded once, or taken in the same order. So no digit depends on which of the two ways reckoned it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from math import exp
from typing import TYPE_CHECKING, NamedTuple

from logbook.model.practice import Practice
from logbook.model.values import CHANNELS, DAY_ORDER, SALTY, Position, Watch, WatchRecord
from logbook.model.wear import wear
from logbook.model.wear.bulk_clock import AllSpent
from logbook.model.wear.bulk_profiles import shaped_courses
from logbook.model.wear.charge import Service, middle, services
from logbook.model.wear.columns import Columns, each, rates, real, whole

if TYPE_CHECKING:
    from logbook.model.wear.columns import Array, Mask, Whole


@dataclass(frozen=True, eq=False)
class Charges:
    """What exposures add to seals, a row for each of the two that met, in the order of the exposures."""

    exposure_id: Whole
    seal_id: Whole
    shares: Array  # by row and channel
    counted: Mask  # the seal's middle fitting date lies before the exposure


class Courses(NamedTuple):
    """What exposures do to every seal alike, as columns.

    Cycles as so many of the reference pressure or swing; the mean ageing rate against that at the reference
    temperature.
    """

    pressure: Array
    swings: Array
    rate: Array


def charge_all(record: WatchRecord, columns: Columns, spent: AllSpent, practice: Practice) -> Charges:
    """Everything that exposures of one watch add; `spent` are the hours that `spend_all` gave them."""
    import numpy as np

    in_service = services(record.seals)
    seals = [service.seal for service in in_service]
    charged = columns.day >= record.watch.recorded_from.toordinal()
    met = _held(columns.day, in_service, [s.fitted_earliest.toordinal() for s in seals])
    exposure, seal = np.nonzero(met & charged[:, np.newaxis])
    counted = _held(columns.day, in_service, [middle(s).toordinal() for s in seals])
    shares = _shares(record.watch, columns, spent, practice, [(s.position, s.material) for s in seals])
    return Charges(
        columns.id[exposure],
        whole([s.id or 0 for s in seals])[seal],
        np.stack([shares[channel](exposure, seal) for channel in CHANNELS], axis=1),
        counted[exposure, seal],
    )


def _held(day: Whole, in_service: Sequence[Service], since: Sequence[int]) -> Mask:
    """`Service.holds` by day and seal, for seals fitted on the days `since`."""
    import numpy as np

    own, never = DAY_ORDER["exposure"], np.iinfo(np.int64).max
    until = whole([never if s.until is None else s.until[0].toordinal() for s in in_service])
    ends_later = np.array([s.until is not None and own <= s.until[1] for s in in_service], dtype=bool)
    begins_before = np.array([s.seal.order < own for s in in_service], dtype=bool)
    on, start = day[:, np.newaxis], whole(since)
    begun: Mask = (start < on) | ((start == on) & begins_before)
    lasting: Mask = (on < until) | ((on == until) & ends_later)
    return begun & lasting


_Shares = Callable[["Whole", "Whole"], "Array"]  # of rows: places of their exposures and of their seals


def _shares(
    watch: Watch, columns: Columns, spent: AllSpent, practice: Practice,
    seals: Sequence[tuple[Position, str]],
) -> dict[str, _Shares]:  # fmt: skip
    """Channel -> its shares by row, as `wear.water_shares` and `charge.ageing_instead` give them."""
    factors = [wear.factors(watch, position, practice) for position, _ in seals]
    m = {name: real([getattr(f, name) for f in factors]) for name in ("m_p", "m_t", "m_s", "m_c", "m_h")}
    courses = courses_of(watch, columns, practice)
    hours = columns.duration_s / 3600
    salt, chemicals = _salt_per_hour(columns, practice), _chemicals_per_hour(columns, practice)

    def cycles(factor: Array, count: Array, interval: float, exposure: Whole, seal: Whole) -> Array:
        return factor[seal] * count[exposure] / interval

    def contact(factor: Array, per_hour: Array, exposure: Whole, seal: Whole) -> Array:
        return factor[seal] * hours[exposure] * per_hour[exposure]

    return {
        "ageing": partial(_ageing, courses.rate, spent, [material for _, material in seals], practice),
        "pressure": partial(cycles, m["m_p"], courses.pressure, practice["N_p"]),
        "temperature": partial(cycles, m["m_t"], courses.swings, practice["N_t"]),
        "salt": partial(contact, m["m_s"], salt),
        "chemicals": partial(contact, m["m_c"], chemicals),
        "handling": partial(_handling, m["m_h"], columns, [position for position, _ in seals], practice),
    }


def courses_of(watch: Watch, columns: Columns, practice: Practice) -> Courses:
    """What `wear.course_of` says of each exposure, its cycles added up."""
    import numpy as np

    reference_pa = wear.reference_mark_pa(watch, practice)
    in_air = columns.water == "air"
    reached_c = columns.water_c.copy()
    remaining = each(exp, -(columns.duration_s[in_air] / 60) / practice["lag_wrist_min"])
    reached_c[in_air] += remaining * (columns.from_c[in_air] - columns.water_c[in_air])
    courses = Courses(
        columns.dips * _powers(columns.gauge_pa / reference_pa, practice["n_p"]),
        _powers(np.abs(reached_c - columns.from_c) / practice["swing_k"], practice["n_t"]),
        rates(reached_c, wear.arrhenius(practice)),
    )
    for at, pressure, swings, rate in shaped_courses(columns, practice):
        courses.pressure[at] = wear.miner(pressure, reference_pa, practice["n_p"])
        courses.swings[at] = wear.miner(swings, practice["swing_k"], practice["n_t"])
        courses.rate[at] = rate
    return courses


def _powers(bases: Array, exponent: float) -> Array:
    return real([base**exponent for base in bases.tolist()])


def _ageing(
    rate: Array, spent: AllSpent, materials: Sequence[str], practice: Practice, exposure: Whole, seal: Whole
) -> Array:
    def per_hour(case_c: float) -> Array:
        return real([wear.ageing_share_per_hour(case_c, material, practice) for material in materials])[seal]

    years = real([practice.material(material).years for material in materials])
    on_course = rate[exposure] / wear.interval_rate(practice) / (years * wear.HOURS_A_YEAR)[seal]
    wrist, storage = spent.from_wrist_h[exposure], spent.from_storage_h[exposure]
    result: Array = (
        (wrist + storage) * on_course
        - wrist * per_hour(practice["worn_c"])
        - storage * per_hour(practice["storage_c"])
    )
    return result


def _salt_per_hour(columns: Columns, practice: Practice) -> Array:
    import numpy as np

    stated = np.isin(columns.water, SALTY) & ~np.isnan(columns.salinity)
    unstated = np.where(columns.water == "sea", 1.0, 0.0)
    strength = np.where(stated, columns.salinity / practice["salt_reference"], unstated)
    result: Array = strength * np.where(columns.rinsed, 1.0, practice["unrinsed"]) / practice["H_salt"]
    return result


def _chemicals_per_hour(columns: Columns, practice: Practice) -> Array:
    import numpy as np

    found = np.zeros(len(columns))
    for water, constant in wear.CHEMICAL_HOURS.items():
        found[columns.water == water] = 1 / practice[constant]
    return found


def _handling(
    factor: Array, columns: Columns, positions: Sequence[Position], practice: Practice,
    exposure: Whole, seal: Whole,
) -> Array:  # fmt: skip
    """A crown's uses wear the crown's seal, a pusher's the pushers'."""
    import numpy as np

    worn_out = np.zeros(len(exposure))
    for position, wet, under in (
        ("crown", columns.crown_wet, columns.crown_under),
        ("pushers", columns.pusher_wet, columns.pusher_under),
    ):
        own = np.array([p == position for p in positions], dtype=bool)[seal]
        worn_out[own] = (wet / practice["U_wet"] + under / practice["U_under"])[exposure[own]]
    result: Array = factor[seal] * worn_out
    return result
