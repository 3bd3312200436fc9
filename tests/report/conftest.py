"""One job sheet, open in a browser as on a phone and as on a desk."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from selenium.webdriver import Chrome

from tests.packs import built_pack
from tests.report.browser import DESK, NAME, PHONE, open_page
from tests.report.pages import HOSTILE, LONG, check, made


@pytest.fixture(scope="module")
def sheet(tmp_path_factory: pytest.TempPathFactory) -> Path:
    pack = built_pack(NAME)
    checks = (*pack.checks, check(title=HOSTILE + LONG, value=3.0, formula="a / b"), check(value=None, missing="depth"))
    page = made(pack, checks=checks)
    path = tmp_path_factory.mktemp("sheet") / "job_sheet.html"
    path.write_text(page, encoding="utf-8", newline="")
    return path


@pytest.fixture(scope="module", params=[PHONE, DESK], ids=["phone", "desk"])
def browser(request: pytest.FixtureRequest, sheet: Path) -> Iterator[Chrome]:
    with open_page(sheet, request.param) as driver:
        yield driver
