"""Rule set files: the shipped ones, a user's own, and what is said of a wrong one."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from railgen.checks import Certainty, Verdict
from railgen.checks.rules import RuleSet, load_rule_file, load_rule_sets, rule_checks, shipped_rule_sets
from railgen.errors import InputError
from railgen.job.rules_model import Beside, RulesInput, RulesTable, Surroundings, rules_input
from railgen.units import Unit
from tests.checks.rules.scenes import bare, even

OWN = """
format = 1
id = "our-shop"
title = "Rules of our shop"
units = "inch"

[[rule]]
id = "grip"
kind = "grip"
unit = "length"
most = "1-3/4"
certainty = "own"
says = "no rail thicker than 1-3/4 in"
"""


def test_a_rule_set_of_ones_own_is_judged_beside_the_shipped_ones(tmp_path: Path) -> None:
    (tmp_path / "own.toml").write_text(OWN)
    table = RulesTable(sets=("us-irc-2021",), files=("own.toml",))
    rules = rules_input(table, Surroundings(), tmp_path)
    job = even()  # 48.3 mm: within 1-1/4 to 2 in, thicker than 1-3/4
    grips = [c for c in rule_checks(job, bare(job), rules) if c.code == "rule-grip"]
    assert [(c.rule, c.verdict, c.governs) for c in grips] == [
        ("us-irc-2021/grip", Verdict.MEETS, True),  # its least still governs
        ("our-shop/grip", Verdict.FAILS, True),
    ]
    assert grips[1].certainty is Certainty.JOB
    assert grips[1].most == pytest.approx(44.45)


@pytest.mark.parametrize(
    ("change", "where", "told"),
    [
        (("most =", "mots ="), "rule[0].mots", "no such key"),
        (('"grip"\nunit', '"girp"\nunit'), "rule[0].kind", "riser"),
        (('"length"\nmost = "1-3/4"', '"count"\nmost = 2'), "rule[0]", 'unit = "length"'),
        (('"own"\nsays', '"sure"\nsays'), "rule[0].certainty", "memory"),
        (('"1-3/4"', '"1-3/0"'), "rule[0].most", "divides by zero"),
        (("format = 1", "format = 2"), "format", "1"),
        (("[[rule]]", "[[rule"), "", "not valid TOML"),
        (("[[rule]]", "[rule]"), "rule", "a list of tables"),
        (('unit = "length"\n', ""), "rule[0].unit", "length, degrees"),
    ],
)
def test_a_wrong_file_is_told_by_place(tmp_path: Path, change: tuple[str, str], where: str, told: str) -> None:
    path = tmp_path / "own.toml"
    path.write_text(OWN.replace(*change))
    with pytest.raises(InputError) as error:
        load_rule_file(path)
    (fault,) = (fault for fault in error.value.faults if fault.where.startswith(where))
    assert told in f"{fault.message} {fault.allowed}"
    assert fault.file == str(path)
    assert fault.line is not None


def test_all_that_is_wrong_with_the_names_is_told_at_once(tmp_path: Path) -> None:
    (tmp_path / "taken.toml").write_text(OWN.replace("our-shop", "us-irc-2021"))
    files = (tmp_path / "missing.toml", tmp_path / "taken.toml")
    with pytest.raises(InputError) as error:
        load_rule_sets(RulesInput(sets=("us-irc-2021", "nowhere"), files=files))
    assert [fault.code for fault in error.value.faults] == ["unknown-rule-set", "no-file", "rule-set-twice"]
    assert "us-irc-2021" in error.value.faults[0].allowed


def test_a_repeated_id_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "own.toml"
    path.write_text(OWN + OWN[OWN.index("[[rule]]") :])
    with pytest.raises(InputError, match="same id: grip"):
        load_rule_file(path)


@pytest.mark.parametrize("name", ["../own.toml", "/etc/own.toml", "own.txt", ""])
def test_a_file_is_named_below_the_job(name: str) -> None:
    with pytest.raises(ValueError, match="files"):
        RulesTable(files=(name,))


def test_surroundings_are_read_in_the_job_s_unit() -> None:
    raw = {"beside": "wall", "wall_distance": 1, "headroom": 80, "ground_level": -30}
    site = Surroundings.model_validate(raw, context={"unit": Unit.INCH})
    read = rules_input(RulesTable(), site, Path("/jobs"))
    assert read.sets == ("none",)
    assert read.surroundings.beside is Beside.WALL
    assert read.surroundings.wall_distance == pytest.approx(25.4)
    assert read.surroundings.ground_level == pytest.approx(-762.0)
    assert read.surroundings.headroom == pytest.approx(2032.0)


def test_only_what_is_asked_for_is_read(monkeypatch: pytest.MonkeyPatch) -> None:
    from railgen.checks.rules import load

    load._shipped.cache_clear()
    opened: list[str] = []
    real = load.load_rule_file

    def counted(path: Path) -> RuleSet:
        opened.append(path.stem)
        return real(path)

    monkeypatch.setattr(load, "load_rule_file", counted)
    load_rule_sets(RulesInput(sets=("us-irc-2021",)))
    load_rule_sets(RulesInput(sets=("us-irc-2021", "none")))
    assert opened == ["us-irc-2021", "none"]


def test_judging_rules_loads_no_array_or_kernel_library() -> None:
    code = (
        "import sys, railgen.checks.rules as r; print([m for m in ('numpy', 'scipy', 'cadquery') if m in sys.modules])"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert ran.stdout.strip() == "[]"


def test_every_document_and_use_is_shipped() -> None:
    assert shipped_rule_sets() == (
        "au-hp-2022", "au-hp-2022-service", "au-ncc1-2022", "ca-nbcae-2023", "ca-nbcae-2023-dwelling", "none",
        "uk-adk-2013-flats", "uk-adk-2013-other", "uk-adk-2013-private", "uk-adk-2013-utility",
        "uk-adm1-2015-accessible-external", "uk-adm1-2015-visitable-external", "uk-adm2-2015-external", "us-ada-2010",
        "us-ibc-2021", "us-ibc-2021-dwelling", "us-irc-2021", "us-osha-1910",
    )  # fmt: skip


def test_a_rule_set_that_became_several_is_refused_by_naming_them() -> None:
    with pytest.raises(InputError) as error:
        load_rule_sets(RulesInput(sets=("us-ada-2010", "uk-adk-2013-general")))
    (fault,) = error.value.faults
    assert (fault.code, fault.where) == ("rule-set-split", "rules.sets[1]")
    named = [name for name in shipped_rule_sets() if name in fault.allowed]
    assert named == ["uk-adk-2013-flats", "uk-adk-2013-other", "uk-adm2-2015-external"]


def test_a_heading_stands_beside_each_number_that_another_edition_may_count_otherwise() -> None:
    for name in ("us-ibc-2021", "us-ibc-2021-dwelling"):
        (rule_set,) = load_rule_sets(RulesInput(sets=(name,)))
        assert all(rule.place == f"{rule.clause} {rule.title}" and rule.title for rule in rule_set.rule)
    checks = rule_checks(even(), bare(even(), [900.0] * 6), RulesInput(sets=("us-ibc-2021",)))
    assert {check.clause for check in checks if check.code == "rule-handrail-height"} == {"1014.2 Height"}
