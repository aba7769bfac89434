"""The answer before water as lines: the verdict first, what speaks worst first, what would change it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from logbook.caution import LIFE_SUPPORT
from logbook.exchange import phrases, quantities
from logbook.reckoning.check import Verdict
from logbook.reckoning.planrules import Plan
from logbook.reckoning.rules import Reason
from logbook.tui.exposure_form import Units
from logbook.tui.ink import BANNER_ROLE, VERDICT_ROLE, Line, fit, wrapped

MARGIN = 2
HEAD = 3  # lines of verdict and plan, at most, with the blank below them
VERDICT_CELLS = 20
NAME_CELLS = 20


def answer(
    verdict: Verdict, plan: Plan, today: date, units: Units, width: int, height: int = 0
) -> list[Line]:
    """The whole answer for one watch, `width` cells wide; with blank lines where `height` has room."""
    banner = f" {verdict.verdict.upper()} "
    words = wrapped(plan_words(plan, today, units), max(20, width - len(banner) - 4))
    lines: list[Line] = [
        [("  ", "plain"), (banner, BANNER_ROLE[verdict.verdict]), (f"  {words[0]}", "plain")],
        *([(" " * (len(banner) + 4) + more, "plain")] for more in words[1:]),
        [],
    ]
    number = 0
    for gravity in dict.fromkeys(reason.verdict for reason in verdict.reasons):
        lines.append([(f"  {gravity}, because", VERDICT_ROLE[gravity])])
        for reason in verdict.reasons:
            if reason.verdict == gravity:
                number += 1
                lines += _reason(number, reason, width)
    lines += [[], *_block(verdict.would_change, width, "strong"), [], [("  for context", "dim")]]
    for sentence in verdict.context:
        lines += _block(sentence, width, "plain", indent=5)
    lines += [[], *_block(LIFE_SUPPORT, width, "dim")]
    return lines if len(lines) <= height else [*lines[:HEAD], *(line for line in lines[HEAD:] if line)]


def plan_words(plan: Plan, today: date, units: Units) -> str:
    """`dive 30 m, 40 min, sea 12 °C, jump 3 m, tomorrow`."""
    exposure = plan.exposure
    parts = [exposure.activity]
    if exposure.depth_m > 0:
        parts[0] += f" {quantities.show_depth(exposure.depth_m, units)}"
    parts.append(quantities.show_minutes(exposure.duration_s))
    parts.append(f"{exposure.water} {quantities.show_temp(exposure.water_c, units)}")
    if exposure.jump_m > 0:
        parts.append(f"jump {quantities.show_depth(exposure.jump_m, units)}")
    parts += [f"{name} open" for name, is_open in _states(plan) if is_open]
    days = (exposure.starts_on - today).days
    parts.append({0: "today", 1: "tomorrow"}.get(days, phrases.full_date(exposure.starts_on)))
    return ", ".join(parts)


def _states(plan: Plan) -> tuple[tuple[str, bool], ...]:
    return ("crown", plan.crown_open), ("pushers", plan.pushers_open)


def _reason(number: int, reason: Reason, width: int) -> Iterator[Line]:
    """A numbered sentence with its limit at the right edge, on a line of its own where there is no room."""
    parts = wrapped(reason.sentence, width - MARGIN - 5)
    against = _against(reason)
    for n, part in enumerate(parts):
        left = f"{number:>3}  {part}" if n == 0 else f"     {part}"
        last = n == len(parts) - 1
        if last and against and len(left) + 2 + len(against) <= width - MARGIN:
            room = width - MARGIN - len(against)
            yield [(fit(left, room), "plain"), (against, "dim")]
            return
        yield [(left, "plain")]
    for part in wrapped(against, width - MARGIN - 5) if against else []:
        yield [(fit(part, width - MARGIN, right=True), "dim")]


def _against(reason: Reason) -> str:
    """The limit, and the value where the sentence does not say it."""
    if reason.limit is None:
        return ""
    value = f"{reason.value}; " if reason.value and reason.value not in reason.sentence else ""
    return f"{value}limit: {reason.limit}"


def _block(text: str, width: int, role: str, indent: int = 2) -> Iterator[Line]:
    for part in wrapped(text, width - MARGIN - indent):
        yield [(" " * indent + part, role)]


def heads(width: int) -> Line:
    """The column heads of the list of all watches."""
    names = _name_cells(width)
    return [(f" {fit('watch', names)} {fit('may it come?', VERDICT_CELLS)}first reason", "dim")]


def _name_cells(width: int) -> int:
    return min(NAME_CELLS + max(0, width - 100) // 2, 40)


def row(verdict: Verdict, width: int) -> Line:
    """One watch in the list: its verdict in words, and the first thing that speaks."""
    names = _name_cells(width)
    first = verdict.reasons[0].sentence if verdict.reasons else "nothing on record speaks against it"
    return [
        (f" {fit(verdict.name, names)} ", "strong"),
        (fit(verdict.verdict, VERDICT_CELLS), VERDICT_ROLE[verdict.verdict]),
        (fit(first, width - names - VERDICT_CELLS - 3), "plain"),
    ]
