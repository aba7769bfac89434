"""The two palettes of the rooms: read by everyone, and their states told apart with every kind of vision.

Sources: WCAG 2.2, success criteria 1.4.3 (text, 4.5:1) and 1.4.11 (graphics, 3:1), formulae as in
`test_wcag_contrast`. Colour vision: Machado, Oliveira and Fernandes, "A Physiologically-based Model for
Simulation of Color Vision Deficiency", IEEE Transactions on Visualization and Computer Graphics 15(6), 2009;
its matrices at severity 1.0 as colour-science 0.4.7 has them, applied to linear sRGB. Difference: CIEDE2000,
of the same library. How great a difference is asked for is an own choice; 2.3 or so is commonly called just
noticeable (from memory).
"""

from __future__ import annotations

from itertools import combinations

import pytest
from rich.color import Color as TerminalColour
from rich.color import ColorSystem
from textual.theme import Theme

from logbook.tui.shell.ink import STYLES
from logbook.tui.shell.theme import DEEP, SAND, for_256_colours
from tests.published.test_wcag_contrast import contrast

GROUNDS = ("background", "surface", "panel")
TEXT = ("plain", "dim", "title", "good", "mild", "grave", "key")
DRAWN = ("bar", "rest")
PALETTES = {"deep": DEEP, "sand": SAND}
VISION = ("usual", "Protanomaly", "Deuteranomaly", "Tritanomaly")  # at severity 1.0: …anopia

# Own choice. Good and grave must never be mixed up, the verdicts not easily; the rest repeats words.
GOOD_AND_GRAVE, VERDICTS, ANY = 14.0, 9.0, 6.5
# The roles that mean something each; a bar is drawn in the colour of titles.
ROLES = ("plain", "dim", "title", "good", "mild", "grave", "key", "rest")


def colour_of(theme: Theme, name: str) -> str:
    """`#rrggbb` of a variable of a theme."""
    found = {**theme.to_color_system().generate(), **theme.variables}[name].lower()
    assert len(found) == 7, f"{name} is no plain colour: {found}"
    return found


def role_of(theme: Theme, role: str) -> str:
    variable = next((word[1:] for word in STYLES[role].split() if word.startswith("$")), "foreground")
    return colour_of(theme, variable)


def on_256(colour: str) -> str:
    """What a terminal with 256 colours makes of it, in the way of the library that writes to it."""
    fewer = TerminalColour.parse(colour).downgrade(ColorSystem.EIGHT_BIT)
    return fewer.get_truecolor().hex


@pytest.mark.parametrize("ground", GROUNDS)
@pytest.mark.parametrize("name", PALETTES)
def test_every_role_is_read_on_every_ground(name: str, ground: str) -> None:
    theme = PALETTES[name]
    behind = colour_of(theme, ground)
    assert {role: contrast(role_of(theme, role), behind) >= 4.5 for role in TEXT} == dict.fromkeys(TEXT, True)
    assert {role: contrast(role_of(theme, role), behind) >= 3 for role in DRAWN} == dict.fromkeys(DRAWN, True)


@pytest.mark.parametrize("ground", ["surface", "surface-lighten-1"])  # a field, and the one with the cursor
@pytest.mark.parametrize("name", PALETTES)
def test_what_an_empty_field_means_is_read(name: str, ground: str) -> None:
    theme = PALETTES[name]
    behind = colour_of(theme, ground)
    for words in ("foreground", "text-disabled"):
        assert contrast(colour_of(theme, words), behind) >= 4.5


@pytest.mark.parametrize("ground", GROUNDS)
@pytest.mark.parametrize("name", PALETTES)
def test_every_role_is_read_where_there_are_256_colours(name: str, ground: str) -> None:
    theme = for_256_colours(PALETTES[name])
    behind = on_256(colour_of(theme, ground))
    short = {role: found for role in TEXT if (found := contrast(on_256(role_of(theme, role)), behind)) < 4.5}
    short |= {role: found for role in DRAWN if (found := contrast(on_256(role_of(theme, role)), behind)) < 3}
    assert not short


@pytest.mark.parametrize("name", PALETTES)
def test_the_grounds_differ_where_there_are_256_colours(name: str) -> None:
    theme = for_256_colours(PALETTES[name])
    assert len({on_256(colour_of(theme, ground)) for ground in GROUNDS}) == len(GROUNDS)


@pytest.mark.parametrize("name", PALETTES)
@pytest.mark.parametrize("vision", VISION)
@pytest.mark.filterwarnings("ignore")  # the library says of tritanopia that the model comes near it only
def test_states_are_told_apart_with_every_kind_of_vision(name: str, vision: str) -> None:
    import colour
    import numpy as np

    matrix = np.eye(3)
    if vision != "usual":
        matrix = colour.blindness.matrix_cvd_Machado2009(vision, 1.0)

    def seen(role: str) -> object:
        there = colour.notation.HEX_to_RGB(role_of(PALETTES[name], role))
        light = np.clip(matrix @ colour.cctf_decoding(there, "sRGB"), 0, 1)
        return colour.XYZ_to_Lab(colour.RGB_to_XYZ(light, "sRGB", apply_cctf_decoding=False))

    places = {role: seen(role) for role in ROLES}
    near = {}
    for one, other in combinations(ROLES, 2):
        pair = {one, other}
        asked = GOOD_AND_GRAVE if pair == {"good", "grave"} else VERDICTS if pair < VERDICT_ROLES else ANY
        found = float(colour.delta_E(places[one], places[other], method="CIE 2000"))
        if found < asked:
            near[one, other] = round(found, 1)
    assert not near


VERDICT_ROLES = {"good", "mild", "grave"}


@pytest.mark.filterwarnings("ignore")
def test_the_library_measures_as_published() -> None:
    """A pair of the table of Sharma, Wu, Dalal 2005, Color Research and Application 30(1) (from memory)."""
    import colour

    found = colour.delta_E([50, 2.6772, -79.7751], [50, 0, -82.7485], method="CIE 2000")
    assert found == pytest.approx(2.0425, abs=1e-4)
