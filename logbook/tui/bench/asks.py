"""The questions of one calculator, in two columns, or in one where there is room beside the answer."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.widgets import Input

from logbook.bench.calculators import SALTY, is_brine
from logbook.bench.questions import Ask
from logbook.model.practice import Practice
from logbook.model.values import Units
from logbook.tui.shell.form import Question, mark_wrong
from logbook.tui.widgets.field import Field
from logbook.tui.widgets.pick import Options, Pick

LONGEST = 60  # characters of an answer: no quantity has more


class Asks(Horizontal):
    """Fields and choices; each answer that cannot be taken has its sentence below itself."""

    DEFAULT_CSS = """
    Asks { height: auto; }
    Asks Vertical { height: auto; width: 1fr; padding: 0 1 0 0; }
    """

    def __init__(self, key: str, columns: Sequence[Sequence[Ask]], practice: Practice, units: Units) -> None:
        super().__init__(id=f"asks-{key}")
        self.key = key
        self.columns = columns
        self._by_name: dict[str, Question] = {}
        self._asks = {ask.name: ask for column in columns for ask in column}
        self._first = {name: ask.first(units) for name, ask in self._asks.items()}
        for name, ask in self._asks.items():
            own = f"{key}-{name}"
            self._by_name[name] = Question(
                Field(own, ask.label, longest=LONGEST)
                if ask.choices is None
                else Pick(own, ask.label, [(word, word) for word in ask.choices(practice)])
            )

    def compose(self) -> ComposeResult:
        """The columns side by side."""
        for column in self.columns:
            with Vertical():
                yield from (self._by_name[ask.name] for ask in column)

    def on_mount(self) -> None:
        """What stands there at first is no one's answer yet."""
        for name, question in self._by_name.items():
            question.asked.fill(self._first[name])

    @property
    def questions(self) -> list[Question]:
        """Those that are shown, in order."""
        return [question for question in self._by_name.values() if question.display]

    @property
    def texts(self) -> dict[str, str]:
        """Name -> what stands there, of the questions that are shown."""
        return {name: question.asked.text for name, question in self._by_name.items() if question.display}

    def changed(self, name: str) -> bool:
        """True when something else stands there than at first."""
        return self.texts.get(name, "").strip() != self._first[name]

    def follow_water(self) -> None:
        """Ask for a salinity only where water has one, for a density only of a brine."""
        if "salinity" in self._by_name:
            salty = self.texts["water"] in SALTY
            self._by_name["salinity"].display = salty
            self._by_name["density"].display = salty and is_brine(self.texts["salinity"])

    def silent(self, words: Mapping[str, str]) -> None:
        """What an empty answer stands for, by question."""
        for name in words.keys() & self._by_name.keys():
            asked = self._by_name[name].asked
            if isinstance(asked, Field):
                asked.silent(words[name])

    def complain(self, wrong: Mapping[str, str]) -> None:
        """Say what is wrong, below the answer it is about; an answer that is not named is not wrong."""
        mark_wrong(self._by_name, wrong)

    def hint(self) -> str:
        """How to answer where the cursor is."""
        focused = self.screen.focused
        for name, question in self._by_name.items():
            if focused is question.asked.control:
                return self._asks[name].hint
        return ""

    def ask(self) -> None:
        """The cursor to the first question."""
        self.questions[0].asked.ask()

    def ask_after(self, widget: Input | Options) -> bool:
        """The cursor to the question after that of `widget`; False when that was the last."""
        shown = self.questions
        at = next((n for n, question in enumerate(shown) if question in widget.ancestors), len(shown))
        if at + 1 >= len(shown):
            return False
        shown[at + 1].asked.ask()
        return True
