"""What score, chance and visits make of bad constants, of hardly any record, and of dates that meet."""

from __future__ import annotations

import itertools
from pathlib import Path
from typing import Any

import pytest

from tests.cli.running import CAUTION_START, Cli

DAY = "2026-03-01"
STILL = ("--worn", "9", "--recorded-from", "2025-02-01", "--fitted", "2025-02-01")
DIVER = ("--mark", "divers", "--bar", "20", "--crown", "screwed", "--seals", "NBR", "--use", "diving")
PASSED = ("pressure-test", "--passed", "--bar", "20", "--medium", "water")
FAILED = ("pressure-test", "--failed", "--bar", "20", "--medium", "water")


@pytest.fixture
def diver(bare: Cli) -> Cli:
    """A diver's watch, on record since its seals were fitted, never tested and never wet."""
    bare.ok("watch", "add", "Reed green", *DIVER, *STILL)
    return bare


def codes(cli: Cli) -> list[str]:
    """The stop rules in force."""
    return [stop["code"] for stop in cli.score("reed")["stops"]]


def chance(cli: Cli) -> float | None:
    found: float | None = cli.json("chance", "reed")["chance"]
    return found


def crown(cli: Cli) -> dict[str, Any]:
    """The crown's seal as the score has it."""
    found: dict[str, Any] = next(s for s in cli.score("reed")["seals"] if s["position"] == "crown")
    return found


# --------------------------------------------------------------- constants out of range

PRIORS = [
    ("chance_scale", "value = 0.0\nlow = 0.0", 2, "the least is 0.01"),
    ("chance_scale", "value = -2.2", 2, "the least is 0.01"),
    ("chance_scale", "value = nan", 2, "a finite number belongs here"),
    ("chance_scale", "value = '2.2'", 2, "a number belongs"),
    ("chance_scale", "low = 6.0", 1, "5 is not from 6 to 8.348"),
    ("chance_scale", "high = 4.0", 1, "5 is not from 2.995 to 4"),
    ("chance_scale", "value = 9.0", 1, "9 is not from 2.995 to 8.348"),
    ("chance_scale", "value = 2.0\nlow = 4.0\nhigh = 1.0", 1, "2 is not from 4 to 1"),
    ("chance_shape", "value = 0.0\nlow = 0.0", 2, "the least is 0.1"),
    ("chance_shape", "high = 1000.0", 2, "the most is 20"),
    ("chance_hazard", "value = 0.0\nlow = 0.0", 2, "a positive number belongs here"),
    ("chance_hazard", "high = 1000.0", 2, "the most is 365"),
    ("chance_opening_a", "value = 0.0\nlow = 0.0", 2, "a positive number belongs here"),
    ("chance_opening_a", "value = -1.0\nlow = -1.0", 2, "a positive number belongs here"),
    ("chance_miss_a", "value = 600.0\nhigh = 600.0", 2, "the most is 50"),
    ("chance_alarm_b", "value = 1e6\nhigh = 1e6", 2, "the most is 200"),
    ("chance_mean_dive", "value = 1.5\nhigh = 1.5", 2, "the most is 1"),
    ("chance_low_dive", "high = 1.01", 2, "the most is 1"),
    ("chance_mean_else", "value = 90\nhigh = 90", 2, "the most is 1"),
    ("chance_low_else", "value = -0.1\nlow = -0.1", 2, "a positive number belongs here"),
    ("near_mark", "value = 60\nhigh = 60", 2, "the most is 1"),
    ("low_score", "value = 120\nhigh = 120", 2, "the most is 100"),
    ("m_spread", "value = 0.5\nlow = 0.5", 2, "the least is 1"),
    ("assumed_spread", "low = 0.4", 2, "the least is 1"),
    ("outlook_scale", "value = 1.0", 1, "no such constant"),
]  # fmt: skip
ASKS = [
    ("chance", "reed"),
    ("score", "reed"),
    ("check", "reed", "dive 18m 40min sea 15C"),
    ("wet", "reed: dive 18m 40min sea 15C"),
    ("event", "reed", *PASSED),
    ("visits",),
    ("constants",),
]


def override(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, text: str) -> Path:
    mine = tmp_path / "mine.toml"
    mine.write_text(text, encoding="utf-8")
    monkeypatch.setenv("LOGBOOK_PRACTICE", str(mine))
    return mine


