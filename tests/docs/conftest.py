"""The stories of the pages, each told once on a machine like any."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.cli.standins import Standins
from tests.docs.stories import DOCS, Told, story_of, tell
from tests.once import work_out_once

_TOLD: dict[str, list[Told]] = {}


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


@pytest.fixture
def told(
    a_machine_like_any: None,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> Callable[[str], list[Told]]:
    """What every command of a page answered, in order."""

    def tell_all(name: str) -> list[Told]:
        if name not in _TOLD:
            work_out_once(monkeypatch)
            monkeypatch.chdir(tmp_path)
            monkeypatch.setenv("LOGBOOK_FILE", str(tmp_path / "story.logbook"))
            story = story_of((DOCS / name).read_text(encoding="utf-8"))
            for file, body in story.files.items():
                (tmp_path / file).write_text(body, encoding="utf-8")
            _TOLD[name] = [Told(line, tell(line), *capsys.readouterr()) for line in story.commands]
        return _TOLD[name]

    return tell_all
