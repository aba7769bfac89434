"""The watch under the cursor of the Shelf: its last water, its forecast, what speaks, what comes next.

The lines fit the place they have; what does not stands in the Watch room, and the line says so.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from logbook.model.judge.rules import NO_OBJECTION
from logbook.model.judge.standing import Standing
from logbook.model.values import CHANNELS, Exposure, Shares, Units
from logbook.model.wear import account
from logbook.text import phrases
from logbook.tui.shell.ink import VERDICT_ROLE, Line, Piece, fit, meter, short, wrapped

NAME_CELLS = 40
MORE = " (more: ⏎)"
METER_CELLS = 10


@dataclass(frozen=True, slots=True)
class Paragraph:
    """A first word in a role of its own, and clauses; the last ones may be left out."""

    first: str
    role: str
    clauses: tuple[str, ...]
    least: int = 1  # clauses that are never left out

    def lines(self, width: int, count: int) -> list[Line]:
        """The first `count` clauses, wrapped; the first word keeps its role."""
        tail = MORE if count < len(self.clauses) else ""
        rows = wrapped(f"{self.first}{''.join(self.clauses[:count])}{tail}", width)
        head = short(self.first, width)
        if not rows[0].startswith(head):  # it is broken itself
            return [[(row, self.role)] for row in rows]
        return [[(head, self.role), (rows[0][len(head) :], "plain")], *([(r, "plain")] for r in rows[1:])]


def detail(
    standing: Standing,
    last: str,
    width: int,
    height: int,
) -> list[Line]:
    """At most `height` lines of `width` cells; `last` is what is said of its last water."""
    paragraphs = [
        Paragraph(short(standing.name, NAME_CELLS), "strong", (f": {last}",)),
        *_ahead(standing),
        _stops(standing),
        *_next(standing),
    ]
    counts = [len(p.clauses) for p in paragraphs]
    while True:
        lines = [line for p, count in zip(paragraphs, counts, strict=True) for line in p.lines(width, count)]
        spare = [n for n, p in enumerate(paragraphs) if counts[n] > p.least]
        if len(lines) <= height:
            return lines
        if not spare:
            return _cut(lines, width, height)
        longest = max(spare, key=lambda n: len(paragraphs[n].lines(width, counts[n])))
        counts[longest] -= 1


def _cut(lines: list[Line], width: int, height: int) -> list[Line]:
    """The first `height` lines, the last of them saying that there is more."""
    *kept, last = lines[:height]
    text = "".join(text for text, _ in last).removesuffix(MORE)
    return [*kept, [(short(text, width - len(MORE)), "plain"), (MORE, "dim")]]


def last_words(standing: Standing, last: Exposure | None, cost: Mapping[int, Shares], units: Units) -> str:
    """Its last water and what it took."""
    if last is None:
        return "no water on record"
    when = phrases.ago(last.starts_on, standing.on)
    when = when if when in ("today", "yesterday") else f"{when} ago"
    took = max((s.total for s in cost.values()), default=None)
    charged = (
        f"took {phrases.of_hundred(took)}" if took is not None else "before its record began, not charged"
    )
    return f"{phrases.exposure_words(last, units)}, {when}: {charged}"


def _ahead(standing: Standing) -> list[Paragraph]:
    """The score with its band, and when the first seal is used up; nothing until it is worked out."""
    insight = standing.insight
    if standing.score is None:
        return [Paragraph("score", "dim", (f" not known {standing.why_no_score}",))]
    if insight is None:
        words = f" {standing.score}; its band and its forecast are being worked out"
        return [Paragraph("score", "dim", (words,))]
    if insight.forecast is None:
        return []
    from logbook.text import foretold

    score = foretold.score_words(standing.score, standing.low, standing.high)
    first = insight.forecast.first
    window = foretold.window_words(first, standing.on).split("; ")
    clauses = [
        f" {score}; its {phrases.place(first.position)} seal {window[0]}",
        *(f"; {w}" for w in window[1:]),
    ]
    return [Paragraph("score", "dim", tuple(clauses))]


def _stops(standing: Standing) -> Paragraph:
    if not standing.stops:
        return Paragraph(NO_OBJECTION, "good", (" to its stated use",))
    worst = standing.stops[0]
    more = len(standing.stops) - 1
    words = f": {worst.sentence}" + (f" (and {more} more: ⏎)" if more else "")
    return Paragraph(worst.verdict, VERDICT_ROLE[worst.verdict], (words,))


def _next(standing: Standing) -> list[Paragraph]:
    service = standing.next_service
    if service is None:
        return []
    stage = "" if service.stage == "later" else f", {service.stage}"
    words = f": {service.label}, {phrases.full_date(service.due)}{stage}"
    return [Paragraph("next", "dim", (words, f": {service.why}"))]


def seals(standing: Standing, width: int) -> list[Line]:
    """Beside it in a wide window: each seal with what is left of it and what took most, the worst first."""
    watch = standing.record.watch
    about = [f"group {watch.group}" if watch.group else "", watch.reference, _tested(standing)]
    lines: list[Line] = [[(short(" · ".join(word for word in about if word), width), "dim")]]
    for wear in sorted(standing.seals, key=lambda wear: -wear.wear_share):
        pieces: list[Piece] = [
            (fit(phrases.place(wear.seal.position), 10), "strong"),
            (fit(wear.seal.material, 8), "plain"),
        ]
        if standing.score is None:
            lines.append([*pieces, (" not known", "dim")])
            continue
        score, _ = account.score([wear], standing.on)
        pieces += [
            (f"{score:>4} ", "strong"),
            *meter(score / 100, METER_CELLS),
        ]
        lines.append([*pieces, (short(f"  {_most(wear.shares)}", width - 23 - METER_CELLS), "dim")])
    return lines


def _most(shares: Shares) -> str:
    """The two channels that took most."""
    amounts = sorted(zip(shares.as_tuple(), CHANNELS, strict=True), reverse=True)
    return ", ".join(f"{name} {100 * share:.0f}" for share, name in amounts[:2] if share >= 0.005)


def _tested(standing: Standing) -> str:
    when = last_test(standing)
    return f"last test {when}" + ("" if when in ("never", "today", "yesterday") else " ago")


def last_test(standing: Standing) -> str:
    """How long ago the last passed pressure test was, the maker's included."""
    found = standing.facts.last_pass
    return phrases.ago(found.on if found else None, standing.on)


def empty(looked_for: str, width: int) -> Sequence[Line]:
    """What stands there when the Shelf shows no watch."""
    if not looked_for:
        return [[("No watch on the shelf yet: n puts the first one there.", "plain")]]
    return [[(short(f"No watch matches {looked_for}", width - 18), "plain"), (": esc shows all.", "plain")]]
