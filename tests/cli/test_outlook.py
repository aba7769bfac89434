"""`logbook outlook`, and the outlook where scores and verdicts are printed."""

from __future__ import annotations

from tests.cli.running import CAUTION_START, Cli


def test_the_keys_that_others_rely_on(wet_cli: Cli) -> None:
    document = wet_cli.json("outlook", "reed")
    assert 0 < document["low"] <= document["chance"] <= document["high"] <= 1
    assert document["tests_used"] == 3  # one of them of another watch
    assert document["prior_only"] is False
    assert document["caution"].startswith(CAUTION_START)


def test_in_words_it_says_what_stands_behind_it(wet_cli: Cli) -> None:
    shown = wet_cli.ok("outlook", "reed")
    assert "3 tests of all your watches" in " ".join(shown.split())
    assert "the crown" in shown or "(crown" in shown
    assert "not a promise" in shown
    assert CAUTION_START in shown


def test_without_any_test_it_says_prior_only(bare: Cli) -> None:
    bare.ok(
        "watch", "add", "Paper white", "--mark", "water-resistant", "--bar", "3", "--fitted", "2026-01-01"
    )
    document = bare.json("outlook", "paper")
    assert (document["tests_used"], document["prior_only"]) == (0, True)
    assert "prior only, 0 tests" in bare.ok("outlook", "paper")


def test_while_a_fault_stands_there_is_no_chance(wet_cli: Cli) -> None:
    wet_cli.ok("event", "reed", "fog", "--on", "2026-03-10")
    document = wet_cli.json("outlook", "reed")
    assert (document["chance"], document["low"], document["high"]) == (None, None, None)
    assert "no outlook while a failure or a fault stands" in wet_cli.ok("outlook", "reed")


def test_a_failed_test_on_one_watch_lowers_the_outlook_of_another(wet_cli: Cli) -> None:
    before = wet_cli.json("outlook", "reed")["chance"]
    wet_cli.ok(
        "event", "paper", "pressure-test", "--failed", "--bar", "3", "--medium", "air", "--on", "2026-03-10"
    )
    assert wet_cli.json("outlook", "reed")["chance"] < before


def test_score_and_check_show_it(wet_cli: Cli) -> None:
    assert "Would pass a pressure test today" in wet_cli.ok("score", "reed")
    assert "would pass a pressure test on that day" in wet_cli.ok("check", "reed", "dive 20m 40min sea 15C")


def test_a_dive_logged_late_moves_the_wear_share_at_a_test(wet_cli: Cli) -> None:
    before = wet_cli.json("outlook", "reed")
    wet_cli.ok("wet", "reed: dive 30m 60min sea 10C not rinsed on 2025-06-01")
    assert wet_cli.json("outlook", "reed")["chance"] != before["chance"]
