"""`logbook import` of one-line entries, and what every import has in common: looked at, once, undone."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.running import CAUTION_START, Cli

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
    assert len(cli.json("import", trip, "--alike", "skip")["entries"]) == 2
    assert len(cli.json("import", trip, "--alike", "keep")["entries"]) == 1
    assert "--twins" not in cli.ok("import", "--help")


@pytest.mark.parametrize(("word", "written"), [("skip", 2), ("add", 3)])
def test_the_option_that_it_had_before_still_works(cli: Cli, trip: str, word: str, written: int) -> None:
    cli.ok("wet", "reed: dive 17m 45min fresh 14C on 2026-02-20 10:00")
    assert len(cli.json("import", trip, "--twins", word)["entries"]) == written


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
    said = cli.refused("import", str(path))
    assert "old.txt, line 2: the byte 0xe9 is not UTF-8" in said


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
        (("x.txt", "--alike", "maybe"), "--alike is skip or keep."),
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


def test_what_cannot_count_for_a_kind_of_file_is_refused(cli: Cli, trip: str) -> None:
    for options in (("--rinsed",), ("--dates", "day-first")):
        said = cli.refused("import", trip, *options)
        assert f"{options[0]} is for" in said
        assert "this file is lines" in said


def test_lines_take_the_zone_that_is_named(cli: Cli, trip: str) -> None:
    cli.ok("import", trip, "--zone", "Asia/Tokyo")
    assert cli.everything()["exposures"][0]["zone"] == "Asia/Tokyo"


def test_a_line_that_names_its_watch_keeps_it_beside_another(cli: Cli, tmp_path: Path) -> None:
    path = tmp_path / "mixed.txt"
    path.write_text("reed: rain on 2026-03-01\npool 60min on 2026-03-02 10:40\n", encoding="utf-8")
    answer = cli.json("import", str(path), "--watch", "lido")
    assert [arrival["watch"] for arrival in answer["arrivals"]] == ["Reed green", "Lido chrono"]


def test_a_line_is_counted_as_an_editor_counts_it(cli: Cli, tmp_path: Path) -> None:
    path = tmp_path / "odd.txt"
    path.write_bytes(b"reed: rain -- a\x0cb\r\nreed: dive\r\n")
    assert "line 1" in cli.refused("import", str(path))  # the control character in the note
    path.write_bytes("reed: rain -- a\u2028b\r\nreed: dive\r\n".encode())
    assert "odd.txt, line 2: How deep" in " ".join(cli.refused("import", str(path)).split())


def test_what_was_struck_stays_out_until_it_is_asked_for(cli: Cli, trip: str) -> None:
    ids = cli.json("import", trip)["entries"]
    cli.ok("strike", str(ids[1]))
    again = cli.json("import", trip)
    assert states(again) == ["on record", "struck", "on record"]
    assert again["entries"] == []
    assert "1 struck before" in cli.ok("import", trip)
    assert len(cli.json("import", trip, "--alike", "keep")["entries"]) == 1
    assert states(cli.json("import", trip)) == ["on record"] * 3


def test_an_import_that_was_undone_was_not_struck(cli: Cli, trip: str) -> None:
    cli.ok("import", trip)
    cli.ok("undo")
    assert states(cli.json("import", trip, "--dry-run")) == ["new"] * 3


def test_a_plan_on_that_day_is_a_question(cli: Cli, tmp_path: Path) -> None:
    cli.ok("plan", "reed", "dive 18m 41min", "--from", "2026-03-15")
    path = tmp_path / "today.txt"
    path.write_text("reed: dive 18m 40min on 2026-03-15 09:30\n", encoding="utf-8")
    assert "like plan" in " ".join(cli.refused("import", str(path)).split())


def test_a_retired_watch_is_named(cli: Cli, trip: str) -> None:
    cli.ok("watch", "retire", "lido")
    assert "Lido chrono is retired" in " ".join(cli.ok("import", trip).split())


def test_a_long_file_lists_only_what_is_not_new(cli: Cli, tmp_path: Path) -> None:
    path = tmp_path / "long.txt"
    lines = ["lido: pool 60min on 2026-01-01 08:00"]
    path.write_text("\n".join(lines), encoding="utf-8")
    cli.ok("import", str(path))
    lines += [f"lido: pool {n}min on 2026-02-{1 + n % 28:02d} 0{n // 28}:00" for n in range(30, 80)]
    path.write_text("\n".join(lines), encoding="utf-8")
    said = cli.ok("import", str(path))
    assert said.count("line ") == 1
    assert "50 came in, 1 on record already." in said


def test_two_imports_at_once_bring_a_file_in_once(cli: Cli, trip: str) -> None:
    import subprocess
    import sys

    words = [sys.executable, "-m", "logbook", "import", trip, "--file", str(cli.file), "--today", cli.today]
    running = [
        subprocess.Popen(words, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL) for _ in range(3)
    ]
    assert {process.wait() for process in running} <= {0, 3}
    assert len(cli.everything()["exposures"]) == 3


def test_what_came_in_is_said_at_once_the_gravest_of_each_watch(cli: Cli, tmp_path: Path) -> None:
    path = tmp_path / "deep.txt"
    path.write_text(
        "reed: dive 18m 41min on 2026-02-20 09:30\n"
        "reed: dive 230m sure 41min on 2026-02-21\n"
        "reed: swim 20min crown under on 2026-02-22\n"
        "lido: pool 60min crown under on 2026-03-01\n",
        encoding="utf-8",
    )
    assert cli.json("import", str(path), "--dry-run")["meaning"] == []
    said = cli.ok("import", str(path))
    flat = " ".join(said.split())
    assert "4 came in." in flat
    assert "Reed green: keep it dry: a dive to 230 m on 21 Feb 2026 went above its mark" in flat
    assert "a swim on 22 Feb" not in flat
    assert "Lido" in flat.split("4 came in.")[1]
    assert CAUTION_START in said
    cli.ok("undo")
    reed, lido = sorted(cli.json("import", str(path))["meaning"], reverse=True)
    assert reed.startswith("Reed green: keep it dry: ")
    assert ": keep it dry: a swim in the pool to 1.5 m on 1 Mar 2026 had its crown used under water" in lido


def test_of_a_file_that_means_nothing_for_the_next_dive_nothing_more_is_said(cli: Cli, trip: str) -> None:
    assert CAUTION_START not in cli.ok("import", trip)
    cli.ok("undo")
    assert cli.json("import", trip)["meaning"] == []
