"""No two files of a pack disagree: CSV, STEP, shop and set-out sheets and templates, read back by other libraries."""

from __future__ import annotations

import dataclasses
import shutil
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import cast

import ezdxf
import pytest
from ezdxf.entities import Dimension as DimensionEntity
from ezdxf.entities import LWPolyline

import railgen
from railgen.drawings import Setting, set_out_sheets, shop_sheets, templates, write_dxf, write_pdf
from railgen.drawings.sheet import Sheet
from railgen.members import Fabrication
from railgen.members.pieces import StairBody, Tube
from railgen.schedules import cut_table, drill_table
from railgen.units import Dimensions
from tests.agreement.claims import disagreements, lengths
from tests.agreement.pack import pack_claims, silent
from tests.packs import CONFIGS, GOOD, BuiltPack, built_pack

JOBS = [*GOOD, "weak_mezzanine"]


@pytest.mark.parametrize("name", JOBS)
def test_every_file_of_a_pack_says_the_same_of_every_piece(name: str) -> None:
    pack = built_pack(name)
    claims = pack_claims(pack.folder, pack.job)
    assert disagreements(claims) == []
    assert silent(pack.folder, claims) == []
    marks = {mark for mark, piece in pack.fabrication.pieces.items() if isinstance(piece, Tube)}
    assert marks <= {claim.piece for claim in claims}
    sizes = Counter(claim.piece for claim in claims if claim.feature.endswith("diameter"))
    assert min(sizes[mark] for mark in marks if pack.fabrication.pieces[mark].holes) >= 10


@pytest.mark.parametrize("style", [Dimensions.SIXTEENTH, Dimensions.BOTH_SIXTEENTH])
def test_sheets_in_other_units_say_the_same(style: Dimensions, tmp_path: Path) -> None:
    """To a sixteenth of an inch, alone and beside mm: each value is as near as its own rounding."""
    job = railgen.load(CONFIGS / "mill_loft_timber.toml")
    job = dataclasses.replace(job, order=dataclasses.replace(job.order, dimensions=style))
    folder = railgen.build(job, tmp_path).folder
    claims = pack_claims(folder, job)
    assert disagreements(claims) == []
    assert silent(folder, claims) == []
    coarse = [claim for claim in claims if claim.near == pytest.approx(25.4 / 32 + 0.0005)]
    assert len(coarse) > 30


@pytest.mark.parametrize("name", JOBS)
def test_dimension_entities_measure_what_they_say(name: str) -> None:
    """The text, the value kept with it, and, where no stretch is broken out, what a reader measures by itself."""
    pack, seen = built_pack(name), 0
    for path in sorted((pack.folder / "drawings").glob("s*.dxf")):
        doc = ezdxf.readfile(path)
        space = doc.modelspace()
        edges = cast("list[LWPolyline]", list(space.query("LWPOLYLINE[layer=='BREAK']")))
        breaks = {point[0] for edge in edges for point in edge.get_points()}
        for entity in cast("list[DimensionEntity]", list(space.query("DIMENSION"))):
            value, near = float(entity.dxf.actual_measurement), 0.05
            if entity.dxf.text.endswith("°"):
                said = float(entity.dxf.text.rstrip("°"))
            else:
                said, near = lengths(entity.dxf.text, pack.job.order.dimensions)[0]
            where = (path.name, entity.dxf.text)
            assert said == pytest.approx(value, abs=near + 1e-6), where
            seen += 1
            low, high = sorted((entity.dxf.defpoint2.x, entity.dxf.defpoint3.x))
            if entity.dimtype in (0, 1) and not any(low < x < high for x in breaks):
                assert entity.get_measurement() == pytest.approx(value, abs=2 * near), where
            elif entity.dimtype == 6 and not breaks:  # running: from its origin along its own direction
                run = entity.dxf.defpoint2 - entity.dxf.defpoint
                assert (run.x if entity.dxf.dimtype & 64 else run.y) == pytest.approx(value, abs=near), where
            elif entity.dimtype == 5:
                assert entity.get_measurement() == pytest.approx(value, abs=0.02), where
    assert seen > 40


def moved(fabrication: Fabrication, mark: str) -> Fabrication:
    """The same pieces, but the first hole of one of them 0.1 mm farther on."""
    piece = fabrication.pieces[mark]
    if isinstance(piece, Tube):
        hole = piece.holes[0]
        holes = (dataclasses.replace(hole, distance=hole.distance + 0.1), *piece.holes[1:])
        return _with(fabrication, dataclasses.replace(piece, holes=holes))
    assert isinstance(piece, StairBody)
    spot = piece.holes[0]
    at = dataclasses.replace(spot.point, x=spot.point.x + 0.1)
    spots = (dataclasses.replace(spot, point=at, from_nosing=spot.from_nosing + 0.1), *piece.holes[1:])
    return _with(fabrication, dataclasses.replace(piece, holes=spots))


