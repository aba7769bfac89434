"""What the dossier says, as ready words and numbers, of one watch alone.

Nothing of another watch gets in: no chance, which rests on tests of all watches, no group, no home water.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from logbook import __version__
from logbook.caution import CAUTION
from logbook.dossier import bench, exposed, room, seals, words
from logbook.dossier.exposed import Exposed
from logbook.dossier.seals import Seals
from logbook.dossier.words import NONE, Table, typed
from logbook.errors import BadInput
from logbook.model.due.tasks import DueItem
from logbook.model.judge.rules import clock_words
from logbook.model.judge.standing import Standing
from logbook.model.practice import Practice
from logbook.model.text import NAME_LENGTH, clean
from logbook.model.values import Units, Watch
from logbook.record.reading import glance
from logbook.record.reading.rows import Rows
from logbook.text.phrases import full_date

MAKER_FIRST = (
    "The figures are the owner’s bookkeeping by common practice, worked out by a program; they are no "
    "measurement. The maker’s instructions and your own judgement come first."
)
ASKED_LENGTH, MOST_ASKED = 120, 3
REFERENCE_LENGTH, NOTE_LENGTH, WHY_LENGTH = 80, 230, 70

_MARKS = {
    "unmarked": "none: nothing about water",
    "unknown": "not known",
    "water-resistant": "water-resistant",
    "divers": "diver’s",
    "divers-mixed-gas": "diver’s for mixed gas",
}
_CROWNS = {"screwed": "crown screwed down", "pushed": "crown pushed in"}


@dataclass(frozen=True, slots=True)
class Dossier:
    """One watch for a watchmaker; every field is text to print or numbers to draw."""

    name: str
    reference: str
    printed_on: str
    recorded: tuple[str, ...]  # from when, what of it is not charged, up to when
    asked: tuple[str, ...]
    stands_open: tuple[str, ...]
    due: tuple[str, ...]
    next_due: str
    facts: tuple[tuple[str, str], ...]
    note: str
    seals: Seals
    exposed: Exposed
    tests: Table
    events: Table
    faults: Table
    places: tuple[str, ...]
    small: bool = False  # in small print: there is much to say
    remarks: int = 1  # lines to write on
    caution: str = CAUTION
    maker_first: str = MAKER_FIRST
    made_by: str = f"logbook {__version__}"


def gather(
    rows: Rows,
    standing: Standing,
    practice: Practice,
    units: Units,
    asked: Sequence[str] = (),
    *,
    with_notes: bool = False,
) -> Dossier:
    """All that the page says of the watch of `standing`, up to its day.

    `asked` is what its owner asks for, one sentence each. The notes on exposures are private: they are left
    out without `with_notes`. Raises BadInput for a wish that is empty, too long, or one too many.
    """
    watch, today = standing.record.watch, standing.on
    near = [item for item in standing.due if item.stage != "later"]
    later = [item for item in standing.due if item.stage == "later"]
    page = Dossier(
        name=typed(watch.name, NAME_LENGTH),
        reference="" if typed(watch.reference, 1) == NONE else typed(watch.reference, REFERENCE_LENGTH),
        printed_on=full_date(today),
        recorded=(*_recorded(rows, watch, today), *_clock(standing)),
        asked=_wishes(asked),
        stands_open=bench.stands_open(standing),
        due=tuple(_due_lines(near)),
        next_due=f"{later[0].label} on {full_date(later[0].due)}" if later else "",
        facts=tuple(_facts(watch, standing, units)),
        note=typed(watch.note, NOTE_LENGTH) if watch.note.strip() else "",
        seals=seals.gather(standing),
        exposed=exposed.gather(rows, standing, practice, units, with_notes),
        tests=bench.tests(standing, units),
        events=bench.events(standing),
        faults=bench.faults(standing, units),
        places=tuple(words.position(wear.seal.position) for wear in standing.seals),
    )
    return room.fitted(page)


def _recorded(rows: Rows, watch: Watch, today: date) -> tuple[str, ...]:
    """From which day its water is on record and up to which, and how much from before is not charged."""
    key, began = watch.id, watch.recorded_from
    told = [f"Water on record from {full_date(began)}"]
    until = min(began - timedelta(days=1), today)
    before = glance.count_exposures(rows, watch_id=key, until=until, planned=False)
    if before:
        what = "exposure from before that day is" if before == 1 else "exposures from before that day are"
        told.append(f"{before:,} {what} listed but not charged")
    last = glance.read_exposures(rows, watch_id=key, until=today, planned=False, newest_first=True, limit=1)
    told.append(f"last water {full_date(last[0].starts_on)}" if last else "no water so far")
    if watch.confirmed_on is not None:
        told.append(f"log confirmed complete up to {full_date(min(watch.confirmed_on, today))}")
    return tuple(told)


def _clock(standing: Standing) -> tuple[str, ...]:
    """That the clock which the page was printed by is behind what is on record."""
    ahead = standing.facts.clock_behind_by
    return () if ahead is None else (clock_words(ahead),)


def _wishes(asked: Sequence[str]) -> tuple[str, ...]:
    if len(asked) > MOST_ASKED:
        raise BadInput(
            f"--ask is given {len(asked)} times; at most {MOST_ASKED} fit the page.", where="--ask"
        )
    found = [clean(text, "wish", "--ask", ASKED_LENGTH) for text in asked]
    if not all(found):
        raise BadInput("--ask is empty; say what you ask for, such as a pressure test.", where="--ask")
    return tuple(typed(text, ASKED_LENGTH) for text in found)


def _due_lines(near: Sequence[DueItem]) -> list[str]:
    """A line for each task that is coming up or due."""
    return [f"{item.label}: {_when(item)} ({typed(item.why, WHY_LENGTH)})" for item in near]


def _when(item: DueItem) -> str:
    return f"{item.stage} {'on' if item.stage == 'coming up' else 'since'} {full_date(item.due)}"


def _facts(watch: Watch, standing: Standing, units: Units) -> list[tuple[str, str]]:
    """What its owner says of the watch, each with its name."""
    closed = [_CROWNS.get(watch.crown, NONE)]
    closed += [what for what, has in (("pushers", watch.pushers), ("gas valve", watch.gas_valve)) if has]
    told = [
        ("Mark", _MARKS.get(watch.mark, NONE)),
        ("Marked pressure", words.marked(watch, units)),
        (
            "Crown, pushers, valve",
            ", ".join(closed) + ("" if len(closed) > 1 else ", neither pushers nor valve"),
        ),
        ("Case, movement", f"{typed(watch.case_material, 20)}, {watch.movement}"),
        ("Stated use", f"{watch.use}; worn {watch.worn_h:g} h a day"),
        ("Bought", _bought(watch)),
        *bench.last_of(standing, units),
        ("Retired", full_date(watch.retired_on) if watch.retired_on else ""),
    ]
    return [(name, value) for name, value in told if value]


def _bought(watch: Watch) -> str:
    if watch.new_on is not None:
        return f"new on {full_date(watch.new_on)}"
    return f"{full_date(watch.bought_on)}, not said to be new" if watch.bought_on else "not known when"
