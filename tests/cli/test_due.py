"""`logbook due`, `done`, `snooze`."""

from __future__ import annotations

import os
import subprocess
import sys
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


def test_the_text_names_stage_day_watch_task_and_why(one: Cli) -> None:
    one.today = "2026-06-10"
    text = one("due").out
    assert "due        10 Jun 2026  Lone: pressure test" in text
    assert "12 months after the last test passed at 3 bar or more" in text
    assert "[1:" not in text
    assert "`logbook done WATCH`" in text
    assert CAUTION_START in text
    assert max(len(line) for line in text.splitlines()) <= 80


def test_each_task_is_listed_with_its_id_on_demand(cli: Cli) -> None:
    cli.ok(*SOON)
    short, full = cli("due").out, cli("due", "--tasks").out
    assert len([line for line in short.splitlines() if "Paper white" in line]) == 1
    assert "Paper white: service: gaskets, battery, strap and bars, pressure test" in " ".join(short.split())
    for item in cli("due", "--json").json["items"]:
        assert f"[{item['id']}]" in full
    assert max(len(line) for line in (short + full).splitlines()) <= 80


def test_services_stand_beside_the_items_and_each_item_is_in_one_of_them(cli: Cli) -> None:
    document = cli("due", "--json").json
    ids = [item["id"] for item in document["items"]]
    assert len(set(ids)) == len(ids)
    assert sorted(id_ for service in document["services"] for id_ in service["items"]) == sorted(ids)
    for service in document["services"]:
        assert set(service) >= {"id", "watch", "due", "stage", "items", "why"}
        own = [item for item in document["items"] if item["id"] in service["items"]]
        assert {item["watch"] for item in own} == {service["watch"]}
        assert service["due"] == min(item["due"] for item in own)
    watches = [service["watch"] for service in document["services"]]
    assert len(set(watches)) == len(watches)


def test_a_fault_is_first_in_the_list(cli: Cli) -> None:
    cli.ok("event", "reed", "water-inside", "--on", "2026-03-15")
    text = cli("due").out
    assert "Reed green: to a workshop now: open, dry, mend" in text.splitlines()[0]
    first = cli("due", "--json").json["services"][0]
    assert (first["watch"], first["why"]) == ("Reed green", "water was seen inside")


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


@pytest.mark.parametrize(
    ("words", "kept"),
    [
        (("--passed", "--to-mark"), (True, True, 10e5, "air")),
        (("--passed", "--to-mark", "--medium", "water"), (True, True, 10e5, "water")),
        (("--passed", "--bar-unknown"), (True, False, None, None)),
        (("--failed", "--bar-unknown"), (False, False, None, None)),
        (("--failed", "--medium", "vacuum"), (False, False, None, "vacuum")),
        (("--failed", "--to-mark"), (False, True, 10e5, "air")),
    ],
)
def test_a_test_that_is_done_was_to_its_mark_or_to_a_pressure_that_nobody_knows(
    one: Cli, words: tuple[str, ...], kept: tuple[object, ...]
) -> None:
    one.today = "2026-06-20"
    (entry,) = one.json("done", "1:pressure-test", *words)["entries"]
    assert (entry["passed"], entry["to_mark"], entry["test_pa"], entry["medium"]) == kept


def test_a_test_that_is_done_has_one_pressure_and_is_of_a_pressure_test(one: Cli) -> None:
    one.today = "2026-06-20"
    for second in (("--bar", "10"), ("--bar-unknown",)):
        sentence = one.refused("done", "1:pressure-test", "--passed", "--to-mark", *second)
        assert "A test has one pressure" in sentence
    assert "needs its result" in one.refused("done", "1:pressure-test", "--to-mark")
    for words in (("--to-mark",), ("--bar-unknown",)):
        assert "belong to a pressure test" in one.refused("done", "1:strap", *words)


def test_a_test_to_a_mark_that_nobody_knows_is_refused(cli: Cli) -> None:
    cli.ok("watch", "add", "Nameless", "--mark", "unknown", "--use", "swimming", "--fitted", "2024-05-01")
    said = cli.refused("done", "nameless", "--passed", "--to-mark")
    assert "The mark of Nameless is not known" in said


def test_a_task_done_within_a_month_counts_on_the_day_that_is_worse(one: Cli) -> None:
    """Of a span a pass counts on its first day."""
    one.today = "2026-06-20"
    (entry,) = one.json("done", "1:pressure-test", "--passed", "--bar", "10", "--on", "2026-05")["entries"]
    assert entry["on"] == "2026-05-01"


