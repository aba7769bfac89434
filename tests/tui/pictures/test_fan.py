"""The picture of a forecast: rows of scores, the band about the middle path, the years below."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rich.cells import cell_len

from logbook.model.predict.forecast import FanPoint
from logbook.tui.pictures import fan
from logbook.tui.pictures.fan import BAND, CLASS_ENDS, INTERVAL, MIDDLE, TODAY, WINDOW
from logbook.tui.shell.ink import STYLES, Line

ON = date(2026, 11, 25)
LABEL = 5  # cells before the first day: four of the score and the line
TEN_YEARS = 44  # points, twelve weeks apart


def ahead(low: float, middle: float, high: float, growth: float, points: int = TEN_YEARS) -> list[FanPoint]:
    """A fan from these wear shares on, each growing by as much a point."""
    return [
        FanPoint(ON + timedelta(weeks=12 * n), low + growth * n, middle + growth * n, high + growth * n)
        for n in range(points)
    ]


def rows_of(lines: Sequence[Line]) -> list[str]:
    """Each line as the text it shows."""
    return ["".join(text for text, _ in line) for line in lines]


def plotted(lines: Sequence[Line]) -> list[str]:
    """The rows of scores without their labels."""
    return [row[LABEL:] for row in rows_of(lines)[:-1]]


def columns(lines: Sequence[Line]) -> list[str]:
    """The picture day by day, each from score 100 down."""
    return ["".join(cells) for cells in zip(*plotted(lines), strict=True)]


def year_line(lines: Sequence[Line]) -> str:
    """What stands below the days."""
    return rows_of(lines)[-1][LABEL:]


@st.composite
def fans(draw: st.DrawFn) -> list[FanPoint]:
    """Any forecast: low to high, none of them ever falling; from nothing used to all used up."""
    share = st.floats(-0.01, 3)
    low, middle, high = sorted([draw(share), draw(share), draw(share)])
    points = [FanPoint(ON, low, middle, high)]
    more = st.one_of(st.just(0.0), st.floats(0, 0.4))
    for n in range(1, draw(st.integers(4, TEN_YEARS))):
        low, middle, high = sorted((low + draw(more), middle + draw(more), high + draw(more)))
        points.append(FanPoint(ON + timedelta(weeks=12 * n), low, middle, high))
    return points


CAPS = st.integers(-4000, 6000).map(lambda days: ON + timedelta(days=days))
WIDTHS, HEIGHTS = st.integers(15, 180), st.integers(1, 20)


@given(fans(), CAPS, WIDTHS, HEIGHTS)
def test_every_line_is_as_wide_as_asked_and_there_are_as_many_rows(
    points: list[FanPoint], cap: date, width: int, height: int
) -> None:
    lines = fan.plot(points, cap, width, height)
    assert len(lines) == height + 1
    assert {cell_len(row) for row in rows_of(lines)} == {width}
    assert {role for line in lines for _, role in line} <= STYLES.keys()


@given(fans(), CAPS, WIDTHS, HEIGHTS)
def test_there_is_nothing_in_it_but_band_middle_class_and_blank(
    points: list[FanPoint], cap: date, width: int, height: int
) -> None:
    lines = fan.plot(points, cap, width, height)
    assert set("".join(plotted(lines))) <= {BAND, MIDDLE, CLASS_ENDS, " "}
    assert set(year_line(lines).removeprefix(TODAY)) <= set("─0123456789")


@given(fans(), CAPS, WIDTHS, HEIGHTS)
def test_the_middle_is_there_until_it_is_used_up_and_never_rises(
    points: list[FanPoint], cap: date, width: int, height: int
) -> None:
    found = columns(fan.plot(points, cap, width, height))
    assert all(column.count(MIDDLE) <= 1 for column in found)
    rows = [column.find(MIDDLE) % (height + 1) for column in found]  # none at all is below the last
    assert rows == sorted(rows)
    assert (MIDDLE in found[0]) == (points[0].middle < 1)


@given(fans(), CAPS, WIDTHS, HEIGHTS)
def test_the_band_is_in_one_piece_about_the_middle_and_neither_end_rises(
    points: list[FanPoint], cap: date, width: int, height: int
) -> None:
    spans = []
    for column in columns(fan.plot(points, cap, width, height)):
        drawn = [row for row, cell in enumerate(column) if cell in (BAND, MIDDLE)] or [height]
        assert drawn == list(range(drawn[0], drawn[-1] + 1))
        spans.append((drawn[0], drawn[-1]))
    for end in zip(*spans, strict=True):
        assert list(end) == sorted(end)


@settings(max_examples=50)
@given(fans(), CAPS, WIDTHS, HEIGHTS)
def test_the_end_of_the_class_is_one_day_at_most_and_only_where_it_lies_ahead(
    points: list[FanPoint], cap: date, width: int, height: int
) -> None:
    found = columns(fan.plot(points, cap, width, height))
    marked = [n for n, column in enumerate(found) if CLASS_ENDS in column]
    assert len(marked) <= 1
    assert not (marked and (cap <= ON or cap > points[-1].on))


@given(fans(), CAPS, WIDTHS)
def test_the_years_are_those_ahead_in_their_order(points: list[FanPoint], cap: date, width: int) -> None:
    line = year_line(fan.plot(points, cap, width, 5))
    years = [int(word) for word in line.removeprefix(TODAY).replace("─", " ").split()]
    assert years == sorted(set(years))
    assert all(ON.year < year <= points[-1].on.year + 1 for year in years)


@pytest.mark.parametrize(
    ("share", "row"), [(0.0, 0), (0.199, 0), (0.201, 1), (0.5, 2), (0.799, 3), (0.81, 4), (0.999, 4)]
)
def test_a_score_stands_between_the_labels_that_it_lies_between(share: float, row: int) -> None:
    lines = fan.plot(ahead(share, share, share, 0.01), ON + timedelta(days=900), 60, 5)
    assert columns(lines)[0].index(MIDDLE) == row
    assert [text[:LABEL] for text in rows_of(lines)[:-1]] == [" 100│", "    │", "  60│", "    │", "   0│"]


def test_a_taller_picture_has_the_half_in_the_middle() -> None:
    lines = fan.plot(ahead(0.1, 0.2, 0.3, 0.02), date(2030, 1, 1), 80, 10)
    assert [row[:4].strip() for row in rows_of(lines)] == ["100", "", "", "", "", "50", "", "", "", "0", ""]


def test_straight_lines_run_between_the_points() -> None:
    # From nothing to all in 240 weeks, 84 days a point: on each column the score is what a ruler would say.
    lines = fan.plot(ahead(0, 0, 0, 0.05, 21), date(2040, 1, 1), LABEL + 101, 20)
    for n, column in enumerate(columns(lines)[:-1]):
        assert abs(column.index(MIDDLE) - n / 5) <= 1
    assert columns(lines)[-1].strip() == ""  # used up


def test_it_ends_once_all_of_the_band_is_used_up() -> None:
    # 0.1 a point from 0.5 at the low end: at 1 after five points, which is 60 weeks.
    line = year_line(fan.plot(ahead(0.5, 0.7, 0.9, 0.1), date(2036, 1, 1), 80, 5))
    assert "2027" in line
    assert "2028" in line  # 19 Jan 2028
    assert "2029" not in line
    days = columns(fan.plot(ahead(0.5, 0.7, 0.9, 0.1), date(2036, 1, 1), 80, 5))
    assert days[-2].strip() == BAND
    assert days[-1].strip() == ""


def test_where_all_is_used_up_already_it_is_empty_for_half_a_year() -> None:
    lines = fan.plot(ahead(1.2, 1.5, 2.0, 0.1), date(2030, 1, 1), 60, 5)
    assert plotted(lines) == [" " * 55] * 5
    assert year_line(lines).count("2") == 2  # 2027 alone


def test_where_nothing_is_used_up_in_ten_years_it_goes_on_to_the_end_of_the_class_and_a_little() -> None:
    lines = fan.plot(ahead(0.0, 0.01, 0.02, 0.001), date(2031, 6, 1), 80, 5)
    assert plotted(lines)[0].strip() == MIDDLE * 75
    marked = [n for n, column in enumerate(columns(lines)) if CLASS_ENDS in column]
    days = (date(2031, 6, 1) + timedelta(days=180) - ON).days
    assert marked == [pytest.approx((date(2031, 6, 1) - ON).days / days * 74, abs=1)]
    assert "2031" in year_line(lines)
    assert "2032" not in year_line(lines)


def test_a_class_that_ends_beyond_the_horizon_is_not_in_it() -> None:
    lines = fan.plot(ahead(0.0, 0.01, 0.02, 0.001), date(2038, 1, 1), 80, 5)
    assert CLASS_ENDS not in "".join(plotted(lines))
    assert "2036" in year_line(lines)  # ten years of weeks, less a few days


@pytest.mark.parametrize("ended", [ON, date(2024, 1, 1)])
def test_a_class_that_has_ended_is_not_in_it(ended: date) -> None:
    lines = fan.plot(ahead(0.1, 0.3, 0.6, 0.02), ended, 80, 5)
    assert CLASS_ENDS not in "".join(plotted(lines))
    assert "2028" not in year_line(lines)


def test_the_end_of_the_class_stands_behind_the_band() -> None:
    lines = fan.plot(ahead(0.0, 0.2, 0.6, 0.01), ON + timedelta(days=1000), 80, 10)
    column = next(column for column in columns(lines) if CLASS_ENDS in column)
    assert column.startswith(CLASS_ENDS)
    assert BAND in column
    assert MIDDLE in column


def test_each_year_stands_below_its_first_day() -> None:
    points = ahead(0.0, 0.01, 0.02, 0.001)
    line = year_line(fan.plot(points, date(2050, 1, 1), LABEL + 130, 5))
    days = (points[-1].on - ON).days
    for year in range(2027, 2036):
        assert line.index(str(year)) == pytest.approx((date(year, 1, 1) - ON).days / days * 129, abs=1)


def test_years_too_near_each_other_to_be_read_are_left_out() -> None:
    line = year_line(fan.plot(ahead(0.0, 0.01, 0.02, 0.001), date(2050, 1, 1), 30, 5))
    years = line.replace("─", " ").split()
    assert 2 <= len(years) < 10
    assert all(len(year) == 4 for year in years)


@given(fans(), CAPS, WIDTHS, st.lists(st.one_of(st.none(), CAPS), min_size=3, max_size=3))
def test_window_and_interval_take_no_room_and_lie_on_their_days(
    points: list[FanPoint], cap: date, width: int, days: list[date | None]
) -> None:
    interval_on, *ends = days
    first, last = sorted(ends, key=lambda day: day or date.max)
    lines = fan.plot(points, cap, width, 6, window=(first, last), interval_on=interval_on)
    assert {cell_len(row) for row in rows_of(lines)} == {width}
    doubled = [n for n, cell in enumerate(year_line(lines)) if cell == WINDOW]
    assert not doubled or doubled[-1] - doubled[0] + 1 <= len(doubled) + 5 * year_line(lines).count("2")
    if first is None or (last is not None and last <= ON):
        assert not doubled
    marked = [n for n, column in enumerate(columns(lines)) if INTERVAL in column]
    assert len(marked) <= 1
    assert not (marked and (interval_on is None or interval_on <= ON))


def test_the_line_of_years_begins_today_and_is_doubled_in_the_window() -> None:
    window = (ON + timedelta(days=1000), ON + timedelta(days=2000))
    lines = fan.plot(ahead(0.0, 0.01, 0.02, 0.001), date(2050, 1, 1), LABEL + 201, 5, window=window)
    line, days = year_line(lines), (TEN_YEARS - 1) * 84
    doubled = [n for n, cell in enumerate(line) if cell == WINDOW]
    assert doubled[0] == pytest.approx(1000 / days * 200, abs=1)
    assert doubled[-1] == pytest.approx(2000 / days * 200, abs=1)
    late = year_line(
        fan.plot(ahead(0.3, 0.5, 0.7, 0.1), date(2027, 1, 1), LABEL + 120, 5, window=(None, None))
    )
    assert late.startswith(TODAY)
    assert WINDOW not in late


@pytest.mark.parametrize(
    ("window", "begins", "ends"),
    [((ON, None), 0, 99), ((None, None), None, None), ((ON - timedelta(9), ON), None, None)],
    ids=["open", "beyond", "over"],
)
def test_a_window_that_is_open_goes_on_to_the_end(
    window: tuple[date | None, date | None], begins: int | None, ends: int | None
) -> None:
    lines = fan.plot(ahead(0.9, 0.95, 0.99, 0.0), date(2036, 1, 1), LABEL + 100, 5, window=window)
    roles = [role for text, role in lines[-1][1:] for _ in text]
    assert ("mild" in roles) == (begins is not None)
    assert ends is None or roles[ends] == "mild"


def test_the_interval_s_day_stands_behind_the_band() -> None:
    on = ON + timedelta(days=1000)
    lines = fan.plot(ahead(0.0, 0.2, 0.6, 0.01), date(2050, 1, 1), 80, 10, interval_on=on)
    column = next(column for column in columns(lines) if INTERVAL in column)
    assert column.startswith(INTERVAL)
    assert MIDDLE in column
