"""Each verdict and each stage is drawn in the colour of what it means, in every palette.

That a state is always a word as well is tested elsewhere; here a swap of two colours shows.
"""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from rich.style import Style
from textual.color import Color
from textual.theme import Theme

from logbook.model.values import Event
from logbook.record.file import looks_file
from logbook.record.record import Book
from logbook.tui.app import LogbookApp
from logbook.tui.check.room import CheckRoom
from logbook.tui.shell.theme import THEMES
from tests.tui.conftest import TODAY, a_watch, passed_test, seals_of
from tests.tui.helpers import LARGE, wait_for, wait_for_room, wait_for_text

pytestmark = pytest.mark.looks_ahead

Cells = list[tuple[str, Style]]

# What a word means: well, a warning, or worse than that. Bold goes with the worst.
MEANS = {
    "–": "success",
    "NO OBJECTION FOUND": "success",
    "no objection found": "success",
    "nothing is due": "success",
    "think twice": "warning",
    "THINK TWICE": "warning",
    "coming up": "warning",
    "keep it dry": "error",
    "KEEP IT DRY": "error",
    "due": "error",
    "overdue": "error",
}


@pytest.fixture(params=THEMES, ids=lambda theme: theme.name)
def palette(request: pytest.FixtureRequest) -> Theme:
    """A palette that was kept before the app opens."""
    theme: Theme = request.param
    looks_file.keep_theme(theme.name)
    return theme


@pytest.fixture
def shelf(empty_book: Book) -> Book:
    """One watch with nothing against it, one that had water inside, three whose test is ever nearer."""
    for name, tested in (("Calm", 10), ("Soon", 350), ("Ripe", 370), ("Old", 400)):
        watch = a_watch(
            name, mark="divers", bar=20, use="swimming", crown="screwed", confirmed_on=TODAY,
            intervals_months={"strap": 120},
        )  # fmt: skip
        passed = passed_test(TODAY - timedelta(days=tested), 20)
        empty_book.add_watch(watch, seals_of(watch, date(2026, 9, 1)), [passed])
    wet = a_watch("Wet", bar=10, use="swimming")
    empty_book.add_watch(wet, seals_of(wet), [Event("water-inside", TODAY, 60)])
    return empty_book


def drawn(app: LogbookApp) -> list[Cells]:
    """Each line as it is drawn now: pieces of text with their style."""
    strips = app.screen._compositor.render_strips()
    return [[(s.text.strip(), s.style or Style()) for s in strip if s.text.strip()] for strip in strips]


def line_of(app: LogbookApp, *words: str) -> Cells:
    """The first line that shows all of these words."""
    for cells in drawn(app):
        text = " ".join(words for words, _ in cells)
        if all(word in text for word in words):
            return cells
    raise AssertionError(f"no line shows {words}")


def style_of(cells: Cells, word: str) -> Style:
    """How a word is drawn that stands for itself in a line."""
    found = [style for text, style in cells if text == word]
    assert found, f"{word} is not in {cells}"
    return found[0]


def means(style: Style, theme: Theme, word: str) -> bool:
    """True when a style is what the palette has for the meaning of a word."""
    colour = getattr(theme, MEANS[word])
    grave = MEANS[word] == "error"
    return style.color == Color.parse(colour).rich_color and (not grave or bool(style.bold))


def test_no_palette_has_one_colour_for_two_meanings() -> None:
    for theme in THEMES:
        assert len({theme.success, theme.warning, theme.error, theme.primary, theme.accent}) == 5, theme.name


