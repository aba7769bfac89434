"""Watches from a CSV table: the same as the command makes, or refused with row and column."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from logbook.errors import BadInput
from logbook.files.csv.columns import WATCH_HEADERS, WATCHES
from logbook.files.csv.watches import read_watches
from logbook.model.practice import parse
from logbook.record.file.practice_file import shipped_path
from logbook.text.newwatch import NewWatch

PRACTICE = parse(shipped_path().read_text(encoding="utf-8"))
TODAY = date(2026, 8, 1)


def read(text: str, **more: Any) -> list[NewWatch]:
    return read_watches(text, "shelf.csv", practice=PRACTICE, today=TODAY, **more)


def refused(text: str, **more: Any) -> tuple[str | None, str]:
    with pytest.raises(BadInput) as caught:
        read(text, **more)
    return caught.value.where, caught.value.message


def test_a_row_is_a_watch_with_its_seals_and_what_is_known_of_its_past() -> None:
    (new,) = read(
        "name,mark,marked_bar,crown,pushers,gas valve,seals,seal_crown,case,movement,use,bought,fitted,"
        "tested,tested_bar,worn_hours,winds,reference,note,group\n"
        "Blue bezel,divers,20,Screwed,no,yes,nbr,FKM@2025-01-10,titanium,mechanical,diving,2024-02-19,"
        "2025-02-01..2025-03-01,2025-06-10,25,9,2,0815,mine,sea box\n"
    )
    watch = new.watch
    assert (watch.name, watch.mark, watch.marked_pa, watch.crown) == ("Blue bezel", "divers", 20e5, "screwed")
    assert (watch.pushers, watch.gas_valve, watch.case_material, watch.use) == (
        False,
        True,
        "titanium",
        "diving",
    )
    assert (watch.worn_h, watch.winds, watch.reference, watch.group) == (9, 2, "0815", "sea box")
    assert (watch.added_on, watch.recorded_from, watch.bought_on) == (TODAY, TODAY, date(2024, 2, 19))
    seals = {seal.position: (seal.material, seal.fitted_earliest, seal.fitted_latest) for seal in new.seals}
    assert seals["crown"] == ("FKM", date(2025, 1, 10), date(2025, 1, 10))
    assert seals["case-back"] == seals["gas-valve"] == ("NBR", date(2025, 2, 1), date(2025, 3, 1))
    assert "pushers" not in seals
    opened, test = new.events
    assert (opened.kind, opened.on) == ("opened", date(2025, 1, 10))
    assert (test.kind, test.on, test.passed, test.test_pa, test.medium) == (
        "pressure-test", date(2025, 6, 10), True, 25e5, "air",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("header", "cell", "marked_pa"),
    [("marked_bar", "5", 5e5), ("marked_m", "50", 5e5), ("marked", "50m", 5e5), ("marked", "5 bar", 5e5),
     ("Marked (m)", "50", 5e5), ("marked_pa", "500000", 5e5)],
)  # fmt: skip
def test_a_marked_pressure_is_in_bar_or_in_metres(header: str, cell: str, marked_pa: float) -> None:
    (new,) = read(f"name,{header}\nLido,{cell}\n")
    assert (new.watch.mark, new.watch.marked_pa) == ("water-resistant", marked_pa)


def test_a_range_that_ends_on_the_day_the_watch_was_added_is_supposed_and_no_opening() -> None:
    head = "name,added_on,seal_crown,seal_crystal\n"
    (new,) = read(head + "Blue,2026-03-15,unknown@2021-03-15..2026-03-15,FKM@2016-03-15..2026-03-15\n")
    assert new.events == ()
    assert {s.position: s.fitted_earliest for s in new.seals}["crown"] == date(2021, 3, 15)
    (new,) = read(head + "Blue,2026-03-15,unknown@2021-03-15..2026-03-15,FKM@2025-01-10\n")
    assert [(e.kind, e.on) for e in new.events] == [("opened", date(2025, 1, 10))]
    (new,) = read(head + "Blue,2026-03-15,FKM@2026-03-15,\n")
    assert [(e.kind, e.on) for e in new.events] == [("opened", date(2026, 3, 15))]


def test_a_name_alone_is_a_watch_of_which_nothing_is_known() -> None:
    (new,) = read("name\nGran's chrono\n")
    assert (new.watch.mark, new.watch.marked_pa, new.watch.use, new.events) == ("unknown", None, "dry", ())
    assert {seal.material for seal in new.seals} == {"unknown"}


@pytest.mark.parametrize(
    ("text", "where", "words"),
    [
        ("mark\ndivers\n", "row 1", "there is no column name"),
        ("name,colour\nBlue,blue\n", "row 1", "no column colour"),
        ("name\n", "row 1", "a header, but no row"),
        ("name,mark\n,divers\n", "row 2, name", "The name is missing"),
        ("name,mark\nBlue,diver\n", "row 2, mark", "Did you mean divers?"),
        ("name,mark\nBlue,divers\n", "row 2, marked_pa", "has a number"),
        ("name,marked\nBlue,20\n", "row 2, marked", "20 has no unit"),
        ("name,marked_bar\nBlue,20m\n", "row 2, marked_bar", "the name of its column says bar"),
        ("name,seals\nBlue,rubber\n", "row 2, seals", "is no material"),
        ("name,seal_pushers\nBlue,NBR\n", "row 2, seal_pushers", "say yes in the column pushers"),
        ("name,seal_crown\nBlue,NBR@soon\n", "row 2, seal_crown", "is not a date"),
        ("name,fitted\nBlue,2025-02-01..2024-02-01\n", "row 2, fitted", "runs backwards"),
        ("name,fitted\nBlue,before 2015\n", "row 2, fitted", "has one end"),
        ("name,fitted\nBlue,2028\n", "row 2, fitted", "lies in the future"),
        ("name,fitted\nBlue,sat\n", "row 2, fitted", "sat"),
        ("name,fitted\nBlue,2027-02-01\n", "row 2, fitted", "lies in the future"),
        ("name,tested\nBlue,2025-02-01\n", "row 2, tested", "To what pressure"),
        ("name,tested_bar\nBlue,10\n", "row 2, tested_bar", "When was that test?"),
        ("name,worn\nBlue,30h\n", "row 2, worn", "out of range"),
        ("name\nBlue\nGreen\nbLUE\n", "row 4, name", "bLUE is in row 2 already"),
        ("name\nBlue: bezel\n", "row 2, name", "no colon"),
    ],
)
def test_what_is_wrong_is_said_with_its_row_and_its_column(text: str, where: str, words: str) -> None:
    found, said = refused(text)
    assert found == where
    assert said.startswith(f"shelf.csv, {where}: ")
    assert words in said, said


@pytest.mark.parametrize(
    ("text", "first", "last"),
    [
        ("2024", date(2024, 1, 1), date(2024, 12, 31)),
        ("2024-05", date(2024, 5, 1), date(2024, 5, 31)),
        ("may 2024..2025-03-14", date(2024, 5, 1), date(2025, 3, 14)),
        ("spring 2024", date(2024, 3, 1), date(2024, 5, 31)),
    ],
)
@pytest.mark.parametrize("dates", ["iso", "day-first"])
def test_seals_may_have_been_fitted_in_a_month_a_season_or_a_year(
    text: str, first: date, last: date, dates: str
) -> None:
    (new,) = read(f"name,fitted,seal_crown\nBlue,{text},FKM@{text}\n", dates=dates)
    assert {(seal.fitted_earliest, seal.fitted_latest) for seal in new.seals} == {(first, last)}


def test_dates_of_watches_are_read_as_was_said() -> None:
    (new,) = read("name,bought,fitted\nBlue,03/07/2024,04/07/2025\n", dates="day-first")
    assert (new.watch.bought_on, new.seals[0].fitted_latest) == (date(2024, 7, 3), date(2025, 7, 4))
    where, said = refused("name,bought\nBlue,03/07/2024\n")
    assert (where, "--dates day-first" in said) == ("row 2, bought", True)


def test_no_two_columns_share_a_name() -> None:
    names = [name for column in WATCHES for name in column.headers()]
    assert len(names) == len(set(names)) == len(WATCH_HEADERS)
