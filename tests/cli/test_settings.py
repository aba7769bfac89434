"""`logbook settings` and `logbook constants`."""

from __future__ import annotations

from pathlib import Path

import pytest

from logbook.record.file.places import looks_path
from tests.cli.running import Cli

MONTHS = "jan=13,feb=12,mar=13,apr=14,may=17,jun=20,jul=23,aug=24,sep=22,oct=20,nov=17,dec=15"


def test_settings_are_shown_as_they_are(cli: Cli) -> None:
    assert cli.json("settings") == {
        "home": {"salinity": 35.0, "latitude_deg": 45.0, "altitude_m": 0.0, "monthly_c": None},
        "zone": "UTC",
        "units": "metric",
        "theme": "deep",
    }
    assert "practical salinity 35, latitude 45°" in cli.ok("settings")


def test_only_what_is_given_changes(cli: Cli) -> None:
    cli.ok(
        "settings", "--salinity", "38", "--latitude", "-33.9", "--altitude", "400m", "--zone", "Europe/Berlin"
    )
    found = cli.json("settings", "--home-temp", MONTHS)
    assert found["home"]["monthly_c"][:3] == [13.0, 12.0, 13.0]
    assert (found["home"]["salinity"], found["home"]["latitude_deg"], found["home"]["altitude_m"]) == (
        38.0,
        -33.9,
        400.0,
    )
    assert (found["zone"], found["units"]) == ("Europe/Berlin", "metric")
    assert cli.json("settings") == found


def test_units_after_the_command_are_kept(cli: Cli) -> None:
    cli.ok("settings", "--units", "imperial")
    assert cli.json("settings")["units"] == "imperial"
    cli.ok("settings", "--home-temp", MONTHS)
    assert "jan 55 °F" in cli.ok("settings")
    assert "dive 69 ft" in cli.ok("check", "reed", "dive 21m")


def test_the_home_water_is_used_for_a_silent_line(cli: Cli) -> None:
    cli.ok("settings", "--home-temp", MONTHS, "--salinity", "38")
    (entry,) = cli.json("wet", "reed: dive 20m 40min on 2026-01-10")["entries"]
    assert (entry["water_c"], entry["salinity"], entry["water_c_assumed"]) == (13.0, 38.0, True)


def test_a_month_may_be_changed_alone_once_all_are_known(cli: Cli) -> None:
    assert "needs all twelve months" in cli.refused("settings", "--home-temp", "jan=13")
    cli.ok("settings", "--home-temp", MONTHS)
    assert cli.json("settings", "--home-temp", "January=50F")["home"]["monthly_c"][:2] == [10.0, 12.0]
    assert cli.json("settings", "--home-temp", "none")["home"]["monthly_c"] is None


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        (("--salinity", "50"), "42"),
        (("--salinity", "salty"), "is not a number"),
        (("--latitude", "100"), "from pole to pole"),
        (("--altitude", "9000m"), "out of range"),
        (("--zone", "Europe/Berln"), "Did you mean Europe/Berlin?"),
        (("--units", "nautical"), "'nautical' is no system of units"),
        (("--home-temp", MONTHS.replace("jan=13", "jan=90")), "out of range"),
        (("--home-temp", "first=13"), "is no month"),
    ],
)
def test_settings_that_cannot_be_are_refused(cli: Cli, words: tuple[str, ...], expected: str) -> None:
    assert expected in cli.refused("settings", *words)


def test_the_theme_is_kept_without_a_record(bare: Cli) -> None:
    document = bare.json("settings", "--colours", "sand")
    assert document == {"theme": "sand", "kept_in": str(looks_path())}
    assert not bare.file.exists()


def test_the_option_that_colours_had_before_still_works(bare: Cli) -> None:
    assert bare.json("settings", "--theme", "sand")["theme"] == "sand"
    assert "--theme" not in bare.ok("settings", "--help")


