"""The job sheet as text: whole, escaped, valid, the same bytes each time, and telling what the checks tell."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from typing import Any
from xml.etree.ElementTree import Element

import html5lib
import pytest

import railgen
from railgen.checks import Certainty, Check
from railgen.drawings import Sheet, set_out_sheets
from railgen.job.model import Job
from railgen.members.pieces import Tube
from railgen.report.content import Content, Worked
from railgen.report.sheet import job_sheet
from railgen.report.viewer import as_text, drawing_library
from railgen.report.write import Artefact
from railgen.units import Dimensions
from tests.packs import GOOD, BuiltPack, built_pack

HOSTILE = "\"'><script>document.title='gone'</script><img src=x onerror=alert(1)></script>&amp;<!--"
LONG = "W" * 200
CSV = {
    "Cut list": "cut_list",
    "Saw list": "saw_list",
    "Drill schedule": "drill_schedule",
    "Labels": "labels",
    "Parts list": "parts_list",
    "Order": "order",
}


def work(pack: BuiltPack, job: Job | None = None, checks: Sequence[Check] | None = None) -> Worked:
    """What the page of a pack is written from, with another job's names or other checks where they are given."""
    content = Content(
        job=job or pack.job, layout=pack.layout, fabrication=pack.fabrication, checks=checks or pack.checks
    )
    return Worked(content)


def made(pack: BuiltPack, job: Job | None = None, checks: Sequence[Check] | None = None, **more: object) -> str:
    files = [path.relative_to(pack.folder).as_posix() for path in pack.folder.rglob("*") if path.is_file()]
    given = {
        "glb": (pack.folder / "assembly.glb").read_bytes(),
        "parts": (pack.folder / "parts_list.csv").read_text(encoding="utf-8"),
        "files": files,
        **more,
    }
    return job_sheet(work(pack, job, checks), **given)  # type: ignore[arg-type]


def of_pack(pack: BuiltPack) -> str:
    """The page as it stands in the pack."""
    return (pack.folder / "job_sheet.html").read_text(encoding="utf-8")


def parsed(page: str) -> Element:
    """The page as a tree; raises where it is not what HTML asks for."""
    parser = html5lib.HTMLParser(tree=html5lib.getTreeBuilder("etree"), namespaceHTMLElements=False, strict=True)
    tree: Element = parser.parse(page)
    return tree


def texts(tree: Element, path: str) -> list[str]:
    return ["".join(element.itertext()).strip() for element in tree.findall(path)]


def cells(row: Element) -> list[str]:
    return ["".join(cell.itertext()).strip() for cell in row]


def table(tree: Element, caption: str) -> list[list[str]]:
    (found,) = [each for each in tree.iter("table") if "".join(each.find("caption").itertext()).startswith(caption)]  # type: ignore[union-attr]
    return [cells(row) for row in found.iter("tr")]


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
    assert made(built_pack("mill_half_turn")) == made(built_pack("mill_half_turn"))


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


def test_lists_are_the_packs_own_files_cell_for_cell() -> None:
    pack = built_pack("mill_weir_steps_inch")
    tree = parsed(of_pack(pack))
    assert {f"{name}.csv" for name in CSV.values()} == {path.name for path in pack.folder.glob("*.csv")}
    for caption, name in CSV.items():
        text = (pack.folder / f"{name}.csv").read_text(encoding="utf-8")
        header, *rows = csv.reader(io.StringIO(text, newline=""))
        kept = [n for n in range(len(header)) if any(row[n] for row in rows)]
        assert table(tree, caption) == [[row[n].strip() for n in kept] for row in (header, *rows)]


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


def check(**changes: object) -> Check:
    given = {"code": "c", "title": "a title", "where": "here", "value": 1.0, "unit": "", "most": 2.0}
    return Check(**{**given, "certainty": Certainty.READ, **changes})  # type: ignore[arg-type]


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
    assert texts(parsed(page), ".//h2[@id='verdict']") == ["Checks met; strength not judged"]
    page = made(built_pack("mill_half_turn"), checks=(check(),))
    assert texts(parsed(page), ".//h2[@id='verdict']") == ["Checks met; building code not judged; strength not judged"]


def test_what_is_open_is_told_with_what_would_help() -> None:
    failed = check(
        title="deflection", value=31.5, most=25.0, unit="mm", advice="a thicker wall", formula="5 w L4 / 384 E I"
    )
    unsaid = check(title="anchors", value=None, missing="edge distance", source="EN 1992-4", clause="7.2.2.5")
    tree = parsed(made(built_pack("mill_half_turn"), checks=(check(), failed, unsaid)))
    first, second = texts(tree, ".//article")
    for part in ("does not meet", "deflection", "31.5 mm at here", "at most 25 mm", "a thicker wall"):
        assert part in first
    for part in ("cannot say", "anchors", "here", "edge distance", "EN 1992-4 7.2.2.5"):
        assert part in second
    assert "5 w L4 / 384 E I" in " ".join(texts(tree, ".//section[@id='checks']//details"))


