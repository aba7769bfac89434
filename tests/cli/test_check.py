"""`logbook check`."""

from __future__ import annotations

import pytest

from tests.cli.running import CAUTION_START, Cli

DIVE = ("check", "Reed green", "--activity", "dive", "--depth", "30m", "--water", "sea", "--temp", "12C")


def test_the_keys_that_others_rely_on(cli: Cli) -> None:
    document = cli.json(*DIVE)
    assert set(document) >= {"verdict", "reasons", "context", "gauge_pa", "would_change", "caution"}
    assert document["verdict"] == "no objection found"
    assert document["reasons"] == []
    # EN 13319: 30 m · 1019.7 kg/m³ · 9.80665 m/s².
    assert document["gauge_pa"] == pytest.approx(299995, abs=1)
    assert document["caution"].startswith(CAUTION_START)


def test_a_line_and_options_come_to_the_same(cli: Cli) -> None:
    by_options = cli.json(*DIVE, "--minutes", "40", "--from", "30C", "--jump", "1m", "--on", "2026-03-20")
    by_line = cli.json("check", "reed", "dive 30m 40min sea 12C from 30C jump 1m on 2026-03-20")
    assert by_options == by_line
    assert cli.json("check", "reed", "dive", "30m", "40min", "sea", "12C") == cli.json(
        "check", "reed: dive 30m 40min sea 12C"
    )


def test_a_planned_dive_needs_no_minutes(cli: Cli) -> None:
    assert cli.json("check", "reed", "dive 30m -- with the club")["verdict"] == "no objection found"
    assert "How deep was it?" in cli("check", "reed", "dive").err


def test_every_reason_has_value_and_limit(cli: Cli) -> None:
    document = cli.json("check", "paper", "dive 40m")
    assert document["verdict"] == "keep it dry"
    reasons = {r["code"]: r for r in document["reasons"]}
    assert {"over-mark", "beyond-class"} <= set(reasons)
    assert (reasons["over-mark"]["value"], reasons["over-mark"]["limit"]) == ("4.01 bar", "3.00 bar")


def test_the_worst_reason_comes_first(cli: Cli) -> None:
    verdicts = [r["verdict"] for r in cli.json("check", "paper", "hot tub")["reasons"]]
    assert verdicts == sorted(verdicts, key=("keep it dry", "think twice").index)
    assert set(verdicts) == {"keep it dry", "think twice"}


def test_an_open_crown_keeps_it_dry(cli: Cli) -> None:
    document = cli.json(*DIVE, "--crown", "open")
    assert ([r["code"] for r in document["reasons"]], document["verdict"]) == (["not-closed"], "keep it dry")
    assert cli.json("check", "lido", "pool", "--pushers", "open")["reasons"][0]["code"] == "not-closed"
    assert "Did you mean" in cli.refused(*DIVE, "--crown", "opened")


def test_the_day_of_the_plan_counts(cli: Cli) -> None:
    assert cli.json(*DIVE, "--on", "2026-06-09")["reasons"] == []
    assert [r["code"] for r in cli.json(*DIVE, "--on", "2026-06-10")["reasons"]] == ["test-overdue"]
    assert cli.json("check", "reed", "dive 30m", "--on", "2026-06-10")["on"] == "2026-06-10"


def test_a_day_that_is_past_is_judged_as_of_today(cli: Cli) -> None:
    cli.today = "2026-06-20"  # ten days after the test fell due
    document = cli.json(*DIVE, "--on", "2026-06-01")
    assert [r["code"] for r in document["reasons"]] == ["test-overdue"]
    assert document["on"] == "2026-06-01"
    assert "that day is past: judged as of today, 20 Jun 2026" in document["context"]
    by_name = {w["name"]: w for w in cli.json("check", "--any", "dive 30m", "--on", "2026-06-01")["watches"]}
    assert "test-overdue" in [r["code"] for r in by_name["Reed green"]["reasons"]]


def test_a_retired_watch_is_not_judged_and_its_exit_code_is_that_of_dry(cli: Cli) -> None:
    cli.ok("watch", "retire", "reed", "--on", "2026-03-01")
    answer = cli(*DIVE, "--exit-code", "--json")
    assert (answer.code, answer.json["verdict"], answer.json["reasons"]) == (6, None, [])
    assert cli(*DIVE, "--exit-code").code == 6
    assert cli(*DIVE).code == 0


