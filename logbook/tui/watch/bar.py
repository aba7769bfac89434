"""A seal's budget as a bar: each channel's part of the wear share in a hatching of its own."""

from __future__ import annotations

from itertools import accumulate

from logbook.model.values import CHANNELS, Shares
from logbook.model.wear.account import SealWear
from logbook.tui.shell.ink import Line, Piece, fit

HATCHING = {
    "ageing": "█",
    "pressure": "▓",
    "temperature": "▒",
    "salt": "░",
    "chemicals": "▞",
    "handling": "╱",
}
ASSUMED, LEFT = "?", "·"
MOST = "← most"  # beside the channel that dominates
_NAME, _NUMBER = 14, 9  # cells
WIDEST = 60  # cells of a channel's bar


def bar(wear: SealWear, cells: int) -> list[Piece]:
    """`cells` cells for one service interval, or for all that was used where that is more.

    What is on record comes first, channel by channel; the assumed part follows as one piece.
    """
    recorded = wear.shares.plus(wear.assumed.times(-1))
    parts = [*zip(HATCHING.values(), _positive(recorded), strict=True), (ASSUMED, wear.assumed.total)]
    whole = max(1.0, sum(share for _, share in parts))
    ends = [round(cells * end / whole) for end in accumulate(share for _, share in parts)]
    pieces: list[Piece] = []
    for (char, _), begin, end in zip(parts, [0, *ends], ends, strict=False):
        pieces.append((char * (end - begin), "mild" if char == ASSUMED else "bar"))
    pieces.append((LEFT * (cells - ends[-1]), "rest"))
    return [piece for piece in pieces if piece[0]]


def _positive(shares: Shares) -> list[float]:
    """The channels, none below zero: cold water takes hours off a warm wrist."""
    return [max(0.0, share) for share in shares.as_tuple()]


def dominating(shares: Shares) -> str:
    """The channel with the largest share; of equal ones the first, none where none is above zero."""
    largest = max(shares.as_tuple())
    return CHANNELS[shares.as_tuple().index(largest)] if largest > 0 else ""


def by_channel(wear: SealWear, width: int) -> list[Line]:
    """A bar for each channel with its part of 100, the longest first, and how much of it is assumed."""
    cells = max(4, min(WIDEST, width - _NAME - 2 * _NUMBER - len(MOST) - 1))
    heads = f"{fit('share used, by channel', _NAME + cells)}{'of 100':>{_NUMBER}}{'assumed':>{_NUMBER}}"
    lines: list[Line] = [[(heads, "dim")]]
    shares = zip(CHANNELS, wear.shares.as_tuple(), wear.assumed.as_tuple(), strict=True)
    most, largest = dominating(wear.shares), max(*wear.shares.as_tuple(), 1e-12)
    for name, share, assumed in sorted(shares, key=lambda row: -row[1]):
        seen = f"{100 * share:.2f}" not in ("0.00", "-0.00")
        long = max(int(seen and share > 0), round(cells * share / largest))
        guessed = min(long, max(0, round(cells * assumed / largest)))
        role = "strong" if name == most else "plain"
        noted = f"{100 * assumed:.2f}" if assumed else ""
        numbers = f"{100 * share:>{_NUMBER}.2f}{noted:>{_NUMBER}}"
        pieces = [
            (f"{HATCHING[name]} ", "bar"),
            (fit(name, _NAME - 2), role),
            (HATCHING[name] * (long - guessed), "bar"),
            (ASSUMED * guessed, "mild"),
            (" " * (cells - long) + numbers + (f" {MOST}" if name == most else ""), role),
        ]
        lines.append([piece for piece in pieces if piece[0]])
    if wear.assumed.total:
        lines.append([(f"{ASSUMED} assumed: its stated use before the log began", "dim")])
    return lines


def legend() -> Line:
    """What each hatching stands for."""
    pieces: list[Piece] = [(" ", "plain")]
    for name in CHANNELS:
        pieces += [(HATCHING[name], "bar"), (f" {name}  ", "dim")]
    return [*pieces, (ASSUMED, "mild"), (" assumed", "dim")]
