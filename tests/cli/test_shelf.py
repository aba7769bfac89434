"""`logbook shelf`."""

from __future__ import annotations

import csv
import io

from tests.cli.running import CAUTION_START, Cli

KEYS = {
    "name",
    "score",
    "low",
    "high",
    "limiting_seal",
    "mark",
    "marked_bar",
    "stops",
    "last_exposure",
    "next_due",
    "next_task",
}


def test_the_shelf_lists_every_watch_by_name(cli: Cli) -> None:
    document = cli.json("shelf")
    assert [w["name"] for w in document["watches"]] == ["Lido chrono", "Paper white", "Reed green"]
    assert all(set(w) >= KEYS for w in document["watches"])
    assert document["caution"].startswith(CAUTION_START)


def test_every_score_has_its_band(cli: Cli) -> None:
    every = cli.json("shelf")["watches"]
    watches = [w for w in every if w["score"] is not None]
    assert [(w["name"], w["low"], w["high"]) for w in every if w not in watches] == [
        ("Paper white", None, None)
    ]
    assert all(0 <= w["low"] <= w["score"] <= w["high"] <= 100 for w in watches)
    shown = cli.ok("shelf")
    assert "its 80 % band" in shown
    for watch in watches:
        assert f"{watch['score']} ({watch['low']}–{watch['high']})" in shown


def test_a_mark_is_given_by_kind_and_pressure(cli: Cli) -> None:
    marks = {w["name"]: (w["mark"], w["marked_bar"]) for w in cli.json("shelf")["watches"]}
    assert marks == {
        "Reed green": ("divers", 20.0),
        "Paper white": ("water-resistant", 3.0),
        "Lido chrono": ("water-resistant", 10.0),
    }


def test_the_last_water_is_a_date_or_null(wet_cli: Cli) -> None:
    last = {w["name"]: w["last_exposure"] for w in wet_cli.json("shelf")["watches"]}
    assert last == {"Reed green": "2026-02-21", "Paper white": None, "Lido chrono": None}


def test_what_is_due_next_is_a_date_with_its_task(cli: Cli) -> None:
    reed = next(w for w in cli.json("shelf")["watches"] if w["name"] == "Reed green")
    # Twelve months after the test passed on 10 June 2025: common practice for a watch that dives.
    assert (reed["next_due"], reed["next_task"]) == ("2026-06-10", "pressure-test")


def test_stop_rules_are_codes_in_json_and_sentences_in_text(cli: Cli) -> None:
    cli.ok("event", "paper", "battery", "--on", "2026-01-20")
    paper = next(w for w in cli.json("shelf")["watches"] if w["name"] == "Paper white")
    assert "opened-untested" in paper["stops"]
    assert "Paper white: think twice: opened on 20 Jan 2026 (battery)" in cli.ok("shelf")


def test_the_table_fits_80_columns_and_ends_with_the_caution(wet_cli: Cli) -> None:
    text = wet_cli.ok("shelf")
    assert max(len(line) for line in text.splitlines()) <= 80
    assert CAUTION_START in text
    assert text.rstrip().endswith("before you rely on it in water.")


def test_a_long_name_in_wide_letters_does_not_break_the_columns(cli: Cli) -> None:
    from rich.cells import cell_len

    cli.ok("watch", "add", "水" * 60)
    text = cli.ok("shelf")
    assert "水水" in text
    assert max(cell_len(line) for line in text.splitlines() if "水" in line and ":" not in line) <= 80


def test_a_group_is_asked_for_by_name_without_case(cli: Cli) -> None:
    assert [w["name"] for w in cli.json("shelf", "--group", "Desk")["watches"]] == ["Paper white"]
    assert cli.json("shelf", "--group", "travel")["watches"] == []


def test_a_group_without_a_watch_is_said_to_have_none(cli: Cli) -> None:
    assert "No watch on the shelf is of the group 'travel'." in cli.ok("shelf", "--group", "travel")


def test_an_empty_shelf_says_how_a_watch_gets_there(cli: Cli) -> None:
    for watch in cli.json("shelf")["watches"]:
        cli.ok("watch", "retire", watch["name"])
    assert "logbook watch add" in cli.ok("shelf")


def test_a_retired_watch_is_off_the_shelf(cli: Cli) -> None:
    cli.ok("watch", "retire", "paper")
    assert "Paper white" not in cli.ok("shelf")


def test_comma_separated_values_carry_the_caution_in_every_row(cli: Cli) -> None:
    rows = list(csv.DictReader(io.StringIO(cli.ok("shelf", "--csv"))))
    assert [row["name"] for row in rows] == ["Lido chrono", "Paper white", "Reed green"]
    assert all(row["caution"].startswith(CAUTION_START) for row in rows)
    assert rows[2]["marked_bar"] == "20.0"


def test_no_cell_begins_as_a_formula(cli: Cli) -> None:
    for name in ("=1+1", "+49", "-2", "@SUM"):
        cli.ok("watch", "add", name)
    cells = [row["name"] for row in csv.DictReader(io.StringIO(cli.ok("shelf", "--csv")))]
    assert {"'=1+1", "'+49", "'-2", "'@SUM"} <= set(cells)


def test_two_kinds_of_answer_at_once_are_refused(cli: Cli) -> None:
    answer = cli("shelf", "--csv", "--json")
    assert answer.code == 3
    assert answer.json["error"]["code"] == "usage"


def test_imperial_units_and_the_day_are_taken_after_the_command(cli: Cli) -> None:
    cli.today = "2027-03-15"
    reed = next(w for w in cli.json("shelf", "--units", "imperial")["watches"] if w["name"] == "Reed green")
    assert "test-overdue" in reed["stops"]
