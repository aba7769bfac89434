"""One watch: its seals as budgets, what speaks against water, what is due next, all that happened."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container, Horizontal, Vertical, VerticalScroll
from textual.geometry import Size
from textual.widgets import Static

from logbook.errors import LogbookError
from logbook.model.values import Event
from logbook.tui.shell.ink import Line, content, sentence, short
from logbook.tui.shell.room import CHANGES, ONE_LINE, REDO, UNDO
from logbook.tui.shell.slow import Slow
from logbook.tui.watch import bar as watch_bar
from logbook.tui.watch import lines as watch_lines
from logbook.tui.watch import since_lines
from logbook.tui.watch.log import LogPages
from logbook.tui.watch.panels import Panel, Panels
from logbook.tui.water.amend import room_for
from logbook.tui.widgets.beside import Beside
from logbook.tui.widgets.frame import TitleLine
from logbook.tui.widgets.lines import Lines

HIGH: tuple[Panel, ...] = ("forecast", "year")  # pictures, for which what stands above gives way
BROAD_PERCENT = 80  # of the lower part, at most, for a panel above the log; as in watch.tcss
TALL = 32  # rows from which reference, group and note have more than a line in the head
LEAST_LOG = 4  # rows that the log keeps, its head included, whatever stands above it
RICH = (140, 36)  # columns and rows from which the working stands there without being asked for


class WatchRoom(Panels):
    """Everything about one watch; the log is read page by page as it comes into view."""

    CSS_PATH = "room.tcss"
    TITLE_WORDS = "Watch"
    PURPOSE = (
        "One watch: each seal's service interval and what used it, the stop rules in force, what is due "
        "next, and the log of water, tests, openings and faults."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("w", "watch_room('exposure')", "log", tooltip="log an exposure of this watch"),
        Binding("c", "watch_room('check')", "check", tooltip="may this watch go there?"),
        Binding("e", "watch_room('event')", "event", tooltip="log a workshop event or a fault"),
        Binding(
            "enter", "work", "working", tooltip="show how the seal's score or the entry's cost comes about"
        ),
        Binding(
            "h",
            "happened",
            "happened",
            tooltip="what had the largest part of the wear since the last pass",
        ),
        Binding("f", "forecast", "forecast", tooltip="when the seals are used up, the way this watch lives"),
        Binding("Y", "year", "year", tooltip="the days with water in a year, and what each cost"),
        Binding("left_square_bracket", "turn_year(-1)", "the year before", show=False),
        Binding("right_square_bracket", "turn_year(1)", "the year after", show=False),
        Binding(
            "a", "amend", "amend", tooltip="amend the entry under the cursor; outside the log, edit the watch"
        ),
        Binding("r", "watch_room('habits')", "habits", tooltip="what repeats, and the hours on the wrist"),
        Binding("x", "strike", "strike", tooltip="strike the entry under the cursor; z takes it back"),
        Binding("N", "confirm", "nothing else", tooltip="nothing else happened up to today"),
        Binding("p", "dossier", "dossier", tooltip="what a watchmaker is handed, to print"),
        UNDO,
        REDO,
        CHANGES,
        ONE_LINE,
        Binding("tab", "app.focus_next", "next", tooltip="seals, stop rules, log in turn"),
    ]

    def __init__(self, watch_id: int) -> None:
        super().__init__()
        self.watch_id = watch_id
        self._log: LogPages | None = None
        self._panel: Panel = "work"
        self._year: int | None = None  # that is shown; None: this one
        self._drawn_in = Size(0, 0)  # the room for which the panel was written
        self._slow = Slow(self, self._write_again)
        self._troubles: tuple[Event, ...] = ()

    def body(self) -> ComposeResult:
        """Head, seals with their legend, what stands against water, the log, and the working beside it."""
        yield Static(id="head")
        yield Static(id="seal-heads")
        yield Lines(self._draw_seal, id="seals")
        yield Static(content([watch_bar.legend()]), id="legend")
        yield Static("─" * 400, id="against-rule", classes="rule")
        with VerticalScroll(id="against"):
            yield Static(id="against-words")
        with Container(id="lower"):
            with Vertical(id="log-part"):
                with Horizontal(id="log-heads"):
                    yield Static(id="log-head")
                    yield Static(sentence(watch_lines.COST_HEAD, "dim"), id="cost-head")
                yield Lines(self._draw_entry, id="log")
            with Beside(id="working"):
                yield Static(id="working-words")

    def on_mount(self) -> None:
        """The cursor begins at the seals."""
        self.query_one("#seals", Lines).focus()

    def on_resize(self) -> None:
        """Columns follow the window; in a wide one the working stands beside the log."""
        wide = self.app.size.width >= watch_lines.WIDE
        self.set_class(wide, "wide")
        self.set_class(not wide, "narrow")
        self.set_class(self.app.size.width >= RICH[0] and self.app.size.height >= RICH[1], "rich")
        self._write_heads()
        self._share_out()

    def _share_out(self) -> None:
        """What speaks against water takes its rows of what the other parts leave, once these are laid out."""

        def fit() -> None:
            against = self.query_one("#against")
            others = [part for part in self.children if part.display and part.id not in ("against", "lower")]
            left = self.size.height - sum(part.outer_size.height for part in others) - LEAST_LOG
            against.styles.max_height = max(1, min(left, self._most_against(against.has_focus)))

        self.call_after_refresh(fit)

    def _most_against(self, focused: bool) -> int:
        """Rows for the stop rules: all they need while one reads them, few beside what else is read."""
        if self.has_class("narrow"):
            if self.has_class("working"):
                return 1
            return 2 if self._in_log else self.size.height if focused else 5
        return 2 if self.has_class("working", "high") else 12

    def prepare(self) -> None:
        """The watch."""
        self.standing = self.book.standing(self.watch_id)

    def reload(self) -> None:
        """Read the watch and the first page of its log; without the watch there is no such room."""
        try:
            self.prepare()
        except LogbookError as error:
            self.leave(error)
            return
        self._log = LogPages(self.book, self.standing.record)
        self._slow.forget()
        self._tell_trouble()
        name = short(self.standing.name, 60)
        self.query_one("#title", TitleLine).say([("logbook · Watch: ", "title"), (name, "strong")])
        self._write_against()
        self._write("log-head", [watch_lines.log_head(len(self._log.plans), self._log.logged)])
        self._write_heads()
        seals = self.query_one("#seals", Lines)
        seals.styles.height = max(1, len(self.standing.seals))
        seals.show(len(self.standing.seals), self._limiting_row if not seals.count else None)
        self.query_one("#log", Lines).show(len(self._log))
        self._write_working()

    @property
    def _limiting_row(self) -> int:
        """Where the cursor begins: at the seal that limits the score."""
        limiting = self.standing.limiting
        return self.standing.seals.index(limiting) if limiting else 0

    def _tell_trouble(self) -> None:
        """A fault or failed test that was not there before is told of at once, where there is room beside."""
        before = self._troubles
        self._troubles = self.standing.facts.troubles
        if self._troubles and self._troubles != before and self.app.size.width >= watch_lines.WIDE:
            self._panel = "happened"
            self.add_class("working", "broad")
        elif before and not self._troubles and self._panel == "happened":
            self._panel = "work"
            self.remove_class("working", "broad")

    def _write_against(self) -> None:
        against = watch_lines.standing_lines(self.standing)
        if self._troubles:
            against.insert(len(self.standing.stops), since_lines.in_one_line(self._happened()))
        self._write("against-words", against)
        self._share_out()

    def _write_again(self) -> None:
        """Something that took a while is there."""
        self._write_against()
        self._write_working()

    def _write(self, part: str, lines: Sequence[Line]) -> None:
        self.query_one(f"#{part}", Static).update(content(lines))

    def _write_heads(self) -> None:
        width = self.app.size.width
        self._write("seal-heads", [watch_lines.seal_heads(width)])
        if self._log is not None:
            most = 3 if self.app.size.height >= TALL else 1
            units = self.book.units
            self._write("head", watch_lines.head(self.standing, self.book.practice, width, most, units))

    def _draw_seal(self, row: int, width: int) -> Line:
        return watch_lines.seal_row(self.standing.seals[row], self.standing, width)

    def _draw_entry(self, row: int, width: int) -> Line:
        entry, costs = self._entry(row)
        if entry is None:
            return [(" no longer on record", "dim")]
        raised = self._raised(entry)
        return watch_lines.entry_row(entry, costs, self.book.units, width, raised)

    # ------------------------------------------------------------------ the working

    @on(Lines.Chosen)
    def action_work(self) -> None:
        """Show the working of what is under the cursor, or put it away; where it always stands, go there."""
        if self.has_class("rich") and not self.has_class("broad"):
            self.query_one("#working").focus()
        else:
            self._show_or_put_away("work")

    def action_happened(self) -> None:
        """Show what had the largest part of the wear since the last pass, or put it away."""
        self._show_or_put_away("happened")

    def action_forecast(self) -> None:
        """Show when the seals are used up, or put it away."""
        self._show_or_put_away("forecast")

    def action_year(self) -> None:
        """Show a year of water by day, or put it away."""
        self._year = None
        self._show_or_put_away("year")

    def action_turn_year(self, step: int) -> None:
        """The year before or after, where a year is shown."""
        if self.has_class("working") and self._panel == "year":
            this = self.book.today.year
            self._year = max(1, min(this, (self._year or this) + step))
            self._write_working()

    def _show_or_put_away(self, panel: Panel) -> None:
        """The panel with this in it; asked for again, it goes."""
        shown = self.has_class("working") and self._panel == panel
        self.set_class(self._in_log, "of-log")
        self._panel = "work" if shown else panel
        self.set_class(self._panel != "work", "broad")
        self.set_class(panel in HIGH and not shown, "high")
        self.set_class(panel == "happened" and not shown, "of-trouble")
        self.set_class(not shown, "working")
        self._write_working()
        self._share_out()

    @on(Lines.Highlighted)
    def _follow(self) -> None:
        self._write_working()

    def on_descendant_focus(self) -> None:
        """The working is of the part one is in, which takes room from the others."""
        self._share_out()
        self._write_working()

    def _write_working(self) -> None:
        if self.has_class("working") or self.has_class("rich"):
            self._drawn_in = self._panel_room
            self._write("working-words", self._working())
            self.query_one("#working").scroll_home(animate=False)

    @on(Beside.Laid)
    def _fit_working(self) -> None:
        """What was written before its place was laid out is written anew, as large as the place is."""
        if self._panel_room != self._drawn_in:
            self._write_working()

    @property
    def _panel_room(self) -> Size:
        """Cells and rows that a panel has; a broad one in a wide window grows with what is in it."""
        width, height = self.query_one("#working").scrollable_content_region.size
        if self.has_class("wide", "broad"):
            height = self.query_one("#lower").size.height * BROAD_PERCENT // 100
        return Size(width or self.app.size.width - 4, height)

    def action_back(self) -> None:
        """Put the working away, else one step back."""
        if self.has_class("working"):
            self._show_or_put_away(self._panel)
        else:
            self.app.pop_screen()

    # ------------------------------------------------------------------ what can be done

    def action_dossier(self) -> None:
        """Write the dossier."""
        self.go("dossier", self.standing.record.watch)

    def action_amend(self) -> None:
        """Amend the entry under the cursor; outside the log, edit what is said of the watch."""
        log = self.query_one("#log", Lines)
        if not (log.has_focus and log.count):
            self.go("watch-edit", self.watch_id)
            return
        entry, _ = self._entry(log.cursor)
        if entry is None:
            self.reload()
        else:
            self.enter(room_for(entry, self.standing.record))

    def action_strike(self) -> None:
        """Strike the entry under the cursor."""
        log = self.query_one("#log", Lines)
        if not log.has_focus or not log.count:
            self.app.notify("x strikes an entry of the log: tab leads there.", markup=False)
            return
        entry, _ = self._entry(log.cursor)
        if entry is None:
            self.reload()
            return
        entry_id = entry.id or 0
        name = watch_lines.entry_name(entry, self.book.units)
        self.strike(entry_id, name)

    @property
    def watch_here(self) -> int:
        """This one."""
        return self.watch_id

    @property
    def nickname(self) -> str:
        """Of this watch."""
        return self.standing.name

    def action_confirm(self) -> None:
        """Nothing else happened up to today."""

        def confirm() -> str:
            from logbook.record.writing.habits import confirm

            self.book.do(confirm, [self.watch_id], self.book.today)
            return "Nothing else happened up to today. z: undo"

        self.change(confirm)
