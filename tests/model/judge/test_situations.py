"""Every situation of the tables, written from the page on evidence and not from the code.

A row is what happened to a watch and what is then asked of it: the verdict, and exactly the codes that speak.
The tables are in `situation_tables`; `situation_words` tells how to read and correct them.
"""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from logbook.model.judge import check, rules, standing
from logbook.model.judge.rules import Reason
from logbook.model.judge.stands_words import proof_advice
from logbook.model.values import WatchRecord
from tests.model.builders import PRACTICE
from tests.model.situation_words import NOW, Case, case_of, day_of, expected, grave, water_of

TABLES = sorted((Path(__file__).parent / "situation_tables").glob("*.toml"))
CLASSES = {  # a little of each class, far below any mark
    "rain, hands": "rain", "swim": "swim 0.3 m", "snorkel": "snorkel 0.3 m", "free dive": "free dive 1 m",
    "scuba": "dive 1 m", "mixed gas": "mixed gas 1 m",
}  # fmt: skip
ALLOWED = {"yes": "no objection found", "light": "think twice", "no": "keep it dry"}
# What is wrong with this watch; mark and class; proof; age and wear; the record.
READING_ORDER = (
    {"failed-test", "water-inside", "damaged", "overstressed", "opened-untested", "knocked", "beyond-proof"},
    {"over-mark", "mark-unknown", "beyond-class", "near-mark"},
    {"over-tested", "never-tested", "test-overdue"},
    {"seal-too-old", "used-up", "low-score", "chance-low"},
    {"clock-behind", "record-silent"},
)


def rows() -> list[dict[str, Any]]:
    """Every question of every table: a situation with the plan, the verdict and the codes of one answer."""
    found = []
    for table in TABLES:
        read = tomllib.loads(table.read_text(encoding="utf-8"))
        for situation in read.get("situation", ()):
            for plan, verdict, *codes in situation["ask"]:
                asked = {"plan": plan, "verdict": verdict, "codes": "".join(codes), "table": table.stem}
                found.append(situation | asked)
        for mark in read.get("mark", ()):
            found += [_of_mark(mark, name, plan, table.stem) for name, plan in CLASSES.items()]
    return found


def _of_mark(mark: dict[str, Any], name: str, plan: str, table: str) -> dict[str, Any]:
    verdict = ALLOWED[mark[name]]
    return {
        "title": f"a mark of {mark['mark']}", "watch": f"{mark['mark']}, swimming", "plan": plan,
        "verdict": verdict, "codes": "" if mark[name] == "yes" else "beyond-class", "table": table,
    }  # fmt: skip


ROWS = rows()


def called(row: dict[str, Any]) -> str:
    return f"{row['table']}: {row['title']}: {row['plan']}"


def asked(case: Case, plan: str) -> tuple[list[Reason], str]:
    """What speaks, and the verdict."""
    if plan == "shelf":
        stands = standing.stand(case.record, PRACTICE, NOW, case.foretold)
        return list(stands.stops), grave(stands.stops)
    found = check.check(case.record, water_of(plan, NOW), PRACTICE, NOW, case.foretold)
    return list(found.reasons), found.verdict or "not judged"


def answer(row: dict[str, Any], *, reverse: bool = False) -> tuple[str, dict[str, str]]:
    case = case_of(row, reverse=reverse)
    reasons, verdict = asked(case, row["plan"])
    if case.record.watch.retired_on is not None:
        assert reasons == []
        verdict = "not judged"
    return verdict, {reason.code: reason.verdict for reason in reasons}


@pytest.mark.parametrize("row", ROWS, ids=called)
def test_a_situation_reads_as_the_table_says(row: dict[str, Any]) -> None:
    assert answer(row) == (row["verdict"], expected(row["verdict"], row["codes"]))


@pytest.mark.parametrize("row", [row for row in ROWS if len(row.get("history", ())) > 1], ids=called)
def test_a_situation_reads_the_same_typed_in_the_other_order(row: dict[str, Any]) -> None:
    assert answer(row, reverse=True) == answer(row)


@pytest.mark.parametrize("row", [row for row in ROWS if "holds_from" in row], ids=called)
def test_the_first_day_from_which_the_verdict_of_a_trip_holds_is_named(row: dict[str, Any]) -> None:
    found = check.check(case_of(row).record, water_of(row["plan"], NOW), PRACTICE, NOW)
    assert found.holds_from == day_of(row["holds_from"])


@pytest.mark.parametrize("row", [row for row in ROWS if "score" in row], ids=called)
def test_a_score_is_known_or_it_is_not(row: dict[str, Any]) -> None:
    score = standing.stand(case_of(row).record, PRACTICE, NOW).score
    assert ("not known" if score is None else "known") == row["score"]


@pytest.mark.parametrize("row", [row for row in ROWS if "needs" in row], ids=called)
def test_the_pass_needed_is_named(row: dict[str, Any]) -> None:
    """Never the bare pressure of a plan."""
    record: WatchRecord = case_of(row).record
    if row["plan"] == "shelf":
        needed_pa = standing.stand(record, PRACTICE, NOW).facts.needs.asked_pa
    else:
        needed_pa = check.check(record, water_of(row["plan"], NOW), PRACTICE, NOW).pass_needed_pa
    assert proof_advice(record.watch, needed_pa).endswith(row["needs"])


@pytest.mark.parametrize("row", [row for row in ROWS if "advice" in row], ids=called)
def test_what_would_change_it_names_the_pass(row: dict[str, Any]) -> None:
    found = check.check(case_of(row).record, water_of(row["plan"], NOW), PRACTICE, NOW)
    assert row["advice"] in found.would_change


WET = [
    row for row in ROWS
    if row["table"] == "water_inside" and row["codes"] == "water-inside" and len(row["history"]) == 1
    and row["verdict"] == rules.KEEP_DRY
]  # fmt: skip


@pytest.mark.parametrize("row", WET, ids=called)
def test_what_is_wet_inside_goes_to_a_workshop_within_days(row: dict[str, Any]) -> None:
    reasons, _ = asked(case_of(row), row["plan"])
    assert "to a workshop within days: what is wet inside corrodes" in reasons[0].sentence


def test_reasons_of_one_verdict_stand_in_their_order() -> None:
    for row in ROWS:
        reasons, _ = asked(case_of(row), row["plan"])
        for verdict in rules.VERDICTS:
            of_one = [r.code for r in reasons if r.verdict == verdict]
            groups = [n for code in of_one for n, group in enumerate(READING_ORDER) if code in group]
            assert groups == sorted(groups), called(row)
        gravity = [rules.VERDICTS.index(r.verdict) for r in reasons]
        assert gravity == sorted(gravity, reverse=True), called(row)


def test_every_code_has_a_situation_in_which_it_alone_speaks() -> None:
    """But for `low-score`: silent while a proof is in force; without one a rule of proofs speaks too."""
    alone = {code for row in ROWS for code in expected("", row["codes"]) if ", " not in row["codes"]}
    assert alone == set(rules.ORDER) - {"low-score"}


def test_every_situation_has_a_name_of_its_own() -> None:
    names = [called(row) for row in ROWS]
    assert len(set(names)) == len(names)