@pytest.mark.parametrize(("constant", "lines", "line", "sentence"), PRIORS)
def test_a_prior_out_of_range_is_refused_with_file_line_and_key(
    diver: Cli, tmp_path: Path, monkeypatch: pytest.MonkeyPatch,
    constant: str, lines: str, line: int, sentence: str,
) -> None:  # fmt: skip
    mine = override(tmp_path, monkeypatch, f"[constants.{constant}]\n{lines}\n")
    said = " ".join(diver.refused("chance", "reed").split())
    assert said.startswith(f"{mine}, line {line}, constants.{constant}")
    assert sentence in said


@pytest.mark.parametrize("words", ASKS, ids=lambda words: words[0])
def test_no_command_reckons_or_writes_with_a_prior_out_of_range(
    diver: Cli, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, words: tuple[str, ...]
) -> None:
    override(tmp_path, monkeypatch, "[constants.chance_scale]\nvalue = -2.2\n")
    assert "constants.chance_scale.value" in diver.refused(*words)


@pytest.mark.parametrize(
    "last",
    [
        {"chance_opening_a": 50, "chance_opening_b": 200},
        {"chance_miss_a": 50},
        {"chance_alarm_b": 200},
        {"chance_opening_a": 1e-6, "chance_miss_a": 1e-6, "chance_alarm_a": 1e-6},
        {"chance_miss_a": 1e-6, "chance_miss_b": 1e-6},
        {"chance_hazard": 365},
        {"chance_hazard": 1e-6},
        {"chance_scale": 100},
        {"chance_scale": 0.01},
        {"chance_shape": 0.1},
        {"chance_shape": 20},
        {"chance_shape": (10, 1, 20)},
    ],
    ids=str,
)
@pytest.mark.filterwarnings("error")
def test_the_last_prior_that_is_allowed_still_gives_a_chance(
    diver: Cli, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, last: dict[str, float | tuple[float, ...]]
) -> None:
    diver.ok("event", "reed", "battery", "--on", "2025-05-01")
    diver.ok("event", "reed", *PASSED, "--on", "2025-06-01")
    text = ""
    for name, prior in last.items():
        value, low, high = prior if isinstance(prior, tuple) else (prior, prior, prior)
        text += f"[constants.{name}]\nvalue = {value}\nlow = {low}\nhigh = {high}\n"
    override(tmp_path, monkeypatch, text)
    document = diver.json("chance", "reed")
    assert 0 <= document["low"] <= document["chance"] <= document["high"] <= 1
    assert "after 1 test of yours" in " ".join(diver.ok("chance", "reed").split())


# --------------------------------------------------------------- no test, no water, no watch


def test_without_any_test_the_chance_is_never_shown_bare(bare: Cli) -> None:
    bare.ok("watch", "add", "Reed green", *DIVER, "--new-on", "2025-04-01", "--recorded-from", "2025-04-01")
    document = bare.json("chance", "reed")
    assert (document["tests_used"], document["prior_only"]) == (0, True)
    for words in (("chance", "reed"), ("score", "reed"), ("check", "reed", "dive 18m 40min sea 15C")):
        said = " ".join(bare.ok(*words).split())
        assert said.count("from common practice alone") == 1, words
        assert CAUTION_START in said


def test_the_makers_test_is_no_test_of_the_owners(bare: Cli) -> None:
    bare.ok("watch", "add", "Reed green", *DIVER, "--new-on", "2025-02-01", "--recorded-from", "2025-02-01")
    assert bare.json("chance", "reed")["tests_used"] == 0
    assert "never-tested" not in codes(bare)
    assert "from common practice alone" in " ".join(bare.ok("chance", "reed").split())


def test_a_condensation_test_is_none_either(diver: Cli) -> None:
    before = diver.json("chance", "reed")
    diver.ok("event", "reed", "condensation-test", "--passed", "--on", DAY)
    assert diver.json("chance", "reed") == before


@pytest.mark.parametrize("words", [("--since", "pass"), ("--since", "2025-06-01"), ("--since", "1990-01-01")])
def test_a_watch_that_was_never_wet_is_scored_and_says_so(diver: Cli, words: tuple[str, ...]) -> None:
    said = " ".join(diver.ok("score", "reed", *words).split())
    assert "No exposure on record in this time added to it." in said
    since = diver.json("score", "reed", *words)["since"]
    assert (since["by_exposures"], since["hardest"]) == (0, [])
    assert since["wear_share"] > 0  # the clock goes on
    for channel in ("pressure", "temperature", "salt", "chemicals"):
        assert since["channels"][channel] == 0


def test_a_time_of_no_length_took_nothing(diver: Cli) -> None:
    since = diver.json("score", "reed", "--since", "today")["since"]
    assert (since["from"], since["to"], since["wear_share"]) == ("2026-03-15", "2026-03-15", 0)


