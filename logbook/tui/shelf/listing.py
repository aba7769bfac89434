"""The list of the Shelf: which watches it shows, which are picked, and the one under the cursor in full."""

from __future__ import annotations

from dataclasses import replace

from textual import on
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.widgets import Input, Static

from logbook.errors import InUse, LogbookError
from logbook.model.judge.standing import Standing
from logbook.model.text import NAME_LENGTH
from logbook.model.values import Exposure, Shares
from logbook.tui.shelf import choice as shelf_choice
from logbook.tui.shelf import detail as shelf_detail
from logbook.tui.shelf import lines as shelf_lines
from logbook.tui.shelf.choice import Choice
from logbook.tui.shell.ink import Line, content
from logbook.tui.shell.room import Room
from logbook.tui.widgets.field import Field
from logbook.tui.widgets.frame import KeyLine, TitleLine
from logbook.tui.widgets.lines import Lines

SEALS_BESIDE = 140  # columns of a window from which the seals stand beside the detail
SEALS_CELLS = 64
EDGE = 2  # blank cells left and right of the detail


class ShelfList(Room):
    """Watches on a line each, all or those asked for; the one under the cursor in a few more below."""

    def __init__(self) -> None:
        super().__init__()
        self.all: list[Standing] = []
        self.standings: list[Standing] = []  # those that are shown
        self.choice = Choice()
        self.picked: set[int] = set()
        self.columns = shelf_lines.layout([], 0)
        self.go_to: int | None = None  # the watch that the cursor goes to when the Shelf is read next

    def body(self) -> ComposeResult:
        """What is looked for, column heads, the watches, and the one under the cursor."""
        yield Field("find", "find", longest=NAME_LENGTH)
        yield Static(id="heads")
        yield Lines(self._draw, id="watches")
        yield Static("─" * 400, classes="rule")
        with Horizontal(id="below"):
            yield Static(id="detail")
            yield Static(id="seals")

    def on_mount(self) -> None:
        """Show what the record holds."""
        self.query_one("#find", Field).silent("letters of a nickname, in order, or of its group")
        self.query_one(Lines).focus()

    def on_resize(self) -> None:
        """Title, columns and detail follow the window."""
        self._write_heads()
        if self.all:
            self._write_title()
            self.call_after_refresh(self._write_detail)

    def reload(self) -> None:
        """Read the record and show it."""
        self.all = self.book.standings()
        self.picked &= {standing.record.watch.id or 0 for standing in self.all}
        if self.choice.group not in ("", *shelf_choice.groups(self.all)):
            self.choice = replace(self.choice, group="")
        wanted, self.go_to = self.go_to or self.watch_id, None
        if wanted not in self._ids(shelf_choice.chosen(self.all, self.choice)) and wanted in self._ids(
            self.all
        ):
            self._forget_narrowing()
        self._show(wanted)
        self.query_one("#keys", KeyLine).say(self)

    def _show(self, wanted: int | None) -> None:
        """The watches that were chosen, the cursor on the wanted one or where it was."""
        self.standings = shelf_choice.chosen(self.all, self.choice)
        ids = self._ids(self.standings)
        self._write_title()
        self._write_heads()
        self.query_one(Lines).show(len(ids), ids.index(wanted) if wanted in ids else None)
        self.call_after_refresh(self._write_detail)  # the list stands first

    @staticmethod
    def _ids(standings: list[Standing]) -> list[int]:
        return [standing.record.watch.id or 0 for standing in standings]

    def _write_title(self) -> None:
        line = shelf_lines.title(
            self.all,
            len(self.standings),
            self.choice,
            len(self.picked),
            self.book.today,
            self.app.size.width - EDGE,
        )
        self.query_one("#title", TitleLine).say(line)

    def _draw(self, row: int, width: int) -> Line:
        standing = self.standings[row]
        picked = standing.record.watch.id in self.picked
        return shelf_lines.row(standing, self.book.today, self.columns, picked=picked)

    def _write_heads(self) -> None:
        self.columns = shelf_lines.layout(self.all, self.app.size.width)
        self.query_one("#heads", Static).update(content([shelf_lines.heads(self.columns)]))
        self.query_one(Lines).refresh()

    @on(Lines.Highlighted, "#watches")
    def _write_detail(self) -> None:
        detail, seals = self.query_one("#detail", Static), self.query_one("#seals", Static)
        width, height = self.app.size.width - EDGE, self.query_one("#below").size.height
        seals.display = bool(self.standings) and self.app.size.width >= SEALS_BESIDE
        if not self.standings:
            detail.update(content(shelf_detail.empty(self.choice.find if self.all else "", width)))
            return
        standing = self.standings[self.query_one(Lines).cursor]
        watch_id = standing.record.watch.id or 0
        try:
            last = shelf_detail.last_words(standing, *self._last_water(watch_id), self.book.units)
        except LogbookError as error:
            self.logbook_app.trouble_reading(error)
            last = "…" if isinstance(error, InUse) else f"the record cannot be read: {error.message}"
        if seals.display:
            width -= SEALS_CELLS
            seals.update(content(shelf_detail.seals(standing, SEALS_CELLS - EDGE)[:height]))
        lines = shelf_detail.detail(standing, last, width, height)
        detail.update(content(lines))

    def _last_water(self, watch_id: int) -> tuple[Exposure | None, dict[int, Shares]]:
        """The newest exposure of a watch and what it added to which seal."""
        last = self.book.exposures(watch_id, limit=1)
        return (last[0], self.book.cost(last[0].id or 0)) if last else (None, {})

    # What is shown

    def shown_keys(self) -> list[tuple[str, str, str]]:
        """While one looks for a watch every letter is text; no key for groups where there is none."""
        if self._is_finding:
            return [("⏎", "to the first one", "to_the_list"), ("esc", "show all", "clear")]
        unused = () if shelf_choice.groups(self.all) else ("group",)
        return [key for key in super().shown_keys() if key[2] not in unused]

    @property
    def _is_finding(self) -> bool:
        return self.query_one("#find", Field).entry.has_focus

    def action_find(self) -> None:
        """Look for a watch by its nickname."""
        field = self.query_one("#find", Field)
        field.add_class("-open")
        field.ask()

    def on_descendant_focus(self) -> None:
        """Other keys work in the field than in the list."""
        self.query_one("#keys", KeyLine).say(self)

    @on(Input.Changed, "#find-entry")
    def _narrow(self) -> None:
        self.choice = replace(self.choice, find=self.query_one("#find", Field).text)
        self._show(None)
        self.query_one(Lines).action_edge(0)

    @on(Input.Submitted, "#find-entry")
    def action_to_the_list(self) -> None:
        """The cursor into the list, on the best match."""
        if not self.choice.find.strip():
            self._stop_finding()
        self.query_one(Lines).focus()

    def _stop_finding(self) -> None:
        field = self.query_one("#find", Field)
        field.fill("")
        field.remove_class("-open")
        self.choice = replace(self.choice, find="")

    def _forget_narrowing(self) -> None:
        self._stop_finding()
        self.choice = replace(self.choice, group="")

    def action_clear(self) -> None:
        """Take back what is looked for; else what is picked; else the group."""
        here = self.watch_id
        if self.query_one("#find", Field).has_class("-open"):
            self.query_one(Lines).focus()
            self._stop_finding()
        elif self.picked:
            self.picked.clear()
        else:
            self.choice = replace(self.choice, group="")
        self._show(here)

    def action_group(self) -> None:
        """The next group, after the last one every watch."""
        every = shelf_choice.groups(self.all)
        if not every:
            self.app.notify("No watch has a group yet; a in a watch’s room gives it one.", markup=False)
            return
        here = self.watch_id
        self._stop_finding()
        self.choice = replace(self.choice, group=shelf_choice.after(self.choice.group, ["", *every]))
        self._show(here)

    def action_sort(self) -> None:
        """The next sort order."""
        order = shelf_choice.after(self.choice.order, list(shelf_choice.ORDERS))
        self.choice = replace(self.choice, order=order)
        self._show(self.watch_id)

    def action_pick(self) -> None:
        """Pick the watch under the cursor, or let it go."""
        if self.watch_id is not None:
            self.picked ^= {self.watch_id}
            self._write_title()
            self.query_one(Lines).refresh()

    @property
    def nickname(self) -> str:
        """Of the watch under the cursor."""
        return self.standings[self.query_one(Lines).cursor].name if self.standings else ""

    @property
    def watch_here(self) -> int | None:
        """The watch under the cursor."""
        return self.watch_id

    @property
    def watch_id(self) -> int | None:
        """The same, also for the rooms that need none."""
        return self.standings[self.query_one(Lines).cursor].record.watch.id if self.standings else None
