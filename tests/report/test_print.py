"""The printed pack: right sizes, honest page numbers, every cell of every schedule, nothing lost or covered."""

from __future__ import annotations

import csv
import dataclasses
import io
import re
import subprocess
import sys
from collections import Counter
from pathlib import Path

import pdfplumber
import pytest

import railgen
from railgen.drawings import write_pdf
from railgen.job.model import Project
from railgen.job.order_model import Dimensions, Finish, Labour, OrderInput, Prices
from railgen.report.paper.files import write_pack_book
from railgen.schedules.labels import labels
from railgen.schedules.table import Table
from tests import jobs
from tests.packs import built_pack
from tests.report.pages import as_read
from tests.report.printed import MM, Printed, Seen, print_all, printed, squeezed, worked

METRIC, INCH, WEAK = "mill_half_turn", "mill_weir_steps_inch", "weak_mezzanine"
ALL = [METRIC, INCH, WEAK]
A4, LETTER, A3, TABLOID = (210.0, 297.0), (215.9, 279.4), (420.0, 297.0), (431.8, 279.4)


def chapter(pack: Printed, title: str) -> list[Seen]:
    """The pages of a chapter, by what stands at their head."""
    found = [page for page in pack.pack if page.text.splitlines()[0].endswith(title)]
    assert found, title
    return found


def size(page: Seen) -> tuple[float, float]:
    return round(page.width, 1), round(page.height, 1)


@pytest.mark.parametrize(("name", "text", "sheet"), [(METRIC, A4, A3), (INCH, LETTER, TABLOID)])
def test_text_is_on_pages_and_drawings_keep_their_sheets(
    name: str, text: tuple[float, float], sheet: tuple[float, float]
) -> None:
    pack, sheets = printed(name), printed(name).worked.sheets
    sizes = Counter(size(page) for page in pack.pack)
    turned = text[1], text[0]
    assert set(sizes) <= {text, turned, sheet}
    assert sizes[sheet] == len(sheets.set_out) + len(sheets.shop)
    assert sizes[turned] == sum(page.width > page.height for page in sheets.templates)
    assert {size(page) for file in (pack.labels, pack.installation, pack.hand_over) for page in file} == {text}


@pytest.mark.parametrize("name", ALL)
def test_every_page_says_which_it_is_of_how_many_of_what(name: str) -> None:
    pack = printed(name)
    project = pack.worked.content.job.project
    for file in pack.files:
        for number, page in enumerate(file, start=1):
            assert f"page {number} of {len(file)}" in page.text
            assert f"{project.id} revision {project.revision}" in page.text
            status = pack.worked.status
            assert not status or status in page.text


@pytest.mark.parametrize("name", ALL)
def test_no_page_is_empty(name: str) -> None:
    for page in (page for file in printed(name).files for page in file):
        assert len(page.text.splitlines()) > 2


@pytest.mark.parametrize("name", ALL)
def test_the_contents_name_the_page_each_heading_stands_on(name: str) -> None:
    pack = printed(name)
    listed = [
        (found[1], int(found[2]))
        for page in pack.pack[1:6]
        if "Contents" in page.text.splitlines()[0]
        for line in page.text.splitlines()
        if (found := re.fullmatch(r"(?:\d+ )?(\S.*?) (\d+)", line)) and "pack page" not in line
    ]
    sheets = [sheet for _, group in pack.worked.sheets.named() for sheet in group]
    assert [title for title, _ in listed if title in {" ".join(sheet.title.split()) for sheet in sheets}] == [
        " ".join(sheet.title.split()) for sheet in sheets
    ]
    assert "Installation" in dict(listed)
    starts = [number for title, number in listed]
    assert starts == sorted(starts)
    for title, number in listed:
        page = pack.pack[number - 1]
        if title in ("Set-out drawings", "Shop drawings", "Templates"):
            assert page.width != pack.pack[0].width or "1:1" in page.text or "Print at 100 %" in page.text
        else:
            assert squeezed(title.split(", tile ")[0]) in squeezed(page.text)
        before = pack.pack[number - 2].text
        assert title not in (" ".join(line.split()) for line in before.splitlines()[1:3])


@pytest.mark.parametrize("name", [METRIC, WEAK])
def test_bookmarks_lead_where_the_contents_do(name: str) -> None:
    pack = printed(name)
    with pdfplumber.open(pack.folder / "pack.pdf") as pdf:
        marks = [(level, title) for level, title, *_ in pdf.doc.get_outlines()]
    chapters = [title for level, title in marks if level == 1]
    assert chapters[0].endswith("Summary")
    assert chapters[-1].endswith("Hand-over record")
    assert len(marks) - len(chapters) == sum(len(group) for _, group in pack.worked.sheets.named())


