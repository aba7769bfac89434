"""Every page that shows commands is a story that runs as it stands."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from tests.docs.stories import DOCS, Told, expected_code, story_of

PAGES = sorted(page.name for page in DOCS.glob("*.md") if story_of(page.read_text("utf-8")).commands)


def test_the_pages_that_show_commands_are_known() -> None:
    known = {"calendar", "commands", "csv-and-json", "dossier", "reminders", "uddf", "undo"}
    assert known == {name.removesuffix(".md") for name in PAGES}


@pytest.mark.parametrize("name", PAGES)
def test_the_examples_of_a_page_run_as_one_story(name: str, told: Callable[[str], list[Told]]) -> None:
    for each in told(name):
        assert each.code == expected_code(each.line), each
