"""`logbook chance`, and the chance where scores and verdicts are printed."""

from __future__ import annotations

from logbook.caution import TESTS_SAY_LITTLE
from tests.cli.running import CAUTION_START, Cli


def test_the_keys_that_others_rely_on(wet_cli: Cli) -> None:
    document = wet_cli.json("chance", "reed")
    assert 0 < document["low"] <= document["chance"] <= document["high"] <= 1
    assert document["tests_used"] == 3  # one of them of another watch
    assert document["findings_used"] == 0
    assert document["prior_only"] is False
    assert document["basis"] == "after 3 tests of yours"
    assert document["to_bar"] == 10
    assert document["why_not"] is None
    assert document["caution"].startswith(CAUTION_START)


def test_in_words_it_says_what_stands_behind_it(wet_cli: Cli) -> None:
    shown = wet_cli.ok("chance", "reed")
    assert "after 3 tests of yours" in " ".join(shown.split())
    assert "would pass a pressure test to 10 bar today" in " ".join(shown.split())
    assert " ".join(shown.split()).count(TESTS_SAY_LITTLE) == 1
    assert CAUTION_START in shown


def test_without_any_test_it_says_that_it_is_common_practice_alone(bare: Cli) -> None:
    bare.ok(
        "watch", "add", "Paper white", "--mark", "water-resistant", "--bar", "3", "--new-on", "2026-01-01"
    )
    document = bare.json("chance", "paper")
    assert (document["tests_used"], document["prior_only"]) == (0, True)
    assert "from common practice alone" in bare.ok("chance", "paper")


def test_while_a_fault_stands_there_is_no_chance(wet_cli: Cli) -> None:
    wet_cli.ok("event", "reed", "fog", "--on", "2026-03-10")
    document = wet_cli.json("chance", "reed")
    assert (document["chance"], document["low"], document["high"]) == (None, None, None)
    assert document["why_not"] == "while something stands: water-inside"
    assert "no chance while something stands: water-inside" in wet_cli.ok("chance", "reed")


def test_a_failed_test_on_one_watch_lowers_the_chance_of_another(wet_cli: Cli) -> None:
    before = wet_cli.json("chance", "reed")["chance"]
    wet_cli.ok(
        "event", "paper", "pressure-test", "--failed", "--bar", "3", "--medium", "air", "--on", "2026-03-10"
    )
    assert wet_cli.json("chance", "reed")["chance"] < before


def test_score_and_check_show_it(wet_cli: Cli) -> None:
    assert "Would pass a pressure test to 10 bar today" in wet_cli.ok("score", "reed")
    assert "would pass a pressure test to 10 bar on that day" in wet_cli.ok(
        "check", "reed", "dive 20m 40min sea 15C"
    )


def test_wherever_a_chance_is_told_it_is_said_once_how_little_a_test_says(wet_cli: Cli) -> None:
    for words in (("chance", "reed"), ("score", "reed"), ("check", "reed", "dive 20m 40min sea 15C")):
        assert " ".join(wet_cli.ok(*words).split()).count(TESTS_SAY_LITTLE) == 1, words


def test_a_dive_logged_late_moves_the_wear_share_at_a_test(wet_cli: Cli) -> None:
    before = wet_cli.json("chance", "reed")
    wet_cli.ok("wet", "reed: dive 30m 60min sea 10C not rinsed on 2025-06-01")
    assert wet_cli.json("chance", "reed")["chance"] != before["chance"]


def test_it_can_be_asked_to_another_pressure(wet_cli: Cli) -> None:
    own, lower = wet_cli.json("chance", "reed"), wet_cli.json("chance", "reed", "--to", "3")
    assert lower["to_bar"] == 3
    assert lower["chance"] >= own["chance"]
    assert wet_cli.json("chance", "reed", "--to", "20 bar")["chance"] == own["chance"]
    assert "test to 3 bar today" in " ".join(wet_cli.ok("chance", "reed", "--to", "3 bar").split())


def test_a_pressure_that_cannot_be_is_refused(wet_cli: Cli) -> None:
    assert "--to" in wet_cli.refused("chance", "reed", "--to", "0")
    assert "'deep' is not a number" in wet_cli.refused("chance", "reed", "--to", "deep")


def test_the_name_that_it_had_before_still_answers(wet_cli: Cli) -> None:
    assert wet_cli.json("outlook", "reed") == wet_cli.json("chance", "reed")
    assert "outlook" not in wet_cli.ok("--help")
