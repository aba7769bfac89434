"""How a command ends: sentences, exit codes, one JSON document, never a traceback."""

from __future__ import annotations

import json

import pytest

from logbook.record.file.lock import Patience
from tests.cli.running import CAUTION_START, Cli


def test_a_usage_error_is_one_sentence_with_the_way_to_help(cli: Cli) -> None:
    sentence = cli.refused("due", "--nonsense")
    assert sentence == "No such option: --nonsense. See `logbook due --help`.\n"
    assert cli("due", "--nonsense", "--json").json["error"]["code"] == "usage"


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        (("shlef",), "Did you mean shelf?"),
        (("watch",), "Which command? There are add, edit, show, retire."),
        (("watch", "delete", "x"), "No such command 'delete'"),
        (("score",), "Missing argument 'WATCH'"),
        (("snooze", "x"), "Missing option '--until'"),
        (("shelf", "extra"), "unexpected extra argument"),
        (("shelf", "--units", "nautical"), "'nautical' is no system of units"),
    ],
)
def test_a_command_line_that_cannot_be_is_refused(cli: Cli, words: tuple[str, ...], expected: str) -> None:
    assert expected in cli.refused(*words)


@pytest.mark.parametrize("day", ["2026-02-30", "15.03.2026", "tomorrow", ""])
def test_a_day_that_cannot_be_is_refused(cli: Cli, day: str) -> None:
    before = cli.everything()
    cli.today = day
    answer = cli("shelf")
    assert answer.code == 3
    assert "write it as 2026-03-15" in answer.err
    cli.today = "2026-03-15"
    assert cli.everything() == before


def test_an_error_in_json_has_code_message_and_where(cli: Cli) -> None:
    answer = cli("event", "reed", "pressure-test", "--json")
    assert answer.code == 3
    assert answer.err == ""
    assert set(answer.json["error"]) == {"code", "message", "where"}
    assert answer.json["error"]["where"] == "passed"


def test_the_common_options_may_stand_before_the_command(cli: Cli) -> None:
    from typer.testing import CliRunner

    from logbook.cli.app import app

    words = ["--file", str(cli.file), "--today", "2026-03-15", "--json", "shelf"]
    result = CliRunner().invoke(app, words)
    assert json.loads(result.stdout) == cli.json("shelf")
    words = ["--file", str(cli.file), "watch", "--json", "show", "reed", "--today", "2026-03-15"]
    assert json.loads(CliRunner().invoke(app, words).stdout) == cli.json("watch", "show", "reed")


def test_a_failure_of_ours_is_one_sentence(cli: Cli, monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(*_: object) -> None:
        raise ZeroDivisionError("by nothing")

    monkeypatch.setattr("logbook.record.standings.stand", fail)
    answer = cli("shelf")
    assert (answer.code, answer.out) == (4, "")
    assert "Something went wrong in logbook itself (ZeroDivisionError: by nothing)" in answer.err
    assert "Traceback" not in answer.err
    document = cli("shelf", "--json").json
    assert document["error"]["code"] == "error"


def test_the_traceback_is_there_for_who_asks(cli: Cli, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("LOGBOOK_DEBUG", "1")
    assert "Traceback" in cli("score", "nobody").err


def test_an_interruption_ends_with_130(cli: Cli, monkeypatch: pytest.MonkeyPatch) -> None:
    def interrupt(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("logbook.record.standings.stand", interrupt)
    answer = cli("shelf")
    assert (answer.code, answer.out, answer.err) == (130, "", "Interrupted.\n")
    assert cli("shelf", "--json").json["error"]["code"] == "interrupted"


def test_a_record_that_may_not_be_written_to_is_said(cli: Cli, monkeypatch: pytest.MonkeyPatch) -> None:
    import sqlite3

    blocker = sqlite3.connect(cli.file, isolation_level=None)
    monkeypatch.setattr("logbook.record.file.lock.USUAL", Patience(3))
    blocker.execute("BEGIN EXCLUSIVE")
    try:
        answer = cli("wet", "reed: rain")
    finally:
        blocker.close()
    assert answer.code == 4
    assert "in use by another program" in answer.err


SHOWS_A_VERDICT = (
    ("shelf",),
    ("score", "reed"),
    ("watch", "show", "reed"),
    ("check", "reed", "dive 30m"),
    ("check", "--any", "pool"),
    ("due",),
    ("log",),
    ("plan",),
    ("export",),
    ("plan", "reed", "dive 30m 40min", "--from", "2026-04-01"),
    ("wet", "reed: rain"),
    ("amend", "last", "30min"),
    ("strike", "last"),
)


def test_the_caution_stands_wherever_a_score_verdict_or_due_date_does(wet_cli: Cli) -> None:
    for words in SHOWS_A_VERDICT:
        if words[0] in ("amend", "strike"):
            wet_cli.ok("wet", "reed: rain")
        assert CAUTION_START in wet_cli(*words).out, words
        if words[0] == "strike":
            wet_cli.ok("wet", "reed: rain")
        assert wet_cli(*words, "--json").json["caution"].startswith(CAUTION_START), words


def test_an_answer_is_never_coloured(wet_cli: Cli) -> None:
    for words in (*SHOWS_A_VERDICT, ("--help",), ("score", "nobody"), ("settings",), ("constants",)):
        answer = wet_cli(*words)
        assert "\x1b" not in answer.out + answer.err, words


HOSTILE = (
    "[bold]red[/]",
    "{name}",
    "%s%n",
    "'; DROP TABLE watch; --",
    "=HYPERLINK()",
    "a\u0301\u0301\u0301",
    "👩‍🚀 watch",
    "<b>&amp;",
    "\\x1b[31m",
    "naïve ﬁ ǅ",
    "日本の時計",
    "עברית",
    "-5",
    "x" * 80,
)
REFUSED = ("a\x1b[31mb", "a\x00b", "a\u202eb", "a\u2066b", "a\x9bb", "a\x07", "x" * 81, "y" * 10_000)


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_text_is_text(bare: Cli, name: str) -> None:
    cli, known = bare, ("--fitted", "2026-01-10", "--recorded-from", "2026-01-10")
    made = cli.json("watch", "add", name, "--note", name, "--group", name[:40], *known)["watch"]["name"]
    assert cli.score(made)["name"] == made
    cli.ok("wet", f"{made}: rain -- {name}")
    for words in (
        ("shelf",),
        ("shelf", "--csv"),
        ("log",),
        ("watch", "show", made),
        ("due",),
        ("check", "--any", "rain"),
    ):
        answer = cli(*words)
        assert answer.code in (0, 1, 2), words
        assert not [c for c in answer.out if ord(c) < 32 and c != "\n"], words
        if "--csv" not in words:
            assert cli(*words, "--json").json["caution"].startswith(CAUTION_START), words


@pytest.mark.parametrize("name", REFUSED)
def test_text_with_control_characters_or_without_end_is_refused(cli: Cli, name: str) -> None:
    for words in (("watch", "add", name), ("wet", f"{name}: rain"), ("score", name), ("event", "reed", name)):
        answer = cli(*words)
        assert answer.code == 3, words
        assert not [
            c
            for c in answer.err
            if (ord(c) < 32 and c != "\n") or 0x7F <= ord(c) < 0xA0 or c in "\u202e\u2066"
        ]
        assert len(answer.err) < 1_200
