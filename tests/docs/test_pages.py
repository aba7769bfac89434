"""Every page that shows commands is a story that runs as it stands."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from tests.cli.standins import Standins
from tests.docs.stories import DOCS, expected_code, story_of, tell

PAGES = sorted(page.name for page in DOCS.glob("*.md") if story_of(page.read_text("utf-8")).commands)


@pytest.fixture
def a_machine_like_any(
    a_home_of_its_own: Path, tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A machine with cron, whatever this one has, and the owner's notifier, which takes what it is told."""
    folder = a_home_of_its_own / "xdg_config_home" / "seal-logbook"
    folder.mkdir(parents=True)
    program = [sys.executable, "-c", "import sys; sys.stdin.read()"]
    (folder / "nudge.toml").write_text(f"command = {program!r}\n".replace("'", '"'), encoding="utf-8")
    machine = Standins(tmp_path_factory.mktemp("machine"))
    machine.add_crontab()
    monkeypatch.setenv("PATH", str(machine.folder))


def test_the_pages_that_show_commands_are_known() -> None:
    known = {"calendar", "commands", "csv-and-json", "dossier", "reminders", "uddf", "undo"}
    assert known == {name.removesuffix(".md") for name in PAGES}


@pytest.mark.usefixtures("a_machine_like_any")
@pytest.mark.parametrize("name", PAGES)
def test_the_examples_of_a_page_run_as_one_story(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    story = story_of((DOCS / name).read_text(encoding="utf-8"))
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("LOGBOOK_FILE", str(tmp_path / "story.logbook"))
    for file, body in story.files.items():
        (tmp_path / file).write_text(body, encoding="utf-8")
    for line in story.commands:
        code = tell(line)
        shown = capsys.readouterr()
        assert code == expected_code(line), f"{line}\n{shown.out}\n{shown.err}"