def test_a_failed_test_stays_due(one: Cli) -> None:
    one.today = "2026-06-20"
    one.ok("done", one("due", "--json").json["items"][0]["id"], "--failed", "--bar", "10")
    answer = one("due", "--json")
    assert (answer.code, answer.json["items"][0]["anchor"]) == (2, "2026-06-20")


# Paper white was added on 15 March 2026: its battery and its strap are due in spring then.
SOON = ("watch", "edit", "paper", "--interval", "battery=1", "--interval", "strap=2")


def paper(cli: Cli) -> list[dict[str, Any]]:
    """What is due on Paper white."""
    return [item for item in cli("due", "--json").json["items"] if item["watch"] == "Paper white"]


def gaskets(cli: Cli) -> str:
    """The id of the gaskets of Paper white."""
    (found,) = [item["id"] for item in paper(cli) if item["task"] == "gaskets"]
    assert isinstance(found, str)
    return found


def test_gaskets_that_are_done_are_new_gaskets_at_every_place(cli: Cli) -> None:
    (entry,) = cli.json("done", gaskets(cli))["entries"]
    places = ["case-back", "crown", "crystal"]
    assert entry["kind"] == "gaskets"
    assert sorted(seal["position"] for seal in entry["seals"]) == places
    assert {seal["material"] for seal in entry["seals"]} == {"NBR"}
    fitted = {s["position"]: s["fitted"] for s in cli.score("paper")["seals"]}
    assert fitted == dict.fromkeys(places, "2026-03-15")
    assert "gaskets" not in [item["task"] for item in paper(cli)]


def test_several_items_are_done_in_one_step(cli: Cli) -> None:
    before = cli.everything()
    assert len(cli.json("done", gaskets(cli), "2:battery", "--on", "2026-03-10")["entries"]) == 2
    cli.ok("undo")
    assert cli.everything() == before


def test_a_task_that_is_named_twice_is_done_once(cli: Cli) -> None:
    assert len(cli.json("done", gaskets(cli), gaskets(cli), "2:gaskets")["entries"]) == 1


def test_a_watch_is_its_whole_service_in_one_step_in_the_order_of_the_day(cli: Cli) -> None:
    cli.ok(*SOON)
    before = cli.everything()
    entries = cli.json(
        "done", "paper white", "--passed", "--bar", "3", "--on", "2026-03-12", "--workshop", "in town"
    )["entries"]
    assert [e["kind"] for e in entries] == ["battery", "strap", "gaskets", "pressure-test"]
    assert [e["id"] for e in entries] == sorted(e["id"] for e in entries)
    assert {(e["on"], e["workshop"]) for e in entries} == {("2026-03-12", "in town")}
    assert [e["passed"] for e in entries] == [None, None, None, True]
    assert {item["anchor"] for item in paper(cli)} == {"2026-03-12"}  # the next battery, a month later
    cli.ok("undo")
    assert cli.everything() == before


def test_the_beginning_of_a_nickname_and_the_id_of_a_service_name_it_too(cli: Cli) -> None:
    cli.ok(*SOON)
    service = next(s["id"] for s in cli("due", "--json").json["services"] if s["watch"] == "Paper white")
    for word in ("pap", service):
        assert len(cli.json("done", word, "--passed", "--bar", "3")["entries"]) == 4
        cli.ok("undo")


def test_a_service_that_lacks_what_its_test_needs_is_refused_whole_and_the_options_are_named(
    cli: Cli,
) -> None:
    before = cli.everything()
    for words, said in (
        ((), "needs its result"),
        (("--passed",), "To what pressure"),
        (("--bar", "3"), "needs its result"),
    ):
        sentence = cli.refused("done", "paper", *words)
        assert said in sentence
        options = "--passed or --failed, --bar PRESSURE (or --to-mark, or --bar-unknown)"
        assert f"{options} and --medium air|vacuum|water" in sentence
    assert cli.everything() == before


@pytest.fixture
def broken(cli: Cli) -> Cli:
    """A watch whose crystal was damaged by a knock, its gaskets near the end of their interval."""
    cli.ok("watch", "add", "Lone", "--bar", "20", "--use", "swimming", "--seals", "NBR",
           "--fitted", "2023-06-01", "--recorded-from", "2023-06-01")  # fmt: skip
    cli.ok("event", "lone", "knock", "--on", "2026-03-13")
    cli.ok("event", "lone", "crystal-damaged", "--on", "2026-03-14")
    return cli


