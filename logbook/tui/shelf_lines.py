"""The Shelf's lines as plain pieces of text: its title, its columns, and the watch under the cursor."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

from logbook.exchange import phrases
from logbook.reckoning import due
from logbook.reckoning.due import DueItem
from logbook.reckoning.marks import mark_words
from logbook.reckoning.standing import Standing
from logbook.reckoning.values import Exposure, Shares
from logbook.tui.ink import VERDICT_ROLE, Line, Piece, fit, meter, short

WITH_BAND = 17  # cells of the column from which the score's band stands beside it
SHORT_TASKS = {"pressure-test": "test", "movement": "service"}


def title(standings: Sequence[Standing], today: date, width: int) -> Line:
    """The name of the room, how many watches, and what asks for attention."""
    count = len(standings)
    left = f"logbook · {count} watch{'es' if count != 1 else ''}"
    asking = due.asks_now([item for s in standings for item in s.due], today)
    words = banner(asking, width - len(left) - 2)
    role = "grave" if any(i.stage == "overdue" for i in asking) else "mild" if asking else "good"
    gap = max(2, width - len(left) - len(words))
    return [(left, "title"), (" " * gap, "plain"), (words, role)]


def banner(asking: Sequence[DueItem], room: int) -> str:
    """What is due, counted by task where there is room (`2 tests overdue`), else by stage (`5 overdue`)."""
    if not asking:
        return "nothing is due"
    by_task = Counter((i.stage, SHORT_TASKS.get(i.task, i.task)) for i in asking)
    by_stage = Counter(i.stage for i in asking)
    worst_first = list(reversed(due.STAGES))
    full = " · ".join(
        f"{n} {_plural(task, n)} {stage}"
        for (stage, task), n in sorted(
            by_task.items(), key=lambda pair: (worst_first.index(pair[0][0]), pair[0][1])
        )
    )
    if len(full) <= room:
        return full
    return " · ".join(f"{by_stage[stage]} {stage}" for stage in worst_first if by_stage[stage])


def _plural(word: str, count: int) -> str:
    if count == 1 or word.endswith("s"):
        return word
    return f"{word[:-1]}ies" if word.endswith("y") else f"{word}s"


@dataclass(frozen=True, slots=True)
class Column:
    """A column: its head, its width in cells at 80, how much of the spare width it takes, what it shows."""

    head: str
    width: int
    grows: int
    pieces: Callable[[Standing, date, int], list[Piece]]


def _name(s: Standing, today: date, width: int) -> list[Piece]:
    return [(fit(s.name, width), "strong")]


def _mark(s: Standing, today: date, width: int) -> list[Piece]:
    words = mark_words(s.record.watch)
    if len(words) > width:
        words = words.replace("diver’s, mixed gas", "mixed,")
    return [(fit(words, width), "plain")]


def _state(s: Standing, today: date, width: int) -> list[Piece]:
    if not s.stops:
        return [(fit("no stop", width), "good")]
    return [(fit(s.stops[0].verdict, width), VERDICT_ROLE[s.stops[0].verdict])]


def _left(s: Standing, today: date, width: int) -> list[Piece]:
    pieces: list[Piece] = [(f"{s.score:>3} ", "strong")]
    if width < WITH_BAND or s.low is None:
        return [*pieces, *meter(s.score / 100, width - 4)]
    return [*pieces, (fit(f"{s.low}–{s.high}", 7), "dim"), *meter(s.score / 100, width - 11)]


def _limit(s: Standing, today: date, width: int) -> list[Piece]:
    word = phrases.place(s.limiting.seal.position) if s.limiting else "–"
    return [(fit(word, width), "plain")]


def _last(s: Standing, today: date, width: int) -> list[Piece]:
    return [(fit(phrases.ago(s.record.last_exposure_on, today), width), "plain")]


def _next(s: Standing, today: date, width: int) -> list[Piece]:
    item = s.next_due
    if item is None:
        return [(fit("–", width), "plain")]
    if item.stage == "later":
        return [(fit(phrases.next_words(item, today), width), "plain")]
    role = "mild" if item.stage == "coming up" else "grave"
    return [(fit(SHORT_TASKS.get(item.task, item.task), width), role)]


COLUMNS = (
    Column("watch", 13, 3, _name),
    Column("mark", 14, 2, _mark),
    Column("for its use", 11, 0, _state),
    Column("left", 8, 2, _left),
    Column("limited", 9, 0, _limit),
    Column("last water", 10, 1, _last),
    Column("next", 7, 0, _next),
)


def widths(width: int) -> list[int]:
    """Cells of each column in a window, one blank between them."""
    spare = max(0, min(width, 150) - 1 - sum(c.width + 1 for c in COLUMNS) + 1)
    share = sum(c.grows for c in COLUMNS)
    return [c.width + spare * c.grows // share for c in COLUMNS]


def heads(width: int) -> Line:
    """The column heads."""
    pieces: list[Piece] = [(" ", "dim")]
    for column, cells in zip(COLUMNS, widths(width), strict=True):
        pieces.append((fit(column.head, cells) + " ", "dim"))
    return pieces


def row(standing: Standing, today: date, width: int) -> Line:
    """One watch."""
    pieces: list[Piece] = [(" ", "plain")]
    for column, cells in zip(COLUMNS, widths(width), strict=True):
        pieces += [*column.pieces(standing, today, cells), (" ", "plain")]
    return pieces


def detail(
    standing: Standing,
    last: Exposure | None,
    cost: Mapping[int, Shares],
    today: date,
    units: Literal["metric", "imperial"],
) -> list[Line]:
    """The watch under the cursor: its last water and what that cost, what speaks, what comes next."""
    last_water = f": {_last_words(last, cost, today, units)}"
    lines: list[Line] = [
        [(short(standing.name, 40), "strong"), (last_water, "plain")],
        *_ahead(standing),
    ]
    if standing.stops:
        worst = standing.stops[0]
        more = len(standing.stops) - 1
        lines.append(
            [
                (worst.verdict, VERDICT_ROLE[worst.verdict]),
                (f": {worst.sentence}", "plain"),
                (f" (and {more} more: ⏎)" if more else "", "dim"),
            ]
        )
    else:
        lines.append([("no stop rule", "good"), (" speaks for its stated use", "plain")])
    if standing.next_due is not None:
        item = standing.next_due
        when = phrases.full_date(item.due)
        stage = "" if item.stage == "later" else f", {item.stage}"
        lines.append([("next", "dim"), (f": {item.label}, {when}{stage}: {item.why}", "plain")])
    return lines


def _ahead(standing: Standing) -> list[Line]:
    """The score with its band, and when the first seal is used up; nothing until it is worked out."""
    insight = standing.insight
    if insight is None:
        return [
            [("score", "dim"), (f" {standing.score}; its band and its forecast are being worked out", "dim")]
        ]
    if insight.forecast is None:
        return []
    from logbook.exchange import foretold

    score = foretold.score_words(standing.score, standing.low, standing.high)
    first = insight.forecast.first
    window = foretold.window_words(first, standing.on)
    return [[("score", "dim"), (f" {score}; its {phrases.place(first.position)} seal {window}", "plain")]]


def _last_words(
    last: Exposure | None,
    cost: Mapping[int, Shares],
    today: date,
    units: Literal["metric", "imperial"],
) -> str:
    if last is None:
        return "no water on record"
    words = phrases.exposure_words(last, units)
    when = phrases.ago(last.starts_on, today)
    when = when if when in ("today", "yesterday") else f"{when} ago"
    took = max((s.total for s in cost.values()), default=None)
    charged = (
        f"took {phrases.of_hundred(took)}" if took is not None else "before its record began, not charged"
    )
    return f"{words}, {when}: {charged}"
