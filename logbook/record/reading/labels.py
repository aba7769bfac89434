"""What a step of undo is called, as a person says it: `strike dive of 20 Feb 2026 from Blue bezel`."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from logbook.errors import NotFound
from logbook.model.values import DAMAGED_PART, Event, Exposure
from logbook.record.reading.entries import Kind, kind_of
from logbook.record.reading.rows import Rows

_EVENTS: dict[str, str] = {
    "gaskets": "new gaskets",
    "opened": "opening",
    "battery": "battery change",
    "strap": "strap and bars",
    "movement": "movement service",
    "repaired": "repair",
    "water-inside": "water inside",
    **{kind: f"{part} damage" for kind, part in DAMAGED_PART.items()},
}
_STRUCK: dict[Kind, str] = {  # what it was, and where it has one its day
    "exposure": "activity, starts_on",
    "event": "kind, happened_on",
    "habit": "'habit ' || activity, NULL",
    "worn_stretch": "'worn time', from_on",
}


def day(on: date) -> str:
    """`20 Feb 2026`."""
    return f"{on.day} {on:%b %Y}"


def exposure(one: Exposure) -> str:
    """`dive of 20 Feb 2026`."""
    return f"{one.activity} of {day(one.starts_on)}"


def event(one: Event) -> str:
    """`battery change of 10 Feb 2026`."""
    return f"{_EVENTS.get(one.kind, one.kind.replace('-', ' '))} of {day(one.on)}"


def striking(rows: Rows, entry_id: int) -> str:
    """`strike dive of 20 Feb 2026 from Blue bezel`; raises NotFound for an id that is no entry's."""
    kind = kind_of(rows, entry_id)
    asked = f"SELECT {_STRUCK[kind]}, w.name FROM {kind} e JOIN watch w ON w.id = e.watch_id WHERE e.id = ?"
    for what, on, name in rows(asked, (entry_id,)):
        words = _EVENTS.get(what, what.replace("-", " ")) if kind == "event" else what
        dated = f" of {day(date.fromisoformat(str(on)))}" if on else ""
        return f"strike {words}{dated} from {name}"
    raise NotFound(f"There is no entry {entry_id} in the record.", where="id")


def snoozing(rows: Rows, item_ids: Sequence[str], until: date) -> str:
    """`snooze gaskets and pressure test of Lido quartz until 1 Apr 2028`."""
    watch_id, _, _ = item_ids[0].partition(":")
    words = " and ".join(_task_words(item_id) for item_id in item_ids)
    if watch_id.isdecimal():
        for (name,) in rows("SELECT name FROM watch WHERE id = ?", (int(watch_id),)):
            words += f" of {name}"
    return f"snooze {words} until {day(until)}"


def _task_words(item_id: str) -> str:
    """The task of a due item's id."""
    parts = item_id.split(":")
    return parts[1].replace("-", " ") if len(parts) > 1 else item_id
