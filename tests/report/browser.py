"""A real browser without a window, and what it complained about or asked the network for."""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from selenium import webdriver
from selenium.webdriver.chrome.options import Options
from selenium.webdriver.chrome.service import Service
from selenium.webdriver.common.by import By
from selenium.webdriver.remote.webelement import WebElement
from selenium.webdriver.support.ui import Select, WebDriverWait

__all__ = [
    "CHROMIUM",
    "DESK",
    "NAME",
    "PHONE",
    "centred",
    "choose",
    "complaints",
    "folded",
    "needs_browser",
    "open_page",
    "requests_made",
    "settle",
]

CHROMIUM, DRIVER = Path("/usr/bin/chromium"), Path("/usr/bin/chromedriver")
PHONE, DESK = (390, 844), (1440, 900)
NAME = "mill_half_turn"  # whose job sheet is looked at
needs_browser = pytest.mark.skipif(
    not (CHROMIUM.exists() and DRIVER.exists()),
    reason="needs Debian's packages chromium and chromium-driver; Ubuntu has them as a snap only, which is not driven",
)
_QUIET = (
    "--headless",
    "--no-sandbox",  # the tests may run as root
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
_SOFTWARE_3D = ("--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader")
_NO_3D = ("--disable-gpu", "--disable-3d-apis")


@contextmanager
def open_page(page: Path, size: tuple[int, int] = DESK, *, solid: bool = True) -> Iterator[webdriver.Chrome]:
    """The page in a browser of its own, ``size`` in CSS pixels; ``solid`` is whether it can draw in 3D."""
    with TemporaryDirectory(prefix="railgen-browser-") as profile:
        options = Options()
        options.binary_location = str(CHROMIUM)
        for flag in (*_QUIET, *(_SOFTWARE_3D if solid else _NO_3D), f"--user-data-dir={profile}"):
            options.add_argument(flag)
        options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
        driver = webdriver.Chrome(options=options, service=Service(executable_path=str(DRIVER)))
        try:
            width, height = size
            screen = {"width": width, "height": height, "deviceScaleFactor": 1, "mobile": width < 600}
            driver.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", screen)
            driver.get(page.resolve().as_uri())
            state = "return document.getElementById('canvas').dataset.state"
            WebDriverWait(driver, 60).until(lambda it: it.execute_script(state))
            yield driver
        finally:
            driver.quit()


def complaints(driver: webdriver.Chrome) -> list[str]:
    """Warnings and errors on the console, the browser's own remark on slow software drawing left out."""
    entries = driver.get_log("browser")  # type: ignore[no-untyped-call]
    kept = [entry for entry in entries if entry["level"] in {"WARNING", "SEVERE"}]
    return [entry["message"] for entry in kept if "GPU stall due to ReadPixels" not in entry["message"]]


def requests_made(driver: webdriver.Chrome) -> list[str]:
    """Every address asked for; left out are data in the page itself and what the browser's own empty tab is made of."""
    entries = driver.get_log("performance")  # type: ignore[no-untyped-call]
    messages = (json.loads(entry["message"])["message"] for entry in entries)
    sent = (m["params"]["request"]["url"] for m in messages if m["method"] == "Network.requestWillBeSent")
    return [url for url in sent if not url.startswith(("data:", "chrome:"))]


def settle(driver: webdriver.Chrome) -> None:
    """Wait until what was asked for is drawn."""
    driver.execute_async_script("requestAnimationFrame(() => requestAnimationFrame(arguments[0]))")


def choose(driver: webdriver.Chrome, part: str) -> None:
    Select(driver.find_element(By.ID, "pick")).select_by_value(part)
    settle(driver)


def centred(driver: webdriver.Chrome, css: str) -> WebElement:
    """An element in the middle of the screen, clear of the contents that stay at the top."""
    element = driver.find_element(By.CSS_SELECTOR, css)
    driver.execute_script("arguments[0].scrollIntoView({ block: 'center' })", element)
    return element


def folded(driver: webdriver.Chrome, *, opened: bool) -> None:
    """Open or close everything that opens."""
    driver.execute_script(
        "for (const each of document.querySelectorAll('details')) each.open = arguments[0]; scrollTo(0, 0)", opened
    )