A_PASS = ("--passed", "--bar", "20", "--medium", "water")


def told(cli: Cli, *words: str) -> list[tuple[str, str | None]]:
    """The kinds of event that a watch done with these words amounts to, with what was repaired."""
    entries = cli.json("done", "lone", *A_PASS, *words)["entries"]
    return [(e["kind"], e["repaired"]) for e in entries]


def test_while_something_stands_the_list_names_every_task_of_the_service(broken: Cli) -> None:
    text = " ".join(broken("due").out.split())
    assert "Lone: to a workshop now; due with it: gaskets, pressure test the crystal was damaged" in text


def test_while_something_stands_what_was_done_is_refused_where_nobody_says_it(broken: Cli) -> None:
    before = broken.everything()
    said = broken.refused("done", "lone", *A_PASS)
    assert "Only you know what was done on Lone beside its test" in said
    assert "--opened, --gaskets all|PLACES or --repaired crystal" in said
    assert "the test alone, 4:pressure-test." in said
    assert broken.everything() == before
    assert broken.json("done", "4:pressure-test", *A_PASS)["entries"][0]["kind"] == "pressure-test"


def test_while_something_stands_nothing_is_done_that_its_owner_did_not_say(broken: Cli) -> None:
    for words, kinds in (
        (("--opened",), [("opened", None)]),
        (("--repaired", "crystal"), [("repaired", "crystal-damaged")]),
        (("--opened", "--gaskets", "all"), [("gaskets", None)]),
    ):
        assert told(broken, *words) == [*kinds, ("pressure-test", None)]
        broken.ok("undo")


def test_the_gaskets_that_are_said_are_the_ones_renewed(broken: Cli) -> None:
    entries = broken.json("done", "lone", *A_PASS, "--gaskets", "crystal,crown=FKM")["entries"]
    assert sorted((s["position"], s["material"]) for s in entries[0]["seals"]) == [
        ("crown", "FKM"), ("crystal", "NBR"),
    ]  # fmt: skip
    assert "sealing place" in broken.refused("done", "lone", *A_PASS, "--gaskets", "lid")


def test_a_repair_of_what_is_no_part_is_refused(broken: Cli) -> None:
    before = broken.everything()
    broken.refused("done", "lone", *A_PASS, "--repaired", "spring")
    assert broken.everything() == before


def test_what_else_is_due_is_named_by_its_id_beside_the_watch(broken: Cli) -> None:
    assert told(broken, "4:gaskets", "--opened") == [
        ("gaskets", None), ("opened", None), ("pressure-test", None),
    ]  # fmt: skip


def test_what_was_done_is_said_of_one_watch(broken: Cli) -> None:
    for words in (("lone", "paper"), ("4:pressure-test",)):
        said = broken.refused("done", *words, *A_PASS, "--opened")
        assert "say what was done on one watch" in said


def test_where_a_test_is_all_that_asks_the_gaskets_of_later_are_not_taken_for_done(one: Cli) -> None:
    one.ok("watch", "edit", "Lone", "--interval", "gaskets=15")  # three months after its test
    one.today = "2026-06-10"
    assert [item["task"] for item in one("due", "--json").json["items"]] == ["pressure-test"]
    assert "Only you know what was done on Lone" in one.refused("done", "Lone", "--passed", "--bar", "10")
    entries = one.json("done", "Lone", "--passed", "--bar", "10", "--opened")["entries"]
    assert [e["kind"] for e in entries] == ["opened", "pressure-test"]


def test_water_inside_and_damage_are_mended_as_far_as_it_is_said(cli: Cli) -> None:
    cli.ok("event", "reed", "water-inside", "--on", "2026-03-14")
    cli.ok("event", "reed", "crystal-damaged", "--on", "2026-03-14")
    words = ("--opened", "--repaired", "crystal", "--passed", "--bar", "20")
    assert [e["kind"] for e in cli.json("done", "reed", *words)["entries"]] == [
        "opened", "repaired", "pressure-test",
    ]  # fmt: skip
    assert not any(s["watch"] == "Reed green" and "workshop" in s["label"]
                   for s in cli("due", "--json").json["services"])  # fmt: skip


def test_a_watch_on_which_nothing_is_due_is_done_task_by_task(one: Cli) -> None:
    said = one.refused("done", "Lone", "--passed", "--bar", "10")
    assert "Nothing is coming up or due on Lone; name a task by its id: 1:" in said
    assert "no watch" in one.refused("done", "Nobody").casefold()


