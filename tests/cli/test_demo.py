"""`logbook demo`."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.running import Cli


@pytest.fixture
def at_a_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    """As though a person sat there; the whole screen itself is not opened here."""
    monkeypatch.setattr("logbook.cli.demo.need_terminal", lambda: None)


def test_the_demo_is_written_to_a_file_and_says_how_to_open_it(bare: Cli, tmp_path: Path) -> None:
    target = tmp_path / "mine.db"
    text = bare.ok("demo", "--to", str(target))
    assert f"logbook --file {target}" in text
    demo = Cli(target)
    assert len(demo.json("shelf")["watches"]) >= 9
    assert not bare.file.exists()
    before = target.read_bytes()
    answer = bare("demo", "--to", str(target), "--json")
    assert answer.code == 3
    assert "already a file" in answer.json["error"]["message"]
    assert target.read_bytes() == before


def test_the_demo_opens_a_fresh_record_and_removes_it(
    bare: Cli, monkeypatch: pytest.MonkeyPatch, at_a_terminal: None
) -> None:
    opened: list[tuple[Path, object, object, int]] = []

    def run(path: Path, *, today: object = None, units: object = None) -> int:
        opened.append((path, today, units, len(Cli(path).everything()["watches"])))
        return 0

    monkeypatch.setattr("logbook.tui.app.run", run)
    bare.ok("demo", "--units", "imperial")
    ((path, today, units, watches),) = opened
    assert (path.name, str(today), units) == ("demo.db", "2026-03-15", "imperial")
    assert watches >= 9
    assert not path.exists()
    assert not path.parent.exists()


def test_the_demo_is_removed_when_the_screen_fails(
    bare: Cli, monkeypatch: pytest.MonkeyPatch, at_a_terminal: None
) -> None:
    opened: list[Path] = []

    def fail(path: Path, **_: object) -> int:
        opened.append(path)
        raise RuntimeError("the screen went away")

    monkeypatch.setattr("logbook.tui.app.run", fail)
    assert bare("demo").code == 4
    assert not opened[0].parent.exists()


def test_without_a_terminal_the_demo_is_refused(bare: Cli) -> None:
    assert "needs a terminal" in bare.refused("demo")
