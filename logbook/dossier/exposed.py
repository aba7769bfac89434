"""What the watch was exposed to, in ready words: sums, extremes, the hardest, the deepest profiles."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from logbook.dossier import words
from logbook.dossier.words import NONE, Table, typed
from logbook.model.judge import since
from logbook.model.judge.standing import Standing
from logbook.model.practice import Practice
from logbook.model.values import Exposure, Units
from logbook.model.wear import wear
from logbook.record.reading import charged, summing
from logbook.record.reading.rows import Rows
from logbook.record.reading.summing import ActivitySum
from logbook.text import quantities
from logbook.text.phrases import full_date

ACTIVITIES, HARDEST, HABITS, PROFILES = 6, 10, 2, 3  # listed at most
ACTIVITY_LENGTH, NOTE_LENGTH = 20, 100


@dataclass(frozen=True, slots=True)
class Curve:
    """Depth over time of one exposure; depths in the unit of the page, named by `unit`."""

    label: str
    unit: str
    minutes: tuple[float, ...]
    depths: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Exposed:
    """All that the page says of exposures."""

    activities: Table
    repeated: tuple[str, ...]
    extremes: tuple[tuple[str, str], ...]
    hardest: Table
    curves: tuple[Curve, ...]


def gather(rows: Rows, standing: Standing, practice: Practice, units: Units, with_notes: bool) -> Exposed:
    """What is on record up to the day of `standing`."""
    watch_id, today = standing.record.watch.id or 0, standing.on
    sums = summing.read_activity_sums(rows, watch_id, today)
    profiled = summing.read_profiled(rows, watch_id, today, PROFILES)
    return Exposed(
        activities=_activities(sums, units),
        repeated=_repeated(standing, units),
        extremes=tuple(_extremes(rows, standing, practice, units)) if sums else (),
        hardest=_hardest(rows, standing, practice, units, with_notes),
        curves=tuple(_curve(exposure, units) for exposure in profiled),
    )


def _activities(sums: Sequence[ActivitySum], units: Units) -> Table:
    listed = list(sums)
    if len(sums) > ACTIVITIES:
        listed = [*sums[: ACTIVITIES - 1], _together("others", sums[ACTIVITIES - 1 :])]
    if len(sums) > 1:
        listed.append(_together("all", sums))
    heads = ("activity", "times", "hours", "deepest", "in salt water", "other water", "salt not rinsed off")
    rows = tuple(
        (
            typed(s.activity, ACTIVITY_LENGTH), f"{s.count:,}", words.hours(s.duration_s),
            quantities.show_depth(s.deepest_m, units) if s.deepest_m else NONE,
            *(f"{n:,}" if n else NONE for n in (s.in_salt, s.in_other, s.salt_left)),
        )
        for s in listed
    )  # fmt: skip
    return Table("Exposures by activity", heads, rows, numeric=(1, 2, 3, 4, 5, 6))


def _together(name: str, sums: Sequence[ActivitySum]) -> ActivitySum:
    return ActivitySum(
        name, sum(s.count for s in sums), sum(s.duration_s for s in sums), max(s.deepest_m for s in sums),
        sum(s.in_salt for s in sums), sum(s.in_other for s in sums), sum(s.salt_left for s in sums),
    )  # fmt: skip


def _repeated(standing: Standing, units: Units) -> tuple[str, ...]:
    running = [h for h in standing.record.habits if h.from_on <= standing.on]
    lines = [words.habit(h, units) for h in running[:HABITS]]
    more = words.left_out(len(running) - HABITS, "other repeated exposure")
    return tuple([*lines, more] if more else lines)


def _extremes(rows: Rows, standing: Standing, practice: Practice, units: Units) -> Sequence[tuple[str, str]]:
    watch_id, today = standing.record.watch.id or 0, standing.on
    found = [("Greatest depth", _depth(rows, watch_id, units, today))]
    found.append(("Greatest gauge pressure", _pressure(rows, watch_id, units, today)))
    period = since.period_of(standing.record, practice, today)
    if period.beginning in ("passed test", "maker’s test"):
        which = "last passed pressure test" if period.beginning == "passed test" else "maker’s own test"
        told = _since_then(rows, watch_id, units, today, period.first_water)
        found.append((f"Since the {which} of {full_date(period.start)}", told))
    else:
        found.append(("Since a passed pressure test", "none is on record"))
    swing = summing.read_largest_swing(rows, watch_id, practice, today)
    if swing is not None:
        exposure, size_k = swing
        reached = wear.case_c(exposure, practice)
        span = f"{quantities.show_temp(exposure.from_c, units)} to {quantities.show_temp(reached, units)}"
        told = f"{words.swing(size_k, units)} ({span}), {_which(exposure)}"
        found.append(("Largest temperature swing", told))
    return found


def _since_then(rows: Rows, watch_id: int, units: Units, until: date, first: date) -> str:
    after = summing.read_activity_sums(rows, watch_id, until, first)
    deepest = summing.read_greatest(rows, watch_id, "depth_mm", until, first)
    hardest = summing.read_greatest(rows, watch_id, "gauge_pa", until, first)
    if deepest is None or hardest is None:
        return "no exposure"
    count = sum(s.count for s in after)
    return (
        f"{count:,} exposure{'s' if count != 1 else ''}, {words.hours(sum(s.duration_s for s in after))};"
        f" down to {quantities.show_depth(deepest.depth_m, units)} ({_which(deepest)}),"
        f" at most {words.pressure(hardest.gauge_pa, units)}"
    )


def _depth(rows: Rows, watch_id: int, units: Units, until: date) -> str:
    deepest = summing.read_greatest(rows, watch_id, "depth_mm", until)
    return f"{quantities.show_depth(deepest.depth_m, units)}, {_which(deepest)}" if deepest else NONE


def _pressure(rows: Rows, watch_id: int, units: Units, until: date) -> str:
    greatest = summing.read_greatest(rows, watch_id, "gauge_pa", until)
    return f"{words.pressure(greatest.gauge_pa, units)}, {_which(greatest)}" if greatest else NONE


def _which(exposure: Exposure) -> str:
    return f"{typed(exposure.activity, ACTIVITY_LENGTH)} on {full_date(exposure.starts_on)}"


def _hardest(rows: Rows, standing: Standing, practice: Practice, units: Units, with_notes: bool) -> Table:
    heads = ["date", "activity", "depth", "time", "water", "swing", "rinsed", "crown, pushers", "took"]
    heads += ["note"] if with_notes else []
    limiting = standing.limiting
    if limiting is None:
        return Table("The hardest exposures: no seal is on record", tuple(heads), ())
    seal = limiting.seal
    found = charged.ledger_dearest(rows, seal.id or 0, date.min, standing.on, HARDEST)
    lines = []
    for exposure, shares in found:
        line = [
            full_date(exposure.starts_on),
            typed(exposure.activity, ACTIVITY_LENGTH),
            quantities.show_depth(exposure.depth_m, units) if exposure.depth_m else NONE,
            quantities.show_minutes(exposure.duration_s),
            f"{typed(exposure.water, ACTIVITY_LENGTH)} {quantities.show_temp(exposure.water_c, units)}",
            words.swing(wear.swing_k(exposure, practice), units),
            NONE if exposure.water == "air" else "yes" if exposure.rinsed else "no",
            words.crown_use(exposure),
            words.took(shares.total),
        ]
        line += [typed(exposure.note, NOTE_LENGTH)] if with_notes else []
        lines.append(tuple(line))
    place = words.position(seal.position)
    caption = f"The hardest exposures, by what they took of the {place} seal’s interval since it was fitted"
    return Table(caption, tuple(heads), tuple(lines), (2, 3, 5, 8), (7, 9))


def _curve(exposure: Exposure, units: Units) -> Curve:
    unit, size_m = ("ft", quantities.FOOT_M) if units == "imperial" else ("m", 1.0)
    depth = quantities.show_depth(exposure.depth_m, units)
    label = f"{_which(exposure)}: {depth}, {quantities.show_minutes(exposure.duration_s)}"
    return Curve(
        label,
        unit,
        tuple(point.time_s / 60 for point in exposure.profile),
        tuple(point.depth_m / size_m for point in exposure.profile),
    )
