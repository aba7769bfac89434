"""docs/record.schema.json describes every key of the export, and every export keeps to it.

Checked with the library jsonschema (4.26), draft 2020-12.
"""

from __future__ import annotations

import copy
import dataclasses
import json
import shutil
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from jsonschema import Draft202012Validator

from logbook import demo
from logbook.files.json.writing import RENAMED, record_document
from logbook.model import values as v
from logbook.model.fields import stored_fields
from logbook.model.practice import parse
from logbook.model.ranges import RANGES
from logbook.record.file.practice_file import shipped_path
from logbook.record.file.store import Store
from logbook.record.reading import glance
from logbook.record.schema import shapes
from tests.effort import tries
from tests.files import valid
from tests.files.valid import Story

SCHEMA = json.loads((Path(__file__).parents[3] / "docs" / "record.schema.json").read_text(encoding="utf-8"))
PRACTICE = parse(shipped_path().read_text(encoding="utf-8"))
DESCRIBED: dict[type, str] = {
    v.Watch: "watch", v.Seal: "seal", v.Exposure: "exposure", v.ProfilePoint: "point", v.Event: "event",
    v.WornStretch: "stretch", v.Habit: "habit", v.Settings: "settings", v.HomeWater: "home",
}  # fmt: skip


def strict(schema: dict[str, Any]) -> dict[str, Any]:
    """The same schema, in which no object has a key that is not described."""
    closed = copy.deepcopy(schema)
    for part in parts(closed):
        if "properties" in part:
            part.setdefault("additionalProperties", False)
    return closed


def parts(schema: Any) -> Iterator[dict[str, Any]]:
    """Every schema inside a schema, itself included."""
    if isinstance(schema, dict):
        if "type" in schema or "enum" in schema or "const" in schema or "$ref" in schema:
            yield schema
        for value in schema.values():
            yield from parts(value)
    elif isinstance(schema, list):
        for value in schema:
            yield from parts(value)


WHOLE = Draft202012Validator(strict(SCHEMA))


def test_the_schema_keeps_to_its_own_meta_schema() -> None:
    Draft202012Validator.check_schema(SCHEMA)


def test_every_part_of_the_schema_is_described() -> None:
    assert [part for part in parts(SCHEMA) if not part.get("description") and "$ref" not in part] == []


@pytest.mark.parametrize("cls", DESCRIBED, ids=lambda cls: cls.__name__)
def test_every_field_of_the_values_is_in_the_schema_with_a_description(cls: type) -> None:
    described = SCHEMA["$defs"][DESCRIBED[cls]]["properties"]
    for field in dataclasses.fields(cls):
        assert described[RENAMED.get(field.name, field.name)]["description"], field.name


TYPES = {"float": "number", "int": "integer", "bool": "boolean"}  # else a string
OWN_IDS = ("id", "watch_id")  # they are never null in a file


@pytest.mark.parametrize("cls", DESCRIBED, ids=lambda cls: cls.__name__)
def test_the_schema_says_of_every_field_what_the_field_says_of_itself(cls: type) -> None:
    described = SCHEMA["$defs"][DESCRIBED[cls]]["properties"]
    for one in stored_fields(cls):
        said = described[RENAMED.get(one.name, one.name)]
        maybe = one.maybe and one.name not in OWN_IDS
        if one.words:
            words = v.DAMAGE if one.name == "repaired" else one.words
            assert said["enum"] == [*words, *[None] * maybe], one.name
            continue
        kind = TYPES.get(one.type, "string")
        assert said["type"] == ([kind, "null"] if maybe else kind), one.name
        if one.within:
            rule = RANGES[one.within]
            least = said.get("exclusiveMinimum" if rule.above else "minimum")
            assert (least, said["maximum"]) == (rule.low, rule.high), one.name
        elif one.kept:
            low, high = map(one.scale.value, one.kept)
            assert low <= said["minimum"] < said["maximum"] <= high, one.name


def test_the_contact_that_a_habit_repeats_is_described_as_an_exposure_is() -> None:
    whole, contact = (SCHEMA["$defs"][name]["properties"] for name in ("exposure", "contact"))
    assert contact == {one.name: whole[one.name] for one in shapes.CONTACT.fields}


def test_the_numbers_of_the_schema_say_their_unit() -> None:
    units = {
        "_m": "metres",
        "_pa": "pascal",
        "_s": "econds",
        "_c": "Celsius",
        "_deg": "degrees",
        "_um": "micro",
    }
    for part in parts(SCHEMA):
        for key, inner in part.get("properties", {}).items():
            for ending, word in units.items():
                if key.endswith(ending) and "number" in inner.get("type", ()):
                    assert word in inner["description"], key


def test_the_demo_keeps_to_the_schema(tmp_path: Path) -> None:
    demo.build(tmp_path / "demo.logbook", date(2026, 5, 20), PRACTICE)
    with glance.open_rows(tmp_path / "demo.logbook") as rows:
        document = record_document(rows)
    assert document["exposures"]
    assert [error.message for error in WHOLE.iter_errors(document)] == []


@settings(max_examples=tries(25), suppress_health_check=list(HealthCheck))
@given(valid.records(PRACTICE))
def test_every_record_keeps_to_the_schema(
    tmp_path_factory: pytest.TempPathFactory, told: tuple[v.Settings, list[Story]]
) -> None:
    folder = tmp_path_factory.mktemp("schema")
    with Store.open(folder / "record.logbook", create=True) as store:
        valid.write(store, *told, PRACTICE)
        with store.reading() as rows:
            document = record_document(rows)
    shutil.rmtree(folder)
    assert [error.message for error in WHOLE.iter_errors(document)] == []


def test_the_schema_refuses_what_the_program_refuses() -> None:
    """A few: the schema is no looser than it says."""
    seal = {"position": "lid", "material": "NBR", "fitted_earliest": "soon", "fitted_latest": "2024-01-01",
            "order": 20, "event_id": None, "id": 0}  # fmt: skip
    part = Draft202012Validator(SCHEMA["$defs"]["seal"])
    assert {str(error.path[0]) for error in part.iter_errors(seal)} == {"position", "fitted_earliest", "id"}
