"""The answer before water as lines: the verdict first, what speaks worst first, what would change it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from logbook.caution import LIFE_SUPPORT
from logbook.model.judge.check import Verdict
from logbook.model.judge.rules import Reason
from logbook.model.values import Exposure, Units
from logbook.text import phrases, quantities
from logbook.tui.shell.ink import BANNER_ROLE, VERDICT_ROLE, Line, fit, short, wrapped

MARGIN = 2
HEAD = 3  # lines of verdict and plan, at most, with the blank below them
VERDICT_CELLS = 20
NAME_CELLS = 20
NAME_LEAST = 8
NARROW = 66  # cells of a row from which it shows its first reason
BRIEF = 2  # lines for the watch under the cursor
HERE = "›"  # marks the row under the cursor, also without colours


def answer(
    verdict: Verdict, exposure: Exposure, today: date, units: Units, width: int, height: int = 0
) -> list[Line]:
    """The whole answer for one watch, `width` cells wide; with blank lines where `height` has room."""
    banner = f" {verdict.word.upper()} "
    plan = f"{plan_words(exposure, today, units)}{holds_words(verdict, exposure)}"
    words = wrapped(plan, max(20, width - len(banner) - 4))
    lines: list[Line] = [
        [("  ", "plain"), (banner, BANNER_ROLE[verdict.word]), (f"  {words[0]}", "plain")],
        *([(" " * (len(banner) + 4) + more, "plain")] for more in words[1:]),
    ]
    number = 0
    for gravity in dict.fromkeys(reason.verdict for reason in verdict.reasons):
        lines += [[], [(f"  {gravity}, because", VERDICT_ROLE[gravity])]]
        for reason in verdict.reasons:
            if reason.verdict == gravity:
                number += 1
                lines += _reason(number, reason, width)
    lines += [[], *_block(verdict.would_change, width, "strong"), [], [("  for context", "dim")]]
    for sentence in verdict.context:
        lines += _block(sentence, width, "plain", indent=5)
    lines += [[], *_block(LIFE_SUPPORT, width, "dim")]
    return lines if len(lines) <= height else [*lines[:HEAD], *(line for line in lines[HEAD:] if line)]


def named(name: str, mark: str, width: int) -> Line:
    """Whose answer follows, where it stands beside a list of several."""
    return [(f"  {fit(name, max(8, width - 5 - len(mark)))} ", "strong"), (mark, "dim")]


def plan_words(exposure: Exposure, today: date, units: Units) -> str:
    """`dive 30 m, 40 min, sea 12 °C, jump 3 m, tomorrow`."""
    parts = [exposure.activity]
    if exposure.depth_m > 0:
        parts[0] += f" {quantities.show_depth(exposure.depth_m, units)}"
    parts.append(quantities.show_minutes(exposure.duration_s))
    parts.append(f"{exposure.water} {quantities.show_temp(exposure.water_c, units)}")
    if exposure.jump_m > 0:
        parts.append(f"jump {quantities.show_depth(exposure.jump_m, units)}")
    parts += [f"{name} open" for name, is_open in _states(exposure) if is_open]
    parts.append(when_words(exposure.starts_on, exposure.planned_to, today))
    return ", ".join(parts)


def holds_words(verdict: Verdict, exposure: Exposure) -> str:
    """`; so from 14 Jul 2026 on`: of several days, the first on which the verdict holds."""
    if verdict.holds_from is None or exposure.planned_to is None or verdict.holds_from <= exposure.starts_on:
        return ""
    return f"; so from {phrases.full_date(verdict.holds_from)} on"


def when_words(first: date, last: date | None, today: date) -> str:
    """`today`, `tomorrow`, `12 Jul 2026`, or `12 to 20 Jul 2026 (9 days)`."""
    if days := phrases.days_words(first, last):
        return f"{phrases.span_words(first, last)} ({days})"
    return {0: "today", 1: "tomorrow"}.get((first - today).days, phrases.full_date(first))


def _states(exposure: Exposure) -> tuple[tuple[str, bool], ...]:
    return ("crown", exposure.crown_open), ("pushers", exposure.pushers_open)


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
    if reason.bound is None:
        return ""
    value = f"{reason.value}; " if reason.value and reason.value not in reason.sentence else ""
    return f"{value}limit: {reason.bound}"


def _block(text: str, width: int, role: str, indent: int = 2) -> Iterator[Line]:
    for part in wrapped(text, width - MARGIN - indent):
        yield [(" " * indent + part, role)]


def heads(width: int) -> Line:
    """The column heads of the list of all watches."""
    names, reasons = _cells(width)
    return [
        (
            f"  {fit('watch', names)} {'may it come?':<{VERDICT_CELLS}}{'first reason' if reasons else ''}",
            "dim",
        )
    ]


def _cells(width: int) -> tuple[int, int]:
    """Cells for the name and for the first reason; none for a reason that would be cut to a few words."""
    if width < NARROW:
        return max(NAME_LEAST, width - VERDICT_CELLS - 4), 0
    names = min(NAME_CELLS + max(0, width - 100) // 2, 40)
    return names, width - names - VERDICT_CELLS - 4


def row(verdict: Verdict, width: int, here: bool = False) -> Line:
    """One watch in the list: its verdict in words, and the first thing that speaks."""
    names, reasons = _cells(width)
    line: Line = [
        (f"{HERE if here else ' '} {fit(verdict.name, names)} ", "strong"),
        (fit(verdict.word, VERDICT_CELLS), VERDICT_ROLE[verdict.word]),
    ]
    return [*line, (fit(first_words(verdict), reasons), "plain")] if reasons else line


def first_words(verdict: Verdict) -> str:
    """The first reason, or that there is none."""
    if verdict.verdict is None:
        return verdict.would_change
    return verdict.reasons[0].sentence if verdict.reasons else "nothing on record speaks against it"


def brief(verdict: Verdict, width: int, exposure: Exposure | None = None) -> list[Line]:
    """The first reason in full, for the watch under the cursor, in two lines; of a trip from which day on."""
    more = len(verdict.reasons) - 1
    holds = holds_words(verdict, exposure) if exposure is not None else ""
    words = f"{verdict.name}{holds}: {first_words(verdict)}"
    if verdict.reasons and (against := _against(verdict.reasons[0])):
        words += f" ({against})"
    if more > 0:
        words += f", and {more} more reason{'s' if more > 1 else ''}"
    found = wrapped(words, width - MARGIN)
    shown = (
        found[:BRIEF]
        if len(found) <= BRIEF
        else [*found[: BRIEF - 1], short(" ".join(found[BRIEF - 1 :]), width - MARGIN)]
    )
    return [[(f" {part}", "plain")] for part in shown]
