"""One demo record, built once for all tests that only read it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path

import pytest

from logbook import demo
from logbook.model.judge import check, standing
from logbook.model.judge.check import Verdict
from logbook.model.judge.standing import Standing
from logbook.model.practice import Practice, parse
from logbook.model.validate.exposure import make_exposure
from logbook.model.values import Exposure, Settings, WatchRecord
from logbook.record.file.practice_file import shipped_path
from logbook.record.reading import glance


@dataclass(frozen=True)
class Demo:
    """A built demo as its readers see it."""

    path: Path
    today: date
    practice: Practice
    settings: Settings
    records: dict[str, WatchRecord]  # the retired one included
    exposures: list[Exposure]
    plans: list[Exposure]
    heard: list[str]  # what was said while it was built

    def of(self, name: str) -> list[Exposure]:
        """The exposures of one watch."""
        watch_id = self.records[name].watch.id
        return [e for e in self.exposures if e.watch_id == watch_id]

    def stands(self) -> dict[str, Standing]:
        return {n: standing.stand(r, self.practice, self.today) for n, r in self.records.items()}

    def dives_today(self) -> dict[str, Verdict]:
        """The answer for a common dive today, for every watch that is not retired."""
        dive = make_exposure(
            self.practice, self.settings, activity="dive", starts_on=self.today, today=self.today, depth_m=20,
            duration_s=2400, water_c=18,
        )  # fmt: skip
        verdicts = check.check_any(list(self.records.values()), dive, self.practice, self.today)
        return {v.name: v for v in verdicts}


def demo_at(path: Path, today: date, practice: Practice) -> Demo:
    """Builds the demo at `path` and reads it back."""
    heard: list[str] = []
    demo.build(path, today, practice, heard.append)
    with glance.open_rows(path) as rows:
        return Demo(
            path=path,
            today=today,
            practice=practice,
            settings=glance.read_settings(rows),
            records={r.watch.name: r for r in glance.read_records(rows, retired=True)},
            exposures=glance.read_exposures(rows, planned=False, with_profiles=True),
            plans=glance.read_exposures(rows, planned=True),
            heard=heard,
        )


@pytest.fixture(scope="session")
def practice() -> Practice:
    return parse(shipped_path().read_text(encoding="utf-8"))


@pytest.fixture(scope="session")
def today() -> date:
    return date(2026, 5, 20)


@pytest.fixture(scope="session")
def built(tmp_path_factory: pytest.TempPathFactory, practice: Practice, today: date) -> Demo:
    return demo_at(tmp_path_factory.mktemp("demo") / "demo.logbook", today, practice)


@pytest.fixture
def build_at(tmp_path: Path, practice: Practice):
    """Builds a demo of its own on a day."""
    return lambda today: demo_at(tmp_path / f"{today}.logbook", today, practice)
