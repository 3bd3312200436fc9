"""The job sheet in a real browser: quiet, offline, drawn in 3D, picked from, sorted, copied and printed."""

from __future__ import annotations

import base64
import io
import re
from collections.abc import Iterator
from pathlib import Path

import pdfplumber
import pytest
from pdfplumber.page import Page
from selenium.webdriver import Chrome
from selenium.webdriver.common.action_chains import ActionChains
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.remote.webelement import WebElement
from selenium.webdriver.support.ui import Select, WebDriverWait

from railgen.members.pieces import Tube
from railgen.report.sheet import job_sheet
from tests.packs import built_pack
from tests.report.browser import CHROMIUM, DESK, PHONE, complaints, open_page, requests_made
from tests.report.test_sheet import HOSTILE, LONG, check, made, work

pytestmark = pytest.mark.skipif(not CHROMIUM.exists(), reason="Debian's chromium is not installed")

NAME = "mill_half_turn"


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


def settle(driver: Chrome) -> None:
    """Wait until what was asked for is drawn."""
    driver.execute_async_script("requestAnimationFrame(() => requestAnimationFrame(arguments[0]))")


def colours(driver: Chrome) -> dict[int, int]:
    """How many pixels of the 3D view have each colour."""
    counted: dict[str, int] = driver.execute_script("""
        const view = document.getElementById("canvas"), flat = document.createElement("canvas"), found = {};
        [flat.width, flat.height] = [view.width, view.height];
        const pen = flat.getContext("2d");
        pen.drawImage(view, 0, 0);
        const words = new Uint32Array(pen.getImageData(0, 0, flat.width, flat.height).data.buffer);
        for (const word of words) found[word] = (found[word] ?? 0) + 1;
        return found;
    """)
    return {int(word): count for word, count in counted.items()}


def drawn(driver: Chrome) -> float:
    """Share of the 3D view that is not background."""
    counted = colours(driver)
    return 1 - max(counted.values()) / sum(counted.values())


def choose(driver: Chrome, part: str) -> None:
    Select(driver.find_element(By.ID, "pick")).select_by_value(part)
    settle(driver)


def look(driver: Chrome, name: str) -> None:
    driver.find_element(By.CSS_SELECTOR, f"[data-look={name}]").click()
    settle(driver)


def centred(driver: Chrome, css: str) -> WebElement:
    """An element in the middle of the screen, clear of the contents that stay at the top."""
    element = driver.find_element(By.CSS_SELECTOR, css)
    driver.execute_script("arguments[0].scrollIntoView({ block: 'center' })", element)
    return element


def view(driver: Chrome) -> WebElement:
    return centred(driver, "#canvas")


def panel(driver: Chrome) -> str:
    text: str = driver.find_element(By.ID, "picked").text
    return text


def column(driver: Chrome, caption: str, number: int) -> list[str]:
    cells: list[str] = driver.execute_script(
        "const [caption, number] = arguments;"
        "const table = [...document.querySelectorAll('table')].find((t) => t.caption.textContent === caption);"
        "return [...table.tBodies[0].rows].map((row) => row.cells[number].textContent.trim());",
        caption,
        number,
    )
    return cells


def heading(driver: Chrome, caption: str, number: int) -> None:
    """Press Enter on a heading, as somebody without a mouse does."""
    button = driver.execute_script(
        "const [caption, number] = arguments;"
        "const table = [...document.querySelectorAll('table')].find((t) => t.caption.textContent === caption);"
        "const button = table.tHead.rows[0].cells[number].querySelector('button');"
        "button.focus(); return button;",
        caption,
        number,
    )
    button.send_keys(Keys.ENTER)


def test_it_is_quiet_and_asks_the_network_for_nothing(sheet: Path, browser: Chrome) -> None:
    assert requests_made(browser) == [sheet.resolve().as_uri()]
    assert complaints(browser) == []


def test_the_page_is_no_wider_than_the_screen(browser: Chrome) -> None:
    width, screen = browser.execute_script("return [document.documentElement.scrollWidth, innerWidth]")
    assert width <= screen


def test_the_assembly_is_drawn(browser: Chrome) -> None:
    look(browser, "whole")
    assert 0.05 < drawn(browser) < 0.6


def test_hiding_the_stair_leaves_the_rail(browser: Chrome) -> None:
    look(browser, "whole")
    whole = drawn(browser)
    button = browser.find_element(By.ID, "stair")
    button.click()
    settle(browser)
    rail = drawn(browser)
    button.click()
    settle(browser)
    assert 0.005 < rail < whole / 2
    assert drawn(browser) == pytest.approx(whole)


