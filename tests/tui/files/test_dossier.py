"""The dossier, written from the room of a watch."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.pilot import Pilot

from logbook.caution import CAUTION
from logbook.record.record import Book
from logbook.tui.app import LogbookApp
from logbook.tui.files.dossier import file_name
from logbook.tui.shell.form import FormRoom
from logbook.tui.widgets.field import Field
from logbook.tui.widgets.pick import Pick
from tests.tui.helpers import (
    HOSTILE,
    LARGE,
    SMALL,
    paste,
    press_all,
    raw_controls,
    room,
    screen_text,
    shows,
    wait_for,
    wait_for_message,
    wait_for_room,
    wait_for_text,
    write,
)
from tests.tui.watching import DIVE, IdOf, Log, opened


@pytest.fixture
def home(a_home_of_its_own: Path) -> Path:
    return a_home_of_its_own


async def asked(pilot: Pilot[int], watch_id: int, path: Path | str | None = None) -> FormRoom:
    """From the room of a watch to the questions about its page; another path in place of the usual one."""
    await opened(pilot, watch_id)
    await pilot.press("p")
    await wait_for_room(pilot, "DossierRoom")
    screen = pilot.app.screen
    assert isinstance(screen, FormRoom)
    if path is not None:
        screen.query_one("#path", Field).entry.value = str(path)
        await pilot.pause()
    return screen


async def test_a_page_is_written_to_the_usual_place_and_it_says_where(
    book: Book, id_of: IdOf, log: Log, home: Path
) -> None:
    log("Blue bezel", "dive", note="with borrowed fins", **DIVE)
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await asked(pilot, id_of("Blue bezel"))
        await wait_for_text(pilot, "Dossier: Blue bezel", "path ~/blue-bezel.html")
        assert not shows(app, "a file is there")
        await pilot.press("enter")
        await write(pilot, "new gaskets <and> a test")
        await pilot.press("enter", "enter", "enter", "enter")  # the last one writes
        await wait_for_room(pilot, "WatchRoom")
        await wait_for_message(pilot, f"Wrote the dossier of Blue bezel to {home / 'blue-bezel.html'}.")
    target = home / "blue-bezel.html"
    page = target.read_text(encoding="utf-8")
    assert "<li>new gaskets &lt;and&gt; a test</li>" in page
    assert "Printed on 25 Nov 2026" in page
    assert CAUTION in page
    assert "borrowed fins" not in page
    assert target.stat().st_mode & 0o777 == 0o600
    assert [p.name for p in home.iterdir()] == ["blue-bezel.html"]


async def test_notes_and_markdown_when_they_are_asked_for(
    book: Book, id_of: IdOf, log: Log, home: Path
) -> None:
    log("Blue bezel", "dive", note="with borrowed fins", **DIVE)
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        screen = await asked(pilot, id_of("Blue bezel"), "~/page.md")
        for name in ("ask-1", "ask-3"):
            screen.query_one(f"#{name}", Field).fill(f"the wish of {name}")
        screen.query_one("#notes", Pick).fill("yes")
        await pilot.press("ctrl+s")
        await wait_for_room(pilot, "WatchRoom")
    page = (home / "page.md").read_text(encoding="utf-8")
    assert page.startswith("# Blue bezel: dossier for the workshop")
    assert "- **the wish of ask-1**\n- **the wish of ask-3**\n" in page
    assert "with borrowed fins" in page


async def test_a_file_that_is_there_stays_until_one_says_otherwise(
    book: Book, id_of: IdOf, home: Path
) -> None:
    target = home / "blue-bezel.html"
    target.write_text("my own", encoding="utf-8")
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        screen = await asked(pilot, id_of("Blue bezel"))
        await wait_for_text(pilot, "a file is there [keep it] replace it")
        await pilot.press("ctrl+s")
        await wait_for_text(pilot, "! path", "There is already a file at", "it was left as it is.")
        assert target.read_text(encoding="utf-8") == "my own"
        screen.query_one("#replace", Pick).fill("yes")
        await pilot.press("ctrl+s")
        await wait_for_room(pilot, "WatchRoom")
    assert target.read_text(encoding="utf-8").startswith("<!doctype html>")


async def test_yes_to_one_file_is_no_yes_to_a_path_that_was_free(book: Book, id_of: IdOf, home: Path) -> None:
    target = home / "later.html"
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        screen = await asked(pilot, id_of("Blue bezel"), target)
        screen.query_one("#replace", Pick).fill("yes")
        target.write_text("came meanwhile", encoding="utf-8")
        await pilot.press("ctrl+s")
        await wait_for_text(pilot, "There is already a file at", "a file is there")
    assert target.read_text(encoding="utf-8") == "came meanwhile"


@pytest.mark.parametrize(
    ("path", "said"),
    [
        ("", "Where to?"),
        ("~/page.txt", "Let the path end in .html or .md"),
        ("~", "Let the path end in .html or .md"),
        ("/nowhere/at/all.html", "There is no folder /nowhere"),
        ("~no-such-user/page.html", "There is no folder"),
        (f"~/{'x' * 300}.html", "could not be written: File name too long."),
    ],
)
async def test_a_path_that_cannot_be_is_said_beside_it(
    book: Book, id_of: IdOf, home: Path, path: str, said: str
) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=LARGE) as pilot:
        await asked(pilot, id_of("Blue bezel"), path)
        await pilot.press("ctrl+s")
        await wait_for_text(pilot, "! path", said)
        assert room(app) == "DossierRoom"
    assert list(home.iterdir()) == []


async def test_the_record_itself_is_never_written_over(book: Book, id_of: IdOf, home: Path) -> None:
    link = home / "link.html"
    link.hardlink_to(book.path)
    before = book.path.read_bytes()
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        screen = await asked(pilot, id_of("Blue bezel"), link)
        screen.query_one("#replace", Pick).fill("yes")
        await pilot.press("ctrl+s")
        await wait_for_text(pilot, "! path", "is the record itself; name another place.")
    assert link.samefile(book.path)
    assert book.path.read_bytes() == before


async def test_a_record_that_has_gone_is_told_in_words(book: Book, id_of: IdOf, home: Path) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await asked(pilot, id_of("Blue bezel"))
        book.path.rename(book.path.with_suffix(".away"))
        await pilot.press("ctrl+s")
        await wait_for_message(pilot, "There is no record at")
        assert room(app) == "DossierRoom"
    assert list(home.iterdir()) == []


async def test_escape_writes_nothing(book: Book, id_of: IdOf, home: Path) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        await asked(pilot, id_of("Blue bezel"))
        await press_all(pilot, ["enter", "x", "escape"])
        await wait_for_room(pilot, "WatchRoom")
    assert list(home.iterdir()) == []


async def test_hostile_text_in_any_field_is_text(
    book: Book, id_of: IdOf, home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(home)
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        screen = await asked(pilot, id_of("Blue bezel"), "")
        for text in HOSTILE:
            for name in ("ask-1", "ask-3"):
                screen.query_one(f"#{name}", Field).entry.value = text
            screen.query_one("#path", Field).fill("")
            screen.query_one("#path", Field).ask()
            await paste(pilot, text)
            await pilot.press("ctrl+s")
            await wait_for_text(pilot, "! path")
            assert raw_controls(app) == []
            assert len(screen_text(app).split("\n")) == SMALL[1]
    assert list(home.iterdir()) == []


@pytest.mark.parametrize(
    "text", ["\x1b[2J", "\u202eevil", "x" * 10_000, "</style><script>", "a\x00b", "[red"]
)
async def test_a_hostile_wish_is_printed_as_text(book: Book, id_of: IdOf, home: Path, text: str) -> None:
    app = LogbookApp(book)
    async with app.run_test(size=SMALL) as pilot:
        screen = await asked(pilot, id_of("Blue bezel"))
        screen.query_one("#ask-2", Field).ask()
        await paste(pilot, text)
        await pilot.press("ctrl+s")
        await wait_for(pilot, lambda: room(app) == "WatchRoom", "the page is written")
    page = (home / "blue-bezel.html").read_text(encoding="utf-8")
    assert "<script" not in page
    assert not [char for char in page if char in "\x00\x1b\u202e"]


@pytest.mark.parametrize(
    ("nickname", "name"),
    [
        ("Blue bezel", "blue-bezel"),
        ("Gran's chrono", "grans-chrono"),
        ("Élan № 7", "elan-no-7"),
        ("../../etc/passwd", "etc-passwd"),
        ("-rf ~", "rf"),
        ("漢字時計", "watch"),
        ("\x00\x1b[2J", "2j"),
        ("", "watch"),
        ("x" * 80, "x" * 60),
    ],
)
def test_a_nickname_gives_a_file_name_of_tame_characters(nickname: str, name: str) -> None:
    assert file_name(nickname) == name
