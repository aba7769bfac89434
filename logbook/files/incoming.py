"""Exposures on their way in from a file: each with its place there and what tells it apart from others."""

from __future__ import annotations

from dataclasses import dataclass

from logbook.model.values import Exposure


@dataclass(frozen=True, slots=True)
class Incoming:
    """One exposure of a file, validated; it has a watch."""

    place: str  # `row 3`, `line 120`
    exposure: Exposure
    origin: str  # what it was in the file: the same text for the same watch is the same exposure
    warnings: tuple[str, ...] = ()
