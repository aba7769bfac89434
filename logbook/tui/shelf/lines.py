"""The Shelf's lines as plain pieces of text: its title and its columns."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date

from logbook.model.due.services import NOW, Service
from logbook.model.due.tasks import STAGES
from logbook.model.judge.rules import clock_words
from logbook.model.judge.standing import Standing, clock_behind_by
from logbook.model.marks import mark_words
from logbook.text import phrases
from logbook.tui.shelf import detail as shelf_detail
from logbook.tui.shelf.choice import USUAL_ORDER, Choice
from logbook.tui.shell.ink import VERDICT_ROLE, Line, Piece, fit, meter, short

PICKED = "*"
GROUP_CELLS = 16
WIDEST = 180  # cells that a row takes at most
NOT_KNOWN, NOT_KNOWN_BRIEFLY = "not known", "unknown"
WITH_BAND = 17  # cells of the column from which the score's band stands beside it
SHORT_TASKS = {"pressure-test": "test", "movement": "service"}


def title(
    standings: Sequence[Standing], shown: int, choice: Choice, picked: int, today: date, width: int
) -> Line:
    """The name of the room, how many watches it shows and of which, and what asks for attention in all."""
    from rich.cells import cell_len

    count = len(standings)
    of = f"{shown} of {count}" if shown != count else f"{count}"
    parts = [
        "logbook",
        f"{of} watch{'es' if count != 1 else ''}",
        f"group {short(choice.group, GROUP_CELLS)}" if choice.group else "",
        f"{picked} picked" if picked else "",
        f"by {choice.order}" if choice.order != USUAL_ORDER else "",
    ]
    left = " · ".join(part for part in parts if part)
    asking = [service for s in standings for service in s.services if service.asking]
    room = width - cell_len(left) - 2
    more = any(s.insight is None for s in standings)
    role = "grave" if any(service.urgent for service in asking) else "mild" if asking else "good"
    ahead = clock_behind_by(standings)
    if ahead is None:
        words = short(banner(asking, room, more=more), room)
    else:  # no date can be trusted, so that it comes before what is due
        words, role = short(clock_words(ahead), room), "mild"
    gap = max(2, room + 2 - len(words))
    return [(left, "title"), (" " * gap, "plain"), (words, role)]


AT_LEAST = "at least "
NOW_BRIEFLY = "now"  # of a watch with a fault or a failed test
MORE_COMES = "; more is being worked out"


def banner(asking: Sequence[Service], room: int, *, more: bool = False) -> str:
    """The services that ask, counted by stage: `1 to a workshop now · 2 services overdue · 1 coming up`.

    Where that is too long, in fewer words (`1 now · 2 overdue`), and then the worst of it. With `more`
    forecasts are still to come, and with them what falls due by them.
    """
    if more:
        words = f"{AT_LEAST}{banner(asking, room - len(AT_LEAST))}" if asking else "nothing is due so far"
        return f"{words}{MORE_COMES}" if len(words) + len(MORE_COMES) <= room else words
    if not asking:
        return "nothing is due"
    counts = Counter(NOW_BRIEFLY if service.troubles else service.stage for service in asking)
    stages = [f"{counts[stage]} {stage}" for stage in (NOW_BRIEFLY, *reversed(STAGES)) if counts[stage]]
    full = " · ".join(_spelt_out(stages))
    if len(full) <= room:
        return full
    while len(" · ".join(stages)) > room and len(stages) > 1:
        stages.pop()
    return " · ".join(stages)


def _spelt_out(stages: Sequence[str]) -> list[str]:
    """The same in full words; what is counted is named where it is counted first."""
    found, named = [], False
    for count, stage in (each.split(" ", 1) for each in stages):
        if stage == NOW_BRIEFLY:
            found.append(f"{count} {NOW}")
        else:
            noun = "" if named else "service " if count == "1" else "services "
            found.append(f"{count} {noun}{stage}")
            named = True
    return found


Shown = Callable[[Standing, date, int], list[Piece]]  # what a column shows on a day in so many cells


@dataclass(frozen=True, slots=True)
class Column:
    """A column: its head, its least width in cells, how much of the spare width it takes, what it shows.

    It stands in windows from `begins` columns on, and where a watch has something to `show` in it.
    """

    head: str
    width: int
    grows: int
    pieces: Shown
    begins: int = 0
    show: Callable[[Standing], bool] = lambda standing: True


def _in_words(words: Callable[[Standing, date], str], role: str = "plain") -> Shown:
    """A column of words alone."""
    return lambda s, today, width: [(fit(words(s, today), width), role)]


def _mark(s: Standing, today: date, width: int) -> list[Piece]:
    words = mark_words(s.record.watch)
    if len(words) > width:
        words = words.replace("diver’s, mixed gas", "mixed,")
    return [(fit(words, width), "plain")]


def _state(s: Standing, today: date, width: int) -> list[Piece]:
    if not s.stops:
        return [(fit("–", width), "good")]
    return [(fit(s.stops[0].verdict, width), VERDICT_ROLE[s.stops[0].verdict])]


def _left(s: Standing, today: date, width: int) -> list[Piece]:
    if s.score is None:
        return [(fit(NOT_KNOWN if width >= len(NOT_KNOWN) else NOT_KNOWN_BRIEFLY, width), "dim")]
    pieces: list[Piece] = [(f"{s.score:>3} ", "strong")]
    if width < WITH_BAND or s.low is None:
        return [*pieces, *meter(s.score / 100, width - 4)]
    return [*pieces, (fit(f"{s.low}–{s.high}", 7), "dim"), *meter(s.score / 100, width - 11)]


def _next(s: Standing, today: date, width: int) -> list[Piece]:
    service = s.next_service
    if service is None:
        return [(fit("–", width), "plain")]
    if s.insight is None and service.stage == "later":  # a forecast may come before it
        return [(fit("…", width), "dim")]
    if service.stage == "later":
        return [(fit(phrases.next_words(service, today), width), "plain")]
    role = "mild" if service.stage == "coming up" else "grave"
    return [(fit(_short(service), width), role)]


def _short(service: Service) -> str:
    """A service in a word."""
    if service.troubles:
        return NOW_BRIEFLY
    if len(service.items) > 1:
        return "service"
    return SHORT_TASKS.get(service.first.task, service.first.task)


def _said(name: str, begins: int) -> Column:
    """A column of what owners say of their watches, shown where one of them does."""

    def said(s: Standing) -> str:
        text: str = getattr(s.record.watch, name)
        return text

    return Column(
        name, 12, 1, _in_words(lambda s, _: said(s) or "–"), begins=begins, show=lambda s: bool(said(s))
    )


COLUMNS = (
    Column("watch", 13, 3, _in_words(lambda s, _: s.name, "strong")),
    Column("mark", 14, 2, _mark),
    Column("for its use", 11, 0, _state),
    Column("left", 8, 4, _left),
    Column(
        "limited",
        9,
        0,
        _in_words(lambda s, _: phrases.place(s.limiting_position) if s.limiting_position else "–"),
    ),
    Column("last water", 10, 1, _in_words(lambda s, today: phrases.ago(s.record.last_exposure_on, today))),
    Column("last test", 9, 1, _in_words(lambda s, _: shelf_detail.last_test(s)), begins=100),
    _said("group", begins=130),
    _said("reference", begins=150),
    Column("next", 7, 0, _next),
)
Layout = Sequence[tuple[Column, int]]  # columns with their cells


def layout(standings: Sequence[Standing], width: int) -> Layout:
    """The columns of a window, one blank between them; the last cell is kept for the scrollbar."""
    columns = [c for c in COLUMNS if not c.begins or (width >= c.begins and any(map(c.show, standings)))]
    spare = max(0, min(width, WIDEST) - 1 - sum(c.width + 1 for c in columns))
    share = sum(c.grows for c in columns)
    return [(c, c.width + spare * c.grows // share) for c in columns]


def heads(columns: Layout) -> Line:
    """The column heads."""
    return [(" ", "dim"), *((fit(column.head, cells) + " ", "dim") for column, cells in columns)]


def row(standing: Standing, today: date, columns: Layout, *, picked: bool = False) -> Line:
    """One watch; a picked one begins with a sign."""
    pieces: list[Piece] = [(PICKED if picked else " ", "key")]
    for column, cells in columns:
        pieces += [*column.pieces(standing, today, cells), (" ", "plain")]
    return pieces