def cells(table: Table) -> list[tuple[str, str]]:
    """Column and text of each filled cell as the CSV has it."""
    names = [column.name for column in table.columns]
    return [(name, cell) for row in table.texts() for name, cell in zip(names, row, strict=True) if cell]


def as_printed(name: str, cell: str, inch: bool) -> str:
    """A cell of a CSV as a page shows it: as people read it, angles to 0.1 degrees."""
    return f"{float(cell):.1f}" if name.endswith("_deg") and cell else squeezed(as_read(name, cell, inch=inch))


@pytest.mark.parametrize("name", ALL)
@pytest.mark.parametrize("title", ["Cut list", "Drill schedule", "Order"])
def test_every_cell_of_a_schedule_is_printed(name: str, title: str) -> None:
    pack = printed(name)
    book, inch = pack.worked.book, name == INCH
    assert book is not None
    pages = squeezed("".join(page.text for page in chapter(pack, title)))
    words = {word["text"] for page in chapter(pack, title) for word in page.words}
    for column, cell in cells(book.table(title)):
        seen = as_printed(column, cell.removesuffix(".0") if column == "quantity" else cell, inch)
        if column in ("purpose", "mates_with", "description", "measured_from", "kind", "supply", "end_a", "end_b"):
            assert all(squeezed(word) in pages for word in cell.split())
        else:
            assert seen in words or seen in pages, (column, cell)
            if column.endswith(("_mm", "_deg")):
                assert seen in words, (column, cell)


@pytest.mark.parametrize("name", ALL)
def test_the_saw_list_shows_every_cut_of_every_bar(name: str) -> None:
    pack, inch = printed(name), name == INCH
    book = pack.worked.book
    assert book is not None
    text = "\n".join(page.text for page in chapter(pack, "Saw list"))
    for bar in book.nesting.bars:
        assert f"Bar {bar.number}: " in text
    wanted = Counter(
        f"{number} {cut.mark}" for bar in book.nesting.bars for number, cut in enumerate(bar.cuts, start=1)
    )
    rows = re.findall(r"^(\d+) (\S+) (\d+) ([\d./ ]+?) ([\d./ ]+?) (\d+\.\d) (\d+\.\d)$", text, flags=re.MULTILINE)
    assert Counter(f"{row[0]} {row[1]}" for row in rows) == wanted
    lengths = Counter(as_printed("length_mm", f"{cut.length}", inch) for bar in book.nesting.bars for cut in bar.cuts)
    assert Counter(row[3] for row in rows) == lengths


@pytest.mark.parametrize("name", ALL)
def test_every_check_is_printed_with_its_formula_and_the_cautions(name: str) -> None:
    pack = printed(name)
    text = squeezed("".join(page.text for page in chapter(pack, "Checks and verdicts")))
    checks = pack.worked.content.checks
    for check in checks:
        for said in (check.title, check.formula, check.missing):
            assert all(squeezed(word) in text for word in said.split())
    assert "licensedengineer" in text
    front = squeezed(pack.pack[0].text)
    assert "licensedengineer" in front
    assert f"{len(checks)}checks" in front


def test_every_step_hold_point_and_caution_is_printed() -> None:
    pack = printed(METRIC)
    text = squeezed("".join(page.text for page in pack.installation))
    for step in pack.worked.steps:
        assert squeezed(f"{step.number}. {step.title}") in text
        for said in (*step.do, *(caution.text for caution in step.cautions), step.hold):
            assert all(squeezed(word) in text for word in said.split())
    holds = sum(bool(step.hold) for step in pack.worked.steps)
    assert text.count("HOLD") == text.count("releasedby") == holds > 4


@pytest.mark.parametrize("name", ALL)
def test_each_tube_has_a_label_that_says_where_it_goes_and_which_end_is_low(name: str) -> None:
    pack = printed(name)
    content = pack.worked.content
    made = labels(content.job, content.fabrication, content.job.order.finish)
    text = "\n".join(page.text for page in pack.labels)
    goes = Counter(re.findall(r"goes to (\S+)", text))
    assert goes == Counter(label.goes_to for label in made)
    count = Counter(re.findall(r"piece (\d+ of \d+)", text))
    assert count == Counter(f"{label.copy} of {label.copies}" for label in made)
    assert text.count("DATUM END: lower end") == sum(label.datum == "lower end" for label in made)


