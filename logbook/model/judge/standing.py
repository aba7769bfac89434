"""How a watch stands on a day: score, limiting seal, reasons against its stated use, what is due."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from logbook.model.due import services
from logbook.model.due import tasks as due
from logbook.model.due.services import Service
from logbook.model.due.tasks import DueItem
from logbook.model.fitting import is_known
from logbook.model.judge import facts, rules
from logbook.model.judge.facts import Facts
from logbook.model.judge.rules import Reason
from logbook.model.practice import Practice
from logbook.model.text import listed
from logbook.model.values import WatchRecord
from logbook.model.wear import account, charge
from logbook.model.wear.account import SealWear

if TYPE_CHECKING:  # the first screen is painted without the chance
    from logbook.model.predict.bands import Band, Bands
    from logbook.model.predict.chance import Chance
    from logbook.model.predict.insight import Insight
    from logbook.model.predict.trials import Foresight
    from logbook.model.values import Position


@dataclass(frozen=True, slots=True)
class Standing:
    """A watch on a day; without its `insight` the bands and the forecast are not computed."""

    record: WatchRecord
    on: date
    facts: Facts
    score: int | None  # None: not known
    limiting: SealWear | None
    seals: tuple[SealWear, ...]
    stops: tuple[Reason, ...]  # worst first, for the stated use
    due: tuple[DueItem, ...]  # every next item, soonest first
    services: tuple[Service, ...]  # the same, together as a workshop does them; what comes first is in front
    chance: Chance | None = None  # None: not computed, or not known
    insight: Insight | None = None

    @property
    def name(self) -> str:
        """The watch's nickname."""
        return self.record.watch.name

    @property
    def limiting_position(self) -> Position | None:
        """The place of the seal that limits the score; None without one, or while the score is not known."""
        return None if self.score is None or self.limiting is None else self.limiting.seal.position

    @property
    def low(self) -> int | None:
        """The low end of the score's 80 % band; None: not computed."""
        return self._bands.score_low if self._bands else None

    @property
    def high(self) -> int | None:
        """The high end of the score's 80 % band; None: not computed."""
        return self._bands.score_high if self._bands else None

    @property
    def _bands(self) -> Bands | None:
        return self.insight.bands if self.insight and self.score is not None else None

    @property
    def why_no_score(self) -> str | None:
        """Why the score is not known; None where it is."""
        return NOTHING_KNOWN if self.score is None else None

    @property
    def why_no_chance(self) -> str | None:
        """Why no chance is told; None where one is told, or was not asked for."""
        return None if self.chance is not None else no_chance(self.facts, self.score)

    def band_of(self, position: Position) -> Band | None:
        """The 80 % band of a seal's wear share; None: not computed."""
        bands = self.insight.bands if self.insight else None
        return bands.seals.get(position) if bands else None

    @property
    def next_service(self) -> Service | None:
        """The service that comes first."""
        return self.services[0] if self.services else None


def stand(
    record: WatchRecord,
    practice: Practice,
    on: date,
    foresight: Foresight | None = None,
    insight: Insight | None = None,
) -> Standing:
    """Everything that a screen shows about a watch on a day.

    With `foresight` it has a chance too; with `insight` it has bands, and the forecast can move due dates.
    """
    wears = wear_of(record, practice, on)
    known = facts.gather(record, on, practice)
    score, limiting = score_of(record, known, wears)
    chance = chance_of(record, known, wears, score, foresight)
    fitted = known_places(record, wears, practice)
    situation = rules.Situation(known, tuple(wears), score, practice, chance, known=fitted)
    forecast = insight.forecast if insight else None
    judged = record.watch.retired_on is None
    items = due.next_items(record, known, wears, practice, on, forecast)
    return Standing(
        record=record,
        on=on,
        facts=known,
        score=score,
        limiting=limiting,
        seals=tuple(wears),
        stops=tuple(rules.standing_reasons(situation)) if judged else (),
        due=tuple(items),
        services=services.services_of(items, on, services.troubles_of(known)),
        chance=chance,
        insight=insight,
    )


def clock_behind_by(standings: Iterable[Standing]) -> date | None:
    """The latest day on record that the clock has not reached; None where the clock is not behind."""
    ahead = (standing.facts.clock_behind_by for standing in standings)
    return max((day for day in ahead if day is not None), default=None)


NOTHING_KNOWN = "while neither the fitting of its gaskets nor a passed test is on record"


def score_of(
    record: WatchRecord, known: Facts, wears: Sequence[SealWear]
) -> tuple[int | None, SealWear | None]:
    """The seal score and the seal that limits it; no score while nothing is known of its seals."""
    score, limiting = account.score(wears, known.on)
    fitted = known_places(record, wears, known.needs.practice)
    return (score if fitted or known.proofs else None), limiting


def known_places(record: WatchRecord, wears: Sequence[SealWear], practice: Practice) -> frozenset[Position]:
    """The places whose fitting date is known, to a day or to a span of days."""
    return frozenset(w.seal.position for w in wears if is_known(w.seal, record, practice))


def no_chance(known: Facts, score: int | None) -> str | None:
    """Why no chance is told, in words that follow `no chance`; None where one can be told.

    Either something stands until proven, or nothing is known.
    """
    if known.standing:
        codes = listed(dict.fromkeys(stand.code for stand in known.standing), "and")
        return f"while something stands: {codes}"
    return NOTHING_KNOWN if score is None else None


def chance_of(
    record: WatchRecord,
    known: Facts,
    wears: Sequence[SealWear],
    score: int | None,
    foresight: Foresight | None,
    to_pa: float | None = None,
) -> Chance | None:
    """The chance that a pressure test would pass on the day of the facts; None where it is not told."""
    if foresight is None or no_chance(known, score) is not None:
        return None
    return foresight.chance_of(record, wears, known.on, to_pa)


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
