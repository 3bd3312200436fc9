"""Same bytes from the same job, harmless names, and nothing loaded before it is needed."""

from __future__ import annotations

import dataclasses
import hashlib
import subprocess
import sys
from pathlib import Path

import ezdxf
import pdfplumber
from ezdxf.lldxf.const import DXFStructureError

from railgen.drawings import Setting, write_dxf, write_pdf
from railgen.job.model import Project
from tests.drawings.conftest import make
from tests.jobs import worked_job

PROGRAM = """
import hashlib, sys, tempfile
from pathlib import Path
from railgen.drawings import write_dxf, write_pdf
from tests.drawings.conftest import make
from tests.jobs import worked_job
made = make(worked_job())
with tempfile.TemporaryDirectory() as name:
    write_pdf(made.sheets, Path(name) / "a.pdf")
    total = hashlib.sha256((Path(name) / "a.pdf").read_bytes())
    for sheet in made.sheets:
        write_dxf(sheet, Path(name) / "a.dxf")
        total.update((Path(name) / "a.dxf").read_bytes())
print(total.hexdigest())
"""


def test_processes_write_the_same_bytes_whatever_order_their_sets_have() -> None:
    root = Path(__file__).parents[2]
    found = set()
    for seed in ("1", "7", "4", "11"):
        environment = {"PYTHONHASHSEED": seed, "PYTHONPATH": str(root), "PATH": "/usr/bin:/bin", "TZ": f"UTC{seed}"}
        done = subprocess.run(
            [sys.executable, "-c", PROGRAM], cwd=root, env=environment, capture_output=True, text=True, check=True
        )
        found.add(done.stdout.strip())
    assert [len(digest) for digest in found] == [hashlib.sha256().digest_size * 2]


def test_the_date_comes_from_the_job(tmp_path: Path) -> None:
    from datetime import date

    given = dataclasses.replace(worked_job(), project=Project(id="w", date=date(2026, 3, 14)))
    write_pdf(make(given).shop, tmp_path / "a.pdf")
    with pdfplumber.open(tmp_path / "a.pdf") as pdf:
        assert pdf.metadata["CreationDate"].startswith("D:20260314")


def test_markup_is_only_text(tmp_path: Path) -> None:
    name = "<b>B</b> %%u ^J & {\\\\P}"
    given = dataclasses.replace(worked_job(), project=Project(id="w", title=name))
    sheets = make(given, dataclasses.replace(Setting.of(given), status="")).shop
    write_pdf(sheets, tmp_path / "a.pdf")
    with pdfplumber.open(tmp_path / "a.pdf") as pdf:
        assert name in pdf.pages[0].extract_text()
    write_dxf(sheets[0], tmp_path / "a.dxf")
    try:
        doc = ezdxf.readfile(tmp_path / "a.dxf")
    except DXFStructureError as error:
        raise AssertionError(error) from error
    assert name in [text.plain_text() for text in doc.modelspace().query("TEXT")]


def test_solving_loads_no_library_that_writes_drawings() -> None:
    program = (
        "import sys; import railgen.drawings; from railgen.pipeline import solve; "
        "print([m for m in ('ezdxf', 'reportlab') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
