"""What takes drawn constants to say of one watch: its bands and its forecast, worked out together."""

from __future__ import annotations

from dataclasses import dataclass

from logbook.reckoning import standing
from logbook.reckoning.bands import Bands, Outset, bands_of
from logbook.reckoning.draws import Draws
from logbook.reckoning.forecast import Forecast, forecast_of


@dataclass(frozen=True, eq=False)
class Insight:
    """The bands and the forecast of one watch; None without a seal, the forecast also on a retired one."""

    bands: Bands | None
    forecast: Forecast | None


def insight_of(outset: Outset, draws: Draws) -> Insight:
    """Bands and forecast of a watch under these sets of constants."""
    wears = standing.wear_of(outset.record, draws.practice, outset.on)
    return Insight(bands_of(outset, wears, draws), forecast_of(outset, draws))
