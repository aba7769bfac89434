"""An exposure as a picture: its depth over time, hanging from the surface, and the water's temperature below.

Without a profile it is the shape that the model assumes. Whatever the picture shows is said in words too.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from logbook.model.practice import Practice
from logbook.model.values import Exposure, Units
from logbook.model.wear import wear
from logbook.text import quantities
from logbook.tui.pictures import curve
from logbook.tui.shell.ink import Line, Piece, wrapped

WATER, LINE_ROLE, WATER_ROLE, MARK = "░", "bar", "rest", "▼"
LEAST_ROWS, MOST_ROWS = 3, 14  # of the depth
ASSUMED_ROWS = 3  # there is little to see in it
WARM_ROWS = (2, 4)  # of the temperature, the second where there is much room
MANY_ROWS = 20
MOST_DIPS = 500  # that are drawn; more are one block on any screen
MOST_CELLS = 120
NOTED_M = 0.1  # by how much the greatest depth given lies below the profile before it is said


def lines(exposure: Exposure, practice: Practice, units: Units, width: int, height: int) -> list[Line]:
    """Words and pictures of an exposure in about `height` rows, never fewer than can be read.

    Nothing for one that has no depth and whose water was one temperature.
    """
    said: list[Line] = [
        [(row, "plain")] for row in wrapped(" ".join(_words(exposure, practice, units)), width)
    ]
    if wear.has_shape(exposure.profile):
        warm = _warm_points(exposure)
        warm_rows = WARM_ROWS[height >= MANY_ROWS] if warm else 0
        rows = max(LEAST_ROWS, min(MOST_ROWS, height - len(said) - warm_rows - 1))
        return [*said, *_pictures(exposure, units, width, rows, warm_rows)]
    if exposure.depth_m <= 0:
        return []
    return [*said, *_pictures(exposure, units, width, ASSUMED_ROWS, 0)]


def end_min(exposure: Exposure) -> float:
    """Minutes from the start to the end of the picture."""
    last = exposure.profile[-1].time_s if exposure.profile else 0.0
    return max(exposure.duration_s, last) / 60


def depth_points(exposure: Exposure) -> list[tuple[float, float]]:
    """Minutes and metres: as measured, else the shape that the model assumes."""
    if wear.has_shape(exposure.profile):
        return [(point.time_s / 60, point.depth_m) for point in exposure.profile]
    count = min(exposure.dips, MOST_DIPS)
    each = exposure.duration_s / 60 / count
    found = []
    for n in range(count):
        found += [(n * each, 0.0), (n * each, exposure.depth_m)]
        found += [((n + 1) * each, exposure.depth_m), ((n + 1) * each, 0.0)]
    return found


def _warm_points(exposure: Exposure) -> list[tuple[float, float]]:
    """Minutes and °C as measured, where they differ."""
    found = [(point.time_s / 60, point.water_c) for point in exposure.profile if point.water_c is not None]
    return found if len({celsius for _, celsius in found}) > 1 else []


# ---------------------------------------------------------------------- in words


def _words(exposure: Exposure, practice: Practice, units: Units) -> Iterator[str]:
    if not wear.has_shape(exposure.profile):
        yield _assumed_words(exposure, units)
        return
    at, depth_m = max(depth_points(exposure), key=lambda point: point[1])
    deepest = f"deepest {quantities.show_depth(depth_m, units)} after {_after(at)}"
    yield f"profile of {len(exposure.profile):,} points: {deepest};"
    measured = [(point.water_c, point.time_s / 60) for point in exposure.profile if point.water_c is not None]
    if not measured:
        yield f"water {quantities.show_temp(exposure.water_c, units)}, as no temperature is in it."
    else:
        coldest, at = min(measured)
        celsius = quantities.show_temp(coldest, units)
        same = coldest == max(measured)[0]
        yield f"water {celsius} throughout." if same else f"coldest {celsius} after {_after(at)}."
    if exposure.depth_m - depth_m >= NOTED_M:
        yield f"It counts to {quantities.show_depth(exposure.depth_m, units)}, the greatest depth given."
    course = wear.course_of(exposure, practice)
    pressure, swings = (sum(c.count for c in cycles) for cycles in (course.pressure, course.temperature))
    cycles = "cycle" if pressure == 1 else "cycles"
    yield f"Counted from it: {pressure:g} {cycles} of pressure, {swings:g} of temperature."


def _after(minutes: float) -> str:
    return quantities.show_minutes(round(minutes * 60)) if minutes else "0 min"


def _assumed_words(exposure: Exposure, units: Units) -> str:
    depth, water = (
        quantities.show_depth(exposure.depth_m, units),
        quantities.show_temp(exposure.water_c, units),
    )
    whole = quantities.show_minutes(exposure.duration_s)
    how = f"down to {depth} at once, {whole} there in water of {water}, and up"
    if exposure.dips > 1:
        how = f"{exposure.dips:,} dips to {depth} in {whole}, in water of {water}"
    return f"assumed, without a profile: {how}."


# ---------------------------------------------------------------------- in pictures


def _pictures(exposure: Exposure, units: Units, width: int, rows: int, warm_rows: int) -> Iterator[Line]:
    """Depth, the minutes below it, and the temperature where there is one."""
    end, points, warm = end_min(exposure), depth_points(exposure), _warm_points(exposure)
    deepest_at, deepest = max(points, key=lambda point: point[1])
    labels = {rows - 1: quantities.show_depth(deepest, units)} | _depth_labels(deepest, units, rows)
    warm_labels: dict[int, str] = {}
    coldest_at, coldest, warmest = 0.0, 0.0, 0.0
    if warm:
        coldest_at, coldest = min(warm, key=lambda point: point[1])
        warmest = max(celsius for _, celsius in warm)
        warm_labels = {n: quantities.show_temp(c, units) for n, c in ((0, warmest), (warm_rows - 1, coldest))}
    indent = 1 + max(len(text) for text in (*labels.values(), *warm_labels.values()))
    cells = max(10, min(MOST_CELLS, width - indent - 1))
    columns = cells * curve.DOTS_ACROSS

    spans = curve.reduced(points, end, columns)
    picture = curve.drawn(spans, 0.0, deepest, rows, below=WATER)
    measured = wear.has_shape(exposure.profile)
    marked = curve.column_of(deepest_at, end, columns) // curve.DOTS_ACROSS
    yield from _rows(picture, labels, indent, marked if measured and deepest > 0 else None)
    yield [(" " * indent + "└" + _minutes(end, cells), "dim")]
    if warm:
        picture = curve.drawn(curve.reduced(warm, end, columns), warmest, coldest, warm_rows)
        marked = curve.column_of(coldest_at, end, columns) // curve.DOTS_ACROSS
        yield from _rows(picture, warm_labels, indent, marked)


def _rows(
    picture: Sequence[Sequence[str]], labels: Mapping[int, str], indent: int, marked: int | None
) -> Iterator[Line]:
    """Rows of cells behind their labels; the last row is marked where the extreme lies."""
    for row, cells in enumerate(picture):
        edge = "┤" if row in labels else "│"
        shown = list(cells)
        if marked is not None and row == len(picture) - 1:
            shown[marked] = MARK
        yield [(f"{labels.get(row, ''):>{indent}}{edge}", "dim"), *_joined(shown)]


def _joined(cells: Sequence[str]) -> Iterator[Piece]:
    """Neighbours of one role as one piece."""
    text, role = "", ""
    for cell in cells:
        of_cell = {WATER: WATER_ROLE, MARK: "strong", " ": "plain"}.get(cell, LINE_ROLE)
        if of_cell != role and text:
            yield text, role
            text = ""
        text, role = text + cell, of_cell
    if text:
        yield text, role


def _depth_labels(deepest_m: float, units: Units, rows: int) -> dict[int, str]:
    """Round depths beside the rows on which they lie: the surface, and others as far as there is room."""
    unit_m = quantities.FOOT_M if units == "imperial" else 1.0
    found = {0: quantities.show_depth(0.0, units)}
    if deepest_m <= 0:
        return found
    dots = rows * curve.DOTS_DOWN
    step = curve.round_step(deepest_m / unit_m, rows // 2)
    for n in range(1, int(deepest_m / unit_m / step) + 1):
        depth_m = n * step * unit_m
        row = curve.dot_of(depth_m, 0.0, deepest_m, dots) // curve.DOTS_DOWN
        if all(abs(row - other) > 1 for other in (*found, rows - 1)):
            found[row] = quantities.show_depth(depth_m, units)
    return found


def _minutes(end: float, cells: int) -> str:
    """A line with minutes where they lie, as far as there is room, and `min` at its end."""
    line = ["─"] * cells
    unit = " min"
    line[cells - len(unit) :] = unit
    step = curve.round_step(end, max(1, cells // 8))
    free = 0
    for n in range(int(end / step) + 1 if end else 1):
        text = f"{n * step:g}"
        at = curve.column_of(n * step, end, cells)
        if at >= free and at + len(text) <= cells - len(unit):
            line[at : at + len(text)] = text
            free = at + len(text) + 1
    return "".join(line)
