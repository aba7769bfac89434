"""The arithmetic loads neither tables nor terminals nor the heavy libraries, seen in a process of its own.

An import contract reads the source and cannot see an import inside a function; a process that imports
every module and looks at what is loaded can.
"""

from __future__ import annotations

import pkgutil
import subprocess
import sys
from pathlib import Path

import pytest

import logbook

KEPT_OUT = (
    "textual", "rich", "sqlmodel", "sqlalchemy", "alembic", "pydantic", "typer", "pint", "numpy", "gsw",
    "scipy",    "rainflow", "dateutil", "sqlite3", "platformdirs",
)  # fmt: skip
HOME = Path(logbook.__file__).parent


def modules_of(floor: str) -> list[str]:
    return [
        f"logbook.{floor}",
        *(m.name for m in pkgutil.walk_packages([str(HOME / floor)], f"logbook.{floor}.")),
    ]


@pytest.mark.parametrize("floor", ["physics", "model"])
def test_importing_every_module_of_a_pure_floor_loads_no_heavy_library(floor: str) -> None:
    names = modules_of(floor)
    assert len(names) > 10
    script = f"import sys\nfor name in {names!r}: __import__(name)\nprint('\\n'.join(sys.modules))"
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True, cwd=HOME.parent
    )
    loaded = set(done.stdout.split())
    assert set(names) <= loaded
    assert sorted(loaded & set(KEPT_OUT)) == []


def test_physics_loads_nothing_from_above_it() -> None:
    script = (
        f"import sys\nfor name in {modules_of('physics')!r}: __import__(name)\nprint('\\n'.join(sys.modules))"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True, cwd=HOME.parent
    )
    above = ("model", "record", "text", "files", "reminders", "bench", "dossier", "cli", "tui", "demo")
    assert [m for m in done.stdout.split() if m.startswith(tuple(f"logbook.{a}" for a in above))] == []
