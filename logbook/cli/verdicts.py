"""A plan and the verdicts on it, in words and as JSON."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from logbook.caution import LIFE_SUPPORT, TESTS_SAY_LITTLE
from logbook.cli.asked import Asked
from logbook.cli.output import iso, table, wrapped
from logbook.cli.score import stop_document
from logbook.model.judge.check import Verdict
from logbook.model.marks import DIVING, class_of
from logbook.model.practice import Practice
from logbook.model.ranges import in_range
from logbook.model.text import printable
from logbook.model.values import Exposure, Units
from logbook.physics.air import ambient_pa
from logbook.record.record import Book
from logbook.text.phrases import full_date
from logbook.text.quantities import parse_length_m, show_depth, show_minutes, show_pressure, show_temp


def _air_pa(book: Book, altitude: str | None) -> float:
    """Air pressure above the water, in Pa."""
    if altitude is None:
        return ambient_pa(book.settings.home.altitude_m)
    return ambient_pa(
        in_range("altitude_m", parse_length_m(altitude, "--altitude", default_unit="m"), "--altitude")
    )


def verdict_units(book: Book, asked: Asked) -> Units:
    """The units of a verdict's sentences: those of the book, but always metric in JSON."""
    return "metric" if asked.as_json else book.units


@dataclass(frozen=True)
class Shown:
    """A plan and the verdicts on it, in words and as JSON."""

    item: Exposure
    units: Units
    air_pa: float
    say_air: bool
    practice: Practice

    @classmethod
    def of(cls, book: Book, item: Exposure, altitude: str | None = None) -> Shown:
        """A plan in the units of the book, under the air at an altitude, else at that of the home water."""
        return cls(item, book.units, _air_pa(book, altitude), altitude is not None, book.practice)

    def document(self, verdict: Verdict) -> dict[str, Any]:
        """A verdict as JSON."""
        return {
            "name": verdict.name,
            "on": iso(self.item.starts_on),
            "activity": self.item.activity,
            "verdict": verdict.verdict,
            "reasons": [stop_document(reason) for reason in verdict.reasons],
            "context": list(verdict.context),
            "gauge_pa": verdict.gauge_pa,
            "planned_pa": verdict.planned_pa,
            "absolute_pa": verdict.gauge_pa + self.air_pa,
            "pass_needed_bar": round(verdict.pass_needed_pa / 1e5, 6),
            "holds_from": iso(verdict.holds_from),
            "would_change": verdict.would_change,
        }

    def one(self, verdict: Verdict) -> str:
        """The verdict on one watch: what speaks, worst first, then what stands beside it."""
        lines = [
            wrapped(f"{printable(verdict.name)}: {self._plan_words()}"),
            f"  {_verdict_words(verdict, self.item)}",
        ]
        for n, reason in enumerate(verdict.reasons, 1):
            lines.append(wrapped(f"{reason.sentence} [{reason.code}]", f"  {n:>2}  ", "      "))
            if reason.bound is not None:
                lines.append(wrapped(f"{reason.value}, limit {reason.bound}", "        "))
        lines.append("  for context")
        lines += [
            wrapped(line, "      ", "        ") for line in (*verdict.context, *self._air_words(verdict))
        ]
        lines += ["", wrapped(verdict.would_change), "", wrapped(TESTS_SAY_LITTLE), *self._life_support()]
        return "\n".join(lines)

    def every(self, verdicts: Sequence[Verdict]) -> str:
        """The verdicts on every watch, the fewest objections first."""
        if not verdicts:
            return "No watch is on the shelf."
        rows = [
            (
                printable(v.name),
                v.word,
                v.reasons[0].sentence if v.reasons else v.context[0],
            )
            for v in verdicts
        ]
        lines = [wrapped(f"Which one may come? {self._plan_words()}"), ""]
        lines += [table(("watch", "verdict", "the first reason, or the pressure"), rows, last=(1,))]
        return "\n".join([*lines, *self._life_support()])

    def _plan_words(self) -> str:
        item = self.item
        parts = [item.activity]
        if item.water != "air":
            parts[0] += f" {show_depth(item.depth_m, self.units)}"
        parts += [show_minutes(item.duration_s), f"{item.water} {show_temp(item.water_c, self.units)}"]
        if item.jump_m:
            parts.append(f"jump {show_depth(item.jump_m, self.units)}")
        return f"{', '.join(parts)}, on {full_date(item.starts_on)}"

    def _air_words(self, verdict: Verdict) -> list[str]:
        if not self.say_air:
            return []
        absolute = show_pressure(verdict.gauge_pa + self.air_pa, self.units)
        air = show_pressure(self.air_pa, self.units)
        return [
            f"the air above presses {air}: {absolute} absolute; a mark speaks of the pressure above the air's"
        ]

    def _life_support(self) -> list[str]:
        if class_of(self.item, self.practice) not in DIVING:
            return []
        return ["", wrapped(LIFE_SUPPORT)]


def _verdict_words(verdict: Verdict, item: Exposure) -> str:
    """The verdict in capitals; of several days, from which of them on it holds."""
    words = verdict.word.upper()
    if verdict.holds_from is None or item.planned_to is None or verdict.holds_from <= item.starts_on:
        return words
    return f"{words}, from {full_date(verdict.holds_from)} on"