@pytest.mark.parametrize(
    ("day", "sentence"), [("2027-01-01", "is ahead: today is 2026-03-15"), ("never", "is not a date")]
)
def test_a_beginning_that_cannot_be_is_refused(diver: Cli, day: str, sentence: str) -> None:
    assert sentence in diver.refused("score", "reed", "--since", day)


def test_a_watch_that_was_never_wet_is_due_and_planned_like_any_other(diver: Cli) -> None:
    answer = diver("due", "--json")
    assert answer.code == 2
    assert [item["task"] for item in answer.json["items"]][:1] == ["pressure-test"]
    first, *_ = diver.json("visits")["visits"]
    assert first["window"][0] == "2026-03-15"
    assert "pressure-test" in {item["task"] for item in first["items"]}
    assert CAUTION_START in diver.ok("visits")


@pytest.mark.parametrize("words", [("chance", "reed"), ("score", "reed"), ("due",), ("visits",)])
def test_where_there_is_no_record_none_is_made(bare: Cli, words: tuple[str, ...]) -> None:
    answer = bare(*words)
    assert answer.code == 4
    assert "There is no record at" in answer.err
    assert not bare.file.exists()


# --------------------------------------------------------------- dates that meet


EVENTS = {
    "opened": ("event", "reed", "battery", "--on", DAY),
    "gaskets": ("event", "reed", "gaskets", "--all", "--on", DAY),
    "test": ("event", "reed", *PASSED, "--on", DAY),
    "water": ("wet", f"reed: dive 18m 41min sea 15C on {DAY}"),
    "fog": ("event", "reed", "fog", "--on", DAY),
}


def test_what_happened_on_one_day_stands_the_same_in_whatever_order_it_was_entered(
    bare: Cli, tmp_path: Path
) -> None:
    seen = []
    for n, order in enumerate(itertools.islice(itertools.permutations(EVENTS), 0, None, 23)):
        cli = Cli(tmp_path / f"{n}.logbook")
        cli.ok("watch", "add", "Reed green", *DIVER, *STILL)
        for name in order:
            cli.ok(*EVENTS[name])
        score = cli.score("reed")
        for each in score["since"]["hardest"]:
            del each["id"]
        visits = [(v["window"], [i["task"] for i in v["items"]]) for v in cli.json("visits")["visits"]]
        seen.append((score, cli.json("chance", "reed"), visits))
    assert len(seen) == 6
    assert all(each == seen[0] for each in seen)
    score, chanced, _ = seen[0]
    assert [stop["code"] for stop in score["stops"]] == ["water-inside"]
    assert chanced["chance"] is None
    # The dive of the day comes after the new gaskets and the test, and before the fog.
    assert [each["date"] for each in score["since"]["hardest"]] == [DAY]
    assert (score["since"]["from"], score["since"]["to"]) == (DAY, DAY)


def test_a_failure_stands_beside_a_pass_of_its_day_and_both_are_learned_from(diver: Cli) -> None:
    diver.ok("event", "reed", *FAILED, "--on", DAY)
    diver.ok("event", "reed", *PASSED, "--on", DAY)
    assert "failed-test" in codes(diver)
    assert chance(diver) is None
    assert diver.json("chance", "reed")["tests_used"] == 2
    diver.ok("event", "reed", *PASSED, "--on", "2026-03-02")
    assert codes(diver) == []
    assert chance(diver) is not None
    assert diver.json("chance", "reed")["tests_used"] == 3


@pytest.mark.parametrize(("order", "stands"), [((), False), (("--order", "41"), True)])
def test_a_failure_of_a_day_came_before_its_mending_unless_its_owner_says_otherwise(
    diver: Cli, order: tuple[str, ...], stands: bool
) -> None:
    diver.ok("event", "reed", "gaskets", "--all", "--on", DAY)
    diver.ok("event", "reed", *PASSED, "--on", DAY)
    diver.ok("event", "reed", *FAILED, "--on", DAY, *order)
    assert ("failed-test" in codes(diver)) is stands
    assert (chance(diver) is None) is stands


def test_of_two_seals_for_one_place_on_one_day_the_later_entered_is_in_place(diver: Cli) -> None:
    diver.ok("event", "reed", "gaskets", "--seal", "crown=FKM", "--on", DAY)
    diver.ok("event", "reed", "gaskets", "--seal", "crown=EPDM", "--on", DAY)
    assert (crown(diver)["material"], crown(diver)["fitted"]) == ("EPDM", DAY)
    (entry,) = diver.json("wet", f"reed: dive 18m 41min sea 15C on {DAY}")["entries"]
    assert crown(diver)["channels"]["salt"] == pytest.approx(entry["took"]["crown"]["salt"])
    diver.ok("undo")
    diver.ok("undo")
    assert crown(diver)["material"] == "FKM"


