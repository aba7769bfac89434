"""What a workshop event or a fault means for the stop rules, in one sentence."""

from __future__ import annotations

from logbook.reckoning import facts
from logbook.reckoning.values import DAMAGE, FAULTS, Event


def meaning(event: Event) -> str:
    """What an event does to the books, in one sentence."""
    if event.kind == "gaskets":
        return "The seals named start again at zero; the watch was opened and needs a pressure test after it."
    if facts.opens(event):
        return "It opens the case: the watch needs a passed pressure test after it."
    if event.kind == "pressure-test":
        if event.passed:
            return "A pass lifts stop rules and resets no wear."
        return "A failure stands until a pressure test is passed after it."
    if event.kind == "condensation-test":
        return (
            "A pass alone lifts no stop rule."
            if event.passed
            else "A failure stands until a pressure test is passed."
        )
    if event.kind in DAMAGE:
        return "It stands until the damage is repaired and a pressure test is passed after it."
    if event.kind in (*FAULTS, "knock"):
        return "It stands until a pressure test is passed after it."
    return "It does not open the case."
