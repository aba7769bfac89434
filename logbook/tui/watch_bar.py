"""A seal's budget as a bar: each channel's part of the wear share in a hatching of its own."""

from __future__ import annotations

from itertools import accumulate

from logbook.reckoning.account import SealWear
from logbook.reckoning.values import CHANNELS, Shares
from logbook.tui.ink import Line, Piece

HATCHING = {
    "ageing": "█",
    "pressure": "▓",
    "temperature": "▒",
    "salt": "░",
    "chemicals": "▞",
    "handling": "╱",
}
ASSUMED, LEFT = "?", "·"


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


def legend() -> Line:
    """What each hatching stands for."""
    pieces: list[Piece] = [(" ", "plain")]
    for name in CHANNELS:
        pieces += [(HATCHING[name], "bar"), (f" {name}  ", "dim")]
    return [*pieces, (ASSUMED, "mild"), (" assumed", "dim")]
