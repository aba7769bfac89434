"""The Guide: what marks mean, how the model works, what is assumed, and every constant with its source."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container
from textual.widgets import Input

from logbook.model.values import Settings
from logbook.tui.guide import lines as guide_lines
from logbook.tui.guide.chapters import chapters
from logbook.tui.guide.lines import View
from logbook.tui.guide.parts import Chapter, Entry
from logbook.tui.guide.search import wanted
from logbook.tui.shell.ink import short
from logbook.tui.shell.room import Room, keys_in_a_field
from logbook.tui.widgets.contents import Contents
from logbook.tui.widgets.field import Field
from logbook.tui.widgets.frame import TitleLine
from logbook.tui.widgets.lines import Lines
from logbook.tui.widgets.page import Key, Page, Row

WIDE = 100  # cells from which the contents stand beside the text
LONGEST = 60  # characters of a search


class GuideRoom(Room):
    """A small book of five chapters, made from the constants in force."""

    CSS_PATH = "room.tcss"
    TITLE_WORDS = "Guide"
    PURPOSE = (
        "What marks mean and do not mean, the tests behind them, the model in plain words, what is assumed "
        "where nothing was said, and every constant in force with its range and source."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("slash", "search", "find", key_display="/", tooltip="find words in all chapters; esc clears"),
        Binding("right_square_bracket", "hit(1)", "next", tooltip="the next place that was found"),
        Binding(
            "left_square_bracket", "hit(-1)", "before", show=False, tooltip="the place that was found before"
        ),
        Binding("enter", "open", "open", tooltip="show the full source of a row, or hide it"),
        Binding("1", "go(0)", "chapter", key_display="1–5", tooltip="a chapter by its number"),
        *(Binding(f"{n}", f"go({n - 1})", show=False) for n in range(2, 6)),
        Binding("right", "turn(1)", "next chapter", key_display="→", show=False),
        Binding("left", "turn(-1)", "chapter before", key_display="←", show=False),
        # While one writes a search, the text is walked all the same.
        Binding("down", "hit(1)", show=False),
        Binding("up", "hit(-1)", show=False),
        Binding("pagedown", "page(1)", show=False),
        Binding("pageup", "page(-1)", show=False),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.chapters: tuple[Chapter, ...] = ()
        self.chapter = 0
        self.words: tuple[str, ...] = ()  # what is searched for
        self.found: list[Key] = []  # every entry while nothing is
        self.opened: set[Key] = set()
        self.shut: set[Key] = set()  # of what a search has opened

    # ------------------------------------------------------------------ the frame

    def body(self) -> ComposeResult:
        """The search, the contents, the text."""
        self._take(Settings())  # the owner's are read once the room stands, and it stands without them
        yield Field("search", "find", longest=LONGEST)
        with Container(id="book"):
            yield Contents([chapter.name for chapter in self.chapters], id="contents")
            yield Page(self._lay, id="page")

    def on_mount(self) -> None:
        """Arrows go through the text."""
        self.search.silent("words of any chapter, such as salt or ISO 6425")
        self.page.focus()

    def on_resize(self) -> None:
        """The contents stand beside the text where there is room."""
        wide = self.app.size.width >= WIDE
        self.set_class(wide, "wide")
        self.contents.below = wide
        self._say()

    def reload(self) -> None:
        """The constants in force, and the settings as they are now."""
        self._take(self.book.settings)
        self.page.lay_again()
        self._say()

    def _take(self, settings: Settings) -> None:
        self.chapters = chapters(self.book.practice, settings)
        self.found = guide_lines.found(self.chapters, self.words)

    @property
    def page(self) -> Page:
        """The text."""
        return self.query_one(Page)

    @property
    def contents(self) -> Contents:
        """The list of chapters."""
        return self.query_one(Contents)

    @property
    def search(self) -> Field:
        """Where one writes what to find."""
        return self.query_one("#search", Field)

    @property
    def current(self) -> int:
        """The chapter of the entry under the cursor."""
        here = self.page.here
        return self.chapter if here is None else here.chapter

    @property
    def writing(self) -> bool:
        """True while letters go into the search."""
        return self.search.entry.has_focus

    def shown_keys(self) -> list[tuple[str, str, str]]:
        """In the search a letter is text; places that were found are walked only while there are some."""
        keys = super().shown_keys()
        if self.writing:
            walk = [("↑↓", "found places", "hit(1)"), ("⏎", "to the text", "read")]
            return walk + keys_in_a_field(keys, ("search", "hit(1)", "open", "go(0)"))
        return [key for key in keys if self.words or key[2] != "hit(1)"]

    # ------------------------------------------------------------------ what is shown

    def _lay(self, width: int) -> list[Row]:
        view = View(self.chapter, self.words, self._is_open)
        rows = guide_lines.lay_out(self.chapters, view, width)
        said = short(f"Nothing in the Guide speaks of “{self.search.text.strip()}”.", max(1, width - 2))
        return rows or [Row([("", "plain")]), Row([(f" {said}", "mild")])]

    def _is_open(self, key: Key, entry: Entry) -> bool:
        by_itself = guide_lines.opens_by_itself(entry, self.words) and key not in self.shut
        return key in self.opened or by_itself

    @on(Lines.Highlighted, "#page")
    def _say(self) -> None:
        """Title, contents and keys follow the cursor and the search."""
        said, role, counts = self.chapters[self.current].title, "plain", None
        if self.words:
            said, role = f"{len(self.found)} found", "good" if self.found else "mild"
            counts = [sum(key.chapter == n for key in self.found) for n in range(len(self.chapters))]
        self.query_one("#title", TitleLine).say([("logbook · Guide   ", "title"), (said, role)])
        self.contents.say(self.current, counts)
        self.say_keys()

    # ------------------------------------------------------------------ searching

    def action_search(self) -> None:
        """Write what to find."""
        self.add_class("searching")
        self.search.ask()

    @on(Input.Changed, "#search-entry")
    def _narrow(self) -> None:
        words = wanted(self.search.text)
        if words != self.words:
            self.chapter = self.current
            self.words, self.shut = words, set()
            self.found = guide_lines.found(self.chapters, words)
            self.page.lay_again()
        self._say()

    @on(Input.Submitted, "#search-entry")
    def action_read(self) -> None:
        """From the search to what it found."""
        if not self.words:
            self.remove_class("searching")
        self.page.focus()

    def on_descendant_focus(self) -> None:
        """Other keys work while one writes."""
        self.say_keys()

    def action_hit(self, step: int) -> None:
        """To the next place, or the one before; without a search only while one writes."""
        self.page.step(step)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Without a search there is no next place."""
        return action != "hit" or bool(self.words)

    def action_back(self) -> None:
        """The search is cleared first; the cursor stays at what it found."""
        if not self.has_class("searching"):
            super().action_back()
            return
        self.page.focus()
        self.remove_class("searching")
        self.search.entry.value = ""

    # ------------------------------------------------------------------ reading

    @on(Lines.Chosen, "#page")
    def action_open(self) -> None:
        """Show what a row has beneath it, or hide it."""
        key = self.page.here
        if key is None:
            return
        entry = self.chapters[key.chapter].sections[key.section].entries[key.place]
        if self._is_open(key, entry):
            self.opened.discard(key)
            self.shut.add(key)
        else:
            self.opened.add(key)
        self.page.lay_again()

    @on(Contents.Picked)
    def _picked(self, message: Contents.Picked) -> None:
        self.action_go(message.chapter)

    def action_go(self, chapter: int) -> None:
        """To a chapter; in a search to the first place found there."""
        first = next((key for key in self.found if key.chapter == chapter), None)
        if first is not None:
            self.chapter = chapter
            self.page.lay_again(first)
            self._say()

    def action_turn(self, step: int) -> None:
        """To the next chapter that has something, or the one before."""
        current = self.current
        beyond = [key.chapter for key in self.found if (key.chapter - current) * step > 0]
        if beyond:
            self.action_go(beyond[0 if step > 0 else -1])

    def action_page(self, step: int) -> None:
        """A screenful on or back, while one writes."""
        self.page.action_page(step)
