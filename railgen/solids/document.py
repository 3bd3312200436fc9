"""The assembly as the kernel's exchange document: a root, a sub-assembly for each group, products and occurrences."""

from __future__ import annotations

from collections.abc import Mapping

from cadquery import Solid
from OCP.BinXCAFDrivers import BinXCAFDrivers
from OCP.Quantity import Quantity_Color, Quantity_ColorRGBA, Quantity_TypeOfColor
from OCP.TCollection import TCollection_ExtendedString
from OCP.TDataStd import TDataStd_Name
from OCP.TDF import TDF_Label
from OCP.TDocStd import TDocStd_Document
from OCP.TopLoc import TopLoc_Location
from OCP.XCAFApp import XCAFApp_Application
from OCP.XCAFDoc import XCAFDoc_ColorType, XCAFDoc_DocumentTool

from railgen.geometry import Frame
from railgen.members.fabrication import Fabrication
from railgen.members.pieces import Group
from railgen.solids.palette import Colour
from railgen.solids.products import product_names
from railgen.solids.shapes import UPRIGHT, location

__all__ = ["assembly_document", "part_document"]


class _Draft:
    """A document being filled."""

    def __init__(self) -> None:
        application = XCAFApp_Application.GetApplication_s()
        BinXCAFDrivers.DefineFormat_s(application)
        self.document = TDocStd_Document(TCollection_ExtendedString("BinXCAF"))
        application.InitDocument(self.document)
        self.shapes = XCAFDoc_DocumentTool.ShapeTool_s(self.document.Main())
        self.colours = XCAFDoc_DocumentTool.ColorTool_s(self.document.Main())
        self.shapes.SetAutoNaming_s(False)

    def assembly(self, name: str) -> TDF_Label:
        label = self.shapes.NewShape()
        _name(label, name)
        return label

    def product(self, mark: str, solid: Solid, colour: Colour) -> TDF_Label:
        label = self.assembly(mark)
        self.shapes.SetShape(label, solid.wrapped)
        shade = Quantity_ColorRGBA(Quantity_Color(*colour, Quantity_TypeOfColor.Quantity_TOC_sRGB), 1.0)
        self.colours.SetColor(label, shade, XCAFDoc_ColorType.XCAFDoc_ColorSurf)
        return label

    def place(self, inside: TDF_Label, product: TDF_Label, occurrence: str, frame: Frame) -> None:
        at = location(frame).wrapped if frame is not UPRIGHT else TopLoc_Location()
        _name(self.shapes.AddComponent(inside, product, at), occurrence)


def assembly_document(
    name: str,
    fabrication: Fabrication,
    shapes: Mapping[str, Solid],
    colours: Mapping[str, Colour],
    site: Frame = UPRIGHT,
) -> TDocStd_Document:
    """Root ``name``, groups in ``site``, products named as :func:`product_names` says, occurrences by id."""
    draft = _Draft()
    root = draft.assembly(name)
    products: dict[str, TDF_Label] = {}
    names = product_names(fabrication)
    for group in Group:
        members = [place for place in fabrication.placed if place.group is group]
        if not members:
            continue
        inside = draft.assembly(group.value)
        for place in members:
            product = names[place.mark]
            if product not in products:
                products[product] = draft.product(product, shapes[place.mark], colours[product])
            draft.place(inside, products[product], place.id, place.frame)
        draft.place(root, inside, group.value, site)
    draft.shapes.UpdateAssemblies()
    return draft.document


def part_document(mark: str, solid: Solid, colour: Colour) -> TDocStd_Document:
    """One product alone."""
    draft = _Draft()
    draft.product(mark, solid, colour)
    return draft.document


def _name(label: TDF_Label, text: str) -> None:
    """Name a label; marks and ids are ASCII by the job's and the catalogue's own rules."""
    text.encode("ascii")
    TDataStd_Name.Set_s(label, TCollection_ExtendedString(text, True))