async def test_on_the_shelf(shelf: Book, palette: Theme) -> None:
    app = LogbookApp(shelf)
    async with app.run_test(size=LARGE) as pilot:
        await wait_for_room(pilot, "ShelfRoom")
        await wait_for_text(pilot, "keep it dry", "think twice", "–", "1 service overdue")
        for name, verdict in (("Calm", "–"), ("Old", "think twice"), ("Wet", "keep it dry")):
            assert means(style_of(line_of(app, name, verdict), verdict), palette, verdict), name
        await wait_for(pilot, lambda: "…" not in line_of(app, "Calm", "–")[-1][0], "all is worked out")
        for name, stage in (("Soon", "coming up"), ("Ripe", "due"), ("Old", "overdue"), ("Wet", "due")):
            word, style = line_of(app, f"{name} ")[-1]
            assert word in ("test", "now"), name
            assert means(style, palette, stage), name
        banner = next(style for text, style in line_of(app, "logbook · 5 watches") if "overdue" in text)
        assert means(banner, palette, "overdue")


async def test_in_the_banner_of_the_shelf_the_worst_stage_decides(shelf: Book, palette: Theme) -> None:
    ids = {watch.name: watch for watch in shelf.watches()}
    for gone, said, like in (  # what is due at most does not call as loud there as in its row
        (("Old",), "1 to a workshop now · 1 service due · 1 coming up", "overdue"),
        (("Wet",), "1 service due · 1 coming up", "coming up"),
        (("Ripe",), "1 service coming up", "coming up"),
        (("Soon",), "nothing is due", "nothing is due"),
    ):
        for name in gone:
            shelf.retire(ids[name], shelf.today)
        app = LogbookApp(shelf)
        async with app.run_test(size=LARGE) as pilot:
            await wait_for_text(pilot, said)
            (banner,) = [style for text, style in line_of(app, said) if said in text]
            assert means(banner, palette, like), said


async def test_in_due(shelf: Book, palette: Theme) -> None:
    app = LogbookApp(shelf)
    async with app.run_test(size=LARGE) as pilot:
        await wait_for_room(pilot, "ShelfRoom")
        await pilot.press("u")
        await wait_for_room(pilot, "DueRoom")
        await wait_for_text(pilot, "coming up", "Soon", "Ripe", "Old")
        for name, stage in (("Soon", "coming up"), ("Ripe", "due"), ("Old", "overdue"), ("Wet", "due")):
            word, style = row(app, name)[0]
            assert word == stage, name
            assert means(style, palette, stage), name
        later = row(app, "Calm")
        assert later[0][0] == "later"
        assert not any(means(later[0][1], palette, stage) for stage in ("coming up", "due", "nothing is due"))
        assert means(style_of(line_of(app, "(due)"), "(due)"), palette, "due")


def row(app: LogbookApp, name: str) -> Cells:
    """The row of a watch in Due: its stage, then the rest."""
    return next(cells for cells in drawn(app) if len(cells) == 2 and cells[1][0].startswith(name))


async def test_in_check(shelf: Book, palette: Theme) -> None:
    ids = {watch.name: watch.id for watch in shelf.watches()}
    app = LogbookApp(shelf)
    async with app.run_test(size=LARGE) as pilot:
        await wait_for_room(pilot, "ShelfRoom")
        for name, verdict in (("Calm", "no objection found"), ("Old", "think twice"), ("Wet", "keep it dry")):
            room = CheckRoom(ids[name])
            app.screen.enter(room)  # type: ignore[attr-defined]
            await wait_for_text(pilot, f"Check: {name}", verdict.upper())
            banner = style_of(line_of(app, verdict.upper()), verdict.upper())
            assert means(banner, palette, verdict), name
            assert banner.reverse, name
            if verdict != "no objection found":
                because = f"{verdict}, because"
                assert means(style_of(line_of(app, because), because), palette, verdict), name
            await pilot.press("escape")
            await wait_for_room(pilot, "ShelfRoom")
        app.screen.enter(CheckRoom(None))  # type: ignore[attr-defined]
        await wait_for_text(pilot, "may it come?", "no objection found", "think twice", "keep it dry")
        for name, verdict in (("Calm", "no objection found"), ("Old", "think twice"), ("Wet", "keep it dry")):
            assert means(style_of(line_of(app, name, verdict), verdict), palette, verdict), name
