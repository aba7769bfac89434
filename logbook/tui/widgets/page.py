"""Text in entries, of which one is under the cursor: arrows go from entry to entry, or on in a long one."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from textual import events
from textual.geometry import Region

from logbook.tui.shell.ink import Line
from logbook.tui.widgets.lines import Lines

HERE = "▌"  # in the margin, beside the entry under the cursor


class Key(NamedTuple):
    """Where an entry stands: chapter, section, place in it; each from 0."""

    chapter: int
    section: int
    place: int


@dataclass(frozen=True, slots=True)
class Row:
    """One line, and the entry it belongs to; None: a heading."""

    pieces: Line
    entry: Key | None = None


class Page(Lines):
    """Lines laid out for the width there is; the cursor is on the first line of an entry."""

    # Always with its scrollbar: one that comes changes the width, and no scroll is obeyed until it stands.
    DEFAULT_CSS = "Page { overflow-y: scroll; }"

    def __init__(self, lay: Callable[[int], Sequence[Row]], *, id: str | None = None) -> None:
        super().__init__(self._draw_row, id=id)
        self._lay = lay
        self._rows: Sequence[Row] = ()
        self._heads: list[int] = []  # first line of each entry

    # ------------------------------------------------------------------ what is shown

    def _draw_row(self, row: int, width: int) -> Line:
        """A line with the margin that marks the entry under the cursor, also while one writes elsewhere."""
        shown = self._rows[row]
        here = shown.entry is not None and shown.entry == self.here
        return [(HERE, "key") if here else (" " * len(HERE), "plain"), *shown.pieces]

    def lay_again(self, at: Key | None = None) -> None:
        """Lay out anew, with the cursor on the entry `at`, else where it was, else on the first."""
        if not self.row_width:  # not on the screen yet
            return
        wanted = self.here if at is None else at
        self._rows = self._lay(max(1, self.row_width - len(HERE)))
        entries = [row.entry for row in self._rows]
        self._heads = [
            n for n, entry in enumerate(entries) if entry is not None and (n == 0 or entries[n - 1] != entry)
        ]
        cursor = next((n for n in self._heads if entries[n] == wanted), self._heads[0] if self._heads else 0)
        self.show(len(self._rows), cursor)
        self._bring_into_view()

    @property
    def here(self) -> Key | None:
        """The entry under the cursor."""
        return self._rows[self.cursor].entry if self.cursor < len(self._rows) else None

    def on_resize(self, event: events.Resize) -> None:
        """Lines break where the window ends."""
        self.lay_again()

    # ------------------------------------------------------------------ moving

    def validate_cursor(self, row: int) -> int:
        """The first line of the entry that a line belongs to; of a heading, that of the next entry."""
        if not self._heads or row >= len(self._rows):
            return row
        nth = bisect_right(self._heads, row) - 1
        if nth < 0 or (self._rows[row].entry is None and nth + 1 < len(self._heads)):
            nth += 1
        return self._heads[nth]

    def watch_cursor(self, old: int, new: int) -> None:
        """Keep the whole entry in view, where it fits, and its heading."""
        super().watch_cursor(old, new)
        self._bring_into_view()

    def _span(self, head: int) -> tuple[int, int]:
        """First line of an entry, headings above it included, and the line after its last."""
        entry, first, end = self._rows[head].entry, head, head
        while end < len(self._rows) and self._rows[end].entry == entry:
            end += 1
        while first > 0 and self._rows[first - 1].entry is None:
            first -= 1
        return first, end

    def _bring_into_view(self) -> None:
        if self._rows and self.size.height:
            first, end = self._span(self.cursor)
            if end - first > self.size.height:
                first = self.cursor
            height = min(end - first, self.size.height)
            self.scroll_to_region(Region(0, first, 1, height), animate=False, immediate=True)

    def action_move(self, step: int) -> None:
        """To the entry below or above; within one that is longer than the window, one line on."""
        if not self._heads:
            return
        top, height = round(self.scroll_offset.y), self.size.height
        first, end = self._span(self.cursor)
        if end <= top or first >= top + height:  # scrolled away from it: go on with what is in view
            in_view = [head for head in self._heads if top <= head < top + height]
            self.cursor = in_view[0 if step > 0 else -1] if in_view else self.validate_cursor(top)
        elif step > 0 and end > top + height:
            self.scroll_to(y=top + 1, animate=False, immediate=True)
        elif step < 0 and first < top and self.cursor < top:
            self.scroll_to(y=top - 1, animate=False, immediate=True)
        else:
            self.step(step)

    def step(self, step: int) -> None:
        """To another entry, so many on or back."""
        if self._heads:
            nth = self._heads.index(self.validate_cursor(self.cursor)) + step
            if nth < 0:
                self.scroll_to(y=0, animate=False, immediate=True)
            self.cursor = self._heads[max(0, min(nth, len(self._heads) - 1))]

    def action_page(self, step: int) -> None:
        """One screenful up or down; the cursor goes along."""
        height = self.size.height
        last = max(0, len(self._rows) - height)
        top = max(0, min(round(self.scroll_offset.y) + step * max(1, height - 1), last))
        self.scroll_to(y=top, animate=False, immediate=True)
        in_view = [head for head in self._heads if top <= head < top + height]
        at_end = step > 0 and top == last
        if at_end and not in_view:  # what is left of the last entry fills a small window
            in_view = self._heads[-1:]
        if in_view:
            self.cursor = in_view[-1 if at_end else 0]
            self.scroll_to(y=top, animate=False, immediate=True)

    def action_edge(self, end: int) -> None:
        """To the first or the last entry."""
        if self._heads:
            self.cursor = self._heads[-end]
            self.scroll_to(y=len(self._rows) if end else 0, animate=False, immediate=True)