def overlaps(page: Seen) -> list[tuple[str, str]]:
    """Words that cover each other by more than a hair."""
    found, words = [], sorted(page.words, key=lambda word: word["top"])
    for n, a in enumerate(words):
        for b in words[n + 1 :]:
            if b["top"] > a["bottom"] - 1.5:
                break
            wide = min(a["x1"], b["x1"]) - max(a["x0"], b["x0"])
            high = min(a["bottom"], b["bottom"]) - max(a["top"], b["top"])
            if wide > 0.6 and high > 1.5:
                found.append((a["text"], b["text"]))
    return found


@pytest.mark.parametrize("name", ALL)
def test_nothing_is_off_the_page_or_on_top_of_something_else(name: str) -> None:
    pack = printed(name)
    for page in (page for file in pack.files for page in file):
        for word in page.words:
            assert word["x0"] > 3 * MM, word
            assert word["x1"] < page.width * MM - 3 * MM, word
            assert word["top"] > 3 * MM, word
            assert word["bottom"] < page.height * MM - 3 * MM, word
        if page.height > page.width and "wrap-around" not in page.text:
            assert overlaps(page) == []


@pytest.mark.parametrize("name", [METRIC, INCH])
def test_templates_in_the_pack_are_true_to_scale(name: str) -> None:
    """The check bar measures 100 mm on every template, on pages of the size they were drawn for."""
    pack = printed(name)
    pages = [page for page in pack.pack if "Print at 100 %" in page.text and "check bar must" not in page.text]
    assert len(pages) == len(pack.worked.sheets.templates)
    for page, sheet in zip(pages, pack.worked.sheets.templates, strict=True):
        assert size(page) == (round(sheet.width, 1), round(sheet.height, 1))
        low = [
            line
            for line in page.lines
            if abs(line["y0"] - sheet.bar[1] * MM) < 0.01 and abs(line["x0"] - sheet.bar[0] * MM) < 0.01
        ]
        assert any(abs((line["x1"] - line["x0"]) / MM - 100) < 0.01 for line in low)


def test_readers_are_asked_to_print_at_full_size(tmp_path: Path) -> None:
    pack = printed(METRIC)
    write_pdf(pack.worked.sheets.templates[:1], tmp_path / "templates.pdf")
    for path in (pack.folder / "pack.pdf", tmp_path / "templates.pdf"):
        with pdfplumber.open(path) as pdf:
            asked = pdf.doc.catalog["ViewerPreferences"].resolve()
        assert asked["PrintScaling"].name == "None"


def test_bars_are_drawn_to_scale() -> None:
    pack = printed(METRIC)
    book = pack.worked.book
    assert book is not None
    boxes = [rect for page in chapter(pack, "Saw list") for rect in page.rects if abs(rect["height"] - 8 * MM) < 0.1]
    longest = max(bar.length for bar in book.nesting.bars)
    scale = (210 - 32) * MM / longest
    drawn = sorted(round(rect["width"] / scale) for rect in boxes)
    for length in (bar.length for bar in book.nesting.bars):
        assert drawn.count(round(length)) >= 1
    for cut in (cut for bar in book.nesting.bars for cut in bar.cuts):
        assert any(abs(width - cut.length) <= 1 for width in drawn)


def test_two_processes_print_the_same_bytes(tmp_path: Path) -> None:
    code = (
        "import sys\nfrom pathlib import Path\nimport railgen\nfrom tests.report.printed import CONFIGS, worked\n"
        "from railgen.report.paper.files import write_pack_book\n"
        f"write_pack_book(worked(railgen.load(CONFIGS / '{METRIC}.toml')), Path(sys.argv[1]))\n"
    )
    root, found = Path(__file__).parents[2], []
    for seed in ("1", "2"):
        path = tmp_path / f"{seed}.pdf"
        environment = {"PYTHONHASHSEED": seed, "PYTHONPATH": str(root), "PATH": "/usr/bin:/bin", "TZ": f"UTC{seed}"}
        subprocess.run([sys.executable, "-c", code, str(path)], cwd=root, env=environment, check=True)
        found.append(path.read_bytes())
    assert found[0] == found[1]
    with pdfplumber.open(tmp_path / "1.pdf") as pdf:
        assert pdf.metadata["CreationDate"].startswith("D:20260314")


