"""Linear expansion of seals and cases: the shipped coefficients against two sources each.

Sources, all in 1e-6 per K near room temperature: (a) figures of materials handbooks, from memory; (b) tables
looked up on the open web: an engineering table of linear coefficients, an encyclopedia's table at 20 °C, a
seal supplier's table of elastomers (NBR 23, FKM 16, EPDM 16 in 1e-5; for VMQ it prints 59–79, the volume
coefficient, a third of which is meant here), and mill data for type 316 steel (16.0 from 0 to 100 °C, 16.6
from 20 to 100 °C).
Tolerance: 15 % beyond the shipped range. Handbooks disagree by that much, since alloys, fillers and hardness
do; a wrong power of ten or a volume coefficient taken for a linear one would not pass.
"""

from __future__ import annotations

import tomllib
from importlib.resources import files

import pytest

from logbook.physics import heat

SLACK = 0.15

# row of the shipped file, coefficients (1e-6 per K) of two or more sources
SEALS = [
    ("NBR", (112, 230)),
    ("HNBR", (112, 230)),
    ("CR", (137, 200)),
    ("FKM", (162, 160)),
    ("EPDM", (160, 160)),
    ("VMQ", (180, 590 / 3, 790 / 3)),
    ("NR", (220, 220)),
]
CASES = [
    ("steel", (15.9, 16.0, 16.6)),
    ("titanium", (8.6, 8.5)),
    ("bronze", (18.0, 18.7)),
    ("sapphire", (5.3, 5.4)),
    ("mineral glass", (8.5, 9.0)),
    ("acrylic", (70, 75)),
]


def shipped(table: str, row: str) -> tuple[float, float]:
    """The coefficients (low, high) of the shipped practice file, in 1e-6 per K."""
    practice = tomllib.loads((files("logbook") / "practice.toml").read_text(encoding="utf-8"))
    return practice[table][row]["alpha_low"], practice[table][row]["alpha_high"]


@pytest.mark.parametrize(("material", "sources"), SEALS)
def test_a_seals_coefficient_is_that_of_the_handbooks(material: str, sources: tuple[float, ...]) -> None:
    low, high = shipped("materials", material)
    for alpha in sources:
        assert low * (1 - SLACK) <= alpha <= high * (1 + SLACK)


@pytest.mark.parametrize(("case", "sources"), CASES)
def test_a_cases_coefficient_is_that_of_the_handbooks(case: str, sources: tuple[float, ...]) -> None:
    low, high = shipped("cases", case)
    for alpha in sources:
        assert low * (1 - SLACK) <= alpha <= high * (1 + SLACK)


@pytest.mark.parametrize("material", [name for name, _ in SEALS])
def test_rubber_shrinks_many_times_more_than_steel(material: str) -> None:
    # Seal handbooks say "about ten times steel": 7 to 17 times for the rows here.
    low, high = shipped("materials", material)
    steel = shipped("cases", "steel")
    assert 6 < low / steel[1] <= high / steel[0] < 20


@pytest.mark.parametrize(
    ("span_mm", "kelvin", "alpha", "change_um"),
    [
        # textbook exercises by hand: α · L · ΔT
        (30.0, -26.0, 15.9, -12.402),
        (30.0, -26.0, 160.0, -124.8),
        (40.0, 35.0, 8.6, 12.04),
        (1000.0, 100.0, 12.0, 1200.0),
    ],
)
def test_a_bar_grows_as_the_textbook_says(
    span_mm: float, kelvin: float, alpha: float, change_um: float
) -> None:
    both = (alpha * 1e-6, alpha * 1e-6)
    found = heat.differential_expansion(span_mm / 1000, kelvin, both, (0.0, 0.0))
    assert found.seal_um.value == pytest.approx(change_um, rel=1e-9)
    assert found.difference_um.value == pytest.approx(change_um, rel=1e-9)
