"""How long rubber may be stored: the caps of the materials against tables after ISO 2230.

Sources, looked up on the open web, since the standard itself was not at hand; all three follow ISO 2230:2002,
clause 4 (groups A, B and C by how easily a rubber deteriorates) and its initial storage periods:
(a) a seal maker's table of groups, types, initial and extended storage;
(b) a seal supplier's table, types with a shorter and a longer period, of which the shorter is the standard's;
(c) a table of a maker of rubber mounts, groups with examples, initial and extended storage.
Where others disagree: SAE AS5316 (formerly ARP5316, aerospace seals, as suppliers quote it) allows NBR, HNBR
and CR 15 years and sets no limit for FKM, EPDM and VMQ; a seal shop allows NBR, CR and NR 4 to 6 years and
EPDM 6 to 8; a sheet of the rubber trade 3 to 5 for NBR and NR, 5 to 10 for CR and EPDM. A study of the shelf
life of nitrile O-rings for aerospace found them out of specification after 7 years in the bag.
Tolerance: exact. The cap is the *initial* period; the extension is for rings that were inspected.
"""

from __future__ import annotations

import pytest

from tests.model.builders import PRACTICE

# group, initial years, years of extension
PERIODS = {"A": (5, 2), "B": (7, 3), "C": (10, 5)}
# source, group -> what it lists there
GROUPS = {
    "a": {
        "A": {"NR", "IR", "BR", "SBR", "AU", "EU"},
        "B": {"ACM", "ECO", "CR", "HNBR", "IIR", "NBR"},
        "C": {"CSM", "EPDM", "FKM", "FFKM", "VMQ", "FVMQ"},
    },
    "b": {
        "A": {"NR", "IR", "AU"},
        "B": {"NBR", "HNBR", "CR"},
        "C": {"EPDM", "FKM", "VMQ", "FVMQ", "TFE", "FFKM"},
    },
    "c": {"A": {"NR", "SBR", "BR"}, "B": {"NBR", "CR", "IIR"}, "C": {"EPDM", "VMQ"}},
}
RUBBERS = ("NBR", "HNBR", "CR", "FKM", "EPDM", "VMQ", "NR")
AEROSPACE = {"NBR": 15, "HNBR": 15, "CR": 15}  # SAE AS5316, years; no limit for the others


def groups_of(material: str) -> dict[str, str]:
    """Source -> the group that it puts a rubber into, of the sources that list it."""
    return {
        source: group
        for source, table in GROUPS.items()
        for group, listed in table.items()
        if material in listed
    }


@pytest.mark.parametrize("material", RUBBERS)
def test_a_rubber_is_in_the_group_of_every_table_that_lists_it(material: str) -> None:
    found = groups_of(material)
    assert len(found) >= 2
    assert set(found.values()) == {PRACTICE.materials[material].storage_class}


@pytest.mark.parametrize("material", RUBBERS)
def test_its_cap_is_the_initial_storage_of_its_group(material: str) -> None:
    initial, _ = PERIODS[PRACTICE.materials[material].storage_class]
    assert PRACTICE.materials[material].cap_years == initial


@pytest.mark.parametrize("material", AEROSPACE)
def test_no_cap_is_longer_than_the_aerospace_practice(material: str) -> None:
    assert PRACTICE.materials[material].cap_years <= AEROSPACE[material]


def test_a_rubber_that_is_not_known_is_held_to_the_shortest_group() -> None:
    unknown = PRACTICE.materials["unknown"]
    assert (unknown.storage_class, unknown.cap_years) == ("A", min(years for years, _ in PERIODS.values()))


def test_plastic_is_in_no_group_and_says_that_its_cap_is_assumed() -> None:
    plastic = PRACTICE.materials["plastic"]
    assert plastic.storage_class == "none"
    assert plastic.cap_years == 10
    assert "assumed" in plastic.source


@pytest.mark.parametrize("material", [m for m in RUBBERS if m not in ("NBR", "HNBR", "CR")])
def test_an_interval_that_is_not_common_practice_goes_by_the_ratio_of_the_periods(material: str) -> None:
    nitrile = PRACTICE.materials["NBR"]
    row = PRACTICE.materials[material]
    ratio = PERIODS[row.storage_class][0] / PERIODS["B"][0]
    assert (row.years, row.low, row.high) == pytest.approx(
        (nitrile.years * ratio, nitrile.low * ratio, nitrile.high * ratio)
    )
