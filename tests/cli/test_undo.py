"""`logbook undo` and `redo`: one step back, one forward, and the list of both."""

from __future__ import annotations

from tests.cli.running import Cli


def test_undo_and_redo_go_back_and_forth(cli: Cli) -> None:
    before = cli.everything()
    cli.ok("wet", "reed: dive 18m 41min 15C rinsed on 2026-02-20")
    after = cli.everything()
    assert "Undone: log dive of 20 Feb 2026 for Reed green. `logbook redo` does it again." in cli.ok("undo")
    assert cli.everything() == before
    assert cli.ok("redo") == "Done again: log dive of 20 Feb 2026 for Reed green.\n"
    assert cli.everything() == after


def test_the_list_says_what_both_would_take_next(cli: Cli) -> None:
    cli.ok("wet", "reed: rain", "lido: pool 60min")
    cli.ok("wet", "reed: hands")
    cli.ok("undo")
    listed = cli.json("undo", "--list")
    assert listed["would_undo"][0]["label"] == "log 2 exposures"
    assert listed["would_undo"][0]["changes"] == {"exposure": 2}
    assert [step["label"] for step in listed["would_redo"]] == ["log hands of 15 Mar 2026 for Reed green"]
    said = cli.ok("undo", "--list")
    assert "Undo would take back, the first line first:" in said
    assert "log 2 exposures (2 exposures)" in said
    assert said.index("log 2 exposures") < said.index("add Lido chrono") < said.index("Redo would do again")


def test_a_list_that_stops_says_how_many_more_there_are(cli: Cli) -> None:
    for minutes in range(10, 70):
        cli.ok("wet", f"reed: pool {minutes}min")
    for _ in range(4):
        cli.ok("undo")
    said = cli.ok("undo", "--list").split("Redo would do again")
    assert said[0].count("log pool of") == 50
    assert said[0].rstrip().endswith("and 9 more")  # 56 exposures and 3 watches
    assert "more" not in said[1]
    listed = cli.json("undo", "--list")
    assert (len(listed["would_undo"]), listed["undo_count"]) == (50, 59)
    assert (len(listed["would_redo"]), listed["redo_count"]) == (4, 4)
    for _ in range(55):
        cli.ok("undo")
    said = cli.ok("undo", "--list").split("Redo would do again")
    assert said[1].rstrip().endswith("and 9 more")
    assert cli.json("undo", "--list")["redo_count"] == 59


def test_a_new_change_ends_what_could_be_done_again(cli: Cli) -> None:
    cli.ok("wet", "reed: rain")
    cli.ok("undo")
    cli.ok("wet", "reed: hands")
    assert "There is nothing to redo." in cli.refused("redo")
    assert cli.json("undo", "--list")["would_redo"] == []


def test_listing_changes_nothing(cli: Cli) -> None:
    before = cli.everything()
    cli.ok("undo", "--list")
    assert cli.everything() == before
