"""A sheet as DXF at full size (1 unit = 1 mm), dimensions as dimension entities, one layer for each purpose."""

from __future__ import annotations

import io
import math
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path as File
from typing import TYPE_CHECKING

from railgen.drawings.lettering import MEDIUM
from railgen.drawings.sheet import Align, Arc, Circle, Dimension, Label, Line, Measure, Path, Pen, Point, Sheet

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.entities import Dimension as DimensionEntity
    from ezdxf.layouts import BaseLayout, Modelspace

__all__ = ["write_dxf"]

_STYLE = "SHEET"
_REALS = ((10, 59), (110, 149), (210, 239), (460, 469), (1010, 1059))
"""Group codes of real numbers (DXF reference, "Group code value types"; extended data ends at 1059 as written here)."""

_BLACK = 7  # colour number of plain black on white, white on black


def write_dxf(sheet: Sheet, path: File) -> None:
    """Write the sheet, enlarged by its scale so that lengths in the file are true.

    They are not along a piece drawn broken: there the dimensions hold, by their text and the value kept with it, and
    the sheet says that its file is not to be measured.

    The same sheet gives the same bytes: stamps, versions and identifiers are fixed.
    """
    import ezdxf
    from ezdxf.enums import InsertUnits

    with _fixed_stamps():
        doc = ezdxf.new("R2013", setup=False)
        doc.units = InsertUnits.Millimeters
        doc.header["$MEASUREMENT"] = 1
        space = doc.modelspace()
        space.units = InsertUnits.Millimeters
        times = 1 / sheet.scale.ratio
        doc.header["$LTSCALE"] = times
        _tables(doc, times)
        for item in sheet.items:
            if isinstance(item, Dimension):
                _dimension(doc, space, item, times)
            else:
                _draw(space, item, times)
        _bar(space, sheet, times)
        (x, y), (right, top) = (0.0, 0.0), (sheet.width * times, sheet.height * times)
        doc.header["$EXTMIN"], doc.header["$EXTMAX"] = (x, y, 0.0), (right, top, 0.0)
        doc.set_modelspace_vport(height=top, center=(right / 2, top / 2))
        for name in sorted(doc.entitydb.dxf_types_in_use()):  # the library would list these in the order of a set
            doc.classes.add_class(name)
        out = io.StringIO()
        doc.write(out)
    path.write_text(_rounded(out.getvalue()), encoding="utf-8", newline="\r\n")


def _rounded(text: str) -> str:
    r"""DXF text whose numbers have six decimals at most: the last bits of a sum are no part of a drawing.

    >>> _rounded("  0\nLINE\n 10\n0.30000000000000004\n 20\n-1e-12\n")
    '  0\nLINE\n 10\n0.3\n 20\n0.0\n'
    """
    lines = text.split("\n")
    for n in range(0, len(lines) - 1, 2):
        if any(low <= int(lines[n]) <= high for low, high in _REALS):
            lines[n + 1] = repr(round(float(lines[n + 1]), 6) + 0.0)
    return "\n".join(lines)


@contextmanager
def _fixed_stamps() -> Iterator[None]:
    """Let the library write fixed times and identifiers; its switch is put back afterwards."""
    import ezdxf

    before = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = before


def _tables(doc: Drawing, times: float) -> None:
    """Layers, kinds of line, one text style and one dimension style."""
    doc.styles.add(_STYLE, font="arial.ttf")
    for pen in Pen:
        kind = "Continuous"
        if pen.dashes:
            kind = f"{pen.layer}_DASHES"
            dashes = [d if i % 2 == 0 else -d for i, d in enumerate(pen.dashes)]
            doc.linetypes.add(kind, [math.fsum(map(abs, dashes)), *dashes], description=pen.layer.lower())
        layer = doc.layers.add(pen.layer, color=_BLACK, linetype=kind)
        layer.dxf.lineweight = _weight(pen.width)
    style = doc.dimstyles.add(_STYLE)
    style.set_dxf_attrib("dimscale", times)
    style.set_dxf_attrib("dimtxt", MEDIUM)
    style.set_dxf_attrib("dimasz", 2.5)
    style.set_dxf_attrib("dimgap", 1.0)
    style.set_dxf_attrib("dimexo", 0.8)
    style.set_dxf_attrib("dimexe", 1.5)
    style.set_dxf_attrib("dimtad", 1)
    style.set_dxf_attrib("dimtih", 0)
    style.set_dxf_attrib("dimtoh", 0)
    style.set_dxf_attrib("dimdec", 1)
    style.set_dxf_attrib("dimtxsty", _STYLE)


