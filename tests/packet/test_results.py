"""Results as JSON: the file obeys its schema, carries no idle digits, and is documented."""

from __future__ import annotations

import copy
import json
from pathlib import Path
from typing import Any

import pytest

from json_schema_check import faults
from results_samples import diagnosis, job, operations, remedy
from wormwright.packet import results_json
from wormwright.packet.results import SCHEMA

DOCS = Path(__file__).parents[2] / "docs" / "reference" / "results-json.md"


def schema() -> dict[str, Any]:
    loaded: dict[str, Any] = json.loads(SCHEMA.read_text(encoding="utf-8"))
    return loaded


def full() -> dict[str, Any]:
    loaded: dict[str, Any] = json.loads(results_json(job(), diagnosis(), remedy(), operations()))
    return loaded


def test_full_results_obey_the_schema() -> None:
    assert faults(full(), schema(), schema()) == []


def test_results_of_a_job_without_diagnosis_obey_the_schema() -> None:
    bare = json.loads(results_json(job()))
    assert faults(bare, schema(), schema()) == []
    assert bare["diagnosis"] is None
    assert bare["remedy"] is None


def spoiled(*path: str | int, value: Any) -> dict[str, Any]:
    data = copy.deepcopy(full())
    at: Any = data
    for step in path[:-1]:
        at = at[step]
    at[path[-1]] = value
    return data


@pytest.mark.parametrize(
    "data",
    [
        spoiled("format", value=2),
        spoiled("job", "unit_id", value=""),
        spoiled("diagnosis", "unexplained", "u", value=-1.0),
        spoiled("diagnosis", "fit", "p", value="0.5"),
        spoiled("diagnosis", "verdict", "word", value="scrap it"),
        spoiled("diagnosis", "verdict", "judged", 0, "where", value="somewhere"),
        spoiled("diagnosis", "runouts", 0, "lobes", 0, "order", value=1),
        spoiled("diagnosis", "drag", "parts", 0, "value", value=None),
        spoiled("diagnosis", "next_readings", 0, "closing_left", value=1.2),
        spoiled("remedy", "plans", 0, "p_jam", value=1.5),
        spoiled("remedy", "plans", 0, "offered", value=1),
        spoiled("remedy", "plans", 0, "corrections", 0, "parts", 1, "part", value="Flywheel"),
        spoiled("operations", 0, "gates", 0, "dimension", value="colour"),
        spoiled("surprise", value=1),
    ],
)
def test_schema_refuses_a_spoiled_file(data: dict[str, Any]) -> None:
    assert faults(data, schema(), schema())


def test_what_is_not_a_number_is_null() -> None:
    assert full()["diagnosis"]["fit"] == {"chi_square": None, "degrees_of_freedom": 0, "p": None}


def test_numbers_stop_two_places_below_their_uncertainty() -> None:
    found = full()["diagnosis"]
    assert found["contributors"][0]["at_r2"]["value"] == 0.08123
    assert found["map"][0]["mean"] == pytest.approx(12.0123456789 / 60 * 0.0174532925, abs=5e-7)
    assert len(str(found["map"][0]["mean"])) <= len("0.003494")


def test_parts_of_the_unit_come_with_their_figures_and_words() -> None:
    found = full()["diagnosis"]
    assert found["verdict"]["word"] == "fix it at home"
    assert found["drag"]["parts"][0]["value"]["value"] == 60.0
    assert found["runouts"][0]["eccentricity"]["value"] == 0.02123
    assert found["runouts"][0]["lobes"][0]["order"] == 3
    assert found["runouts"][1]["high_at"] is None
    assert found["findings"][0]["words"] == ["Lock slowly."]
    assert found["next_readings"][0]["minutes"] == 8.0
    assert found["unseparated"][0]["causes"] == ["mesh", "drive"]


def test_probability_carries_no_more_places_than_its_draws() -> None:
    plan = full()["remedy"]["plans"][0]
    assert plan["p_meets_duty"] == 0.93
    assert plan["p_jam"] == 0.0


def names_in(part: Any) -> set[str]:
    if isinstance(part, dict):
        inside = set().union(*(names_in(v) for v in part.values()))
        return inside | set(part.get("properties", {}))
    if isinstance(part, list):
        return set().union(*(names_in(v) for v in part))
    return set()


def test_every_field_of_the_schema_is_documented() -> None:
    words = DOCS.read_text(encoding="utf-8")
    missing = {name for name in names_in(schema()) if f"`{name}`" not in words}
    assert missing == set()
