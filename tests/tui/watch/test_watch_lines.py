"""The Watch room's lines and workings as text, without a screen."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from functools import partial
from typing import Any

import pytest

from logbook.model.values import CHANNELS, EVENT_KINDS, FAULTS, Event, Seal, Shares
from logbook.model.wear.account import SealWear
from logbook.record.record import Book
from logbook.record.writing.snoozes import snooze
from logbook.text.events import event_words
from logbook.tui.events.meaning import meaning
from logbook.tui.shell.ink import Line
from logbook.tui.watch import bar as watch_bar
from logbook.tui.watch import lines as watch_lines
from logbook.tui.watch import working as watch_working
from logbook.tui.watch.log import LogPages

DAY = date(2026, 5, 1)


def a_wear(
    shares: Shares, assumed: Shares | None = None, history: tuple[float, float] | None = None
) -> SealWear:
    """A seal with given shares; its history is closed unless said."""
    seal = Seal("crown", "NBR", DAY, DAY, id=1)
    ends = (shares.total, shares.total) if history is None else history
    return SealWear(
        seal, shares, assumed or Shares(), date(2033, 5, 1), date(2033, 5, 1), partial(tuple, ends)
    )


def text(line: Line) -> str:
    return "".join(piece for piece, _ in line)


def test_each_channel_takes_its_part_of_the_bar_in_its_own_hatching() -> None:
    bar = text(watch_bar.bar(a_wear(Shares(0.1, 0.05, 0.15, 0.2, 0.1, 0.1)), 40))
    assert bar == "████▓▓▒▒▒▒▒▒░░░░░░░░▞▞▞▞╱╱╱╱············"


def test_no_two_channels_share_a_hatching() -> None:
    assert set(watch_bar.HATCHING) == set(CHANNELS)
    assert len({*watch_bar.HATCHING.values(), watch_bar.ASSUMED, watch_bar.LEFT}) == len(CHANNELS) + 2


@pytest.mark.parametrize("cells", [30, 36, 72])
@pytest.mark.parametrize("used", [0.0, 0.004, 0.31, 0.999, 1.0, 1.7, 40.0])
def test_a_bar_has_exactly_its_cells_however_much_is_used(cells: int, used: float) -> None:
    bar = text(watch_bar.bar(a_wear(Shares(ageing=used / 2, salt=used / 2)), cells))
    assert len(bar) == cells
    left = bar.count(watch_bar.LEFT)
    assert left == (0 if used >= 1 else cells - round(cells * used))


def test_the_assumed_part_is_one_piece_at_the_end_of_what_is_used() -> None:
    wear = a_wear(Shares(ageing=0.3, salt=0.4), assumed=Shares(salt=0.3))
    assert text(watch_bar.bar(wear, 10)) == "███░???···"


def test_hours_that_cold_water_took_off_do_not_break_the_bar() -> None:
    assert text(watch_bar.bar(a_wear(Shares(ageing=-0.01, salt=0.5)), 10)) == "░░░░░·····"


@pytest.mark.parametrize(
    ("share", "words"),
    [
        (0.0, "0"),
        (0.00011, "0.00011"),
        (-0.0000095, "−0.0000095"),
        (0.05, "0.050"),
        (0.25, "0.25"),
        (1.257, "1.26"),
    ],
)
def test_a_share_is_a_plain_decimal(share: float, words: str) -> None:
    assert watch_working.share_words(share) == words


def test_open_history_is_told_as_a_range_and_closed_history_as_such() -> None:
    opened = watch_working.history_words(a_wear(Shares(ageing=0.31), history=(0.2, 0.78)))
    assert opened == "0.31 of an interval, from 0.20 to 0.78 as its history is not known"
    assert (
        watch_working.history_words(a_wear(Shares(ageing=0.31))) == "0.31 of an interval, all of it on record"
    )


@pytest.mark.parametrize(
    ("event", "words"),
    [
        (
            Event("gaskets", DAY, 20, seals=(("crown", "FKM"), ("case-back", "NBR"))),
            "gaskets replaced, crown (FKM) and case back (NBR)",
        ),
        (
            Event(
                "pressure-test", DAY, 40, passed=True, test_pa=10e5, medium="air", minutes=5, deflection_um=12
            ),
            "pressure test passed, 10 bar in air, 5 min, deflection 12 µm",
        ),
        (Event("pressure-test", DAY, 40, passed=False), "pressure test failed, pressure not known"),
        (
            Event("pressure-test", DAY, 40, passed=True, test_pa=20e5, medium="water", to_mark=True),
            "pressure test passed, to its mark, 20 bar in water",
        ),
        (Event("knock", DAY, 60, moved=True), "fall or blow, something moved"),
        (Event("condensation-test", DAY, 40, passed=True), "condensation test passed"),
        (Event("repaired", DAY, 30, repaired="gas-valve-damaged"), "gas valve repaired"),
        (Event("fog", DAY, 60, crystal_c=5, case_air_c=21), "fog seen inside, crystal 5 °C, case air 21 °C"),
        (Event("gas-valve-damaged", DAY, 60), "gas valve damaged"),
    ],
)
def test_an_event_is_a_phrase(event: Event, words: str) -> None:
    assert event_words(event, "metric") == words


def test_imperial_units_reach_the_phrase() -> None:
    event = Event("fog", DAY, 60, crystal_c=5)
    assert event_words(event, "imperial") == "fog seen inside, crystal 41 °F"


@pytest.mark.parametrize("kind", EVENT_KINDS)
def test_every_kind_says_what_it_means_and_none_promises_anything(kind: str) -> None:
    event = Event(kind, DAY, 10, passed=True, repaired="crown-damaged")  # type: ignore[arg-type]
    sentence = meaning(event)
    assert sentence.endswith(".")
    assert "safe" not in sentence.casefold()
    if kind in FAULTS:
        assert "stands until" in sentence


@pytest.mark.parametrize("width", [80, 100, 112, 120, 200])
def test_seal_rows_fill_the_window_and_never_more(book: Book, width: int) -> None:
    for standing in book.standings():
        for wear in standing.seals:
            row = text(watch_lines.seal_row(wear, standing, width))
            assert len(row) <= width
            if standing.score is None:
                assert row.rstrip().endswith("not known")
                continue
            bar = sum(char in (*watch_bar.HATCHING.values(), "?", "·") for char in row)
            assert bar >= 30


@pytest.mark.parametrize("width", [40, 55, 78, 120])
def test_log_rows_are_exactly_as_wide_as_the_list(
    book: Book, id_of: Callable[[str], int], log: Callable[..., object], width: int
) -> None:
    log("Blue bezel", "dive", depth_m=21.0, duration_s=2280, note="漢字" * 40)
    pages = LogPages(book, book.standing(id_of("Blue bezel")).record)
    for entry, costs in map(pages.row, range(len(pages))):
        assert entry is not None
        row = text(watch_lines.entry_row(entry, costs, "metric", width))
        assert len(row) == width


@pytest.mark.parametrize("width", [40, 55, 78, 120])
def test_what_an_entry_raised_is_read_whole_however_narrow_the_log_is(
    book: Book, id_of: Callable[[str], int], log: Callable[..., object], width: int
) -> None:
    log("Blue bezel", "dive", depth_m=21.0, duration_s=2280)
    entry, costs = LogPages(book, book.standing(id_of("Blue bezel")).record).row(0)
    assert entry is not None
    row = text(watch_lines.entry_row(entry, costs, "metric", width, raised="crown used under water"))
    assert len(row) == width
    assert row[13:].startswith("div")
    if width >= 55:
        assert "crown used under water" in row


def test_three_items_are_due_next_and_a_snoozed_one_says_until_when(
    book: Book, id_of: Callable[[str], int]
) -> None:
    key = id_of("Lido quartz")
    item = book.standing(key).due[0]
    book.do(snooze, item.id, date(2026, 12, 24))
    lines = [text(line) for line in watch_lines.standing_lines(book.standing(key))]
    said = [line for line in lines if line.split(":")[0] in ("later", "coming up", "due", "overdue")]
    assert len(said) == 3
    assert "snoozed until 24 Dec 2026" in said[0]


def test_who_a_watch_is_takes_one_line_of_the_head_and_stands_whole_in_the_working(book: Book) -> None:
    standing = book.standings()[0]
    told: dict[str, Any] = {
        "reference": "No. 12",
        "group": "sea box",
        "note": "a gift " * 40 + "[b]to keep[/b]",
    }
    watch = replace(standing.record.watch, **told)
    standing = replace(standing, record=replace(standing.record, watch=watch))
    head = [text(line) for line in watch_lines.head(standing, book.practice, 80)]
    assert len(head) == 3
    assert head[1].startswith("reference No. 12 · group sea box · note a gift")
    assert head[1].endswith("…")
    assert len(head[1]) <= 78
    roomy = [text(line) for line in watch_lines.head(standing, book.practice, 120, 3)]
    assert len(roomy) == 5
    assert max(len(line) for line in roomy[1:4]) <= 118
    assert [text(line) for line in watch_lines.about(watch)] == [
        f"{what} {said}" for what, said in told.items()
    ]


def test_a_watch_of_which_nothing_more_is_said_has_no_line_for_it(book: Book) -> None:
    standing = book.standings()[0]
    assert len(watch_lines.head(standing, book.practice, 80)) == 2
    assert watch_lines.about(standing.record.watch) == []


def test_a_test_in_the_log_says_how_and_by_whom() -> None:
    event = Event(
        "pressure-test", DAY, 40, passed=True, test_pa=10e5, medium="air", minutes=5, deflection_um=12,
        workshop="The bench",
    )  # fmt: skip
    row = text(watch_lines.entry_row(event, {}, "metric", 100))
    assert "pressure test passed, 10 bar in air, 5 min, deflection 12 µm, The bench" in row
