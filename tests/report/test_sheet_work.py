"""What the job sheet gives to work by: open checks, drawings, bars, lists, steps, and what was not made."""

from __future__ import annotations

import csv
import io
import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

import railgen
from railgen.drawings import Sheet, set_out_sheets
from railgen.job.model import Job
from railgen.report.page.sheet import job_sheet
from railgen.report.write import Artefact
from railgen.units import Dimensions
from tests.packs import built_pack
from tests.report.pages import CSV, as_read, check, made, of_pack, parsed, table, texts, work


@pytest.mark.parametrize(("name", "unit"), [("mill_weir_steps_inch", "inch"), ("mill_half_turn", "mm")])
def test_lists_are_the_packs_own_files_in_the_units_of_the_job(name: str, unit: str) -> None:
    """The lists of an inch job were in mm on the page, and in inches on paper."""
    pack = built_pack(name)
    tree = parsed(of_pack(pack))
    assert {f"{name}.csv" for name in CSV.values()} == {path.name for path in pack.folder.glob("*.csv")}
    units = {"_mm": f", {unit}", "_deg": ", degrees", "_kg": ", kg"}
    for caption, file in CSV.items():
        text = (pack.folder / f"{file}.csv").read_text(encoding="utf-8")
        header, *rows = csv.reader(io.StringIO(text, newline=""))
        assert header[-1] == "build"  # the page says it once, at its head
        kept = [n for n in range(len(header) - 1) if any(row[n] for row in rows)]
        heads = [re.sub("(_mm|_deg|_kg)$", lambda found: units[found[0]], header[n]).replace("_", " ") for n in kept]
        cells = [[as_read(header[n], row[n].strip(), inch=unit == "inch") for n in kept] for row in rows]
        assert table(tree, caption) == [heads, *cells]


def test_what_is_open_is_told_with_what_would_help() -> None:
    failed = check(
        title="deflection", value=31.5, most=25.0, unit="mm", advice="a thicker wall", formula="5 w L4 / 384 E I"
    )
    unsaid = check(title="anchors", value=None, missing="edge distance", source="EN 1992-4", clause="7.2.2.5")
    tree = parsed(made(built_pack("mill_half_turn"), checks=(check(), failed, unsaid)))
    first, second = texts(tree, ".//article")
    for part in ("not met", "deflection", "31.5 mm at here", "at most 25 mm", "a thicker wall"):
        assert part in first
    for part in ("cannot say", "anchors", "here", "edge distance", "EN 1992-4, 7.2.2.5"):
        assert part in second
    assert "5 w L4 / 384 E I" in " ".join(texts(tree, ".//section[@id='checks']//details"))


def test_what_is_over_its_limit_by_a_little_does_not_read_as_if_it_kept_it() -> None:
    tree = parsed(made(built_pack("mill_half_turn"), checks=(check(value=1.004, most=1.0, unit=""),)))
    assert "1.004 at here" in " ".join(texts(tree, ".//article"))


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
            (row["mark"], float(as_read("length_mm", row["length_mm"], inch=False))) for row in mine
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
    pack = built_pack("mill_half_turn")
    worked = work(pack, pack.job)  # one of its own, to be changed
    worked.__dict__["_order"] = (None, "no bar is long enough\nname your stock")
    tree = parsed(job_sheet(worked))
    assert texts(tree, ".//section[@id='order']/p") == ["Not made. no bar is long enough\nname your stock"]
    assert "see Ordering" in texts(tree, ".//section[@id='install']/p")[0]
    assert len(table(tree, "Cut list")) > 1


def test_two_units_stand_beside_each_other_where_the_job_asks_for_both() -> None:
    pack = built_pack("mill_half_turn")
    order = replace(pack.job.order, dimensions=Dimensions.BOTH_SIXTEENTH)
    tree = parsed(made(pack, replace(pack.job, order=order)))
    posts = '873 mm [34-3/8"]'  # 873 / 25.4 = 34.370, which lies nearest to 550 sixteenths
    assert posts in " ".join(texts(tree, ".//dd"))
    assert posts in " ".join(texts(tree, ".//summary"))
    assert table(tree, "Height of the top of the rail above each nosing (mm [inch])")[1][2] == "905 [35-5/8]"
    rails = " ".join(texts(tree, ".//section[@id='drawings']//{*}text"))
    assert "[92-7/16]" in rails  # rail tube R1, 2347.953 mm
