"""Names in other alphabets are read in a PDF as they were typed."""

from __future__ import annotations

import dataclasses
import hashlib
import subprocess
import sys
import unicodedata
from pathlib import Path

import pdfplumber
import pytest
from hypothesis import given
from hypothesis import strategies as st
from reportlab.pdfbase.pdfmetrics import stringWidth

from railgen.drawings import Setting, shop_sheets, write_pdf
from railgen.drawings.faces import face, lost, shown
from railgen.drawings.lettering import CAP, width
from railgen.drawings.sheet import Sheet
from railgen.job.model import Project
from railgen.layout import solve
from railgen.members import fabricate
from railgen.survey import survey_job
from tests.jobs import worked_job

NAMES = [
    "Κλίμακα του μύλου, Αθήνα",
    "Мельница, лестница №2 (Київ, ґанок)",
    "Łódź, młyn: świeżo żółte schody",
    "Việt Nam",
]


def titled(title: str) -> tuple[Sheet, ...]:
    job = dataclasses.replace(worked_job(), project=Project(id="w", title=title))
    return shop_sheets(job, fabricate(job, solve(job, survey_job(job))), Setting.of(job))


@pytest.mark.parametrize("name", NAMES)
def test_a_name_is_read_as_it_was_typed(name: str, tmp_path: Path) -> None:
    assert lost(name) == ""
    write_pdf(titled(name)[:1], tmp_path / "a.pdf")
    with pdfplumber.open(tmp_path / "a.pdf") as pdf:
        assert name in pdf.pages[0].extract_text()
        embedded = {char["fontname"].split("+")[-1] for char in pdf.pages[0].chars}
    assert embedded >= {"DejaVuSans", "Helvetica"}


def test_what_no_face_has_is_shown_as_a_question_mark(tmp_path: Path) -> None:
    write_pdf(titled("Mill 水車 \u202e\u0007 end")[:1], tmp_path / "a.pdf")
    with pdfplumber.open(tmp_path / "a.pdf") as pdf:
        assert "Mill ?? ?? end" in pdf.pages[0].extract_text()


def test_letters_of_other_alphabets_give_the_same_bytes_in_two_processes(tmp_path: Path) -> None:
    code = (
        "import sys\nfrom pathlib import Path\nfrom railgen.drawings import write_pdf\n"
        "from tests.drawings.test_faces import NAMES, titled\n"
        "write_pdf([titled(name)[0] for name in NAMES], Path(sys.argv[1]))\n"
    )
    found = set()
    for seed in ("1", "2"):
        path = tmp_path / f"{seed}.pdf"
        root = Path(__file__).parents[2]
        environment = {"PYTHONHASHSEED": seed, "PYTHONPATH": str(root), "PATH": "/usr/bin:/bin", "TZ": f"UTC{seed}"}
        subprocess.run([sys.executable, "-c", code, str(path)], cwd=root, env=environment, check=True)
        found.add(hashlib.sha256(path.read_bytes()).hexdigest())
    assert len(found) == 1


@given(st.text(max_size=30), st.booleans())
def test_every_text_can_be_set(text: str, bold: bool) -> None:
    seen = shown(text)
    assert shown(seen) == seen
    assert seen.isprintable()
    assert width(text, 2.5, bold=bold) == pytest.approx(stringWidth(seen, face(seen, bold=bold), 2.5 / CAP))
    if not lost(text) and text.isprintable() and unicodedata.is_normalized("NFKD", text):
        assert seen == text
