"""A page printed by the browser itself says what it says on the screen, and shows nothing that paper cannot do."""

import base64
from io import BytesIO

import pytest
from pypdf import PdfReader

from tests.browser.map_player import run
from tests.browser.watching import SCREENS, as_on_a_first_visit, open_screen, pictures, wait_for

pytestmark = pytest.mark.browser
TO_PRESS = """
const isSeen = one => one.checkVisibility({visibilityProperty: true}) && one.getBoundingClientRect().width > 0;
const looksPressed = one => getComputedStyle(one).borderTopStyle !== 'none'
  || getComputedStyle(one).backgroundColor !== 'rgba(0, 0, 0, 0)';
const places = [document, ...(map ? [map.getRootNode()] : [])];
const found = names => places.flatMap(place => [...place.querySelectorAll(names)]).filter(isSeen);
return [
  ...found("header, a[href], details:not([open]) > summary, select, [data-testid=stIconMaterial]"),
  ...found("input[type=range], input[type=checkbox], input[type=file], [data-testid=stSliderTickBar]"),
  ...found("button, [data-tag]").filter(looksPressed),
].map(one => one.outerHTML.slice(0, 120));
"""
CHOSEN = """
const seen = [...document.querySelectorAll('[data-testid=stMain] input, [data-tag], [aria-checked=true]')]
  .filter(one => one.checkVisibility() && one.getBoundingClientRect().width > 0);
return seen.map(one => one.value || one.innerText.trim());
"""
STAY = {
    "": ["Mixed teaching garden", "Net from planting to last picking"],
    "compare": ["Five", "Harvest fit to sell"],
    "went": ["What became of the eggs?", "all plant-eaters"],
    "try": ["Net: days after planting that it goes on", "0"],
}
LEAST_LETTERS = 100
SHEET_PX, POINTS_A_PX, LEAST_POINTS = 690, 0.75, 7
"""Width of a letter sheet without its margins, and the smallest letters on it."""


@pytest.fixture
def on_paper(browser, address):
    """Open a screen and return the browser as it lays the page out for paper; afterwards it shows screens again."""

    def shown(screen):
        open_screen(browser, address, screen)
        if screen == "watch":
            wait_for(browser, lambda: run(browser, "return !!map && map.dataset.ready === 'yes'"))
        browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": "print"})
        return browser

    yield shown
    browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": ""})
    as_on_a_first_visit(browser, address)


def sheets(browser):
    printed = browser.execute_cdp_cmd("Page.printToPDF", {"printBackground": False})["data"]
    return [" ".join(sheet.extract_text().split()) for sheet in PdfReader(BytesIO(base64.b64decode(printed))).pages]


@pytest.mark.parametrize("screen", SCREENS)
def test_paper_has_nothing_to_press_and_keeps_title_choices_and_cautions(on_paper, screen):
    browser = on_paper(screen)
    assert run(browser, TO_PRESS) == []
    assert set(STAY.get(screen, ())) <= set(browser.execute_script(CHOSEN))
    printed = sheets(browser)
    assert printed[0].startswith(SCREENS[screen])
    text = " ".join(printed)
    assert "This is a model." in text
    assert "Before you do any of this outdoors" in text
    assert "licensed practice come before anything on this page" in text
    assert all(len(sheet) > LEAST_LETTERS for sheet in printed), [len(sheet) for sheet in printed]


@pytest.mark.parametrize("screen", ["compare", "went"])
def test_what_a_picture_says_can_be_read_when_a_sheet_makes_it_smaller(browser, address, screen):
    open_screen(browser, address, screen)
    wait_for(browser, lambda: pictures(browser))
    drawn = browser.execute_script(
        "const letters = one => [...one.querySelectorAll('text')].map(it => parseFloat(getComputedStyle(it).fontSize));"
        "return [...document.querySelectorAll('[data-testid=stVegaLiteChart] svg')]"
        ".map(one => [one.viewBox.baseVal.width, Math.min(...letters(one))])"
    )
    assert drawn
    for wide, letters_px in drawn:
        assert letters_px * min(1, SHEET_PX / wide) * POINTS_A_PX >= LEAST_POINTS, drawn


def test_an_order_to_be_tapped_becomes_one_to_be_written(on_paper):
    browser = on_paper("guess")
    assert " ".join(sheets(browser)).count("____") == 2 * 3
    assert "Tap the plans" not in " ".join(sheets(browser))
