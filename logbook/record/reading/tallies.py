"""What the ledger says of each sealing place, read into columns for bands and forecast."""

from __future__ import annotations

from collections import defaultdict
from datetime import date

from logbook.model.fields import MILLI, MILLIKELVIN, TRILLIONTH
from logbook.model.practice import Practice
from logbook.model.predict.tally import Contacts, contacts_of
from logbook.model.values import SALTY, Position
from logbook.record.reading.rows import Rows

_COLUMNS = (
    "l.position, e.starts_on, l.id, s.counted, e.water, e.duration_s, e.salinity_ppm, e.rinsed, e.gauge_pa,"
    " e.from_mk, e.water_mk, e.water_assumed, e.crown_wet, e.crown_under, e.pusher_wet, e.pusher_under,"
    " s.ageing, s.pressure, s.temperature"
)


def read_contacts(rows: Rows, watch_id: int, practice: Practice) -> dict[Position, Contacts]:
    """Every contact of a watch that is charged, for each sealing place and the seal it had then."""
    statement = (
        f"SELECT {_COLUMNS} FROM ledger_share s JOIN seal l ON l.id = s.seal_id"
        " JOIN exposure e ON e.id = s.exposure_id WHERE l.watch_id = ?"
    )
    by_place: dict[Position, list[tuple[object, ...]]] = defaultdict(list)
    reference = practice["salt_reference"]
    for (place, day, seal, counted, water, seconds, salinity, rinsed, gauge_pa, from_mk, water_mk, assumed,
         crown_wet, crown_under, pusher_wet, pusher_under, ageing, pressure, temperature) in rows(
        statement, (watch_id,)
    ):  # fmt: skip
        stated = water in SALTY and salinity is not None
        salt = MILLI.value(salinity) / reference if stated else 1.0 if water == "sea" else 0.0
        crown, pushers = place == "crown", place == "pushers"
        by_place[place].append((
            date.fromisoformat(day).toordinal(), seal, counted, water, 1.0, seconds / 3600, salt, rinsed,
            gauge_pa, MILLIKELVIN.value(from_mk), MILLIKELVIN.value(water_mk), assumed,
            crown * crown_wet + pushers * pusher_wet, crown * crown_under + pushers * pusher_under,
            TRILLIONTH.value(ageing), TRILLIONTH.value(pressure), TRILLIONTH.value(temperature),
        ))  # fmt: skip
    return {place: contacts_of(found) for place, found in by_place.items()}
