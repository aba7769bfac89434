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
    cli.ok("watch", "edit", "paper", "--interval", "battery=1", "--interval", "strap=2")
    cli.today = OVERDUE
    text = cli.ok("visits")
    visits = cli.json("visits")["visits"]
    number = "1 visit is enough" if len(visits) == 1 else f"{len(visits)} visits are enough"
    assert text.startswith(f"{number} for all that falls due by")
    assert "1  between 29 Mar 2026 and 30 Mar 2026; the sooner the better" in text
    assert "Paper white: gaskets, battery, strap and bars; then a pressure test" in text
    assert CAUTION_START in text
    assert max(len(line) for line in text.splitlines()) <= 80


OVERDUE = "2026-03-29"  # Paper white came on 15 March; nobody knows when its gaskets were fitted


def test_what_is_overdue_is_for_today_or_tomorrow(cli: Cli) -> None:
    cli.today = OVERDUE
    visits = cli.json("visits")["visits"]
    heads = [line for line in cli.ok("visits").splitlines() if re.match(r"\d+  ", line)]
    late = [any(item["stage"] == "overdue" for item in visit["items"]) for visit in visits]
    assert [head.endswith("; the sooner the better") for head in heads] == late
    assert set(late) == {True, False}
    assert all(
        visit["window"][1] <= "2026-03-30" for visit, is_late in zip(visits, late, strict=True) if is_late
    )
    assert max(map(len, heads)) <= 80


def first_of(cli: Cli, name: str) -> list[str]:
    """The days of the first visit of a watch."""
    visits = cli.json("visits")["visits"]
    return next(v["window"] for v in visits if any(item["watch"] == name for item in v["items"]))


def test_no_watch_is_away_while_its_trip_runs(cli: Cli) -> None:
    cli.ok("plan", "paper", "swim 20min sea 20C rinsed", "--from", "2026-03-16", "--to", "2026-04-20")
    assert first_of(cli, "Paper white") == ["2026-03-15", "2026-03-15"]
    cli.ok("plan", "paper", "swim 20min sea 20C rinsed", "--from", "2026-03-15", "--to", "2026-03-17")
    assert first_of(cli, "Paper white") == ["2026-04-21", "2026-05-21"]


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
