"""Profiles of invented dives: a shape in shares of time and depth, stretched to the numbers of a dive."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from random import Random

from logbook.demo.blocks import NUMBER, POINTS, WHOLE, Block, Kind
from logbook.model.values import ProfilePoint

KEYS: Mapping[str, Kind] = {"points": POINTS, "every_s": WHOLE, "surface_k": NUMBER, "waver_m": NUMBER}


@dataclass(frozen=True, slots=True)
class Shape:
    """How a dive runs, in shares of its time and greatest depth, and how its water and diver behave."""

    times: tuple[float, ...]  # from 0 to 1
    depths: tuple[float, ...]  # from 0 to 1
    every_s: int
    surface_k: float  # how much warmer the surface is than the greatest depth
    waver_m: float  # no diver holds a depth exactly

    def share_at(self, time_share: float) -> float:
        """Depth as a share of the greatest, in straight lines from point to point."""
        n = min(max(bisect_right(self.times, time_share) - 1, 0), len(self.times) - 2)
        span = self.times[n + 1] - self.times[n]
        into = (time_share - self.times[n]) / span
        return self.depths[n] + into * (self.depths[n + 1] - self.depths[n])


def shape_of(block: Block) -> Shape:
    """A shape from its table; raises BadInput when its points do not run from 0 to 100 % of the time."""
    block = block.checked(KEYS, "points")
    times, depths = zip(*((t / 100, d / 100) for t, d in block.get("points")), strict=True)
    if times[0] != 0 or times[-1] != 1 or any(b <= a for a, b in pairwise(times)):
        raise block.fault("points", "the times must run from 0 to 100, each later than the one before.")
    if max(depths) != 1:
        raise block.fault("points", "one point must be at 100 % of the depth.")
    return Shape(
        times, depths, block.get("every_s", 60), block.get("surface_k", 0.0), block.get("waver_m", 0.0)
    )


def profile_from(
    shape: Shape, depth_m: float, duration_s: int, water_c: float, dice: Random
) -> tuple[ProfilePoint, ...]:
    """A profile of this shape, from surface to surface, with its deepest point at exactly `depth_m`."""
    seconds = [*range(0, duration_s, shape.every_s), duration_s]
    shares = [shape.share_at(s / duration_s) for s in seconds]
    deepest = max(range(len(shares)), key=shares.__getitem__)
    points = []
    for n, (at_s, share) in enumerate(zip(seconds, shares, strict=True)):
        wavered_m = share * depth_m + dice.uniform(-shape.waver_m, shape.waver_m)
        at_m = depth_m if n == deepest else min(max(wavered_m, 0.1), depth_m) if share else 0.0
        celsius = water_c + shape.surface_k * (1 - at_m / depth_m)
        points.append(ProfilePoint(float(at_s), round(at_m, 1), round(celsius, 1)))
    return tuple(points)