def _weight(width: float) -> int:
    """The DXF line weight (hundredths of a mm) nearest to a width."""
    return min((13, 18, 25, 35, 50, 70, 100), key=lambda w: abs(w - width * 100))


def _draw(space: BaseLayout, item: Line | Path | Circle | Arc | Label, times: float) -> None:
    if isinstance(item, Label):
        _text(space, item, times)
        return
    look = {"layer": item.pen.layer}
    if isinstance(item, Line):
        space.add_line(_at(item.a, times), _at(item.b, times), dxfattribs=look)
    elif isinstance(item, Circle):
        space.add_circle(_at(item.centre, times), item.radius * times, dxfattribs=look)
    elif isinstance(item, Arc):
        start, end = math.degrees(item.start), math.degrees(item.end)
        space.add_arc(_at(item.centre, times), item.radius * times, start, end, dxfattribs=look)
    elif item.filled:
        points = [_at(point, times) for point in item.points]
        if len(points) == 4:  # a solid takes its corners crosswise
            points = [points[0], points[1], points[3], points[2]]
        space.add_solid(points, dxfattribs=look)
    else:
        space.add_lwpolyline([_at(point, times) for point in item.points], close=item.closed, dxfattribs=look)


def _text(space: BaseLayout, label: Label, times: float) -> None:
    from ezdxf.enums import TextEntityAlignment

    look = {
        "layer": Pen.TEXT.layer,
        "style": _STYLE,
        "rotation": math.degrees(label.angle),
        "height": label.height * times,
    }
    if label.inverse:
        look["true_color"] = 0xFFFFFF
    place = {
        Align.LEFT: TextEntityAlignment.LEFT,
        Align.CENTRE: TextEntityAlignment.CENTER,
        Align.RIGHT: TextEntityAlignment.RIGHT,
    }[label.align]
    space.add_text(_literal(label.text), dxfattribs=look).set_placement(_at(label.at, times), align=place)


def _literal(text: str) -> str:
    """Text whose characters mean themselves: DXF reads ``%%`` and ``^`` as the beginning of codes.

    >>> _literal("10 %%c of a^b")
    '10 %%%%%%c of a^ b'
    """
    return text.replace("%%", "%%%%%%").replace("^", "^ ")


def _dimension(doc: Drawing, space: Modelspace, item: Dimension, times: float) -> None:
    """A dimension entity whose picture is the one of the sheet; its value stands in its text.

    Its points are true unless the length is drawn broken.
    """
    look = {"layer": Pen.DIMENSION.layer}
    first, second, line = (_at(point, times) for point in (item.first, item.second, item.line))
    text = _literal(item.text)
    if item.measure is Measure.LENGTH:
        made = space.add_linear_dim(
            base=line, p1=first, p2=second, angle=math.degrees(item.angle), text=text, dimstyle=_STYLE, dxfattribs=look
        )
    elif item.measure is Measure.ANGLE:
        made = space.add_angular_dim_3p(
            base=line,
            center=_at(item.corner, times),
            p1=first,
            p2=second,
            text=text,
            dimstyle=_STYLE,
            dxfattribs=look,
        )
    else:
        flat = abs(math.cos(item.angle)) > 0.5
        add = space.add_ordinate_x_dim if flat else space.add_ordinate_y_dim
        offset = (line[0] - second[0], line[1] - second[1])
        made = add(feature_location=second, offset=offset, origin=first, text=text, dimstyle=_STYLE, dxfattribs=look)
        if item.measure is Measure.RUNNING:
            made.dimension.dxf.defpoint2 = (*second, 0.0)
            made.dimension.dxf.defpoint3 = (*line, 0.0)
            made.dimension.dxf.defpoint = (*first, 0.0)
    entity: DimensionEntity = made.dimension
    block = doc.blocks.new_anonymous_block(type_char="D")
    entity.dxf.geometry = block.name
    entity.dxf.text = text
    entity.dxf.actual_measurement = math.degrees(item.value) if item.measure is Measure.ANGLE else item.value
    for part in item.drawn:
        _draw(block, part, times)
        if isinstance(part, Label):
            entity.dxf.text_midpoint = (*_at(part.at, times), 0.0)


def _bar(space: Modelspace, sheet: Sheet, times: float) -> None:
    """The check bar: 100 units."""
    look = {"layer": Pen.REFERENCE.layer}
    x, y = _at(sheet.bar, times)
    space.add_line((x, y), (x + 100.0, y), dxfattribs=look)
    for along in (0.0, 50.0, 100.0):
        space.add_line((x + along, y), (x + along, y + 2.5), dxfattribs=look)


def _at(point: Point, times: float) -> Point:
    return point[0] * times, point[1] * times