def test_a_retired_watch_is_said_to_be(cli: Cli) -> None:
    cli.ok("watch", "retire", "reed", "--on", "2026-03-01")
    assert "retired on 1 Mar 2026" in cli.json(*DIVE)["context"]
    assert "retired on 1 Mar 2026" in cli.ok(*DIVE)


def test_altitude_shows_in_the_absolute_pressure_alone(cli: Cli) -> None:
    low, high = cli.json(*DIVE), cli.json(*DIVE, "--altitude", "2000m")
    assert high["gauge_pa"] == low["gauge_pa"]
    # ISO 2533: 101 325 Pa at sea level, 79 501 Pa at 2000 m.
    assert low["absolute_pa"] - high["absolute_pa"] == pytest.approx(101325 - 79501, abs=1)
    assert "0.80 bar" in cli.ok(*DIVE, "--altitude", "2000m")


def test_brackish_water_and_its_salinity_are_taken(cli: Cli) -> None:
    words = ("check", "lido", "--activity", "swim", "--water")
    assert cli.json(*words, "brackish 12") == cli.json("check", "lido", "swim brackish 12")
    assert "How salty" in cli.refused(*words, "brackish")
    assert "twice" in cli.refused(*words, "brackish 12", "--salinity", "13")


def test_the_text_shows_verdict_reasons_context_and_what_would_change(cli: Cli) -> None:
    text = cli.ok("check", "lido", "dive 20m 40min 17C")
    assert "Lido chrono: dive 20 m, 40 min, sea 17 °C, on 15 Mar 2026" in text
    assert "KEEP IT DRY" in text
    assert "[beyond-class]" in text
    assert "for context" in text
    assert "depth gauge and timer" in text
    assert CAUTION_START in text
    assert max(len(line) for line in text.splitlines()) <= 80


def test_washing_hands_needs_no_word_about_dive_gear(cli: Cli) -> None:
    assert "depth gauge" not in cli.ok("check", "lido", "hands")


@pytest.mark.parametrize(
    ("plan", "said"),
    [("dive 20m", True), ("freedive 5m", True), ("swim 40m sure", True), ("snorkel 12m", True),
     ("swim", False), ("snorkel", False), ("boat", False)],
)  # fmt: skip
def test_the_word_about_gauge_and_timer_is_for_what_amounts_to_diving(
    cli: Cli, plan: str, said: bool
) -> None:
    """By its depth as much as by its name."""
    assert ("depth gauge and timer" in cli.ok("check", "reed", plan)) is said


def test_which_one_may_come_lists_every_watch_fewest_objections_first(cli: Cli) -> None:
    document = cli.json("check", "--any", "--activity", "pool")
    assert next((w["name"], w["verdict"]) for w in document["watches"]) == (
        "Lido chrono",
        "no objection found",
    )
    assert len(document["watches"]) == 3
    assert all({"reasons", "context", "gauge_pa", "would_change"} <= set(w) for w in document["watches"])
    assert document["caution"].startswith(CAUTION_START)
    text = cli.ok("check", "--any", "pool", "60min")
    assert text.index("Lido chrono") < text.index("Paper white")
    assert CAUTION_START in text


def test_an_answer_about_every_watch_of_an_empty_shelf(bare: Cli) -> None:
    bare.ok("settings", "--salinity", "38")
    assert bare.json("check", "--any", "pool")["watches"] == []
    assert "No watch is on the shelf." in bare.ok("check", "--any", "pool", "--exit-code")


