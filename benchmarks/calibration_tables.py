"""The tables of `calibration.py`: what was foretold of invented owners beside what was true."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from calibration_dates import WEAR_WORLDS, Row
from calibration_lives import HORIZON_DAYS
from calibration_tests import Foretold, briers_of
from calibration_worlds import WORLDS
from numpy.typing import NDArray

Array = NDArray[np.float64]
Chosen = NDArray[np.bool_]

DAYS_A_MONTH = 30.4375
SELF_CONSISTENCY = (
    "Under our own law the truth is drawn from the very ranges that the bands are made of: what its rows "
    "show is a check that the program agrees with itself, not that it agrees with watches."
)


@dataclass(frozen=True)
class Table:
    """A table as it is printed."""

    title: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]

    def markdown(self) -> str:
        """As Markdown, under its title."""
        lines = [f"**{self.title}**", "", _line(self.head), _line(["---", *["---:"] * (len(self.head) - 1)])]
        return "\n".join([*lines, *(_line(row) for row in self.rows)])

    def plain(self) -> str:
        """In columns, under its title."""
        whole = (self.head, *self.rows)
        widths = [max(len(row[n]) for row in whole) for n in range(len(self.head))]
        lines = [self.title]
        for name, *cells in whole:
            shown = [cell.rjust(width) for cell, width in zip(cells, widths[1:], strict=True)]
            lines.append("  ".join([name.ljust(widths[0]), *shown]))
        return "\n".join(lines)


def _line(cells: Sequence[str]) -> str:
    return f"| {' | '.join(cells)} |"


class Seals:
    """All rows as columns; `first` and `limits` choose one seal of each owner."""

    def __init__(self, rows: Sequence[Row]) -> None:
        self.columns = {name: np.array([getattr(row, name) for row in rows]) for name in Row._fields}

    def __getitem__(self, name: str) -> Array:
        return self.columns[name]

    def groups(self) -> list[tuple[str, Chosen]]:
        """Owners by what is known of the time before the log."""
        known = self["known_fitting"].astype(bool)
        open_still = self["open_history"].astype(bool)
        return [
            ("all", np.ones(len(known), dtype=bool)),
            ("fitted in the log", known & ~open_still),
            ("fitted before it, date known", known & open_still),
            ("fitting date not known", ~known),
        ]

    def held(self, world: int, low: str = "low", high: str = "high") -> Chosen:
        """Where a band of the wear share held the true one."""
        truth = self["true_share"][:, world]
        return (self[low] <= truth) & (truth <= self[high])

    def error(self, world: int, on: Array) -> Array:
        """Months from the true day to a foretold one; beyond the horizon counts as its end."""
        truth = np.minimum(self["true_day"][:, world], HORIZON_DAYS)
        error: Array = (np.minimum(on, HORIZON_DAYS) - truth) / DAYS_A_MONTH
        return error


def tables_of(rows: Sequence[Row], tests: Sequence[Sequence[Foretold]]) -> list[Table]:
    """Every table: by what is known, by world, of dates, of tests."""
    seals = Seals(rows)
    return [_bands(seals), _windows(seals), _by_age(seals), _dates(seals), _tests(tests), _grown(tests[0])]


def _bands(seals: Seals) -> Table:
    limits = seals["limits"].astype(bool)
    groups = seals.groups()
    found = []
    for n, world in enumerate(WEAR_WORLDS):
        held, alone = seals.held(n), seals.held(n, "drawn_low", "drawn_high")
        score = seals["score_held"][:, n].astype(bool)
        cells = [_percent(held[limits & group]) for _, group in groups]
        found.append((world.name, *cells, _percent(alone[limits]), _percent(score[limits])))
    head = [f"{name} ({np.sum(limits & group)})" for name, group in groups]
    return Table(
        "The 80 % band of the wear share today held the true one (the seal that limits; owners in brackets)",
        ("world", *head, "drawn constants alone", "band of the score"),
        tuple(found),
    )


def _windows(seals: Seals) -> Table:
    first = seals["first"].astype(bool)
    found = []
    for n, world in enumerate(WEAR_WORLDS):
        cells = [_percent(_inside(seals, n)[first & group]) for _, group in seals.groups()]
        day = seals["true_day"][:, n]
        before, after = day < seals["p10"], day > seals["p90"]
        beyond = int(np.sum(~np.isfinite(day[first])))
        found.append((world.name, *cells, _percent(before[first]), _percent(after[first]), str(beyond)))
    head = [name for name, _ in seals.groups()]
    return Table(
        "The window from the 10 % to the 90 % date held the day on which the true wear share reaches 1",
        ("world", *head, "all: before it", "all: after it", "true day beyond 10 years"),
        tuple(found),
    )


def _inside(seals: Seals, world: int) -> Chosen:
    """True when the day lies in the window; a day beyond the horizon does when the window reaches there."""
    day = seals["true_day"][:, world]
    inside: Chosen = (seals["p10"] <= day) & (day <= seals["p90"])
    return inside


def _by_age(seals: Seals) -> Table:
    first, share = seals["first"].astype(bool), seals["share"]
    parts = [("not used up today by the books", share < 1), ("used up already", share >= 1)]
    found = []
    for name, part in parts:
        for group_name, group in seals.groups():
            chosen = first & part & group
            if not chosen.any():
                continue
            day = seals["true_day"][:, 0]
            error, fixed = seals.error(0, seals["p50"]), seals.error(0, seals["fixed"])
            found.append((
                f"{name}, {group_name}", str(int(chosen.sum())), _percent(_inside(seals, 0)[chosen]),
                _percent((day < seals["p10"])[chosen]), _percent((day > seals["p90"])[chosen]),
                _months(np.abs(error[chosen])), _signed(error[chosen]), _months(np.abs(fixed[chosen])),
                _signed(fixed[chosen]),
            ))  # fmt: skip
    return Table(
        "Own law: the window and the middle date, by whether the interval is used up",
        ("owners", "n", "in the window", "before", "after", "error of the middle date, months", "bias",
         "error of the 36-month date", "bias"),
        tuple(found),
    )  # fmt: skip


def _dates(seals: Seals) -> Table:
    first = seals["first"].astype(bool)
    known = first & seals["known_fitting"].astype(bool)
    found = []
    for n, world in enumerate(WEAR_WORLDS):
        cells = []
        for chosen in (first, known, first & ~known):
            error, fixed = seals.error(n, seals["p50"])[chosen], seals.error(n, seals["fixed"])[chosen]
            best = _best_interval(seals, n, chosen)
            cells.append(f"{_months(np.abs(error))} ({_signed(error)})")
            cells.append(f"{_months(np.abs(fixed))} ({_signed(fixed)})")
            if chosen is first:
                cells.append(_months(np.abs(best)))
        found.append((world.name, *cells))
    return Table(
        "Mean absolute error (mean error) of the due date, months",
        ("world", "middle date", "36-month date", "best fixed interval", "known fitting: middle", "36-month",
         "unknown: middle", "36-month"),
        tuple(found),
    )  # fmt: skip


def _best_interval(seals: Seals, world: int, chosen: Chosen) -> Array:
    """Errors of the one interval that would have had the least of them, known afterwards only."""
    anchor = seals["fixed_anchor"][chosen]
    truth = np.minimum(seals["true_day"][:, world][chosen], HORIZON_DAYS)
    error: Array = (anchor + np.median(truth - anchor) - truth) / DAYS_A_MONTH
    return error


def _tests(tests: Sequence[Sequence[Foretold]]) -> Table:
    found = []
    for world, rows in zip(WORLDS, tests, strict=True):
        b = briers_of(rows)
        found.append((
            world.name, str(b.tests), f"{100 * b.passed:.1f} %", f"{100 * b.foretold:.1f} %",
            f"{b.chance:.4f}", f"{b.prior:.4f}", f"{b.fixed:.4f}", f"{b.base:.4f}", f"{b.truth:.4f}",
            _less(b.chance, b.fixed), _less(b.chance, b.base), _less(b.truth, b.fixed),
        ))  # fmt: skip
    return Table(
        "Brier score of the chance to pass the yearly pressure test (less is better)",
        ("world", "tests", "passed", "foretold, mean", "chance", "prior alone", "fixed interval’s best",
         "one chance for all", "true chances", "chance below fixed interval", "below one chance",
         "most that is possible"),
        tuple(found),
    )  # fmt: skip


def _grown(rows: Sequence[Foretold]) -> Table:
    """Own law: how the chance does with few and with many tests behind it."""
    found = []
    for name, least, most in (
        ("none", 0, 0),
        ("1 to 4", 1, 4),
        ("5 to 9", 5, 9),
        ("10 or more", 10, 10**6),
    ):
        chosen = [row for row in rows if least <= row.tests_before <= most]
        if not chosen:
            continue
        b = briers_of(chosen)
        found.append((
            name, str(b.tests), f"{100 * b.passed:.1f} %", f"{100 * b.foretold:.1f} %", f"{b.chance:.4f}",
            f"{b.fixed:.4f}", f"{b.truth:.4f}", _less(b.chance, b.fixed), _less(b.truth, b.fixed),
        ))  # fmt: skip
    return Table(
        "Own law: the same by how many tests the owner had before",
        ("tests before", "tests", "passed", "foretold, mean", "chance", "fixed interval’s best",
         "true chances", "chance below fixed interval", "most that is possible"),
        tuple(found),
    )  # fmt: skip


def _percent(held: NDArray[np.generic]) -> str:
    return f"{100 * np.mean(held):.1f} %" if len(held) else "–"


def _months(errors: Array) -> str:
    return f"{np.mean(errors):.1f}" if len(errors) else "–"


def _signed(errors: Array) -> str:
    return f"{np.mean(errors):+.1f}".replace("-", "−") if len(errors) else "–"


def _less(score: float, than: float) -> str:
    return f"{100 * (1 - score / than):.1f} %".replace("-", "−") if than > 0 else "–"
