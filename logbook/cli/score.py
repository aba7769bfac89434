"""`logbook score`: the wear share of each seal by channel, the score, and the stop rules in force."""

from __future__ import annotations

from typing import Annotated, Any

import typer

from logbook.caution import TESTS_SAY_LITTLE
from logbook.cli import happened
from logbook.cli.command import Commands, asked_of
from logbook.cli.opening import reading
from logbook.cli.output import answer, iso, table, wrapped
from logbook.model.judge.rules import NO_OBJECTION, Reason
from logbook.model.judge.standing import Standing
from logbook.model.predict.bands import Band
from logbook.model.shown import show_pressure
from logbook.model.text import likely, printable
from logbook.model.values import CHANNELS, Seal, Units
from logbook.model.wear.account import SealWear
from logbook.text.foretold import window_words
from logbook.text.phrases import of_hundred, place


def add_to(app: Commands) -> None:
    """Registers the command."""
    app.command()(score)


def score(
    ctx: typer.Context,
    watch: Annotated[str, typer.Argument(metavar="WATCH", help="Its nickname or the start of it.")],
    since: Annotated[
        str | None,
        typer.Option(
            metavar="DATE|pass",
            help="Say what had the largest part since that day, or since the last passed pressure test.",
        ),
    ] = None,
) -> None:
    """How much of each seal's service interval is used up, by what, and what speaks against water.

    While a fault or a failed test stands, it also says what had the largest part since the last pass.
    """
    asked = asked_of(ctx)
    with reading(asked) as book:
        record = book.find(watch)
        told = happened.wanted(book, record, since)
        found = happened.what_happened(book, record, since) if told else None
        standing, units = book.foretold(record), book.units
    whole = document(standing)
    if told:
        whole["since"] = None if found is None else happened.document(found, units)
    text = score_text(standing, units)
    answer(asked, whole, lambda: f"{text}\n\n{happened.text(found, units)}" if told else text, caution=True)


def document(standing: Standing) -> dict[str, Any]:
    """A watch's score as JSON."""
    return {
        "name": standing.name,
        "on": iso(standing.on),
        "score": standing.score,
        "low": standing.low,
        "high": standing.high,
        "why_not": standing.why_no_score,
        "limiting_seal": standing.limiting_position,
        "seals": [_seal_document(wear, standing) for wear in standing.seals],
        "stops": [stop_document(stop) for stop in standing.stops],
    }


def stop_document(stop: Reason) -> dict[str, Any]:
    """A rule that speaks as JSON."""
    return {
        "code": stop.code,
        "sentence": stop.sentence,
        "value": stop.value,
        "limit": stop.limit,
        "verdict": stop.verdict,
        **({"was": stop.was} if stop.was else {}),
    }


def fitted_words(seal: Seal) -> str:
    """`2025-02-01`, or `2019-11-26..2026-11-26` where only a range is known."""
    first, last = seal.fitted_earliest, seal.fitted_latest
    return first.isoformat() if first == last else f"{first}..{last}"


def _seal_document(wear: SealWear, standing: Standing) -> dict[str, Any]:
    band = standing.band_of(wear.seal.position)
    return {
        "position": wear.seal.position,
        "material": wear.seal.material,
        "fitted": fitted_words(wear.seal),
        "wear_share": wear.wear_share,
        "low": band.low if band else None,
        "high": band.high if band else None,
        "channels": dict(zip(CHANNELS, wear.shares.as_tuple(), strict=True)),
        "assumed": wear.assumed.total,
        "history": {"low": wear.history_low, "high": wear.history_high},
        "cap_on": iso(wear.cap_on),
    }


MAKES_IT_KNOWN = (
    "A date of its gaskets makes it known, a month or a year will do (`logbook watch edit NAME --fitted "
    "2023`); so does a passed pressure test."
)


def score_text(standing: Standing, units: Units = "metric") -> str:
    """The score of a watch in plain text."""
    limiting, name = standing.limiting, printable(standing.name)
    if standing.score is None:
        told = wrapped(f"{name}: score and chance not known {standing.why_no_score}.")
        return "\n".join([told, wrapped(MAKES_IT_KNOWN), "", *_stop_lines(standing)])
    by = f", limited by the {place(limiting.seal.position)} seal" if limiting else ""
    lines = [
        wrapped(f"{name}: score {standing.score} of 100{_likely(standing)}{by}"),
        "A share of a service interval, not a chance.",
    ]
    if standing.chance is not None:
        to = show_pressure(standing.chance.to_pa, units)
        lines.append(wrapped(f"Would pass a pressure test to {to} today: {standing.chance.words}."))
        lines.append(wrapped(TESTS_SAY_LITTLE))
    if standing.insight is not None and standing.insight.forecast is not None:
        first = standing.insight.forecast.first
        words = window_words(first, standing.on)
        lines.append(wrapped(f"By its forecast the {place(first.position)} seal {words}."))
    if limiting is not None:
        lines += ["", _seals_table(standing), "", _channels_table(standing), "", wrapped(_largest(limiting))]
    lines += ["", *_stop_lines(standing)]
    return "\n".join(lines)


def _likely(standing: Standing) -> str:
    """The 80 % band of the score, where it is computed."""
    if standing.low is None:
        return ""
    return f"{likely(standing.low, standing.high)} (80 % band)"


def _points(share: float) -> str:
    """A wear share as a part of 100."""
    return f"{100 * share:.1f}"


def _seals_table(standing: Standing) -> str:
    rows = [
        (
            place(w.seal.position),
            w.seal.material,
            fitted_words(w.seal),
            _points(w.wear_share),
            _band_points(standing.band_of(w.seal.position)),
            _points(w.assumed.total),
            f"{_points(w.history_low)} to {_points(w.history_high)}" if w.history_is_open else "–",
        )
        for w in standing.seals
    ]
    heads = ("seal", "material", "fitted", "used of 100", "likely", "assumed", "open history")
    return table(heads, rows, right=(3, 4, 5), last=(2, 3, 4, 5, 6))


def _band_points(band: Band | None) -> str:
    return f"{100 * band.low:.0f}–{100 * band.high:.0f}" if band else "–"


def _channels_table(standing: Standing) -> str:
    rows = [
        (place(w.seal.position), *(_points(share) for share in w.shares.as_tuple())) for w in standing.seals
    ]
    return table(("of which", *CHANNELS), rows, right=range(1, 7))


def _largest(limiting: SealWear) -> str:
    share, channel = max(zip(limiting.shares.as_tuple(), CHANNELS, strict=True))
    where = place(limiting.seal.position)
    return f"{channel.capitalize()} had the largest part at the {where}: {of_hundred(share)}."


def _stop_lines(standing: Standing) -> list[str]:
    if not standing.stops:
        return [f"{NO_OBJECTION.capitalize()} to its stated use."]
    lines = [f"Stop rules in force for its stated use ({standing.record.watch.use}):"]
    lines += [wrapped(f"{s.verdict}: {s.sentence} [{s.code}]", "  ", "    ") for s in standing.stops]
    return lines
