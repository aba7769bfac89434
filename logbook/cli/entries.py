"""Entries as commands print them: one line each, what an exposure cost, and the same as JSON."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from logbook.cli.output import table, wrapped
from logbook.files.json.writing import entry_object
from logbook.model.judge.stands_words import at_once
from logbook.model.text import printable
from logbook.model.values import CHANNELS, DAY_ORDER, Event, Exposure, Habit, Shares, WornStretch
from logbook.physics.worked import plain
from logbook.record.reading.charged import ledger_of
from logbook.record.record import Book
from logbook.text import phrases
from logbook.text.events import order_last, told_words, when_words
from logbook.text.phrases import full_date, of_hundred, place
from logbook.text.planned import NOT_CHARGED
from logbook.text.quantities import show_depth

NOTHING_CHARGED = "not charged"


def took(book: Book, exposure: Exposure) -> dict[str, Shares]:
    """Sealing place -> what the exposure added to the seal that was there; empty where it is not charged."""
    charged = ledger_of(book.rows, exposure.id or 0)
    return {book.positions()[seal_id]: shares for seal_id, shares in charged.items()}


def took_words(shares: dict[str, Shares]) -> str:
    """`took 0.3 of 100 (crown)`: the most that any seal was charged."""
    if not shares:
        return NOTHING_CHARGED
    position, most = max(shares.items(), key=lambda pair: pair[1].total)
    return f"took {of_hundred(most.total)} ({place(position)})"


def why_not_charged(book: Book, exposure: Exposure) -> str:
    """Why an exposure is on record without costing anything."""
    watch = next(w for w in book.all_watches() if w.id == exposure.watch_id)
    if exposure.planned:
        return NOT_CHARGED
    if exposure.starts_on < watch.recorded_from:
        return f"{NOTHING_CHARGED}: its water is on record from {watch.recorded_from} only"
    record = next(r for r in book.all_records() if r.watch.id == exposure.watch_id)
    if any(seal.fitted_earliest <= exposure.starts_on for seal in record.seals):
        return f"{NOTHING_CHARGED}: its seals may have been fitted after it"
    return f"{NOTHING_CHARGED}: before its seals were fitted"


def written_exposures(items: Sequence[Exposure], ids: Sequence[int]) -> list[Exposure]:
    """The exposures as they were written, with their ids."""
    return [replace(item, id=id_) for item, id_ in zip(items, ids, strict=True)]


def exposure_line(book: Book, exposure: Exposure) -> str:
    """`12  Blue bezel: 22 Nov 2026, dive 21 m, 38 min, sea 17 °C, rinsed: took 0.3 of 100 (crown)`."""
    return "\n".join(exposure_lines(book, exposure))


def exposure_lines(book: Book, exposure: Exposure) -> list[str]:
    """The line of an exposure, then what it means, each in lines of its own."""
    shares = took(book, exposure)
    cost = took_words(shares) if shares else why_not_charged(book, exposure)
    name = printable(book.name_of(exposure.watch_id))
    said = f"{exposure.id}  {name}: {_day(exposure)}, {exposure_words(book, exposure)}: {cost}"
    return [wrapped(line, "", "    ") for line in (said, *meaning(book, exposure))]


def meaning(book: Book, exposure: Exposure) -> list[str]:
    """What a logged exposure means for the next one: above its mark or proof, crown used under water."""
    if exposure.planned:
        return []
    record = next(r for r in book.all_records() if r.watch.id == exposure.watch_id)
    found = at_once(record, [exposure], book.practice, book.units)
    passes = [
        e for e in record.events if e.kind == "pressure-test" and e.passed and e.on == exposure.starts_on
    ]
    if found and passes and passes[-1].order < DAY_ORDER["exposure"]:
        amend = f"`logbook amend {passes[-1].id} --order {order_last(passes[-1])}`"
        found.append(f"Read as that day's pass first, then this; {amend} if the pass came last.")
    return found


def exposure_words(book: Book, exposure: Exposure) -> str:
    """The exposure in a phrase, with what a line adds to it."""
    text = phrases.exposure_words(exposure, book.units)
    if exposure.jump_m:
        text += f", jump {show_depth(exposure.jump_m, book.units)}"
    if exposure.dips != 1:
        text += f", {exposure.dips} dips"
    return f"{text}, note: {printable(exposure.note)}" if exposure.note else text


def _day(exposure: Exposure) -> str:
    day = full_date(exposure.starts_on)
    if exposure.planned_to is not None:
        day += f" to {full_date(exposure.planned_to)}"
    return f"{day} {exposure.starts_at:%H:%M}" if exposure.starts_at else day


def exposure_document(book: Book, exposure: Exposure) -> dict[str, Any]:
    """An exposure as the export has it, with what it took from each seal, by channel."""
    by_place = {
        place: dict(zip(CHANNELS, shares.as_tuple(), strict=True)) | {"total": shares.total}
        for place, shares in took(book, exposure).items()
    }
    return {
        "entry": "exposure",
        **entry_object(exposure, book.name_of(exposure.watch_id)),
        "took": by_place,
    }


def logged_document(book: Book, exposure: Exposure) -> dict[str, Any]:
    """An exposure that was just logged as JSON, with what it means for the next one."""
    return exposure_document(book, exposure) | {"meaning": meaning(book, exposure)}


def entry_document(entry: Exposure | Event, watch: str) -> dict[str, Any]:
    """An entry of the log as the export has it, with its kind."""
    kind = "exposure" if isinstance(entry, Exposure) else "event"
    return {"entry": kind, **entry_object(entry, watch)}


def entries_table(book: Book, entries: Sequence[Exposure | Event]) -> str:
    """Id, day, watch, what it was, and what it took."""
    rows = [
        (str(e.id), _date(e), printable(book.name_of(e.watch_id)), _words(book, e), _cost(book, e))
        for e in entries
    ]
    return table(("id", "day", "watch", "what", "took of 100"), rows, right=(0, 4), last=(0, 1, 4))


def _date(entry: Exposure | Event) -> str:
    return (entry.starts_on if isinstance(entry, Exposure) else entry.on).isoformat()


def _words(book: Book, entry: Exposure | Event) -> str:
    if isinstance(entry, Exposure):
        return exposure_words(book, entry)
    when = "" if entry.span is None else f", {when_words(entry)}"
    return printable(told_words(entry, book.units) + when)


def _cost(book: Book, entry: Exposure | Event) -> str:
    if not isinstance(entry, Exposure):
        return ""
    shares = took(book, entry)
    return of_hundred(max(s.total for s in shares.values())).removesuffix(" of 100") if shares else "–"


def habit_meaning(book: Book, habit: Habit) -> list[str]:
    """What a habit means for the next swim or dive, as of an exposure that was logged."""
    record = next(r for r in book.all_records() if r.watch.id == habit.watch_id)
    return at_once(record, [habit], book.practice, book.units)


def habit_document(book: Book, habit: Habit) -> dict[str, Any]:
    """A habit as the export has it, with what it means for the next swim or dive."""
    entry = {"entry": "habit", **entry_object(habit, book.name_of(habit.watch_id))}
    return entry | {"meaning": habit_meaning(book, habit)}


def habit_line(book: Book, habit: Habit) -> str:
    """One repeated exposure: id, watch, what, how often, between which days."""
    daily = habit.per_day >= 1
    often = (
        f"{plain(round(habit.per_day, 3))} a day" if daily else f"{plain(round(habit.per_day * 7, 3))} a week"
    )
    since = full_date(habit.from_on)
    until = f" to {full_date(habit.to_on)}" if habit.to_on else ""
    name = printable(book.name_of(habit.watch_id))
    text = f"{habit.id}  {name}: {exposure_words(book, habit.exposure)}, {often} from {since}{until}"
    return wrapped(text, "", "    ")


def stretch_line(book: Book, stretch: WornStretch) -> str:
    """One worn stretch: id, watch, hours a day, between which days."""
    first, last = full_date(stretch.from_on), full_date(stretch.to_on)
    days = f"on {first}" if first == last else f"{first} to {last}"
    name = printable(book.name_of(stretch.watch_id))
    return wrapped(f"{stretch.id}  {name}: worn {plain(round(stretch.hours, 2))} h a day, {days}", "", "    ")
