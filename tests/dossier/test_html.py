"""The page as HTML, read back by a parser that knows nothing of how it was made."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import html5lib
import pytest

from logbook.caution import CAUTION
from logbook.dossier import bench, content, exposed, palette
from logbook.dossier.content import Dossier
from logbook.dossier.drawing import SealBars
from logbook.dossier.render import environment, render
from logbook.dossier.seals import PARTS, Bar
from logbook.dossier.words import typed
from logbook.errors import BadInput
from logbook.model.text import clean
from logbook.record.file.store import Store
from tests.dossier import making
from tests.dossier.hostile import HOSTILE, TAME

CONTROLS = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u200e\u200f\u202a-\u202e\u2066-\u2069\ufeff\u2028\u2029]")
# How long a text may be where it stands alone in the page, and what stands before it.
WRITTEN = ((content.NOTE_LENGTH, ""), (content.REFERENCE_LENGTH, "Reference: "), (bench.NOTE_LENGTH, ""),
           (exposed.NOTE_LENGTH, ""))  # fmt: skip
GEOMETRY = {"d", "x", "y", "width", "height", "points", "viewBox", "stroke-dasharray"}


def parsed(text: str) -> Any:
    """The document; a mistake in its markup is an error."""
    return html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(text)


def name_of(element: Any) -> str:
    return str(element.tag).rpartition("}")[2]


def told(element: Any) -> str:
    return " ".join("".join(element.itertext()).split())


def named(text: str) -> str:
    """A nickname as the record keeps it and the page prints it."""
    return " ".join(typed(unicodedata.normalize("NFC", text), 80).split())


def shape(document: Any) -> set[tuple[str, str, str]]:
    """Every element with each attribute and what it says, numbers of drawings left out."""
    found = set()
    for element in document.iter():
        if not isinstance(element.tag, str):
            found.add(("comment", "", ""))
            continue
        found.add((name_of(element), "", ""))
        found |= {
            (name_of(element), key, "" if key in GEOMETRY else value) for key, value in element.attrib.items()
        }
    return found


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    with making.new_store(tmp_path_factory.mktemp("dossier") / "record.logbook") as made:
        yield made


@pytest.fixture(scope="module")
def everything(store: Store) -> Dossier:
    """The page of a watch with more of everything than fits."""
    return making.page_of(store, making.crowded(store, 300), ["a wish"] * 3, with_notes=True)


def test_there_are_more_than_sixty_hostile_strings() -> None:
    assert len(set(HOSTILE)) >= 60


def test_hostile_text_comes_back_as_text_and_adds_no_markup(
    pages: dict[str, Dossier], everything: Dossier
) -> None:
    allowed = shape(parsed(render(everything, "html")))
    for text in TAME:
        allowed |= shape(parsed(render(pages[text], "html")))
    for text in HOSTILE:
        source = render(pages[text], "html")
        document = parsed(source)
        assert shape(document) - allowed == set(), text
        assert not CONTROLS.search(source), text
        assert "<script" not in source.lower(), text
        name = named(text)
        assert told(document.find(".//h1")) == name, text
        assert told(document.find("head/title")).startswith(f"{name}: dossier"), text
        assert told(document.find(".//ul[@class='wishes']")) == " ".join(typed(text, 120).split()), text
        if text.strip() and not pages[text].small:
            found = {told(e) for e in document.iter() if name_of(e) in ("dd", "td", "p")}
            for limit, before in WRITTEN:
                assert before + " ".join(typed(text, limit).split()) in found, (text, limit)


def test_a_hostile_wish_is_refused_in_a_sentence_or_printed_as_it_is(store: Store) -> None:
    """How a wish that is taken stands on the page is tried with the other text."""
    standing = making.standing_of(store, making.written_all_over(store, "asked", "asked of"))
    for text in HOSTILE:
        try:
            clean(text, "wish", "--ask", content.ASKED_LENGTH)
            taken = bool(text.strip())
        except BadInput:
            taken = False
        if not taken:
            with pytest.raises(BadInput) as refused:
                making.page_from(store, standing, [text])
            assert refused.value.where == "--ask"
            assert not CONTROLS.search(refused.value.message)
            continue
        wish = typed(" ".join(text.split()), content.ASKED_LENGTH)
        assert [" ".join(asked.split()) for asked in making.page_from(store, standing, [text]).asked] == [
            " ".join(wish.split())
        ]


def test_the_page_stands_alone(everything: Dossier) -> None:
    source = render(everything, "html")
    document = parsed(source)
    assert "http" not in source
    assert "url(" not in source.replace("url(#hatch-", "")
    assert not {name_of(e) for e in document.iter() if isinstance(e.tag, str)} & {
        "script", "link", "img", "iframe", "object", "embed", "form", "input", "base",
    }  # fmt: skip
    assert "@import" not in source
    assert "@page" in source


def test_readers_that_speak_find_their_way(everything: Dossier) -> None:
    document = parsed(render(everything, "html"))
    assert document.get("lang") == "en-GB"
    assert told(document.find("head/title"))
    for table in document.iter("table"):
        assert told(table.find("caption"))
        heads = table.findall("thead/tr/th")
        assert heads
        assert all(th.get("scope") == "col" for th in heads)
        for row in table.findall("tbody/tr"):
            assert [name_of(cell) for cell in row] == ["th"] + ["td"] * (len(heads) - 1)
            assert row.find("th").get("scope") == "row"
    ids = [e.get("id") for e in document.iter() if e.get("id")]
    assert len(ids) == len(set(ids))
    drawings = [e for e in document.iter() if name_of(e) == "svg"]
    assert drawings
    for drawing in drawings:
        assert drawing.get("role") == "img"
        labels = drawing.get("aria-labelledby").split()
        by_id = {e.get("id"): (name_of(e), told(e)) for e in drawing.iter()}
        assert [by_id[label][0] for label in labels] == ["title", "desc"]
        assert all(by_id[label][1] for label in labels)
    levels = [int(name_of(e)[1]) for e in document.iter() if re.fullmatch("h[1-6]", name_of(e))]
    assert levels[0] == 1
    assert set(levels[1:]) == {2}


def test_every_channel_has_a_hatching_of_its_own_and_its_word(store: Store) -> None:
    bars = SealBars([Bar("crown", "70 %", (0.1,) * len(PARTS), 0.5, 0.9)])
    template = '{% import "drawing.svg.jinja" as drawing %}{{ drawing.seals(bars) }}'
    picture = environment("html").from_string(template).render(bars=bars)
    document = html5lib.parse(picture, namespaceHTMLElements=False)
    words = [told(e) for e in document.iter() if name_of(e) == "text"]
    fills = []
    for name in PARTS:
        assert name in words
        fills += [name] if f"url(#hatch-{name})" in picture else []
    assert [name for name in PARTS if name not in fills] == ["ageing"]  # solid ink
    tiles = re.findall(r'<pattern id="hatch-\w+"[^>]*>(.*?)</pattern>', picture)
    drawn = {re.sub(r"#[0-9a-f]{6}", "", tile) for tile in tiles}
    assert len(drawn) == len(tiles) == len(PARTS) - 1  # told apart without their colours


def test_only_colours_whose_contrast_is_known_are_used(everything: Dossier) -> None:
    known = {palette.PAPER, palette.INK, palette.QUIET, palette.RULE, palette.TINT, palette.ALARM}
    known |= set(palette.CHANNEL_INKS.values())
    source = render(everything, "html")
    used = set(re.findall(r"#[0-9a-fA-F]{3,8}\b", source)) - {"#8230"}
    assert used <= known
    assert not re.search(r"\b(rgba?|hsla?|opacity)\b", source)


def test_the_caution_comes_first_and_stands_in_the_footer_of_every_sheet(everything: Dossier) -> None:
    source = render(everything, "html")
    document = parsed(source)
    assert CAUTION in told(document.find(".//aside"))
    assert CAUTION in told(document.find(".//footer"))
    assert "position: fixed" in source
    assert "The maker’s instructions" in told(document.find(".//aside"))


def test_the_same_content_is_the_same_page(everything: Dossier, tmp_path: Path) -> None:
    assert render(everything, "html") == render(everything, "html")
