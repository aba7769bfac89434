"""What a workshop event or a fault means for the stop rules, in one sentence."""

from __future__ import annotations

from logbook.model.judge import facts
from logbook.model.validate.watch import TESTS
from logbook.model.values import DAMAGE, Event

_WET_INSIDE = "it stands until opened, dried and tested"
# Kind, and of a test how it ended -> what it means.
_MEANINGS = {
    ("pressure-test", True): "A pass is proof up to its pressure on its day, and resets no wear.",
    ("pressure-test", False): "It stands until opened, mended and passed at that pressure; if not opened, "
    "until it is passed on two days.",
    ("condensation-test", True): "It settles fog that sealed air explains. It is no pressure test.",
    ("condensation-test", False): f"It counts as water inside: {_WET_INSIDE}.",
    ("water-inside", None): "To a workshop within days: what is wet inside corrodes; " + _WET_INSIDE + ".",
    ("fog", None): f"Unless its temperatures show that sealed air explains it, {_WET_INSIDE}.",
    ("knock", None): "It stands until a pressure test is passed after it: think twice; keep it dry where "
    "crystal, crown or bezel moved.",
}


def meaning(event: Event) -> str:
    """What an event does to the books, in one sentence."""
    if event.kind == "gaskets":
        return "The seals named start again at zero; the watch was opened and needs a pressure test after it."
    if facts.opens(event):
        return "It opens the case: the watch needs a passed pressure test after it."
    found = _MEANINGS.get((event.kind, event.passed if event.kind in TESTS else None))
    if found is not None:
        return found
    if event.kind in DAMAGE:
        return "It stands until the damage is repaired and a pressure test is passed after it."
    return "It does not open the case."
