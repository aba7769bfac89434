"""What exposures were charged, read from the ledger: of one, between two dates, the dearest."""

from __future__ import annotations

from datetime import date
from typing import Any

from logbook.model.values import CHANNELS, Exposure, Shares
from logbook.record.reading.rows import Rows
from logbook.record.schema import shapes

_CHANNELS = ", ".join(CHANNELS)
_SUMS = ", ".join(f"COALESCE(SUM(s.{c}), 0)" for c in CHANNELS)


def which_exposures(
    watch_id: int | None,
    since: date | None,
    until: date | None,
    planned: bool | None,
    activity: str | None = None,
) -> tuple[str, list[Any]]:
    """The condition on exposures that was asked for, and its values; None asks for nothing."""
    asked = [
        ("watch_id = ?", watch_id),
        ("planned = ?", None if planned is None else int(planned)),
        ("starts_on >= ?", since and since.isoformat()),
        ("starts_on <= ?", until and until.isoformat()),
        ("activity = ?", activity),
    ]
    given = [(condition, value) for condition, value in asked if value is not None]
    return " AND ".join(["1 = 1", *(c for c, _ in given)]), [value for _, value in given]


def ledger_of(rows: Rows, exposure_id: int) -> dict[int, Shares]:
    """Seal id -> what one exposure added to it, where it counts."""
    statement = f"SELECT seal_id, {_CHANNELS} FROM ledger_share WHERE exposure_id = ? AND counted = 1"
    return {
        row[0]: shapes.shares_of(row[1:]) for row in rows(f"{statement} ORDER BY seal_id", (exposure_id,))
    }


def ledger_sums(rows: Rows, seal_id: int, since: date | None = None, until: date | None = None) -> Shares:
    """What the counted exposures between two dates, both included, added to one seal."""
    where, params = which_exposures(None, since, until, False)
    statement = (
        f"SELECT {_SUMS} FROM exposure JOIN ledger_share s ON s.exposure_id = exposure.id AND s.seal_id = ?"
        f" WHERE s.counted = 1 AND watch_id = (SELECT watch_id FROM seal WHERE id = ?) AND {where}"
    )
    sums = next(iter(rows(statement, [seal_id, seal_id, *params])))
    return shapes.shares_of([int(s) for s in sums])


def ledger_dearest(
    rows: Rows, seal_id: int, since: date, until: date, limit: int
) -> list[tuple[Exposure, Shares]]:
    """The counted exposures between two dates, both included, that added most to one seal, the dearest first.

    Of equal ones the newer comes first; what added nothing is left out. They come without profiles.
    """
    where, params = which_exposures(None, since, until, False)
    total = " + ".join(f"s.{channel}" for channel in CHANNELS)
    columns = shapes.EXPOSURE.listed("exposure")
    statement = (
        f"SELECT {columns}, {', '.join(f's.{channel}' for channel in CHANNELS)}"
        " FROM exposure JOIN ledger_share s ON s.exposure_id = exposure.id AND s.seal_id = ?"
        f" WHERE s.counted = 1 AND {total} > 0"
        f" AND watch_id = (SELECT watch_id FROM seal WHERE id = ?) AND {where}"
        f" ORDER BY {total} DESC, starts_on DESC, exposure.id DESC LIMIT ?"
    )
    at = len(shapes.EXPOSURE.names)
    return [
        (shapes.EXPOSURE.value(row[:at]), shapes.shares_of(row[at:]))
        for row in rows(statement, [seal_id, seal_id, *params, limit])
    ]
