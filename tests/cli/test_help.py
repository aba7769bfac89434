"""Every command and option explains itself."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from typer.main import get_command

from logbook.cli.app import COMMANDS, app
from tests.cli.running import Cli

COMMON = ("--file", "--today", "--units", "--json")


def every_command() -> Iterator[tuple[str, Any, Any]]:
    import typer

    root = get_command(app)
    context = typer.Context(root, info_name="logbook")
    for name in COMMANDS:
        command = root.get_command(context, name)
        inner = getattr(command, "commands", {})
        yield name, command, context
        for each in inner:
            yield f"{name} {each}", inner[each], context


def test_every_command_of_the_command_line_is_there() -> None:
    assert set(COMMANDS) == {
        "demo",
        "shelf",
        "watch",
        "wet",
        "log",
        "amend",
        "strike",
        "plan",
        "habit",
        "worn",
        "wore",  # of before, not shown
        "nothing-else",
        "confirm",  # of before, not shown
        "event",
        "score",
        "chance",
        "forecast",
        "check",
        "due",
        "done",
        "snooze",
        "visits",
        "undo",
        "redo",
        "import",
        "calendar",
        "nudge",
        "dossier",
        "bench",
        "export",
        "backup",
        "restore",
        "doctor",
        "settings",
        "constants",
        "practice",  # of before, not shown
    }


@pytest.mark.parametrize("name", ["wore", "practice", "confirm", "outlook"])
def test_a_name_of_before_works_and_is_not_shown(bare: Cli, name: str) -> None:
    assert f"Usage: logbook {name}" in bare.ok(name, "--help")
    assert f" {name} " not in bare.ok("--help")


def test_every_command_and_option_has_help() -> None:
    for name, command, context in every_command():
        assert command.help, name
        for param in command.get_params(context):
            assert param.help, (name, param.name)


def test_every_command_takes_the_common_options() -> None:
    for name, command, context in every_command():
        options = [option for param in command.get_params(context) for option in param.opts]
        assert set(COMMON) <= set(options), name


@pytest.mark.parametrize(
    "name", ["", *COMMANDS, "watch add", "watch edit", "bench fog", "bench cycles", "nudge install"]
)
def test_help_lists_options_in_80_columns(bare: Cli, name: str) -> None:
    text = bare.ok(*name.split(), "--help")
    assert all(option in text for option in COMMON)
    assert "Usage: logbook" in text
    assert max(len(line) for line in text.splitlines()) <= 80


def test_the_version_is_told(bare: Cli) -> None:
    from logbook import __version__

    assert bare.ok("--version", "shelf").startswith(f"logbook {__version__}")


def test_no_help_promises_anything() -> None:
    for name, command, context in every_command():
        texts = [command.help, *(param.help for param in command.get_params(context))]
        assert not [text for text in texts if "waterproof" in text.lower() or "safe" in text.lower()], name
