"""Text as the rooms draw it: pieces of plain text, each with a role; colour only repeats what the words say.

What a person typed enters here as text and stays text: nothing is read as markup, and control characters
are shown escaped.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from textual.content import Content

from logbook.model.judge.rules import KEEP_DRY, NO_OBJECTION, NOT_JUDGED, THINK_TWICE
from logbook.model.text import kept_whole, printable

_NUMBER_AND_UNIT = re.compile(r"(?<=[0-9]) (?=[^\W0-9]|°|%)")

Piece = tuple[str, str]  # text, role
Line = Sequence[Piece]

# A role is a name in the theme: what it means, never a colour.
STYLES = {
    "plain": "",
    "dim": "$foreground-muted",
    "strong": "bold",
    "title": "bold $primary",
    "good": "$text-success",
    "mild": "$text-warning",
    "grave": "bold $text-error",
    "bar": "$primary",
    "rest": "$foreground-disabled",
    "key": "bold $accent",
    "good-banner": "bold reverse $text-success",
    "mild-banner": "bold reverse $text-warning",
    "grave-banner": "bold reverse $text-error",
}
STAGE_ROLE = {"later": "dim", "coming up": "mild", "due": "grave", "overdue": "grave"}
VERDICT_ROLE = {NO_OBJECTION: "good", THINK_TWICE: "mild", KEEP_DRY: "grave"}
BANNER_ROLE = {verdict: f"{role}-banner" for verdict, role in VERDICT_ROLE.items()}
VERDICT_ROLE[NOT_JUDGED] = BANNER_ROLE[NOT_JUDGED] = "dim"  # of a retired watch


def content(lines: Iterable[Line]) -> Content:
    """Lines of pieces as one block that Textual can show."""
    return Content("\n").join(
        Content.assemble(*((printable(text), STYLES[role]) for text, role in line)) for line in lines
    )


def sentence(text: str, role: str = "plain") -> Content:
    """One run of text in one role."""
    return content([[(text, role)]])


def fit(text: str, width: int, *, right: bool = False) -> str:
    """`text` in exactly `width` terminal cells: cut with an ellipsis, or filled with blanks."""
    from rich.cells import cell_len, set_cell_size

    shown = printable(text)
    spare = width - cell_len(shown)
    if spare < 0:
        return set_cell_size(shown, max(width - 1, 0)) + "…" if width > 0 else ""
    return " " * spare + shown if right else shown + " " * spare


def both_ends(left: str, right: str, width: int) -> Line:
    """A title of so many cells: its words at the left, cut where they must be, and more at the right."""
    return [(fit(left, max(20, width - 3 - len(right))), "title"), (f" {right}", "plain")]


def short(text: str, width: int) -> str:
    """`text` in at most `width` terminal cells."""
    return fit(text, width).rstrip()


def meter(left: float, cells: int) -> list[Piece]:
    """A bar of what is left, from 0 to 1, in `cells` cells."""
    full = max(0, min(cells, round(left * cells)))
    return [("▰" * full, "bar"), ("▱" * (cells - full), "rest")]


def wrapped(text: str, width: int) -> list[str]:
    """`text` broken between words into lines of at most `width` cells; a longer word is cut.

    A number and what follows it stay together: 17 °C, 22 Nov; and what stands in backquotes.
    """
    from rich.cells import cell_len

    lines = [""]
    whole = kept_whole(printable(text), width, cell_len)
    for word in _NUMBER_AND_UNIT.sub("\u00a0", whole).split(" "):
        joined = f"{lines[-1]} {word}" if lines[-1] else word
        if cell_len(joined) <= width or not lines[-1]:
            lines[-1] = joined
        else:
            lines.append(word)
    return [short(line.replace("\u00a0", " "), width) for line in lines]
