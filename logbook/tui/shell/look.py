"""Which colours the rooms wear: those that were kept, as far as this terminal can show them."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

from logbook.errors import LogbookError
from logbook.record.file import looks_file
from logbook.record.file.places import looks_path, told_path
from logbook.tui.shell.theme import TERMINAL, THEMES, for_256_colours

if TYPE_CHECKING:
    from textual.app import App

ENOUGH_COLOURS = ("truecolor", "256")  # in the words of the library that writes them


def wants_no_colour() -> bool:
    """True where the environment asks every program to leave colours out (https://no-color.org)."""
    return "NO_COLOR" in os.environ


class Look:
    """The colours of an app: what was chosen, and what is worn."""

    def __init__(self, app: App[int]) -> None:
        """Dress `app` in the kept colours; in the usual ones where `trouble` says why there is none."""
        self._app = app
        self.trouble: LogbookError | None = None
        self.chosen = looks_file.USUAL
        try:
            self.chosen = looks_file.kept_theme() or self.chosen
        except LogbookError as error:
            self.trouble = error
        system = app.console.color_system
        self.has_few_colours = app.no_color or system not in ENOUGH_COLOURS
        for theme in THEMES:
            app.register_theme(for_256_colours(theme) if system == "256" else theme)
        self.try_on(self.chosen)

    def try_on(self, theme: str) -> None:
        """Wear colours for now; what the terminal cannot show gives way to its own."""
        worn = TERMINAL.name if self.has_few_colours else theme
        if self._app.theme != worn:
            self._app.theme = worn

    def keep(self, theme: str) -> None:
        """Wear colours from now on, at the next start too; raises LogbookError when they cannot be kept."""
        self.chosen = theme
        self.try_on(theme)
        looks_file.keep_theme(theme)
        self.trouble = None

    def next_after(self) -> str:
        """The colours that come after the chosen ones."""
        at = looks_file.THEMES.index(self.chosen) + 1
        return looks_file.THEMES[at % len(looks_file.THEMES)]

    @property
    def words(self) -> str:
        """Where the choice is kept, and what stands in its way."""
        if self.trouble is not None:
            return self.trouble.message
        kept = f"Kept in {told_path(looks_path())} for every record; undo leaves them."
        if self._app.no_color:
            return f"NO_COLOR is set, so that no colours are used, whatever is picked. {kept}"
        if self.has_few_colours:
            return f"This terminal shows few colours, so that its own are used, whatever is picked. {kept}"
        return kept
