"""What a mark says: the pressure it speaks of, what common practice takes it to allow, and its words."""

from __future__ import annotations

from logbook.reckoning import wear
from logbook.reckoning.practice import MarkRow, Practice
from logbook.reckoning.values import MarkUnit, Watch


def mark_limit_pa(watch: Watch, practice: Practice) -> float:
    """The pressure in Pa that the mark is taken to speak of; for a mark without a number, the least usual."""
    return wear.reference_mark_pa(watch, practice)


def mark_row(watch: Watch, practice: Practice) -> MarkRow:
    """The last row of the table of marks that fits a watch."""
    marked_bar = (watch.marked_pa or 0.0) / 1e5
    fitting = [r for r in practice.marks if watch.mark in r.marks and marked_bar >= r.at_least_bar - 1e-9]
    return fitting[-1]


def mark_words(watch: Watch) -> str:
    """The mark as sentences and tables print it, its number in the unit of the dial."""
    words = {
        "unmarked": "unmarked",
        "unknown": "unknown",
        "water-resistant": "water-resistant",
        "divers": "diver’s",
        "divers-mixed-gas": "diver’s, mixed gas",
    }[watch.mark]
    if watch.marked_pa is None:
        return words
    number = dial_number(watch.marked_pa, watch.marked_in)
    return number if watch.mark == "water-resistant" else f"{words} {number}"


def dial_number(marked_pa: float, marked_in: MarkUnit) -> str:
    """A marked pressure as the dial has it: `20 bar`, or `200 m` by the trade's 10 m = 1 bar."""
    return f"{marked_pa / 1e4:g} m" if marked_in == "m" else f"{marked_pa / 1e5:g} bar"
