"""What a mark is taken to allow, row by row, and how it is printed."""

from __future__ import annotations

from typing import Any

import pytest

from logbook.model import marks
from logbook.model.judge.rules import KEEP_DRY, NO_OBJECTION, THINK_TWICE
from logbook.model.marks import mark_words
from tests.model.builders import (
    BAR,
    PRACTICE,
    SHIPPED,
    check_plan,
    codes,
    exposure,
    pool,
    practice_with,
    record,
    verdict_of,
    watch,
)

# ---------------------------------------------------------------- the table of marks

CLASS_ACTIVITY = {
    "rain, hands": "rain", "swim": "swim", "snorkel": "snorkel", "free dive": "freedive", "scuba": "dive",
    "mixed gas": "mixed-gas",
}  # fmt: skip
# Common practice, no source: the rows of docs/method.md, in the order of the classes above.
MARK_TABLE: list[tuple[str, float | None, str]] = [
    ("unmarked", None, "light no no no no no"),
    ("water-resistant", None, "yes no no no no no"),
    ("water-resistant", 3, "yes no no no no no"),
    ("water-resistant", 4.9, "yes no no no no no"),
    ("water-resistant", 5, "yes light no no no no"),
    ("water-resistant", 9.9, "yes light no no no no"),
    ("water-resistant", 10, "yes yes yes no no no"),
    ("water-resistant", 15, "yes yes yes no no no"),
    ("water-resistant", 20, "yes yes yes yes no no"),
    ("water-resistant", 100, "yes yes yes yes no no"),
    ("divers", 10, "yes yes yes yes yes no"),
    ("divers", 100, "yes yes yes yes yes no"),
    ("divers", None, "yes no no no no no"),
    ("divers", 5, "yes light no no no no"),
    ("divers-mixed-gas", 30, "yes yes yes yes yes yes"),
    ("divers-mixed-gas", None, "yes no no no no no"),
]


@pytest.mark.parametrize(("mark", "bar", "row"), MARK_TABLE)
def test_a_mark_allows_what_its_row_says(mark: str, bar: float | None, row: str) -> None:
    whole = record(mark=mark, marked_pa=None if bar is None else bar * BAR)
    for allowed, activity in zip(row.split(), CLASS_ACTIVITY.values(), strict=True):
        plan = exposure(activity=activity, depth_m=0.02, water="fresh")
        found = verdict_of(check_plan(whole, plan).reasons).get("beyond-class", NO_OBJECTION)
        assert found == {"yes": NO_OBJECTION, "light": THINK_TWICE, "no": KEEP_DRY}[allowed], activity


def test_every_activity_has_the_class_the_table_speaks_of() -> None:
    classes = {a.name: a.mark_class for a in PRACTICE.activities.values()}
    assert classes == {
        "dive": "scuba", "mixed-gas": "mixed gas", "freedive": "free dive", "snorkel": "snorkel",
        "swim": "swim", "pool": "swim", "shower": "swim", "bath": "swim", "hot tub": "swim",
        "rain": "rain, hands",
        "hands": "rain, hands", "sauna": "rain, hands", "boat": "rain, hands",
    }  # fmt: skip


def test_the_owner_may_read_a_mark_in_another_way() -> None:
    """The table is data: an override that allows swimming at 5 bar is followed."""
    rows = SHIPPED[SHIPPED.index("[[marks]]") : SHIPPED.index("[intervals.")]
    milder = practice_with(rows.replace('swim = "light"', 'swim = "yes"'))
    whole = record(mark="water-resistant", marked_pa=5 * BAR)
    assert codes(check_plan(whole, pool()).reasons) == ["beyond-class"]
    assert check_plan(whole, pool(), constants=milder).reasons == ()


@pytest.mark.parametrize(
    ("mark", "bar", "words"),
    [
        ("unmarked", None, "unmarked"),
        ("unknown", None, "unknown"),
        ("water-resistant", None, "water-resistant"),
        ("water-resistant", 10, "10 bar"),
        ("divers", 20, "diver’s 20 bar"),
        ("divers-mixed-gas", 30.5, "diver’s, mixed gas 30.5 bar"),
    ],
)
def test_a_mark_is_printed_in_words_with_its_unit(mark: str, bar: float | None, words: str) -> None:
    whole = record(mark=mark, marked_pa=None if bar is None else bar * BAR)
    assert marks.mark_words(whole.watch) == words


@pytest.mark.parametrize(
    ("told", "words"),
    [
        ({"mark": "divers", "marked_in": "m"}, "diver’s 200 m"),
        ({"mark": "divers", "marked_in": "bar"}, "diver’s 20 bar"),
        ({"mark": "water-resistant", "marked_pa": 3e5, "marked_in": "m"}, "30 m"),
        ({"mark": "divers-mixed-gas", "marked_in": "m"}, "diver’s, mixed gas 200 m"),
        ({"mark": "unknown", "marked_pa": None, "marked_in": "m"}, "unknown"),
    ],
)
def test_a_mark_is_shown_in_the_unit_of_its_dial(told: dict[str, Any], words: str) -> None:
    assert mark_words(watch(**told)) == words
