"""How a watch stands on a day: score, limiting seal, stop rules for its stated use, what is due."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from logbook.reckoning import account, charge, due, facts, rules
from logbook.reckoning.account import SealWear
from logbook.reckoning.due import DueItem
from logbook.reckoning.facts import Facts
from logbook.reckoning.practice import Practice
from logbook.reckoning.rules import Reason
from logbook.reckoning.values import WatchRecord

if TYPE_CHECKING:  # the first screen is painted without the chance
    from logbook.reckoning.bands import Band
    from logbook.reckoning.chance import Chance
    from logbook.reckoning.insight import Insight
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
    chance: Chance | None = None  # None: not computed, or `why_no_chance` tells
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
    def next_due(self) -> DueItem | None:
        """The item that comes first."""
        return self.due[0] if self.due else None


def stand(
    record: WatchRecord,
    practice: Practice,
    on: date,
    foresight: Foresight | None = None,
    insight: Insight | None = None,
) -> Standing:
    """Everything a screen shows of a watch on a day.

    With `foresight` its chance too; with `insight` its bands, and the forecast has a say in what is due.
    """
    wears = wear_of(record, practice, on)
    score, limiting = account.score(wears, on)
    known = facts.gather(record, on)
    chance = chance_of(foresight, record, known, wears) if foresight else None
    activity_class = CLASS_OF_USE[record.watch.use]
    bands = insight.bands if insight else None
    band = (bands.score_low, bands.score_high) if bands else None
    middle = bands.middle if bands else None
    situation = rules.Situation(known, tuple(wears), score, activity_class, practice, chance, band, middle)
    forecast = insight.forecast if insight else None
    return Standing(
        record=record,
        on=on,
        score=score,
        limiting=limiting,
        seals=tuple(wears),
        stops=tuple(rules.standing_reasons(situation)),
        due=tuple(due.next_items(record, known, wears, practice, on, forecast)),
        chance=chance,
        insight=insight,
    )


def chance_of(
    foresight: Foresight,
    record: WatchRecord,
    known: Facts,
    wears: Sequence[SealWear],
    to_pa: float | None = None,
) -> Chance | None:
    """The chance that a pressure test on that day would pass; None where `why_no_chance` has a reason."""
    return None if why_no_chance(known, wears) else foresight.chance_of(record, wears, known.on, to_pa)


def why_no_chance(known: Facts, wears: Sequence[SealWear]) -> str | None:
    """Why there is no chance to speak of, in words that follow `no chance`; None: there is one."""
    if known.failed is not None or known.open_faults:
        return "while a failure or a fault stands"
    return None if wears else "without a seal on record"


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
