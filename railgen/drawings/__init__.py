"""Shop drawings, set-out drawings and templates: one neutral sheet, written as PDF, DXF and SVG.

Drawings decide no dimension: they read the members. The libraries that write files are imported when one is written.
"""

from railgen.drawings.dxf import write_dxf
from railgen.drawings.pdf import write_pdf
from railgen.drawings.setout import set_out_sheets
from railgen.drawings.setting import Paper, Setting
from railgen.drawings.sheet import Sheet
from railgen.drawings.shop import shop_sheets
from railgen.drawings.svg import svg_text
from railgen.drawings.templates import templates

__all__ = [
    "Paper",
    "Setting",
    "Sheet",
    "set_out_sheets",
    "shop_sheets",
    "svg_text",
    "templates",
    "write_dxf",
    "write_pdf",
]
