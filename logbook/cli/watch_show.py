"""A watch in words and as JSON."""

from __future__ import annotations

from typing import Any

from logbook.cli.entries import entries_table, entry_document
from logbook.cli.output import iso, pairs, wrapped
from logbook.cli.score import document, fitted_words, score_text
from logbook.files.json.writing import watch_object
from logbook.model.due.services import in_order
from logbook.model.marks import mark_words
from logbook.model.practice import Practice
from logbook.model.text import printable
from logbook.model.values import Watch, WatchRecord
from logbook.model.wear.charge import current_seals
from logbook.physics.worked import plain
from logbook.record.reading.glance import read_log
from logbook.record.record import Book
from logbook.text.newwatch import use_beyond_mark
from logbook.text.phrases import full_date, place

LAST_ENTRIES = 5


def watch_document(record: WatchRecord) -> dict[str, Any]:
    """What the owner said of a watch, with its seals, as the export has it."""
    return watch_object(record)


def summary(record: WatchRecord, what: str) -> str:
    """One or two lines after a watch was written."""
    watch = record.watch
    name = printable(watch.name)
    seals = ", ".join(
        f"{place(s.position)} {s.material} {fitted_words(s)}" for s in current_seals(record.seals)
    )
    return "\n".join(
        (
            wrapped(
                f"{name} {what}: {mark_words(watch)}, {watch.use}, recorded from {watch.recorded_from}.",
                "",
                "  ",
            ),
            wrapped(f"Seals: {seals}.", "", "  "),
        )
    )


def beyond_mark(record: WatchRecord, practice: Practice) -> list[str]:
    """A line where the stated use of a watch on the shelf is more than its mark allows."""
    said = "" if record.watch.retired_on else use_beyond_mark(record.watch, practice)
    return [wrapped(said)] if said else []


def show_document(book: Book, record: WatchRecord) -> dict[str, Any]:
    """The watch, how it stands, what is next, and its last entries."""
    standing = book.foretold(record)
    log = read_log(book.rows, record.watch.id, limit=LAST_ENTRIES)
    return {
        "watch": watch_document(record),
        "standing": document(standing),
        "due": [
            {"id": i.id, "task": i.task, "seal": i.position, "due": iso(i.due), "stage": i.stage}
            for i in standing.due
        ],
        "last_entries": [entry_document(entry, record.watch.name) for entry in log],
    }


def show_text(book: Book, record: WatchRecord) -> str:
    """The same in plain text."""
    standing = book.foretold(record)
    log = read_log(book.rows, record.watch.id, limit=LAST_ENTRIES)
    score = score_text(standing, book.units)
    lines = [printable(record.watch.name), pairs(_facts(record), "  "), "", score, "", "Next:"]
    lines += [
        wrapped(f"  {full_date(service.due):>11}  {service.in_full}", "", " " * 15)
        for service in in_order(standing.services)
    ]
    lines += [
        "",
        f"The last entries (`logbook log` lists all):\n{entries_table(book, log)}" if log else "",
    ]
    return "\n".join(lines)


def _facts(record: WatchRecord) -> list[tuple[str, str]]:
    """What was said of the watch, each with its name."""
    w = record.watch
    pushers = "pushers that its maker allows in water" if w.pushers_wet else "pushers"
    facts = [
        ("mark", mark_words(w)),
        ("crown", {"screwed": "screwed down", "pushed": "pushed in"}[w.crown]),
        (
            "also has",
            ", ".join(what for what, has in ((pushers, w.pushers), ("gas valve", w.gas_valve)) if has),
        ),
        ("case, movement", f"{w.case_material}, {w.movement}"),
        ("use", w.use),
        ("made", years_made(w)),
        ("bought", _bought(record)),
        ("on record from", f"{w.recorded_from}, added {w.added_on}"),
        (
            "worn",
            f"{plain(w.worn_h)} h a day; crown {plain(w.winds)}, pushers {plain(w.presses)} dry uses a week",
        ),
        ("intervals", ", ".join(f"{task} {months} months" for task, months in w.intervals_months.items())),
        ("confirmed up to", w.confirmed_on.isoformat() if w.confirmed_on else ""),
        ("reference", printable(w.reference)),
        ("group", printable(w.group)),
        ("note", printable(w.note)),
        ("retired", w.retired_on.isoformat() if w.retired_on else ""),
    ]
    return [(name, value) for name, value in facts if value]


def years_made(watch: Watch) -> str:
    """`in 1968`, or between which years; empty where that is not known."""
    if watch.made_from is None:
        return ""
    if watch.made_from == watch.made_to:
        return f"in {watch.made_from}"
    return f"between {watch.made_from} and {watch.made_to}"


def _bought(record: WatchRecord) -> str:
    watch = record.watch
    if watch.new_on is not None:
        return f"new on {watch.new_on}; its maker's test is the maker's, not yours"
    return watch.bought_on.isoformat() if watch.bought_on else ""
