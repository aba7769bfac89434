"""Charges many exposures to the seals that they met, in one pass of arrays.

Sums, products and quotients of arrays equal those of numbers; exponentials, powers and logarithms come from
the standard library, one by one; a sum of many is rounded once. So an exposure costs the same to the last
digit among many as alone in `charge`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import exp
from typing import TYPE_CHECKING

from logbook.model.practice import Practice
from logbook.model.values import CHANNELS, Watch, WatchRecord
from logbook.model.wear import charge, wear
from logbook.model.wear.clock import Spent
from logbook.model.wear.columns import Columns, each, rates, real, whole
from logbook.model.wear.profiles import shaped_courses
from logbook.model.wear.wear import Loads

if TYPE_CHECKING:
    from logbook.model.wear.columns import Array, Mask, Whole


@dataclass(frozen=True, eq=False)
class Charges:
    """What exposures add to seals: a row for each exposure and seal that met, in exposure order."""

    exposure_id: Whole
    seal_id: Whole
    shares: Array  # by row and channel
    counted: Mask  # the seal's middle fitting date lies before the exposure


def charge_all(
    record: WatchRecord, columns: Columns, spent: Mapping[int, Spent[float]], practice: Practice
) -> Charges:
    """What exposures of one watch add to every seal that they met; `spent` is exposure id -> its hours.

    Exposures before the record's start, or before any known seal, are charged to nothing.
    """
    import numpy as np

    watch, day = record.watch, columns.day
    loads, rate = _loads(columns, watch, practice)
    hours = np.array([spent[id_] for id_ in columns.id.tolist()], dtype=np.float64).reshape(-1, 2)
    charged = day >= watch.recorded_from.toordinal()
    parts = []
    for service in charge.services(record.seals):
        seal = service.seal
        met = np.nonzero(charged & _held(day, service.days(seal.fitted_earliest)))[0]
        shares = np.empty((len(day), len(CHANNELS)))
        ageing = charge.ageing_instead(rate, Spent(*hours.T), seal.material, practice)
        for n, share in enumerate((ageing, *wear.shares_of(loads, seal.position, watch, practice))):
            shares[:, n] = share
        counted = _held(day, service.days(charge.middle(seal)))
        parts.append((met, np.full(len(met), seal.id or 0), shares[met], counted[met]))
    if not parts:
        return Charges(whole([]), whole([]), np.empty((0, len(CHANNELS))), np.empty(0, dtype=bool))
    exposure, seals, added, counts = (np.concatenate(column) for column in zip(*parts, strict=True))
    order = np.argsort(exposure, kind="stable")
    return Charges(columns.id[exposure[order]], seals[order], added[order], counts[order])


def _held(day: Whole, days: tuple[int, int]) -> Mask:
    first, end = days
    held: Mask = (first <= day) & (day < end)
    return held


def _loads(columns: Columns, watch: Watch, practice: Practice) -> tuple[Loads[Array], Array]:
    """The loads and mean ageing rate of each exposure, as by `wear.loads_of` and `wear.course_of`."""
    import numpy as np

    law, reference_pa = wear.arrhenius(practice), wear.reference_mark_pa(watch, practice)
    in_air, reached_c = columns.in_air, columns.water_c.copy()
    remaining = each(exp, -(columns.duration_s[in_air] / 60) / practice["lag_wrist_min"])
    reached_c[in_air] += remaining * (columns.from_c[in_air] - columns.water_c[in_air])
    rate = rates(reached_c, law)
    pressure = columns.dips * _powers(columns.gauge_pa / reference_pa, practice["n_p"])
    swings = _powers(np.abs(reached_c - columns.from_c) / practice["swing_k"], practice["n_t"])
    for at, on_pressure, on_swings, rate[at] in shaped_courses(columns, practice, law):
        pressure[at] = wear.miner(on_pressure, reference_pa, practice["n_p"])
        swings[at] = wear.miner(on_swings, practice["swing_k"], practice["n_t"])
    loads = Loads(
        hours=columns.duration_s / 3600,
        pressure=pressure,
        swings=swings,
        salt=real([wear.salt_per_hour(*kind, practice) for kind in columns.kinds])[columns.kind],
        chemicals=real([wear.chemicals_per_hour(kind.water, practice) for kind in columns.kinds])[
            columns.kind
        ],
        crown=wear.handled(columns.crown_wet, columns.crown_under, practice),
        pushers=wear.handled(columns.pusher_wet, columns.pusher_under, practice),
    )
    return loads, rate


def _powers(bases: Array, exponent: float) -> Array:
    return real([base**exponent for base in bases.tolist()])
