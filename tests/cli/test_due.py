"""`logbook due`, `done`, `snooze`."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest

from tests.cli.running import CAUTION_START, Cli

KEYS = {"id", "watch", "task", "due", "earliest", "latest", "stage", "anchor", "interval_months"}


@pytest.fixture
def one(bare: Cli) -> Cli:
    """A watch whose first due date is its pressure test, on 10 June 2026."""
    bare.ok(
        "watch",
        "add",
        "Lone",
        "--bar",
        "10",
        "--use",
        "swimming",
        "--fitted",
        "2025-06-01",
        "--tested",
        "2025-06-10",
        "--tested-bar",
        "10",
        "--recorded-from",
        "2025-06-01",
    )
    return bare


@pytest.mark.parametrize(
    ("today", "code", "stage"),
    [
        ("2026-05-10", 0, None),
        ("2026-05-11", 1, "coming up"),
        ("2026-06-09", 1, "coming up"),
        ("2026-06-10", 2, "due"),
        ("2026-06-23", 2, "due"),
        ("2026-06-24", 2, "overdue"),
    ],
)
def test_the_exit_code_tells_how_near_the_nearest_is(
    one: Cli, today: str, code: int, stage: str | None
) -> None:
    # Twelve months: common practice. Coming up 30 days before, overdue 14 days after: our own stages.
    one.today = today
    answer = one("due", "--json")
    assert answer.code == one("due").code == code
    assert [item["stage"] for item in answer.json["items"]] == ([stage] if stage else [])


def test_the_keys_that_others_rely_on(one: Cli) -> None:
    one.today = "2026-06-10"
    document = one("due", "--json").json
    (item,) = document["items"]
    assert set(item) >= KEYS
    assert (item["watch"], item["task"], item["due"], item["anchor"], item["interval_months"]) == (
        "Lone",
        "pressure-test",
        "2026-06-10",
        "2025-06-10",
        12,
    )
    assert (item["earliest"], item["latest"]) == ("2026-03-10", "2026-06-10")
    assert document["caution"].startswith(CAUTION_START)


def test_the_text_names_stage_day_task_and_id(one: Cli) -> None:
    one.today = "2026-06-10"
    text = one("due").out
    assert "due        10 Jun 2026  Lone: pressure test" in text
    assert one("due", "--json").json["items"][0]["id"] in text
    assert CAUTION_START in text
    assert max(len(line) for line in text.splitlines()) <= 80


def test_nothing_due_is_said_with_the_caution(one: Cli) -> None:
    text = one.ok("due")
    assert "Nothing is due or coming up." in text
    assert CAUTION_START in text


def test_a_watch_opened_since_its_test_is_due_at_once(one: Cli) -> None:
    one.ok("event", "Lone", "battery", "--on", "2026-03-01")
    item = one("due", "--json").json["items"][0]
    assert (item["task"], item["due"], item["anchor"]) == ("pressure-test", "2026-03-01", "2026-03-01")


def test_a_test_that_is_done_asks_for_result_and_pressure(one: Cli) -> None:
    one.today = "2026-06-20"
    item = one("due", "--json").json["items"][0]["id"]
    assert "needs its result" in one.refused("done", item)
    assert "To what pressure" in one.refused("done", item, "--passed")
    (entry,) = one.json(
        "done", item, "--passed", "--bar", "10", "--on", "2026-06-18", "--workshop", "in town"
    )["entries"]
    assert (entry["kind"], entry["on"], entry["passed"], entry["test_pa"], entry["workshop"]) == (
        "pressure-test",
        "2026-06-18",
        True,
        10e5,
        "in town",
    )
    assert one("due").code == 0


def test_a_failed_test_stays_due(one: Cli) -> None:
    one.today = "2026-06-20"
    one.ok("done", one("due", "--json").json["items"][0]["id"], "--failed", "--bar", "10")
    answer = one("due", "--json")
    assert (answer.code, answer.json["items"][0]["anchor"]) == (2, "2026-06-20")


def test_gaskets_that_are_done_are_new_gaskets_of_that_seal(cli: Cli) -> None:
    items = [
        i
        for i in cli("due", "--json").json["items"]
        if i["watch"] == "Paper white" and i["task"] == "gaskets"
    ]
    crown = next(i for i in items if i["seal"] == "crown")
    (entry,) = cli.json("done", crown["id"])["entries"]
    assert (entry["kind"], entry["seals"]) == ("gaskets", [{"position": "crown", "material": "NBR"}])
    fitted = {s["position"]: s["fitted"] for s in cli.score("paper")["seals"]}
    assert fitted["crown"] == "2026-03-15"
    assert fitted["crystal"] == "2019-03-15..2026-03-15"
    left = [
        i["seal"]
        for i in cli("due", "--json").json["items"]
        if i["watch"] == "Paper white" and i["task"] == "gaskets"
    ]
    assert sorted(left) == ["case-back", "crystal"]


def test_several_items_are_done_in_one_step(cli: Cli) -> None:
    before = cli.everything()
    ids = [
        i["id"]
        for i in cli("due", "--json").json["items"]
        if i["watch"] == "Paper white" and i["task"] == "gaskets"
    ]
    assert len(cli.json("done", *ids, "--on", "2026-03-10")["entries"]) == 3
    cli.ok("undo")
    assert cli.everything() == before


def test_the_beginning_of_an_id_is_enough_while_it_is_one_item(cli: Cli) -> None:
    crown = next(i["id"] for i in cli("due", "--json").json["items"] if i["seal"] == "crown")
    assert "begins more than one" in cli.refused("done", crown.split(":")[0])
    assert "gaskets replaced, crown (NBR)" in cli.ok("done", crown[:-4])


def test_what_is_not_due_cannot_be_done(cli: Cli) -> None:
    assert "There is no due item '9:oiling'" in cli.refused("done", "9:oiling")
    battery = next(i["id"] for i in cli("due", "--json").json["items"] if i["task"] == "gaskets")
    assert "belong to a pressure test" in cli.refused("done", battery, "--passed")
    assert "lies in the future" in cli.refused("done", battery, "--on", "2026-03-16")


def test_a_snoozed_item_is_silent_until_its_day_and_shown(one: Cli) -> None:
    one.today = "2026-06-20"
    item = one("due", "--json").json["items"][0]["id"]
    document = one.json("snooze", item, "--until", "2026-07-01")
    assert (document["snoozed_until"], document["due"]) == ("2026-07-01", "2026-06-10")
    answer = one("due", "--json")
    assert answer.code == 0
    assert [i["snoozed_until"] for i in answer.json["snoozed"]] == ["2026-07-01"]
    assert "Silent until 1 Jul 2026: Lone: pressure test" in one.ok("due")
    one.today = "2026-07-01"
    assert one("due").code == 2


def test_a_snooze_ends_ahead(one: Cli) -> None:
    one.today = "2026-06-20"
    item = one("due", "--json").json["items"][0]["id"]
    assert "is not ahead" in one.refused("snooze", item, "--until", "2026-06-20")
    assert "Missing option '--until'" in one.refused("snooze", item)
    assert "no due item" in one.refused("snooze", "7:nothing", "--until", "2026-07-01")


def test_a_snooze_ends_within_two_years(one: Cli) -> None:
    # 2206 for 2026 is one slip of the finger.
    one.today = "2026-06-20"
    for day in ("2028-06-21", "2206-07-01", "9999-12-31"):
        said = one.refused("snooze", "1:strap", "--until", day)
        assert "a snooze ends within two years, by 20 Jun 2028" in said
    assert "Silent until 20 Jun 2028" in one.ok("snooze", "1:strap", "--until", "2028-06-20")


def test_fog_asks_though_the_opening_of_that_day_was_snoozed(one: Cli) -> None:
    one.ok("event", "Lone", "opened", "--on", "2026-03-14")
    one.ok("snooze", "1:pressure-test", "--until", "2026-06-01")
    assert one("due").code == 0
    one.ok("event", "Lone", "fog", "--on", "2026-03-14")
    (item,) = one("due", "--json").json["items"]
    assert (item["task"], item["due"], item["snoozed_until"]) == ("pressure-test", "2026-03-14", None)
    assert item["why"].endswith("then fog was seen")
    one.ok("snooze", "1:pressure-test", "--until", "2026-06-01")
    assert "Silent until 1 Jun 2026: Lone: pressure test" in one.ok("due")


def test_an_interval_of_its_own_wins(one: Cli) -> None:
    one.ok("watch", "edit", "Lone", "--interval", "pressure-test=24")
    one.today = "2026-06-20"
    assert one("due").code == 0


FORETOLD = "one chance in ten that its service interval is used up by then"


@pytest.fixture
def soaped(one: Cli) -> Cli:
    """The same watch under the shower three times a week: its gaskets wear out before their interval."""
    one.ok("habit", "Lone", "shower", "--per", "week", "3", "--from", "2025-06-01")
    return one


def crown_s_day(cli: Cli) -> str:
    """The day by which one path in ten has used the crown's seal up."""
    found = next(s for s in cli.json("forecast", "Lone")["seals"] if s["position"] == "crown")
    assert isinstance(found["p10"], str)
    return found["p10"]