def test_the_theme_is_shown_with_the_settings_and_is_no_part_of_the_record(cli: Cli) -> None:
    before = cli.everything()
    assert "kept in" in cli.ok("settings", "--colours", "terminal")
    assert "colours      terminal" in cli.ok("settings")
    assert cli.everything() == before
    found = cli.json("settings", "--colours", "deep", "--units", "imperial")
    assert (found["theme"], found["units"]) == ("deep", "imperial")


def test_a_theme_that_there_is_not_changes_nothing(cli: Cli) -> None:
    sentence = cli.refused("settings", "--units", "imperial", "--colours", "sant")
    assert "Did you mean sand?" in sentence
    assert cli.json("settings")["units"] == "metric"
    assert not looks_path().exists()


def test_a_broken_file_of_looks_is_told_beside_the_usual_theme_and_can_be_replaced(cli: Cli) -> None:
    looks_path().parent.mkdir(parents=True)
    looks_path().write_text("theme = 3", encoding="utf-8")
    assert cli.json("settings")["theme"] == "deep"
    assert "it must be a name in quotes" in " ".join(cli.ok("settings").split())
    cli.ok("settings", "--colours", "sand")
    assert cli.json("settings")["theme"] == "sand"


def test_a_new_record_keeps_the_zone_of_the_machine(bare: Cli, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TZ", "Australia/Sydney")
    bare.ok("watch", "add", "Far")
    assert bare.json("settings")["zone"] == "Australia/Sydney"


def test_practice_lists_every_constant_with_range_kind_and_source(bare: Cli) -> None:
    document = bare.json("constants")
    constant = document["constants"]["H_salt"]
    assert (constant["value"], constant["low"], constant["high"], constant["unit"]) == (
        300.0,
        150.0,
        600.0,
        "h",
    )
    assert constant["kind"] == "assumption"
    assert document["overridden"] == []
    text = bare.ok("constants")
    assert "H_salt: 300 h (150 to 600)" in text
    assert all(
        f"[{table}]" in text
        for table in ("constants", "seals", "materials", "cases", "activities", "intervals")
    )
    assert max(len(line) for line in text.splitlines()) <= 80


def test_one_constant_is_shown_by_its_name(bare: Cli) -> None:
    assert bare.json("constants", "h_salt")["value"] == 300.0
    assert bare.json("constants", "materials.NBR")["years"] == 5.0
    assert "cap_years 7" in bare.ok("constants", "NBR")
    assert "Did you mean" in bare.refused("constants", "H_salz")


def test_edit_begins_a_file_in_which_nothing_is_in_force(
    bare: Cli, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    fingerprint = bare.json("constants")["fingerprint"]
    document = bare.json("constants", "--edit")
    path = Path(document["path"])
    assert document["written"] is True
    assert path.exists()
    assert bare.json("constants")["fingerprint"] == fingerprint
    assert str(path) in bare.ok("constants", "--edit")
    assert "is there already" in bare.ok("constants", "--edit")


def test_every_example_of_that_file_is_right_once_its_marks_are_gone(
    bare: Cli, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from logbook.cli.constants import STARTER

    mine = tmp_path / "mine.toml"
    lines = [line.removeprefix("# ") for line in STARTER.splitlines() if "=" in line or "[" in line]
    mine.write_text("\n".join(lines), encoding="utf-8")
    monkeypatch.setenv("LOGBOOK_PRACTICE", str(mine))
    overridden = bare.json("constants")["overridden"]
    assert {"constants.worn_c.value", "intervals.battery.months", "materials.NBR.years"} <= set(overridden)
    assert "constants.worn_c.value" in bare.ok("constants")


def test_a_wrong_override_names_key_and_line(
    bare: Cli, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    mine = tmp_path / "mine.toml"
    mine.write_text("[constants.H_salt]\nvalue = -3\n", encoding="utf-8")
    monkeypatch.setenv("LOGBOOK_PRACTICE", str(mine))
    sentence = bare.refused("constants")
    assert "line 2, constants.H_salt.value" in sentence
