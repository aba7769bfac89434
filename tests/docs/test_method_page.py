"""The method page says what the code does: every constant, every stop rule, the table of marks."""

from __future__ import annotations

import re
import runpy
from pathlib import Path

import pytest

from logbook.keeping.practice_file import shipped_path
from logbook.reckoning import planrules, rules
from logbook.reckoning.practice import parse
from logbook.reckoning.practice_check import CLASSES
from logbook.reckoning.values import CHANNELS

ROOT = Path(__file__).parent.parent.parent
PAGE = (ROOT / "docs" / "method.md").read_text(encoding="utf-8")
PRACTICE = parse(shipped_path().read_text(encoding="utf-8"))


def table_under(heading: str) -> list[list[str]]:
    """The cells of the first table after a heading, without its head."""
    section = PAGE.split(f"\n## {heading}\n", 1)[1]
    rows = re.findall(r"^\|(.+)\|$", section.split("\n\n## ", 1)[0], re.MULTILINE)
    return [[cell.strip() for cell in row.split(" | ")] for row in rows[2:]]


def test_the_table_of_constants_is_current() -> None:
    written = runpy.run_path(str(ROOT / "docs" / "write_constants.py"))["written"]
    assert written(PAGE, PRACTICE) == PAGE, "run: python docs/write_constants.py"


def test_every_stop_rule_has_its_row_and_no_row_is_without_a_rule() -> None:
    codes = {row[0].strip("`") for row in table_under("Stop rules")}
    assert codes == {*rules.STANDING_CODES, *planrules.PLAN_CODES}


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