def crown_item(cli: Cli) -> dict[str, Any] | None:
    """The crown's gaskets among what is due or coming up."""
    items = cli("due", "--json").json["items"]
    return next((i for i in items if (i["task"], i["seal"]) == ("gaskets", "crown")), None)


def test_gaskets_are_due_by_the_forecast_where_it_comes_before_the_interval(soaped: Cli) -> None:
    day = crown_s_day(soaped)
    assert soaped.today < day < "2028-06-01"  # 36 months after they were fitted: common practice
    soaped.today = (date.fromisoformat(day) - timedelta(days=12)).isoformat()
    moved = crown_s_day(soaped)  # looked at from nearer by it is another day
    item = crown_item(soaped)
    assert item is not None
    assert (item["due"], item["stage"], item["why"]) == (moved, "coming up", FORETOLD)
    assert (item["anchor"], item["interval_months"]) == ("2025-06-01", 36)
    assert item["earliest"] < item["due"] <= item["latest"]
    text = " ".join(soaped("due").out.split())
    assert "Lone: gaskets, crown" in text
    assert FORETOLD in text
    assert CAUTION_START in text


def test_gaskets_are_due_by_the_interval_where_that_comes_first(soaped: Cli) -> None:
    soaped.ok("watch", "edit", "Lone", "--interval", "gaskets=10")
    assert crown_s_day(soaped) > "2026-04-01"
    item = crown_item(soaped)
    assert item is not None
    assert (item["due"], item["why"]) == ("2026-04-01", "10 months after they were fitted")


