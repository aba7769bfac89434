"""`logbook habit`, `worn`, `nothing-else`."""

from __future__ import annotations

import pytest

from tests.cli.running import CAUTION_START, Cli


def test_a_habit_counts_its_times_a_day(cli: Cli) -> None:
    document = cli.json("habit", "lido", "shower 8min", "--per", "day", "2", "--from", "2026-01-01")
    (entry,) = document["entries"]
    assert (entry["per_day"], entry["from_on"], entry["to_on"]) == (2.0, "2026-01-01", None)
    assert entry["exposure"]["duration_s"] == 480
    assert cli.everything()["habits"][0]["id"] == entry["id"]


def test_a_habit_may_be_counted_by_the_week(cli: Cli) -> None:
    text = cli.ok(
        "habit", "lido", "pool", "45min", "--per", "week", "3", "--from", "2026-01-01", "--to", "2026-12-31"
    )
    assert "3 a week from 1 Jan 2026 to 31 Dec 2026" in " ".join(text.split())
    assert cli.everything()["habits"][0]["per_day"] == pytest.approx(3 / 7, abs=1e-4)


def test_a_habit_wears_the_seals_from_its_first_day(cli: Cli) -> None:
    before = cli.score("lido")["seals"][0]["channels"]["chemicals"]
    cli.ok("habit", "lido", "shower", "--per", "day", "1", "--from", "2026-01-01")
    assert cli.score("lido")["seals"][0]["channels"]["chemicals"] > before


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        (("shower", "--per", "day", "0"), "above 0"),
        (("shower", "--per", "day", "99"), "out of range"),
        (("shower", "--per", "month", "1"), "'month' is no span of time"),
        (("shower", "--per", "day", "1", "--from", "2026-03-16"), "lies in the future"),
        (("shower", "--per", "day", "1", "--from", "2024-04-30"), "first date, 2024-05-01"),
        (("shower", "--per", "day", "1", "--from", "2026-03-01", "--to", "2026-02-01"), "before it begins"),
        (("shower flurb", "--per", "day", "1"), "'flurb' is not understood"),
        (("shower",), "Missing option '--per'"),
    ],
)
def test_a_habit_that_cannot_be_is_refused(cli: Cli, words: tuple[str, ...], expected: str) -> None:
    assert expected in cli.refused("habit", "lido", *words)


def test_a_worn_stretch_has_days_and_hours(cli: Cli) -> None:
    document = cli.json("worn", "reed", "--from", "2026-01-01", "--to", "2026-01-10", "--hours", "14")
    (entry,) = document["entries"]
    assert (entry["from_on"], entry["to_on"], entry["hours_per_day"]) == ("2026-01-01", "2026-01-10", 14.0)
    assert "worn 14 h a day" in cli.ok(
        "worn", "reed", "--from", "2026-02-01", "--to", "2026-02-02", "--hours", "14h"
    )


@pytest.mark.parametrize(
    ("since", "until", "hours", "expected"),
    [
        ("2026-01-01", "2026-01-10", "25", "a day has no more"),
        ("2026-01-01", "2026-01-10", "-1", "out of range"),
        ("2026-01-10", "2026-01-01", "9", "before it begins"),
        ("2026-01-10", "2026-03-16", "9", "lies in the future"),
        ("2026-01-10", "2026-01-10", "lots", "is not a number"),
    ],
)
def test_a_worn_stretch_that_cannot_be_is_refused(
    cli: Cli, since: str, until: str, hours: str, expected: str
) -> None:
    assert expected in cli.refused("worn", "reed", "--from", since, "--to", until, "--hours", hours)


@pytest.mark.parametrize(
    "words",
    [
        ("reed", "--from", "2026-01-01"),
        ("reed", "--hours", "9", "--on", "2026-01-01"),
        ("reed", "lido", "--from", "2026-01-01", "--to", "2026-01-02", "--hours", "9"),
    ],
)
def test_half_a_worn_stretch_is_refused(cli: Cli, words: tuple[str, ...]) -> None:
    before = cli.everything()
    assert "is of one watch and takes --from, --to and --hours" in cli.refused("worn", *words)
    assert cli.everything() == before