def test_a_whole_service_is_snoozed_by_the_name_of_its_watch(cli: Cli) -> None:
    ids = {item["id"] for item in paper(cli)}
    document = cli.json("snooze", "paper", "--until", "2026-05-01")
    assert set(document["ids"]) == ids
    assert paper(cli) == []
    cli.ok("undo")
    assert {item["id"] for item in paper(cli)} == ids


def test_the_beginning_of_an_id_is_enough_while_it_is_one_item(cli: Cli) -> None:
    assert "begins more than one" in cli.refused("done", "2:")
    assert "gaskets replaced" in cli.ok("done", gaskets(cli)[:-4])


def test_the_id_that_one_seal_had_names_the_gaskets(cli: Cli) -> None:
    assert cli.json("snooze", "2:gaskets:crown", "--until", "2026-05-01")["id"] == gaskets_silent(cli)


def gaskets_silent(cli: Cli) -> str:
    (found,) = [item["id"] for item in cli("due", "--json").json["snoozed"] if item["task"] == "gaskets"]
    assert isinstance(found, str)
    return found


def test_what_is_not_due_cannot_be_done(cli: Cli) -> None:
    assert "There is no due item '9:oiling'" in cli.refused("done", "9:oiling")
    assert "belong to a pressure test" in cli.refused("done", gaskets(cli), "--passed")
    assert "lies in the future" in cli.refused("done", gaskets(cli), "--on", "2026-03-16")


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
    assert item["why"].endswith("then fog was seen inside, 14 Mar 2026")
    one.ok("snooze", "1:pressure-test", "--until", "2026-06-01")
    assert "Silent until 1 Jun 2026: Lone: pressure test" in one.ok("due")


def test_an_interval_of_its_own_wins(one: Cli) -> None:
    one.ok("watch", "edit", "Lone", "--interval", "pressure-test=24")
    one.today = "2026-06-20"
    assert one("due").code == 0


FORETOLD = "crown seal: half the ways ahead have its service interval used up by then"


@pytest.fixture
def soaped(one: Cli) -> Cli:
    """The same watch under the shower three times a week: its gaskets wear out before their interval."""
    one.ok("habit", "Lone", "shower", "--per", "week", "3", "--from", "2025-06-01")
    return one


def crown_s_day(cli: Cli, point: str = "p50") -> str:
    """The day by which half of the ways ahead have used the crown's seal up."""
    found = next(s for s in cli.json("forecast", "Lone")["seals"] if s["position"] == "crown")
    assert isinstance(found[point], str)
    return str(found[point])


def gasket_item(cli: Cli) -> dict[str, Any] | None:
    """The gaskets among what is due or coming up."""
    items = cli("due", "--json").json["items"]
    return next((i for i in items if i["task"] == "gaskets"), None)


def test_gaskets_are_due_by_the_forecast_where_it_comes_before_the_interval(soaped: Cli) -> None:
    day = crown_s_day(soaped)
    assert soaped.today < day < "2028-06-01"  # 36 months after they were fitted: common practice
    soaped.today = (date.fromisoformat(day) - timedelta(days=12)).isoformat()
    moved = crown_s_day(soaped)  # looked at from nearer by it is another day
    item = gasket_item(soaped)
    assert item is not None
    assert (item["due"], item["stage"], item["why"]) == (moved, "coming up", FORETOLD)
    assert (item["seal"], item["anchor"], item["interval_months"]) == ("crown", "2025-06-01", 36)
    assert item["earliest"] < item["due"] <= item["latest"]
    text = " ".join(soaped("due", "--tasks").out.split())
    assert "Lone: service: gaskets" in text
    assert FORETOLD in text
    assert CAUTION_START in text


def test_gaskets_come_up_with_the_start_of_their_window(soaped: Cli) -> None:
    soaped.today = (date.fromisoformat(crown_s_day(soaped)) - timedelta(days=100)).isoformat()
    item, start = gasket_item(soaped), crown_s_day(soaped, "p10")
    assert item is not None
    assert item["stage"] == "coming up"
    assert start <= soaped.today
    assert item["earliest"] <= soaped.today


def test_gaskets_are_due_by_the_interval_where_that_comes_first(soaped: Cli) -> None:
    soaped.ok("watch", "edit", "Lone", "--interval", "gaskets=10")
    assert crown_s_day(soaped) > "2026-04-01"
    item = gasket_item(soaped)
    assert item is not None
    assert item["due"] == "2026-04-01"
    assert item["why"].endswith(" seal: 10 months after it was fitted")