def test_a_part_picked_from_the_list_shows_its_data_and_is_marked(browser: Chrome) -> None:
    tube = built_pack(NAME).fabrication.pieces["R3"]
    assert isinstance(tube, Tube)
    choose(browser, "")
    look(browser, "whole")
    before = colours(browser)
    choose(browser, "R3")
    text = panel(browser)
    assert "Mark R3" in text
    assert f"{tube.length:.1f}".rstrip("0").rstrip(".") + " mm" in text
    assert f"{len(tube.holes)} holes in R3" in text
    assert len(browser.find_elements(By.CSS_SELECTOR, "#picked tbody tr")) == len(tube.holes)
    assert colours(browser) != before
    choose(browser, "")
    assert "Mark" not in panel(browser)
    assert colours(browser) == before


@pytest.mark.parametrize("part", ["R1", "R3", "F1-P2"])
def test_a_part_clicked_in_the_view_is_picked(browser: Chrome, part: str) -> None:
    mark = {place.id: place.mark for place in built_pack(NAME).fabrication.placed}[part]
    choose(browser, part)
    look(browser, "side")
    look(browser, "picked")
    choose(browser, "")
    ActionChains(browser).move_to_element(view(browser)).click().perform()
    assert Select(browser.find_element(By.ID, "pick")).first_selected_option.get_attribute("value") == part
    assert f"Mark {mark}" in panel(browser)


