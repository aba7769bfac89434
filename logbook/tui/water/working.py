"""The working of an exposure beside its form: pressure, share of the mark, swing, and the wear it adds.

`work_out` does the reckoning and may run in a thread; `lines` draws what it found. No widgets here.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date

from logbook.model import marks
from logbook.model.judge import facts, planrules, rules
from logbook.model.judge.planrules import Planned
from logbook.model.judge.rules import Reason, Situation
from logbook.model.marks import dial_number, mark_words
from logbook.model.practice import Practice
from logbook.model.shown import show_difference, show_swing
from logbook.model.values import CHANNELS, Exposure, Position, Settings, Shares, Units, WatchRecord
from logbook.model.wear import charge, wear
from logbook.physics import air
from logbook.text import phrases, quantities
from logbook.tui.shell.ink import VERDICT_ROLE, Line, Piece, fit, wrapped
from logbook.tui.watch.bar import dominating
from logbook.tui.water.form import Around, Reading

NAME_CELLS = 12
LEAST_CELLS = 7  # of a column of numbers
INDENT = 2
PLACES = ((1, 10.0), (2, 0.1), (3, 0.01))  # decimals of all numbers in a table, by the largest of them


@dataclass(frozen=True, slots=True)
class Working:
    """What an exposure amounts to for a watch.

    `shares` holds what it adds to its most affected seal rinsed and not rinsed; None where it is not charged
    or not complete, and `uncharged` then says why.
    """

    exposure: Exposure
    planned: Planned
    limit_pa: float  # what the mark is taken to speak of
    swing_k: float
    reached_c: float
    position: Position | None
    shares: tuple[Shares, Shares] | None
    uncharged: str
    remarks: tuple[Reason, ...]


def work_out(
    reading: Reading, record: WatchRecord, practice: Practice, units: Units = "metric"
) -> Working | None:
    """The working of what a form says, as far as it goes; None while nothing can be said yet."""
    exposure = reading.sketch
    if exposure is None:
        return None
    planned = _planned(exposure, record, practice, units)
    position, shares, uncharged = None, None, "The wear follows once the minutes are there."
    if reading.exposure is not None:
        position, shares, uncharged = _wear(exposure, record, practice)
    spoken = [rule(planned) for rule in planrules.PLAN.values()]
    return Working(
        exposure=exposure,
        planned=planned,
        limit_pa=marks.mark_limit_pa(record.watch, practice),
        swing_k=wear.swing_k(exposure, practice),
        reached_c=wear.case_c(exposure, practice),
        position=position,
        shares=shares,
        uncharged=uncharged,
        remarks=tuple(rules.worst_first(r for r in spoken if r is not None)),
    )


def _planned(exposure: Exposure, record: WatchRecord, practice: Practice, units: Units) -> Planned:
    """The exposure beside the facts of its day; the plan rules read neither wear nor score."""
    asked = planrules.asked_by(exposure, practice)
    known = facts.gather(record, exposure.starts_on, practice, asked)
    return Planned(exposure, Situation(known, (), 0, practice), units)


def _wear(
    exposure: Exposure, record: WatchRecord, practice: Practice
) -> tuple[Position | None, tuple[Shares, Shares] | None, str]:
    start = record.watch.recorded_from
    if exposure.starts_on < start:
        return None, None, f"Not charged: its record begins on {phrases.full_date(start)}."
    in_place = _fitted_by(record, exposure.starts_on)
    wet = charge.preview(record, replace(exposure, rinsed=False), practice)
    counted = {position: shares for position, shares in wet.items() if position in in_place}
    if not counted:
        return None, None, "Not charged to the seals in place now: they were fitted later."
    most: Position = max(counted, key=lambda position: counted[position].total)
    rinsed = charge.preview(record, replace(exposure, rinsed=True), practice)
    return most, (rinsed[most], counted[most]), ""


def _fitted_by(record: WatchRecord, on: date) -> set[Position]:
    """The places whose seal of today was in place on a day."""
    return {
        service.seal.position
        for service in charge.services(record.seals)
        if service.until is None and service.holds(on, charge.middle(service.seal))
    }


def lines(working: Working, around: Around, width: int) -> list[Line]:
    """The working as it stands beside the form, `width` cells wide."""
    units = around.units
    return [
        *_pressure(working, around.settings, units, width),
        *_case_air(working, around.settings, units, width),
        *_temperature(working, around, width),
        [],
        *_wear_lines(working, width),
        *_remarks(working, width),
    ]


def _pair(label: str, value: str, width: int, role: str = "strong") -> Line:
    """A label on the left and its value on the right."""
    return [(fit(label, width - len(value) - 1), "plain"), (f" {value}", role)]


def _note(text: str, width: int, role: str = "dim") -> Iterator[Line]:
    for part in wrapped(text, width - INDENT):
        yield [(f"{' ' * INDENT}{part}", role)]


def _pressure(working: Working, settings: Settings, units: Units, width: int) -> Iterator[Line]:
    exposure, planned = working.exposure, working.planned
    if exposure.water == "air":
        return
    depth = quantities.show_depth(exposure.depth_m, units)
    gauge = quantities.show_pressure(exposure.gauge_pa, units)
    yield _pair(f"pressure at {depth}", f"{gauge} gauge", width)
    yield from _note(_basis(exposure, settings, units), width)
    if planned.arm_pa > 0:
        arm = quantities.show_pressure(planned.arm_pa, units)
        arm_m_s = planned.practice.activities[exposure.activity].arm_m_s
        yield _pair(f"the arm at {arm_m_s:g} m/s adds", arm, width)
    if exposure.jump_m > 0:
        jump = quantities.show_depth(exposure.jump_m, units)
        head = quantities.show_pressure(planned.jump_pa, units)
        yield _pair(f"jump from {jump}, steady, at most", head, width)
    limit = quantities.show_pressure(working.limit_pa, units)
    share = f"{100 * planned.planned_pa / working.limit_pa:.0f} %"
    watch = planned.watch
    numbered = watch.mark not in ("unmarked", "unknown") and watch.marked_pa is not None
    role = "strong" if planned.planned_pa <= working.limit_pa else "grave"
    if watch.marked_pa is not None and numbered and units == "metric":
        limit = dial_number(watch.marked_pa, watch.marked_in)
    of = f"of the mark, {limit}" if numbered else f"of {limit}, taken for {mark_words(watch)}"
    yield _pair(of, share, width, role)


def _basis(exposure: Exposure, settings: Settings, units: Units) -> str:
    if exposure.basis == "EN 13319":
        return "EN 13319, as instruments show it"
    if exposure.basis == "fresh":
        return "fresh, as instruments show it"
    if exposure.density_kg_m3 is not None:
        return f"{exposure.density_kg_m3:g} kg/m³ as given, {settings.home.latitude_deg:.0f}° north"
    salt = f"salinity {exposure.salinity:g}" if exposure.salinity else "no salt"
    celsius = quantities.show_temp(exposure.water_c, units)
    return f"TEOS-10: {salt}, {celsius}, {settings.home.latitude_deg:.0f}° north"


def _case_air(working: Working, settings: Settings, units: Units, width: int) -> Iterator[Line]:
    """What the air in the case leaves of the pressure from outside, at the altitude of the home water."""
    case_pa = air.case_air_pa(working.reached_c)
    held_pa = air.across_pa(working.exposure.gauge_pa, air.ambient_pa(settings.home.altitude_m), case_pa)
    celsius = quantities.show_temp(working.reached_c, units)
    side = "outside" if held_pa >= 0 else "inside"
    yield from _note(
        f"air in the case at {celsius} {quantities.show_pressure(case_pa, units)}: the seals hold "
        f"{quantities.show_pressure(abs(held_pa), units)} from {side}",
        width,
    )


def _temperature(working: Working, around: Around, width: int) -> Iterator[Line]:
    exposure, settings, units = working.exposure, around.settings, around.units
    course = show_swing(exposure.from_c, working.reached_c, units)
    test_k = around.practice["swing_k"]
    yield _pair(f"swing {course}", show_difference(working.swing_k, units), width)
    share = f"{working.swing_k / test_k:.2f} of a thermal-shock test’s {show_difference(test_k, units)}"
    yield from _note(share, width)
    if exposure.water_c_assumed:
        celsius = quantities.show_temp(exposure.water_c, units)
        whose = "from the home water" if settings.home.monthly_c else "assumed, no home water set"
        yield from _note(f"{celsius} {whose}", width, "mild")


def _wear_lines(working: Working, width: int) -> Iterator[Line]:
    if working.shares is None or working.position is None:
        for part in wrapped(working.uncharged, width):
            yield [(part, "mild")]
        return
    rinsed, not_rinsed = working.shares
    same = abs(rinsed.total - not_rinsed.total) < 1e-12
    columns = {"": rinsed} if same else {"rinsed": rinsed, "not rinsed": not_rinsed}
    yield [(f"adds to the {phrases.place(working.position)} seal, of 100", "title")]
    yield from _table(columns, width)
    if same:
        yield from _note("a rinse changes nothing here", width)


def _table(columns: Mapping[str, Shares], width: int) -> Iterator[Line]:
    """Each channel that adds something, as a bar and a number for each column, then the sum.

    The one that adds most when it is rinsed is lit and said.
    """
    cells = [max(LEAST_CELLS, len(head) + 1) for head in columns]
    shares = list(columns.values())
    most = dominating(shares[0])
    name_cells = max(NAME_CELLS, len(f"{most}, most") + 1)
    bar_cells = max(0, min(24, width - name_cells - sum(cells)))
    gap = " " * max(0, width - name_cells - bar_cells - sum(cells))
    before = name_cells + bar_cells + len(gap)
    largest = max(max(each.as_tuple()) for each in shares)
    places = next((n for n, least in PLACES if 100 * abs(shares[-1].total) >= least), 4)

    def row(numbers: Iterable[str]) -> str:
        return "".join(fit(number, n, right=True) for number, n in zip(numbers, cells, strict=True))

    if len(columns) > 1:
        yield [(" " * before + row(columns), "dim")]
    for n, channel in enumerate(CHANNELS):
        parts = [each.as_tuple()[n] for each in shares]
        numbers = [points(part, places) for part in parts]
        if any(number.strip("−0.") for number in numbers):
            bar = _bar(parts[0], parts[-1], largest, bar_cells)
            name, role = (f"{channel}, most", "strong") if channel == most else (channel, "plain")
            yield [(fit(name, name_cells), role), *bar, (gap + row(numbers), role)]
    sums = row(points(each.total, places) for each in shares)
    yield [(fit("in all", before), "plain"), (sums, "strong")]


def _bar(share: float, without: float, largest: float, cells: int) -> list[Piece]:
    """What is added when rinsed in full cells, what comes to it without in hollow ones."""
    if largest <= 0 or cells < 1:
        return [(" " * cells, "plain")]
    full = max(0, min(cells, round(share / largest * cells)))
    hollow = max(full, min(cells, round(without / largest * cells))) - full
    sliver = "▏" if not full and not hollow and max(share, without) > 0 else ""
    bar = "▰" * full + sliver
    return [(bar, "bar"), ("▱" * hollow, "mild"), (" " * (cells - len(bar) - hollow), "plain")]


def points(share: float, places: int) -> str:
    """A wear share as a part of 100, the number alone."""
    return f"{100 * share:.{places}f}".replace("-", "−")


def _remarks(working: Working, width: int) -> Iterator[Line]:
    if working.remarks:
        yield []
    for reason in working.remarks:
        role = VERDICT_ROLE[reason.verdict]
        first, *more = wrapped(f"noted: {reason.sentence}", width)
        yield [(first, role)]
        for part in more:
            yield [(part, role)]


def last_time(last: Exposure | None, today: date, units: Units, width: int) -> list[Line]:
    """What was logged of this activity before."""
    if last is None:
        return []
    when = phrases.ago(last.starts_on, today)
    when = when if when in ("today", "yesterday") else f"{when} ago"
    words = f"last time, {when}: {phrases.exposure_words(last, units)}"
    return [[], *([(part, "dim")] for part in wrapped(words, width))]
