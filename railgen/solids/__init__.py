"""Solids of every piece and the files made of them: the only stage that loads the CAD kernel.

Importing this package loads the kernel (some seconds) and raises RailgenError where a system library is missing; it is
imported only by what builds. Solids decide no dimension: they read pieces and their catalogue entries.
"""

from __future__ import annotations

from railgen.errors import Fault, RailgenError

try:
    from railgen.solids.build import build_all, build_solid, volumes
    from railgen.solids.glb import write_glb
    from railgen.solids.mesh import write_part_stl, write_stl
    from railgen.solids.step import write_part_step, write_step
except ImportError as error:
    if isinstance(error, ModuleNotFoundError) and (error.name or "").startswith("railgen"):
        raise
    raise RailgenError(
        Fault(
            code="kernel-missing",
            where="",
            message=f"the solid modeller cannot be loaded: {error}",
            hint="on Debian or Ubuntu: apt-get install libgl1 libx11-6 libexpat1; else reinstall cadquery",
        )
    ) from error

__all__ = [
    "build_all",
    "build_solid",
    "volumes",
    "write_glb",
    "write_part_step",
    "write_part_stl",
    "write_step",
    "write_stl",
]
