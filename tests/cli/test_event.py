"""`logbook event`."""

from __future__ import annotations

import pytest

from logbook.model.practice import parse
from logbook.record.file.practice_file import shipped_path
from tests.cli.running import Cli


def codes(cli: Cli, name: str) -> list[str]:
    return [stop["code"] for stop in cli.score(name)["stops"]]


@pytest.mark.parametrize("kind", ["opened", "battery", "movement"])
def test_an_opening_asks_for_a_test(cli: Cli, kind: str) -> None:
    (entry,) = cli.json("event", "reed", kind, "--on", "2026-03-01")["entries"]
    assert (entry["kind"], entry["on"], entry["order"]) == (kind, "2026-03-01", 10)
    assert "opened-untested" in codes(cli, "reed")


@pytest.mark.parametrize(
    ("kind", "code"),
    [
        ("fog", "water-inside"),
        ("water-inside", "water-inside"),
        ("crown-damaged", "damaged"),
        ("crystal-damaged", "damaged"),
    ],
)
def test_a_fault_keeps_the_watch_dry(cli: Cli, kind: str, code: str) -> None:
    cli.ok("event", "reed", kind)
    first = cli.score("reed")["stops"][0]
    assert (first["code"], first["verdict"]) == (code, "keep it dry")


def test_damage_needs_its_repair_and_a_test(cli: Cli) -> None:
    cli.ok("event", "reed", "crystal-damaged", "--on", "2026-03-01")
    cli.ok(
        "event", "reed", "pressure-test", "--passed", "--bar", "20", "--medium", "air", "--on", "2026-03-02"
    )
    assert codes(cli, "reed") == ["damaged"]
    (entry,) = cli.json("event", "reed", "repaired", "crystal", "--on", "2026-03-03")["entries"]
    assert (entry["kind"], entry["repaired"]) == ("repaired", "crystal-damaged")
    cli.ok(
        "event", "reed", "pressure-test", "--passed", "--bar", "20", "--medium", "air", "--on", "2026-03-04"
    )
    assert codes(cli, "reed") == []


def test_a_test_keeps_pressure_medium_minutes_and_deflection(cli: Cli) -> None:
    (entry,) = cli.json(
        "event",
        "reed",
        "pressure-test",
        "--failed",
        "--bar",
        "12.5",
        "--medium",
        "air",
        "--minutes",
        "10",
        "--deflection-um",
        "-3.5",
        "--workshop",
        "the harbour workshop",
        "--note",
        "leaked at the crown",
    )["entries"]
    assert (entry["passed"], entry["test_pa"], entry["medium"], entry["minutes"], entry["deflection_um"]) == (
        False,
        12.5e5,
        "air",
        10.0,
        -3.5,
    )
    assert (entry["workshop"], entry["note"]) == ("the harbour workshop", "leaked at the crown")
    assert codes(cli, "reed")[0] == "failed-test"


def test_a_pressure_of_a_test_may_have_its_unit(cli: Cli) -> None:
    words = ("event", "reed", "pressure-test", "--passed", "--bar", "300psi", "--medium", "water")
    # 300 × 6894.757293168 Pa: exact definition of the pound-force per square inch.
    assert cli.json(*words)["entries"][0]["test_pa"] == pytest.approx(2068427.19, abs=0.5)


def test_new_gaskets_replace_only_the_seals_that_are_named(cli: Cli) -> None:
    cli.ok("event", "reed", "gaskets", "--seal", "crown=FKM,case-back", "--on", "2026-03-01")
    seals = {s["position"]: (s["material"], s["fitted"]) for s in cli.score("reed")["seals"]}
    assert seals == {
        "crown": ("FKM", "2026-03-01"),
        "case-back": ("NBR", "2026-03-01"),
        "crystal": ("NBR", "2025-02-01"),
    }


def test_all_gaskets_are_of_the_material_they_were(cli: Cli) -> None:
    (entry,) = cli.json("event", "lido", "gaskets", "--all")["entries"]
    assert [(s["position"], s["material"]) for s in entry["seals"]] == [
        ("case-back", "FKM"),
        ("crystal", "FKM"),
        ("crown", "FKM"),
        ("pushers", "FKM"),
    ]


def test_a_fog_sighting_keeps_its_temperatures(cli: Cli) -> None:
    (entry,) = cli.json("event", "reed", "fog", "--crystal", "5C", "--case-air", "70F")["entries"]
    assert (entry["crystal_c"], entry["case_air_c"]) == (5.0, pytest.approx(21.111, abs=0.001))


def test_one_event_may_be_of_several_watches(cli: Cli) -> None:
    entries = cli.json("event", "reed", "lido", "strap", "--on", "2026-03-01")["entries"]
    assert [e["watch"] for e in entries] == ["Reed green", "Lido chrono"]
    cli.ok("undo")
    assert "strap" not in [e["kind"] for e in cli.everything()["events"]]


