"""An exposure as a picture: what it shows is what its words say, in every size and in both units."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from itertools import accumulate
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rich.cells import cell_len

from logbook.model.values import Exposure, ProfilePoint
from logbook.record.file.practice_file import load_practice
from logbook.tui.pictures import dive_plot
from logbook.tui.pictures.dive_plot import MARK
from logbook.tui.shell.ink import STYLES
from tests.tui.helpers import text_of

PRACTICE = load_practice()
SHAPE = [(0, 0.0, 20.0), (5, 21.0, 12.0), (15, 6.0, 18.0), (20, 18.0, 11.0), (38, 0.0, 19.0)]


def a_dive(points: Sequence[tuple[float, float, float | None]] = (), **more: Any) -> Exposure:
    profile = tuple(ProfilePoint(at * 60, depth, celsius) for at, depth, celsius in points)
    told: dict[str, Any] = {
        "activity": "dive", "water": "sea", "depth_m": 21.0, "basis": "EN 13319", "gauge_pa": 2.1e5,
        "duration_s": 38 * 60, "water_c": 17.0, "from_c": 32.0, "starts_on": date(2026, 11, 22),
    }  # fmt: skip
    return Exposure(**(told | more), profile=profile)


def drawn(exposure: Exposure, width: int = 60, height: int = 14, units: Any = "metric") -> str:
    return text_of(dive_plot.lines(exposure, PRACTICE, units, width, height))


@st.composite
def dives(draw: st.DrawFn) -> Exposure:
    """Any profile, also one that begins late, with temperatures, some, or none."""
    steps = draw(st.lists(st.floats(0.01, 300), min_size=2, max_size=50))
    points = []
    warm = draw(st.sampled_from(("all", "some", "none")))
    for n, at in enumerate(accumulate(steps)):
        celsius = draw(st.floats(-2, 35))
        told = celsius if warm == "all" or (warm == "some" and n % 3 == 0) else None
        points.append((at, draw(st.floats(0, 60)), told))
    greatest = max(depth for _, depth, _ in points)
    return a_dive(points, depth_m=greatest, gauge_pa=greatest * 1e4, duration_s=round(points[-1][0] * 60))


@settings(max_examples=60)
@given(dives(), st.integers(30, 170), st.integers(1, 40), st.sampled_from(("metric", "imperial")))
def test_it_fits_its_width_and_the_deepest_point_is_marked_on_the_deepest_row(
    exposure: Exposure, width: int, height: int, units: str
) -> None:
    lines = dive_plot.lines(exposure, PRACTICE, units, width, height)  # type: ignore[arg-type]
    assert {role for line in lines for _, role in line} <= STYLES.keys()
    rows = text_of(lines).splitlines()
    assert max(cell_len(row) for row in rows) <= width
    axis = next(n for n, row in enumerate(rows) if "└" in row)
    edge = rows[axis].index("└") + 1
    deepest = max(exposure.profile, key=lambda point: point.depth_m)
    if deepest.depth_m > 0:
        cells = len(rows[axis]) - edge
        expected = int(deepest.time_s / 60 * 2 * cells / dive_plot.end_min(exposure)) // 2
        at = rows[axis - 1].index(MARK) - edge
        assert at == pytest.approx(min(expected, cells - 1), abs=0.01)
        assert "".join(rows[:axis]).count(MARK) == 1
        assert f"deepest {rows[axis - 1][: edge - 1].strip()}" in " ".join(" ".join(rows[:axis]).split())


def test_the_words_say_deepest_coldest_and_what_is_counted() -> None:
    text = " ".join(drawn(a_dive(SHAPE), width=200).split())
    # Counted by hand: down to 21 m and back up is one cycle, 6 to 18 m within it another (ASTM E1049-85,
    # 5.4.4 rainflow counting); the case trails the water, so its swings are within one as well.
    assert "profile of 5 points: deepest 21 m after 5 min; coldest 11 °C after 20 min." in text
    assert "Counted from it: 2 cycles of pressure, " in text


def test_what_the_profile_misses_of_the_greatest_depth_is_said() -> None:
    text = " ".join(drawn(a_dive(SHAPE, depth_m=24.0)).split())
    assert "deepest 21 m after 5 min" in text
    assert "It counts to 24 m, the greatest depth given." in text


def test_a_profile_without_temperatures_has_no_row_of_them_and_says_which_was_taken() -> None:
    text = drawn(a_dive([(at, depth, None) for at, depth, _ in SHAPE]))
    assert "water 17 °C, as no temperature is in it." in " ".join(text.split())
    assert "°C┤" not in text
    steady = drawn(a_dive([(at, depth, 14.0) for at, depth, _ in SHAPE]))
    assert "water 14 °C throughout." in " ".join(steady.split())
    assert "°C┤" not in steady


def test_imperial_units_are_on_every_label() -> None:
    text = drawn(a_dive(SHAPE), units="imperial")
    assert "0 ft┤" in text
    assert "69 ft┤" in text
    assert "52 °F┤" in text
    assert " m" not in text.replace(" min", "")


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ({}, "assumed, without a profile: down to 21 m at once, 38 min there in water of 17 °C, and up."),
        ({"dips": 20}, "assumed, without a profile: 20 dips to 21 m in 38 min, in water of 17 °C."),
    ],
)
def test_without_a_profile_it_is_the_assumed_shape_and_says_so(more: dict[str, Any], said: str) -> None:
    text = drawn(a_dive(**more), width=100)
    assert text.startswith(said)
    assert "21 m┤" in text
    assert MARK not in text


def test_one_point_is_no_shape() -> None:
    assert drawn(a_dive([(3, 21.0, 12.0)])).startswith("assumed, without a profile")


@pytest.mark.parametrize("more", [{"depth_m": 0.0, "gauge_pa": 0.0}, {"depth_m": 0.0, "water": "air"}])
def test_what_has_no_depth_has_no_picture(more: dict[str, Any]) -> None:
    assert drawn(a_dive(**more)) == ""


def test_ten_thousand_dips_are_drawn_as_one_block() -> None:
    rows = drawn(a_dive(dips=10_000)).splitlines()
    assert max(map(len, rows)) <= 60
    assert "10,000 dips" in rows[0]


# Looked at, and kept as they were found right: down fast, a shallow stay, down again, up slowly; the water
# coldest on the second way down.
LOOKED_AT = """\
profile of 5 points: deepest 21 m after 5 min; coldest
11 °C after 20 min. Counted from it: 2 cycles of
pressure, 2 of temperature.
   0 m┤⢳⡀░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░⣀⡤⠴⠒⠋
      │ ⠹⣄░░░░░░░░░░░░░░⣀⡤⢦⣀░░░░░░░░░░░░░░░░░⣀⣠⠤⠖⠚⠉⠁
      │  ⠘⢦░░░░░░░░░⢀⣠⠖⠋⠁  ⠈⠳⣄░░░░░░░░░⢀⣀⡤⠖⠚⠉⠁
      │   ⠈⢳⡀░░░⢀⣠⠴⠚⠉        ⠈⠙⢦⡀⢀⣀⡤⠴⠒⠋⠉
  21 m┤     ⠹▼⠴⠚⠉               ⠉⠉
      └0───────────10───────────20───────────30───── min
 20 °C┤⠙⠲⢤⣀         ⢀⣀⣀⣠⠤⠤⠤⣄⣀                ⢀⣀⣀⣀⣠⠤⠤⠤⠖⠒⠒
 11 °C┤   ⠈⠙⠲⠤⠤⠖⠒⠒⠋⠉⠉       ⠈⠙⠒⠦▼⣀⣠⠤⠤⠤⠖⠒⠒⠒⠋⠉⠉⠉
"""


def test_a_drawn_example_is_as_it_was_looked_at() -> None:
    rows = drawn(a_dive(SHAPE), width=56, height=11).splitlines()
    assert [row.rstrip() for row in rows] == LOOKED_AT.splitlines()