def test_twelve_hours_are_shared_out_between_the_watches_of_a_day(cli: Cli) -> None:
    entries = cli.json("worn", "reed", "lido", "paper", "--on", "2026-03-14")["entries"]
    assert {e["watch"] for e in entries} == {"Reed green", "Lido chrono", "Paper white"}
    assert {e["hours_per_day"] for e in entries} == {4.0}
    assert {(e["from_on"], e["to_on"]) for e in entries} == {("2026-03-14", "2026-03-14")}


def test_a_watch_worn_later_that_day_shares_its_hours(cli: Cli) -> None:
    cli.ok("worn", "reed", "lido")
    entries = cli.json("worn", "paper")["entries"]
    assert {e["watch"]: e["hours_per_day"] for e in entries} == {
        "Paper white": 4.0, "Reed green": 4.0, "Lido chrono": 4.0
    }  # fmt: skip
    assert "Already on record as worn today: Reed green. Nothing was added." in cli.refused("worn", "reed")
    cli.ok("undo")
    assert {e["hours_per_day"] for e in cli.everything()["worn"]} == {6.0}


def test_hours_that_were_given_for_a_day_are_not_shared(cli: Cli) -> None:
    cli.ok("worn", "reed", "--from", "2026-03-15", "--to", "2026-03-15", "--hours", "5")
    assert [e["hours_per_day"] for e in cli.json("worn", "lido")["entries"]] == [12.0]


def test_a_watch_named_twice_is_worn_once(cli: Cli) -> None:
    assert [e["hours_per_day"] for e in cli.json("worn", "reed", "Reed green")["entries"]] == [12.0]


def test_a_day_ahead_cannot_have_been_worn(cli: Cli) -> None:
    assert "lies in the future" in cli.refused("worn", "reed", "--on", "2026-03-16")
    assert "There is no watch 'zebra'" in cli.refused("worn", "zebra")


# ---------------------------------------------------------------- nothing else happened


def test_nothing_else_without_a_name_is_of_every_watch(cli: Cli) -> None:
    assert cli.json("nothing-else")["confirmed"] == ["Lido chrono", "Paper white", "Reed green"]
    assert {w["confirmed_on"] for w in cli.everything()["watches"]} == {"2026-03-15"}


def test_a_record_of_which_nothing_else_happened_is_not_silent(cli: Cli) -> None:
    cli.today = "2026-12-15"
    assert "record-silent" in [s["code"] for s in cli.score("lido")["stops"]]
    assert "Nothing else happened to Lido chrono up to 15 Dec 2026." in cli.ok("nothing-else", "lido")
    assert "record-silent" not in [s["code"] for s in cli.score("lido")["stops"]]
    assert "record-silent" in [s["code"] for s in cli.score("reed")["stops"]]


def test_the_name_of_before_still_works_and_is_not_shown(cli: Cli) -> None:
    assert "nothing-else" in cli.ok("--help")
    assert "confirm " not in cli.ok("--help")
    assert cli.json("confirm", "lido")["confirmed"] == ["Lido chrono"]


@pytest.fixture
def past(cli: Cli) -> Cli:
    """A dive and a trip of three days that were planned for Reed green, and are past."""
    cli.ok("plan", "reed", "dive 30m 40min", "--from", "2026-04-01")
    cli.ok("plan", "reed", "dive 20m 40min", "--from", "2026-04-03", "--to", "2026-04-05")
    cli.today = "2026-04-10"
    return cli


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> None:
    """Somebody is there to be asked."""
    monkeypatch.setattr("logbook.cli.asking.can_ask", lambda asked: not asked.as_json)


