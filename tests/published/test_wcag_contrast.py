"""Contrast of every pair of colours that the watchmaker's page uses.

Source: Web Content Accessibility Guidelines (WCAG) 2.2, W3C Recommendation: the definitions of "relative
luminance" and "contrast ratio", success criteria 1.4.3 (text, 4.5:1) and 1.4.11 (graphics, 3:1). Formulae
from memory of that text, as are the two check values: black on white 21:1, and #777777 on white 4.48:1, the
grey that just fails.
"""

from __future__ import annotations

import pytest

from logbook.dossier import palette


def relative_luminance(colour: str) -> float:
    """L = 0.2126 R + 0.7152 G + 0.0722 B of linear sRGB parts; 0.04045 is where the curve changes."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """(L1 + 0.05) / (L2 + 0.05), the lighter above."""
    lighter, darker = sorted((relative_luminance(one), relative_luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


@pytest.mark.parametrize(
    ("one", "other", "ratio"), [("#000000", "#ffffff", 21.0), ("#777777", "#ffffff", 4.48)]
)
def test_the_check_values_come_out(one: str, other: str, ratio: float) -> None:
    assert contrast(one, other) == pytest.approx(ratio, abs=0.005)
    assert contrast(other, one) == contrast(one, other)


@pytest.mark.parametrize(("text", "ground"), palette.TEXT_PAIRS)
def test_text_is_read_on_its_ground(text: str, ground: str) -> None:
    assert contrast(text, ground) >= 4.5


@pytest.mark.parametrize(("drawn", "ground"), palette.GRAPHIC_PAIRS)
def test_what_is_drawn_stands_out_from_its_ground(drawn: str, ground: str) -> None:
    assert contrast(drawn, ground) >= 3


def test_no_colour_is_left_out() -> None:
    paired = {colour for pair in (*palette.TEXT_PAIRS, *palette.GRAPHIC_PAIRS) for colour in pair}
    named = {value for name, value in vars(palette).items() if name.isupper() and isinstance(value, str)}
    assert named | set(palette.CHANNEL_INKS.values()) == paired
