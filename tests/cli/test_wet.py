"""`logbook wet`."""

from __future__ import annotations

import pytest

from tests.cli.running import CAUTION_START, Cli, without_cost

DIVE = "reed: dive 21m 38min sea 17C rinsed on 2026-03-14 10:40"


def test_a_line_becomes_an_exposure_with_its_id_and_what_it_cost(cli: Cli) -> None:
    document = cli.json("wet", DIVE)
    (entry,) = document["entries"]
    assert (entry["watch"], entry["activity"], entry["depth_m"], entry["duration_s"]) == (
        "Reed green",
        "dive",
        21.0,
        2280,
    )
    assert (entry["water_c"], entry["rinsed"], entry["starts_on"], entry["starts_at"]) == (
        17.0,
        True,
        "2026-03-14",
        "10:40:00",
    )
    assert entry["took"]["crown"]["total"] > entry["took"]["crystal"]["total"] > 0
    assert document["caution"].startswith(CAUTION_START)
    assert entry["id"] in [e["id"] for e in cli.everything()["exposures"]]


def test_the_plain_answer_names_the_watch_and_the_seal_that_paid_most(cli: Cli) -> None:
    text = cli.ok("wet", DIVE)
    first = " ".join(text.split("\n\n")[0].split())
    assert "Reed green: 14 Mar 2026 10:40, dive 21 m, 38 min, sea 17 °C, rinsed: took 0." in first
    assert first.endswith("of 100 (crown)")
    assert CAUTION_START in text


def test_what_an_entry_means_for_the_next_one_is_said_in_both_answers(cli: Cli) -> None:
    (harmless,) = cli.json("wet", DIVE)["entries"]
    assert harmless["meaning"] == []
    deep = "paper: dive 40m 20min sea 15C"
    (entry,) = cli.json("wet", deep)["entries"]
    assert entry["meaning"]
    assert all("mark" in sentence or "proof" in sentence for sentence in entry["meaning"])
    said = " ".join(cli.ok("wet", deep).split())
    assert all(sentence in said for sentence in entry["meaning"])


def test_what_a_dive_took_lowers_nothing_but_its_own_watch(cli: Cli) -> None:
    before = {name: cli.score(name)["seals"] for name in ("reed", "lido")}
    taken = cli.json("wet", DIVE)["entries"][0]["took"]["crown"]["total"]
    after = {name: cli.score(name)["seals"] for name in ("reed", "lido")}
    share = {s["position"]: s["wear_share"] for s in after["reed"]}["crown"]
    assert share - {s["position"]: s["wear_share"] for s in before["reed"]}["crown"] == pytest.approx(
        taken, abs=1e-9
    )
    assert after["lido"] == before["lido"]


def test_several_lines_are_one_step_of_undo(cli: Cli) -> None:
    before = cli.everything()
    assert len(cli.json("wet", DIVE, "lido: pool 60min on 2026-03-13")["entries"]) == 2
    cli.ok("undo")
    assert cli.everything() == before


def test_standard_input_is_read_line_by_line(cli: Cli) -> None:
    document = cli.json("wet", "-", stdin="paper: rain on 2026-03-14\n\n  lido: hands on 2026-03-13\n")
    assert [e["activity"] for e in document["entries"]] == ["rain", "hands"]


def test_all_lines_or_none(cli: Cli) -> None:
    sentence = cli.refused("wet", DIVE, "lido: pool flurb")
    assert sentence.startswith("Entry 2: 'flurb' is not understood")


def test_a_caret_stands_under_the_word_that_was_not_understood(cli: Cli) -> None:
    said, line, caret = cli.refused("wet", "reed green: dive 21m flurb 38min").splitlines()
    assert "'flurb'" in said
    assert line == "reed green: dive 21m flurb 38min"
    assert caret == " " * line.index("flurb") + "^"


def test_the_caret_counts_columns_of_the_terminal_not_letters(cli: Cli) -> None:
    cli.ok("watch", "add", "水色")
    _, line, caret = cli.refused("wet", "水色: rain flurb").splitlines()
    assert caret.index("^") == line.index("flurb") + 2  # two letters, two columns each


def test_a_long_line_is_shown_around_the_word(cli: Cli) -> None:
    answer = cli.refused("wet", f"reed: dive 21m 38min {'rinsed ' * 40} flurb")
    _, line, caret = answer.splitlines()
    assert len(line) <= 80
    assert line[caret.index("^") :].startswith("rinsed")  # a field that was given already


