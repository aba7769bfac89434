"""An entry of any kind, described, and changed as words or options say."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from logbook.cli.entries import (
    entry_document,
    exposure_lines,
    habit_document,
    habit_line,
    habit_meaning,
    logged_document,
    stretch_line,
)
from logbook.cli.options.event import Told
from logbook.cli.options.watch import hours_of
from logbook.cli.output import wrapped
from logbook.cli.wearing import per_day
from logbook.cli.workshop import event_line, new_gaskets, taken_before_line
from logbook.errors import BadInput
from logbook.files.json.writing import entry_object
from logbook.model.validate.exposure import check_habit, check_stretch
from logbook.model.validate.make_event import change_event
from logbook.model.values import Habit, WatchRecord, WornStretch
from logbook.record.reading.entries import kind_of
from logbook.record.reading.glance import read_event, read_exposure
from logbook.record.record import Book
from logbook.text.lines import amend_words
from logbook.text.planned import refuse_past_plan

Described = tuple[dict[str, Any], str]
_Lines = tuple[dict[str, Any], str, list[str]]  # what it means in lines of their own


@dataclass(frozen=True)
class Changes:
    """What `logbook amend` was told, as it was typed."""

    words: str
    told: Told
    seals: list[str] | None
    per: tuple[str, str] | None
    since: str | None
    until: str | None
    hours: str | None

    def only(self, kind: str, *allowed: str) -> None:
        """Raises BadInput when something was told that this kind of entry does not have, or nothing."""
        said = {
            "words": bool(self.words),
            "options": self.told != Told() or bool(self.seals),
            "--per": self.per is not None,
            "--from": self.since is not None,
            "--to": self.until is not None,
            "--hours": self.hours is not None,
        }
        for name, given in said.items():
            if given and name not in allowed:
                what = {"words": "words of a line", "options": "options of an event"}.get(name, name)
                raise BadInput(f"This entry is {kind}, which {what} do not change.", where=name)
        if not any(said.values()):
            raise BadInput(
                "What changes? Say it in words such as '23m rinsed', or in options.", where="WORDS"
            )


def describe(book: Book, entry_id: int) -> Described:
    """An entry as JSON and as a line, with the lines that say what it means below."""
    document, line, more = _described(book, entry_id)
    return document, "\n".join((line, *more))


def named(book: Book, entry_id: int) -> Described:
    """An entry as JSON and as a line alone: of one that goes it is no matter what it would mean."""
    return _described(book, entry_id)[:2]


def _described(book: Book, entry_id: int) -> _Lines:
    return _DESCRIBE[kind_of(book.rows, entry_id)](book, entry_id)


def amended(book: Book, entry_id: int, changes: Changes) -> Described:
    """Writes the changes and hands back the entry as it is now."""
    _AMEND[kind_of(book.rows, entry_id)](book, entry_id, changes)
    return describe(book, entry_id)


def _describe_exposure(book: Book, entry_id: int) -> _Lines:
    found = read_exposure(book.rows, entry_id)
    line, *more = exposure_lines(book, found)
    return logged_document(book, found), line, more


def _describe_event(book: Book, entry_id: int) -> _Lines:
    found = read_event(book.rows, entry_id)
    record = _record_of(book, found.watch_id)
    line, more = event_line(found, record.watch.name, book.units), taken_before_line(found, record)
    return entry_document(found, record.watch.name), line, more


def _describe_habit(book: Book, entry_id: int) -> _Lines:
    _, found = _habit(book, entry_id)
    more = [wrapped(line, "", "    ") for line in habit_meaning(book, found)]
    return habit_document(book, found), habit_line(book, found), more


def _describe_stretch(book: Book, entry_id: int) -> _Lines:
    record, found = _stretch(book, entry_id)
    return {"entry": "worn", **entry_object(found, record.watch.name)}, stretch_line(book, found), []


def _habit(book: Book, entry_id: int) -> tuple[WatchRecord, Habit]:
    return next((r, h) for r in book.all_records() for h in r.habits if h.id == entry_id)


def _stretch(book: Book, entry_id: int) -> tuple[WatchRecord, WornStretch]:
    return next((r, s) for r in book.all_records() for s in r.stretches if s.id == entry_id)


def _record_of(book: Book, watch_id: int | None) -> WatchRecord:
    return next(r for r in book.all_records() if r.watch.id == watch_id)


def _amend_exposure(book: Book, entry_id: int, changes: Changes) -> None:

    before = read_exposure(book.rows, entry_id)
    after = amend_words(
        before,
        _exposure_words(changes, book),
        practice=book.practice,
        settings=book.settings,
        today=book.today,
        watch=_record_of(book, before.watch_id).watch,
    )
    refuse_past_plan(after, book.today, "WORDS")
    book.amend(after)


def _exposure_words(changes: Changes, book: Book) -> str:
    """The words, with `--on` and `--note` as the words that mean the same."""
    told = changes.told
    rest = replace(told, on=None, note=None)
    if rest == Told() and (told.on is not None or told.note is not None):
        replace(changes, told=rest, words=changes.words or "-").only("an exposure", "words")
    else:
        changes.only("an exposure", "words")
    words, mark, note = changes.words.partition(" -- ")
    if told.on is not None:
        words = f"{words} on {book.day(told.on, '--on')}"
    if told.note is not None:
        mark, note = " -- ", told.note
    return f"{words}{mark}{note}"


def _amend_event(book: Book, entry_id: int, changes: Changes) -> None:

    changes.only("an event", "options")
    before = read_event(book.rows, entry_id)
    record = _record_of(book, before.watch_id)
    fields = changes.told.fields(book)
    if changes.seals:
        fields["seals"] = new_gaskets(record, changes.seals, every=False)
    after = change_event(before, record.watch, book.today, book.practice, **fields)
    book.amend(after)


def _amend_habit(book: Book, entry_id: int, changes: Changes) -> None:

    changes.only("a habit", "words", "--per", "--from", "--to")
    record, habit = _habit(book, entry_id)
    if changes.words:
        exposure = amend_words(
            habit.exposure,
            changes.words,
            practice=book.practice,
            settings=book.settings,
            today=book.today,
            watch=record.watch,
        )
        habit = replace(habit, exposure=exposure)
    if changes.per is not None:
        habit = replace(habit, per_day=per_day(*changes.per))
    if changes.since is not None:
        habit = replace(habit, from_on=book.day(changes.since, "--from"))
    if changes.until is not None:
        habit = replace(habit, to_on=book.day(changes.until, "--to", ahead=True))
    book.amend(check_habit(habit, record.watch, book.today))


def _amend_stretch(book: Book, entry_id: int, changes: Changes) -> None:

    changes.only("a worn stretch", "--from", "--to", "--hours")
    record, stretch = _stretch(book, entry_id)
    if changes.since is not None:
        stretch = replace(stretch, from_on=book.day(changes.since, "--from"))
    if changes.until is not None:
        stretch = replace(stretch, to_on=book.day(changes.until, "--to"))
    if changes.hours is not None:
        stretch = replace(stretch, hours=hours_of(changes.hours, "--hours"))
    book.amend(check_stretch(stretch, record.watch, book.today))


_DESCRIBE: dict[str, Callable[[Book, int], _Lines]] = {
    "exposure": _describe_exposure,
    "event": _describe_event,
    "habit": _describe_habit,
    "worn_stretch": _describe_stretch,
}
_AMEND: dict[str, Callable[[Book, int, Changes], None]] = {
    "exposure": _amend_exposure,
    "event": _amend_event,
    "habit": _amend_habit,
    "worn_stretch": _amend_stretch,
}