def test_costs_and_both_units_are_printed() -> None:
    job = jobs.job([jobs.flight(1, [175, 178, 176, 177], [250, 252, 249])])
    prices = Prices(currency="EUR", items={"plate": 12.5})
    order = OrderInput(prices=prices, labour=Labour(rate=54.0), dimensions=Dimensions.BOTH)
    pack = print_all(dataclasses.replace(job, order=order))
    assert pack.worked.book is not None
    pages = chapter(pack, "Cost")
    text = squeezed("".join(page.text for page in pages))
    for _, cell in cells(pack.worked.book.table("Cost")):
        assert all(squeezed(word) in text for word in cell.split())
    assert "EUR" in text
    for page in pages + chapter(pack, "Drill schedule") + chapter(pack, "Saw list") + chapter(pack, "Installation"):
        assert overlaps(page) == []
    length = next(iter(bar for bar in pack.worked.book.nesting.bars)).cuts[0].length
    both = "".join(page.text for page in chapter(pack, "Cut list"))
    assert f"{length:.1f}".removesuffix(".0") in both
    assert f"{length / 25.4:.3f}".rstrip("0").rstrip(".") in both
    assert "Cost" not in {page.text.splitlines()[0].split()[-1] for page in printed(METRIC).pack}


LONG = "Very long name of a stair that goes on and on " * 4
NAMES = [
    Project(id="x" * 60, title=LONG.strip(), client="W" * 200, revision="R" * 200),
    Project(id="x", title="<b>B</b> & </para> <font color=red> %s {0}", client='=HYPERLINK("x")', revision="<br/>"),
    Project(id="x", title="Κλίμακα του μύλου, Мельница, młyn Łódź", client="水車", revision="ß"),
]


@pytest.mark.parametrize("project", NAMES, ids=["long", "markup", "letters"])
def test_names_are_only_text_whatever_they_hold(project: Project) -> None:
    job = jobs.job([jobs.flight(1, [175, 178, 176, 177], [250, 252, 249])])
    order = dataclasses.replace(job.order, finish=Finish(surface=project.title[:200]))
    pack = print_all(dataclasses.replace(job, project=project, order=order))
    assert squeezed(project.title) in squeezed(pack.pack[0].text)
    assert squeezed(project.title) in squeezed("".join(page.text for page in pack.hand_over))
    if project.client == "水車":
        assert "U+6C34 U+8ECA" in pack.pack[0].text
    for page in (page for file in pack.files for page in file):
        if page.height > page.width and "Print at 100 %" not in page.text:
            assert overlaps(page) == []
            assert all(word["x0"] > 3 * MM and word["x1"] < page.width * MM - 3 * MM for word in page.words)


def test_the_rail_weighs_what_its_parts_weigh() -> None:
    """Tubes and fittings, as the parts list has them from the volumes of the solids."""
    built = built_pack(METRIC)
    rows = csv.DictReader(io.StringIO((built.folder / "parts_list.csv").read_text(encoding="utf-8")))
    total = sum(float(row["total_kg"]) for row in rows)
    with pdfplumber.open(built.folder / "pack.pdf") as pdf:
        text = "\n".join(page.extract_text() for page in pdf.pages[8:16])
    (printed_mass,) = re.findall(r"Mass of the finished rail: ([\d.]+) kg", text)
    assert float(printed_mass) == pytest.approx(total, abs=0.02)
    assert "not given" not in text
    shown = squeezed(text)
    with (built.folder / "parts_list.csv").open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            assert all(squeezed(word) in shown for cell in row.values() for word in cell.split())
    with (built.folder / "order.csv").open(encoding="utf-8", newline="") as file:
        assert all(row["each_kg"] for row in csv.DictReader(file) if row["kind"] != "consumable")


def test_a_job_without_a_cutting_plan_is_printed_and_says_why(tmp_path: Path) -> None:
    job = tmp_path / "long.toml"
    job.write_text(
        'format = 1\nproject.id = "long"\nhardware.set = "wide-48.3"\nposts.edge_offset = 62\n'
        'rail = { side = "left", least_height = 900 }\n'
        '[[stair]]\nkind = "flight"\nrise = 170\ngoing = 280\nriser_count = 24\nwidth = 1000\n',
        encoding="utf-8",
    )
    write_pack_book(worked(railgen.load(job)), tmp_path / "pack.pdf")
    with pdfplumber.open(tmp_path / "pack.pdf") as pdf:
        text = "\n".join(page.extract_text() for page in pdf.pages if page.height > page.width)
    assert "longer than any bar" in text
    assert "Hand-over record" in text
    assert "Installation" not in text.split("Hand-over record")[-1]
