"""Whatever value stands behind a key, a job is read or refused with its faults: never another exception."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from railgen.errors import Fault, InputError
from railgen.job.read import load_job
from tests.job.cases import GOOD, GOOD_CATALOGUE
from tests.job.test_malformed import FOREIGN

ODD = [
    *("0", "-1", "1", "7.5", "1e400", "nan", "-inf", "9" * 320, "true", '""', '"x"', '"7-3/4"', '"1/0"', '"/etc"'),
    *("[]", "[[]]", "[1]", "[1, 2, 3]", '["a"]', "[[1, 2], [3, 4]]", "{}", "{ a = 1 }", "[{}]", "[{ kind = 1 }]"),
    *("2026-03-14", "2026-03-14T07:00:00Z", "07:00:00", '"\\u0000"', '"\\U0001F600"', "0x10", "'''a\n'''"),
]
LINE = re.compile(r"^(\w+) = (.+)$", re.MULTILINE)
KEPT = ("format", "catalogue", "kind")
JOB = GOOD.replace('set = "wide-48.3"', 'set = "mine"\ncatalogue = ["mine.toml"]')
JOB = JOB.replace("[\n  176,\n  181,\n  178,\n]", "[176, 181, 178]")  # every value on its key's line


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.data())
def test_any_value_behind_any_key_is_read_or_refused(tmp_path: Path, data: st.DataObject) -> None:
    texts = {"job.toml": JOB, "mine.toml": GOOD_CATALOGUE}
    for _ in range(data.draw(st.integers(1, 3))):
        name = data.draw(st.sampled_from(sorted(texts)))
        place = data.draw(st.sampled_from(list(LINE.finditer(texts[name]))))
        odd = data.draw(st.sampled_from(ODD))
        texts[name] = texts[name][: place.start(2)] + odd + texts[name][place.end(2) :]
    for name, text in texts.items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    check(tmp_path)


@pytest.mark.parametrize("odd", ODD)
def test_one_odd_value_behind_every_key_is_refused(tmp_path: Path, odd: str) -> None:
    for name, text in (("job.toml", JOB), ("mine.toml", GOOD_CATALOGUE)):
        swapped = LINE.sub(lambda found: found[0] if found[1] in KEPT else f"{found[1]} = {odd}", text)
        (tmp_path / name).write_text(swapped, encoding="utf-8")
    assert len(check(tmp_path)) > 20


def check(folder: Path) -> tuple[Fault, ...]:
    """Each fault of the job is told whole, in our own words."""
    faults = faults_of(folder / "job.toml")
    for fault in faults:
        assert fault.code
        assert fault.message
        assert fault.line is not None
        assert not FOREIGN.search(str(fault).replace(str(folder), "")), str(fault)
    return faults


def faults_of(path: Path) -> tuple[Fault, ...]:
    """The faults of a refused job, at least one; none of a job that is read."""
    try:
        load_job(path)
    except InputError as error:
        return error.faults or (Fault(code="", where="", message=""),)
    return ()
