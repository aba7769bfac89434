"""Building the demo: the same every time, on any day, at a free path, from the packaged scenario."""

from __future__ import annotations

import shutil
import sqlite3
import subprocess
import sys
import tomllib
from datetime import date, timedelta
from importlib.util import module_from_spec, spec_from_file_location
from pathlib import Path

import pytest

from logbook import demo
from logbook.errors import BadInput, RecordTrouble, Refused
from logbook.model.judge.rules import KEEP_DRY, NO_OBJECTION, THINK_TWICE
from logbook.model.judge.standing import Standing
from logbook.record.file.store import Store
from logbook.record.reading import glance
from logbook.record.writing import undo

CHECKOUT = Path(__file__).parent.parent.parent


def content(path: Path) -> dict[str, list[tuple]]:
    """Every row of every table, but for the moment at which each action was done."""
    with sqlite3.connect(path) as connection:
        listed = connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'").fetchall()
        found = {}
        for (table,) in listed:
            columns = [row[1] for row in connection.execute(f"PRAGMA table_info({table})")]
            kept = ", ".join(c for c in columns if c != "done_at")
            found[table] = sorted(connection.execute(f"SELECT {kept} FROM {table}").fetchall(), key=repr)
    connection.close()
    return found


def codes(stand: Standing) -> list[str]:
    return [reason.code for reason in stand.stops]


def test_the_same_day_gives_the_same_record(built, tmp_path):
    again = tmp_path / "again.logbook"
    demo.build(again, built.today, built.practice)
    first, second = content(built.path), content(again)
    assert len(first["exposure"]) >= 450
    assert len(first["ledger_share"]) >= 1_500
    assert first == second


def test_another_process_with_other_hashes_gives_the_same_record(built, tmp_path):
    path = tmp_path / "elsewhere.logbook"
    code = (
        "import sys; from datetime import date; from pathlib import Path; from logbook import demo\n"
        "from logbook.record.file.practice_file import shipped_path\n"
        "from logbook.model.practice import parse\n"
        "demo.build(Path(sys.argv[1]), date.fromisoformat(sys.argv[2]), parse(shipped_path().read_text()))"
    )
    subprocess.run(
        [sys.executable, "-c", code, str(path), built.today.isoformat()], check=True, timeout=60,
        cwd=CHECKOUT, env={"PYTHONHASHSEED": "4711", "PATH": "", "PYTHONPATH": str(CHECKOUT)},
    )  # fmt: skip
    assert content(path) == content(built.path)


def test_a_day_later_everything_lies_a_day_later(built, build_at):
    later = build_at(built.today + timedelta(days=1))
    one = timedelta(days=1)
    assert [e.starts_on + one for e in built.exposures] == [e.starts_on for e in later.exposures]
    assert [p.starts_on + one for p in built.plans] == [p.starts_on for p in later.plans]
    for name, record in built.records.items():
        there = later.records[name]
        assert [e.on + one for e in record.events if not e.span] == [e.on for e in there.events if not e.span]
        assert [s.fitted_latest + one for s in record.seals] == [s.fitted_latest for s in there.seals]


@pytest.mark.parametrize(
    "day",
    [
        date(2026, 1, 1), date(2026, 2, 28), date(2026, 3, 29), date(2026, 4, 30), date(2026, 7, 31),
        date(2026, 9, 15), date(2026, 10, 25), date(2026, 12, 31), date(2028, 2, 29), date(2028, 3, 1),
        date(2031, 8, 9),
    ],
    ids=str,
)  # fmt: skip
def test_on_any_day_the_demo_tells_the_same_stories(build_at, built, day):
    there = build_at(day)
    stands, usual = there.stands(), built.stands()
    assert {n: codes(s) for n, s in stands.items()} == {n: codes(s) for n, s in usual.items()}
    answers = {name: v.verdict for name, v in there.dives_today().items()}
    assert (answers["Blue bezel"], answers["Deep orange"], answers["Lido quartz"]) == (
        NO_OBJECTION, THINK_TWICE, KEEP_DRY,
    )  # fmt: skip
    stages = {(i.watch, i.task): i.stage for s in stands.values() for i in s.due}
    assert stages["Night shift", "battery"] == "coming up"
    assert stages["Lido quartz", "pressure-test"] == "overdue"
    # Months are of different lengths and of different water, so that scores are not quite the same.
    known = {name for name, stand in stands.items() if stand.score is not None}
    assert known == {name for name, stand in usual.items() if stand.score is not None}
    assert all(abs(stands[name].score - usual[name].score) <= 4 for name in known)
    (knock,) = [e for e in there.records["Market find"].events if e.kind == "knock"]
    assert knock.days[0] <= day - timedelta(days=222) <= knock.days[1] == knock.on


