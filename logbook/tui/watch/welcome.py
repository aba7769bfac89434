"""A new watch: three questions and it is on the shelf. On an empty record this is the first room."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import Input, Static

from logbook.errors import BadInput
from logbook.model.marks import dial_number
from logbook.model.text import printable
from logbook.model.values import CROWNS, MOVEMENTS, USES
from logbook.text import newwatch, own_words
from logbook.text.newwatch import Answers, NewWatch
from logbook.text.own_words import Mark, Past
from logbook.tui.shelf.room import ShelfRoom
from logbook.tui.shell.form import FormRoom, Question, Write, pair
from logbook.tui.shell.ink import Line, content, sentence
from logbook.tui.widgets.field import Field
from logbook.tui.widgets.pick import YES_NO, Options, Pick

MARKS = (
    ("unmarked", "unmarked"),
    ("unknown", "unknown"),
    ("water-resistant", "water-resistant"),
    ("divers", "diver’s"),
    ("divers-mixed-gas", "mixed gas diver’s"),
)
USE_WORDS = {"diving": "diving", "swimming": "swimming", "dry": "kept dry"}
CROWN_WORDS = {"screwed": "screwed down", "pushed": "pushed in"}
NOTHING_TOLD = "Taken for: not known. Battery 2023, gaskets 2024: these too."
GAS_VALVE = (("no", "no"), ("yes", "yes (helium)"))
PUSHERS_WET = "in water"  # of pushers: whether they may be used there
WET_WORDS = (("no", "not to be used"), ("yes", "its maker allows the pushers in water"))
# What an empty answer stands for.
SAYS = "don’t know; or 200m, 20 bar, 3 ATM, diver’s 200m, nothing"
LAST = "don’t know; or new in 2021, tested may 2025 at 10 bar"
MADE = "don’t know; or 1994, 1990s: as its gaskets are not known"
NEVER_REPLACES = "It counts what water does to the seals; it never replaces a pressure test."


class WelcomeRoom(FormRoom):
    """Three questions, of which only the first must be answered."""

    CSS_PATH = "welcome.tcss"
    TITLE_WORDS = "New watch"
    PURPOSE = (
        "Put a watch on the shelf: what you call it, what it says about water, and when it was last opened, "
        "given gaskets or tested. What you do not know stays unknown, and the arithmetic says so."
    )
    FIELD_OF: ClassVar[dict[str, str]] = {
        "mark": "says",
        "marked_pa": "says",
        **dict.fromkeys(("made_from", "made_to"), "made"),
        **dict.fromkeys(("new_on", "bought_on", "on", "test_pa", "medium", "fitted"), "last"),
    }
    BINDINGS: ClassVar[list[BindingType]] = [
        # Before the field takes the key for itself.
        Binding(
            "ctrl+d",
            "demo",
            "look at the demo",
            priority=True,
            tooltip="an invented collection in a temporary folder",
        ),
    ]

    def __init__(self) -> None:
        super().__init__()
        self._added: int | None = None  # the watch that was put on the shelf
        self._by_hand: set[str] = set()  # refinements that the mark no longer suggests

    def asked(self) -> ComposeResult:
        """One question under the other; the last ones have answers already."""
        yield Static(content([[(NEVER_REPLACES, "plain")]]), id="purpose")
        yield Static(content([[("1  What do you call it?", "title")]]))
        yield Question(Field("name", "nickname", silent="such as Blue bezel"))
        yield Static(content([[("2  What does it say about water?", "title")]]))
        yield Question(Field("says", "it says", silent=SAYS))
        yield Static(id="mark-means")
        yield Static(content([[("3  When was it last opened, given gaskets or tested?", "title")]]))
        yield Question(Field("last", "last", silent=LAST))
        yield Static(id="last-means")
        yield Question(Field("made", "made about", silent=MADE))
        yield Static(id="suggested")
        yield from self._refinements()

    def _refinements(self) -> ComposeResult:
        yield Question(Pick("use", "used for", [(use, USE_WORDS[use]) for use in USES]))
        yield from pair(
            Pick("crown", "crown", [(crown, CROWN_WORDS[crown]) for crown in CROWNS]),
            Pick("movement", "movement", [(kind, kind) for kind in MOVEMENTS]),
        )
        yield from pair(Pick("pushers", "pushers", YES_NO), Pick("gas_valve", "gas valve", GAS_VALVE))
        yield Question(Pick("pushers_wet", PUSHERS_WET, WET_WORDS))
        materials = dict.fromkeys(("unknown", *self.book.practice.materials))
        yield Question(Pick("material", "gaskets of", [(name, name) for name in materials]))

    def fill(self) -> None:
        """What may stay unanswered says what that means."""
        self._suggest()
        self._say_what_last_means()
        self._show_what_applies()

    def reload(self) -> None:
        """Another window may have put a watch on the shelf."""
        self.say_title()

    def title_line(self) -> Line:
        """One is at the beginning, or adds to a shelf."""
        words = "New watch" if self.book.standings() else "Welcome: put the first watch on the shelf"
        return [(f"logbook · {words}", "title")]

    def room_bindings(self) -> Iterator[Binding]:
        """The demo is offered last, and as long as there is nothing on the shelf."""
        demo = [b for b in super().room_bindings() if b.action == "demo" and not self.book.standings()]
        yield from (b for b in super().room_bindings() if b.action != "demo")
        yield from demo

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """A key that is not offered does nothing."""
        return action != "demo" or not self.book.standings()

    def action_demo(self) -> None:
        """Look at an invented collection first."""
        self.logbook_app.open_demo()

    @on(Options.Changed)
    def _picked(self, message: Options.Changed) -> None:
        """What was picked by hand stays; the mark suggests the rest."""
        name = message.options.parent.id if message.options.parent is not None else None
        self._by_hand.add(name or "")
        self._show_what_applies()
        self._suggest()

    def _show_what_applies(self) -> None:
        """Pushers in water are asked about where there are any."""
        self.question("pushers_wet").display = self.text("pushers") == "yes"

    @on(Input.Changed, "#says-entry")
    def _suggest(self) -> None:
        try:
            mark = own_words.read_mark(self.field("says").text)
        except BadInput:
            mark, words = Mark("unknown"), ""  # judged when it is saved
        else:
            words = _mark_means(mark)
        self.query_one("#mark-means", Static).update(sentence(words, "dim"))
        usual = {"use": newwatch.usual_use(mark.kind, mark.marked_pa),
                 "crown": newwatch.usual_crown(mark.kind)}  # fmt: skip
        left = [name for name in usual if name not in self._by_hand]
        for name in left:
            self.pick(name).fill(usual[name])
        said = (
            f"; {' and '.join(left)} {'are' if len(left) > 1 else 'is'} as the mark suggests" if left else ""
        )
        line = [("Need not be answered", "title"), (said, "dim")]
        self.query_one("#suggested", Static).update(content([line]))

    @on(Input.Changed, "#last-entry")
    def _say_what_last_means(self) -> None:
        """What is understood; where the gaskets stay unknown, the years in which it was made are asked."""
        try:
            past = own_words.read_past(self.field("last").text, self.book.today)
        except BadInput:
            past, words = Past(), ""  # judged when it is saved
        else:
            words = own_words.past_words(past) if past != Past() else NOTHING_TOLD
        self.query_one("#last-means", Static).update(sentence(words, "dim"))
        if "movement" not in self._by_hand:
            self.pick("movement").fill(newwatch.usual_movement(past))
        known = past.new is not None or any(visit.gaskets for visit in past.visits)
        self.question("made").display = not known

    def _answers(self) -> Answers:
        """What stands in the questions that are asked; the others are not answered."""

        def said(name: str) -> str:
            return self.text(name) if self.question(name).display else ""

        return Answers(
            said("name"), said("says"), said("last"), said("made"), said("use"), said("crown"),
            pushers=said("pushers") == "yes", pushers_wet=said("pushers_wet") == "yes",
            gas_valve=said("gas_valve") == "yes", movement=said("movement"), material=said("material"),
        )  # fmt: skip

    def save(self) -> Write:
        """The watch, for the shelf."""
        return partial(self._write, newwatch.read(self._answers(), self.book.practice, self.book.today))

    def _write(self, new: NewWatch) -> str:
        self._added = self.book.add_watch(new.watch, new.seals, new.events)
        said = f"{printable(new.watch.name)} is on the shelf. z: undo"
        beyond = newwatch.use_beyond_mark(new.watch, self.book.practice)
        return f"{said}\n{beyond}" if beyond else said

    def saved(self) -> None:
        """To the new watch on the Shelf."""
        self.close()
        if isinstance(self.app.screen, ShelfRoom):
            self.app.screen.go_to = self._added


def _mark_means(mark: Mark) -> str:
    """How an answer about water is understood: `a plain mark, 200 m; a diver’s watch says “diver’s”`."""
    words = dict(MARKS)[mark.kind]
    if mark.kind == "unknown":
        return "Taken for: the mark is not known."
    number = "" if mark.marked_pa is None else f" {dial_number(mark.marked_pa, mark.marked_in)}"
    deep = mark.kind == "water-resistant" and (mark.marked_pa or 0.0) >= 10e5
    return f"Taken for: {words}{number}." + (" Does it say diver’s? Write that too." if deep else "")
