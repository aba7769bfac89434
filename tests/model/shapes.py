"""What the tests of profiles share: shapes from minutes and depths, and what they cost."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import astuple, dataclass
from itertools import pairwise

from logbook.model.practice import Practice
from logbook.model.values import Exposure, Position, ProfilePoint, Shares
from logbook.model.wear import charge, profiles, wear
from logbook.model.wear.columns import columns_of, real, whole
from logbook.model.wear.profiles import Pieces
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
    return [(round(c.range / 1e5, 9), c.count) for c in wear.course_of(of, PRACTICE).pressure]


@dataclass(frozen=True)
class Piece:
    """One piece of the way through water, alone: minutes, water and case in °C, lag in minutes."""

    minutes: float
    water_from_c: float
    water_to_c: float
    case_from_c: float
    lag_min: float

    @property
    def alone(self) -> Pieces:
        """As columns of one."""
        minutes, water_from, water_to, case, lag = (real([each]) for each in astuple(self))
        return Pieces.through(whole([0]), minutes, water_from, water_to, lag, case)

    def case_c(self, minutes: float) -> float:
        """Case temperature some minutes into it."""
        return float(self.alone.case_c(whole([0]), real([minutes]))[0])

    def turning_c(self) -> list[float]:
        """Case temperatures where it turns inside, if it does, and at the end."""
        return [*self.alone.turns()[1].tolist(), *self.alone.case_to_c.tolist()]

    def aged(self, practice: Practice) -> list[float]:
        """What the ageing rate adds up to, step by step."""
        added: list[float] = self.alone.aged(wear.arrhenius(practice))[1].tolist()
        return added


def pieces(of: Exposure, practice: Practice) -> list[Piece]:
    """The way of an exposure with a profile."""
    p = profiles.pieces(columns_of([of]), whole([0]), practice)
    columns = (p.minutes, p.water_from_c, p.water_to_c, p.case_from_c, p.lag_min)
    return [Piece(*row) for row in zip(*(column.tolist() for column in columns), strict=True)]


def seconds(minutes: int, every: int) -> range:
    return range(0, minutes * 60 + 1, every)


def depth_at(shape: Sequence[ProfilePoint], second: float) -> float:
    """Depth on the straight lines between the points."""
    a, b = next((a, b) for a, b in pairwise(shape) if a.time_s <= second <= b.time_s)
    return a.depth_m + (b.depth_m - a.depth_m) * (second - a.time_s) / (b.time_s - a.time_s)
