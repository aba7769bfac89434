"""What the tests of profiles share: shapes from minutes and depths, and what they cost."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from logbook.model.values import Exposure, Position, ProfilePoint, Shares
from logbook.model.wear import charge, profiles
from tests.model.builders import PRACTICE, exposure, record

GATE_M = 0.7  # of practice.toml
POSITIONS: tuple[Position, ...] = ("case-back", "crystal", "crown")


def points(*of: tuple[float, ...]) -> tuple[ProfilePoint, ...]:
    """Points from (minutes, depth) or (minutes, depth, °C)."""
    return tuple(ProfilePoint(minutes * 60, *rest) for minutes, *rest in of)


def square(depth_m: float, minutes: float, way_min: float = 1.0) -> tuple[ProfilePoint, ...]:
    """Down in some minutes, along the bottom, and up in as many."""
    return points((0, 0.0), (way_min, depth_m), (minutes - way_min, depth_m), (minutes, 0.0))


def dive(*of: tuple[float, ...], **given_: object) -> Exposure:
    """A dive with a profile from minutes and depths, its depth and duration the profile's unless given."""
    shape = points(*of)
    plain = {"depth_m": max(p.depth_m for p in shape), "duration_s": round(shape[-1].time_s)}
    return exposure(profile=shape, **(plain | given_))


def cost(of: Exposure, position: Position = "crown") -> Shares:
    """What an exposure adds to a seal of a watch worn half the day."""
    return charge.preview(record(), of, PRACTICE)[position]


def bars(of: Exposure) -> list[tuple[float, float]]:
    """Pressure cycles as (bar, count); 10 m are 1 bar here."""
    return [(round(c.range / 1e5, 9), c.count) for c in profiles.pressure_cycles(of, PRACTICE)]


def seconds(minutes: int, every: int) -> range:
    return range(0, minutes * 60 + 1, every)


def depth_at(shape: Sequence[ProfilePoint], second: float) -> float:
    """Depth on the straight lines between the points."""
    a, b = next((a, b) for a, b in pairwise(shape) if a.time_s <= second <= b.time_s)
    return a.depth_m + (b.depth_m - a.depth_m) * (second - a.time_s) / (b.time_s - a.time_s)
