"""What happened, as `logbook score` tells it: the channels and exposures with the largest part."""

from __future__ import annotations

from typing import Any

from logbook.cli.output import iso, table, wrapped
from logbook.errors import BadInput
from logbook.model.judge.since import Since, trouble_of
from logbook.model.values import CHANNELS, Units, WatchRecord
from logbook.record.reading.happened import read_since
from logbook.record.record import Book
from logbook.text import happened, phrases
from logbook.text.happened import NOT_PROOF
from logbook.text.phrases import exposure_words

LAST_PASS = "pass"  # in place of a date


def wanted(book: Book, record: WatchRecord, since: str | None) -> bool:
    """True when it was asked for, or when a fault or a failed test stands."""
    return since is not None or bool(trouble_of(record, book.practice, book.today))


def what_happened(book: Book, record: WatchRecord, since: str | None) -> Since | None:
    """Since the day that the option names, else since the last pass; None without a seal on record."""
    day = None
    if since is not None and since.strip().casefold() != LAST_PASS:
        day = book.day(since, "--since")
        if day > book.today:
            raise BadInput(f"--since {day} is ahead: today is {book.today}.", where="--since")
    return read_since(book.rows, record, book.practice, book.today, day)


def document(since: Since, units: Units) -> dict[str, Any]:
    """The period, what was charged in it by channel, and its hardest exposures, as JSON."""
    return {
        "from": iso(since.period.start),
        "from_kind": since.period.beginning.replace("’", "'"),
        "to": iso(since.period.end),
        "trouble": None if since.period.trouble is None else since.period.trouble.kind,
        "seal": since.seal.position,
        "wear_share": since.shares.total,
        "by_exposures": since.by_exposures.total,
        "assumed": since.assumed.total,
        "channels": dict(zip(CHANNELS, since.shares.as_tuple(), strict=True)),
        "hardest": [
            {
                "id": cost.exposure.id,
                "date": iso(cost.exposure.starts_on),
                "words": exposure_words(cost.exposure, units),
                "share": cost.shares.total,
            }
            for cost in since.hardest
        ],
        "note": NOT_PROOF,
    }


def text(since: Since | None, units: Units) -> str:
    """The same in plain text."""
    if since is None:
        return "What happened: no seal is on record."
    lines = [
        wrapped(f"What happened: {happened.heading(since)}"),
        wrapped(happened.total(since)),
        wrapped(happened.largest(since)),
        happened.hardest_head(since),
    ]
    rows = [
        (
            str(cost.exposure.id),
            phrases.full_date(cost.exposure.starts_on),
            phrases.exposure_words(cost.exposure, units),
            phrases.of_hundred(cost.shares.total).removesuffix(" of 100"),
        )
        for cost in since.hardest
    ]
    if rows:
        lines.append(table(("id", "date", "exposure", "took, of 100"), rows, right=(0, 3), last=(0, 1, 3)))
    return "\n".join([*lines, happened.NOT_PROOF])
