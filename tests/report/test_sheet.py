"""The job sheet as text: whole, escaped, valid, the same bytes each time, and telling what the checks tell."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest

from railgen.members.pieces import Tube
from railgen.report.page.sheet import as_text, drawing_library
from tests.packs import GOOD, built_pack
from tests.report.pages import HOSTILE, LONG, check, made, parsed, table, texts


@pytest.mark.parametrize("name", GOOD)
def test_every_shipped_job_makes_a_valid_page(name: str) -> None:
    tree = parsed(made(built_pack(name)))
    ids = [element.get("id") for element in tree.iter() if element.get("id")]
    assert len(ids) == len(set(ids))
    links = {element.get("href", "")[1:] for element in tree.iter("a")}
    assert links <= set(ids)
    assert tree.get("lang") == "en"
    for each in tree.iter("table"):
        assert each.find("caption") is not None
        assert {head.get("scope") for head in each.iter("th")} == {"col"}


def test_headings_go_down_one_level_at_a_time() -> None:
    levels = [
        int(e.tag[1]) for e in parsed(made(built_pack("mill_half_turn"))).iter() if re.fullmatch("h[1-6]", str(e.tag))
    ]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(below <= above + 1 for above, below in pairwise(levels))


def test_the_same_job_gives_the_same_page() -> None:
    pack = built_pack("mill_half_turn")
    assert made(pack, pack.job) == made(pack, pack.job)  # each from work of its own


def test_nothing_is_fetched_from_elsewhere() -> None:
    tree = parsed(made(built_pack("mill_half_turn")))
    for element in tree.iter():
        for name in ("src", "href", "srcset", "action", "data", "poster"):
            assert element.get(name, "#").startswith(("#", "data:")), (element.tag, name)
    style = "".join(texts(tree, ".//style"))
    assert "url(" not in style
    assert "@import" not in style


def test_markup_in_names_stays_text() -> None:
    pack = built_pack("mill_half_turn")
    project = replace(pack.job.project, title=HOSTILE, client=HOSTILE + LONG, revision=HOSTILE)
    check = replace(pack.checks[0], title=HOSTILE, where=HOSTILE, advice=HOSTILE, formula=HOSTILE, source=HOSTILE)
    job = replace(pack.job, project=project, notes=(HOSTILE,))
    page = made(pack, job, checks=(check, replace(check, value=None)))
    plain = made(pack)
    tree = parsed(page)
    assert texts(tree, ".//h1") == [HOSTILE]
    assert HOSTILE in texts(tree, ".//section/ul/li")
    assert any(text.startswith(HOSTILE[:30]) for text in texts(tree, ".//section[@id='drawings']//{*}text"))
    assert HOSTILE + LONG in " ".join(texts(tree, ".//header"))
    count = {tag: len(list(parsed(plain).iter(tag))) for tag in ("script", "img", "style", "iframe")}
    assert {tag: len(list(tree.iter(tag))) for tag in count} == count
    handlers = [name for element in tree.iter() for name in element.keys() if name.startswith("on")]  # noqa: SIM118
    assert handlers == []


def test_each_step_and_its_closure_are_told() -> None:
    job = built_pack("mill_half_turn").job
    tree = parsed(made(built_pack("mill_half_turn")))
    for flight in job.flights:
        rows = table(tree, f"Flight {flight.number}: measured steps")[1:]
        assert [float(row[1]) for row in rows] == list(flight.risers)
        assert [float(row[2]) for row in rows[:-1]] == list(flight.goings)
    closure = table(tree, "Closure")[1:]
    assert closure[0] == ["1", "rise", "173", "181", "1416", "1414", "-2"]  # added up by hand from the job file
    assert closure[1] == ["1", "run", "250", "256", "1771", "1773", "2"]
    assert closure[3][-2:] == ["not measured", ""]


def test_every_piece_is_told_with_its_quantity_and_holes() -> None:
    pack = built_pack("mill_half_turn")
    tree = parsed(made(pack))
    pieces = {e.get("data-mark"): e for e in tree.iter("details") if e.get("class") == "piece"}
    quantities = pack.fabrication.quantities()
    assert sorted(map(str, pieces)) == sorted(pack.fabrication.pieces)
    made_here = [mark for mark, piece in pack.fabrication.pieces.items() if isinstance(piece, Tube)]
    assert list(pieces)[: len(made_here)] == made_here  # what the workshop makes comes first
    for mark, piece in pack.fabrication.pieces.items():
        text = "".join(pieces[mark].itertext())
        assert re.search(rf"Quantity\s*{quantities[mark]}\b", text), mark
        assert len(list(pieces[mark].iter("tr"))) == (len(piece.holes) + 1 if piece.holes else 0)
    options = {e.get("value"): e.get("data-mark") for e in tree.iter("option") if e.get("value")}
    assert options == {place.id: place.mark for place in pack.fabrication.placed}


@pytest.mark.parametrize(
    ("changes", "status"),
    [
        ({}, "Checks met"),
        ({"value": 3.0}, "Checks not met"),
        ({"value": None, "missing": "a depth"}, "Checks incomplete"),
    ],
)
def test_the_banner_says_how_the_checks_stand(changes: dict[str, object], status: str) -> None:
    judged = (check(rule="set/rule"), check(code="strength-post"))
    page = made(built_pack("mill_half_turn"), checks=(*judged, check(**changes)))
    assert texts(parsed(page), ".//h2[@id='verdict']") == [status]
    assert ("@top-center { content: " in page) == (status != "Checks met")


def test_the_banner_says_what_is_not_judged() -> None:
    page = made(built_pack("mill_half_turn"), checks=(check(rule="set/rule"),))
    assert texts(parsed(page), ".//h2[@id='verdict']") == ["Checks met as far as judged; strength not judged"]
    page = made(built_pack("mill_half_turn"), checks=(check(),))
    assert texts(parsed(page), ".//h2[@id='verdict']") == [
        "Checks met as far as judged; building code not judged; strength not judged"
    ]


def test_sections_stand_in_the_order_of_the_contents() -> None:
    tree = parsed(made(built_pack("mill_half_turn")))
    links = [a.get("href", "")[1:] for a in tree.findall(".//nav//a")]
    assert [section.get("id") for section in tree.iter("section") if section.get("id")] == links


def test_cautions_and_origin_are_on_the_page() -> None:
    pack = built_pack("mill_half_turn")
    tree = parsed(made(pack, versions={"railgen": "9.8.7"}))
    assert "licensed engineer" in " ".join(texts(tree, ".//div[@class='caution']"))
    origin = " ".join(texts(tree, ".//section[@id='pack']"))
    assert pack.job.digest in origin
    assert "9.8.7" in origin


def test_an_inch_job_is_told_in_inches() -> None:
    pack = built_pack("mill_weir_steps_inch")
    rows = table(parsed(made(pack)), "Flight 1: measured steps (inch)")[1:]
    assert [float(row[1]) * 25.4 for row in rows] == pytest.approx(pack.job.flights[0].risers, abs=0.0127)


def test_the_drawing_library_is_found_with_its_licence() -> None:
    library = drawing_library()
    assert "SPDX-License-Identifier: MIT" in library[:300]
    assert library.endswith("THREE.GLTFLoader=GLTFLoader;})();")
    assert "</script" not in library
    assert "base64_data" not in library  # where the wheel's own viewer begins


def test_without_the_library_there_is_a_page_all_the_same(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr("railgen.report.page.sheet._BUNDLE", "trimesh/nowhere.zip")
    assert drawing_library() == ""
    assert len(list(parsed(made(built_pack("mill_half_turn"))).iter("script"))) == 4  # the model and our own three


def test_the_model_is_kept_byte_for_byte() -> None:
    import base64

    glb = (built_pack("mill_half_turn").folder / "assembly.glb").read_bytes()
    assert base64.b64decode(as_text(glb)) == glb
    assert as_text(glb) in made(built_pack("mill_half_turn"))
