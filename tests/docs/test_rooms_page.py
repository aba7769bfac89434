"""The page of the rooms: the keys of each as they are bound, and a picture wherever one is shown."""

from __future__ import annotations

import re
import runpy
from pathlib import Path
from typing import Any

import pytest

from tests.docs.stories import DOCS, ROOT

SCRIPT: dict[str, Any] = runpy.run_path(str(DOCS / "write_keys.py"))
PAGE = (DOCS / "rooms.md").read_text(encoding="utf-8")
PAGES = [ROOT / "README.md", ROOT / "DEVELOPERS.md", ROOT / "CHANGELOG.md", *sorted(DOCS.glob("*.md"))]


def test_the_tables_of_keys_are_current() -> None:
    assert SCRIPT["written"](PAGE) == PAGE, "run: python docs/write_keys.py"


def test_every_room_has_its_place_on_the_page_and_only_one() -> None:
    marked = re.findall(r"<!-- keys: (\w+) -->", PAGE)
    assert sorted(marked) == sorted([*SCRIPT["rooms"](), SCRIPT["SHARED"]])


def test_a_key_of_one_room_stands_in_its_table_and_a_shared_one_only_in_theirs() -> None:
    shelf = PAGE.split("<!-- keys: ShelfRoom -->")[1].split("<!-- /keys -->")[0]
    assert re.search(r"^\| `space` \| pick the watch", shelf, re.MULTILINE)
    assert "`z`" not in shelf
    shared = PAGE.split("<!-- keys: shared -->")[1].split("<!-- /keys -->")[0]
    undo = re.search(r"^\| `z` \| undo: .* \| (.+) \|$", shared, re.MULTILINE)
    assert undo is not None
    assert {"Shelf", "Watch", "Plans", "Habits"} <= set(undo[1].split(", "))


def test_no_key_is_written_as_only_the_library_names_it() -> None:
    keys = re.findall(r"^\| `([^`]+)` \|", PAGE, re.MULTILINE)
    assert len(keys) > 60
    assert not [key for key in keys if "_" in key]


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_what_a_page_shows_or_links_to_in_the_project_is_there(page: Path) -> None:
    for target in re.findall(r"\]\(([^)\s]+)\)", page.read_text(encoding="utf-8")):
        if re.match(r"[a-z]+:", target):
            continue
        file, _, heading = target.partition("#")
        there = (page.parent / file) if file else page
        assert there.is_file(), f"{page.name}: {target}"
        if heading:
            assert heading in headings(there), f"{page.name}: {target}"


def headings(page: Path) -> set[str]:
    """The headings of a page as links name them."""
    found = re.findall(r"^#+ (.+)$", page.read_text(encoding="utf-8"), re.MULTILINE)
    return {re.sub(r"[^\w\- ]", "", words.lower()).replace(" ", "-") for words in found}


def test_every_path_that_developers_are_told_of_is_there() -> None:
    told = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").replace(".venv/", "")
    paths = re.findall(r"`([a-z_]+/[\w/*.]*|\w+\*?\.(?:py|toml))`", told)
    assert len(paths) > 30
    package = ROOT / "logbook"
    assert not [path for path in paths if not any(ROOT.glob(path)) and not any(package.rglob(path))]
