"""The page as Markdown, read back by a parser of its own: every value stays the text that it is."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from logbook.caution import CAUTION
from logbook.dossier import content
from logbook.dossier.content import Dossier
from logbook.dossier.render import escape_markdown, render
from logbook.dossier.words import typed
from logbook.record.file.store import Store
from tests.dossier import making
from tests.dossier.hostile import HOSTILE
from tests.dossier.test_html import named

BLOCKS = {
    "heading", "paragraph", "bullet_list", "list_item", "blockquote", "table", "thead", "tbody", "tr", "th",
    "td", "hr", "inline",
}  # fmt: skip
# With links found in bare text, strikethrough and tables, as the largest hosts of Markdown read it.
READER = MarkdownIt("gfm-like")


def read(source: str) -> tuple[Counter[str], list[str], list[list[int]]]:
    """Kinds of tokens, the texts of the inline ones, and the cells of each row of each table."""
    kinds: Counter[str] = Counter()
    texts: list[str] = []
    rows: list[list[int]] = []
    for token in READER.parse(source):
        kinds[token.type.removesuffix("_open").removesuffix("_close")] += 1
        if token.type == "table_open":
            rows.append([])
        if token.type == "tr_open":
            rows[-1].append(0)
        if token.type in ("td_open", "th_open"):
            rows[-1][-1] += 1
        if token.type == "inline":
            texts.append(told(token))
            kinds.update(f"in {child.type}" for child in token.children or ())
    return kinds, texts, rows


def told(token: Any) -> str:
    return " ".join("".join(child.content or " " for child in token.children or ()).split())


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    with making.new_store(tmp_path_factory.mktemp("markdown") / "record.logbook") as made:
        yield made


def test_hostile_text_comes_back_as_text_and_adds_no_markup(pages: dict[str, Dossier]) -> None:
    for text in HOSTILE:
        source = render(pages[text], "markdown")
        kinds, texts, rows = read(source)
        assert {kind for kind in kinds if not kind.startswith("in ")} == BLOCKS, text
        assert {k for k in kinds if k.startswith("in ")} <= {
            "in text", "in text_special", "in strong_open", "in strong_close", "in softbreak",
        }, text  # fmt: skip
        assert all(len(set(cells)) == 1 for cells in rows), text
        assert texts[0] == f"{named(text)}: dossier for the workshop", text
        note = " ".join(typed(text, content.NOTE_LENGTH).split())
        assert (f"Note: {note}" in texts) == bool(text.strip()), text


@given(st.text(max_size=60) | st.text("#-+*=>_`~1.) ab", max_size=6))
@example("0 #")
@example("a ###")
def test_any_text_alone_in_a_cell_or_in_an_item_is_what_it_was(text: str) -> None:
    shown = " ".join(typed(text, 80).split())
    tame = escape_markdown(shown)
    for source in (f"- {tame}\n", f"# {tame}\n", f"| a | b |\n| --- | --- |\n| {tame} | x |\n"):
        kinds, texts, _ = read(source)
        assert shown in texts
        assert not {k for k in kinds if k.startswith("in ")} - {"in text", "in text_special"}


def test_the_caution_stands_at_the_top_and_at_the_end(store: Store) -> None:
    page = making.page_of(store, making.crowded(store, 40), ["a look at the crown"])
    source = render(page, "markdown")
    assert source.startswith("# Everything at once: dossier for the workshop\n")
    assert f"> **Caution.** {CAUTION}" in source.split("## ")[0]
    assert source.rstrip().endswith(CAUTION)
    assert "- **a look at the crown**" in source
    assert "<" not in source.replace("\\<", "")
    assert "\n\n\n" not in source
