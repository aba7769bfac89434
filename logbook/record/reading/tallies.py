"""What the ledger says of each sealing place, read into columns for bands and forecast."""

from __future__ import annotations

from collections import defaultdict

from logbook.model.fields import MILLI, MILLIKELVIN, TRILLIONTH
from logbook.model.practice import Practice
from logbook.model.predict.tally import Contacts, contacts_of
from logbook.model.values import SALTY, Position
from logbook.record.reading.rows import Rows
from logbook.record.schema import shapes

_OF_SEAL = ("position", "id")
_OF_EXPOSURE = (
    "starts_on", "water", "duration_s", "salinity_ppm", "rinsed", "gauge_pa", "from_mk", "water_mk",
    "water_assumed", "crown_wet", "crown_under", "pusher_wet", "pusher_under",
)  # fmt: skip
_OF_SHARE = ("counted", "ageing", "pressure", "temperature")


def read_contacts(rows: Rows, watch_id: int, practice: Practice) -> dict[Position, Contacts]:
    """Every contact of a watch that is charged, for each sealing place and the seal it had then."""
    names = [*(f"l.{c}" for c in _OF_SEAL), *(f"e.{c}" for c in _OF_EXPOSURE), *(f"s.{c}" for c in _OF_SHARE)]
    statement = (
        f"SELECT {', '.join(names)} FROM ledger_share s JOIN seal l ON l.id = s.seal_id"
        " JOIN exposure e ON e.id = s.exposure_id WHERE l.watch_id = ?"
    )
    found = list(rows(statement, (watch_id,)))
    columns = list(zip(*found, strict=True))
    shapes.SEAL.check(dict(zip(_OF_SEAL, columns, strict=False)))
    shapes.EXPOSURE.check(dict(zip(_OF_EXPOSURE, columns[len(_OF_SEAL) :], strict=False)))
    by_place: dict[Position, list[tuple[object, ...]]] = defaultdict(list)
    reference = practice["salt_reference"]
    for (place, seal, day, water, seconds, salinity, rinsed, gauge_pa, from_mk, water_mk, assumed, crown_wet,
         crown_under, pusher_wet, pusher_under, counted, ageing, pressure, temperature) in found:  # fmt: skip
        stated = water in SALTY and salinity is not None
        salt = MILLI.value(salinity) / reference if stated else 1.0 if water == "sea" else 0.0
        crown, pushers = place == "crown", place == "pushers"
        by_place[place].append((
            shapes.day_of(day).toordinal(), seal, counted, water, 1.0, seconds / 3600, salt, rinsed,
            gauge_pa, MILLIKELVIN.value(from_mk), MILLIKELVIN.value(water_mk), assumed,
            crown * crown_wet + pushers * pusher_wet, crown * crown_under + pushers * pusher_under,
            TRILLIONTH.value(ageing), TRILLIONTH.value(pressure), TRILLIONTH.value(temperature),
        ))  # fmt: skip
    return {place: contacts_of(found) for place, found in by_place.items()}
