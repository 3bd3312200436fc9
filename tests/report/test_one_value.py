"""Every printed form of one length in a pack is one value: that rounded to 0.001 mm, rounded to the form's decimals."""

from __future__ import annotations

import csv
import io
import random
import re
from collections.abc import Iterator, Mapping
from dataclasses import replace
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from pathlib import Path
from xml.etree.ElementTree import Element

import openpyxl
import pdfplumber
import pytest
from hypothesis import given
from hypothesis import strategies as st

import railgen
from railgen.drawings.sheet import Dimension, Sheet
from railgen.job.model import Job, PostLengths
from railgen.members.pieces import Tube
from railgen.report.content import Content, Worked
from railgen.report.page.sheet import job_sheet
from railgen.report.paper.book import Book, Chapter, room, write_book
from railgen.report.paper.files import write_labels
from railgen.report.paper.labels import COLUMNS
from railgen.report.paper.lists import list_pages
from railgen.report.paper.saw import saw_pages
from railgen.schedules.install import installation_text
from railgen.units import Dimensions, Figures, printed
from tests.jobs import worked_job
from tests.report.pages import parsed, table, texts

# where two roundings, binary halves or other decimals would part
EDGES = ("0.25", "0.05", "0.0005", "0.2495", "0.7499", "0.45", "0.9995", "0.35", "0.1245", "0.0625", "0.5495")
JOB = worked_job(lengths=PostLengths.CUT)


def three(mm: Decimal) -> Decimal:
    """As fabricated for print."""
    return mm.quantize(Decimal("0.001"), ROUND_HALF_UP)


def one(mm: Decimal, style: Dimensions) -> str:
    """By rational and decimal arithmetic: a length as papers of one unit have it."""
    if style is Dimensions.SIXTEENTH:
        sixteenths = int((three(mm) / Decimal("25.4") * 16).quantize(Decimal(1), ROUND_HALF_UP))
        part = Fraction(sixteenths % 16, 16)
        return f"{sixteenths // 16}-{part}" if part else f"{sixteenths // 16}"
    unit, grain = (Decimal(1), Decimal("0.1")) if style is Dimensions.MM else (Decimal("25.4"), Decimal("0.001"))
    text = str((three(mm) / unit).quantize(grain, ROUND_HALF_UP))
    return text.rstrip("0").rstrip(".")


def written(mm: Decimal, style: Dimensions, *, named: bool = False) -> str:
    marks = {Dimensions.MM: " mm", Dimensions.INCH: " in", Dimensions.SIXTEENTH: '"'}
    first, *rest = [one(mm, part) + (marks[part] if named else "") for part in style.parts]
    return " ".join([first, *(f"[{text}]" for text in rest)])


def packed(lengths: Mapping[str, Decimal], style: Dimensions) -> Worked:
    """The worked job, its tubes made to ``lengths``; the layout has them with what sums leave over."""
    job: Job = replace(JOB, order=replace(JOB.order, dimensions=style))
    layout = railgen.solve(job)
    fabrication = railgen.fabricate(job, layout)
    mark = {place.id: place.mark for place in fabrication.placed}
    posts = tuple(replace(post, length=float(lengths[mark[post.id]]) - 3e-12) for post in layout.posts)
    rails = tuple(replace(rail, length=float(lengths[mark[rail.id]]) - 3e-12) for rail in layout.rails)
    pieces = {
        name: replace(piece, length=float(lengths[name])) if isinstance(piece, Tube) else piece
        for name, piece in fabrication.pieces.items()
    }
    layout = replace(layout, posts=posts, rails=rails)
    fabrication = replace(fabrication, pieces=pieces)
    return Worked(Content(job=job, layout=layout, fabrication=fabrication, checks=railgen.check(job, layout)))


Said = Iterator[tuple[str, str, str]]
"""Where a length stands, the mark of its tube, and what is written."""


WHOLE = {
    mark: int(piece.length)
    for mark, piece in railgen.fabricate(JOB, railgen.solve(JOB)).pieces.items()
    if isinstance(piece, Tube)
}
"""Every tube with its whole millimetres."""


