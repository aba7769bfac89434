"""Bands and due dates of invented owners beside the truth, for `calibration.py`."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

import numpy as np
from calibration_books import outset_of
from calibration_lives import HORIZON_DAYS, KNOWN_FITTINGS, Life, Owner
from calibration_worlds import OWN, WORLDS, Law, Truths, course
from numpy.typing import NDArray

from logbook.model.predict import bands, forecast
from logbook.model.predict.bands import Outset
from logbook.model.predict.draws import Draws
from logbook.model.predict.forecast import SealForecast
from logbook.model.values import Seal
from logbook.model.wear import account, charge
from logbook.model.wear.account import SealWear

Array = NDArray[np.float64]

# Worlds that differ in the tests alone have the wear of our own law.
WEAR_WORLDS = tuple(
    world for world in WORLDS if world is OWN or not (world.shocks or world.name.startswith("own law"))
)


class Row(NamedTuple):
    """One seal of one owner: what was foretold, and what was true in each world. Days count from today."""

    owner: int
    limits: bool  # today, by the books
    first: bool  # to be used up, by the forecast
    known_fitting: bool
    open_history: bool  # part of its time lies before the log, or its fitting date is not known
    share: float  # by the books
    low: float  # the band as shown
    high: float
    drawn_low: float  # the band of the drawn constants alone
    drawn_high: float
    p10: float
    p50: float
    p90: float
    fixed: float
    fixed_anchor: float  # the day the fixed interval counts from
    true_share: tuple[float, ...]
    true_day: tuple[float, ...]  # on which the wear share reaches 1; infinite: beyond the horizon
    score_held: tuple[bool, ...]  # the score's band held the score of the true shares


def rows_of(owner: Owner, draws: Draws, truths: Truths) -> list[Row]:
    """Every seal in place on an owner's first watch."""
    life, practice = owner.lives[0], draws.practice
    outset = outset_of(life, practice)
    seals = charge.current_seals(outset.record.seals)
    wears = [account.account_of(outset.clockwork, seal, outset.on) for seal in seals]
    banded = bands.bands_of(outset, wears, draws)
    ahead = forecast.forecast_of(outset, draws)
    if banded is None or ahead is None:
        raise ValueError("an invented watch has seals and is not retired")
    truth = {seal.position: _truth(owner, life, seal, truths) for seal in seals}
    held = _scores_held(banded, wears, truth, life)
    limiting = max(wears, key=lambda w: w.wear_share)
    return [
        _row(owner, outset, wear, banded, ahead, truth[wear.seal.position], held, draws)._replace(
            limits=wear is limiting
        )
        for wear in wears
    ]


def _truth(owner: Owner, life: Life, seal: Seal, truths: Truths) -> list[tuple[float, float]]:
    """The true wear share today and the day on which it reaches 1, by world."""
    fitted = life.renewed_on or life.fitted_on
    past = (life.today - fitted).days
    found = []
    for world in WEAR_WORLDS:
        law = Law(truths, owner.number, world)
        shares = course(life, law, seal.position, seal.material, fitted, past + HORIZON_DAYS)
        full = shares >= 1
        day = float(np.argmax(full)) - 1 - past if full.any() else np.inf
        found.append((float(shares[past]), day))
    return found


def _scores_held(
    banded: bands.Bands, wears: list[SealWear], truth: dict[str, list[tuple[float, float]]], life: Life
) -> tuple[bool, ...]:
    fitted = life.renewed_on or life.fitted_on
    held = []
    for world in range(len(WEAR_WORLDS)):
        caps = [account.later_by_years(fitted, _cap_years(w)) for w in wears]
        largest = max(found[world][0] for found in truth.values())
        score = 0 if any(life.today >= cap for cap in caps) else max(0, int(np.floor(100 * (1 - largest))))
        held.append(banded.score_low <= score <= banded.score_high)
    return tuple(held)


def _cap_years(wear: SealWear) -> float:
    return round((wear.cap_on - charge.middle(wear.seal)).days / 365.25)


def _row(
    owner: Owner,
    outset: Outset,
    wear: SealWear,
    banded: bands.Bands,
    ahead: forecast.Forecast,
    truth: list[tuple[float, float]],
    held: tuple[bool, ...],
    draws: Draws,
) -> Row:
    life, seal = owner.lives[0], wear.seal
    drawn = bands.wear_share_draws(outset, seal, draws)
    found = ahead.of(seal.position)
    assert found is not None
    band = banded.seals[seal.position]
    low, high = np.quantile(drawn, (bands.LOW, bands.HIGH))
    return Row(
        owner=owner.number,
        limits=False,
        first=found is ahead.first,
        known_fitting=life.fitting in KNOWN_FITTINGS,
        open_history=wear.history_is_open,
        share=wear.wear_share,
        low=band.low,
        high=band.high,
        drawn_low=float(low),
        drawn_high=float(high),
        **_foretold(found, life.today),
        fixed=float((ahead.fixed_interval_on - life.today).days),
        fixed_anchor=float((seal.fitted_earliest - life.today).days),
        true_share=tuple(share for share, _ in truth),
        true_day=tuple(day for _, day in truth),
        score_held=held,
    )


def _foretold(found: SealForecast, today: date) -> dict[str, float]:
    return {
        name: float((on - today).days) if on is not None else np.inf
        for name, on in (("p10", found.p10), ("p50", found.p50), ("p90", found.p90))
    }
