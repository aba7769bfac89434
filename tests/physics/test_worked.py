"""How a worked result shows itself."""

from __future__ import annotations

import pytest

from logbook.physics.bounds import finite, positive, within
from logbook.physics.force import force_n
from logbook.physics.worked import Worked, Worksheet, plain


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        (301_848.2, "301848"),
        (1026.0384, "1026.04"),
        (0.458872, "0.458872"),
        (20.0, "20"),
        (100_000.0, "100000"),
        (-12.402, "-12.402"),
        (0.00017350, "0.0001735"),
        (0.0000159, "1.59e-05"),
        (0.0, "0"),
        (True, "yes"),
        (False, "no"),
        (None, "none"),
    ],
)
def test_numbers_are_shown_as_people_read_them(value: float | bool | None, shown: str) -> None:
    assert plain(value) == shown


def test_a_result_shows_value_unit_and_the_numbers_behind_it() -> None:
    result = Worked(
        "dynamic pressure",
        4500.0,
        "Pa",
        "p = ½ ρ v²",
        (("ρ", 1000.0, "kg/m³"), ("v", 3.0, "m/s")),
        "textbook",
    )
    assert result.line() == "dynamic pressure = 4500 Pa"
    assert result.working() == "ρ = 1000 kg/m³, v = 3 m/s"


def test_what_does_not_exist_is_shown_without_a_unit() -> None:
    assert Worked("dew point", None, "°C", "", (), "").line() == "dew point = none"


def test_a_worksheet_hands_out_results_and_bare_values_by_key() -> None:
    result = Worked("force", 2.0, "N", "F", (), "textbook")
    sheet = Worksheet({"force_n": result})
    assert sheet["force_n"] is result
    assert sheet.values() == {"force_n": 2.0}


def test_the_guards_hand_good_numbers_back_and_name_bad_ones() -> None:
    assert within("share", 0.5, 0, 1, "") == 0.5
    assert positive("lag", 6.0, "min") == 6.0
    assert finite("swing", -5.0, "K") == -5.0
    with pytest.raises(ValueError, match="share must be from 0 to 1, not 2"):
        within("share", 2.0, 0, 1, "")


def test_twenty_bar_on_a_thirty_millimetre_crystal_weighs_like_144_kilograms() -> None:
    # 2e6 Pa · π · 0.03² / 4 = 1413.7 N; / 9.80665 = 144.2 kg
    assert force_n(20e5, 0.030) == pytest.approx(1413.717, abs=0.001)
    assert force_n(20e5, 0.060) == pytest.approx(4 * force_n(20e5, 0.030))
    assert force_n(-1e5, 0.030) < 0  # a vacuum test pulls
    with pytest.raises(ValueError, match="diameter must be 0 m or more"):
        force_n(1e5, -0.03)