def test_the_order_inside_a_day_decides_whether_the_test_covers_the_battery(cli: Cli) -> None:
    test = (
        "event",
        "reed",
        "pressure-test",
        "--passed",
        "--bar",
        "20",
        "--medium",
        "air",
        "--on",
        "2026-03-01",
    )
    cli.ok(*test)
    cli.ok("event", "reed", "battery", "--on", "2026-03-01")
    assert "opened-untested" not in codes(cli, "reed")
    cli.ok("undo")
    cli.ok("event", "reed", "battery", "--on", "2026-03-01", "--order", "45")
    assert "opened-untested" in codes(cli, "reed")


AIR_TEST = ("pressure-test", "--passed", "--bar", "20", "--medium", "air", "--on", "2026-03-01")


@pytest.mark.parametrize("opening", [("battery",), ("opened",), ("movement",), ("gaskets", "--all")])
def test_an_opening_taken_to_be_before_the_test_of_its_day_is_said_to_be_with_the_way_out(
    cli: Cli, opening: tuple[str, ...]
) -> None:
    cli.ok("event", "reed", *AIR_TEST)
    said = " ".join(cli.ok("event", "reed", *opening, "--on", "2026-03-01").split())
    id_ = said.split()[0]
    told = f"Taken to be before that day's pressure test; `logbook amend {id_} --order 45` if it was after."
    assert told in said
    assert "opened-untested" not in codes(cli, "reed")
    cli.ok("amend", id_, "--order", "45")
    assert "opened-untested" in codes(cli, "reed")


def test_the_way_out_is_after_the_test_wherever_in_the_day_that_was(cli: Cli) -> None:
    cli.ok("event", "reed", *AIR_TEST, "--order", "55")
    said = " ".join(cli.ok("event", "reed", "battery", "--on", "2026-03-01").split())
    assert "--order 56` if it was after" in said


@pytest.mark.parametrize(
    "words",
    [
        ("strap", "--on", "2026-03-01"),
        ("battery", "--on", "2026-03-02"),
        ("battery", "--on", "2026-03-01", "--order", "10"),
        ("battery", "--on", "2026-03-01", "--order", "45"),
        ("fog", "--on", "2026-03-01"),
        ("condensation-test", "--passed", "--on", "2026-03-01"),
    ],
)
def test_nothing_is_said_where_no_order_was_taken_for_granted(cli: Cli, words: tuple[str, ...]) -> None:
    cli.ok("event", "reed", *AIR_TEST)
    assert "Taken to be" not in cli.ok("event", "reed", *words)


def test_nothing_is_said_of_the_test_of_another_watch(cli: Cli) -> None:
    cli.ok("event", "reed", *AIR_TEST)
    text = cli.ok("event", "lido", "reed", "battery", "--on", "2026-03-01")
    assert text.count("Taken to be") == 1
    assert text.index("Reed green") < text.index("Taken to be")


def test_the_help_tells_the_order_inside_a_day(cli: Cli) -> None:
    text = " ".join(cli.ok("event", "--help").split())
    assert "opening 10, gaskets 20, repair 30, test 40, exposures 50, fault 60" in text


