"""The ledger rows of exposures in one pass: read as columns, charged as columns, written as tuples."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date, time
from typing import Any, NamedTuple

from logbook.errors import BadInput
from logbook.model.fields import MILLI, MILLIKELVIN, TRILLION
from logbook.model.practice import Practice
from logbook.model.values import CHANNELS, WatchRecord
from logbook.model.wear.bulk import Charges, charge_all
from logbook.model.wear.charge import TOUCH_DAYS, Charge, charge_exposures, hours_left
from logbook.model.wear.clock import Moment, spend
from logbook.model.wear.columns import Columns, Kind, Points, numbered, real, whole
from logbook.record.ledger.spans import Span, merged, wider
from logbook.record.reading import glance
from logbook.record.reading.rows import Rows, in_chunks
from logbook.record.schema import shapes

Row = Sequence[Any]  # as `_EXPOSURE`
ShareRow = tuple[int, ...]  # exposure id, seal id, six channels, counted
Totals = dict[int, list[int]]  # seal id -> the sums of its counted rows

# So many exposures, or any with a profile, are charged by arrays; for a few it does not pay to load numpy.
MANY = 200
BLOCK = 500  # exposures charged at a time: so often one can be told how far it is, and can cancel

_MOMENT = ("id", "starts_on", "starts_at", "utc_offset_s", "duration_s")
_AS_KEPT = ("gauge_pa", "dips", "crown_wet", "crown_under", "pusher_wet", "pusher_under")
_EXPOSURE = (
    *_MOMENT, "depth_mm", "water_mk", "from_mk", *_AS_KEPT, "water", "salinity_ppm", "rinsed",
)  # fmt: skip
_POINT = ("exposure_id", "time_ms", "depth_mm", "water_mk")


class Block(NamedTuple):
    """Ledger rows of some exposures of one watch, the number of these, and what the rows add up to."""

    exposures: int
    shares: list[ShareRow]
    totals: Totals


def blocks(
    rows: Rows, record: WatchRecord, practice: Practice, spans: Sequence[Span] = (Span.ALL,)
) -> Iterator[Block]:
    """The ledger rows of one watch, block by block.

    Of exposures that begin on the days of `spans`, which do not overlap and stand in order; what begins
    shortly before or after is read for the hours that it takes. Raises BadInput for a share that is too large
    for the record.
    """
    statement = (
        f"SELECT {', '.join(_EXPOSURE)} FROM exposure"
        " WHERE watch_id = ? AND planned = 0 AND starts_on BETWEEN ? AND ?"
    )
    around: list[Row] = []
    for span in merged(wider(span, TOUCH_DAYS) for span in spans):
        around += rows(statement, (record.watch.id, *span.as_text()))
    spent = spend(map(_moment, around), *hours_left(record))
    firsts, lasts = zip(*(span.as_text() for span in spans), strict=True)
    inside = (row for row in around if (at := bisect_right(firsts, row[1])) and row[1] <= lasts[at - 1])
    wanted = sorted(inside, key=lambda row: row[0])
    ids = [row[0] for row in wanted]
    plain = len(ids) < MANY and not any(list(rows(*each)) for each in _points_of(ids, "1"))
    for begin in range(0, len(ids), BLOCK):
        part = slice(begin, begin + BLOCK)
        if plain:
            charges = charge_exposures(record, glance.read_exposures_of(rows, ids[part]), practice, spent)
            shares = share_rows(charges)
            yield Block(len(charges), shares, totals_of(shares))
        else:
            columns = _columns(rows, wanted[part])
            yield block_of(len(columns), charge_all(record, columns, spent, practice))


def _moment(row: Row) -> Moment:
    id_, day, at, offset_s, duration_s = row[: len(_MOMENT)]
    return Moment(id_, date.fromisoformat(day), at and time.fromisoformat(at), offset_s, duration_s)


def share_rows(charges: Mapping[int, Mapping[int, Charge]]) -> list[ShareRow]:
    """Charges of exposures one by one as ledger rows."""
    return [
        (exposure_id, seal_id, *shapes.share_columns(charge.shares), int(charge.counted))
        for exposure_id, by_seal in charges.items()
        for seal_id, charge in by_seal.items()
    ]


def totals_of(shares: Iterable[ShareRow]) -> Totals:
    """Seal id -> the six sums of its counted rows."""
    totals: Totals = {}
    for _, seal_id, *channels, counted in shares:
        if counted:
            sums = totals.setdefault(seal_id, [0] * len(CHANNELS))
            for n, share in enumerate(channels):
                sums[n] += share
    return totals


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
    for seal in set(seals[counted].tolist()):
        own = counted & (seals == seal)
        halves = zip(high[own].sum(axis=0).tolist(), low[own].sum(axis=0).tolist(), strict=True)
        totals[seal] = [(upper << 32) + lower for upper, lower in halves]
    return Block(exposures, list(zip(*(column.tolist() for column in columns), strict=True)), totals)


def _columns(rows: Rows, found: Sequence[Row]) -> Columns:
    """Rows of exposures, in the order of the ledger's key, as columns with the points of their profiles."""
    kept = dict(zip(_EXPOSURE, zip(*found, strict=True), strict=True))
    shapes.EXPOSURE.check(kept)
    kind, found_kinds = numbered(zip(kept["water"], kept["salinity_ppm"], kept["rinsed"], strict=True))
    kinds = [Kind(water, ppm and MILLI.value(ppm), bool(rinsed)) for water, ppm, rinsed in found_kinds]
    return Columns(
        id=whole(kept["id"]),
        duration_s=whole(kept["duration_s"]),
        day=whole([shapes.day_of(day).toordinal() for day in kept["starts_on"]]),
        depth_m=MILLI.value(real(kept["depth_mm"])),
        water_c=MILLIKELVIN.value(real(kept["water_mk"])),
        from_c=MILLIKELVIN.value(real(kept["from_mk"])),
        **{name: real(kept[name]) for name in _AS_KEPT},
        kind=kind,
        kinds=kinds,
        points=_points(rows, kept["id"]),
    )


def _points(rows: Rows, ids: Sequence[int]) -> Points:
    """The profiles of the exposures with these ids, which stand in order."""
    import numpy as np

    asked = _points_of(ids, ", ".join(_POINT))
    found = [
        row for statement, piece in asked for row in rows(f"{statement} ORDER BY exposure_id, seq", piece)
    ]
    # All of it whole numbers that a float holds exactly; a temperature that is absent becomes NaN.
    owner, time_ms, depth_mm, water_mk = np.array(found, dtype=np.float64).reshape(-1, len(_POINT)).T
    return Points(
        owner=np.searchsorted(ids, owner),
        time_s=MILLI.value(time_ms),
        depth_m=MILLI.value(depth_mm),
        water_c=MILLIKELVIN.value(water_mk),
    )


def _points_of(ids: Sequence[int], columns: str) -> Iterator[tuple[str, Sequence[Any]]]:
    """Statements that read the profiles of exposures, with their parameters."""
    for marks, piece in in_chunks(ids):
        yield f"SELECT {columns} FROM profile_point WHERE exposure_id IN {marks}", piece
