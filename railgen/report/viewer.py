"""The 3D view of the job sheet: the library that draws it, the model as text, and what each part of it is called."""

from __future__ import annotations

import base64
import io
import zipfile
from importlib.metadata import distribution
from pathlib import Path

__all__ = ["as_text", "drawing_library"]

_BUNDLE = "trimesh/resources/templates/viewer.zip"
_PAGE = "viewer.html.template"
_BEGIN, _END = "<script>", "THREE.GLTFLoader=GLTFLoader;})();"


def drawing_library() -> str:
    """three.js with its reader of GLB files (both MIT), as trimesh's wheel carries them; empty where it has none.

    The part of trimesh's own page from its first script to the end of the GLB reader; what follows is trimesh's
    viewer, which cannot pick parts and needs a mouse.
    """
    try:
        bundle = Path(str(distribution("trimesh").locate_file(_BUNDLE))).read_bytes()
        page = zipfile.ZipFile(io.BytesIO(bundle)).read(_PAGE).decode("utf-8")
    except (OSError, KeyError, zipfile.BadZipFile):
        return ""
    begin, end = page.find(_BEGIN), page.find(_END)
    if begin < 0 or end < begin:
        return ""
    return page[begin + len(_BEGIN) : end + len(_END)].replace("\r\n", "\n")


def as_text(glb: bytes) -> str:
    """The model as base64, in lines that a text editor can open."""
    return base64.encodebytes(glb).decode("ascii").strip()
