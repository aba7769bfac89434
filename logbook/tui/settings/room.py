"""Settings: units, time zone and home water, kept in the record, and the colours, kept on this machine."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar
from zoneinfo import available_timezones

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal
from textual.widgets import Input, Static

from logbook.errors import BadInput, LogbookError
from logbook.model.values import Settings
from logbook.record.file import looks_file
from logbook.record.file.zone import local_zone
from logbook.tui.settings import draft
from logbook.tui.settings.draft import MONTHS, Reading
from logbook.tui.shell.form import FormRoom, Question, Write
from logbook.tui.shell.ink import content, sentence
from logbook.tui.widgets.field import Field
from logbook.tui.widgets.pick import Options, Pick

THEME_WORDS = {"deep": "deep (dark)", "sand": "sand (light)", "terminal": "the terminal’s own"}
WATER = {draft.SALINITY: "35", draft.LATITUDE: "45", draft.ALTITUDE: "0 m"}  # and what an empty one means
IN_A_ROW = 6
NOT_KNOWN = "No month known: 15 °C is taken, with a wide range, unless an entry says one."
ALL_KNOWN = "Taken for water outdoors of which an entry does not say the temperature."


class OfferedZones(Static):
    """The zones that what was typed may mean; a click takes the first."""

    DEFAULT_CSS = "OfferedZones { height: 1; padding: 0 0 0 12; }"

    async def on_click(self) -> None:
        """As the key does."""
        await self.screen.run_action("take_zone")


class SettingsRoom(FormRoom):
    """What is set once."""

    CSS_PATH = "room.tcss"
    TITLE_WORDS = "Settings"
    PURPOSE = (
        "What is set once: units, time zone and the water you usually meet, kept in the record, where undo "
        "takes a change back; and the colours, kept on this machine for every record."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+s", "save", "save", tooltip="keep the settings and go back"),
        # Before the field takes the key for itself.
        Binding("ctrl+t", "take_zone", "take zone", priority=True, tooltip="take the first zone offered"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.offered: list[str] = []
        self.reading = Reading()

    def asked(self) -> ComposeResult:
        """Units and zone, the home water, the colours."""
        yield Question(Pick("units", "units", draft.UNIT_WORDS))
        yield Static(id="about-units")
        self.own_zone = local_zone()
        yield Question(Field("zone", "time zone", silent=f"{self.own_zone}, as on this machine"))
        yield OfferedZones(id="offered")
        yield Static(content([[("Home water", "title")]]))
        with Horizontal(classes="row"):
            for name, silent in WATER.items():
                yield Question(Field(name, name, silent=silent))
        yield Static(id="about-water")
        for first in range(0, len(MONTHS), IN_A_ROW):
            with Horizontal(classes="row months"):
                for month in MONTHS[first : first + IN_A_ROW]:
                    yield Question(Field(month, month))
        yield Static(id="about-months")
        yield Static(content([[("On this machine", "title")]]))
        yield Question(Pick("theme", "colours", [(n, THEME_WORDS[n]) for n in looks_file.THEMES]))
        yield Static(id="about-theme")

    def prepare(self) -> None:
        """The record itself, where there is one: what was kept is not to be taken for what is usual."""
        self.book.records()

    def fill(self) -> None:
        """What is set now stands there; without a record, what a new one begins with."""
        self.before = self.book.settings if self.book.exists() else Settings(zone=self.own_zone)
        self._units = self.before.units
        self.stood = draft.texts_of(self.before, self._units)
        self.fill_in(self.stood | {"theme": self.logbook_app.look.chosen})
        self._judge()

    # ------------------------------------------------------------------ while it is filled in

    @on(Input.Changed)
    @on(Options.Changed)
    def _changed(self, message: Input.Changed | Options.Changed) -> None:
        """What is wrong stands beside its field as one types."""
        message.prevent_default()  # of forms that judge when they are saved
        if self.text("units") != self._units:
            self._in_other_units()
        self.logbook_app.look.try_on(self.text("theme"))
        self._judge()

    def _in_other_units(self) -> None:
        """What was not touched is shown in the units that were picked."""
        untouched = [name for name, text in self.stood.items() if name != "units" and self.text(name) == text]
        self._units = draft.units_of(self.text("units"))
        self.stood = draft.texts_of(self.before, self._units)
        for name in untouched:
            self.field(name).fill(self.stood[name])

    def _judge(self) -> None:
        self.reading = draft.read(self.texts, self.before, self.stood, self.own_zone)
        self.mark(self.reading.wrong)
        self._offer_zones()
        known = any(self.text(month).strip() for month in MONTHS)
        bare = draft.bare_words(self._units)
        self._say("about-units", (), draft.shown_words(self._units, self.before.units, self.book.units_asked))
        self._say("about-water", tuple(WATER), "")
        self._say("about-months", (*MONTHS, "months"), f"{ALL_KNOWN if known else NOT_KNOWN} {bare}")
        self.query_one("#about-theme", Static).update(sentence(self.logbook_app.look.words, "dim"))

    def _offer_zones(self) -> None:
        wrong = "zone" in self.reading.wrong
        self.offered = draft.zones_like(self.text("zone"), sorted(available_timezones())) if wrong else []
        words = f"^t takes {self.offered[0]}" if self.offered else ""
        rest = f"; or {', '.join(self.offered[1:])}" if len(self.offered) > 1 else ""
        self.query_one("#offered", Static).update(content([[(words, "key"), (rest, "dim")]]))

    def _say(self, place: str, names: Sequence[str], usual: str) -> None:
        """Under a row of fields: what is wrong with the first that is, else the usual words."""
        wrong = self.reading.wrong
        at_fault = next((name for name in names if name in wrong), None)
        about = f"{at_fault}: " if at_fault in self.stood else ""
        said = (about + wrong[at_fault], "grave") if at_fault is not None else (usual, "dim")
        line = self.query_one(f"#{place}", Static)
        line.update(content([[said]]))
        line.display = bool(said[0])

    def action_take_zone(self) -> None:
        """The first zone offered, in place of what was typed."""
        if self.offered:
            self.field("zone").entry.value = self.offered[0]

    # ------------------------------------------------------------------ keeping it

    def complain(self, error: LogbookError) -> None:
        """The cursor to the answer at fault; every wrong one stays marked."""
        super().complain(error)
        self._judge()

    def save(self) -> Write:
        """What changed; colours are kept at once."""
        settings, before = self.reading.settings, self.before
        if settings is None:
            raise self._first_fault()
        said = []
        theme, look = self.text("theme"), self.logbook_app.look
        if theme != look.chosen:
            look.keep(theme)
            said.append(f"Colours: {THEME_WORDS[theme]}, on this machine.")

        def write() -> str:
            if settings != before:
                self.book.change_settings(settings)
                said.append("The settings are changed. z: undo")
            return "\n".join(said) or "Nothing was changed."

        return write

    def _first_fault(self) -> BadInput:
        name, words = next(iter(self.reading.wrong.items()))
        if name == "months":
            name = next(month for month in MONTHS if not self.text(month).strip())
        return BadInput(words, where=name)

    def on_unmount(self) -> None:
        """Colours that were only tried on are put away."""
        self.logbook_app.look.try_on(self.logbook_app.look.chosen)
