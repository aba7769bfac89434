"""`logbook score`."""

from __future__ import annotations

import math
import re

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
    assert {s["fitted"] for s in cli.score("paper")["seals"]} == {
        "1996-03-15..2026-03-15"
    }  # 30 years: nothing is known


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


SPANNED = ("watch", "add", "Spanned", "--bar", "10", "--use", "swimming", "--seals", "NBR", "--worn", "6")
RANGE = "2025-01-01..2025-12-31"  # its middle is 2 July


@pytest.mark.parametrize(("day", "counts"), [("2025-07-01", False), ("2025-07-02", True)])
def test_water_before_the_middle_of_an_uncertain_fitting_widens_its_history_alone(
    bare: Cli, day: str, counts: bool
) -> None:
    bare.ok(*SPANNED, "--fitted", RANGE, "--recorded-from", "2025-01-01")
    before = {seal["position"]: seal for seal in bare.score("spanned")["seals"]}
    (entry,) = bare.json("wet", f"spanned: pool 60min 27C on {day}")["entries"]
    assert set(entry["took"]) == (set(before) if counts else set())
    said = bare.ok("log", "spanned")
    assert ("–" in said) is not counts
    for seal in bare.score("spanned")["seals"]:
        was = before[seal["position"]]
        took = seal["history"]["high"] - was["history"]["high"]
        assert took > 1e-4
        gained = took if counts else 0
        assert seal["wear_share"] - was["wear_share"] == pytest.approx(gained, abs=2e-9)
        assert seal["history"]["low"] - was["history"]["low"] == pytest.approx(gained, abs=2e-9)
        if counts:
            assert entry["took"][seal["position"]]["total"] == pytest.approx(took, abs=2e-9)
    bare.ok("strike", "last")
    assert {seal["position"]: seal for seal in bare.score("spanned")["seals"]} == before


def test_a_fitting_that_is_told_exactly_makes_doubtful_water_count(bare: Cli) -> None:
    bare.ok(*SPANNED, "--fitted", RANGE, "--recorded-from", "2025-01-01")
    bare.ok("wet", "spanned: pool 60min 27C on 2025-03-01")
    assert {seal["channels"]["chemicals"] for seal in bare.score("spanned")["seals"]} == {0.0}
    bare.ok("watch", "edit", "spanned", "--fitted", "2025-02-01")
    assert all(seal["channels"]["chemicals"] > 0 for seal in bare.score("spanned")["seals"])


def test_water_that_came_before_the_middle_of_a_fitting_is_said_to_be_doubtful(bare: Cli) -> None:
    bare.ok(*SPANNED, "--fitted", RANGE, "--recorded-from", "2024-01-01")
    said = " ".join(bare.ok("wet", "spanned: pool on 2025-03-01", "spanned: pool on 2024-03-01").split())
    assert "not charged: its seals may have been fitted after it" in said
    assert "not charged: before its seals were fitted" in said


def columns(text: str, first_head: str) -> list[dict[str, str]]:
    """The rows of the table that begins with this head, each cell by the head above it."""
    lines = text.splitlines()
    start = next(n for n, line in enumerate(lines) if line.startswith(first_head))
    heads, rows = re.split(r" {2,}", lines[start]), []
    for line in lines[start + 1 :]:
        if not line:
            break
        rows.append(dict(zip(heads, re.split(r" {2,}", line), strict=True)))
    return rows


def test_every_value_of_the_table_of_seals_stands_under_its_own_head(bare: Cli) -> None:
    bare.ok(*SPANNED, "--fitted", "2025-01-01", "--recorded-from", "2025-10-01", "--seal", "crown=FKM")
    bare.ok("wet", "spanned: swim 60min crown wet on 2025-11-01", "spanned: pool 3h on 2025-12-01")
    document, text = bare.score("spanned"), bare.ok("score", "spanned")
    rows = columns(text, "seal")
    assert len(rows) == len(document["seals"]) == 3
    for row, seal in zip(rows, document["seals"], strict=True):
        history = seal["history"]
        assert row == {
            "seal": seal["position"].replace("-", " "),
            "material": seal["material"],
            "fitted": seal["fitted"],
            "used of 100": f"{100 * seal['wear_share']:.1f}",
            "likely": f"{100 * seal['low']:.0f}–{100 * seal['high']:.0f}",
            "assumed": f"{100 * seal['assumed']:.1f}",
            "open history": f"{100 * history['low']:.1f} to {100 * history['high']:.1f}",
        }
        assert 0 < seal["assumed"] < seal["wear_share"]
        assert history["low"] < seal["wear_share"] < history["high"]


def test_every_value_of_the_table_of_channels_stands_under_its_own_head(bare: Cli) -> None:
    """What salt, chlorine, depth and hands do, each alone, is read off the text."""
    bare.ok(*SPANNED, "--fitted", "2025-01-01", "--recorded-from", "2025-01-01", "--winds", "0")

    def shown(*wet: str) -> dict[str, str]:
        bare.ok("wet", *wet)
        document, rows = bare.score("spanned"), columns(bare.ok("score", "spanned"), "of which")
        for row, seal in zip(rows, document["seals"], strict=True):
            own = {channel: f"{100 * share:.1f}" for channel, share in seal["channels"].items()}
            assert row == {"of which": seal["position"].replace("-", " ")} | own
        bare.ok("undo")
        (crown,) = [row for row in rows if row["of which"] == "crown"]
        return crown

    zero = "0.0"
    salt = shown("spanned: boat 20h sea 20C on 2025-05-01")
    assert salt["salt"] != zero == salt["chemicals"] == salt["handling"]
    pool = shown("spanned: pool 3h on 2025-05-01")
    assert pool["chemicals"] != zero == pool["salt"] == pool["handling"]
    hands = shown("spanned: rain crown wet on 2025-05-01", "spanned: rain crown wet on 2025-05-02")
    assert hands["handling"] != zero == hands["salt"] == hands["chemicals"]
    deep = shown("spanned: swim 9m 20min fresh 32C from 32C 100 dips on 2025-05-01")
    assert deep["pressure"] != zero == deep["temperature"] == deep["salt"] == deep["chemicals"]
    cold = shown("spanned: rain 5C from 38C on 2025-05-01")
    assert cold["temperature"] != zero == cold["pressure"] == cold["salt"] == cold["handling"]
    assert zero not in {row["ageing"] for row in (salt, pool, hands, deep, cold)}


def test_every_stop_rule_in_force_has_its_sentence(cli: Cli) -> None:
    cli.ok("event", "reed", "fog", "--on", "2026-03-01")
    stops = cli.score("reed")["stops"]
    assert [s["code"] for s in stops] == ["water-inside"]
    assert stops[0]["sentence"].startswith("fog was seen inside on 1 Mar 2026")
    assert "keep it dry: fog was seen inside on 1 Mar 2026" in cli.ok("score", "reed")


def test_the_text_tells_share_channel_and_caution(wet_cli: Cli) -> None:
    text = wet_cli.ok("score", "reed")
    document = wet_cli.score("reed")
    band = f"likely {document['low']}–{document['high']} (80 % band)"
    assert f"score {document['score']} of 100, {band}" in text
    assert "Ageing had the largest part at the" in text
    assert "No objection found to its stated use." in text
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