def test_checks_that_fail_alike_are_told_together_with_help_for_the_worst() -> None:
    fails = [
        check(where=f"post {n}", value=value, source="a standard " * 9, advice=f"help for {n}", most=2.0)
        for n, value in ((1, 3.0), (2, 5.0), (3, 4.0))
    ]
    tree = parsed(made(built_pack("mill_half_turn"), checks=(*fails, check(title="another", value=9.0))))
    first, _second = texts(tree, ".//article")
    assert "3 at post 1\n5 at post 2\n4 at post 3" in first
    assert "help for 2" in first
    assert "help for 1" not in first
    assert first.count("at most 2") == 1
    assert first.count(("a standard " * 9).strip()) == 1
    rows = table(tree, "Every check")
    assert rows[0] == ["verdict", "what", "where", "found", "allowed", "by"]
    assert [row[2] for row in rows[1:]] == ["post 1", "post 2", "post 3", "here"]
    assert all(len(row[5]) < 70 for row in rows)
    opened = texts(tree, ".//section[@id='checks']//td/details")
    assert all(("a standard " * 9).strip() in text for text in opened[:3])


def test_sections_stand_in_the_order_of_the_contents() -> None:
    tree = parsed(made(built_pack("mill_half_turn")))
    links = [a.get("href", "")[1:] for a in tree.findall(".//nav//a")]
    assert [section.get("id") for section in tree.iter("section") if section.get("id")] == links


def test_every_set_out_and_shop_drawing_stands_in_the_page() -> None:
    pack = built_pack("mill_quarter_turn")
    tree, sheets = parsed(made(pack)), work(pack).sheets
    found = {e.get("id"): e for e in tree.iter("details") if e.get("class") == "sheet"}
    drawn = (*sheets.set_out, *sheets.shop)
    assert list(found) == [f"drawing-{sheet.name}" for sheet in drawn]
    for sheet in drawn:
        shown = found[f"drawing-{sheet.name}"]
        assert "".join(shown.find("summary/h3").itertext()) == sheet.title  # type: ignore[union-attr]
        labels = sorted(text for label in sheet.labels() if (text := label.text.strip()))
        assert sorted(texts(shown, ".//{*}text")) == labels
    links = [a.get("href") for a in tree.findall(".//details[@class='piece']//a")]
    assert sorted(map(str, links)) == sorted(f"#drawing-{sheet.name}" for sheet in sheets.shop)


