"""What is listed is bounded, so that the page stays on two sheets however much is on record."""

from __future__ import annotations

import re
import shutil
import subprocess
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from logbook import demo
from logbook.dossier import room
from logbook.dossier.content import Dossier, gather
from logbook.dossier.render import render
from logbook.dossier.words import Table
from logbook.model.values import Watch
from logbook.record.file.store import Store
from logbook.record.reading import glance
from logbook.record.writing import watches
from tests.dossier import making
from tests.dossier.making import ADDED, PRACTICE, TODAY

WISHES = [making.WISH] * 3
BROWSERS = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome", "msedge")
PAPERS = ("A4", "letter")


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    with making.new_store(tmp_path_factory.mktemp("room") / "record.logbook") as made:
        yield made


@pytest.fixture(scope="module")
def full(store: Store) -> Dossier:
    """A watch with 5,000 exposures and with everything that can be said, said at length."""
    return making.page_of(store, making.crowded(store), WISHES, with_notes=True)


def test_a_watch_with_5000_exposures_lists_no_more_than_fits(full: Dossier) -> None:
    assert len(full.exposed.hardest.rows) <= 10
    assert len(full.exposed.activities.rows) <= 7
    assert (len(full.tests.rows), len(full.events.rows)) == (3, 2)
    assert full.exposed.activities.rows[-1][:2] == ("all", "5,004")
    assert sum(int(row[1].replace(",", "")) for row in full.exposed.activities.rows[:-1]) == 5_004
    assert full.tests.more == "and 11 earlier tests"
    assert full.events.more == "and 12 earlier events"
    assert len(full.exposed.repeated) == 3
    assert full.exposed.repeated[-1] == "and 2 other repeated exposures"
    assert len(full.seals.stops) == 6
    assert "and 11 earlier tests" in render(full, "html")


def test_with_so_much_the_print_is_smaller_and_every_unresolved_fault_stays(full: Dossier) -> None:
    assert full.small
    assert full.exposed.curves == ()
    assert [row[1] for row in full.faults.rows] == ["UNRESOLVED"] * 6
    assert len(full.stands_open) == 6
    assert full.stands_open[-1] == "and 11 others"
    assert "font-size: 7.2pt" in render(full, "html")


def test_a_watch_with_little_to_tell_has_lines_for_remarks(store: Store) -> None:
    watch_id = watches.add(store, Watch("Bare", "unmarked", None, ADDED, ADDED), [], [], PRACTICE)
    page = making.page_of(store, watch_id)
    assert (page.small, page.remarks) == (False, room.MOST_REMARKS)


def rows_of(count: int) -> Table:
    return Table("Rows", ("n", "a"), tuple((str(n), "x") for n in range(count)), what="earlier row")


def test_what_is_cut_is_counted_and_rows_that_are_left_keep_their_mark() -> None:
    table = replace(rows_of(9), marked=(0, 7), left_out=3)
    shorter = room.cut(table, 4)
    assert [row[0] for row in shorter.rows] == ["0", "1", "2", "3"]
    assert shorter.marked == (0,)
    assert shorter.more == "and 8 earlier rows"
    assert room.cut(table, 20) == table


@pytest.mark.parametrize("wishes", [0, 1, 2, 3])
def test_less_room_never_gives_more_rows(full: Dossier, wishes: int) -> None:
    def counts(page: Dossier) -> list[int]:
        tables = (page.exposed.hardest, page.tests, page.faults, page.events)
        return [len(table.rows) for table in tables]

    wide = replace(
        full, small=False, tests=rows_of(8), faults=rows_of(6), events=rows_of(8),
        exposed=replace(full.exposed, hardest=rows_of(10)), seals=replace(full.seals, stops=()),
    )  # fmt: skip
    more = counts(room.fitted(replace(wide, asked=())))
    less = counts(room.fitted(replace(wide, asked=tuple(WISHES[:wishes]))))
    assert all(a >= b for a, b in zip(more, less, strict=True))


def sheets(page: str, folder: Path, paper: str, browser: str) -> int:
    """How many sheets a browser prints the page on."""
    source, target = folder / "page.html", folder / "page.pdf"
    source.write_text(page.replace("@page {", f"@page {{ size: {paper};", 1), encoding="utf-8")
    target.unlink(missing_ok=True)
    command = [browser, "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer",
               f"--user-data-dir={folder / 'profile'}", f"--print-to-pdf={target}", str(source)]  # fmt: skip
    subprocess.run(command, check=True, capture_output=True, timeout=120)
    return len(re.findall(rb"/Type\s*/Page\b", target.read_bytes()))


@pytest.mark.release
def test_a_browser_prints_every_page_on_two_sheets_at_most(
    full: Dossier, store: Store, tmp_path: Path
) -> None:
    browser = next((found for name in BROWSERS if (found := shutil.which(name))), None)
    if browser is None:
        pytest.fail(f"No browser to print with: install one of {', '.join(BROWSERS)}.")
    pages = {"full": full}
    tame = Watch("Tame", "unmarked", None, ADDED, ADDED)
    pages["little"] = making.page_of(store, watches.add(store, tame, [], [], PRACTICE))
    path = tmp_path / "demo.logbook"
    demo.build(path, TODAY, PRACTICE)
    with Store.open(path) as opened:
        for record in glance.read_records(opened.rows, retired=True):
            standing = making.standing_of(opened, record.watch.id or 0)
            pages[record.watch.name] = gather(
                opened.rows, standing, PRACTICE, "imperial", WISHES[:1], with_notes=True
            )
    printed = {
        (name, paper): sheets(render(page, "html"), tmp_path, paper, browser)
        for name, page in pages.items()
        for paper in PAPERS
    }
    assert {key: count for key, count in printed.items() if count not in (1, 2)} == {}
