"""How a watch stands on a day: score, limiting seal, stop rules for its stated use, what is due."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from logbook.reckoning import account, charge, due, facts, rules, services
from logbook.reckoning.account import SealWear
from logbook.reckoning.due import DueItem
from logbook.reckoning.practice import Practice
from logbook.reckoning.rules import Reason
from logbook.reckoning.services import Service
from logbook.reckoning.values import WatchRecord

if TYPE_CHECKING:  # the first screen is painted without the outlook
    from logbook.reckoning.bands import Band
    from logbook.reckoning.insight import Insight
    from logbook.reckoning.outlook import Outlook
    from logbook.reckoning.trials import Foresight
    from logbook.reckoning.values import Position

# What a stated use amounts to in the table of marks.
CLASS_OF_USE = {"diving": "scuba", "swimming": "swim", "dry": "rain, hands"}


@dataclass(frozen=True, slots=True)
class Standing:
    """A watch on a day; without its `insight` the bands and the forecast are not computed."""

    record: WatchRecord
    on: date
    score: int
    limiting: SealWear | None
    seals: tuple[SealWear, ...]
    stops: tuple[Reason, ...]  # worst first, for the stated use
    due: tuple[DueItem, ...]  # every next item, soonest first
    services: tuple[Service, ...]  # the same, together as a workshop does them; what comes first is in front
    outlook: Outlook | None = None  # None: not computed, or a failure or a fault stands
    insight: Insight | None = None

    @property
    def name(self) -> str:
        """The watch's nickname."""
        return self.record.watch.name

    @property
    def low(self) -> int | None:
        """The low end of the score's 80 % band; None: not computed."""
        return self.insight.bands.score_low if self.insight and self.insight.bands else None

    @property
    def high(self) -> int | None:
        """The high end of the score's 80 % band; None: not computed."""
        return self.insight.bands.score_high if self.insight and self.insight.bands else None

    def band_of(self, position: Position) -> Band | None:
        """The 80 % band of a seal's wear share; None: not computed."""
        bands = self.insight.bands if self.insight else None
        return bands.seals.get(position) if bands else None

    @property
    def next_service(self) -> Service | None:
        """What comes first."""
        return self.services[0] if self.services else None


def stand(
    record: WatchRecord,
    practice: Practice,
    on: date,
    foresight: Foresight | None = None,
    insight: Insight | None = None,
) -> Standing:
    """Everything a screen shows of a watch on a day.

    With `foresight` its outlook too; with `insight` its bands, and the forecast has a say in what is due.
    """
    wears = wear_of(record, practice, on)
    score, limiting = account.score(wears, on)
    known = facts.gather(record, on)
    outlook = foresight.outlook_of(record, known, wears) if foresight else None
    activity_class = CLASS_OF_USE[record.watch.use]
    bands = insight.bands if insight else None
    band = (bands.score_low, bands.score_high) if bands else None
    middle = bands.middle if bands else None
    situation = rules.Situation(known, tuple(wears), score, activity_class, practice, outlook, band, middle)
    forecast = insight.forecast if insight else None
    items = due.next_items(record, known, wears, practice, on, forecast)
    return Standing(
        record=record,
        on=on,
        score=score,
        limiting=limiting,
        seals=tuple(wears),
        stops=tuple(rules.standing_reasons(situation)),
        due=tuple(items),
        services=services.services_of(items, on, services.troubles_of(known)),
        outlook=outlook,
        insight=insight,
    )


def wear_of(record: WatchRecord, practice: Practice, on: date) -> list[SealWear]:
    """The account of every seal in place on a day."""
    clockwork = account.Clockwork.of(record, practice)
    return [account.account_of(clockwork, seal, on) for seal in charge.current_seals(record.seals)]


def stand_all(
    records: Sequence[WatchRecord],
    practice: Practice,
    on: date,
    foresight: Foresight | None = None,
    insights: Mapping[int, Insight] | None = None,
) -> list[Standing]:
    """`stand` for every watch, in their order; `insights` by the id of the watch."""
    known = insights or {}
    return [stand(record, practice, on, foresight, known.get(record.watch.id or 0)) for record in records]
