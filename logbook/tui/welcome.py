"""A new watch: three questions and it is on the shelf. On an empty record this is the first room."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, ClassVar, cast

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.widgets import Input, Static

from logbook.errors import BadInput
from logbook.exchange import newwatch
from logbook.exchange.newwatch import Answers
from logbook.reckoning.text import printable
from logbook.reckoning.values import CROWNS, MEDIA, MOVEMENTS, USES
from logbook.tui.form import FormRoom, Question
from logbook.tui.ink import content
from logbook.tui.shelf import ShelfRoom
from logbook.tui.widgets.field import Field
from logbook.tui.widgets.frame import TitleLine
from logbook.tui.widgets.pick import Options, Pick

if TYPE_CHECKING:
    from logbook.tui.app import LogbookApp

MARKS = (
    ("unmarked", "unmarked"),
    ("unknown", "unknown"),
    ("water-resistant", "water-resistant"),
    ("divers", "diver’s"),
    ("divers-mixed-gas", "mixed gas diver’s"),
)
USE_WORDS = {"diving": "diving", "swimming": "swimming", "dry": "kept dry"}
CROWN_WORDS = {"screwed": "screwed down", "pushed": "pushed in"}
YES_NO = (("no", "no"), ("yes", "yes"))
NEVER_REPLACES = "It counts what water does to the seals; it never replaces a pressure test."
A_DATE = "don’t know; or 2025-03-14, 12 mar, 2023-01-01..2024-06-30"


class WelcomeRoom(FormRoom):
    """Three questions, of which only the first must be answered."""

    CSS_PATH = "welcome.tcss"
    TITLE_WORDS = "New watch"
    PURPOSE = (
        "Put a watch on the shelf: what you call it, what it says about water, and when it was last opened, "
        "given gaskets or tested. What you do not know stays unknown, and the arithmetic says so."
    )
    FIELD_OF: ClassVar[dict[str, str]] = {"marked_pa": "marked"}
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
        self._by_hand: set[str] = set()  # refinements that the mark no longer suggests

    def body(self) -> ComposeResult:
        """One question under the other; the last ones have answers already."""
        with VerticalScroll(id="questions", can_focus=False):
            yield Static(content([[(NEVER_REPLACES, "plain")]]), id="purpose")
            yield Static(content([[("1  What do you call it?", "title")]]))
            yield Question(Field("name", "nickname"))
            yield Static(content([[("2  What does it say about water?", "title")]]))
            yield Question(Pick("mark", "mark", MARKS))
            yield Question(Field("marked", "its number"))
            yield Static(content([[("3  When was it last …", "title")]]))
            yield Question(Field("opened", "opened"))
            yield Question(Field("gaskets", "given gaskets"))
            yield Question(Field("tested", "passed a test"))
            with Horizontal(classes="pair"):
                yield Question(Field("passed_at", "at"))
                yield Question(Pick("medium", "in", [(medium, medium) for medium in MEDIA]))
            yield Static(id="suggested")
            yield from self._refinements()

    def _refinements(self) -> ComposeResult:
        yield Question(Pick("use", "used for", [(use, USE_WORDS[use]) for use in USES]))
        with Horizontal(classes="pair"):
            yield Question(Pick("crown", "crown", [(crown, CROWN_WORDS[crown]) for crown in CROWNS]))
            yield Question(Pick("movement", "movement", [(kind, kind) for kind in MOVEMENTS]))
        with Horizontal(classes="pair"):
            yield Question(Pick("pushers", "pushers", YES_NO))
            yield Question(Pick("gas_valve", "gas valve", YES_NO))
        with Horizontal(classes="pair"):
            yield Question(Field("new_on", "bought new on"))
            yield Question(Pick("material", "gaskets of", []))

    def on_mount(self) -> None:
        """What may stay unanswered says what that means; the cursor is at the first question."""
        for name, silent in (
            ("name", "such as Blue bezel"),
            ("marked", "no number; or 200m, 20 bar"),
            ("opened", A_DATE),
            ("gaskets", A_DATE),
            ("tested", "don’t know; or 2025-03-14, 12 mar"),
            ("passed_at", "such as 10 bar"),
            ("new_on", "not bought new"),
        ):
            self.field(name).silent(silent)
        materials = dict.fromkeys(("unknown", *self.book.practice.materials))
        self.pick("material").offer([(name, name) for name in materials], "unknown")
        self.pick("mark").pick("unknown")
        self._suggest()
        self.field("name").ask()

    def on_screen_resume(self) -> None:
        """The title says that one is at the beginning."""
        words = "New watch" if self.book.standings() else "Welcome: put the first watch on the shelf"
        self.query_one("#title", TitleLine).say([(f"logbook · {words}", "title")])

    def field(self, name: str) -> Field:
        """A question that is typed."""
        return self.query_one(f"#{name}", Field)

    def pick(self, name: str) -> Pick:
        """A question that is picked."""
        return self.query_one(f"#{name}", Pick)

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
        cast("LogbookApp", self.app).open_demo()

    @on(Options.Changed)
    def _picked(self, message: Options.Changed) -> None:
        """What was picked by hand stays; the mark suggests the rest."""
        name = message.options.parent.id if message.options.parent is not None else None
        if name != "mark":
            self._by_hand.add(name or "")
        self._suggest()

    @on(Input.Changed, "#marked-entry")
    def _suggest(self) -> None:
        mark = self.pick("mark").value
        try:
            pressure = newwatch.marked_pa(self.field("marked").text)
        except BadInput:
            pressure = None  # judged when it is saved
        usual = {"use": newwatch.usual_use(mark, pressure), "crown": newwatch.usual_crown(mark)}
        left = [name for name in usual if name not in self._by_hand]
        for name in left:
            self.pick(name).pick(usual[name])
        said = (
            f"; {' and '.join(left)} {'are' if len(left) > 1 else 'is'} as the mark suggests" if left else ""
        )
        words = [("Need not be answered", "title"), (said, "dim")]
        self.query_one("#suggested", Static).update(content([words]))

    def save(self) -> None:
        """Put the watch on the shelf and go there."""
        names = Answers.__dataclass_fields__
        texts = {name: self.text(name) for name in names}
        texts |= {name: texts[name] == "yes" for name in ("pushers", "gas_valve")}
        new = newwatch.read(Answers(**texts), self.book.practice, self.book.today)
        watch_id = self.book.add_watch(new.watch, new.seals, new.events)
        self.app.pop_screen()
        if isinstance(self.app.screen, ShelfRoom):
            self.app.screen.go_to = watch_id
        said = f"{printable(new.watch.name)} is on the shelf. z: undo"
        beyond = newwatch.use_beyond_mark(new.watch, self.book.practice)
        self.app.notify(f"{said}\n{beyond}" if beyond else said, markup=False)
