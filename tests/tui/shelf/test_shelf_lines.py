"""The Shelf's lines without a terminal: which watches, which columns, and what fits below."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from typing import cast

import pytest
from rich.cells import cell_len

from logbook.model.due.services import Service
from logbook.model.due.tasks import Stage
from logbook.model.judge.rules import Reason
from logbook.model.judge.standing import Standing, stand
from logbook.model.values import Event, WatchRecord
from logbook.record.file.practice_file import load_practice
from logbook.tui.shelf import choice as shelf_choice
from logbook.tui.shelf import detail as shelf_detail
from logbook.tui.shelf import lines as shelf_lines
from logbook.tui.shelf.choice import Choice, chosen
from logbook.tui.shelf.worn import hours_words
from logbook.tui.shell.closest import Likeness
from logbook.tui.shell.whose import named
from tests.tui.conftest import TODAY, a_watch, seals_of
from tests.tui.helpers import text_of

PRACTICE = load_practice()


def standing(name: str, *, last: date | None = None, **told: str) -> Standing:
    watch = replace(a_watch(name, bar=10, **told), id=1)
    seals = tuple(replace(seal, id=n) for n, seal in enumerate(seals_of(watch)))
    return stand(WatchRecord(watch, seals, {}, last_exposure_on=last), PRACTICE, TODAY)


SHELF = [
    standing("Attic", group="Sea box"),
    standing("Blue bezel", group="every day", last=date(2026, 11, 20)),
    standing("Bobby", last=date(2026, 11, 24)),
    standing("Gran’s chrono", group="sea  box"),
]


def names(**choice: str) -> list[str]:
    return [s.name for s in chosen(SHELF, Choice(**choice))]


def test_a_group_is_one_however_it_is_written() -> None:
    assert shelf_choice.groups(SHELF) == ["every day", "Sea box"]
    assert names(group="SEA BOX") == ["Attic", "Gran’s chrono"]
    assert [shelf_choice.after(g, ["", "a", "b"]) for g in ("", "a", "b", "gone")] == ["a", "b", "", ""]


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("bb", ["Bobby", "Blue bezel"]),  # a part of the nickname before letters in order
        ("BEZ", ["Blue bezel"]),
        ("bl bz", ["Blue bezel"]),
        ("gran's", ["Gran’s chrono"]),
        ("gch", ["Gran’s chrono"]),
        ("sea", ["Attic", "Gran’s chrono"]),  # by their group
        ("zb", []),
        ("  ", ["Attic", "Blue bezel", "Bobby", "Gran’s chrono"]),
    ],
)
def test_finding_takes_part_of_a_nickname_its_letters_in_order_or_a_group(
    typed: str, found: list[str]
) -> None:
    assert names(find=typed) == found


def test_letters_that_fit_in_millions_of_ways_are_found_all_the_same() -> None:
    assert Likeness("ab" * 12 + "b").of("ab" * 40) == (1, 0.0)


def test_the_last_in_water_comes_first_and_the_rest_keep_their_order() -> None:
    assert names(order="last water") == ["Bobby", "Blue bezel", "Attic", "Gran’s chrono"]


@pytest.mark.parametrize("width", [80, 99, 100, 120, 140, 160, 220])
def test_heads_and_rows_have_one_width_and_leave_a_cell_for_the_scrollbar(width: int) -> None:
    columns = shelf_lines.layout(SHELF, width)
    lines = [shelf_lines.heads(columns), *(shelf_lines.row(s, TODAY, columns) for s in SHELF)]
    lengths = {cell_len(text_of([line]).rstrip("\n")) for line in lines}
    assert len(lengths) == 1
    assert lengths.pop() <= width


def test_wider_windows_show_more_of_what_there_is() -> None:
    def heads(width: int) -> set[str]:
        return {column.head for column, _ in shelf_lines.layout(SHELF, width)}

    assert heads(100) - heads(80) == {"last test"}
    assert heads(160) - heads(100) == {"group"}  # no watch has a reference
    assert "reference" in {c.head for c, _ in shelf_lines.layout([standing("A", reference="x")], 160)}


def test_the_title_says_what_is_shown_and_the_banner_gives_way() -> None:
    choice = Choice(group="Sea box", order="last water")
    for width in (78, 118):
        line = text_of([shelf_lines.title(SHELF, 2, choice, 1, TODAY, width)])
        assert line.startswith("logbook · 2 of 4 watches · group Sea box · 1 picked · by last water  ")
        assert cell_len(line) <= width


ASKING = next(s.next_service for s in SHELF if s.next_service and s.next_service.asking)


def asking(*stages: str) -> list[Service]:
    """Services that ask; `now` is one with a fault."""
    fault = Event("fog", TODAY, 60)
    found = []
    for stage in stages:
        troubles = (fault,) if stage == "now" else ()
        named = "overdue" if stage == "now" else stage
        found.append(replace(ASKING, stage=cast("Stage", named), troubles=troubles))
    return found


@pytest.mark.parametrize(
    ("stages", "room", "banner"),
    [
        ((), 60, "nothing is due"),
        (("due",), 60, "1 service due"),
        (("coming up", "overdue", "overdue", "due"), 60, "2 services overdue · 1 due · 1 coming up"),
        (("overdue", "now"), 60, "1 to a workshop now · 1 service overdue"),
        (("overdue", "now", "overdue", "due"), 36, "1 now · 2 overdue · 1 due"),
        (("overdue", "now", "overdue", "due"), 18, "1 now · 2 overdue"),
        (("overdue", "now", "due"), 4, "1 now"),
    ],
)
def test_the_banner_counts_services_the_worst_first(stages: tuple[str, ...], room: int, banner: str) -> None:
    assert shelf_lines.banner(asking(*stages), room) == banner


def test_while_forecasts_are_to_come_the_banner_says_at_least() -> None:
    assert shelf_lines.banner(asking("due"), 60, more=True) == (
        "at least 1 service due; more is being worked out"
    )
    assert shelf_lines.banner([], 60, more=True) == "nothing is due so far; more is being worked out"


def test_a_watch_with_several_tasks_at_once_is_one_service_in_banner_and_column() -> None:
    watch = replace(a_watch("Old hand", bar=10), id=1)
    seals = tuple(replace(seal, id=n) for n, seal in enumerate(seals_of(watch, date(2018, 1, 1))))
    several = [stand(WatchRecord(watch, seals, {}), PRACTICE, TODAY)]
    assert [len(s.next_service.asking) for s in several if s.next_service] == [2]  # gaskets and a test
    title = text_of([shelf_lines.title(several, len(several), Choice(), 0, TODAY, 140)])
    counted = sum(
        int(number) for number in re.findall(r"(\d+) (?:services? )?(?:overdue|due|coming up)", title)
    )
    assert counted == len(several)
    columns = shelf_lines.layout(several, 80)
    for standing in several:
        assert text_of([shelf_lines.row(standing, TODAY, columns)]).rstrip().endswith(" service")


@pytest.mark.parametrize("height", [4, 6, 8])
@pytest.mark.parametrize("width", [78, 98])
def test_what_has_no_place_below_is_in_the_watch_room_and_the_line_says_so(height: int, width: int) -> None:
    worst = Reason("opened-untested", "it was opened, " * 12, "", "", "keep it dry")
    full = replace(standing("Blue bezel"), stops=(worst, worst))
    lines = shelf_detail.detail(full, "no water on record", width, height)
    assert len(lines) <= height
    assert all(cell_len(text_of([line])) <= width for line in lines)
    if height == 4:
        assert "(more: ⏎)" in text_of(lines)


def test_each_seal_stands_beside_with_what_took_most() -> None:
    text = text_of(shelf_detail.seals(standing("Blue bezel", group="Sea box", reference="K 12"), 62))
    assert text.startswith("group Sea box · K 12 · last test never")
    assert "crown     NBR" in text
    assert "ageing" in text


def test_nicknames_are_named_as_far_as_there_is_room() -> None:
    every = ["Blue bezel", "Lido quartz", "Sunday dress"]
    assert named(every) == "Blue bezel, Lido quartz and Sunday dress"
    assert named(every, 34) == "Blue bezel, Lido quartz and 1 more"
    assert named(every, 33) == "Blue bezel and 2 more"
    assert named(every, 5) == "3 watches"
    assert named(["x" * 200], 10) == "x" * 9 + "…"


def test_hours_are_shared_in_hours_and_minutes() -> None:
    assert [hours_words(12 / n) for n in (1, 3, 7, 24)] == ["12 h", "4 h", "1 h 43 min", "30 min"]