def test_the_plain_answer_names_id_watch_what_and_day(cli: Cli) -> None:
    text = cli.ok("event", "reed", "battery", "--on", "yesterday", "--note", "in town")
    assert text.split(maxsplit=1)[0].isdigit()
    assert "Reed green: battery changed, in town on 14 Mar 2026" in text


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        (("reed", "batery"), "Did you mean battery?"),
        (("battery",), "Which watch?"),
        (("reed", "pressure-test"), "needs its result"),
        (("reed", "pressure-test", "--passed", "--failed"), "not both"),
        (("reed", "pressure-test", "--passed"), "To what pressure"),
        (("reed", "pressure-test", "--passed", "--bar", "20"), "air, vacuum or water"),
        (("reed", "pressure-test", "--passed", "--bar", "20", "--medium", "oil"), "'oil' is no medium"),
        (
            ("reed", "pressure-test", "--passed", "--bar", "0.7", "--medium", "vacuum", "--minutes", "0"),
            "above 0",
        ),
        (("reed", "pressure-test", "--passed", "--bar", "3", "--medium", "vacuum"), "no vacuum is deeper"),
        (("reed", "pressure-test", "--passed", "--bar", "3000", "--medium", "air"), "out of range"),
        (
            ("reed", "pressure-test", "--passed", "--bar", "20", "--medium", "air", "--on", "2026-03-16"),
            "future",
        ),
        (("lido", "battery", "--on", "2024-04-30"), "first date, 2024-05-01"),
        (("reed", "battery", "--passed"), "Only a test is passed or failed"),
        (("reed", "battery", "--bar", "3"), "pressure test"),
        (("reed", "gaskets"), "sealing places"),
        (("reed", "gaskets", "--all", "--seal", "crown"), "choose one"),
        (("reed", "gaskets", "--seal", "crown=NBR,crown"), "listed twice"),
        (("reed", "gaskets", "--seal", "pushers"), "has no pushers"),
        (("reed", "gaskets", "--seal", "crown=rubber"), "'rubber' is no material"),
        (("reed", "battery", "--seal", "crown"), "gaskets"),
        (("reed", "repaired"), "What was repaired?"),
        (("reed", "repaired", "fog"), "is no damage"),
        (("reed", "repaired", "water"), "is no damage"),
        (("reed", "pushers-damaged"), "has no pushers"),
        (("reed", "gas-valve-damaged"), "has no gas valve"),
        (("reed", "water"), "write water-inside for a fault, or log a contact with water with `logbook wet`"),
        (("reed", "crown"), "write crown-damaged for a fault, or gaskets --seal crown for a new gasket"),
        (("reed", "crystal"), "write crystal-damaged for a fault, or gaskets --seal crystal"),
        (("reed", "pushers"), "write pushers-damaged for a fault, or gaskets --seal pushers"),
        (("reed", "valve"), "write gas-valve-damaged for a fault, or gaskets --seal gas-valve"),
        (("reed", "pressure-test", "--failed"), "or that it is not known"),
        (("reed", "pressure-test", "--passed", "--bar", "9", "--to-mark"), "one pressure"),
        (("reed", "pressure-test", "--passed", "--bar-unknown", "--to-mark"), "one pressure"),
        (("reed", "pressure-test", "--passed", "--to-mark"), "air, vacuum or water"),
        (("reed", "battery", "--to-mark"), "Only a pressure test has a pressure"),
        (("reed", "battery", "--bar-unknown"), "Only a pressure test has a pressure"),
        (("reed", "battery", "--moved"), "Only a fall or blow"),
        (("reed", "knock", "--on", "2026-03-16"), "future"),
        (("reed", "battery", "--on", "2026-03-01..2026-03-16"), "future"),
        (("reed", "battery", "--on", "2026-03-02..2026-03-01"), "runs backwards"),
        (("reed", "battery", "--on", "2026-03-02.."), "has one end"),
        (("reed", "battery", "--crystal", "5C"), "fog"),
        (("reed", "fog", "--crystal", "5"), "has no unit"),
        (("reed", "fog", "--crystal", "278K"), "not in kelvin"),
        (("reed", "battery", "--order", "-1"), "out of range"),
    ],
)
def test_an_event_that_cannot_be_is_refused(cli: Cli, words: tuple[str, ...], expected: str) -> None:
    assert expected in cli.refused("event", *words)


@pytest.mark.parametrize("word", ["crown", "crystal", "crown-damaged"])
def test_a_repair_may_name_the_part_alone(cli: Cli, word: str) -> None:
    (entry,) = cli.json("event", "reed", "repaired", word)["entries"]
    assert entry["repaired"] == f"{word.removesuffix('-damaged')}-damaged"
    assert f"{word.removesuffix('-damaged')} repaired on" in cli.ok("event", "reed", "repaired", word)


def test_a_knock_keeps_whether_something_moved(cli: Cli) -> None:
    (entry,) = cli.json("event", "reed", "knock", "--moved", "--on", "2026-03-01")["entries"]
    assert (entry["kind"], entry["moved"], entry["order"]) == ("knock", True, 60)
    assert "fall or blow, something moved on 1 Mar 2026" in cli.ok(
        "event", "reed", "knock", "--moved", "--on", "2026-03-01"
    )
    assert "fall or blow, something moved" in " ".join(cli.ok("log", "reed").split())


TO_MARK = ("pressure-test", "--passed", "--to-mark", "--medium", "water")


def test_a_test_to_its_mark_keeps_the_pressure_that_the_mark_had_that_day(cli: Cli) -> None:
    (entry,) = cli.json("event", "reed", *TO_MARK)["entries"]
    assert (entry["test_pa"], entry["to_mark"]) == (20e5, True)
    cli.ok("watch", "edit", "reed", "--bar", "30")
    assert cli.everything()["events"][-1]["test_pa"] == 20e5
    assert "pressure test passed, to its mark" in cli.ok("log", "reed")


@pytest.mark.parametrize(
    ("mark", "constant"),
    [("water-resistant", "p_mark_unnumbered_bar"), ("unmarked", "p_mark_unmarked_bar")],
)
def test_a_mark_without_a_number_is_tested_to_what_it_is_taken_for(
    cli: Cli, mark: str, constant: str
) -> None:
    cli.ok("watch", "add", "Odd", "--mark", mark)
    practice = parse(shipped_path().read_text(encoding="utf-8"))
    assert cli.json("event", "odd", *TO_MARK)["entries"][0]["test_pa"] == practice[constant] * 1e5


