"""STEP files (ISO 10303-21, AP214): the assembly and single pieces, in mm, the same bytes every time.

The kernel counts occurrences on through a process, writes the hour, and orders colours by memory address. So the time
is given, occurrences are numbered anew, and colours are appended here, one style for each solid in the file's order.
"""

from __future__ import annotations

import datetime
import io
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import count
from pathlib import Path

from cadquery import Solid
from OCP.APIHeaderSection import APIHeaderSection_MakeHeader
from OCP.IFSelect import IFSelect_ReturnStatus
from OCP.Interface import Interface_Static
from OCP.STEPCAFControl import STEPCAFControl_Writer
from OCP.STEPControl import STEPControl_StepModelType
from OCP.TCollection import TCollection_HAsciiString
from OCP.TDocStd import TDocStd_Document
from OCP.XSControl import XSControl_WorkSession

from railgen.job.model import Job
from railgen.members.fabrication import Fabrication
from railgen.members.pieces import Piece
from railgen.solids.document import assembly_document, part_document
from railgen.solids.output import not_written, write_whole
from railgen.solids.palette import Colour, colour_of, colours
from railgen.solids.thrift import say_once

__all__ = ["write_part_step", "write_step"]

UNDATED = datetime.date(2000, 1, 1)  # written where the job has no date: a STEP file must have one
_END = "END-ISO-10303-21;"


def write_step(path: Path, job: Job, fabrication: Fabrication, shapes: Mapping[str, Solid], build: str = "") -> None:
    """The whole assembly, on the architect's site, dated as the job is; ``build`` is its mark. Raises OutputError."""
    shades = colours(fabrication)
    document = assembly_document(job.project.id, fabrication, shapes, shades, job.site)
    _write(path, document, shades, _Header(name=job.project.id, build=build, date=job.project.date or UNDATED))


def write_part_step(path: Path, piece: Piece, shape: Solid, build: str = "") -> None:
    """One piece in its own frame. Raises OutputError."""
    shade = colour_of(piece)
    _write(path, part_document(piece.mark, shape, shade), {piece.mark: shade}, _Header(name=piece.mark, build=build))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Header:
    """What the head of a file says of it."""

    name: str
    build: str
    date: datetime.date = UNDATED


def _write(path: Path, document: TDocStd_Document, shades: Mapping[str, Colour], head: _Header) -> None:
    text = say_once(_numbered(_kernel_text(path, document, head)))
    if not text.rstrip().endswith(_END):
        raise not_written(path, "the kernel wrote an unfinished file")
    write_whole(path, _coloured(text, shades).encode("ascii"))


def _kernel_text(path: Path, document: TDocStd_Document, head: _Header) -> str:
    writer = STEPCAFControl_Writer(XSControl_WorkSession(), False)
    writer.SetColorMode(False)
    writer.SetNameMode(True)
    for key, value in (("xstep.cascade.unit", "MM"), ("write.step.unit", "MM")):
        Interface_Static.SetCVal_s(key, value)
    Interface_Static.SetIVal_s("write.surfacecurve.mode", 0)  # readers work out curves on surfaces themselves
    if not writer.Transfer(document, STEPControl_StepModelType.STEPControl_AsIs):
        raise not_written(path, "the kernel could not turn the assembly into STEP")
    header = APIHeaderSection_MakeHeader(writer.Writer().Model())
    header.SetName(TCollection_HAsciiString(head.name))
    header.SetTimeStamp(TCollection_HAsciiString(f"{head.date.isoformat()}T00:00:00"))
    header.SetDescriptionValue(1, TCollection_HAsciiString(f"build {head.build or '-'}"))
    header.SetOriginatingSystem(TCollection_HAsciiString("railgen"))
    stream = io.BytesIO()
    if writer.WriteStream(stream) != IFSelect_ReturnStatus.IFSelect_RetDone:
        raise not_written(path, "the kernel could not write STEP")
    return stream.getvalue().decode("ascii")


def _numbered(text: str) -> str:
    """Occurrences numbered from 1 in the order of the file, each on one line: its length is no matter of the number."""
    numbers = count(1)

    def numbered(found: re.Match[str]) -> str:
        rest = "".join(line.strip() for line in found[1].splitlines())
        return f"NEXT_ASSEMBLY_USAGE_OCCURRENCE('{next(numbers)}',{rest};"

    return re.sub(r"NEXT_ASSEMBLY_USAGE_OCCURRENCE\('[^']*',([^;]*);", numbered, text)


def _coloured(text: str, shades: Mapping[str, Colour]) -> str:
    """The file with a style for every solid, its colour found by the product it belongs to."""
    data, tail = text.rsplit("ENDSEC;", 1)
    last = max(int(number) for number in re.findall(r"^#(\d+) ?=", data, re.MULTILINE))
    return data + "".join(_styles(data, shades, last + 1)) + "ENDSEC;" + tail


def _styles(text: str, shades: Mapping[str, Colour], number: int) -> Iterator[str]:
    numbers = count(number)
    styles: dict[Colour, int] = {}
    solids = set(re.findall(r"^#(\d+) ?= ?MANIFOLD_SOLID_BREP\(", text, re.MULTILINE))
    for mark, items, context in _representations(text):
        colour = shades[mark]
        if colour not in styles:
            style = next(numbers)
            yield f"#{style} = COLOUR_RGB('',{colour[0]:.6f},{colour[1]:.6f},{colour[2]:.6f});\n"
            for entity in (
                "FILL_AREA_STYLE_COLOUR('',#{})",
                "FILL_AREA_STYLE('',(#{}))",
                "SURFACE_STYLE_FILL_AREA(#{})",
                "SURFACE_SIDE_STYLE('',(#{}))",
                "SURFACE_STYLE_USAGE(.BOTH.,#{})",
                "PRESENTATION_STYLE_ASSIGNMENT((#{}))",
            ):
                under, style = style, next(numbers)
                yield f"#{style} = {entity.format(under)};\n"
            styles[colour] = style
        styled = []
        for item in (item for item in items if item in solids):
            styled.append(next(numbers))
            yield f"#{styled[-1]} = STYLED_ITEM('color',(#{styles[colour]}),#{item});\n"
        group = ",".join(f"#{item}" for item in styled)
        yield (
            f"#{next(numbers)} = MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION('',({group}),#{context});\n"
        )


def _representations(text: str) -> Iterator[tuple[str, list[str], str]]:
    """Mark, items and context of every shape that holds solids: from representation back to product."""

    def table(entity: str, rest: str) -> dict[str, str]:
        return dict(re.findall(rf"^#(\d+) ?= ?{entity}\({rest}", text, re.MULTILINE))

    products = table("PRODUCT", r"'([^']*)'")
    formations = table("PRODUCT_DEFINITION_FORMATION", r"[^#]*#(\d+)\)")
    definitions = table("PRODUCT_DEFINITION", r"[^#]*#(\d+),")
    shapes = table("PRODUCT_DEFINITION_SHAPE", r"'',\s*'',\s*#(\d+)\)")
    links = re.findall(r"= ?SHAPE_DEFINITION_REPRESENTATION\(#(\d+),\s*#(\d+)\)", text)
    owners = {representation: shape for shape, representation in links}
    pattern = r"^#(\d+) ?= ?ADVANCED_BREP_SHAPE_REPRESENTATION\('[^']*',\s*\(([^)]*)\),\s*#(\d+)\)"
    for representation, items, context in re.findall(pattern, text, re.MULTILINE):
        mark = products[formations[definitions[shapes[owners[representation]]]]]
        yield mark, re.findall(r"#(\d+)", items), context