def test_one_place_twice_in_one_change_of_gaskets_is_refused(diver: Cli) -> None:
    said = diver.refused("event", "reed", "gaskets", "--seal", "crown=NBR,crown=FKM", "--on", DAY)
    assert "listed twice" in said


@pytest.mark.parametrize("fault", ["fog", "water-inside"])
def test_a_fault_on_the_day_of_the_fitting_stands_until_it_was_opened_and_passed(
    diver: Cli, fault: str
) -> None:
    diver.ok("event", "reed", fault, "--on", "2025-02-01")
    assert chance(diver) is None
    diver.ok("event", "reed", *PASSED, "--on", "2025-02-01")  # before the fault, by the order of the day
    assert "water-inside" in codes(diver)
    assert chance(diver) is None
    diver.ok("event", "reed", "opened", "--on", "2025-02-01", "--order", "70")
    diver.ok("event", "reed", *PASSED, "--on", "2025-02-01", "--order", "71")
    assert codes(diver) == ["test-overdue"]  # passed thirteen months ago
    assert chance(diver) is not None


def test_a_test_before_the_gaskets_of_its_day_is_no_pass_of_theirs(diver: Cli) -> None:
    diver.ok("event", "reed", "gaskets", "--all", "--on", DAY)
    diver.ok("event", "reed", *PASSED, "--on", DAY, "--order", "15")
    assert "opened-untested" in codes(diver)
    assert chance(diver) is None
    diver.ok("event", "reed", *PASSED, "--on", DAY)
    assert chance(diver) is not None
    assert diver.json("chance", "reed")["tests_used"] == 2


def test_everything_on_the_day_the_watch_is_added_is_taken(bare: Cli) -> None:
    today = "2026-03-15"
    bare.ok("watch", "add", "Reed green", *DIVER, "--bought", today, "--fitted", today, "--tested", today,
            "--tested-bar", "20")  # fmt: skip
    bare.ok("wet", "reed: dive 18m 41min sea 15C")
    bare.ok("event", "reed", "strap")
    assert bare.score("reed")["score"] == 98
    assert bare.json("chance", "reed")["tests_used"] == 1
    assert bare.json("score", "reed", "--since", "pass")["since"]["from"] == today


# --------------------------------------------------------------- a series in a file

SERIES = [
    ("time_s,value\n0,1\n1,2\n1,3\n2,0\n", "Row 4"),
    ("time_s,value\n2,1\n1,2\n0,3\n", "Row 3 goes back in time"),
    ("time_s,value\n0,1\n1,1e308\n2,-1e308\n", "Row 3, column value: 1e+308 is beyond 1e+100"),
    ("time_s,value\n0,1\n1,2\n1,0\n", "Row 4 repeats a time: 1 s after 1 s"),
    ("time_s,value\n0,1\n1,nan\n2,0\n", "Row 3, column value: 'nan' is not a number"),
    ("time_s,value\n0,1\n1,-inf\n2,0\n", "Row 3, column value"),
    ("time_s,value\n0,1\nnan,2\n2,0\n", "Row 3, column time_s"),
    ("time_s,value\n0,1\n1,\n2,0\n", "Row 3, column value: '' is not a number"),
    ("time_s,value\n0,1\n1,2,5 m\n2,\n", "Row 4, column value"),
    ("value\n1\n2\n", "needs the columns time_s and value"),
]


@pytest.mark.parametrize(("text", "sentence"), SERIES)
def test_a_series_that_cannot_be_is_refused_with_its_row(bare: Cli, text: str, sentence: str) -> None:
    assert sentence in bare.refused("bench", "cycles", "-", stdin=text)
    assert not bare.file.exists()


@pytest.mark.parametrize("text", ["time_s,value\n", "time_s,value\n7,3\n", "time_s,value\n0,2\n9,2\n"])
def test_a_series_that_never_turns_has_no_cycle(bare: Cli, text: str) -> None:
    assert bare.json("bench", "cycles", "-", stdin=text)["cycles"] == []
    assert "No cycle" in bare.ok("bench", "cycles", "-", stdin=text)


def test_a_gap_in_a_series_is_a_straight_line(bare: Cli) -> None:
    near = "time_s,value\n0,0\n1,5\n2,1\n3,4\n4,0\n"
    far = "time_s,value\n0,0\n1,5\n900000,1\n900001,4\n900002,0\n"
    assert bare.json("bench", "cycles", "-", stdin=near) == bare.json("bench", "cycles", "-", stdin=far)
