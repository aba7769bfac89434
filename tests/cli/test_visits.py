"""`logbook visits`."""

from __future__ import annotations

import re
from datetime import date

from tests.cli.running import CAUTION_START, TODAY, Cli

OPENING = {"gaskets", "battery", "movement"}


def test_the_keys_that_others_rely_on(cli: Cli) -> None:
    document = cli.json("visits")
    assert document["caution"].startswith(CAUTION_START)
    assert document["visits"]
    for visit in document["visits"]:
        first, last = map(date.fromisoformat, visit["window"])
        assert date.fromisoformat(TODAY) <= first <= last
        for item in visit["items"]:
            assert {"id", "watch", "task", "seal", "due", "earliest", "latest", "stage"} <= set(item)


def test_all_that_is_on_the_due_list_is_on_one_visit(cli: Cli) -> None:
    listed = [item["id"] for item in cli("due", "--json").json["items"]]
    planned = [item["id"] for visit in cli.json("visits")["visits"] for item in visit["items"]]
    assert listed
    assert all(planned.count(id_) == 1 for id_ in listed)


def test_a_case_that_is_opened_is_tested_last_on_that_visit(cli: Cli) -> None:
    seen = 0
    for visit in cli.json("visits")["visits"]:
        for watch in {item["watch"] for item in visit["items"]}:
            own = [item for item in visit["items"] if item["watch"] == watch]
            opened = any(item["task"] in OPENING for item in own)
            assert (watch in visit["tests_after_opening"]) == opened
            if opened:
                seen += 1
                assert (own[-1]["task"], own[-1]["after_opening"]) == ("pressure-test", True)
                assert [item["task"] for item in own].count("pressure-test") == 1
    assert seen


def test_what_is_later_than_the_plan_is_counted(cli: Cli) -> None:
    document = cli.json("visits")
    assert document["up_to"] == "2028-03-15"
    every = sum(len(cli.json("watch", "show", name)["due"]) for name in ("reed", "paper", "lido"))
    planned = [i for visit in document["visits"] for i in visit["items"] if i["id"]]
    assert document["later"] == every - len(planned) > 0


def test_the_text_tells_days_watches_work_and_caution(cli: Cli) -> None:
    text = cli.ok("visits")
    assert text.startswith(f"{len(cli.json('visits')['visits'])} visits are enough for all that falls due by")
    assert "1  between 15 Mar 2026 and 14 Apr 2026" in text
    assert "Paper white: gaskets (case back, crown, crystal); then a pressure test" in text
    assert CAUTION_START in text
    assert max(len(line) for line in text.splitlines()) <= 80


def test_what_is_overdue_is_said_to_be_better_done_sooner(cli: Cli) -> None:
    visits = cli.json("visits")["visits"]
    heads = [line for line in cli.ok("visits").splitlines() if re.match(r"\d+  ", line)]
    late = [any(item["stage"] == "overdue" for item in visit["items"]) for visit in visits]
    assert [head.endswith("; overdue: the sooner the better") for head in heads] == late
    assert set(late) == {True, False}
    assert max(map(len, heads)) <= 80


def test_a_snoozed_task_stays_in_the_plan(cli: Cli) -> None:
    item = cli("due", "--json").json["items"][0]["id"]
    before = cli.json("visits")["visits"]
    cli.ok("snooze", item, "--until", "2026-05-01")
    after = cli.json("visits")["visits"]
    assert [v["window"] for v in after] == [v["window"] for v in before]


def test_a_retired_watch_needs_no_visit(cli: Cli) -> None:
    for name in ("reed", "paper", "lido"):
        cli.ok("watch", "retire", name)
    assert cli.json("visits")["visits"] == []
    assert cli.ok("visits").startswith("No workshop visit is needed for all that falls due by 15 Mar 2028.")


def test_no_record_and_unknown_options_are_refused(bare: Cli) -> None:
    assert bare("visits").code == 4
    assert bare("visits", "--json").json["error"]["code"]
    assert bare("visits", "--soon").code == 3
