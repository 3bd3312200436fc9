"""Job sheets to test, and what stands in them."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import ROUND_HALF_UP, Decimal
from functools import cache
from xml.etree.ElementTree import Element

import html5lib

from railgen.checks import Certainty, Check
from railgen.job.model import Job
from railgen.report.content import Content, Worked
from railgen.report.page.sheet import job_sheet
from tests.packs import BuiltPack, built_pack

__all__ = ["CSV", "HOSTILE", "LONG", "as_read", "check", "made", "of_pack", "parsed", "table", "texts", "work"]

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


def as_read(column: str, cell: str, *, inch: bool) -> str:
    """A cell of a CSV as people read it: lengths to 0.1 mm or 0.001 in, drills to 0.01 mm, all else as it is."""
    if not column.endswith("_mm") or not cell:
        return cell
    decimals = 3 if inch else 2 if column in ("diameter_mm", "countersink_mm") else 1
    value = Decimal(cell) / (Decimal("25.4") if inch else 1)
    text = str(value.quantize(Decimal(1).scaleb(-decimals), ROUND_HALF_UP)).rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def work(pack: BuiltPack, job: Job | None = None, checks: Sequence[Check] | None = None) -> Worked:
    """What the page of a pack is written from, with another job's names or other checks where they are given.

    What belongs to the pack as it is, is shared: to be looked at, never changed.
    """
    if not job and not checks and pack is built_pack(pack.folder.name):
        return _worked(pack.folder.name)
    return _work(pack, job or pack.job, checks or pack.checks)


@cache
def _worked(name: str) -> Worked:
    """Drawn and nested once in a process."""
    pack = built_pack(name)
    return _work(pack, pack.job, pack.checks)


def _work(pack: BuiltPack, job: Job, checks: Sequence[Check]) -> Worked:
    return Worked(Content(job=job, layout=pack.layout, fabrication=pack.fabrication, checks=tuple(checks)))


def made(pack: BuiltPack, job: Job | None = None, checks: Sequence[Check] | None = None, **more: object) -> str:
    files = [path.relative_to(pack.folder).as_posix() for path in pack.folder.rglob("*") if path.is_file()]
    given = {
        "glb": (pack.folder / "assembly.glb").read_bytes(),
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


def check(**changes: object) -> Check:
    given = {"code": "c", "title": "a title", "where": "here", "value": 1.0, "unit": "", "most": 2.0}
    return Check(**{**given, "certainty": Certainty.READ, **changes})  # type: ignore[arg-type]
