"""The method page says what the code does: every constant, every stop rule, the table of marks."""

from __future__ import annotations

import re
import runpy
from pathlib import Path

import pytest

from logbook.model.fitting import UNKNOWN_YEARS
from logbook.model.judge import planrules, rules, stands
from logbook.model.practice import parse
from logbook.model.practice_check import CLASSES
from logbook.model.values import CHANNELS
from logbook.record.file.practice_file import shipped_path

ROOT = Path(__file__).parent.parent.parent
PAGE = (ROOT / "docs" / "method.md").read_text(encoding="utf-8")
PRACTICE = parse(shipped_path().read_text(encoding="utf-8"))

STOOD = {stand.code for stand in stands.STANDS.values()}


def table_under(heading: str) -> list[list[str]]:
    """The cells of the first table after a heading, without its head."""
    section = PAGE.split(f"\n## {heading}\n", 1)[1]
    rows = re.findall(r"^\|(.+)\|$", section.split("\n\n## ", 1)[0], re.MULTILINE)
    return [[cell.strip() for cell in row.split(" | ")] for row in rows[2:]]


def test_the_table_of_constants_is_current() -> None:
    written = runpy.run_path(str(ROOT / "docs" / "write_constants.py"))["written"]
    assert written(PAGE, PRACTICE) == PAGE, "run: python docs/write_constants.py"


def codes_under(heading: str) -> list[str]:
    """The codes in the first column of the first table after a heading."""
    return [row[0].split("`")[1] for row in table_under(heading)]


def test_every_rule_has_its_row_and_no_row_is_without_a_rule() -> None:
    other = codes_under("Other rules")
    assert sorted(other) == sorted({*rules.STANDING, *planrules.PLAN})
    assert {*codes_under("What stands until proven"), *other} == {*rules.ORDER}


def test_what_stands_has_a_row_for_each_way_in_which_it_is_lifted() -> None:
    codes = codes_under("What stands until proven")
    assert sorted(codes) == sorted(stand.code for stand in stands.STANDS.values())


@pytest.mark.parametrize(
    ("code", "constants"),
    [
        ("big-swing", ("big_swing_k", "big_swing_other_k")),
        ("hot-water", ("hot_soap_c", "hot_water_c")),
        ("jump", ("jump_m",)),
        ("test-overdue", ("dive_overdue_months",)),
        ("over-tested", ("dive_overdue_months",)),
        ("low-score", ("low_score",)),
        ("chance-low", ("chance_mean_dive", "chance_low_dive", "chance_mean_else", "chance_low_else")),
        ("record-silent", ("silent_days",)),
        ("overstressed", ("least_test_dive_bar",)),
        ("beyond-proof", ("least_test_swim_bar",)),
    ],
)
def test_a_rule_stands_there_with_its_limits(code: str, constants: tuple[str, ...]) -> None:
    heading = "What stands until proven" if code in STOOD else "Other rules"
    (row,) = (row for row in table_under(heading) if f"`{code}`" in row[0])
    for name in constants:
        assert re.search(rf"\b{PRACTICE[name]:g}0?\b", " ".join(row)), name


@pytest.mark.parametrize(
    ("words", "constant"),
    [
        ("rain, hands", "least_test_splash_bar"),
        ("swim, bath, shower, snorkel", "least_test_swim_bar"),
        ("free dive, scuba, mixed gas", "least_test_dive_bar"),
    ],
)
def test_the_least_pass_of_each_class_is_the_one_in_practice(words: str, constant: str) -> None:
    assert [words, f"{PRACTICE[constant]:g}"] in table_under("Evidence")


@pytest.mark.parametrize(
    ("words", "constant"),
    [
        ("It is {} times (`test_margin`)", "test_margin"),
        ("from {} bar on (`vacuum_covers_bar`)", "vacuum_covers_bar"),
        ("counts as {} bar (`unknown_pass_bar`)", "unknown_pass_bar"),
        ("up to {} months for diving", "own_most_diving"),
        ("{} for swimming and", "own_most_swimming"),
        ("and {} for a splash", "own_most_dry"),
        ("deeper than {} m (`splash_depth_m`)", "splash_depth_m"),
        ("deeper than {} m (`swim_depth_m`)", "swim_depth_m"),
    ],
)
def test_a_number_in_a_sentence_is_the_one_in_practice(words: str, constant: str) -> None:
    assert words.format(f"{PRACTICE[constant]:g}") in " ".join(PAGE.split())


def test_how_far_back_a_fitting_reaches_that_nobody_knows_is_what_the_reckoning_takes() -> None:
    assert f"else {UNKNOWN_YEARS} years." in " ".join(PAGE.split())


def test_two_percent_is_what_counts_as_above() -> None:
    assert f"{100 * (PRACTICE['over_share'] - 1):.0f} % (`over_share`)" in " ".join(PAGE.split())


@pytest.mark.parametrize("channel", CHANNELS)
def test_every_channel_has_its_row(channel: str) -> None:
    assert channel in {row[0] for row in table_under("Wear share")}


def test_the_table_of_marks_is_the_one_in_practice() -> None:
    shown = [row[1:] for row in table_under("What a mark is taken to allow")]
    assert shown == [[row.allows[name] for name in CLASSES] for row in PRACTICE.marks]


@pytest.mark.parametrize("word", ["waterproof", " safe "])
def test_nothing_is_promised(word: str) -> None:
    for page in [ROOT / "README.md", *sorted((ROOT / "docs").glob("*.md"))]:
        assert word not in page.read_text(encoding="utf-8").lower()


def test_every_page_that_speaks_of_scores_says_that_they_replace_no_pressure_test() -> None:
    for page in [ROOT / "README.md", *sorted((ROOT / "docs").glob("*.md"))]:
        text = " ".join(page.read_text(encoding="utf-8").split())
        if "score" in text:
            assert re.search(r"(not|none of it|never) replaces?\W", text), page.name