def test_a_test_to_a_mark_that_is_not_known_is_refused(cli: Cli) -> None:
    cli.ok("watch", "add", "Odd", "--mark", "unknown")
    assert "The mark of Odd is not known" in cli.refused("event", "odd", *TO_MARK)


def test_a_pressure_that_is_not_known_is_said_to_be(cli: Cli) -> None:
    (entry,) = cli.json("event", "reed", "pressure-test", "--failed", "--bar-unknown")["entries"]
    assert (entry["test_pa"], entry["passed"]) == (None, False)
    assert "pressure test failed, pressure not kno" in " ".join(cli.ok("log", "reed").split())
    id_ = str(entry["id"])
    assert cli.json("amend", id_, "--note", "by the phone")["entries"][0]["test_pa"] is None
    assert cli.json("amend", id_, "--bar", "8", "--medium", "air")["entries"][0]["test_pa"] == 8e5
    told = cli.json("amend", id_, "--to-mark")["entries"][0]
    assert (told["test_pa"], told["to_mark"]) == (20e5, True)
    told = cli.json("amend", id_, "--bar-unknown")["entries"][0]
    assert (told["test_pa"], told["to_mark"]) == (None, False)


SPAN = ("--on", "2026-02-01..2026-02-28")


def test_of_days_between_which_it_was_a_pass_counts_on_the_first_and_all_else_on_the_last(cli: Cli) -> None:
    test = ("pressure-test", "--bar", "20", "--medium", "air", *SPAN)
    days = {
        name: cli.json("event", "reed", *words)["entries"][0]["on"]
        for name, words in {
            "pass": (*test, "--passed"),
            "failure": (*test, "--failed"),
            "dried": ("condensation-test", "--passed", *SPAN),
            "opening": ("opened", *SPAN),
            "knock": ("knock", *SPAN),
        }.items()
    }
    assert days == {
        "pass": "2026-02-01", "failure": "2026-02-28", "dried": "2026-02-01", "opening": "2026-02-28",
        "knock": "2026-02-28",
    }  # fmt: skip
    said = " ".join(cli.ok("event", "reed", "strap", *SPAN).split())
    assert "strap and bars changed between 1 Feb 2026 and 28 Feb 2026, counted on 28 Feb 2026" in said


def test_gaskets_of_a_span_may_have_been_fitted_on_any_day_of_it(cli: Cli) -> None:
    (entry,) = cli.json("event", "reed", "gaskets", "--seal", "crown=FKM", *SPAN)["entries"]
    assert entry["span"] == ["2026-02-01", "2026-02-28"]
    seal = next(s for s in cli.everything()["watches"][-1]["seals"] if s["event_id"] == entry["id"])
    assert (seal["fitted_earliest"], seal["fitted_latest"]) == ("2026-02-01", "2026-02-28")
    assert cli.json("doctor")["findings"] == []
    amended = cli.json("amend", str(entry["id"]), "--on", "2026-02-10")["entries"][0]
    assert (amended["on"], amended["span"]) == ("2026-02-10", None)
    seal = next(s for s in cli.everything()["watches"][-1]["seals"] if s["event_id"] == entry["id"])
    assert (seal["fitted_earliest"], seal["fitted_latest"]) == ("2026-02-10", "2026-02-10")


def test_a_result_amended_moves_a_span_to_the_day_that_counts_now(cli: Cli) -> None:
    (entry,) = cli.json(
        "event", "reed", "pressure-test", "--passed", "--bar", "20", "--medium", "air", *SPAN
    )["entries"]
    amended = cli.json("amend", str(entry["id"]), "--failed")["entries"][0]
    assert (amended["on"], amended["span"]) == ("2026-02-28", ["2026-02-01", "2026-02-28"])


def test_a_span_that_begins_before_the_watch_was_bought_begins_with_it(cli: Cli) -> None:
    (entry,) = cli.json("event", "lido", "opened", "--on", "2024-01-01..2024-12-31")["entries"]
    assert entry["span"] == ["2024-05-01", "2024-12-31"]


def test_an_opening_amended_to_the_day_of_a_test_is_said_to_be_before_it(cli: Cli) -> None:
    cli.ok("event", "reed", *AIR_TEST)
    opening = cli.ok("event", "reed", "battery", "--on", "2026-02-27").split()[0]
    said = " ".join(cli.ok("amend", opening, "--on", "2026-03-01").split())
    assert "Taken to be before that day's pressure test" in said


def test_what_is_done_on_the_day_of_a_test_is_said_to_be_before_it(cli: Cli) -> None:
    cli.ok("event", "reed", *AIR_TEST)
    said = " ".join(cli.ok("done", "1:movement", "--on", "2026-03-01").split())
    assert "Taken to be before that day's pressure test" in said
