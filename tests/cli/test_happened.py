"""`logbook score --since`: what had the largest part of the wear, asked for or while trouble stands."""

from __future__ import annotations

import pytest

from tests.cli.running import CAUTION_START, Cli

NOT_PROOF = "This is bookkeeping, it does not say what caused it."


def test_it_is_there_only_when_asked_for_while_nothing_stands(wet_cli: Cli) -> None:
    assert "since" not in wet_cli.score("reed")
    assert "What happened" not in wet_cli.ok("score", "reed")
    assert "since" in wet_cli.json("score", "reed", "--since", "2026-02-01")


def test_the_keys_that_others_rely_on(wet_cli: Cli) -> None:
    document = wet_cli.json("score", "reed", "--since", "2026-02-01")
    since = document["since"]
    assert (since["from"], since["to"], since["seal"]) == ("2026-02-01", "2026-03-15", "crown")
    assert sum(since["channels"].values()) == pytest.approx(since["wear_share"])
    assert since["note"] == NOT_PROOF
    assert [set(each) for each in since["hardest"]] == [{"id", "date", "words", "share"}] * 2
    shares = [each["share"] for each in since["hardest"]]
    assert shares == sorted(shares, reverse=True)
    assert document["caution"].startswith(CAUTION_START)


def test_what_an_exposure_took_is_what_the_log_says_it_took(wet_cli: Cli) -> None:
    since = wet_cli.json("score", "reed", "--since", "2026-02-01")["since"]
    took = {e["id"]: e["took"] for e in wet_cli.json("log", "reed")["entries"] if "took" in e}
    for each in since["hardest"]:
        assert each["share"] == pytest.approx(took[each["id"]]["crown"]["total"])


def test_since_the_fitting_it_is_the_whole_account(wet_cli: Cli) -> None:
    document = wet_cli.json("score", "reed", "--since", "2025-02-01")
    crown = next(seal for seal in document["seals"] if seal["position"] == "crown")
    assert document["since"]["channels"] == pytest.approx(crown["channels"])


def test_a_fault_tells_it_unasked_from_the_last_pass_to_the_fault(cli: Cli) -> None:
    cli.ok("wet", "reed: dive 18m 41min sea 15C on 2026-02-20", "reed: swim 30min on 2026-03-10")
    cli.ok("event", "reed", "fog", "--on", "2026-03-01")
    since = cli.score("reed")["since"]
    assert (since["from"], since["from_kind"], since["to"]) == ("2025-06-10", "passed test", "2026-03-01")
    assert since["trouble"] == "fog"
    assert [each["date"] for each in since["hardest"]] == ["2026-02-20"]
    text = " ".join(cli.ok("score", "reed").split())
    assert "crown seal from 10 Jun 2025 (last passed pressure test) to 1 Mar 2026 (fog was seen)" in text
    assert "had the largest part of the wear since the last passed pressure test" in text
    assert NOT_PROOF in text


def test_a_failed_test_tells_it_and_a_pass_ends_it(wet_cli: Cli) -> None:
    wet_cli.ok("event", "reed", "pressure-test", "--failed", "--bar-unknown", "--on", "2026-03-10")
    assert wet_cli.score("reed")["since"]["from"] == "2026-03-01"
    wet_cli.ok("event", "reed", "opened", "--on", "2026-03-11")
    wet_cli.ok(
        "event", "reed", "pressure-test", "--passed", "--bar", "20", "--medium", "air", "--on", "2026-03-12"
    )
    assert "since" not in wet_cli.score("reed")


def test_a_failed_test_that_passes_with_nothing_opened_tells_it_until_the_second_pass(wet_cli: Cli) -> None:
    wet_cli.ok(*TEST, "--failed", "--on", "2026-03-10")
    wet_cli.ok(*TEST, "--passed", "--on", "2026-03-12")
    assert "since" in wet_cli.score("reed")
    wet_cli.ok(*TEST, "--passed", "--on", "2026-03-13")
    assert "since" not in wet_cli.score("reed")


TEST = ("event", "reed", "pressure-test", "--bar", "20", "--medium", "air")


def test_the_last_pass_may_be_asked_for_by_its_word(wet_cli: Cli) -> None:
    since = wet_cli.json("score", "reed", "--since", "pass")["since"]
    assert (since["from"], since["from_kind"], since["trouble"]) == ("2026-03-01", "passed test", None)


def test_without_a_pass_it_begins_at_the_fitting(cli: Cli) -> None:
    since = cli.json("score", "paper", "--since", "pass")["since"]
    assert since["from_kind"] == "fitting"
    assert since["assumed"] > 0
    assert "assumed before the log began" in " ".join(cli.ok("score", "paper", "--since", "pass").split())


def test_a_time_without_water_says_so(cli: Cli) -> None:
    assert "No exposure on record in this time added to it." in cli.ok("score", "reed", "--since", "today")


@pytest.mark.parametrize(
    ("day", "said"),
    [
        ("2026-03-16", "--since 2026-03-16 is ahead: today is 2026-03-15."),
        ("2026-13-01", "is not in the calendar"),
        ("01/02/2026", "can be read day first or month first"),
        ("whenever", "is not a date"),
        ("", "is not a date"),
    ],
)
def test_a_day_that_cannot_be_is_refused(cli: Cli, day: str, said: str) -> None:
    assert said in cli.refused("score", "reed", "--since", day)


def test_the_text_fits_eighty_columns_and_ends_with_the_caution(wet_cli: Cli) -> None:
    text = wet_cli.ok("score", "reed", "--since", "2026-02-01")
    assert max(len(line) for line in text.splitlines()) <= 80
    assert text.index(NOT_PROOF) < text.index(CAUTION_START)
