"""The JSON Schema and the option table say what the reader does."""

from __future__ import annotations

import datetime
import json
import math
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import jsonschema
import pytest

import railgen
from railgen.catalogue.load import SHIPPED
from railgen.catalogue.models import CatalogueFile
from railgen.checks.rules import RuleSet, shipped_rule_sets
from railgen.job.read import load_job
from railgen.job.schema import file_schema, job_schema, option_table
from railgen.job.starter import starter_text
from tests.job.cases import GOOD
from tests.job.malformed_values import VALUES

CONFIGS = Path(__file__).parents[2] / "configs"
RULES = Path(railgen.__file__).parent / "checks" / "rules" / "data"
GOOD_JOBS = {
    "good": GOOD,
    "starter": starter_text(),
    **{
        path.stem: path.read_text(encoding="utf-8")
        for path in sorted(CONFIGS.glob("*.toml"))
        if not path.name.startswith("bad_") and "[project]" in path.read_text(encoding="utf-8")
    },
}


@pytest.fixture(scope="module")
def validator() -> jsonschema.Draft202012Validator:
    return jsonschema.Draft202012Validator(job_schema(), format_checker=jsonschema.Draft202012Validator.FORMAT_CHECKER)


def as_json(text: str) -> Any:
    """A job as an editor hands it to its checker: dates as text."""
    return json.loads(json.dumps(tomllib.loads(text), default=datetime.date.isoformat))


def test_the_schema_is_one_by_its_own_standard() -> None:
    """JSON Schema 2020-12, its metaschema, by the jsonschema library."""
    jsonschema.Draft202012Validator.check_schema(job_schema())
    assert job_schema()["$schema"] == "https://json-schema.org/draft/2020-12/schema"


@pytest.mark.parametrize("name", GOOD_JOBS)
def test_every_good_job_passes(validator: jsonschema.Draft202012Validator, name: str) -> None:
    assert [error.message for error in validator.iter_errors(as_json(GOOD_JOBS[name]))] == []


# What a schema of JSON cannot see: the unit of a number, a date without quotes, what is no number at all
UNSEEN = {"inches in a mm job", "mm in an inch job", "fraction in a mm job", "quoted date", "nan"}


def test_most_malformed_values_are_seen_in_the_editor_too(validator: jsonschema.Draft202012Validator) -> None:
    passed: set[str] = set()
    count = 0
    for case in VALUES:
        if not isinstance(case.job, str):
            continue
        try:
            tree = tomllib.loads(case.job)
        except (ValueError, RecursionError):
            continue
        count += 1
        tree = json.loads(json.dumps(tree, default=datetime.date.isoformat))
        if validator.is_valid(tree):
            passed.add(case.name)
    assert count > 30
    assert passed == UNSEEN


@pytest.mark.parametrize(
    "change",
    [
        ("goings = [251, 248]", "goings = [251, 248]\nrise = 178"),
        ("rise = 178\ngoing = 250\nriser_count = 4\n", ""),
        ("riser_count = 4\n", ""),
        ("going = 250\n", ""),
        ("well = 120\n", ""),
        ('"half-left"', '"straight"'),
        ('kind = "landing"', 'kind = "ramp"'),
        ("posts = [1, 3]", "posts = [1.5, 3]"),
        ("[70, 180]", "[70, 180, 200]"),
    ],
)
def test_the_forms_of_a_flight_and_the_wants_of_a_turn_are_seen(
    validator: jsonschema.Draft202012Validator, change: tuple[str, str]
) -> None:
    assert GOOD.count(change[0]) == 1
    assert not validator.is_valid(as_json(GOOD.replace(*change)))


OWN_FILES = [*SHIPPED.glob("*.toml"), CONFIGS / "millrace_fittings.toml"]


@pytest.mark.parametrize("path", OWN_FILES, ids=[path.stem for path in OWN_FILES])
def test_every_catalogue_file_passes_its_schema(path: Path) -> None:
    schema = file_schema(CatalogueFile)
    jsonschema.Draft202012Validator.check_schema(schema)
    checker = jsonschema.Draft202012Validator(schema)
    tree = tomllib.loads(path.read_text(encoding="utf-8"))
    assert [error.message for error in checker.iter_errors(tree)] == []
    kind = next(key for key, value in tree.items() if isinstance(value, list))
    first = tree[kind][0]
    for wrong in ({**first, "no_such_key": 1}, {key: value for key, value in first.items() if key != "id"}):
        assert not checker.is_valid({**tree, kind: [wrong]})