def test_the_json_of_a_refusal_has_the_column(cli: Cli) -> None:
    error = cli("wet", "reed: dive flurb", "--json").json["error"]
    assert (error["code"], error["column"], error["line"]) == ("not-understood", 11, "reed: dive flurb")


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("reed: dive 900m 10min", "Did you mean 900 ft"),
        ("reed: dive 20m 49h", "two days"),
        ("reed: dive 20m 0min", "above 0"),
        ("reed: dive 20m 40min 290K", "16.85C"),
        ("reed: dive 20m 40min 290C", "17 °C"),
        ("reed: dive 20m 40min 68C", "Did you mean 68 °F"),
        ("reed: sauna 200C", "hot"),
        ("reed: dive 20 40min", "needs its unit"),
        ("reed: dive 20m", "How long was it?"),
        ("reed: dive 40min", "How deep was it?"),
        ("reed: dive 20m 30m 40min", "already given"),
        ("reed: dive 20m 40min rinsed not rinsed", "already given"),
        ("reed: dive 20m 40min brackish 50", "42"),
        ("reed: pool salinity 20", "salinity"),
        ("reed: dive 20m 40min pusher wet", "has no pushers"),
        ("reed: sauna crown under water", "under water"),
        ("reed: sauna jump 3m", "no jump"),
        ("reed: dive 20m 40min 600 dips", "slip of the finger"),
        ("reed: dive 20m 40min jump 50m", "out of range"),
        ("reed: dive 20m 40min on 2026-03-16", "lies in the future"),
        ("reed: dive 20m 40min tomorrow", "lies in the future"),
        ("lido: pool on 2024-04-30", "before the watch's own first date, 2024-05-01"),
        ("reed: dive 20m 40min on 03/04/2026", "day first or month first"),
        ("reed: dive 20m 40min on 2026-02-30", "not in the calendar"),
        ("reed: dive 20m 40min at 25:00", "not a time of day"),
        ("reed: dive 20m 40min zone Atlantis", "not a time zone"),
        ("reed: dvie 20m 40min", "Did you mean dive?"),
        ("reed: dive 20m 40min rinced", "Did you mean rinsed?"),
        ("red green: rain", "did you mean Reed green?"),
        ("nobody: rain", "There is no watch 'nobody'"),
        ("rain", "begins with the watch and a colon"),
        (": rain", "Which watch?"),
        ("reed:", "What was it?"),
        ("reed: shower 10m", "'10m' reads as 10 metres deep, more than a shower's 0.5 m: write 10min"),
        ("reed: dive 1h 30m", "write 1h30min, or 60min 30m"),
        ("reed: rain -- a\x07bell", "control character"),
        ("reed: rain \x1b[31mred", "\\x1b"),
    ],
)
def test_a_line_that_cannot_be_is_refused_with_what_would_be_right(
    cli: Cli, line: str, expected: str
) -> None:
    sentence = cli.refused("wet", line)
    assert expected in sentence
    assert "\x1b" not in sentence


def test_input_that_is_no_text_is_refused(cli: Cli) -> None:
    assert cli.refused("wet", "-", stdin=b"reed: rain -- \xff\n") == "The input is not UTF-8 text.\n"


def test_nothing_to_log_is_said(cli: Cli) -> None:
    assert "no entry to log" in cli.refused("wet", "-", stdin="\n \n")


def test_water_before_the_record_is_kept_and_not_charged(cli: Cli) -> None:
    document = cli.json("wet", "paper: rain on 2026-02-02")
    assert document["entries"][0]["took"] == {}
    cli.ok("undo")
    text = " ".join(cli.ok("wet", "paper: rain on 2026-02-02").split())
    assert "not charged: its water is on record from 2026-03-15 only" in text


def test_that_it_is_not_charged_is_said_with_the_way_to_move_the_start(cli: Cli) -> None:
    text = " ".join(cli.ok("wet", "paper: rain on 2026-02-02", "paper: rain on 2026-02-01").split())
    assert "2 of Paper white are from before 15 Mar 2026" in text
    assert "kept, but not charged" in text
    assert "`logbook watch edit NAME --recorded-from 2026-02-01`" in text
    (told,) = cli.json("wet", "paper: rain 3 feb")["not_charged"]
    assert (told["watch"], told["first"], told["count"]) == ("Paper white", "2026-02-03", 1)
    assert "--recorded-from 2026-02-03" in told["sentence"]
    assert "not_charged" not in cli.json("wet", "paper: rain")


@pytest.mark.parametrize(
    ("answer", "moved"), [("y\n", True), ("n\n", False), ("", False), ("what?\n", False)]
)
def test_at_a_terminal_it_is_asked_whether_the_record_begins_earlier(
    cli: Cli, monkeypatch: pytest.MonkeyPatch, answer: str, moved: bool
) -> None:
    monkeypatch.setattr("logbook.cli.asking.can_ask", lambda asked: True)
    cli.ok("watch", "edit", "paper", "--fitted", "2025-06-01")
    said = cli("wet", "paper: swim on 2026-02-02", stdin=answer)
    assert said.code == 0
    question = " ".join(said.err.split())
    assert "Paper white has its water on record from 15 Mar 2026 only" in question
    assert "Is all its water since 2 Feb 2026 in the log now, so that it counts from then? [y/n]" in question
    (watch,) = [w for w in cli.everything()["watches"] if w["name"] == "Paper white"]
    assert watch["recorded_from"] == ("2026-02-02" if moved else "2026-03-15")
    text = " ".join(said.out.split())
    assert (": took " in text) is moved
    assert ("kept, but not charged" in text) is not moved


def test_what_wet_prints_is_what_the_record_holds(cli: Cli) -> None:
    entries = cli.json("wet", DIVE, "lido: swim 40min brackish 12 14C 2 dips rinsed on yesterday -- cold")[
        "entries"
    ]
    assert without_cost(entries) == sorted(cli.everything()["exposures"], key=lambda e: e["id"])


def test_feet_and_fahrenheit_are_printed_where_asked(cli: Cli) -> None:
    assert "dive 69 ft, 38 min, sea 63 °F" in " ".join(cli.ok("wet", DIVE, "--units", "imperial").split())