def test_the_ledger_is_filled_for_every_exposure_on_record(built):
    with glance.open_rows(built.path) as rows:
        charged = {id_ for (id_,) in rows("SELECT DISTINCT exposure_id FROM ledger_share", ())}
    assert charged == {e.id for e in built.exposures}


def test_the_first_undo_takes_back_the_plans_alone(built, tmp_path):
    with Store.open(shutil.copy2(built.path, tmp_path)) as store:
        assert undo.undo(store, built.practice) == f"plan {len(built.plans)} exposures"
        with store.reading() as rows:
            assert glance.count_exposures(rows, planned=True) == 0
            assert glance.count_exposures(rows, planned=False) == len(built.exposures)


def test_a_path_that_is_taken_is_refused_and_left_as_it_is(tmp_path, practice):
    path = tmp_path / "mine.logbook"
    path.write_bytes(b"not to be touched")
    with pytest.raises(Refused, match=r"mine\.logbook is there already"):
        demo.build(path, date(2026, 5, 20), practice)
    assert path.read_bytes() == b"not to be touched"


@pytest.mark.parametrize(
    "change",
    [
        ('mark = "unknown"', 'mark = "perhaps"'),  # found while reading
        ('name = "Deep orange"', 'name = "blue BEZEL"'),  # found only while writing
    ],
)
def test_a_demo_that_cannot_be_built_leaves_no_file(tmp_path, practice, monkeypatch, change):
    text = demo.scenario_text()
    assert change[0] in text
    monkeypatch.setattr(demo, "scenario_text", lambda: text.replace(*change))
    with pytest.raises(BadInput):
        demo.build(tmp_path / "demo.logbook", date(2026, 5, 20), practice)
    assert list(tmp_path.iterdir()) == []


def test_it_says_what_it_is_doing(built):
    assert len(built.heard) >= 3
    assert all(built.heard)


def test_an_installed_package_reads_the_file_beside_its_module(tmp_path):
    package = tmp_path / "site" / "logbook" / "demo"
    package.mkdir(parents=True)
    shutil.copy(demo.__file__, package / "__init__.py")
    spec = spec_from_file_location("installed_demo", package / "__init__.py")
    module = module_from_spec(spec)
    spec.loader.exec_module(module)
    with pytest.raises(RecordTrouble, match="scenario is missing"):
        module.scenario_text()
    (package / "scenario.toml").write_text("seed = 'packaged'", encoding="utf-8")
    assert module.scenario_text() == "seed = 'packaged'"


def test_the_wheel_carries_the_scenario_beside_the_module():
    project = tomllib.loads((CHECKOUT / "pyproject.toml").read_text(encoding="utf-8"))
    carried = project["tool"]["hatch"]["build"]["targets"]["wheel"]["force-include"]
    assert carried["demo_db/scenario.toml"] == "logbook/demo/scenario.toml"
    assert demo.scenario_text() == (CHECKOUT / "demo_db" / "scenario.toml").read_text(encoding="utf-8")


def test_asking_for_the_demo_loads_no_database_and_no_sea_water_library():
    code = "import sys, logbook.demo; print(*sorted(sys.modules))"
    loaded = subprocess.run(
        [sys.executable, "-c", code], check=True, capture_output=True, text=True, timeout=60, cwd=CHECKOUT
    ).stdout.split()
    assert "logbook.demo" in loaded
    assert not {"sqlmodel", "sqlalchemy", "gsw", "numpy", "pint", "pydantic"} & set(loaded)
