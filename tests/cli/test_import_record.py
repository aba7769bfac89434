"""`logbook import` of tables and whole records: from a spreadsheet, and from another machine."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.running import CAUTION_START, Cli

SHELF = """\
name,mark,marked,crown,use,fitted
Blue bezel,divers,20 bar,screwed,diving,2025-02-01
Lido quartz,water-resistant,10 bar,pushed,swimming,2024-05-01..2024-08-31
"""
SWIMS = """\
watch;activity;date;depth_m;minutes;water_c;rinsed
Reed green;snorkel;2026-02-20;3,5;40;15,5;yes
Reed green;dive;2026-02-21;18;41;15;no
"""


def put(folder: Path, name: str, content: str) -> str:
    path = folder / name
    path.write_text(content, encoding="utf-8")
    return str(path)


def test_a_table_of_watches_begins_a_record(bare: Cli, tmp_path: Path) -> None:
    assert "2 watches" in bare.ok("import", put(tmp_path, "shelf.csv", SHELF))
    assert [w["name"] for w in bare.json("shelf")["watches"]] == ["Blue bezel", "Lido quartz"]


def test_a_table_with_a_fault_begins_nothing(bare: Cli, tmp_path: Path) -> None:
    said = bare.refused("import", put(tmp_path, "shelf.csv", SHELF.replace("divers", "submarine")))
    assert "shelf.csv, row 2" in said
    assert not bare.file.exists()


def test_dives_alone_begin_no_record(bare: Cli, tmp_path: Path) -> None:
    answer = bare("import", put(tmp_path, "trip.txt", "reed: dive 18m 41min\n"))
    assert answer.code == 4
    assert "There is no record" in answer.err
    assert not bare.file.exists()


def test_the_export_of_one_record_is_another_record(cli: Cli, tmp_path: Path) -> None:
    cli.ok("wet", "reed: dive 18m 41min 15C rinsed on 2026-02-20 09:30")
    cli.ok("export", "--out", str(tmp_path / "all.json"))
    other = Cli(tmp_path / "other.logbook")
    assert "3 watches" in other.ok("import", str(tmp_path / "all.json"))
    assert other.everything() == cli.everything()
    assert other.score("reed") == cli.score("reed")
    assert "Nothing came in; on record already: 3 watches" in " ".join(
        other.ok("import", str(tmp_path / "all.json")).split()
    )


def test_a_dry_run_of_a_record_writes_nothing(cli: Cli, tmp_path: Path) -> None:
    before = cli.everything()
    said = cli.ok("import", put(tmp_path, "shelf.csv", SHELF), "--dry-run")
    assert "2 watches and 1 event would come in" in said
    assert cli.everything() == before


def test_a_record_that_came_in_is_taken_back_as_one_step(cli: Cli, tmp_path: Path) -> None:
    before = cli.everything()
    cli.ok("import", put(tmp_path, "shelf.csv", SHELF))
    assert cli.everything() != before
    assert "Undone: import shelf.csv" in cli.ok("import", "--undo")
    assert cli.everything() == before


def test_what_was_amended_ended_or_renamed_since_the_export_comes_in_no_second_time(
    cli: Cli, tmp_path: Path
) -> None:
    cli.ok("wet", "reed: dive 18m 30min on 2026-02-20")
    cli.ok("export", "--out", str(tmp_path / "all.json"))
    cli.ok("amend", "last", "50min")
    cli.ok("watch", "edit", "reed", "--name", "Azure")
    before = cli.everything()
    said = " ".join(cli.ok("import", str(tmp_path / "all.json")).split())
    assert said.startswith("Nothing came in; on record already: 2 watches of these nicknames")
    assert "1 entry of the file is on record with changes: left as here." in said
    assert "Reed green is Azure here: left as here." in said
    assert cli.everything() == before
    answer = cli.json("import", str(tmp_path / "all.json"))
    assert (answer["amended"], answer["renamed"], answer["watches_here"]) == (1, 1, 2)


def test_the_test_of_a_table_is_logged_for_a_watch_that_is_here_and_once(cli: Cli, tmp_path: Path) -> None:
    table = put(tmp_path, "shelf.csv", "name,tested,tested_bar\nreed GREEN,2026-02-01,25\n")
    assert "1 event came in" in cli.ok("import", table)
    assert "25 bar" in cli.ok("log", "reed")
    assert "Nothing came in; on record already: 1 watch of this nickname, 1 entry." in cli.ok("import", table)


def test_a_table_of_watches_opens_no_case_that_was_never_opened(bare: Cli, tmp_path: Path) -> None:
    bare.ok("watch", "add", "Lido", "--bar", "10", "--tested", "2025-06-10", "--tested-bar", "10")
    bare.ok("export", "--csv", "watches", "--out", str(tmp_path / "shelf.csv"))
    other = Cli(tmp_path / "other.logbook")
    other.ok("import", str(tmp_path / "shelf.csv"))
    assert "opened" not in other.ok("log")
    assert [w["next_due"] for w in other.json("shelf")["watches"]] == [
        w["next_due"] for w in bare.json("shelf")["watches"]
    ]


def test_one_watch_and_one_exposure_are_written_in_words_that_fit(bare: Cli, tmp_path: Path) -> None:
    bare.ok("watch", "add", "Lido", "--mark", "unknown")
    bare.ok("wet", "lido: pool")
    assert "Wrote 1 watch and 1 exposure to" in " ".join(
        bare.ok("export", "--out", str(tmp_path / "all.json")).split()
    )
    bare.ok("wet", "lido: pool")
    assert "Wrote 1 watch and 2 exposures to" in " ".join(
        bare.ok("export", "--out", str(tmp_path / "more.json")).split()
    )


def test_a_plan_in_a_table_is_on_record_as_it_was_planned(cli: Cli, tmp_path: Path) -> None:
    cli.ok("plan", "reed", "dive 18m 40min", "--from", "2026-05-01", "--to", "2026-05-04")
    cli.ok("export", "--csv", "exposures", "--out", str(tmp_path / "out.csv"))
    answer = cli.json("import", str(tmp_path / "out.csv"))
    assert [a["state"] for a in answer["arrivals"]] == ["on record"]


def test_a_table_of_exposures_comes_in_with_decimal_commas(cli: Cli, tmp_path: Path) -> None:
    answer = cli.json("import", put(tmp_path, "swims.csv", SWIMS))
    assert [a["depth_m"] for a in answer["arrivals"]] == [3.5, 18.0]
    assert cli.json("import", str(tmp_path / "swims.csv"))["entries"] == []


def test_a_table_on_the_way_out_is_nothing_new_on_the_way_in(cli: Cli, tmp_path: Path) -> None:
    cli.ok("wet", "reed: dive 18m 41min 15C rinsed on 2026-02-20 09:30", "lido: pool 60min on 2026-03-01")
    cli.ok("export", "--csv", "exposures", "--out", str(tmp_path / "out.csv"))
    answer = cli.json("import", str(tmp_path / "out.csv"))
    assert [a["state"] for a in answer["arrivals"]] == ["on record", "on record"]


@pytest.mark.parametrize(
    ("cell", "instead", "said"),
    [
        ("2026-02-21", "21/02/2026", "--dates day-first"),
        (";18;", ";1800;", "row 3"),
        ("dive;", "diev;", "Did you mean dive?"),
        ("Reed green;dive", "Nobody;dive", "row 3"),
        ("depth_m", "deep", "deep"),
    ],
)
def test_a_cell_that_is_wrong_is_named(cli: Cli, tmp_path: Path, cell: str, instead: str, said: str) -> None:
    answer = " ".join(cli.refused("import", put(tmp_path, "swims.csv", SWIMS.replace(cell, instead))).split())
    assert "swims.csv" in answer
    assert said in answer


def test_dates_are_day_first_when_that_is_said(cli: Cli, tmp_path: Path) -> None:
    table = SWIMS.replace("2026-02-20", "20/02/2026").replace("2026-02-21", "21/02/2026")
    answer = cli.json("import", put(tmp_path, "swims.csv", table), "--dates", "day-first")
    assert [a["starts_on"] for a in answer["arrivals"]] == ["2026-02-20", "2026-02-21"]


def test_what_came_in_with_dives_of_a_table_or_with_a_record_is_said_at_once(
    cli: Cli, tmp_path: Path
) -> None:
    deep = SWIMS.replace(";18;", ";230;")
    table = cli.json("import", put(tmp_path, "deep.csv", deep))
    (meant,) = table["meaning"]
    assert meant.startswith("Reed green: keep it dry: a dive to 230 m on 21 Feb 2026 went above its mark")
    cli.ok("export", "--out", str(tmp_path / "all.json"))
    other = Cli(tmp_path / "other.logbook")
    said = other.ok("import", str(tmp_path / "all.json"))
    assert "Reed green: keep it dry: a dive to 230 m on 21 Feb 2026" in " ".join(said.split())
    assert CAUTION_START in said
    assert other.json("import", str(tmp_path / "all.json"))["meaning"] == []