def _with(fabrication: Fabrication, piece: Tube | StairBody) -> Fabrication:
    return dataclasses.replace(fabrication, pieces={**fabrication.pieces, piece.mark: piece})


def _sheets(folder: Path, name: str, sheets: tuple[Sheet, ...]) -> None:
    write_pdf(sheets, folder / "drawings" / f"{name}.pdf")
    for sheet in sheets:
        write_dxf(sheet, folder / "drawings" / f"{sheet.name}.dxf")


def write_schedule(folder: Path, pack: BuiltPack, wrong: Fabrication) -> None:
    (folder / "drill_schedule.csv").write_text(drill_table(wrong).csv(), encoding="utf-8", newline="")


def write_shop(folder: Path, pack: BuiltPack, wrong: Fabrication) -> None:
    _sheets(folder, "shop", shop_sheets(pack.job, wrong, Setting.of(pack.job)))


def write_templates(folder: Path, pack: BuiltPack, wrong: Fabrication) -> None:
    _sheets(folder, "templates", templates(pack.job, pack.layout, wrong, Setting.of(pack.job)))


def write_part(folder: Path, pack: BuiltPack, wrong: Fabrication) -> None:
    from railgen import solids

    piece = wrong.pieces["R1"]
    solids.write_part_step(folder / "parts" / "R1.step", piece, solids.build_solid(piece))


def write_assembly(folder: Path, pack: BuiltPack, wrong: Fabrication) -> None:
    from railgen import solids

    solids.write_step(folder / "assembly.step", pack.job, wrong, solids.build_all(wrong))


Writer = Callable[[Path, BuiltPack, Fabrication], None]
WRITERS: list[tuple[Writer, str, str]] = [
    (write_schedule, "R1", "R1 H1 station"),
    (write_shop, "R1", "R1 H1 station"),
    (write_templates, "R1", "R1 H1 station"),
    (write_part, "R1", "R1 H1 station"),
    (write_schedule, "F1-T1", "F1-T1 F1-P1.H1 from nosing"),
    (write_templates, "F1-T1", "F1-T1 F1-P1.H1 from nosing"),
    (write_assembly, "F1-T1", "F1-T1 F1-P1.H1 from nosing"),
]


@pytest.mark.parametrize(("writer", "mark", "feature"), WRITERS, ids=lambda v: getattr(v, "__name__", str(v)))
def test_a_hole_a_tenth_of_a_millimetre_off_in_one_file_is_noticed(
    writer: Writer, mark: str, feature: str, tmp_path: Path
) -> None:
    pack = built_pack("mill_loft_timber")
    folder = tmp_path / "pack"
    shutil.copytree(pack.folder, folder)
    writer(folder, pack, moved(pack.fabrication, mark))
    found = disagreements(pack_claims(folder, pack.job))
    assert found
    assert any(line.startswith(feature) for line in found), found


def test_a_tube_sawn_a_tenth_of_a_millimetre_short_in_one_file_is_noticed(tmp_path: Path) -> None:
    pack = built_pack("mill_loft_timber")
    folder = tmp_path / "pack"
    shutil.copytree(pack.folder, folder)
    tube = pack.fabrication.pieces["R1"]
    assert isinstance(tube, Tube)
    wrong = _with(pack.fabrication, dataclasses.replace(tube, length=tube.length - 0.1))
    (folder / "cut_list.csv").write_text(cut_table(pack.job, wrong).csv(), encoding="utf-8", newline="")
    assert any(line.startswith("R1 length") for line in disagreements(pack_claims(folder, pack.job)))


def test_the_set_out_belongs_to_the_agreement(tmp_path: Path) -> None:
    """A setback changed in the elevations alone is noticed too."""
    pack = built_pack("mill_loft_timber")
    folder = tmp_path / "pack"
    shutil.copytree(pack.folder, folder)
    first, *others = pack.layout.posts
    base = dataclasses.replace(first.base, x=first.base.x + 0.1)
    layout = dataclasses.replace(pack.layout, posts=(dataclasses.replace(first, base=base), *others))
    _sheets(folder, "set_out", set_out_sheets(pack.job, layout, pack.fabrication, Setting.of(pack.job)))
    assert any("along the flight" in line for line in disagreements(pack_claims(folder, pack.job)))
