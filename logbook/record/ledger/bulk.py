"""The ledger rows of many exposures in one pass: read as columns, charged as columns, written as tuples."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date, time
from math import nan
from typing import TYPE_CHECKING, Any, NamedTuple

from logbook.errors import BadInput
from logbook.model.fields import MILLI, MILLIKELVIN, TRILLION
from logbook.model.practice import Practice
from logbook.model.values import WatchRecord
from logbook.model.wear.clock import minutes_into_day
from logbook.record.ledger.spans import Span
from logbook.record.reading.rows import Rows, in_chunks
from logbook.record.schema.shapes import EXPOSURE

if TYPE_CHECKING:
    from logbook.model.wear.bulk import Charges
    from logbook.model.wear.columns import Columns, Points, Whole

ShareRow = tuple[int, ...]  # exposure id, seal id, six channels, counted
Totals = dict[int, list[int]]  # seal id -> the sums of its counted rows

BLOCK = 500  # exposures charged at a time: so often one can be told how far it is, and can cancel

_EXPOSURE = (
    "id", "starts_on", "starts_at", "utc_offset_s", "duration_s", "water", "depth_mm", "gauge_pa", "water_mk",
    "from_mk", "salinity_ppm", "rinsed", "dips", "crown_wet", "crown_under", "pusher_wet", "pusher_under",
)  # fmt: skip
_AS_KEPT = ("id", "duration_s", "dips", "crown_wet", "crown_under", "pusher_wet", "pusher_under")
_POINT = ("exposure_id", "time_ms", "depth_mm", "water_mk")


class Block(NamedTuple):
    """Ledger rows of some exposures of one watch, the number of these, and what the rows add up to."""

    exposures: int
    shares: list[ShareRow]
    totals: Totals


def blocks(
    rows: Rows, record: WatchRecord, practice: Practice, spans: Sequence[Span] = (Span.ALL,)
) -> Iterator[Block]:
    """All ledger rows of one watch, block by block.

    Of exposures that begin on the days of `spans`, which do not overlap and stand in order. Raises
    BadInput for a share that is too large for the record.
    """
    import numpy as np

    from logbook.model.wear.bulk import charge_all
    from logbook.model.wear.bulk_clock import spend_all

    columns = _read_columns(rows, record.watch.id)
    spent = spend_all(record, columns)
    starts = np.array([span.first.toordinal() for span in spans])
    ends = np.array([span.last.toordinal() for span in spans])
    at = np.searchsorted(starts, columns.day, side="right") - 1
    wanted = np.nonzero((at >= 0) & (columns.day <= ends[at]))[0]
    for begin in range(0, len(wanted), BLOCK):
        chosen = wanted[begin : begin + BLOCK]
        part = columns.at(chosen, _read_points(rows, columns.id[chosen]))
        yield block_of(len(chosen), charge_all(record, part, spent.at(chosen), practice))


def block_of(exposures: int, charges: Charges) -> Block:
    """Charges as ledger rows in whole trillionths, as `TRILLIONTH` keeps them, with their sums."""
    import numpy as np

    rounded = np.rint(charges.shares * TRILLION)
    if not (np.abs(rounded) < 2**63).all():
        raise BadInput("A wear share is too large to be stored: is every constant of yours as it was meant?")
    shares, seals, counted = rounded.astype(np.int64), charges.seal_id, charges.counted
    columns = (charges.exposure_id, seals, *shares.T, counted.astype(np.int64))
    # Two halves of the digits, so that no sum leaves the 64 bits.
    high, low = shares >> 32, shares & 0xFFFFFFFF
    totals = {}
    for seal in np.unique(seals[counted]).tolist():
        own = counted & (seals == seal)
        halves = zip(high[own].sum(axis=0).tolist(), low[own].sum(axis=0).tolist(), strict=True)
        totals[seal] = [(upper << 32) + lower for upper, lower in halves]
    return Block(exposures, list(zip(*(column.tolist() for column in columns), strict=True)), totals)


def _read_columns(rows: Rows, watch_id: int | None) -> Columns:
    """What a watch met, plans left out, in the order of the ledger's key; the points are read apart."""
    import numpy as np

    from logbook.model.wear.columns import Columns, real, whole

    statement = f"SELECT {', '.join(_EXPOSURE)} FROM exposure WHERE watch_id = ? AND planned = 0"
    kept = _turned(sorted(rows(statement, (watch_id,))), _EXPOSURE)
    EXPOSURE.check(kept)
    times = [None if at is None else time.fromisoformat(at) for at in kept["starts_at"]]
    return Columns(
        day=whole([date.fromisoformat(day).toordinal() for day in kept["starts_on"]]),
        timed=np.array([at is not None for at in times], dtype=bool),
        into_day_min=real([0.0 if at is None else minutes_into_day(at) for at in times]),
        utc_offset_s=whole([offset_s or 0 for offset_s in kept["utc_offset_s"]]),
        water=np.array(kept["water"], dtype=str),
        depth_m=MILLI.value(real(kept["depth_mm"])),
        gauge_pa=real(kept["gauge_pa"]),
        water_c=MILLIKELVIN.value(real(kept["water_mk"])),
        from_c=MILLIKELVIN.value(real(kept["from_mk"])),
        salinity=real([nan if ppm is None else MILLI.value(ppm) for ppm in kept["salinity_ppm"]]),
        rinsed=np.array(kept["rinsed"], dtype=bool),
        **{name: whole(kept[name]) for name in _AS_KEPT},
        points=_points([], whole([])),
    )


def _read_points(rows: Rows, ids: Whole) -> Points:
    """The profiles of the exposures with these ids, which stand in order."""
    found: list[Sequence[Any]] = []
    for marks, piece in in_chunks(ids.tolist()):
        statement = f"SELECT {', '.join(_POINT)} FROM profile_point WHERE exposure_id IN {marks}"
        found += rows(f"{statement} ORDER BY exposure_id, seq", piece)
    return _points(found, ids)


def _points(found: Sequence[Sequence[Any]], ids: Whole) -> Points:
    import numpy as np

    from logbook.model.wear.columns import Points

    # All of it whole numbers that a float holds exactly; a temperature that is absent becomes NaN.
    owner, time_ms, depth_mm, water_mk = np.array(found, dtype=np.float64).reshape(-1, len(_POINT)).T
    return Points(
        owner=np.searchsorted(ids, owner),
        time_s=MILLI.value(time_ms),
        depth_m=MILLI.value(depth_mm),
        water_c=MILLIKELVIN.value(water_mk),
    )


def _turned(found: Iterable[Sequence[Any]], names: Sequence[str]) -> dict[str, Sequence[Any]]:
    """Rows as columns by name."""
    columns = list(zip(*found, strict=True)) or [()] * len(names)
    return dict(zip(names, columns, strict=True))