def test_a_click_beside_everything_picks_nothing(browser: Chrome) -> None:
    choose(browser, "R1")
    look(browser, "whole")
    canvas = view(browser)
    corner = (5 - canvas.size["width"] // 2, 5 - canvas.size["height"] // 2)
    ActionChains(browser).move_to_element_with_offset(canvas, *corner).click().perform()
    assert "Mark" not in panel(browser)


def test_the_view_turns_by_drag_and_by_keys(browser: Chrome) -> None:
    choose(browser, "R1")
    look(browser, "whole")
    first = colours(browser)
    canvas = view(browser)
    ActionChains(browser).drag_and_drop_by_offset(canvas, 60, 20).perform()
    settle(browser)
    dragged = colours(browser)
    assert dragged != first
    assert "Mark R1" in panel(browser)  # a drag is no click
    canvas.send_keys(Keys.ARROW_LEFT)
    settle(browser)
    assert colours(browser) != dragged
    canvas.send_keys("0")
    settle(browser)
    assert colours(browser) == first


def test_tables_are_sorted_by_keyboard_and_back(browser: Chrome) -> None:
    first = column(browser, "Drill schedule", 2)
    assert first != sorted(first)
    number = [float(cell) for cell in first if cell]
    heading(browser, "Drill schedule", 2)
    up = column(browser, "Drill schedule", 2)
    assert [float(cell) for cell in up if cell] == sorted(number)
    assert up[len(number) :] == [""] * (len(first) - len(number))  # what has no number stays last
    heading(browser, "Drill schedule", 2)
    down = column(browser, "Drill schedule", 2)
    assert [float(cell) for cell in down if cell] == sorted(number, reverse=True)
    assert down[len(number) :] == up[len(number) :]
    marked = browser.execute_script("return [...document.querySelectorAll('th[aria-sort]')].map((th) => th.ariaSort)")
    assert marked == ["descending"]
    heading(browser, "Drill schedule", 2)
    assert column(browser, "Drill schedule", 2) == first


def test_names_with_numbers_are_sorted_as_people_count(browser: Chrome) -> None:
    heading(browser, "Every check", 2)
    places = column(browser, "Every check", 2)
    heading(browser, "Every check", 2)
    heading(browser, "Every check", 2)
    assert places.index("flight 1, nosing 2") < places.index("flight 1, nosing 8") < places.index("flight 2")


def test_a_table_is_copied_for_a_spreadsheet(browser: Chrome) -> None:
    browser.execute_cdp_cmd(
        "Browser.grantPermissions", {"permissions": ["clipboardReadWrite", "clipboardSanitizedWrite"]}
    )
    centred(browser, "[aria-label='Copy table: Cut list']").click()
    said = WebDriverWait(browser, 5).until(
        lambda it: [e.text for e in it.find_elements(By.CSS_SELECTOR, ".said") if e.text]
    )
    assert said == ["Copied"]
    copied = browser.execute_async_script("navigator.clipboard.readText().then(arguments[0])")
    lines = [line.split("\t") for line in copied.split("\n")]
    assert lines[0][:4] == ["mark", "quantity", "section", "length_mm"]
    assert [line[0] for line in lines[1:]] == column(browser, "Cut list", 0)


def test_a_check_opens_to_its_formula(browser: Chrome) -> None:
    summary = browser.find_element(By.XPATH, "//section[@id='checks']//details[contains(., 'a / b')]/summary")
    text = summary.find_element(By.XPATH, "../dl")
    assert not text.is_displayed()
    summary.send_keys(Keys.ENTER)
    assert text.is_displayed()
    summary.send_keys(Keys.ENTER)


def folded(driver: Chrome, *, opened: bool) -> None:
    """Open or close everything that opens."""
    driver.execute_script(
        "for (const each of document.querySelectorAll('details')) each.open = arguments[0]; scrollTo(0, 0)", opened
    )


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


def test_nothing_a_name_says_is_run(browser: Chrome) -> None:
    assert browser.title != "gone"
    refused = browser.execute_async_script("""
        const done = arguments[0];
        addEventListener("securitypolicyviolation", (event) => done(event.violatedDirective), { once: true });
        const script = document.createElement("script");
        script.textContent = "document.title = 'gone'";
        document.body.append(script);
    """)
    assert refused.startswith("script-src")
    assert browser.title != "gone"
    assert len(complaints(browser)) == 1  # the refusal itself


def test_text_stands_out_from_its_ground(browser: Chrome) -> None:
    """WCAG 2.2, success criterion 1.4.3 (AA), 4.5 : 1; relative luminance as it defines it."""
    folded(browser, opened=True)
    faint = browser.execute_script("""
        const part = (c) => (c /= 255) <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
        const light = (rgb) => 0.2126 * part(rgb[0]) + 0.7152 * part(rgb[1]) + 0.0722 * part(rgb[2]);
        const read = (text) => text.match(/[\\d.]+/g).map(Number);
        const ground = (element) => {
            for (; element; element = element.parentElement) {
                const colour = read(getComputedStyle(element).backgroundColor);
                if (colour.length === 3 || colour[3] > 0) return colour;
            }
            return [255, 255, 255];
        };
        const faint = [];
        for (const element of document.querySelectorAll("body *:not(svg *)")) {
            const own = [...element.childNodes].some((node) => node.nodeType === 3 && node.data.trim());
            if (!own || !element.getClientRects().length) continue;
            const [a, b] = [light(read(getComputedStyle(element).color)), light(ground(element))];
            const ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
            if (ratio < 4.5) faint.push([element.tagName, element.className, ratio]);
        }
        return faint;
    """)
    folded(browser, opened=False)
    assert faint == []


def test_focus_is_seen_and_controls_have_names(browser: Chrome) -> None:
    reached = browser.execute_script("""
        const found = [];
        for (const element of document.querySelectorAll("a, button, select, summary, [tabindex='0']")) {
            if (!element.getClientRects().length) continue;
            const name = element.ariaLabel || element.textContent.trim() || element.labels?.[0]?.textContent;
            if (!name) found.push(element.outerHTML.slice(0, 80));
        }
        return found;
    """)
    assert reached == []
    browser.execute_script("scrollTo(0, 0); document.querySelector('.skip').focus()")
    links = browser.execute_script("return [...document.querySelectorAll('.skip, nav a')].map((a) => a.textContent)")
    for number in range(len(links) + 8):
        if number > 0:
            ActionChains(browser).send_keys(Keys.TAB).perform()
        text, kind, wide, left, right, room = browser.execute_script(
            "const e = document.activeElement, s = getComputedStyle(e), box = e.getBoundingClientRect();"
            "return [e.textContent, s.outlineStyle, parseFloat(s.outlineWidth), box.left, box.right, innerWidth]"
        )
        if number < len(links):
            assert text == links[number]
        assert (kind, wide >= 2) == ("solid", True), text
        assert left >= 0, text
        assert right <= room, text
    browser.execute_script("document.activeElement?.blur(); scrollTo(0, 0)")


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
        mine = [
            n for n, text in enumerate(pages) if text.startswith(f"CHECKS NOT MET\n{' '.join(sheet.title.split())}")
        ]
        assert len(mine) == 1, sheet.title
        wide, high, *box = boxes[mine[0]]
        assert wide > high
        assert box[0] >= 0
        assert box[2] <= wide
        assert box[3] <= high
        assert box[3] - box[1] > 0.7 * high


def test_without_3d_parts_can_still_be_picked(sheet: Path) -> None:
    with open_page(sheet, PHONE, solid=False) as driver:
        assert driver.find_element(By.ID, "flat").is_displayed()
        assert not driver.find_element(By.ID, "canvas").is_displayed()
        Select(driver.find_element(By.ID, "pick")).select_by_value("R1")
        assert "Mark R1" in panel(driver)
        assert complaints(driver) == []


def test_the_sheet_of_a_pack_without_solids_says_so(tmp_path: Path) -> None:
    pack = built_pack(NAME)
    path = tmp_path / "job_sheet.html"
    path.write_text(job_sheet(work(pack)), encoding="utf-8")
    with open_page(path) as driver:
        assert "without the solids" in driver.find_element(By.ID, "flat").text
        choose(driver, "R1")
        assert "Mark R1" in panel(driver)
        assert complaints(driver) == []