@pytest.mark.parametrize("words", [("nothing-else",), ("confirm",), ("nothing-else", "reed")])
def test_with_an_open_past_plan_it_is_refused_where_nobody_can_be_asked(
    past: Cli, words: tuple[str, ...]
) -> None:
    plan_id = past.json("plan")["plans"][0]["id"]
    said = " ".join(past.refused(*words).split())
    assert said == (
        f"Plan {plan_id} of Reed green, for 1 Apr 2026, is past and open, as 1 more: say `logbook plan "
        f"--happened {plan_id}` if it happened, `logbook strike {plan_id}` if not."
    )
    assert past.json("nothing-else", "lido")["confirmed"] == ["Lido chrono"]  # its own plans alone count


@pytest.mark.usefixtures("asked")
@pytest.mark.parametrize(
    ("answers", "happened"),
    [
        ("y\ny\ny\nn\ny\n", ["2026-04-01", "2026-04-03", "2026-04-05"]),
        ("n\ny\nn\ny\nn\n", ["2026-04-04"]),
        ("no\nyes\ny\ny\ny\n", ["2026-04-03", "2026-04-04", "2026-04-05"]),
        ("maybe\nY\nn\n", ["2026-04-01"]),
        ("n\nn\n", []),
        ("n\ny\nn\nn\nn\n", []),
    ],
)
def test_past_plans_are_asked_about_first_day_by_day(past: Cli, answers: str, happened: list[str]) -> None:
    answer = past("nothing-else", "reed", stdin=answers)
    assert answer.code == 0
    asked = " ".join(answer.err.split())
    assert "of Reed green, 1 Apr 2026, dive 30 m, 40 min, sea 15 °C, not rinsed, happen? [y/n]" in asked
    assert "of Reed green, 3 to 5 Apr 2026, dive 20 m" in asked
    assert "happen on any of its 3 days? [y/n]" in asked
    assert "Nothing else happened to Reed green up to 10 Apr 2026." in " ".join(answer.out.split())
    kept = past.everything()
    since_april = [e for e in kept["exposures"] if e["starts_on"] >= "2026-04-01"]
    assert [e["starts_on"] for e in since_april] == happened
    assert not any(e["planned"] for e in since_april)
    assert {w["name"]: w["confirmed_on"] for w in kept["watches"]}["Reed green"] == "2026-04-10"


@pytest.mark.usefixtures("asked")
def test_nothing_is_written_when_the_answers_end_too_early(past: Cli) -> None:
    before = past.everything()
    answer = past("nothing-else", "reed", stdin="y\ny\n")
    assert (answer.code, answer.out) == (130, "")
    assert past.everything() == before


@pytest.mark.usefixtures("asked")
def test_a_plan_of_today_and_a_trip_under_way_are_not_asked_about(cli: Cli) -> None:
    cli.ok("plan", "reed", "dive 30m 40min")
    cli.ok("plan", "reed", "dive 30m 40min", "--from", "2026-03-14", "--to", "2026-03-16")
    assert "[y/n]" not in cli.ok("nothing-else")


def test_a_habit_above_the_mark_or_with_the_crown_under_water_is_said_at_once(cli: Cli) -> None:
    said = cli.ok("habit", "reed", "dive 230m 20min sure", "--per", "week", "1", "--from", "2026-01-01")
    assert "keep it dry: the habit of dive to 230 m from 1 Jan 2026 went above its mark" in " ".join(
        said.split()
    )
    assert CAUTION_START in said
    words = ("lido", "pool 45min crown under", "--per", "week", "1", "--from", "2026-01-01")
    (entry,) = cli.json("habit", *words)["entries"]
    (meant,) = entry["meaning"]
    assert meant.startswith("keep it dry: the habit of swim in the pool")
    assert "had its crown used under water" in meant


def test_a_habit_within_mark_and_tests_says_nothing_more_and_one_that_is_amended_beyond_does(
    cli: Cli,
) -> None:
    words = ("habit", "reed", "dive 18m 20min", "--per", "week", "1", "--from", "2026-01-01")
    (entry,) = cli.json(*words)["entries"]
    assert entry["meaning"] == []
    said = " ".join(cli.ok("amend", str(entry["id"]), "crown under").split())
    assert "keep it dry: the habit of dive to 18 m from 1 Jan 2026 had its crown used under water" in said
