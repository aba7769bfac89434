"""What stands behind a mark: the levels of the watch standards.

Sources, as secondary sources quote them (from memory): ISO 22810:2010 (and ISO 2281:1990) for plain marks;
ISO 6425:2018 (and 1996) for diver's marks; ISO 764 for the magnetic field. The standards were not read, and
no clause is quoted.
Tolerance: exact, they are nominal levels.
"""

from __future__ import annotations

import pytest

from logbook.physics import tests_behind_marks as marks

PLAIN, DIVERS, GAS = marks.WATER_RESISTANT, marks.DIVERS, marks.DIVERS_MIXED_GAS

# mark, test, level, value, unit
LEVELS = [
    (PLAIN, "shallow water", "depth", 0.10, "m"),
    (PLAIN, "shallow water", "for", 60 * 60, "s"),
    (PLAIN, "crown and pushers", "force", 5, "N"),
    (PLAIN, "crown and pushers", "for", 10 * 60, "s"),
    (PLAIN, "temperature changes", "first", 40, "°C"),
    (PLAIN, "temperature changes", "then", 20, "°C"),
    (PLAIN, "temperature changes", "in each", 5 * 60, "s"),
    (PLAIN, "water pressure", "for", 10 * 60, "s"),
    (PLAIN, "air pressure", "pressure", 2e5, "Pa"),
    (PLAIN, "air pressure", "air let in, at most", 50, "µg/min"),
    (PLAIN, "condensation", "plate", 40, "°C"),
    (PLAIN, "condensation", "plate, at most", 45, "°C"),
    (PLAIN, "condensation", "wait", 60, "s"),
    (DIVERS, "long immersion", "depth", 0.30, "m"),
    (DIVERS, "long immersion", "for", 50 * 3600, "s"),
    (DIVERS, "crown and pushers", "force", 5, "N"),
    (DIVERS, "thermal shock", "first", 40, "°C"),
    (DIVERS, "thermal shock", "then", 5, "°C"),
    (DIVERS, "thermal shock", "in each", 10 * 60, "s"),
    (DIVERS, "thermal shock", "between, at most", 60, "s"),
    (DIVERS, "water pressure", "for", 2 * 3600, "s"),
    (DIVERS, "water pressure", "then at", 0.3e5, "Pa"),
    (DIVERS, "salt water", "sodium chloride", 30, "g/L"),
    (DIVERS, "salt water", "for", 24 * 3600, "s"),
    (DIVERS, "magnetic field", "field", 4800, "A/m"),
    (DIVERS, "strap and bars", "force", 200, "N"),
    (GAS, "helium mixture", "for", 15 * 24 * 3600, "s"),
    (GAS, "helium mixture", "let off within", 3 * 60, "s"),
]


@pytest.mark.parametrize(("mark", "test", "level", "value", "unit"), LEVELS)
def test_a_level_is_that_of_the_standard(mark: str, test: str, level: str, value: float, unit: str) -> None:
    found = next(each for each in marks.behind(mark) if each.name == test)
    assert (level, value, unit) in found.levels


@pytest.mark.parametrize(("mark", "share"), [(PLAIN, 1.0), (DIVERS, 1.25), (GAS, 1.25)])
def test_a_new_watch_was_under_its_mark_or_a_quarter_more(mark: str, share: float) -> None:
    (found,) = (each for each in marks.behind(mark) if each.name == "water pressure")
    assert found.share_of_mark == share


@pytest.mark.parametrize("mark", ["unmarked", "unknown"])
def test_nothing_stands_behind_no_mark(mark: str) -> None:
    assert marks.behind(mark) == ()


def test_only_a_divers_mark_speaks_of_each_piece() -> None:
    assert marks.EACH_PIECE == {PLAIN: False, DIVERS: True, GAS: True}
    assert marks.LEAST_DIVERS_DEPTH_M == 100


def test_mixed_gas_adds_to_the_divers_tests() -> None:
    assert set(marks.behind(DIVERS)) < set(marks.behind(GAS))


@pytest.mark.parametrize("mark", [PLAIN, DIVERS, GAS])
def test_no_test_speaks_in_the_name_of_a_standard_and_each_says_when_it_is_passed(mark: str) -> None:
    for test in marks.behind(mark):
        assert "as secondary sources quote it" in test.source
        assert test.passes_when