def files(worked: Worked) -> Said:
    """Files that programs read."""
    assert worked.book is not None
    book = openpyxl.load_workbook(io.BytesIO(worked.book.xlsx()))
    for each in (worked.cut, worked.book.table("Saw list"), worked.labels):
        yield from ((each.name, r["mark"], r["length_mm"]) for r in csv.DictReader(io.StringIO(each.csv())))
        header, *rows = [[cell.value for cell in row] for row in book[each.name].iter_rows()]
        mark, length = header.index("mark"), header.index("length_mm")
        told = [(str(row[mark]), row[length]) for row in rows[: len(each.rows)]]
        assert all(mm == round(mm, 3) for _, mm in told)
        yield from ((f"workbook, {each.name}", name, f"{mm:.3f}") for name, mm in told)


def plain(worked: Worked, page: Element) -> Said:
    """Page and drawings, where the unit stands elsewhere."""
    for name, heading in (("Cut list", "length, "), ("Saw list", "length, "), ("Labels", "length, ")):
        header, *rows = table(page, name)
        length = next(n for n, text in enumerate(header) if text.startswith(heading))
        yield from ((f"page, {name}", row[header.index("mark")], row[length]) for row in rows)
    for name, heading in (("Rail tubes", "cut length"), ("Posts, in", "length")):
        header, *rows = table(page, name)
        yield from ((f"page, {name}", row[header.index("mark")], row[header.index(heading)]) for row in rows)
    for bar in texts(page, ".//ul[@class='bars']/li"):
        cuts = re.findall(r"([PR]\d+) ([\d.]+(?: \[[\d./-]+\])?)(?=[,;])", bar.partition(": ")[2])
        yield from (("page, bars", mark, length) for mark, length in cuts)
    for mark, sheet in tube_sheets(worked):
        values = [(item.value, item.text) for item in sheet.items if isinstance(item, Dimension)]
        longest = max(values)[0]
        yield from (("tube sheet", mark, text) for value, text in values if value == longest)
    for sheet in worked.sheets.set_out:
        found = (re.fullmatch(r"(R\d+), cut length ([^,]*).*", label.text) for label in sheet.labels())
        yield from (("elevation", told[1], told[2]) for told in found if told)


def tube_sheets(worked: Worked) -> Iterator[tuple[str, Sheet]]:
    sheets = {sheet.name.removeprefix("shop-"): sheet for sheet in worked.sheets.shop}
    yield from ((mark, sheets[mark]) for mark in WHOLE)


def named(worked: Worked, page: Element) -> Said:
    """Whatever says the unit beside the length."""
    assert worked.book is not None
    for line in worked.book.lines:
        if line.kind == "tube":
            yield "order", line.item, line.description.split(", ")[1]
    for row in csv.DictReader(io.StringIO(worked.parts.csv())):
        if row["kind"] == "tube":
            yield "parts list", row["mark"], row["description"].split(", ")[1]
    steps = installation_text(worked.steps, worked.content.job.order.dimensions)
    yield from (("installation", mark, text) for mark, text in re.findall(r"cut length, (\w+): (.*) \(", steps))
    for piece in page.iter("details"):
        if (mark := str(piece.get("data-mark"))) in WHOLE:
            told = "".join(piece.itertext())
            yield "page, piece in brief", mark, re.findall(r" off, (.*?), \d+ hole", told)[0]
            yield "page, piece", mark, re.findall(r"Length\s*(.*?)\s*Section", told)[0]
    for mark, sheet in tube_sheets(worked):
        said = [label.text for label in sheet.labels()]
        yield "tube sheet, facts", mark, said[said.index("Length") + 1]


_PLAIN = r"[\d./-]+(?: \[[\d./-]+\])?"
_NAMED = r"[\d.]+ mm \[[^]]*\]|[\d.]+ mm|[\d.]+ in"


