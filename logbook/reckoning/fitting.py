"""The seals a watch comes with: which places it has, of what material, and since when."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from logbook.reckoning.account import later_by_years
from logbook.reckoning.practice import Practice
from logbook.reckoning.values import Position, Seal, Watch


@dataclass(frozen=True, slots=True)
class Fitted:
    """A seal as its owner tells it; no dates: not known. Material None: as the others."""

    material: str | None = None
    earliest: date | None = None
    latest: date | None = None


def places(watch: Watch) -> tuple[Position, ...]:
    """The sealing places of a watch, in the order in which they are listed."""
    found: list[Position] = ["case-back", "crystal", "crown"]
    if watch.pushers:
        found.append("pushers")
    if watch.gas_valve:
        found.append("gas-valve")
    return tuple(found)


def initial_seals(
    watch: Watch, material: str, fitted: Fitted, single: Mapping[Position, Fitted], practice: Practice
) -> tuple[Seal, ...]:
    """The seals of a new watch: all of `material` as `fitted` says, but for those told one by one.

    Bought new, they are of that day. A date that is not known means from added − cap to added: a purchase
    that was not of a new watch says nothing about the age of its seals.
    """
    seals = []
    for position in places(watch):
        told = single.get(position, Fitted())
        stuff = told.material or material
        seals.append(_seal(watch, position, stuff, told if told.earliest else fitted, practice))
    return tuple(seals)


def _seal(watch: Watch, position: Position, material: str, fitted: Fitted, practice: Practice) -> Seal:
    earliest, latest = fitted.earliest, fitted.latest
    if earliest is None and watch.new_on is not None:
        earliest = latest = watch.new_on
    if earliest is None:
        latest = watch.added_on
        earliest = later_by_years(latest, -practice.material(material).cap_years)
    return Seal(position, material, earliest, latest or earliest)
