"""Several watches by their nicknames, as far as there is room."""

from __future__ import annotations

from collections.abc import Sequence

from logbook.model.text import listed, printable
from logbook.tui.shell.ink import short

IN_A_MESSAGE = 120  # cells


def named(names: Sequence[str], width: int = IN_A_MESSAGE) -> str:
    """`Blue bezel, Lido quartz and 2 more` in at most `width` cells."""
    from rich.cells import cell_len

    shown = [printable(name) for name in names]
    if len(shown) == 1:
        return short(shown[0], width)
    whole = listed(shown, "and")
    if cell_len(whole) <= width:
        return whole
    words = f"{len(shown)} watches"
    for count in range(1, len(shown)):
        longer = f"{', '.join(shown[:count])} and {len(shown) - count} more"
        if cell_len(longer) > width:
            break
        words = longer
    return words