def test_gaskets_of_a_dry_watch_are_due_by_the_interval(bare: Cli) -> None:
    bare.ok(
        "watch", "add", "Lone", "--bar", "3", "--use", "dry", "--worn", "0", "--winds", "0", "--seals", "FKM",
        "--fitted", "2023-03-20", "--recorded-from", "2023-03-20",
    )  # fmt: skip
    item = crown_item(bare)
    assert item is not None
    assert (item["due"], item["why"]) == ("2026-03-20", "36 months after they were fitted")


def test_a_planned_trip_brings_the_gaskets_forward(soaped: Cli) -> None:
    soaped.today = (date.fromisoformat(crown_s_day(soaped)) - timedelta(days=20)).isoformat()
    before = crown_item(soaped)
    tomorrow = date.fromisoformat(soaped.today) + timedelta(days=1)
    span = ("--from", tomorrow.isoformat(), "--to", (tomorrow + timedelta(days=9)).isoformat())
    soaped.ok("plan", "Lone", "swim 1h sea 15C not rinsed", *span)
    after = crown_item(soaped)
    assert before is not None
    assert after is not None
    assert after["due"] < before["due"]
    assert after["id"] == before["id"]


def test_snoozed_gaskets_stay_silent_when_their_day_moves(soaped: Cli) -> None:
    soaped.today = (date.fromisoformat(crown_s_day(soaped)) - timedelta(days=12)).isoformat()
    item = crown_item(soaped)
    assert item is not None
    until = date.fromisoformat(soaped.today) + timedelta(days=60)
    soaped.ok("snooze", item["id"], "--until", until.isoformat())
    soaped.ok("wet", f"Lone: swim 1h sea 15C not rinsed on {soaped.today}")
    silent = soaped("due", "--json").json["snoozed"]
    assert item["id"] in {i["id"] for i in silent}
    assert crown_item(soaped) is None


def test_gaskets_used_up_already_are_due_since_then(soaped: Cli) -> None:
    soaped.today = "2028-03-01"
    item = crown_item(soaped)
    assert item is not None
    assert item["stage"] == "overdue"
    assert "2025-06-01" < item["due"] < soaped.today
    assert item["why"] in ("its service interval is used up", "its service interval may be used up")
