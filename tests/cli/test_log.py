"""`logbook log`, `amend`, `strike`, `undo`."""

from __future__ import annotations

import pytest

from tests.cli.running import CAUTION_START, Cli


def entry(cli: Cli, entry_id: int) -> dict:
    record = cli.everything()
    every = [e for kind in ("exposures", "events", "habits", "worn") for e in record[kind]]
    return next(e for e in every if e["id"] == entry_id)


def exposure_ids(cli: Cli) -> list[int]:
    return sorted(e["id"] for e in cli.everything()["exposures"])


def test_the_log_lists_water_and_events_newest_first(wet_cli: Cli) -> None:
    document = wet_cli.json("log", "reed")
    what = [(e["entry"], e.get("activity") or e["kind"]) for e in document["entries"]]
    assert what[:3] == [("event", "pressure-test"), ("exposure", "snorkel"), ("exposure", "dive")]
    assert document["caution"].startswith(CAUTION_START)


def test_the_log_of_one_watch_holds_no_other(wet_cli: Cli) -> None:
    wet_cli.ok("wet", "lido: pool")
    assert {e["watch"] for e in wet_cli.json("log", "lido")["entries"]} == {"Lido chrono"}


def test_the_log_shows_ids_and_cost_in_80_columns(wet_cli: Cli) -> None:
    text = wet_cli.ok("log")
    dive = next(e for e in wet_cli.json("log")["entries"] if e.get("activity") == "dive")
    line = next(line for line in text.splitlines() if "dive 18 m" in line)
    assert line.split()[0] == str(dive["id"])
    assert float(line.split()[-1]) == pytest.approx(100 * dive["took"]["crown"]["total"], abs=0.006)
    assert max(len(line) for line in text.splitlines()) <= 80


def test_the_log_stops_at_its_limit(wet_cli: Cli) -> None:
    assert len(wet_cli.json("log", "--limit", "2")["entries"]) == 2
    assert len(wet_cli.json("log", "--limit", "0")["entries"]) > 2
    assert wet_cli("log", "--limit", "-1").code == 3
    assert wet_cli("log", "--limit", "few").code == 3


def test_an_empty_log_says_so(bare: Cli) -> None:
    bare.ok("watch", "add", "Alone")
    assert "Nothing is logged yet." in bare.ok("log")


def test_habits_and_worn_time_are_listed_with_their_ids(cli: Cli) -> None:
    cli.ok("habit", "paper", "hands", "--per", "day", "2")
    cli.ok("worn", "reed", "lido")
    document = cli.json("log")
    assert [h["exposure"]["activity"] for h in document["habits"]] == ["hands"]
    assert sorted(s["hours_per_day"] for s in document["worn"]) == [6.0, 6.0]
    assert "2 a day" in cli.ok("log")


def test_amend_changes_only_the_words_that_are_said(wet_cli: Cli) -> None:
    dive = exposure_ids(wet_cli)[0]
    before = entry(wet_cli, dive)
    wet_cli.ok("amend", str(dive), "23m", "not rinsed")
    after = entry(wet_cli, dive)
    changed = {key for key in before if before[key] != after[key]}
    assert changed == {"depth_m", "gauge_pa", "rinsed"}
    assert (after["depth_m"], after["rinsed"]) == (23.0, False)


def test_amend_last_is_the_entry_made_last(wet_cli: Cli) -> None:
    wet_cli.ok("wet", "lido: pool")
    document = wet_cli.json("amend", "last", "60min", "-1C")
    assert document["entries"][0]["duration_s"] == 3600
    assert document["entries"][0]["water_c"] == -1.0
    assert document["caution"].startswith(CAUTION_START)


def test_an_amended_exposure_is_charged_anew(wet_cli: Cli) -> None:
    dive = exposure_ids(wet_cli)[0]
    before = next(e for e in wet_cli.json("log")["entries"] if e["id"] == dive)["took"]["crown"]["salt"]
    after = wet_cli.json("amend", str(dive), "not rinsed")["entries"][0]["took"]["crown"]["salt"]
    assert after == pytest.approx(4 * before, rel=1e-6)  # salt left to dry counts four times


def test_day_and_note_of_an_exposure_are_options_too(wet_cli: Cli) -> None:
    dive = exposure_ids(wet_cli)[0]
    wet_cli.ok("amend", str(dive), "--on", "2026-02-19", "--note", "two of us")
    assert (entry(wet_cli, dive)["starts_on"], entry(wet_cli, dive)["note"]) == ("2026-02-19", "two of us")


def test_amend_changes_only_the_options_of_an_event(wet_cli: Cli) -> None:
    test = max(e["id"] for e in wet_cli.everything()["events"])
    before = entry(wet_cli, test)
    wet_cli.ok("amend", str(test), "--bar", "15", "--workshop", "the harbour workshop", "--order", "45")
    assert entry(wet_cli, test) == before | {"test_pa": 15e5, "workshop": "the harbour workshop", "order": 45}


