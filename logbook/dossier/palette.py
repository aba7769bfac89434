"""The few colours of the page, as ink on white paper, and which of them meet."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

PAPER = "#ffffff"
INK = "#17212b"
QUIET = "#46535f"  # what may be read second
RULE = "#7d8994"  # lines of tables and axes
TINT = "#eef2f5"  # under the heads of tables
ALARM = "#8f1d14"  # what stands against the watch; always said in words as well

# Channel -> the ink of its hatching.
CHANNEL_INKS: Mapping[str, str] = MappingProxyType(
    {
        "ageing": "#44525e",
        "pressure": "#1d4f9c",
        "temperature": "#a3301c",
        "salt": "#0b665b",
        "chemicals": "#693a9e",
        "handling": "#6b5200",
        "assumed": "#46535f",
    }
)

# What is written on what: contrast 4.5 at the least.
TEXT_PAIRS = (
    (INK, PAPER), (QUIET, PAPER), (ALARM, PAPER), (INK, TINT), (QUIET, TINT),
    (PAPER, CHANNEL_INKS["ageing"]),
)  # fmt: skip
# What must be told apart from what it lies on to read a drawing or a table: contrast 3 at the least.
GRAPHIC_PAIRS = (
    (RULE, PAPER), (INK, PAPER), (ALARM, PAPER), *((ink, PAPER) for ink in CHANNEL_INKS.values()),
)  # fmt: skip
