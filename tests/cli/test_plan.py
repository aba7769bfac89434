"""`logbook plan`."""

from __future__ import annotations

import pytest

from tests.cli.running import CAUTION_START, Cli


def test_a_plan_is_written_checked_and_not_charged(cli: Cli) -> None:
    before = cli.score("reed")
    document = cli.json(
        "plan", "reed", "dive 30m 40min sea 12C", "--from", "2026-04-01", "--to", "2026-04-05"
    )
    (entry,) = document["entries"]
    assert (entry["planned"], entry["starts_on"], entry["planned_to"]) == (True, "2026-04-01", "2026-04-05")
    assert entry["took"] == {}
    assert document["check"]["verdict"] == "no objection found"
    assert document["caution"].startswith(CAUTION_START)
    assert cli.score("reed") == before


def test_the_check_of_a_plan_is_of_its_own_day(cli: Cli) -> None:
    # The test passed on 10 June 2025 is over twelve months old by then.
    document = cli.json("plan", "reed", "dive", "30m", "40min", "on", "2026-07-01")
    assert [r["code"] for r in document["check"]["reasons"]] == ["test-overdue"]


def test_a_plan_is_answered_as_a_check_of_the_same_water(cli: Cli) -> None:
    line = ("reed", "dive 30m 40min sea 12C on 2026-04-01")
    asked = cli.json("check", *line)
    asked.pop("caution")
    assert cli.json("plan", *line)["check"] == asked


def test_words_may_be_parted_by_the_shell(cli: Cli) -> None:
    text = cli.ok("plan", "reed", "dive", "30m", "40min", "--from", "2026-04-01")
    assert "dive 30 m, 40 min" in text
    assert CAUTION_START in text


def test_plans_are_listed_of_one_watch_or_all(cli: Cli) -> None:
    cli.ok("plan", "reed", "dive 30m 40min", "--from", "2026-04-01")
    cli.ok("plan", "lido", "pool", "--from", "2026-03-20")
    assert [p["watch"] for p in cli.json("plan")["plans"]] == ["Lido chrono", "Reed green"]
    assert [p["watch"] for p in cli.json("plan", "reed")["plans"]] == ["Reed green"]
    assert "planned, not charged until it happened" in " ".join(cli.ok("plan", "lido").split())
    assert "Nothing is planned." in cli.ok("plan", "paper")


def test_a_plan_that_happened_is_charged_under_its_old_id(cli: Cli) -> None:
    plan_id = cli.json("plan", "reed", "dive 30m 40min", "--from", "2026-04-01")["entries"][0]["id"]
    cli.today = "2026-04-02"
    document = cli.json("plan", "--happened", str(plan_id))
    (entry,) = document["entries"]
    assert (entry["id"], entry["planned"], entry["starts_on"]) == (plan_id, False, "2026-04-01")
    assert entry["took"]["crown"]["total"] > 0
    assert cli.json("plan")["plans"] == []


def test_a_plan_may_have_happened_on_another_day(cli: Cli) -> None:
    plan_id = cli.json("plan", "reed", "dive 30m 40min", "--from", "2026-03-16")["entries"][0]["id"]
    document = cli.json("plan", "--happened", str(plan_id), "--from", "2026-03-14")
    assert document["entries"][0]["starts_on"] == "2026-03-14"


def test_of_a_trip_one_day_after_the_other_happened_and_the_rest_stays_planned(cli: Cli) -> None:
    words = ("plan", "reed", "dive 30m 40min sea", "--from", "14 jul", "--to", "16 jul")
    plan_id = str(cli.json(*words)["entries"][0]["id"])
    cli.today = "2026-07-14"
    document = cli.json("plan", "--happened", plan_id)
    (charged,), (rest,) = document["entries"], document["plans"]
    assert (charged["starts_on"], charged["planned"], charged["planned_to"]) == ("2026-07-14", False, None)
    assert charged["took"]["crown"]["total"] > 0
    assert (str(rest["id"]), rest["starts_on"], rest["planned_to"]) == (plan_id, "2026-07-15", "2026-07-16")
    assert rest["took"] == {}
    assert "lies in the future" in cli.refused("plan", "--happened", plan_id)
    cli.today = "2026-07-20"
    text = " ".join(cli.ok("plan", "--happened", plan_id).split())
    assert "15 Jul 2026, dive 30 m" in text
    assert f"{plan_id} Reed green: 16 Jul 2026, dive 30 m" in text
    assert "planned, not charged until it happened" in text
    cli.ok("undo")
    assert [p["starts_on"] for p in cli.json("plan")["plans"]] == ["2026-07-15"]
    cli.ok("redo")
    document = cli.json("plan", "--happened", plan_id)
    assert (str(document["entries"][0]["id"]), document["entries"][0]["planned"]) == (plan_id, False)
    assert "plans" not in document
    assert cli.json("plan")["plans"] == []
    kept = [e["starts_on"] for e in cli.everything()["exposures"] if e["starts_on"] >= "2026-07-01"]
    assert sorted(kept) == ["2026-07-14", "2026-07-15", "2026-07-16"]