def test_amended_gaskets_bring_another_material(cli: Cli) -> None:
    event = cli.json("event", "reed", "gaskets", "--seal", "crown=FKM", "--on", "2026-03-01")["entries"][0][
        "id"
    ]
    cli.ok("amend", str(event), "--seal", "crown=VMQ")
    crown = next(s for s in cli.score("reed")["seals"] if s["position"] == "crown")
    assert (crown["material"], crown["fitted"]) == ("VMQ", "2026-03-01")


def test_habits_and_worn_time_are_amended(cli: Cli) -> None:
    habit = cli.json("habit", "paper", "shower", "--per", "day", "1", "--from", "2026-03-15")["entries"][0][
        "id"
    ]
    worn = cli.json("worn", "reed")["entries"][0]["id"]
    cli.ok("amend", str(habit), "10min", "--per", "week", "3", "--to", "2026-06-01")
    cli.ok("amend", str(worn), "--hours", "5", "--from", "2026-03-10")
    after = entry(cli, habit)
    assert (after["per_day"], after["to_on"], after["exposure"]["duration_s"]) == (
        pytest.approx(3 / 7, abs=1e-4),
        "2026-06-01",
        600,
    )
    assert (entry(cli, worn)["hours_per_day"], entry(cli, worn)["from_on"]) == (5.0, "2026-03-10")


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        (("last",), "What changes?"),
        (("last", "23m"), "This entry is an event"),
        (("last", "--hours", "3"), "This entry is an event"),
        (("last", "--bar", "20m"), "a pressure belongs here"),
        (("last", "--on", "2026-03-16"), "lies in the future"),
        (("last", "--passed", "--failed"), "not both"),
        (("last", "--order", "1.5"), "whole number"),
        (("first", "23m"), "is no entry"),
        (("99", "23m"), "There is no entry 99"),
        (("5", "flurb"), "'flurb' is not understood"),
        (("5", "--bar", "3"), "This entry is an exposure"),
        (("5", "900m"), "out of range"),
        (("5", "on 2026-03-16"), "lies in the future"),
    ],
)
def test_an_amendment_that_cannot_be_is_refused(wet_cli: Cli, words: tuple[str, ...], expected: str) -> None:
    number = str(exposure_ids(wet_cli)[0])
    assert expected in wet_cli.refused("amend", *(number if w == "5" else w for w in words))


@pytest.mark.parametrize(
    "words",
    [
        ("wet", "lido: pool"),
        ("event", "reed", "battery"),
        ("habit", "paper", "hands", "--per", "day", "1"),
        ("worn", "reed"),
    ],
)
def test_strike_removes_an_entry_of_any_kind_and_undo_brings_it_back(
    cli: Cli, words: tuple[str, ...]
) -> None:
    before = cli.everything()
    entry_id = cli.json(*words)["entries"][0]["id"]
    after = cli.everything()
    document = cli.json("strike", str(entry_id))
    assert document["struck"]["id"] == entry_id
    assert cli.everything() == before
    cli.ok("undo")
    assert cli.everything() == after
    assert "Struck:" in cli.ok("strike", "last")


def test_a_struck_exposure_is_charged_to_nothing(wet_cli: Cli) -> None:
    dive, snorkel = exposure_ids(wet_cli)
    before = wet_cli.score("reed")
    wet_cli.ok("wet", "reed: dive 30m 60min on 2026-03-14")
    assert wet_cli.score("reed") != before
    wet_cli.ok("strike", "last")
    assert wet_cli.score("reed") == before
    assert exposure_ids(wet_cli) == [dive, snorkel]


def test_striking_what_is_not_there_is_refused(cli: Cli) -> None:
    assert "There is no entry 99" in cli.refused("strike", "99")
    assert "'all' is no entry: give its id" in cli.refused("strike", "all")


def test_undo_goes_back_step_by_step_to_the_beginning(cli: Cli) -> None:
    states = [cli.everything()]
    for words in (
        ("wet", "reed: rain", "lido: rain"),
        ("event", "reed", "opened"),
        ("watch", "edit", "reed", "--worn", "3"),
        ("snooze", cli("due", "--json").json["items"][0]["id"], "--until", "2026-05-01"),
        ("settings", "--salinity", "38"),
        ("nothing-else", "reed"),
        ("strike", "last"),
    ):
        cli.ok(*words)
        states.append(cli.everything())
    for before in reversed(states[:-1]):
        assert cli.ok("undo").startswith("Undone: ")
        assert cli.everything() == before


def test_undo_says_what_it_took_back(cli: Cli) -> None:
    cli.ok("wet", "reed: rain")
    assert cli.json("undo", "--list")["would_undo"][0]["label"] == "log rain of 15 Mar 2026 for Reed green"
    assert cli.json("undo")["undone"] == "log rain of 15 Mar 2026 for Reed green"
    assert "add Lido chrono" in cli.ok("undo", "--list")


def test_nothing_to_undo_is_said(bare: Cli) -> None:
    bare.ok("watch", "add", "Alone")
    bare.ok("undo")
    assert "nothing to undo" in bare.refused("undo")