@pytest.mark.parametrize(
    ("words", "code"),
    [
        (("reed", "dive 30m"), 0),
        (("lido", "shower"), 5),
        (("paper", "dive 30m"), 6),
        (("--any", "dive 30m"), 0),
        (("--any", "dive 190m sure"), 5),
        (("--any", "dive 250m sure"), 6),
    ],
)
def test_the_exit_code_is_the_verdict_where_it_is_asked_for(
    cli: Cli, words: tuple[str, ...], code: int
) -> None:
    assert cli("check", *words, "--exit-code").code == code
    assert cli("check", *words, "--exit-code", "--json").code == code
    assert cli("check", *words).code == 0


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        ((), "Which watch?"),
        (("reed",), "What is planned?"),
        (("--any",), "What is planned?"),
        (("reed", "dive 30m flurb"), "'flurb' is not understood"),
        (("reed", "dive 30m", "--depth", "20m"), "not both"),
        (("reed", "--activity", "dive"), "How deep was it?"),
        (("reed", "--activity", "dive", "--depth", "30"), "has no unit"),
        (("reed", "--activity", "dive", "--depth", ""), "is not a number"),
        (("reed", "--activity", "dive", "--depth", "500m"), "Did you mean 500 ft"),
        (("reed", "--activity", "dvie", "--depth", "20m"), "Did you mean dive?"),
        (("reed", "--activity", "dive", "--depth", "20m", "--temp", "285"), "has no unit"),
        (("reed", "--activity", "dive", "--depth", "20m", "--water", "wine"), "'wine' is no water"),
        (("reed", "--activity", "dive", "--depth", "20m", "--altitude", "9000m"), "out of range"),
        (("reed", "--activity", "dive", "--depth", "20m", "--on", "2026-13-01"), "not in the calendar"),
        (("nobody", "rain"), "There is no watch 'nobody'"),
    ],
)
def test_a_check_that_cannot_be_is_refused(cli: Cli, words: tuple[str, ...], expected: str) -> None:
    assert expected in cli.refused("check", *words)


def test_a_check_writes_nothing(cli: Cli) -> None:
    before = cli.file.read_bytes()
    cli.ok(*DIVE)
    assert cli.file.read_bytes() == before


def test_the_sentences_are_in_the_units_asked_for_and_the_document_stays_metric(cli: Cli) -> None:
    """30 m = 98.4 ft; EN 13319: 299,995 Pa = 43.5 psi; 12 °C = 53.6 °F, 20 K = 36 °F."""
    text = " ".join(cli.ok(*DIVE, "--units", "imperial").split())
    assert "43.5 psi at 98 ft + arm" in text
    assert "swing 89.6 → 53.6 °F is 36 °F of the 63 °F" in text
    assert cli.json(*DIVE, "--units", "imperial") == cli.json(*DIVE)


def test_a_limit_without_a_number_is_left_to_the_sentence(cli: Cli) -> None:
    text = cli.ok(*DIVE, "--crown", "open")
    assert "crown open or unlocked" in text
    assert "limit" not in text


@pytest.mark.parametrize(
    ("options", "where", "question"),
    [
        (("--activity", "shower", "--depth", "10m"), "--depth", "10 m deep is more than a shower's 0.5 m"),
        (("--activity", "shower", "--minutes", "90"), "--minutes", "90 min is longer than a shower's 60 min"),
        (("--activity", "dive", "--depth", "120m"), "--depth", "120 m deep is more than a dive's 100 m"),
    ],
)
def test_options_that_the_activity_hardly_has_are_a_question(
    cli: Cli, options: tuple[str, ...], where: str, question: str
) -> None:
    said = cli("check", "reed", *options, "--json").json["error"]
    assert said["where"] == where
    assert said["message"] == f"{question}: is that right? If so, say it as a line that ends in 'sure'."


def test_a_crown_said_to_be_open_in_the_line_is_judged_as_open(cli: Cli) -> None:
    in_line = cli.json("check", "reed", "dive 30m 40min crown open")
    as_option = cli.json("check", "reed", "dive 30m 40min", "--crown", "open")
    assert "not-closed" in [r["code"] for r in in_line["reasons"]]
    assert in_line == as_option


@pytest.mark.parametrize("minutes", ["90", "90min", "1h30", "1h 30m", "1:30"])
def test_a_length_of_time_is_an_option_in_any_of_its_ways(cli: Cli, minutes: str) -> None:
    options = ("check", "reed", "--activity", "dive", "--depth", "30m", "--minutes", minutes)
    assert "dive 30 m, 90 min" in " ".join(cli.ok(*options).split())
