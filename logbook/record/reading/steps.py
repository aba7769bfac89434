"""Steps of undo in words: when it was done, what it was, and how much it changed."""

from __future__ import annotations

from logbook.model.text import listed, printable
from logbook.record.writing.undo import Step

# What of a step is counted in words; what belongs to these is not counted apart.
_THINGS = {
    "watch": ("watch", "watches"),
    "exposure": ("exposure", "exposures"),
    "event": ("event", "events"),
    "seal": ("seal", "seals"),
    "habit": ("habit", "habits"),
    "worn_stretch": ("worn stretch", "worn stretches"),
}


def when_words(step: Step) -> str:
    """Day and time on the clock of this machine: `2026-03-15 09:30`."""
    return f"{step.done_at.astimezone():%Y-%m-%d %H:%M}"


def step_words(step: Step) -> str:
    """The label, and what it changed where that is more than one thing."""
    counts = [
        f"{count} {words[0] if count == 1 else words[1]}"
        for table, words in _THINGS.items()
        if (count := step.changes.get(table, 0))
    ]
    many = sum(step.changes.get(table, 0) for table in _THINGS) > 1
    return printable(step.label) + (f" ({listed(counts, 'and')})" if many else "")