@pytest.mark.parametrize("name", shipped_rule_sets())
def test_every_rule_set_passes_its_schema(name: str) -> None:
    schema = file_schema(RuleSet)
    jsonschema.Draft202012Validator.check_schema(schema)
    checker = jsonschema.Draft202012Validator(schema)
    tree = tomllib.loads((RULES / f"{name}.toml").read_text(encoding="utf-8"))
    assert [error.message for error in checker.iter_errors(tree)] == []
    for rule in tree.get("rule", [])[:3]:
        for wrong in ({**rule, "kind": "girp"}, {**rule, "no_such_key": 1}, {**rule, "certainty": "sure"}):
            assert not checker.is_valid({**tree, "rule": [wrong]})


def rows() -> dict[str, list[str]]:
    lines = option_table().splitlines()
    assert lines[:2] == ["| key | kind | default | allowed | meaning |", "|---|---|---|---|---|"]
    cells = [[cell.strip() for cell in line.strip("|").split(" | ")] for line in lines[2:]]
    assert all(len(row) == 5 for row in cells)
    return {row[0].strip("` "): row[1:] for row in cells}


def test_the_option_table_names_every_key_that_a_job_can_type() -> None:
    typed: set[str] = set()

    def walk(tree: dict[str, Any], above: str) -> None:
        for key, value in tree.items():
            if isinstance(value, dict):
                walk(value, f"{above}{key}.")
            elif key == "stair":
                for item in value:
                    walk(item, f"stair[{item['kind']}].")
            elif isinstance(value, list) and value and isinstance(value[0], dict):
                for item in value:
                    walk(item, f"{above}{key}.")
            else:
                typed.add(above + key)

    for text in GOOD_JOBS.values():
        walk(tomllib.loads(text), "")
    assert len(typed) > 30
    assert typed <= set(rows())


def test_every_option_has_a_meaning_and_a_default_or_is_required() -> None:
    for key, (kind, default, _, meaning) in rows().items():
        assert kind, key
        assert default, key
        assert len(meaning) > 3, key
        assert not re.search(r"pydantic|undefined|<|\bdict\b", f"{kind} {default}", flags=re.IGNORECASE), key


def test_a_default_in_the_table_is_what_a_job_gets(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_text(GOOD.replace("setback = 125\nsetback_band = [70, 180]\n", ""), encoding="utf-8")
    job = load_job(path)
    table = rows()
    assert float(table["posts.setback"][1]) == job.posts.setback
    assert table["posts.setback_band"][1] == f"[{job.posts.setback_min:g}, {job.posts.setback_max:g}]"
    assert float(table["rail.top.overhang"][1]) == job.rail.top.overhang
    assert float(table["stair[flight].tread_thickness"][1]) == job.flights[0].tread_thickness
    assert table["posts.largest_span"][1] == f"{job.posts.largest_span:g}"
    assert table["rail.top.finish"][1] == job.rail.top.finish.value
    assert table["rail.side"][1] == "required"


def test_a_bound_in_the_table_is_where_the_reader_stops(tmp_path: Path) -> None:
    low, high = (float(text.split()[0]) for text in rows()["posts.edge_offset"][2].split(" to "))
    path = tmp_path / "job.toml"
    for value, good in ((low, True), (high, True), (low - 0.1, False), (math.nextafter(high, math.inf), False)):
        path.write_text(GOOD.replace("edge_offset = 60", f"edge_offset = {value!r}"), encoding="utf-8")
        if good:
            assert load_job(path).posts.edge_offset == value
        else:
            with pytest.raises(ValueError, match="out-of-range"):
                load_job(path)


def _unlimited(node: object, path: tuple[str, ...] = ()) -> Iterator[str]:
    """Places of lists, texts and tables of free keys that may be as long as anybody likes."""
    for key, value in node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ():
        yield from _unlimited(value, (*path, str(key)))
    if isinstance(node, dict):
        kind, free = node.get("type"), node.get("additionalProperties") is not False
        words = {"maxLength", "enum", "const", "format", "pattern"}  # a pattern alone is a length's, at most 40 long
        if (
            (kind == "array" and "maxItems" not in node)
            or (kind == "string" and not words & set(node))
            or (kind == "object" and free and "maxProperties" not in node)
        ):
            yield ".".join(path)


@pytest.mark.parametrize("schema", [job_schema(), file_schema(CatalogueFile), file_schema(RuleSet)])
def test_every_list_and_text_of_a_file_has_a_limit(schema: dict[str, object]) -> None:
    assert list(_unlimited(schema)) == []
    assert list(_unlimited({"a": {"type": "array"}, "b": [{"type": "string"}, {"type": "object"}]})) == [
        "a",
        "b.0",
        "b.1",
    ]