def test_gaskets_of_a_dry_watch_are_due_by_the_interval(bare: Cli) -> None:
    bare.ok(
        "watch", "add", "Lone", "--bar", "3", "--use", "dry", "--worn", "0", "--winds", "0", "--seals", "FKM",
        "--fitted", "2023-03-20", "--recorded-from", "2023-03-20",
    )  # fmt: skip
    item = gasket_item(bare)
    assert item is not None
    assert item["due"] == "2026-03-20"
    assert item["why"].endswith(" seal: 36 months after it was fitted")


def test_a_planned_trip_brings_the_gaskets_forward(soaped: Cli) -> None:
    soaped.today = (date.fromisoformat(crown_s_day(soaped)) - timedelta(days=20)).isoformat()
    before = gasket_item(soaped)
    tomorrow = date.fromisoformat(soaped.today) + timedelta(days=1)
    span = ("--from", tomorrow.isoformat(), "--to", (tomorrow + timedelta(days=9)).isoformat())
    soaped.ok("plan", "Lone", "swim 1h sea 15C not rinsed", *span)
    after = gasket_item(soaped)
    assert before is not None
    assert after is not None
    assert after["due"] < before["due"]
    assert after["id"] == before["id"]


def test_snoozed_gaskets_stay_silent_when_their_day_moves(soaped: Cli) -> None:
    soaped.today = (date.fromisoformat(crown_s_day(soaped)) - timedelta(days=12)).isoformat()
    item = gasket_item(soaped)
    assert item is not None
    until = date.fromisoformat(soaped.today) + timedelta(days=60)
    soaped.ok("snooze", item["id"], "--until", until.isoformat())
    soaped.ok("wet", f"Lone: swim 1h sea 15C not rinsed on {soaped.today}")
    silent = soaped("due", "--json").json["snoozed"]
    assert item["id"] in {i["id"] for i in silent}
    assert gasket_item(soaped) is None


def test_gaskets_used_up_already_are_due_since_then(soaped: Cli) -> None:
    soaped.today = "2028-03-01"
    item = gasket_item(soaped)
    assert item is not None
    assert item["stage"] == "overdue"
    assert "2025-06-01" < item["due"] < soaped.today
    assert item["why"].endswith((" is used up", " may be used up"))


def at_a_terminal(cli: Cli, *line: str, typed: str) -> tuple[int, str]:
    """Exit code and screen of a command at a real terminal, with what a person types there."""
    screen, terminal = os.openpty()
    words = [sys.executable, "-m", "logbook", *line, "--file", str(cli.file), "--today", cli.today]
    with subprocess.Popen(words, stdin=terminal, stdout=terminal, stderr=terminal) as running:
        os.close(terminal)
        os.write(screen, typed.encode())
        shown = b""
        while piece := _read(screen):
            shown += piece
        code = running.wait(timeout=120)
    os.close(screen)
    return code, shown.decode()


def _read(screen: int) -> bytes:
    """What comes next, nothing once the command has ended."""
    try:
        return os.read(screen, 4096)
    except OSError:
        return b""


def test_at_a_terminal_a_person_is_asked_for_what_a_test_needs(one: Cli) -> None:
    one.today = "2026-06-20"
    code, shown = at_a_terminal(one, "done", "Lone", typed="p\n10 bar\n\n")
    assert code == 0
    assert "Pressure test: passed or failed" in shown
    assert "To what pressure" in shown
    assert "pressure test passed, 10 bar in air on 20 Jun 2026" in " ".join(shown.split())
    assert one("due").code == 0


def test_at_a_terminal_a_person_is_asked_what_was_done_beside_the_test(broken: Cli) -> None:
    code, shown = at_a_terminal(broken, "done", "lone", *A_PASS, typed="y\nn\ny\n")
    assert code == 0
    for question in (
        "Lone: case opened [y/n]",
        "Lone: gaskets replaced [y/n]",
        "Lone: crystal repaired [y/n]",
    ):
        assert question in shown
    assert [e["kind"] for e in broken.json("log", "lone")["entries"]][:3] == [
        "pressure-test", "repaired", "opened",
    ]  # fmt: skip


def test_an_answer_that_is_none_writes_nothing(one: Cli) -> None:
    one.today = "2026-06-20"
    before = one.everything()
    code, shown = at_a_terminal(one, "done", "Lone", typed="maybe\n")
    assert code == 3
    assert "'maybe' is neither passed nor failed." in " ".join(shown.split())
    assert one.everything() == before
