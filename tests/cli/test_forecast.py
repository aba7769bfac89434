"""`logbook forecast`, and the bands and dates of it where scores and due dates are printed."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest

from logbook.text.foretold import NOT_A_PROMISE
from tests.cli.running import CAUTION_START, TODAY, Cli

SEAL_KEYS = {"position", "material", "p10", "p50", "p90", "driver", "cap_on"}
KEYS = {
    "name", "on", "seals", "fixed_interval_date", "horizon", "weeks_of_record", "from_stated_use",
    "planned_days", "date_at_values", "sensitivity", "clock_behind_by", "caution",
}  # fmt: skip
CHANNELS = {"ageing", "pressure", "temperature", "salt", "chemicals", "handling"}
TRIP = ("plan", "reed", "dive 30m 60min sea 10C not rinsed", "--from", "2026-04-01", "--to", "2026-04-20")


def seal(document: Any, position: str = "crown") -> Any:
    """The forecast of one place."""
    return next(found for found in document["seals"] if found["position"] == position)


def day(text: str | None) -> date:
    """A day of a forecast; beyond the horizon is the last day there is."""
    return date.fromisoformat(text) if text else date.max


def flat(text: str) -> str:
    """A text with its line ends and runs of blanks as one blank."""
    return " ".join(text.split())


def test_the_keys_that_others_rely_on(wet_cli: Cli) -> None:
    document = wet_cli.json("forecast", "reed")
    assert set(document) == KEYS
    assert [set(found) for found in document["seals"]] == [SEAL_KEYS] * 3
    assert {found["position"] for found in document["seals"]} == {"case-back", "crystal", "crown"}
    assert (document["name"], document["on"], document["horizon"]) == ("Reed green", TODAY, "2036-03-02")
    # 36 months after 1 Feb 2025: common practice, no source.
    assert document["fixed_interval_date"] == "2028-02-01"
    assert (document["weeks_of_record"], document["from_stated_use"], document["planned_days"]) == (
        58, False, 0,
    )  # fmt: skip
    assert document["caution"].startswith(CAUTION_START)


def test_each_seal_has_its_days_in_order_and_what_drives_it(wet_cli: Cli) -> None:
    seals = wet_cli.json("forecast", "reed")["seals"]
    for found in seals:
        assert date.fromisoformat(TODAY) < day(found["p10"]) < day(found["p50"]) < day(found["p90"])
        assert found["driver"] in CHANNELS
        assert (found["material"], found["cap_on"]) == ("NBR", "2032-02-01")  # class B of ISO 2230: 7 years
    middles = [day(found["p50"]) for found in seals]
    assert middles == sorted(middles)


def test_what_moves_it_most_comes_first(wet_cli: Cli) -> None:
    levers = wet_cli.json("forecast", "reed")["sensitivity"]
    assert all(set(lever) == {"constant", "at_low", "at_high", "days"} for lever in levers)
    apart = [lever["days"] for lever in levers]
    assert apart == sorted(apart, reverse=True)
    assert min(apart) >= 1
    life = next(lever for lever in levers if lever["constant"] == "years NBR")
    assert day(life["at_low"]) < day(life["at_high"])
    assert (day(life["at_high"]) - day(life["at_low"])).days == pytest.approx(life["days"], abs=1)


def test_in_words_it_says_window_basis_every_seal_and_what_moves_it(wet_cli: Cli) -> None:
    document = wet_cli.json("forecast", "reed")
    text = wet_cli.ok("forecast", "reed")
    assert flat(text).startswith("Reed green: its crown seal is used up between ")
    assert "Ways ahead: from its last 58 weeks, by season." in text
    rows = {line.split("  ")[0]: line for line in text.splitlines()}
    for found in document["seals"]:
        row = rows[found["position"].replace("-", " ")]
        days = [f"{d.day} {d:%b %Y}" for d in (day(found[p]) for p in ("p10", "p50", "p90", "cap_on"))]
        assert flat(row).endswith(f"{days[0]} {days[1]} {days[2]} {found['driver']} {days[3]}")
    assert "By the fixed interval alone its gaskets are due on 1 Feb 2028." in text
    assert "What moves the crown seal’s date most: " in text
    assert "life of NBR: " in text
    assert text.index(NOT_A_PROMISE) < text.index(CAUTION_START)
    assert "NaN" not in text
    assert "None" not in text
    assert max(map(len, text.splitlines())) <= 80


def test_the_same_record_gives_the_same_answer(wet_cli: Cli) -> None:
    first = wet_cli("forecast", "reed", "--json")
    assert wet_cli("forecast", "reed", "--json") == first
    assert wet_cli("forecast", "reed", "--seed", "1", "--json") == first
    assert wet_cli("forecast", "reed") == wet_cli("forecast", "reed")


def test_another_seed_gives_another_answer_that_is_near(wet_cli: Cli) -> None:
    one, other = wet_cli.json("forecast", "reed"), wet_cli.json("forecast", "reed", "--seed", "2")
    assert one["seals"] != other["seals"]
    assert wet_cli.json("forecast", "reed", "--seed", "2") == other
    assert wet_cli.json("forecast", "reed", "--seed", "9" * 18)["seals"] != one["seals"]
    for found in one["seals"]:
        for point in ("p10", "p50", "p90"):
            ahead = (day(found[point]) - date.fromisoformat(TODAY)).days
            moved = (day(seal(other, found["position"])[point]) - day(found[point])).days
            assert abs(moved) < 0.1 * ahead
    # What moves it is reckoned without chance.
    assert one["sensitivity"] == other["sensitivity"]


@pytest.mark.parametrize("seed", ["-1", "x", "1.5", "", "1e3", "٣", "²", "9" * 19, "\x1b[31m"])
def test_a_seed_that_is_none_is_refused(cli: Cli, seed: str) -> None:
    told = cli.refused("forecast", "reed", "--seed", seed)
    assert "--seed is a whole number from 0 up, such as 2, not" in told
    assert "\x1b" not in told


def test_a_watch_that_is_not_there_is_refused(cli: Cli) -> None:
    assert "no watch" in cli.refused("forecast", "nobody").lower()
    assert "WATCH" in cli.refused("forecast")


def test_without_a_record_there_is_nothing_to_foretell(bare: Cli) -> None:
    answer = bare("forecast", "reed")
    assert (answer.code, answer.out) == (4, "")
    assert "There is no record" in answer.err


def test_a_retired_watch_has_no_forecast(wet_cli: Cli) -> None:
    wet_cli.ok("watch", "retire", "Reed green")
    document = wet_cli.json("forecast", "reed")
    assert (document["seals"], document["fixed_interval_date"], document["sensitivity"]) == ([], None, [])
    assert document["caution"].startswith(CAUTION_START)
    text = wet_cli.ok("forecast", "reed")
    assert "Reed green: no forecast for a watch that is retired or has no seal on record." in text
    assert CAUTION_START in text


def test_a_planned_trip_shortens_the_time_and_is_said(wet_cli: Cli) -> None:
    before = wet_cli.json("forecast", "reed")
    wet_cli.ok(*TRIP)
    after = wet_cli.json("forecast", "reed")
    assert after["planned_days"] == 20
    for found in after["seals"]:
        for point in ("p10", "p50", "p90"):
            assert day(found[point]) < day(seal(before, found["position"])[point])
    text = flat(wet_cli.ok("forecast", "reed"))
    assert "by season, and 20 planned days of water" in text
    assert "with every constant at its value and nothing planned, and each alone:" in text


def test_a_trip_that_is_over_or_of_another_watch_changes_nothing(wet_cli: Cli) -> None:
    before = wet_cli.json("forecast", "lido")
    wet_cli.ok(*TRIP)
    assert wet_cli.json("forecast", "lido") == before
    wet_cli.today = "2026-05-01"
    assert wet_cli.json("forecast", "reed")["planned_days"] == 0


def test_a_habit_shortens_the_time(wet_cli: Cli) -> None:
    before = seal(wet_cli.json("forecast", "reed"))
    wet_cli.ok("habit", "reed", "shower", "--per", "day", "1", "--from", "2026-03-15")
    after = seal(wet_cli.json("forecast", "reed"))
    assert day(after["p50"]) < day(before["p50"])
    assert after["driver"] == "chemicals"


def test_new_gaskets_lengthen_it_for_their_place_alone(wet_cli: Cli) -> None:
    before = wet_cli.json("forecast", "reed")
    wet_cli.ok("event", "reed", "gaskets", "--seal", "crown=NBR", "--on", "2026-03-10")
    after = wet_cli.json("forecast", "reed")
    assert day(seal(after)["p50"]) > day(seal(before)["p50"]) + timedelta(days=180)
    for place in ("case-back", "crystal"):
        assert seal(after, place) == seal(before, place)


def test_units_change_nothing(wet_cli: Cli) -> None:
    wet_cli.ok(*TRIP)
    metric = wet_cli.json("forecast", "reed", "--units", "metric")
    assert wet_cli.json("forecast", "reed", "--units", "imperial") == metric


def test_it_goes_by_the_day_that_is_asked_about(wet_cli: Cli) -> None:
    before = wet_cli.json("forecast", "reed")
    wet_cli.today = "2026-05-10"
    after = wet_cli.json("forecast", "reed")
    assert (after["on"], after["weeks_of_record"]) == ("2026-05-10", 66)
    assert after["seals"] != before["seals"]
    assert after["fixed_interval_date"] == before["fixed_interval_date"]


def added_on(bare: Cli, recorded_from: str) -> Any:
    """The forecast of a watch for swimming whose record begins on a day, and how it reads."""
    bare.ok(
        "watch", "add", "Fresh", "--bar", "10", "--use", "swimming", "--seals", "NBR", "--fitted",
        "2026-01-01", "--recorded-from", recorded_from,
    )  # fmt: skip
    return bare.json("forecast", "fresh"), flat(bare.ok("forecast", "fresh"))


def test_under_eight_weeks_it_rests_on_the_stated_use_and_says_so(bare: Cli) -> None:
    document, text = added_on(bare, "2026-01-19")  # 55 days before
    assert (document["weeks_of_record"], document["from_stated_use"]) == (7, True)
    assert "Ways ahead: only 7 weeks on record: from its stated use, swimming, with its wide band." in text
    assert "use before the log began: " in text
    assert "stated use" in {lever["constant"] for lever in document["sensitivity"]}


def test_from_eight_weeks_on_it_rests_on_the_record(bare: Cli) -> None:
    dry, said = added_on(bare, "2026-01-18")  # 56 days before
    assert (dry["weeks_of_record"], dry["from_stated_use"]) == (8, True)
    assert (
        "Ways ahead: no water in 8 weeks on record: from its stated use, swimming, with its wide band."
        in said
    )
    bare.ok("wet", "fresh: dive 18m 40min sea 17C rinsed on 2026-02-20")
    document, text = bare.json("forecast", "fresh"), flat(bare.ok("forecast", "fresh"))
    assert (document["weeks_of_record"], document["from_stated_use"]) == (8, False)
    assert "from its last 8 weeks, by season; seasons it has not seen are taken from the rest" in text


def test_a_drawer_watch_lasts_beyond_the_horizon(bare: Cli) -> None:
    bare.ok(
        "watch", "add", "Drawer", "--bar", "3", "--use", "dry", "--seals", "FKM", "--worn", "0", "--winds",
        "0", "--fitted", "2025-12-01", "--recorded-from", "2025-12-01",
    )  # fmt: skip
    document = bare.json("forecast", "drawer")
    assert {found["p90"] for found in document["seals"]} == {None}
    text = bare.ok("forecast", "drawer")
    assert "> 10 years" in text
    assert "beyond 10 years" in flat(text)
    assert "…" not in text
    assert max(map(len, text.splitlines())) <= 80


def test_what_is_used_up_already_says_since_when(wet_cli: Cli) -> None:
    wet_cli.ok("habit", "reed", "hot tub", "--per", "day", "2", "--from", "2025-02-01")
    text = flat(wet_cli.ok("forecast", "reed"))
    assert "its crown seal is likely used up already: half of the ways ahead since " in text
    found = seal(wet_cli.json("forecast", "reed"))
    assert date(2025, 2, 1) < day(found["p10"]) < day(found["p90"]) < date.fromisoformat(TODAY)


def test_a_nickname_is_text_and_no_markup(bare: Cli) -> None:
    name = "[bold]x[/bold] %s {0}"
    bare.ok("watch", "add", name, "--bar", "3", "--fitted", "2026-01-01")
    assert bare.ok("forecast", name).startswith(f"{name}: its ")
    assert bare.json("forecast", name)["name"] == name


@pytest.mark.parametrize("command", [("shelf",), ("score", "reed"), ("forecast", "reed"), ("due",)])
def test_every_document_with_a_band_or_a_date_has_the_caution(wet_cli: Cli, command: tuple[str, ...]) -> None:
    assert wet_cli(*command, "--json").json["caution"].startswith(CAUTION_START)


def test_the_score_has_its_band_and_the_first_window(wet_cli: Cli) -> None:
    document = wet_cli.score("reed")
    assert 0 <= document["low"] <= document["score"] <= document["high"] <= 100
    for found in document["seals"]:
        assert found["low"] < found["wear_share"] < found["high"]
    text = flat(wet_cli.ok("score", "reed"))
    assert f"{document['low']}–{document['high']}" in text
    window = flat(wet_cli.ok("forecast", "reed")).split(". ")[0].removeprefix("Reed green: its ")
    assert f"By its forecast the {window}" in text