def test_the_page_saws_the_bars_of_the_saw_list() -> None:
    pack = built_pack("mill_half_turn")
    tree = parsed(of_pack(pack))
    bars = ["".join(bar.itertext()) for bar in tree.findall(".//ul[@class='bars']/li")]
    with (pack.folder / "saw_list.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert len(bars) == len({row["bar"] for row in rows})
    for number, bar in enumerate(bars, start=1):
        mine = [row for row in rows if row["bar"] == str(number)]
        assert bar.startswith(f"Bar {number}, {mine[0]['section']}, {mine[0]['take']}, ")
        cuts = re.findall(r"(\w+) ([\d.]+)(?=[,;])", bar.partition(": ")[2])
        assert [(mark, float(length)) for mark, length in cuts] == [
            (row["mark"], float(row["length_mm"])) for row in mine
        ]


def test_every_step_is_told_with_its_cautions_and_hold() -> None:
    pack = built_pack("mill_half_turn")
    steps = work(pack).steps
    shown = [e for e in parsed(made(pack)).iter("details") if e.get("class") == "step"]
    assert len(shown) == len(steps) > 10
    for step, element in zip(steps, shown, strict=True):
        text = " ".join("".join(element.itertext()).split())
        assert text.startswith(f"{step.number}. {step.title}")
        for said in (*step.do, *(c.text for c in step.cautions), *(c.source for c in step.cautions), step.hold):
            assert " ".join(said.split()) in text
        assert len(element.findall(".//ul[@class='measures']/li")) == len(step.measures)


def test_what_was_not_made_is_said_with_how_to_have_it() -> None:
    pack = built_pack("mill_half_turn")
    alone = parsed(job_sheet(work(pack)))
    told = " ".join(texts(alone, ".//section[@id='pack']"))
    others = [artefact for artefact in Artefact if artefact is not Artefact.JOB_SHEET]
    for artefact in others:
        assert f"not made; railgen build JOB --only {artefact} makes it" in told
    assert "without the solids" in " ".join(texts(alone, ".//section[@id='view']"))
    whole = " ".join(texts(parsed(made(pack)), ".//section[@id='pack']"))
    assert told.count("not made") == len(others)
    assert "not made" not in whole
    for name in ("assembly.step", "cut_list.csv", "drawings/templates.pdf", "order.csv", "hand_over.pdf"):
        assert name in whole


def test_asked_for_alone_the_page_still_has_its_drawings(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    from railgen.report import content

    calls: list[str] = []

    def counted(job: Job, *rest: Any) -> tuple[Sheet, ...]:
        calls.append(job.project.id)
        return set_out_sheets(job, *rest)

    job = built_pack("mill_half_turn").job
    sheets = work(built_pack("mill_half_turn")).sheets
    monkeypatch.setattr(content, "set_out_sheets", counted)
    alone = railgen.build(job, tmp_path / "alone", only=["job-sheet"]).folder
    assert len(calls) == 1
    both = railgen.build(job, tmp_path / "both", only=["job-sheet", "drawings"]).folder
    assert len(calls) == 2  # once for each pack, whatever is drawn from it
    assert sorted(path.name for path in alone.iterdir() if path.suffix != ".json") == ["job_sheet.html"]
    assert (both / "drawings").is_dir()

    def drawn(folder: Path) -> list[str]:
        return re.findall(r"<svg .*?</svg>", (folder / "job_sheet.html").read_text(encoding="utf-8"), re.DOTALL)

    assert drawn(alone) == drawn(both)
    assert len(drawn(alone)) == len(sheets.set_out) + len(sheets.shop)


def test_the_page_is_small_enough_to_send() -> None:
    pack = built_pack("mill_half_turn")
    page = of_pack(pack)
    pictures = re.findall(r"<svg .*?</svg>", page, re.DOTALL)
    assert sum(map(len, pictures)) < 300_000  # 165,000 for nine sheets
    model = (pack.folder / "assembly.glb").stat().st_size
    assert len(page) < 1_400_000 + 4 / 3 * model  # 1,930,000 with a model of 617,000


def test_without_a_cutting_plan_the_page_says_why() -> None:
    worked = work(built_pack("mill_half_turn"))
    worked.__dict__["_order"] = (None, "no bar is long enough\nname your stock")
    tree = parsed(job_sheet(worked))
    assert texts(tree, ".//section[@id='order']/p") == ["Not made. no bar is long enough\nname your stock"]
    assert "see Ordering" in texts(tree, ".//section[@id='install']/p")[0]
    assert len(table(tree, "Cut list")) > 1


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


def test_two_units_stand_beside_each_other_where_the_job_asks_for_both() -> None:
    pack = built_pack("mill_half_turn")
    order = replace(pack.job.order, dimensions=Dimensions.BOTH_SIXTEENTH)
    tree = parsed(made(pack, replace(pack.job, order=order)))
    posts = '871 mm [34-5/16"]'  # 871 / 25.4 = 34.291, which lies nearest to 549 sixteenths
    assert posts in " ".join(texts(tree, ".//dd"))
    assert posts in " ".join(texts(tree, ".//summary"))
    assert table(tree, "Height of the top of the rail above each nosing (mm [inch])")[1][2] == "903 [35-9/16]"
    rails = " ".join(texts(tree, ".//section[@id='drawings']//{*}text"))
    assert "[92-7/16]" in rails  # rail tube R1, 2347.953 mm


def test_the_drawing_library_is_found_with_its_licence() -> None:
    library = drawing_library()
    assert "SPDX-License-Identifier: MIT" in library[:300]
    assert library.endswith("THREE.GLTFLoader=GLTFLoader;})();")
    assert "</script" not in library
    assert "base64_data" not in library  # where the wheel's own viewer begins


def test_without_the_library_there_is_a_page_all_the_same(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr("railgen.report.viewer._BUNDLE", "trimesh/nowhere.zip")
    assert drawing_library() == ""
    assert len(list(parsed(made(built_pack("mill_half_turn"))).iter("script"))) == 4  # the model and our own three


def test_the_model_is_kept_byte_for_byte() -> None:
    import base64

    glb = (built_pack("mill_half_turn").folder / "assembly.glb").read_bytes()
    assert base64.b64decode(as_text(glb)) == glb
    assert as_text(glb) in made(built_pack("mill_half_turn"))


def test_a_page_is_quickly_made() -> None:
    import time

    pack = built_pack("mill_half_turn")
    made(pack)
    start = time.process_time()
    made(pack)
    assert time.process_time() - start < 1.0  # 0.07 s on a quiet machine
