"""Wear by channel as bars: the longest first, the one that dominates said, each as long as its number."""

from __future__ import annotations

import re
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from logbook.model.values import CHANNELS, Seal, Shares
from logbook.model.wear.account import SealWear
from logbook.tui.watch import bar as watch_bar
from logbook.tui.watch.bar import ASSUMED, HATCHING, MOST
from tests.tui.helpers import text_of

SEAL = Seal("crown", "NBR", date(2026, 3, 1), date(2026, 3, 1))


def worn(shares: Shares, assumed: Shares | None = None) -> SealWear:
    return SealWear(SEAL, shares, assumed or Shares(), date(2033, 3, 1), date(2033, 3, 1), lambda: (0.0, 1.0))


PARTS = st.lists(st.floats(0, 2), min_size=6, max_size=6)


@given(PARTS, st.floats(0, 1), st.integers(58, 160))
def test_every_row_fits_and_longer_bars_stand_above_shorter_ones(
    parts: list[float], guessed: float, width: int
) -> None:
    shares = Shares(*parts)
    rows = text_of(watch_bar.by_channel(worn(shares, shares.times(guessed)), width)).splitlines()
    assert max(cell_len(row) for row in rows) <= width
    named = [row for row in rows if row[2:].startswith(CHANNELS)]
    assert len(named) == len(CHANNELS)
    numbers = [float(re.findall(r"[0-9]+\.[0-9]{2}", row)[0]) for row in named]
    bars = [row[2:].count(HATCHING[row[2:].split()[0]]) + row.count(ASSUMED) for row in named]
    assert bars == sorted(bars, reverse=True)
    assert numbers == sorted(numbers, reverse=True)
    assert [row.endswith(MOST) for row in named] == [n == 0 and max(parts) > 0 for n in range(6)]


@pytest.mark.parametrize(
    ("shares", "most"),
    [
        (Shares(salt=0.2, ageing=0.1), "salt"),
        (Shares(ageing=0.1, handling=0.1), "ageing"),  # of equal ones the first
        (Shares(ageing=-0.1), ""),
        (Shares(), ""),
    ],
)
def test_the_channel_that_dominates(shares: Shares, most: str) -> None:
    assert watch_bar.dominating(shares) == most


def test_what_is_assumed_is_drawn_as_such_and_said() -> None:
    lines = watch_bar.by_channel(worn(Shares(salt=0.2, ageing=0.1), Shares(salt=0.1)), 77)
    salt = text_of(lines).splitlines()[1]
    assert salt.count(ASSUMED) == pytest.approx(salt.count(HATCHING["salt"]) - 1, abs=1)
    assert "20.00" in salt
    assert "10.00" in salt
    assert text_of(lines).endswith("? assumed: its stated use before the log began")
    assert "assumed:" not in text_of(watch_bar.by_channel(worn(Shares(salt=0.2)), 77))
