"""Drawings of the job sheet in a real browser, on a screen and on paper."""

from __future__ import annotations

import base64
import io
import re

import pdfplumber
import pytest
from pdfplumber.page import Page
from selenium.webdriver import Chrome
from selenium.webdriver.common.action_chains import ActionChains
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.remote.webelement import WebElement
from selenium.webdriver.support.ui import WebDriverWait

from tests.packs import built_pack
from tests.report.browser import (
    NAME,
    centred,
    choose,
    complaints,
    folded,
    needs_browser,
)
from tests.report.pages import work

pytestmark = needs_browser


def drawing(driver: Chrome, name: str) -> WebElement:
    """The frame of a drawing, opened by keyboard and in the middle of the screen."""
    details = driver.find_element(By.ID, f"drawing-{name}")
    if not details.get_attribute("open"):
        details.find_element(By.TAG_NAME, "summary").send_keys(Keys.ENTER)
    return centred(driver, f"[id='drawing-{name}'] .drawing")


def test_a_drawing_opens_whole_and_no_wider_than_the_screen(browser: Chrome) -> None:
    frame = drawing(browser, "setout-flight-1")
    svg = frame.find_element(By.TAG_NAME, "svg")
    room = browser.execute_script("return innerWidth")
    assert 0.8 * min(room, 900) < svg.size["width"] <= frame.size["width"] <= room
    sheet = next(sheet for sheet in work(built_pack(NAME)).sheets.set_out if sheet.name == "setout-flight-1")
    assert svg.size["width"] / svg.size["height"] == pytest.approx(sheet.width / sheet.height, rel=0.01)
    assert svg.accessible_name == sheet.title
    assert svg.aria_role in {"img", "image"}
    hidden = "const f = arguments[0]; return [f.scrollWidth - f.clientWidth, f.scrollHeight - f.clientHeight]"
    assert max(browser.execute_script(hidden, frame)) <= 1


def test_with_everything_open_the_page_is_still_no_wider_than_the_screen(browser: Chrome) -> None:
    folded(browser, opened=True)
    width, screen = browser.execute_script("return [document.documentElement.scrollWidth, innerWidth]")
    shown = browser.execute_script(
        "return [...document.querySelectorAll('.drawing svg')].map((svg) => svg.getBoundingClientRect().height)"
    )
    folded(browser, opened=False)
    assert width <= screen
    sheets = work(built_pack(NAME)).sheets
    assert len(shown) == len(sheets.set_out) + len(sheets.shop)
    assert min(shown) > 200
    assert complaints(browser) == []


def test_letters_keep_their_room_in_a_wider_face(browser: Chrome) -> None:
    """Every text is as wide as the sheet was set, also where the reader's own sans-serif is wider than Helvetica."""
    drawing(browser, "shop-R1")  # large, since a browser rounds the widths of letters too small to read
    browser.execute_script("document.querySelector(\"[id='drawing-shop-R1'] .drawing\").style.setProperty('--size', 5)")
    wrong = browser.execute_script("""
        const svg = document.querySelector("[id='drawing-shop-R1'] svg");
        const usual = svg.getAttribute("font-family");
        svg.setAttribute("font-family", "DejaVu Sans");
        const found = [...svg.querySelectorAll("text")].map((text) =>
            [text.textContent, text.getBBox().width, Number(text.getAttribute("textLength"))]);
        svg.setAttribute("font-family", usual);
        svg.parentElement.style.removeProperty("--size");
        return found;
    """)
    assert len(wrong) > 50
    for text, wide, given in wrong:
        assert wide == pytest.approx(given, abs=0.4), text


