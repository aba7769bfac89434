"""`logbook score`."""

from __future__ import annotations

import math

import pytest

from tests.cli.running import CAUTION_START, Cli

CHANNELS = ("ageing", "pressure", "temperature", "salt", "chemicals", "handling")


def test_the_keys_that_others_rely_on(wet_cli: Cli) -> None:
    document = wet_cli.json("score", "Reed green")
    assert set(document) >= {"name", "score", "low", "high", "seals", "stops", "caution"}
    for seal in document["seals"]:
        assert set(seal) >= {
            "position",
            "material",
            "fitted",
            "wear_share",
            "low",
            "high",
            "channels",
            "assumed",
            "history",
        }
        assert tuple(seal["channels"]) == CHANNELS
    assert document["caution"].startswith(CAUTION_START)


def test_the_channels_add_up_to_the_wear_share(wet_cli: Cli) -> None:
    for seal in wet_cli.score("reed")["seals"]:
        assert sum(seal["channels"].values()) == pytest.approx(seal["wear_share"])


def test_the_score_is_what_the_worst_seal_has_left_rounded_down(wet_cli: Cli) -> None:
    document = wet_cli.score("reed")
    worst = max(document["seals"], key=lambda seal: seal["wear_share"])
    assert document["score"] == math.floor(100 * (1 - worst["wear_share"]))
    assert document["limiting_seal"] == worst["position"]


def test_a_known_fitting_is_one_date_and_an_unknown_one_a_span(cli: Cli) -> None:
    assert {s["fitted"] for s in cli.score("reed")["seals"]} == {"2025-02-01"}
    assert {s["fitted"] for s in cli.score("paper")["seals"]} == {"2019-03-15..2026-03-15"}


def test_an_unknown_history_is_left_open_not_guessed(cli: Cli) -> None:
    for seal in cli.score("paper")["seals"]:
        assert seal["history"]["low"] < seal["wear_share"] < seal["history"]["high"]
        assert seal["assumed"] > 0
        assert seal["low"] <= seal["history"]["low"]
        assert seal["history"]["high"] <= seal["high"]
    for seal in cli.score("reed")["seals"]:
        assert seal["history"]["low"] == seal["history"]["high"] == seal["wear_share"]
        assert seal["low"] < seal["wear_share"] < seal["high"]
        assert seal["assumed"] == 0


def test_every_stop_rule_in_force_has_its_sentence(cli: Cli) -> None:
    cli.ok("event", "reed", "fog", "--on", "2026-03-01")
    stops = cli.score("reed")["stops"]
    assert [s["code"] for s in stops] == ["fault-open"]
    assert stops[0]["sentence"].startswith("fog was seen inside on 1 Mar 2026")
    assert "keep it dry: fog was seen inside on 1 Mar 2026" in cli.ok("score", "reed")


def test_the_text_tells_share_channel_and_caution(wet_cli: Cli) -> None:
    text = wet_cli.ok("score", "reed")
    document = wet_cli.score("reed")
    band = f"likely {document['low']}–{document['high']} (80 % band)"
    assert f"score {document['score']} of 100, {band}" in text
    assert "Ageing had the largest part at the" in text
    assert "No stop rule is in force" in text
    assert CAUTION_START in text
    assert max(len(line) for line in text.splitlines()) <= 80


def test_the_beginning_of_a_name_is_enough_while_it_is_one_watch(cli: Cli) -> None:
    cli.ok("watch", "add", "Reed brown")
    assert cli.score("reed g")["name"] == "Reed green"
    answer = cli("score", "reed")
    assert answer.code == 3
    assert "Reed brown and Reed green" in answer.err


def test_an_unknown_watch_gets_the_nearest_name(cli: Cli) -> None:
    answer = cli("score", "lido crono", "--json")
    assert answer.code == 3
    assert answer.json["error"]["code"] == "not-found"
    assert "Lido chrono" in answer.json["error"]["message"]


def test_more_water_never_raises_a_score(cli: Cli) -> None:
    last = cli.score("lido")["score"]
    for day in range(1, 6):
        cli.ok("wet", f"lido: pool 60min on 2026-03-0{day}")
        score = cli.score("lido")["score"]
        assert score <= last
        last = score


def test_other_constants_are_reckoned_with_at_once(
    cli: Cli, monkeypatch: pytest.MonkeyPatch, tmp_path: object
) -> None:
    cli.ok("wet", "lido: pool 60min on 2026-03-14")
    before = {s["position"]: s["channels"]["chemicals"] for s in cli.score("lido")["seals"]}
    override = cli.file.with_name("practice.toml")
    override.write_text("[constants.H_pool]\nvalue = 150.0\nlow = 75.0\n", encoding="utf-8")
    monkeypatch.setenv("LOGBOOK_PRACTICE", str(override))
    after = {s["position"]: s["channels"]["chemicals"] for s in cli.score("lido")["seals"]}
    assert after == pytest.approx({position: 2 * share for position, share in before.items()}, abs=1e-9)
