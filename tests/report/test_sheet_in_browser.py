"""The job sheet in a real browser: quiet, offline, drawn in 3D, picked from, sorted, copied and read."""

from __future__ import annotations

from pathlib import Path

import pytest
from selenium.webdriver import Chrome
from selenium.webdriver.common.action_chains import ActionChains
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.remote.webelement import WebElement
from selenium.webdriver.support.ui import Select, WebDriverWait

from railgen.members.pieces import Tube
from railgen.report.page.sheet import job_sheet
from tests.packs import built_pack
from tests.report.browser import (
    NAME,
    PHONE,
    centred,
    choose,
    complaints,
    folded,
    needs_browser,
    open_page,
    requests_made,
    settle,
)
from tests.report.pages import work

pytestmark = needs_browser


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


def look(driver: Chrome, name: str) -> None:
    driver.find_element(By.CSS_SELECTOR, f"[data-look={name}]").click()
    settle(driver)


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
    assert lines[0][:4] == ["mark", "quantity", "section", "length, mm"]
    assert [line[0] for line in lines[1:]] == column(browser, "Cut list", 0)


def test_a_check_opens_to_its_formula(browser: Chrome) -> None:
    summary = browser.find_element(By.XPATH, "//section[@id='checks']//details[contains(., 'a / b')]/summary")
    text = summary.find_element(By.XPATH, "../dl")
    assert not text.is_displayed()
    summary.send_keys(Keys.ENTER)
    assert text.is_displayed()
    summary.send_keys(Keys.ENTER)


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