def test_a_tap_shows_a_drawing_up_close_and_another_the_whole(browser: Chrome) -> None:
    frame = drawing(browser, "shop-R1")
    svg = frame.find_element(By.TAG_NAME, "svg")
    whole = svg.size["width"]
    where = "const t = [...arguments[0].querySelectorAll('text')].find((t) => t.textContent === 'H1'); "
    tapped = browser.execute_script(where + "return t", frame)
    ActionChains(browser).move_to_element(tapped).click().perform()
    assert svg.size["width"] / 420 == pytest.approx(4, rel=0.02)  # CSS pixels for each mm of the sheet
    size = "return parseFloat(getComputedStyle(arguments[0]).fontSize) * arguments[1].clientWidth / 420"
    assert browser.execute_script(size, tapped, svg) > 12  # the letters of a hole, in CSS pixels
    seen = browser.execute_script(
        where + "const a = t.getBoundingClientRect(), b = arguments[0].getBoundingClientRect();"
        "return a.left >= b.left && a.right <= b.right && a.top >= b.top && a.bottom <= b.bottom",
        frame,
    )
    assert seen
    width, screen = browser.execute_script("return [document.documentElement.scrollWidth, innerWidth]")
    assert width <= screen
    ActionChains(browser).move_to_element(tapped).click().perform()
    assert svg.size["width"] == pytest.approx(whole, abs=1)


def test_a_drawing_is_made_larger_and_smaller_by_keyboard(browser: Chrome) -> None:
    frame = drawing(browser, "shop-R1")
    svg = frame.find_element(By.TAG_NAME, "svg")
    whole = svg.size["width"]
    widths = []
    for name in ("larger", "larger", "smaller", "whole", "smaller"):
        centred(browser, f"[id='drawing-shop-R1'] [data-size={name}]").send_keys(Keys.ENTER)
        widths.append(svg.size["width"] / whole)
    assert widths == pytest.approx([1.5, 2.25, 1.5, 1, 1], rel=0.03)  # never smaller than the whole sheet


def test_a_piece_leads_to_its_drawing(browser: Chrome) -> None:
    folded(browser, opened=False)
    choose(browser, "R3")
    centred(browser, "#picked a").click()
    WebDriverWait(browser, 5).until(lambda it: it.find_element(By.ID, "drawing-shop-R3").get_attribute("open"))
    assert browser.find_element(By.CSS_SELECTOR, "[id='drawing-shop-R3'] svg").is_displayed()
    choose(browser, "")


def test_all_steps_open_at_once(browser: Chrome) -> None:
    folded(browser, opened=False)
    button = centred(browser, "[data-unfold='details.step']")
    steps = browser.find_elements(By.CSS_SELECTOR, "details.step")
    assert not any(step.get_attribute("open") for step in steps)
    button.send_keys(Keys.ENTER)
    assert all(step.get_attribute("open") for step in steps)
    button.send_keys(Keys.ENTER)
    assert not any(step.get_attribute("open") for step in steps)


def drawn_box(page: Page) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of all lines on a page; of a page without any, nothing."""
    lines = [*page.lines, *page.curves] or [{"x0": 0, "top": 0, "x1": 0, "bottom": 0}]
    return (
        min(line["x0"] for line in lines),
        min(line["top"] for line in lines),
        max(line["x1"] for line in lines),
        max(line["bottom"] for line in lines),
    )


def test_on_paper_each_page_is_numbered_and_marked_and_checks_are_open(browser: Chrome) -> None:
    with pdfplumber.open(io.BytesIO(base64.b64decode(browser.print_page()))) as paper:
        pages = [page.extract_text() for page in paper.pages]
        right = max(word["x1"] - page.width for page in paper.pages for word in page.extract_words())
        boxes = [(page.width, page.height, *drawn_box(page)) for page in paper.pages]
    assert right <= 0
    for number, text in enumerate(pages, start=1):
        assert "CHECKS NOT MET" in text
        assert f"{number} / {len(pages)}" in text
    assert "a / b" in " ".join(pages)
    drilled = [text for text in pages if re.search(r"^[\w.-]+ (F\d-P\d\.)?H\d [\d.]+ ", text, re.MULTILINE)]
    assert len(drilled) > 1
    assert all("countersink" in text for text in drilled)  # the headings are on each page of a long table
    assert len(pages) < 45
    sheets = work(built_pack(NAME)).sheets
    for sheet in (*sheets.set_out, *sheets.shop):  # each on a page of its own, as large as it lets it be
        title = " ".join(sheet.title.split())
        mine = [n for n, text in enumerate(pages) if text.splitlines()[1] == title]  # below what is not met
        assert len(mine) == 1, sheet.title
        wide, high, *box = boxes[mine[0]]
        assert wide > high
        assert box[0] >= 0
        assert box[2] <= wide
        assert box[3] <= high
        assert box[3] - box[1] > 0.7 * high
