"""`logbook import` of one-line entries, and what every import has in common: looked at, once, undone."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.running import Cli

TRIP = """\
# two days at the lake
reed: dive 18m 41min fresh 15C rinsed on 2026-02-20 09:30

reed: snorkel 40min 15C on 2026-02-21
lido: pool 60min on 2026-03-01
"""


@pytest.fixture
def trip(tmp_path: Path) -> str:
    path = tmp_path / "trip.txt"
    path.write_text(TRIP, encoding="utf-8")
    return str(path)


def states(answer: dict[str, list[dict[str, str]]]) -> list[str]:
    return [arrival["state"] for arrival in answer["arrivals"]]


def test_a_file_of_lines_comes_in_as_one_step(cli: Cli, trip: str) -> None:
    before = cli.everything()
    said = cli.ok("import", trip)
    assert "line 2" in said
    assert "3 came in." in said
    assert "`logbook import --undo` takes the import back" in " ".join(said.split())
    assert len(cli.everything()["exposures"]) == len(before["exposures"]) + 3
    assert "Undone: import 3 exposures from trip.txt." in cli.ok("import", "--undo")
    assert cli.everything() == before


def test_the_same_file_twice_gives_nothing_new(cli: Cli, trip: str) -> None:
    cli.ok("import", trip)
    once = cli.everything()
    again = cli.json("import", trip)
    assert states(again) == ["on record"] * 3
    assert again["entries"] == []
    assert cli.everything() == once


def test_what_was_undone_comes_in_again(cli: Cli, trip: str) -> None:
    cli.ok("import", trip)
    cli.ok("import", "--undo")
    assert states(cli.json("import", trip)) == ["new"] * 3


def test_a_dry_run_shows_and_writes_nothing(cli: Cli, trip: str) -> None:
    before = cli.everything()
    said = cli.ok("import", trip, "--dry-run")
    assert "3 would come in." in said
    assert "dive 18 m, 41 min, fresh 15 °C" in said
    assert cli.everything() == before


def test_a_likeness_is_a_question_until_it_is_answered(cli: Cli, trip: str) -> None:
    cli.ok("wet", "reed: dive 17m 45min fresh 14C on 2026-02-20 10:00")
    said = " ".join(cli.refused("import", trip).split())
    assert "trip.txt, line 2: like entry" in said
    assert "Is it the same?" in said
    assert states(cli.json("import", trip, "--dry-run")) == ["alike", "new", "new"]
    assert len(cli.json("import", trip, "--twins", "skip")["entries"]) == 2
    assert len(cli.json("import", trip, "--twins", "add")["entries"]) == 1


@pytest.mark.parametrize(
    ("content", "where"),
    [
        ("reed: dive 18m 41min\nreed: dive\n", "bad.txt, line 2: How deep was it?"),
        ("reed: dive 18m 41min\n\nnobody: dive 18m 40min\n", "bad.txt, line 3: There is no watch 'nobody'"),
        ("reed: dive 18m 41min\nreed: dive 18m 41min blau\n", "bad.txt, line 2:"),
        ("reed: dive 1800m 41min\n", "bad.txt, line 1:"),
        ("reed: dive 18m 41min on 2027-01-01\n", "bad.txt, line 1:"),
        ("dive 18m 41min\n", "bad.txt, line 1: An entry begins with the watch and a colon"),
    ],
)
def test_a_wrong_line_is_named_and_nothing_comes_in(
    cli: Cli, tmp_path: Path, content: str, where: str
) -> None:
    path = tmp_path / "bad.txt"
    path.write_text(content, encoding="utf-8")
    assert where in " ".join(cli.refused("import", str(path)).split())


def test_a_file_in_another_encoding_names_its_line(cli: Cli, tmp_path: Path) -> None:
    path = tmp_path / "old.txt"
    path.write_bytes(b"reed: dive 18m 41min\nreed: dive 18m 41min -- caf\xe9\n")
    assert "old.txt, line 2: byte 0xe9 is no UTF-8" in cli.refused("import", str(path))


def test_lines_come_from_the_input_too(cli: Cli) -> None:
    assert states(cli.json("import", "-", stdin=TRIP)) == ["new"] * 3


def test_a_watch_may_be_named_beside_the_file(cli: Cli, tmp_path: Path) -> None:
    path = tmp_path / "swims.txt"
    path.write_text("pool 60min on 2026-03-01\npool 30min on 2026-03-02\n", encoding="utf-8")
    answer = cli.json("import", str(path), "--watch", "lido")
    assert [arrival["watch"] for arrival in answer["arrivals"]] == ["Lido chrono"] * 2


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        ((), "Which file?"),
        (("--undo",), "There is no import to take back."),
        (("x.txt", "--undo"), "leave FILE out"),
        (("x.txt", "--twins", "maybe"), "--twins is ask, skip or add."),
    ],
)
def test_what_is_wrong_with_the_command_is_said(cli: Cli, words: tuple[str, ...], sentence: str) -> None:
    assert sentence in cli.refused("import", *words)


def test_an_import_is_not_taken_back_over_what_came_after_it(cli: Cli, trip: str) -> None:
    cli.ok("import", trip)
    cli.ok("wet", "reed: rain")
    said = " ".join(cli.refused("import", "--undo").split())
    assert "After that import came 1 other change" in said
    assert "log rain of 15 Mar 2026 for Reed green" in said


def test_a_missing_file_and_a_folder_are_one_sentence(cli: Cli, tmp_path: Path) -> None:
    for path, why in ((tmp_path / "none.txt", "No such file"), (tmp_path, "Is a directory")):
        answer = cli("import", str(path))
        assert answer.code == 4
        assert why in answer.err
        assert len(answer.err.strip().splitlines()) == 1


def test_a_file_of_no_known_kind_says_what_comes_in(cli: Cli, tmp_path: Path) -> None:
    path = tmp_path / "picture.bin"
    path.write_bytes(b"\x89PNG\r\n\x1a\n")
    assert "none of the files that come in" in cli.refused("import", str(path))


def test_an_import_of_a_name_full_of_escapes_stays_one_line(cli: Cli, tmp_path: Path) -> None:
    path = tmp_path / "\x1b[31mred.txt"
    path.write_text("reed: dive 18m 41min\n", encoding="utf-8")
    said = cli.ok("import", str(path)) + cli.ok("undo", "--list")
    assert "\x1b" not in said
    assert "red.txt" in said
