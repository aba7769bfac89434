"""The answer of a calculator as lines: the values at a glance, what to know, then how each was found."""

from __future__ import annotations

from collections.abc import Sequence

from logbook.bench import worksheets
from logbook.model.values import Units
from logbook.physics.worked import Worksheet
from logbook.tui.shell.ink import Line, fit, wrapped

_ROLES = {"value": "strong", "formula": "plain", "numbers": "plain", "source": "dim", "remark": "plain"}
WIDEST = 100  # cells of a line; longer ones are hard to read


def answer(sheet: Worksheet, units: Units, width: int) -> list[Line]:
    """The whole worksheet in lines of at most `width` cells."""
    room = min(width, WIDEST)
    parts = list(worksheets.passages(sheet, units))
    lines = [*glance(sheet, units, room), []] if sheet.remarks else glance(sheet, units, room)
    for passage in parts:
        if passage.part == "remark":
            lines += _folded(passage, room)
    lines += [[], [("worked out", "title")]]
    for passage in parts:
        if passage.part != "remark":
            lines += _folded(passage, room)
    return lines


def glance(sheet: Worksheet, units: Units, width: int) -> list[Line]:
    """What each value is and the value, in two columns."""
    rows = worksheets.at_a_glance(sheet, units)
    widest = min(max(len(what) for what, _ in rows), max(10, width - 18))
    return [[(fit(what, widest + 2), "plain"), (value, "strong")] for what, value in rows]


def _folded(passage: worksheets.Passage, width: int) -> Sequence[Line]:
    first, hanging = passage.indents
    lines = wrapped(passage.text, width - hanging)
    return [[(" " * (hanging if n else first) + line, _ROLES[passage.part])] for n, line in enumerate(lines)]
