"""Exposures from before a watch's water is on record: kept, not charged, and asked about."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date

from logbook.model.text import full_date, printable
from logbook.model.values import Exposure, Watch
from logbook.text.phrases import not_charged_words


@dataclass(frozen=True, slots=True)
class Early:
    """A watch with the days that were logged before its record begins, the earliest first."""

    watch: Watch
    days: tuple[date, ...]

    def sentence(self) -> str:
        """Says that they are kept and not charged, and how to move the start."""
        return not_charged_words(self.watch.name, self.watch.recorded_from, self.days)

    def question(self) -> str:
        """Asks whether the record of the watch may begin earlier; on yes, use `moved`."""
        name, since = printable(self.watch.name), full_date(self.days[0])
        begins = full_date(self.watch.recorded_from)
        return (
            f"{name} has its water on record from {begins} only: earlier entries are kept, not charged. Is "
            f"all its water since {since} in the log now, so that it counts from then?"
        )

    def moved(self) -> Watch:
        """The watch with its record moved to begin on the first of these days."""
        return replace(self.watch, recorded_from=self.days[0])

    def document(self) -> dict[str, str | int]:
        """The same for JSON."""
        return {
            "watch": self.watch.name,
            "recorded_from": self.watch.recorded_from.isoformat(),
            "first": self.days[0].isoformat(),
            "count": len(self.days),
            "sentence": self.sentence(),
        }


def early(exposures: Iterable[Exposure], watches: Iterable[Watch]) -> list[Early]:
    """The exposures from before the record of their watch begins, watch by watch, without plans."""
    exposures = list(exposures)
    found = []
    for watch in watches:
        days = sorted(
            e.starts_on
            for e in exposures
            if e.watch_id == watch.id and not e.planned and e.starts_on < watch.recorded_from
        )
        if days:
            found.append(Early(watch, tuple(days)))
    return found
