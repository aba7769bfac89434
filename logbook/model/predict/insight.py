"""What needs drawn constants: the bands and the forecast of one watch, worked out together."""

from __future__ import annotations

import math
from dataclasses import dataclass

from logbook.model.judge import standing
from logbook.model.practice import Practice
from logbook.model.predict.bands import Bands, Outset, bands_of
from logbook.model.predict.draws import Draws
from logbook.model.predict.forecast import HORIZON_YEARS, Forecast, forecast_of
from logbook.model.values import WatchRecord


@dataclass(frozen=True, eq=False)
class Insight:
    """The bands and the forecast of one watch; None without a seal; a retired watch has no forecast."""

    bands: Bands | None
    forecast: Forecast | None


def near_years(record: WatchRecord, practice: Practice) -> int:
    """How far ahead due dates need a forecast: at the latest, gaskets are due by their interval."""
    months = record.watch.intervals_months.get("gaskets", practice.intervals["gaskets"].months)
    return min(HORIZON_YEARS, math.ceil(months / 12) + 1)


def insight_of(outset: Outset, draws: Draws, years: int = HORIZON_YEARS) -> Insight:
    """Bands and forecast of a watch under these sets of constants; dates beyond `years` are None."""
    wears = standing.wear_of(outset.record, draws.practice, outset.on)
    return Insight(bands_of(outset, wears, draws), forecast_of(outset, draws, years=years))