def paper(worked: Worked, folder: Path) -> tuple[list[tuple[str, str, str]], list[tuple[str, str, str]]]:
    """Cut list and saw list, and labels, as they are printed."""
    assert worked.book is not None
    setting = worked.setting
    wide, _ = room(setting.paper.page)
    story = (
        *list_pages(worked.cut, setting.figures, wide),
        *saw_pages(worked.book.nesting, 2.0, wide, setting.figures),
    )
    lists = Chapter(title="Lists", story=story)
    project = worked.content.job.project
    book = Book(title="", project=project, page=setting.paper.page, status="", build="", chapters=(lists,))
    write_book(book, folder / "a.pdf")
    write_labels(worked, folder / "b.pdf")
    text = read(folder / "a.pdf")
    cut = re.findall(rf"^([PR]\d+) \d+ 48\.3x2\.0 ({_PLAIN}) ", text, re.MULTILINE)
    saw = re.findall(rf"^\d+ ([PR]\d+) \d+ ({_PLAIN}) {_PLAIN} 0\.0 0\.0$", text, re.MULTILINE)
    stuck = read(folder / "b.pdf", columns=COLUMNS)
    marks = re.findall(r"([PR]\d+) piece \d+ of", stuck)
    stick = zip(marks, re.findall(_NAMED, stuck), strict=True)
    lists_ = [("printed cut list", *found) for found in cut] + [("printed saw list", *found) for found in saw]
    return lists_, [("printed label", *found) for found in stick]


def read(path: Path, columns: int = 1) -> str:
    """The text of a PDF, of each page one column after another."""
    with pdfplumber.open(path) as pdf:
        wide = pdf.pages[0].width / columns
        boxes = [(page, (n * wide, 0, (n + 1) * wide, page.height)) for page in pdf.pages for n in range(columns)]
        return "\n".join(page.crop(box).extract_text() for page, box in boxes)


@pytest.mark.parametrize("style", [Dimensions.MM, Dimensions.INCH, Dimensions.BOTH_SIXTEENTH])
def test_every_printed_form_of_a_length_is_one_value(style: Dimensions, tmp_path: Path) -> None:
    """A cut of 657.25 was 657.2 in the saw list and 657.3 on its label."""
    chance = random.Random(style.value)  # noqa: S311 - no secret
    ends = [*chance.sample(EDGES, len(WHOLE) - 2), *(f"0.{chance.randrange(10**6):06}" for _ in range(2))]
    lengths = {mark: mm + Decimal(end) for (mark, mm), end in zip(WHOLE.items(), ends, strict=True)}
    worked = packed(lengths, style)
    page = parsed(job_sheet(worked))
    lists, labels = paper(worked, tmp_path)
    forms = (
        (files(worked), {mark: str(three(mm)) for mark, mm in lengths.items()}),
        ((*plain(worked, page), *lists), {mark: written(mm, style) for mark, mm in lengths.items()}),
        ((*named(worked, page), *labels), {mark: written(mm, style, named=True) for mark, mm in lengths.items()}),
    )
    told: dict[str, set[str]] = {}
    for said, right in forms:
        for where, mark, text in said:
            assert text == right[mark], (where, mark, lengths[mark])
            told.setdefault(where, set()).add(mark)
    part = {"elevation": "R", "page, Rail tubes": "R", "page, Posts, in": "P"}
    assert told == {where: {mark for mark in WHOLE if mark[0] in part.get(where, "RP")} for where in told}
    assert len(told) == 23


@given(
    st.integers(100, 9000),
    st.sampled_from(EDGES) | st.integers(0, 10**6 - 1).map(lambda n: f"0.{n:06}"),
    st.sampled_from(Dimensions),
    st.integers(-3, 3),
)
def test_any_length_is_written_from_its_thousandth(whole: int, end: str, style: Dimensions, bits: int) -> None:
    """Also where a sum left some last bits over."""
    mm = whole + Decimal(end)
    to, length = Figures(style=style), float(mm) + bits * 2e-11
    assert printed(length) == three(mm)
    assert to.length(length) == written(mm, style)
    assert to.named(length) == written(mm, style, named=True)
