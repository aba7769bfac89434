"""`logbook dossier`: the page is written where it was told to, whole, private and never over another file."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.running import CAUTION_START, Cli


def read(path: Path) -> str:
    return path.read_text(encoding="utf-8")


def test_the_ending_says_the_form(wet_cli: Cli, tmp_path: Path) -> None:
    for name, form, start in (
        ("a.html", "html", "<!doctype html>"), ("b.HTM", "html", "<!doctype html>"),
        ("c.md", "markdown", "# Reed green: dossier"), ("d.markdown", "markdown", "# Reed green: dossier"),
    ):  # fmt: skip
        target = tmp_path / name
        document = wet_cli.json("dossier", "reed", str(target))
        assert document.pop("caution").startswith(CAUTION_START)
        assert document == {
            "path": str(target), "watch": "Reed green", "format": form, "clock_behind_by": None,
        }  # fmt: skip
        assert read(target).startswith(start)


def test_an_option_says_the_form_whatever_the_ending(wet_cli: Cli, tmp_path: Path) -> None:
    wet_cli.ok("dossier", "reed", str(tmp_path / "page"), "--html")
    assert read(tmp_path / "page").startswith("<!doctype html>")
    wet_cli.ok("dossier", "reed", str(tmp_path / "page.html"), "--md")
    assert read(tmp_path / "page.html").startswith("# Reed")
    said = wet_cli.refused("dossier", "reed", str(tmp_path / "x.txt"))
    assert ".html or .md" in said
    assert "choose one" in wet_cli.refused("dossier", "reed", str(tmp_path / "x.md"), "--md", "--html")
    assert not (tmp_path / "x.md").exists()


def test_it_says_what_it_wrote_with_the_caution(wet_cli: Cli, tmp_path: Path) -> None:
    text = wet_cli.ok("dossier", "reed", str(tmp_path / "reed.html"), "--ask", "a pressure test")
    assert text.startswith(f"Wrote the dossier of Reed green to {tmp_path / 'reed.html'}.")
    assert CAUTION_START in text
    page = read(tmp_path / "reed.html")
    assert "<li>a pressure test</li>" in page
    assert "Printed on 15 Mar 2026" in page
    assert CAUTION_START in page


def test_the_file_is_private_and_one_that_is_there_stays(wet_cli: Cli, tmp_path: Path) -> None:
    target = tmp_path / "reed.html"
    wet_cli.ok("dossier", "reed", str(target))
    assert target.stat().st_mode & 0o777 == 0o600
    first = read(target)
    said = wet_cli.refused("dossier", "reed", str(target), "--ask", "new gaskets")
    assert "already a file" in said
    assert read(target) == first
    wet_cli.ok("dossier", "reed", str(target), "--ask", "new gaskets", "--replace")
    assert "<li>new gaskets</li>" in read(target)
    assert target.stat().st_mode & 0o777 == 0o600
    assert sorted(p.name for p in tmp_path.iterdir() if p.suffix != ".logbook") == ["reed.html"]


def test_the_record_itself_is_never_written_over(wet_cli: Cli) -> None:
    said = wet_cli.refused("dossier", "reed", str(wet_cli.file), "--html", "--replace")
    assert "is the record itself" in said
    assert wet_cli.score("reed")["name"] == "Reed green"


@pytest.mark.parametrize("replace", [(), ("--replace",)])
def test_a_place_that_cannot_be_written_leaves_nothing(
    wet_cli: Cli, tmp_path: Path, replace: tuple[str, ...]
) -> None:
    assert "There is no folder" in wet_cli.refused("dossier", "reed", str(tmp_path / "no" / "x.md"), *replace)
    folder = tmp_path / "folder.md"
    folder.mkdir()
    before = sorted(tmp_path.iterdir())
    answer = wet_cli("dossier", "reed", str(folder), *replace)
    assert answer.code in (3, 4)
    assert str(folder) in answer.err
    assert answer.err.count("\n") <= 2
    assert sorted(tmp_path.iterdir()) == before
    assert list(folder.iterdir()) == []


@pytest.mark.parametrize("replace", [(), ("--replace",)])
def test_a_name_that_no_folder_takes_is_refused_in_words(
    wet_cli: Cli, tmp_path: Path, replace: tuple[str, ...]
) -> None:
    answer = wet_cli("dossier", "reed", str(tmp_path / f"{'x' * 300}.md"), *replace)
    assert (answer.code, answer.out) == (4, "")
    assert "could not be written: File name too long." in " ".join(answer.err.split())
    assert [p.name for p in tmp_path.iterdir()] == ["record.logbook"]


def test_a_home_that_is_no_ones_is_a_name_like_any_other(wet_cli: Cli) -> None:
    assert "There is no folder" in wet_cli.refused("dossier", "reed", "~no-such-user/x.md")


def test_help_says_which_notes_are_always_in_it(cli: Cli) -> None:
    said = " ".join(cli.ok("dossier", "--help").split())
    assert (
        "Workshop names, and notes on the watch, on workshop events and on faults, are always in it" in said
    )
    assert "notes on exposures only with --notes" in said


def test_a_wish_that_does_not_fit_is_refused_before_anything_is_written(wet_cli: Cli, tmp_path: Path) -> None:
    target = tmp_path / "x.md"
    assert "at most 120 fit" in wet_cli.refused("dossier", "reed", str(target), "--ask", "x" * 121)
    assert not target.exists()


def test_an_unknown_watch_gets_the_nearest_name(wet_cli: Cli, tmp_path: Path) -> None:
    assert "Lido chrono" in wet_cli.refused("dossier", "lido crono", str(tmp_path / "x.md"))


def test_units_are_as_asked(wet_cli: Cli, tmp_path: Path) -> None:
    wet_cli.ok("dossier", "reed", str(tmp_path / "x.md"), "--units", "imperial")
    assert "59 ft" in read(tmp_path / "x.md")


def test_notes_on_exposures_only_with_the_option(wet_cli: Cli, tmp_path: Path) -> None:
    wet_cli.ok("wet", "reed: dive 30m 20min 8C on 2026-03-10 -- borrowed fins")
    wet_cli.ok("dossier", "reed", str(tmp_path / "x.md"))
    wet_cli.ok("dossier", "reed", str(tmp_path / "y.md"), "--notes")
    assert "borrowed fins" not in read(tmp_path / "x.md")
    assert "borrowed fins" in read(tmp_path / "y.md")


def test_the_chance_of_all_watches_is_not_in_it(wet_cli: Cli, tmp_path: Path) -> None:
    wet_cli.ok("dossier", "paper", str(tmp_path / "x.html"))
    page = read(tmp_path / "x.html")
    assert "all your watches" not in page
    assert "Reed" not in page
    assert "desk" not in page


def test_a_retired_watch_has_a_page_too(wet_cli: Cli, tmp_path: Path) -> None:
    wet_cli.ok("watch", "retire", "lido")
    wet_cli.ok("dossier", "lido", str(tmp_path / "x.md"))
    assert "Retired: 15 Mar 2026" in read(tmp_path / "x.md")