@pytest.mark.parametrize(
    ("day", "left"),
    [("2026-04-03", ["2026-04-04"]), ("2026-04-04", []), ("2026-03-31", ["2026-04-02"])],
)
def test_of_a_trip_another_day_may_be_the_one_that_happened(cli: Cli, day: str, left: list[str]) -> None:
    words = ("plan", "reed", "dive 30m 40min", "--from", "2026-04-01", "--to", "2026-04-04")
    plan_id = cli.json(*words)["entries"][0]["id"]
    cli.today = "2026-04-10"
    document = cli.json("plan", "--happened", str(plan_id), "--from", day)
    assert document["entries"][0]["starts_on"] == day
    assert [p["starts_on"] for p in cli.json("plan")["plans"]] == left


def test_a_trip_that_has_begun_is_planned_by_its_days_without_a_year(cli: Cli) -> None:
    cli.today = "2026-07-14"
    for words in (
        ("dive 30m 40min", "--from", "12 jul", "--to", "20 jul"),
        ("dive 30m 40min on 12 to 20 jul",),
    ):
        entry = cli.json("plan", "reed", *words)["entries"][0]
        assert (entry["starts_on"], entry["planned_to"]) == ("2026-07-12", "2026-07-20")


def test_what_lies_ahead_cannot_have_happened(cli: Cli) -> None:
    plan_id = cli.json("plan", "reed", "dive 30m 40min", "--from", "2026-04-01")["entries"][0]["id"]
    assert "lies in the future" in cli.refused("plan", "--happened", str(plan_id))
    assert "is not a plan" in cli.refused(
        "plan", "--happened", str(cli.json("wet", "lido: pool")["entries"][0]["id"])
    )
    assert "There is no exposure 99" in cli.refused("plan", "--happened", "99")


def test_a_trip_that_ends_before_it_begins_is_refused(cli: Cli) -> None:
    words = ("plan", "reed", "dive 30m 40min", "--from", "2026-04-05", "--to", "2026-04-01")
    assert "runs backwards" in cli.refused(*words)
    assert "not understood" in cli.refused("plan", "reed", "dive 30m flurb")
    assert "stands alone" in cli.refused("plan", "reed", "--happened", "3")


@pytest.mark.parametrize(
    "words",
    [
        ("dive 30m 40min", "--from", "2026-03-14"),
        ("dive 30m 40min on 2026-03-14",),
        ("dive 30m 40min", "--from", "2026-03-01", "--to", "2026-03-14"),
    ],
)
def test_a_plan_that_is_past_is_refused(cli: Cli, words: tuple[str, ...]) -> None:
    said = " ".join(cli.refused("plan", "reed", *words).split())
    assert "A plan for 14 Mar 2026 is past: today is 15 Mar 2026" in said
    assert "say of a plan on record that it happened" in said


def test_a_plan_of_today_and_a_trip_under_way_are_plans(cli: Cli) -> None:
    cli.ok("plan", "reed", "dive 30m 40min")
    cli.ok("plan", "reed", "dive 30m 40min", "--from", "2026-03-13", "--to", "2026-03-15")
    assert len(cli.json("plan")["plans"]) == 2


def test_a_note_stays_a_note_when_days_come_from_options(cli: Cli) -> None:
    entry = cli.json("plan", "reed", "dive 30m 40min -- on the wreck", "--from", "2026-04-01")["entries"][0]
    assert (entry["note"], entry["starts_on"]) == ("on the wreck", "2026-04-01")


def test_a_plan_is_not_amended_into_the_past(cli: Cli) -> None:
    id_ = cli.ok("plan", "reed", "dive 20m 40min", "--from", "2026-04-03").split()[0]
    assert "A plan for 1 Mar 2026 is past" in cli.refused("amend", id_, "--on", "2026-03-01")


def test_the_option_of_before_still_works_and_is_not_shown(cli: Cli) -> None:
    plan_id = cli.json("plan", "reed", "dive 30m 40min")["entries"][0]["id"]
    assert "--happened" in cli.ok("plan", "--help")
    assert "--confirm" not in cli.ok("plan", "--help")
    assert cli.json("plan", "--confirm", str(plan_id))["entries"][0]["planned"] is False


def test_the_days_of_a_plan_may_stand_in_its_line_without_on(cli: Cli) -> None:
    entry = cli.json("plan", "reed", "dive 30m 40min 3 to 6 apr")["entries"][0]
    assert (entry["starts_on"], entry["planned_to"]) == ("2026-04-03", "2026-04-06")
    assert cli.json("plan", "lido", "pool", "sat")["entries"][0]["starts_on"] == "2026-03-21"


def test_a_plan_that_its_activity_hardly_has_is_a_question(cli: Cli) -> None:
    said = cli.refused("plan", "reed", "shower 10m")
    assert "'10m' reads as 10 metres deep, more than a shower's 0.5 m: write 10min for minutes" in said
    assert cli.json("plan", "reed", "swim 40m sure")["entries"][0]["depth_m"] == 40
