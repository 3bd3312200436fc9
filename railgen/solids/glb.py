"""GLB (glTF 2.0): metres, +Y up, every occurrence a named node that shares its piece's mesh."""

from __future__ import annotations

import json
import tempfile
from collections.abc import Mapping
from pathlib import Path

from cadquery import Solid
from OCP.Message import Message_ProgressRange
from OCP.RWGltf import RWGltf_CafWriter, RWGltf_WriterTrsfFormat
from OCP.RWMesh import RWMesh_CoordinateSystem, RWMesh_CoordinateSystemConverter, RWMesh_NameFormat
from OCP.TCollection import TCollection_AsciiString
from OCP.TColStd import TColStd_IndexedDataMapOfStringString

from railgen.job.model import Job
from railgen.members.fabrication import Fabrication
from railgen.solids.document import assembly_document
from railgen.solids.mesh import COARSE, give_mesh
from railgen.solids.output import not_written, write_whole
from railgen.solids.palette import colours

__all__ = ["write_glb"]


def write_glb(path: Path, job: Job, fabrication: Fabrication, shapes: Mapping[str, Solid]) -> None:
    """The whole assembly in the stair's own frame: a viewer's single precision is not spent on the site's distance.

    Raises OutputError.
    """
    for mark in dict.fromkeys(place.mark for place in fabrication.placed):
        give_mesh(shapes[mark], COARSE)
    document = assembly_document(job.project.id, fabrication, shapes, colours(fabrication))
    converter = RWMesh_CoordinateSystemConverter()
    converter.SetInputLengthUnit(0.001)
    converter.SetInputCoordinateSystem(RWMesh_CoordinateSystem.RWMesh_CoordinateSystem_Zup)
    converter.SetOutputLengthUnit(1.0)
    converter.SetOutputCoordinateSystem(RWMesh_CoordinateSystem.RWMesh_CoordinateSystem_glTF)
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "assembly.glb"
        writer = RWGltf_CafWriter(TCollection_AsciiString(str(file)), True)
        writer.SetCoordinateSystemConverter(converter)
        writer.SetNodeNameFormat(RWMesh_NameFormat.RWMesh_NameFormat_InstanceOrProduct)
        writer.SetMeshNameFormat(RWMesh_NameFormat.RWMesh_NameFormat_Product)
        writer.SetMergeFaces(True)
        writer.SetTransformationFormat(RWGltf_WriterTrsfFormat.RWGltf_WriterTrsfFormat_TRS)
        done = writer.Perform(document, TColStd_IndexedDataMapOfStringString(), Message_ProgressRange())
        content = file.read_bytes() if done and file.exists() else b""
    if content[:4] != b"glTF" or int.from_bytes(content[8:12], "little") != len(content):
        raise not_written(path, "the kernel could not write GLB")
    write_whole(path, _shared(content))


def _shared(content: bytes) -> bytes:
    """The same scene with one mesh for each piece: the kernel lists one for each occurrence, all on one data."""
    length = int.from_bytes(content[12:16], "little")
    scene, rest = json.loads(content[20 : 20 + length]), content[20 + length :]
    kept: list[object] = []
    number: list[int] = []
    for mesh in scene["meshes"]:
        if mesh not in kept:
            kept.append(mesh)
        number.append(kept.index(mesh))
    for node in scene["nodes"]:
        if "mesh" in node:
            node["mesh"] = number[node["mesh"]]
    scene["meshes"], scene["asset"]["generator"] = kept, "railgen"
    text = json.dumps(scene, separators=(",", ":")).encode("ascii")
    text += b" " * (-len(text) % 4)  # chunks are padded to four bytes (glTF 2.0, 4.4.3.2)
    head = b"glTF" + (2).to_bytes(4, "little") + (20 + len(text) + len(rest)).to_bytes(4, "little")
    return head + len(text).to_bytes(4, "little") + b"JSON" + text + rest
