"""The seals in place, how much of their interval is used and by what, and the stop rules, in ready words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from logbook.dossier import words
from logbook.dossier.words import NONE, Table, typed
from logbook.model.judge.standing import Standing
from logbook.model.text import likely, printable
from logbook.model.values import CHANNELS
from logbook.model.wear.account import SealWear

ASSUMED = "assumed"
PARTS = (*CHANNELS, ASSUMED)
STOPS = 5  # listed at most


@dataclass(frozen=True, slots=True)
class Bar:
    """One seal's wear share to draw: its parts in the order of `PARTS`, and its 80 % band."""

    place: str
    used: str
    parts: tuple[float, ...]
    low: float | None
    high: float | None


@dataclass(frozen=True, slots=True)
class Seals:
    """All that the page says of the seals."""

    score: str
    table: Table
    bars: tuple[Bar, ...]
    stops: tuple[str, ...]


def gather(standing: Standing) -> Seals:
    """The seals of a watch as they stand."""
    return Seals(
        score=_score(standing),
        table=_table(standing),
        bars=() if standing.score is None else tuple(_bar(wear, standing) for wear in standing.seals),
        stops=_stops(standing),
    )


def _score(standing: Standing) -> str:
    if standing.limiting is None:
        return "No seal is on record."
    if standing.score is None:
        return f"Seal score: not known {standing.why_no_score}."
    place = words.position(standing.limiting.seal.position)
    score = f"{standing.score} of 100{likely(standing.low, standing.high)}"
    return f"Seal score {score}, limited by the {place} seal: a share of its service interval, not a chance."


def _parts(wear: SealWear) -> tuple[float, ...]:
    """What is on record by channel, then what is assumed; below zero, as cold water may be, is nothing."""
    recorded = wear.shares.plus(wear.assumed.times(-1))
    return (*(max(0.0, share) for share in recorded.as_tuple()), max(0.0, wear.assumed.total))


def _table(standing: Standing) -> Table:
    if standing.score is None:
        return _unknown_table(standing)
    # A channel that took nothing from any seal has no column.
    spent = [max((_parts(w)[n] for w in standing.seals), default=0.0) for n in range(len(PARTS))]
    shown = [n for n, most in enumerate(spent) if most >= 0.00005]
    rows = tuple(
        (
            words.position(w.seal.position),
            typed(w.seal.material, 20),
            words.fitted(w.seal, standing.record.watch.added_on),
            words.per_cent(w.wear_share),
            _band(w, standing),
            *(words.per_cent(_parts(w)[n]) for n in shown),
        )
        for w in standing.seals
    )
    parts = [PARTS[n] for n in shown]
    parts[:1] = [f"of which {name}" for name in parts[:1]]
    heads = ("seal", "material", "fitted", "used of its interval", "likely", *parts)
    worn = tuple(n for n, w in enumerate(standing.seals) if w.wear_share >= 1)
    return Table("Seals now", heads, rows, tuple(range(3, len(heads))), (2,), worn)


def _unknown_table(standing: Standing) -> Table:
    """The seals without a number: neither a fitting nor a proof is on record."""
    added_on = standing.record.watch.added_on
    rows = tuple(
        (
            words.position(w.seal.position),
            typed(w.seal.material, 20),
            words.fitted(w.seal, added_on),
            "not known",
        )
        for w in standing.seals
    )
    return Table("Seals now", ("seal", "material", "fitted", "used of its interval"), rows)


def _band(wear: SealWear, standing: Standing) -> str:
    band = standing.band_of(wear.seal.position)
    if band is None:
        return NONE
    low, high = words.per_cent(band.low), words.per_cent(band.high)
    if low == high or (low, high) == (NONE, "<1 %"):
        return high
    return f"{'0' if low == NONE else low.removesuffix(' %')}–{high}"


def _bar(wear: SealWear, standing: Standing) -> Bar:
    band = standing.band_of(wear.seal.position)
    return Bar(
        place=words.position(wear.seal.position),
        used=words.per_cent(wear.wear_share),
        parts=_parts(wear),
        low=None if band is None else band.low,
        high=None if band is None else band.high,
    )


def _stops(standing: Standing) -> tuple[str, ...]:
    said: Sequence[str] = [f"{stop.verdict}: {printable(stop.sentence)}" for stop in standing.stops]
    more = words.left_out(len(said) - STOPS, "other")
    return (*said[:STOPS], *([more] if more else []))
